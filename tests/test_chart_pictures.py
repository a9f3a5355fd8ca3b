"""Charts: the picture is well formed and legible, and the command writes it."""

from __future__ import annotations

import subprocess
import sys
import xml.etree.ElementTree as ET
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension

from rewriter.charts.canvas import hatching, spread
from rewriter.charts.draw import Drawing, draw, draw_bare
from rewriter.charts.file import charts_of, file_of
from rewriter.charts.model import Ratio, chart_of
from rewriter.charts.view import SMALLEST
from rewriter.cli import main
from rewriter.needlerows import shoulders
from tests.charttools import RATIO, STEPS, SVG, draft, picture, shoulder_of, worked
from tests.drafts import CORPUS


class Picture(SingleFileSnapshotExtension):
    """An SVG file, to be looked at."""

    file_extension = "svg"


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
    for told in (draw([chart], "10", "UK", order=order), *draw_bare(chart, "10", "UK", "chart")):
        assert not overlapping(told)
        assert not outside(told)
        sizes = [float(e.get("font-size") or 0) for e in ET.fromstring(told.svg).iter(f"{SVG}text")]
        assert min(sizes) >= SMALLEST


@pytest.mark.parametrize(("neck", "left_out"), [(10, False), (38, True)])
def test_numbers_of_low_rows_are_left_out_but_for_the_first_and_last(
    neck: int, left_out: bool
) -> None:
    chart = chart_of(shoulder_of([6] * 5, [6] * 5, neck), RATIO)
    root = ET.fromstring(draw_bare(chart, "10", "UK", "chart")[0].svg)
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
    page = draw_bare(chart, "8", "UK", "one")[0].svg
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
