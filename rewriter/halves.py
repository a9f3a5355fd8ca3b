"""The model of a divided shoulder: two halves of the needle that share their first rows.

Each half is a one-edged shoulder of its own: its armhole edge is shaped, its neck edge keeps its
bind-offs and decreases where they are. Rows over the whole needle reach into both halves; what they
do at the far edge does not concern a half. So the rule of the twin is applied to each half by
itself, and each is proven by itself.
"""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.counts import count_before
from rewriter.dividing import Divided
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.halfrows import Rows, centre_of, half_rows
from rewriter.interpret import read_rows
from rewriter.leadmodel import LeadIn
from rewriter.passages import Passage
from rewriter.rowframes import side_named
from rewriter.rows import (
    OTHER_SIDE,
    PLAIN,
    Kind,
    Row,
    Side,
    bind_off,
    edge_of_beginning,
    side_of,
)
from rewriter.shapingmodel import Shaping
from rewriter.sizes import Sizes
from rewriter.spans import Span
from rewriter.twin import Steps


class DividedShaping(Shaping):
    """A shoulder divided at the neck; the edges are those of the first and the second half."""

    first: Shaping
    second: Shaping
    dividing_row: int
    """Number of the dividing row, and of the row in which the yarn is rejoined."""
    until: tuple[int, ...]
    """Stitches that the dividing row counts on the right needle, as the draft counts them."""
    parts: Divided


def read_divided(
    passage: Passage, parts: Divided, lead_in: LeadIn, sizes: Sizes, answer: Side | None
) -> DividedShaping:
    """Build the model of a divided shoulder; raises Unread with the reason where that cannot be."""
    count = len(sizes)
    before = count_before(passage, count)
    halves = [half_rows(parts, i, count, 0, False) for i in range(count)]
    at = {len(read_rows(parts.common, i, count)) for i in range(count)}
    if len(at) > 1:
        raise Unread("sizes-differ", "the sizes do not divide on the same row", parts.dividing.span)
    number = at.pop()
    first_side = answer or side_told(parts, lead_in, halves, number)
    stand_in = first_side or "RS"
    begins = side_of(number, stand_in) or "RS"
    one = half_shaping(halves, 0, begins, first_side, sizes)
    two = half_shaping(halves, 1, OTHER_SIDE[begins], first_side, sizes)
    for i in range(count):
        _check_until(one, halves[i][2], number, i, sizes, parts)
        _check_told(two, parts, i, count)
    centre = [centre_of(parts, i, count) for i in range(count)]
    neck = tuple(
        None if c is None else c + one.off_at_neck(i) + two.off_at_neck(i)
        for i, c in enumerate(centre)
    )
    stitches = tuple(
        None if n is None else n + one.total(i) + two.total(i) for i, n in enumerate(neck)
    )
    if before is not None:
        wrong = [i for i, s in enumerate(stitches) if s is not None and s != before[0][i]]
        if wrong:
            i = wrong[0]
            raise Unread(
                "sums",
                f"{one.total(i)} + {neck[i]} + {two.total(i)} = {stitches[i]}, but {before[0][i]} sts "
                f"are on the needle" + ("" if count == 1 else f" in size {sizes.labels[i]}"),
                before[1],
                tuple(wrong),
            )
        stitches = before[0]
    return DividedShaping(
        rows=one.rows,
        edges=tuple((a[0], b[0]) for a, b in zip(one.edges, two.edges, strict=True)),
        first_side=first_side,
        ending="used up",
        neck=neck,
        stitches=stitches,
        last_on_return_row=False,
        ending_from=len(passage.statements),
        first=one,
        second=two,
        dividing_row=number,
        until=tuple(h[2] for h in halves),
        parts=parts,
    )


def _first_step_told(parts: Divided) -> Frame | None:
    """Return the first step of the second side where the words that tell it by the first name it.

    "... then patt as for first side, starting with cast off 6 at the armhole edge on the wrong side"
    """
    told = parts.matching.frames if parts.matching is not None else ()
    return next((f for f in told if f.verb == "bind_off"), None)


def _check_told(two: Shaping, parts: Divided, size: int, sizes: int) -> None:
    """Refuse a second side told by the first whose first step is named, but with another number."""
    named = _first_step_told(parts)
    if named is None:
        return
    amount = named.amount
    if amount is None or amount.per_size(sizes)[size] != two.edges[size][0].sts[0]:
        raise Unread(
            "rejoin-unclear",
            "the second side does not begin with the steps of the first",
            named.span,
        )


