"""Published rewritings of shoulders at one edge, checked: rows per group of columns.

The texts are our own; only the figures are published, and the sources are named beside each. Row
differences are those counted column by column from the published turns (computed by us, in no source).
"""

from __future__ import annotations

from rewriter import check
from tests.published.checking import THREE_NEEDLE, by_step, codes, front, shoulder, turns

# --- 13 sts, steps 4, 4, 5, live ---
# Source: Stacy Knits blog, 8 Mar 2005, on Nancie M. Wiseman's method,
# http://stacyknits.blogspot.com/2005/03/short-rows-and-new-yarn-new-yarn.html
# Published: the numbers. That the first turn stands in the row before the first bind-off is our reading
# (medium evidence).

A02_STEPPED = front(
    13,
    "RS",
    "Next row (WS): BO 4 sts, purl to end.\nNext row: Knit.\nNext row: BO 4 sts, purl to end.\n"
    "Next row: Knit.\nBO rem 5 sts.",
    piece="RIGHT FRONT",
)
A02_SLOPED = front(
    13,
    "WS",
    """
Next row (RS): Knit, leaving 4 sts unworked, w&t.
Next row (WS): Purl.
Next row: Knit, leaving 8 sts unworked, w&t.
Next row: Purl.
Next row: Knit to end, picking up wraps.
Place all sts on a holder.
""",
    THREE_NEEDLE,
    "RIGHT FRONT",
)


def test_a02_keeps_every_height() -> None:
    """Heights [1, 3, 5] in both, if the first turn is read as the row before (see above)."""
    found = check(A02_STEPPED, A02_SLOPED)
    (edge,) = shoulder(found).edges
    assert turns(edge) == [(-1, 4), (1, 8)]
    assert by_step(edge) == [0, 0, 0]
    assert found.result == "same"


# --- steps 4, 4, 3 and a remainder, live, a row later ---
# Source: NonaKnits, "Short Row Shoulders", 17 May 2005,
# https://nonaknits.typepad.com/nonaknits/2005/05/short_row_shoul.html
# Published: the bind-offs on WS rows, and the rule to work one more row before the short rows begin.
# The fourth step of 4 is assumed (the text breaks off); heights do not depend on it.

A03_STEPPED = """SHOULDER

Work even in stockinette st until armhole measures 8 in, ending with a RS row. 15 sts.

Shape shoulder
Row 1 (WS): BO 4 sts at armhole edge, purl to end.
Row 2: Knit.
Row 3: BO 4 sts, purl to end.
Row 4: Knit.
Row 5: BO 3 sts, purl to end.
Row 6: Knit.
Row 7: BO rem 4 sts.
"""
A03_SLOPED = """SHOULDER

Work even in stockinette st until armhole measures 8 in, ending with a RS row. 15 sts.

Shape shoulder
Row 1 (WS): Purl.
Row 2: Knit to last 4 sts, turn.
Row 3: Purl.
Row 4: Knit to 4 sts before last turn, turn.
Row 5: Purl.
Row 6: Knit to 3 sts before last turn, turn.
Row 7: Purl.
Row 8: Knit to end, closing all gaps.
Leave sts on a holder for a three-needle bind-off.
"""


def test_a03_makes_every_column_two_rows_taller() -> None:
    """Differences +2 on every group (computed); the text of the fourth group is not in the source."""
    found = check(A03_STEPPED, A03_SLOPED)
    (edge,) = shoulder(found).edges
    assert turns(edge) == [(1, 4), (3, 8), (5, 11)]
    assert by_step(edge) == [2, 2, 2, 2]
    assert found.result == "differs"
    assert {"rows-differ", "starts-on-wrong-row"} <= codes(found, "error")


# --- 12 sts, three steps of 4, live, no last row ---
# Source: knittinghelp.com forum thread 41947 (front), https://forum.knittinghelp.com/t/shoulder-shaping/41947

A06_STEPPED = front(12, "WS", "BO 4 sts at armhole edge every RS row 3 times.")
A06_SLOPED = front(
    12,
    "RS",
    "Next row (WS): Purl to last 4 sts, turn.\nNext row: Knit.\nNext row: Purl to last 8 sts, turn.\n"
    "Next row: Knit.\nLeave 12 sts on a holder.",
    THREE_NEEDLE,
)


def test_a06_makes_every_column_one_row_shorter() -> None:
    """Differences -1 (computed); with one closing row more it is exact."""
    found = check(A06_STEPPED, A06_SLOPED)
    (edge,) = shoulder(found).edges
    assert turns(edge) == [(-1, 4), (1, 8)]
    assert by_step(edge) == [-1, -1, -1]
    assert found.result == "same"
    closed = A06_SLOPED.replace("Leave 12", "Next row: Purl to end, closing the gaps.\nLeave 12")
    (edge,) = shoulder(check(A06_STEPPED, closed)).edges
    assert by_step(edge) == [0, 0, 0]


