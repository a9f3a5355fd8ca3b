"""Published rewritings of two-edged pieces, beside ours: turns, rows per column, differences.

The texts are our own; only the figures are published. That the first bind-off is on a RS row is
said by none of these sources plainly and is stated in our texts (see each test).
"""

from __future__ import annotations

import pytest
import regex

from rewriter import rewrite
from rewriter.fabric import knit
from rewriter.options import Options, Shoulders
from rewriter.rows import PLAIN
from rewriter.twin import keep_live_exact, keep_live_neck_held, twin

from .support import (
    HOLD_ALL,
    columns,
    edges_of_back,
    hold_from_yarn,
    knit_two_edges,
    rewritten,
    short_rows,
    stepped_two_edges,
    steps_of,
    told_rows,
    turns_of,
)

STEPPED_OF_THREE = [1, 3, 5, 7, 6, 4, 2]
"""Rows per group of a back with three steps: computed by us, in no source."""


# --- 74 sts, three steps of 6 -----------------------------------------------------------------
# Source: C-Knit2gether blog, "Short Rows You Say", 16 Jul 2008,
# https://c-knit2gether.blogspot.com/2008/07/short-rows-you-say.html
# Published: 6 sts bound off on each of 6 rows; turns with 6, 6, 12, 12, 18, 18 sts unworked; one
# closing row over the neck and one shoulder, one over the other shoulder with the yarn cut and
# rejoined; 38 neck sts. Computed by us: the 74 sts, rows and heights; that the first bind-off is
# on a RS row is inferred from the first published turn being on a WS row.

A01_PUBLISHED_TURNS = {-1: 6, 0: 6, 1: 12, 2: 12, 3: 18, 4: 18}

A01_TEXT = """BACK

Work even until armhole measures 8 in, ending with a WS row. 74 sts.

Shape shoulders
BO 6 sts at beg of next 6 rows. 38 sts rem.
{neck}
"""


def test_a01_ours_has_one_turn_fewer_a_side_and_the_same_heights() -> None:
    """74 sts, 6 + 6 + 6: source above; our turns and heights are computed."""
    text = A01_TEXT.format(neck="BO rem 38 sts for back neck.")
    report = rewrite(text, Options(turn="wrap"))
    passage = rewritten(report)
    right, left = passage.edges
    assert passage.stitches_before == (74,)
    assert passage.neck == (38,)
    assert (right.edge, right.first_bind_off_side) == ("right", "RS")
    assert (left.edge, left.first_bind_off_side) == ("left", "WS")
    assert steps_of(right) == steps_of(left) == [6, 6, 6]
    assert right.together == left.together == (18,)
    assert right.rows_gained == left.rows_gained == (0,)
    ours = sorted([*turns_of(right), *turns_of(left)])
    assert ours == [(-1, "WS", 6), (0, "RS", 6), (1, "WS", 12), (2, "RS", 12)]
    # the published turns are ours and one more on each side, at the neck
    assert {row: unworked for row, _, unworked in ours}.items() < A01_PUBLISHED_TURNS.items()
    assert len(A01_PUBLISHED_TURNS) == len(ours) + 2
    # the revised text says so too, and its lead-in ends a row earlier (common practice)
    assert regex.findall(r"to last (\d+) sts", report.output) == ["6", "6", "12", "12"]
    assert "ending with a RS row" in report.output
    assert knit_two_edges(told_rows(passage), [6, 6, 6], 38) == STEPPED_OF_THREE


def test_a01_published_rows_keep_the_stepped_heights_with_the_yarn_cut() -> None:
    """Rows built from the published turns; heights computed by us."""
    rows = [
        *short_rows(A01_PUBLISHED_TURNS, 6),
        hold_from_yarn(18 + 38),
        PLAIN,
        HOLD_ALL,
    ]
    assert knit_two_edges(stepped_two_edges([6, 6, 6], 38), [6, 6, 6], 38) == STEPPED_OF_THREE
    assert knit_two_edges(rows, [6, 6, 6], 38) == STEPPED_OF_THREE


