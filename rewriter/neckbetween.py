"""Sts bound off at the neck in a row between the steps of a shoulder, told "at the same time".

"Cast off for the shoulder on every 2nd row 3 x 8 sts, at the same time cast off 2 sts at the neck edge on
the first row from the right side": a side that is worked by itself begins its rows at the armhole and at
the neck by turns, so the row named is the one behind the first step.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter.amounts import Amount
from rewriter.centrewords import IN_ROW, number_of_row
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.rowframes import side_named
from rewriter.rows import WORK_ALL, Act, Kind, Row, Side
from rewriter.spans import Span


@dataclass(frozen=True)
class NeckBetween:
    """A row at the neck that is told behind the steps it lies between."""

    sts: Amount
    side: Side | None
    """The side it is told by; None where it is told as the row between two steps."""
    statement: int
    """Number of the sentence that tells it, within its passage."""
    span: Span
    row: int = 0
    """The number of its row among those of the shoulder, where it is told by that; else 0."""


def without_neck_between(
    statements: Sequence[Statement],
) -> tuple[list[Statement], list[NeckBetween]]:
    """Take the rows at the neck that lie between steps told before off the sentences of a passage."""
    out: list[Statement] = []
    found: list[NeckBetween] = []
    stepped = False
    for number, statement in enumerate(statements):
        frames: list[Frame] = []
        for frame in statement.frames:
            between = _between(frame, frames[-1] if frames else None, number) if stepped else None
            if stepped and between is None:
                between = _in_row(frame, statement.sentence.source, number)
            if between is None or statement.by_size or statement.label:
                frames.append(frame)
            else:
                found.append(between)
                if frames:
                    frames[-1] = _without_same_time(frames[-1])
            stepped = stepped or (frame.verb == "bind_off" and frame.edge != "neck")
        kept = len(frames) == len(statement.frames)
        out.append(statement if kept else replace(statement, frames=frames))
    return out, found


def _between(frame: Frame, before: Frame | None, number: int) -> NeckBetween | None:
    """Return the row at the neck that a frame tells for the rows of the steps before it."""
    rows, side = frame.one("rows"), frame.one("side")
    if frame.verb != "bind_off" or frame.edge != "neck" or frame.amount is None or rows is None:
        return None
    if frame.residue or frame.parts.keys() - {"count", "edge", "rows", "side", "more"}:
        return None
    notes = [*frame.notes, *(before.notes[-1:] if before is not None else [])]
    if not any(n.concept == "same_time" for n in notes):
        return None
    if rows.kind == "row_between" and rows.concept == "one":
        return NeckBetween(frame.amount, None, number, frame.span) if side is None else None
    first = rows.kind == "row_number" and rows.numbers == (1,) and side is not None
    following = rows.kind == "next_side_rows" and rows.amount is None and side is None
    told = side_named((side or rows).side) if first or following else None
    return NeckBetween(frame.amount, told, number, frame.span) if told else None


def _in_row(frame: Frame, source: str, number: int) -> NeckBetween | None:
    """Return a row at the neck told by its number: "at the neck, in the 2nd row of the shoulder, 4 sts"."""
    if frame.verb != "bind_off" or frame.edge != "neck" or frame.amount is None:
        return None
    found = IN_ROW.search(source.lower(), frame.start, frame.end)
    if found is None:
        return None
    times = frame.one("times")
    once = times is None or times.concept == "1" or (times.amount and times.amount.values == (1,))
    told = [*frame.residue, *frame.parts.get("rows", ())]
    inside = all(found.start() <= p.span.start and p.span.end <= found.end() for p in told)
    if not inside or not once or frame.parts.keys() - {"count", "edge", "times", "rows"}:
        return None
    return NeckBetween(frame.amount, None, number, frame.span, number_of_row(found))


def _without_same_time(frame: Frame) -> Frame:
    return replace(frame, notes=[n for n in frame.notes if n.concept != "same_time"])


def put_between(rows: Sequence[Row], told: NeckBetween, sts: int) -> list[Row]:
    """Return the rows read so far with the row at the neck in its place; raises Unread in doubt."""
    places = [
        i
        for i in range(1, len(rows))
        if rows[i - 1].has(Kind.BIND_OFF) and rows[i].acts == (WORK_ALL,)
    ]
    if told.row:
        places = [i for i in places if i == told.row - 1]
    several = told.side is None and len(places) > 1
    if not places or several or rows[places[0] - 1].side == told.side is not None:
        raise Unread(
            "rows-unclear",
            "in which of these rows sts are bound off at the neck edge is not told",
            told.span,
        )
    out = list(rows)
    row = out[places[0]]
    bound = row.with_acts(Act(Kind.BIND_OFF, sts), WORK_ALL)
    out[places[0]] = replace(
        bound, edge="neck", side=told.side or row.side, span=told.span, statement=told.statement
    )
    return out
