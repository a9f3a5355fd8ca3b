"""The shaping model of cast-on shoulders: rows, steps, edges, sides and sums for every size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.castonrows import rows_of
from rewriter.castons import CastOnPassage
from rewriter.counts import count_before
from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.growing import GrowingSteps
from rewriter.interpret import read_rows
from rewriter.leadmodel import LeadIn
from rewriter.rows import (
    OTHER_SIDE,
    PLAIN,
    WORK_ALL,
    Kind,
    Row,
    Side,
    edge_of_beginning,
    side_of,
)
from rewriter.shapingmodel import Shaping
from rewriter.sizes import Sizes
from rewriter.spans import Span
from rewriter.stitchwork import Fabric


class CastOnShaping(Shaping):
    """Stepped cast-ons as a model; `edges` hold `GrowingSteps`, and row -1 is a plain row."""

    edges: tuple[tuple[GrowingSteps, ...], ...]
    begun: tuple[int, ...] | None = None
    """Sts with which the piece begins, per size, where they are the first step of its one edge."""
    rows_between: int = 0
    """Plain rows between that cast-on and row 0, told by words that stay."""


def read_cast_on(
    passage: CastOnPassage, lead_in: LeadIn, fabric: Fabric, sizes: Sizes, answer: Side | None
) -> CastOnShaping:
    """Build the model of cast-on shoulders; raises Unread with the reason where that cannot be done.

    Plain rows that belong to the first step, and would have to turn, are taken into the passage.
    """
    count = len(sizes)
    rows = _rows(passage, count)
    for size in rows:
        _refuse_odd_rows(size, passage)
    first_side = answer or _first_side(rows, passage, lead_in, fabric)
    begun = _begun_with(passage, rows, count)
    held = 0 if begun is None else _rows_between(passage, 0, count) or 0
    edges = tuple(
        _edges(size, first_side or "RS", None if begun is None else begun[i], held)
        for i, size in enumerate(rows)
    )
    for i, own in enumerate(edges):
        if len(own) == 2 and own[0].sts and len(own[0].sts) != len(own[1].sts):
            raise Unread(
                "odd-rows",
                f"{len(own[0].sts)} steps are cast on at one edge and {len(own[1].sts)} at the other: "
                "which edge has one more?",
                passage.span,
                (i,),
            )
    if len({len(own) for own in edges}) > 1 or not all(edges):
        raise Unread("edges-differ", "some sizes are shaped at one edge, some at two", passage.span)
    before = _before(passage, count)
    beside = _beside(rows, before, begun is not None, count)
    _check_printed(rows, beside, begun, sizes)
    return CastOnShaping(
        rows=tuple((PLAIN, *size) for size in rows),
        edges=edges,
        first_side=first_side,
        ending="open",
        neck=beside,
        stitches=tuple(begun or beside),
        last_on_return_row=False,
        ending_from=len(passage.statements),
        begun=begun,
        rows_between=held,
    )


def _steps(rows: Sequence[Row]) -> list[tuple[int, int]]:
    """Return each step as the first row that works it and its sts."""
    out = []
    for number, row in enumerate(rows):
        worked = False
        for act in row.acts:
            if act.kind is Kind.CAST_ON and act.n:
                out.append((number + 1 if worked else number, act.n))
            worked = worked or act.kind is not Kind.CAST_ON
    return out


def _refuse_odd_rows(rows: Sequence[Row], passage: CastOnPassage) -> None:
    """Refuse rows that do more than work to the end and cast on at their ends."""
    for row in rows:
        inside = [a for a in row.acts if a.kind is not Kind.CAST_ON]
        ends = [*row.acts[:1], *row.acts[-1:]]
        at_ends = sum(a.kind is Kind.CAST_ON for a in row.acts) <= sum(
            a.kind is Kind.CAST_ON for a in ends
        )
        if inside != [WORK_ALL] or not at_ends or row.dec or row.aid or row.closes:
            raise Unread(
                "not-understood",
                "a row among these cast-ons does more than work to its end",
                row.span or passage.span,
            )


def _edges(
    rows: Sequence[Row], first: Side, begun: int | None, between: int
) -> tuple[GrowingSteps, ...]:
    told: dict[int, list[tuple[int, int]]] = {}
    if begun is not None:
        told[between % 2] = [(-between, begun)]
    for row, sts in _steps(rows):
        told.setdefault(row % 2, []).append((row, sts))
    out = []
    for parity in sorted(told, key=lambda p: told[p][0][0]):
        side = side_of(parity, first) or "RS"
        out.append(
            GrowingSteps(
                edge_of_beginning(side),
                tuple(row for row, _ in told[parity]),
                tuple(n for _, n in told[parity]),
            )
        )
    return tuple(out)


# --- the cast-on that the piece begins with ---------------------------------------------------------


def _rows_between(passage: CastOnPassage, size: int, sizes: int) -> int | None:
    """Return the plain rows between the first cast-on and the passage, or None if not known."""
    begun = passage.begun
    if begun is None:
        return None
    try:
        rows = [r for s in begun.between for r in read_rows([s], size, sizes)]
    except Unread:
        return None
    return len(rows) if all(r.acts == PLAIN.acts for r in rows) else None


def _is_first_step(passage: CastOnPassage, rows: Sequence[Row], size: int, sizes: int) -> bool:
    """Say whether the sts a piece begins with are the first step of its only edge: two rows before."""
    between = _rows_between(passage, size, sizes)
    steps = _steps(rows)
    if between is None or not steps or len({row % 2 for row, _ in steps}) > 1:
        return False
    return between + steps[0][0] == 2


def _rows(passage: CastOnPassage, sizes: int) -> list[list[Row]]:
    """Return the rows of each size; plain rows before the passage are taken into it where need be.

    "Rep rows 1 and 2" needs row 1; and of two rows between the first step and the second the later
    one has to turn.
    """
    try:
        rows = [rows_of(passage.statements, i, sizes) for i in range(sizes)]
    except Unread:
        more = _between(passage)
        if not more or any(s.label is None for s in more):
            raise
        rows = [rows_of([*more, *passage.statements], i, sizes) for i in range(sizes)]
        _take_in(passage, more)
        return rows
    more = _between(passage)
    first = all(_is_first_step(passage, r, i, sizes) for i, r in enumerate(rows))
    if not more or not first or any(_rows_between(passage, i, sizes) != 2 for i in range(sizes)):
        return rows
    _take_in(passage, more)
    return [rows_of(passage.statements, i, sizes) for i in range(sizes)]


def _between(passage: CastOnPassage) -> tuple[Statement, ...]:
    """Return the sentences of the plain rows before a passage, where they stand by themselves."""
    begun = passage.begun
    if begun is None or passage.lead:
        return ()
    apart = all(s.sentence is not begun.statement.sentence for s in begun.between)
    return begun.between if apart else ()


def _take_in(passage: CastOnPassage, more: Sequence[Statement]) -> None:
    if passage.begun is None:
        return
    passage.take_in(more)
    passage.before = passage.before[: -len(more)]
    passage.begun = replace(passage.begun, between=())


def _begun_with(
    passage: CastOnPassage, rows: Sequence[Sequence[Row]], sizes: int
) -> tuple[int, ...] | None:
    begun = passage.begun
    if begun is None or begun.count.amount is None:
        return None
    if any(map(_prints_count, (begun.statement, *begun.between))):
        return None  # it would no longer be true
    if not all(_is_first_step(passage, r, i, sizes) for i, r in enumerate(rows)):
        return None
    # with two rows between, the later one would have to turn: it must be in the passage
    if any((_rows_between(passage, i, sizes) or 0) > 1 for i in range(sizes)):
        return None
    if len(begun.count.amount.values) not in (1, sizes):
        return None
    return begun.count.amount.per_size(sizes)


def _prints_count(statement: Statement) -> bool:
    counts = [f for f in statement.frames if not f.verb and "count" in f.parts]
    return bool(statement.running or statement.opening or counts)


# --- sides and sums -------------------------------------------------------------------------------


_ONE_ROW = regex.compile(r"\W*([kp])(?:nit|url)?\s+(?:1|one)\s+row\W*")


def _first_side(
    rows: Sequence[Sequence[Row]], passage: CastOnPassage, lead_in: LeadIn, fabric: Fabric
) -> Side | None:
    """Return the side of row 0; raises Unread where two things the draft says contradict each other."""
    told: list[tuple[Side, Span]] = []
    for size in rows:
        for number, row in enumerate(size):
            if row.side is not None:
                told.append((side_of(number, row.side) or row.side, row.span or passage.span))
    for statement in passage.begun.between[-1:] if passage.begun else ():
        label = statement.label
        if label is not None and label.side and len(label.numbers) < 2 and label.rows is None:
            side = OTHER_SIDE["RS" if label.side == "RS" else "WS"]
            told.append((side, label.span))
        plain = _ONE_ROW.fullmatch(statement.sentence.view.text)
        if plain and fabric == "stocking":  # a purl row is a WS row in stocking stitch alone
            told.append(("WS" if plain.group(1) == "k" else "RS", statement.span))
    if not told and lead_in.side is not None:
        told.append((OTHER_SIDE[lead_in.side], lead_in.side_span or passage.span))
    for side, span in told[1:]:
        if side != told[0][0]:
            raise Unread(
                "sides-contradict",
                f"by these words the first cast-on row is a {side} row, by others a {told[0][0]} row",
                span,
                ask="first-side",
            )
    return told[0][0] if told else None


def _before(passage: CastOnPassage, sizes: int) -> tuple[int, ...] | None:
    """Return the sts on the needle before the passage."""
    begun = passage.begun
    if begun is not None and begun.count.amount is not None:
        values = begun.count.amount.values
        return begun.count.amount.per_size(sizes) if len(values) in (1, sizes) else None
    found = count_before(passage, sizes)
    return found[0] if found else None


def _beside(
    rows: Sequence[Sequence[Row]], before: tuple[int, ...] | None, merged: bool, sizes: int
) -> tuple[int | None, ...]:
    """Return the sts beside the shoulders: those there before, or counted back from a printed total."""
    if merged:
        return (0,) * sizes
    if before is not None:
        return before
    out: list[int | None] = []
    for size in rows:
        live, found = 0, None
        for row in size:
            live += sum(a.n or 0 for a in row.acts if a.kind is Kind.CAST_ON)
            if row.printed is not None and found is None:
                found = row.printed - live
        out.append(found)
    return tuple(out)


def _check_printed(
    rows: Sequence[Sequence[Row]],
    beside: Sequence[int | None],
    begun: tuple[int, ...] | None,
    sizes: Sizes,
) -> None:
    """Compare the counts that the text prints with the sums; raises Unread with the one that fails."""
    for i, size in enumerate(rows):
        start = begun[i] if begun else beside[i]
        if start is None:
            continue
        live = start
        for row in size:
            live += sum(a.n or 0 for a in row.acts if a.kind is Kind.CAST_ON)
            if row.printed is not None and row.printed != live:
                where = "" if len(sizes) == 1 else f" in size {sizes.labels[i]}"
                raise Unread(
                    "sums",
                    f"{live} sts are on the needle here, but the text says {row.printed}{where}",
                    row.span or Span(0, 0),
                    (i,),
                )
        if start < 1:
            raise Unread("sums", "fewer sts are counted than are cast on", Span(0, 0), (i,))
