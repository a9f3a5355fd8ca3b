"""What a chart of a shoulder shows, as plain data: columns, rows, edges, turns, markers, order.

Columns are numbered from the right-hand edge as seen with the right side facing; a place between
two columns is the number of columns to its right. Heights are rows above the row -1 of the draft
(`needlerows`). All is taken from working the rows of both texts over the needle.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, pairwise

from rewriter.fabric import Fabric, Fate, knit
from rewriter.needlerows import Half, Shoulder
from rewriter.rows import (
    OTHER_SIDE,
    Edge,
    Kind,
    Side,
    edge_of_beginning,
    side_of,
)
from rewriter.stitchwork import Fabric as Stitchwork
from rewriter.twin import Steps

Point = tuple[int, float]
"""A place between columns, and a height in rows."""
Stretch = tuple[int, int]
"""The first of some neighbouring columns, and how many they are."""


@dataclass(frozen=True, slots=True)
class Ratio:
    """The height of a row in widths of a stitch, and where it is from."""

    value: Fraction
    words: str
    """The gauge as the draft prints it, or what was assumed in its place."""
    assumed: bool


def assumed_ratio(stitchwork: Stitchwork) -> Ratio:
    """Return the usual ratio of a fabric, for drafts that give no rows to a length."""
    if stitchwork == "garter":  # two rows to a ridge, and a ridge about as tall as a st is wide
        return Ratio(
            Fraction(1, 2), "rows half as tall as sts are wide, usual for garter stitch", True
        )
    words = "rows three quarters as tall as sts are wide, usual for stocking stitch"
    return Ratio(Fraction(3, 4), words, True)


@dataclass(frozen=True, slots=True)
class Step:
    """One step of an edge as it is worked in the short rows."""

    edge: Edge
    number: int
    """Counted from 1 at the armhole edge inward."""
    columns: Stretch


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
class Marker:
    """A marker between two columns."""

    place: int
    boundary: bool
    """It parts the shoulder from the sts beside it, and has the second colour."""


@dataclass(frozen=True, slots=True)
class Pass:
    """One row of the new text in the order of working, or sts taken off between two rows."""

    row: int | None
    """Number of the row as the chart counts rows; None where sts are only taken off."""
    side: Side | None
    toward: Edge
    worked: Stretch | None
    """The columns that the yarn passes over; None in a row that only binds off."""
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


@dataclass(frozen=True)
class Chart:
    """The chart of one needle, in one size."""

    name: str
    """Id of its passage in the report."""
    piece: str
    half: Half
    stitches: int | None
    """On the needle before the first row; None where not known."""
    columns: int
    """Columns drawn; where the sts beside the shoulders are not known, some stand in for them."""
    first_side: Side | None
    """Side of the draft's first bind-off; where None, the chart is drawn as if it were RS."""
    ratio: Ratio
    steps: tuple[Step, ...]
    """From the right-hand edge to the left-hand one."""
    beside: Stretch | None
    """The columns that belong to no step: the neck, or sts that are kept."""
    beside_is_neck: bool
    stepped: tuple[Point, ...]
    """The draft's edge, from the right-hand end to the left-hand one."""
    sloped: tuple[Point, ...]
    """The edge of the short rows, likewise."""
    own_steps: tuple[Steps, ...]
    """The draft's own steps."""
    turns: tuple[TurningPoint, ...]
    """In the order of working."""
    markers: tuple[Marker, ...]
    passes: tuple[Pass, ...]
    shared: int
    """How many of its first rows are worked over both sides of a neck."""
    first_row: int
    """The number, counted from the draft's first bind-off as row 0, of the row that the chart calls row 1."""

    @property
    def kind(self) -> str:
        """What the steps shape: shoulder, or another kind on request."""
        return self.name.split("/")[1]

    @property
    def edges(self) -> tuple[Edge, ...]:
        """Return the edges that are shaped, in working order."""
        return tuple(s.edge for s in self.own_steps)

    @property
    def top(self) -> float:
        """Return the greatest height of either edge."""
        return max(y for _, y in (*self.stepped, *self.sloped))

    @property
    def respaced(self) -> bool:
        """Whether the sts are spread otherwise than the draft's own steps."""
        return any(s.sts != tuple(self.sts_of(s.edge)) for s in self.own_steps)

    def reach(self, edge: Edge) -> tuple[int, int]:
        """Return the places between which the steps of an edge lie."""
        return _reach(self.steps, edge)

    def worked(self, told: Pass) -> int | None:
        """Return the sts worked in a row; None where it works more, or not known ones, beside them."""
        shared = told.row is not None and told.row <= self.shared
        return None if told.worked is None or shared else self.counted(told.worked)

    def counted(self, columns: Stretch) -> int | None:
        """Return how many sts some columns are; None where sts that are not known are among them."""
        beside = self.beside
        if self.stitches is None and beside is not None:
            apart = sum(columns) <= beside[0] or columns[0] >= sum(beside)
            return columns[1] if apart else None
        return columns[1]

    def sts_of(self, edge: Edge) -> list[int]:
        """Return the sts of the steps of an edge, from the armhole inward."""
        own = sorted((s for s in self.steps if s.edge == edge), key=lambda s: s.number)
        return [s.columns[1] for s in own]


