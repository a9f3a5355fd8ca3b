"""A document's paragraphs as one text, with the way back, and edits of that text as changes of paragraphs.

What a word processor keeps apart from the words (that a paragraph is a heading, a list item, bold) is
shown in the text by the signs of Markdown. Such signs are *virtual*: they have no place in the
document, and a replacement that carries them is turned back into what they stand for.
"""

from __future__ import annotations

import bisect
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Literal

from rewriter.spans import Span

Role = Literal["text", "heading", "item", "cell"]


class NotPlaced(ValueError):
    """An edit that the document's paragraphs cannot take; the message names the place."""


@dataclass(frozen=True, slots=True)
class Run:
    """Characters of one weight; a line break within the paragraph is a newline."""

    text: str
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph as its document shows it."""

    runs: tuple[Run, ...]
    role: Role = "text"
    prefix: str = ""
    """The virtual sign before it: `## `, `- `, `3. `."""
    family: str = ""
    """Its style; space between paragraphs of one style may be left out."""
    space_before: bool = False
    space_after: bool = True
    contextual: bool = False
    """No space towards a neighbour of the same style."""
    area: int = 0
    """The body, table cell, text box or note it stands in; no edit crosses two of them."""
    gap: str | None = None
    """What parts it from the next one, where that is not told by the spaces (cells of a table)."""

    @property
    def text(self) -> str:
        """Its characters."""
        return "".join(run.text for run in self.runs)


@dataclass(frozen=True, slots=True)
class _Segment:
    at: int
    paragraph: int
    offset: int
    length: int


@dataclass(frozen=True, slots=True)
class Part:
    """Replace characters of one paragraph, counted from its own first one."""

    paragraph: int
    span: Span
    runs: tuple[Run, ...] = ()


@dataclass(frozen=True, slots=True)
class Change:
    """One edit as the paragraphs take it."""

    parts: tuple[Part, ...]
    """In document order, one for each paragraph that the edit touches; what is deleted of it."""
    new: tuple[tuple[Run, ...], ...]
    """The paragraphs of the new words, one at least: the first goes on from what stays of the first part,
    what stays of the last part goes on from the last."""
    alike: bool
    """Whether the paragraphs touched are of one kind and style."""

    @property
    def is_empty(self) -> bool:
        """Say whether nothing of the paragraphs' own words changes."""
        words = any(p.span.start < p.span.end for p in self.parts) or any(self.new)
        return not words and len(self.parts) == len(self.new) == 1

    def meets(self, later: Change) -> bool:
        """Say whether the last paragraph is the first one of a later change."""
        return self.parts[-1].paragraph == later.parts[0].paragraph

    def laid_out(
        self, one_by_one: bool = False
    ) -> tuple[tuple[Part, ...], tuple[tuple[Run, ...], ...], int]:
        """Return parts with their new words, the paragraphs added after them, and how many ends go.

        Several paragraphs of one kind go first and the new ones follow, as a person would write it;
        paragraphs of different kinds, or all where asked, are replaced one by one, so that each keeps
        its own end.
        """
        marks = len(self.parts) - 1
        new = self.new
        if marks and self.alike and not one_by_one and len(new) > 1:
            new, dropped = (*[()] * marks, *new), marks
        else:
            dropped = max(marks + 1 - len(new), 0)
        parts = tuple(
            replace(p, runs=new[i] if i < len(new) else ()) for i, p in enumerate(self.parts)
        )
        return parts, new[marks + 1 :], dropped


