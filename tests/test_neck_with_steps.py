"""A neck told for the rows of a shoulder: its centre by a step, its own steps by the rows between."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import Report

BACK = """Sizes: S (M)
BACK
= 78 (84) sts. At 54 (55) cm{side} {steps} at each side{neck}
"""
STEPS = "close off for the shoulders at the beginning of every row 3 times 8 (9) sts"
THEN = " 24 (24) sts {off} for the neck and {apart}, closing off at the neck edge, 2 rows later, 3 sts."


def rewritten(text: str) -> Report:
    return rewrite(text, Options(markers=False))


@pytest.mark.parametrize(
    "when",
    [
        "At the same time, on the row from the right side where the shoulder is closed off for the second "
        "time,",
        "At the same time as the 2nd bind-off for the shoulder,",
        "At the same time, on the row in which the shoulder is closed off for the 2nd time,",
    ],
)
@pytest.mark.parametrize("apart", ["each side is finished by itself", "finish one side at a time"])
def test_the_centre_is_told_by_the_time_of_a_step(when: str, apart: str) -> None:
    side = ", when the last row was from the wrong side,"
    neck = f". {when} the middle" + THEN.format(off="are closed off", apart=apart)
    report = rewritten(BACK.format(side=side, steps=STEPS, neck=neck))
    assert [p.status for p in report.passages] == ["rewritten"]
    edges = report.passages[0].edges
    assert [e.first_bind_off_side for e in edges] == ["RS", "WS"]
    assert [list(row) for row in edges[0].steps] == [[8, 9]] * 3
    # the centre goes in the row of the 2nd step, a RS row: 16 wait at its edge, and 11 are worked to the neck
    assert "(the 16 (18) unworked shoulder sts and 11 (12) more)" in report.output


def test_a_side_that_is_not_known_is_asked_where_the_centre_is_told_by_it() -> None:
    when = "At the same time, on the row from the right side where the shoulder is cast off for the 2nd time,"
    neck = f". {when} the middle" + THEN.format(off="are closed off", apart="finish each side")
    report = rewritten(BACK.format(side="", steps=STEPS, neck=neck))
    assert [q.ask for q in report.questions] == ["first-side"]
    assert report.passages[0].status == "question"


def test_a_heading_of_the_neck_stands_between_the_steps_and_their_centre() -> None:
    side = ", when the last row was from the wrong side,"
    neck = (
        ".\nNeckline : at the same time as the first step of the shoulders, close off the middle"
        + THEN.format(off="", apart="finish each side separately")
    )
    report = rewritten(BACK.format(side=side, steps=STEPS, neck=neck))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert "Neckline" not in report.output


SIDE = """BACK
= 24 sts. Work straight until armhole is 20 cm, ending with a RS row.
{first} cast off for the shoulder from the armhole edge on every 2nd row {times} times 8 sts, \
at the same time cast off 2 sts at the neck edge {where}. {last}
"""
LAST = "Work 1 row. Cast off the last {n} sts."


@pytest.mark.parametrize(
    ("where", "times"),
    [
        ("on the first row from the right side", 2),
        ("on the next RS row", 2),
    ],
)
def test_a_row_at_the_neck_is_told_by_its_side(where: str, times: int) -> None:
    text = SIDE.format(
        first="Now", times=times, where=where, last="Work 1 row. Cast off the last 6 sts."
    )
    report = rewritten(text)
    assert [p.status for p in report.passages] == ["rewritten"], report.diagnostics
    rows = [line for line in report.output.splitlines() if line.startswith("Next row")]
    assert "Cast off 2 sts at the neck edge" in rows[2]


def test_a_row_at_the_neck_that_would_be_a_row_of_a_step_is_left() -> None:
    text = SIDE.format(first="Now", times=2, where="on the first row from the wrong side", last="")
    assert [p.status for p in rewritten(text).passages] != ["rewritten"]


def test_the_row_between_two_steps_is_one_only_where_there_are_two() -> None:
    steps = "8 sts on the next row and 8 sts on the following 2nd row"
    told = (
        "BACK\n= 26 sts. Work straight until armhole is 20 cm, ending with a RS row.\nBind off for the "
        "shoulder {steps}, at the same time binding off 2 sts at the neck on the row between. Work 1 row. "
        "Bind off the last {n} sts.\n"
    )
    report = rewritten(told.format(steps=steps, n=8))
    assert [p.status for p in report.passages] == ["rewritten"], report.diagnostics
    rows = [line for line in report.output.splitlines() if line.startswith("Next row")]
    assert "Bind off 2 sts at neck edge" in rows[2]
    three = (
        "5 sts on the next row, 5 sts on the following 2nd row and 6 sts on the following 2nd row"
    )
    assert [p.status for p in rewritten(told.format(steps=three, n=8)).passages] != ["rewritten"]


@pytest.mark.parametrize("begins", ["Beginning with a WS row,", "Beginning on the next row (WS),"])
def test_a_first_row_named_right_behind_the_row_that_divides_stays_the_first(begins: str) -> None:
    """The dividing row itself takes the first turn, so the row behind it is still a WS row."""
    told = (
        "BACK\n= 78 sts. Knit straight until the armhole measures 19 cm, ending with a WS row.\nNext row "
        "(RS): Knit 26 sts, cast off the middle 26 sts for the neck, knit to end. Continue over the last 26 "
        f"sts: {begins} cast off for the shoulder from the armhole edge on every 2nd row 2 times 8 sts. "
        "Cast off the rem 10 sts on the foll 2nd row.\n"
    )
    report = rewritten(told)
    assert [p.status for p in report.passages] == ["rewritten"]
    words = " ".join(report.output.split())
    assert "cast off the middle 26 sts for the neck, knit to last 8 sts" in words
    assert f"{begins} shape the shoulder: Next row (WS): DS, " in words
