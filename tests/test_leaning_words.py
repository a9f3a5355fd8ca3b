"""Words of other pieces and sides that lean on a shoulder, beside "shape shoulder as for back"."""

from __future__ import annotations

from rewriter import rewrite
from rewriter.options import Options

QUIET = Options(markers=False)
BACK = """BACK
Work even until armhole measures 7 ins, ending with a WS row. 74 sts.
Shape shoulders
Bind off 7 sts at beg of next 6 rows. Bind off rem 32 sts.

LEFT FRONT
"""
LEFT = """LEFT FRONT
Work even until armhole measures 7 ins, ending with a WS row. 24 sts.
Shape shoulder: Bind off 8 sts at beg of next row and foll alt row. Work 1 row. Bind off rem 8 sts.

RIGHT FRONT
"""


def test_a_bare_reference_behind_the_shoulder_is_written_out() -> None:
    report = rewrite(
        BACK + "21 sts. Work even to same length as back to shoulder.\nBind off as on the back.\n",
        QUIET,
    )
    assert [len(p.edges) for p in report.passages if p.status == "rewritten"] == [2, 1]
    assert "Bind off as on the back" not in report.output
    assert report.output.rstrip().endswith("Bind off all 21 sts.")


def test_a_bare_reference_to_something_else_stays() -> None:
    report = rewrite(BACK + "Work even for 12 ins.\nBind off as on the back.\n", QUIET)
    assert [len(p.edges) for p in report.passages if p.status == "rewritten"] == [2]
    assert report.output.endswith("Work even for 12 ins.\nBind off as on the back.\n")


def test_a_side_worked_in_the_same_way_but_reversed_says_where_its_rows_turn() -> None:
    report = rewrite(
        LEFT + "Finish it the same way as the left front, reversing everything.\n", QUIET
    )
    assert report.output.rstrip().endswith(
        "reversing everything. On this front, end the straight rows before the shoulder with a WS row; "
        "the short rows are RS rows."
    )
