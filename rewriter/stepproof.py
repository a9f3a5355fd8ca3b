"""Prove that stepped text makes the fabric of the short rows it takes the place of.

The revised draft is read again as a whole; the stepped passage found in the place of the new text must
have the planned steps, on the planned side, and every column must have the height that it had.
"""

from __future__ import annotations

from rewriter.fabric import FabricError, knit
from rewriter.halves import DividedShaping
from rewriter.reading import Draft
from rewriter.revise import Revision
from rewriter.rows import OTHER_SIDE, Edge
from rewriter.shapingmodel import Shaping
from rewriter.sloped import SlopedShaping
from rewriter.slopedhalves import SlopedDivided
from rewriter.spans import Span
from rewriter.twin import Steps
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
    lead_in, moves = found[0].lead_in, revision.plan.moves_lead_in
    if moves and (lead_in.obstacle is not None or lead_in.doubt is not None):
        raise NotProven("the row before the first bind-off is not clear in the new text")
    new = _from_row_before(new, old, moves)
    if new.first_side != old.first_side:
        raise NotProven(
            f"the first bind-off row would be a {new.first_side} row, not a {old.first_side} row"
        )
    if isinstance(old, SlopedDivided):
        if not isinstance(new, DividedShaping):
            raise NotProven("the new text is not read as a divided shoulder")
        return [_prove_halves(old, new, size) for size in range(len(old.rows))]
    if not isinstance(old, SlopedShaping):
        raise NotProven("the short rows were not read")
    return [_prove_size(old, new, size) for size in range(len(old.rows))]


def _from_row_before(new: Shaping, old: Shaping, moves: bool) -> Shaping:
    """Number rows as the plan does where the passage read again begins with the row before."""
    begins = min(s.rows[0] for s in old.edges[0])
    if moves or isinstance(new, DividedShaping):
        return new
    if min(s.rows[0] for s in new.edges[0]) != begins + 1:
        return new
    return new.model_copy(
        update={
            "rows": tuple(rows[1:] for rows in new.rows),
            "edges": tuple(
                tuple(_one_row_later(s, new.first_side is None) for s in edges)
                for edges in new.edges
            ),
            "first_side": None if new.first_side is None else OTHER_SIDE[new.first_side],
        }
    )


def _one_row_later(steps: Steps, stands_in: bool) -> Steps:
    """Count from one row later; an edge that merely stands in for an unknown one changes with it."""
    other: Edge = "left" if steps.edge == "right" else "right"
    edge = other if stands_in else steps.edge
    return Steps(edge, tuple(r - 1 for r in steps.rows), steps.sts)


def _prove_halves(old: SlopedDivided, new: DividedShaping, size: int) -> Proof:
    """Work both halves; the dividing row must turn on the same row."""
    if new.dividing_row != old.dividing_row:
        raise NotProven("the new text divides on another row")
    if None not in (old.neck[size], new.neck[size]) and old.neck[size] != new.neck[size]:
        raise NotProven(f"{new.neck[size]} sts are the neck's, {old.neck[size]} were planned")
    one = _prove_size(old.first, new.first, size)
    two = _prove_size(old.second, new.second, size)
    return Proof(True, (*one.edge_rows_gained, *two.edge_rows_gained), 0, 0)


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
