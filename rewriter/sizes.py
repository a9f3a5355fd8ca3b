"""How many sizes a draft has, and what they are called."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cache

import regex

from rewriter.amounts import amount_pattern, read_amount
from rewriter.document import Document
from rewriter.spans import Span

MOST_SIZES = 40


@dataclass(frozen=True, slots=True)
class Sizes:
    """The sizes of a draft, in order."""

    labels: tuple[str, ...]
    span: Span | None
    """The words they come from; None where the number comes from the lists of the draft."""
    disagreement: str | None = None
    """What the size line and the lists of the draft do not agree about."""

    def __len__(self) -> int:
        return len(self.labels)


_ABOUT = regex.compile(r"\b(?:sizes?|to fit|fits?|chest|bust|ages?|years?|yrs|months?|mths)\b")
_NAME = r"(?:x{0,4}s|m|x{0,4}l|\d{1,2}xl?|small|medium|large|extra[ -]large|petite|newborn)"
_ITEM = (
    rf"(?:(?<![\w]){_NAME}(?!\w)(?:/{_NAME})?"
    r"|\d+(?:[.,]\d+)?(?:\s?[½¼¾])?(?:-\d+(?:[½¼¾])?)?)(?:\s?(?:cm|ins?|yrs?|years?|mths?|months?)\b)?"
)
_LIST = regex.compile(
    rf"(?P<first>{_ITEM})\s*,?\s*(?:[(\[]\s*(?P<more>{_ITEM})(?:(?:\s*[,:;/]\s*|\s*-\s*|\s+)(?P<more>{_ITEM}))*\s*[)\]]\s*)+"
)
_PLAIN_NAMES = regex.compile(rf"(?P<more>{_NAME})(?:\s*[,/-]\s*(?P<more>{_NAME}))+(?!\w)")


def read_sizes(document: Document) -> Sizes:
    """Return the sizes of a draft.

    The lists of counts in the instructions say how many there are; the size line names them. A
    draft without a list has one size.
    """
    lengths = _list_lengths(document)
    usual = lengths.most_common(1)[0][0] if lengths else 1
    best: tuple[tuple[str, ...], Span] | None = None
    about = False
    for sentence in document.sentences[:60]:
        text = sentence.view.text
        about_here = bool(_ABOUT.search(text))
        if not (about or about_here):
            continue
        for found in [*_LIST.finditer(text), *_PLAIN_NAMES.finditer(text)]:
            places = [*found.spans("first"), *found.spans("more")] if "first" in (
                found.re.groupindex
            ) else found.spans("more")
            items = [sentence.view.span(*place).of(sentence.source) for place in places]
            # A hyphen inside brackets may join one entry ("3-6 mths") or part two.
            if len(items) != usual:
                items = [piece for item in items for piece in regex.split("[-\u2013]", item)]
            span = sentence.view.span(found.start(), found.end())
            if len(items) == usual:
                return Sizes(_labels(document, items), span)
            if best is None and about_here:
                best = (_labels(document, items), span)
        about = about_here
    if best is not None and not lengths:
        return Sizes(best[0], best[1])
    if best is not None and len(best[0]) != usual:
        message = f"the size line has {len(best[0])} entries, most lists of the draft {usual}"
        return Sizes(_numbered(usual), best[1], message)
    return Sizes(_numbered(usual), None)


def _labels(document: Document, items: list[str]) -> tuple[str, ...]:
    cleaned = [" ".join(item.split()) for item in items]
    return tuple(cleaned) if len(set(cleaned)) == len(cleaned) else _numbered(len(cleaned))


def _numbered(count: int) -> tuple[str, ...]:
    return ("one size",) if count == 1 else tuple(str(n + 1) for n in range(count))


@cache
def _amount() -> regex.Pattern[str]:
    return regex.compile(rf"(?<![\d.,/-]){amount_pattern()}")


def _list_lengths(document: Document) -> Counter[int]:
    """Count how long the lists of the draft are, lists of one left out."""
    lengths: Counter[int] = Counter()
    for sentence in document.sentences:
        text = sentence.view.text
        if "(" not in text and "[" not in text and "-" not in text:
            continue
        for found in _amount().finditer(text):
            if not any(c in found.group() for c in "([-/"):
                continue
            count = len(read_amount(found.group(), Span(0, 0)).values)
            if 2 <= count <= MOST_SIZES:
                lengths[count] += 1
    return lengths
