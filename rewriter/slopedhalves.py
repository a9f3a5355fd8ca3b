"""A shoulder in short rows that is divided at the neck, and the steps of its two halves.

Each half is a one-edged shoulder of its own, as in `halves.py`: its steps follow from its own fabric.
"""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.counts import count_before
from rewriter.dividing import Divided
from rewriter.doubt import Unread
from rewriter.halfrows import centre_of, half_rows
from rewriter.halves import DividedShaping, side_told
from rewriter.leadmodel import LeadIn
from rewriter.passages import Passage
from rewriter.rows import OTHER_SIDE, Kind, Row, Side, edge_of_beginning, side_of
from rewriter.sizes import Sizes
from rewriter.sloped import SlopedShaping
from rewriter.spans import Span
from rewriter.untwin import NoSteps, untwin


class SlopedDivided(DividedShaping):
    """A divided shoulder in short rows; `rows` and `edges` are those of the steps that make its fabric."""

    first: SlopedShaping
    second: SlopedShaping

    @property
    def live(self) -> bool:
        """Whether the shoulders were kept live."""
        return self.first.live


def read_sloped_divided(
    passage: Passage, parts: Divided, lead_in: LeadIn, sizes: Sizes, answer: Side | None
) -> SlopedDivided:
    """Build the model of a divided shoulder in short rows; raises Unread."""
    count = len(sizes)
    halves = [half_rows(parts, i, count, -1, True) for i in range(count)]
    at = {_dividing_index(half[0]) for half in halves}
    if len(at) > 1:
        raise Unread("sizes-differ", "the sizes do not divide on the same row", parts.dividing.span)
    number = at.pop() - 1
    told = side_told(parts, lead_in, halves)
    first_side = answer or (OTHER_SIDE[told] if told is not None else None)
    begins = side_of(number, first_side or "RS") or "RS"
    one = _half([h[0] for h in halves], begins, first_side, passage)
    two = _half([h[1] for h in halves], OTHER_SIDE[begins], first_side, passage)
    centre = [centre_of(parts, i, count) for i in range(count)]
    neck = tuple(
        None if c is None else c + one.off_at_neck(i) + two.off_at_neck(i)
        for i, c in enumerate(centre)
    )
    stitches = tuple(
        None if n is None else n + one.total(i) + two.total(i) for i, n in enumerate(neck)
    )
    before = count_before(passage, count)
    for i, whole in enumerate(stitches):
        if before is not None and whole not in (None, before[0][i]):
            raise Unread(
                "sums",
                f"{whole} sts are worked here, but {before[0][i]} are on the needle",
                before[1],
                (i,),
            )
    return SlopedDivided(
        rows=one.rows,
        edges=tuple((a[0], b[0]) for a, b in zip(one.edges, two.edges, strict=True)),
        first_side=first_side,
        ending="used up",
        neck=neck,
        stitches=stitches if before is None else before[0],
        last_on_return_row=False,
        ending_from=len(passage.statements),
        first=one,
        second=two,
        dividing_row=number,
        until=tuple(h[2] for h in halves),
        parts=parts,
    )


def _dividing_index(rows: Sequence[Row]) -> int:
    """Return the index of the dividing row: the one that counts the sts on the right needle."""
    found = [i for i, row in enumerate(rows) if row.until is not None]
    if not found or found[0] < 1:
        raise Unread("dividing-row", "the dividing row is not understood", _span(rows[0]))
    return found[0]


def _span(row: Row) -> Span:
    return row.span or Span(0, 0)


def _half(
    halves: Sequence[Sequence[Row]], begins: Side, first_side: Side | None, passage: Passage
) -> SlopedShaping:
    """Return the one-edged model of a half whose armhole rows are of side `begins`."""
    edge = edge_of_beginning(begins)
    start = edge_of_beginning(OTHER_SIDE[first_side or "RS"])
    twins, needle, live = [], [], False
    for size, rows in enumerate(halves):
        last = rows[-1]
        act = last.acts[0]
        total = act.n if act.n is not None else last.claim
        if act.kind not in (Kind.BIND_OFF, Kind.HOLD) or total is None:
            raise Unread(
                "last-step-unknown",
                "how many sts does this side have in all?",
                _span(last),
                (size,),
            )
        live = act.kind is Kind.HOLD
        stitches = total + sum(row.off_at_neck for row in rows)
        try:
            twins.append(untwin(rows, stitches, start, {edge: total}, live))
        except NoSteps as reason:
            raise Unread(
                "no-exact-steps", f"no steps make this fabric: {reason}", passage.span, (size,)
            ) from None
        needle.append(stitches)
    if len({len(twin.rows) for twin in twins}) > 1:
        raise Unread(
            "sizes-differ",
            "the sizes of this divided shoulder have different numbers of rows",
            passage.span,
        )
    return SlopedShaping(
        rows=tuple(t.rows for t in twins),
        edges=tuple(t.edges for t in twins),
        first_side=first_side,
        ending="used up",
        neck=(0,) * len(twins),
        stitches=tuple(needle),
        last_on_return_row=False,
        ending_from=0,
        sloped=tuple(tuple(rows) for rows in halves),
        needle=tuple(needle),
        live=live,
        gained=tuple(t.gained for t in twins),
        neck_gained=tuple(t.neck_gained for t in twins),
    )
