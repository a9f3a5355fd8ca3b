"""Both sides of a neck in work at once with two balls: told row by row, or by their edges."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import PassageReport, Report

DRAFT = """BACK
Cast on {total} sts. Work in st st until armholes measure 8 ins, ending with a WS row. {total} sts.
Shape shoulders and neck
Bind off 8 sts at beg of next 2 rows.
Next row (RS): Bind off 8 sts, k until there are {until} sts on right needle, join a second ball of yarn and
bind off center 10 sts, k to end.
{then}
"""


def reworked(until: int, then: str) -> Report:
    total = 2 * (16 + until) + 10
    return rewrite(DRAFT.format(total=total, until=until, then=then), Options(markers=False))


def back(report: Report) -> PassageReport:
    (found,) = report.passages
    return found


@pytest.mark.parametrize(
    "then",
    [
        "Working both sides at once, bind off 8 sts at beg of next row, then bind off 7 sts from each "
        "shoulder edge twice, at the same time bind off 5 sts from each neck edge once.",
        "Working both sides at once, bind off 8 sts at beg of next row, then bind off 5 sts at each neck "
        "edge once, AT THE SAME TIME, bind off 7 sts from each shoulder edge twice.",
        "Working each side with its own ball, bind off 8 sts at beg of next row, then bind off 7 sts at beg "
        "of next 4 rows and at the same time bind off 5 sts from each neck edge once.",
    ],
)
def test_steps_told_by_their_edges_lie_on_the_rows_by_turns(then: str) -> None:
    """Each row begins at the armhole of one side and, with the other ball, at the neck of the other."""
    report = reworked(19, then)
    assert [[n for row in e.steps for n in row] for e in back(report).edges] == [[8, 8, 7, 7]] * 2
    assert [e.first_bind_off_side for e in back(report).edges] == ["RS", "WS"]
    words = " ".join(report.output.split())
    # the row of the second side's neck is that of the first side's third step
    assert (
        "Next row (RS): DS, k to neck edge; on other side, bind off 5 sts at neck edge, k to"
        in words
    )
    assert words.count("bind off 5 sts at neck edge") == 2


def test_sts_at_the_neck_that_would_stay_behind_the_last_step_are_asked_about() -> None:
    then = (
        "Working both sides at once, bind off 8 sts at beg of next row, then bind off 3 sts from each neck "
        "edge once, at the same time bind off 8 sts from each shoulder edge once."
    )
    report = reworked(11, then)
    assert back(report).status == "question"
    assert "turn." not in report.output


@pytest.mark.parametrize("other", ["with other ball ", "on other side ", ""])
def test_the_other_side_begins_where_sts_are_bound_off_again(other: str) -> None:
    """A side has one bind-off a row, so a second one in the row is the other side's."""
    then = f"""Next row: Bind off 8 sts, p to neck edge; {other}bind off 5 sts, p to end.
Next row: Bind off 9 sts; {other}bind off 5 sts, k to end.
Next row: Bind off 9 sts."""
    report = reworked(14, then)
    assert [[n for row in e.steps for n in row] for e in back(report).edges] == [[8, 8, 9]] * 2


def test_sts_bound_off_for_the_neck_behind_one_shoulder_are_no_step_of_it() -> None:
    draft = """BACK
Cast on 52 sts. Work in st st until armholes measure 5 ins., ending with a p. row. 52 sts.
Shape right shoulder
Cast off 5 sts. at beg. of next row and of the foll. alternate row; p. 1 row; cast off 6 sts., k. to end: 36
sts. P. 1 row.
Next row: Cast off 20 sts. for the neck, k. to end.
On the 16 sts. left work 7 rows k. 1, p. 1 rib. Cast off in rib.
"""
    (found,) = rewrite(draft).passages
    assert [n for row in found.edges[0].steps for n in row] == [5, 5, 6]
    assert found.status == "rewritten"
