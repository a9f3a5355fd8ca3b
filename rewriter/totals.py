"""Counts at the end of a sentence that are no further step: the sum of its steps, or what is left."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.bracketed import is_sum_of_steps
from rewriter.frames import Frame
from rewriter.parsing import Part


def take_totals(frames: list[Frame]) -> list[Part]:
    """Take such a count off the last of the frames of a sentence; return it where it tells the sts left."""
    if len(frames) < 2:
        return []
    if _tells_total(*frames[-2:]):
        return frames.pop().parts["count"]
    if _counts_behind(*frames[-2:]):
        last = frames[-1].parts
        told = last.pop("count")
        last["count"] = frames[-2].parts["count"]
        return told
    if _sums_up(frames):
        total = frames.pop()
        frames[-1].notes += total.parts.pop("count")
        if not frames[0].parts.keys() & {"edge", "each_side"}:
            frames[0].parts |= total.parts  # "22 sts at each edge" tells where, too
    return []


def _sums_up(frames: Sequence[Frame]) -> bool:
    """Say whether a sentence ends in the sum of its steps: "2-7-2, 2-8-1, 22 sts at each edge"."""
    *steps, last = frames
    total = last.one("count")
    bare = last.verb == "bind_off" and last.inherited and not last.residue
    placed = last.parts.keys() in ({"count", "each_side"}, {"count", "edge"})
    return bare and placed and total is not None and is_sum_of_steps(steps, total)


def _tells_total(decreases: Frame, last: Frame) -> bool:
    """Say whether a sentence ends in a total: "dec 1 st at neck edge every other row 8 times, 52 sts"."""
    told = (
        decreases.verb == last.verb == "decrease" and last.inherited and "times" in decreases.parts
    )
    if not told or last.parts.keys() != {"count"} or last.amount is None or last.residue:
        return False
    return min(n or 0 for n in last.amount.values) >= _MOST_IN_A_ROW


def _counts_behind(before: Frame, last: Frame) -> bool:
    """Say whether a count stands behind rows: "dec 1 st on next 5 rows, then on foll 2 alt rows: 22 sts"."""
    if not before.verb == last.verb == "decrease" or not last.inherited or last.amount is None:
        return False
    rows, count = last.parts.get("rows", []), last.one("count")
    if not rows or count is None or count.span.start < rows[-1].span.end or "times" in last.parts:
        return False
    return before.amount is not None and min(n or 0 for n in last.amount.values) >= _MOST_IN_A_ROW


_MOST_IN_A_ROW = 8
"""No row of a neck or an armhole has as many decreases."""
