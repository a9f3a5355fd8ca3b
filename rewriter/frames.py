"""Frames: what a sentence does, one frame for each thing done, and the slots its words fill."""

from __future__ import annotations

from dataclasses import dataclass, field

from rewriter.amounts import Amount
from rewriter.asks import Decision
from rewriter.document import Sentence
from rewriter.parsing import Part
from rewriter.spans import Span


@dataclass
class Frame:
    """One thing done, with the slots its words fill."""

    verb: str = ""
    parts: dict[str, list[Part]] = field(default_factory=dict)
    """Parts by slot; only `rows` may hold two ("next" and "foll 2 alt rows")."""
    concept: str = ""
    """Concept of the verb's word: knit or purl, the turning method, ..."""
    inherited: bool = False
    """The verb was dropped and comes from the frame before."""
    inherited_count: bool = False
    residue: list[Part] = field(default_factory=list)
    whole: tuple[Part, Part | None] | None = None
    """The sts and the number of steps, where it is told, that this frame and those behind it share out."""
    excepts: tuple[int, ...] = ()
    """Ordinals of the sizes it is not for ("DS (not 1st size)")."""
    notes: list[Part] = field(default_factory=list)
    """Harmless words that the frame takes along."""
    start: int = 0
    end: int = 0

    @property
    def span(self) -> Span:
        """From the first to the last word of the frame."""
        return Span(self.start, self.end)

    def one(self, slot: str) -> Part | None:
        """Return the part in a slot, if there is one."""
        return self.parts[slot][0] if slot in self.parts else None

    @property
    def amount(self) -> Amount | None:
        """The count of the frame as written."""
        part = self.one("count")
        return part.amount if part else None

    @property
    def takes_all(self) -> bool:
        """Whether the count is what remains, whatever number is given for it."""
        part = self.one("count")
        if part is None:
            return "steps" not in self.parts
        return part.kind in ("rem_count", "rem_all")

    @property
    def edge(self) -> str:
        """The edge named: armhole, shoulder, side, neck or nothing."""
        part = self.one("edge")
        return "" if part is None else "neck" if part.concept == "centre" else part.concept

    def is_empty(self) -> bool:
        """Say whether nothing at all is in the frame."""
        return not (self.verb or self.parts or self.residue or self.notes)


@dataclass(frozen=True)
class Label:
    """What stands before the colon of a row: which rows it tells, and their side."""

    span: Span
    rows: Amount | None
    """Number of rows, where the label gives one ("Next 2 rows")."""
    numbers: tuple[int, ...]
    """Row numbers ("Row 3", "Rows 3-4")."""
    side: str = ""
    of_one_side: bool = False
    """Whether the rows are counted at one side ("Next 2 RS rows"), so that plain ones lie between."""


@dataclass
class Statement:
    """A sentence in frames."""

    sentence: Sentence
    label: Label | None
    frames: list[Frame]
    running: list[Part]
    """Stitch counts that the sentence prints."""
    sizes: tuple[int, ...] | None = None
    """Ordinals of the sizes it is for ("3rd and 4th sizes only"); () for all sizes again."""
    by_size: tuple[tuple[tuple[int, ...], list[Frame]], ...] = ()
    """Where its sizes are told one by one: ordinals of the sizes, and their own frames."""
    opening: list[Part] = field(default_factory=list)
    """Stitch counts that stand before anything is done: "(69 sts) Bind off ..."."""
    residue: list[Part] = field(default_factory=list)
    stars: tuple[bool, bool] = (False, False)
    """Whether a repeat sign stands before the first and after the last word."""
    decisions: tuple[Decision, ...] = ()
    """What the reader decided about its words."""

    @property
    def span(self) -> Span:
        """Where the sentence stands."""
        return self.sentence.span
