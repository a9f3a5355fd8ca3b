"""Words that set a sentence apart for some of the sizes: "**S and M only:** ...", "... (sizes L and XL)"."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.lexicon import lexicon
from rewriter.sizecues import (
    SIZE,
    UNIT,
    item_of,
    may_have_tails,
    may_head,
    may_name,
    may_tail,
    says_sizes,
)

OTHERS = (0,)
"""Stands for the sizes that the sentences before have not named: "All other sizes: ..."."""


class SizeHead(NamedTuple):
    """Words that name sizes, and the sizes they name."""

    start: int
    end: int
    sizes: tuple[int, ...]
    """Their ordinals; () for all sizes, OTHERS for those not named before."""


_ORDINALS = (
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
    "eleventh", "twelfth",
)  # fmt: skip
_NUMBERS = {word: n for word, n in lexicon().numbers.items() if n <= 12}
_ORDINAL = rf"(?:\d{{1,2}}(?:st|nd|rd|th)|{'|'.join(_ORDINALS)})(?![a-z])"
_SIZE = SIZE
_AND = r"\s*(?:,\s*(?:and|&)|,|;|and|&|\+|/|or)\s*"
_TO = r"\s*(?:-|to|through|thru|up to)\s*"
_MANY = rf"(?:\d{{1,2}}(?!\d)|{'|'.join(_NUMBERS)}|both)(?![a-z])"
_SMALL = r"(?:smallest|smaller|small)(?![a-z])"
_LARGE = r"(?:largest|larger|large|biggest|bigger|big)(?![a-z])"
_END = rf"(?:{_SMALL}|{_LARGE}|(?:first|last|middle|centre|center)(?![a-z]))"
_UP = r"(?:and|&)\s+(?:up|upwards?|above|over|all\s+larger(?:\s+sizes)?|larger|bigger)(?![a-z])"
_DOWN = r"(?:and|&)\s+(?:under|below|down|all\s+smaller(?:\s+sizes)?|smaller)(?![a-z])"
_SIGNS = rf"(?:[\s*_#>|{BULLETS}]|[-+](?=\s)|\d{{1,2}}[.)](?=\s))*"
# What stands between the sizes and what is told for them.
_SET_OFF = r"[*_]*\s*(?:[:,]|-(?!\d)|(?P<stop>\.)?(?=[\s*_]*\Z))?"


_LISTED = r"(?&item)(?:(?&to)(?&item))*"
_ITEMS = rf"{_LISTED}(?:\s*[(\[]\s*{_LISTED}\s*[)\]](?:\s*{_LISTED})?)*"
_TH = r"(?&nth)(?:\s+(?&size))?(?:(?&to)(?:the\s+)?(?&nth)(?:\s+(?&size))?)*"
# What words that name sizes can be; `(?&item)` is one size's name.
_FORMS = (
    r"(?:(?P<every>all|each|every|both)(?:\s+the)?\s+(?&size)(?!\s+(?:but|except))"
    r"(?:\s+(?:again|together))?"
    r"|all\s+(?&size)\s+(?:but|except(?:ing|\s+for)?)\s+(?:(?&size)\s+)?(?:the\s+)?"
    rf"(?:(?P<but>{_ITEMS})|(?P<but_th>{_TH})|(?P<but_end>(?&edge)))(?:\s+(?&size))?"
    r"|(?P<every>all)(?=[\s*_]*:)"
    rf"|(?P<others>(?:all\s+)?(?:the\s+)?(?:other|remaining|rem)\s+(?:{_MANY}\s+)?(?&size))"
    rf"|(?:(?P<many>{_MANY})\s+(?P<end>(?&edge))|(?P<end>(?&edge))(?:\s+(?P<many>{_MANY}))?)"
    r"(?P<word>\s+(?&size))"
    rf"|(?:from\s+)?(?P<word>(?&size)\s+)(?P<up>(?&item))\s+{_UP}"
    r"|from\s+(?P<word>(?&size)\s+)(?P<up>(?&item))(?:\s+(?:up|upwards?|onwards?|on))?"
    rf"|(?P<word>(?&size)\s+)(?P<down>(?&item))\s+{_DOWN}"
    r"|up\s+to\s+(?:(?:and\s+)?including\s+)?(?P<word>(?&size)\s+)(?P<down>(?&item))"
    rf"|(?P<th>{_TH})(?P<word>(?<=sizes?)|\s+(?&size))"
    rf"|(?P<before>(?&size)\s+)?(?P<named>{_ITEMS})(?(before)|(?P<word>\s+(?&size))?))"
)


def _made(labels: tuple[str, ...], pattern: str) -> regex.Pattern[str]:
    """Return an expression with one size's name, and all that comes in many places, put in."""
    words = {
        "item": item_of(labels)[0],
        "size": _SIZE,
        "nth": _ORDINAL,
        "edge": _END,
        "to": f"(?:{_AND}|{_TO})",
    }
    if not labels:  # it is made once and kept: the words in their places are matched sooner
        return regex.compile(regex.sub(r"\(\?&(\w+)\)", lambda m: words[m[1]], pattern))
    told = "".join(f"(?P<{name}>{word})" for name, word in words.items())
    return regex.compile_new(f"(?(DEFINE){told}){pattern}")