def side_told(
    parts: Divided,
    lead_in: LeadIn,
    halves: Sequence[tuple[Rows, Rows, int]],
    number: int | None = None,
) -> Side | None:
    """Return the side of the first row of halves; raises Unread where the words contradict one another.

    `number` is that of the dividing row, where the second side may be told by the first.
    """
    told: set[Side] = set()
    named = _first_step_told(parts)
    if named is not None and number is not None and (part := named.one("side")) is not None:
        side = side_of(number + 1, side_named(part.side))
        told |= {side} if side is not None else set()
    for rows in (r for h in halves for r in h[:2]):
        for i, row in enumerate(rows):
            if row.side is not None and (side := side_of(i, row.side)) is not None:
                told.add(side)
    if lead_in.side is not None:
        told.add(OTHER_SIDE[lead_in.side])
    if len(told) > 1:
        raise Unread(
            "sides-contradict",
            "the lead-in, the dividing row and the rejoining do not agree about RS and WS",
            parts.dividing.span,
        )
    return told.pop() if told else None


def half_shaping(
    halves: Sequence[tuple[Rows, Rows, int]],
    which: int,
    begins: Side,
    first_side: Side | None,
    sizes: Sizes,
) -> Shaping:
    """Return the one-edged model of a half whose armhole rows are of side `begins`."""
    rows, edges = [], []
    for size, half in enumerate(halves):
        own = list(half[0] if which == 0 else half[1])
        steps = [
            (i, row.acts[0].n)
            for i, row in enumerate(own)
            if row.acts[0].kind is Kind.BIND_OFF and row.edge != "neck"
        ]
        last = own[-1]
        claim = last.claim if last.claim is not None else _printed_before(own)
        if not steps or steps[-1][0] != len(own) - 1:
            raise Unread(
                "last-step-unknown", "how this side ends is not clear", last.span or Span(0, 0)
            )
        sts = [n if n is not None else claim for _, n in steps]
        if any(n is None for n in sts):
            raise Unread(
                "last-step-unknown",
                "how many sts are in the last bind-off of this side?",
                last.span or Span(0, 0),
                (size,),
                "stitches",
            )
        parities = {i % 2 for i, _ in steps}
        if len(parities) > 1:
            raise Unread(
                "last-step-on-return-row",
                "the last step of a divided shoulder is bound off on the return row; such rows are "
                "not converted yet",
                last.span or Span(0, 0),
            )
        own[-1] = last.with_acts(bind_off(None))
        edges.append(
            (
                Steps(
                    edge_of_beginning(begins),
                    tuple(i for i, _ in steps),
                    tuple(n for n in sts if n is not None),
                ),
            )
        )
        rows.append((PLAIN, *own))
    return Shaping(
        rows=tuple(rows),
        edges=tuple(edges),
        first_side=first_side,
        ending="used up",
        neck=(0,) * len(sizes),
        stitches=tuple(
            steps[0].total + sum(r.off_at_neck for r in own)
            for steps, own in zip(edges, rows, strict=True)
        ),
        last_on_return_row=False,
        ending_from=0,
    )


def _printed_before(rows: Sequence[Row]) -> int | None:
    """Return the sts that the last row of a side binds off, by the last count that is printed before it."""
    at = max((i for i, row in enumerate(rows[:-1]) if row.printed is not None), default=None)
    if at is None:
        return None
    later = rows[at + 1 : -1]
    bound = sum(a.n or 0 for row in later for a in row.acts if a.kind is Kind.BIND_OFF)
    return (rows[at].printed or 0) - bound - sum(row.dec for row in later)


def _check_until(
    one: Shaping, until: int, number: int, size: int, sizes: Sizes, parts: Divided
) -> None:
    """Check the count of the dividing row: with the st left from binding off, or without it."""
    later = sum(
        n
        for row, n in zip(one.edges[size][0].rows, one.edges[size][0].sts, strict=True)
        if row > number
    )
    wanted = later + one.off_at_neck(size)
    if until not in (wanted, wanted - 1):
        where = "" if len(sizes) == 1 else f" in size {sizes.labels[size]}"
        raise Unread(
            "sums",
            f"{until} sts are counted on the right needle, but {wanted} are bound off after the turn"
            f"{where}",
            parts.dividing.span,
            (size,),
        )