@dataclass(frozen=True)
class Flow:
    """Paragraphs, the text they make together, and the map between the two."""

    paragraphs: tuple[Paragraph, ...]
    text: str
    starts: tuple[int, ...]
    """Where each paragraph begins in the text, its prefix included."""
    ends: tuple[int, ...]
    segments: tuple[_Segment, ...] = field(repr=False)
    bold: tuple[Span, ...] = field(repr=False)
    """Stretches of the text between two virtual signs of boldness."""

    def paragraph_at(self, offset: int) -> int:
        """Return the number of the paragraph at an offset, or of the one before a gap."""
        return max(bisect.bisect_right(self.starts, offset) - 1, 0)

    def within(self, paragraph: int, offset: int) -> int:
        """Return the place in a paragraph's own characters of an offset of the text."""
        own = self._segments_of(paragraph)
        if not own:
            return len(self.paragraphs[paragraph].text)
        before = [s for s in own if s.at <= offset]
        if not before:
            return own[0].offset
        last = before[-1]
        return last.offset + min(offset - last.at, last.length)

    def _segments_of(self, paragraph: int) -> Sequence[_Segment]:
        low = bisect.bisect_left(self.segments, paragraph, key=lambda s: s.paragraph)
        high = bisect.bisect_right(self.segments, paragraph, key=lambda s: s.paragraph)
        return self.segments[low:high]

    def has_own(self, span: Span) -> bool:
        """Say whether a span holds characters that stand in the document, not only signs of its form."""
        return any(s.at < span.end and span.start < s.at + s.length for s in self.segments)

    def parted(self, span: Span, replacement: str) -> list[tuple[Span, str]]:
        """Return an edit as two where it reaches over paragraphs of two styles, so that each keeps its own.

        The last paragraphs of the new words take the style of the last ones touched: a sentence that
        closes a list of rows closes the new rows too.
        """
        first, last = self.paragraph_at(span.start), self.paragraph_at(span.end)
        kinds = [(p.role, p.family) for p in self.paragraphs[first : last + 1]]
        borders = [n for n in range(first, last) if kinds[n - first] != kinds[n - first + 1]]
        if len(borders) != 1 or not {role for role, _ in kinds} <= {"text", "item"}:
            return [(span, replacement)]
        end, start = self.ends[borders[0]], self.starts[borders[0] + 1]
        gaps = list(_NEWLINES.finditer(replacement))
        fitting = [
            g for g in gaps[: len(gaps) + 1 - (last - borders[0])] if g[0] == self.text[end:start]
        ]
        if not fitting:
            return [(span, replacement)]
        pieces = (
            (Span(span.start, end), replacement[: fitting[-1].start()]),
            (Span(start, span.end), replacement[fitting[-1].end() :]),
        )
        return [(own, new) for own, new in pieces if self.text[own.start : own.end] != new]

    def place(self, span: Span, replacement: str) -> Change:
        """Turn an edit of the text into a change of paragraphs; raises NotPlaced where none fits."""
        return _place(self, span, replacement)

    def is_bold(self, offset: int) -> bool:
        """Say whether an offset stands between two virtual signs of boldness."""
        return any(s.start <= offset <= s.end for s in self.bold)


# What would open a code block, quote, heading or page markup if a paragraph began with it.
_HAZARD = re.compile(r"~~~|```|<(?=[A-Za-z/!?])|#{1,6}\s|>|(?:=+|-{3,})\s*$")
_BLANKS = re.compile(r"[ \t\u00a0\f\v]*")
# A row label or run-in heading set in bold before ordinary words.
_LABEL_END = re.compile(r"[:.)\]\u2013\u2014]\s*$")
_LONGEST_HEADING = 60


def assemble(paragraphs: Iterable[Paragraph]) -> Flow:
    """Join paragraphs to one text in Markdown's block form."""
    builder = _Builder()
    kept = joined_lines(tuple(paragraphs))
    for number, paragraph in enumerate(kept):
        builder.add(number, paragraph)
        if number + 1 < len(kept):
            builder.virtual(gap_between(paragraph, kept[number + 1]))
    return Flow(
        kept,
        "".join(builder.pieces),
        tuple(builder.starts),
        tuple(builder.ends),
        tuple(builder.segments),
        tuple(builder.bold),
    )


_LONGEST_LINE = 120
_BROKEN_LINES = 3
"""Fewer lines broken within a sentence than this are an accident, not a page that was pasted."""
_STOPS = re.compile(r"[.:;!?]\W*$")


