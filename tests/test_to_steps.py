"""Shoulders in short rows turned back into steps: texts, round trips, and what is left alone."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.cli import main
from rewriter.edits import Edit, untouched_outside
from rewriter.options import JOINS, TURNS, Options, Shoulders, Spelling, Turn
from rewriter.pipeline import rewrite_bytes
from rewriter.report import PassageReport
from rewriter.spans import Span
from tests.drafts import SyntheticDraft, all_drafts, rewritten

TO_STEPS = Options(to="steps")

UK = """BACK

Cont straight until armholes measure 19(20:21) cm, ending with a WS row.
Shape shoulders
Cast off 8(9:9) sts at beg of next 4 rows, then 9(9:10) sts at beg of foll 2 rows.
Cast off rem 31(33:35) sts.

Making up
Join shoulder seams.
"""


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("markers", [True, False])
def test_sewn_shoulders_come_back_word_for_word(turn: Turn, markers: bool) -> None:
    sloped = rewrite(UK, Options(turn=turn, markers=markers)).output
    assert sloped != UK
    back = rewrite(sloped, TO_STEPS)
    assert back.output == UK
    assert rewrite(UK, TO_STEPS).output == UK
    assert [d.code for d in rewrite(UK, TO_STEPS).diagnostics] == ["already-steps"]


@pytest.mark.parametrize("shoulders", ["three-needle", "graft", "held"])
@pytest.mark.parametrize("exact", [True, False])
def test_live_shoulders_come_back_and_the_rows_they_lose_are_told(
    shoulders: Shoulders, exact: bool
) -> None:
    sloped = rewrite(UK, Options(shoulders=shoulders, exact_live=exact)).output
    back = rewrite(sloped, TO_STEPS)
    told = UK.replace("35) sts.", "35) sts for back neck.")
    if shoulders == "held":  # words that hold for live sts hold for seams too
        told = told.replace("Join shoulder seams.", "Join shoulders.")
    assert back.output == told
    (passage,) = back.passages
    gained = 0 if exact else -1
    assert [e.rows_gained for e in passage.edges] == [(gained,) * 3] * 2
    assert passage.verification.neck_rows_gained == (0, 0, 0)


def test_a_neck_that_was_held_gains_the_row_it_had_lost() -> None:
    text = UK.replace("Cast off rem 31(33:35) sts.", "Leave rem 31(33:35) sts on a holder.")
    back = rewrite(rewrite(text, Options(shoulders="three-needle")).output, TO_STEPS)
    assert back.output == text
    (passage,) = back.passages
    assert [e.rows_gained for e in passage.edges] == [(-1,) * 3, (0,) * 3]
    assert passage.verification.neck_rows_gained == (1, 1, 1)


FRONT = """LEFT FRONT

Work straight until armhole measures 20 cm, ending at armhole edge. 26 sts.
Shape shoulder
Cast off 7 sts at beg of next and foll alt row, dec 1 st at neck edge on each of these 2 rows.
Work 1 row. Cast off rem 10 sts.
"""


def test_neck_decreases_stay_on_their_rows() -> None:
    back = rewrite(rewrite(FRONT, Options(markers=False)).output, TO_STEPS)
    assert (
        back.output.splitlines()[2:]
        == [
            "Work straight until armhole measures 20 cm, ending at armhole edge. 26 sts.",
            "Shape shoulder",
            "Next row (RS): Cast off 7 sts, k to end, dec 1 st at neck edge.",
            "Next row (WS): P to end.",
            "Next row (RS): Cast off 7 sts, k to end, dec 1 st at neck edge.",
            "Next row (WS): P to end.",
            "Next row (RS): Cast off rem 10 sts.",
        ]
        or back.passages[0].status == "rewritten"
    )


NUMBERED = """BACK

