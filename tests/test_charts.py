"""Charts: the model agrees with the fabric, the picture is well formed, legible and tells all in words."""

from __future__ import annotations

import subprocess
import sys
import xml.etree.ElementTree as ET
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension

from rewriter.charts.canvas import hatching, spread
from rewriter.charts.draw import Drawing, draw
from rewriter.charts.file import charts_of, chosen, file_of
from rewriter.charts.model import Chart, Ratio, area, assumed_ratio, chart_of
from rewriter.cli import main
from rewriter.needlemodel import Shoulder
from rewriter.needlerows import shoulders
from rewriter.options import Options, Shoulders
from rewriter.pipeline import Rework, rework
from rewriter.rows import PLAIN, WORK_ALL, Edge, Row, Side, bind_off
from rewriter.source import read_source
from rewriter.spans import Span
from rewriter.twin import Steps, keep_live_exact, keep_live_neck_held, twin
from tests.drafts import CORPUS, reworked

SVG = "{http://www.w3.org/2000/svg}"
RATIO = Ratio(Fraction(11, 15), "22 sts and 30 rows to 10 cm", False)
STEPS = st.lists(st.integers(1, 40), min_size=2, max_size=12)


class Picture(SingleFileSnapshotExtension):
    """An SVG file, to be looked at."""

    file_extension = "svg"


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


def column_rows(chart: Chart, shoulder: Shoulder) -> int:
    """Count the sts of all rows by the rule of steps: a step is worked up to the row before its own."""
    stepped = sum(
        n * (row + 1) for s in shoulder.edges for row, n in zip(s.rows, s.sts, strict=True)
    )
    last = max(s.rows[-1] for s in shoulder.edges)
    return stepped + (chart.beside[1] * (last + 2) if chart.beside else 0)


# --- the model ------------------------------------------------------------------------------------


@given(STEPS, STEPS, st.integers(1, 60), st.sampled_from(["RS", "WS"]))
def test_the_area_under_the_stepped_edge_is_the_rows_worked(
    right: list[int], left: list[int], neck: int, first: Side
) -> None:
    shoulder = shoulder_of(right, left, neck, first)
    chart = chart_of(shoulder, RATIO)
    assert area(chart.stepped) == column_rows(chart, shoulder)
    assert chart.stepped[0][0] == 0
    assert chart.stepped[-1][0] == chart.columns == shoulder.stitches


@given(STEPS, STEPS, st.integers(1, 60), st.sampled_from(["", "held", "exact"]))
def test_steps_fill_the_shoulders_and_turns_leave_what_the_words_say(
    right: list[int], left: list[int], neck: int, live: str
) -> None:
    shoulder = shoulder_of(right, left, neck, live=live)
    chart = chart_of(shoulder, RATIO)
    for steps in shoulder.edges:
        assert sum(chart.sts_of(steps.edge)) == steps.total
        assert chart.reach(steps.edge)[1] - chart.reach(steps.edge)[0] == steps.total
    assert chart.beside == (sum(right), neck)
    for turn in chart.turns:
        (steps,) = [s for s in shoulder.edges if s.edge == turn.edge]
        row = turn.row + chart.first_row - 1
        assert turn.unworked == steps.unworked(row)
        place = turn.unworked if turn.edge == "right" else chart.columns - turn.unworked
        assert turn.place == place
    order = [t.row for t in chart.turns]
    assert order == sorted(order)
    for told in chart.passes:
        if told.side is not None:
            assert told.toward == ("left" if told.side == "RS" else "right")


@given(STEPS, st.integers(0, 30))
def test_one_edge_turns_once_for_each_step_but_the_last(sts: list[int], kept: int) -> None:
    chart = chart_of(shoulder_of(sts, [], kept), RATIO)
    assert [t.unworked for t in chart.turns] == [sum(sts[: i + 1]) for i in range(len(sts) - 1)]
    assert [t.row for t in chart.turns] == list(range(1, 2 * len(sts) - 2, 2))
    assert (chart.beside is None) == (kept == 0)
    assert not chart.beside_is_neck


