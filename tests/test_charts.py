"""Charts: the model agrees with the fabric, and tells all in words."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.charts.draw import draw
from rewriter.charts.file import charts_of
from rewriter.charts.model import Chart, area, assumed_ratio, chart_of
from rewriter.needlemodel import Shoulder
from rewriter.options import Options
from rewriter.pipeline import rework
from rewriter.rows import Side
from rewriter.source import read_source
from tests.charttools import RATIO, STEPS, SVG, draft, shoulder_of, worked
from tests.drafts import reworked


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
