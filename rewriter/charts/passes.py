"""The rows of a shoulder worked one by one: which columns each passes, takes off, or leaves behind a turn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from rewriter.fabric import Fabric, Fate, knit
from rewriter.needlemodel import Shoulder
from rewriter.rows import Edge, Kind, Side, side_of

Stretch = tuple[int, int]
"""The first of some neighbouring columns, and how many they are."""


@dataclass(frozen=True, slots=True)
class TurningPoint:
    """A place where the work is turned before the end of a row."""

    row: int
    """Number of the row as the chart counts rows."""
    side: Side | None
    edge: Edge
    """The edge that the row was working toward."""
    place: int
    height: int
    """Rows worked into the last column before the turn, this row among them."""
    unworked: int
    """Stitches left unworked behind it."""


@dataclass(frozen=True, slots=True)
class Pass:
    """One row of the new text in the order of working, or sts taken off between two rows."""

    row: int | None
    """Number of the row as the chart counts rows; None where sts are only taken off."""
    side: Side | None
    toward: Edge
    worked: Stretch | None
    """From the first column that the yarn passes over to the last; None in a row that only binds off."""
    parts: tuple[Stretch, ...]
    """The columns that it passes over: several stretches where a neck lies between them."""
    off: tuple[tuple[Stretch, Fate], ...]
    """Columns that leave the needle in it, and how."""
    unworked: Stretch | None
    """Columns behind its turn."""
    cut: bool
    """The yarn is cut after it."""
    rejoins: bool
    """The yarn is rejoined at its beginning."""
    level: int
    """The rows worked where it begins, this row among them."""


def work_rows(
    shoulder: Shoulder, columns: int, begins: Edge, first_row: int, parts: AbstractSet[int]
) -> tuple[list[Pass], list[TurningPoint]]:
    """Return what each row does, and its turns, from working one row more each time.

    Columns that leave the needle together are told apart at the places `parts`.
    """
    rows, first_side = shoulder.new_rows, shoulder.first_side
    passes: list[Pass] = []
    turns: list[TurningPoint] = []
    before = columns_of(knit(columns, (), begins))
    number = -1
    for index, row in enumerate(rows):
        fabric = knit(columns, rows[: index + 1], begins)
        after = columns_of(fabric)
        toward: Edge = "left" if side_of(number, first_side or "RS") == "RS" else "right"
        grown = [i for i in range(columns) if after[i][0] > before[i][0]]
        worked = (grown[0], grown[-1] + 1 - grown[0]) if grown else None
        off = tuple(_taken_off(before, after, parts))
        behind = dict(fabric.turned).get(index, 0)
        unworked: Stretch | None = None
        if number >= first_row and (worked or off):
            label = number - first_row + shoulder.label
            side = side_of(number, first_side)
            if worked and behind:
                place = worked[0] if toward == "right" else sum(worked)
                unworked = (place - behind, behind) if toward == "right" else (place, behind)
                height = after[place if toward == "right" else place - 1][0]
                turns.append(TurningPoint(label, side, toward, place, height, behind))
            passes.append(
                Pass(
                    row=label if row.passes else None,
                    side=side if row.passes else None,
                    toward=toward,
                    worked=worked,
                    parts=tuple(_stretches(grown)),
                    off=off,
                    unworked=unworked,
                    cut=row.has(Kind.CUT),
                    rejoins=row.has(Kind.JOIN),
                    level=_level(after, toward, worked, off),
                )
            )
        number += row.passes
        before = after
    return passes, turns


def _stretches(columns: Sequence[int]) -> Iterator[Stretch]:
    """Yield rising columns as stretches of neighbours."""
    start = 0
    for i, column in enumerate(columns):
        if i + 1 == len(columns) or columns[i + 1] != column + 1:
            yield columns[start], i + 1 - start
            start = i + 1


def _level(
    after: Sequence[tuple[int, Fate]],
    toward: Edge,
    worked: Stretch | None,
    off: Sequence[tuple[Stretch, Fate]],
) -> int:
    if worked is not None:
        return after[worked[0] if toward == "left" else sum(worked) - 1][0]
    return max(after[i][0] for (first, n), _ in off for i in range(first, first + n)) + 1


def columns_of(fabric: Fabric) -> list[tuple[int, Fate]]:
    return [(run.height, run.fate) for run in fabric.runs for _ in range(run.count)]


def _taken_off(
    before: Sequence[tuple[int, Fate]], after: Sequence[tuple[int, Fate]], parts: AbstractSet[int]
) -> Iterator[tuple[Stretch, Fate]]:
    """Yield the neighbouring columns of a part that left the needle in the same way."""
    start, last = 0, len(before)
    now = [b[1] if a[1] != b[1] else None for a, b in zip(before, after, strict=True)]
    for place in range(1, last + 1):
        if place == last or place in parts or now[place] != now[start]:
            fate = now[start]
            if fate is not None:
                yield (start, place - start), fate
            start = place
