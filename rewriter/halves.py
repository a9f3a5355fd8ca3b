"""The model of a divided shoulder: two halves of the needle that share their first rows.

Each half is a one-edged shoulder of its own: its armhole edge is shaped, its neck edge keeps its
bind-offs and decreases where they are. Rows over the whole needle reach into both halves; what they
do at the far edge does not concern a half. So the rule of the twin is applied to each half by
itself, and each is proven by itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.counts import count_before
from rewriter.dividing import Divided, goes_on_rejoining
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.interpret import read_rows
from rewriter.leadmodel import LeadIn
from rewriter.passages import Passage
from rewriter.rowframes import side_named
from rewriter.rows import (
    OTHER_SIDE,
    PLAIN,
    WORK_ALL,
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
from rewriter.twoballs import both_halves

Rows = list[Row]


class DividedShaping(Shaping):
    """A shoulder divided at the neck; the edges are those of the first and the second half."""

    first: Shaping
    second: Shaping
    dividing_row: int
    """Number of the dividing row, and of the row in which the yarn is rejoined."""
    until: tuple[int, ...]
    """Stitches that the dividing row counts on the right needle, as the draft counts them."""
    parts: Divided


def half_rows(
    parts: Divided, size: int, sizes: int, number: int, written_out: bool
) -> tuple[Rows, Rows, int]:
    """Return the rows of each half of one size from its first row, and the count of the dividing row.

    `number` is the number of the first row; `written_out` says that the second side must be.
    Raises Unread.
    """
    common = read_rows(parts.common, size, sizes)
    dividing, until = _dividing(parts, size, sizes)
    first: Rows
    second: Rows
    rejoin = _rejoin(parts, size, sizes)
    if parts.at_once:
        first, second = both_halves(parts, size, sizes)
    elif parts.held_first:
        # the second half is finished first
        second = read_rows(parts.first, size, sizes, dividing=True)
        first = [
            *_taken_up(parts, size, sizes),
            *read_rows(parts.second, size, sizes, dividing=True),
        ]
    else:
        first = read_rows(parts.first, size, sizes, dividing=True)
    at = number + len(common)
    if parts.at_once or parts.held_first:
        pass
    elif parts.second:
        second = read_rows(parts.second, size, sizes, dividing=True)
    elif written_out:
        raise Unread("rejoin-unclear", "the second side is not written out", parts.dividing.span)
    else:
        second = [_turned_round(row) for row in (dividing, *first)]
    begins = at % 2  # parity of the rows that begin at the first half's armhole edge
    half_one = [_of_half(row, (number + i) % 2 == begins) for i, row in enumerate(common)]
    half_two = [_of_half(row, (number + i) % 2 != begins) for i, row in enumerate(common)]
    half_one += [dividing, *_at_neck(first, at + 1, begins)]
    half_two += [rejoin, *_at_neck(second, at + 1, 1 - begins)]
    return half_one, half_two, until


def _turned_round(row: Row) -> Row:
    """Return a row of the first side as the second side works it, on the other side of the work.

    A decrease leans the other way there, and what was knit is purled: it is told by its edge alone.
    """
    words = row.dec_words if "edge" in row.dec_words else ""
    return replace(row, side=None, dec_words=words)


def _of_half(row: Row, begins_here: bool) -> Row:
    """Return what a row over the whole needle does in one half."""
    if begins_here:
        keeps = [a for a in row.acts if a.kind is Kind.BIND_OFF]
        return replace(row, acts=(*keeps, WORK_ALL), closes=row.closes and not row.has(Kind.TURN))
    acts = tuple(a for a in row.acts if a.kind is not Kind.BIND_OFF) or (WORK_ALL,)
    return replace(row, acts=acts, aid=False, printed=None)


def _at_neck(rows: Sequence[Row], number: int, begins: int) -> Rows:
    """Mark the bind-offs and place the decreases of rows that begin or end at the neck."""
    out = []
    for i, row in enumerate(rows):
        if row.dec_at == "neck":
            row = replace(row, dec_at="start" if (number + i) % 2 != begins else "end")
        head = row.acts[0] if row.acts else None
        binds = head is not None and head.kind is Kind.BIND_OFF and len(row.acts) > 1
        neck = binds and (number + i) % 2 != begins
        out.append(replace(row, edge="neck") if neck else row)
    return out


def _dividing(parts: Divided, size: int, sizes: int) -> tuple[Row, int]:
    frames = parts.dividing.frames
    turn = next((i for i, f in enumerate(frames) if f.verb == "turn"), len(frames))
    told = replace(
        parts.dividing, frames=[_in_this_row(frames[0]), *frames[1 : turn + 1]], running=[]
    )
    rows = read_rows([told], size, sizes, dividing=True)
    if len(rows) != 1 or rows[0].until is None:
        raise Unread("dividing-row", "this dividing row is not understood", parts.dividing.span)
    row, until = rows[0], rows[0].until
    if row.side is None and parts.dividing.label is None and (side := frames[0].one("side")):
        row = replace(row, side=side_named(side.side))
    head = [a for a in row.acts if a.kind is Kind.BIND_OFF]
    return replace(row, acts=(*head, WORK_ALL)), until


def _in_this_row(frame: Frame) -> Frame:
    """Return the bind-off of a dividing row without the words that name the row: "on the next row"."""
    rows = frame.one("rows")
    one = rows is None or (rows.kind in ("next_rows", "next_side_rows") and rows.amount is None)
    if frame.verb != "bind_off" or not one:
        return frame
    return replace(frame, parts={k: v for k, v in frame.parts.items() if k not in ("rows", "beg")})


def _rejoin(parts: Divided, size: int, sizes: int) -> Row:
    """Read the row in which the yarn is rejoined at the neck; it ends at the second armhole edge."""
    told = [st for st in parts.rejoining if any(f.verb == "join" for f in st.frames)]
    if parts.held_first:
        told = [parts.rejoining[0]]
    if not told and parts.matching is not None:
        return PLAIN  # "put the middle 22 sts on a thread, knit the other side in the same way"
    if len(told) != 1:
        raise Unread(
            "rejoin-unclear", "where the yarn is rejoined is not clear", parts.dividing.span
        )
    frames = [f for f in told[0].frames if f.verb in ("bind_off", "work", "turn")]
    last = parts.rejoining[-1]
    if last is not told[0] and goes_on_rejoining(last):
        frames += last.frames
    for frame in frames:
        if frame.residue or (frame.verb == "bind_off" and frame.takes_all):
            raise Unread("rejoin-unclear", "the rejoining row is not understood", frame.span)
    worked = [f for f in frames if f.verb != "bind_off"]
    if not worked and parts.matching is not None and parts.matching.sentence is told[0].sentence:
        row = PLAIN  # "rejoin yarn and work to match first side": the row goes to its end
    elif not any(f.verb == "work" for f in worked):
        raise Unread("rejoin-unclear", "the rejoining row does not work to the end", told[0].span)
    else:
        rows = read_rows([replace(told[0], frames=worked)], size, sizes)
        if len(rows) != 1:
            raise Unread("rejoin-unclear", "the rejoining row is not understood", told[0].span)
        row = rows[0]
    side = next((p for f in told[0].frames if (p := f.one("side")) is not None), None)
    facing: Side | None = None if side is None else "RS" if side.side == "RS" else "WS"
    return replace(row, side=facing)


def _taken_up(parts: Divided, size: int, sizes: int) -> Rows:
    """Return the row of the words that take a held half up again, if they work one."""
    joining = [st for st in parts.rejoining[1:] if any(f.verb == "join" for f in st.frames)]
    if len(joining) != 1 or not any(f.verb in ("work", "bind_off") for f in joining[0].frames):
        return []
    joined = joining[0]
    told = replace(joined, frames=[f for f in joined.frames if f.verb not in ("join", "hold")])
    return read_rows([told], size, sizes, dividing=True)


def centre_of(parts: Divided, size: int, sizes: int) -> int | None:
    """Return the sts bound off or held at the centre where the yarn is rejoined; None if not told."""
    for statement in parts.rejoining:
        for frame in statement.frames:
            if (
                frame.verb in ("bind_off", "hold")
                and frame.amount is not None
                and not frame.takes_all
            ):
                return frame.amount.per_size(sizes)[size]
    return None


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
    first_side = answer or side_told(parts, lead_in, halves)
    stand_in = first_side or "RS"
    begins = side_of(number, stand_in) or "RS"
    one = _half(halves, 0, begins, first_side, sizes)
    two = _half(halves, 1, OTHER_SIDE[begins], first_side, sizes)
    for i in range(count):
        _check_until(one, halves[i][2], number, i, sizes, parts)
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


def side_told(
    parts: Divided, lead_in: LeadIn, halves: Sequence[tuple[Rows, Rows, int]]
) -> Side | None:
    """Return the side of the first row of halves; raises Unread where the words contradict one another."""
    told: set[Side] = set()
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


def _half(
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
        claim = last.claim if last.claim is not None else None
        if not steps or steps[-1][0] != len(own) - 1:
            raise Unread(
                "last-step-unknown", "how this side ends is not clear", last.span or Span(0, 0)
            )
        if claim is None:
            claim = _left_by_count(own)
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


def _left_by_count(rows: Sequence[Row]) -> int | None:
    """Return the sts in the last bind-off by the last count printed before it: "BO all sts" says none."""
    left: int | None = None
    for row in rows[:-1]:
        head = row.acts[0]
        if row.printed is not None:
            left = row.printed
        elif left is not None:
            left -= row.dec + ((head.n or 0) if head.kind is Kind.BIND_OFF else 0)
    return left


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
