"""The row before the first bind-off, where it has words of its own.

"Next row: Cast off 4 sts, P to end" ends at the armhole edge, so it becomes the first short row: its
words stay and only its end changes ("P to last 8 sts, turn"). Of "dec 1 st at neck edge on next 5 rows" the
fifth row becomes it, and the sentence tells four.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.interpret import read_rows
from rewriter.lastdecrease import decreases_until, last_decrease
from rewriter.leadmodel import LeadIn, Mention
from rewriter.passages import Passage
from rewriter.rows import OTHER_SIDE, PLAIN, Kind, Row
from rewriter.rowturned import Stretch
from rewriter.spans import Span
from rewriter.twin import Steps


@dataclass(frozen=True)
class RowBefore:
    """The row before the first bind-off row, for each size."""

    rows: tuple[Row, ...]
    statement: Statement | None
    """The sentence whose words it keeps; None where it is the last of several rows told alike."""
    reworded: bool = False
    """Its words tell a cadence ("on every 2nd row 2 sts once"), which cannot go on to a turn."""
    stretch: Stretch | None = None
    """Its sentence stays where it is, and this stretch of it is worked up to the turn."""
    inside: bool = False
    """The passage itself tells it, as the first of its rows: "cast off 8 sts at beg of 2nd row"."""


def take_row_before(lead_in: LeadIn, sizes: int) -> RowBefore | None:
    """Read the words of the row before the first bind-off, if they can be carried over.

    The lead-in then no longer has an obstacle: the sentence is absorbed, or tells one row less.
    """
    statement = lead_in.obstacle
    if statement is None:
        return None
    told = None if lead_in.named_after else _moved_row(lead_in, statement, sizes)
    if told is None and lead_in.stretch is not None:
        # what is said between it and the passage stays there, and so does what is said of it
        lead_in.obstacle = None
        lead_in.mentions.clear()
        return RowBefore((PLAIN,) * sizes, statement, stretch=lead_in.stretch)
    return told


def _moved_row(lead_in: LeadIn, statement: Statement, sizes: int) -> RowBefore | None:
    """Read the words of a row that go with the passage, or tell one row less."""
    if until := decreases_until(statement):
        alternate = any(m.fact == "plain" for m in until)
        return _moved_decrease(lead_in, statement, until, [1] if alternate else [], sizes)
    try:
        rows = [read_rows([statement], i, sizes, dividing=True) for i in range(sizes)]
    except Unread:
        return None
    # the row after it ends at the neck edge
    rows = [
        [replace(one, dec_at="start") if one.dec_at == "neck" else one for one in r] for r in rows
    ]
    if all(len(r) == 1 and _goes_to_end(r[0]) for r in rows):
        lead_in.obstacle = None
        lead_in.absorbed.append(statement)
        cadence = any(
            p.kind == "every_other" for f in statement.frames for p in f.parts.get("rows", [])
        )
        head = statement.frames[0]
        cadence = cadence or (
            head.verb == "work" and "rows" in head.parts
        )  # "work 1 row, dec 1 st"
        return RowBefore(tuple(r[0] for r in rows), statement, reworded=cadence)
    moved = last_decrease(statement)
    if moved and all(len(r) > 1 and r[-1].dec == 1 for r in rows):
        return _moved_decrease(lead_in, statement, moved, [len(r) for r in rows], sizes)
    return None


def _moved_decrease(
    lead_in: LeadIn,
    statement: Statement,
    moved: Sequence[Mention],
    rows: Sequence[int],
    sizes: int,
) -> RowBefore:
    """Let the last of several rows that decrease be the row before; the sentence tells one less.

    `rows` are how many it tells for each size, or as many less an even number.
    """
    lead_in.obstacle = None
    odd = {n % 2 for n in rows}
    if lead_in.side is None and lead_in.earlier is not None and len(odd) == 1:
        lead_in.side = OTHER_SIDE[lead_in.earlier] if odd == {1} else lead_in.earlier
        lead_in.side_span = statement.span
    lead_in.mentions += moved
    last = replace(PLAIN, dec=1, dec_at="start", span=statement.span)
    return RowBefore((last,) * sizes, None)


def refuse_narrow_row(
    row_before: RowBefore | None,
    edges: Sequence[Sequence[Steps]],
    stitches: Sequence[int | None],
    place: Span,
) -> None:
    """Raise Unread where the last stretch of a row cannot hold its turn: too few sts, or the neck within it.

    `edges` are the steps of each size, `stitches` the sts on the needle behind the row, where known.
    """
    stretch = row_before.stretch if row_before is not None else None
    if stretch is None:
        return
    two_edged = any(len(shoulders) == 2 for shoulders in edges)
    over_neck = two_edged and stretch.divides and not stretch.joins
    for size, shoulders in enumerate(edges):
        least = sum(s.total for s in shoulders)
        on_needle = max(stitches[size] or 0, least) // (2 if stretch.joins and two_edged else 1)
        turned = max(s.unworked(-1) for s in shoulders)
        if over_neck or stretch.room(size, len(edges), on_needle) < turned + _BESIDE_TURN:
            raise Unread(
                "row-before-has-words",
                "the row before the first bind-off would have to take the first turn, but what it does "
                "stands where it would turn",
                place,
            )


_BESIDE_TURN = 2
"""Sts that a row works beside a turn, so that nothing but plain work stands at the turning st."""


def first_row_inside(passage: Passage, lead_in: LeadIn, sizes: int) -> RowBefore | None:
    """Return the first row of a passage, where it is worked before the first bind-off.

    What the lead-in says of its own last row then stays true.
    """
    rows: list[list[Row]] = []
    for size in range(sizes):
        try:
            told = read_rows(passage.statements, size, sizes)
        except Unread:
            return None
        if len(told) < 2 or told[0].has(Kind.BIND_OFF) or not _binds(told[1]):
            return None  # as is most often told by the first size: the others need not be read
        if not _goes_to_end(told[0]):
            return None
        rows.append(told)
    lead_in.mentions.clear()
    lead_in.absorbed.clear()
    lead_in.obstacle = lead_in.doubt = None
    if lead_in.side is not None:
        lead_in.side = OTHER_SIDE[lead_in.side]
    return RowBefore(tuple(r[0] for r in rows), None, inside=True)


def _binds(row: Row) -> bool:
    return bool(row.acts) and row.acts[0].kind is Kind.BIND_OFF


def _goes_to_end(row: Row) -> bool:
    """Say whether a row is worked to its end and takes sts away only where it begins."""
    if not row.acts or row.acts[-1].kind is not Kind.WORK or row.acts[-1].n is not None:
        return False
    head = row.acts[0]
    if head.kind is Kind.BIND_OFF:
        return len(row.acts) == 2 and head.n is not None
    return len(row.acts) == 1 and row.dec_at in ("", "start") and row.until is None
