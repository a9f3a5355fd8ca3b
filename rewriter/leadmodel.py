"""What a lead-in says: the model of the words before the first bind-off."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from rewriter.frames import Statement
from rewriter.rows import Side
from rewriter.rowturned import Stretch
from rewriter.spans import Span

Fact = Literal[
    "side", "stitch", "row of pattern", "edge", "rows", "relative", "repeat", "count", "about",
    "left", "plain",
]  # fmt: skip
"""A count is one of the rows worked so far, not of rows to be worked; one "about" is approximate. Where the
last of rows that decrease goes with the short rows, the sts "left" are one more, and "plain" adds a row."""


@dataclass(frozen=True, slots=True)
class Mention:
    """A word of the lead-in that says something of its last row."""

    fact: Fact
    span: Span
    values: tuple[int, ...] = ()
    """Counts as written, for a number of rows."""


@dataclass
class LeadIn:
    """What the words before a passage say."""

    side: Side | None = None
    """Side of the last row before the first bind-off."""
    side_span: Span | None = None
    mentions: list[Mention] = field(default_factory=list)
    absorbed: list[Statement] = field(default_factory=list)
    """Plain rows told by themselves right before the passage; the last becomes a short row."""
    obstacle: Statement | None = None
    """A sentence whose own words tell the row before the first bind-off."""
    earlier: Side | None = None
    """Side of the last row before those that the obstacle tells."""
    named_after: bool = False
    """Words behind that sentence name the first bind-off row: it cannot take the turn as it stands."""
    stretch: Stretch | None = None
    """Where the row that the obstacle tells can end at a turn, its words otherwise kept in their place."""
    counted: tuple[Side, Span] | None = None
    """Side of the first bind-off row by counting from an earlier row, and the words that tell that row."""
    stocking: bool = False
    """The piece is in stocking stitch, where a row that is knitted is a RS row."""
    span: Span | None = None
    length: bool = False
    """It names a length or another piece to match."""
    doubt: Span | None = None
    """It says something of its last row in words that are not understood."""
    sizes: tuple[int, ...] = ()
    """Ordinals of the sizes that it names one by one; none where its words are for all."""
