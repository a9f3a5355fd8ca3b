"""The model of a worksheet: one size, its pieces, and the rows to be ticked."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any

from rewriter._resources import grammar_file
from rewriter.needlemodel import Shoulder
from rewriter.rows import Side
from rewriter.style import Terms


class NoSheet(Exception):
    """A worksheet cannot be made; the message says why, and what to do."""


@dataclass(frozen=True)
class Line:
    """One row to be ticked, counts in sts."""

    number: int | None
    """Number of the row on the sheet; None for what is done without working a row."""
    side: Side | None
    words: str
    worked: int | None
    waiting: tuple[int, int]
    """Stitches not worked, at the beginning of the row and behind the turn at its end."""
    off: int
    """Stitches bound off, decreased or put on holders."""
    on_needle: int | None


@dataclass(frozen=True)
class Needle:
    """The sts in the order in which the first row meets them, and between which edges they lie."""

    sts: str
    """Dots part the steps, double bars part shoulder and neck."""
    begins: str
    ends: str


@dataclass(frozen=True)
class PieceSheet:
    """The shoulder shaping of one piece, or of one side of its neck."""

    title: str
    about: str
    """Where its rows come from, if not from words of its own."""
    lead_in: str
    """What is done right before the first row: the revised draft's words, quoted."""
    begins: str
    """Which side the first row is, and the sts there are."""
    needle: Needle | None
    notes: tuple[str, ...]
    lines: tuple[Line, ...]
    after: str
    ticks: tuple[str, ...] = ("Done",)
    """Heads of the columns with boxes: one for each piece that is worked by these rows."""
    shoulder: Shoulder | None = None
    """None where the rows could not be written out, or are printed a second time."""
    other: Shoulder | None = None
    """The second side of a neck, where both are worked in these rows."""
    mirrored: bool = False
    """Worked out from the other side."""
    untold: bool = False
    """A side that must be worked, but that no words tell in a way that can be followed."""


@dataclass(frozen=True)
class Worksheet:
    """A whole worksheet."""

    title: str
    size: str
    """Name of the size; empty for a draft with one size."""
    terms: Terms
    options: tuple[tuple[str, str], ...]
    needs: tuple[str, ...]
    abbreviations: tuple[tuple[str, str], ...]
    method: tuple[tuple[str, str], ...]
    pieces: tuple[PieceSheet, ...]
    finish: tuple[str, ...]
    cautions: tuple[str, ...]
    missing: tuple[str, ...]
    """What was asked for and is not on the sheet, with the reasons."""
    compared: tuple[tuple[str, Needle], ...] = ()
    """For a practice swatch: its needle and the garment's."""
    about: tuple[str, ...] = ()


@cache
def words() -> dict[str, Any]:
    """Return the words of the worksheet."""
    return tomllib.loads(grammar_file("worksheet.toml"))
