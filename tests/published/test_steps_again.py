"""Published short-row shoulders, written out in words of our own and turned back into steps.

Only the figures are published: sts, turns, the rows that close them, and the steps they came from.
That a right front's armhole edge is where WS rows begin is common practice.
"""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options

from .support import only_passage, steps_of

TO_STEPS = Options(to="steps")

# --- 74 sts: 6 + 6 + 6 at each edge, 38 for the neck ------------------------------------------
# Source: C-Knit2gether blog, "Short Rows You Say", 16 Jul 2008,
# https://c-knit2gether.blogspot.com/2008/07/short-rows-you-say.html
# Published: six turns with 6, 6, 12, 12, 18, 18 sts unworked, the first on a WS row; one row over the
# neck and one shoulder, all held; yarn rejoined for the other shoulder. The steps were 6 sts on each
# of 6 rows. Computed there and here: the columns have exactly the rows they had with steps.

A01 = """BACK

Work even until armhole measures 8 in, ending with a RS row. 74 sts.

Shape shoulders
Next row (WS): P to last 6 sts, w&t.
Next row (RS): K to last 6 sts, w&t.
Next row (WS): P to last 12 sts, w&t.
Next row (RS): K to last 12 sts, w&t.
Next row (WS): P to last 18 sts, w&t.
Next row (RS): K to last 18 sts, w&t.
Next row (WS): P to end, working each wrap together with its st.
Slip 18 sts for the first shoulder onto a holder and cut yarn.
With RS facing, rejoin yarn at neck edge, BO 38 sts for back neck, k to end, working
each wrap together with its st.
Leave 18 sts for the second shoulder on a holder.
"""


def test_a01_turns_at_the_neck_too_and_comes_back_as_six_equal_steps() -> None:
    report = rewrite(A01, TO_STEPS)
    passage = only_passage(report)
    assert [steps_of(edge) for edge in passage.edges] == [[6, 6, 6], [6, 6, 6]]
    assert [e.first_bind_off_side for e in passage.edges] == ["RS", "WS"]
    assert [e.rows_gained for e in passage.edges] == [(0,), (0,)]
    assert passage.neck == (38,)
    assert "ending with a WS row. 74 sts." in report.output
    assert "BO 6 sts at beg of next 6 rows." in report.output
    assert "turn" not in report.output


# --- 13 sts: 4 + 4 + 5 ------------------------------------------------------------------------
# Source: Stacy Knits blog, 8 Mar 2005, after Nancie M. Wiseman, The Knitter's Book of Finishing
# Techniques, http://stacyknits.blogspot.com/2005/03/short-rows-and-new-yarn-new-yarn.html
# Published: 4, 4, 5 sts; two turns, with 4 and 8 sts unworked; one row over all 13; live.

A02 = """RIGHT FRONT

Work even until armhole measures 8 in, ending with a WS row. 13 sts.

Shape shoulder
Next row (RS): K to last 4 sts, w&t.
Next row: P to end.
Next row: K to last 8 sts, w&t.
Next row: P to end.
Next row (RS): K to end, working each wrap together with its st.
Leave 13 sts on a holder.
"""


def test_a02_comes_back_as_the_steps_it_was_made_from() -> None:
    report = rewrite(A02, TO_STEPS)
    (edge,) = only_passage(report).edges
    assert steps_of(edge) == [4, 4, 5]
    assert (edge.first_bind_off_side, edge.rows_gained) == ("WS", (0,))
    assert "ending with a RS row. 13 sts." in report.output
    assert (
        "Bind off 4 sts at beg of next 2 WS rows. Work 1 row. Bind off rem 5 sts." in report.output
    )


# --- without closing rows ---------------------------------------------------------------------
# Sources: knittinghelp.com threads 27087 ("Convert shoulder shaping to 3 needle bind off": 103 sts,
# 10 + 10 + 10, neck 43) and 41947 ("Shoulder shaping": 12 sts, 4 + 4 + 4). Published: the turns, and
# then all sts are held; no row closes the turns. Computed there: every column one row lower.

A06 = A02.replace("13 sts", "12 sts").replace(
    "Next row (RS): K to end, working each wrap together with its st.\n", ""
)


A05 = """BACK

Work even until armhole measures 8 in, ending with a RS row. 103 sts.

Shape shoulders
Next row (WS): P to last 10 sts, w&t.
Next row (RS): K to last 10 sts, w&t.
Next row (WS): P to last 20 sts, w&t.
Next row (RS): K to last 20 sts, w&t.
Next row (WS): P to last 30 sts, w&t.
Next row (RS): K to last 30 sts, w&t.
Slip 30 sts for each shoulder and 43 sts for the neck onto holders.
"""


@pytest.mark.parametrize("text", [A05, A06])
def test_a05_and_a06_hold_open_turns_so_no_steps_are_exact(text: str) -> None:
    report = rewrite(text, TO_STEPS)
    (passage,) = report.passages
    assert (passage.status, report.output) == ("left", text)
    assert "one row higher" in (passage.reason or "")


# --- a start on the first bind-off row, two closing rows, one bind-off over all -----------------
# Source: Berroco blog, "Shaping Shoulders with Short Rows", 19 Oct 2016,
# https://blog.berroco.com/2016/10/19/shaping-shoulders-with-short-rows/
# Published: k turns at each edge (4, 8, 12 of 65 sts, neck 41), two rows over all sts, all bound off
# together. Computed there: one shoulder is a row off, whichever row it is started on.

A04 = """BACK

Work even until armhole measures 8 in, ending with a WS row. 65 sts.

Shape shoulders
Next row (RS): K to last 4 sts, w&t.
Next row (WS): P to last 4 sts, w&t.
Next row (RS): K to last 8 sts, w&t.
Next row (WS): P to last 8 sts, w&t.
Next row (RS): K to last 12 sts, w&t.
Next row (WS): P to last 12 sts, w&t.
Next row (RS): K to end, working each wrap together with its st.
Next row (WS): P to end, working each wrap together with its st.
BO all sts.
"""


def test_a04_ends_both_shoulders_on_one_row_so_no_steps_are_exact() -> None:
    report = rewrite(A04, TO_STEPS)
    (passage,) = report.passages
    assert (passage.status, report.output) == ("left", A04)
    assert "one row" in (passage.reason or "")
