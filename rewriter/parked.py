"""Which of the sts on the needle are put on a holder, where others are worked after them.

For the check alone: people park the first shoulder in the middle of a row, or both ends of the needle
before the neck is bound off. Rows that end with all sts held stay as they were read. What cannot be
told surely raises `Unread`, for sums over a guess would be false.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.amounts import ListLengthError
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.rowframes import names_each_shoulder
from rewriter.rows import Act, Kind, Row
from rewriter.spans import Span

_HOLD_ALL = Act(Kind.HOLD)
_TAKES = (Kind.WORK, Kind.LEAVE, Kind.BIND_OFF)


def park(rows: Sequence[Row], statements: Sequence[Statement], size: int, sizes: int) -> list[Row]:
    """Return the rows with each holder holding its own sts; raises Unread."""
    out: list[Row] = []
    for number, row in enumerate(rows):
        goes_on = any(later.passes for later in rows[number + 1 :])
        told = _holders(row, statements)
        holds = [i for i, act in enumerate(row.acts) if act.kind is Kind.HOLD]
        inside = any(a.kind in _TAKES for a in row.acts[holds[0] + 1 :]) if holds else False
        if not (goes_on or inside):
            out.append(row)
            continue
        if len(told) != len(holds):
            _unclear(row, statements)
        acts = list(row.acts)
        for at, frame in reversed([*zip(holds, told, strict=True)]):
            after = any(a.kind in _TAKES for a in row.acts[at + 1 :])
            if row.acts[at] == _HOLD_ALL and (goes_on or after):
                acts[at : at + 1] = _part_of(row, at, frame, statements, size, sizes)
        row = row.with_acts(*acts)
        out.append(row if any(a == _HOLD_ALL for a in acts) else replace(row, claim=None))
    return _beyond(out)


def _part_of(
    row: Row, at: int, frame: Frame, statements: Sequence[Statement], size: int, sizes: int
) -> list[Act]:
    """Return what one holder takes, behind act `at` of its row."""
    n = _told(frame, size, sizes, statements, row)
    before = row.acts[at - 1] if at else None
    source = statements[row.statement].sentence.source
    rest = any(p.kind == "rem_count" for p in frame.parts.get("count", ()))
    if before is None:  # nothing is worked in this row: the sts at its beginning, or at both ends
        ends_told = names_both_ends(frame, source)
        bare = any(p.kind == "bare_count" for p in frame.parts.get("count", ()))
        if n is None or (not ends_told and (rest or bare)):  # not "the sts of one shoulder"
            _unclear(row, statements)
        ends = [Act(Kind.HOLD, n)]
        return [*ends, Act(Kind.PARK_FAR, n)] if ends_told else ends
    if names_both_ends(frame, source):
        _unclear(row, statements)
    if before.kind is Kind.WORK and before.n is not None:
        return [Act(Kind.PARK, n if n is not None else before.n)]
    if before.kind is Kind.BIND_OFF and before.n is not None and n is not None and not rest:
        return [Act(Kind.PARK_NEXT, n)]
    if before.kind is Kind.WORK and n is not None:
        return [Act(Kind.PARK, n)]  # "... p to end and leave these 22 sts on a holder"
    _unclear(row, statements)
    return []


def _beyond(rows: Sequence[Row]) -> list[Row]:
    """Let a row go on beyond the sts that it parks: "BO 21, place next 28 on a holder, BO rem 21".

    A bind-off between two holders, told by itself, leaves what the second one takes.
    """
    out: list[Row] = []
    parks = False
    for row in rows:
        last = out[-1] if out else None
        parked = last is not None and last.passes and last.acts[-1].kind is Kind.PARK_NEXT
        between = parks and last is not None and last.acts[-1:] and row.acts == (_HOLD_ALL,)
        if last is not None and between:
            parked = last.acts[-1].kind is Kind.BIND_OFF and last.acts[-1].n is not None
        parks = parks or any(a.kind is Kind.HOLD and a.n is not None for a in row.acts)
        if last is not None and parked and row.acts:
            joined = tuple(a for a in row.acts if a.kind is not Kind.JOIN)
            out[-1] = replace(
                last.with_acts(*last.acts, *joined), claim=row.claim, printed=row.printed
            )
            continue
        out.append(row)
    return out


def names_both_ends(frame: Frame, source: str) -> bool:
    """Say whether a holder's sts are told for both ends of the needle: "each shoulder", "first and last"."""
    told = any(n.concept in ("both_ends", "each") for n in frame.notes)
    return told or "each_side" in frame.parts or names_each_shoulder(frame, source)


def _holders(row: Row, statements: Sequence[Statement]) -> list[Frame]:
    """Return the frames of a row that put sts on holders, in the order of its acts."""
    if row.span is None or not 0 <= row.statement < len(statements):
        return []
    return [
        f
        for f in statements[row.statement].frames
        if f.verb == "hold" and "holder" in f.parts
        and row.span.start <= f.start < row.span.end
    ]  # fmt: skip


def _told(
    frame: Frame, size: int, sizes: int, statements: Sequence[Statement], row: Row
) -> int | None:
    if frame.amount is None:
        return None
    try:
        return frame.amount.per_size(sizes)[size]
    except ListLengthError:
        _unclear(row, statements)
        return None


def _unclear(row: Row, statements: Sequence[Statement]) -> None:
    home = statements[row.statement].span if 0 <= row.statement < len(statements) else Span(0, 0)
    raise Unread(
        "not-understood",
        "which sts go onto the holder here, and which stay on the needle, is not understood",
        row.span or home,
    )