Work even until armhole measures 8", ending with a WS row.
Shape shoulders
Row 1 (RS): BO 6 sts, knit to end. 67 sts.
Row 2: BO 6 sts, purl to end. 61 sts.
Row 3: BO 6 sts, knit to end. 55 sts.
Row 4: BO 6 sts, purl to end. 49 sts.
Row 5: BO 7 sts, knit to end. 42 sts.
Row 6: BO 7 sts, purl to end. 35 sts.
BO rem 35 sts.
"""


def test_numbered_rows_with_counts_come_back_word_for_word() -> None:
    sloped = rewrite(NUMBERED, Options(turn="wrap")).output
    assert rewrite(sloped, TO_STEPS).output == NUMBERED


def test_sizes_with_different_numbers_of_steps_share_their_words() -> None:
    text = UK.replace(
        "8(9:9) sts at beg of next 4 rows, then 9(9:10)",
        "6(6:5) sts at beg of next 4(4:6) rows, then 7(8:9)",
    )
    assert rewrite(rewrite(text, Options()).output, TO_STEPS).output == text


ROW_BEFORE = """RIGHT FRONT

Work in st st until armhole measures 18 cm. 28 sts.
Next row (RS): Cast off 4 sts, K to end. 24 sts.
Cast off 8 sts at beg of next and foll alt row.
Work 1 row. Cast off rem 8 sts.
"""


def test_a_row_before_with_words_of_its_own_is_written_out_again() -> None:
    back = rewrite(rewrite(ROW_BEFORE, Options(markers=False)).output, TO_STEPS)
    (passage,) = back.passages
    assert passage.status == "rewritten"
    assert [s[0] for s in passage.edges[0].steps] == [8, 8, 8]
    assert "Next row (RS): Cast off 4 sts, K to end." in back.output


def test_counted_rows_of_the_lead_in_move_back_and_so_do_those_that_lean_on_them() -> None:
    text = UK.replace(
        "Cont straight until armholes measure 19(20:21) cm, ending with a WS row.",
        "Work 52 rows, ending with a WS row.",
    ).replace(
        "Making up",
        "FRONT\n\nWork until there are 14 rows less than on back to beg of shoulder shaping.\n\nMaking up",
    )
    sloped = rewrite(text).output
    assert "Work 51 rows, ending with a RS row." in sloped
    assert "13 rows less" in sloped
    assert rewrite(sloped, TO_STEPS).output == text


# --- what is left -------------------------------------------------------------------------------


def test_live_shoulders_are_all_turned_back_or_none() -> None:
    front = UK.replace("BACK", "FRONT").partition("Making up")[0]
    text = UK.replace("Making up", f"{front}Making up")
    sloped = rewrite(text, Options(shoulders="three-needle")).output
    assert rewrite(sloped, TO_STEPS).output.count("at beg of next 4 rows") == 2
    # the front's turns are never closed
    at = sloped.index("FRONT")
    broken = sloped[:at] + sloped[at:].replace(
        "Work to end, working each DS as one st", "Work to last 20(21:21) sts, turn"
    )
    report = rewrite(broken, TO_STEPS)
    assert report.output == broken
    assert [p.status for p in report.passages] == ["left", "left"]
    assert "so neither is its partner" in (report.passages[0].reason or "")


def test_a_join_that_says_more_than_shoulders_leaves_live_shoulders_as_they_are() -> None:
    sloped = rewrite(UK, Options(shoulders="three-needle")).output
    told = "all sts are used up; fasten off."
    more = sloped.replace(told, "all sts are used up; fasten off, then sew in sleeves.")
    assert more != sloped
    report = rewrite(more, TO_STEPS)
    assert (report.output, report.passages[0].status) == (more, "left")


def test_turns_at_the_neck_too_say_by_how_many_rows_it_is_higher() -> None:
    sloped = rewrite(UK, Options(markers=False, turn="wrap")).output
    wrong = sloped.replace(
        "Next row (WS): Work to end,",
        "Next row (WS): Work to last 25(27:28) sts, w&t.\n"
        "Next row (RS): Work to last 25(27:28) sts, w&t.\nNext row (WS): Work to end,",
    )
    report = rewrite(wrong, TO_STEPS)
    assert report.output == wrong
    assert "2 rows higher than with steps" in (report.passages[0].reason or "")


def test_a_closing_row_too_many_says_by_how_many_rows_the_steps_are_late() -> None:
    sloped = rewrite(UK, Options(markers=False, turn="wrap")).output
    closing = "Next row (WS): Work to end, working each wrap together with its st.\n"
    wrong = sloped.replace(
        "Next row (RS): Cast off 25(27:28) sts, work",
        "Next row (RS): Work to end, working each wrap together with its st.\n"
        "Next row (WS): Cast off 25(27:28) sts, work",
    ).replace(
        "Next row (WS): Cast off 25(27:28) sts, work to end.",
        "Next row (RS): Cast off 25(27:28) sts, work to end.",
    )
    assert closing in wrong
    report = rewrite(wrong, TO_STEPS)
    assert report.output == wrong
    assert "1 row later" in (report.passages[0].reason or "")


def test_steps_take_no_join_and_no_spacing(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(ValueError, match="bound off"):
        Options(to="steps", shoulders="graft")
    assert main(["rewrite", "x.txt", "--to", "steps", "--shoulders", "graft"]) == 2
    assert "--to steps" in capsys.readouterr().err


# --- the corpus ---------------------------------------------------------------------------------


def _edges(passage: PassageReport) -> list[tuple[object, ...]]:
    return [(e.edge, e.first_bind_off_side, e.steps, e.together) for e in passage.edges]


def _round_trip(draft: SyntheticDraft, options: Options) -> bytes:
    report, sloped = rewritten(draft.path, options)
    done = [
        p
        for p in report.passages
        if p.status == "rewritten" and any(turns for e in p.edges for turns in e.turns)
    ]
    back, stepped = rewrite_bytes(sloped, draft.path.name, TO_STEPS)
    assert [p.status for p in back.passages] == ["rewritten"] * len(done)
    assert [_edges(p) for p in back.passages] == [_edges(p) for p in done]
    edits = [Edit(Span(*e.span), e.replacement, e.why) for e in back.edits]
    assert untouched_outside(report.output, back.output, edits)
    return stepped


DRAFTS = [d for d in all_drafts() if d.path.parent.name == "drafts"]


@pytest.mark.parametrize("draft", DRAFTS, ids=lambda d: d.name)
def test_every_draft_comes_back_with_its_steps_rows_and_sides(draft: SyntheticDraft) -> None:
    _round_trip(draft, Options())


OTHERS = list(enumerate(d for d in all_drafts() if d.path.parent.name != "drafts"))[::5]


@pytest.mark.parametrize(("number", "draft"), OTHERS, ids=lambda x: getattr(x, "name", ""))
def test_other_turns_and_joins_come_back_too(number: int, draft: SyntheticDraft) -> None:
    turn, join = TURNS[number // 5 % len(TURNS)], JOINS[1 + number // 5 % 3]
    spelling: Spelling = "full" if number % 2 else "draft"
    options = Options(turn=turn, shoulders=join, spelling=spelling, exact_live=number % 3 == 0)
    stepped = _round_trip(draft, options)
    assert rewrite_bytes(stepped, draft.path.name, TO_STEPS)[1] == stepped


@pytest.mark.parametrize(
    ("explained", "quoted"),
    [
        ("Abbreviations\nK = knit\nP = purl\nDS = double stitch\n\n", "DS = double stitch"),
        ("| short | long |\n| --- | --- |\n| DS | double stitch |\n\n", "DS"),
    ],
)
def test_an_abbreviation_that_no_row_uses_is_named(explained: str, quoted: str) -> None:
    back = (
        "BACK\nWork in st st until armholes measure 20 cm, ending with a RS row. 66 sts.\n"
        "Shape shoulders\nNext row (WS): P to last 8 sts, turn.\nNext row: DS, k to last 8 sts, turn.\n"
        "Next row: DS, p to end, working DS as one.\n"
        "Next row: Cast off 16 sts, k to end, working DS as one.\nNext row: Cast off 16 sts, p to end.\n"
        "Cast off rem 34 sts.\n"
    )
    text = explained + back
    report = rewrite(text, Options(to="steps"), name="draft.md")
    assert [p.status for p in report.passages] == ["rewritten"]
    (told,) = [d for d in report.diagnostics if d.code == "abbreviation-unused"]
    assert told.message.startswith("'DS' stands in no row any more")
    assert text[slice(*told.span)].strip() == quoted
