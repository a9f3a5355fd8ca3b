"""Charts of a draft: which pieces are drawn, and the picture as a file."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from rewriter.charts.draw import Drawing
from rewriter.charts.model import Chart, Ratio, assumed_ratio, chart_of
from rewriter.gauge import Gauges, in_figures, read_gauges
from rewriter.needlerows import shoulders
from rewriter.needlewhole import on_whole_needles
from rewriter.pipeline import Rework
from rewriter.reading import Finding

Format = Literal["svg", "png", "pdf"]
FORMATS: tuple[Format, ...] = ("svg", "png", "pdf")


class NotDrawn(Exception):
    """A chart cannot be made; the message says why, and what to do."""


# Rows from a third as tall as sts are wide to somewhat taller than that (common practice).
_BELIEVABLE = (Fraction(1, 3), Fraction(5, 4))


def ratio_of(gauges: Gauges, finding: Finding) -> Ratio:
    """Return the height of a row in widths of a stitch, by the gauge that holds for a passage.

    A usual one is assumed where the draft gives none, or one that no fabric has.
    """
    gauge = gauges.for_fabric(finding.fabric)
    if gauge is not None and gauge.sts and gauge.rows and gauge.ratio:
        value = 1 / gauge.ratio
        if _BELIEVABLE[0] <= value <= _BELIEVABLE[1]:
            same = (gauge.sts.length, gauge.sts.unit) == (gauge.rows.length, gauge.rows.unit)
            told = f"{in_figures(gauge.sts.count)} sts" if same else gauge.sts.words("sts")
            return Ratio(value, f"{told} and {gauge.rows.words('rows')}", False)
    return assumed_ratio(finding.fabric)


def charts_of(work: Rework, size: int) -> tuple[Chart, ...]:
    """Return the charts of all rewritten pieces of one size, in text order."""
    gauges = read_gauges(work.draft.document)
    findings = {r.finding.id: r.finding for r in work.revisions}
    found = on_whole_needles(shoulders(work, size))
    notes = {s.name: s.notes for s in reversed(found)}  # the first side's where there are two
    return tuple(chart_of(s, ratio_of(gauges, findings[s.name]), notes[s.name]) for s in found)


def pieces(charts: Sequence[Chart]) -> tuple[str, ...]:
    """Return the names by which pieces are asked for: back, left-front."""
    return tuple(dict.fromkeys(_name(c) for c in charts))


def _name(chart: Chart) -> str:
    return chart.piece.replace(" ", "-")


def chosen(charts: Sequence[Chart], piece: str | None, why_none: str) -> tuple[Chart, ...]:
    """Return the charts of one piece, the first where None is named, or all of them for "all".

    Raises NotDrawn where there is none; `why_none` says why nothing was rewritten.
    """
    if not charts:
        raise NotDrawn(f"there is nothing to draw: {why_none}")
    if piece == "all":
        return tuple(charts)
    wanted = piece.casefold().replace(" ", "-") if piece is not None else pieces(charts)[0]
    found = tuple(c for c in charts if _name(c) == wanted)
    if not found:
        raise NotDrawn(
            f"--piece {piece}: no such piece was rewritten; there are {', '.join(pieces(charts))}, or all"
        )
    return found


def file_of(drawing: Drawing, kind: Format) -> bytes:
    """Return a picture as the bytes of a file; raises NotDrawn where what it takes is not installed."""
    if kind == "svg":
        return ('<?xml version="1.0" encoding="UTF-8"?>\n' + drawing.svg).encode("utf-8")
    try:
        if kind == "png":
            from resvg_py import svg_to_bytes

            # three dots a unit: sharp on paper at the width of a page
            return bytes(svg_to_bytes(svg_string=drawing.svg, width=int(3 * drawing.width)))
        from cairosvg import svg2pdf

        return bytes(svg2pdf(bytestring=drawing.svg.encode("utf-8")))
    except (ImportError, OSError):  # OSError: the system's drawing library is missing
        raise NotDrawn(
            f"a {kind.upper()} needs what `pip install 'slopewise[chart]'` installs; "
            "an SVG file (-o NAME.svg) needs nothing more"
        ) from None
