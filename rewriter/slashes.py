"""Counts of two sizes with a stroke between them: "cast off 6/7", matched as a list with brackets.

Only a draft that writes its counts so throughout is read so: elsewhere two numbers and a stroke are a
fraction, a range of sizes or a rib.
"""

from __future__ import annotations

import re
from functools import lru_cache

_ENTRY = r"\d{1,3}(?:[\u00bd\u00bc\u00be]|[.]\d)?"
_PAIR = re.compile(rf"(?<![\w/.,+-])({_ENTRY})[ ]?/[ ]?({_ENTRY})(?![\w/+]|[.,]\d)")
_FRACTIONS = frozenset({"1/2", "1/3", "2/3", "1/4", "3/4", "1/8", "3/8", "5/8", "7/8"})
_STS = re.compile(r"\s*(?:sts?|stitches|loops)\b", re.I)
_LIST = re.compile(
    r"\d\s?[(\[]\s?\d+(?:\s?[,:;/-]\s?\d+)*\s?[)\]]|\d\s?/\s?\d+\s?/\s?\d|\d\s?[-\u2013]\s?\d+\s?[-\u2013]\s?\d"
)
_EXPLAINED = re.compile(
    r"(?i)\b(?:before|left of|in front of)\s+the\s+(?:slash|stroke|oblique)\b"
    r"|\b(?:slash|stroke|oblique)\b[^.]{0,60}\bsizes?\b"
    r"|\bsizes?\b[^.]{0,60}\b(?:slash|stroke|oblique)"
)
_FEWEST = 4
"""Pairs of counts of sts that show that a draft writes its two sizes so, where it does not say it."""


@lru_cache(maxsize=8)
def pairs_with_slash(source: str) -> bool:
    """Say whether a draft writes the counts of its two sizes with a stroke between them."""
    pairs = [m for m in _PAIR.finditer(source) if m.group().replace(" ", "") not in _FRACTIONS]
    if len(pairs) < _FEWEST or _LIST.search(source):
        return False
    counts = {m.group() for m in pairs if _STS.match(source, m.end())}
    return len(counts) >= _FEWEST or bool(counts and _EXPLAINED.search(source))


_SIZE = r"(?:extra[ -])?(?:small|medium|large|smaller|larger|smallest|largest)(?:\s+size)?"
# "Small (34-36 chest) comes before the slash and Large (38-40) after it"
_NAMES = re.compile(
    rf"(?i)\b(?P<one>{_SIZE})\b[^.]{{0,60}}\bbefore\s+the\s+(?:slash|stroke|oblique)\b[^.]{{0,30}}?\b(?P<two>{_SIZE})\b"
)


def names_with_slash(source: str) -> tuple[tuple[int, int], tuple[str, str]] | None:
    """Return what the two sizes are called where a draft says which stands before the stroke."""
    found = _NAMES.search(source) if pairs_with_slash(source) else None
    return None if found is None else (found.span(), (found["one"], found["two"]))


def slashed(plain: str) -> list[tuple[int, int, str]]:
    """Return the cuts that make pairs of counts in a text in lower case lists with brackets.

    >>> slashed("cast off 6/7 at the start")
    [(10, 11, ' ('), (11, 12, '7)')]
    """
    cuts: list[tuple[int, int, str]] = []
    for found in _PAIR.finditer(plain):
        bare = found.group().replace(" ", "")
        counted = _STS.match(plain, found.end()) is not None  # "7/8 sts"
        if (bare in _FRACTIONS and not counted) or _is_no_count(plain, found):
            continue
        end = found.end()
        cuts += [(found.end(1), found.start(2), " ("), (end - 1, end, plain[end - 1] + ")")]
    return cuts


def _is_no_count(plain: str, found: re.Match[str]) -> bool:
    """Say whether a pair is a kind of rib or a fraction behind a number: "2/2 rib", "4 5/16 ins"."""
    behind = re.match(r"\s*(?:rib|ply)\b", plain[found.end() :])
    return behind is not None or re.search(r"\d\s$", plain[: found.start()]) is not None
