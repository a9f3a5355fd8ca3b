"""One shoulder, told in the many ways of many houses: the same steps must be read from each."""

from __future__ import annotations

import pytest

from rewriter import rewrite

BACK = """BACK
Work even in st st until armholes measure 8 in, ending with a WS row. 76 sts.
Shape shoulders
"""
FRONT = """LEFT FRONT
Work even in st st until armhole measures 8 in, ending with a WS row. 24 sts.
Shape shoulder
"""

# 76 sts: 8 sts three times at each edge, 28 left.
TWO_EDGES = [
    "1st Row. Bind off 8 sts, k to end.\n2nd Row. Bind off 8 sts, p to end.\n3rd and 4th Rows. As 1st and 2nd.\n"
    "Bind off 8 sts at beg of next 2 rows. Bind off rem 28 sts.",
    "Cast off 8 sts at beg of next 6 rows. Cast off rem 28 sts.",
    "Cast off 8 sts beg next 6 rows. Cast off rem 28 sts.",
    "Cast off 8 sts at beg of each of next 6 rows. Cast off.",
    "BO 8 at beg of next 6 rows. BO rem 28.",
    "Bind off 8 stitches at the beginning of the next six rows. Bind off the remaining 28 stitches.",
    "Next 6 Rows: BO 8 sts at the beg of each row. BO rem 28 sts.",
    "At beg of next 6 rows, BO 8 sts. BO rem 28 sts.",
    "At the beg of each of the next 6 rows cast off 8 sts. Leave rem 28 sts on a spare needle.",
    "Bind off 8 sts at beg of each row 6 times. Bind off.",
    "Bind off 8 sts at beg of each row 3 times each side. Bind off rem 28 sts.",
    "Bind off 8 sts at beg of every row until 28 sts remain. Bind off rem sts.",
    "At each armhole edge BO 8 sts every other row 3 times. BO rem 28 sts.",
    "At each arm edge, bind off 8 sts 3 times. Place rem 28 sts on st holder.",
    "Bind off 8 sts at each arm edge every other row 3 times. Bind off 28 sts.",
    "Cast off 8 sts at beg of next 2 rows; 8 sts at beg of next 4 rows; cast off rem sts.",
    "Cast off 8 sts at beg of next 2 rows, and 8 sts at beg of foll 4 rows. Leave rem 28 sts on holder.",
    "Cast off 8 sts at beg of next 2 rows. Rep last 2 rows twice more. Cast off rem 28 sts.",
    "Row 1 (RS): BO 8 sts, k to end. Row 2: BO 8 sts, p to end. Rep Rows 1 and 2 twice more. BO rem 28 sts.",
    "Next row (RS): BO 8, knit across. Next row: BO 8, purl across. Rep these 2 rows 2 more times. BO rem 28 sts for back neck.",
    "1st row: Cast off 8 sts, K to end.\n2nd row: Cast off 8 sts, P to end.\n3rd to 6th rows: As 1st and 2nd rows twice.\nCast off.",
    "Rows 1 - 6: BO 8 sts, work to end. BO rem 28 sts.",
    "Row 1: BO 8 sts, k to end, turn. Row 2: BO 8 sts, p to end, turn. Rep Rows 1 and 2 twice more. BO rem 28 sts.",
    "Next row: Cast off 8, k to end. Next row: Cast off 8, p to end. Rep last 2 rows twice. Slip rem 28 sts to holder.",
    "Loosely bind off 8 sts at beg of next 6 rows. Bind off rem 28 sts loosely.",
    "Bind off loosely 8 sts at beg of next 6 rows. Put remaining 28 sts on a thread.",
    "Cast off 8 sts in patt at beg of next 6 rows. Slip rem 28 sts onto a length of yarn.",
    "*Bind off 8 sts, knit to end of row. Bind off 8 sts, purl to end of row. Repeat from * twice. Bind off rem 28 sts.",
    "Bind off 8 sts. at the beg. of the next 2 rows (60 sts.), 8 sts. at the beg. of the next 4 rows (28 sts.). Bind off.",
    "For shoulders, cast off 8 sts at beg of next 6 rows. Cast off rem sts.",
    "Dec for shoulders by binding off 8 sts at beg of next 6 rows. BO rem 28 sts.",
    "Shape shoulders by casting off 8 sts at beg of next 6 rows. Cast off rem 28 sts.",
    "Cast off 8 sts at the beginning of the next 6 rows, then cast off the remaining 28 sts.",
    "Next row (RS): BO 8 sts, k to end—68 sts. Next row: BO 8 sts, p to end—60 sts. Rep last 2 rows 2 times—28 sts. BO.",
    "Continue in pattern, binding off 8 sts at beg of next 6 rows. Bind off rem sts.",
    "Cast off 8 sts at beg of next 6 rows.\nWork 8 rows in rib on rem 28 sts. Cast off in rib.",
    "Bind off 8 sts at beg of next 2 rows, then bind off 8 sts at beg of following 4 rows. Fasten off rem 28 sts.",
    "Cast off 8 sts at beg of 1st, 2nd, 3rd and 4th rows, and 8 sts at beg of 5th and 6th rows. Cast off rem 28 sts.",
]

