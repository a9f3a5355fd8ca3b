"""Plan and prove a divided shoulder: the twin of each half, laid together where both are in work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.halfrows import half_rows
from rewriter.halves import DividedShaping
from rewriter.leadmodel import LeadIn
from rewriter.options import Shoulders
from rewriter.passages import Passage
from rewriter.planner import Line, Plan, refuse_decreases_on_turns
from rewriter.rows import PLAIN, Kind, Row
from rewriter.shapingmodel import Shaping
from rewriter.twin import keep_live_one_edge, twin
from rewriter.twoballs import divided_parts
from rewriter.verify import NotProven, Proof, prove

_PLAIN = frozenset({"work", "work_row", "back_row", "ending"})


def _is_plain(statement: Statement) -> bool:
    """Say whether a sentence that the first short row absorbs has no words that it must keep."""
    return all(f.verb in _PLAIN for f in statement.frames if f.verb)


@dataclass(frozen=True)
class DividedPlan(Plan):
    """The short rows of both halves."""

    first: Plan
    second: Plan
    common: tuple[Line, ...]
    """Rows over the whole needle, from row -1 (or row 0 where the lead-in does not move)."""


def plan_divided(
    passage: Passage, shaping: DividedShaping, lead_in: LeadIn, join: Shoulders
) -> DividedPlan:
    """Plan a divided shoulder; raises Unread where it cannot be planned for certain."""
    number = shaping.dividing_row
    if shaping.steps_most < 2:
        raise Unread("single-step", "each edge is bound off in one step", passage.span)
    moves = min(s.rows[0] for edges in shaping.edges for s in edges) == 0
    if moves and lead_in.doubt is not None:
        raise Unread(
            "lead-in-unclear",
            "the words before it say something of the last row that is not understood",
            lead_in.doubt,
        )
    if moves and (lead_in.obstacle is not None or not all(map(_is_plain, lead_in.absorbed))):
        raise Unread(
            "row-before-has-words",
            "the row before the first bind-off has words of its own and would have to take the "
            "first turn; such rows are not converted yet",
            passage.span,
        )
    one = _half_plan(shaping.first, join, number, passage)
    two = _half_plan(shaping.second, join, number, passage)
    start = -1 if moves else 0
    common = tuple(
        Line(tuple(_merged(one.rows[i], two.rows[i], q, number) for i in range(len(one.rows))), q)
        for q in range(start, number)
    )
    return DividedPlan(
        join=join,
        rows=one.rows,
        steps=shaping.edges,
        lines=(*common, *one.lines),
        moves_lead_in=moves,
        slopes=True,
        within_one_row=False,
        takes_ending=False,
        first=one,
        second=two,
        common=common,
    )


def _half_plan(half: Shaping, join: Shoulders, number: int, passage: Passage) -> Plan:
    planned = []
    for rows, edges in zip(half.rows, half.edges, strict=True):
        try:
            swept = twin(rows, edges)
        except ValueError as error:
            raise Unread(
                "rows-unusual", f"not a plain stepped edge: {error}", passage.span
            ) from None
        planned.append(tuple(swept if join == "sewn" else keep_live_one_edge(swept, edges[0])))
    refuse_decreases_on_turns(planned, half, passage)
    if len({len(rows) for rows in planned}) > 1:
        raise Unread(
            "sizes-differ",
            "the sizes of this divided shoulder have different numbers of rows",
            passage.span,
        )
    later = range(number + 1, len(planned[0]) - 1)
    lines = tuple(Line(tuple(rows[q + 1] for rows in planned), q) for q in later)
    return Plan(join, tuple(planned), half.edges, lines, True, True, False, False)


def _merged(one: Sequence[Row], two: Sequence[Row], q: int, number: int) -> Row:
    """Lay what a row over the whole needle does in each half together."""
    first, second = one[q + 1], two[q + 1]
    begins, ends = (first, second) if (q - number) % 2 == 0 else (second, first)
    acts = tuple(a for a in ends.acts if a.kind is not Kind.BIND_OFF)
    return replace(
        ends, acts=acts, aid=begins.aid, closes=first.closes or second.closes, printed=None
    )


def prove_divided(
    shaping: DividedShaping, plan: DividedPlan, statements: Sequence[Statement], sizes: int
) -> list[Proof]:
    """Work both halves of both texts for every size; raises NotProven if they do not agree."""
    parts = divided_parts(statements)
    if parts is None:
        raise NotProven("the revised text is not understood as a divided shoulder")
    number = -1 if plan.moves_lead_in else 0
    ones, twos = [], []
    for i in range(sizes):
        one, two, until = half_rows(parts, i, sizes, number, True)
        wanted = _unworked(shaping, i) + _beyond(shaping, i)
        if until not in (wanted, shaping.until[i]):
            raise NotProven(f"the dividing row counts {until} sts, {wanted} were planned")
        before = [] if plan.moves_lead_in else [PLAIN]
        ones.append([*before, *one])
        twos.append([*before, *two])
    proofs = zip(
        prove(shaping.first, plan.first, ones),
        prove(shaping.second, plan.second, twos),
        strict=True,
    )
    return [
        Proof(a.same and b.same, (*a.edge_rows_gained, *b.edge_rows_gained), 0, 0)
        for a, b in proofs
    ]


def _unworked(shaping: DividedShaping, size: int) -> int:
    """Return the shoulder sts of the first half that wait behind the dividing row."""
    return shaping.edges[size][0].unworked(shaping.dividing_row - 1)


def _beyond(shaping: DividedShaping, size: int) -> int:
    """Return the sts that the dividing row works before it turns."""
    steps = shaping.edges[size][0]
    return steps.total - _unworked(shaping, size) + shaping.first.off_at_neck(size)


def counted(shaping: DividedShaping, size: int) -> tuple[int, int]:
    """Return the unworked shoulder sts and the sts beyond them at the turn of the dividing row."""
    return _unworked(shaping, size), _beyond(shaping, size)
