"""The exact short-row twin of stepped rows: one transformation of the rows at an edge.

Rows are counted from row 0, the row of the first bind-off; a list of rows begins with row -1, the
row just before it. For each edge whose steps s_1 ... s_k are bound off at the beginning of rows
r_1 < ... < r_k, every row that ends at that edge from r_1 - 1 on stops with the sts of the steps
still to come on the next rows unworked, the last of them works to the end and closes the turns,
and row r_k binds off all sts in one sweep. Nothing else moves, so every column keeps its height.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter.rows import (
    PLAIN,
    TURN,
    WORK_ALL,
    Act,
    Edge,
    Kind,
    Row,
    bind_off,
    leave,
)


@dataclass(frozen=True, slots=True)
class Steps:
    """The steps bound off at one edge, for one size."""

    edge: Edge
    rows: tuple[int, ...]
    """Row of each step, rising; row 0 is the first bind-off row of the passage."""
    sts: tuple[int, ...]
    """Stitches of each step, from the armhole inward."""

    @property
    def total(self) -> int:
        """Stitches of the whole shoulder."""
        return sum(self.sts)

    def unworked(self, row: int) -> int:
        """Return how many sts wait at the end of `row` (all steps up to the row after it)."""
        return sum(n for r, n in zip(self.rows, self.sts, strict=True) if r <= row + 1)

    def turning_rows(self) -> list[int]:
        """Return the rows that turn at this edge, in order; a place may be turned at again."""
        if len(self.rows) < 2:
            return []
        return list(range(self.rows[0] - 1, self.rows[-1] - 1, 2))


def lengthen_return_row(rows: Sequence[Row], steps: Steps) -> tuple[list[Row], Steps, bool]:
    """Give a last step that is bound off on the return row a row of its own.

    "Cast off 7 sts at beg of next row, work to end. Cast off rem 8 sts" binds the last step off
    from the neck edge, where no exact twin exists: the last step gains one row and so does the
    piece. Returns the rows, the steps and whether a row was added.
    """
    if len(steps.rows) < 2 or (steps.rows[-1] - steps.rows[-2]) % 2 == 0:
        return list(rows), steps, False
    last = steps.rows[-1]
    longer = [*rows[: last + 1], PLAIN, *rows[last + 1 :]]
    return longer, replace(steps, rows=(*steps.rows[:-1], last + 1)), True


def twin(rows: Sequence[Row], edges: Sequence[Steps]) -> list[Row]:
    """Return the short rows that make the same fabric as stepped `rows` (row -1 comes first).

    Every row of a step must begin by binding its sts off, and every row before one must work to
    the end. The twin is bound off in one sweep at each edge.
    """
    out = list(rows)
    for steps in edges:
        out = _at_edge(out, steps)
    return _with_aids(out)


def _at_edge(rows: Sequence[Row], steps: Steps) -> list[Row]:
    out = list(rows)
    turning = set(steps.turning_rows())
    last = len(steps.rows) - 1
    for i, row in enumerate(steps.rows):
        here = out[row + 1]
        head = here.acts[0]
        if head.kind is not Kind.BIND_OFF:
            raise ValueError(f"row {row} does not begin by binding off")
        rest = here.acts[1:]
        if i < last:
            acts: tuple[Act, ...] = rest
        else:
            acts = (bind_off(steps.total if rest else None), *rest)
        out[row + 1] = here.with_acts(*acts)
    for row in turning:
        here = out[row + 1]
        if here.acts[-1] != WORK_ALL:
            raise ValueError(f"row {row} does not work to the end")
        out[row + 1] = here.with_acts(*here.acts[:-1], leave(steps.unworked(row)), TURN)
    return out


def _with_aids(rows: Sequence[Row]) -> list[Row]:
    """Mark the rows that begin at a turn, and those that pass turns made before."""
    out: list[Row] = []
    waiting: dict[int, bool] = {0: False, 1: False}
    turned = False
    for index, row in enumerate(rows):
        toward = index % 2
        turns = row.has(Kind.TURN)
        closes = waiting[toward] and not turns
        if (turned, closes) != (row.aid, row.closes):
            row = replace(row, aid=turned, closes=closes)
        out.append(row)
        waiting[toward] = turns or (waiting[toward] and not closes)
        turned = turns
    return out


def keep_live_one_edge(rows: Sequence[Row], steps: Steps) -> list[Row]:
    """Keep a one-edged shoulder live: stop after its closing row and hold every st of it.

    `rows` is the swept twin. Only for a shoulder after which no st is left on the needle.
    """
    return [*rows[: steps.rows[-1] + 1], Row((Act(Kind.HOLD),))]


def keep_live_neck_bound_off(
    rows: Sequence[Row], edges: Sequence[Steps], neck: int | None
) -> list[Row]:
    """Keep both shoulders of a two-edged piece live while its neck is bound off.

    After the last turn one row to the end, one row back over all sts, a third over the second
    shoulder and the neck, turn; the neck sts only are bound off and the yarn is fastened off.
    Each shoulder column gains exactly one row, the neck none. The last steps of the two edges
    must be on neighbouring rows. `neck` is None where its number of sts is not known.
    """
    first, second = sorted(edges, key=lambda s: s.rows[-1])
    live = _without_sweeps(rows, (first, second))
    over = second.rows[-1] + 1
    third = live[over].with_acts(leave(first.total), TURN)
    ending = Row((bind_off(neck), Act(Kind.CUT)))
    return [*live[:over], third, ending, Row((Act(Kind.HOLD),))]


def keep_live_neck_held(rows: Sequence[Row], edges: Sequence[Steps]) -> list[Row]:
    """Keep both shoulders live where the neck is held: stop after the two closing rows.

    The first shoulder gains one row, the second none, the neck is one row shorter.
    """
    first, second = sorted(edges, key=lambda s: s.rows[-1])
    live = _without_sweeps(rows, (first, second))
    return [*live[: second.rows[-1] + 1], Row((Act(Kind.HOLD),))]


def neck_turns(edges: Sequence[Steps]) -> list[list[int]]:
    """Return for each edge the rows that turn at the neck, behind all its sts, in the exact live back.

    The edge whose last step comes first waits there until the other one does.
    """
    first, second = sorted(edges, key=lambda s: s.rows[-1])
    stop = second.rows[-1] - 1
    return [[stop] if s is second else list(range(first.rows[-1] - 1, stop, 2)) for s in edges]


def keep_live_exact(
    rows: Sequence[Row], edges: Sequence[Steps], neck: int, neck_held: bool
) -> list[Row]:
    """Keep both shoulders of a two-edged piece live with no row gained anywhere; the yarn is cut.

    Each edge turns once more, behind all its sts. One row goes over the neck and the shoulder that
    closes first; that shoulder is held and the yarn cut. It is rejoined at the neck, whose `neck` sts
    are bound off or held, and the other shoulder is worked and held. `rows` is the swept twin.
    """
    first, second = sorted(edges, key=lambda s: s.rows[-1])
    live = _without_sweeps(rows, (first, second))
    for steps, numbers in zip(edges, neck_turns(edges), strict=True):
        for number in numbers:
            live[number + 1] = live[number + 1].with_acts(leave(steps.total), TURN)
    ending = Act(Kind.HOLD, neck) if neck_held else bind_off(neck)
    rejoined = Row((Act(Kind.HOLD, first.total), Act(Kind.CUT), Act(Kind.JOIN), ending, WORK_ALL))
    return [*_with_aids([*live[: second.rows[-1] + 2], rejoined]), Row((Act(Kind.HOLD),))]


def keep_live_two_balls(rows: Sequence[Row], edges: Sequence[Steps]) -> list[Row]:
    """Keep both sides of a neck live that are in work at once, each with a ball of its own.

    No st lies between them, so each is a one-edged shoulder: the side that is closed first is held there
    and its yarn cut, and the other one goes on with its own yarn to its own closing row. No row is gained.
    `rows` is the swept twin.
    """
    first, second = sorted(edges, key=lambda s: s.rows[-1])
    live = _without_sweeps(rows, (first, second))
    over = first.rows[-1] + 1
    live[over] = live[over].with_acts(
        Act(Kind.HOLD, first.total), Act(Kind.CUT), Act(Kind.JOIN), *live[over].acts
    )
    return [*live[: second.rows[-1] + 1], Row((Act(Kind.HOLD),))]


def _without_sweeps(rows: Sequence[Row], edges: Sequence[Steps]) -> list[Row]:
    out = list(rows)
    for steps in edges:
        row = out[steps.rows[-1] + 1]
        out[steps.rows[-1] + 1] = row.with_acts(*row.acts[1:])
    return out
