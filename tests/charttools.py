"""Charts of drafts and of shoulders written out step by step, for tests."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

from hypothesis import strategies as st

from rewriter.charts.draw import Drawing, draw
from rewriter.charts.file import charts_of, chosen
from rewriter.charts.model import Ratio
from rewriter.needlemodel import Shoulder
from rewriter.options import Options, Shoulders
from rewriter.pipeline import Rework
from rewriter.rows import PLAIN, WORK_ALL, Edge, Row, Side, bind_off
from rewriter.spans import Span
from rewriter.twin import Steps, keep_live_exact, keep_live_neck_held, twin
from tests.drafts import CORPUS, reworked

SVG = "{http://www.w3.org/2000/svg}"
RATIO = Ratio(Fraction(11, 15), "22 sts and 30 rows to 10 cm", False)
STEPS = st.lists(st.integers(1, 40), min_size=2, max_size=12)


def draft(name: str) -> Path:
    (path,) = [
        p for p in CORPUS.glob(f"*/{name}.*") if p.suffix in (".md", ".txt") and p.stem == name
    ]
    return path


@cache
def worked(name: str, shoulders: Shoulders = "sewn", respace: bool = False) -> Rework:
    path = draft(name)
    options = Options(shoulders=shoulders, respace=respace)
    return reworked(path, options)


def picture(name: str, size: int, piece: str | None = None, order: bool = False) -> Drawing:
    work = worked(name)
    charts = chosen(charts_of(work, size), piece, "")
    return draw(charts, work.draft.sizes.labels[size], work.report.terms, order=order)


def shoulder_of(
    right: list[int], left: list[int], neck: int | None, first: Side = "RS", live: str = ""
) -> Shoulder:
    """Write out a shoulder with steps every other row; `left` empty for one edge."""
    at: dict[Edge, int] = {"right": 0 if first == "RS" else 1, "left": 0 if first == "WS" else 1}
    sides: list[tuple[Edge, list[int]]] = [("right", right), ("left", left)]
    edges = [
        Steps(edge, tuple(range(at[edge], at[edge] + 2 * len(sts), 2)), tuple(sts))
        for edge, sts in sides
        if sts
    ]
    edges.sort(key=lambda s: s.rows[0])
    last = max(s.rows[-1] for s in edges)
    begins = {r: n for s in edges for r, n in zip(s.rows, s.sts, strict=True)}
    rows = [PLAIN]
    for number in range(last + 1):
        rows.append(Row((bind_off(begins[number]), WORK_ALL)) if number in begins else PLAIN)
    if neck == 0:
        rows[-1] = Row((bind_off(None),))
    new = twin(rows, edges)
    if live == "exact":
        new = keep_live_exact(new, edges, neck or 0, False)
    elif live:
        new = keep_live_neck_held(new, edges)
    new[0] = replace(new[0], span=Span(0, 1))
    known = neck is not None
    return Shoulder(
        name="back/shoulder/1",
        piece="back",
        half="",
        stitches=sum(right) + sum(left) + (neck or 0) if known else None,
        neck=neck,
        edges=tuple(edges),
        first_side=first,
        draft_rows=tuple(rows),
        drafted_edges=tuple(edges),
        drafted_rows=tuple(rows),
        new_rows=tuple(new),
        rows=(),
        notes=(),
        whole=None,
        label=1,
    )
