"""Keep added words within the lines of a draft that is broken to a width.

An edit in the middle of a line may make it too long. The line is then broken at a blank of the new words
or beside them; the words around them stay as they are, for nothing outside an edit may change.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.document import Document
from rewriter.edits import Edit
from rewriter.spans import Span

# A list of counts is not broken (see `emitter.wrap`).
_COUNTS = regex.compile(r"\d+ ?[(\[][\d\s,:;/\u2013\u2014-]*[)\]]")
# Nor is an item of a list between its number and its name.
_NUMBER = regex.compile(r"(?<![\w.,])\d+ (?=[a-z])")
_LINE_END = regex.compile(r"\r\n|\r|\n")
_FRONT = regex.compile(rf"[ \t]*(?:[-*{BULLETS}][ \t]+)?")


def fitted(document: Document, edits: Sequence[Edit]) -> list[Edit]:
    """Return ordered edits, line ends put into them where their lines would be wider than the draft's."""
    width = document.width
    if width is None:
        return list(edits)
    text = document.source.text
    out: list[Edit] = []
    line = ""  # the revised line up to the edit
    at = 0
    for edit, after in zip_longest(edits, edits[1:]):
        line = _last_line(line + text[at : edit.span.start])
        free = edit.span.start > at, after is None or after.span.start > edit.span.end
        room, new = _room(text, edit, width), edit
        if room is not None:
            whole = edit.why == "notions"
            around = _Line(line, _rest_of_line(text, edit), *free, room, whole)
            new = _fitted(edit, around, document)
        out.append(new)
        line = _last_line(line + new.replacement)
        at = new.span.end
    return out


@dataclass(frozen=True)
class _Line:
    """A line of the revised text around new words."""

    before: str
    after: str
    free_before: bool
    """The character before the words is the draft's own, and no other edit ends at it."""
    free_after: bool
    width: int
    items: bool
    """The words are items of a list."""


def _rest_of_line(text: str, edit: Edit) -> str:
    stop = _LINE_END.search(text, edit.span.end)
    return text[edit.span.end : stop.start() if stop else len(text)].rstrip()


def _last_line(text: str) -> str:
    return _LINE_END.split(text)[-1]


def _room(text: str, edit: Edit, width: int) -> int | None:
    """Return how wide the lines that an edit stands in may be; None where they were not broken to a width."""
    start = max(text.rfind("\n", 0, edit.span.start), text.rfind("\r", 0, edit.span.start)) + 1
    stop = _LINE_END.search(text, edit.span.end)
    lines = _LINE_END.split(text[start : stop.start() if stop else len(text)])
    widest = max(len(line.rstrip()) for line in lines)
    # a few lines of a draft are a little wider than the rest
    return max(width, widest) if widest <= 1.2 * width else None


def _fitted(edit: Edit, line: _Line, document: Document) -> Edit:
    """Return an edit whose first and last line are broken where they would be too wide."""
    ends = _LINE_END.findall(edit.replacement)
    pieces = _LINE_END.split(edit.replacement)
    if ends:
        first = _broken(pieces[0], replace(line, after="", free_after=False))
        last = _broken(pieces[-1], replace(line, before="", free_before=False))
    else:
        first = last = _broken(pieces[0], line)
    words = _joined(first.parts, line.before, document)
    if ends:
        words += "".join(e + p for e, p in zip(ends, pieces[1:-1], strict=False))
        words += ends[-1] + _joined(last.parts, pieces[-1], document)
    span = Span(edit.span.start - int(first.at_start), edit.span.end + int(last.at_end))
    return replace(edit, span=span, replacement=words)


def _joined(parts: Sequence[str], line: str, document: Document) -> str:
    """Return the lines of new words, each set in as far as the line that they begin in."""
    return f"{document.source.newline()}{' ' * _indent(line)}".join(parts)


def _indent(line: str) -> int:
    front = _FRONT.match(line)
    return len(front.group()) if front else 0


@dataclass(frozen=True)
class _Broken:
    """Words broken into lines."""

    parts: Sequence[str]
    at_start: bool
    """The blank before them is broken at: the first part is empty."""
    at_end: bool
    """The blank after them is broken at: the last part is empty."""


def _broken(words: str, line: _Line) -> _Broken:
    whole = f"{line.before}{words}{line.after}"
    indent = _indent(line.before or words)
    first, last = len(line.before), len(line.before) + len(words)
    low, high = first - int(line.free_before), last - int(not line.free_after)
    blanks = [b for b in _blanks(whole, line.items) if low <= b <= high and b > indent]
    cuts: list[int] = []
    begin, room = 0, line.width
    while len(whole) - begin > room:
        later = [b for b in blanks if b > begin]
        if not later:
            break
        # the last blank that fits; where the draft's own words leave no room, the first there is
        cut = max((b for b in later if b <= begin + room), default=later[0])
        cuts.append(cut)
        begin, room = cut + 1, line.width - indent
    starts, ends = [first, *[cut + 1 for cut in cuts]], [*cuts, last]
    parts = [whole[a:b] for a, b in zip(starts, ends, strict=True)]
    return _Broken(parts, first - 1 in cuts, last in cuts)


def _blanks(text: str, items: bool) -> Iterator[int]:
    kept = [found.span() for p in (_COUNTS, *[_NUMBER] * items) for found in p.finditer(text)]
    for found in regex.finditer(" ", text):
        if not any(a <= found.start() < b for a, b in kept):
            yield found.start()
