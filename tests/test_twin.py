"""The twin keeps the fabric: properties over arbitrary steps, edges and rows between them."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from rewriter.fabric import Fabric, knit
from rewriter.rows import PLAIN, WORK_ALL, Edge, Kind, Row, bind_off
from rewriter.twin import (
    Steps,
    keep_live_neck_bound_off,
    keep_live_neck_held,
    keep_live_one_edge,
    lengthen_return_row,
    twin,
)

STEPS = st.lists(st.integers(1, 40), min_size=1, max_size=8)
GAPS = st.lists(st.integers(1, 3).map(lambda pairs: 2 * pairs), min_size=7, max_size=7)
NECK = st.integers(1, 90)


def stepped(edges: list[Steps], ending: Row | None) -> list[Row]:
    """Write out the stepped rows, row -1 first, the last row `ending` (the neck) if there is one."""
    last = max(steps.rows[-1] for steps in edges)
    rows = [PLAIN]
    for number in range(last + 1):
        here = [s for s in edges if number in s.rows]
        sts = [s.sts[s.rows.index(number)] for s in here]
        rows.append(Row((bind_off(sts[0]), WORK_ALL)) if sts else PLAIN)
    return [*rows, ending] if ending else rows


def at_rows(edge: Edge, start: int, sts: list[int], gaps: list[int]) -> Steps:
    rows = [start]
    for gap in gaps[: len(sts) - 1]:
        rows.append(rows[-1] + gap)
    return Steps(edge, tuple(rows), tuple(sts))


def columns(fabric: Fabric) -> list[int]:
    return [run.height for run in fabric.runs for _ in range(run.count)]


def turns_are_kept(fabric: Fabric) -> bool:
    return not (fabric.unclosed or fabric.unaided or fabric.idle_aids or fabric.open_turns)


@given(STEPS, STEPS, GAPS, GAPS, NECK, st.booleans())
def test_two_edges_bound_off_in_one_sweep_keep_every_height(
    right: list[int], left: list[int], a: list[int], b: list[int], neck: int, rs_first: bool
) -> None:
    edges = [at_rows("right", 0, right, a), at_rows("left", 1, left, b)]
    if not rs_first:
        edges = [at_rows("left", 0, left, b), at_rows("right", 1, right, a)]
    rows = stepped(edges, Row((bind_off(None),)))
    stitches = sum(right) + neck + sum(left)
    begins: Edge = "left" if rs_first else "right"
    before = knit(stitches, rows, begins)
    after = knit(stitches, twin(rows, edges), begins)
    assert columns(after) == columns(before)
    assert (after.rows, after.yarn) == (before.rows, before.yarn)
    assert turns_are_kept(after)


@given(STEPS, GAPS, st.integers(0, 20))
def test_one_edge_keeps_every_height_with_or_without_sts_beside_it(
    sts: list[int], gaps: list[int], band: int
) -> None:
    edge = at_rows("right", 0, sts, gaps)
    rows = stepped([edge], None)
    if not band:
        rows[-1] = Row((bind_off(None),))
    before = knit(sum(sts) + band, rows, "left")
    after = knit(sum(sts) + band, twin(rows, [edge]), "left")
    assert columns(after) == columns(before)
    assert (after.rows, after.yarn) == (before.rows, before.yarn)
    assert turns_are_kept(after)


@given(STEPS, GAPS, NECK)
def test_live_shoulders_gain_one_row_and_the_neck_none(
    sts: list[int], gaps: list[int], neck: int
) -> None:
    edges = [at_rows("right", 0, sts, gaps), at_rows("left", 1, sts, gaps)]
    rows = stepped(edges, Row((bind_off(None),)))
    before = knit(2 * sum(sts) + neck, rows, "left")
    after = knit(
        2 * sum(sts) + neck, keep_live_neck_bound_off(twin(rows, edges), edges, neck), "left"
    )
    gained = [b - a for a, b in zip(columns(before), columns(after), strict=True)]
    assert gained == [1] * sum(sts) + [0] * neck + [1] * sum(sts)
    assert after.yarn == "cut"
    assert turns_are_kept(after)


@given(STEPS, GAPS, NECK)
def test_live_shoulders_beside_a_held_neck_become_equal(
    sts: list[int], gaps: list[int], neck: int
) -> None:
    edges = [at_rows("right", 0, sts, gaps), at_rows("left", 1, sts, gaps)]
    rows = stepped(edges, None)
    before = knit(2 * sum(sts) + neck, rows, "left")
    after = knit(2 * sum(sts) + neck, keep_live_neck_held(twin(rows, edges), edges), "left")
    gained = [b - a for a, b in zip(columns(before), columns(after), strict=True)]
    assert gained == [1] * sum(sts) + [-1] * neck + [0] * sum(sts)
    heights = columns(after)
    assert heights[: sum(sts)] == heights[::-1][: sum(sts)]
    assert turns_are_kept(after)


@given(STEPS, GAPS)
def test_live_one_edge_gains_no_row(sts: list[int], gaps: list[int]) -> None:
    edge = at_rows("left", 0, sts, gaps)
    rows = stepped([edge], None)
    rows[-1] = Row((bind_off(None),))
    before = knit(sum(sts), rows, "right")
    after = knit(sum(sts), keep_live_one_edge(twin(rows, [edge]), edge), "right")
    assert columns(after) == columns(before)
    assert {run.fate for run in after.runs} == {"held"}
    assert turns_are_kept(after)


@given(st.lists(st.integers(1, 40), min_size=2, max_size=8))
def test_last_step_on_the_return_row_gains_one_row_and_the_others_none(sts: list[int]) -> None:
    k = len(sts)
    edge = Steps("right", (*range(0, 2 * k - 2, 2), 2 * k - 3), tuple(sts))
    rows = stepped([edge], None)
    rows[-1] = Row((bind_off(None),))
    before = knit(sum(sts), rows, "left")
    longer, steps, added = lengthen_return_row(rows, edge)
    after = knit(sum(sts), twin(longer, [steps]), "left")
    gained = [b - a for a, b in zip(columns(before), columns(after), strict=True)]
    assert added
    assert gained == [0] * sum(sts[:-1]) + [1] * sts[-1]
    assert after.rows == before.rows + 1


@given(STEPS)
def test_k_steps_have_one_turn_fewer_at_their_edge(sts: list[int]) -> None:
    edge = at_rows("right", 0, sts, [2] * 7)
    rows = stepped([edge], None)
    turns = [row for row in twin(rows, [edge]) if row.has(Kind.TURN)]
    assert len(turns) == len(sts) - 1
