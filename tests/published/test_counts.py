"""Stitch counts of published stepped shoulders, for each size; the conversions are computed by us.

The texts are our own; only the figures are published. For these examples no rewriting is
published: the counts check the tool, the turns and heights are the tool's own rule.
"""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import PassageReport

from .support import (
    knit_two_edges,
    only_passage,
    rewritten,
    stepped_two_edges,
    steps_of,
    told_rows,
    turns_of,
)


def check_two_edges(
    passage: PassageReport, before: list[int], steps: list[list[int]], neck: list[int]
) -> None:
    """Check what a report tells of a two-edged piece against published figures, size by size."""
    assert passage.stitches_before == tuple(before)
    assert passage.neck == tuple(neck)
    assert len(passage.edges) == 2
    for edge in passage.edges:
        assert edge.together == tuple(sum(size) for size in steps)
        for size, expected in enumerate(steps):
            assert steps_of(edge, size) == expected
    for size, expected in enumerate(steps):
        boundaries = [sum(expected[: i + 1]) for i in range(len(expected) - 1)]
        for number, edge in enumerate(passage.edges):
            rows = [(row, unworked) for row, _, unworked in turns_of(edge, size)]
            assert rows == [(2 * i - 1 + number, n) for i, n in enumerate(boundaries)]
        stepped = knit_two_edges(stepped_two_edges(expected, neck[size]), expected, neck[size])
        assert knit_two_edges(told_rows(passage, size), expected, neck[size]) == stepped


# --- six sizes, neck on a holder ---------------------------------------------------------------
# Source: knittinghelp.com forum, thread 145853,
# https://forum.knittinghelp.com/t/shoulder-shaping-beginner-in-need-of-help/145853
# Published: the sts of both steps, the counts after them, the rest on a holder. Computed by us:
# the sts before (the poster's own size, the fifth, has 89: published). No side is published.

C02_STEPS = [[9, 9, 8], [10, 10, 8], [11, 11, 8], [12, 12, 7], [13, 13, 7], [13, 13, 8]]
C02_BEFORE = [73, 77, 81, 85, 89, 91]
C02_NECK = [21, 21, 21, 23, 23, 23]

C02_TEXT = """Sizes: 1 (2, 3, 4, 5, 6)

BACK

Work even until armhole measures 8 in{side}. 73 (77, 81, 85, 89, 91) sts.

Shape shoulders
Next 4 rows: BO 9 (10, 11, 12, 13, 13) sts, work to end. 37 (37, 37, 37, 37, 39) sts.
Next 2 rows: BO 8 (8, 8, 7, 7, 8) sts, work to end. 21 (21, 21, 23, 23, 23) sts.
Leave rem 21 (21, 21, 23, 23, 23) sts on a holder.
"""


def test_c02_counts_of_six_sizes() -> None:
    """The lead-in's side is ours; the counts are published."""
    passage = rewritten(rewrite(C02_TEXT.format(side=", ending with a WS row")))
    check_two_edges(passage, C02_BEFORE, C02_STEPS, C02_NECK)
    right, left = passage.edges
    assert (right.edge, left.edge) == ("right", "left")
    assert turns_of(right, 4) == [(-1, "WS", 13), (1, "WS", 26)]
    assert turns_of(left, 4) == [(0, "RS", 13), (2, "RS", 26)]
    assert knit_two_edges(told_rows(passage, 4), [13, 13, 7], 23) == [1, 3, 5, 7, 6, 4, 2]


def test_c02_no_side_is_published_and_none_is_guessed() -> None:
    """Without a side in the lead-in, as in the source, the same counts and no edge."""
    passage = rewritten(rewrite(C02_TEXT.format(side="")))
    check_two_edges(passage, C02_BEFORE, C02_STEPS, C02_NECK)
    for edge in passage.edges:
        assert (edge.edge, edge.first_bind_off_side) == ("unknown", None)
        assert {side for _, side, _ in turns_of(edge)} == {None}


def test_c02_an_answer_gives_the_side() -> None:
    """A first bind-off on a RS row: our assumption, as an answer."""
    passage = rewritten(rewrite(C02_TEXT.format(side=""), Options(assume={"first-side": "RS"})))
    assert [edge.edge for edge in passage.edges] == ["right", "left"]
    assert [edge.first_bind_off_side for edge in passage.edges] == ["RS", "WS"]


def test_c02_kept_live_beside_the_held_neck() -> None:
    """The neck goes to a holder in the source; the rows gained are computed."""
    text = C02_TEXT.format(side=", ending with a WS row")
    passage = rewritten(rewrite(text, Options(shoulders="held")))
    right, left = passage.edges
    assert right.rows_gained == (1,) * 6
    assert left.rows_gained == (0,) * 6
    assert passage.verification.neck_rows_gained == (-1,) * 6
    assert passage.verification.piece_rows_gained == (-1,) * 6


