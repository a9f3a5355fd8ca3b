"""Checking turns as people tell them: named by their side, counted from sts worked, told twice."""

from __future__ import annotations

import pytest
import regex

from rewriter import check
from rewriter.comparison import Comparison
from tests.checktools import errors

LEAD = (
    "Sizes 8 (10)\n\nBACK\nWork in st st until armhole measures 20 cm, ending with a {side} row. "
    "[75 (81) sts.]\nShape shoulders\n"
)
STEPS = (
    "Cast off 8 sts at beg of next 4 rows, then 8 (9) sts at beg of foll 2 rows.\n"
    "Cast off rem 27 (31) sts.\n"
)
SWEEPS = (
    "Next row (RS): Cast off 24 (25) sts, k to end.\nNext row: Cast off 24 (25) sts, p to end.\n"
    "Cast off rem 27 (31) sts.\n"
)
WAYS = {
    "turns by their side": (
        "Short row 1 (WS): P to last 8 sts, w&t.\nShort row 2 (RS): K to last 8 sts, w&t.\n"
        "Short row 3 (WS): P to 8 sts before last WS turn, w&t.\n"
        "Short row 4 (RS): K to 8 sts before last RS turn, w&t.\n"
        "Next row (WS): P to end, lifting each wrap and working it with its st.\n"
    ),
    "double sts by the row they were made on": (
        "Row 1 (WS): Purl until 8 sts remain unworked, turn.\n"
        "Row 2 (RS): Make a double stitch, knit until 8 sts remain unworked, turn.\n"
        "Row 3 (WS): Make a double stitch, purl to 7 sts before the double st of the previous WS row, turn.\n"
        "Row 4 (RS): Make a double stitch, knit to 7 sts before the double st of the previous RS row, turn.\n"
        "Row 5 (WS): Make a double stitch, purl to end, purling both legs of each double st together.\n"
    ),
    "a pin on the yarn": (
        "Next row (WS): P to last 8 sts, turn, pin a marker to the yarn, sl 1.\n"
        "Next row (RS): K to last 8 sts, turn, pin a marker to the yarn, sl 1.\n"
        "Next row (WS): P to 7 sts before the last slipped st on this side, turn, pin a marker to the yarn, "
        "sl 1.\n"
        "Next row (RS): K to 7 sts before the last slipped st on this side, turn, pin a marker to the yarn, "
        "sl 1.\n"
        "Next row (WS): P to end, picking up the loop at each pin and purling it together with the next st.\n"
    ),
    "yarn-overs by the row they were made on": (
        "Next row (WS): P to last 8 sts, turn and make a yarn over.\n"
        "Next row (RS): K to last 8 sts, turn and make a yarn over.\n"
        "Next row (WS): P to 8 sts before the yo made on the last WS row, turn and make a yarn over.\n"
        "Next row (RS): K to 8 sts before the yo made on the last RS row, turn and make a yarn over.\n"
        "Next row (WS): P to end, purling each yo together with the st after it.\n"
    ),
    "twin sts": (
        "Next row (WS): P to last 8 sts, make a twin st, turn.\n"
        "Next row (RS): K to last 8 sts, make a twin st, turn.\n"
        "Next row (WS): P to 8 sts before the last twin st on this side, make a twin st, turn.\n"
        "Next row (RS): K to 8 sts before the last twin st on this side, make a twin st, turn.\n"
        "Next row (WS): P to end, working each twin st as one.\n"
    ),
    "markers from the end": (
        "Place a removable marker 8 and 16 sts in from each armhole edge.\n"
        "Next row (WS): P to the first marker from the end, turn.\n"
        "Next row (RS): DS, k to the marker nearest the end, turn.\n"
        "Next row (WS): DS, p to the second marker from the end, turn, removing it.\n"
        "Next row (RS): DS, k to the second marker from the end, turn, removing it.\n"
        "Next row (WS): DS, p to end, each DS as one st.\n"
    ),
    "sts on the left needle": (
        "Next row (WS): P across, leaving 8 sts on left needle, turn.\n"
        "Next row (RS): K across, leaving 8 sts on left needle, turn.\n"
        "Next row (WS): P across, leaving 16 sts on left needle, turn.\n"
        "Next row (RS): K across, leaving 16 sts on left needle, turn.\n"
        "Next row (WS): P all sts.\n"
    ),
    "first sts worked, then from the wrap": (
        "Row 1 (WS): P 67 (73), w&t.\nRow 2 (RS): K 59 (65), w&t.\n"
        "Row 3: P until 8 sts before last wrapped st on this side, w&t.\n"
        "Row 4: K until 8 sts before last wrapped st on this side, w&t.\n"
        "Row 5: P to end, knitting up the wraps as you meet them.\n"
    ),
    "the stitch you wrapped": (
        "Row 1 (WS): Purl to the last 8 sts; wrap the next st and turn.\n"
        "Row 2 (RS): Knit to the last 8 sts; wrap the next st and turn.\n"
        "Row 3: Purl to 8 sts before the stitch you wrapped last time; wrap the next st and turn.\n"
        "Row 4: Knit to 8 sts before the stitch you wrapped last time; wrap the next st and turn.\n"
        "Row 5: Purl to the end, lift every wrap onto the needle and knit it together with its st.\n"
    ),
    "but stop short": (
        "Row 1 (WS): P, but stop 8 sts short of the end and turn.\n"
        "Row 2 (RS): K, but stop 8 sts short of the end and turn.\n"
        "Row 3 (WS): P, but stop 8 sts short of the last turn on this side and turn.\n"
        "Row 4 (RS): K, but stop 8 sts short of the last turn on this side and turn.\n"
        "Row 5 (WS): P over all sts, working wraps with their sts.\n"
    ),
    "in front of the last one": (
        "Short row 1 (WS): Work until 8 sts are left, turn.\n"
        "Short row 2 (RS): DS, work until 8 sts are left, turn.\n"
        "Short rows 3 and 4: DS, work until 7 sts in front of the last DS, turn.\n"
        "Next row (WS): DS, work all sts, DS as one st.\n"
    ),
    "told twice": (
        "Row 1 (WS): P to 8 sts before end, turn, leaving 8 sts.\n"
        "Row 2 (RS): K to 8 sts before end, turn, leaving 8 sts.\n"
        "Row 3 (WS): P to last 16 sts, turn, leaving 16 sts.\n"
        "Row 4 (RS): K to last 16 sts, turn, leaving 16 sts.\n"
        "Row 5 (WS): P to end.\n"
    ),
}  # fmt: skip