@lru_cache(maxsize=64)
def _head(labels: tuple[str, ...]) -> regex.Pattern[str]:
    return _made(
        labels,
        rf"{_SIGNS}(?P<open>[(\[])?\s*(?P<for>(?:for|in|on)\s+)?(?:the\s+)?{_FORMS}"
        rf"(?P<only>[*_]*\s*,?\s*\bonly\b)?[*_]*\s*(?P<close>[)\]])?{_SET_OFF}",
    )


@lru_cache(maxsize=64)
def _tail(labels: tuple[str, ...]) -> regex.Pattern[str]:
    return _made(
        labels,
        rf"[\s,;-]*(?:(?P<open>[(\[])\s*|(?<=[\s,;-]))(?P<for>(?:for|in|on)\s+)?(?:the\s+)?{_FORMS}"
        r"(?(open)(?P<only>\s*,?\s*only)?\s*(?P<close>[)\]])|(?P<only>\s+only)?)"
        r"[\s*_]*[.;]?[\s*_]*\Z",
    )


@lru_cache(maxsize=64)
def _behind(labels: tuple[str, ...]) -> regex.Pattern[str]:
    return _made(
        labels,
        rf"(?:(?P<open>[(\[])\s*(?:(?:for|in|on)\s+)?|(?<![a-z])(?:for|in)\s+)(?:the\s+)?{_FORMS}"
        r"(?:\s+only)?(?(open)\s*[)\]])",
    )


_BEGINS = regex.compile(
    rf"[\s*_]*(?:(?:now|then)\s+)?(?:{lexicon().patterns['BIND_OFF']}|{lexicon().patterns['WORK']}"
    rf"|{lexicon().patterns['HOLD']}|{lexicon().patterns['REPEAT']}|shape|omit|skip|row|next|at|on"
    rf"|when|after|until|starting|beginning)(?![a-z])"
)


def size_head(text: str, labels: Sequence[str] = (), at: int = 0) -> SizeHead | None:
    """Return the sizes that words at a place of a view name for what follows; None if none or in doubt.

    Without `labels` the sizes are not known yet, and count as none.

    >>> size_head("s and m only: cast off 7 (8) sts", ("S", "M", "L")).sizes
    (1, 2)
    >>> size_head("2 largest sizes, cast off 7 (8) sts", ("S", "M", "L")).sizes
    (2, 3)
    """
    labels = tuple(labels)
    if not may_be_head(text, labels, at):
        return None
    found = _head(labels).match(text, at)
    if found is None or bool(found["open"]) != bool(found["close"]):
        return None
    if not _is_head(found, text, bool(labels)):
        return None
    sizes = _sizes_of(found, labels)
    return None if sizes is None else SizeHead(found.start(), found.end(), sizes)


