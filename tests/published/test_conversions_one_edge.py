"""Published rewritings of one-edged shoulders, beside ours: turns, rows per column, differences.

The texts are our own; only the figures are published. That a left front's armhole edge is where
RS rows begin, and a right front's where WS rows begin, is common practice.
"""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.fabric import knit
from rewriter.options import Options, Shoulders
from rewriter.rows import PLAIN, TURN, Row, bind_off, leave

from .support import (
    HOLD_ALL,
    by_group,
    knit_one_edge,
    live_counts,
    only_passage,
    rewritten,
    short_rows,
    stepped_one_edge,
    steps_of,
    told_rows,
    turns_of,
)

# --- 13 sts, 4 + 4 + 5 ------------------------------------------------------------------------
# Source: Stacy Knits blog, 8 Mar 2005, after Nancie M. Wiseman, The Knitter's Book of Finishing
# Techniques, http://stacyknits.blogspot.com/2005/03/short-rows-and-new-yarn-new-yarn.html
# Published: 4, 4, 5 sts; two turns, with 4 and 8 sts unworked, the last group not turned; one row
# over all 13 that picks the wraps up; live. Computed by us: rows and heights. The turns are taken
# to stand on rows that travel to the armhole (the page can be read otherwise).

A02_TEXT = """RIGHT FRONT

Work even until armhole measures 8 in, ending with a RS row. 13 sts.

Shape shoulder
BO 4 sts at beg of next row and foll alt row. Work 1 row. BO rem 5 sts.
"""


@pytest.mark.parametrize("shoulders", ["sewn", "three-needle"])
def test_a02_ours_is_the_published_rewriting(shoulders: Shoulders) -> None:
    """The same two turns and one closing row; bound off or live, no column gains a row."""
    passage = rewritten(rewrite(A02_TEXT, Options(turn="wrap", shoulders=shoulders)))
    (edge,) = passage.edges
    assert passage.stitches_before == (13,)
    assert passage.neck is None
    assert (edge.edge, edge.first_bind_off_side) == ("left", "WS")
    assert steps_of(edge) == [4, 4, 5]
    assert turns_of(edge) == [(-1, "RS", 4), (1, "RS", 8)]
    assert edge.together == (13,)
    assert edge.rows_gained == (0,)
    assert knit_one_edge(told_rows(passage), [4, 4, 5], "left") == [1, 3, 5]


def test_a02_published_rows_are_exact() -> None:
    """Rows built from the published turns and closing row; heights computed by us."""
    rows = [*short_rows({-1: 4, 1: 8}, 4), HOLD_ALL]
    assert knit_one_edge(stepped_one_edge([4, 4, 5]), [4, 4, 5], "left") == [1, 3, 5]
    assert knit_one_edge(rows, [4, 4, 5], "left") == [1, 3, 5]
    assert knit(13, rows, "left").open_turns == ()


# --- 4 + 4 + 3 + the rest ---------------------------------------------------------------------
# Source: NonaKnits, "Short Row Shoulders", 17 May 2005,
# https://nonaknits.typepad.com/nonaknits/2005/05/short_row_shoul.html
# Published: left shoulder, WS rows bind off 4, 4, 3, then the rest; the rule to work one more row
# before starting; turns with 4, 8, 11 sts unworked; one more row at the end. Computed by us: the
# heights; a rest of 4 sts is our assumption.

A03_STEPS = [4, 4, 3, 4]


def test_a03_starting_a_row_later_makes_every_column_two_rows_taller() -> None:
    """The published turns stand on rows 1, 3, 5; ours on rows -1, 1, 3."""
    stepped = knit_one_edge(stepped_one_edge(A03_STEPS), A03_STEPS, "left")
    published = [*short_rows({1: 4, 3: 8, 5: 11}, 8), HOLD_ALL]
    assert stepped == [1, 3, 5, 7]
    assert knit_one_edge(published, A03_STEPS, "left") == [3, 5, 7, 9]
    assert knit(15, published, "right").open_turns == ()


def test_a03_ours_turns_as_often_and_gains_no_row() -> None:
    """Same k - 1 turns as published, two rows earlier (WS bind-offs: turns on RS rows)."""
    text = """RIGHT FRONT

Work even until armhole measures 8 in, ending with a RS row. 15 sts.

Shape shoulder
BO 4 sts at beg of next row and foll alt row, then 3 sts at beg of foll alt row.
Work 1 row. BO rem 4 sts.
"""
    passage = rewritten(rewrite(text))
    (edge,) = passage.edges
    assert steps_of(edge) == A03_STEPS
    assert turns_of(edge) == [(-1, "RS", 4), (1, "RS", 8), (3, "RS", 11)]
    assert knit_one_edge(told_rows(passage), A03_STEPS, "left") == [1, 3, 5, 7]


