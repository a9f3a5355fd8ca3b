"""A row told in words of its own that can keep them and end at a turn: its last stretch is worked less far.

"Next row: K 26, cast off the centre 30 sts, k to end" works the row's last sts without shaping any of
them, so "k to end" alone becomes "k to last 8 sts, turn". What the row does before stays, word for word.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter import regex
from rewriter.amounts import Amount
from rewriter.frames import Frame, Statement
from rewriter.parsing import Part
from rewriter.rows import Side
from rewriter.spans import Span


@dataclass(frozen=True)
class Stretch:
    """The last stretch of a row."""

    place: Span
    """Its words, with those that say how far it goes: "k to end", "p26"."""
    word: Span
    """The work word among them."""
    length: Amount | None
    """Its sts where they are counted; None where it goes to the end of the row."""
    before: tuple[Frame, ...]
    """What the row does before it, on its own side of the neck."""
    divides: bool
    """The row binds off or holds sts within it, so the sts before those are not in work after it."""
    joins: bool
    """Another ball of yarn is joined in it."""
    side: Side | None
    """Side of the row as its words name it."""

    def room(self, size: int, sizes: int, stitches: int) -> int:
        """Return how many sts the stretch has in one size, of `stitches` on its side of the neck."""
        if self.length is not None:
            return self.length.per_size(sizes)[size]
        used = 0
        for frame in self.before:
            counted = frame.amount.per_size(sizes)[size] if frame.amount is not None else 0
            used += _WIDEST_DECREASE if frame.verb == "decrease" else counted
        return stitches - used


_WIDEST_DECREASE = 3
_ONE_ROW = frozenset({"next_rows", "next_side_rows"})
_BEFORE_ROW = frozenset({"measures", "ending", "refer", ""})
_TELLING = {
    "work": {"count", "extent", "rows", "side", "edge"},
    "bind_off": {"count", "edge", "rows", "side"},
    "decrease": {"count", "edge"},
    "hold": {"count", "edge", "holder", "side"},
    "join": {"count", "edge", "side", "more", "other_side", "holder", "on_needle"},
}
"""What may be said of each thing that a row does; more would be told for other rows, or so many times."""


def last_stretch(statement: Statement, frames: Sequence[Frame] | None = None) -> Stretch | None:
    """Return the last stretch of the one row that a sentence tells; None where a turn cannot end it.

    `frames` are those of the row where the sentence tells more behind it.
    """
    told = [f for f in (statement.frames if frames is None else frames) if f.verb or f.parts]
    label = statement.label
    if statement.sizes is not None or statement.by_size or statement.residue:
        return None
    if label is not None and (len(label.numbers) > 1 or (label.rows and label.rows.values != (1,))):
        return None
    while told and not told[-1].verb and not told[-1].parts.keys() - {"count", "each_side"}:
        told.pop()  # the sts there are then, "26 sts each side"
    while told and _leads_up(told[0]) and label is None:
        told.pop(0)  # "When the armhole measures 20 cm, work the next row: ..."
    if not told or not all(map(_is_of_one_row, told)):
        return None
    extent, amount = told[-1].one("extent"), told[-1].amount
    counted = told[-1].one("count")
    if extent is not None and counted is not None and extent.span.end <= counted.span.start:
        extent = None  # "knit across the remaining 26 sts"
    if told[-1].verb != "work" or (extent is None) is (amount is None):
        return None
    if extent is not None and extent.kind != "to_end":
        return None
    cut = max((i for i, f in enumerate(told) if _at_neck(f, i)), default=-1)
    if told[0].verb == "bind_off" and any(f.verb in ("bind_off", "hold") for f in told[1:]):
        return None  # it begins with a step of the other shoulder
    end = extent or counted
    if end is None or (extent is None and cut < 0 and len(told) < 2):
        return None
    source = statement.sentence.source
    word = _OVER.sub("", source[told[-1].start : end.span.start].rstrip())
    if not word.strip():
        return None
    side = next((p.side for f in told for p in f.parts.get("side", ()) if p.side), "")
    side = label.side if label is not None and label.side else side
    return Stretch(
        Span(told[-1].start, end.span.end),
        Span(told[-1].start, told[-1].start + len(word)),
        amount if extent is None else None,
        tuple(told[cut + 1 : -1]),
        any(f.verb in ("bind_off", "hold") for f in told[: cut + 1] if f is not told[0]),
        any(f.verb == "join" for f in told),
        "RS" if side == "RS" else "WS" if side == "WS" else None,
    )


def from_turned_stretch(statement: Statement) -> Statement | None:
    """Return the sentence of a row that turns, from its last stretch on, where it did more before that.

    "K 26, cast off the centre 30 sts, k to last 8 sts, turn" is told as "k to last 8 sts, turn". None
    where the row does nothing before, or only binds off or decreases at its very beginning.
    """
    told = [f for f in statement.frames if f.verb or f.parts]
    turn = next((i for i, f in enumerate(told) if f.verb == "turn"), 0)
    extent = told[turn - 1].one("extent") if turn else None
    if extent is None or extent.kind not in _SHORT or told[turn - 1].verb != "work":
        return None
    before = told[: turn - 1]
    while before and _leads_up(before[0]) and statement.label is None:
        before.pop(0)
    more = len(before) > 1 or any(f.verb in ("hold", "join") for f in before)
    if not more or not all(map(_is_of_one_row, before)):
        return None
    # what is said of the sts in work may stand in the sentence of a row that has a number
    behind = (
        told[turn - 1 : turn + 1]
        if _IN_WORK.issuperset(f.verb for f in told[turn + 1 :])
        else told[turn - 1 :]
    )
    return replace(statement, frames=behind, running=[], opening=[])


_IN_WORK = frozenset({"", "hold"})
_SHORT = frozenset({"to_last", "to_marker"})


# "knit across the remaining 26 sts"
_OVER = regex.compile(r"(?i)\s+(?:across|over|on)(?:\s+(?:the|these|those))?\Z")


def _leads_up(frame: Frame) -> bool:
    """Say whether words lead up to a row: "When the back measures 60 cm, ..."."""
    high = frame.verb == "work" and frame.parts.keys() == {"measure"} and not frame.residue
    return high or frame.verb in _BEFORE_ROW


def _at_neck(frame: Frame, place: int) -> bool:
    return frame.verb in ("hold", "join") or (frame.verb == "bind_off" and place > 0)


def _is_of_one_row(frame: Frame) -> bool:
    """Say whether a frame does something once, in one row, in words that are understood."""
    if frame.verb not in _TELLING or frame.parts.keys() - _TELLING[frame.verb]:
        return False
    if frame.residue and frame.verb != "join":
        return False
    if frame.verb == "bind_off" and frame.takes_all:
        return False
    if frame.verb == "hold" and "holder" not in frame.parts:
        return False
    return all(_names_one(p) for p in frame.parts.get("rows", ()))


def _names_one(rows: Part) -> bool:
    return rows.kind in _ONE_ROW and rows.amount is None
