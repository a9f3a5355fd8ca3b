"""The twin and its inverse undo one another, for any steps, edges and rows between them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.rows import PLAIN, TURN, WORK_ALL, Act, Edge, Kind, Row, bind_off, leave
from rewriter.twin import (
    Steps,
    keep_live_exact,
    keep_live_neck_bound_off,
    keep_live_neck_held,
    keep_live_one_edge,
    twin,
)
from rewriter.untwin import NoSteps, untwin
from tests.test_twin import GAPS, NECK, STEPS, at_rows, stepped

END = Row((bind_off(None),))


def acts(rows: list[Row] | tuple[Row, ...]) -> list[tuple[object, ...]]:
    return [(row.acts, row.dec, row.dec_at, row.edge) for row in rows]


def two_edges(
    right: list[int], left: list[int], a: list[int], b: list[int], rs_first: bool
) -> tuple[list[Steps], Edge]:
    edges = [at_rows("right", 0, right, a), at_rows("left", 1, left, b)]
    if not rs_first:
        edges = [at_rows("left", 0, left, b), at_rows("right", 1, right, a)]
    return edges, "left" if rs_first else "right"


@given(STEPS, STEPS, GAPS, GAPS, NECK, st.booleans())
def test_two_edges_come_back_as_they_were(
    right: list[int], left: list[int], a: list[int], b: list[int], neck: int, rs_first: bool
) -> None:
    edges, begins = two_edges(right, left, a, b, rs_first)
    rows = stepped(edges, None)
    stitches = sum(right) + neck + sum(left)
    sloped = [*twin(rows, edges), END]
    totals: dict[Edge, int] = {"right": sum(right), "left": sum(left)}
    back = untwin(sloped, stitches, begins, totals, live=False)
    assert list(back.edges) == edges
    assert acts(back.rows) == acts(rows)
    assert (back.gained, back.neck_gained) == ((0, 0), 0)
    assert twin(back.rows, back.edges) == sloped[:-1]


@given(STEPS, GAPS, st.integers(0, 20), st.sets(st.integers(-1, 14)), st.integers(0, 4))
def test_one_edge_comes_back_with_what_stands_at_its_neck(
    sts: list[int], gaps: list[int], band: int, decreases: set[int], bound: int
) -> None:
    edge = at_rows("right", 0, sts, gaps)
    rows = stepped([edge], None)
    last = edge.rows[-1]
    for number in decreases & set(range(-1, last)):
        rows[number + 1] = replace(rows[number + 1], dec=1, dec_at="start" if number % 2 else "end")
    if bound and last > 1 and not rows[2].dec:
        rows[2] = replace(rows[2], edge="neck", acts=(bind_off(bound), WORK_ALL))
    if not band:
        rows[-1] = END
    off = sum(row.off_at_neck for row in rows)
    sloped = twin(rows, [edge])
    back = untwin(sloped, sum(sts) + band + off, "left", {"right": sum(sts)}, live=False)
    assert list(back.edges) == [edge]
    assert acts(back.rows) == acts(rows)
    assert twin(back.rows, back.edges) == sloped


@given(STEPS, GAPS, NECK, st.booleans(), st.sampled_from(["bound off", "held", "exact"]))
def test_live_shoulders_come_back_with_the_rows_they_had_before(
    sts: list[int], gaps: list[int], neck: int, rs_first: bool, how: str
) -> None:
    edges, begins = two_edges(sts, sts, gaps, gaps, rs_first)
    rows = stepped(edges, None)
    swept = twin(rows, edges)
    live, gained, neck_gained = {
        "bound off": (keep_live_neck_bound_off(swept, edges, neck), (-1, -1), 0),
        "held": (keep_live_neck_held(swept, edges), (-1, 0), 1),
        "exact": (keep_live_exact(swept, edges, neck, False), (0, 0), 0),
    }[how]
    totals: dict[Edge, int] = {"right": sum(sts), "left": sum(sts)}
    back = untwin(live, 2 * sum(sts) + neck, begins, totals, live=True)
    assert list(back.edges) == edges
    assert acts(back.rows) == acts(rows)
    assert (back.gained, back.neck_gained) == (gained, neck_gained)


@given(STEPS, GAPS)
def test_a_live_shoulder_at_one_edge_loses_no_row(sts: list[int], gaps: list[int]) -> None:
    edge = at_rows("left", 0, sts, gaps)
    rows = stepped([edge], None)
    rows[-1] = END
    live = keep_live_one_edge(twin(rows, [edge]), edge)
    back = untwin(live, sum(sts), "right", {"left": sum(sts)}, live=True)
    assert (list(back.edges), acts(back.rows), back.gained) == ([edge], acts(rows), (0,))


@given(st.lists(st.integers(1, 20), min_size=2, max_size=6))
def test_turns_from_the_edge_inward_or_outward_make_the_same_steps(sts: list[int]) -> None:
    """A slope may be worked from its long rows to its short ones, or the other way round."""
    total = sum(sts)
    places = [sum(sts[:j]) for j in range(1, len(sts))]
    closing = [Row((WORK_ALL,), closes=True), END]

    def sloped(order: list[int]) -> list[Row]:
        turned = [(Row((leave(n), TURN)), replace(PLAIN, aid=True)) for n in order]
        return [*[row for pair in turned for row in pair], *closing]

    inward = untwin(sloped(places), total, "left", {"right": total}, live=False)
    outward = untwin(sloped(places[::-1]), total, "left", {"right": total}, live=False)
    assert inward.edges == outward.edges
    assert inward.edges[0].sts == tuple(sts)


def turned(*places: int) -> list[Row]:
    return [Row((leave(n), TURN)) for n in places]


@pytest.mark.parametrize(
    ("rows", "live", "reason"),
    [
        # k turns at each edge and a sweep: the neck is two rows higher
        (
            [*turned(4, 4, 8, 8), PLAIN, Row((bind_off(8), WORK_ALL)),
             Row((bind_off(8), WORK_ALL)), END],
            False,
            "2 rows higher than with steps",
        ),
        # no row closes the turns
        ([*turned(4, 4), Row((Act(Kind.HOLD),))], True, "no row closes the turns"),
        # two closing rows and everything bound off together
        ([*turned(4, 4), PLAIN, PLAIN, END], False, "one row higher or lower"),
        # turns beside the armhole make the slope hang the other way
        (
            [PLAIN, Row((Act(Kind.WORK, 4), TURN)), PLAIN, Row((bind_off(8), WORK_ALL)),
             Row((bind_off(8), WORK_ALL)), END],
            False,
            "2 rows lower than those outside",
        ),
    ],
)  # fmt: skip
def test_short_rows_without_exact_steps_say_which_rows_differ(
    rows: list[Row], live: bool, reason: str
) -> None:
    with pytest.raises(NoSteps, match=reason):
        untwin(rows, 26, "left", {"right": 8, "left": 8}, live=live)
