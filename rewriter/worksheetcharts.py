"""The charts of a worksheet: one under the rows of each piece, and one key to their signs for all."""

from __future__ import annotations

from dataclasses import dataclass

from rewriter.charts.draw import draw_bare, draw_key
from rewriter.charts.file import ratio_of
from rewriter.charts.model import Chart, chart_of
from rewriter.gauge import read_gauges
from rewriter.needlewhole import on_whole_needles
from rewriter.pipeline import Rework
from rewriter.worksheetmodel import Worksheet


@dataclass(frozen=True)
class Pictures:
    """SVG pictures of a worksheet."""

    pieces: tuple[tuple[str, ...], ...]
    """The charts of each piece of the sheet, in its order."""
    key: str
    """What the signs of all of them mean; empty where there is no chart."""


NO_PICTURES = Pictures((), "")


def charts_of(sheet: Worksheet, work: Rework) -> Pictures:
    """Return the charts of a worksheet.

    `work` is the garment's, whose gauge a practice swatch shares. A mirrored side has no chart: it is
    that of the first side, turned round.
    """
    gauges = read_gauges(work.draft.document)
    findings = {r.finding.id: r.finding for r in work.revisions}
    notes: dict[str, tuple[str, ...]] = {}
    drawn: list[Chart] = []
    pieces: list[tuple[str, ...]] = []
    for piece in sheet.pieces:
        own = [s for s in (piece.shoulder, piece.other) if s is not None and not piece.mirrored]
        told = []
        for shoulder in on_whole_needles(own):
            finding = findings.get(shoulder.name, work.revisions[0].finding)
            said = notes.setdefault(shoulder.name, shoulder.notes)
            chart = chart_of(shoulder, ratio_of(gauges, finding), said)
            drawn.append(chart)
            ident = f"chart-{len(drawn)}"
            size = sheet.size or "one size"
            told.append("".join(d.svg for d in draw_bare(chart, size, sheet.terms, ident)))
        pieces.append(tuple(told))
    return Pictures(tuple(pieces), draw_key(drawn, sheet.terms).svg if drawn else "")
