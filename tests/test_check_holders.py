"""Checking backs whose shoulders are parked: which sts a holder takes, in the words of many hands."""

from __future__ import annotations

import pytest

from rewriter import check
from rewriter.comparison import Comparison
from tests.checktools import errors

STEPPED = """BACK
Work even in st st until armhole measures 8 in, ending with a WS row. 88 sts.
Shape shoulders
BO 7 sts at beg of next 4 rows, then 8 sts at beg of next 2 rows. BO rem 44 sts.
Sew shoulder seams.
"""
SHORT = """BACK
Work even in st st until armhole measures 8 in, ending with a RS row. 88 sts.
Shape shoulders
Row 1 (WS): P to last 7 sts, w&t. Row 2: K to last 7 sts, w&t.
Row 3: P to last 14 sts, w&t. Row 4: K to last 14 sts, w&t.
Row 5 (WS): P to end, picking up wraps.
"""
CLOSED = "Row 6 (RS): K to end, picking up wraps.\n"
JOIN = "\nJoin shoulder seams with a three-needle bind-off.\n"


def _checked(ending: str, closed: str = CLOSED, join: str = JOIN) -> Comparison:
    return check(STEPPED, SHORT + closed + ending + join)


AT_BOTH_ENDS = [
    "Put the first and last 22 sts on holders. Rejoin yarn and BO the center 44 sts for back neck.",
    "Leave the 22 sts of each shoulder on holders and BO the center 44 sts.",
    "Slip 22 sts at each side to holders and BO 44 sts between them.",
    "Place 22 sts on a holder for left shoulder, BO 44 sts for back neck, place rem 22 sts on a holder "
    "for right shoulder.",
    "Slip first 22 sts onto a holder, rejoin yarn, BO 44 sts, slip rem 22 sts onto another holder.",
    "Place first 22 sts on holder. Rejoin yarn and BO next 44 sts. Place last 22 sts on holder.",
]


@pytest.mark.parametrize("ending", AT_BOTH_ENDS)
def test_both_ends_of_the_needle_are_parked(ending: str) -> None:
    found = _checked(ending)
    assert not errors(found), errors(found)
    assert found.result == "same"


@pytest.mark.parametrize("ending", AT_BOTH_ENDS)
def test_too_few_sts_parked_are_found(ending: str) -> None:
    found = _checked(ending.replace("22 sts", "20 sts"))
    assert found.result == "differs"
    assert any("24 sts are on" in e or "4 sts still ahead" in e for e in errors(found)), errors(
        found
    )


IN_THE_ROW = [
    "Next row (WS): P22 and leave on a holder, BO 44 sts, p to end and leave these 22 sts on a holder.",
    "Next row (WS): P22 and place these sts on a holder, BO 44 sts for back neck, p to end and place "
    "these sts on a holder.",
    "Next row (WS): P22, BO 44 sts, p to end. Place both sets of 22 shoulder sts on holders.",
    "Next row (WS): P22, put them on a spare needle, BO next 44 sts, p to end. Leave rem 22 sts on a "
    "spare needle.",
]


@pytest.mark.parametrize("ending", IN_THE_ROW)
def test_a_shoulder_is_parked_within_a_row(ending: str) -> None:
    """The sums hold; what is told is that the other shoulder is worked once more than it may be."""
    found = _checked(ending)
    assert [(f.code, f.message) for f in found.findings if f.severity == "error"] == [
        ("rows-differ", "the right shoulder (RS facing): every column is 2 rows taller")
    ]


def test_what_stays_live_is_told_in_parts() -> None:
    ending = (
        "Break yarn and leave all sts on the needle: 22 sts for each shoulder and 44 sts for neck."
    )
    assert _checked(ending).result == "same"
    assert any("88 sts" in e for e in errors(_checked(ending.replace("44", "46"))))


def test_the_neck_is_parked_between_two_bind_offs() -> None:
    ending = "BO 22 sts, place next 44 sts on a holder, rejoin yarn and BO rem 22 sts."
    found = _checked(ending, join="\nSew shoulder seams.\n")
    assert not errors(found), errors(found)
    assert [f.code for f in found.findings if f.severity == "warning"] == ["neck-held"]
    wrong = _checked(ending.replace("next 44", "next 42"), join="\nSew shoulder seams.\n")
    assert any("some are bound off and some kept live" in e for e in errors(wrong)), errors(wrong)


@pytest.mark.parametrize(
    "ending",
    [
        "Place the sts of one shoulder on a holder. Rejoin yarn and BO 44 sts.",
        "Place last 22 sts on a holder. BO 44 sts, k to end.",
    ],
)
def test_a_holder_that_is_not_told_surely_is_not_summed(ending: str) -> None:
    found = _checked(ending)
    assert found.result == "not-compared"
    assert {f.code for f in found.findings if f.severity == "error"} == {"not-understood"}


SWEEPS = (
    "Next row (WS): P to end, picking up wraps.\nNext row (RS): BO 22 sts, k to end, picking up wraps.\n"
    "Next row (WS): BO 22 sts, p to end.\nBO rem 44 sts.\nSew shoulder seams.\n"
)


def _run(words: str) -> Comparison:
    lead = SHORT.split("Row 1")[0]
    return check(STEPPED, lead + words + "\n" + SWEEPS)


@pytest.mark.parametrize(
    "words",
    [
        "Beginning with a WS row, work 4 short rows, leaving {n} more sts unworked at the end of each.",
        "Beginning with a WS row, work 4 short rows, leaving {n} more sts unworked at each side each time.",
        "Work the next 4 rows as short rows, leaving a further {n} sts unworked at the end of each row.",
    ],
)
def test_short_rows_told_in_one_sentence(words: str) -> None:
    assert _run(words.format(n=7)).result == "same"
    assert any(
        "leaves 8 sts unworked, the steps give 7" in e for e in errors(_run(words.format(n=8)))
    )


@pytest.mark.parametrize(
    "words",
    [
        "Work 7 fewer sts at the end of each of the next 4 rows (first row is a WS row), turning each "
        "time with w&t.",
        "Working in short rows, leave 7 sts unworked at end of next 4 rows.",
        "Work short rows over next 4 rows, working 7 sts fewer at end of each row.",
        "Work 4 more short rows, each 7 sts shorter.",
    ],
)
def test_turns_told_in_other_words_are_not_judged(words: str) -> None:
    assert _run(words).result == "not-compared"


def test_short_rows_at_one_edge_are_not_read_as_at_both() -> None:
    front = "LEFT FRONT\nWork even in st st until armhole measures 8 in, ending with a {} row. 22 sts.\n"
    steps = (
        "Shape shoulder\nBO 7 sts at beg of next row and foll RS row. Work 1 row. BO rem 8 sts.\n"
    )
    short = (
        "Shape shoulder\nBeginning with a WS row, work 4 short rows, leaving 7 more sts unworked at the "
        "end of each of them. P to end, picking up wraps. BO all 22 sts.\n"
    )
    assert check(front.format("WS") + steps, front.format("RS") + short).result == "not-compared"
