"""The letters with which a match of a regular expression can begin.

The lexer of the clause grammar tries a terminal only where its first letter stands: that is most
of the cost of reading, and a terminal that never comes is never compiled.
"""

from __future__ import annotations

import string
from dataclasses import dataclass

ASCII = frozenset(map(chr, range(128)))
_CLASSES = {
    "d": frozenset(string.digits),
    "s": frozenset(string.whitespace),
    "w": frozenset(string.ascii_letters + string.digits + "_"),
}
_NULLABLE = ("?", "*")


def first_letters(pattern: str) -> frozenset[str]:
    """Return the ASCII letters a match of `pattern` can begin with; all where it cannot be told.

    It knows the syntax that this project's patterns use: groups, lookarounds, classes, escapes and
    quantifiers. Letters beyond ASCII are for the caller to allow.
    """
    letters, nullable = _Reader(pattern).alternatives()
    return ASCII if nullable else letters


@dataclass
class _Reader:
    pattern: str
    at: int = 0

    def alternatives(self) -> tuple[frozenset[str], bool]:
        letters, nullable = self._sequence()
        while self._here() == "|":
            self.at += 1
            more, empty = self._sequence()
            letters, nullable = letters | more, nullable or empty
        return letters, nullable

    def _here(self, ahead: int = 0) -> str:
        return self.pattern[self.at + ahead : self.at + ahead + 1]

    def _sequence(self) -> tuple[frozenset[str], bool]:
        letters: frozenset[str] = frozenset()
        nullable = True
        while self._here() not in ("", "|", ")"):
            found, empty = self._atom()
            empty = self._quantified() or empty
            if nullable:
                letters |= found
            nullable = nullable and empty
        return letters, nullable

    def _quantified(self) -> bool:
        """Pass over a quantifier; say whether it allows none."""
        none = False
        while self._here() in ("?", "*", "+", "{"):
            none = none or self._here() in _NULLABLE or self.pattern.startswith("{0", self.at)
            self.at = self.pattern.index("}", self.at) + 1 if self._here() == "{" else self.at + 1
        return none

    def _atom(self) -> tuple[frozenset[str], bool]:
        sign = self._here()
        if sign == "(":
            return self._group()
        if sign == "[":
            return self._class(), False
        if sign == "\\":
            self.at += 2
            escaped = self.pattern[self.at - 1]
            if escaped in "bBAZ":
                return frozenset(), True
            if escaped.upper() in "DSW":
                known = _CLASSES[escaped.lower()]
                return (known if escaped.islower() else ASCII - known), False
            return frozenset(escaped), False
        self.at += 1
        if sign in "^$":
            return frozenset(), True
        return (ASCII if sign == "." else frozenset(sign)), False

    def _group(self) -> tuple[frozenset[str], bool]:
        look = self.pattern.startswith(("(?=", "(?!", "(?<=", "(?<!"), self.at)
        self.at += 1
        if self._here() == "?":
            self.at = self.pattern.index(":" if not look else self._look_end(), self.at) + 1
        inside = self.alternatives()
        self.at += 1
        return (frozenset(), True) if look else inside

    def _look_end(self) -> str:
        return "=" if self._here(1) == "=" or self._here(2) == "=" else "!"

    def _class(self) -> frozenset[str]:
        self.at += 1
        negated = self._here() == "^"
        self.at += negated
        letters: set[str] = set()
        while self._here() != "]":
            if self._here() == "\\":
                escaped = self._here(1)
                letters |= _CLASSES.get(escaped, frozenset(escaped))
                self.at += 2
            elif self._here(1) == "-" and self._here(2) != "]":
                letters.update(map(chr, range(ord(self._here()), ord(self._here(2)) + 1)))
                self.at += 3
            else:
                letters.add(self._here())
                self.at += 1
        self.at += 1
        return ASCII - letters if negated else frozenset(letters)
