"""Plan a passage: which short rows every size works, and what of the words around must follow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from rewriter.doubt import Unread
from rewriter.leadmodel import LeadIn
from rewriter.options import Shoulders
from rewriter.passages import Passage
from rewriter.rows import PLAIN, Kind, Row, Side, side_of
from rewriter.shapingmodel import Shaping
from rewriter.twin import (
    Steps,
    keep_live_exact,
    keep_live_neck_bound_off,
    keep_live_neck_held,
    keep_live_one_edge,
    keep_live_two_balls,
    lengthen_return_row,
    twin,
)


@dataclass(frozen=True)
class Line:
    """One row of the new text, for the sizes that work it."""

    rows: tuple[Row | None, ...]
    """The row of each size; None where a size does not work it."""
    number: int
    """Row number in the size with most rows; row 0 is the first bind-off of the old text."""

    @property
    def sizes(self) -> tuple[int, ...]:
        """Indexes of the sizes that work the row."""
        return tuple(i for i, row in enumerate(self.rows) if row is not None)

    def any_row(self) -> Row:
        """Return the row of the first size that works it."""
        return next(row for row in self.rows if row is not None)


@dataclass(frozen=True)
class Plan:
    """The short rows of a passage."""

    join: Shoulders
    rows: tuple[tuple[Row, ...], ...]
    """Planned rows of each size, row -1 first."""
    steps: tuple[tuple[Steps, ...], ...]
    """Steps as the plan counts them (a last step on a return row has a row of its own)."""
    lines: tuple[Line, ...]
    moves_lead_in: bool
    """Some size makes a turn on row -1."""
    slopes: bool
    """Some size makes a turn at all."""
    within_one_row: bool
    takes_ending: bool
    """The words that end the neck are written anew."""
    exact: bool = field(default=False, kw_only=True)
    """Live shoulders of a two-edged piece that gain no row, for the yarn is cut between them."""

    def side(self, line: Line, first: Side | None) -> Side | None:
        """Return the side of a line."""
        return side_of(line.number, first)


def plan_passage(
    passage: Passage, shaping: Shaping, lead_in: LeadIn, join: Shoulders, exact: bool = False
) -> Plan:
    """Plan the twin of a passage; raises Unread where it cannot be planned for certain.

    `exact` keeps live shoulders at the draft's rows; only for a model that `why_not_exact` allows.
    """
    if shaping.steps_most < 2 and join == "sewn":
        raise Unread(
            "single-step",
            "each edge is bound off in one step: there is no slope to convert",
            passage.span,
        )
    moves = shaping.steps_most >= 2 and _first_row(shaping.edges[0]) == 0
    if moves and lead_in.doubt is not None:
        raise Unread(
            "lead-in-unclear",
            "the words before it say something of the last row that is not understood",
            lead_in.doubt,
        )
    if moves and lead_in.obstacle is not None:
        raise Unread(
            "row-before-has-words",
            "the row before the first bind-off has words of its own and would have to take the "
            "first turn; such rows are not converted yet",
            lead_in.obstacle.span,
        )
    if moves and len({_first_row(edges) for edges in shaping.edges}) > 1:
        raise Unread("sizes-differ", "the sizes do not begin on the same row", passage.span)
    sizes = range(len(shaping.rows))
    planned: list[tuple[Row, ...]] = []
    steps: list[tuple[Steps, ...]] = []
    longer = False
    for i in sizes:
        rows = list(_to_last_step(shaping.rows[i], shaping.edges[i]))
        behind = _rows_behind(shaping, i)
        edges = shaping.edges[i]
        if not shaping.two_edged:
            rows, lengthened, added = lengthen_return_row(rows, edges[0])
            edges, longer = (lengthened,), longer or added
        try:
            swept = twin(rows, edges)
        except ValueError as error:
            raise Unread(
                "rows-unusual", f"not a plain stepped edge: {error}", passage.span
            ) from None
        if shaping.two_edged and shaping.neck[i] == 0:
            # nothing is left to work after the second sweep
            swept[-1] = swept[-1].with_acts(*swept[-1].acts[:1])
        planned.append((*_live(swept, edges, shaping, i, join, exact), *behind))
        steps.append(edges)
    refuse_decreases_on_turns(planned, shaping, passage)
    lines = align(planned)
    if lines is None:
        raise Unread(
            "sizes-differ",
            "the rows of the sizes differ too much to be written as one text",
            passage.span,
        )
    if not moves:
        # row -1 stays what the lead-in says it is
        lines = tuple(line for line in lines if line.number >= 0)
    takes_ending = join != "sewn" and shaping.two_edged and not shaping.on_two_balls
    slopes = shaping.steps_most >= 2
    return Plan(
        join, tuple(planned), tuple(steps), lines, moves, slopes, longer, takes_ending, exact=exact
    )


def refuse_decreases_on_turns(
    planned: Sequence[Sequence[Row]], shaping: Shaping, passage: Passage
) -> None:
    """Ask where a neck decrease would fall on the st that carries a turning aid."""
    for size, rows in enumerate(planned):
        live = shaping.total(size) + shaping.off_at_neck(size)
        unworked = 0
        for row in rows:
            unworked = next((a.n or 0 for a in row.acts if a.kind is Kind.LEAVE), unworked)
            if row.dec and row.aid and live - unworked < row.dec + 3:
                raise Unread(
                    "decrease-on-turn",
                    f"a neck decrease would fall on or beside the turning st: only {live - unworked} "
                    "sts are worked in that row",
                    row.span or passage.span,
                    (size,),
                )
            live -= row.off_at_neck


def _first_row(edges: Sequence[Steps]) -> int:
    return min(s.rows[0] for s in edges)


def _to_last_step(rows: Sequence[Row], edges: Sequence[Steps]) -> Sequence[Row]:
    """Return the rows up to the last step; what ends the neck is no part of the shoulders."""
    last = max(s.rows[-1] for s in edges)
    return rows[: last + 2]


def _rows_behind(shaping: Shaping, size: int) -> Sequence[Row]:
    """Return the plain rows told behind the last step, over the sts that a front keeps for its band."""
    if shaping.two_edged or not shaping.neck[size]:
        return ()
    last = max(s.rows[-1] for s in shaping.edges[size])
    rows = shaping.rows[size][last + 2 :]
    return rows if all(row.acts == PLAIN.acts for row in rows) else ()


def _live(
    swept: list[Row],
    edges: Sequence[Steps],
    shaping: Shaping,
    size: int,
    join: Shoulders,
    exact: bool,
) -> list[Row]:
    if join == "sewn":
        return swept
    if shaping.on_two_balls:
        return keep_live_two_balls(swept, edges)
    neck = shaping.neck[size]
    if exact and neck is not None:
        return keep_live_exact(swept, edges, neck, shaping.ending == "held")
    if not shaping.two_edged:
        return keep_live_one_edge(swept, edges[0])
    if shaping.ending == "held":
        return keep_live_neck_held(swept, edges)
    return keep_live_neck_bound_off(swept, edges, neck)


def why_not_live(shaping: Shaping, exact: bool = False) -> str | None:
    """Return why the shoulders of a passage cannot be kept live, or None if they can.

    `exact` says that no row is to be gained where that can be had.
    """
    if shaping.on_two_balls:
        return None
    if shaping.two_edged:
        if shaping.ending == "open":
            if all(n == 0 for n in shaping.neck):
                return "no sts are left between the two shoulders of one piece"
            return (
                "what becomes of the sts between the shoulders is not read in the words behind them"
            )
        if exact and why_not_exact(shaping) is None:
            return None
        if any(abs(e[0].rows[-1] - e[1].rows[-1]) != 1 for e in shaping.edges):
            return "the last steps of the two edges are not on neighbouring rows"
        if shaping.ending == "bound off" and any(n is None for n in shaping.neck):
            return "the number of neck sts is not known"
        return None
    if shaping.ending != "used up" or any(n != 0 for n in shaping.neck):
        return "sts are kept beside the shoulder"
    return None


def why_not_exact(shaping: Shaping) -> str | None:
    """Return why the live shoulders of a two-edged piece gain a row all the same, or None."""
    if shaping.steps_most < 2:
        return "each shoulder is bound off in one step, so there is no turn to wait at"
    if any(n is None for n in shaping.neck):
        return "the number of neck sts is not known"
    if any(n == 0 for n in shaping.neck):
        return "there are no sts between the shoulders at which the yarn could be rejoined"
    return None


# --- one text for all sizes ---------------------------------------------------------------------


def align(planned: Sequence[Sequence[Row]]) -> tuple[Line, ...] | None:
    """Lay the rows of all sizes over one another; a size with fewer steps skips pairs of rows.

    Returns None where the rows differ in more than pairs of turning rows left out in the middle.
    """
    shapes = [[_shape(row) for row in rows] for rows in planned]
    longest = max(shapes, key=len)
    columns: list[list[Row | None]] = [[None] * len(planned) for _ in longest]
    for size, shape in enumerate(shapes):
        skipped = len(longest) - len(shape)
        if skipped % 2:
            return None
        front = _front(shape, longest, skipped)
        if front is None:
            return None
        for n, row in enumerate(planned[size]):
            columns[n if n < front else n + skipped][size] = row
    return tuple(Line(tuple(rows), number - 1) for number, rows in enumerate(columns))


def _shape(row: Row) -> tuple[object, ...]:
    return (row.dec_at, *((act.kind, act.n is None) for act in row.acts))


def _front(shape: Sequence[object], longest: Sequence[object], skipped: int) -> int | None:
    """Return how many rows stand before the gap; the latest gap that fits is taken."""
    if not skipped:
        return len(shape) if list(shape) == list(longest) else None
    for front in range(len(shape), -1, -1):
        if list(shape[:front]) == list(longest[:front]) and list(shape[front:]) == list(
            longest[front + skipped :]
        ):
            return front
    return None
