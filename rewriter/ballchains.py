"""Both sides of a neck in work at once, told by their edges and not row by row.

"Working both sides at once, bind off 7 sts at beg of next row, then bind off 3 sts from each neck edge
once, AT SAME TIME bind off 8 sts from each shoulder edge once": every row begins at the armhole of one
side and, with the other ball, at the neck of the other one. So the steps of the shoulders lie on the rows
by turns, and those of the neck on the side that they have just left.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.interpret import read_rows
from rewriter.rows import PLAIN, WORK_ALL, Kind, Row
from rewriter.spans import Span

Rows = list[Row]

_THEN = regex.compile(r"(?i)\b(?:then|afterwards)\b")


def is_chain(statement: Statement) -> bool:
    """Say whether a sentence tells steps of both sides by their edges, without a row of its own."""
    told = _told(statement)
    return (
        statement.label is None
        and not statement.by_size
        and bool(told)
        and all(f.verb in ("bind_off", "decrease") and not f.residue for f in told)
        and not any(f.takes_all for f in told if f.verb == "bind_off")
    )


def rows_of_chain(
    statement: Statement, size: int, sizes: int, starts: int
) -> tuple[tuple[Rows, Rows], int, int]:
    """Return the rows of each half in one size, how many rows of the work they are, and how many of
    these, at the end, shape no armhole edge.

    `starts` is the half (0 or 1) at whose armhole edge the first row begins. Raises Unread.
    """
    halves: tuple[Rows, Rows] = ([], [])
    number = idle = 0
    for frames in _stages(statement):
        shoulder = [f for f in frames if f.verb == "decrease" or f.edge != "neck"]
        neck = [f for f in frames if f not in shoulder]
        both = _read(statement, shoulder, size, sizes)
        at_neck = [row for f in neck for row in _read(statement, [f], size, sizes)[::2]]
        # the first row of the neck lies on the side that ends where the second ball waits
        count = max(len(both), 2 * len(at_neck))
        if neck and not both:
            raise _unclear(statement)
        for i in range(count):
            told = both[i] if i < len(both) else PLAIN
            begins = (starts + number + i) % 2
            halves[begins].append(told)
            step = at_neck[i // 2] if i // 2 < len(at_neck) else None
            row = PLAIN if step is None else replace(step, edge="neck")
            halves[1 - begins].append(replace(row, dec=told.dec, dec_at=told.dec_at, side=None))
        number += count
        idle = count - len(both)
    return halves, number, idle


def without_idle_end(rows: Rows) -> Rows:
    """Leave out the plain rows behind the last one that does something: that side is finished."""
    while rows and rows[-1].acts == (WORK_ALL,) and not rows[-1].dec:
        rows = rows[:-1]
    return rows


def _told(statement: Statement) -> list[Frame]:
    return [f for f in statement.frames if f.verb or f.parts]


def _read(statement: Statement, frames: Sequence[Frame], size: int, sizes: int) -> Rows:
    if not frames:
        return []
    if not any(f.verb == "decrease" for f in frames):
        # which rows they share is known here
        frames = [
            replace(f, notes=[n for n in f.notes if n.concept != "same_time"]) for f in frames
        ]
    told = replace(statement, frames=list(frames), running=[])
    rows = read_rows([told], size, sizes, dividing=True)
    for row in rows:
        head = row.acts[0]
        if head.kind is not Kind.BIND_OFF and row.acts != (WORK_ALL,):
            raise _unclear(statement)
    return rows


def _stages(statement: Statement) -> list[list[Frame]]:
    """Part the frames where one goes on behind another; those told for the same rows stay together."""
    stages: list[list[Frame]] = []
    before: Frame | None = None
    for frame in _told(statement):
        if before is None or _goes_on(statement, before, frame):
            stages.append([frame])
        elif _at_the_same_time(before, frame) or "neck" not in (frame.edge, before.edge):
            stages[-1].append(frame)
        else:
            raise _unclear(statement)
        before = frame
    return stages


def _goes_on(statement: Statement, before: Frame, frame: Frame) -> bool:
    between = statement.sentence.source[_place(before).end : _place(frame).start]
    return _THEN.search(between) is not None and not _at_the_same_time(before, frame)


def _at_the_same_time(before: Frame, frame: Frame) -> bool:
    start, end = _place(before).end, _place(frame).start
    notes = [n for n in (*before.notes, *frame.notes) if start <= n.span.start < end]
    return any(n.concept == "same_time" for n in notes)


def _place(frame: Frame) -> Span:
    """Return where a frame's number stands; what is said between two of them ties them together."""
    return frame.amount.span if frame.amount is not None else frame.span


def _unclear(statement: Statement) -> Unread:
    return Unread(
        "two-balls",
        "in which rows of both sides sts are bound off at the neck is not clear",
        statement.span,
    )
