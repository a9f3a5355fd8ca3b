"""Lists for the sizes without brackets: "7, 8, 8, 9, 10 sts" for five sizes, "11; 12 sts" for two.

Such numbers may be the steps of one shoulder as well. They are those of the sizes in a draft whose lists
are all of one length and rise, and of which one has numbers that no step has ("41, 41, 43, 45, 45 sts").
Of five numbers and more, only those that are no steps have to rise: what is left for a last step need not.
"""

from __future__ import annotations

import re
from functools import lru_cache

_UNIT = r"(?=\s*(?:sts?|stitches|loops)(?![a-z]))"
_LIST = {
    ",": re.compile(rf"(?<![\d.,;:/(\[-])(?<![\d,;]\s)\d{{1,3}}(?:,\s?\d{{1,3}}){{2,}}{_UNIT}"),
    ";": re.compile(rf"(?<![\d.,;:/(\[-])(?<![\d,;]\s)\d{{1,3}}(?:;\s?\d{{1,3}})+{_UNIT}"),
}
_BRACKETED = re.compile(r"\d\s?[(\[]\s?\d")
_NO_STEP = 20
"""Sts that no step of a shoulder has (common practice)."""
_MANY = 5
"""Numbers of a list that is hardly one of steps."""
_FEWEST = {",": 2, ";": 3}
"""How many lists there must be: two numbers with a semicolon may be anything else."""


@lru_cache(maxsize=8)
def bare_lists(source: str) -> str:
    """Return the sign that parts the numbers of a draft's lists for the sizes; "" where they have brackets.

    >>> bare_lists("Bind off 7, 8, 8 sts at beg of next 4 rows. Leave 41, 41, 43 sts on a holder.")
    ','
    """
    if _BRACKETED.search(source):
        return ""
    text = source.lower()
    for sign, pattern in _LIST.items():
        lists = [[int(n) for n in re.findall(r"\d+", m.group())] for m in pattern.finditer(text)]
        alike = len({len(numbers) for numbers in lists}) == 1
        rise = all(
            numbers == sorted(numbers)
            for numbers in lists
            if len(numbers) < _MANY or min(numbers) >= _NO_STEP
        )
        if (
            alike
            and rise
            and len(lists) >= _FEWEST[sign]
            and any(min(n) >= _NO_STEP for n in lists)
        ):
            return sign
    return ""


def bracketed(plain: str, sign: str) -> list[tuple[int, int, str]]:
    """Return what is to stand instead where, so that the lists of a text have their brackets.

    >>> bracketed("bind off 7, 8, 9 sts", ",")
    [(10, 12, ' ('), (15, 16, '9)')]
    """
    out = []
    for found in _LIST[sign].finditer(plain):
        first = re.match(r"\d+", found.group())
        behind = found.start() + (first.end() if first else 0)
        opening = re.compile(rf"{sign}\s?").match(plain, behind)
        if opening is not None:
            out.append((opening.start(), opening.end(), " ("))
            # the bracket has no place of its own: it stands with the last figure
            out.append((found.end() - 1, found.end(), f"{plain[found.end() - 1]})"))
    return out
