"""Decreases at the neck edge that fall in the rows of a shoulder.

They stay on the rows they are on. At which end of a row they stand follows from the rows around:
a row that begins by binding off at the shoulder ends at the neck, a row that turns begins there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.rows import WORK_ALL, Act, Kind, Row
from rewriter.spans import Span


def decreased_sts(frame: Frame, count: int | None) -> int:
    """Return how many sts a decrease takes away; raises Unread for one that is not at the neck."""
    if "each_side" in frame.parts or frame.edge in ("armhole", "shoulder", "side"):
        raise Unread(
            "shaping-in-the-rows",
            "decreases at the outer edge or at both edges among these rows are not converted",
            frame.span,
        )
    if frame.concept == "two":
        return 2
    return count if count is not None and frame.concept == "counted" else 1


def decrease_in_row(frame: Frame, row: Row, acts: Sequence[Act], n: int, source: str) -> Row:
    """Put a decrease into the row it is told in; raises Unread for a second one."""
    if row.dec:
        raise Unread("shaping-in-the-rows", "two decreases stand in one row", frame.span)
    if frame.concept == "counted":
        words = "" if frame.edge else _words(source, frame.start, frame.end)
        return replace(row, dec=n, dec_at="neck", dec_words=words if "edge" in words else "")
    worked = [a for a in acts if a.kind in (Kind.WORK, Kind.LEAVE)]
    words = _words(source, frame.start, frame.end)
    if not worked:
        if any(a.kind is Kind.BIND_OFF for a in acts):
            raise Unread(
                "shaping-in-the-rows", "this decrease stands at the outer edge", frame.span
            )
        return replace(row, dec=n, dec_at="start", dec_words=words)
    at_start = len(worked) == 1 and worked[0].kind is Kind.WORK and worked[0].n is not None
    return replace(row, dec=n, dec_at="start" if at_start else "end", dec_words=words)


def beside_decrease(row: Row, acts: list[Act], frames: Sequence[Frame], source: str) -> Row:
    """Fold the sts worked beside a decrease into it: "K to last 3 sts, K2tog, K1" is a row to the end.

    Changes `acts`; raises Unread where the numbers do not meet.
    """
    if not row.dec or not row.dec_words:
        return row
    at = next(i for i, f in enumerate(frames) if f.verb == "decrease")
    kinds = [a.kind for a in acts]
    if row.dec_at == "end" and Kind.LEAVE in kinds and Kind.TURN not in kinds:
        leave = kinds.index(Kind.LEAVE)
        beside = sum(a.n or 0 for a in acts[leave + 1 :] if a.kind is Kind.WORK)
        if (acts[leave].n or 0) != 2 * row.dec + beside:
            raise Unread(
                "shaping-in-the-rows",
                "the sts before the decrease and after it do not meet",
                row.span or _nowhere(),
            )
        acts[leave:] = [WORK_ALL]
        last = max(i for i, f in enumerate(frames) if f.verb in ("decrease", "work"))
        return replace(row, dec_words=_words(source, frames[at - 1].start, frames[last].end))
    if row.dec_at == "start" and acts and acts[0].kind is Kind.WORK and acts[0].n is not None:
        del acts[0]
        return replace(row, dec_words=_words(source, frames[at - 1].start, frames[at].end))
    return row


def _words(source: str, start: int, end: int) -> str:
    """Return the draft's words, in whatever lines they stand."""
    return " ".join(source[start:end].split())


def _nowhere() -> Span:
    return Span(0, 0)


def place_decreases(rows: list[Row]) -> list[Row]:
    """Settle at which end of its row each decrease stands; raises Unread where nothing tells."""
    if not any(row.dec_at == "neck" for row in rows):
        return rows
    ends_at_neck = _row_that_ends_at_neck(rows)
    out: list[Row] = []
    for i, row in enumerate(rows):
        if row.dec_at == "neck":
            if ends_at_neck is None:
                raise Unread(
                    "shaping-in-the-rows",
                    "at which end of the row is not clear",
                    row.span or _nowhere(),
                )
            row = replace(row, dec_at="end" if i % 2 == ends_at_neck else "start")
        out.append(row)
    return out


def _row_that_ends_at_neck(rows: Sequence[Row]) -> int | None:
    """Return the parity of the rows that end at the neck edge."""
    for i, row in enumerate(rows):
        if row.has(Kind.TURN):
            return (i + 1) % 2
        if (
            row.acts
            and row.acts[0].kind is Kind.BIND_OFF
            and len(row.acts) > 1
            and row.edge != "neck"
        ):
            return i % 2
    return None
