"""How many sizes a draft has, and what they are called."""

from __future__ import annotations

import itertools
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import NamedTuple

from rewriter import regex
from rewriter.amounts import (
    BEGINS_STEPS,
    amount_pattern,
    read_amount,
    sized_pattern,
    step_list_pattern,
    step_lists,
)
from rewriter.document import Document
from rewriter.figures import column_names
from rewriter.letters import letters_of
from rewriter.lexicon import lexicon
from rewriter.needed import may_match
from rewriter.sizecues import JOINT
from rewriter.sizeheads import goes_on, heads_sizes, size_head
from rewriter.slashes import names_with_slash
from rewriter.spans import Span, view_of

MOST_SIZES = 40


@dataclass(frozen=True, slots=True)
class Sizes:
    """The sizes of a draft, in order."""

    labels: tuple[str, ...]
    span: Span | None
    """The words they come from; None where the number comes from the lists of the draft."""
    disagreement: str | None = None
    """What the size line and the lists of the draft do not agree about."""
    phrased: bool = False
    """The sizes are told in phrases ("4 rows (6 rows)"), not in lists of numbers."""
    also: tuple[tuple[str, ...], ...] = ()
    """Other lists of the size lines that are as long: what else the sizes may be called."""

    def __len__(self) -> int:
        return len(self.labels)

    @property
    def names(self) -> tuple[str, ...]:
        """All that each size is called in the draft's size lines, joined: see `sizecues.JOINT`."""
        return tuple(
            JOINT.join(dict.fromkeys(told)) for told in zip(self.labels, *self.also, strict=True)
        )

    def index_of(self, asked: str | None) -> int:
        """Return the index of a size by its name; raises UnknownSize with the names there are.

        A draft of one size needs none.
        """
        if asked is None:
            if len(self) == 1:
                return 0
            raise UnknownSize(f"which size? add --size with one of {', '.join(self.labels)}")
        wanted = _spelled(asked)
        for index, label in enumerate(self.labels):
            if _spelled(label) == wanted:
                return index
        known = f"the sizes are {', '.join(self.labels)}"
        if len(self) == 1:
            known = "the draft has one size: leave it out"
        raise UnknownSize(f"--size {asked}: no such size; {known}")


class UnknownSize(ValueError):
    """No size has the name that was asked for; the message says which there are."""


def _spelled(label: str) -> str:
    return "".join(label.casefold().replace("\u2013", "-").split())


