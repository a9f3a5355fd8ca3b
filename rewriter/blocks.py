"""From source text to blocks: headings, paragraphs, list items, tables, each with its place.

Markdown blocks come from markdown-it-py (it gives line ranges), plain text is cut at blank lines.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import groupby, pairwise
from typing import Literal

from markdown_it import MarkdownIt

from rewriter.bullets import BULLETS
from rewriter.spans import SourceText, Span
from rewriter.values import value

BlockKind = Literal["heading", "text", "item", "table", "code"]


@value
class Block:
    """A heading, paragraph, list item, table or code block."""

    kind: BlockKind
    span: Span


_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")


def lines_of(text: str, span: Span) -> list[Span]:
    out = []
    at = span.start
    while at < span.end:
        found = _LINE.match(text, at, span.end)
        if found is None or found.end() == at:
            break
        out.append(Span(at, found.end()))
        at = found.end()
    return out


def text_blocks(source: SourceText) -> Iterator[Block]:
    start: int | None = None
    end, table = 0, False
    lines = list(lines_of(source.text, Span(0, len(source.text))))
    for line, ruled in zip(lines, _ruled([line.of(source.text) for line in lines]), strict=True):
        if start is not None and ruled != table:
            yield Block("table" if table else "text", _trim(source.text, Span(start, end)))
            start = None
        if line.of(source.text).strip():
            start, table = line.start if start is None else start, ruled
            end = line.end
        elif start is not None and not _OPEN_LIST.search(source.text, start, end):
            yield Block("table" if table else "text", _trim(source.text, Span(start, end)))
            start = None
    if start is not None:
        yield Block("table" if table else "text", _trim(source.text, Span(start, end)))


def _ruled(lines: Sequence[str]) -> list[bool]:
    """Say of each line whether it is a row of a table: several with strokes, and words between two of them.

    "B97  | RS   | bind off 6, k to end | 54" is one; between the strokes of a list of sizes ("6 | 7 | 8
    sts") nothing begins with a word.
    """
    out = [False] * len(lines)
    for parted, run in groupby(range(len(lines)), lambda n: _PARTED.search(lines[n]) is not None):
        rows = list(run)
        if parted and len(rows) > 1 and any(_TOLD.search(lines[n]) for n in rows):
            for n in rows:
                out[n] = True
    return out


_PARTED = re.compile(r"\S\s*\s\|\s[^|]*\s\|(?:\s|\Z)")
_TOLD = re.compile(r"\|\s+[A-Za-z]\w*\s[^|]*[A-Za-z][^|]*\s\|")


# A list of sizes cut in two by the end of a column: the block goes on after the blank line.
_OPEN_LIST = re.compile(r"[(\[][\d\s,:;\u2013-]*[,:;\u2013-]\s*\Z")


def markdown_blocks(source: SourceText) -> Iterator[Block]:
    text = source.text
    # markdown-it counts lines as these three newlines do; its own copy of the text is not used.
    starts = [*source.line_starts, len(text)]
    parser = MarkdownIt("commonmark").enable("table").disable("inline")
    in_item = 0
    table: Span | None = None
    underlined = False
    for token in parser.parse(text.replace("\0", " ").replace("\r\n", "\n").replace("\r", "\n")):
        if token.type == "list_item_open":
            in_item += 1
        elif token.type == "list_item_close":
            in_item -= 1
        elif token.type == "heading_open":
            underlined = token.markup in ("=", "-")
        elif token.type == "heading_close":
            underlined = False
        if token.map is None:
            continue
        span = Span(starts[token.map[0]], starts[min(token.map[1], len(starts) - 1)])
        if token.type == "table_open":
            table = span
            yield Block("table", _trim(text, span))
        elif token.type in ("fence", "code_block", "html_block"):
            yield Block("code", _trim(text, span))
        elif token.type == "inline" and not (table and table.start <= span.start < table.end):
            heads = _is_hashed(text, span) or (underlined and _is_title(span.of(text)))
            kind: BlockKind = "heading" if heads else "item" if in_item else "text"
            yield Block(kind, _trim(text, span))


def _is_hashed(text: str, span: Span) -> bool:
    lines = span.of(text).rstrip().splitlines()
    return lines[0].lstrip().startswith("#") or (
        len(lines) > 1 and bool(re.fullmatch(r"\s*(?:=+|-+)\s*", lines[-1]))
    )


def _is_title(words: str) -> bool:
    """Say whether an underlined paragraph is a heading, and no sentence above a rule."""
    line = words.strip()
    return "\n" not in line and len(line) <= _LONGEST_TITLE and not line.endswith((".", ";", ","))


_LONGEST_TITLE = 60
_MARKER = re.compile(rf"\s*(?:[-*+{BULLETS}\u00a3]\s+|\d+[.)]\s+|#{{1,6}}\s+|>\s?)*")


def _trim(text: str, span: Span) -> Span:
    """Leave out white space at both ends and a list, quote or heading sign in front."""
    body = span.of(text)
    front = _MARKER.match(body)
    start = span.start + (front.end() if front else 0)
    end = span.start + len(body.rstrip())
    return Span(min(start, end), end)


_LINE_END = re.compile(r"\r\n|\r|\n")
_RUNS_ON = re.compile(r"[^.:;!?\s*_#|]$")
_GOES_ON = re.compile(r"[a-z(\[]")


def wrap_width(text: str) -> int | None:
    """Return the width a draft is wrapped to, or None where paragraphs are single lines.

    A draft is wrapped where lines keep breaking in the middle of a sentence. The few longest of those
    lines do not count: one may be a web address, or a sentence written in later.
    """
    lines = [line.rstrip() for line in _LINE_END.split(text)]
    cased = has_lower_case(text)
    broken = sorted(
        (
            len(line)
            for line, after in pairwise(lines)
            if len(line) > 25
            and _RUNS_ON.search(line)
            and _GOES_ON.match(after.lstrip() if cased else after.lstrip().lower())
        ),
        reverse=True,
    )
    if len(broken) < 4:
        return None
    return broken[min(len(broken) // 20, len(broken) - 1)]


@lru_cache(maxsize=8)
def has_lower_case(text: str) -> bool:
    """Say whether a text is written in lower case at all (an all-capitals leaflet is not)."""
    return sum(map(str.islower, text)) * 10 > sum(map(str.isupper, text))
