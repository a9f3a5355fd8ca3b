"""Plan and write the steps of a divided shoulder: common rows, dividing row, first side, second side."""

from __future__ import annotations

from dataclasses import replace

from rewriter import regex
from rewriter.dividedplan import DividedPlan
from rewriter.dividedtext import COUNTED_IN, asides, end_of_count, with_rest, with_taken_up
from rewriter.dividing import goes_on_rejoining
from rewriter.phrases import Job
from rewriter.planner import Line, Plan
from rewriter.rows import WORK_ALL, Kind, Row
from rewriter.shapingmodel import Shaping
from rewriter.slopedhalves import SlopedDivided
from rewriter.steptext import StepWriter, chunks
from rewriter.twin import Steps
from rewriter.twoballstext import rows_of_both


def plan_step_halves(shaping: SlopedDivided, moves: bool) -> DividedPlan:
    """Lay the stepped rows of both halves together; `moves` says that the lead-in moves a row back."""
    number = shaping.dividing_row
    one, two = shaping.first, shaping.second
    common = tuple(
        Line(
            tuple(
                _merged(a[q + 1], b[q + 1], q, number)
                for a, b in zip(one.rows, two.rows, strict=True)
            ),
            q,
        )
        for q in range(-1, number)
    )
    first, second = _half_plan(one, number), _half_plan(two, number)
    return DividedPlan(
        join="sewn",
        rows=one.rows,
        steps=shaping.edges,
        lines=(*common, *first.lines),
        moves_lead_in=moves,
        slopes=False,
        within_one_row=False,
        takes_ending=False,
        first=first,
        second=second,
        common=common,
    )


def _half_plan(half: Shaping, number: int) -> Plan:
    lines = tuple(
        Line(tuple(rows[q + 1] for rows in half.rows), q)
        for q in range(number + 1, len(half.rows[0]) - 1)
    )
    return Plan("sewn", half.rows, half.edges, lines, True, False, False, False)


def _merged(first: Row, second: Row, q: int, number: int) -> Row:
    """Return a row over the whole needle: it binds off in the half at whose armhole it begins."""
    begins, ends = (first, second) if (q - number) % 2 == 0 else (second, first)
    step = [act for act in begins.acts if act.kind is Kind.BIND_OFF]
    return replace(ends, acts=(*step, WORK_ALL), edge="", side=None)


def write_step_halves(
    job: Job,
    shaping: SlopedDivided,
    plan: DividedPlan,
    source: str,
    first_row: int,
    row_by_row: bool,
) -> list[str]:
    """Return the lines of the steps of a divided shoulder."""
    parts = shaping.parts
    if not parts.at_once:  # rows of two sides one after the other have no common numbers
        job = replace(job, numbered_from=None)
    one = StepWriter(replace(job, plan=plan.first, shaping=shaping.first), source, first_row)
    two = StepWriter(replace(job, plan=plan.second, shaping=shaping.second), source, first_row)
    counted = None if row_by_row or first_row < 0 else _counted(one, shaping)
    told = [line for line in plan.common if line.number >= first_row]
    out = [counted] if counted is not None else [one.row_line(line) for line in told]
    dividing, joining = _dividing_line(one, shaping, source), _rejoining(two, shaping, plan, source)
    if parts.at_once or parts.held_first:
        out.append(f"{dividing.removesuffix('.')}, {joining.rstrip(' .*_')}.")
        if parts.at_once:
            return [*out, *rows_of_both(one, two, shaping, plan, source)]
        out += [two.row_line(line) for line in plan.second.lines]
        return [*out, *with_taken_up(one, shaping, plan.first.lines, source)]
    out += [dividing, *asides(shaping.parts.first, source)]
    out += [one.row_line(line) for line in plan.first.lines]
    out.append(joining)
    return [*out, *[two.row_line(line) for line in plan.second.lines]]