# What a sentence must be about for its list to name the sizes, the surest first.
_ABOUT = (
    regex.compile(r"(?<!\bactual )(?<!\bfinished )\bsize[sd]?\b|\bto fit\b"),
    regex.compile(r"\b(?:fits?|ages?|years?|yrs|months?|mths)\b"),
    regex.compile(r"\b(?:chest|bust)\b"),
)
_WORDS = "|".join(sorted(lexicon().numbers, key=len, reverse=True))
_NAME = (
    r"(?:(?:(?:x{1,4}|\dx|extra)[ -]?)?(?:small|large)|medium|med|petite|newborn"
    r"|x{0,4}s|m\d?|x{0,4}l|\d{1,2}xl?)"
)
_ITEM = (
    rf"(?:(?<![\w]){_NAME}(?!\w)(?:/{_NAME})?"
    rf"|(?<![a-z])(?:{_WORDS})(?![a-z])"
    r"|(?<![\d/])\d+/\d+(?![\d/])|\d+(?:[.]\d+)?(?:\s?[½¼¾])?(?:-\d+(?:[½¼¾])?)?)(?:\s?(?:cm|ins?|yrs?|years?|mths?|months?)\b)?"
)
_LIST = regex.compile(
    rf"(?P<first>{_ITEM})\s*,?\s*(?:[(\[]\s*(?P<more>{_ITEM})(?:(?:\s*[,:;/]\s*|\s*-\s*|\s+)(?P<more>{_ITEM}))*\s*[)\]]\s*)+"
)
# S(M)L(XL)XXL  38 (40) 42: a size stands outside or inside the brackets
_ALTERNATING = regex.compile(
    rf"(?P<more>{_ITEM})(?:\s?\(\s?(?P<more>{_ITEM}(?:/\d+)?)\s?\)\s?(?P<more>{_ITEM}))+(?:\s?\((?P<more>{_ITEM})\))?"
)
# (2) 4 (6) 8: the first size stands inside
_INSIDE_FIRST = regex.compile(
    rf"\(\s?(?P<more>{_ITEM})\s?\)\s?(?P<more>{_ITEM})"
    rf"(?:\s?\(\s?(?P<more>{_ITEM})\s?\)\s?(?P<more>{_ITEM}))*(?:\s?\(\s?(?P<more>{_ITEM})\s?\))?"
)
# 34/36 - 38/40 - 42/44
_DASHED = regex.compile(rf"(?P<more>{_ITEM})(?:\s+-\s+(?P<more>{_ITEM}))+")
# "A (B, C, D)", "Lamb (Ewe, Ram)": a line that is nothing but names
_SIZES = r"\W*(?:(?:sizes?|to fit(?: (?:chest|bust|age))?)\W{1,4})?"
_ANY_NAME = r"(?!sizes?\b|to fit\b)[^\W_](?:[\w.'/ -]{0,18}\w)?(?<!\bsizes?|\bsts)"
_NAMED = regex.compile(
    rf"{_SIZES}(?P<more>{_ANY_NAME})\s*[(\[]\s*(?P<more>{_ANY_NAME})"
    rf"(?:\s*[,:;/]\s*(?P<more>{_ANY_NAME}))*\s*[)\]]\W*"
)
_LETTERS = regex.compile(
    rf"{_SIZES}(?P<more>[a-z])(?:(?:\s*[,:;/]\s*|\s+)(?:and\s+)?(?P<more>[a-z])(?!\w))+\W*"
)
_PLAIN_NAMES = regex.compile(rf"(?P<more>{_NAME})(?:\s*[,/-]\s*(?P<more>{_NAME}))+(?!\w)")


def read_sizes(document: Document) -> Sizes:
    """Return the sizes of a draft.

    The lists of counts in the instructions say how many there are; the size line names them. A
    draft without a list has one size.
    """
    lengths, phrased = _list_lengths(document)
    candidates = sorted([*_candidates(document), *_in_words(document)], key=lambda c: (c[0], c[1]))
    named = {len(items) for _, _, items in candidates}
    usual = max(lengths, key=lambda n: (lengths[n], n in named)) if lengths else 1
    apart = _told_apart(document)
    if apart is not None and len(apart) == usual and apart.labels != _numbered(usual):
        return apart
    listed = [*candidates, *_by_name(document)]
    for _, span, items in listed:
        for entries in (items, [piece for item in items for piece in _HYPHEN.split(item)]):
            if len(entries) == usual > 1:
                own = _labels(entries)
                return Sizes(own, span, phrased=phrased, also=_also(document, listed, own))
    if apart is not None and usual == 1 and not candidates:
        return apart
    if usual == 1:
        return _only_size(document)
    if candidates:
        _, span, items = candidates[0]
        message = f"the size line has {len(items)} entries, most lists of the draft {usual}"
        return Sizes(_numbered(usual), span, message, phrased)
    return Sizes(_numbered(usual), None, phrased=phrased)


