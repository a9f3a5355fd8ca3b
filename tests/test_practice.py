"""Practice swatches: the steps in small, proven like a garment's."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.cli import main
from rewriter.needlerows import shoulders
from rewriter.options import Options, Shoulders, Spelling, Turn
from rewriter.pipeline import rework
from rewriter.practice import FEWEST, MOST, practice_sheet, scaled, swatch_text
from rewriter.source import read_source
from tests.sheettools import DRAFTS, SAMPLE, WAYS, work_of

STEPS = st.lists(st.integers(1, 30), min_size=1, max_size=14)


@given(STEPS, st.none() | st.integers(1, 120))
def test_steps_scale_down_in_order(steps: list[int], neck: int | None) -> None:
    swatch = scaled(steps, neck)
    kept = steps[: len(swatch.steps)]
    assert len(swatch.steps) == min(8, len(steps))
    assert FEWEST <= swatch.stitches <= MOST
    assert swatch.neck >= 6
    for (a, small_a), (b, small_b) in pairwise(zip(kept, swatch.steps, strict=True)):
        assert (a <= b) <= (small_a <= small_b)
        assert (a >= b) <= (small_a >= small_b)
    for n, small in zip(kept, swatch.steps, strict=True):
        assert min(2, n) <= small <= n


@pytest.mark.parametrize("path", DRAFTS, ids=lambda p: p.stem)
@pytest.mark.parametrize(("turn", "join"), WAYS)
def test_a_swatch_is_proven_and_finished_as_the_garment(
    path: Path, turn: Turn, join: Shoulders
) -> None:
    options = Options(turn=turn, shoulders=join)
    work = work_of(path, options)
    sheet = practice_sheet(work, 0, options)
    (piece,) = sheet.pieces
    assert piece.shoulder is not None and piece.shoulder.stitches is not None
    assert FEWEST <= piece.shoulder.stitches <= MOST
    assert len(piece.shoulder.edges) == 2
    garment = next((s for s in shoulders(work, 0) if len(s.edges) == 2), None)
    if garment is not None and {r.plan.join for r in work.revisions} == {join}:
        assert [r.does for r in piece.shoulder.rows] == [r.does for r in garment.rows]
    joins = {r.plan.join for r in work.revisions}
    assert len(piece.ticks) == (1 if joins == {"sewn"} else 2)
    assert sheet.compared[0][1] == piece.needle


@pytest.mark.parametrize("spelling", ["draft", "full"])
def test_the_words_of_a_swatch(spelling: Spelling) -> None:
    options = Options(spelling=spelling)
    sheet = practice_sheet(work_of(SAMPLE, options), 2, options)
    lines = sheet.pieces[0].lines
    assert sheet.title == "Practice swatch: Tarn"
    assert "cast on 35 st" in sheet.pieces[0].lead_in
    if spelling == "draft":
        assert lines[0].words == "P to last 3 sts (marker), turn."
        assert lines[5].words.startswith("Cast off 10 sts (marker), K to end")
    else:
        assert lines[0].words == "Purl to last 3 stitches (marker), turn."


def test_a_divided_back_is_shown_whole_beside_its_swatch() -> None:
    sheet = practice_sheet(work_of(DRAFTS[5], Options()), 0, Options())
    told = sheet.compared[1][1]
    assert told.sts == "8 \u00b7 8 \u00b7 8 \u2016 36 \u2016 8 \u00b7 8 \u00b7 8"
    assert told.begins == told.ends == "armhole"
    assert any("is not divided" in p for p in sheet.about)


def test_a_swatch_is_a_draft_that_any_rewriting_takes() -> None:
    options = Options()
    work = work_of(DRAFTS[2], options)
    (garment, *_) = shoulders(work, 0)
    revision = next(r for r in work.revisions if r.finding.id == garment.name)
    text = swatch_text(work, revision, garment, scaled((8, 8, 6), 30), options)
    assert "stockinette" in text and "inch" in text and "Bind off" in text
    report = rework(read_source(text.encode("utf-8"), "swatch.md"), options).report
    assert [p.verification.result for p in report.passages] == ["same"]


def test_the_command_writes_a_swatch(tmp_path: Path) -> None:
    out = tmp_path / "swatch.html"
    assert main(["worksheet", "--practice", str(SAMPLE), "--size", "106", "-o", str(out)]) == 0
    assert "Practice swatch: Tarn" in out.read_text(encoding="utf-8")