@given(st.lists(st.integers(1, 40), min_size=2, max_size=12))
def test_the_slope_leaves_as_much_fabric_as_even_stairs(sts: list[int]) -> None:
    chart = chart_of(shoulder_of(sts, [], 0), RATIO)
    assert area(chart.sloped) == area(chart.stepped)
    assert all(b[1] >= a[1] for a, b in pairwise(chart.sloped))


def test_live_shoulders_show_the_row_they_gain() -> None:
    chart = chart_of(shoulder_of([7, 7], [7, 7], 20, live="held"), RATIO)
    gained = {part: set(rows) for part, rows in chart.gained}
    assert gained == {"right": {1}, "left": {0}, None: {-1}}


def test_sts_that_are_not_known_are_never_counted() -> None:
    chart = chart_of(shoulder_of([7, 7], [7, 7], None), RATIO)
    assert chart.stitches is None
    told = draw([chart], "one size", "US", order=True)
    numbers = {b.text for b in told.boxes}
    assert chart.beside is not None
    for count in (chart.columns, chart.beside[1], *(p.worked[1] for p in chart.passes if p.worked)):
        assert str(count) not in numbers - {str(p.row) for p in chart.passes}
    assert "not to scale" in told.svg


def test_a_respaced_chart_shows_the_drafts_own_stairs() -> None:
    work = worked("uk-harbour-toddler-jumper", respace=True)
    (chart, *_) = charts_of(work, 2)
    assert chart.own_steps[0].sts == (4, 4, 9)
    assert chart.sts_of("right") == [6, 5, 6]
    assert chart.respaced
    assert "in its own steps of 4, 4 and 9" in " ".join(
        b.text for b in draw([chart], "3", "UK").boxes
    )


def test_markers_hang_where_the_words_place_them() -> None:
    (back, front) = charts_of(worked("uk-saltmarsh-pullover"), 0)
    assert [(m.place, m.boundary) for m in back.markers] == [
        (7, False), (14, False), (22, True), (54, True), (62, False), (69, False)
    ]  # fmt: skip
    assert [m.place for m in front.markers] == [7, 14]
    path = draft("uk-saltmarsh-pullover")
    work = reworked(path, Options(markers=False))
    assert not charts_of(work, 0)[0].markers


@pytest.mark.parametrize("name", ["226-tilly-tee", "317-hearth-and-hook-longline"])
def test_halves_say_which_rows_go_over_both_sides(name: str) -> None:
    first, second = [c for c in charts_of(worked(name), 0) if c.half]
    assert {first.half, second.half} == {"first side", "second side"}
    assert first.shared == second.shared > 0
    assert first.beside_is_neck
    assert all(first.worked(p) is None for p in first.passes[: first.shared])
    assert first.markers
    assert len(second.markers) == len(first.markers)


def test_a_scale_that_is_not_read_is_named_as_assumed() -> None:
    assert assumed_ratio("stocking").assumed
    assert assumed_ratio("garter").value < assumed_ratio("stocking").value
    chart = chart_of(shoulder_of([5, 5], [], 0), assumed_ratio("stocking"))
    assert "The scale is assumed" in " ".join(b.text for b in draw([chart], "8", "UK").boxes)


def test_the_scale_is_the_gauge_that_the_draft_prints() -> None:
    text = (
        "Tension: {}\nBACK\nWork in st st until armholes measure 20 cm, ending with a WS row.\n"
        "Shape shoulders\nCast off 8 sts at beg of next 6 rows. Cast off rem 28 sts.\n"
    )
    for printed, value, words in (
        ("22 sts and 28 rows to 10 cm", Fraction(22, 28), "22 sts and 28 rows to 10 cm"),
        ("5½ sts and 7½ rows to 1 in", Fraction(11, 15), "5½ sts and 7½ rows to 1 in"),
        ("22 sts and 280 rows to 10 cm", Fraction(3, 4), "three quarters"),
        ("22 sts to 10 cm", Fraction(3, 4), "three quarters"),
    ):
        source = read_source(text.format(printed).encode(), "draft.txt")
        (chart,) = charts_of(rework(source, Options()), 0)
        assert chart.ratio.value == value
        assert words in chart.ratio.words
        assert chart.ratio.assumed == ("quarters" in words)


