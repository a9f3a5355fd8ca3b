"""Cast-on shoulders with growing short rows, against a published top-down shoulder.

Source: Christina Creating, "A Question Answered?" (blog, 9 February 2013): 75 sts are cast on at once,
7 + 8 + 8 for one shoulder, 29 for the neck, 8 + 8 + 7 for the other, and the first rows work 7 + 8 + 8 + 29,
then 29 + 8, then 8 + 29 + 8 sts; each later row goes a step further.
"""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import rewrite
from rewriter.fabric import knit
from rewriter.growing import GrowingSteps, grow
from rewriter.options import Options
from rewriter.rows import TURN, WORK_ALL, Act, Kind, Row, cast_on
from tests.published.support import by_group

GROUPS = (7, 8, 8, 29, 8, 8, 7)
PUBLISHED = (52, 37, 45, 53, 61, 68, 75)
"""Sts worked in each row; the first three are printed, the others follow its rule."""

DRAFT = """Worked from the top down in stockinette st.

BACK
CO 29 sts for back neck.
Shape shoulders
Row 1 (RS): CO 8 sts, k to end.
Row 2 (WS): CO 8 sts, p to end.
Rep Rows 1 and 2 once more. 61 sts.
Row 5 (RS): CO 7 sts, k to end.
Row 6 (WS): CO 7 sts, p to end. 75 sts.
Work even for 20 rows.
"""


def grown() -> list[Row]:
    """The exact twin of 8, 8 and 7 sts cast on at the beginning of rows, and the row behind it."""
    rows = [Row((cast_on(n), WORK_ALL)) for n in (8, 8, 8, 8, 7, 7)]
    edges = (
        GrowingSteps("right", (0, 2, 4), (8, 8, 7)),
        GrowingSteps("left", (1, 3, 5), (8, 8, 7)),
    )
    out, behind = grow(rows, edges)
    return [*out, *behind.rows(1)]


def lengths(rows: Sequence[Row], start: int) -> list[int]:
    """Return the sts that each row works."""
    out, live, ahead = [], start, start
    for row in rows:
        on = sum(a.n or 0 for a in row.acts if a.kind is Kind.CAST_ON)
        live, ahead = live + on, ahead + on
        left = sum(a.n or 0 for a in row.acts if a.kind is Kind.LEAVE)
        out.append(ahead - left)
        ahead = live if not left else live - left
    return out


def published() -> list[Row]:
    """The published rows: each stops where its length ends, the last two go to the edge."""
    return [Row((Act(Kind.WORK, n), *([TURN] if n < 68 else []))) for n in PUBLISHED]


def test_published_rows_make_one_shoulder_two_rows_taller() -> None:
    fabric = knit(75, published(), "right")
    assert by_group(fabric, GROUPS) == [3, 5, 7, 7, 5, 3, 1]


def test_the_twin_has_the_published_rows_and_one_pass_over_the_second_shoulder() -> None:
    """Source: as above. Row 2 works the 23 sts of the second shoulder first, all else is printed there."""
    extra = [a - b for a, b in zip(lengths(grown(), 29), PUBLISHED, strict=True)]
    assert extra == [0, 23, 0, 0, 0, 0, 0]


def test_the_twin_has_the_heights_of_the_stepped_piece() -> None:
    """The first shoulder as published; the second one row lower than it, as cast on one row later."""
    fabric = knit(29, grown(), "right")
    assert [n for _, n in fabric.heights()] == [3, 5, 7, 6, 4, 2]
    assert [n for n, _ in fabric.heights()] == [7, 8, 8 + 29, 8, 8, 7]


def test_a_draft_of_it_is_rewritten_to_these_rows() -> None:
    report = rewrite(DRAFT, Options(markers=False))
    (passage,) = report.passages
    assert (passage.status, passage.verification.result) == ("rewritten", "same")
    assert passage.cast_on
    assert passage.edges[0].steps == ((8,), (8,), (7,))
    for line in (
        "Row 1 (RS): CO 23 sts, k to end.",
        "Row 2 (WS): CO 23 sts, p to last 15 sts, turn. 75 sts.",
        "Row 3 (RS): DS, k to last 15 sts, turn.",
        "Row 4 (WS): DS, p to last 7 sts, working each DS as one st, turn.",
        "Row 5 (RS): DS, k to last 7 sts, working each DS as one st, turn.",
        "Row 6 (WS): DS, p to end, working each DS as one st.",
        "On the first of the rows that follow, work the DS as one st.",
        "Work even for 20 rows.",
    ):
        assert f"\n{line}\n" in report.output
