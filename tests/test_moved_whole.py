"""What a lead-in says of its last row moves whole, and what a draft explains of its notation is read."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.groups import by_turns, in_one_bracket
from rewriter.options import Options
from rewriter.ownwords import own_words
from rewriter.report import Report
from rewriter.units import units_at_end

DRAFT = """\
Size: M (L)

Back
Cast on 80 (86) sts. Work 20 cm in st st.
Shape armholes: Cast off 4 sts at beg of next 2 rows. 72 (78) sts.
{lead}
Shape shoulders: {steps}
"""
STEPS = "Cast off 6 (7) sts at beg of next 6 rows. Cast off rem 36 sts."


def _revised(lead: str, steps: str = STEPS) -> Report:
    return rewrite(DRAFT.format(lead=lead, steps=steps), Options(markers=False))


def _lead(lead: str) -> str:
    report = _revised(lead)
    (shoulder,) = [p for p in report.passages if p.kind == "shoulder"]
    assert shoulder.status == "rewritten", shoulder.reason
    return report.output.split("72 (78) sts.\n")[1].split("\nShape shoulders")[0]


@pytest.mark.parametrize(
    ("said", "moved"),
    [
        (
            "Work straight until 56 (58) rows have been worked from the armholes. The last row is a WS row.",
            "Work straight until 55 (57) rows have been worked from the armholes. The last row is a RS row.",
        ),
        (
            "Work straight until 56 (58) rows from the armhole. Finish after a wrong side row.",
            "Work straight until 55 (57) rows from the armhole. Finish after a right side row.",
        ),
        (
            "Work even for 20 rows, ending after a WS row. The last row is a WS row.",
            "Work even for 19 rows, ending after a RS row. The last row is a RS row.",
        ),
        (
            "Work straight until 56 rows (58 rows) are finished (the last one is a WS row).",
            "Work straight until 55 rows (57 rows) are finished (the last one is a RS row).",
        ),
    ],
)
def test_the_number_of_rows_moves_with_the_side_told_behind_it(said: str, moved: str) -> None:
    assert _lead(said) == moved


@pytest.mark.parametrize(
    ("said", "moved"),
    [
        (
            "the last row is a purl row from the wrong side.",
            "the last row is a knit row from the right side.",
        ),
        ("ending with a purl row on the wrong side.", "ending with a knit row on the right side."),
        ("ending with a WS (purl) row.", "ending with a RS (knit) row."),
        ("ending with a WS purl row.", "ending with a RS knit row."),
    ],
)
def test_the_stitch_of_a_row_moves_with_its_side(said: str, moved: str) -> None:
    start = "Work until armhole measures 18 (19) cm, "
    assert _lead(start + said) == start + moved


@pytest.mark.parametrize(
    ("said", "moved"),
    [
        (
            "ending with RS facing for next row (a knit row).",
            "ending with WS facing for next row (a purl row).",
        ),
        (
            "ending with a WS row. Work measures 40 cm.",
            "ending with a RS row. Work measures 40 cm.",
        ),
        ("ending at the left-hand edge.", "ending at the right-hand edge."),
    ],
)
def test_every_word_on_the_last_row_moves(said: str, moved: str) -> None:
    start = "Work until armhole measures 18 (19) cm, "
    assert _lead(start + said) == start + moved


@pytest.mark.parametrize(
    ("said", "moved"),
    [
        (
            "Work even until the 56th (58th) row has been worked.",
            "Work even until the 55th (57th) row has been worked.",
        ),
        (
            "Continue to a depth of 18 (19) cm. Your next row should be a knit row.",
            "Continue to a depth of 18 (19) cm. Your next row should be a purl row.",
        ),
    ],
)
def test_numbers_and_announced_rows_move(said: str, moved: str) -> None:
    assert _lead(said) == moved


@pytest.mark.parametrize(
    "said",
    [
        "Work until armhole measures 18 (19) cm, ending with row 2 or 4.",
        "Work until armhole measures 18 (19) cm, with the knit side facing you.",
        "Work until armhole measures 18 (19) cm; finish at the side where you began.",
        "Work until armhole measures 18 (19) cm and be ready to knit.",
        "Work until armhole measures 18 (19) cm, ending with a knit row on RS, then purl 1 more row.",
        "Work until armhole measures 18 (19) cm, ending with a complete stripe and a WS row.",
        "Work in pattern until 7th (8th) pattern from armhole is completed.",
        "Work 10 rows in each of colours A, B, C and D, ending with a WS row.",
    ],
)
def test_what_cannot_be_said_a_row_lower_is_asked_about(said: str) -> None:
    report = _revised(said)
    (shoulder,) = [p for p in report.passages if p.kind == "shoulder"]
    assert shoulder.status == "question", shoulder.reason
    assert report.output == DRAFT.format(lead=said, steps=STEPS)


def test_two_sides_for_one_row_are_asked_about() -> None:
    report = _revised("Work 20 rows, ending after a RS row. The last row is a WS row.")
    assert report.output == DRAFT.format(
        lead="Work 20 rows, ending after a RS row. The last row is a WS row.", steps=STEPS
    )


@pytest.mark.parametrize(
    "said",
    [
        "The first bind-off is in the next row.",
        "The first 6 (7) sts are cast off in the very next row.",
    ],
)
def test_words_on_the_row_of_the_first_step_go_with_the_steps(said: str) -> None:
    steps = "Cast off 6 (7) sts at beg of next 6 rows, leaving 36 sts."
    report = _revised(
        "Work until armhole measures 18 (19) cm, ending with a WS row.", f"{steps} {said}"
    )
    (shoulder,) = [p for p in report.passages if p.kind == "shoulder"]
    assert shoulder.status == "rewritten", shoulder.reason
    assert "The first" not in report.output


def test_the_side_a_heading_gives_the_first_row_is_turned() -> None:
    text = """\