def _also(
    document: Document, listed: list[tuple[int, Span, list[str]]], own: tuple[str, ...]
) -> tuple[tuple[str, ...], ...]:
    """Return the other lists that name as many sizes: "XS (S, M)" beside "to fit 81 (86, 91) cm".

    Lists of numbers count where the words before them say that they are sizes.
    """
    out: list[tuple[str, ...]] = []
    for _, span, items in listed:
        names = _labels(items)
        if len(names) != len(own) or names in (own, _numbered(len(own)), *out):
            continue
        home = next(
            (s for s in document.sentences if s.span.start <= span.start < s.span.end), None
        )
        before = "" if home is None else home.source[home.span.start : span.start]
        ends = [s.end for _, s, _ in listed if home and home.span.start < s.end <= span.start]
        between = home.source[max(ends) : span.start] if home and ends else before
        told = any(about.search(between.lower()) for about in _ABOUT)
        if told or (ends and _ONLY_UNITS.fullmatch(between)) or _LETTERED.match(names[0]):
            out.append(names)
    return tuple(out)


_ONLY_UNITS = regex.compile(r"(?i)(?:\W|\b(?:cms?|ins?|inch(?:es)?|or)\b)*")
_LETTERED = regex.compile("[A-Za-z]")


# "Directions are for size 38. Changes for sizes 40, 42 and 44 are in parentheses."
_CHANGES = regex.compile(
    rf"\bsizes?\b\W{{0,3}}(?P<first>{_ITEM}(?:\s(?:months?|years?))?)[^()]{{0,30}}?\bchanges for (?:sizes? )?"
    rf"(?P<more>{_ITEM}(?:\s(?:months?|years?))?)(?:(?:\s*,\s*|\s+and\s+|,\s+and\s+)"
    rf"(?P<more>{_ITEM}(?:\s(?:months?|years?))?))*"
)
_HYPHEN = regex.compile("[-\u2013]")
_DIGIT = regex.compile(r"\d")


def _candidates(document: Document) -> Iterator[tuple[int, Span, list[str]]]:
    """Yield the lists that may name the sizes, with a rank: the lower the surer."""
    source = document.source.text
    letters = letters_of(source)
    if letters.names:
        yield -1, Span(*letters.span), list(letters.names)
    for told in (names_with_slash(source), column_names(source)):
        if told is not None:
            yield -1, Span(*told[0]), list(told[1])
    rank_before: int | None = None
    announced = False
    for sentence in document.sentences[:80]:
        text = sentence.view.text
        rank = next((i for i, about in enumerate(_ABOUT) if about.search(text)), None)
        here = rank if rank is not None else rank_before
        if here is not None and rank_before is not None and announced:
            here = min(here, rank_before)
        rank_before = rank if sentence.heading or len(text) < 24 else None
        announced = not _DIGIT.search(text)  # "SIZES" on a line of its own
        if here is None:
            continue
        for pattern in (_LIST, _ALTERNATING, _INSIDE_FIRST, _DASHED, _PLAIN_NAMES):
            for found in pattern.finditer(text):
                places = [*found.spans("more")]
                if "first" in pattern.groupindex:
                    places = [*found.spans("first"), *places]
                items = [sentence.view.span(*place).of(sentence.source) for place in places]
                yield here, sentence.view.span(found.start(), found.end()), items


def _by_name(document: Document) -> Iterator[tuple[int, Span, list[str]]]:
    """Yield lines under "sizes" that are lists of any names: right only where the lists are as long."""
    about = False
    for sentence in document.sentences[:80]:
        told = _ABOUT[0].search(sentence.view.text) is not None
        found = None
        if about or told:
            found = next(
                (f for p in (_NAMED, _LETTERS) if (f := p.fullmatch(sentence.view.text))), None
            )
        if found:
            items = [
                sentence.view.span(*place).of(sentence.source) for place in found.spans("more")
            ]
            yield 0, sentence.view.span(found.start("more"), found.end()), items
        about = told and (sentence.heading or len(sentence.view.text) < 24)


def _in_words(document: Document) -> Iterator[tuple[int, Span, list[str]]]:
    """Yield sizes told in a sentence: the first, and those the brackets are for."""
    head = document.sentences[:40]
    for one, two in itertools.pairwise(head):
        if "changes" not in one.view.text and "changes" not in two.view.text:
            continue
        view = view_of(document.source.text, Span(one.span.start, two.span.end), one.markup)
        found = _CHANGES.search(view.text)
        if found:
            places = [found.span("first"), *found.spans("more")]
            items = [view.span(*place).of(document.source.text) for place in places]
            yield 0, view.span(found.start(), found.end()), items