# --- 14 sts with two neck decreases ---
# Source: the same thread, the back's shoulder: the ssk stays in its rows; 14, 13, 13, 12 sts live.

A07_STEPPED = front(
    14,
    "WS",
    """
Row 1 (RS): BO 4 sts, knit to last 3 sts, ssk, k1. 9 sts.
Row 2: Purl.
Row 3: BO 4 sts, knit to last 3 sts, ssk, k1. 4 sts.
Row 4: Purl.
BO rem 4 sts.
""",
)
A07_SLOPED = front(
    14,
    "RS",
    """
Row 1 (WS): Purl to last 4 sts, turn.
Row 2 (RS): Knit to last 3 sts, ssk, k1. 13 sts.
Row 3: Purl to last 8 sts, turn.
Row 4: Knit to last 3 sts, ssk, k1. 12 sts.
Leave all sts on a holder.
""",
    THREE_NEEDLE,
)


def test_a07_keeps_the_neck_decreases_and_is_one_row_shorter() -> None:
    """Published counts 14, 13, 12; differences -1 (computed)."""
    found = check(A07_STEPPED, A07_SLOPED)
    (edge,) = shoulder(found).edges
    assert by_step(edge) == [-1, -1, -1]
    assert found.result == "same"


# --- 7, then the rest on the return row ---
# Source: knittinghelp.com forum thread 140540, https://forum.knittinghelp.com/t/how-to-short-row/140540
# The remainder of 8 sts is ours (none is published).

A08_STEPPED = front(15, "WS", "Next row (RS): BO 7 sts, knit to end.\nNext row: BO rem 8 sts.")
A08_SLOPED = front(
    15,
    "RS",
    "Next row (WS): Purl to last 7 sts, w&t.\nNext row (RS): Knit.\n"
    "Next row: Purl to end, picking up the wrap.\nBO all sts.",
)


def test_a08_gives_the_last_step_one_row_more() -> None:
    """Last group +1, the other 0 (computed): no short rows make it exactly."""
    found = check(A08_STEPPED, A08_SLOPED)
    (edge,) = shoulder(found).edges
    assert by_step(edge) == [0, 1]
    assert found.result == "within-one-row"
    assert codes(found, "warning") == {"within-one-row"}


# --- 16 sts, steps 5, 5, 6 ---
# Source: TECHknitting blog, "Sweater shoulders: transform stair steps to short rows", 23 Jan 2012,
# https://techknitting.blogspot.com/2012/01/sweater-shoulders-transform-stair-steps.html
# Only the first turn is visible; the second turn and the last row are inferred (low to medium evidence),
# and the turns stand on purl rows here, as this shoulder asks for.

A11_STEPPED = front(
    16,
    "WS",
    "Row 1 (RS): BO 5 sts, k11. 11 sts.\nRow 2: P11.\nRow 3: BO 5 sts, k6. 6 sts.\nRow 4: P6.\nBO rem 6 sts.",
)
A11_SLOPED = front(
    16,
    "RS",
    """
Row 1 (WS): Purl to within 5 sts of the outer edge, wrap next st and turn.
Row 2: Sl 1, knit to end.
Row 3: Purl to within 10 sts of the outer edge, wrap next st and turn.
Row 4: Sl 1, knit to end.
Row 5: Purl to end, picking up wraps.
BO all 16 sts.
""",
)


def test_a11_keeps_every_height() -> None:
    """Heights [1, 3, 5] in both (computed, a slipped st counted as worked)."""
    found = check(A11_STEPPED, A11_SLOPED)
    (edge,) = shoulder(found).edges
    assert turns(edge) == [(-1, 5), (1, 10)]
    assert by_step(edge) == [0, 0, 0]
    assert found.result == "same"


# --- 15 sts, three steps of 5 ---
# Source: Bond America blog (knitting machine), "Short Row Shaping for Shoulders", Jan 2018,
# http://bond-america.blogspot.com/2018/01/short-row-shaping-for-shoulders.html
# The machine's hold and wrap, told here for hand knitting; the stepped original is constructed.

A12_STEPPED = front(15, "WS", "BO 5 sts at armhole edge on next 3 RS rows.")
A12_SLOPED = front(
    15,
    "RS",
    """
Next row (WS): P10, w&t.
Next row (RS): Knit.
Next row: P5, w&t.
Next row: Knit.
Next row: Purl to end, picking up wraps.
Place sts on waste yarn.
""",
    "Join shoulders: bind off together, with right sides facing, by the three-needle method.",
)


def test_a12_keeps_every_height() -> None:
    """Heights [1, 3, 5] in both: published turns, row 3 over all 15."""
    found = check(A12_STEPPED, A12_SLOPED)
    (edge,) = shoulder(found).edges
    assert turns(edge) == [(-1, 5), (1, 10)]
    assert by_step(edge) == [0, 0, 0]
    assert found.result == "same"
