"""The legend of a chart: a sample of each sign beside what it stands for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rewriter.charts.canvas import Canvas, hatching, wrapped
from rewriter.charts.model import Chart
from rewriter.charts.words import WORDS, Terms, ends, listed, scale

_SIZE = 11.0
_LINE = 14.0
_SAMPLE = 34.0


@dataclass(frozen=True)
class _Item:
    sample: Callable[[Canvas, float, float], None]
    words: str


def draw_legend(
    canvas: Canvas,
    charts: Sequence[Chart],
    terms: Terms,
    order: bool,
    x: float,
    y: float,
    width: float,
) -> float:
    """Draw the legend of charts from `y` down in two columns; return the y below it."""
    half = width / 2
    columns = [y, y]
    for item in _items(charts, terms, order):
        which = 0 if columns[0] <= columns[1] else 1
        left, top = x + which * half, columns[which]
        item.sample(canvas, left, top)
        for n, line in enumerate(wrapped(item.words, half - _SAMPLE - 20, _SIZE)):
            canvas.text("quiet", left + _SAMPLE, top + 3.8 + n * _LINE, line, _SIZE)
            columns[which] = top + n * _LINE + 18
    y = max(columns) + 8
    for line in wrapped(" ".join(_foot(charts, terms)), width, _SIZE):
        canvas.text("quiet", x, y, line, _SIZE)
        y += _LINE
    return y - _LINE


def _foot(charts: Sequence[Chart], terms: Terms) -> list[str]:
    out = ["Right side facing. Numbers at the sides count the rows, where each begins."]
    out.append("Heavier upright lines stand every 5 sts; level lines are rows.")
    for words in dict.fromkeys(scale(c, terms) for c in charts):
        out.append(words)
    return out


def _items(charts: Sequence[Chart], terms: Terms, order: bool) -> list[_Item]:
    own = next((c for c in charts if c.respaced), None)
    steps = f", in its own steps of {listed(own.own_steps[0].sts)} sts" if own else ""
    out = [
        _Item(_line("stepped"), f"stepped edge of the draft{steps}"),
        _Item(_line("sloped"), f"sloped edge in short rows: {ends(charts[0], terms)}"),
        _Item(_hatched, "where the two edges differ"),
    ]
    if any(c.turns for c in charts):
        sides = any(t.side for c in charts for t in c.turns)
        told = "the number of its row, and the side facing" if sides else "the number of its row"
        out.append(_Item(_turn, f"turn: {told}; “unworked” counts the sts left behind it"))
    markers = [m for c in charts for m in c.markers]
    if any(not m.boundary for m in markers):
        out.append(_Item(_marker(False), "removable marker, hung before the first row"))
    if any(m.boundary for m in markers):
        out.append(_Item(_marker(True), f"marker in a second {WORDS[terms].colour}"))
    if order:
        out.append(
            _Item(
                _arrow, "sts worked in a row; a bar at its end is the turn, dots are unworked sts"
            )
        )
        fates = {fate for c in charts for p in c.passes for _, fate in p.off}
        if "bound off" in fates:
            out.append(_Item(_bar("off"), f"sts {WORDS[terms].bound}"))
        if "held" in fates:
            out.append(_Item(_bar("held"), "sts put on a holder, or kept live"))
    return out


def _line(kind: str) -> Callable[[Canvas, float, float], None]:
    return lambda canvas, x, y: canvas.line(kind, x, y, x + 26, y)


def _hatched(canvas: Canvas, x: float, y: float) -> None:
    box = [(x, y - 6), (x + 26, y - 6), (x + 26, y + 6), (x, y + 6)]
    canvas.lines("hatch", hatching([box], 5))


def _turn(canvas: Canvas, x: float, y: float) -> None:
    canvas.line("leader", x + 9, y, x + 22, y)
    canvas.circle("flag", x + 6, y, 6)
    canvas.circle("turn", x + 22, y, 3)


def _marker(boundary: bool) -> Callable[[Canvas, float, float], None]:
    def sample(canvas: Canvas, x: float, y: float) -> None:
        canvas.circle("marker", x + 13, y, 4)
        if boundary:
            canvas.circle("second", x + 13, y, 1.6)

    return sample


def _arrow(canvas: Canvas, x: float, y: float) -> None:
    canvas.line("waiting", x + 16, y, x + 27, y)
    canvas.line("arrow", x, y, x + 15, y)
    canvas.path("tip", [(x + 15, y), (x + 9, y - 3.5), (x + 9, y + 3.5)], closed=True)
    canvas.line("stop", x + 15, y - 6, x + 15, y + 6)


def _bar(kind: str) -> Callable[[Canvas, float, float], None]:
    def sample(canvas: Canvas, x: float, y: float) -> None:
        box = [(x, y - 6), (x + 26, y - 6), (x + 26, y + 6), (x, y + 6)]
        if kind == "off":
            canvas.lines("hatch", hatching([box], 4))
        canvas.path(kind, box, closed=True)

    return sample