def _counted(writer: StepWriter, shaping: SlopedDivided) -> str | None:
    """Return the steps before the dividing row in one sentence, where they can be counted."""
    number = shaping.dividing_row
    if number < 2 or number % 2 or writer.job.numbered_from is not None:
        return None
    firsts = []
    for one, two in shaping.edges:
        first, second = _up_to(one, number), _up_to(two, number)
        rows = tuple(range(0, number, 2))
        if first.sts != second.sts or first.rows != rows:
            return None
        if second.rows != tuple(r + 1 for r in rows):
            return None
        firsts.append(first)
    return writer.both(chunks(firsts))


def _up_to(steps: Steps, number: int) -> Steps:
    """Return the steps bound off before a row."""
    kept = [(r, n) for r, n in zip(steps.rows, steps.sts, strict=True) if r < number]
    return Steps(steps.edge, tuple(r for r, _ in kept), tuple(n for _, n in kept))


_BRACKET = regex.compile(r"\s*(?P<whole>\((?:[^()]|(?P>whole))*\))")


def _dividing_line(writer: StepWriter, shaping: SlopedDivided, source: str) -> str:
    """Return the row that turns at the neck: its step, and the sts on the right needle after it."""
    number = shaping.dividing_row
    sizes = range(len(shaping.rows))
    line = Line(tuple(shaping.first.rows[i][number + 1] for i in sizes), number)
    parts = shaping.parts
    frames = parts.dividing.frames
    work = next(f for f in frames if f.verb == "work")
    whole = not (parts.at_once or parts.held_first)
    stop = parts.dividing.span.end if whole else frames[-1].end
    tail = source[end_of_count(work) : max(stop, end_of_count(work))]
    bracket = _BRACKET.match(tail)
    if bracket is not None and "unworked" in bracket.group():
        tail = tail[bracket.end() :]
    tail = COUNTED_IN.sub("", tail.rstrip(" .*_"))
    bound = [_bound(shaping.edges[i][0], number + 1) for i in sizes]
    left = [shaping.first.needle[i] - bound[i] for i in sizes]
    gone = [b + _bound(shaping.edges[i][1], number) for i, b in enumerate(bound)]
    if whole:
        tail = with_rest(writer, tail, shaping, gone, left)
    extent = work.one("extent")
    own = source[work.start : extent.span.start].strip() if extent and not work.amount else ""
    step = [a.n or 0 for row in line.rows if row for a in row.acts if a.kind is Kind.BIND_OFF]
    head = f"{writer.style.bind_off} {writer.count(step)}{writer.style.manner}, " if step else ""
    words = writer.say(
        "dividing",
        head=head,
        work=own if not head or own[1:2].isupper() or len(own) == 1 else own.lower(),
        n=writer.count(left),
        tail=tail,
    )
    return writer.label_of(line) + writer.row_case(words) + "."


def _bound(steps: Steps, number: int) -> int:
    return sum(_up_to(steps, number).sts)


def _rejoining(writer: StepWriter, shaping: SlopedDivided, plan: DividedPlan, source: str) -> str:
    """Return the draft's own words of the rejoining, the row worked to its end."""
    statements = shaping.parts.rejoining
    start, end = shaping.parts.rejoined
    if shaping.parts.at_once or shaping.parts.held_first:
        start, end = statements[0].frames[0].start, statements[0].frames[-1].end
        told = statements[0]
    else:
        joins = [s for s in statements if any(f.verb == "join" for f in s.frames)]
        told = joins[0] if joins else statements[0]
        told = statements[-1] if goes_on_rejoining(statements[-1]) else told
    work = next((f for f in told.frames if f.verb == "work"), None)
    if work is None:
        return f"{source[start:end]}, {writer.style.work} {writer.style.to_end}."
    ends = [f.end for f in told.frames if f.verb in ("turn", "closing") and f.start > work.start]
    if not ends:
        return source[start:end]
    extent = work.one("extent")
    word = source[work.start : extent.span.start if extent else work.end].strip()
    return f"{source[start : work.start]}{word} {writer.style.to_end}{source[max(ends) : end]}"
