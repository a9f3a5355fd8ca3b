"""The shaping model: edges, steps, sides and stitches of one passage, for every size."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict

from rewriter.rows import OTHER_SIDE, Edge, Row, Side, edge_of_beginning
from rewriter.twin import Steps

Ending = Literal["bound off", "held", "open", "used up"]


class Inferred(BaseModel):
    """A value that the words of the passage do not give themselves, and what it rests on."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    what: str
    because: str


class Shaping(BaseModel):
    """A stepped passage as a model; lists have one entry for each size."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    rows: tuple[tuple[Row, ...], ...]
    """Rows of each size from row -1 on."""
    edges: tuple[tuple[Steps, ...], ...]
    """For each size the steps at its edges, the one bound off first coming first."""
    first_side: Side | None
    """Side of row 0; None where the draft does not determine it."""
    ending: Ending
    """What becomes of the sts after the shoulders: "used up" where none are left."""
    neck: tuple[int | None, ...]
    """Stitches left beside the shoulder(s); None where not known."""
    stitches: tuple[int | None, ...]
    """Stitches on the needle where the passage starts; None where not known."""
    last_on_return_row: bool
    """The last step is bound off on the row after the one before it (one edge)."""
    ending_from: int
    """Number of the statement that ends the sts left over; the number of statements if none."""
    inferred: tuple[Inferred, ...] = ()
    """Values that are inferred or assumed, each with its reason."""
    on_two_balls: bool = False
    """Both sides of a neck that was divided before are in work, each with a ball of its own, and no sts lie
    between them: a row goes over one side and then over the other."""

    @property
    def two_edged(self) -> bool:
        """Whether both edges of the piece are shaped."""
        return any(len(edges) == 2 for edges in self.edges)

    @property
    def steps_most(self) -> int:
        """The largest number of steps at one edge in any size."""
        return max(len(s.rows) for edges in self.edges for s in edges)

    def total(self, size: int) -> int:
        """Stitches of all shoulders of the passage in one size."""
        return sum(s.total for s in self.edges[size])

    def off_at_neck(self, size: int) -> int:
        """Stitches decreased or bound off at the neck edge among the rows of one size."""
        return sum(row.off_at_neck for row in self.rows[size])

    def begins(self) -> Edge:
        """Return the edge where row -1 begins; where no side is known, as if row 0 were RS."""
        return edge_of_beginning(OTHER_SIDE[self.first_side or "RS"])
