"""Steps told a size in the items of a list, under the sentence that tells their rows.

"Cast off on each side every 2 rows:" and then "a) 5 times 4 sts", "b) 3 times 4 sts, 2 times 5 sts", each in
an item or on a line of its own, are one instruction: its sizes are told one by one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.spans import Span

if TYPE_CHECKING:
    from rewriter.document import Sentence

_SIGN = rf"(?:[*+{BULLETS}\u2013\u2014-]\s+)?"
_NTH = r"(?:\d{1,2}(?:st|nd|rd|th)|first|second|third|fourth|fifth|sixth)"
# In a typescript blanks stand for the colon: "FIRST SIZE    8 STS THREE TIMES."
_AFTER_SIZE = r"(?:\s*:|[ \t]{2,}|\s[\u2013\u2014-]\s)"
_SIZE = rf"(?:for\s+)?(?:the\s+)?(?:sizes?\s+[\w/]{{1,9}}|{_NTH}\s+size){_AFTER_SIZE}"
_BARE = (
    r"(?:\d{2,3}\s?[/-]\s?\d{2,3}|\d{2,3}(?=[*_]*\s?:\s?\d{1,2}\s?(?:x|times))"
    r"|\d{1,2}(?:\s?-\s?\d{1,2})?\s?(?:years?|yrs?|months?|mths?)|x{0,3}[sml]|\dx[sl]?)[*_]*\s?:"
)
# "a) ...", "Size M: ..." or "34/36: ...": an item for one size.
_FIRST = regex.compile(rf"(?i){_SIGN}[*_]*(?:a\)|{_SIZE}|{_BARE})")
_ITEM = regex.compile(rf"(?i){_SIGN}[*_]*(?:[a-k]\)|{_SIZE}|{_BARE})")
# The first item may stand in the line of the sentence: "... every 2 rows: 34/36: 3 x 7 sts."
_WITH_FIRST = regex.compile(
    rf"(?i)(?::|\s[\u2013\u2014-])\s*{_SIGN}[*_]*(?:{_SIZE}|{_BARE})[^:]*\Z"
)
_MOST = 20
"""How many sizes may be told so."""


def joined_items(sentences: Sequence[Sentence]) -> list[Sentence]:
    """Return the sentences, each that ends with a colon joined with the items behind it, a size each."""
    out: list[Sentence] = []
    at = 0
    while at < len(sentences):
        sentence = sentences[at]
        at += 1
        stop, few = at, 2
        if not sentence.heading and sentence.text.endswith((":", " -", " \u2013", " \u2014")):
            stop = _stop_of_items(sentences, at, _FIRST)
        elif not sentence.heading and _WITH_FIRST.search(sentence.text):
            stop, few = _stop_of_items(sentences, at, _ITEM), 1
        if stop - at >= few:
            span = Span(sentence.span.start, sentences[stop - 1].span.end)
            sentence = replace(sentence, span=span)
            at = stop
        out.append(sentence)
    return out


def _stop_of_items(sentences: Sequence[Sentence], start: int, first: regex.Pattern[str]) -> int:
    """Return the index after the items that begin at `start`, the first of them like `first`."""
    stop = start
    while stop < min(len(sentences), start + _MOST):
        sentence = sentences[stop]
        begins = first if stop == start else _ITEM
        if sentence.heading or not begins.match(sentence.text):
            break
        stop += 1
    return stop
