"""What frames tell of short rows: a row that stops before its end, a st slipped after a turn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.frames import Frame

_SHORT = frozenset({"to_last", "before_turn", "to_marker"})


def stops_short(frame: Frame) -> bool:
    """Say whether a row is worked to a place before its end."""
    extent = frame.one("extent")
    if extent is None:
        return leaves_unworked(frame)
    return extent.kind in _SHORT or (extent.kind == "until_left" and frame.verb == "work")


def turns_before_end(frame: Frame) -> bool:
    """Say whether a turn tells by itself where it is made: "turn 8 sts before the end of the next row"."""
    return frame.verb == "turn" and frame.amount is not None and "end" in frame.parts


_AFTER = regex.compile(r"\bafter\s+(?:(?:having\s+)?work(?:ed|ing)\s+)?\Z")
"""Words between a turn and the sts that are worked before it."""


def turns_after(frame: Frame, source: str) -> bool:
    """Say whether a turn tells how many sts are worked before it: "turn after 83 sts"."""
    if (
        frame.verb != "turn"
        or frame.amount is None
        or frame.parts.keys() & {"end", "more", "extent"}
    ):
        return False
    place = frame.amount.span.start
    return _AFTER.search(source[max(0, place - _REACH) : place].lower()) is not None


_REACH = 30
"""Characters before a number of sts in which "after having worked" may stand."""


_UNWORKED = frozenset({"unworked", "left_needle"})
"""Words for where such sts are: those on the left needle wait there."""


def says_unworked(frame: Frame) -> bool:
    """Say whether sts are told to be left without being worked, whatever their number."""
    said = frame.concept == "not_working" or any(n.concept in _UNWORKED for n in frame.notes)
    return frame.verb == "hold" and said


def rows_in_place(frames: Sequence[Frame]) -> list[Frame]:
    """Give "leave 8 sts unworked" the rows told before it: "..., turn; at end of next 2 rows, leave ...".

    "Work 4 short rows as follows: p to last 8 sts, turn" counts rows, of which each is told by itself.
    """
    out = list(frames)
    turned = sum(frame.verb == "turn" for frame in out)
    for i, frame in enumerate(out):
        counted = frame.one("rows")
        if counted is None or counted.kind != "some_rows" or counted.amount is None:
            continue
        if turned > 1 and set(counted.amount.values) == {turned} and stops_short(frame):
            alone = {slot: told for slot, told in frame.parts.items() if slot != "rows"}
            out[i] = replace(frame, parts=alone)
    for i, frame in enumerate(out[:-1]):
        # "work 2 rows, not working the last 7 sts, then 2 rows, not working the last 14 sts"
        after = out[i + 1]
        told = i > 0 and out[i - 1].verb == "work" and "rows" in out[i - 1].parts
        rows = (
            frame.one("rows")
            if told and leaves_unworked(frame) and leaves_unworked(after)
            else None
        )
        ahead = (
            frame.amount is not None
            and rows is not None
            and rows.span.start > frame.amount.span.start
        )
        if rows is not None and ahead and "rows" not in after.parts:
            kept = {slot: parts for slot, parts in frame.parts.items() if slot != "rows"}
            out[i] = replace(frame, parts=kept)
            out[i + 1] = replace(after, parts={**after.parts, "rows": frame.parts["rows"]})
    for i, frame in enumerate(out[:-1]):
        moved = {slot: told for slot, told in frame.parts.items() if slot in ("end", "rows")}
        after = out[i + 1]
        if frame.verb != "turn" or frame.amount is not None or len(moved) < 2:
            continue
        if leaves_unworked(after) and "rows" not in after.parts:
            kept = {slot: parts for slot, parts in frame.parts.items() if slot not in moved}
            out[i] = replace(frame, parts=kept)
            out[i + 1] = replace(after, parts={**moved, **after.parts})
    return out


def works_short(frame: Frame) -> bool:
    """Say whether a row is worked to a place before its end, or for some sts only."""
    counted = frame.verb == "work" and "extent" not in frame.parts and frame.amount is not None
    return stops_short(frame) or (counted and not frame.takes_all)


def slips_one(frame: Frame) -> bool:
    """Say whether a single st is slipped: "Sl 1, k to end"."""
    if frame.verb != "hold" or "holder" in frame.parts:
        return False
    if frame.amount is None:
        return frame.concept == "slip_first"
    return frame.concept == "slip" and set(frame.amount.values) == {1}


def leaves_unworked(frame: Frame) -> bool:
    """Say whether sts are left unworked: "leaving 8 sts unworked"."""
    return frame.amount is not None and says_unworked(frame)


def turns_counted(frames: Sequence[Frame]) -> bool:
    """Say whether a row is told by the sts it works before it turns: "p 8, turn"."""
    if [f.verb for f in frames[:2]] != ["work", "turn"]:
        return False
    return "extent" not in frames[0].parts and frames[0].amount is not None


def works_on(frame: Frame) -> bool:
    """Say whether a row is worked from its beginning to a place that is told."""
    extent = frame.one("extent")
    if frame.verb != "work" or frame.inherited or "other_side" in frame.parts:
        return False
    if extent is None:
        return frame.takes_all  # "p all sts"
    return extent.kind == "to_end" or stops_short(frame)


def hangs_in_row(frames: Sequence[Frame]) -> int | None:
    """Return the last frame of a row that hangs markers on its way: "K8, pm, k to last 8 sts, pm, k to end".

    None where frames tell no such row.
    """
    marks = [i for i, f in enumerate(frames) if f.verb == "mark"]
    first = next((i for i, f in enumerate(frames) if f.verb == "work"), None)
    if first is None or not marks or marks[0] < first:
        return None
    last = marks[-1]
    while last + 1 < len(frames) and frames[last + 1].verb == "work":
        last += 1
    told = frames[: last + 1]
    begun = all(f.verb == "aid" or slips_one(f) for f in told[:first])
    bare = all(not (frames[i].parts.keys() - {"marker"}) for i in marks)
    between = all(f.verb in ("work", "mark") for f in told[first:])
    return last if begun and bare and between else None
