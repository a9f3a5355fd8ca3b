"""Sizes told outside and inside brackets by turns, several inside: "XS (S, M) L (1X, 2X)".

They are matched as a list with one pair of brackets. Only a draft that writes its lists so throughout is
read so: elsewhere two lists may just stand side by side.
"""

from __future__ import annotations

from functools import lru_cache

from rewriter import regex

_ENTRY = (
    r"(?:\d+(?:[.,/]\d+|\s?[\u00bc-\u00be])?|[\u2013\u2014-]|\d?[Xx]{0,4}[SsLl]|[Mm]|\d[Xx])(?!\w)"
)
_INSIDE = rf"\(\s?{_ENTRY}(?:\s?[,:;]\s?{_ENTRY})+\s?\)"
_TURNS = rf"(?<![\w.,/()-]){_ENTRY}\s?{_INSIDE}(?:\s{_ENTRY}\s?{_INSIDE})+"
_LIST = regex.compile(_TURNS)
_ON_ONE_LINE = regex.compile(_TURNS.replace(r"\s", "[ \\t]"))
_BRACKET = regex.compile(r"\s?\)\s(?=[^()]*\()|(?<=\)\s[^()]*?)\s?\(\s?")
_FEWEST = 4
"""Such lists that show that a draft writes its sizes so."""


@lru_cache(maxsize=8)
def by_turns(source: str) -> bool:
    """Say whether a draft writes its lists with several sizes inside brackets, and others outside."""
    return "(" in source and len(_ON_ONE_LINE.findall(source)) >= _FEWEST


def in_one_bracket(plain: str) -> list[tuple[int, int, str]]:
    """Return the cuts that leave such lists in a text in lower case one pair of brackets.

    >>> in_one_bracket("cast off 6 (6, 7) 7 (8, 8) sts")
    [(16, 18, ', '), (19, 21, ', ')]
    """
    cuts = []
    for found in _LIST.finditer(plain):
        words, base = found.group(), found.start()
        for bracket in _BRACKET.finditer(words):
            cuts.append((base + bracket.start(), base + bracket.end(), ", "))
    return cuts