# "Size S: bind off 7 sts ...; size M: ...": sizes that are named where they are told apart
_APART = regex.compile(rf"(?<!\w)size\s+(?P<name>{_NAME}|\d{{1,3}}(?:/\d{{1,3}})?)\s*:")


def _told_apart(document: Document) -> Sizes | None:
    """Return the sizes that instructions are told for one by one; None where there are not two."""
    named: dict[str, Span] = {}
    for sentence in document.sentences:
        for found in _APART.finditer(sentence.view.text):
            place = sentence.view.span(*found.span("name"))
            named.setdefault(place.of(sentence.source), place)
    if not 1 < len(named) <= MOST_SIZES:
        return None
    return Sizes(tuple(named), next(iter(named.values())))


_ONLY = regex.compile(rf"\b(?:sizes?|to fit|age)\b\W{{0,4}}(?P<size>{_ITEM})(?![\w(\[])")


def _only_size(document: Document) -> Sizes:
    for sentence in document.sentences[:40]:
        found = _ONLY.search(sentence.view.text)
        if found and not sentence.heading:
            span = sentence.view.span(*found.span("size"))
            return Sizes((span.of(sentence.source),), span)
    return Sizes(_numbered(1), None)


def _labels(items: list[str]) -> tuple[str, ...]:
    cleaned = [" ".join(item.split()) for item in items]
    return tuple(cleaned) if len(set(cleaned)) == len(cleaned) else _numbered(len(cleaned))


def _numbered(count: int) -> tuple[str, ...]:
    return ("one size",) if count == 1 else tuple(str(n + 1) for n in range(count))


@cache
def _amount() -> regex.Pattern[str]:
    return regex.compile(rf"(?<![\d.,/-]){amount_pattern()}")


@cache
def _sized() -> regex.Pattern[str]:
    return regex.compile(sized_pattern())


# "2 - 6 - 1: rows - sts - times", the shorthand of Japanese charts, is no list of sizes.
_ROW_ST_TIMES = regex.compile(
    r"\d+\s?-\s?\d+\s?-\s?\d+(?=[^.]*\brows?\s?-\s?(?:sts?|stitches)\s?-\s?times\b)"
)
_FOR_SOME = regex.compile(r"\bsizes?\b[^.:;]{0,40}\bonly\b")


def _for_some(text: str) -> bool:
    """Say whether a sentence is for some of the sizes: its lists are as long as these."""
    if _FOR_SOME.search(text):
        return True
    head = size_head(text)
    return head is not None and bool(head.sizes) and goes_on(text, head.end)


# "Sizes 8(10)", before any list: the sizes of the draft, not some of them.
_SIZE_LINE = regex.compile(
    r"\W*(?:for\s+)?sizes?\b(?![^.]*\bonly\b)[^.]*(?:[(\[]|\d\s?-\s?\d+\s?-\s?\d)"
)


def _ends_some(text: str) -> bool:
    """Say whether a sentence is for all sizes again."""
    head = size_head(text)
    return head is not None and not head.sizes


