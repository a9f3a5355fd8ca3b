"""The live back that gains no row anywhere: one more turn at the neck, the yarn cut and rejoined there."""

from __future__ import annotations

import re
from itertools import accumulate
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rewriter import rewrite
from rewriter.cli import main
from rewriter.document import split_document
from rewriter.emitter import Writer
from rewriter.fabric import FabricError, knit
from rewriter.interpret import read_rows
from rewriter.options import JOINS, TURNS, Options, Shoulders, Turn
from rewriter.passages import find_passages, statements_of
from rewriter.pipeline import rewrite_bytes
from rewriter.report import PassageReport, Report
from rewriter.rows import PLAIN, WORK_ALL, Act, Edge, Kind, Row, bind_off
from rewriter.sizes import Sizes
from rewriter.source import read_source
from rewriter.twin import keep_live_exact, twin
from tests.drafts import SyntheticDraft, all_drafts, rewritten
from tests.oracle import knit_columns, stepped_heights
from tests.test_models import PULLOVER
from tests.test_twin import GAPS, NECK, STEPS, at_rows, columns, stepped

TAIL = ", leaving an end about 4 times the width of the shoulder for joining"

LIVE: tuple[Shoulders, ...] = ("three-needle", "graft", "held")


# --- the rows ---------------------------------------------------------------------------------


@given(STEPS, STEPS, GAPS, GAPS, NECK, st.booleans(), st.booleans())
def test_no_column_gains_a_row_whatever_the_steps_of_the_two_edges(
    right: list[int],
    left: list[int],
    a: list[int],
    b: list[int],
    neck: int,
    rs_first: bool,
    held: bool,
) -> None:
    edges = [at_rows("right", 0, right, a), at_rows("left", 1, left, b)]
    if not rs_first:
        edges = [at_rows("left", 0, left, b), at_rows("right", 1, right, a)]
    begins: Edge = "left" if rs_first else "right"
    rows = stepped(edges, Row((Act(Kind.HOLD) if held else bind_off(None),)))
    stitches = sum(right) + neck + sum(left)
    live = keep_live_exact(twin(stepped(edges, None), edges), edges, neck, held)
    before, after = knit(stitches, rows, begins), knit(stitches, live, begins)
    assert columns(after) == columns(before)
    fates = [run.fate for run in after.runs for _ in range(run.count)]
    wanted = ["held"] * sum(right) + ["held" if held else "bound off"] * neck
    assert fates == wanted + ["held"] * sum(left)
    assert not (after.unclosed or after.unaided or after.idle_aids)
    # a held neck keeps the turn beside the second shoulder, which is worked next to it
    assert len(after.open_turns) == held
    # the yarn was cut at one armhole and ends at the other
    first, second = sorted(edges, key=lambda s: s.rows[-1])
    assert knit(stitches, live[:-2], begins).yarn == first.edge
    assert after.yarn == second.edge


def test_a_cut_yarn_works_no_row_until_it_is_rejoined() -> None:
    cut = Row((Act(Kind.HOLD, 3), Act(Kind.CUT)))
    with pytest.raises(FabricError, match="fastened off"):
        knit(8, [PLAIN, cut, PLAIN], "right")
    fabric = knit(8, [PLAIN, cut, Row((Act(Kind.JOIN), WORK_ALL))], "right")
    assert fabric.heights() == [(5, 2), (3, 1)]
    assert fabric.yarn == "right"


# --- the text ---------------------------------------------------------------------------------


def proven(report: Report) -> PassageReport:
    (passage,) = report.passages
    assert (passage.status, passage.reason) == ("rewritten", None)
    assert passage.verification.result == "same"
    return passage


def reread(report: Report, size: int) -> list[Row]:
    """Return the rows of the one short-row passage of a revised text, to its end."""
    document = split_document(read_source(report.output.encode(), "x.txt"))
    sizes = Sizes(tuple(report.sizes), None)  # a text whose counts are all alike names none
    document, statements = statements_of(document, sizes)
    (passage,) = find_passages(document, statements)
    assert passage.short_rows
    return read_rows(passage.statements, size, len(sizes))


