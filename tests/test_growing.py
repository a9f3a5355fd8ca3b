"""The growing twin of stepped cast-ons, held as properties against an oracle that knows no runs."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.fabric import FabricError, knit
from rewriter.growing import GrowingSteps, grow
from rewriter.rows import (
    PLAIN,
    WORK_ALL,
    Act,
    Kind,
    Row,
    Side,
    cast_on,
    edge_of_beginning,
    side_of,
)

BEHIND = 3


def stepped(steps: Sequence[tuple[int, int, bool]], count: int) -> list[Row]:
    """Rows 0 ... count - 1 that cast on; a step is (row that first works it, sts, told at the end)."""
    begins = {row: n for row, n, at_end in steps if not at_end}
    ends = {row - 1: n for row, n, at_end in steps if at_end}
    return [
        Row(
            (
                *([cast_on(begins[r])] if r in begins else []),
                WORK_ALL,
                *([cast_on(ends[r])] if r in ends else []),
            )
        )
        for r in range(count)
    ]


def naive(start: int, rows: Sequence[Row], first: Side) -> list[int]:
    """Work rows over a plain list of heights, one number a stitch, from the right-hand edge."""
    live = [0] * start
    upward = first == "RS"
    at = 0 if upward else start
    for row in rows:
        for act in row.acts:
            if act.kind is Kind.CAST_ON:
                assert at in (0, len(live))
                if at == 0 and (live or upward):
                    live = [0] * (act.n or 0) + live
                else:
                    live = live + [0] * (act.n or 0)
                    at = len(live)
            elif act.kind in (Kind.WORK, Kind.LEAVE):
                stop = act.n or 0
                while (len(live) - at if upward else at) > stop:
                    place = at if upward else at - 1
                    live[place] += 1
                    at += 1 if upward else -1
        upward = not upward
    return live


@st.composite
def cast_ons(draw: st.DrawFn) -> tuple[int, list[Row], tuple[GrowingSteps, ...], Side]:
    """Steps at one edge or two, any sts and spacing, told at the beginning or the end of rows."""
    first: Side = draw(st.sampled_from(["RS", "WS"]))
    at_end = draw(st.booleans())
    steps: list[tuple[int, int, bool]] = []
    edges = []
    for edge in range(draw(st.integers(1, 2))):
        row = edge + (1 if at_end else 0) + 2 * draw(st.integers(0, 1))
        rows, sts = [], []
        for _ in range(draw(st.integers(1, 5))):
            rows.append(row)
            sts.append(draw(st.integers(1, 12)))
            row += 2 * draw(st.integers(1, 3))
        steps += [(r, n, at_end) for r, n in zip(rows, sts, strict=True)]
        side = side_of(rows[0], first) or "RS"
        edges.append(GrowingSteps(edge_of_beginning(side), tuple(rows), tuple(sts)))
    count = max(row for row, _, _ in steps) + (0 if at_end else 1) + draw(st.integers(0, 2))
    return draw(st.integers(1, 30)), stepped(steps, count), tuple(edges), first


@given(cast_ons())
def test_every_column_keeps_its_rows(
    case: tuple[int, list[Row], tuple[GrowingSteps, ...], Side],
) -> None:
    start, rows, edges, first = case
    grown, behind = grow(rows, edges)
    old = [*rows, *[PLAIN] * BEHIND]
    new = [*grown, *behind.rows(BEHIND)]
    assert naive(start, old, first) == naive(start, new, first)
    fabric = knit(start, new, edge_of_beginning(first))
    assert [h for n, h in fabric.heights() for _ in range(n)] == naive(start, new, first)
    assert fabric.yarn == knit(start, old, edge_of_beginning(first)).yarn
    faults = (fabric.open_turns, fabric.unclosed, fabric.unaided, fabric.idle_aids)
    assert faults == ((), (), (), ())


@given(cast_ons())
def test_each_shoulder_is_cast_on_once(
    case: tuple[int, list[Row], tuple[GrowingSteps, ...], Side],
) -> None:
    _, rows, edges, _ = case
    grown, _ = grow(rows, edges)
    casts = [act.n for row in grown for act in row.acts if act.kind is Kind.CAST_ON]
    assert sorted(n or 0 for n in casts) == sorted(s.total for s in edges)
    assert len(grown) == len(rows)


@given(cast_ons())
def test_turns_one_st_off_are_seen(
    case: tuple[int, list[Row], tuple[GrowingSteps, ...], Side],
) -> None:
    """Rows that go one st further make another fabric: the comparison above can fail."""
    start, rows, edges, first = case
    steps = edges[0]
    if len(steps.rows) < 2:
        return
    grown, behind = grow(rows, edges)
    wrong = [
        row.with_acts(
            *[Act(a.kind, (a.n or 0) - 1) if a.kind is Kind.LEAVE else a for a in row.acts]
        )
        for row in grown
    ]
    new = [*wrong, *behind.rows(BEHIND)]
    assert naive(start, new, first) != naive(start, [*rows, *[PLAIN] * BEHIND], first)


def test_rows_of_a_back() -> None:
    """7, 8 and 8 sts at each edge of 29: four turns, the first edge closed in the passage."""
    rows = stepped([(r, n, False) for r, n in enumerate((8, 8, 8, 8, 7, 7))], 6)
    edges = (
        GrowingSteps("right", (0, 2, 4), (8, 8, 7)),
        GrowingSteps("left", (1, 3, 5), (8, 8, 7)),
    )
    grown, behind = grow(rows, edges)
    assert [[(a.kind, a.n) for a in row.acts] for row in grown] == [
        [(Kind.CAST_ON, 23), (Kind.WORK, None)],
        [(Kind.CAST_ON, 23), (Kind.LEAVE, 15), (Kind.TURN, None)],
        [(Kind.LEAVE, 15), (Kind.TURN, None)],
        [(Kind.LEAVE, 7), (Kind.TURN, None)],
        [(Kind.LEAVE, 7), (Kind.TURN, None)],
        [(Kind.WORK, None)],
    ]
    assert [row.aid for row in grown] == [False, False, True, True, True, True]
    assert [row.closes for row in grown] == [False, False, False, True, True, True]
    assert (behind.aid, behind.closes) == (False, (0,))


def test_steps_told_at_the_end_leave_a_turn_for_the_row_behind() -> None:
    rows = stepped([(1, 7, True), (3, 7, True)], 3)
    _, behind = grow(rows, (GrowingSteps("left", (1, 3), (7, 7)),))
    assert (behind.aid, behind.closes) == (True, (1,))


def test_sts_are_cast_on_at_an_edge_only() -> None:
    inside = Row((Act(Kind.WORK, 3), cast_on(2), WORK_ALL))
    with pytest.raises(FabricError, match="inside the row"):
        knit(8, [inside], "right")


@pytest.mark.parametrize(("first", "side"), [("right", "RS"), ("left", "WS")])
def test_columns_cast_on_have_the_rows_from_then_on(first: str, side: Side) -> None:
    rows = [Row((cast_on(2), WORK_ALL)), Row((WORK_ALL, cast_on(3))), PLAIN, PLAIN]
    fabric = knit(4, rows, edge_of_beginning(side))
    assert [h for n, h in fabric.heights() for _ in range(n)] == naive(4, rows, side)
    assert edge_of_beginning(side) == first
