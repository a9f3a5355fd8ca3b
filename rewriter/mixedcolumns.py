"""Columns of a page that were copied line by line: the words of one run into those of the other.

What they tell cannot be put in order again without the page, so it is refused, with the reason.
"""

from __future__ import annotations

from functools import lru_cache

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.passages import Passage
from rewriter.spans import Span

_GAP = regex.compile(r"(?<=\S)[ \t]{2,}(?=\S)")
_WORDS = regex.compile(r"[A-Za-z]{2,}")
_FEWEST_LINES = 4
"""Lines in a row that must stand in two columns."""
_FEWEST_WORDS = 2


@lru_cache(maxsize=8)
def mixed_columns(text: str) -> tuple[Span, ...]:
    """Return the stretches of a text whose lines stand in two columns of prose."""
    out: list[Span] = []
    run: list[tuple[Span, int]] = []
    at = 0
    for line in [*text.splitlines(keepends=True), "\n"]:
        span = Span(at, at + len(line.rstrip("\r\n")))
        at += len(line)
        column = _second_column(line)
        if run and (column is None or abs(column - run[-1][1]) > 1):
            if len(run) >= _FEWEST_LINES and _is_prose(text, run):
                out.append(Span(run[0][0].start, run[-1][0].end))
            run = []
        if column is not None:
            run.append((span, column))
    return tuple(out)


def _is_prose(text: str, run: list[tuple[Span, int]]) -> bool:
    """Say whether most lines have three words or more on both sides: no list of sizes or meanings."""
    long = [
        min(len(_WORDS.findall(part)) for part in (line[:column], line[column:])) >= 3
        for line, column in ((span.of(text), column) for span, column in run)
    ]
    return 2 * sum(long) >= len(long)


def _second_column(line: str) -> int | None:
    """Return where the second column of a line begins: behind the widest gap between words."""
    places = [(len(found.group()), found.end()) for found in _GAP.finditer(line)]
    if not places:
        return None
    _, start = max(places)
    left, right = line[:start], line[start:]
    if min(len(_WORDS.findall(part)) for part in (left, right)) < _FEWEST_WORDS:
        return None
    return start


def is_mixed(text: str, span: Span) -> bool:
    """Say whether words of a text stand in mixed columns."""
    return any(m.start < span.end and span.start < m.end for m in mixed_columns(text))


def in_mixed_columns(passage: Passage) -> Unread | None:
    """Return why a passage is refused that stands in mixed columns; None where it stands in none."""
    if not is_mixed(passage.sentence.source, passage.span):
        return None
    return Unread(
        "columns-mixed",
        "these lines look like two columns of a page copied side by side: put each column by itself",
        passage.span,
    )
