"""Chains: what an item of a chain takes over from the items around it."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.frames import Frame
from rewriter.parsing import Part


def spread_cadence(frames: Sequence[Frame]) -> None:
    """Give the items of a chain the rows that are told once for all of them.

    "On every 2nd row: 8, 8, 7 sts" is one step for each number; "at arm edge bind off 6, then 6, then
    7" likewise; "2x9 and 1x8 sts on every 2nd row" tells the rows behind the last item.
    """
    for at, frame in enumerate(frames):
        if frame.verb != "bind_off" or frame.inherited:
            continue
        run = [frame]
        for later in frames[at + 1 :]:
            if not (later.inherited and later.verb == "bind_off"):
                break
            run.append(later)
        if len(run) == 1:
            continue
        _spread(run)


def _spread(run: Sequence[Frame]) -> None:
    first, *later = run
    timed = {"times", "steps"}
    if all(set(f.parts) == {"count"} for f in later) and not timed & set(first.parts):
        if _tells_rows_first(first) or _only_names_edge(first):
            for step in run:
                step.parts["times"] = [Part("once", step.span, "1")]
        return
    told = run[-1].one("rows")
    shared = told is not None and told.kind == "every_other"
    alone = all("rows" not in f.parts for f in run[:-1])
    if shared and alone and all(timed & set(f.parts) for f in run):
        first.parts["rows"] = run[-1].parts.pop("rows")


def _tells_rows_first(frame: Frame) -> bool:
    """Say whether the rows stand before the first count: "on every 2nd row: 8, 8, 7 sts"."""
    rows, count = frame.one("rows"), frame.one("count")
    if rows is None or count is None or rows.kind != "every_other":
        return False
    return rows.span < count.span


def _only_names_edge(frame: Frame) -> bool:
    """Say whether an outer edge is named and no rows: the rows between are implied."""
    return frame.edge in ("armhole", "shoulder", "side") and not frame.parts.keys() & {
        "rows",
        "beg",
    }
