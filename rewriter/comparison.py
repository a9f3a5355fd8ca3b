"""The public model of a check: what two texts knit, compared, as JSON and as Python objects.

Offsets are Unicode code points into the decoded texts, lines are counted from 1; lists "per size" have
one entry for each size, in order; counts are stitches and rows. Rows are numbered from row 0, the row
of the first bind-off of the original passage.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from rewriter.publicmodel import Model
from rewriter.report import SourceInfo, Turn

Result = Literal["same", "within-one-row", "differs", "not-compared"]
"""`not-compared`: one of the two could not be read with certainty; it counts as different."""


class Columns(Model):
    """Neighbouring columns of a shoulder that gain the same number of rows."""

    sts: int
    rows: int
    """Rows that the revised text gives them more than the original; negative for fewer."""


class EdgeComparison(Model):
    """One shoulder (or other shaped edge) in both texts."""

    edge: Literal["right", "left", "unknown"]
    steps: tuple[tuple[int, ...], ...]
    """Per size, the original's steps from the outer edge inward."""
    turns: tuple[tuple[Turn, ...], ...]
    """Per size, the turns that the revised text makes at this edge, in order."""
    together: tuple[int | None, ...]
    """Per size, the sts of the shoulder that the revised text ends: bound off in its sweep or kept
    live; None where that could not be worked."""
    ending: Literal["bound off", "live", "mixed"] | None
    """What becomes of its sts in the revised text, over all sizes; None where not known."""
    gained: tuple[tuple[Columns, ...], ...]
    """Per size, the columns from the outer edge inward with the rows they gain; empty where that
    could not be worked."""


class PassageComparison(Model):
    """One stepped passage of the original and what stands in its place."""

    id: str
    piece: str
    kind: Literal["shoulder", "neck", "armhole", "cap", "other"]
    original_span: tuple[int, int]
    revised_span: tuple[int, int] | None
    changed: bool
    """Whether the words of the passage or of what leads up to it differ."""
    result: Result
    first_row: tuple[int | None, ...] = ()
    """Per size, the row of the original in whose place the first revised row stands."""
    edges: tuple[EdgeComparison, ...] = ()
    """Its shaped edges; none for shoulders that are cast on, of which the findings tell all."""
    neck_gained: tuple[int | None, ...] = ()
    """Per size, the rows gained by the sts that belong to no shoulder; None where there are none or they
    differ among themselves."""


class CheckFinding(Model):
    """Something an editor must know, with its place in each text where it has one."""

    code: str
    severity: Literal["error", "warning", "remark"]
    message: str
    passage: str | None = None
    """The passage it is about."""
    original_span: tuple[int, int] | None = None
    revised_span: tuple[int, int] | None = None
    original_line: int | None = None
    revised_line: int | None = None
    sizes: tuple[str, ...] = ()
    """The sizes it is about; empty for all."""
    consequence: bool = False
    """It follows from the findings before it about the same passage."""


class Comparison(Model):
    """The whole result of checking a revised text against its original."""

    schema_: Literal["slopewise/comparison/1"] = Field("slopewise/comparison/1", alias="schema")
    original: SourceInfo
    revised: SourceInfo
    sizes: tuple[str, ...]
    swapped: bool = False
    """The texts were given the other way round: the first has the short rows, the second the steps."""
    result: Result
    """`differs` wherever there is a finding of severity "error", but for `not-compared` where all of
    these only say that words are not understood; an abbreviation that a list lacks is no part of it."""
    passages: tuple[PassageComparison, ...]
    findings: tuple[CheckFinding, ...]

    @property
    def faultless(self) -> bool:
        """Whether no finding is an error."""
        return not any(f.severity == "error" for f in self.findings)

    def to_json(self) -> str:
        """Return the comparison as JSON text."""
        return self.model_dump_json(by_alias=True, indent=2)
