"""The blocks of a page of changes: a text cut at its blank lines and headings, with its changes and notes."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from rewriter import regex
from rewriter.annotations import Annotation
from rewriter.document import Document
from rewriter.pagelines import Part
from rewriter.report import Report
from rewriter.spans import SourceText
from rewriter.worddiff import replaced


@dataclass(frozen=True, slots=True)
class Note:
    """Words in the margin, and the number that joins them to their place in the text."""

    number: int
    label: str
    text: str
    place: str
    change: bool
    """Whether they are about a change of the text."""


@dataclass
class Block:
    """A paragraph of the page: what became of its words, and its notes."""

    parts: list[Part] = field(default_factory=list)
    """Stretches of text, and numbers of notes where these are about the words before them."""
    notes: list[Note] = field(default_factory=list)
    level: int = 0
    """For a line of plain text that is a heading: 1 for one that names a piece, 2 for others; else 0."""

    @property
    def changed(self) -> bool:
        """Say whether any of its words changed."""
        return any(not isinstance(p, int) and p[0] != "same" for p in self.parts)


def sentence(text: str) -> str:
    """Return words as a sentence, with a capital and a full stop."""
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!", ".”", "?”")) else f"{text}."


def headings_of(document: Document) -> dict[str, int]:
    """Return the headings of a plain text that fill a line, each with its level: 1 names a piece."""
    text = document.source.text
    out: dict[str, int] = {}
    piece: int | None = None
    for told in document.sentences:
        before, words = text[: told.span.start], told.text.strip()
        start = max(before.rfind("\n"), before.rfind("\r")) + 1
        line = next(iter(text[start:].splitlines()), "")
        if told.heading and line.strip() == words:
            out[words] = 1 if told.piece_at != piece else 2
        piece = told.piece_at
    return out


def leading(blocks: Sequence[Block]) -> set[int]:
    """Return the headings under which something changes or is noted, whatever their level."""
    out: set[int] = set()
    above: dict[int, int] = {}
    for number, block in enumerate(blocks):
        opening = next((p for p in block.parts if not isinstance(p, int)), None)
        hashes = HASHES.match(opening[1]) if opening else None
        if level := len(hashes.group(1)) if hashes else block.level:
            above = {k: v for k, v in above.items() if k < level} | {level: number}
        elif block.changed or block.notes:
            out |= set(above.values())
    return out


HASHES = re.compile(r"(#{1,6})\s+")
"""The signs of a heading in Markdown."""


# --- from a report to blocks ------------------------------------------------------------------------


def parts_of(
    report: Report,
    source: SourceText,
    notes: Sequence[Annotation],
    shown: Callable[[str], str] = str,
) -> Iterator[Part]:
    """Yield the text in order with its changes, and the number of each note behind its words."""
    text = source.text
    at = 0
    waiting = sorted(
        (end_of_words(text, a.span.start, a.span.end), n) for n, a in enumerate(notes, 1)
    )
    for edit in report.edits:
        start, end = edit.span
        yield from _same(text, at, start, waiting, shown)
        for piece in replaced(shown(text[start:end]), shown(edit.replacement)):
            yield piece.kind, piece.text
        at = end
        while waiting and waiting[0][0] <= end:
            yield waiting.pop(0)[1]
    yield from _same(text, at, len(text), waiting, shown)
    yield from (number for _, number in waiting)


def _same(
    text: str, start: int, end: int, waiting: list[tuple[int, int]], shown: Callable[[str], str]
) -> Iterator[Part]:
    while waiting and waiting[0][0] < end:
        place, number = waiting.pop(0)
        if place > start:
            yield "same", shown(text[start:place])
            start = place
        yield number
    if end > start:
        yield "same", shown(text[start:end])


def end_of_words(text: str, start: int, end: int) -> int:
    """Return where a note's number goes: behind the last word of its first paragraph."""
    words = text[start:end]
    first = re.split(r"\r?\n[ \t]*\r?\n", words.lstrip("\r\n"), maxsplit=1)[0]
    return start + len(words) - len(words.lstrip("\r\n")) + len(first.rstrip())


_END = r"(?:\r\n|\r|\n)"
_PARTING = regex.compile(
    rf"(?m)({_END}[ \t]*{_END}\s*|(?<=^#{{1,6}}[ \t][^\r\n]*){_END}|{_END}(?=#{{1,6}}[ \t]))"
)
_BLANK_LAST = regex.compile(rf"{_END}[ \t]*{_END}\s*\Z")


def blocks_of(
    parts: Iterable[Part], notes: Sequence[Note], headings: Mapping[str, int] | None = None
) -> Iterator[Block]:
    """Cut a text at its blank lines and headings, with its notes; a change that holds some stays whole.

    `headings` are those of a plain text, with their levels.
    """
    block = Block()
    ended = False
    for part in parts:
        if isinstance(part, int):
            block.parts.append(part)
            block.notes.append(notes[part - 1])
            continue
        kind, text = part
        if kind != "same":
            if block.level:
                yield block
                block = Block()
            block.parts.append(part)
            ended = _BLANK_LAST.search(text) is not None
            continue
        if ended:  # the change went up to a blank line
            yield block
            block, ended = Block(), False
        stretches = _PARTING.split(text)
        for count, stretch in enumerate(stretches):
            if count % 2:
                yield block
                block = Block()
            elif stretch:
                for level, words in _at_headings(
                    stretch, headings or {}, not block.parts, count + 1 < len(stretches)
                ):
                    if (level or block.level) and block.parts:
                        yield block
                        block = Block()
                    block.parts.append(("same", words))
                    block.level = level
    yield block


def _at_headings(
    text: str, headings: Mapping[str, int], opens: bool, closes: bool
) -> Iterator[tuple[int, str]]:
    """Cut lines that are headings out of a stretch, each with its level; 0 for what lies between.

    `opens` and `closes` say that the stretch begins and ends with a line.
    """
    start = at = 0
    for line in text.splitlines(keepends=True):
        level = headings.get(line.strip(), 0)
        ended = line[-1:] in ("\n", "\r") or (closes and at + len(line) == len(text))
        if level and ended and (opens or at > 0):
            if at > start:
                yield 0, text[start:at]
            yield level, line
            start = at + len(line)
        at += len(line)
    if start < len(text):
        yield 0, text[start:]
