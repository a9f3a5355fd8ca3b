"""Steps bound off until nothing is left, at one edge or at each of two straps in work at once."""

from __future__ import annotations

import pytest

from tests.onepassage import passage, steps

FRONT = (
    "LEFT FRONT\nWork in st st until armhole measures 20 cm, ending with a WS row. 21 sts.\n"
    "Shape shoulder\n"
)
STRAPS = (
    "FRONT\nK 21, put center 12 sts on a holder, tie in other yarn and k 21. {both}. At neck edges dec 1 "
    "every K row 6 times, leaving 15 sts for each strap. Work till same length as Back to shoulder.\n"
)


@pytest.mark.parametrize(
    "until",
    [
        "until there are none left",
        "until none remain",
        "until nothing is left",
        "till you run out of sts",
        "until they are all gone",
        "until all the sts are off",
        "until you have none left",
    ],
)
def test_steps_until_none_are_left(until: str) -> None:
    assert steps(f"{FRONT}Bind off 7 sts at armhole edge every other row {until}.") == [7, 7, 7]
    uncounted = FRONT.replace(" 21 sts.", "")
    told = f"{uncounted}Bind off 7 sts at armhole edge every other row {until}."
    assert passage(told).status == "question"


@pytest.mark.parametrize(
    "both",
    [
        "Do both straps at the same time with separate yarn",
        "Work both sides at once, each with its own ball",
    ],
)
@pytest.mark.parametrize("times", ["until there are none left", "3 times"])
def test_each_strap_is_shaped_where_both_are_in_work(both: str, times: str) -> None:
    told = f"Bind off each strap from the armhole edge, 5 sts every other row {times}."
    found = passage(STRAPS.format(both=both) + told)
    assert found.status == "rewritten", found.reason
    assert [[list(s) for s in e.steps] for e in found.edges] == [[[5], [5], [5]]] * 2