Size: M (L)

Left Front
Cast on 40 (43) sts. Work 20 cm in st st.
Neck: dec 1 st at end of every RS row until 18 (21) sts remain.
Work straight until armhole measures 18 (19) cm, ending after a WS row.
Left shoulder (RS): BO 6 (7) sts at the beg of this and the next RS row. P 1 row. BO rem 6 (7) sts.
"""
    output = rewrite(text, Options(markers=False)).output
    assert "ending after a RS row.\nLeft shoulder (WS):" in output
    assert "Next row (WS): P to last 6 (7) sts, turn." in output


def test_a_last_step_is_taken_from_the_other_side() -> None:
    text = """\
Front
Cast on 60 sts. Work 40 cm in st st, ending with a WS row.
Neck row (RS): K21, put next 18 sts on waste yarn and rem sts on a second thread, turn.
Row 1 (WS): Purl. Row 2 (RS): K to last 3 sts, k2tog, k1.
Rep these 2 rows 2 more times = 18 sts.
Work straight until armhole is 19 cm, ending with a WS row.
Left shoulder
Row 1 (RS): BO 6 sts, k to end. Row 2: Purl. Row 3: BO 6 sts, k to end. Row 4: Purl. Row 5: BO rem 6 sts.

Right side
Put sts back on needle and join yarn at neck, RS facing. K 1 row.
Row 1 (WS): Purl. Row 2 (RS): K1, ssk, k to end.
Rep these 2 rows 2 more times. Work straight until armhole is 19 cm, ending with a RS row.
Right shoulder
Row 1 (WS): BO {n} sts, p to end. Row 2: Knit. Row 3: BO 6 sts, p to end. Row 4: Knit. Row 5: BO rem sts.
"""
    alike = rewrite(text.format(n=6), Options(markers=False))
    shoulders = [p for p in alike.passages if p.kind == "shoulder"]
    assert [p.edges[0].steps for p in shoulders] == [((6,), (6,), (6,))] * 2
    assert any("as large as that of the other side" in d.message for d in alike.diagnostics)
    other = rewrite(text.format(n=7), Options(markers=False))
    assert other.passages[-1].status == "question"
    assert not other.edits


def test_sizes_outside_and_inside_brackets_by_turns() -> None:
    text = """\
Sizes XS (S, M) L (1X, 2X)

