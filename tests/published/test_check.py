"""Published rewritings, written out as pairs of texts and checked: rows per group of columns.

The texts are our own; only the figures are published, and the sources are named beside each. Row
differences are those counted column by column from the published turns (computed by us, in no source).
"""

from __future__ import annotations

import pytest
import regex

from rewriter import check
from rewriter.comparison import Comparison, EdgeComparison, PassageComparison

LEAD = "Work even in stockinette st until armhole measures 8 in, ending with a {side} row. {sts} sts.\n"


def shoulder(found: Comparison) -> PassageComparison:
    """Return the one passage of a comparison."""
    (passage,) = found.passages
    return passage


def by_step(edge: EdgeComparison, size: int = 0) -> list[int]:
    """Return the rows that each step gains, from the outer edge inward; all of a step must agree."""
    gained = [c.rows for c in edge.gained[size] for _ in range(c.sts)]
    out = []
    at = 0
    for sts in edge.steps[size]:
        assert len(set(gained[at : at + sts])) == 1, gained
        out.append(gained[at])
        at += sts
    assert at == len(gained)
    return out


def turns(edge: EdgeComparison, size: int = 0) -> list[tuple[int, int]]:
    """Return row and unworked sts of each turn."""
    return [(t.row, t.unworked) for t in edge.turns[size]]


def codes(found: Comparison, severity: str) -> set[str]:
    """Return the codes of the findings of one severity."""
    return {f.code for f in found.findings if f.severity == severity}


BACK = "BACK\n\n{lead}\nShape shoulders\n{rows}\n\nFINISHING\n{join}\n"
FRONT = "{piece}\n\n{lead}\nShape shoulder\n{rows}\n\nFINISHING\n{join}\n"


def back(sts: int, side: str, rows: str, join: str = "Join shoulders.") -> str:
    """Return a back in our words."""
    return BACK.format(lead=LEAD.format(side=side, sts=sts), rows=rows.strip(), join=join)


def front(
    sts: int, side: str, rows: str, join: str = "Join shoulders.", piece: str = "LEFT FRONT"
) -> str:
    """Return a front in our words."""
    lead = LEAD.format(side=side, sts=sts)
    return FRONT.format(piece=piece, lead=lead, rows=rows.strip(), join=join)


THREE_NEEDLE = "Join shoulders with a three-needle bind-off."


# --- 74 sts, three steps of 6, live ---
# Source: C-Knit2gether blog, "Short Rows You Say", 16 Jul 2008,
# https://c-knit2gether.blogspot.com/2008/07/short-rows-you-say.html
# Published: the six turns, one closing row a shoulder with the yarn cut and rejoined. That the first
# bind-off is on a RS row is inferred (medium evidence): the page does not say it.

A01_STEPPED = back(74, "WS", "BO 6 sts at beg of next 6 rows.\nPlace rem 38 sts on a holder.")
A01_SLOPED = back(
    74,
    "RS",
    """
Row 1 (WS): Purl to last 6 sts, w&t.
Row 2 (RS): Knit to last 6 sts, w&t.
Row 3: Purl to 6 sts before the wrapped st, w&t.
Row 4: Knit to 6 sts before the wrapped st, w&t.
Row 5: Purl to 6 sts before the wrapped st, w&t.
Row 6: Knit to 6 sts before the wrapped st, w&t.
Row 7: Purl to end, picking up wraps.
Slip 56 sts onto a holder and cut yarn.
With RS facing, rejoin yarn at neck edge and knit to end, picking up wraps.
Leave 18 sts for the second shoulder on a holder.
""",
    THREE_NEEDLE,
)


def test_a01_keeps_every_height() -> None:
    """Published turns; heights [1, 3, 5, 7, 6, 4, 2] in both (computed)."""
    found = check(A01_STEPPED, A01_SLOPED)
    right, left = shoulder(found).edges
    assert turns(right) == [(-1, 6), (1, 12), (3, 18)]
    assert turns(left) == [(0, 6), (2, 12), (4, 18)]
    assert by_step(right) == by_step(left) == [0, 0, 0]
    assert found.result == "same"


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


# --- eight sizes, sewn, on the first bind-off row at the other end ---
# Source: Berroco blog, "Shaping Shoulders with Short Rows", 19 Oct 2016,
# https://blog.berroco.com/2016/10/19/shaping-shoulders-with-short-rows/
# Published: the counts of all sizes, the turns for the smallest; medium evidence for the row it begins on.

