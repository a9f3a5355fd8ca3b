"""The side of a row of the stitch pattern: "ending after a 2nd patt row", where the 1st is a RS row."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.document import Document
from rewriter.frames import Statement
from rewriter.leadmodel import LeadIn, Mention
from rewriter.rowframes import side_named
from rewriter.rows import OTHER_SIDE, Side

_OF_PATTERN = regex.compile(r"(?i)\b(?:patt|pat|pattern)\b")
_LENGTH_OF_WORDS = 24


def tell_side(
    document: Document, statements: Sequence[Statement | None], lead_in: LeadIn, end: int
) -> None:
    """Give a lead-in that names the last row by its number in the pattern the side of that row.

    The rows of the pattern stand before `end`; where they do not agree about their sides, none is told.
    """
    if lead_in.side is not None:
        return
    text = document.source.text
    for mention in lead_in.mentions:
        if mention.fact != "rows" or len(mention.values) != 1 or not _names_pattern(mention, text):
            continue
        side = _side_of(mention.values[0], statements, end)
        if side is not None:
            lead_in.side, lead_in.side_span = side, mention.span
        return


def _names_pattern(mention: Mention, text: str) -> bool:
    """Say whether the words of a row, or those right behind them, call it one of the pattern."""
    behind = text[mention.span.end : mention.span.end + _LENGTH_OF_WORDS]
    own = mention.span.of(text)
    return bool(_OF_PATTERN.search(own) or regex.match(r"(?i)\s+of\s+(?:the\s+)?patt?", behind))


def _side_of(number: int, statements: Sequence[Statement | None], end: int) -> Side | None:
    told: set[Side] = set()
    for statement in statements:
        label = statement.label if statement is not None and statement.span.end <= end else None
        side = side_named(label.side) if label is not None else None
        if label is None or side is None or not label.numbers:
            continue
        told.add(side if (number - label.numbers[0]) % 2 == 0 else OTHER_SIDE[side])
    return told.pop() if len(told) == 1 else None
