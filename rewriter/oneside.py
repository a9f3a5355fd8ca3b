"""One side of a neck told by itself: its dividing row, and its rows to the end.

"Cast off 6, K until there are 18 sts on right needle, turn", where the draft does not go on to the other
side: it stands on another page, or was cut off. The side is a shoulder at one edge whose first row is the
dividing row; what that row does beyond the turn is no part of it. Where words behind it lean on this side
("the other side to match") and are not followed, it is asked about, for they would be leaning on rows that
are gone.
"""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.dividing import Divided, is_dividing
from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.halfrows import dividing_row, half_at_neck
from rewriter.halves import half_shaping, side_told
from rewriter.leadmodel import LeadIn
from rewriter.onesidewords import leans_on_it
from rewriter.passages import Passage
from rewriter.rows import Row, Side
from rewriter.shapingmodel import Inferred, Shaping
from rewriter.sizes import Sizes

_OTHER_SIDE = Inferred(
    what="the other side of this neck is not told in this text",
    because="no words behind it speak of one",
)


class OneSideShaping(Shaping):
    """One side of a neck, whose first row divides the piece; the edge is its armhole edge."""

    dividing: Statement
    told: tuple[Statement, ...]
    """The sentences behind it."""
    until: tuple[int, ...]
    """Stitches that the dividing row counts on the right needle in each size, as the draft counts them."""


def read_one_side(
    passage: Passage, lead_in: LeadIn, sizes: Sizes, answer: Side | None, ahead: str
) -> OneSideShaping:
    """Build the model of one side; raises Unread with the reason where that cannot be.

    `ahead`: the words of its piece behind it, in lower case.
    """
    if leans_on_it(ahead):
        raise Unread(
            "rows-unclear",
            "the other side of this neck is not told in rows that are understood: write both sides out",
            passage.span,
        )
    count = len(sizes)
    parts = _parts(passage.statements)
    read = [one_side_rows(passage.statements, i, count) for i in range(count)]
    first_side = answer or side_told(parts, lead_in, [(rows, [], until) for rows, until in read])
    halves = [(rows, rows, until) for rows, until in read]
    one = half_shaping(halves, 0, first_side or "RS", first_side, sizes)
    for i, (_, until) in enumerate(read):
        wanted = one.edges[i][0].total - one.edges[i][0].sts[0] + one.off_at_neck(i)
        if until not in (wanted, wanted - 1):
            where = "" if count == 1 else f" in size {sizes.labels[i]}"
            raise Unread(
                "sums",
                f"{until} sts are counted on the right needle, but {wanted} are bound off after the turn"
                f"{where}",
                parts.dividing.span,
                (i,),
            )
    if len({len(rows) for rows in one.rows}) > 1:
        raise Unread(
            "sizes-differ",
            "the sizes of this side of the neck have different numbers of rows",
            passage.span,
        )
    told = {name: getattr(one, name) for name in Shaping.model_fields}
    return OneSideShaping(
        **told | {"ending_from": len(passage.statements), "inferred": (_OTHER_SIDE,)},
        dividing=parts.dividing,
        told=parts.first,
        until=tuple(until for _, until in read),
    )


def one_side_rows(statements: Sequence[Statement], size: int, sizes: int) -> tuple[list[Row], int]:
    """Return the rows of a side from its dividing row on, and the count of that row; raises Unread."""
    at = next((i for i, s in enumerate(statements) if is_dividing(s)), None)
    if at is None:
        raise Unread("dividing-row", "the dividing row is not understood", statements[0].span)
    parts = _parts(statements[at:])
    row, until = dividing_row(parts, size, sizes)
    lead = half_at_neck(statements[:at], size, sizes, behind=False)
    return [*lead, row, *half_at_neck(parts.first, size, sizes, behind=True)], until


def _parts(statements: Sequence[Statement]) -> Divided:
    return Divided((), statements[0], tuple(statements[1:]), (), (), None)
