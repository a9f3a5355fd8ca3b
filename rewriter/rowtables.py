"""Rows told in a table, set out as lines: "| 3 | WS | P to last 16 sts, turn |" as "Row 3 (WS): P to ...".

Only a check reads them so: a text that is rewritten keeps its tables as they are. The words of the lines are
those of the table, each with its place there.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from rewriter.spans import SourceText, Span, line_starts

_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")
_RULE = re.compile(r"[ \t]*\|?[ \t]*:?-+:?[ \t]*(?:\|[ \t]*:?-+:?[ \t]*)*\|?[ \t]*")
_CELL = re.compile(r"(?:\\.|[^|\\\r\n])+")

_Role = Literal["row", "side", "work", "left", "count"]
_SIDE = re.compile(r"(?i)\W*(?:rs|ws|right side|wrong side)\W*")
_HEADS: tuple[tuple[_Role, re.Pattern[str]], ...] = (
    ("row", re.compile(r"(?i)\W*(?:(?:short[\s-])?rows?(?:\s+(?:no\.?|number))?|no\.?|#)\W*")),
    (
        "side",
        re.compile(r"(?i)\W*(?:sides?|facing|(?:rs|ws)\s*(?:/|or)\s*(?:rs|ws)|side facing)\W*"),
    ),
    ("left", re.compile(r"(?i)[^|]*\b(?:unworked|leave|left (?:at|over)|left$)[^|]*")),
    (
        "count",
        re.compile(
            r"(?i)\W*(?:(?:no\. of |number of |total )?(?:sts|stitches)"
            r"(?:\s+(?:on needles?|after (?:the )?row|remaining|rem|in all))?|total)\W*"
        ),
    ),
    (
        "work",
        re.compile(
            r"(?i)\W*(?:instructions?|work(?:ed)?|what to do|how to work|do|directions?|action)?\W*"
        ),
    ),
)
_NUMBERED = re.compile(r"(?i)\W*(?:rows?\s+)?\d")
_NONE = re.compile(r"\W*(?:0|none|-|\u2013|\u2014)?\W*")
_TURNS = re.compile(r"(?i)\b(?:turn|w\s?&\s?t|ds|bind|cast|bo|co)\b")


@dataclass(frozen=True)
class LaidOut:
    """A text with its tables of rows set out as lines, and the way back."""

    source: SourceText
    """The text that is read; the text itself where it has no such table."""
    places: tuple[tuple[int, int, int], ...] = ()
    """Its stretches: where each begins, where its words stand in the text, and how many they are; 0 for
    words that the text has not."""

    def back(self, span: Span) -> Span:
        """Return where the words of a stretch stand in the text."""
        if not self.places:
            return span
        start = self._at(span.start, False)
        return Span(start, max(start, self._at(max(span.start, span.end - 1), True)))

    def _at(self, place: int, behind: bool) -> int:
        index = bisect_right(self.places, place, key=lambda p: p[0]) - 1
        begins, at, length = self.places[max(index, 0)]
        inside = place - begins
        return at + (inside + behind if inside < length else length)


def lay_out(source: SourceText) -> LaidOut:
    """Set out the tables of a text that tell rows."""
    text = source.text
    if "|" not in text:
        return LaidOut(source)
    made = _Lines(text)
    lines = [Span(*m.span()) for m in _LINE.finditer(text) if m.end() > m.start()]
    at, found = 0, False
    while at < len(lines):
        told = _table(text, lines, at)
        if told is None:
            made.keep(lines[at])
            at += 1
            continue
        rows, at = told
        found = True
        made.add("\n")
        for roles, cells in rows:
            made.row(roles, cells)
        made.add("\n")
    if not found:
        return LaidOut(source)
    out = "".join(made.kept)
    return LaidOut(replace(source, text=out, line_starts=line_starts(out)), tuple(made.places))


def _table(
    text: str, lines: Sequence[Span], at: int
) -> tuple[list[tuple[list[_Role], list[Span]]], int] | None:
    """Return the rows of a table of rows that begins with a line, and the number of the line behind it."""
    if at + 2 >= len(lines) or "|" not in lines[at].of(text):
        return None
    rule = lines[at + 1].of(text).rstrip("\r\n")
    if "|" not in rule or not _RULE.fullmatch(rule):
        return None
    stop = at + 2
    while stop < len(lines) and "|" in lines[stop].of(text):
        stop += 1
    rows = [_cells(text, line) for line in lines[at + 2 : stop]]
    roles = _roles([c.of(text) for c in _cells(text, lines[at])], text, rows)
    if roles is None or not any(_TURNS.search(line.of(text)) for line in lines[at + 2 : stop]):
        return None
    return [(roles, cells) for cells in rows], stop


def _cells(text: str, line: Span) -> list[Span]:
    """Return the entries of a line of a table, without the blanks around them."""
    words = line.of(text).rstrip("\r\n")
    bare = words.strip()
    start = line.start + len(words) - len(words.lstrip()) + bare.startswith("|")
    stop = line.start + len(words.rstrip()) - (bare.endswith("|") and len(bare) > 1)
    out, at = [], start
    for cut in [*(m.start() for m in re.finditer(r"(?<!\\)\|", text[start:stop])), stop - start]:
        cell = text[at : start + cut]
        lead = len(cell) - len(cell.lstrip())
        out.append(Span(at + lead, max(at + lead, start + len(text[start : start + cut].rstrip()))))
        at = start + cut + 1
    return out


def _roles(heads: Sequence[str], text: str, rows: Sequence[Sequence[Span]]) -> list[_Role] | None:
    """Return what the columns of a table tell; None where it tells no rows, or a column is not known."""
    out: list[_Role] = []
    for number, head in enumerate(heads):
        role: _Role | None = next((name for name, words in _HEADS if words.fullmatch(head)), None)
        cells = [row[number].of(text) for row in rows if number < len(row)]
        if role == "work" and not head.strip() and cells and all(map(_SIDE.fullmatch, cells)):
            role = "side"
        if role is None or role in out or (role == "row" and not _are_rows(cells)):
            return None
        out.append(role)
    return out if "work" in out and ("row" in out or "side" in out) else None


def _are_rows(cells: Sequence[str]) -> bool:
    return all(
        _NUMBERED.match(c) or _SIDE.fullmatch(c) or c.lower().startswith("next") for c in cells
    )


class _Lines:
    """Builds the text that is read, and keeps where its words stand."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.kept: list[str] = []
        self.places: list[tuple[int, int, int]] = []
        self.length = self.last = 0

    def keep(self, span: Span) -> None:
        """Add words of the text."""
        self.places.append((self.length, span.start, span.end - span.start))
        self.kept.append(span.of(self.text))
        self.length += span.end - span.start
        self.last = span.end

    def add(self, words: str) -> None:
        """Add words that the text has not, at the place behind the last ones."""
        self.places.append((self.length, self.last, 0))
        self.kept.append(words)
        self.length += len(words)

    def row(self, roles: Sequence[_Role], cells: Sequence[Span]) -> None:
        """Add a row of a table as a line."""
        text = self.text
        told = {role: cell for role, cell in zip(roles, cells, strict=False) if cell.of(text)}
        if "work" not in told:
            return
        self.last = cells[0].start
        for words in _line(told, text):
            if isinstance(words, str):
                self.add(words)
            else:
                self.keep(words)
        self.add("\n")


def _line(told: dict[_Role, Span], text: str) -> Iterator[str | Span]:
    row, side = told.get("row"), told.get("side")
    if row is None or _SIDE.fullmatch(row.of(text)):
        yield "Next row ("
        yield row or side or ""
        yield "): "
    else:
        if row.of(text)[:1].isdigit():
            yield (
                "Rows " if re.match(r"\d+\s*(?:[-\u2013,&]|and|to)\s*\d", row.of(text)) else "Row "
            )
        yield row
        if side is not None:
            yield " ("
            yield side
            yield ")"
        yield ": "
    work = told["work"]
    yield Span(work.start, work.start + len(work.of(text).rstrip(". ")))
    left = told.get("left")
    if left is not None and not _NONE.fullmatch(left.of(text)):
        yield ", leaving "
        yield left
        yield " unworked" if "st" in left.of(text).lower() else " sts unworked"
    yield "."
    count = told.get("count")
    if count is not None and not _NONE.fullmatch(count.of(text)):
        yield " "
        yield count
        yield "." if "st" in count.of(text).lower() else " sts."
