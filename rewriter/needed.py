"""Words of which a match of a regular expression must hold one: where none stands, it need not be tried.

To look for a dozen words in a sentence takes a microsecond; to try an expression of hundreds of wordings at
each of its letters takes a hundred times as long, and nearly all sentences match none of them.
"""

from __future__ import annotations

import re
from functools import cache

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
    if not is_known(pattern):
        return frozenset({""})
    return _Reader(_TOKEN.findall(pattern)).alternatives()


@cache
def needed_by(expression: regex.Pattern[str]) -> tuple[str, ...]:
    """Return what a match of an expression that heeds the case must hold one of, as `needed` does."""
    words = needed(expression.pattern) if not expression.flags & regex.I else frozenset({""})
    return tuple(sorted(w for w in words if not any(o != w and o in w for o in words)))


def may_match(expression: regex.Pattern[str], text: str) -> bool:
    """Say whether a text holds what a match of an expression must hold; if not, there is no match in it."""
    for word in needed_by(expression):  # noqa: SIM110 - a loop is twice as fast as any()
        if word in text:
            return True
    return False


def _better(one: frozenset[str], other: frozenset[str]) -> frozenset[str]:
    """Return the more telling of two sets of words: the longer ones, or the fewer."""
    return max(one, other, key=lambda words: (min(map(len, words)), -len(words)))


class _Reader:
    def __init__(self, tokens: list[str]) -> None:
        self.tokens = [*tokens, ""]
        self.at = 0

    def alternatives(self) -> frozenset[str]:
        found = self._sequence()
        while self.tokens[self.at] == "|":
            self.at += 1
            found |= self._sequence()
        return found

    def _sequence(self) -> frozenset[str]:
        best, word = frozenset({""}), ""
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
                best, word = _better(best, frozenset({word})), ""
                if self._least() > 0:
                    best = _better(best, inner)
                continue
            letters = _letters(token)
            quantified = self.tokens[self.at][:1] in ("?", "*", "+", "{")
            if self._least() > 0:
                word += letters
            if not letters or quantified:
                best, word = _better(best, frozenset({word})), ""
        return _better(best, frozenset({word}))

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
