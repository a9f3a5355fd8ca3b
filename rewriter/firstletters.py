"""The letters with which a match of a regular expression can begin.

The lexer of the clause grammar tries a terminal only where its first letter stands: that is most
of the cost of reading, and a terminal that never comes is never compiled.
"""

from __future__ import annotations

import re
import string
from functools import cache

ASCII = frozenset(map(chr, range(128)))
_CLASSES = {
    "d": frozenset(string.digits),
    "s": frozenset(string.whitespace),
    "w": frozenset(string.ascii_letters + string.digits + "_"),
}
_TOKEN = re.compile(
    r"\(\?(?::|<?[=!])|\(|\)|\||\\.|\[\^?\]?(?:\\.|[^\]\\])*\]|[?*+]\??\+?|\{\d+(?:,\d*)?\}|.", re.S
)
"""A piece of a regular expression: bracket, bar, escape, class, quantifier, or letter."""
_ENDS = ("", "|", ")")
_LOOKS = ("(?=", "(?!", "(?<=", "(?<!")


def first_letters(pattern: str) -> frozenset[str]:
    """Return the ASCII letters a match of `pattern` can begin with; all where it cannot be told.

    It knows the syntax that this project's patterns use: groups, lookarounds, classes, escapes and
    quantifiers. Letters beyond ASCII are for the caller to allow.
    """
    letters, nullable = _Reader(_TOKEN.findall(pattern)).alternatives()
    return ASCII if nullable else frozenset(letters)


class _Reader:
    def __init__(self, tokens: list[str]) -> None:
        self.tokens = [*tokens, ""]
        self.at = 0

    def alternatives(self) -> tuple[set[str], bool]:
        letters, nullable = self._sequence()
        while self.tokens[self.at] == "|":
            self.at += 1
            more, empty = self._sequence()
            letters |= more
            nullable = nullable or empty
        return letters, nullable

    def _sequence(self) -> tuple[set[str], bool]:
        letters: set[str] = set()
        tokens = self.tokens
        while (token := tokens[self.at]) not in _ENDS:
            self.at += 1
            if token[0] == "(":
                found, empty = self.alternatives()
                self.at += 1
                if token in _LOOKS:
                    found, empty = set(), True
                letters |= found
            else:
                some = _of(token)
                letters |= some
                empty = not some
            while (sign := tokens[self.at]) and sign[0] in "?*+{":
                empty = empty or sign[0] in "?*" or sign.startswith("{0")
                self.at += 1
            if not empty:
                self._skip()
                return letters, False
        return letters, True

    def _skip(self) -> None:
        """Go to the end of a sequence whose first letters are known."""
        depth = 0
        while (token := self.tokens[self.at]) and (depth or token not in _ENDS):
            if token[0] == "(":
                depth += 1
            elif token == ")":
                depth -= 1
            self.at += 1


@cache
def _of(token: str) -> frozenset[str]:
    """Return the letters that a token stands for; none for one that has no width."""
    if token[0] == "[":
        return _class(token)
    if token[0] == "\\" and len(token) == 2:
        escaped = token[1]
        if escaped in "bBAZ":
            return frozenset()
        known = _CLASSES.get(escaped.lower())
        if known is None:
            return frozenset(escaped)
        return known if escaped.islower() else ASCII - known
    if token in "^$":
        return frozenset()
    return ASCII if token == "." else frozenset(token)


def _class(token: str) -> frozenset[str]:
    body = token[1:-1]
    negated = body.startswith("^")
    letters: set[str] = set()
    for found in re.finditer(
        r"\\(?P<escaped>.)|(?P<low>.)-(?P<high>[^\]])|(?P<one>.)", body[negated:], re.S
    ):
        if found["escaped"]:
            letters |= _CLASSES.get(found["escaped"], frozenset(found["escaped"]))
        elif found["low"]:
            letters.update(map(chr, range(ord(found["low"]), ord(found["high"]) + 1)))
        else:
            letters.add(found["one"])
    return ASCII - letters if negated else frozenset(letters)
