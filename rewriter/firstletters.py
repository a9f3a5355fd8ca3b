"""How a match of a regular expression can begin: its first letters.

The lexer of the clause grammar tries a terminal only where its first letters stand: that is most of
the cost of reading, and a terminal that never comes is never compiled.
"""

from __future__ import annotations

import re
import string
from functools import cache
from itertools import pairwise
from typing import NamedTuple

ASCII = frozenset(map(chr, range(128)))
DEPTH = 3
"""How many letters of a beginning are told at most: words that begin alike differ in the third."""
OPEN = "\0"
"""Behind a beginning that anything may follow."""

_CLASSES = {
    "d": frozenset(string.digits),
    "s": frozenset(string.whitespace),
    "w": frozenset(string.ascii_letters + string.digits + "_"),
    "n": frozenset("\n"),
    "r": frozenset("\r"),
    "t": frozenset("\t"),
    "D": ASCII - frozenset(string.digits),
    "S": ASCII - frozenset(string.whitespace),
    "W": ASCII - frozenset(string.ascii_letters + string.digits + "_"),
}
_PLACES = "bBAZ"
"""Escapes that have no width."""
_ESCAPES = frozenset(_CLASSES) | frozenset(_PLACES)
_SUSPECT = re.compile(r"\(\?(?!:|<?[=!]|P<)|\\[^\W_ntrdswDSWbBAZ]")
"""What may be of a syntax that is not known here; or the quantifier of an escaped bracket."""
_ESCAPE = re.compile(r"\\(.)", re.S)
_TOKEN = re.compile(
    r"\(\?(?::|<?[=!]|P<\w+>)|\(|\)|\||\\.|\[\^?\]?(?:\\.|[^\]\\])*\]|[?*+]\??\+?|\{\d+(?:,\d*)?\}|.",
    re.S,
)
"""A piece of a regular expression: bracket, bar, escape, class, quantifier, or letter."""
_ENDS = ("", "|", ")")
_SIGNS = ("?", "*", "+", "{")
_LOOKS = ("(?=", "(?!", "(?<=", "(?<!")
_FEW = 4
"""A class of more letters than these is not followed further: blanks, figures, any letter at all."""

_NOTHING = frozenset({""})


def beginnings(pattern: str) -> frozenset[str]:
    """Return how a match of `pattern` can begin: three letters each, or fewer with OPEN behind them.

    It knows the syntax that this project's patterns use: groups, lookarounds, classes, escapes and
    quantifiers; of other patterns it tells that they can begin in any way. It may tell more beginnings than
    there are, for what a lookaround forbids is not heeded, but never too few. Letters beyond ASCII are for
    the caller to allow.
    """
    if not is_known(pattern):
        return frozenset({OPEN})
    found = _Reader(_TOKEN.findall(pattern)).alternatives()
    return found.told | {b + OPEN for b in found.short}


def is_known(pattern: str) -> bool:
    """Say whether all the syntax of a pattern is known here."""
    if not _SUSPECT.search(pattern):
        return True
    return not any(_is_strange(*two) for two in pairwise([*_TOKEN.findall(pattern), ""]))


def first_letters(pattern: str) -> frozenset[str]:
    """Return the ASCII letters a match of `pattern` can begin with; all where it cannot be told."""
    found = beginnings(pattern)
    return ASCII if OPEN in found else frozenset(b[0] for b in found)


def _is_strange(token: str, following: str) -> bool:
    """Say whether a token is of a syntax that is not known here: a flag, a condition, a reference, ..."""
    if token == "(":
        return following.startswith("?")
    return any(c.isalnum() and c not in _ESCAPES for c in _ESCAPE.findall(token))


class _Piece(NamedTuple):
    """The beginnings of a part of an expression."""

    told: frozenset[str]
    short: frozenset[str]
    """Those that what follows goes on; "" where the part may be left out."""

    def followed_by(self, other: _Piece) -> _Piece:
        if self.short == _NOTHING:
            if not self.told:
                return other
            return _Piece(self.told | other.told, other.short)
        told: set[str] = set(self.told)
        short: set[str] = set()
        for one in self.short:
            told.update([(one + more)[:DEPTH] for more in other.told])
            for more in other.short:
                both = (one + more)[:DEPTH]
                (told if len(both) == DEPTH else short).add(both)
        return _Piece(frozenset(told), frozenset(short))

    def or_else(self, other: _Piece) -> _Piece:
        return _Piece(self.told | other.told, self.short | other.short)

    def repeated(self) -> _Piece:
        """Return the beginnings of what stands once or several times."""
        several = self
        for _ in range(DEPTH - 1):
            several = several.or_else(several.followed_by(self))
        return several


