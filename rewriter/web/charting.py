"""The chart of one size in the page, and as a file."""

from __future__ import annotations

import re
from html import escape

from rewriter.castonmodel import CastOnShaping
from rewriter.charts.draw import Drawing, draw
from rewriter.charts.file import charts_of, file_of
from rewriter.charts.style import DARK, LIGHT
from rewriter.pipeline import Rework

CHART_CSS = LIGHT + DARK
"""The chart's style sheet, which the page links: its policy allows no style within the picture."""
_STYLE = re.compile(r"<style>.*?</style>", re.S)


def can_be_drawn(work: Rework) -> bool:
    """Say whether there is anything to draw: shoulders that are cast on are not drawn."""
    return any(not isinstance(r.shaping, CastOnShaping) for r in work.revisions)


def _drawing(work: Rework, size: int, embedded: bool) -> Drawing | None:
    charts = charts_of(work, size)
    if not charts:
        return None
    label = work.draft.sizes.labels[size]
    return draw(charts, label, work.report.terms, embedded=embedded)


def chart_section(work: Rework, size: int, picked: bool) -> str:
    """Return the section of the chart of a size (counted from 0) as HTML; "" where nothing can be drawn.

    The picture comes in an answer of its own, `chart_picture`: the words need not wait for it. `picked`
    says whether the reader picked the size, or it is the first of several.
    """
    if not can_be_drawn(work):
        return ""
    hint = (
        ""
        if picked
        else f"<span>Size {escape(work.draft.sizes.labels[size])}"
        '<span class="on-screen">; pick another above, and it is drawn instead</span>.</span>'
    )
    return (
        '<section class="chart" aria-labelledby="drawn-title"><h2 id="drawn-title">Chart</h2>'
        f'<p class="help">{hint} <button type="button" data-download="chart">Download the chart</button></p>'
        '<p class="swipe help">The chart is wider than this screen: swipe it sideways to see the rest.</p>'
        '<div class="wide" id="picture" tabindex="0" role="group"'
        ' aria-label="The picture, wider than a small screen"></div></section>'
    )


def chart_picture(work: Rework, size: int) -> str:
    """Return the chart of a size as SVG for the page; "" where nothing can be drawn."""
    drawing = _drawing(work, size, embedded=True)
    return "" if drawing is None else _STYLE.sub("", drawing.svg)


def chart_file(work: Rework, size: int) -> bytes | None:
    """Return the chart of a size as SVG; None where nothing can be drawn."""
    drawing = _drawing(work, size, embedded=False)
    return None if drawing is None else file_of(drawing, "svg")