@pytest.mark.parametrize(
    "neck", ["Leave rem 38 sts on a holder for back neck.", "BO rem 38 sts for back neck."]
)
def test_a01_ours_with_the_yarn_cut_turns_where_the_published_does(neck: str) -> None:
    """All six turns are published; ours with `exact_live` are the same, and so are the heights.

    Published: one closing row over neck and one shoulder, one over the other shoulder with the yarn
    cut and rejoined. Computed by us: the heights, and that a neck bound off in the rejoining row
    changes none.
    """
    options = Options(turn="wrap", shoulders="three-needle", exact_live=True)
    report = rewrite(A01_TEXT.format(neck=neck), options)
    passage = rewritten(report)
    right, left = passage.edges
    ours = {row: unworked for row, _, unworked in [*turns_of(right), *turns_of(left)]}
    assert ours == A01_PUBLISHED_TURNS
    assert regex.findall(r"to last (\d+) sts", report.output) == ["6", "6", "12", "12", "18", "18"]
    assert "Slip 18 sts for the first shoulder onto a holder and cut yarn" in report.output
    assert "ith RS facing, rejoin yarn at neck edge" in report.output
    assert right.rows_gained == left.rows_gained == (0,)
    assert passage.verification.neck_rows_gained == (0,)
    edges = edges_of_back([6, 6, 6])
    swept = twin(stepped_two_edges([6, 6, 6], 38), edges)
    live = keep_live_exact(swept, edges, 38, neck.startswith("Leave"))
    assert knit_two_edges(live, [6, 6, 6], 38) == STEPPED_OF_THREE


def test_a01_ours_kept_live_beside_a_held_neck_differs_by_a_row_from_the_published() -> None:
    """The published shoulders are live and keep their heights by a cut yarn; ours usually cut nothing.

    Computed by us: one shoulder gains a row, the other none, the held neck is a row shorter.
    """
    text = A01_TEXT.format(neck="Leave rem 38 sts on a holder for back neck.")
    report = rewrite(text, Options(turn="wrap", shoulders="held"))
    passage = rewritten(report)
    right, left = passage.edges
    assert (right.rows_gained, left.rows_gained) == ((1,), (0,))
    assert passage.verification.neck_rows_gained == (-1,)
    edges = edges_of_back([6, 6, 6])
    live = keep_live_neck_held(twin(stepped_two_edges([6, 6, 6], 38), edges), edges)
    assert knit_two_edges(live, [6, 6, 6], 38) == [2, 4, 6, 6, 6, 4, 2]


# --- 103 sts, three steps of 10 ---------------------------------------------------------------
# Source: knittinghelp.com forum, "Convert shoulder shaping to 3 needle bind off", thread 27087,
# https://forum.knittinghelp.com/t/convert-shoulder-shaping-to-3-needle-bind-off/27087
# Published: 10 sts cast off at the beginning of 6 rows, 43 left; on the row before, stop with 10,
# then 20, then 30 left, at each edge; hold all, with no closing row or one that picks all up.
# Computed by us: rows and heights; a first bind-off on a RS row is our assumption.

A05_PUBLISHED_TURNS = {-1: 10, 0: 10, 1: 20, 2: 20, 3: 30, 4: 30}

A05_TEXT = """BACK

Work even until armhole measures 8 in, ending with a WS row. 103 sts.

Shape shoulders
Row 1 (RS): BO 10 sts, k to end.
Row 2: BO 10 sts, p to end.
Rep last 2 rows twice more. 43 sts.
BO all sts.
"""


@pytest.mark.parametrize(("shoulders", "gained"), [("sewn", 0), ("three-needle", 1)])
def test_a05_ours(shoulders: Shoulders, gained: int) -> None:
    """103 sts, 10 + 10 + 10 and 43: published; our turns and gained rows are computed."""
    passage = rewritten(rewrite(A05_TEXT, Options(shoulders=shoulders)))
    right, left = passage.edges
    assert passage.stitches_before == (103,)
    assert passage.neck == (43,)
    assert steps_of(right) == steps_of(left) == [10, 10, 10]
    assert right.together == left.together == (30,)
    assert turns_of(right) == [(-1, "WS", 10), (1, "WS", 20)]
    assert turns_of(left) == [(0, "RS", 10), (2, "RS", 20)]
    assert right.rows_gained == left.rows_gained == (gained,)
    assert passage.verification.neck_rows_gained == (0,)
    assert knit_two_edges(told_rows(passage), [10, 10, 10], 43) == STEPPED_OF_THREE


def test_a05_published_turns_without_a_closing_row_lose_a_row_everywhere() -> None:
    """Three turns a side where ours has two; every column one row short; all turns stay open."""
    rows = [*short_rows(A05_PUBLISHED_TURNS, 5), HOLD_ALL]
    assert knit_two_edges(rows, [10, 10, 10], 43) == [0, 2, 4, 6, 5, 3, 1]
    published = knit(103, rows, "left")
    assert published.open_turns == (10, 20, 30, 73, 83, 93)
    ours = knit(103, twin(stepped_two_edges([10] * 3, 43), edges_of_back([10] * 3)), "left")
    assert ours.open_turns == ()
    assert {a - b for a, b in zip(columns(published), columns(ours), strict=True)} == {-1}


def test_a05_published_turns_with_the_optional_closing_rows_are_exact() -> None:
    """The closing row is optional in the source; one for each shoulder, the yarn rejoined."""
    rows = [*short_rows(A05_PUBLISHED_TURNS, 6), hold_from_yarn(30 + 43), PLAIN, HOLD_ALL]
    assert knit_two_edges(rows, [10, 10, 10], 43) == STEPPED_OF_THREE


