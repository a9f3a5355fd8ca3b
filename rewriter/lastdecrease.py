"""The last of several rows that decrease at the neck, and what their sentence says when it is one less.

"Dec 1 st at neck edge on next 4 rows, then on foll 3 alt rows" tells "foll 2 alt rows, then work 1 row" where
its last row goes with the short rows.
"""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.frames import Frame, Statement
from rewriter.leadmodel import Mention
from rewriter.parsing import Part


def last_decrease(statement: Statement) -> Sequence[Mention]:
    """Return what changes in a sentence that counts its rows of decreases; nothing where it does not."""
    frames = _decreases(statement)
    if not frames:
        return ()
    last = frames[-1]
    rows = last.parts["rows"][-1]
    if rows.kind == "every_row" and (times := last.one("times")) is not None:
        return _one_less(times, last, alternate=False)
    if "times" in last.parts or rows.kind not in ("next_rows", "foll_alt_rows"):
        return ()
    return _one_less(rows, last, alternate=rows.kind == "foll_alt_rows")


def decreases_until(statement: Statement) -> Sequence[Mention]:
    """Return what changes where rows decrease until so many sts are left: one more is left then.

    Alternate rows must be told as such, so that the last of them is known to decrease.
    """
    frames = _decreases(statement, until=True)
    extent = frames[-1].one("extent") if frames else None
    if extent is None or extent.kind not in ("until_left", "until_count") or not extent.amount:
        return ()
    last, rows = frames[-1], frames[-1].parts["rows"][-1]
    left = Mention("left", extent.span, tuple(v or 0 for v in extent.amount.values))
    if rows.kind == "every_row":
        return (left,)
    if rows.kind == "foll_alt_rows" and (len(last.parts["rows"]) > 1 or len(frames) > 1):
        return left, Mention("plain", last.span)
    return ()


def _decreases(statement: Statement, until: bool = False) -> list[Frame]:
    """Return the frames of a sentence that decreases 1 st in each of its rows, and does nothing else."""
    told = [f for f in statement.frames if f.verb]
    allowed = {"count", "edge", "rows", "times", *(("extent",) if until else ())}
    for frame in told:
        single = frame.amount is None or frame.amount.values == (1,)
        at_neck = frame.edge == "neck" or (frame.inherited and not frame.edge)
        if frame.verb != "decrease" or frame.residue or not single or not at_neck:
            return []
        if frame.parts.keys() - allowed or "rows" not in frame.parts:
            return []
    return told if statement.label is None else []


def _one_less(part: Part, frame: Frame, *, alternate: bool) -> Sequence[Mention]:
    values = tuple(v or 0 for v in part.amount.values) if part.amount else ()
    if not values or min(values) < 2:
        return ()
    counted = Mention("rows", part.span, values)
    return (counted, Mention("plain", frame.span)) if alternate else (counted,)
