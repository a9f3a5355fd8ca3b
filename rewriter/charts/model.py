"""What a chart of a shoulder shows, as plain data: columns, rows, edges, turns, markers, order.

Columns are numbered from the right-hand edge as seen with the right side facing; a place between
two columns is the number of columns to its right. Heights are rows above the row -1 of the draft
(`needlerows`). All is taken from working the rows of both texts over the needle.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate, pairwise

from rewriter.charts.passes import Pass, Stretch, TurningPoint, columns_of, work_rows
from rewriter.fabric import Fabric, knit
from rewriter.needlemodel import Half, Shoulder
from rewriter.rows import (
    OTHER_SIDE,
    Edge,
    Side,
    edge_of_beginning,
)
from rewriter.stitchwork import Fabric as Stitchwork
from rewriter.twin import Steps

Point = tuple[int, float]
"""A place between columns, and a height in rows."""


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
class Marker:
    """A marker between two columns."""

    place: int
    boundary: bool
    """It parts the shoulder from the sts beside it, and has the second colour."""


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
    gap: Stretch | None
    """Columns where nothing hangs: the neck between two sides that are in work at once. Its width is not
    to scale, for the sts were taken off long before."""
    beside_is_neck: bool
    stepped: tuple[Point, ...]
    """The draft's edge, from the right-hand end to the left-hand one."""
    sloped: tuple[Point, ...]
    """The edge of the short rows, likewise."""
    own_steps: tuple[Steps, ...]
    """The draft's own steps."""
    gained: tuple[tuple[Edge | None, tuple[int, ...]], ...]
    """For each edge the rows that its columns gain against the draft, and for None those of the columns
    beside them; empty where the sts are spread otherwise than the draft's."""
    turns: tuple[TurningPoint, ...]
    """In the order of working."""
    markers: tuple[Marker, ...]
    passes: tuple[Pass, ...]
    shared: int
    """The number of the last row that is worked over both sides of a neck; 0 where there is none."""
    two_balls: bool
    """Both sides of the neck are in work at once, each with a ball of its own."""
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
        counts = [self.counted(columns) for columns in told.parts]
        known = [n for n in counts if n is not None]
        return None if not told.parts or shared or len(known) < len(counts) else sum(known)

    def counted(self, columns: Stretch) -> int | None:
        """Return how many sts some columns are; None where sts that are not known are among them."""
        beside = self.beside
        if self.gap is not None:
            return columns[1] - _shared(columns, self.gap)
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
    known = shoulder.neck is not None and not shoulder.apart
    spare = (shoulder.neck or 0) if known else max(6, own // 3)
    columns = own + spare
    first = shoulder.first_side or "RS"
    begins = edge_of_beginning(OTHER_SIDE[first])
    drafted = knit(columns, shoulder.drafted_rows, begins)
    worked = knit(columns, shoulder.new_rows, begins)
    first_row = 0 if shoulder.new_rows[0].span is None else -1
    label = first_row + 1 - shoulder.label  # the number of what sheets and the text call row 1
    steps = _steps(shoulder.edges, columns)
    parts = {place for s in shoulder.edges for place in _reach(steps, s.edge)}
    passes, turns = work_rows(shoulder, columns, begins, first_row, parts)
    neck_shaped = any(row.off_at_neck for row in shoulder.draft_rows)
    taken = sum(s.columns[1] for s in steps)
    low = sum(s.columns[1] for s in steps if s.edge == "right")
    between = (low, columns - taken) if columns > taken else None
    beside, gap = (None, between) if shoulder.apart else (between, None)
    return Chart(
        name=shoulder.name,
        piece=shoulder.piece,
        half=shoulder.half,
        stitches=shoulder.stitches,
        columns=columns,
        first_side=shoulder.first_side,
        ratio=ratio,
        steps=steps,
        beside=beside,
        gap=gap,
        beside_is_neck=len(shoulder.edges) == 2 or neck_shaped,
        stepped=_stepped(drafted, gap),
        sloped=_sloped(worked, steps, gap),
        own_steps=shoulder.drafted_edges,
        gained=_gained(drafted, worked, steps, beside)
        if shoulder.drafted_edges == shoulder.edges
        else (),
        turns=tuple(turns),
        markers=_markers(shoulder, steps, columns, shoulder.notes if notes is None else notes),
        passes=tuple(_outside(p, gap) for p in passes) if gap else tuple(passes),
        shared=shoulder.divides + shoulder.label - 1 if shoulder.divides else 0,
        two_balls=shoulder.at_once,
        first_row=label,
    )


def _gained(
    drafted: Fabric, worked: Fabric, steps: Sequence[Step], beside: Stretch | None
) -> tuple[tuple[Edge | None, tuple[int, ...]], ...]:
    parts: dict[Edge | None, list[Stretch]] = {}
    for step in steps:
        parts.setdefault(step.edge, []).append(step.columns)
    if beside is not None:
        parts[None] = [beside]
    before, after = columns_of(drafted), columns_of(worked)
    return tuple(
        (
            part,
            tuple(after[i][0] - before[i][0] for columns in told for i in range(*_ends(columns))),
        )
        for part, told in parts.items()
    )


def _outside(told: Pass, gap: Stretch) -> Pass:
    """Return a row without the columns of a gap that it begins, ends, or does nothing but lie in."""
    off = tuple((columns, fate) for columns, fate in told.off if columns != gap)
    if told.worked is None:
        return replace(told, off=off)
    low, high = told.worked[0], sum(told.worked)
    low = sum(gap) if gap[0] <= low < sum(gap) else low
    high = gap[0] if gap[0] < high <= sum(gap) else high
    beside = ((0, gap[0]), (sum(gap), high))
    parts = [
        (max(low, a), min(high, b) - max(low, a)) for a, b in beside if max(low, a) < min(high, b)
    ]
    worked = (low, high - low) if low < high else None
    return replace(told, off=off, worked=worked, parts=tuple(parts))


def _shared(one: Stretch, two: Stretch) -> int:
    """Return how many columns two stretches share."""
    return max(0, min(sum(one), sum(two)) - max(one[0], two[0]))


def _ends(columns: Stretch) -> tuple[int, int]:
    return columns[0], sum(columns)


def _steps(edges: Sequence[Steps], columns: int) -> tuple[Step, ...]:
    out: list[Step] = []
    for steps in edges:
        ends = list(accumulate(steps.sts))
        for number, (n, end) in enumerate(zip(steps.sts, ends, strict=True), start=1):
            low = end - n if steps.edge == "right" else columns - end
            out.append(Step(steps.edge, number, (low, n)))
    return tuple(sorted(out, key=lambda s: s.columns))


def _stepped(fabric: Fabric, gap: Stretch | None) -> tuple[Point, ...]:
    out: list[Point] = []
    at = 0
    for count, height in fabric.heights() if gap is None else _heights_beside(fabric, gap):
        out += [(at, height), (at + count, height)]
        at += count
    return tuple(out)


def _heights_beside(fabric: Fabric, gap: Stretch) -> list[tuple[int, int]]:
    """Return (stitches, rows) from the right-hand edge inward, the gap as having no rows."""
    end = sum(gap)
    columns = sum(run.count for run in fabric.runs)
    told = [(n, height) for n, height, _ in fabric.at(0, gap[0])]
    told.append((gap[1], 0))
    return told + [(n, height) for n, height, _ in fabric.at(end, columns - end)]


def _sloped(fabric: Fabric, steps: Sequence[Step], gap: Stretch | None = None) -> tuple[Point, ...]:
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
                level = 0 if gap is not None and gap[0] <= at < sum(gap) else height
                out += [(at, level), (at + n, level)]
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