A04_LISTS = (
    "65 (73, 77, 81, 85, 93, 97, 101)",
    "4 (6, 6, 6, 8, 8, 10, 10)",
    "4 (5, 6, 7, 7, 9, 9, 10)",
)
A04_STEPPED = f"""BACK

Work even in stockinette st until armhole measures 8 in, ending with a WS row. {A04_LISTS[0]} sts.

Shape shoulders
BO {A04_LISTS[1]} sts at beg of next 2 rows, then {A04_LISTS[2]} sts at beg of next 4 rows.
BO rem 41 sts.
"""
A04_SLOPED = f"""BACK

Work even in stockinette st until armhole measures 8 in, ending with a WS row. {A04_LISTS[0]} sts.

Shape shoulders
Next row (RS): Knit to last {A04_LISTS[1]} sts, w&t.
Next row (WS): Purl to last {A04_LISTS[1]} sts, w&t.
Next row: Knit to {A04_LISTS[2]} sts before the last wrapped st, w&t.
Next row: Purl to {A04_LISTS[2]} sts before the last wrapped st, w&t.
Rep last 2 rows once more.
Next row: Knit to end, picking up wraps.
Next row: Purl to end, picking up wraps.
BO all sts.
"""


def test_a04_gives_one_shoulder_two_rows_and_the_other_one() -> None:
    """Differences [2, 2, 2, 2, 1, 1, 1] as published, in every size (computed)."""
    found = check(A04_STEPPED, A04_SLOPED)
    passage = shoulder(found)
    right, left = passage.edges
    assert turns(right)[0] == (1, 4)
    assert turns(left) == [(0, 4), (2, 8), (4, 12)]
    for size in range(8):
        assert by_step(right, size) == [2, 2, 2]
        assert by_step(left, size) == [1, 1, 1]
    assert set(passage.neck_gained) == {2}
    assert found.result == "differs"


def test_a04_begun_a_row_earlier_gains_a_row_at_one_shoulder() -> None:
    """The other reading: [1, 1, 1, 1, 0, 0, 0] (computed), which the trade accepts."""
    lead, rows = A04_SLOPED.replace("ending with a WS row", "ending with a RS row").split(
        "shoulders\n"
    )
    swap = {"RS": "WS", "WS": "RS", "Knit": "Purl", "Purl": "Knit"}
    rows = regex.sub(r"\b(?:RS|WS|Knit|Purl)\b", lambda m: swap[m.group()], rows)
    sloped = f"{lead}shoulders\n{rows}"
    found = check(A04_STEPPED, sloped)
    right, left = shoulder(found).edges
    assert by_step(right) == [1, 1, 1]
    assert by_step(left) == [0, 0, 0]
    assert set(shoulder(found).neck_gained) == {1}
    assert found.result == "same"


# --- 103 sts, steps of 10, live, no last row ---
# Source: knittinghelp.com forum thread 27087, "Convert shoulder shaping to 3 needle bind off",
# https://forum.knittinghelp.com/t/convert-shoulder-shaping-to-3-needle-bind-off/27087
# Published: 10, 20, 30 left at each edge, from the row before; all held. The sides are assumed.

A05_STEPPED = back(103, "WS", "BO 10 sts at beg of next 6 rows.\nPlace rem 43 sts on a holder.")
A05_SLOPED = back(
    103,
    "RS",
    """
Next row (WS): Purl to last 10 sts, turn.
Next row (RS): Knit to last 10 sts, turn.
Next row: Purl to last 20 sts, turn.
Next row: Knit to last 20 sts, turn.
Next row: Purl to last 30 sts, turn.
Next row: Knit to last 30 sts, turn.
Place all sts on a holder.
""",
    THREE_NEEDLE,
)


def test_a05_makes_every_column_one_row_shorter() -> None:
    """Differences -1 everywhere (computed): accepted, and said."""
    found = check(A05_STEPPED, A05_SLOPED)
    right, left = shoulder(found).edges
    assert by_step(right) == by_step(left) == [-1, -1, -1]
    assert shoulder(found).neck_gained == (-1,)
    assert found.result == "same"
    assert {"rows-gained", "turns-closed-in-join"} <= codes(found, "remark")


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


# --- 93 sts, six steps of 3, from the other end ---
# Source: Megaptera Knits, "How to Shape Shoulders and Neck with Short Rows",
# https://megapteraknits.com/how-to-shape-shoulders-and-neck-with-short-rows-with-video/
# Published: the turns. That the first bind-off is on a RS row is assumed; how the turns are closed is not
# visible, so they wait for the join here.

