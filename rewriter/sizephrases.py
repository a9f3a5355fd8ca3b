"""Phrases a size in brackets behind that of the first size: "twice (3 times)", "8 sts (10 yrs-9 sts)"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.amounts import Amount
from rewriter.parsing import Part
from rewriter.slots import COUNTS, SLOTS
from rewriter.spans import Span

Told = tuple[str, Part]
"""A part and the slot that it fills."""


def with_next_sizes(
    told: Sequence[Told], inner: Sequence[Part], known: bool, sizes: int = 0
) -> tuple[str, Part, Part] | None:
    """Return the slot, the part of the first size told last, and that part with the sizes in brackets.

    None where what stands in the brackets is no phrase a size. A count alone in brackets is one only
    where the sentence has such phrases already (`known`), or names its size ("(Size 16-8 sts)"), or where
    there are as many counts as the sentence has `sizes`: "9 sts (10 sts: 11 sts)".
    """
    if not told or not inner:
        return None
    phrases = [_of_size(phrase) for phrase in _phrases(inner)]
    slot, last = _told_a_size(told, phrases)
    if slot not in ("count", "times", "rows", "extent"):
        return None
    values = _values_of(last)
    known = known or (slot in ("count", "extent") and 1 + len(phrases) == sizes)
    if values is None:
        return None
    for one, named in phrases:
        if one is None:
            return None
        alike = SLOTS.get(one.kind) == slot
        counted = slot in ("count", "extent") and one.kind in COUNTS | {"left_count"}
        sure = named or known or slot in ("times", "rows")
        more = _values_of(one)
        if not (alike or counted) or not sure or more is None:
            return None
        values += more
    merged = replace(
        last,
        kind="times" if slot == "times" else last.kind,
        concept="" if slot == "times" else last.concept,
        amount=Amount(values, Span(last.span.start, inner[-1].span.end)),
    )
    return slot, last, merged


def _told_a_size(told: Sequence[Told], phrases: Sequence[tuple[Part | None, bool]]) -> Told:
    """Return the part for which phrases a size are told: the nearest, or the count they name.

    "6 sts at beg of next 4 rows (10 yrs-7 sts)" tells sts behind the rows.
    """
    nearest = told[-1]
    if all(named and one is not None and one.kind == "count" for one, named in phrases):
        counts = [(s, p) for s, p in told if s == "count"]
        return counts[-1] if counts else nearest
    return nearest


def _values_of(part: Part) -> tuple[int | None, ...] | None:
    if part.amount is not None:
        return part.amount.values
    return (int(part.concept),) if part.kind in ("once", "times") else None


def _phrases(inner: Sequence[Part]) -> list[list[Part]]:
    """Cut what stands in brackets into one phrase a size: "3 times-3 times", "10 yrs-7 sts; 12 yrs-7 sts"."""
    named = any(p.kind in ("size", "residue") for p in inner)
    cuts = ("link",) if named else ("link", "dash", "colon")
    out: list[list[Part]] = [[]]
    for part in inner:
        if part.kind in cuts:
            out.append([])
        else:
            out[-1].append(part)
    return [phrase for phrase in out if phrase]


def _of_size(phrase: Sequence[Part]) -> tuple[Part | None, bool]:
    """Return what a phrase tells of its size, and whether it names the size."""
    solid = [p for p in phrase if p.kind not in ("dash", "colon", "stop", "filler")]
    if len(solid) < 2:
        return (solid[0] if solid else None), False
    if all(p.kind == "size" or p.concept == "larger" for p in solid[1:]):
        return solid[0], True
    label, told = solid[:-1], solid[-1]
    dashed = any(p.kind == "dash" for p in phrase)
    sized = all(p.kind in ("size", "bare_count", "residue") for p in label) and any(
        p.kind == "bare_count" for p in label
    )
    return (told, True) if dashed and sized else (None, False)
