"""Draw the order of working: the rows of a chart one above another, each from where it begins."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.charts.canvas import Canvas, hatching, text_width
from rewriter.charts.model import Chart
from rewriter.charts.passes import Pass
from rewriter.charts.view import GAP, LABEL, MARGIN, View
from rewriter.charts.words import Terms, off_words

_PITCH = 19.0
_WORDS = 10.0


def draw_order(canvas: Canvas, chart: Chart, terms: Terms, y: float) -> float:
    """Draw every row as an arrow from `y` down, the first row lowest; return the y below them."""
    view = View(canvas, chart, 0, chart.columns)
    canvas.text("head", MARGIN, y, "Order of working, from the lowest line up", 11.5)
    bottom = y + 12 + _PITCH * len(chart.passes)
    for place in sorted({p for s in chart.steps for p in (s.columns[0], sum(s.columns))}):
        canvas.line("fine", view.x(place), y + 14, view.x(place), bottom + 2)
    for index, told in enumerate(chart.passes):
        _draw_pass(view, told, terms, bottom - _PITCH * (index + 0.5))
    return bottom


def _draw_pass(view: View, told: Pass, terms: Terms, y: float) -> None:
    canvas, rightward = view.canvas, told.toward == "right"
    if told.row is not None:
        label = f"{told.row} {told.side}" if told.side else str(told.row)
        x = view.left - GAP if rightward else view.right + GAP
        canvas.text("label", x, y + 3.8, label, LABEL, "end" if rightward else "start")
    _draw_off(view, told, terms, y)
    if told.unworked is not None:
        first, count = told.unworked
        canvas.line("waiting", view.x(first + count), y, view.x(first), y)
    if told.worked is None:
        return
    stop = view.x(told.worked[0] if rightward else sum(told.worked))
    back = stop - 6 if rightward else stop + 6
    parts = [(first, first + count) for first, count in told.parts]
    for low, high in parts:
        ends = (high, low) if rightward else (low, high)
        canvas.line("arrow", view.x(ends[0]), y, view.x(ends[1]), y)
    canvas.path("tip", [(stop, y), (back, y - 3.5), (back, y + 3.5)], closed=True)
    if told.unworked is not None:
        canvas.line("stop", stop, y - 6, stop, y + 6)
    worked = view.chart.worked(told)
    for low, high in parts:
        own = worked if len(parts) == 1 else high - low
        words = ["rejoin yarn"] if told.rejoins and not view.chart.two_balls else []
        words += [] if own is None else [str(own)]
        _on_line(canvas, view.x(high) + 6, view.x(low) - 6, y, (", ".join(words), *words[-1:]))


def _draw_off(view: View, told: Pass, terms: Terms, y: float) -> None:
    """Draw a bar for sts that leave the needle."""
    canvas = view.canvas
    for columns, fate in told.off:
        a, b = view.x(sum(columns)), view.x(columns[0])
        bar = [(a, y - 7), (b, y - 7), (b, y + 7), (a, y + 7)]
        if fate != "held":
            canvas.lines("hatch", hatching([bar], 4))
        canvas.path("held" if fate == "held" else "off", bar, closed=True)
        words = off_words(view.chart, columns, fate, terms)
        choices = [f"{words}, cut yarn"] if told.cut else []
        choices.append(words)
        if (count := view.chart.counted(columns)) is not None:
            choices.append(str(count))
        _on_line(canvas, a, b, y, choices)


def _on_line(canvas: Canvas, a: float, b: float, y: float, choices: Sequence[str]) -> None:
    """Write the first words that have room between two x on a ground of their own."""
    for words in choices:
        width = text_width(words, _WORDS) + 8
        if words and width <= b - a:
            x = (a + b) / 2
            canvas.rect("paper", x - width / 2, y - 6.5, width, 13)
            canvas.text("label", x, y + 3.6, words, _WORDS, "middle")
            return
