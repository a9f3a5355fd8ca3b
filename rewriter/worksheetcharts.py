"""The charts of a worksheet: one panel for each piece whose rows it tells, a page of them in one picture."""

from __future__ import annotations

from rewriter.charts.draw import Drawing, draw
from rewriter.charts.file import ratio_of
from rewriter.charts.model import Chart, chart_of
from rewriter.gauge import read_gauges
from rewriter.pipeline import Rework
from rewriter.worksheetmodel import Worksheet

_TALLEST = 1.35
"""Height of a picture in its widths: what goes on a page, below a heading."""


def charts_of(sheet: Worksheet, work: Rework) -> list[str]:
    """Return the charts of a worksheet as SVG pictures, each with its legend.

    `work` is the garment's, whose gauge a practice swatch shares. A mirrored side has no chart: it is
    that of the first side, turned round.
    """
    gauges = read_gauges(work.draft.document)
    findings = {r.finding.id: r.finding for r in work.revisions}
    own = [p.shoulder for p in sheet.pieces if p.shoulder is not None and not p.mirrored]
    notes = {s.name: s.notes for s in reversed(own)}
    out: list[Drawing] = []
    group: list[Chart] = []
    for shoulder in own:
        finding = findings.get(shoulder.name, work.revisions[0].finding)
        chart = chart_of(shoulder, ratio_of(gauges, finding), notes[shoulder.name])
        drawn = _drawn(sheet, [*group, chart], len(out))
        if group and drawn.height > _TALLEST * drawn.width:
            group = []
        group.append(chart)
        if len(group) > 1:
            out.pop()
        out.append(_drawn(sheet, group, len(out)))
    return [drawn.svg for drawn in out]


def _drawn(sheet: Worksheet, charts: list[Chart], number: int) -> Drawing:
    size = sheet.size or "one size"
    return draw(charts, size, sheet.terms, embedded=True, ident=f"chart-{number + 1}")
