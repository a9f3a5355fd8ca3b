"""Prove that stepped text makes the fabric of the short rows it takes the place of.

The revised draft is read again as a whole; the stepped passage found in the place of the new text must
have the planned steps, on the planned side, and every column must have the height that it had.
"""

from __future__ import annotations

from rewriter.fabric import FabricError, knit
from rewriter.reading import Draft
from rewriter.revise import Revision
from rewriter.shaping import Shaping
from rewriter.sloped import SlopedShaping
from rewriter.spans import Span
from rewriter.untwin import NoSteps, compare, zip_edges
from rewriter.verify import NotProven, Proof


def prove_steps(revision: Revision, reread: Draft, place: Span) -> list[Proof]:
    """Work the short rows and the steps of every size; raises NotProven with the reason.

    `place` is where the new text stands in the draft that was read again.
    """
    old = revision.shaping
    found = [
        f
        for f in reread.findings
        if f.passage.span.start < place.end and f.passage.span.end > place.start
    ]
    if any(p.span.start < place.end and p.span.end > place.start for p in reread.short_rows):
        raise NotProven("rows of the new text still turn")
    if len(found) != 1:
        raise NotProven("the new text is not read as one stepped shoulder")
    new = found[0].shaping
    if new is None:
        unread = found[0].unread
        raise NotProven(f"reading it again: {unread.message if unread else 'not understood'}")
    if found[0].kind != "shoulder":
        raise NotProven(f"the new text is read as {found[0].kind} steps")
    if found[0].lead_in.obstacle is not None or found[0].lead_in.doubt is not None:
        raise NotProven("the row before the first bind-off is not clear in the new text")
    if new.first_side != old.first_side:
        raise NotProven(
            f"the first bind-off row would be a {new.first_side} row, not a {old.first_side} row"
        )
    if not isinstance(old, SlopedShaping):
        raise NotProven("the short rows were not read")
    return [_prove_size(old, new, size) for size in range(len(old.rows))]


def _prove_size(old: SlopedShaping, new: Shaping, size: int) -> Proof:
    if new.edges[size] != old.edges[size]:
        raise NotProven("the steps read again are not those planned")
    if None not in (old.neck[size], new.neck[size]) and old.neck[size] != new.neck[size]:
        raise NotProven(f"{new.neck[size]} sts are left, {old.neck[size]} were planned")
    if new.ending != old.ending:
        raise NotProven("the sts beside the shoulders do not end as they did")
    stitches, begins = old.needle[size], old.begins()
    gained = old.gained[size]
    try:
        sloped = knit(stitches, old.sloped[size], begins)
        neck = compare(
            sloped,
            new.rows[size],
            stitches,
            begins,
            old.shoulders(size),
            dict(zip_edges(old.edges[size], gained)),
        )
    except (NoSteps, FabricError) as reason:
        raise NotProven(str(reason)) from None
    if neck != old.neck_gained[size]:
        raise NotProven(f"the sts beside the shoulders gain {neck} rows")
    return Proof(True, gained, neck, neck if old.two_edged else gained[0])