# A phrase for each of two sizes: "4 rows (6 rows)", "twice (3 times)", "twelve (ten for the larger size)"
_PHRASE_LIST = regex.compile(
    r"(?:\brows?|times|once|twice|thrice|sts?\.?|stitch(?:es)?)\s*\(\s*"
    # "2 sts (twice)" tells how often, and no other size
    r"(?:(?<!(?:sts?\.?|stitch(?:es)?)\s*\(\s*)(?:(?:\w+\s+)?(?:rows?|times)|once|twice|thrice)"
    r"|size\s+\w+\s*-\s*\d[^()]*"
    r"|[\w-]+\s+(?:(?:sts?|stitch(?:es)?)\s+)?for\s+(?:the\s+)?(?:larger|large|bigger|big)\b[^()]*)\s*\)"
)
# Sizes named inside: "7 sts (10 yrs-8 sts; 12 yrs-9 sts)"
_NAMED_SIZE = regex.compile(r"\d+\s*(?:yrs?|years?|months?|mths?)\.?\s*-\s*\d+")
_NAMED_LIST = regex.compile(rf"[(\[]({_NAMED_SIZE.pattern}[^()\[\]]*)[)\]]")
_STEP_LIST = regex.compile(step_list_pattern())
_STEPS_BEGIN = re.compile(BEGINS_STEPS)
"""Looked for first: it is short, and found soonest by the engine that does less."""


# "Amber (12)   480 g": columns of a table, no list.
_COLUMNS = regex.compile(r"\)[ \t]{3,}\d")


# "rib 1/1", "ribs 2/2": how many sts of each
_OF_RIB = regex.compile(r"([1-4])\s?/\s?\1")


def _list_lengths(document: Document) -> tuple[Counter[int], bool]:
    """Count how long the lists of the draft are, lists of one left out.

    Also say whether it has no lists of numbers but a phrase for each of two sizes.
    """
    lengths: Counter[int] = Counter()
    phrases = 0
    named: list[int] = []
    of_some: set[int] = set()
    block, alone = -1, False
    for sentence in document.sentences:
        text = sentence.view.text
        told = _lists_in(text)
        if sentence.heading or not (alone or sentence.block == block) or told.ends_some:
            of_some, block, alone = set(), sentence.block, False
        if told.heads and not sentence.heading and (lengths or not _SIZE_LINE.match(text)):
            alone = not told.ends_some
        if told.for_some or (alone and not of_some):
            of_some.update(told.lengths)
            continue  # its lists are as long as the sizes that it names
        phrases += told.phrases
        named += told.named
        # so may be those of the sentences behind it
        lengths.update(n for n in told.lengths if n not in of_some)
    if not lengths and phrases:
        return Counter({2: phrases}), True
    if not lengths and named:
        return Counter(named), True
    return lengths, False


class _Lists(NamedTuple):
    """What one sentence tells of the number of sizes."""

    lengths: tuple[int, ...]
    """The lengths of its lists, and for how many sizes its step lists are."""
    phrases: int
    named: tuple[int, ...]
    heads: bool
    """It stands before what is told for the sizes that it names."""
    for_some: bool
    ends_some: bool


@lru_cache(maxsize=4096)
def _lists_in(text: str) -> _Lists:
    """Return the lists of a sentence; a draft that is read again has most of its sentences once more."""
    text = _ROW_ST_TIMES.sub(" ", text)
    named = tuple(len(_NAMED_SIZE.findall(found)) + 1 for found in _NAMED_LIST.findall(text))
    return _Lists(
        tuple(_lengths_in(text)),
        sum(len(p.findall(text)) for p in (_PHRASE_LIST, _sized()) if may_match(p, text)),
        named,
        heads_sizes(text.strip(" *_")),
        _for_some(text),
        _ends_some(text),
    )


def forget_lists() -> None:
    """Forget the lists that are kept."""
    _lists_in.cache_clear()


def _lengths_in(text: str) -> Iterator[int]:
    """Yield the lengths of the lists in a sentence, and for how many sizes its step lists are."""
    if not any(c in text for c in "([-/:"):
        return
    for found in _amount().finditer(text):
        if not any(c in found.group() for c in "([-/:") or _COLUMNS.search(found.group()):
            continue
        if _OF_RIB.fullmatch(found.group()):
            continue
        count = len(read_amount(found.group(), Span(0, 0)).values)
        if 2 <= count <= MOST_SIZES:
            yield count
    for found in _STEP_LIST.finditer(text) if _STEPS_BEGIN.search(text) else ():
        readings = step_lists(found.group())
        if len(readings) == 1:
            yield len(readings[0])
