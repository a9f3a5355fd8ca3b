# ruff: noqa: E501 - the lines of drafts are as long as houses write them
"""Lists with upright lines or a unit behind each entry, rows told by a label, sizes by their ages."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import Report

QUIET = Options(markers=False)


def steps(report: Report, passage: int = -1) -> list[tuple[int, ...]]:
    """Return the steps of the first edge of a passage, for each size."""
    found = report.passages[passage]
    assert found.status == "rewritten", found.reason
    return [tuple(n for n in size if n) for size in zip(*found.edges[0].steps, strict=True)]


LINED = """PLAIN VEST
Sizes S | M | L
Back
Cast on 84 | 90 | 96 sts. Work in st st for 30 cm, ending with a WS row.
Shape armholes: Bind off 8 | 9 | 10 sts at beg of next 2 rows. 68 | 72 | 76 sts.
Work straight until armhole measures 18 | 19 | 20 cm, ending with a WS row.
{}
"""


@pytest.mark.parametrize(
    "words",
    [
        "Slope: bind off 7 | 7 | 7 sts at the start of the next four rows, then 6 | 7 | 8 sts at the start of the next two rows.\nLeave 28 | 30 | 32 sts on a holder.",
        "Shoulders. Bind off 7|7|7 at the start of four successive rows, then 6|7|8 at the start of two successive rows. Bind off the last 28|30|32 sts.",
        "Slant. Bind off 7 at the start of the row, four rows running. Then 6|7|8 at the start of the row, two rows running. 28|30|32 sts are left; bind them off too.",
    ],
)
def test_lists_with_upright_lines_are_read_and_written(words: str) -> None:
    report = rewrite(LINED.format(words), QUIET)
    assert steps(report) == [(7, 7, 6), (7, 7, 7), (7, 7, 8)]
    lined = "20 | 21 | 22" if " | " in words else "20|21|22"
    assert f"Bind off {lined} sts, knit to end" in report.output or lined in report.output


def test_a_table_is_no_list() -> None:
    table = "Size | S | M | L\nChest | 84 | 92 | 100\n"
    report = rewrite(LINED.format(table), QUIET)
    assert [p.kind for p in report.passages] == ["armhole"]


LABELLED = """PLAIN VEST
Sizes S (M, L)
Back
Cast on 84 (90, 96) sts. Work in st st for 30 cm, ending with a WS row.
Shape armholes: Bind off 8 (9, 10) sts at beg of next 2 rows. [68 (72, 76) sts]
Work straight until armhole measures 18 (19, 20) cm, ending with a WS row.
Shoulders
{}
"""


@pytest.mark.parametrize(
    "words",
    [
        "Rows 1-4: BO 7 sts, work to end. (40 (44, 48) sts left after Row 4)\nRows 5-6: BO 6 (7, 8) sts, work to end. (28 (30, 32) sts left after Row 6)\nPlace rem sts on a holder.",
        "Rows 1 to 4: BO 7, knit or purl to end; 40 (44, 48) sts after row 4.\nRows 5 and 6: BO 6 (7, 8), knit or purl to end; 28 (30, 32) sts after row 6.\nPlace rem sts on a holder.",
        "1st-4th rows: Cast off 7 sts, work to end. [40 (44, 48) sts on completion of 4th row]\n5th and 6th rows: Cast off 6 (7, 8) sts, work to end. [28 (30, 32) sts after 6th row]\nPlace rem sts on a holder.",
        "Rows 1, 2, 3 and 4: BO 7 sts, work to end. 40 (44, 48) sts remain after Row 4.\nRows 5, 6: BO 6 (7, 8) sts, work to end.\nPlace rem sts on a holder.",
    ],
)
def test_sts_counted_after_a_row_named_by_its_number(words: str) -> None:
    assert steps(rewrite(LABELLED.format(words), QUIET)) == [(7, 7, 6), (7, 7, 7), (7, 7, 8)]


def test_a_count_after_a_row_that_does_not_agree_is_asked_about() -> None:
    words = (
        "Rows 1-4: BO 7 sts, work to end. [41 (44, 48) sts after Row 4]\n"
        "Rows 5-6: BO 6 (7, 8) sts, work to end.\nBO rem 28 (30, 32) sts."
    )
    assert rewrite(LABELLED.format(words), QUIET).passages[-1].status == "question"


AGED = """Small Jersey
to fit 1 year (2 years: 3 years)
3 (3: 4) balls of 50 g
Back
Cast on 64 sts (70 sts: 76 sts). Work in st st until back measures 24 cm (27 cm: 30 cm), ending with a purl row.
Shoulders
For 1 year, cast off 17 sts at beginning of next 2 rows.
For 2 years (3 years), cast off 10 sts (11 sts) at beginning of next 4 rows.
For every size: leave the remaining 30 sts (30 sts: 32 sts) on a stitch holder.
Front
Work as for back until front measures 20 cm (23 cm: 26 cm), ending with a purl row.
Neck
Next row: knit 22 sts (25 sts: 27 sts), turn, and leave the rest of the sts on a spare needle.
Dec 1 st at neck edge on every row until 17 sts (20 sts: 22 sts) remain.
Work straight until front is 6 rows lower than back to shoulder, ending with a wrong-side row.
Front shoulder
For 1 year, cast off all 17 sts at beginning of next row.
For 2 years (3 years), cast off 10 sts (11 sts) at beginning of next row, work 1 row, cast off 10 sts (11 sts).
"""


def test_some_sizes_by_their_ages_with_a_unit_behind_each_count() -> None:
    report = rewrite(AGED, QUIET)
    assert steps(report, 0) == [(17,), (10, 10), (11, 11)]
    assert steps(report, 1) == [(17,), (10, 10), (11, 11)]
    # both shoulders begin a row lower, so the front stays as much lower than the back as it was
    assert "6 rows lower than back to shoulder, ending with a right-side row" in report.output


GARTER = """All in garter stitch.
Back
Cast on 84 sts. Knit 58 ridges.
Armholes: bind off 8 sts at the start of the next two rows. 68 sts.
Knit 33 more ridges.
Shoulders: bind off 7 sts at the start of the next 4 rows, then 6 at the start of the next 2 rows. Bind off the last 28 sts.
Front
Cast on 42 sts. Knit 58 ridges.
Armhole: bind off 8 sts at the start of the next row, knit back. 34 sts.
Knit 22 ridges, then 1 row more, so that you stand at the neck edge.
Neck: bind off 14 sts, knit to armhole edge. 20 sts.
Knit 10 more ridges; you are at the armhole edge.
Slope. From the armhole edge bind off 7, knit to the neck, knit back along the ridge. Do that again. Bind off the last 6.
"""


def test_ridges_before_a_slope_lose_a_row() -> None:
    report = rewrite(GARTER, QUIET)
    assert steps(report, 1) == steps(report, 2) == [(7, 7, 6)]
    assert "Knit 33 more ridges less 1 row." in report.output
    assert "Knit 10 more ridges less 1 row; you are at the neck edge." in report.output