# --- 137 sts, 12 + 12 + 13 + 13 ---------------------------------------------------------------
# Source: knittinghelp.com forum, "Substitute Cast Off for Short Rows", thread 160767,
# https://forum.knittinghelp.com/t/substitute-cast-off-for-short-rows/160767
# Published: 12 sts off at the beginning of 4 rows, 13 of 4 rows, the rest on the next RS row; the
# advice to wrap the 13th st. Computed by us: the turns and heights; no published match exists.

A10_STEPS = [12, 12, 13, 13]

A10_TEXT = """BACK

Work even until armhole measures 8 in, ending with a WS row. 137 sts.

Shape shoulders
Next 4 rows: BO 12 sts, work to end.
Next 4 rows: BO 13 sts, work to end.
BO rem 37 sts for back neck.
"""


def test_a10_ours() -> None:
    """137 sts: published (the neck follows on a RS row, so the first bind-off is on one too)."""
    passage = rewritten(rewrite(A10_TEXT, Options(turn="wrap")))
    right, left = passage.edges
    assert passage.stitches_before == (137,)
    assert passage.neck == (37,)
    assert steps_of(right) == steps_of(left) == A10_STEPS
    assert right.together == left.together == (50,)
    assert turns_of(right) == [(-1, "WS", 12), (1, "WS", 24), (3, "WS", 37)]
    assert turns_of(left) == [(0, "RS", 12), (2, "RS", 24), (4, "RS", 37)]
    heights = [1, 3, 5, 7, 9, 8, 6, 4, 2]
    assert knit_two_edges(stepped_two_edges(A10_STEPS, 37), A10_STEPS, 37) == heights
    assert knit_two_edges(told_rows(passage), A10_STEPS, 37) == heights


def test_a10_wrapping_the_thirteenth_moves_every_boundary_by_one_column() -> None:
    """The advice leaves 12 sts and the wrapped one unworked; computed: 3 columns a side lose 2."""
    stepped = columns(knit(137, stepped_two_edges(A10_STEPS, 37), "left"))
    advised = [13, 12, 13, 12]
    rows = twin(stepped_two_edges(advised, 37), edges_of_back(advised))
    advice = columns(knit(137, rows, "left"))
    lower = {i: a - s for i, (s, a) in enumerate(zip(stepped, advice, strict=True)) if a != s}
    right = {12: -2, 24: -2, 37: -2}
    assert lower == right | {136 - column: lost for column, lost in right.items()}


# --- turning on the first bind-off row, two closing rows --------------------------------------
# Source: Berroco blog, "Shaping Shoulders with Short Rows", 19 Oct 2016,
# https://blog.berroco.com/2016/10/19/shaping-shoulders-with-short-rows/
# Published: turns with 4, 8, 12 sts unworked at each edge (smallest size), three a side, then two
# rows over all sts that close them, then one bind-off; 41 neck sts. Computed by us: heights.

A04_STEPS = [4, 4, 4]


@pytest.mark.parametrize(
    ("first_turn", "heights", "gained"),
    [
        pytest.param(0, [3, 5, 7, 9, 7, 5, 3], [2, 2, 2, 2, 1, 1, 1], id="as printed"),
        pytest.param(-1, [2, 4, 6, 8, 6, 4, 2], [1, 1, 1, 1, 0, 0, 0], id="a row earlier"),
    ],
)
def test_a04_two_closing_rows_make_one_shoulder_a_row_taller(
    first_turn: int, heights: list[int], gained: list[int]
) -> None:
    """The printed start is the first bind-off row; which row is meant is uncertain, so both."""
    turns = {first_turn + i: sts for i, sts in enumerate([4, 4, 8, 8, 12, 12])}
    rows = [*short_rows(turns, first_turn + 8), HOLD_ALL]
    stepped = knit_two_edges(stepped_two_edges(A04_STEPS, 41), A04_STEPS, 41)
    found = knit_two_edges(rows, A04_STEPS, 41)
    assert stepped == STEPPED_OF_THREE
    assert found == heights
    assert [f - s for f, s in zip(found, stepped, strict=True)] == gained
    assert knit(65, rows, "left").open_turns == ()


def test_a04_ours_turns_twice_a_side_and_gains_no_row() -> None:
    """65 sts, 4 + 4 + 4 and 41: published; ours is computed."""
    edges = edges_of_back(A04_STEPS)
    rows = twin(stepped_two_edges(A04_STEPS, 41), edges)
    assert [len(edge.turning_rows()) for edge in edges] == [2, 2]
    assert knit_two_edges(rows, A04_STEPS, 41) == STEPPED_OF_THREE