A09_STEPPED = back(93, "WS", "BO 3 sts at beg of next 12 rows.\nPlace rem 57 sts on a holder.")
A09_SLOPED = back(
    93,
    "WS",
    """
Row 1 (RS): Knit to last 3 sts, w&t.
Row 2 (WS): Purl to last 3 sts, w&t.
Row 3: Knit to 3 sts before last wrapped st, w&t.
Row 4: Purl to 3 sts before last wrapped st, w&t.
Rep last 2 rows 4 times more.
Leave all sts on a holder.
""",
    "Graft shoulders.",
)


def test_a09_exchanges_right_and_left() -> None:
    """Differences [+1 at one shoulder, 0 at the neck, -1 at the other], before any closing (computed).

    By column that is within a row at each shoulder; the remarks say so for each.
    """
    found = check(A09_STEPPED, A09_SLOPED)
    right, left = shoulder(found).edges
    assert turns(left)[-1] == (10, 18)
    assert turns(right)[-1] == (11, 18)
    assert by_step(right) == [1] * 6
    assert by_step(left) == [-1] * 6
    assert shoulder(found).neck_gained == (0,)
    assert found.result == "same"


# --- 137 sts, steps 12, 12, 13, 13 ---
# Source: knittinghelp.com forum thread 160767, https://forum.knittinghelp.com/t/substitute-cast-off-for-short-rows/160767
# The original is published, the exact turns are computed by us. Published advice: wrap the 13th st from the
# end and count it with the next set, so 12 sts and the wrapped one stay unworked.

A10_STEPPED = back(
    137, "WS", "BO 12 sts at beg of next 4 rows, then 13 sts at beg of next 4 rows.\nBO rem 37 sts."
)
A10_ROWS = """
Row 1 (WS): Purl to last {a} sts, w&t.
Row 2 (RS): Knit to last {a} sts, w&t.
Row 3: Purl to last {b} sts, w&t.
Row 4: Knit to last {b} sts, w&t.
Row 5: Purl to last {c} sts, w&t.
Row 6: Knit to last {c} sts, w&t.
Row 7: Purl to end, picking up wraps.
Row 8: BO 50 sts, knit to end, picking up wraps.
Row 9: BO 50 sts, purl to end.
BO rem 37 sts.
"""


def test_a10_exact_turns_keep_every_height() -> None:
    """Turns at 12, 24 and 37 sts (computed): the same fabric."""
    found = check(A10_STEPPED, back(137, "RS", A10_ROWS.format(a=12, b=24, c=37)))
    right, left = shoulder(found).edges
    assert by_step(right) == by_step(left) == [0] * 4
    assert found.result == "same"


def test_a10_advice_moves_each_boundary_by_a_stitch() -> None:
    """The forum's advice leaves 13, 25, 38: one st beside each turn differs by two rows (computed)."""
    found = check(A10_STEPPED, back(137, "RS", A10_ROWS.format(a=13, b=25, c=38)))
    right, _ = shoulder(found).edges
    assert [(c.sts, c.rows) for c in right.gained[0]] == [
        (12, 0), (1, -2), (11, 0), (1, -2), (12, 0), (1, -2), (12, 0),
    ]  # fmt: skip
    assert found.result == "differs"
    assert "turn-misplaced" in codes(found, "error")


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


# --- 69 sts: a front that cannot be joined ---
# Source: knitting handbook chapter reproduced at knittingmagic.biz, "Shaping the shoulders",
# https://www.knittingmagic.biz/guide-4/shaping-the-shoulders.html
# Published: 9 sts at beg of 6 rows on the back (27 a shoulder), 18 sts left on each front shoulder.

E01_STEPPED = """BACK

Work even until armhole measures 8 in, ending with a WS row. 69 sts.
Shape shoulders
BO 9 sts at beg of next 6 rows.
BO rem 15 sts.

LEFT FRONT

Work even until armhole measures 8 in, ending with a WS row. 18 sts.
Shape shoulder
BO 9 sts at armhole edge on next 2 RS rows.
"""


@pytest.mark.parametrize("revised", [E01_STEPPED, E01_STEPPED.replace("8 in", "8 inches", 1)])
def test_e01_back_and_front_do_not_meet(revised: str) -> None:
    """27 sts against 18, as published: a finding, whatever was revised."""
    found = check(E01_STEPPED, revised)
    (finding,) = [f for f in found.findings if f.code == "shoulders-differ"]
    assert "9 + 9 + 9 = 27" in finding.message
    assert "9 + 9 = 18" in finding.message
    assert found.result == "differs"
