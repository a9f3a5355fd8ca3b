"""The public model: what a reading or rewriting found, as JSON and as Python objects.

Offsets are Unicode code points into the decoded source; lists "per size" have one entry for each
size, in order; counts are stitches and rows.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from rewriter.publicmodel import Model, Side
from rewriter.sheetmodel import Sheet


class SourceInfo(Model):
    """The draft that was read."""

    name: str
    format: Literal["markdown", "text", "docx", "odt", "html", "pdf"]
    sha256: str


class OptionsInfo(Model):
    """The options a rewrite was made with."""

    to: str = "short-rows"
    turn: str
    shoulders: str
    kinds: tuple[str, ...]
    respace: bool = False
    exact_live: bool = False


class Turn(Model):
    """One turn: its row (row 0 is the first bind-off of the passage), side, and unworked sts."""

    row: int
    side: Side | None
    unworked: int


class EdgeReport(Model):
    """One shaped edge of a passage."""

    edge: Literal["right", "left", "unknown"]
    first_bind_off_side: Side | None
    steps: tuple[tuple[int, ...], ...]
    """Step by step from the armhole inward, each per size; 0 where a size has no such step."""
    even_steps: tuple[tuple[int, ...], ...] | None = None
    """The steps that were worked instead, in the same form, where the sts were spread evenly."""
    turns: tuple[tuple[Turn, ...], ...]
    """Per size, the turns in order."""
    together: tuple[int, ...]
    """Per size, the sts bound off in one sweep or kept live."""
    rows_gained: tuple[int, ...]
    """Per size, how many rows every column of the shoulder gains."""


class Verification(Model):
    """What working both texts stitch by stitch showed."""

    result: Literal["same", "within-one-row", "differs", "not-run"]
    neck_rows_gained: tuple[int, ...] = ()
    piece_rows_gained: tuple[int, ...] = ()
    against: Literal["draft", "even steps"] = "draft"
    """What the revised text was compared with: the draft, or the draft as if it had even steps."""
    most_rows_moved: tuple[int, ...] = ()
    """Per size, the greatest difference of a shoulder column from the draft, in rows, that even
    steps make; what it gains by being kept live is not counted. Empty where nothing was spread."""


class PassageReport(Model):
    """One stepped passage and what became of it."""

    id: str
    piece: str
    kind: Literal["shoulder", "neck", "armhole", "cap", "other"]
    span: tuple[int, int]
    status: Literal["rewritten", "left", "question"]
    reason: str | None
    stitches_before: tuple[int, ...] | None
    neck: tuple[int, ...] | None
    edges: tuple[EdgeReport, ...]
    cast_on: bool = False
    """The steps are cast on, in a piece worked from the top: they are told from the neck outward,
    `first_bind_off_side` is that of the first row that works them, and row 0 is the first row told."""
    verification: Verification


class EditReport(Model):
    """One replacement of a span of the source."""

    span: tuple[int, int]
    replacement: str
    why: str


class Diagnostic(Model):
    """A finding about the draft, with the place it is about."""

    code: str
    severity: Literal["error", "warning", "remark"]
    message: str
    span: tuple[int, int]
    sizes: tuple[str, ...] = ()


class Question(Model):
    """Something that must be answered before a passage can be rewritten, or may be."""

    passage: str
    """Id of the passage."""
    ask: str
    """The kind of question, the name of its answer; "" where the draft itself must be changed."""
    question: str
    choices: dict[str, str] = Field(default_factory=dict)
    """The answers to choose from, each with what it means; empty for a free answer."""
    form: str = ""
    """What a free answer looks like."""
    span: tuple[int, int]
    """The words it is about."""
    about: str = ""
    """Those words, where they are not the whole passage."""
    words: str
    """The words of the passage, by which the answer finds it in a revision of the draft."""
    piece: str
    occurrence: int = 1
    """Which one it is of the passages with the same words in the same piece."""
    optional: bool = False
    """It can be rewritten without an answer."""


class UnusedAnswer(Model):
    """An answer whose passage is not in the draft."""

    ask: str
    answer: str
    passage: str
    place: str
    """Where the answer was given."""


class Report(Model):
    """The whole result of reading or rewriting a draft."""

    schema_: Literal["slopewise/report/1"] = Field("slopewise/report/1", alias="schema")
    source: SourceInfo
    terms: Literal["UK", "US"]
    sizes: tuple[str, ...]
    options: OptionsInfo
    passages: tuple[PassageReport, ...]
    edits: tuple[EditReport, ...]
    diagnostics: tuple[Diagnostic, ...]
    questions: tuple[Question, ...] = ()
    unused_answers: tuple[UnusedAnswer, ...] = ()
    output: str
    """The whole revised text (the source where nothing was rewritten)."""
    sheet: Sheet | None = Field(default=None, exclude_if=lambda sheet: sheet is None)
    """The technical editing sheet of a reading; None in a rewriting."""

    def to_json(self) -> str:
        """Return the report as JSON text."""
        return self.model_dump_json(by_alias=True, indent=2)