@given(STEPS, STEPS, st.sampled_from(["RS", "WS"]))
def test_both_sides_of_a_neck_at_once_stand_apart_and_count_as_on_one_needle(
    right: list[int], left: list[int], first: Side
) -> None:
    shoulder = shoulder_of(right, left, 0, first)
    joined = chart_of(shoulder, RATIO)
    chart = chart_of(replace(shoulder, at_once=True), RATIO)
    assert joined.gap is None
    assert chart.gap == (sum(right), chart.columns - sum(right) - sum(left))
    assert chart.gap[1] >= 6 and chart.beside is None
    assert area(chart.stepped) == area(joined.stepped) == column_rows(chart, shoulder)
    assert [chart.worked(p) for p in chart.passes] == [joined.worked(p) for p in joined.passes]
    for mine, other in zip(chart.passes, joined.passes, strict=True):
        assert [(n, fate) for (_, n), fate in mine.off] == [(n, fate) for (_, n), fate in other.off]
    for steps in shoulder.edges:
        assert chart.sts_of(steps.edge) == list(steps.sts)


def test_the_gap_between_two_sides_is_seen_and_told() -> None:
    work = worked("us-millrace-tank")
    back, front = charts_of(work, 2)
    assert back.gap is None and front.gap is not None
    told = draw([front], "M", "US", order=True)
    root = ET.fromstring(told.svg)
    fabric = [e.get("d") or "" for e in root.iter(f"{SVG}path") if e.get("class") == "fabric"]
    lefts, rights = zip(
        *(
            (min(xs), max(xs))
            for xs in ([float(p.split()[0]) for p in d.strip("MZ").split("L")] for d in fabric)
        ),
        strict=True,
    )
    assert min(rights) < max(lefts)
    assert {"neck, taken off before", "11", "16"} <= {b.text for b in told.boxes}
    assert "each with its own ball of yarn" in told.svg
    # the first row: 16 sts of one side, 11 of the other
    assert "Row 1 (RS): work 27 sts toward the left, turn with 5 sts unworked" in told.svg


# --- the picture ----------------------------------------------------------------------------------


def overlapping(told: Drawing) -> list[tuple[str, str]]:
    return [
        (a.text, b.text) for i, a in enumerate(told.boxes) for b in told.boxes[:i] if a.overlaps(b)
    ]


def outside(told: Drawing) -> list[str]:
    return [
        b.text
        for b in told.boxes
        if b.left < 0 or b.top < 0 or b.right > told.width or b.bottom > told.height
    ]


@settings(max_examples=60, deadline=None)
@example([1, 1], [1, 1, 1, 1, 1, 32], None, False, Fraction(2, 5))
@given(STEPS, STEPS, st.integers(0, 120) | st.none(), st.booleans(), st.fractions("2/5", "1"))
def test_no_words_touch_one_another(
    right: list[int], left: list[int], neck: int | None, order: bool, ratio: Fraction
) -> None:
    shoulder = replace(shoulder_of(right, left, neck), at_once=neck == 0)
    chart = chart_of(shoulder, Ratio(ratio, "the gauge", False))
    told = draw([chart], "10", "UK", order=order)
    assert not overlapping(told)
    assert not outside(told)