def area(edge: Sequence[Point]) -> float:
    """Return what lies under an edge, in sts times rows."""
    return sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(edge))


def chart_of(shoulder: Shoulder, ratio: Ratio, notes: Sequence[str] | None = None) -> Chart:
    """Return the chart of a shoulder; `notes` are those said of it elsewhere (on its first side)."""
    own = sum(row.off_at_neck for row in shoulder.draft_rows) + sum(shoulder.together)
    spare = shoulder.neck if shoulder.neck is not None else max(6, own // 3)
    columns = own + spare
    first = shoulder.first_side or "RS"
    begins = edge_of_beginning(OTHER_SIDE[first])
    drafted = knit(columns, shoulder.drafted_rows, begins)
    worked = knit(columns, shoulder.new_rows, begins)
    first_row = 0 if shoulder.new_rows[0].span is None else -1
    steps = _steps(shoulder.edges, columns)
    parts = {place for s in shoulder.edges for place in _reach(steps, s.edge)}
    passes, turns = _passes(shoulder, columns, begins, first_row, parts)
    neck_shaped = any(row.off_at_neck for row in shoulder.draft_rows)
    taken = sum(s.columns[1] for s in steps)
    low = sum(s.columns[1] for s in steps if s.edge == "right")
    return Chart(
        name=shoulder.name,
        piece=shoulder.piece,
        half=shoulder.half,
        stitches=shoulder.stitches,
        columns=columns,
        first_side=shoulder.first_side,
        ratio=ratio,
        steps=steps,
        beside=(low, columns - taken) if columns > taken else None,
        beside_is_neck=len(shoulder.edges) == 2 or neck_shaped,
        stepped=_stepped(drafted),
        sloped=_sloped(worked, steps),
        own_steps=shoulder.drafted_edges,
        turns=tuple(turns),
        markers=_markers(shoulder, steps, columns, shoulder.notes if notes is None else notes),
        passes=tuple(passes),
        shared=_shared(shoulder, first_row),
        first_row=first_row,
    )


def _shared(shoulder: Shoulder, first_row: int) -> int:
    if not shoulder.half:
        return 0
    own = next(r.number for r in shoulder.rows if r.worked is not None)
    return own - first_row


def _steps(edges: Sequence[Steps], columns: int) -> tuple[Step, ...]:
    out: list[Step] = []
    for steps in edges:
        ends = list(accumulate(steps.sts))
        for number, (n, end) in enumerate(zip(steps.sts, ends, strict=True), start=1):
            low = end - n if steps.edge == "right" else columns - end
            out.append(Step(steps.edge, number, (low, n)))
    return tuple(sorted(out, key=lambda s: s.columns))


def _stepped(fabric: Fabric) -> tuple[Point, ...]:
    out: list[Point] = []
    at = 0
    for count, height in fabric.heights():
        out += [(at, height), (at + count, height)]
        at += count
    return tuple(out)


def _sloped(fabric: Fabric, steps: Sequence[Step]) -> tuple[Point, ...]:
    """Return the edge with a straight line through the middle of every riser of the shoulders.

    Over a step between equal risers the line leaves as much fabric as the step has.
    """
    out: list[Point] = []
    at = 0
    while at < sum(run.count for run in fabric.runs):
        edge = [s for s in steps if s.edge == _edge_at(steps, at)]
        if edge:
            tops = [_height(fabric, s.columns) for s in edge]
            inner = tops if edge[0].edge == "right" else tops[::-1]
            line = _line(inner)
            places = [edge[0].columns[0], *(s.columns[0] + s.columns[1] for s in edge)]
            out += zip(places, line if edge[0].edge == "right" else line[::-1], strict=True)
            at = places[-1]
        else:
            until = min((s.columns[0] for s in steps if s.columns[0] > at), default=None)
            count = (until or sum(run.count for run in fabric.runs)) - at
            for n, height, _ in fabric.at(at, count):
                out += [(at, height), (at + n, height)]
                at += n
    return tuple(p for i, p in enumerate(out) if not i or p != out[i - 1])


def _edge_at(steps: Sequence[Step], column: int) -> Edge | None:
    return next((s.edge for s in steps if s.columns[0] == column), None)


def _height(fabric: Fabric, columns: Stretch) -> float:
    told = fabric.at(*columns)
    return sum(n * height for n, height, _ in told) / columns[1]


def _line(tops: Sequence[float]) -> list[float]:
    """Return the heights at the ends of steps, armhole edge first, from the heights of the steps."""
    if len(tops) == 1:
        return [tops[0], tops[0]]
    middles = [(a + b) / 2 for a, b in pairwise(tops)]
    start = max(0.0, tops[0] - (middles[0] - tops[0]))
    return [start, *middles, tops[-1] + (tops[-1] - middles[-1])]


def _passes(
    shoulder: Shoulder, columns: int, begins: Edge, first_row: int, parts: AbstractSet[int]
) -> tuple[list[Pass], list[TurningPoint]]:
    """Return what each row does, and its turns, from working one row more each time.

    Columns that leave the needle together are told apart at the places `parts`.
    """
    rows, first_side = shoulder.new_rows, shoulder.first_side
    passes: list[Pass] = []
    turns: list[TurningPoint] = []
    before = _columns(knit(columns, (), begins))
    number = -1
    for index, row in enumerate(rows):
        fabric = knit(columns, rows[: index + 1], begins)
        after = _columns(fabric)
        toward: Edge = "left" if side_of(number, first_side or "RS") == "RS" else "right"
        grown = [i for i in range(columns) if after[i][0] > before[i][0]]
        worked = (grown[0], grown[-1] + 1 - grown[0]) if grown else None
        off = tuple(_taken_off(before, after, parts))
        behind = dict(fabric.turned).get(index, 0)
        unworked: Stretch | None = None
        if number >= first_row and (worked or off):
            label, side = number - first_row + 1, side_of(number, first_side)
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


def _level(
    after: Sequence[tuple[int, Fate]],
    toward: Edge,
    worked: Stretch | None,
    off: Sequence[tuple[Stretch, Fate]],
) -> int:
    if worked is not None:
        return after[worked[0] if toward == "left" else sum(worked) - 1][0]
    return max(after[i][0] for (first, n), _ in off for i in range(first, first + n)) + 1


def _columns(fabric: Fabric) -> list[tuple[int, Fate]]:
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


def _markers(
    shoulder: Shoulder, steps: Sequence[Step], columns: int, notes: Sequence[str]
) -> tuple[Marker, ...]:
    """Return the markers that the words of the rows and notes tell of."""
    words = [row.words.casefold() for row in shoulder.rows if row.does == "turn"]
    if not any("(marker)" in w for w in words):
        return ()
    second = any(c in note.casefold() for note in notes for c in ("second colour", "second color"))
    inner = {e: _reach(steps, e)[1 if e == "right" else 0] for e in {s.edge for s in steps}}
    out = []
    for step in steps:
        place = sum(step.columns) if step.edge == "right" else step.columns[0]
        boundary = place == inner[step.edge]
        if 0 < place < columns and (second or not boundary):
            out.append(Marker(place, boundary))
    return tuple(out)


def _reach(steps: Sequence[Step], edge: Edge) -> tuple[int, int]:
    """Return the places between which the steps of an edge lie."""
    own = [s.columns for s in steps if s.edge == edge]
    return own[0][0], sum(own[-1])
