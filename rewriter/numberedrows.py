"""Rows told by number in running words: "cast off 7 sts at beg of rows 1 and 3, the last 8 in row 5"."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from rewriter.parsing import Part

COUNTED_FROM_BELOW = 10
"""A row of this number or more is counted from the start of the armhole, or of the piece."""


def rows_apart(told: Part) -> int:
    """Return how far rows told by number lie apart: 2 in "1st, 3rd and 5th rows"; 0 where they differ."""
    if told.kind != "row_number" or told.concept == "range":
        return 0
    return apart(told.numbers)


def apart(numbers: Sequence[int]) -> int:
    """Return by how much numbers rise: 1, 2 (also for one alone), or 0 for any other way."""
    by = {b - a for a, b in pairwise(numbers)} or {2}
    return by.pop() if by in ({1}, {2}) else 0


def begins_count(told: Part) -> bool:
    """Say whether it is clear from where rows are counted when none of them has been told yet.

    From the first row of the shaping, or from far below ("rows 55 and 57"); in "on the 2nd row cast
    off" it is not clear.
    """
    return told.numbers[0] == 1 or told.numbers[0] >= COUNTED_FROM_BELOW


def index_of(told: Part, base: int | None, numbered: Mapping[int, int]) -> int | None:
    """Return the index of a numbered row: `base` is that of row 1, `numbered` those of rows told before."""
    if base is not None:
        return base + told.numbers[0] - 1
    if not numbered:
        return None
    known, at = max(numbered.items())
    return at + told.numbers[0] - known
