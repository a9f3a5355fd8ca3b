"""Chains: what an item of a chain takes over from the items around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise, takewhile

from rewriter.frames import Frame
from rewriter.parsing import Part

STEPPING = ("bind_off", "cast_on")
"""What is told in steps."""
_HOW_MANY = ("count", "steps")
_OF_A_STEP = frozenset({"count", "steps", "times", "rows", "beg", "edge", "each_side"})


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
    _place_first(run)
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
        # "9 sts, 8 sts and 8 sts, every second row", "... at both sides on every 2nd row"
        for slot in ("rows", "edge", "each_side"):
            if slot in run[-1].parts and not any(slot in f.parts for f in run[:-1]):
                first.parts[slot] = run[-1].parts.pop(slot)
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


def _place_first(run: Sequence[Frame]) -> None:
    """Place all steps where the last says: "on every 2nd row 7 + 8 sts are bound off at both sides"."""
    first, *between, last = run
    rows = first.one("rows")
    placed = last.parts.keys() - {"count"}
    bare = set(first.parts) == {"rows", "count"} and all(set(f.parts) == {"count"} for f in between)
    if bare and rows is not None and _steps_on(rows, first) and placed in ({"each_side"}, {"edge"}):
        for slot in placed:
            first.parts[slot] = last.parts.pop(slot)


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
    rows, count = following.one("rows"), following.one("count")
    if rows is None or rows.kind != "every_other":
        return False
    behind = count is not None and count.span < rows.span and "times" not in following.parts
    return edged and alone and not behind  # "at both edges 7 + 8 sts on every 2nd row": of both


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


def with_subject(frames: Sequence[Frame], verb: Part) -> list[Frame] | None:
    """Give a verb the sts that stand before it: "7 + 8 sts are bound off at each side on every 2nd row".

    Returns the frames with those sts as a chain of that verb, or None where they need nothing but the verb.
    What leads up to them stays a frame of its own: "when the armhole measures 14 cm, 7 + 8 sts are ...".
    """
    items = list(takewhile(_is_subject, reversed(frames)))[::-1]
    before = list(frames[: len(frames) - len(items)])
    lead = before[-1] if before else None
    if lead is not None and _leads_up(lead) and (items or lead.verb):
        before[-1], first = _parted(lead)
        items.insert(0, first)
    elif not items or (len(items) == 1 and not items[0].verb):
        return None
    for i, item in enumerate(items):
        item.verb, item.concept, item.inherited = verb.kind, verb.concept, i > 0
    return [*before, *items]


def _is_subject(frame: Frame) -> bool:
    told = frame.parts.keys()
    own = frame.verb and not frame.inherited
    return (
        bool(told & set(_HOW_MANY)) and told <= _OF_A_STEP and not own and not frame.inherited_count
    )


def _leads_up(frame: Frame) -> bool:
    """Say whether a frame tells a height or plain rows, and then sts that are no longer worked."""
    counted = [p for s in _HOW_MANY for p in frame.parts.get(s, [])]
    heights = [*frame.parts.get("measure", []), *frame.parts.get("rows", [])]
    told = frame.verb in ("", "measures", "work", "refer") and not frame.inherited
    return told and bool(counted) and any(h.span < counted[0].span for h in heights)


def _parted(lead: Frame) -> tuple[Frame, Frame]:
    """Part a frame where the height ends that leads up to its sts."""
    counted = min(p.span.start for s in _HOW_MANY for p in lead.parts.get(s, []))
    measured = [p.span.end for p in lead.parts.get("measure", []) if p.span.start < counted]
    at = max(measured, default=counted)
    ahead, behind = Frame(lead.verb, concept=lead.concept), Frame()
    for slot, parts in lead.parts.items():
        for part in parts:
            side = behind if part.span.start >= at else ahead
            side.parts.setdefault(slot, []).append(part)
    for frame, mine in ((ahead, False), (behind, True)):
        frame.notes = [n for n in lead.notes if (n.span.start >= at) == mine]
        frame.residue = [r for r in lead.residue if (r.span.start >= at) == mine]
    told = [p for parts in behind.parts.values() for p in parts]
    behind.start, behind.end = min(p.span.start for p in told), lead.end
    ahead.start, ahead.end = (
        lead.start,
        max([p.span.end for ps in ahead.parts.values() for p in ps]),
    )
    return ahead, behind


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
