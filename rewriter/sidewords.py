"""How a draft calls the two sides of its work."""

from __future__ import annotations

from dataclasses import dataclass

from rewriter import regex

SIDES = {
    "short": ("RS", "WS"),
    "small": ("rs", "ws"),
    "long": ("right side", "wrong side"),
    "faces": ("outside", "inside"),
}
"""The right side's word and the wrong side's, by how a draft abbreviates them."""
_SIDED = regex.compile(r"(?i)\b(?:right|wrong)[\s-]+sides?\b|\b[rw]\.?s\b")
_EXPLAINED = regex.compile(r"(?i)\b[rw]\.?s\b\.?\W{1,4}(?:right|wrong)\s+side\b")
_OUTSIDE = regex.compile(r"(?i)\boutsides?\b")


@dataclass(frozen=True)
class SideWords:
    """The words for the sides within a sentence, the right side's first."""

    told: tuple[str, str]
    rows: tuple[str, str]
    """Rows worked with that side facing: "RS row", "row with the outside facing"."""
    together: tuple[str, str]
    """Two pieces that lie with these sides against each other."""


def leaves_sides_open(source: str) -> bool:
    """Say whether a draft speaks of the outside alone: its fabric is alike on both sides."""
    return _SIDED.search(source) is None and _OUTSIDE.search(source) is not None


def side_words(source: str, measured: str, full: bool) -> SideWords:
    """Return a draft's words for its sides; `measured` is how it abbreviates them.

    An abbreviation serves in a sentence where the draft has that of the other side too.
    """
    if leaves_sides_open(source):
        told = SIDES["faces"]
        right, wrong = (f"row with the {side} facing" for side in told)
        return SideWords(told, (right, wrong), ("outsides", "insides"))
    both = all(regex.search(rf"\b{word}\b", source) for word in SIDES[measured])
    told = SIDES["long" if full or not both else measured]
    explained = _EXPLAINED.search(source) is not None  # where one is, so must be the other
    right, wrong = (
        f"{side}s" if measured == "long" or (explained and word not in source) else word
        for word, side in zip(SIDES[measured], SIDES["long"], strict=True)
    )
    return SideWords(told, (f"{told[0]} row", f"{told[1]} row"), (right, wrong))