@pytest.mark.parametrize(("neck", "left_out"), [(30, False), (38, True)])
def test_numbers_of_low_rows_are_left_out_but_for_the_first_and_last(
    neck: int, left_out: bool
) -> None:
    chart = chart_of(shoulder_of([6] * 5, [6] * 5, neck), RATIO)
    root = ET.fromstring(draw([chart], "10", "UK", bare=True).svg)
    ends = [e for e in root.iter(f"{SVG}text") if e.get("text-anchor") == "end"]
    told = [int(e.text or "") for e in ends if e.get("class") == "label"][::-1]
    rows = [p.row for p in chart.passes if p.row and p.toward == "right"]
    assert (told[0], told[-1]) == (rows[0], rows[-1])
    assert set(told) <= set(rows) and (len(told) < len(rows)) == left_out


DRAFTS = sorted(
    {p.stem for p in CORPUS.glob("drafts/*.txt")} | {p.stem for p in CORPUS.glob("drafts/*.md")}
)


@pytest.mark.parametrize("name", [*DRAFTS, "226-tilly-tee", "244-silverdale-batwing"])
def test_the_charts_of_drafts_are_legible_and_accessible(name: str) -> None:
    work = worked(name)
    for size in {0, len(work.draft.sizes) - 1}:
        charts = charts_of(work, size)
        assert len(charts) == len(shoulders(work, size))
        if not charts:
            continue
        told = draw(charts, work.draft.sizes.labels[size], work.report.terms, order=True)
        assert not overlapping(told)
        assert not outside(told)
        root = ET.fromstring(told.svg)
        assert root.get("role") == "img"
        ids = {e.get("id"): e.text or "" for e in root.iter() if e.get("id")}
        title, desc = (ids[i] for i in (root.get("aria-labelledby") or "").split())
        assert charts[0].piece.casefold() in title.casefold()
        for chart in charts:
            for turn in chart.turns:
                assert f"turn with {turn.unworked} st" in desc
                assert f"Row {turn.row}" in desc
        assert [e.text for e in root.iter(f"{SVG}text")] == [b.text for b in told.boxes]


def test_the_picture_is_true_to_the_gauge() -> None:
    chart = chart_of(shoulder_of([8, 8], [], 0), RATIO)
    root = ET.fromstring(draw([chart], "8", "UK").svg)
    (stepped,) = [e for e in root.iter(f"{SVG}path") if e.get("class") == "stepped"]
    told = (stepped.get("d") or "").removeprefix("M").split("L")
    points = [tuple(map(float, p.split())) for p in told]
    stitch = (points[1][0] - points[2][0]) / 8
    row = (points[2][1] - points[3][1]) / 2
    assert row / stitch == pytest.approx(float(RATIO.value), rel=0.01)


def test_a_page_may_be_dark_and_a_file_never_is() -> None:
    chart = chart_of(shoulder_of([8, 8], [8, 8], 20), RATIO)
    page = draw([chart], "8", "UK", embedded=True, ident="one").svg
    assert "prefers-color-scheme: dark" in page
    assert 'id="one-title"' in page
    assert "prefers-color-scheme" not in draw([chart], "8", "UK").svg


def test_words_of_a_draft_stay_text() -> None:
    chart = replace(chart_of(shoulder_of([8, 8], [], 0), RATIO), piece="<script>")
    told = draw([chart], "</desc>&", "UK").svg
    assert "<script" not in told
    ET.fromstring(told)


@given(
    st.lists(st.floats(0, 500), min_size=1, max_size=20).map(sorted),
    st.floats(1, 30),
)
def test_labels_are_moved_apart_in_their_order(wanted: list[float], size: float) -> None:
    places = spread(wanted, [size] * len(wanted), 0, 10_000)
    assert all(b - a >= size - 1e-6 for a, b in pairwise(places))
    assert places[0] >= size / 2 - 1e-6
    if all(b - a >= size for a, b in pairwise(wanted)) and wanted[0] >= size / 2:
        assert places == pytest.approx(wanted)


