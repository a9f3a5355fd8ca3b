"""What the checks share: rows of a stepped or sloped shoulder, and the rows per group of columns.

Row 0 is the row of the first bind-off, lists of rows begin with row -1. Heights count the rows
worked from row -1 on, so a group bound off at the beginning of row 0 has height 1. Groups of a
one-edged shoulder stand from the armhole inward, those of a two-edged piece from the right-hand
edge as seen with the right side facing. That RS rows begin at the right-hand edge is common
practice for flat knitting.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rewriter.fabric import Fabric, knit
from rewriter.report import EdgeReport, PassageReport, Report
from rewriter.rows import PLAIN, TURN, WORK_ALL, Act, Edge, Kind, Row, bind_off, leave
from rewriter.twin import Steps

HOLD_ALL = Row((Act(Kind.HOLD),))

Turned = tuple[int, str | None, int]
"""Row, side and unworked sts of a turn."""


def stepped_one_edge(steps: Sequence[int]) -> list[Row]:
    """Rows that bind a shoulder off in steps, two rows apart, at one edge."""
    rows: list[Row] = []
    for sts in steps:
        rows += [PLAIN, Row((bind_off(sts), WORK_ALL))]
    return rows


def stepped_two_edges(steps: Sequence[int], neck: int) -> list[Row]:
    """Rows that bind both shoulders off in the same steps, and then the neck."""
    rows = [PLAIN]
    for sts in steps:
        rows += [Row((bind_off(sts), WORK_ALL))] * 2
    return [*rows, Row((bind_off(neck),))]


def short_rows(turns: Mapping[int, int], end: int) -> list[Row]:
    """Rows -1 … end - 1: a turn with the given sts unworked, else worked to the end."""
    return [Row((leave(turns[row]), TURN)) if row in turns else PLAIN for row in range(-1, end)]


def hold_from_yarn(sts: int) -> Row:
    """Put sts on a holder from where the yarn is; the next row rejoins it beside them."""
    return Row((Act(Kind.HOLD, sts),))


def by_group(fabric: Fabric, groups: Sequence[int]) -> list[int]:
    """Return the height of each group of columns from the right-hand edge; all of it must agree."""
    heights: list[int] = []
    first = 0
    for sts in groups:
        found = {height for _, height, _ in fabric.at(first, sts)}
        assert len(found) == 1, f"columns {first} to {first + sts - 1} have heights {found}"
        heights.append(found.pop())
        first += sts
    assert sum(run.count for run in fabric.runs) == first
    return heights


def knit_two_edges(rows: Sequence[Row], steps: Sequence[int], neck: int) -> list[int]:
    """Knit a two-edged piece whose row -1 is a WS row; heights of its groups."""
    groups = [*steps, neck, *reversed(steps)]
    return by_group(knit(sum(groups), rows, "left"), groups)


def knit_one_edge(rows: Sequence[Row], steps: Sequence[int], armhole: Edge) -> list[int]:
    """Knit a one-edged shoulder whose row -1 runs towards its armhole; heights from there."""
    if armhole == "right":
        return by_group(knit(sum(steps), rows, "left"), steps)
    return by_group(knit(sum(steps), rows, "right"), list(reversed(steps)))[::-1]


def live_counts(stitches: int, rows: Sequence[Row], first: Edge) -> list[int]:
    """Return how many sts are on the needle after each row."""
    counts: list[int] = []
    for end in range(1, len(rows) + 1):
        runs = knit(stitches, rows[:end], first).runs
        counts.append(sum(run.count for run in runs if run.fate == "on the needle"))
    return counts


def columns(fabric: Fabric) -> list[int]:
    """Return the height of every single column."""
    return [run.height for run in fabric.runs for _ in range(run.count)]


def edges_of_back(steps: Sequence[int]) -> list[Steps]:
    """Steps at both edges of a piece whose first bind-off is on a RS row."""
    k = len(steps)
    return [
        Steps("right", tuple(range(0, 2 * k, 2)), tuple(steps)),
        Steps("left", tuple(range(1, 2 * k, 2)), tuple(steps)),
    ]


# --- what a report tells ----------------------------------------------------------------------


def only_passage(report: Report) -> PassageReport:
    """Return the one passage of a report."""
    assert len(report.passages) == 1, [p.id for p in report.passages]
    return report.passages[0]


def rewritten(report: Report) -> PassageReport:
    """Return the one passage of a report, which must have been rewritten and proven the same."""
    passage = only_passage(report)
    assert (passage.status, passage.reason) == ("rewritten", None)
    assert passage.kind == "shoulder"
    assert passage.verification.result == "same"
    return passage


def steps_of(edge: EdgeReport, size: int = 0) -> list[int]:
    """Return the steps of a size, without those it does not have."""
    return [step[size] for step in edge.steps if step[size]]


def turns_of(edge: EdgeReport, size: int = 0) -> list[Turned]:
    """Return the turns of a size."""
    return [(turn.row, turn.side, turn.unworked) for turn in edge.turns[size]]


def told_rows(passage: PassageReport, size: int = 0) -> list[Row]:
    """Write out the rows of a shoulder bound off in one sweep from the figures of its report.

    Independent of the planner: only turns, sts bound off together and the neck are used.
    """
    turns = {t.row: t.unworked for edge in passage.edges for t in edge.turns[size]}
    last = 2 * len(steps_of(passage.edges[0], size)) - 2
    sweeps = [Row((bind_off(edge.together[size]), WORK_ALL)) for edge in passage.edges]
    neck = [Row((bind_off(passage.neck[size]),))] if passage.neck else []
    return [*short_rows(turns, last), *sweeps, *neck]