def may_be_head(text: str, labels: tuple[str, ...], at: int) -> bool:
    """Say whether `size_head` can find anything, by plain comparisons, before an expression is made."""
    if not labels:
        return says_sizes(text, set_off=True)
    return may_head(text, at, labels) and may_name(text[at : at + _LONGEST_HEAD], labels)


_LONGEST_HEAD = 160
"""Characters in which words before what is told name sizes."""


def size_tail(text: str, labels: Sequence[str]) -> SizeHead | None:
    """Return the sizes that the last words of a sentence keep it for: "... (sizes S and M)".

    >>> size_tail("cast off 7 (8) sts at beg of next 4 rows (s and m only).", ("S", "M", "L")).sizes
    (1, 2)
    """
    labels = tuple(labels)
    if not (may_tail(text, labels) and may_name(text[-_LONGEST_HEAD:], labels)):
        return None
    found = _tail(labels).search(text)
    if found is None or not (_says_size(found) or found["only"] or found["open"]):
        return None
    if not (found["open"] or found["for"] or found["only"]):
        return None
    if (
        found["named"]
        and not (_says_size(found) or found["only"])
        and not _by_letters(found["named"])
    ):
        return None
    sizes = _sizes_of(found, labels)
    return SizeHead(found.start(), found.end(), sizes) if sizes and sizes != OTHERS else None


def heads_sizes(text: str) -> bool:
    """Say whether a line in lower case is nothing but words that name sizes: "Sizes S and M"."""
    found = _head(()).fullmatch(text) if says_sizes(text) else None
    return found is not None and bool(_says_size(found) or found["only"] or found["every"])


def _says_size(found: regex.Match[str]) -> bool:
    # it may stand within the ordinals: "1st size and 2nd size"
    return found["word"] is not None or found["before"] is not None


def size_tails(text: str, labels: Sequence[str]) -> list[SizeHead]:
    """Return all words of a sentence that keep what stands before them for some sizes: "... for size S".

    There are two at least, and nothing stands behind the last; else there are none.
    """
    out: list[SizeHead] = []
    labels = tuple(labels)
    if not (may_have_tails(text, labels) and may_name(text, labels)):
        return out
    for found in _behind(labels).finditer(text):
        sizes = _sizes_of(found, labels)
        if not sizes or sizes == OTHERS:
            return []
        out.append(SizeHead(found.start(), found.end(), sizes))
    ends = bool(out) and not text[out[-1].end :].strip(" .;*_")
    return out if len(out) > 1 and ends and out[0].start else []


def _is_head(found: regex.Match[str], text: str, known: bool) -> bool:
    """Say whether words that name sizes are said of what follows; the sizes may be known.

    "Sizes S, M, L." is a list of sizes.
    """
    set_off = text[found.end() - 1 : found.end()] in (":", "-") or bool(found["close"])
    if found["every"] and found["every"] != "all":
        return bool(set_off or found["only"])
    if found["every"] or found["others"] or found["but"] or found["but_th"] or found["but_end"]:
        return (
            set_off or bool(found["for"]) or found.end() == len(text) or goes_on(text, found.end())
        )
    if found["only"]:
        return True
    if _says_size(found):
        if known and found.end() == len(text):
            return True  # "Sizes S and M", on a line of its own
        if known and _IN_COLUMNS.search(text, 0, found.end() + 1):
            return True  # "FIRST SIZE    8 STS THREE TIMES"
        return set_off or (goes_on(text, found.end()) and not found["stop"])
    if not known and (found["open"] or not _USUAL.fullmatch(found["named"])):
        return False  # "[B]Shoulders:[/B]"
    if known and found["for"] and text[found.end() - 1 : found.end()] == ",":
        return goes_on(text, found.end())  # "For 6 mths (12 mths), cast off ..."
    return set_off and (_by_letters(found["named"]) or _AGED.search(found["named"]) is not None)