def test_hatching_stays_within_one_of_two_shapes() -> None:
    square = [(0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0)]
    half = [(0.0, 0.0), (20.0, 0.0), (20.0, 40.0), (0.0, 40.0)]
    lines = hatching([square, half], 5)
    assert lines
    assert all(19.9 <= x <= 40.1 for a, _, b, _ in lines for x in (a, b))


@pytest.mark.parametrize(
    ("name", "size", "piece", "order"),
    [("uk-saltmarsh-pullover", 1, "back", True), ("226-tilly-tee", 0, "back", False)],
)
def test_two_pictures(
    name: str, size: int, piece: str, order: bool, snapshot: SnapshotAssertion
) -> None:
    told = file_of(picture(name, size, piece, order), "svg")
    assert told == snapshot(extension_class=Picture)


# --- the command ----------------------------------------------------------------------------------


def chart(*arguments: str) -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-m", "rewriter", "chart", *arguments]
    return subprocess.run(command, capture_output=True, check=False)


def test_the_command_writes_a_picture_of_each_kind(tmp_path: Path) -> None:
    source = str(draft("uk-saltmarsh-pullover"))
    for kind, begins in (("svg", b"<?xml"), ("png", b"\x89PNG"), ("pdf", b"%PDF")):
        out = tmp_path / f"chart.{kind}"
        assert main(["chart", source, "--size", "86", "-o", str(out)]) == 0
        assert out.read_bytes().startswith(begins)
    done = chart(source, "--size", "86", "--piece", "all", "--order")
    assert done.returncode == 0
    assert b"Front, size 86" in done.stdout
    assert b"Order of working" in done.stdout


@pytest.mark.parametrize(
    ("name", "arguments", "says"),
    [
        ("uk-saltmarsh-pullover", [], "which size? add --size with one of 81, 86, 91, 97, 102"),
        ("uk-saltmarsh-pullover", ["--size", "99"], "the sizes are 81, 86, 91, 97, 102"),
        ("uk-saltmarsh-pullover", ["--size", "86", "--piece", "hood"], "there are back, front, or all"),
        ("uk-saltmarsh-pullover", ["--size", "86", "-o", "chart.jpg"], ".svg, .png or .pdf"),
        ("uk-saltmarsh-pullover", ["--size", "86", "-o", "no/such/chart.svg"], "cannot be written"),
        ("uk-bramble-raglan", ["--size", "1"], "there is nothing to draw: no steps of the kinds"),
        ("uk-alder-slipover", ["--size", "86"], "cast on, and these are not drawn yet"),
    ],
)  # fmt: skip
def test_what_cannot_be_drawn_is_said(
    name: str, arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["chart", str(draft(name)), *arguments]) == 2
    said = capsys.readouterr().err
    assert says in said
    assert "Traceback" not in said


def test_what_a_picture_takes_is_named_where_it_is_missing(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    for module in ("resvg_py", "cairosvg"):
        monkeypatch.setitem(sys.modules, module, None)
    for kind in ("png", "pdf"):
        out = tmp_path / f"chart.{kind}"
        source = str(draft("uk-saltmarsh-pullover"))
        assert main(["chart", source, "--size", "86", "-o", str(out)]) == 2
        assert "slopewise[chart]" in capsys.readouterr().err
        assert not out.exists()


def test_a_question_left_open_is_told_beside_the_chart(tmp_path: Path) -> None:
    text = (
        "BACK\nWork in st st until armholes measure 20 cm, ending with a WS row.\nShape shoulders\n"
        "Cast off 8 sts at beg of next 6 rows. Cast off rem 28 sts.\n"
        "FRONT\nWork in st st until armholes measure 20 cm, ending with a WS row.\nShape shoulders\n"
        "Cast off 8 sts at beg of next 5 rows. Cast off rem 28 sts.\n"
    )
    path = tmp_path / "draft.txt"
    path.write_text(text)
    done = chart(str(path))
    assert done.returncode == 1
    assert b"not rewritten, so not drawn: front/shoulder/1" in done.stderr