def joined_lines(paragraphs: tuple[Paragraph, ...]) -> tuple[Paragraph, ...]:
    """Take the space from paragraphs that are single lines of a text, as a page pasted into a document has.

    Sentences go on from line to line there, so the lines are read as those of a plain text.
    """
    out = list(paragraphs)
    start = 0
    for stop in range(1, len(out) + 1):
        if stop < len(out) and _is_line(out[stop]) and out[stop].area == out[start].area:
            continue
        stretch = [n for n in range(start, stop) if out[n].text.strip()]
        if sum(_goes_on(out[a], out[b]) for a, b in pairwise(stretch)) >= _BROKEN_LINES:
            for n in range(start, stop):
                if _is_line(out[n]):
                    out[n] = replace(out[n], space_before=False, space_after=False)
        start = stop
    return tuple(out)


def _is_line(paragraph: Paragraph) -> bool:
    return paragraph.role == "text" and len(paragraph.text) <= _LONGEST_LINE


def _goes_on(one: Paragraph, two: Paragraph) -> bool:
    """Say whether a sentence plainly goes on from one line to the next."""
    ends, begins = one.text.rstrip(), two.text.lstrip()
    return len(ends) > _LONGEST_HEADING // 2 and not _STOPS.search(ends) and begins[:1].islower()


def gap_between(one: Paragraph, two: Paragraph) -> str:
    """Return the newlines that part two paragraphs: two where space is seen between them."""
    if one.gap is not None and one.role == "cell":
        return one.gap
    if one.area != two.area or "heading" in (one.role, two.role):
        return "\n\n"
    if one.role == "item" and two.role == "item":
        return "\n"
    if "item" in (one.role, two.role):
        return "\n\n"
    same = one.family == two.family
    spaced = (one.space_after and not (same and one.contextual)) or (
        two.space_before and not (same and two.contextual)
    )
    return "\n\n" if spaced else "\n"


class _Builder:
    def __init__(self) -> None:
        self.pieces: list[str] = []
        self.length = 0
        self.starts: list[int] = []
        self.ends: list[int] = []
        self.segments: list[_Segment] = []
        self.bold: list[Span] = []

    def virtual(self, text: str) -> None:
        self.pieces.append(text)
        self.length += len(text)

    def real(self, text: str, paragraph: int, offset: int) -> None:
        if text:
            self.segments.append(_Segment(self.length, paragraph, offset, len(text)))
            self.virtual(text)

    def add(self, number: int, paragraph: Paragraph) -> None:
        self.starts.append(self.length)
        self.virtual(paragraph.prefix)
        text = paragraph.text
        weights = [run.bold for run in paragraph.runs for _ in run.text]
        at = 0
        if paragraph.role in ("heading", "cell"):
            blank = _BLANKS.match(text)
            at = blank.end() if blank else 0
            shown = text[at:].replace("\n", " ")
            self.real(shown.replace("|", "/") if paragraph.role == "cell" else shown, number, at)
        else:
            for count, line in enumerate(text.split("\n")):
                if count:
                    self.real("\n", number, at - 1)
                    self.virtual(" " * len(paragraph.prefix) if line.strip() else "")
                self._line(line, weights[at : at + len(line)], number, at, paragraph)
                at += len(line) + 1
        self.ends.append(self.length)

    def _line(
        self, line: str, weights: Sequence[bool], number: int, at: int, paragraph: Paragraph
    ) -> None:
        blank = _BLANKS.match(line)
        skipped = blank.end() if blank else 0
        line, weights, at = line[skipped:], weights[skipped:], at + skipped
        if _HAZARD.match(line):
            self.virtual("\\")
        lead = bold_lead(line, weights)
        if lead and paragraph.role in ("text", "item"):
            self.virtual("**")
            start = self.length
            self.real(line[:lead], number, at)
            self.bold.append(Span(start, self.length))
            self.virtual("**")
            line, at = line[lead:], at + lead
        self.real(line, number, at)


def bold_lead(line: str, weights: Sequence[bool]) -> int:
    """Return how many characters of a line are a bold label or heading at its beginning."""
    end = next((i for i, bold in enumerate(weights) if not bold and not line[i].isspace()), None)
    lead = line[: len(line) if end is None else end].rstrip()
    if not lead or not any(c.isalnum() for c in lead) or not weights[0] or "*" in lead:
        return 0
    if end is None:
        return len(lead) if len(lead) <= _LONGEST_HEADING else 0
    return len(lead) if _LABEL_END.search(lead) and len(lead) <= _LONGEST_HEADING else 0