_IN_COLUMNS = regex.compile(r"\s{2}\d\Z")
_USUAL = regex.compile(r"(?:\W|and|to|(?:\d?x{0,4}[sl]|m)(?!\w))+")
# "6 years:", "6 mths (12 mths):", "34/36:" name a size where "8, 10:" may be rows.
_AGED = regex.compile(r"\d\s?(?:years?|yrs?|months?|mths?)\b\.?[)\]]?\Z|\A\d{2,3}\s?/\s?\d{2,3}\Z")


def goes_on(text: str, at: int) -> bool:
    """Say whether what is to be done follows at a place of a view."""
    return _BEGINS.match(text, at) is not None


def _by_letters(named: str | None) -> bool:
    """Say whether names are words or letters: "8, 10:" may be rows."""
    return named is not None and regex.search(r"\d", named) is None


def _sizes_of(found: regex.Match[str], labels: tuple[str, ...]) -> tuple[int, ...] | None:
    """Return the ordinals that are named; None where one is not known."""
    everyone = tuple(range(1, len(labels) + 1))
    if found["every"]:
        return () if found["every"] != "both" or len(labels) in (0, 2) else None
    if found["others"]:
        return OTHERS
    if not labels:
        return OTHERS  # of which sizes is not known yet
    but = found["but"] or found["but_th"] or found["but_end"]
    if but:
        left_out = (
            _at_end(found["but_end"], 1, len(labels))
            if found["but_end"]
            else _listed(but, labels, bool(found["but_th"]))
        )
        return tuple(n for n in everyone if n not in left_out) if left_out else None
    if found["end"]:
        told = found["many"]
        many = 1 if told is None else 2 if told == "both" else _NUMBERS.get(told) or int(told)
        if told is None and (found["word"] or "").strip().endswith("s"):
            return None  # "the larger sizes": how many are they?
        sizes = _at_end(found["end"], many, len(labels))
    elif found["up"] or found["down"]:
        (one,) = _listed(found["up"] or found["down"], labels, False) or (0,)
        sizes = tuple(n for n in everyone if (n >= one if found["up"] else n <= one)) if one else ()
    else:
        sizes = _listed(found["th"] or found["named"], labels, bool(found["th"]))
    if not sizes:
        return None
    return () if sizes == everyone else sizes


def _at_end(end: str, many: int, sizes: int) -> tuple[int, ...]:
    """Return so many of the smallest, largest or middle sizes."""
    if not 0 < many <= sizes:
        return ()
    first = 0
    if regex.match(rf"{_LARGE}|last", end):
        first = sizes - many
    elif regex.match(r"middle|cent", end):
        if (sizes - many) % 2:
            return ()
        first = (sizes - many) // 2
    return tuple(range(first + 1, first + many + 1))


def _listed(text: str, labels: tuple[str, ...], ordinals: bool) -> tuple[int, ...]:
    """Return the sizes of a list of names or ordinals, ranges told out; none where one is unknown."""
    item, named = item_of(labels)
    pattern = _one_of(_ORDINAL if ordinals else item)
    found = list(pattern.finditer(text))
    sizes: list[int] = []
    for i, match in enumerate(found):
        size = _ordinal(match[0]) if ordinals else _named(match[0], named)
        if not 0 < size <= len(labels):
            return ()
        between = text[found[i - 1].end() : match.start()] if i else ""
        if regex.fullmatch(rf"(?:\s*{_SIZE})?{_TO}(?:the\s+)?", between):
            sizes += range(sizes[-1] + 1, size)
        sizes.append(size)
    rising = all(a < b for a, b in pairwise(sizes))
    return tuple(sizes) if rising else ()


@lru_cache(maxsize=64)
def _one_of(item: str) -> regex.Pattern[str]:
    return regex.compile_new(item)


def _ordinal(word: str) -> int:
    return _ORDINALS.index(word) + 1 if word in _ORDINALS else int(word[:-2])


def _named(word: str, named: dict[str, int]) -> int:
    plain = " ".join(word.split())
    bare = regex.sub(UNIT + r"\Z", "", plain)
    return named.get(plain) or named.get(bare, 0)
