"""Stitch counts of published fronts, for each size; the conversions are computed by us.

The texts are our own; only the figures are published.
"""

from __future__ import annotations

import pytest

from rewriter import read, rewrite

from .support import knit_one_edge, rewritten, steps_of, told_rows, turns_of

# --- one edge, five sizes -------------------------------------------------------------------------
# Source: Berroco, corrections to booklet 259,
# http://archive.berroco.com/255.262/259/259_corrections.html
# Published: the sts of the steps, the first on the next row, then on every RS row twice. Computed
# by us: the sts before (their sums), turns, heights. That the piece is a left front, whose armhole
# edge is where RS rows begin (common practice), is ours.

C07_STEPS = [[6, 7, 7], [7, 8, 8], [9, 8, 8], [10, 9, 9], [10, 10, 10]]

C07_LEAD_IN = """Sizes: 1 (2-3-4-5)

LEFT FRONT

Work even until armhole measures 8 in, ending with a WS row. 20 (23-25-28-30) sts.

Shape shoulder
"""


@pytest.mark.parametrize(
    "steps",
    [
        pytest.param(
            "BO 6 (7-9-10-10) sts at beg of next RS row. BO 7 (8-8-9-10) sts at beg of every RS row"
            " 2 times.",
            id="every RS row 2 times",
        ),
        pytest.param(
            "At beg of next row BO 6 (7-9-10-10) sts, and at beg of next 2 RS rows BO"
            " 7 (8-8-9-10) sts.",
            id="next 2 RS rows",
        ),
        pytest.param(
            "At armhole edge BO 6 (7-9-10-10) sts once, then 7 (8-8-9-10) sts every other row"
            " twice.",
            id="at armhole edge",
        ),
    ],
)
def test_c07_counts_of_five_sizes(steps: str) -> None:
    """One first step, then two of another number, on RS rows."""
    passage = rewritten(rewrite(f"{C07_LEAD_IN}{steps}\n"))
    (edge,) = passage.edges
    assert passage.stitches_before == (20, 23, 25, 28, 30)
    assert passage.neck is None
    assert (edge.edge, edge.first_bind_off_side) == ("right", "RS")
    assert edge.together == (20, 23, 25, 28, 30)
    for size, expected in enumerate(C07_STEPS):
        assert steps_of(edge, size) == expected
        first, second, _ = expected
        assert turns_of(edge, size) == [(-1, "WS", first), (1, "WS", first + second)]
        assert knit_one_edge(told_rows(passage, size), expected, "right") == [1, 3, 5]


# --- front and back that do not fit ---------------------------------------------------------------
# Source: knitting handbook chapter at knittingmagic.biz, "Shaping the shoulders",
# https://www.knittingmagic.biz/guide-4/shaping-the-shoulders.html
# Published: a back of 69 sts with 9 off at the beginning of 6 rows; a front side of 27 sts that
# loses 9 at the neck and is then shaped "as for back". Computed by us: 18 sts are left where the
# back has 27 (perhaps a slip in the reproduction); three equal steps on the front are ours.


def test_e01_a_front_shoulder_of_18_does_not_fit_a_back_shoulder_of_27() -> None:
    """The report warns, with both totals."""
    text = """BACK

Work even until armhole measures 8 in, ending with a WS row. 69 sts.

Shape shoulders
BO 9 sts at beg of next 6 rows. BO rem 15 sts.

LEFT FRONT

Work even until armhole measures 8 in, ending with a WS row. 18 sts.

Shape shoulder
BO 6 sts at beg of next row and foll 2 alt rows.
"""
    found = [d for d in read(text).diagnostics if d.code == "shoulders-differ"]
    assert len(found) == 1
    assert found[0].severity != "remark"
    assert "27" in found[0].message
    assert "18" in found[0].message
