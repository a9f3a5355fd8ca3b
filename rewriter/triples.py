"""Steps written as rows, sts and times: "2-6-3" is 6 sts on every 2nd row, 3 times.

Only a draft that explains the notation is read so: elsewhere three numbers are those of three sizes.
"""

from __future__ import annotations

import re
from functools import lru_cache

# "2-1-3 = on every 2nd row, 1 st, 3 times (rows - sts - times)"
_EXPLAINED = re.compile(
    r"(?i)\brows?\s*[-/\u2013\u2014]\s*(?:sts?|stitch(?:es)?)\s*[-/\u2013\u2014]\s*times\b"
    # "2-3-1" means every 2 rows, 3 stitches, 1 time
    r"|\d{1,2}-\d{1,2}-\d{1,2}\W{1,4}(?:means|is|=|:|stands\s+for|reads)[^.;]{0,30}\brows?\b"
    r"[^.;]{0,20}\b(?:sts?|stitch(?:es)?)\b[^.;]{0,20}\btimes?\b"
)
_ONE = (
    r"\d{1,2}[-\u2013]\d{1,2}[-\u2013]\d{1,2}(?![\d-]|\s*(?:sts?|stitch|rows?|cm|times|mm|balls)\b)"
)
_RUN = re.compile(
    rf"(?<![\d\w/-]){_ONE}(?:\s*(?:,|\band\b|\+)\s*{_ONE}|\s*[\[(]\s*{_ONE}(?:\s*,\s*{_ONE})*\s*[\])])*"
)
_PARTS = re.compile(r"(\d{1,2})[-\u2013](\d{1,2})[-\u2013](\d{1,2})")


@lru_cache(maxsize=8)
def explains_triples(source: str) -> bool:
    """Say whether a draft explains that three numbers are rows, sts and times."""
    return _EXPLAINED.search(source) is not None


def triples(plain: str) -> list[tuple[int, int, str]]:
    """Return where runs of steps stand in a text in lower case, and the same in words.

    >>> triples("bind off 2-6-2, 2-7-1.")
    [(9, 21, 'on every 2nd row 2x6, 1x7')]
    """
    out = []
    for run in _RUN.finditer(plain):
        every = [m.group(1) for m in _PARTS.finditer(run.group())]
        alike = len(set(every)) == 1
        words = _PARTS.sub(_steps if alike else _steps_with_rows, run.group())
        out.append((run.start(), run.end(), f"{_rows(every[0])} {words}" if alike else words))
    return out


def _steps(found: re.Match[str]) -> str:
    return f"{found.group(3)}x{found.group(2)}"


def _steps_with_rows(found: re.Match[str]) -> str:
    return f"{_rows(found.group(1))} {_steps(found)}"


def _rows(every: str) -> str:
    if every == "1":
        return "on every row"
    return f"on every {every}{'nd' if every == '2' else 'rd' if every == '3' else 'th'} row"
