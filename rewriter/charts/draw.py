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

_LEAST_A_ROW = 4.5
"""Where rows would be lower, each shoulder is drawn a second time, larger."""


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
    ident: str = "chart",
) -> Drawing:
    """Return one picture of charts, below one another; there is at least one.

    `order` adds the order of working. `embedded` leaves the ground to a page and follows its dark or
    light scheme; `ident` then tells several pictures of one page apart.
    """
    canvas = Canvas()
    y = MARGIN
    titles = headings(charts, size)
    for index, (chart, title) in enumerate(zip(charts, titles, strict=True)):
        y = _panel(canvas, chart, title, y + (28 if index else 0))
        if order:
            y = draw_order(canvas, chart, terms, y + 30)
    y = draw_legend(canvas, charts, terms, order, MARGIN, y + 26, WIDTH - 2 * MARGIN)
    height = y + MARGIN
    told = [description(c, title, terms) for c, title in zip(charts, titles, strict=True)]
    told += dict.fromkeys(scale(c, terms) for c in charts)
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
        root.set("width", number(WIDTH))
        root.set("height", number(height))
    ET.SubElement(
        root, "title", {"id": f"{ident}-title"}
    ).text = f"Chart of the shaping: {'; '.join(titles)}"
    ET.SubElement(root, "desc", {"id": f"{ident}-desc"}).text = " ".join(told)
    ET.SubElement(root, "style").text = LIGHT + (DARK if embedded else "")
    if not embedded:
        ET.SubElement(root, "rect", {"class": "paper", "width": "100%", "height": "100%"})
    root.extend(canvas.root)
    ET.indent(root, " ")
    return Drawing(ET.tostring(root, encoding="unicode") + "\n", WIDTH, height, tuple(canvas.boxes))


def _panel(canvas: Canvas, chart: Chart, title: str, y: float) -> float:
    """Draw one chart under its title from `y` down; return the y below it."""
    y += 14
    canvas.text("title", MARGIN, y, title, 17)
    for line in wrapped(" ".join([*on_needle(chart), *notes(chart)]), WIDTH - 2 * MARGIN, 11.5):
        y += 16
        canvas.text("quiet", MARGIN, y, line, 11.5)
    whole = View(canvas, chart, 0, chart.columns)
    if whole.row >= _LEAST_A_ROW or len(chart.edges) < 2:
        return whole.draw(y)
    y = whole.draw_small(y + 18)
    for edge in chart.edges:
        low, high = chart.reach(edge)
        more = max(3, (high - low) // 12)
        y += 34
        canvas.text("head", MARGIN, y, f"The {part_words(chart, edge)}, larger", 11.5)
        part = View(canvas, chart, max(0, low - more), min(chart.columns, high + more))
        y = part.draw(y + 4)
    return y
