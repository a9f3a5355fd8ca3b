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
_SIZE = r"(?:for\s+)?(?:the\s+)?(?:sizes?\s+[\w/]{1,9}|(?:\d{1,2}(?:st|nd|rd|th)|first|second)\s+size)\s*:"
# "a) ..." or "Size M: ...": an item for one size.
_FIRST = regex.compile(rf"(?i){_SIGN}[*_]*(?:a\)|{_SIZE})")
_ITEM = regex.compile(rf"(?i){_SIGN}[*_]*(?:[a-k]\)|{_SIZE})")
_MOST = 20
"""How many sizes may be told so."""


def joined_items(sentences: Sequence[Sentence]) -> list[Sentence]:
    """Return the sentences, each that ends with a colon joined with the items behind it, a size each."""
    out: list[Sentence] = []
    at = 0
    while at < len(sentences):
        sentence = sentences[at]
        at += 1
        stop = at
        if not sentence.heading and sentence.text.endswith(":"):
            stop = _stop_of_items(sentences, at)
        if stop - at > 1:
            span = Span(sentence.span.start, sentences[stop - 1].span.end)
            sentence = replace(sentence, span=span)
            at = stop
        out.append(sentence)
    return out


def _stop_of_items(sentences: Sequence[Sentence], start: int) -> int:
    """Return the index after the items that begin at `start`."""
    stop = start
    while stop < min(len(sentences), start + _MOST):
        sentence = sentences[stop]
        begins = _FIRST if stop == start else _ITEM
        if sentence.heading or not begins.match(sentence.text):
            break
        stop += 1
    return stop
