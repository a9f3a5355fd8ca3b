"""Chains: what an item of a chain takes over from the items around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from rewriter.frames import Frame
from rewriter.parsing import Part

STEPPING = ("bind_off", "cast_on")
"""What is told in steps."""


def spread_cadence(frames: Sequence[Frame]) -> None:
    """Give the items of a chain the rows that are told once for all of them.

    "On every 2nd row: 8, 8, 7 sts" is one step for each number; "at arm edge bind off 6, then 6, then
    7" likewise; "2x9 and 1x8 sts on every 2nd row" tells the rows behind the last item.
    """
    for at, frame in enumerate(frames):
        if frame.verb not in STEPPING or frame.inherited:
            continue
        run = [frame]
        for later in frames[at + 1 :]:
            if not (later.inherited and later.verb == frame.verb):
                break
            run.append(later)
        if len(run) > 1:
            _spread(run)
        elif at + 1 < len(frames):
            _share_rows(frame, frames[at + 1])


def _spread(run: Sequence[Frame]) -> None:
    first, *later = run
    timed = {"times", "steps"}
    if _once_ahead(first, later[0]):
        first.parts["times"] = [Part("once", first.span, "1")]
        bare = all(set(f.parts) == {"count"} for f in later[1:])
        if len(later) > 1 and bare and set(later[0].parts) == {"rows", "count"}:
            for step in later:  # "... 6 sts, then, every two rows, 5 sts, 5 sts and 6 sts"
                step.parts["times"] = [Part("once", step.span, "1")]
            return
    if all(set(f.parts) == {"count"} for f in later) and not timed & set(first.parts):
        if _one_for_each_row(run):
            rows = first.parts["rows"][0]
            first.parts["rows"] = [replace(rows, amount=None)]
            for step in later:
                step.parts["times"] = [Part("once", step.span, "1")]
        elif _tells_rows_first(first) or _only_names_edge(first):
            for step in run:
                step.parts["times"] = [Part("once", step.span, "1")]
        return
    _spread_back(run)
    told = run[-1].one("rows")
    shared = told is not None and told.kind == "every_other"
    alone = all("rows" not in f.parts for f in run[:-1])
    if (
        shared
        and alone
        and all(set(f.parts) <= {"count", "rows", "edge", "each_side"} for f in run)
    ):
        # "9 sts, 8 sts and 8 sts, every second row"
        first.parts["rows"] = run[-1].parts.pop("rows")
        for step in run:
            step.parts["times"] = [Part("once", step.span, "1")]
        return
    if shared and alone and all(timed & set(f.parts) for f in run):
        first.parts["rows"] = run[-1].parts.pop("rows")
    if told is None and _names_sides_last(run) and all(timed & set(f.parts) for f in run):
        first.parts["each_side"] = run[-1].parts.pop(
            "each_side"
        )  # "3 times 5 and once 6 to each side"
    if told is None and _names_edge_last(run) and all(timed & set(f.parts) for f in run):
        first.parts["edge"] = run[-1].parts.pop("edge")  # "8 sts twice and 7 twice at armhole edge"


def _spread_back(run: Sequence[Frame]) -> None:
    """Give numbers the rows counted behind the last of them: "..., 7 and 6 sts on the 2 foll alt rows"."""
    rows = run[-1].one("rows")
    if rows is None or rows.kind not in _COUNTED or rows.amount is None:
        return
    (many, *others) = rows.amount.values
    if many is None or others or not 1 < many <= len(run):
        return
    first, *later = run[-many:]
    bare = all(set(f.parts) == {"count"} for f in (first, *later[:-1]))
    if not bare or (len(run) > many and "rows" not in run[-many - 1].parts):
        return
    for slot in ("rows", "beg"):
        if slot in run[-1].parts:
            first.parts[slot] = run[-1].parts.pop(slot)
    first.parts["rows"] = [replace(rows, amount=None)]
    for step in later:
        step.parts["times"] = [Part("once", step.span, "1")]


def _names_sides_last(run: Sequence[Frame]) -> bool:
    """Say whether both sides are named behind the last item alone: "at the beg of the rows 3 x 5, 1 x 6"."""
    placed = {"rows", "end", "edge"}
    beg = run[0].one("beg")
    return (
        {"each_side", "count"} <= run[-1].parts.keys()
        and not any("each_side" in f.parts or "beg" in f.parts for f in run[1:-1])
        and not any(placed & f.parts.keys() for f in run)
        and "each_side" not in run[0].parts
        and (beg is None or beg.concept == "rows")
    )


def _names_edge_last(run: Sequence[Frame]) -> bool:
    """Say whether an outer edge is named behind the last item alone, and no rows are told for any."""
    placed = {"rows", "beg", "end", "edge", "each_side"}
    return _only_names_edge(run[-1]) and not any(placed & f.parts.keys() for f in run[:-1])


def _once_ahead(frame: Frame, following: Frame) -> bool:
    """Say whether sts are bound off once before a cadence begins: "at both edges 8 sts, then in every
    2nd row 2 x 8 sts".
    """
    told = frame.parts.keys()
    outer = (
        "armhole",
        "shoulder",
        "side",
        "left",
        "right",
    )  # the last two are named later, or stay unread
    edged = "each_side" in told or frame.edge in outer
    alone = "count" in told and not told & {"rows", "times", "steps", "beg", "extent"}
    rows = following.one("rows")
    return edged and alone and rows is not None and rows.kind == "every_other"


def _share_rows(frame: Frame, following: Frame) -> None:
    """Read "cast off 6 sts at beg and dec 1 st at end of next and foll alt row": the same rows."""
    alone = "beg" in frame.parts and not frame.parts.keys() & {"rows", "times", "steps"}
    if alone and following.verb == "decrease" and {"end", "rows"} <= following.parts.keys():
        frame.parts["rows"] = following.parts["rows"]
        following.parts["rows"] = [Part("last_rows", following.span)]


_COUNTED = frozenset({"next_side_rows", "foll_side_rows", "foll_alt_rows"})
"""Rows that are counted at one edge."""


def _one_for_each_row(run: Sequence[Frame]) -> bool:
    """Say whether rows are counted as many as the numbers: "at beg of next 3 WS rows BO 7, 6 and 6 sts"."""
    rows = run[0].one("rows")
    if rows is None or rows.kind not in _COUNTED:
        return False
    return rows.amount is not None and rows.amount.values == (len(run),)


def _tells_rows_first(frame: Frame) -> bool:
    """Say whether the rows stand before the first count: "on every 2nd row: 8, 8, 7 sts"."""
    told = frame.parts.get("rows", [])
    if [p.kind for p in told] == ["next_rows", "every_other"] and told[0].amount is None:
        frame.parts["rows"] = told[1:]  # "on the next row and then on alternate rows: 8, 8, 7 sts"
    rows, count = frame.one("rows") or frame.one("beg"), frame.one("count")
    if rows is None or count is None or not _steps_on(rows, frame):
        return False
    return rows.span < count.span


_FROM_ONE_SIDE = frozenset({"every_other", "every_side_row", "side_row"})


def _steps_on(rows: Part, frame: Frame) -> bool:
    """Say whether rows are told that follow on one another, so that each number is a step.

    "At the beginning of the outward rows"; "at each side, at the beginning of every row" (or "of the rows").
    """
    both = "each_side" in frame.parts and rows.kind in ("every_row", "at_beg")
    return rows.kind in _FROM_ONE_SIDE or both


def _only_names_edge(frame: Frame) -> bool:
    """Say whether an outer edge is named and no rows: the rows between are implied."""
    return frame.edge in ("armhole", "shoulder", "side") and not frame.parts.keys() & {
        "rows",
        "beg",
    }


def without_head(frames: list[Frame]) -> list[Frame]:
    """Take off "bind off at the beg of each row:" before "first 2 rows 6 sts, last 2 rows 5 sts"."""
    for i, (head, first) in enumerate(pairwise(frames)):
        rows, told = head.one("rows"), first.one("rows")
        empty = head.verb == "bind_off" and not head.parts.keys() & {"count", "steps", "times"}
        every = rows is not None and rows.kind == "every_row" and "beg" in head.parts
        if empty and every and told is not None and told.kind == "first_rows" and first.inherited:
            first.inherited, first.start = False, head.start
            first.notes, first.residue = head.notes + first.notes, head.residue + first.residue
            return [*frames[:i], *frames[i + 1 :]]
    return frames


def verb_behind(frames: Sequence[Frame], part: Part) -> bool:
    """Take a verb that stands behind its steps: "every 2 rows: 9 sts, 8 sts, 8 sts to bind off".

    Says whether it is one; the frames then have it.
    """
    told = [f for f in frames if f.parts.keys() & {"count", "steps"}]
    placed = any(f.parts.keys() & {"rows", "beg", "edge", "each_side"} for f in told)
    if part.concept != "behind" or not placed or any(f.verb for f in frames):
        return False
    for i, frame in enumerate(told):
        frame.verb = frame.concept = "bind_off"
        frame.inherited = i > 0
    return True
