"""The lines of a printed page in reading order: fragments of text by their places, columns told apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

_COLUMN_GAP = 0.9
"""Of the height of a line: a wider gap parts two fragments."""
_SAME_LINE = 0.4
"""Of the height of a line: fragments whose feet lie no farther apart stand on one line."""


@dataclass(frozen=True, slots=True)
class Box:
    """A place on a page in points, from the lower left corner."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def height(self) -> float:
        """Height of the line."""
        return self.top - self.bottom


@dataclass(slots=True)
class Fragment:
    """Characters that follow one another on a line, of one font."""

    box: Box
    text: str
    size: float
    """Size of the font in points."""
    bold: bool


@dataclass(frozen=True, slots=True)
class Line:
    """A line of one column: its fragments from left to right, and the column's edges."""

    fragments: tuple[Fragment, ...]
    left: float
    right: float
    column: int
    """Number of the column on the page, counted in reading order, a new one after each full line."""

    @property
    def box(self) -> Box:
        """The place of the line."""
        boxes = [f.box for f in self.fragments]
        return Box(
            boxes[0].left,
            min(b.bottom for b in boxes),
            max(b.right for b in boxes),
            max(b.top for b in boxes),
        )

    @property
    def text(self) -> str:
        """The words of the line."""
        return "".join(text for text, _ in self.runs).strip()

    @property
    def runs(self) -> list[tuple[str, bool]]:
        """The words of the line with their weight; a wide gap shows as three blanks."""
        out: list[tuple[str, bool]] = []
        for number, fragment in enumerate(self.fragments):
            before = self.fragments[number - 1] if number else None
            gap = ""
            if before is not None:
                wide = fragment.box.left - before.box.right > _COLUMN_GAP * fragment.box.height
                told = before.text.endswith(" ") or fragment.text.startswith(" ")
                apart = fragment.box.left - before.box.right > 0.15 * fragment.box.height
                gap = "   " if wide else " " if apart and not told else ""
            out.append((gap + fragment.text, fragment.bold))
        return out


def joins(one: Fragment, left: float, bottom: float, height: float) -> bool:
    """Say whether a character at a place goes on with a fragment."""
    near = -height < left - one.box.right < _COLUMN_GAP * height
    return near and abs(one.box.bottom - bottom) < _SAME_LINE * max(one.box.height, height)


def lines_in_order(fragments: Sequence[Fragment], width: float) -> list[Line]:
    """Return the lines of a page as they are read: a column's before those of the column beside it.

    Fragments that cross the gutter are as wide as the page and cut it into bands; in each band the
    left column is read first.
    """
    gutter = _gutter(fragments, width) if len(fragments) > 8 else None
    if gutter is None:
        return list(_lines(fragments, 0))
    out: list[Line] = []
    band: list[Fragment] = []
    column = 0

    def flush() -> None:
        nonlocal column
        for side in (
            [f for f in band if f.box.right <= gutter],
            [f for f in band if f.box.left >= gutter],
        ):
            out.extend(_lines(side, column))
            column += 1
        band.clear()

    full: list[Fragment] = []
    for fragment in sorted(fragments, key=lambda f: -f.box.top):
        if fragment.box.left < gutter < fragment.box.right:
            if band:
                flush()
            full.append(fragment)
            continue
        if full:
            out.extend(_lines(full, column))
            column += 1
            full = []
        band.append(fragment)
    if full:
        out.extend(_lines(full, column))
        column += 1
    flush()
    return out


def _gutter(fragments: Sequence[Fragment], width: float) -> float | None:
    """Return the x that fewest fragments cross, with a column on either side; None without columns."""
    best: tuple[int, float] | None = None
    for percent in range(30, 71):
        x = width * percent / 100
        left = sum(f.box.right <= x for f in fragments)
        right = sum(f.box.left >= x for f in fragments)
        cross = len(fragments) - left - right
        columns = min(left, right) >= 0.2 * len(fragments)
        if columns and cross <= 0.25 * len(fragments) and (best is None or cross < best[0]):
            best = (cross, x)
    return best[1] if best else None


def _lines(fragments: Sequence[Fragment], column: int) -> Iterator[Line]:
    rows: list[list[Fragment]] = []
    for fragment in sorted(fragments, key=lambda f: -f.box.bottom):
        above = rows[-1][0].box if rows else None
        if above and abs(above.bottom - fragment.box.bottom) < _SAME_LINE * fragment.box.height:
            rows[-1].append(fragment)
        else:
            rows.append([fragment])
    left = min((f.box.left for f in fragments), default=0.0)
    right = max((f.box.right for f in fragments), default=0.0)
    for row in rows:
        yield Line(tuple(sorted(row, key=lambda f: f.box.left)), left, right, column)
