"""A number of sts told in all, with the steps that share it out behind it."""

from __future__ import annotations

from dataclasses import replace
from itertools import takewhile

from rewriter.frames import Frame
from rewriter.parsing import Part


def shared_out(frames: list[Frame]) -> list[Frame]:
    """Take the sts that are told in all off the steps that share them out.

    "Bind off the 10 sts at the right edge in two steps: 5 sts at once, the other 5 sts ...": the edge
    and the rows told with all of them are those of the first step.
    """
    for i, frame in enumerate(frames):
        count, shares = frame.one("count"), frame.one("shares")
        if frame.verb != "bind_off" or count is None or shares is None:
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


def _is_item(frame: Frame) -> bool:
    """Say whether a frame gives a number of sts and leaves the verb to the one before it."""
    bound = frame.verb == "bind_off" and frame.inherited
    return "count" in frame.parts and (bound or not frame.verb)
