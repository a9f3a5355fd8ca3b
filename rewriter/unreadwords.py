"""Words of a sentence that no slot took, as the reason why its rows are not read."""

from __future__ import annotations

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.rowframes import doubtful, phrase_of
from rewriter.spans import quote

_NOTE_SIGN = regex.compile(r"\s*\[\^[^\]\s]+\]\s*")
"""The sign of a footnote, as it stands in the text of a document."""


def unread_words(statement: Statement) -> Unread | None:
    """Return why a sentence cannot be read, by its first words that could change the knitting."""
    for part in doubtful(statement):
        span = phrase_of(statement, part) or part.span
        words = span.of(statement.sentence.source)
        why = f"the words {quote(words)!r} are not understood here and could change what is knitted"
        if _NOTE_SIGN.fullmatch(words):
            why = f"a footnote hangs here ({words.strip()}): does it change what is knitted?"
        ask = "" if part.concept == "same_time" else "words"
        return Unread("words-not-understood", why, span, ask=ask)
    return None
