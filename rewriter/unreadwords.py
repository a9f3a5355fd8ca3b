"""Words of a sentence that no slot took, as the reason why its rows are not read."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.parsing import Part, parse
from rewriter.rowframes import doubtful, phrase_of
from rewriter.spans import Span, quote

_NOTE_SIGN = regex.compile(r"\s*\[\^[^\]\s]+\]\s*")
"""The sign of a footnote, as it stands in the text of a document."""


_BOUNDARY = frozenset({"link", "stop", "colon", "dash"})


def clause_of(statement: Statement, part: Part) -> Span:
    """Return the clause in which words stand that are not understood, to be shown: "to" alone tells nothing.

    Words of several that stand by themselves are shown as they are.
    """
    phrase = phrase_of(statement, part) or part.span
    source = statement.sentence.source
    parts: Sequence[Part] = parse(statement.sentence.view) or ()
    at = next((i for i, p in enumerate(parts) if p.span == part.span), None)
    if at is None or part.kind == "paren" or len(phrase.of(source).split()) >= _TELLING:
        return phrase
    first, last = at, at
    while first and parts[first - 1].kind not in _BOUNDARY:
        first -= 1
    while last + 1 < len(parts) and parts[last + 1].kind not in _BOUNDARY:
        last += 1
    return Span(parts[first].span.start, parts[last].span.end)


def shown(statement: Statement, parts: Sequence[Part]) -> str:
    """Return words that are not understood as they are quoted: "'from' in “close after 32 cm from cuff”"."""
    source = statement.sentence.source
    told: dict[str, list[str]] = {}
    for part in parts:
        phrase = quote((phrase_of(statement, part) or part.span).of(source))
        own = told.setdefault(quote(clause_of(statement, part).of(source), 80), [])
        own += [phrase] if phrase not in own else []
    return _listed(
        [
            _listed([*map(repr, phrases)]) + (f" in “{clause}”" if phrases != [clause] else "")
            for clause, phrases in told.items()
        ]
    )


def _listed(words: Sequence[str]) -> str:
    *others, last = words
    return f"{', '.join(others)} and {last}" if others else last


_TELLING = 3
"""Words from which on a phrase tells by itself what is meant."""


def unread_words(statement: Statement) -> Unread | None:
    """Return why a sentence cannot be read, by its first words that could change the knitting."""
    for part in doubtful(statement):
        span = phrase_of(statement, part) or part.span
        words = span.of(statement.sentence.source)
        why = f"the words {shown(statement, [part])} are not understood here and could change what is knitted"
        if _NOTE_SIGN.fullmatch(words):
            why = f"a footnote hangs here ({words.strip()}): does it change what is knitted?"
        ask = "" if part.concept == "same_time" else "words"
        return Unread("words-not-understood", why, span, ask=ask)
    return None
