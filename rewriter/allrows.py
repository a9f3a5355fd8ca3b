"""Rows that begin at both edges by turns, told otherwise than as "next 6 rows"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from rewriter.amounts import Amount
from rewriter.frames import Frame
from rewriter.parsing import Part

BRACKETS = "brackets"
"""Concept of a repeat of what stands in brackets, so many times in all."""
_STEPS_ON = frozenset({"count", "beg", "rows"})
_OFTEN = _STEPS_ON | {"times", "total"}


def settle_rows(frames: Sequence[Frame], labelled: bool) -> list[Frame]:
    """Return the frames of a sentence with rows told as "next 6 rows" wherever they are those.

    Read are "at the start of each row over the next 6 rows", "at beg of next 2 rows 3 times", "6 rows,
    casting off 6 sts at beg of each", "work 6 rows, binding off 6 sts at beg of every row" and, where the row
    has a label, "work in patt, binding off 6 sts at beg".
    """
    settled: list[Frame] = []
    for frame in frames:
        before = settled[-1] if settled else None
        if before is not None and (rows := _told_in_two(before, frame)) is not None:
            before.parts["rows"] = [rows]
            before.end = frame.end
        elif before is not None and (ahead := _told_as_worked(before, frame)) is not None:
            frame.parts["rows"] = [ahead]
            frame.start = before.start
            settled[-1] = frame
        else:
            settled.append(frame)
    for frame in settled:
        _settle(frame)
    if labelled:
        for at, (before, frame) in enumerate(pairwise(settled)):
            plain = before.verb == "work" and not before.parts and not before.residue
            if plain and frame.verb == "bind_off" and frame.parts.keys() == {"count", "beg"}:
                settled[at : at + 2] = [frame, before]
                break
    return settled


def out_of_brackets(parts: Sequence[Part]) -> Sequence[Part]:
    """Return the parts of a sentence that begins with "(BO 6 sts at beg of next 2 rows) 3 times" without its
    brackets: their rows are told, and then repeated as often as that in all."""
    at = next((i for i, p in enumerate(parts) if p.kind not in ("filler", "colon", "link")), 0)
    if (
        len(parts) < at + 2
        or parts[at].kind != "paren"
        or parts[at + 1].kind not in ("times", "once")
    ):
        return parts
    inner = parts[at].inner
    if not any(p.kind == "bind_off" for p in inner):
        return parts
    again = Part("repeat", parts[at + 1].span, BRACKETS)
    return [*parts[:at], *inner, again, *parts[at + 1 :]]


def _settle(frame: Frame) -> None:
    """Settle the rows that one frame tells by itself."""
    rows, times = frame.one("rows"), frame.one("times")
    if frame.verb != "bind_off" or rows is None or rows.amount is None:
        return
    if len(frame.parts["rows"]) > 1:
        return
    if rows.kind == "next_rows" and times is not None and _STEPS_ON < frame.parts.keys() <= _OFTEN:
        often = times.amount.values if times.amount else (int(times.concept),)
        if set(rows.amount.values) == {
            2
        }:  # "at beg of next 2 rows 3 times": a pair of rows each time
            frame.parts["rows"] = [_next_rows(rows, [2 * (n or 0) for n in often])]
            del frame.parts["times"]
            frame.parts.pop("total", None)
    elif rows.kind == "some_rows" and frame.parts.keys() == _STEPS_ON and _of_each(frame):
        frame.parts["rows"] = [_next_rows(rows, rows.amount.values)]


def _of_each(frame: Frame) -> bool:
    """Say whether sts are bound off "at beg of each" of rows that are told before."""
    beg = frame.one("beg")
    return beg is not None and any(
        n.concept == "each" and n.span.start >= beg.span.end for n in frame.notes
    )


def _told_in_two(before: Frame, frame: Frame) -> Part | None:
    """Return the rows of two frames that tell the same steps, once their rows and once how many."""
    first, second = before.one("rows"), frame.one("rows")
    same = frame.verb == before.verb == "bind_off" and frame.inherited
    if not same or first is None or second is None or second.amount is None:
        return None
    if set(frame.parts) != {"count", "rows"} or set(before.parts) != _STEPS_ON or frame.residue:
        return None
    if frame.parts["count"] != before.parts["count"]:
        return None
    if first.kind == "every_row" and second.kind in ("next_rows", "some_rows"):
        return _next_rows(second, second.amount.values)
    return None


def _told_as_worked(before: Frame, frame: Frame) -> Part | None:
    """Return the rows of "work 6 rows, binding off 6 sts at beg of each", which are those of the steps."""
    rows, told = before.one("rows"), frame.one("rows")
    if before.verb != "work" or rows is None or rows.kind != "some_rows" or rows.amount is None:
        return None
    if not before.parts.keys() <= {"rows", "more"} or before.residue or frame.verb != "bind_off":
        return None
    if frame.inherited or not frame.parts.keys() <= _STEPS_ON or "beg" not in frame.parts:
        return None
    each = _of_each(frame) if told is None else told.kind == "every_row"
    return _next_rows(rows, rows.amount.values) if each else None


def _next_rows(rows: Part, values: Sequence[int | None]) -> Part:
    amount = rows.amount
    text, span = (amount.text, amount.span) if amount else ("", rows.span)
    return replace(
        rows, kind="next_rows", concept="next", side="", amount=Amount(tuple(values), span, text)
    )
