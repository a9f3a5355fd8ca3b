"""The side of the first bind-off row, by counting the rows from an earlier one (common practice)."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options

QUIET = Options(markers=False)
FRONT = """RIGHT FRONT
Work straight until armhole measures 12 cm, ending with a WS row.
Shape neck
Cast off 10 sts at beg of next row. 36 sts.
{rows}
Shape shoulder
Cast off 9 sts at beg of next row and foll alt row. Work 1 row. Cast off rem 9 sts.
"""


@pytest.mark.parametrize(
    "rows",
    [
        # the neck's row is row 1, a RS row; the armhole of a right front is bound off on a WS row
        "Dec 1 st at neck edge on next 6 rows, then on foll 3 alt rows. 27 sts.",
        "Dec 1 st at neck edge on foll alt rows until 27 sts remain. Work 2 rows.",
        "Dec 1 st at neck edge on next and every foll alt row until 27 sts remain.\nWork 1 row.",
    ],
)
def test_rows_that_lead_to_the_armhole_edge_are_taken(rows: str) -> None:
    (found,) = [p for p in rewrite(FRONT.format(rows=rows), QUIET).passages if p.kind == "shoulder"]
    assert found.status == "rewritten", found.reason


@pytest.mark.parametrize(
    "rows",
    [
        "Dec 1 st at neck edge on next 5 rows, then on foll 4 alt rows. 27 sts.",
        "Dec 1 st at neck edge on every row 9 times. 27 sts.",
        "Dec 1 st at neck edge on next and every foll alt row until 27 sts remain.",
    ],
)
def test_rows_that_lead_to_the_other_edge_are_asked_about(rows: str) -> None:
    (found,) = [p for p in rewrite(FRONT.format(rows=rows), QUIET).passages if p.kind == "shoulder"]
    assert found.status == "question"
    assert 'counting the rows from "... cm, ending with a WS row"' in (found.reason or "")


def test_counting_tells_the_side_where_nothing_else_does() -> None:
    text = """BACK
Work straight until armholes measure 12 cm, ending with a WS row.
Dec 1 st at each end of next row. 48 sts.
Shape shoulders
Cast off 8 sts at beg of next 4 rows. Cast off rem 16 sts.
"""
    report = rewrite(text, QUIET)
    told = [d.message for d in report.diagnostics if d.code == "inferred"]
    assert any("is a WS row: counting the rows" in message for message in told), told


def test_rows_that_cannot_be_counted_tell_nothing() -> None:
    # whether the first of "every other row" is the next one is not said
    rows = "Dec 1 st at neck edge every other row 9 times. 27 sts.\nWork 1 row."
    (found,) = [p for p in rewrite(FRONT.format(rows=rows), QUIET).passages if p.kind == "shoulder"]
    assert found.status == "rewritten", found.reason
