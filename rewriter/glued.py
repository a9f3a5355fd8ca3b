"""Words that a scanner ran together: "atthebegofeveryrow", where only one reading is possible."""

from __future__ import annotations

from functools import cache, lru_cache

from rewriter import regex
from rewriter.lexicon import lexicon

_LONG = regex.compile(
    r"[a-z]{8,}|(?<![a-z])(?:the|of|to)(?:next|last|foll|neck|each|every|rem|beg)(?![a-z])"
)
"""Shorter ones may be words of their own, but for those that no word begins so."""


def lost_blanks(plain: str) -> list[int]:
    """Return the places in a text of plain lower case where blanks were lost, in order."""
    out: list[int] = []
    for found in _LONG.finditer(plain):
        at = found.start()
        for word in parted(found.group())[:-1]:
            at += len(word)
            out.append(at)
    return out


@lru_cache(maxsize=4096)
def parted(word: str) -> tuple[str, ...]:
    """Return the words of which one is made in just one way; the word itself where there is no such way."""
    ways = _ways(word, lexicon().joined)
    return ways[0] if len(ways) == 1 else (word,)


def _ways(word: str, known: frozenset[str]) -> list[tuple[str, ...]]:
    """Return the ways, two at most, to cut a word into known words; a known word is one way alone."""
    if word in known:
        return [(word,)]
    longest = max(map(len, known))

    @cache
    def from_(at: int) -> tuple[tuple[str, ...], ...]:
        if at == len(word):
            return ((),)
        ways: list[tuple[str, ...]] = []
        for end in range(at + 2, min(len(word), at + longest) + 1):
            if word[at:end] in known:
                ways += [(word[at:end], *rest) for rest in from_(end)]
        return tuple(ways[:2])

    return list(from_(0))