# --- three sizes, rows per size -----------------------------------------------------------------
# Source: Rico Design, corrections to Knitting Idea Compact,
# https://rico-design.de/en/correction-group/knitting-ideas-compact/page/2
# Published: 132 [138:152] sts; 5 [6:7] off at the beginning of 6 [6:10] rows, 102 [102:82] left; 6
# [6:8] of 6 [6:2] rows, 66 left; begun after a WS row. Computed by us: turns and heights.

C03_STEPS = [[5, 5, 5, 6, 6, 6], [6] * 6, [7, 7, 7, 7, 7, 8]]

C03_TEXT = """Sizes: 1 [2:3]

BACK

Work straight until armhole measures 20 cm, ending with a WS row. 132 [138:152] sts.

Shape shoulders
On next 6 [6:10] rows cast off 5 [6:7] sts at beg of row. 102 [102:82] sts.
On next 6 [6:2] rows cast off 6 [6:8] sts at beg of row. 66 sts.
Cast off all sts.
"""


def test_c03_counts_where_the_rows_differ_by_size() -> None:
    """Five turns at each edge in every size; heights of the largest size."""
    passage = rewritten(rewrite(C03_TEXT))
    check_two_edges(passage, [132, 138, 152], C03_STEPS, [66, 66, 66])
    right, left = passage.edges
    assert (right.first_bind_off_side, left.first_bind_off_side) == ("RS", "WS")
    assert [n for _, _, n in turns_of(right, 2)] == [7, 14, 21, 28, 35]
    assert {side for _, side, _ in turns_of(right)} == {"WS"}
    assert {side for _, side, _ in turns_of(left)} == {"RS"}
    heights = knit_two_edges(told_rows(passage, 2), C03_STEPS[2], 66)
    assert heights == [1, 3, 5, 7, 9, 11, 13, 12, 10, 8, 6, 4, 2]


# --- eight sizes ----------------------------------------------------------------------------------
# Source: Berroco blog, "Shaping Shoulders with Short Rows", 19 Oct 2016,
# https://blog.berroco.com/2016/10/19/shaping-shoulders-with-short-rows/
# Published: the sts of the steps and 41 neck sts. Computed by us: the sts before, shoulder totals.

A04_STEPS = [[4, 4, 4], [6, 5, 5], [6, 6, 6], [6, 7, 7], [8, 7, 7], [8, 9, 9], [10, 9, 9], [10] * 3]
A04_BEFORE = [65, 73, 77, 81, 85, 93, 97, 101]

A04_TEXT = """Sizes: 1 (2-3-4-5-6-7-8)

BACK

Work even until armhole measures 8 in, ending with a WS row. {before} sts.

Shape shoulders
Next 2 rows: BO 4 (6-6-6-8-8-10-10) sts, work to end.
Next 4 rows: BO 4 (5-6-7-7-9-9-10) sts, work to end.
BO rem 41 sts.
"""


def test_a04_counts_of_eight_sizes_with_hyphens_between_them() -> None:
    """Totals 12, 16, 18, 20, 22, 26, 28, 30: computed."""
    text = A04_TEXT.format(before="65 (73-77-81-85-93-97-101)")
    passage = rewritten(rewrite(text))
    check_two_edges(passage, A04_BEFORE, A04_STEPS, [41] * 8)
    assert passage.edges[0].together == (12, 16, 18, 20, 22, 26, 28, 30)


# --- a published count that is changed must be found out ------------------------------------------


@pytest.mark.parametrize(
    ("text", "published", "changed", "size"),
    [
        (C02_TEXT.format(side=""), "37 (37, 37, 37, 37, 39)", "37 (37, 37, 37, 39, 39)", "5"),
        (C02_TEXT.format(side=""), "7, 8) sts, work to end. 21", "7, 8) sts, work to end. 23", "1"),
        (C03_TEXT, "102 [102:82] sts.", "102 [102:84] sts.", "3"),
        (C03_TEXT, "132 [138:152] sts.", "132 [136:152] sts.", "2"),
        (A04_TEXT.format(before="65 (73-77-81-85-93-97-101)"), "rem 41", "rem 43", "1"),
    ],
)
def test_a_changed_count_is_found_in_its_size(
    text: str, published: str, changed: str, size: str
) -> None:
    """Figures as above; the changed one is ours. The text is left and the size named."""
    assert text.count(published) == 1
    draft = text.replace(published, changed)
    report = rewrite(draft)
    assert only_passage(report).status == "question"
    assert report.output == draft
    sums = [d for d in report.diagnostics if d.code == "sums"]
    assert size in {name for d in sums for name in d.sizes}
    assert {d.severity for d in sums} == {"error"}
