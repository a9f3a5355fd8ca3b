"""Whether the sides that labels and lead-in name go with one another and with the original."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.checknotes import CheckNote, CheckNotes
from rewriter.pairing import Pair
from rewriter.rows import OTHER_SIDE, Row
from rewriter.shapingmodel import Shaping
from rewriter.spans import Span
from rewriter.startrow import Start, side_conflicts


def check_sides(
    pair: Pair,
    parts: Sequence[tuple[Shaping, list[list[Row]]]],
    start: Start,
    shaping: Shaping,
    notes: CheckNotes,
) -> None:
    """Add what is wrong with the sides that labels and lead-in name."""
    span, region = pair.original.passage.span, pair.region
    if start.contradiction and start.lead_side is not None:
        notes.add(
            CheckNote(
                "sides-contradict",
                "error",
                f"the words before it end with a {start.lead_side} row, but the first short row is "
                f"told as one too (is the lead-in not changed?)",
                pair.name,
                span,
                start.lead_span or region,
            )
        )
    elif start.contradiction:
        notes.add(
            CheckNote(
                "sides-contradict", "error",
                "the label of the first row names the side that the row before it has",
                pair.name, span, _first_row(parts) or region,
            )
        )  # fmt: skip
    first = shaping.first_side
    for _, part_rows in parts:
        for i, rows in enumerate(part_rows):
            for row in side_conflicts(rows, start.rows[i], first):
                notes.add(
                    CheckNote(
                        "sides-contradict",
                        "error",
                        f"this row is called a {row.side} row, but by the rows before it it is a "
                        f"{OTHER_SIDE[row.side or 'RS']} row",
                        pair.name,
                        span,
                        row.span or region,
                        [i],
                    )
                )


def _first_row(parts: Sequence[tuple[Shaping, list[list[Row]]]]) -> Span | None:
    return next(
        (row.span for _, sized in parts for rows in sized for row in rows if row.span), None
    )
