"""A number of sts told in all, with the steps that share it out behind it."""

from __future__ import annotations

from dataclasses import replace
from itertools import takewhile

from rewriter.frames import Frame
from rewriter.parsing import Part

_ROWS_ON = frozenset({"every_other", "every_side_row", "every_row", "side_row"})
_BEFORE_STEPS = frozenset(
    {"edge", "at_beg", "at_end", "each_side", "side", "side_facing", "filler", "link"}
    | {"next_rows", "next_alt_rows", "next_side_rows", "foll_alt_rows"}
    | _ROWS_ON
)
"""What may stand between the colon and the first step."""
_COUNTS = frozenset({"count", "bare_count", "rem_count"})


class InAll:
    """A count told in all, and behind a colon the steps: "cast off the 24 sts on every RS row: 2x9, 1x6"."""

    def __init__(self) -> None:
        self.open = False
        """Whether steps may follow that share out the count of the frame."""
        self.timed = False
        """Whether "2x" stands right before the part."""

    def take_off(self, frame: Frame, part: Part) -> bool:
        """Take the count off a frame where `part` begins the steps that it is shared out in."""
        if part.kind == "colon" or (part.kind == "filler" and part.concept == "follows"):
            self.open, self.timed = _tells_all(frame), False
            return False
        if not self.open:
            return False
        if part.kind == "times" and "times" not in frame.parts and not self.timed:
            self.timed = True
            return False
        steps = part.kind == "step_list" or (
            part.kind in _COUNTS and (self.timed or _names_all(frame))
        )
        self.open = part.kind in _BEFORE_STEPS and not steps and not self.timed
        if steps:
            frame.whole = (frame.parts.pop("count")[0], None)
        return steps


def _tells_all(frame: Frame) -> bool:
    """Say whether a frame gives a count, and neither how often it is bound off nor in how many rows."""
    told = frame.parts.keys()
    count = frame.one("count")
    if frame.verb != "bind_off" or frame.inherited or count is None or count.kind not in _COUNTS:
        return False
    uncounted = all(p.kind in _ROWS_ON and p.amount is None for p in frame.parts.get("rows", ()))
    return uncounted and not told & {"times", "steps", "extent", "shares", "each_row"}


def _names_all(frame: Frame) -> bool:
    """Say whether words make a count one of all the sts: "the 24 sts of the shoulder", "as follows"."""
    named = {n.concept for n in frame.notes} & {"shoulder", "follows"}
    count = frame.one("count")
    return bool(named) or "rows" in frame.parts or (count is not None and count.kind == "rem_count")


def shared_out(frames: list[Frame]) -> list[Frame]:
    """Take the sts that are told in all off the steps that share them out.

    "Bind off the 10 sts at the right edge in two steps: 5 sts at once, the other 5 sts ...": the edge
    and the rows told with all of them are those of the first step.
    """
    for i, frame in enumerate(frames):
        count, shares = frame.one("count"), frame.one("shares")
        if frame.verb != "bind_off" or count is None or shares is None:
            continue
        if _is_of_each(frame, count, shares):
            frame.parts["times"] = [replace(frame.parts.pop("shares")[0], kind="times")]
            continue
        behind = frames[i + 1 :]
        steps = list(takewhile(_is_item, behind))
        if not steps:
            continue
        first = steps[0]
        if len(steps) == 1 and "times" not in first.parts:
            first.parts["times"] = [replace(shares, kind="times")]  # "in 2 steps of 5 sts"
        for step in steps:
            step.verb, step.concept, step.inherited = frame.verb, frame.concept, True
            if not step.parts.keys() & {"rows", "times"} or step.parts.keys() == {"count"}:
                step.parts["times"] = [Part("once", step.span, "1")]
            if "each_side" in frame.parts:  # "the other 5 sts": at either side
                step.parts["count"] = [replace(p, kind="count") for p in step.parts["count"]]
        for slot, parts in frame.parts.items():
            if slot not in ("count", "shares"):
                first.parts.setdefault(slot, parts)
        first.whole, first.start, first.inherited = (count, shares), frame.start, False
        first.notes, first.residue = frame.notes + first.notes, frame.residue + first.residue
        return [*frames[:i], *behind]
    return frames


def _is_of_each(frame: Frame, count: Part, shares: Part) -> bool:
    """Say whether a count is that of each share: "in three lots of 8", no number of all sts before them."""
    of = [
        n for n in frame.notes if n.span.start >= shares.span.end and n.span.end < count.span.start
    ]
    return bool(of) and of[-1].span.end + 1 == count.span.start and len(of) == 1


def _is_item(frame: Frame) -> bool:
    """Say whether a frame gives a number of sts and leaves the verb to the one before it."""
    bound = frame.verb == "bind_off" and frame.inherited
    return "count" in frame.parts and (bound or not frame.verb)
