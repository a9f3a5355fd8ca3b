"""Plan and prove cast-on shoulders: the growing short rows of every size, laid together as one text."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rewriter import regex
from rewriter.castonmodel import CastOnShaping
from rewriter.castonrows import cast_on_acts, rows_of
from rewriter.castons import CastOnPassage
from rewriter.doubt import Unread
from rewriter.fabric import Fabric, FabricError, knit
from rewriter.frames import Statement
from rewriter.growing import Behind, grow
from rewriter.planner import Plan, align
from rewriter.rows import PLAIN, Row, edge_of_beginning, side_of
from rewriter.verify import UNKNOWN_NECK, NotProven, Proof

_BEHIND = 3
"""Rows behind the passage that are worked in a proof: one more than can close a turn."""


@dataclass(frozen=True)
class CastOnPlan(Plan):
    """The growing short rows of a passage; `rows` and `lines` begin with row 0."""

    behind: Behind


# Words by which the yarn leaves the sts in work, and by which the next row is no plain one.
_NOT_PLAIN = regex.compile(
    r"\b(?:break|cut|fasten|holders?|spare|waste|thread|pin|aside|leave|slip|rejoin|join|divide|turn"
    r"|inc\w*|dec\w*|k2tog|p2tog|tog|ssk|ssp|skpo|m1\w*|kfb|make|yo|yrn|yfwd|cast|bind|co|bo"
    r"|(?:each|both) (?:end|side|edge)s?)\b"
)


def plan_cast_on(passage: CastOnPassage, shaping: CastOnShaping) -> CastOnPlan:
    """Plan cast-on shoulders; raises Unread where that cannot be done for certain."""
    if shaping.steps_most < 2:
        raise Unread(
            "single-step",
            "each edge is cast on in one step: there is no slope to convert",
            passage.span,
        )
    planned: list[tuple[Row, ...]] = []
    behind: set[Behind] = set()
    for rows, edges in zip(shaping.rows, shaping.edges, strict=True):
        grown, after = grow(rows[1:], edges)
        planned.append(tuple(grown))
        behind.add(after)
    lines = align([[PLAIN, *rows] for rows in planned])
    if lines is None or len(behind) > 1:
        raise Unread(
            "sizes-differ",
            "the rows of the sizes differ too much to be written as one text",
            passage.span,
        )
    after = behind.pop()
    if after.aid and (passage.ends_piece or _NOT_PLAIN.search(passage.ahead)):
        raise Unread(
            "row-behind",
            "the row right behind these cast-ons would begin at a turn, but the sts rest there or "
            "are shaped: can a plain row be told first?",
            passage.span,
        )
    return CastOnPlan(
        join="sewn",
        rows=tuple(planned),
        steps=shaping.edges,
        lines=lines[1:],
        moves_lead_in=False,
        slopes=True,
        within_one_row=False,
        takes_ending=False,
        behind=after,
    )


# --- proof ----------------------------------------------------------------------------------------


def prove_cast_on(
    shaping: CastOnShaping,
    statements: Sequence[Statement],
    begun: Statement | None,
    sizes: int,
) -> list[Proof]:
    """Work both texts for every size; raises NotProven with the reason if they do not agree.

    `statements` are those of the revised passage; `begun` is the revised sentence with which the
    piece begins, where its sts are the first step. Raises Unread for words that are not understood.
    """
    inside, behind = split_behind(statements)
    return [
        _prove_size(shaping, rows_of(inside, i, sizes), behind, _begun_count(begun, i, sizes), i)
        for i in range(sizes)
    ]


def _begun_count(begun: Statement | None, size: int, sizes: int) -> int | None:
    if begun is None:
        return None
    casts = [f for f in begun.frames if f.verb == "cast_on"]
    if not casts or casts[-1].amount is None:
        raise NotProven("the cast-on that the piece begins with is not found again")
    return casts[-1].amount.per_size(sizes)[size]


def _prove_size(
    shaping: CastOnShaping, rows: list[Row], behind: Behind, begun: int | None, size: int
) -> Proof:
    beside = shaping.neck[size]
    before = shaping.begun[size] if shaping.begun else beside
    start = UNKNOWN_NECK if before is None else before
    plain = [PLAIN] * shaping.rows_between
    side = side_of(shaping.rows_between, shaping.first_side or "RS") or "RS"
    first = edge_of_beginning(side)
    stepped = [*plain, *shaping.rows[size][1:], *[PLAIN] * _BEHIND]
    revised = [*plain, *rows, *behind.rows(_BEHIND)]
    try:
        old, new = knit(start, stepped, first), knit(begun or start, revised, first)
    except FabricError as error:
        raise NotProven(f"row {error.row - shaping.rows_between}: {error}") from None
    for number, row in enumerate(rows):
        if row.side is not None and row.side != side_of(number, shaping.first_side or row.side):
            raise NotProven(f"row {number} is called a {row.side} row")
    for fault, where in (
        ("passes a turn without closing it", new.unclosed),
        ("begins at a turn without the turning st", new.unaided if _has_aids(revised) else ()),
        ("begins with a turning st where no turn was made", new.idle_aids),
    ):
        if where:
            raise NotProven(f"row {where[0] - shaping.rows_between} of the revised text {fault}")
    if new.open_turns:
        raise NotProven("a turn is never closed")
    if old.rows != new.rows or old.yarn != new.yarn:
        raise NotProven("the yarn does not end where it did")
    if old.heights() != new.heights():
        raise NotProven(_difference(old, new))
    _check_counts(rows, begun or start)
    return Proof(True, (0,) * len(shaping.edges[size]), 0, 0)


def _has_aids(rows: Sequence[Row]) -> bool:
    """Say whether the turning method has an aid of its own at the row after the turn."""
    return any(row.aid for row in rows)


def _difference(old: Fabric, new: Fabric) -> str:
    one, two = old.heights(), new.heights()
    if sum(n for n, _ in one) != sum(n for n, _ in two):
        return f"{sum(n for n, _ in two)} sts are cast on, there were {sum(n for n, _ in one)}"
    return f"the columns have {two} rows, they had {one}"


def _check_counts(rows: Sequence[Row], start: int) -> None:
    live = start
    for row in rows:
        live += sum(a.n or 0 for a in cast_on_acts(row))
        if row.printed not in (None, live):
            raise NotProven(f"{live} sts are on the needle where the text says {row.printed}")


ROWS_AHEAD = {"first": (0,), "second": (1,), "both": (0, 1)}
"""Which of the rows behind a passage the words for them name, counted from 0."""


def split_behind(statements: Sequence[Statement]) -> tuple[list[Statement], Behind]:
    """Part the sentences that speak of the rows behind the passage from its rows."""
    inside: list[Statement] = []
    aid = False
    closes: tuple[int, ...] = ()
    for statement in statements:
        told = [f for f in statement.frames if f.verb]
        rows = told[0].one("rows") if len(told) == 1 else None
        ahead = rows is not None and rows.kind == "rows_ahead" and statement.label is None
        if ahead and told[0].verb == "aid" and "beg" in told[0].parts:
            aid = True
        elif ahead and rows is not None and told[0].verb == "closing":
            closes = ROWS_AHEAD[rows.concept]
        else:
            inside.append(statement)
    return inside, Behind(aid, closes)
