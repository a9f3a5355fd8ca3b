"""The rows of a rewritten shoulder on one needle, in one size: the model that sheets and charts share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rewriter.rows import Row, Side
from rewriter.twin import Steps

Does = Literal["turn", "close", "bind off", "hold", "work", "aside"]
"""An aside is what the words between two rows tell: to cut the yarn, to take the other side up again."""
Half = Literal["", "first side", "second side"]


@dataclass(frozen=True)
class NeedleRow:
    """One row of one size, counts in sts."""

    number: int
    """Row 0 is that of the draft's first bind-off."""
    label: int | None
    """The number by which sheets and charts call it: its own in the revised text, or counted from 1 at
    the first row of the passage; None for what is done without working a row."""
    side: Side | None
    words: str
    """Its words in the revised draft, with the numbers of this size; empty for a row that the words
    before the shoulder tell."""
    does: Does
    worked: int | None
    """Stitches the yarn passes over, those bound off left out; None where the neck is not known."""
    off: int
    """Stitches bound off, held, or left for the other side of a neck in it."""
    behind: int
    """Stitches that wait where it begins, behind the turn before it."""
    unworked: int
    """Stitches left unworked behind its turn; 0 where it runs to the end."""
    on_needle: int | None
    """Stitches on the needle after it."""
    shared: bool = False
    """Both sides of a divided neck are worked in it."""


@dataclass(frozen=True)
class Shoulder:
    """The shoulder shaping of one needle: a whole piece, or one side of a divided one."""

    name: str
    """Id of its passage in the report."""
    piece: str
    half: Half
    stitches: int | None
    """On the needle (or of this side) before the first row; None where not known."""
    neck: int | None
    edges: tuple[Steps, ...]
    """The steps worked at each edge, the one bound off first coming first."""
    first_side: Side | None
    """Side of row 0."""
    draft_rows: tuple[Row, ...]
    """The draft's rows as if it had printed those steps, row -1 first."""
    drafted_edges: tuple[Steps, ...]
    """The draft's own steps; other ones only where the sts were spread evenly."""
    drafted_rows: tuple[Row, ...]
    """The draft's rows with its own steps, row -1 first."""
    new_rows: tuple[Row, ...]
    """The rows of the revised text, row -1 first."""
    rows: tuple[NeedleRow, ...]
    notes: tuple[str, ...]
    """What the new paragraph says before its rows (markers, the turning method), for this size."""
    whole: int | None
    """Stitches on the needle before the first row; those of both sides where the neck is divided."""
    label: int
    """The label of the first row of the passage."""
    divides: int = 0
    """How many of the first rows of the passage are worked over both sides of a neck before it is divided."""
    at_once: bool = False
    """Both sides of the neck go on in the same rows, each with a ball of its own."""

    @property
    def apart(self) -> bool:
        """Whether these are both sides of a neck that was divided before, none of whose sts are left."""
        return self.at_once and not self.half and self.neck == 0

    @property
    def together(self) -> tuple[int, ...]:
        """Stitches of each edge that are bound off in one sweep or kept live."""
        return tuple(s.total for s in self.edges)
