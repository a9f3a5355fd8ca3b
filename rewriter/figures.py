"""Figures set out in columns, one a size, behind the words they belong to.

    Cast off at beg. of next 6 rows ..... sts.     7     8     8     9

is matched as "cast off at beg of next 6 rows 7 (8, 8, 9) sts". Only a draft that sets its figures out so
line after line is read so.
"""

from __future__ import annotations

import re
from collections import Counter
from functools import lru_cache

_VALUE = r"(?:\d{1,4}(?:[.]\d+|\s?[\u00bd\u00bc\u00be])?|[\u2013\u2014-])"
_UNIT = r"(?:sts?|stitches|ins?|inches|cms?|rows?|times|balls|ozs?|g)"
_ROW = re.compile(
    r"(?:(?P<leader>[ \t]*(?:\.{2,}|\u2026+|_{2,}|(?:[ \t]\.)+)[ \t]*)|[ \t]{3,})"
    rf"(?:[(\[]?(?P<unit>{_UNIT})\b\.?[)\]]?(?P<gap>[ \t]+))?"
    rf"(?P<figures>{_VALUE}(?:[ \t]{{2,}}{_VALUE})+)[ \t]*(?=[\r\n]|\Z)",
    re.I,
)
_ABOUT_SIZES = re.compile(r"(?i)\b(?:sizes?|to fit|bust|chest|age)\b")
_FEWEST = 4
"""Lines with figures that show that a draft sets them out in columns."""


@lru_cache(maxsize=8)
def columns_of(source: str) -> int:
    """Return how many columns of figures a draft has; 0 where its figures stand in its sentences.

    >>> columns_of("".join(f"{words} .... sts.   7   8\\n" for words in ("Cast on", "K.", "Now", "Left")))
    2
    """
    if source.count("..") < _FEWEST and source.count("   ") < _FEWEST:
        return 0
    rows = [m for m in _ROW.finditer(source) if m["leader"]]
    counts = Counter(len(m["figures"].split()) for m in rows)
    if not counts:
        return 0
    (columns, lines), *_ = counts.most_common(1)
    return columns if lines >= _FEWEST else 0


def column_names(source: str) -> tuple[tuple[int, int], tuple[str, ...]] | None:
    """Return what the columns are called, and where: the first line of figures about sizes."""
    columns = columns_of(source)
    for found in _ROW.finditer(source) if columns else ():
        line = source.rfind("\n", 0, found.start()) + 1
        figures = tuple(found["figures"].split())
        if len(figures) == columns and _ABOUT_SIZES.search(source, line, found.start()):
            return found.span("figures"), figures
    return None


def set_in_sentence(plain: str, columns: int) -> list[tuple[int, int, str]]:
    """Return the cuts that put figures in columns into the sentence before them, as a list with its unit."""
    cuts: list[tuple[int, int, str]] = []
    for found in _ENDS.finditer(plain):
        figures = found["figures"].split()
        if len(figures) != columns:
            continue
        unit = f" {found['unit']}" if found["unit"] else ""
        told = f" {figures[0]} ({', '.join(figures[1:])}){unit}"
        cuts += [
            (found.start(), found.end() - 1, told[:-1]),
            (found.end() - 1, found.end(), told[-1]),
        ]
    return cuts


# In a view line ends are blanks: the last figure is that of the last column.
_ENDS = re.compile(_ROW.pattern.replace(r"(?=[\r\n]|\Z)", r"(?=\s|\Z)"), re.I)


def ends_in_figures(line: str, columns: int) -> bool:
    """Say whether a line of a draft with columns ends in its figures."""
    found = _ROW.search(line)
    return found is not None and len(found["figures"].split()) == columns


def leads_to_figures(text: str, at: int) -> bool:
    """Say whether the points that begin at a place lead to figures in columns."""
    columns = columns_of(text)
    places = (at, at - 1) if columns else ()
    found = next((m for place in places if (m := _ROW.match(text, place))), None)
    return found is not None and len(found["figures"].split()) == columns
