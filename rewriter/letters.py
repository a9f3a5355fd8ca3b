"""Letters that stand for the rows of a table of numbers: "BO (G) sts", its numbers one column a size.

The draft's own table says what each letter is worth; a letter that it lists twice, or not for every
size, stands for nothing. Only a draft with such a table is read so.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

# "| **G** | shoulder, 1st bind-off | 6 | 7 |", "{G}  shoulder sts   8   8   9": a row with its letter.
_ROW = re.compile(
    r"^[ \t]*(?:\|[ \t]*)?(?P<mark>\*{0,2}[(\[{<]?[ \t]?(?P<letter>[A-Z]{1,2})[ \t]?[)\]}>]?\*{0,2})[.:=]?"
    r"(?:[ \t]*\||[ \t]{2,}|[ \t]*[.:=\u2013-][ \t]*|[ \t]+(?=[a-z]))(?P<rest>[^\r\n]*)",
    re.M,
)
_VALUE = r"(?:\d{1,4}(?:[.,]\d+|\s?[\u00bd\u00bc\u00be]|\s\d/\d)?|[\u2013\u2014-])"
_ENTRY = re.compile(rf"\s*({_VALUE})(?:\s?(?:sts?|rows?|cms?|ins?)\.?|\s?[\"\u201d\u2033])?\s*")
_BLANKS = re.compile(r"[ \t]{2,}|[ \t]*\|[ \t]*")
_NAMES = re.compile(r"[A-Za-z\d][\w./\u2013-]{0,9}(?: [A-Za-z]{1,6})?")
_FEWEST = 3
"""Rows of numbers that a table of letters has at least: one or two may be something else."""


@dataclass(frozen=True)
class Letters:
    """What the letters of a draft stand for."""

    values: tuple[tuple[str, tuple[str, ...]], ...]
    """Each letter with its numbers as the table writes them, one for each size."""
    names: tuple[str, ...]
    """What the table calls the sizes; none where its head does not tell."""
    span: tuple[int, int]
    """Where the head of the table stands, or else its first row."""
    table: tuple[int, int] = (0, 0)
    """From its head, or else its first row, to the end of its last row."""
    signs: frozenset[str] = frozenset()
    """Pairs of brackets in which the letters stand in the text: "()", "{}"."""


_NOTHING = Letters((), (), (0, 0), (0, 0))
# A letter in brackets; the same without them, where a unit shows that it is a number: "BO G sts".
_IN_BRACKETS = re.compile(r"(?P<open>[(\[{<])[ \t]?(?P<letter>[A-Z]{1,2})[ \t]?(?P<close>[)\]}>])")
_BARE = re.compile(
    r"(?<![\w({\[<])(?P<letter>[A-Z]{1,2})(?=[ \t\r\n]+(?:sts?|stitch(?:es)?|rows?|times|cms?|ins?|inches)\b)"
)
_UNIT = re.compile(r"\s*(?:sts?|stitch(?:es)?|rows?|times|cms?|ins?|inches)\b")
_PAIRS = frozenset({"()", "[]", "{}", "<>"})
_COMMANDS = frozenset({"K", "P"})
"""Letters that tell to knit and purl wherever no brackets set them apart."""


@lru_cache(maxsize=8)
def letters_of(source: str) -> Letters:
    """Return the letters that a draft's table explains; none where it has no such table.

    >>> table = "| | | S | M |\\n|---|---|---|---|\\n" + "".join(
    ...     f"| {letter} | sts | {n} | {n + 2} |\\n" for letter, n in zip("ABC", (90, 5, 8)))
    >>> letters_of(table + "BO (B) sts").values
    (('A', ('90', '92')), ('B', ('5', '7')), ('C', ('8', '10')))
    """
    found: dict[str, tuple[str, ...]] = {}
    twice: set[str] = set()
    first = last = None
    for row in _ROW.finditer(source):
        values = _entries(row["rest"])
        if len(values) < 2 or (found and len(values) != len(next(iter(found.values())))):
            continue
        if row["letter"] in found:
            twice.add(row["letter"])
        found[row["letter"]] = values
        first, last = first or row, row
    if len(found) < _FEWEST or first is None or last is None or twice:
        return _NOTHING
    head = _head_above(source, first.start(), len(next(iter(found.values()))))
    signs = frozenset(
        m["open"] + m["close"]
        for m in _IN_BRACKETS.finditer(source)
        if m["letter"] in found
        and m["open"] + m["close"] in _PAIRS
        and _UNIT.match(source, m.end())
    )
    if not signs and not any(m["letter"] in found for m in _BARE.finditer(source)):
        return _NOTHING  # lengths of a drawing, or sizes called by letters
    names, span = head or ((), first.span())
    table = (min(span[0], first.start()), last.end())
    return Letters(tuple(found.items()), names, span, table, signs)


def _entries(row: str) -> tuple[str, ...]:
    """Return the numbers at the end of a row, behind its words."""
    cells = [c for c in _BLANKS.split(row.strip().strip("|").strip()) if c.strip()]
    values: list[str] = []
    for cell in reversed(cells):
        entry = _ENTRY.fullmatch(cell.replace("*", ""))
        if entry is None:
            break
        values.append(entry.group(1))
    return tuple(reversed(values))


def _head_above(source: str, at: int, sizes: int) -> tuple[tuple[str, ...], tuple[int, int]] | None:
    """Return the names of the sizes in a line above that has as many, and its place.

    Words come before figures ("S", "M" before the "36", "39" of the bust), the topmost line before others.
    """
    found: list[tuple[bool, tuple[str, ...], tuple[int, int]]] = []
    for line in reversed(source[:at].splitlines(keepends=True)[-_HEAD:]):
        at -= len(line)
        cells = [
            c.strip(" *") for c in _BLANKS.split(line.strip().strip("|").strip()) if c.strip(" *")
        ]
        names = cells[-sizes:]
        ruled = set(line.strip()) <= set("|-:= ")
        if not ruled and len(names) == sizes and all(map(_NAMES.fullmatch, names)):
            worded = all(re.search("[A-Za-z]", name) for name in names)
            found.append((worded, tuple(names), (at, at + len(line.rstrip()))))
    if not found:
        return None
    _, names_found, place = max(found, key=lambda f: (f[0], -f[2][0]))
    return names_found, place


_HEAD = 5
"""Lines above the first row of a table in which its head may stand."""


def lettered(raw: str, letters: Letters) -> list[tuple[int, int, str]]:
    """Return the cuts that put the numbers of the table in the place of each letter of a stretch."""
    values = dict(letters.values)
    cuts: list[tuple[int, int, str]] = []
    for found in _IN_BRACKETS.finditer(raw):
        if found["open"] + found["close"] in letters.signs and found["letter"] in values:
            cuts += _as_list(found.start(), found.end(), values[found["letter"]])
    for found in _BARE.finditer(raw):
        if found["letter"] in values and found["letter"] not in _COMMANDS:
            cuts += _as_list(found.start(), found.end(), values[found["letter"]])
    return cuts


def _as_list(start: int, end: int, values: tuple[str, ...]) -> list[tuple[int, int, str]]:
    """Return the cuts of one letter: what is matched begins and ends where the letter does."""
    first, *more = (v.translate(_DASHES) for v in values)
    told = f" ({', '.join(more)})" if more else ""
    if end - start == 1:
        return [(start, end, first + told)]
    return [(start, end - 1, (first + told)[:-1]), (end - 1, end, (first + told)[-1:])]


_DASHES = {0x2013: "-", 0x2014: "-"}
