"""Words that a match of a regular expression must hold: where none of them stands, it need not be tried.

To look for a dozen words in a sentence takes a microsecond; to try an expression of hundreds of wordings at
each of its letters takes a hundred times as long, and nearly all sentences match none of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from itertools import product

from rewriter import regex
from rewriter.firstletters import is_known

_TOKEN = re.compile(
    r"\(\?(?::|<?[=!]|P<\w+>)|\(|\)|\||\\.|\[\^?\]?(?:\\.|[^\]\\])*\]|[?*+]\??\+?|\{\d+(?:,\d*)?\}"
    r"|[^\\()|\[?*+{.^$]+(?![?*+{])|.",
    re.S,
)
"""A piece of a regular expression: bracket, bar, escape, class, quantifier, or letters as they stand."""
_ENDS = ("", "|", ")")
_LOOKS = ("(?=", "(?!", "(?<=", "(?<!")
_PLACES = ("^", "$", r"\b", r"\B", r"\A", r"\Z")
"""Tokens that have no width."""


def needed(pattern: str) -> frozenset[str]:
    """Return words of which every match of `pattern` holds one; "" among them where nothing is told.

    The shortest of the words is as long as can be. It knows the syntax that `firstletters` knows.

    >>> sorted(needed(r"(?:bind|cast)\\s+off(?!ice)|b\\.?o"))
    ['b', 'bind', 'cast']
    """
    return next(iter(all_needed(pattern)), frozenset({""}))


def all_needed(pattern: str) -> tuple[frozenset[str], ...]:
    """Return sets of words, the most telling first: every match of `pattern` holds a word of each of them.

    >>> [sorted(words) for words in all_needed(r"(?:bind|cast)\\s+off(?!ice)|decrease\\s+one")]
    [['bind', 'cast', 'decrease'], ['off', 'one']]
    """
    if not is_known(pattern):
        return ()
    return _Reader(_TOKEN.findall(pattern)).alternatives()


@cache
def needed_by(expression: regex.Pattern[str]) -> tuple[tuple[str, ...], ...]:
    """Return what a match of an expression that heeds the case must hold, as `all_needed` does."""
    told = all_needed(expression.pattern) if not expression.flags & regex.I else ()
    return tuple(
        tuple(sorted(w for w in words if not any(o != w and o in w for o in words)))
        for words in told
    )


def may_match(expression: regex.Pattern[str], text: str) -> bool:
    """Say whether a text holds what a match of an expression must hold; if not, there is no match in it."""
    for words in needed_by(expression):
        for word in words:  # a loop is twice as fast as any()
            if word in text:
                break
        else:
            return False
    return True


_MOST_SETS = 3
"""Sets of words that are kept of a part of an expression; more would hardly tell more."""
_MOST_WORDS = 12
"""Words of such a set, but for the first; it takes long to look for more."""


def _best(sets: Iterable[frozenset[str]]) -> tuple[frozenset[str], ...]:
    """Return the most telling of some sets of words: of the longest words, and of the fewest."""
    telling = list(dict.fromkeys(words for words in sets if "" not in words))
    if len(telling) < 2:
        return tuple(telling)
    first, *others = sorted(telling, key=lambda words: (-min(map(len, words)), len(words)))
    kept = [first]
    for words in others:
        if len(words) <= _MOST_WORDS and not any(_follows(words, other) for other in kept):
            kept.append(words)
            if len(kept) == _MOST_SETS:
                break
    return tuple(kept)


def _follows(words: frozenset[str], other: frozenset[str]) -> bool:
    """Say whether one of `words` stands wherever one of the `other` ones does."""
    return all(any(word in held for word in words) for held in other)


class _Reader:
    def __init__(self, tokens: list[str]) -> None:
        self.tokens = [*tokens, ""]
        self.at = 0

    def alternatives(self) -> tuple[frozenset[str], ...]:
        found = self._sequence()
        while self.tokens[self.at] == "|":
            self.at += 1
            found = _best([one | other for one, other in product(found, self._sequence())])
        return found

    def _sequence(self) -> tuple[frozenset[str], ...]:
        found: list[frozenset[str]] = []
        word = ""
        while (token := self.tokens[self.at]) not in _ENDS:
            self.at += 1
            if token in _LOOKS:
                self.alternatives()
                self.at += 1
                self._least()
                continue
            if token in _PLACES:
                continue
            if token[0] == "(":
                inner = self.alternatives()
                self.at += 1
                found.append(frozenset({word}))
                word = ""
                if self._least() > 0:
                    found += inner
                continue
            letters = _letters(token)
            quantified = self.tokens[self.at][:1] in ("?", "*", "+", "{")
            if self._least() > 0:
                word += letters
            if not letters or quantified:
                found.append(frozenset({word}))
                word = ""
        return _best([*found, frozenset({word})])

    def _least(self) -> int:
        """Take a quantifier, and return how often at least what stands before it comes."""
        least = 1
        while (sign := self.tokens[self.at])[:1] in ("?", "*", "+", "{"):
            if not sign or (sign[0] == "{" and len(sign) == 1):
                break
            if sign[0] in "?*" or sign.startswith("{0"):
                least = 0
            self.at += 1
        return least


def _letters(token: str) -> str:
    """Return the letters for which a token stands; "" for a class of letters."""
    if token[0] == "\\":
        return "" if token[1].isalnum() else token[1]
    return "" if token[0] in ".[" else token