# --- edits ------------------------------------------------------------------------------------------

_MARKER = re.compile(r"[ \t]*(?:[-*+\u2022]|\d{1,3}[.)])[ \t]+")
_NEWLINES = re.compile(r"\n[ \t]*(?:\n[ \t]*)*")


def _place(flow: Flow, span: Span, replacement: str) -> Change:
    first, last = flow.paragraph_at(span.start), flow.paragraph_at(span.end)
    start, end = span
    if start > flow.ends[first]:  # it begins in the gap: what is kept of the gap is written anew
        replacement = flow.text[flow.ends[first] : start] + replacement
        start = flow.ends[first]
    if end > flow.ends[last] and last + 1 < len(flow.paragraphs):
        replacement += flow.text[end : flow.starts[last + 1]]
        last += 1
        end = flow.starts[last]
    for number in (first, last):
        begin = flow.starts[number]
        body = begin + len(flow.paragraphs[number].prefix)
        if number == first and begin < start < body:
            replacement = flow.text[begin:start] + replacement
            start = begin
        if number == last and begin < end < body:
            replacement += flow.text[end:body]
            end = body
    paragraphs = flow.paragraphs[first : last + 1]
    if len({p.area for p in paragraphs}) > 1 or any(p.role == "cell" for p in paragraphs):
        raise NotPlaced("the words to change reach over the cells of a table or two text boxes")
    new = _new_paragraphs(replacement, flow, first, last, start)
    parts = tuple(
        Part(
            n,
            Span(
                flow.within(n, start) if n == first else 0,
                flow.within(n, end) if n == last else len(flow.paragraphs[n].text),
            ),
        )
        for n in range(first, last + 1)
    )
    return Change(parts, tuple(new), len({(p.role, p.family) for p in paragraphs}) == 1)


def _new_paragraphs(
    replacement: str, flow: Flow, first: int, last: int, start: int
) -> list[tuple[Run, ...]]:
    """Cut a replacement into paragraphs, signs of list and boldness turned into what they mean."""
    model = flow.paragraphs[last]
    parting = gap_between(model, replace(model, gap=None))
    opening = start == flow.starts[first]
    prefix = flow.paragraphs[first].prefix
    lines = [""]
    if opening and prefix and replacement:
        if flow.paragraphs[first].role == "item" and (sign := _MARKER.match(replacement)):
            replacement = replacement[sign.end() :]
        elif replacement.startswith(prefix):
            replacement = replacement[len(prefix) :]
        else:
            raise NotPlaced("a heading or list item would become an ordinary paragraph")
    at = 0
    for found in [*_NEWLINES.finditer(replacement), None]:
        lines[-1] += replacement[at : found.start() if found else len(replacement)]
        if found is None:
            break
        at = found.end()
        count = found.group().count("\n")
        indent = found.group().rpartition("\n")[2]
        sign = _MARKER.match(replacement, at)
        if model.role == "item" and count == 1 and not sign:
            lines[-1] += "\n"  # a second line of the same item, its indent virtual
        elif len(parting) == 1 or model.role == "item":
            lines += [""] * count
            at = sign.end() if model.role == "item" and sign else at
            lines[-1] += "" if model.role == "item" else indent
        else:
            lines += [""] * (count // 2)
            lines[-1] += "\n" * (count % 2) + indent
    bold = flow.is_bold(start)
    out: list[tuple[Run, ...]] = []
    for line in lines:
        runs, bold = _weighed(line, bold)
        out.append(runs)
    return out


def _weighed(line: str, bold: bool) -> tuple[tuple[Run, ...], bool]:
    """Cut a line at the signs of boldness; return its runs and the weight it ends with."""
    runs: list[Run] = []
    for count, piece in enumerate(line.split("**")):
        bold = bold != (count > 0)
        if piece:
            runs.append(Run(piece, bold))
    return tuple(runs), bold