# --- 12 sts, 4 + 4 + 4, and 14 sts with neck decreases ----------------------------------------
# Source: knittinghelp.com forum, thread 41947, https://forum.knittinghelp.com/t/shoulder-shaping/41947
# Published: front, 12 sts, 4 off on each of 3 RS rows; back shoulder, 14 sts, the same with one
# neck decrease on each of the first two of these rows; turns on the WS rows before, 4 and 8 sts
# unworked, the last 4 never turned, no closing row, 12 live sts on both. Computed: heights.

A06_TEXT = """LEFT FRONT

Work even until armhole measures 8 in, ending with a WS row. 12 sts.

Shape shoulder
BO 4 sts at beg of next 3 RS rows.
"""


def test_a06_ours_has_the_published_turns_and_a_closing_row() -> None:
    """12 sts, 4 + 4 + 4: published; the closing row is ours."""
    passage = rewritten(rewrite(A06_TEXT))
    (edge,) = passage.edges
    assert passage.stitches_before == (12,)
    assert (edge.edge, edge.first_bind_off_side) == ("right", "RS")
    assert steps_of(edge) == [4, 4, 4]
    assert turns_of(edge) == [(-1, "WS", 4), (1, "WS", 8)]
    assert edge.together == (12,)
    assert edge.rows_gained == (0,)
    assert knit_one_edge(told_rows(passage), [4, 4, 4], "right") == [1, 3, 5]


@pytest.mark.parametrize(
    ("end", "heights", "open_turns"),
    [
        pytest.param(3, [0, 2, 4], (4, 8), id="as published"),
        pytest.param(4, [1, 3, 5], (), id="with a closing row"),
    ],
)
def test_a06_without_a_closing_row_every_column_is_a_row_short(
    end: int, heights: list[int], open_turns: tuple[int, ...]
) -> None:
    """Published turns; the stepped shoulder has 1, 3, 5 rows (computed)."""
    rows = [*short_rows({-1: 4, 1: 8}, end), HOLD_ALL]
    assert knit_one_edge(stepped_one_edge([4, 4, 4]), [4, 4, 4], "right") == [1, 3, 5]
    assert knit_one_edge(rows, [4, 4, 4], "right") == heights
    assert knit(12, rows, "left").open_turns == open_turns


NECK_DECREASE = (leave(1), bind_off(1))
"""A row that takes one st off at its end."""

A07_TEXT = """BACK

Right shoulder

Work even until armhole measures 8 in, ending with a RS row. 14 sts.

Shape shoulder
Next row (WS): Purl.
Next row (RS): BO 4 sts, k to last 3 sts, ssk, k1. 9 sts.
Next row: Purl.
Next row: BO 4 sts, k to last 3 sts, ssk, k1. 4 sts.
Next row: Purl.
Next row: BO rem 4 sts.
"""


def test_a07_neck_decreases_stay_on_their_rows_and_twelve_sts_are_left() -> None:
    """14 sts, running counts 9 and 4, ssk on the bind-off rows, 12 live sts: published."""
    report = rewrite(A07_TEXT)
    passage = only_passage(report)
    assert passage.verification.result == "same"
    assert passage.stitches_before == (14,)
    (edge,) = passage.edges
    assert [(t.row, t.side, t.unworked) for t in edge.turns[0]] == [(-1, "WS", 4), (1, "WS", 8)]
    assert edge.together == (12,)
    assert report.output.count("DS, k to last 3 sts, ssk, k1.") == 2


def test_a07_published_counts_and_heights_with_the_neck_decreases_in_their_rows() -> None:
    """Counts 14, 9, 9, 4, 4 stepped and 14, 13, 13, 12 live: published; heights computed by us.

    The decreased neck st is taken off at the end of its row (the last two columns). Without a
    closing row every column of the shoulder is a row short; the neck columns are the same.
    """
    groups = [4, 4, 4, 1, 1]
    last_row = Row((bind_off(4),))
    stepped = [PLAIN, Row((bind_off(4), *NECK_DECREASE))]
    stepped += [*stepped, PLAIN, last_row]
    published = [
        Row((leave(4), TURN)),
        Row(NECK_DECREASE),
        Row((leave(8), TURN)),
        Row(NECK_DECREASE),
    ]
    assert live_counts(14, stepped, "left") == [14, 9, 9, 4, 4, 0]
    assert live_counts(14, published, "left") == [14, 13, 13, 12]
    assert by_group(knit(14, stepped, "left"), groups) == [1, 3, 5, 3, 1]
    assert by_group(knit(14, [*published, HOLD_ALL], "left"), groups) == [0, 2, 4, 3, 1]
    closed = [*published, PLAIN, HOLD_ALL]
    assert by_group(knit(14, closed, "left"), groups) == [1, 3, 5, 3, 1]
    assert [run.fate for run in knit(14, closed, "left").runs[:3]] == ["held"] * 3