@st.composite
def backs(draw: st.DrawFn) -> tuple[str, list[list[int]], int]:
    """Draw a back: its text, the steps of each size, the neck; its side and ending vary."""
    sizes = draw(st.integers(1, 4))
    k = draw(st.integers(2, 4))
    steps = [[draw(st.integers(2, 20)) for _ in range(sizes)] for _ in range(k)]
    neck = draw(st.integers(9, 40))

    def listed(values: list[int]) -> str:
        return str(values[0]) + (f"({':'.join(map(str, values[1:]))})" if len(values) > 1 else "")

    side = draw(st.sampled_from([", ending with a WS row", ", ending with a RS row", ""]))
    ending = draw(
        st.sampled_from(
            ["Cast off rem {n} sts.", "Leave rem {n} sts on a holder.", "BO rem {n} sts."]
        )
    ).format(n=neck)
    chain = ", then ".join(f"{listed(step)} sts at beg of next 2 rows" for step in steps)
    text = (
        f"SIZES {listed([8 + 2 * i for i in range(sizes)])}\n\nBACK\n"
        f"Work in st st until armholes measure 20 cm{side}.\n"
        f"Shape shoulders\nCast off {chain}.\n{ending}\n"
    )
    return text, [list(per_size) for per_size in zip(*steps, strict=True)], neck


@settings(max_examples=80, deadline=None)
@given(
    backs(),
    st.sampled_from(TURNS),
    st.sampled_from(LIVE),
    st.sampled_from(["draft", "full"]),
    st.booleans(),
)
def test_any_back_is_kept_live_at_its_own_rows(
    draft: tuple[str, list[list[int]], int],
    turn: Turn,
    join: Shoulders,
    spelling: str,
    markers: bool,
) -> None:
    text, steps, neck = draft
    options = Options(
        turn=turn,
        shoulders=join,
        spelling="full" if spelling == "full" else "draft",
        markers=markers,
        exact_live=True,
    )
    report = rewrite(text, options)
    passage = proven(report)
    assert passage.verification.neck_rows_gained == (0,) * len(steps)
    assert passage.verification.piece_rows_gained == (0,) * len(steps)
    for i, sts in enumerate(steps):
        for number, edge in enumerate(passage.edges):
            assert edge.rows_gained[i] == 0
            # k turns a side, the last behind all its sts
            assert [(t.row, t.unworked) for t in edge.turns[i]] == [
                (2 * n + number - 1, total) for n, total in enumerate(accumulate(sts))
            ]
        truth = [
            {"steps": [[n] for n in sts], "rows": [list(range(at, 2 * len(sts), 2))]}
            for at in (0, 1)
        ]
        wanted = stepped_heights(truth, 0, neck)
        assert knit_columns(len(wanted), reread(report, i), True) == wanted
    assert rewrite(report.output, options).output == report.output


