"""Steps written as rows, sts and times: "2-6-3" is 6 sts on every 2nd row, 3 times.

Only a draft that explains the notation is read so: elsewhere three numbers are those of three sizes.
"""

from __future__ import annotations

import re
from functools import lru_cache

_NAMED = r"(?:sts?|stitch(?:es)?)"
# "2-1-3 = on every 2nd row, 1 st, 3 times (rows - sts - times)"
_EXPLAINED = re.compile(
    rf"(?i)\brows?\s*[-/\u2013\u2014]\s*{_NAMED}\s*[-/\u2013\u2014]\s*times?\b"
    # "the first number stands for the rows, the second for the stitches, the third for the times"
    rf"|\bfirst\b[^.;]{{1,40}}\brows?\b[^.]{{1,40}}\bsecond\b[^.;]{{1,40}}\b{_NAMED}\b[^.]{{1,40}}"
    r"\b(?:third|last)\b[^.;]{1,40}\b(?:times|often)\b"
    # "2-3-1" means every 2 rows, 3 stitches, 1 time
    r"|\d{1,2}-\d{1,2}-\d{1,2}\W{1,4}(?:means|is|=|:|stands\s+for|reads)[^.;]{0,30}\brows?\b"
    r"[^.;]{0,20}\b(?:sts?|stitch(?:es)?)\b[^.;]{0,20}\btimes?\b"
    # a-b-c means "every a rows, b sts, c times"
    r"|\b([a-z])[-\u2013]([a-z])[-\u2013]([a-z])\b[^.;]{1,30}\b\1(?:th)?\s+rows?\b"
    rf"[^.;]{{0,20}}\b\2\s+{_NAMED}\b[^.;]{{0,20}}\b\3\s+times?\b"
)
_EXAMPLE = re.compile(
    r"(?<![\d\w/-])(\d{1,2})[-\u2013](\d{1,2})[-\u2013](\d{1,2})(?![\d-])(?P<told>(?:[^.\d]|\d|\.\d){1,100})"
)
_SHOWN = re.compile(r"\d[-\u2013]\d{1,2}[-\u2013]\d")
_TOLD = (
    re.compile(r"[-/\u2013\u2014]\s*time"),
    re.compile(r"second\b[^.;]{1,40}\bst"),
    re.compile(r"[-\u2013][a-z][-\u2013]"),
)
"""What stands in an explanation that shows no steps: looked for first, each is found by its first letters."""
_ORDINALS = {1: "first", 2: "second", 3: "third", 4: "fourth", 6: "sixth"}
_CARDINALS = {
    1: "one",
    2: "two",
    3: "three",
    4: "four",
    5: "five",
    6: "six",
    7: "seven",
    8: "eight",
}
_OFTEN = {1: "once", 2: "twice", 3: "thrice"}
_ONE = (
    r"\d{1,2}[-\u2013]\d{1,2}[-\u2013]\d{1,2}(?![\d-]|\s*(?:sts?|stitch|rows?|cm|times|mm|balls)\b)"
)
_OTHER = r"(?:(?:x{0,3}[sml]|\d{2,3})\s*:\s*)?"  # "2-9-2 and 2-8-1 (L: 2-9-3)"
_RUN = re.compile(
    rf"(?<![\d\w/-]){_ONE}(?:\s*(?:,|\band\b|\+)\s*{_ONE}"
    rf"|\s*[\[(]\s*{_OTHER}{_ONE}(?:\s*(?:,|\band\b|\+)\s*{_ONE})*\s*[\])])*"
)
_NAMED_SIZE = re.compile(r"(?<=[\[(])\s*(?:x{0,3}[sml]|\d{2,3})\s*:\s*")
_PARTS = re.compile(r"(\d{1,2})[-\u2013](\d{1,2})[-\u2013](\d{1,2})")


@lru_cache(maxsize=8)
def explains_triples(source: str) -> bool:
    """Say whether a draft explains that three numbers are rows, sts and times.

    >>> explains_triples('2-1-3 means "every 2 rows, 1 stitch, 3 times"'), explains_triples("2-1-3 sts")
    (True, False)
    """
    shown = _SHOWN.search(source) is not None
    plain = source.lower()
    if not shown and not any(told.search(plain) for told in _TOLD):
        return False
    if _EXPLAINED.search(source) is not None:
        return True
    return shown and any(map(_is_told, _EXAMPLE.finditer(source)))


def _is_told(example: re.Match[str]) -> bool:
    """Say whether words tell an example: "every 2 rows, 1 stitch, 3 times" of 2-1-3."""
    every, sts, times = (int(example.group(n)) for n in (1, 2, 3))
    words = example.group("told").lower()

    def said(number: int, *others: dict[int, str]) -> str:
        return "|".join([str(number), *(words[number] for words in others if number in words)])

    rows = rf"\b(?:{said(every, _CARDINALS, _ORDINALS)})(?:st|nd|rd|th)?\s+rows?\b"
    count = rf"\b(?:{said(sts, _CARDINALS)})\s+{_NAMED}\b"
    often = rf"\b(?:{said(times, _CARDINALS)})\s+times?\b|\b{_OFTEN.get(times, 'never')}\b"
    return all(re.search(told, words) for told in (rows, count, often))


def triples(plain: str) -> list[tuple[int, int, str]]:
    """Return where runs of steps stand in a text in lower case, and the same in words.

    >>> triples("bind off 2-6-2, 2-7-1.")
    [(9, 21, 'on every 2nd row 2x6, 1x7')]
    """
    out = []
    for run in _RUN.finditer(plain):
        every = [m.group(1) for m in _PARTS.finditer(run.group())]
        alike = len(set(every)) == 1
        words = _PARTS.sub(_steps if alike else _steps_with_rows, _NAMED_SIZE.sub("", run.group()))
        out.append((run.start(), run.end(), f"{_rows(every[0])} {words}" if alike else words))
    return out


def unexplained(plain: str) -> list[tuple[int, int, str]]:
    """Return where runs stand that may be such steps, in a draft that does not explain them.

    "2-7-2, 2-8-1" behind "bind off" could be read as the sts of three sizes; steps with a word nobody
    knows stand for them, so that they are asked about.

    >>> unexplained("bind off 2-7-2, 2-8-1."), unexplained("bind off 8-8-9, 8-9-9 sts")
    ([(9, 21, '2 times 2 sts figures')], [])
    """
    out = []
    for run in _RUN.finditer(plain) if "off" in plain else ():
        every = [m.group(1) for m in _PARTS.finditer(run.group())]
        if len(every) > 1 and set(every) <= {"2", "4"}:
            out.append((run.start(), run.end(), "2 times 2 sts figures"))
    return out


def _steps(found: re.Match[str]) -> str:
    return f"{found.group(3)}x{found.group(2)}"


def _steps_with_rows(found: re.Match[str]) -> str:
    return f"{_rows(found.group(1))} {_steps(found)}"


def _rows(every: str) -> str:
    if every == "1":
        return "on every row"
    return f"on every {every}{'nd' if every == '2' else 'rd' if every == '3' else 'th'} row"