def _check(rows: str, sweeps: str = SWEEPS) -> Comparison:
    return check(LEAD.format(side="WS") + STEPS, LEAD.format(side="RS") + rows + sweeps)


@pytest.mark.parametrize("name", WAYS)
def test_turns_are_understood_as_people_tell_them(name: str) -> None:
    found = _check(WAYS[name])
    assert errors(found) == []
    assert found.result == "same"
    (passage,) = found.passages
    assert [[t.unworked for t in e.turns[1]] for e in passage.edges] == [[8, 16], [8, 16]]


_PLACE = regex.compile(r"(?<=\b(?:to|last|until|stop|leaving|P|K) )(?:7|8|16|67|59)(?= )")


@pytest.mark.parametrize("name", WAYS)
def test_a_place_that_is_one_off_is_found(name: str) -> None:
    places = [m.span() for m in _PLACE.finditer(WAYS[name])]
    assert name == "markers from the end" or places
    for start, end in places:
        wrong = WAYS[name][:start] + str(int(WAYS[name][start:end]) - 1) + WAYS[name][end:]
        assert _check(wrong).result in ("differs", "not-compared"), wrong


def test_a_turn_cannot_be_counted_from_one_at_the_other_edge() -> None:
    rows = WAYS["turns by their side"].replace("last WS turn", "last RS turn")
    found = _check(rows)
    assert found.result != "same"
    assert "this WS row cannot come to a turn that was made on a RS row" in errors(found)[0]


def test_shoulders_and_neck_on_a_holder_each() -> None:
    rows = WAYS["turns by their side"] + "Next row (RS): K to end, working each wrap with its st.\n"
    hold = (
        "Put 24 (25) sts at each side on holders for the shoulders and the centre 27 (31) sts "
        "on another.\n"
    )
    assert _check(rows, hold).result == "same"
    wrong = _check(rows, hold.replace("27 (31)", "26 (31)"))
    assert wrong.result == "differs" or errors(wrong)
