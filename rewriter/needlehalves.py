"""The two sides of a divided neck on one needle: the rows they share, and what waits for the other side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.dividing import Divided
from rewriter.needlemodel import NeedleRow, Shoulder


def sides_of(
    one: Shoulder,
    two: Shoulder,
    *,
    divides: int,
    whole: int | None,
    centre_later: bool,
    parts: Divided,
) -> list[Shoulder]:
    """Return both sides in the order in which they are finished, each with the rows told of it.

    `one` and `two` have all their rows; `divides` is the number of the dividing row, `whole` counts
    the sts before all rows. `centre_later` says that the words that rejoin the yarn take off the centre.
    """
    centre = None
    if whole is not None and one.stitches is not None and two.stitches is not None:
        centre = whole - one.stitches - two.stitches
    if parts.held_first:  # the dividing row goes on over the second half, which is finished first
        one, two = two, one
    last = divides + parts.held_first  # the first row of each side alone
    shared = [both(a, b, centre) for a, b in zip(_until(one, last), _until(two, last), strict=True)]
    if parts.held_first and centre is not None:
        a, b = _until(one, last)[-1], _until(two, last)[-1]
        divided = replace(both(a, b, 0), on_needle=a.on_needle)
        shared[-1] = _also_off(divided, (two.stitches or 0) + centre)
    first, second = _own(one, last), _own(two, last)
    if not parts.held_first and centre is not None:
        first = _first_off(first, centre if parts.at_once else centre + (two.stitches or 0))
        second = _first_off(second, centre if centre_later and not parts.at_once else 0)
    start = min((row.number for row in shared), default=divides)
    one, two = (
        replace(side, divides=divides - start, at_once=parts.at_once, whole=whole)
        for side in (one, two)
    )
    return [
        replace(one, half="first side", rows=(*shared, *first)),
        replace(two, half="second side", rows=tuple(second), notes=()),
    ]


def both(a: NeedleRow, b: NeedleRow, centre: int | None) -> NeedleRow:
    """Return a row worked over both sides, with `centre` sts between them."""
    known = a.worked is not None and b.worked is not None and centre is not None
    live = a.on_needle is not None and b.on_needle is not None and centre is not None
    return replace(
        a if a.words else b,
        worked=(a.worked or 0) + (b.worked or 0) + (centre or 0) if known else None,
        off=a.off + b.off,
        behind=a.behind + b.behind,
        unworked=a.unworked + b.unworked,
        on_needle=(a.on_needle or 0) + (b.on_needle or 0) + (centre or 0) if live else None,
        shared=True,
    )


def in_one(first: Shoulder, second: Shoulder) -> tuple[NeedleRow, ...]:
    """Return the rows of two sides that go on at once, each row told and counted once.

    What is done between two rows, to one side alone, counts the sts of both.
    """
    out = [row for row in first.rows if row.shared]
    own = [(half, row) for half in (first, second) for row in half.rows if not row.shared]
    own.sort(key=lambda told: _order(told[1]))
    live: dict[str, int | None] = {}
    for at, (half, row) in enumerate(own):
        if row.does == "aside" and row.words in [r.words for _, r in own[at + 1 :]]:
            continue  # told among the rows of each side
        if row.does != "aside":
            live[half.half] = row.on_needle
        if row.label is not None and out and out[-1].label == row.label:
            out[-1] = both(out[-1], row, 0)
        else:
            out.append(row)
        whole = [n for n in live.values() if n is not None]
        known = len(whole) == len(live)
        out[-1] = replace(out[-1], on_needle=sum(whole) if known else None)
    return tuple(out)


def _order(row: NeedleRow) -> tuple[int, int]:
    """Return where a row stands: what is held before it comes first, what is told behind it last."""
    return row.number, 2 if row.does == "aside" else 0 if row.label is None else 1


def _until(side: Shoulder, last: int) -> list[NeedleRow]:
    return [r for r in side.rows if r.number < last and r.does != "aside"]


def _own(side: Shoulder, last: int) -> list[NeedleRow]:
    return [r for r in side.rows if r.number >= last or r.does == "aside"]


def _first_off(rows: Sequence[NeedleRow], off: int) -> list[NeedleRow]:
    """Add sts that are off the needle to the first row that is worked."""
    at = next((i for i, r in enumerate(rows) if r.label is not None), None)
    return [_also_off(row, off) if i == at else row for i, row in enumerate(rows)]


def _also_off(row: NeedleRow, off: int) -> NeedleRow:
    return replace(row, off=row.off + off)
