"""Look for long expressions only where their first letters stand.

An expression with hundreds of alternatives is tried at every letter of a text; most of its places can be
passed over by the first three letters of its matches. What is found is the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from rewriter import regex
from rewriter.firstletters import OPEN, beginnings


class QuickSearch:
    """An expression, without flags, that is looked for by the first letters of its matches.

    A match must not be empty.
    """

    def __init__(self, pattern: regex.Pattern[str]) -> None:
        self.plain = pattern
        told = beginnings(pattern.pattern)
        # a class of letters tells those of ASCII alone, so other texts are looked through as a whole
        self._places = re.compile(_one_of(told)) if OPEN not in told else None

    @property
    def is_quick(self) -> bool:
        """Whether the first letters of its matches can be told; else it is looked for as it is."""
        return self._places is not None

    def search(self, text: str, at: int = 0) -> regex.Match[str] | None:
        """Return the first match from a place on."""
        places = self._places
        if places is None or not text.isascii():
            return self.plain.search(text, at)
        match, next_place = self.plain.match, places.search
        while place := next_place(text, at):
            at = place.start()
            if found := match(text, at):
                return found
            at += 1
        return None

    def finditer(self, text: str) -> Iterator[regex.Match[str]]:
        """Yield the matches."""
        at = 0
        while found := self.search(text, at):
            yield found
            at = found.end()


def _one_of(told: Iterable[str]) -> str:
    return "|".join(sorted(re.escape(b.removesuffix(OPEN)) for b in told))