Back
CO 92 (98, 106) 112 (124, 132) sts. Work to 30 cm.
Armholes: BO 10 (12, 14) 16 (18, 20) sts at the beg of the next 2 rows. 72 (74, 78) 80 (88, 92) sts.
Work until the armhole is 20 (20, 21) 22 (23, 24) cm deep, ending with a WS row.
Shoulders: BO 6 (6, 7) 7 (6, 6) sts at the beg of the next 4 rows, then BO 6 (7, 6) 7 (6, 7) sts at the beg
of the next 2 (2, 2) 2 (4, 4) rows. BO rem 36 (36, 38) 38 (40, 40) sts.
"""
    report = rewrite(text, Options(markers=False))
    assert report.sizes == ("XS", "S", "M", "L", "1X", "2X")
    (shoulder,) = [p for p in report.passages if p.kind == "shoulder"]
    assert shoulder.edges[0].steps[0] == (6, 6, 7, 7, 6, 6)
    assert shoulder.edges[0].steps[3] == (0, 0, 0, 0, 6, 7)
    assert "last 6 (6, 7) 7 (6, 6) sts, turn" in " ".join(report.output.split())


def test_two_lists_on_two_lines_are_two() -> None:
    assert not by_turns("Sizes 8 (10, 12)\n81 (87, 95) sts\n6 (7, 8)\n9 (9, 9) sts\n" * 3)
    assert in_one_bracket("bo - (-, -) - (6, 7) sts") == [(10, 12, ", "), (13, 15, ", ")]


def test_a_unit_behind_each_number_is_one_list_but_steps_are_not() -> None:
    assert units_at_end("26 sts (27 sts)")
    assert units_at_end("cast off 6 sts, 7 sts, 7 sts (7 sts, 7 sts, 8 sts)") == []


def test_short_words_that_a_draft_explains_are_read() -> None:
    assert own_words("r = row, RS = right side, m = stitch") == (("r", "row"), ("m", "sts"))
    assert own_words("r = row. Later: r = right side.") == ()
    steps = "Close at the beginning of the next 6 r 6 (7) m. Close the last 36 m."
    text = "r = row. m = stitch.\n\n" + DRAFT.format(
        lead="When the armhole measures 18 (19) cm and the last r was a WS r:", steps=steps
    )
    report = rewrite(text, Options(markers=False))
    (shoulder,) = [p for p in report.passages if p.kind == "shoulder"]
    assert shoulder.edges[0].steps == ((6, 7), (6, 7), (6, 7))


@pytest.mark.parametrize(
    "told",
    [
        'a-b-c means "every a rows, b sts, c times".',
        '"2-3-1" is read: every 2 rows - 3 sts - 1 time.',
    ],
)
def test_rows_sts_and_times_for_two_sizes(told: str) -> None:
    text = f"""\
Size M [L]
{told}

Back
Cast on 79 [85] sts. Work straight until 56 [58] rows have been worked. The last row is a WS row.
Shoulder: at both edges 2-6-2 and 2-7-1 [L: 2-7-3].
Bind off remaining 41 [43] sts.

Left Front
Cast on 19 [21] sts. When 56 [58] rows are finished, bind off at the armhole edge 2-6-2, 2-7-1 [2-7-3].
"""
    report = rewrite(text, Options(markers=False))
    shoulders = [p for p in report.passages if p.kind == "shoulder"]
    assert [p.edges[0].steps for p in shoulders] == [((6, 7), (6, 7), (7, 7))] * 2


@pytest.mark.parametrize(
    ("said", "begins"),
    [
        (
            "In the 55th (59th) row from beginning of armhole (= RS row) cast off",
            "In the 54th (58th) row from beginning of armhole (= WS row), shape the shoulders:",
        ),
        (
            "In the 55th row from the armhole start cast off",
            "In the 54th row from the armhole start, shape the shoulders:",
        ),
    ],
)
def test_a_row_counted_from_the_armhole_is_told_one_lower(said: str, begins: str) -> None:
    text = f"""\
Size: M (L)

Back
Cast on 80 (86) sts. Work 20 cm in st st.
Shape armholes: Cast off 4 sts at beg of next 2 rows. 72 (78) sts.
{said} for the shoulders on both sides in every 2nd row 3 x 6 (3 x 7) sts.
Cast off rem 36 sts.
"""
    report = rewrite(text, Options(markers=False))
    shoulder = next(p for p in report.passages if p.kind == "shoulder")
    # the sts of the armhole, told right before, are no step of it
    assert shoulder.edges[0].steps == ((6, 7), (6, 7), (6, 7))
    assert shoulder.status == "rewritten", shoulder.reason
    assert begins in report.output
    assert "Cast off 4 sts at beg of next 2 rows. 72 (78) sts." in report.output


@pytest.mark.parametrize(
    "said",
    [
        "On rows 61 and 62 cast off 6 (7) sts at beg for the shoulders, then 6 (7) sts on next 4 rows.",
        "Cast off for the shoulders 6 (7) sts at beg of next 6 rows.",
    ],
)
def test_steps_of_the_armhole_are_none_of_the_shoulder(said: str) -> None:
    text = DRAFT.split("{lead}")[0].replace("{lead}", "") + f"{said} Cast off rem 36 sts.\n"
    for passage in rewrite(text, Options(markers=False)).passages:
        assert all(4 not in step for edge in passage.edges for step in edge.steps) or (
            passage.kind == "armhole"
        )
