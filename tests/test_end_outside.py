"""A second side told from sign to sign, where the signs end among the steps of the shoulder."""

from __future__ import annotations

import pytest

from tests.onepassage import passage, revised

FRONT = (
    "FRONT\nNext row: Knit 39, turn.\n** Dec one st at neck edge in next and foll 4th rows until 22 sts rem."
    "\nWork until armhole measures same as Back to shoulder, {end}.\nShape shoulder\nCast off 7 sts beg next "
    "row and foll alt row. **\nWork 1 row. Cast off rem 8 sts.\nSlip next st at centre on to a safety pin, "
    "join yarn to rem sts and knit to end.\n"
)
AT_EDGE = FRONT.format(end="ending at armhole edge")


@pytest.mark.parametrize(
    ("told", "becomes"),
    [
        ("Rep from ** to **, then work 1 row. Cast off rem sts.", "Rep from ** to **."),
        ("Rep from ** to ** , then work 1 row. Cast off rem 8 sts.", "Rep from ** to **."),
        ("Work from ** to **. Work 1 row. Cast off rem 8 sts.", "Work from ** to **."),
        (
            "Repeat from ** to **, work one row, then cast off the remaining 8 sts.",
            "Repeat from ** to **.",
        ),
        (
            "Complete as for first side from ** to **, then p 1 row. Cast off rem 8 sts.",
            "Complete as for first side from ** to **.",
        ),
    ],
)
def test_both_sides_are_put_right_together(told: str, becomes: str) -> None:
    report = revised(AT_EDGE + told)
    (found,) = report.passages
    assert found.status == "rewritten", found.reason
    assert [n for row in found.edges[0].steps for n in row] == [7, 7, 8]
    assert report.output.rstrip().endswith(f"knit to end.\n{becomes}")
    assert report.output.count("**") == 4
    assert "Cast off all 22 sts. **" in report.output
    assert "ending at neck edge" in report.output
    assert "(RS)" not in report.output


@pytest.mark.parametrize(
    "told",
    [
        "Rep from ** to **. Cast off rem sts.",
        "Rep from ** to **, then work 2 rows. Cast off rem sts.",
        "Rep from ** to **, reversing all shapings, then work 1 row and cast off rem sts.",
        "Rep from ** to **.",
    ],
)
def test_a_side_that_ends_otherwise_is_asked_about(told: str) -> None:
    report = revised(AT_EDGE + told)
    assert report.passages[0].status == "question"
    assert report.output.rstrip().endswith(told)


def test_a_lead_in_that_names_a_side_is_not_true_of_both() -> None:
    told = "Rep from ** to **, then work 1 row. Cast off rem sts."
    assert passage(FRONT.format(end="ending with a WS row") + told).status == "question"


def test_sts_bound_off_before_the_armhole_in_the_dividing_row_are_no_step() -> None:
    text = (
        "FRONT\nNext row: Cast off 6 sts, knit until there are 33 sts on right-hand needle, turn.\nDec one "
        "st at armhole edge in next and alt rows 5 times, at same time dec one st at neck edge in foll "
        "4th rows until 22 sts rem.\nWork until armhole measures 20 cm, ending at armhole edge.\n"
        "Shape shoulder\nCast off 7 sts beg next row and foll alt row. Work 1 row. Cast off rem 8 sts."
    )
    assert passage(text).status == "rewritten"


def test_signs_around_the_whole_shoulder_stay_where_they_are() -> None:
    text = AT_EDGE.replace(
        " **\nWork 1 row. Cast off rem 8 sts.", " Work 1 row. Cast off rem 8 sts.**"
    )
    told = "Rep from ** to **, working one row more before shoulder shaping."
    report = revised(text + told)
    assert report.passages[0].status == "rewritten", report.passages[0].reason
    assert report.output.rstrip().endswith(told)
    assert report.output.count("**") == 4
