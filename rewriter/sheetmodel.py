"""The public model of a technical editing sheet: the figures of a draft's shoulders, and what is amiss.

Lists "per size" have one entry for each size, in order; counts are stitches and rows, lengths are told
in centimetres and inches. Offsets are code points of the decoded source, lines and columns count from 1.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from rewriter.publicmodel import Model, Side

Origin = Literal["printed", "worked out", "not known"]
"""Where a figure comes from: the draft's own words, the draft's other figures, or nowhere."""

About = Literal[
    "reading", "sums", "sides", "joining", "slope", "gauge", "lists", "abbreviations", "other"
]


class Place(Model):
    """Words of the draft, with where they stand."""

    span: tuple[int, int]
    line: int
    column: int
    where: str
    """The place in words: "line 12", or in a document "paragraph 12"."""
    words: str
    """The words in one line, shortened in the middle where they are many."""


class Figures(Model):
    """One figure of a shoulder, for each size."""

    values: tuple[int | None, ...]
    """None where it is not known."""
    origin: Origin
    how: str = ""
    """How it was worked out, where it was."""
    place: Place | None = None


class EdgeFigures(Model):
    """The steps at one edge of a shoulder."""

    edge: Literal["right", "left", "unknown"]
    first_side: Side | None
    """Side of the row that binds off (or first works) the first step."""
    steps: tuple[Figures, ...]
    """Step by step from the armhole inward (cast-on shoulders: from the neck outward); 0 where a size
    has no such step."""
    total: tuple[int, ...]
    """Per size, the sts of the shoulder."""
    slope_rows: tuple[int, ...]
    """Per size, the rows over which it slopes: two for each step two rows apart; 0 for a single step."""


class Sum(Model):
    """The stitch arithmetic of one size."""

    words: str
    """The sum written out: "7 + 7 + 8 = 22; 2 × 22 + 32 = 76"."""
    result: Literal["agrees", "differs", "nothing to compare"]
    """Whether the draft's own counts, those worked out left aside, bear it out."""
    against: str = ""
    """What it was compared with, or why a count before was not."""


class Ending(Model):
    """The sides that meet where the shaping begins."""

    lead_in: Side | None
    """Side of the last row before the first bind-off, as the lead-in tells it."""
    lead_in_place: Place | None = None
    label: Side | None = None
    """Side that the first row's own words name."""
    label_place: Place | None = None
    by_edge: Side | None = None
    """Side that follows from the piece and its armhole edge."""
    first_bind_off: Side | None
    """Side of the first bind-off row as it is taken to be."""
    result: Literal["agrees", "contradicts", "told once", "not told"]
    words: str


class Depth(Model):
    """The depth of a slope in one size, by the draft's own gauge."""

    rows: int
    cm: float
    inches: float
    words: str
    """The arithmetic: "6 rows ÷ 3 rows per cm = 2 cm (¾ in)"."""


class ShoulderSheet(Model):
    """One shoulder of a draft."""

    id: str
    piece: str
    place: Place
    decided: str
    """The evidence that it is a shoulder."""
    cast_on: bool = False
    read: bool
    """Whether its rows and counts were read; the figures are empty where they were not."""
    unread: str = ""
    """Why not, or what is wrong in it."""
    before: Figures | None = None
    """Sts on the needle where it starts; of a cast-on shoulder, those with which it begins."""
    edges: tuple[EdgeFigures, ...] = ()
    neck: Figures | None = None
    """Sts beside the shoulder or between both; None where none are left."""
    sums: tuple[Sum, ...] = ()
    ending: Ending | None = None
    depth: tuple[Depth | None, ...] = ()
    """Per size; None for a shoulder of one step, and where the draft gives no rows of its gauge."""
    depth_note: str = ""
    """Why there is no depth, or what it rests on."""


class ComparedShoulder(Model):
    """A shoulder beside the one that the others are compared with."""

    id: str
    name: str
    total: tuple[int, ...]
    steps: tuple[tuple[int, ...], ...]
    """Per size, from the armhole inward."""
    slope_rows: tuple[int, ...]
    result: Literal["first", "same", "other steps", "other sts"]
    """Compared with the first: "other steps" where only the steps or their rows differ."""
    sizes: tuple[str, ...] = ()
    """The sizes in which they differ."""


class GaugeInfo(Model):
    """A gauge that the draft gives."""

    sts_per_10_cm: float | None
    rows_per_10_cm: float | None
    ratio: float | None
    """Rows to sts on the same length."""
    words: str
    fabric: str
    place: Place


class ListFigures(Model):
    """The lists of figures for the sizes."""

    sizes: int
    size_line: Place | None
    counted: int
    """Lists that have one entry for each size."""
    notation: str
    """How most of them are written, with numbers for the sizes: "1(2:3)"."""


class TermFigures(Model):
    """The draft's own list of abbreviations."""

    found: Literal["read", "not read", "none"]
    """"not read": there is one, in a form that is not understood, so nothing was compared."""
    defined: tuple[str, ...] = ()
    place: Place | None = None


class OtherPassage(Model):
    """A stepped passage that is no shoulder, or that is in doubt."""

    id: str
    kind: str
    place: Place
    decided: str


class SheetFinding(Model):
    """Something an editor must know, with its place."""

    code: str
    about: About
    severity: Literal["error", "warning", "remark"]
    message: str
    place: Place
    beside: Place | None = None
    """Other words that the finding is about: the steps of a sum, where its place is the count before them."""
    sizes: tuple[str, ...] = ()
    """The sizes it is about; empty for all."""


class Sheet(Model):
    """A technical editing sheet."""

    schema_: Literal["slopewise/sheet/1"] = Field("slopewise/sheet/1", alias="schema")
    terms: Literal["UK", "US"]
    sizes: tuple[str, ...]
    gauges: tuple[GaugeInfo, ...]
    shoulders: tuple[ShoulderSheet, ...]
    comparison: tuple[ComparedShoulder, ...]
    """Empty where there are not two shoulders to compare."""
    not_compared: tuple[str, ...] = ()
    """Shoulders that could not be compared, as their figures are not known."""
    lists: ListFigures
    abbreviations: TermFigures
    others: tuple[OtherPassage, ...]
    findings: tuple[SheetFinding, ...]
    """In the order of the text."""
