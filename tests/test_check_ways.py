"""Checking short rows in the many ways in which knitters tell them, and a number that is off in each."""

from __future__ import annotations

import pytest
import regex

from rewriter import check
from rewriter.comparison import Comparison
from tests.checktools import errors

BACK = (
    "BACK\nWork even in st st until armhole measures 8 in, ending with a {side} row. 88 sts.\n"
    "Shape shoulders\n"
)
STEPS = "BO 7 sts at beg of next 4 rows, then 8 sts at beg of next 2 rows. BO rem 44 sts.\n"
SWEEPS = "BO 22 sts at beg of next 2 rows.\nBO rem 44 sts."
FRONT = (
    "LEFT FRONT\nWork even in st st until armhole measures 8 in, ending with a {side} row. 22 sts.\n"
    "Shape shoulder\n"
)
FRONT_STEPS = "BO 7 sts at beg of next row and foll alt row. Work 1 row. BO rem 8 sts.\n"
ALL = "BO all 22 sts.\n"
BACKS = {
    "sts unworked in brackets": (
        "Row 1 (WS): P 81, turn (7 sts unworked). Row 2 (RS): Sl 1, k 73, turn (7 sts unworked). "
        "Row 3: Sl 1, p 66, turn (14 sts unworked). Row 4: Sl 1, k 59, turn (14 sts unworked). "
        "Row 5: Sl 1, p to end.\n"
    ) + SWEEPS,
    "left-hand needle": (
        "Next row (WS): P until 7 sts rem on LH needle, turn. Next row: K until 7 sts rem on LH "
        "needle, turn. Next row: P until 14 sts rem on LH needle, turn. Next row: K until 14 sts "
        "rem on LH needle, turn. Next row: P across.\n"
    ) + SWEEPS,
    "stopping before the gap": (
        "Row 1: P, stopping 7 sts before end, turn. Row 2: K, stopping 7 sts before end, turn. "
        "Row 3: P, stopping 7 sts before the gap, turn. Row 4: K, stopping 7 sts before the gap, "
        "turn. Row 5: P across, closing all gaps.\n"
    ) + SWEEPS,
    "all but": (
        "Row 1 (WS): P all but last 7 sts, w&t. Row 2: K all but last 7 sts, w&t. Row 3: P all "
        "but last 14 sts, w&t. Row 4: K all but last 14 sts, w&t. Row 5: P all sts, hiding "
        "wraps.\n"
    ) + SWEEPS,
    "leaving the last": (
        "Next row: P to end leaving last 7 sts unworked, turn. Next row: K to end leaving last 7 "
        "sts unworked, turn. Next row: P to end leaving last 14 sts unworked, turn. Next row: K "
        "to end leaving last 14 sts unworked, turn. Next row: P to end.\n"
    ) + SWEEPS,
    "as rows, but to before": (
        "Row 1 (WS): P to last 7 sts, w&t.\nRow 2 (RS): K to last 7 sts, w&t.\nRows 3 and 4: As "
        "rows 1 and 2, but working to 7 sts before the wrapped st, w&t.\nRow 5: P to end, picking "
        "up wraps.\n"
    ) + SWEEPS,
    "rep, leaving further": (
        "Row 1 (WS): P to last 7 sts, w&t.\nRow 2 (RS): K to last 7 sts, w&t.\nRep rows 1 and 2 "
        "once, leaving 7 further sts unworked each time.\nRow 5: P to end, picking up wraps.\n"
    ) + SWEEPS,
    "rep, stopping before": (
        "Row 1 (WS): P to last 7 sts, w&t.\nRow 2 (RS): K to last 7 sts, w&t.\nRep last 2 rows "
        "once more, stopping 7 sts before the previous wrap each time.\nRow 5: P to end, picking "
        "up wraps.\n"
    ) + SWEEPS,
    "introduced": (
        "Work short rows:\nRow 1 (WS): P81, w&t.\nRow 2: K74, w&t.\nRow 3: P67, w&t.\nRow 4: K60, "
        "w&t.\nRow 5: P to end, knitting in wraps.\n"
    ) + SWEEPS,
    "lines": (
        "P to last 7 sts, wrap next st, turn.\nK to last 7 sts, wrap next st, turn.\nP to last 14 "
        "sts, wrap next st, turn.\nK to last 14 sts, wrap next st, turn.\nP to end, working wraps "
        "together with wrapped sts.\n"
    ) + SWEEPS,
    "make a double stitch": (
        "Short Row 1 (WS): Purl to last 7 sts, turn.\nShort Row 2 (RS): Make a double stitch, "
        "knit to last 7 sts, turn.\nShort Row 3: Make a double stitch, purl to 6 sts before the "
        "double stitch, turn.\nShort Row 4: Make a double stitch, knit to 6 sts before the double "
        "stitch, turn.\nRow 5: Make a double stitch, purl to end, working double stitches as "
        "single stitches.\n"
    ) + SWEEPS,
    "counting the double st": (
        "Short Row 1 (WS): Purl to last 7 sts, turn.\nShort Row 2 (RS): MDS, knit to last 7 sts, "
        "turn.\nShort Row 3: MDS, purl until 14 sts remain (counting the DS as 1 st), turn.\nShort "
        "Row 4: MDS, knit until 14 sts remain (counting the DS as 1 st), turn.\nRow 5: MDS, purl "
        "to end, resolving DS.\n"
    ) + SWEEPS,
    "treating": (
        "Row 1: P to last 7 sts, turn. Row 2: DS, k to last 7 sts, turn. Row 3: DS, p to last 14 "
        "sts, turn. Row 4: DS, k to last 14 sts, turn. Row 5: DS, p to end, treating each DS as "
        "1 st.\n"
    ) + SWEEPS,
    "marker on yarn": (
        "Row 1: P to last 7 sts, turn. Row 2: Place marker on yarn, sl 1, k to last 7 sts, turn. "
        "Row 3: Place marker on yarn, sl 1, p to last 14 sts, turn. Row 4: Place marker on yarn, "
        "sl 1, k to last 14 sts, turn. Row 5: Place marker on yarn, sl 1, p to end, picking up "
        "the marked loops.\n"
    ) + SWEEPS,
    "yarn-over behind the turn": (
        "Row 1: P to last 7 sts, turn, yo. Row 2: K to last 7 sts, turn, yo. Row 3: P to last 14 "
        "sts, turn, yo. Row 4: K to last 14 sts, turn, yo. Row 5: P to end, working each yo tog "
        "with next st.\n"
    ) + SWEEPS,
    "shadow wrap": (
        "Row 1: P to last 7 sts, shadow wrap, turn. Row 2: K to last 7 sts, shadow wrap, turn. "
        "Row 3: P to 7 sts before shadow wrap, shadow wrap, turn. Row 4: K to 7 sts before "
        "shadow wrap, shadow wrap, turn. Row 5: P to end, working shadow wraps as one st.\n"
    ) + SWEEPS,
    "markers in two sentences": (
        "Place a marker 7 sts from each end. Place another marker 14 sts from each end. Row 1: P "
        "to outer marker, w&t. Row 2: K to outer marker, w&t. Row 3: P to inner marker, w&t. Row "
        "4: K to inner marker, w&t. Row 5: P to end, removing markers and picking up wraps.\n"
    ) + SWEEPS,
    "sides for labels": (
        "WS: P to last 7 sts, w&t.\nRS: K to last 7 sts, w&t.\nWS: P to last 14 sts, w&t.\nRS: K to "
        "last 14 sts, w&t.\nWS: P to end, picking up wraps.\n"
    ) + SWEEPS,
    "items": (
        "- Purl to last 7 sts, W&T.\n- Knit to last 7 sts, W&T.\n- Purl to last 14 sts, W&T.\n- "
        "Knit to last 14 sts, W&T.\n- Purl to end, picking up wraps.\n- BO 22 sts, knit to end, "
        "picking up wraps.\n- BO 22 sts, purl to end.\n- BO rem 44 sts."
    ),
    "numbered short rows": (
        "1st short row: p to within 7 sts of end of row, turn. 2nd short row: sl 1, k to within "
        "7 sts of end of row, turn. 3rd short row: sl 1, p to within 14 sts of end of row, turn. "
        "4th short row: sl 1, k to within 14 sts of end of row, turn. Next row: sl 1, p to end "
        "of row.\n"
    ) + SWEEPS,
    "over": (
        "P over 81 sts, turn. K over 74 sts, turn. P over 67 sts, turn. K over 60 sts, turn. P "
        "to end.\n"
    ) + SWEEPS,
    "closing in many words": (
        "Row 1: P to last 7 sts, w&t. Row 2: K to last 7 sts, w&t. Row 3: P to last 14 sts, w&t. "
        "Row 4: K to last 14 sts, w&t. Row 5: P to end, picking up wraps as you come to them and "
        "purling them together with the stitches they wrap. Row 6: BO 22 sts, k to end, picking "
        "up the remaining wraps. Row 7: BO 22 sts, p to end.\nBO rem 44 sts."
    ),
    "three holders one by one": (
        "Row 1: P to last 7 sts, w&t. Row 2: K to last 7 sts, w&t. Row 3: P to last 14 sts, w&t. "
        "Row 4: K to last 14 sts, w&t. Row 5: P to end, picking up wraps. Row 6: K to end, "
        "picking up wraps. Place first 22 sts on a holder, next 44 sts on a second holder and "
        "last 22 sts on a third holder.\nJoin shoulders with a three-needle bind-off."
    ),
    "three holders at once": (
        "Row 1: P to last 7 sts, w&t. Row 2: K to last 7 sts, w&t. Row 3: P to last 14 sts, w&t. "
        "Row 4: K to last 14 sts, w&t. Row 5: P to end, picking up wraps. Row 6: K to end, "
        "picking up wraps. Slip sts to three holders: 22 for each shoulder and 44 for the "
        "neck.\nJoin shoulders with a three-needle bind-off."
    ),
    "without working them": (
        "P to last 7 sts and turn, without working them. K to last 7 sts and turn. P to last 14 "
        "sts and turn. K to last 14 sts and turn. P the whole row. "
    ) + SWEEPS,
    "leaving first": (
        "Leaving 7 sts more unworked at the end of each row, work 2 short rows at each side. P 1 "
        "row over all sts.\n"
    ) + SWEEPS,
    "leave at end of next rows": (
        "Leave 7 sts unworked at end of next 2 rows, then 7 more sts at end of foll 2 rows. P 1 "
        "row across all sts.\n"
    ) + SWEEPS,
    "next row in one sentence": (
        "Next row: P to last 7 sts, turn; next row: k to last 7 sts, turn; next row: p to last "
        "14 sts, turn; next row: k to last 14 sts, turn; next row: p to end. "
    ) + SWEEPS,
    "cont in this way": (
        "1st row (WS): P to last 7 sts, turn. 2nd row: K to last 7 sts, turn. Cont in this way, "
        "leaving 7 sts more at end of every row until 14 sts are left at each end. Next row: P "
        "to end.\n"
    ) + SWEEPS,
    "repeat on next row": (
        "Work across to last 7 sts, leave these sts unworked and turn; repeat at end of next row. "
        "Work across to within 7 sts of last turning point, turn; repeat on next row. Work "
        "across all sts.\n"
    ) + SWEEPS,
    "the first st slipped": (
        "Purl to the last 7 sts, turn the work. Slip the first st, knit to the last 7 sts, turn "
        "the work. Slip the first st, purl to the last 14 sts, turn the work. Slip the first st, "
        "knit to the last 14 sts, turn the work. Slip the first st and purl the row to its end.\n"
    ) + SWEEPS,
    "row and back": (
        "*P to 7 sts before end, w&t, k to 7 sts before end, w&t; p to 7 sts before last wrap, "
        "w&t, k to 7 sts before last wrap, w&t; p to end, picking up wraps. "
    ) + SWEEPS,
    "numbered items": (
        "1. (WS) P to last 7 sts, w&t.\n2. K to last 7 sts, w&t.\n3. P to last 14 sts, w&t.\n4. K "
        "to last 14 sts, w&t.\n5. P to end, picking up wraps.\n"
    ) + SWEEPS,
}  # fmt: skip
FRONTS = {
    "fewer on each p row": (
        "Next row: P to last 7 sts, w&t. Next row: K to end. Rep last 2 rows once more, working 7 "
        "sts fewer on each p row. Next row: P across all sts, picking up the wraps.\n"
    ) + ALL,
    "sides in brackets": (
        "Work the shoulder in short rows: (WS) p to last 7 sts, turn; (RS) DS, k to end; (WS) p "
        "to last 14 sts, turn; (RS) DS, k to end; (WS) p to end, working each DS as one st.\n"
    ) + ALL,
    "plain": (
        "Row 1 (WS): P to last 7 sts, turn.\nRow 2: K to end.\nRow 3: P to last 14 sts, turn.\nRow "
        "4: K to end.\nRow 5: P to end.\n"
    ) + ALL,
    "k back": (
        "P to last 7 sts, w&t, k back. P to last 14 sts, w&t, k back. P across, picking up "
        "wraps. "
    ) + ALL,
    "go back": (
        "Work to last 7 sts, turn and go back to neck. Work to last 14 sts, turn and go back to "
        "neck. Work 1 row across. "
    ) + ALL,
    "all even rows": (
        "Row 1: P to last 7 sts, w&t.\nRow 2 and all even rows: K to end.\nRow 3: P to 7 sts "
        "before wrapped st, w&t.\nRow 5: P to end, picking up wraps.\n"
    ) + ALL,
    "before last turn": (
        "Row 1: P to last 7 sts, w&t.\nRow 2: K to end.\nRow 3: P to 7 sts before last turn, "
        "w&t.\nRow 4: K to end.\nRow 5: P to end, picking up wraps.\n"
    ) + ALL,
    "sts worked": (
        "Row 1: P15, turn. Row 2: K15. Row 3: P8, turn. Row 4: K8. Row 5: P22.\n"
    ) + ALL,
    "edge named": (
        "Next row: P to last 7 sts at armhole edge, w&t. K 1 row. Next row: P to last 14 sts at "
        "armhole edge, w&t. K 1 row. P 1 row over all sts, picking up wraps. "
    ) + ALL,
    "live": (
        "Row 1: P to last 7 sts, w&t. Row 2: K. Row 3: P to last 14 sts, w&t. Row 4: K. Row 5: P "
        "to end, picking up wraps. Leave these 22 sts on a holder.\nJoin shoulders with a "
        "three-needle bind-off."
    ),
    "double st": (
        "Row 1: P to last 7 sts, turn. Row 2: DS, k to end. Row 3: P to 6 sts before DS, turn. "
        "Row 4: DS, k to end. Row 5: P to end, working DS as one st. "
    ) + ALL,
    "counted, to end": (
        "P 15, turn, k to end, p 8, turn, k to end. P 1 row over all 22 sts. Cast off."
    ),
}  # fmt: skip
WAYS = [
    *(pytest.param(BACK, STEPS, rows, id=f"back, {way}") for way, rows in BACKS.items()),
    *(pytest.param(FRONT, FRONT_STEPS, rows, id=f"front, {way}") for way, rows in FRONTS.items()),
]


def _check(piece: str, steps: str, rows: str) -> Comparison:
    return check(piece.format(side="WS") + steps, piece.format(side="RS") + rows)


@pytest.mark.parametrize(("piece", "steps", "rows"), WAYS)
def test_short_rows_told_in_any_way_are_the_same_fabric(piece: str, steps: str, rows: str) -> None:
    found = _check(piece, steps, rows)
    assert errors(found) == []
    assert found.result == "same"
    (passage,) = found.passages
    assert {tuple(t.unworked for t in e.turns[0]) for e in passage.edges} == {(7, 14)}


_STS = regex.compile(
    r"(?i)(?<=\b(?:last|to|p|k|within|until|purl|knit|working|stopping|leaving|leave|over|bo) ?)\d{1,2}"
    r"(?=\s*(?:sts?\b|,|\.|more|further|\())"
)


@pytest.mark.parametrize(("piece", "steps", "rows"), WAYS)
def test_a_number_off_by_one_is_never_the_same_fabric(piece: str, steps: str, rows: str) -> None:
    for number in _STS.finditer(rows):
        wrong = rows[: number.start()] + str(int(number.group()) + 1) + rows[number.end() :]
        assert _check(piece, steps, wrong).result == "differs", wrong
