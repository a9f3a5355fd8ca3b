"""On which side the shaping starts, and what tells it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.edgenames import ARMHOLE_SIDE, NECK_SIDE, is_upright
from rewriter.frames import Statement
from rewriter.leadmodel import LeadIn
from rewriter.numberedrows import COUNTED_FROM_BELOW
from rewriter.passages import Passage
from rewriter.rows import OTHER_SIDE, Kind, Row, Side, side_of
from rewriter.spans import Span


@dataclass
class Sized:
    """The rows of one size, and the steps found in them."""

    rows: list[Row]
    steps: dict[int, list[tuple[int, int]]] = field(default_factory=dict)
    """Steps by parity of their row: (row, stitches)."""
    final: int | None = None
    """Row that binds off or holds whatever is left."""


_NECK_EDGE = regex.compile(r"(?i)\b(?:neck|front|inner|centre|center)\b")


def _refuse_other_edge(passage: Passage, lead_in: LeadIn, sized: Sized) -> None:
    """Ask where a lead-in ends at the neck edge, but the row after it binds off at the armhole."""
    first_step = min(row for steps in sized.steps.values() for row, _ in steps)
    for mention in lead_in.mentions:
        words = mention.span.of(passage.sentence.source)
        if mention.fact == "edge" and first_step == 0 and _NECK_EDGE.search(words):
            raise Unread(
                "sides-contradict",
                "the lead-in ends at the neck edge, where the next row begins, but the armhole edge is "
                "to be bound off",
                mention.span,
            )


def _side_by_number(passage: Passage) -> Side | None:
    """Return the side of a first row told by its number, if a row before it has a number and a side.

    "Row 37 (RS): ..." makes row 55 a RS row, where the rows are counted on; rows of small numbers may
    be counted anew.
    """
    number = _number_of(passage.statements[0])
    if number is None:
        return None
    for statement in reversed(passage.before):
        before = _number_of(statement)
        if before is None:
            continue
        side = statement.label.side if statement.label is not None else ""
        if before >= number or before < COUNTED_FROM_BELOW:
            return None
        if side:
            here: Side = "RS" if side == "RS" else "WS"
            return here if (number - before) % 2 == 0 else OTHER_SIDE[here]
    return None


def _number_of(statement: Statement) -> int | None:
    """Return the number of the first row that a sentence tells by its number."""
    if statement.label is not None:
        return statement.label.numbers[0] if statement.label.numbers else None
    rows = statement.frames[0].one("rows") if statement.frames else None
    binds = rows is not None and rows.kind == "row_number" and statement.frames[0].verb != "work"
    return rows.numbers[0] if rows is not None and binds else None


_STITCH_SIDE: dict[str, Side] = {"knit": "RS", "purl": "WS"}


def _by_purl_rows(rows: Sequence[Row], passage: Passage) -> list[tuple[Side, str, Span]]:
    """Return the side of row 0 by the rows that are purled, of which none may lie between knitted ones.

    "1st row: Bind off 9 sts, complete row. 2nd row: Purl." begins on a RS row in stocking stitch; "knit"
    alone is what many drafts call all work.
    """
    kinds = {(i % 2, row.word) for i, row in enumerate(rows) if row.word in _STITCH_SIDE}
    purled = {parity for parity, word in kinds if word == "purl"}
    if len(purled) != 1 or any(parity in purled for parity, word in kinds if word == "knit"):
        return []
    side: Side = "WS" if purled == {0} else "RS"
    return [(side, "a row that is purled", passage.span)]


def _by_stitch(rows: Sequence[Row], passage: Passage) -> list[tuple[Side, str, Span]]:
    """Return the side of row 0 where one row is knitted and the next purled, in stocking stitch.

    "Finishing after a knit row. 1st row: Cast off 9, knit to end" contradicts itself.
    """
    words = [row.word or "" for row in rows[:2] if row.has(Kind.BIND_OFF)]
    if set(words) != set(_STITCH_SIDE):
        return []
    side = _STITCH_SIDE[words[0]]
    return [(side, "the way its rows are worked", rows[0].span or passage.span)]


def settle_side(
    passage: Passage,
    lead_in: LeadIn,
    two_edged: bool,
    sized: Sequence[Sized],
    at_neck: bool = False,
) -> tuple[Side | None, str]:
    """Return the side of the first bind-off row and what tells it.

    `at_neck` says that the edge shaped is the neck's, not the armhole's.

    Raises Unread where two things the draft says of it contradict each other.
    """
    edge, edge_sides = ("neck", NECK_SIDE) if at_neck else ("armhole", ARMHOLE_SIDE)
    told: list[tuple[Side, str, Span]] = []
    for s in sized:
        for i, row in enumerate(s.rows):
            if row.side is not None:
                side = side_of(i, row.side) or row.side
                told.append((side, "the row labels", row.span or passage.span))
    if lead_in.side is not None and lead_in.side_span is not None:
        told.append((OTHER_SIDE[lead_in.side], "the lead-in", lead_in.side_span))
    if lead_in.side_span in [m.span for m in lead_in.mentions if m.fact == "stitch"]:
        told += _by_stitch(sized[0].rows, passage)
    if lead_in.absorbed:
        label = lead_in.absorbed[-1].label
        if label is not None and label.side:
            side = OTHER_SIDE["RS" if label.side == "RS" else "WS"]
            told.append((side, "the row before", label.span))
    if (counted := _side_by_number(passage)) is not None:
        told.append((counted, "the numbers of the rows", passage.span))
    if lead_in.counted is not None:
        counted_on, place = lead_in.counted
        words = " ".join(place.of(passage.sentence.source).split()[-6:]).rstrip(".")
        told.append((counted_on, f'counting the rows from "... {words}"', place))
    if not two_edged and not at_neck:
        _refuse_other_edge(passage, lead_in, sized[0])
    upright = is_upright(passage.sentence.source)
    if upright and not two_edged and passage.piece in edge_sides:
        side = edge_sides[passage.piece]
        first_step = min(row for steps in sized[0].steps.values() for row, _ in steps)
        told.append(
            (
                side if first_step % 2 == 0 else OTHER_SIDE[side],
                f"the {edge} edge of a {passage.piece}",
                passage.span,
            )
        )
    if not told and not two_edged and lead_in.stocking:
        told += _by_purl_rows(sized[0].rows, passage)
    if not told:
        return None, "nothing in the draft says on which side the shaping starts"
    first = told[0]
    for other in told[1:]:
        if other[0] != first[0]:
            raise Unread(
                "sides-contradict",
                f"by {first[1]} the first bind-off row is a {first[0]} row, but by {other[1]} it would "
                f"be a {other[0]} row",
                other[2] if other[1] != first[1] else first[2],
                ask="first-side",
            )
    return first[0], first[1]