# 24 sts: 8 sts three times at the armhole edge.
ONE_EDGE = [
    "Bind off 8 sts at armhole edge, finish row. Work 1 row. Bind off 8 sts at same edge, finish row. Work 1 row. "
    "Bind off remaining 8 sts.",
    "At beginning of next row bind off 8 sts, finish row. Purl 1 row. Bind off 8 sts at beginning of next row, "
    "purl 1 row. Bind off remaining 8 sts.",
    "At armhole edge bind off 8 sts and finish row. Work back. Bind off 8 sts and finish row. Work back. "
    "Bind off the 8 sts which are left.",
    "Next row: Cast off 8 sts at armhole edge, k to end. Work 1 row. Cast off 8 sts at armhole edge. Work 1 row. "
    "Cast off rem 8 sts.",
    "1st Row. Bind off 8 sts, k to end.\n2nd Row. P.\n3rd Row. As 1st.\n4th Row. P.\nBind off rem 8 sts.",
    "At armhole edge cast off 8 sts every 2nd row twice, and on the 2nd row thereafter the remaining 8 sts.",
    "Cast off 8 sts at beg of 1st and 3rd rows. Work the 4th row plain, then cast off the 8 sts which remain.",
    "Cast off 8 sts at beg of 1st row, 8 sts at beg of 3rd row and rem 8 sts at beg of 5th row.",
    "On these sts (24), cast off 8 at beg of the 1st and 3rd rows, and the rem 8 at beg of the 5th row.",
    "At armhole edge BO 8 sts every other row 3 times.",
    "BO 8 sts at armhole edge every other row 3 times.",
    "BO from armhole edge 8 sts every other row 3 times.",
    "Beg at armhole edge, BO 8 sts every RS row 3 times.",
    "BO 8 sts at beg of next 3 RS rows.",
    "BO 8 sts at beg of every RS row 3 times.",
    "Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.",
    "Cast off 8 sts at beg of next row and foll 2 alt rows.",
    "Cast off 8 sts at beg of next row. Work 1 row. Cast off 8 sts at beg of next row. Work 1 row. Cast off rem 8 sts.",
    "Cast off 8 sts at beg of next row, 8 sts at beg of foll alt row and 8 sts at beg of foll alt row.",
    "Next row (RS): BO 8 sts, k to end. P 1 row. Rep last 2 rows once more. BO rem 8 sts.",
    "Row 1 (RS): BO 8 sts, k to end. Row 2: Purl. Rows 3 and 4: Rep Rows 1 and 2. Row 5: BO rem 8 sts.",
    "At shoulder edge, cast off 8 sts on next row and foll alt row. Work 1 row. Cast off.",
    "Bind off 8 sts at arm edge every second row three times.",
    "At arm edge bind off 8 sts every other row twice, work 1 row, bind off rem 8 sts.",
    "Cast off 8 sts at beg of next row. Work 1 row. Rep last 2 rows once. Cast off rem 8 sts.",
    "Next and foll alt row: Cast off 8 sts, K to end. Next row: P. Cast off rem 8 sts.",
    "Cast off 8 sts at armhole edge on next and foll 2 alt rows.",
    "Cast off at armhole edge 8 sts on next and foll alt row. Work 1 row. Cast off rem 8 sts.",
    "Shape shoulder: BO 8 sts at beg of next RS row, then 8 sts at beg of foll 2 RS rows.",
    "On every alt row cast off at shoulder edge 8 sts 3 times.",
    "Cast off 8 sts at beg of next row and at the same edge on foll 2 alt rows.",
    "BO 8 sts at shoulder edge 3 times.",
    "BO 8 sts at arm edge every other row twice, then bind off last 8 sts on next row that begins at arm edge.",
    "BO 8 sts on next row that begins at the armhole edge, 8 sts on the next row which starts at the armhole edge, "
    "then 8 sts on the foll row beginning at armhole edge.",
    "BO 8 sts on every row that begins at arm edge 3 times.",
]


