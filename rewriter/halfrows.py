"""The rows of each half of a divided shoulder, from its first row to its last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.dividing import Divided, goes_on_rejoining
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.interpret import read_rows
from rewriter.rowframes import side_named
from rewriter.rows import PLAIN, WORK_ALL, Kind, Row, Side
from rewriter.twoballs import both_halves

Rows = list[Row]


def half_rows(
    parts: Divided, size: int, sizes: int, number: int, written_out: bool
) -> tuple[Rows, Rows, int]:
    """Return the rows of each half of one size from its first row, and the count of the dividing row.

    `number` is the number of the first row; `written_out` says that the second side must be.
    Raises Unread.
    """
    common = read_rows(parts.common, size, sizes)
    dividing, until = dividing_row(parts, size, sizes)
    first: Rows
    second: Rows
    rejoin = _rejoin(parts, size, sizes)
    if parts.at_once:
        first, second = both_halves(parts, size, sizes)
    elif parts.held_first:
        # the second half is finished first
        second = read_rows(parts.first, size, sizes, dividing=True)
        taken = _taken_up(parts, size, sizes)
        if parts.second:
            first = [*taken, *read_rows(parts.second, size, sizes, dividing=True)]
        elif written_out:
            raise Unread("rejoin-unclear", "the other side is not written out", parts.dividing.span)
        else:
            first = [*taken, *_told_by_other(second, taken, parts)]
    else:
        first = read_rows(_from_the_turn(parts.first), size, sizes, dividing=True)
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


def half_at_neck(told: Sequence[Statement], size: int, sizes: int, behind: bool) -> Rows:
    """Return the rows of one half that lie `behind` the dividing row, or lead up to it; raises Unread."""
    rows = read_rows(_from_the_turn(told) if behind else told, size, sizes, dividing=True)
    return _at_neck(rows, 1 if behind else -len(rows), 0)


def _from_the_turn(told: Sequence[Statement]) -> Sequence[Statement]:
    """Return the sentences of a side behind its dividing row, the first row taken to go to its end.

    It begins at the neck: "Cast off 4, patt back" goes back to the armhole, and is one row.
    """
    at = next((i for i, s in enumerate(told) if any(f.verb for f in s.frames)), None)
    if at is None or [f.verb for f in told[at].frames] != ["bind_off", "back_row"]:
        return told
    step, back = told[at].frames
    if back.parts or step.takes_all or step.parts.keys() & {"rows", "beg"}:
        return told
    row = replace(told[at], frames=[step, replace(back, verb="work")])
    return [*told[:at], row, *told[at + 1 :]]


def _told_by_other(second: Rows, taken: Rows, parts: Divided) -> Rows:
    """Return the rows of a held half behind that of the rejoining, told by the half finished first.

    That half bound off its first step, then at the neck; the held half did the one in the dividing row,
    and does the other as the yarn is rejoined. Raises Unread where the two rows do not agree.
    """
    heads = [row.acts[0] for row in (*second[1:2], *taken) if row.acts]
    if len(heads) != 2 or heads[0] != heads[1] or heads[0].kind is not Kind.BIND_OFF:
        raise Unread(
            "rejoin-unclear",
            "the rows of the other side are told by those of this one, but do not begin as they do",
            parts.dividing.span,
        )
    return [_turned_round(row) for row in second[2:]]


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


def dividing_row(parts: Divided, size: int, sizes: int) -> tuple[Row, int]:
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
