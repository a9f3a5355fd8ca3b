"""On which side the shaping starts, and what tells it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import regex

from rewriter.doubt import Unread
from rewriter.leadin import LeadIn
from rewriter.passages import Passage
from rewriter.rows import OTHER_SIDE, Row, Side, side_of
from rewriter.spans import Span

ARMHOLE_SIDE: dict[str, Side] = {
    "left front": "RS",
    "right front": "WS",
    "left back": "WS",
    "right back": "RS",
}

NECK_SIDE: dict[str, Side] = {piece: OTHER_SIDE[side] for piece, side in ARMHOLE_SIDE.items()}
"""Where rows begin at the neck edge of a front or half back: opposite the armhole."""

# A piece worked from the top hangs the other way: its edges tell no side here.
TOP_DOWN = regex.compile(r"(?i)\b(?:top[\s-]down|from the top(?:\s+down)?|neck down)\b")


@dataclass
class Sized:
    """The rows of one size, and the steps found in them."""

    rows: list[Row]
    steps: dict[int, list[tuple[int, int]]] = field(default_factory=dict)
    """Steps by parity of their row: (row, stitches)."""
    final: int | None = None
    """Row that binds off or holds whatever is left."""


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
    if lead_in.absorbed:
        label = lead_in.absorbed[-1].label
        if label is not None and label.side:
            side = OTHER_SIDE["RS" if label.side == "RS" else "WS"]
            told.append((side, "the row before", label.span))
    upright = not TOP_DOWN.search(passage.sentence.source)
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
    if not told:
        return None, "nothing in the draft says on which side the shaping starts"
    first = told[0]
    for other in told[1:]:
        if other[0] != first[0]:
            raise Unread(
                "sides-contradict",
                f"{first[1]} make the first bind-off row a {first[0]} row, but by {other[1]} it "
                f"would be a {other[0]} row",
                other[2] if other[1] != first[1] else first[2],
            )
    return first[0], first[1]