@pytest.mark.parametrize("wrong", [-1, 1])
def test_a_shoulder_held_with_a_wrong_count_is_not_proven(
    wrong: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    right = Writer._closing_order
    monkeypatch.setattr(
        Writer, "_closing_order", lambda self, size: [n + wrong for n in right(self, size)]
    )
    report = rewrite(BACK, EXACT)
    assert "not-proven" in {d.code for d in report.diagnostics}
    assert "rejoin" not in report.output


BACK = f"SIZES 8(10:12)\n{PULLOVER}MAKING UP\nJoin shoulder seams.\n"
HELD = BACK.replace("Cast off rem 31(33:35) sts.", "Leave rem 31(33:35) sts on a holder.")
EXACT = Options(shoulders="three-needle", exact_live=True, markers=False)


def body(text: str, options: Options = EXACT) -> list[str]:
    report = rewrite(text, options)
    proven(report)
    lines = [line for line in report.output.splitlines()[6:] if not line.startswith("Note on ")]
    # how a join is worked is checked in test_models
    return [_HOW.sub(".", line) for line in lines]


_HOW = re.compile(r": put the held .*")


def test_uk_three_sizes_with_the_neck_cast_off() -> None:
    assert body(BACK) == [
        "Next row (WS): P to last 8(9:9) sts, turn.",
        "Next row (RS): DS, K to last 8(9:9) sts, turn.",
        "Next row (WS): DS, P to last 16(18:18) sts, turn.",
        "Next row (RS): DS, K to last 16(18:18) sts, turn.",
        "Next row (WS): DS, P to last 25(27:28) sts, turn.",
        "Next row (RS): DS, K to last 25(27:28) sts, turn.",
        "Next row (WS): DS, P to end, working each DS as one st.",
        f"Slip 25(27:28) sts for the first shoulder onto a holder and cut yarn{TAIL}.",
        "With RS facing, rejoin yarn at neck edge, cast off 31(33:35) sts for back neck, K to end, "
        "working each DS as one st.",
        f"Leave 25(27:28) sts for the second shoulder on a holder. Cut yarn{TAIL}.",
        "MAKING UP",
        "Join shoulders: with RS together and the yarn left at the armhole edge, work a three-needle "
        "cast-off from there to the neck across the 25(27:28) sts of each back shoulder and the "
        "matching front shoulder.",
    ]


def test_uk_three_sizes_with_the_neck_on_a_holder() -> None:
    assert body(HELD, Options(shoulders="held", exact_live=True, markers=False))[6:10] == [
        "Next row (WS): DS, P to end, working each DS as one st.",
        "Slip 25(27:28) sts for the first shoulder onto a holder and cut yarn.",
        "Slip 31(33:35) sts for the neck (both legs of the DS as one st) onto a holder, then with RS "
        "facing, rejoin yarn at neck edge, K to end, working each DS as one st.",
        "Leave 25(27:28) sts for the second shoulder on a holder. Cut yarn.",
    ]


def test_a_yarn_over_beside_a_held_neck_stays_with_the_shoulder_it_closes() -> None:
    options = Options(turn="yarn-over", shoulders="held", exact_live=True, markers=False)
    assert body(HELD, options)[8] == (
        "Slip 31(33:35) sts for the neck (the yo stays with the shoulder) onto a holder, then with RS "
        "facing, rejoin yarn at neck edge, K to end, working each yo you come to together with the st "
        "beyond it."
    )


def test_us_first_bind_off_on_the_wrong_side() -> None:
    text = """BACK
Work in stockinette stitch until armhole measures 8 in, ending with a RS row.
Row 1 (WS): BO 6 sts, purl to end.
Row 2 (RS): BO 6 sts, knit to end.
Row 3: BO 7 sts, purl to end.
Row 4: BO 7 sts, knit to end.
BO rem 35 sts.
"""
    lines = body(text, Options(turn="wrap", shoulders="graft", exact_live=True, markers=False))
    text = rewrite(
        text, Options(turn="wrap", shoulders="graft", exact_live=True, markers=False)
    ).output
    assert "ending with a WS row" in text
    assert lines[-3:] == [
        f"Slip 13 sts for the first shoulder onto a holder and cut yarn{TAIL}.",
        "With WS facing, rejoin yarn at neck edge, BO 35 sts for back neck, purl to end, working each "
        "wrap together with its st.",
        f"Leave 13 sts for the second shoulder on a holder. Cut yarn{TAIL}.",
    ]


def test_a_draft_that_names_no_side_gets_none() -> None:
    lines = body(
        BACK.replace(", ending with a WS row", "").replace("K on RS and P on WS", "as set")
    )
    assert "Next row: DS, work to last 25(27:28) sts, turn." in lines
    assert (
        "Rejoin yarn at neck edge, cast off 31(33:35) sts for back neck, work to end, working each DS "
        "as one st."
    ) in lines


def test_grafting_says_where_the_yarn_is_and_one_shoulder_at_a_time_keeps_its_order() -> None:
    text = BACK.replace(
        "Join shoulder seams.", "Join right shoulder seam.\nJoin left shoulder seam."
    )
    assert body(text, Options(shoulders="graft", exact_live=True, markers=False))[-2:] == [
        f"Graft {side} shoulder: with WS together and the yarn left at the armhole edge, graft from "
        f"there to the neck the 25(27:28) sts of the {side} back shoulder to those of the {side} front "
        "shoulder."
        for side in ("right", "left")
    ]


def test_a_size_with_one_step_turns_once_beside_sizes_with_more() -> None:
    text = BACK.replace(
        "Cast off 8(9:9) sts at beg of next 4 rows, then 9(9:10) sts at beg of foll 2 rows.",
        "Cast off 12(6:5) sts at beg of next 2(4:6) rows.",
    )
    report = rewrite(text, EXACT)
    turns = proven(report).edges[0].turns
    assert [[t.unworked for t in size] for size in turns] == [[12], [6, 12], [5, 10, 15]]
    assert proven(report).edges[0].rows_gained == (0, 0, 0)
    for size, sts in enumerate([[12], [6, 6], [5, 5, 5]]):
        truth = [
            {"steps": [[n] for n in sts], "rows": [list(range(at, 2 * len(sts), 2))]}
            for at in (0, 1)
        ]
        neck = (31, 33, 35)[size]
        wanted = stepped_heights(truth, 0, neck)
        assert knit_columns(len(wanted), reread(report, size), True) == wanted


def test_the_usual_live_back_has_no_cut_in_its_shoulders() -> None:
    usual = rewrite(BACK, Options(shoulders="three-needle", markers=False))
    assert "cut yarn" not in usual.output
    assert proven(usual).edges[0].rows_gained == (1, 1, 1)
    assert not usual.options.exact_live


def test_steps_can_be_even_and_the_shoulders_exact() -> None:
    text = BACK.replace("8(9:9) sts at beg", "6(9:9) sts at beg").replace("9(9:10)", "13(9:10)")
    report = rewrite(text, Options(shoulders="held", exact_live=True, respace=True, markers=False))
    passage = proven(report)
    assert passage.verification.against == "even steps"
    assert [t.unworked for t in passage.edges[0].turns[0]] == [8, 17, 25]
    assert passage.edges[0].rows_gained == (0, 0, 0)


# --- where it does not apply ------------------------------------------------------------------


def codes(report: Report) -> dict[str, str]:
    return {d.code: d.message for d in report.diagnostics}


def test_one_step_is_kept_live_the_usual_way_and_says_so() -> None:
    text = BACK.replace(
        "Cast off 8(9:9) sts at beg of next 4 rows, then 9(9:10) sts at beg of foll 2 rows.",
        "Cast off 25(27:28) sts at beg of next 2 rows.",
    )
    report = rewrite(text, EXACT)
    assert report.output == rewrite(text, Options(shoulders="three-needle", markers=False)).output
    assert "one step" in codes(report)["not-exact"]


def test_a_held_neck_of_unknown_number_is_kept_live_the_usual_way() -> None:
    text = HELD.replace("rem 31(33:35) sts", "rem sts")
    report = rewrite(text, EXACT)
    assert report.output == rewrite(text, Options(shoulders="three-needle", markers=False)).output
    assert "the number of neck sts is not known" in codes(report)["not-exact"]


def test_a_neck_cast_off_of_unknown_number_is_sewn() -> None:
    report = rewrite(BACK.replace("rem 31(33:35) sts", "rem sts"), EXACT)
    assert "the number of neck sts is not known" in codes(report)["bound-off-instead"]


def test_a_piece_that_goes_on_over_the_neck_is_sewn() -> None:
    text = BACK.replace("Cast off rem 31(33:35) sts.", "Work 8 rows in rib on rem 31(33:35) sts.")
    assert "sts between the shoulders" in codes(rewrite(text, EXACT))["bound-off-instead"]


ONE_EDGE = """LEFT FRONT
Work until armhole measures 20 cm, ending with a WS row. 24 sts.
Shape shoulder
Cast off 8 sts at beg of next row and foll 2 alt rows.
"""
DIVIDED = """BACK
Work in st st until armhole measures 20 cm, ending with a WS row. 81 sts.
Shape shoulders and back neck
Cast off 8 sts at beg of next 2 rows.
Next row (RS): Cast off 8 sts, K until there are 13 sts on right needle, turn and leave rem sts on a holder.
Next row: Cast off 4 sts, P to end.
Cast off rem 9 sts.
With RS facing, rejoin yarn to rem sts, cast off centre 23 sts, K to end.
Complete to match first side, reversing shapings.
"""


@pytest.mark.parametrize("text", [ONE_EDGE, DIVIDED])
@pytest.mark.parametrize("join", LIVE)
def test_shoulders_at_one_edge_gain_no_row_anyway(text: str, join: Shoulders) -> None:
    usual = rewrite(text, Options(shoulders=join))
    report = rewrite(text, Options(shoulders=join, exact_live=True))
    assert report.output == usual.output != text
    assert "not-exact" not in codes(report)


def test_sewn_shoulders_do_not_go_with_it() -> None:
    with pytest.raises(ValueError, match="three-needle, graft or held"):
        Options(exact_live=True)


def test_the_command_takes_the_option_and_names_what_is_missing(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    draft = tmp_path / "draft.txt"
    draft.write_text(BACK, encoding="utf-8")
    assert main(["rewrite", str(draft), "--exact-live"]) == 2
    out, err = capfdbinary.readouterr()
    assert not out
    assert err.decode().strip() == (
        "slopewise: --exact-live is for shoulders kept live: add --shoulders three-needle, graft or held"
    )
    arguments = ["--exact-live", "--shoulders", "three-needle", "--no-markers"]
    assert main(["rewrite", str(draft), *arguments]) == 0
    assert capfdbinary.readouterr()[0].decode() == rewrite(BACK, EXACT).output


# --- the corpus -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("number", "draft"), list(enumerate(all_drafts())), ids=[d.name for d in all_drafts()]
)
def test_every_draft_is_proven_and_stable(number: int, draft: SyntheticDraft) -> None:
    join, turn = JOINS[1 + number % 3], TURNS[number % 5]
    usual, _ = rewritten(draft.path, Options(turn=turn, shoulders=join))
    options = Options(turn=turn, shoulders=join, exact_live=True)
    report, revised = rewrite_bytes(draft.data, draft.path.name, options)
    reasons = codes(report)
    assert "not-proven" not in reasons
    sewn = "bound-off-instead" in reasons
    assert sewn <= ("bound-off-instead" in codes(usual))
    for before, after in zip(usual.passages, report.passages, strict=True):
        assert before.status == after.status
        if after.status == "rewritten" and "not-exact" not in reasons:
            assert all(set(edge.rows_gained) == {0} for edge in after.edges)
            assert set(after.verification.neck_rows_gained) == {0}
    assert rewrite_bytes(revised, draft.path.name, options)[1] == revised
