"""The sentences of one side of a neck that is told by itself, and words behind it about the other."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.dividing import bound_off, is_dividing, works_to_height
from rewriter.frames import Statement
from rewriter.rowframes import is_note

_ROWS = frozenset(
    {"bind_off", "work", "back_row", "decrease", "repeat", "hold", "aid", "turn", "closing", ""}
)


def stop_of_one_side(statements: Sequence[Statement | None], at: int) -> int | None:
    """Return the index after the last row of a side whose dividing row is at `at`, if that is told."""
    first = statements[at]
    if first is None or not is_dividing(first) or first.sizes or first.by_size:
        return None
    for stop in range(at + 1, len(statements)):
        told = statements[stop]
        if told is None or told.sizes is not None or told.by_size or works_to_height(told):
            return None
        if bound_off(told):
            return stop + 1
        if not is_note(told) and not {f.verb for f in told.frames} <= _ROWS:
            return None
    return None


def is_one_side(statements: Sequence[Statement]) -> bool:
    """Say whether a passage is one side of a neck from its dividing row on."""
    return stop_of_one_side(statements, 0) == len(statements)


# Words behind a side that are about the other one.
_OTHER = regex.compile(
    r"\b(?:other|second|2nd|opposite|left|right|remaining|rem|each|both)\s+(?:\w+\s+)?(?:side|half|shoulder|set|part|edge)\b"
    r"|\b(?:re-?join|join|attach|match|correspond|revers\w*|mirror\w*)\b|\bfirst\s+(?:side|shoulder|half)\b"
)


def leans_on_it(ahead: str) -> bool:
    """Say whether words in lower case, those of the piece behind one side, tell of the other."""
    return _OTHER.search(ahead) is not None
