"""Draw the fabric of a chart between two places: grid, both edges, turns, markers, counts, row numbers."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby, pairwise

from rewriter.charts.canvas import Canvas, hatching, spread, text_width
from rewriter.charts.model import Chart, Point, Step
from rewriter.charts.passes import Pass, Stretch, TurningPoint
from rewriter.charts.words import beside_words

WIDTH = 630.0
"""Width of every picture, in units of which a line of text takes about 15.

Set to the width of a printed page, its smallest type, of 10 units, is 8 points high.
"""
MARGIN = 16.0
GAP = 10.0
"""Between the fabric and the words at its sides."""
LABEL = 11.0
SMALLEST = 10.0
"""Size of the smallest type."""
_GUTTER = 74.0
_MOST_A_STITCH = 18.0
_LABEL_PITCH = 13.0
_FLAG = 9.0
_FLAG_PITCH = 22.0
_NO_FABRIC = -1.0
"""Height of columns that are not there."""


class View:
    """The columns of a chart between two places, at the scale at which they fill the picture."""

    def __init__(self, canvas: Canvas, chart: Chart, low: int, high: int) -> None:
        self.canvas, self.chart, self.low, self.high = canvas, chart, low, high
        self.st = min(_MOST_A_STITCH, (WIDTH - 2 * _GUTTER) / (high - low))
        """Width of a stitch."""
        self.row = self.st * float(chart.ratio.value)
        """Height of a row."""
        self.left = (WIDTH - self.st * (high - low)) / 2
        self.right = WIDTH - self.left
        self.base = self.foot = 0.0
        """The y of height 0, and the one at which the fabric below is cut."""

    def x(self, place: float) -> float:
        """Return the x of a place between columns."""
        return self.right - (place - self.low) * self.st

    def at(self, height: float) -> float:
        """Return the y of a height in rows."""
        return self.base - height * self.row

    def draw(self, y: float) -> float:
        """Draw all that is said of these columns from `y` down; return the y below it."""
        flags = y + 36
        self._stand(flags + _FLAG + (26 if self._turns_here() else 0))
        # where the flags reach over the sides, the numbers of rows begin below them
        labels = self._row_labels(flags + _FLAG + 2 if self._flags_over() else flags - _FLAG)
        self._fabric(grid=True)
        self._turns(flags)
        self._markers()
        return self._counts(max(self.foot, labels) + 4)

    def draw_small(self, y: float) -> float:
        """Draw the edges and the counts of whole parts alone; return the y below them."""
        self._stand(y)
        self._fabric(grid=False)
        return self._brackets(self.foot + 12)

    def _stand(self, top: float) -> None:
        self.base = top + self.chart.top * self.row
        self.foot = self.base + min(26.0, max(12.0, 2.5 * self.row))

    def _pieces(self) -> list[tuple[int, int]]:
        """Return the places between which there is fabric: two lots where a gap parts it."""
        gap = self.chart.gap
        if gap is None:
            return [(self.low, self.high)]
        told = ((self.low, min(self.high, gap[0])), (max(self.low, sum(gap)), self.high))
        return [(low, high) for low, high in told if low < high]

    def _line(self, edge: Sequence[Point], low: int, high: int) -> list[tuple[float, float]]:
        """Return the part of an edge between two places, on the canvas."""
        told: list[Point] = []
        for a, b in pairwise(edge):
            drops = any(self._at_gap(p) for p in (low, high) if a[0] >= high or b[0] <= low)
            if b[0] < low or a[0] > high or drops:
                continue
            for end in (a, b):
                place = min(max(end[0], low), high)
                share = (place - a[0]) / (b[0] - a[0]) if b[0] > a[0] else None
                told.append((place, end[1] if share is None else a[1] + (b[1] - a[1]) * share))
        return [(self.x(place), self.at(height)) for (place, height), _ in groupby(told)]

    def _at_gap(self, place: int) -> bool:
        """Say whether a place is an edge of the gap, where both edges drop."""
        gap = self.chart.gap
        return gap is not None and place in (gap[0], sum(gap))

    def _outline(self, edge: Sequence[Point], low: int, high: int) -> list[tuple[float, float]]:
        points = self._line(edge, low, high)
        return [(points[0][0], self.foot), *points, (points[-1][0], self.foot)]

    def _fabric(self, grid: bool) -> None:
        chart, canvas = self.chart, self.canvas
        pieces = self._pieces()
        for piece in pieces:
            canvas.path("fabric", self._outline(chart.stepped, *piece), closed=True)
        if grid:
            self._grid()
        for low, high in pieces:
            outlines = [self._outline(edge, low, high) for edge in (chart.stepped, chart.sloped)]
            canvas.lines("hatch", hatching(outlines, 5))
            for kind, line in zip(("stepped", "sloped"), outlines, strict=True):
                begin = 0 if low == 0 or self._at_gap(low) else 1
                stop = len(line) if high == chart.columns or self._at_gap(high) else -1
                canvas.path(kind if grid else f"{kind} thin", line[begin:stop])
        if chart.beside is not None and chart.stitches is None:
            self._break(sum(chart.beside) - chart.beside[1] / 2)

    def _break(self, place: float) -> None:
        """Cut the piece open where its width is not to scale."""
        x, top, foot = self.x(place), self.at(self.chart.top) - 6, self.foot + 4
        strip = [(x - 1, top), (x + 7, top), (x + 1, foot), (x - 7, foot)]
        self.canvas.path("paper", strip, closed=True)
        self.canvas.lines("bracket", [(x - 1, top, x - 7, foot), (x + 7, top, x + 1, foot)])

    def _grid(self) -> None:
        """Draw columns by fives and, where there is room, every stitch and every row."""
        st = self.st
        heights = self._column_heights()
        bold = 5 if 5 * st >= 9 else 10
        inside = [p for p in range(self.low + 1, self.high) if max(heights[p - 1], heights[p]) >= 0]
        fine = [p for p in inside if p % bold] if st >= 9 else []
        for kind, places in (("fine", fine), ("grid", [p for p in inside if p % bold == 0])):
            self.canvas.lines(
                kind,
                [
                    (self.x(p), self.foot, self.x(p), self.at(max(heights[p - 1], heights[p])))
                    for p in places
                ],
            )
        if self.row < 3:
            return
        told = []
        for level in range(int(max(heights)) + 1):
            at = self.low
            reached = [h >= level for h in heights[self.low : self.high]]
            for reaches, group in groupby(reached):
                count = len(list(group))
                if reaches:
                    told.append((self.x(at), self.at(level), self.x(at + count), self.at(level)))
                at += count
        self.canvas.lines("grid" if st < 9 else "fine", told)

    def _column_heights(self) -> list[float]:
        out: list[float] = []
        for a, b in zip(self.chart.stepped[::2], self.chart.stepped[1::2], strict=True):
            out += [a[1]] * (b[0] - a[0])
        if self.chart.gap is not None:
            first, count = self.chart.gap
            out[first : first + count] = [_NO_FABRIC] * count
        return out

    def _turns_here(self) -> list[TurningPoint]:
        return [t for t in self.chart.turns if self.low < t.place < self.high]

    def _flags_over(self) -> float:
        """Return how far the flags of the turns reach over each side of the fabric."""
        return max(0.0, (len(self._turns_here()) * _FLAG_PITCH - self.right + self.left) / 2)

    def _turns(self, y: float) -> None:
        """Set the number and side of each turn's row above it, and a dot at the turn."""
        turns = sorted(self._turns_here(), key=lambda t: (self.x(t.place), -t.row))
        wanted = [self.x(t.place) for t in turns]
        over = self._flags_over()
        places = spread(wanted, [_FLAG_PITCH] * len(turns), self.left - over, self.right + over)
        for turn, x in zip(turns, places, strict=True):
            mine = self.x(turn.place)
            tops = [h for p, h in (*self.chart.stepped, *self.chart.sloped) if p == turn.place]
            leader = [(x, y + _FLAG), (x, y + _FLAG + 5), (mine, y + _FLAG + 16)]
            self.canvas.path("leader", [*leader, (mine, self.at(max(tops, default=turn.height)))])
        for turn, x in zip(turns, places, strict=True):
            self.canvas.circle("flag", x, y, _FLAG)
            self.canvas.text("label", x, y + 3.7, str(turn.row), 10.5, "middle")
            if turn.side:
                self.canvas.text("quiet", x, y - _FLAG - 3, turn.side, SMALLEST, "middle")
            self.canvas.circle("turn", self.x(turn.place), self.at(turn.height), 3)

    def _markers(self) -> None:
        for marker in self.chart.markers:
            if not self.low < marker.place < self.high:
                continue
            x = self.x(marker.place)
            self.canvas.circle("marker", x, self.foot, 4)
            if marker.boundary:
                self.canvas.circle("second", x, self.foot, 1.6)

    def _row_labels(self, top: float) -> float:
        """Number the rows at the side where each begins; return the y below the labels.

        Where rows are so low that numbers would stand by other rows than their own, some are left
        out: the first and the last row have theirs.
        """
        lowest = self.foot
        for toward, x, anchor, cut in (
            ("right", self.left - GAP, "end", self.high < self.chart.columns),
            ("left", self.right + GAP, "start", self.low > 0),
        ):
            if cut:
                continue
            own = [p for p in self.chart.passes if p.row and p.toward == toward]
            own.sort(key=lambda p: -p.row if p.row else 0)
            if not own:
                continue
            wanted, places = self._heights(own, top)
            if (
                max(abs(y - want) for y, want in zip(places, wanted, strict=True))
                > 0.75 * _LABEL_PITCH
            ):
                own = _apart(own, wanted)
                wanted, places = self._heights(own, top)
            side = own[0].side or "rows"
            head = f"{side} →" if toward == "right" else f"← {side}"
            self.canvas.text("quiet", x, places[0] - 12, head, SMALLEST, anchor)
            for told, y, want in zip(own, places, wanted, strict=True):
                self.canvas.text("label", x, y + 3.8, str(told.row), LABEL, anchor)
                self._lead(told, y, want)
            lowest = max(lowest, places[-1] + 8)
        return lowest

    def _heights(self, rows: Sequence[Pass], top: float) -> tuple[list[float], list[float]]:
        """Return where the numbers of rows would stand, the last row first, and where they can."""
        wanted = [self.at(p.level - 0.5) for p in rows]
        for i in range(len(wanted) - 2, -1, -1):
            wanted[i] = min(wanted[i], wanted[i + 1])
        reach = top + _LABEL_PITCH
        return wanted, spread(wanted, [_LABEL_PITCH] * len(rows), reach, max(self.foot, reach))

    def _lead(self, told: Pass, y: float, level: float) -> None:
        """Lead from the number of a row to the place where the row begins."""
        if told.worked is None or told.rejoins:
            return
        rightward = told.toward == "right"
        begins = self.x(sum(told.worked) if rightward else told.worked[0])
        side, out = (self.left, -1) if rightward else (self.right, 1)
        lead = [(side + out * (GAP - 3), y), (side + out, level)]
        if abs(y - level) > 3 or abs(begins - side) > 1:
            self.canvas.path("lead", [*lead, (begins, level)])

    def _steps_here(self) -> list[Step]:
        return [
            s for s in self.chart.steps if self.low <= s.columns[0] and sum(s.columns) <= self.high
        ]

    def _counts(self, y: float) -> float:
        """Write the sts of each step, those unworked at each turn, and those of each part."""
        canvas, steps, turns = self.canvas, self._steps_here(), self._turns_here()
        for place in sorted({p for s in steps for p in (s.columns[0], sum(s.columns))}):
            canvas.line("tick", self.x(place), self.foot, self.x(place), y + 16)
        y += 13
        first = self._centred(y, [(s.columns, str(s.columns[1])) for s in steps], 12, "label")
        canvas.text("quiet", min(self.left - GAP, first), y, "steps", SMALLEST, "end")
        if turns:
            y += 16
            unworked = {t.place: t.unworked for t in turns}
            told = [((p, 0), str(n)) for p, n in unworked.items()]
            first = self._centred(y, told, SMALLEST, "quiet")
            canvas.text("quiet", min(self.left - GAP, first), y, "unworked", SMALLEST, "end")
        return self._brackets(y + 10)

    def _brackets(self, y: float) -> float:
        """Write the sts of each part that is looked at, under a bracket."""
        parts = [p for p in self._parts() if self.low <= p[0][0] and sum(p[0]) <= self.high]
        for (first, count), _ in parts:
            a, b = self.x(first + count) + 1.5, self.x(first) - 1.5
            self.canvas.path("bracket", [(a, y - 3), (a, y), (b, y), (b, y - 3)])
        self._centred(y + 14, parts, 11.5, "label")
        return y + 18

    def _parts(self) -> list[tuple[Stretch, str]]:
        chart = self.chart
        parts: list[tuple[Stretch, str]] = []
        for edge in chart.edges:
            low, high = chart.reach(edge)
            parts.append(((low, high - low), f"{chart.kind} {high - low}"))
        if chart.beside is not None:
            count = f" {chart.beside[1]}" if chart.stitches is not None else ""
            parts.append((chart.beside, beside_words(chart) + count))
        if chart.gap is not None:
            parts.append((chart.gap, "neck, taken off before"))
        return parts

    def _centred(
        self, y: float, told: Sequence[tuple[Stretch, str]], size: float, kind: str
    ) -> float:
        """Write words below the middle of their columns, moved apart where they would touch.

        Returns the x before the first of them.
        """
        ordered = sorted(told, key=lambda t: -t[0][0] - t[0][1] / 2)
        wanted = [self.x(first + count / 2) for (first, count), _ in ordered]
        sizes = [text_width(words, size) + 4 for _, words in ordered]
        places = spread(wanted, sizes, _GUTTER, WIDTH - MARGIN)
        for (_, words), x in zip(ordered, places, strict=True):
            self.canvas.text(kind, x, y, words, size, "middle")
        return min((x - s / 2 for x, s in zip(places, sizes, strict=True)), default=WIDTH) - 4


def _apart(rows: Sequence[Pass], heights: Sequence[float]) -> list[Pass]:
    """Return the rows, the last one first, whose numbers can stand at their own heights (y downward)."""
    kept: list[int] = []
    for i in range(len(rows) - 1, -1, -1):
        if not kept or heights[kept[-1]] - heights[i] >= _LABEL_PITCH:
            kept.append(i)
    if kept and kept[-1] != 0:
        kept[-1 if len(kept) > 1 else len(kept) :] = [0]
    return [rows[i] for i in reversed(kept)]