# --- 16 sts, 5 + 5 + 6 ------------------------------------------------------------------------
# Source: TECHknitting blog, "Sweater shoulders: transform stair steps to short rows", 23 Jan 2012,
# https://techknitting.blogspot.com/2012/01/sweater-shoulders-transform-stair-steps.html
# Published: purl 16 to the outer edge; bind off 5 (11 left), purl back, 5 (6 left), purl back, 6;
# of the rewriting only its first row could be read (knit to within 5 of the outer edge: the
# mirror-image shoulder). Inferred by us: the second turn and the closing row; computed: heights.

A11_TEXT = """LEFT FRONT

Work even until armhole measures 8 in, ending with a WS row. 16 sts.

Shape shoulder
Row 1 (RS): BO 5 sts, k to end. 11 sts.
Row 2 (WS): Purl.
Row 3: BO 5 sts, k to end. 6 sts.
Row 4: Purl.
Row 5: BO rem 6 sts.
"""

A11_MIRRORED = """RIGHT FRONT

Work even until armhole measures 8 in, ending with a RS row. 16 sts.

Shape shoulder
Row 1 (WS): BO 5 sts, p to end. 11 sts.
Row 2 (RS): Knit.
Row 3: BO 5 sts, p to end. 6 sts.
Row 4: Knit.
Row 5: BO rem 6 sts.
"""


@pytest.mark.parametrize(
    ("text", "edge_name", "bind_off_side", "turn_side"),
    [
        pytest.param(A11_TEXT, "right", "RS", "WS", id="the stepped shoulder"),
        pytest.param(A11_MIRRORED, "left", "WS", "RS", id="the mirror image of the rewriting"),
    ],
)
def test_a11_ours(text: str, edge_name: str, bind_off_side: str, turn_side: str) -> None:
    """16, 11, 6 sts: published; a rewriting that turns on knit rows belongs to the other front."""
    passage = rewritten(rewrite(text, Options(turn="wrap")))
    (edge,) = passage.edges
    assert passage.stitches_before == (16,)
    assert (edge.edge, edge.first_bind_off_side) == (edge_name, bind_off_side)
    assert steps_of(edge) == [5, 5, 6]
    assert turns_of(edge) == [(-1, turn_side, 5), (1, turn_side, 10)]
    assert edge.rows_gained == (0,)
    assert edge.edge != "unknown"
    assert knit_one_edge(told_rows(passage), [5, 5, 6], edge.edge) == [1, 3, 5]


def test_a11_printed_running_counts_are_used() -> None:
    """The published count after the first step is 11; with 12 in its place the sums are refused."""
    report = rewrite(A11_TEXT.replace("11 sts.", "12 sts."))
    assert only_passage(report).status == "question"
    assert "sums" in {d.code for d in report.diagnostics}


def test_a11_stepped_rows_have_the_published_counts() -> None:
    """16, 11, 11, 6, 6, 0 sts on the needle after the rows: published; heights computed by us."""
    rows = stepped_one_edge([5, 5, 6])
    assert live_counts(16, rows, "left") == [16, 11, 11, 6, 6, 0]
    assert knit_one_edge(rows, [5, 5, 6], "right") == [1, 3, 5]


# --- 15 sts, 5 + 5 + 5, machine ---------------------------------------------------------------
# Source: Bond America blog, "Short Row Shaping for Shoulders", Jan 2018,
# http://bond-america.blogspot.com/2018/01/short-row-shaping-for-shoulders.html
# Published: three sections of 5; hold 5, work a row there and a row back, hold 10, the same, then
# one row over all 15. The stepped shoulder beside it, and all heights, are ours.

A12_TEXT = """LEFT FRONT

Work even until armhole measures 8 in, ending with a WS row. 15 sts.

Shape shoulder
BO 5 sts at beg of next row and foll 2 alt rows.
"""


def test_a12_ours_is_the_published_rewriting() -> None:
    """Turns with 5 and 10 held, one row over all 15: the same rows by hand."""
    passage = rewritten(rewrite(A12_TEXT))
    (edge,) = passage.edges
    assert steps_of(edge) == [5, 5, 5]
    assert [(row, unworked) for row, _, unworked in turns_of(edge)] == [(-1, 5), (1, 10)]
    published = [*short_rows({-1: 5, 1: 10}, 4), HOLD_ALL]
    assert knit_one_edge(told_rows(passage), [5, 5, 5], "right") == [1, 3, 5]
    assert knit_one_edge(published, [5, 5, 5], "right") == [1, 3, 5]
    assert knit_one_edge(stepped_one_edge([5, 5, 5]), [5, 5, 5], "right") == [1, 3, 5]
