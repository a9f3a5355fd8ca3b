"""Draw charts of shoulders as SVG: the stepped edge and the sloped one, true to the gauge.

Every picture is dark on light by itself; one that is embedded in a page takes its colours from the
page's scheme. Nothing is told by colour alone.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass

from rewriter.charts.canvas import SVG, Box, Canvas, number, wrapped
from rewriter.charts.legend import draw_legend
from rewriter.charts.model import Chart
from rewriter.charts.order import draw_order
from rewriter.charts.style import DARK, LIGHT
from rewriter.charts.view import MARGIN, WIDTH, View
from rewriter.charts.words import Terms, description, headings, notes, on_needle, part_words, scale
from rewriter.rows import Edge

_LEAST_A_ROW = 3.5
"""Where rows would be lower, each shoulder is drawn a second time, larger."""
_LARGER = 1.2
"""Pixels a unit of a picture by itself: as wide as the text of a page."""


@dataclass(frozen=True)
class Drawing:
    """A finished picture."""

    svg: str
    width: float
    height: float
    boxes: tuple[Box, ...]
    """The room of every piece of text."""


def draw(
    charts: Sequence[Chart],
    size: str,
    terms: Terms,
    *,
    order: bool = False,
    embedded: bool = False,
) -> Drawing:
    """Return one picture of charts, below one another; there is at least one.

    `order` adds the order of working. `embedded` leaves the ground to a page and follows its dark or
    light scheme.
    """
    canvas = Canvas()
    y = MARGIN
    titles = headings(charts, size)
    for index, (chart, title) in enumerate(zip(charts, titles, strict=True)):
        y = _whole(canvas, chart, title, y + (28 if index else 0))
        for edge in _drawn_larger(chart):
            y = _larger(canvas, chart, edge, y + 34)
        if order:
            y = draw_order(canvas, chart, terms, y + 30)
    canvas.line("grid", MARGIN, y + 12, WIDTH - MARGIN, y + 12)
    y = draw_legend(canvas, charts, terms, order, MARGIN, y + 26, WIDTH - 2 * MARGIN)
    told = [description(c, title, terms) for c, title in zip(charts, titles, strict=True)]
    told += dict.fromkeys(scale(c, terms) for c in charts)
    said = f"Chart of the shaping: {'; '.join(titles)}", " ".join(told)
    return _finished(canvas, y + MARGIN, said, embedded, "chart")


def draw_bare(chart: Chart, size: str, terms: Terms, ident: str) -> tuple[Drawing, ...]:
    """Return a chart for a page that has its title and the key: the whole, and what is drawn larger.

    They are pictures by themselves, between which a page may end; `ident` tells them from those of
    other charts.
    """
    (title,) = headings([chart], size)
    canvas = Canvas()
    y = _whole(canvas, chart, "", 0.0)
    told = " ".join((description(chart, title, terms), scale(chart, terms)))
    out = [_finished(canvas, y + 2, (f"Chart of the shaping: {title}", told), True, ident)]
    for place, edge in enumerate(_drawn_larger(chart), 2):
        canvas = Canvas()
        y = _larger(canvas, chart, edge, 14.0)
        said = f"{title}: the {part_words(chart, edge)}, larger", "A part of the chart before it."
        out.append(_finished(canvas, y + 2, said, True, f"{ident}-{place}"))
    return tuple(out)


def draw_key(charts: Sequence[Chart], terms: Terms) -> Drawing:
    """Return what the signs of bare charts mean, as a picture for a page."""
    canvas = Canvas()
    y = draw_legend(canvas, charts, terms, False, 0, 10, WIDTH)
    said = "Key to the charts", "What the lines and signs of the charts mean."
    return _finished(canvas, y + 2, said, True, "chart-key")


def _finished(
    canvas: Canvas, height: float, said: tuple[str, str], embedded: bool, ident: str
) -> Drawing:
    """Return a canvas as a picture with its title and description."""
    root = ET.Element(
        "svg",
        {
            "xmlns": SVG,
            "viewBox": f"0 0 {number(WIDTH)} {number(height)}",
            "role": "img",
            "aria-labelledby": f"{ident}-title {ident}-desc",
            "class": "slope-chart",
        },
    )
    if not embedded:
        root.set("width", number(_LARGER * WIDTH))
        root.set("height", number(_LARGER * height))
    for tag, words in zip(("title", "desc"), said, strict=True):
        ET.SubElement(root, tag, {"id": f"{ident}-{tag}"}).text = words
    ET.SubElement(root, "style").text = LIGHT + (DARK if embedded else "")
    if not embedded:
        ET.SubElement(root, "rect", {"class": "paper", "width": "100%", "height": "100%"})
    root.extend(canvas.root)
    ET.indent(root, " ")
    return Drawing(ET.tostring(root, encoding="unicode") + "\n", WIDTH, height, tuple(canvas.boxes))


def _whole(canvas: Canvas, chart: Chart, title: str, y: float) -> float:
    """Draw a whole chart under its title, if it has one, from `y` down; return the y below it."""
    told = notes(chart)
    if title:
        y += 14
        canvas.text("title", MARGIN, y, title, 17)
        told = [*on_needle(chart), *told]
    for line in wrapped(" ".join(told), WIDTH - 2 * MARGIN, 11.5) if told else ():
        y += 16
        canvas.text("quiet", MARGIN, y, line, 11.5)
    whole = View(canvas, chart, 0, chart.columns)
    return whole.draw_small(y + 18) if _drawn_larger(chart) else whole.draw(y)


def _drawn_larger(chart: Chart) -> Sequence[Edge]:
    """Return the edges that are drawn once more, since the rows of the whole are too low to be told."""
    whole = View(Canvas(), chart, 0, chart.columns)
    return () if whole.row >= _LEAST_A_ROW or len(chart.edges) < 2 else chart.edges


def _larger(canvas: Canvas, chart: Chart, edge: Edge, y: float) -> float:
    """Draw the part of a chart at one edge, `y` being the baseline of its head; return the y below it."""
    low, high = chart.reach(edge)
    more = max(3, (high - low) // 12)
    canvas.text("head", MARGIN, y, f"The {part_words(chart, edge)}, larger", 11.5)
    part = View(canvas, chart, max(0, low - more), min(chart.columns, high + more))
    return part.draw(y + 4)