_EMPTY = _Piece(frozenset(), _NOTHING)


class _Reader:
    def __init__(self, tokens: list[str]) -> None:
        self.tokens = [*tokens, ""]
        self.at = 0

    def alternatives(self) -> _Piece:
        told, short = map(set, self._sequence())
        while self.tokens[self.at] == "|":
            self.at += 1
            more = self._sequence()
            told |= more.told
            short |= more.short
        return _Piece(frozenset(told), frozenset(short))

    def _sequence(self) -> _Piece:
        found = _EMPTY
        tokens = self.tokens
        while (token := tokens[self.at]) not in _ENDS:
            self.at += 1
            if token in _LOOKS:
                self._skip()
                self.at += 1
                piece = _EMPTY
            elif token[0] == "(":
                piece = self.alternatives()
                self.at += 1
            elif token.isalpha() and len(word := self._word(token)) > 1:
                piece = _of_word(word)
            else:
                piece = _of(token)
            while (sign := tokens[self.at]) and sign[0] in "?*+{":
                if sign[0] != "?":
                    piece = piece.repeated()
                if sign[0] in "?*" or sign.startswith("{0"):
                    piece = piece.or_else(_EMPTY)
                self.at += 1
            found = found.followed_by(piece)
            if not found.short:
                self._skip(")|")
                break
        return found

    def _word(self, letter: str) -> str:
        """Take the letters that stand behind a letter as they are, as many as are told."""
        word, tokens, at = letter, self.tokens, self.at
        if tokens[at][:1] in _SIGNS:
            return letter
        while len(word) < DEPTH and tokens[at].isalpha() and tokens[at + 1][:1] not in _SIGNS:
            word += tokens[at]
            at += 1
        self.at = at
        return word

    def _skip(self, ends: str = ")") -> None:
        """Go to the end of a sequence whose beginnings are told, or of a bracket."""
        depth = 0
        while (token := self.tokens[self.at]) and (depth or token not in ends):
            if token[0] == "(":
                depth += 1
            elif token == ")":
                depth -= 1
            self.at += 1


@cache
def _of(token: str) -> _Piece:
    """Return the beginnings of a token; nothing for one that has no width."""
    letters = _letters_of(token)
    if not letters:
        return _EMPTY
    if len(letters) <= _FEW:
        return _Piece(frozenset(), letters)
    return _Piece(frozenset(c + OPEN for c in letters), frozenset())


@cache
def _of_word(word: str) -> _Piece:
    alone = frozenset({word})
    return _Piece(alone, frozenset()) if len(word) == DEPTH else _Piece(frozenset(), alone)


def _letters_of(token: str) -> frozenset[str]:
    if token[0] == "[":
        return _class(token)
    if token[0] == "\\" and len(token) == 2:
        escaped = token[1]
        return frozenset() if escaped in _PLACES else _escaped(escaped)
    if token in "^$":
        return frozenset()
    return ASCII if token == "." else frozenset(token)


def _escaped(letter: str) -> frozenset[str]:
    """Return what a letter stands for behind a backslash."""
    return _CLASSES.get(letter, frozenset(letter))


def _class(token: str) -> frozenset[str]:
    body = token[1:-1]
    negated = body.startswith("^")
    letters: set[str] = set()
    for found in re.finditer(
        r"\\(?P<escaped>.)|(?P<low>.)-(?P<high>[^\]])|(?P<one>.)", body[negated:], re.S
    ):
        if found["escaped"]:
            letters |= _escaped(found["escaped"])
        elif found["low"]:
            letters.update(map(chr, range(ord(found["low"]), ord(found["high"]) + 1)))
        else:
            letters.add(found["one"])
    return ASCII - letters if negated else frozenset(letters)
