"""Places of a draft as the public models tell them: line, column, and the words that stand there."""

from __future__ import annotations

from rewriter.sheetmodel import Place
from rewriter.spans import SourceText, Span, quote


def place_of(source: SourceText, span: Span, limit: int = 90) -> Place:
    """Return a place; `limit` is the number of characters that its words may have."""
    words = span.of(source.text)
    start = span.start + len(words) - len(words.lstrip())
    line, column = source.place(start)
    where = source.where(start)
    if not source.landmarks:
        where += f":{column}"
    return Place(
        span=(start, max(start, span.end)),
        line=line,
        column=column,
        where=where,
        words=quote(words, limit),
    )
