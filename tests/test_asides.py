"""What is said by the way of a step, and a row with the row back told in one sentence."""

from __future__ import annotations

import pytest

from rewriter.purposes import purpose_pattern
from rewriter.regex import compile_new
from tests.onepassage import passage, revised, steps

BACK = "BACK\nWork until armhole measures 20 cm.\nShape shoulders\nCast off 8 sts at beg of next 4 rows. "
SIDE = (
    "FRONT\nNext row: Knit 18, cast off the middle 12 sts, knit to the end. Go on over these last 18 sts "
    "only, the others wait on a holder.\nDec 1 st at neck edge on every other row 4 times. 14 sts are left."
    "\nWork in garter st till as long as the back, finishing at the side edge.\nShape shoulder\n"
)


@pytest.mark.parametrize(
    "told",
    [
        "You now have 30 stitches for the back of the neck, cast these off loosely, so that it will go "
        "over a little head.",
        "Cast off rem 30 sts loosely, so it fits over the head.",
        "Cast off the rem 30 sts loosely to allow it to stretch.",
        "Cast off rem 30 sts as the neck must stretch.",
        "Cast off rem 30 sts, not too tightly, because it has to go over the head.",
        "30 sts are left for the neck; cast them off loosely so as not to pull in the neck.",
        "There are 30 sts over for the neck. Cast these off, but not tightly: it has to go over a head.",
        "Leave rem 30 sts on a holder, so that you can pick them up for the collar.",
    ],
)
def test_what_a_step_is_good_for_changes_no_row(told: str) -> None:
    assert steps(BACK + told) == [8, 8]
    assert told.rsplit(". ", 1)[-1] in revised(BACK + told).output


def test_a_clause_that_tells_what_to_knit_is_no_aside() -> None:
    pattern = compile_new(purpose_pattern())
    for clause in (
        "so that you have 30 sts left",
        "so that the right side is facing",
        "so that it slopes at both edges",
        "because it is knitted double",
        "so that the edge is bound off",
        "as it is worked in rows",
        "to keep the neck straight until the end",
        "so that you end at the outer edge",
        "so that you finish at the side edge",
        "so that the outside is facing",
        "so as to decrease again at the neckline",
        "so that there is a plain course in between",
        "so that you do that thrice",
        "so that they are doubled",
        ": you will decrease at the neckline too",
    ):
        assert pattern.search(clause) is None, clause
    told = "BACK\nShape shoulders\nCast off 8 sts at beg of next 4 rows, so that it slopes at both edges."
    assert passage(f"{told} Cast off rem 30 sts.").status == "question"


@pytest.mark.parametrize(
    "told",
    [
        "Cast off 7 stitches, knit to the end of the row, knit back to the side. Cast off the other 7 "
        "stitches.",
        "Cast off 7 stitches, knit along to the neck edge and back again. Cast off the remaining 7.",
        "Cast off 7 stitches and finish the row, then knit a row. Cast off the last 7.",
        "Cast off 7 sts, knit on to the end and back, cast off the remaining 7 sts.",
        "Cast off 7 sts, knit to the neck and back to the side edge; cast off the remaining 7 sts.",
        "Cast off 7 sts, knit there and back, cast off the 7 sts still on the needle.",
    ],
)
def test_a_row_and_the_row_back_in_one_sentence(told: str) -> None:
    assert steps(SIDE + told) == [7, 7]


def test_a_lead_in_of_a_length_alone_stands_right_before_the_shoulder() -> None:
    text = (
        "BACK\nCast on 62 sts. Knit every row until the work is 15 cm long. Put a thread at both ends of the "
        "row. Knit another 11 cm.\nNow for the shoulders. Cast off 8 sts at beg of next 4 rows. Cast off "
        "rem 30 sts."
    )
    assert steps(text) == [8, 8]


@pytest.mark.parametrize("end", ["ending at the armhole", "finishing at armhole", "ending at side"])
def test_a_lead_in_that_ends_at_the_armhole_ends_at_the_neck(end: str) -> None:
    text = (
        f"FRONT\nWork straight to same length as back, {end}.\nShape shoulder\n"
        "At armhole edge cast off 7 sts on next and foll alt row. Fasten off."
    )
    output = revised(text).output
    assert end not in output
    assert f"{end.rsplit(' ', 1)[0]} neck" in output


@pytest.mark.parametrize(
    "told",
    [
        "Knit the right front the same, the other way about.",
        "Knit the right front like the left but reversed.",
        "Work right front the same as the left, but backwards.",
    ],
)
def test_a_piece_told_the_other_way_about_hears_which_rows_turn(told: str) -> None:
    text = (
        "LEFT FRONT\nWork in st st until armhole measures 20 cm, ending with a WS row.\nShape shoulder\n"
        "Cast off 7 sts at beg of next and foll alt row. Work 1 row. Cast off rem 7 sts.\n\n"
        f"RIGHT FRONT\n{told}"
    )
    assert f"{told} On this" in revised(text).output


def test_a_piece_with_steps_of_its_own_is_not_told_them_again() -> None:
    text = (
        "LEFT FRONT\nWork in st st until armhole measures 20 cm, ending with a WS row.\nShape shoulder\n"
        "Cast off 7 sts at beg of next and foll alt row. Work 1 row. Cast off rem 7 sts.\n\n"
        "RIGHT FRONT\nWork to correspond to left front, ending with a RS row.\nShape shoulder\n"
        "Cast off 7 sts at beg of next and foll alt row. Work 1 row. Cast off rem 7 sts."
    )
    output = revised(text).output
    assert output.count("DS, ") >= 4
    assert "On this" not in output
