"""The model of a shoulder in short rows: its rows as they are read, and the steps that make its fabric.

The rows come from the reader, however they were worded. Which sts belong to which shoulder follows
from what ends them: the sweep at the beginning of a row, or the counts of what is held. The steps then
follow from the fabric (`untwin.py`). What cannot be told raises `Unread`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.counts import check_counts, count_before
from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.interpret import read_rows
from rewriter.leadmodel import LeadIn
from rewriter.neckrows import both_sides_at_once
from rewriter.passages import Passage
from rewriter.rows import OTHER_SIDE, Edge, Kind, Row, Side, edge_of_beginning
from rewriter.runs import takes_all_sts
from rewriter.shapingmodel import Shaping
from rewriter.sides import Sized, settle_side
from rewriter.sizes import Sizes
from rewriter.slopedends import Ends, ends_of, turns_at_edge, worked
from rewriter.untwin import NoSteps, SteppedTwin, untwin
from rewriter.verify import UNKNOWN_NECK


class SlopedShaping(Shaping):
    """A shoulder in short rows; `rows` and `edges` are those of the steps that make its fabric."""

    sloped: tuple[tuple[Row, ...], ...]
    """The short rows of each size as read, from row -1 on."""
    needle: tuple[int, ...]
    """Stitches on the needle of each size, a number that stands in where it is not known."""
    live: bool
    """The shoulders were kept live."""
    gained: tuple[tuple[int, ...], ...]
    """Rows that each shoulder gains, per size, in the order of the edges."""
    neck_gained: tuple[int, ...]
    """Rows that the sts beside the shoulders gain, per size."""

    @property
    def begins_with_turn(self) -> bool:
        """Whether row -1 turns before its end, in some size."""
        return any(own[0].has(Kind.TURN) for own in self.sloped)

    def shoulders(self, size: int) -> dict[Edge, int]:
        """Return the sts of each shoulder of one size by its edge."""
        return {steps.edge: steps.total for steps in self.edges[size]}


def whole_passage(passage: Passage) -> Passage:
    """Return a sloped passage with the sentences up to those that end its sts, and none after them.

    The third row of a back kept live turns at its neck, and the sts that it leaves are ended after it.
    Sts of the centre that wait for a neckband belong to no shoulder at one edge.
    """
    told = passage.statements
    for place, statement in enumerate(told):
        centre = any(f.verb == "hold" and f.edge == "neck" for f in statement.frames)
        if centre and sum(_sweeps(s) for s in told[:place]) == 1:
            return replace(passage, statements=told[:place], follows=told[place:])
    if takes_all_sts(told[-1]):
        return passage
    more = passage.follows[:3]
    third = [f.verb for f in more[0].frames if f.verb] if more else []
    if third[:2] != ["work", "turn"]:
        return passage
    for place, statement in enumerate(more):
        if any(f.verb == "hold" and "holder" in f.parts for f in statement.frames):
            added = more[: place + 1]
            return replace(
                passage, statements=[*told, *added], follows=passage.follows[place + 1 :]
            )
    return passage


def _sweeps(statement: Statement) -> bool:
    return any(f.verb == "bind_off" and f.edge != "neck" for f in statement.frames)


def read_sloped(
    passage: Passage, lead_in: LeadIn, sizes: Sizes, answer: Side | None = None
) -> SlopedShaping:
    """Build the model of a whole passage in short rows and find its steps; raises Unread.

    `answer` is the side of the first bind-off row as the reader gave it.
    """
    count = len(sizes)
    statements = passage.statements
    before = count_before(passage, count)
    known = before[0] if before else (None,) * count
    at_once = both_sides_at_once(passage)
    rows = [read_rows(statements, i, count, known[i], at_once=at_once) for i in range(count)]
    return sloped_shaping(rows, passage, statements, lead_in, sizes, known, answer)


def sloped_shaping(
    rows: Sequence[Sequence[Row]],
    passage: Passage,
    statements: Sequence[Statement],
    lead_in: LeadIn,
    sizes: Sizes,
    known: Sequence[int | None],
    answer: Side | None,
) -> SlopedShaping:
    """Build the model from the rows of each size; `known` are the sts on the needle before them."""
    turning = {i % 2 for own in rows for i, row in enumerate(worked(own)) if turns_at_edge(row)}
    if not turning:
        raise Unread("no-turns", "no row stops before its edge and turns", passage.span)
    two_edged = len(turning) == 2
    if not two_edged:
        rows = [_with_neck(own, next(iter(turning))) for own in rows]
    sized = [Sized(worked(own), {(p + 1) % 2: [((p + 1) % 2, 1)] for p in turning}) for own in rows]
    minus_one = (
        OTHER_SIDE[answer]
        if answer is not None
        else settle_side(passage, lead_in, two_edged, sized)[0]
    )
    begins = edge_of_beginning(minus_one or "WS")
    twins, ends, needle = [], [], []
    for i, own in enumerate(rows):
        end = ends_of(own, turning, passage, statements, known[i], i)
        beside = end.neck if end.neck is not None else UNKNOWN_NECK
        off = sum(row.off_at_neck for row in own)
        stitches = sum(end.shoulders) + off + beside
        of_one_side = end.neck == 0 and 2 * (known[i] or 0) == stitches
        if end.neck is not None and known[i] not in (None, stitches) and not of_one_side:
            raise Unread(
                "sums",
                f"{stitches} sts are worked here, but {known[i]} are on the needle",
                passage.span,
                (i,),
            )
        twins.append(_twin(own, stitches, begins, turning, end, passage, i))
        ends.append(end)
        needle.append(stitches)
    if not ends[0].live:  # of sts that are held the rows print no counts
        edges, necks = [t.edges for t in twins], [e.neck for e in ends]
        check_counts(rows, edges, necks, passage, None, sizes)
    first = OTHER_SIDE[minus_one] if minus_one is not None else None
    return SlopedShaping(
        rows=tuple(t.rows for t in twins),
        edges=tuple(t.edges for t in twins),
        first_side=first,
        ending=ends[0].ending,
        neck=tuple(e.neck for e in ends),
        stitches=tuple(
            s if e.neck is not None else k for s, e, k in zip(needle, ends, known, strict=True)
        ),
        last_on_return_row=False,
        ending_from=ends[0].ending_from,
        sloped=tuple(tuple(own) for own in rows),
        needle=tuple(needle),
        live=ends[0].live,
        gained=tuple(t.gained for t in twins),
        neck_gained=tuple(t.neck_gained for t in twins),
        on_two_balls=two_edged
        and both_sides_at_once(passage)
        and ends[0].ending == "open"
        and all(e.neck == 0 for e in ends),
    )


def _twin(
    rows: Sequence[Row],
    stitches: int,
    begins: Edge,
    turning: set[int],
    end: Ends,
    passage: Passage,
    size: int,
) -> SteppedTwin:
    other: Edge = "left" if begins == "right" else "right"
    # rows of even index begin at `begins` and end at the other edge
    ends_at = {0: other, 1: begins}
    edges = [ends_at[p] for p in sorted(turning, reverse=True)]
    shoulders = dict(zip(edges, end.shoulders, strict=True))
    try:
        return untwin(rows, stitches, begins, shoulders, end.live)
    except NoSteps as reason:
        raise Unread(
            "no-exact-steps", f"no steps make this fabric: {reason}", passage.span, (size,)
        ) from None


def _with_neck(rows: Sequence[Row], turning: int) -> list[Row]:
    """Mark the bind-offs of rows that begin at the neck: they are those that turn at the other edge."""
    out, index = [], 0
    for row in rows:
        binds = len(row.acts) > 1 and row.acts[0].kind is Kind.BIND_OFF
        neck = binds and index % 2 == turning
        out.append(replace(row, edge="neck") if neck else row)
        index += row.passes
    return out
