"""How a draft writes a list for its sizes: what stands before, between and after the entries."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import cache

from rewriter import regex
from rewriter.amounts import amount_pattern
from rewriter.spans import Span, view_of


def list_form(texts: Sequence[str], sizes: int) -> tuple[str, ...]:
    """Return what stands before, between and after the entries of a list with one for each size.

    The commonest form of the first text that has a list of that length counts.
    """
    if sizes == 1:
        return ("", "")
    for text in texts:
        forms: Counter[tuple[str, ...]] = Counter()
        view = view_of(text, Span(0, len(text)))
        for found in _amount().finditer(view.text):
            raw = view.span(found.start(), found.end()).of(text)
            form = tuple(_UNIT_OF_SIZE.sub("", gap) for gap in regex.split(r"\d+", raw))
            if len(form) == sizes + 1 and not any(
                regex.search(r"[A-Za-z\r\n]", _LETTER_OF_SIZE.sub("", gap)) for gap in form
            ):
                forms[form] += 1
        if forms:
            return forms.most_common(1)[0][0]
    return _short_form(texts, sizes)


_LETTER_OF_SIZE = regex.compile(r"(?i)\b[a-k]\)")  # "a) 8 - b) 9 - c) 10"
# "a) 8 sts - b) 9 sts": a list is written with its unit behind the last
_UNIT_OF_SIZE = regex.compile(
    r"(?i)^\s*(?:sts?|stitches|loops|rows?|cms?|ins?|inch(?:es)?)\.?(?=\s*[,;\u2013-]?\s*[b-k]\))"
)


def _short_form(texts: Sequence[str], sizes: int) -> tuple[str, ...]:
    """Return the form of a list from those of another length, where the draft has no whole one."""
    for text in texts:
        found = _SHORT_LIST.search(text)
        if found:
            sep = regex.sub(r"\s+", " ", found.group("sep") or ", ")
            return ("", found.group("open"), *[sep] * (sizes - 2), found.group("close"))
    return ("", " (", *[", "] * (sizes - 2), ")")


_SHORT_LIST = regex.compile(
    r"\d(?P<open> ?[(\[])(?:\d+|[-\u2013\u2014])(?P<sep> ?[,:;/\u2013-] ?)?[^()\[\]a-zA-Z]*(?P<close>[)\]])"
)


@cache
def _amount() -> regex.Pattern[str]:
    return regex.compile(rf"(?<![\d.,/-]){amount_pattern()}")