def steps(text: str) -> list[list[int]]:
    """Return the steps at each edge of the one passage, which must be rewritten."""
    report = rewrite(text)
    (passage,) = report.passages
    assert passage.status == "rewritten", (passage.reason, report.diagnostics)
    assert passage.verification.result in ("same", "within-one-row")
    return [[step[0] for step in edge.steps] for edge in passage.edges]


@pytest.mark.parametrize("words", TWO_EDGES)
def test_two_edges(words: str) -> None:
    assert steps(f"{BACK}{words}\n") == [[8, 8, 8], [8, 8, 8]]


@pytest.mark.parametrize("words", ONE_EDGE)
def test_one_edge(words: str) -> None:
    assert steps(f"{FRONT}{words}\n") == [[8, 8, 8]]


@pytest.mark.parametrize(
    "words",
    [
        "BO 8 sts at beg of next 2 RS rows and next 2 WS rows.",
        "Cast off 8 sts at beg of next 4 rows.\n5th to 8th rows: Knit as you like, row by row.",
        "Cast off 8 sts, 8 sts, 8 sts at beg of next 6 rows.",
        "Cast off 8 sts at beg of next few rows. Cast off.",
    ],
)
def test_what_can_be_read_in_two_ways_is_not_rewritten(words: str) -> None:
    text = f"{BACK}{words}\n"
    report = rewrite(text)
    assert report.output == text
    assert "rewritten" not in {p.status for p in report.passages}


@pytest.mark.parametrize(
    "last",
    ["on next row that begins at arm edge", "at beg of the next row which starts at the arm edge"],
)
def test_a_row_named_by_the_edge_where_it_begins_is_every_other_one(last: str) -> None:
    report = rewrite(
        f"{FRONT}BO 8 sts at arm edge every other row twice, then last 8 sts {last}.\n"
    )
    (passage,) = report.passages
    assert passage.verification.result == "same"
    assert not [d for d in report.diagnostics if d.code == "last-step-at-once"]


@pytest.mark.parametrize("unit", ["sts", "stitches", "loops"])
def test_a_list_with_blanks_around_its_brackets_goes_on_to_its_unit(unit: str) -> None:
    text = (
        "Sizes: S (M) L\nBACK\nWork in st st until armholes measure 20 cm, ending with a WS row.\n"
        f"Shape shoulders\nCast off 8 (8) 9 {unit} at beg of next 4 rows.\n"
        f"Cast off rem 20 (22) 24 {unit}.\n"
    )
    (found,) = rewrite(text).passages
    assert found.status == "rewritten"
    assert found.edges[0].steps == ((8, 8, 9), (8, 8, 9))
