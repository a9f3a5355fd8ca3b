"""Chains: what an item of a chain takes over from the items around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

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
    if told is None and _names_edge_last(run) and all(timed & set(f.parts) for f in run):
        first.parts["edge"] = run[-1].parts.pop("edge")  # "8 sts twice and 7 twice at armhole edge"


def _names_edge_last(run: Sequence[Frame]) -> bool:
    """Say whether an outer edge is named behind the last item alone, and no rows are told for any."""
    placed = {"rows", "beg", "end", "edge", "each_side"}
    return _only_names_edge(run[-1]) and not any(placed & f.parts.keys() for f in run[:-1])


def _once_ahead(frame: Frame, following: Frame) -> bool:
    """Say whether sts are bound off once before a cadence begins: "at both edges 8 sts, then in every
    2nd row 2 x 8 sts".
    """
    told = frame.parts.keys()
    edged = "each_side" in told or frame.edge in ("armhole", "shoulder", "side")
    alone = "count" in told and not told & {"rows", "times", "steps", "beg", "extent"}
    rows = following.one("rows")
    return edged and alone and rows is not None and rows.kind == "every_other"


def _share_rows(frame: Frame, following: Frame) -> None:
    """Read "cast off 6 sts at beg and dec 1 st at end of next and foll alt row": the same rows."""
    alone = "beg" in frame.parts and not frame.parts.keys() & {"rows", "times", "steps"}
    if alone and following.verb == "decrease" and {"end", "rows"} <= following.parts.keys():
        frame.parts["rows"] = following.parts["rows"]
        following.parts["rows"] = [Part("last_rows", following.span)]


def _one_for_each_row(run: Sequence[Frame]) -> bool:
    """Say whether rows are counted as many as the numbers: "at beg of next 3 WS rows BO 7, 6 and 6 sts"."""
    rows = run[0].one("rows")
    if rows is None or rows.kind not in ("next_side_rows", "foll_side_rows", "foll_alt_rows"):
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
