"""The side of the first bind-off row, by counting the rows from an earlier one (common practice)."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options

QUIET = Options(markers=False)
FRONT = """RIGHT FRONT
Work straight until armhole measures 12 cm, ending with a WS row.
Shape neck
Cast off 10 sts at beg of next row. 36 sts.
{rows}
Shape shoulder
Cast off 9 sts at beg of next row and foll alt row. Work 1 row. Cast off rem 9 sts.
"""


@pytest.mark.parametrize(
    "rows",
    [
        # the neck's row is row 1, a RS row; the armhole of a right front is bound off on a WS row
        "Dec 1 st at neck edge on next 6 rows, then on foll 3 alt rows. 27 sts.",
        "Dec 1 st at neck edge on foll alt rows until 27 sts remain. Work 2 rows.",
        "Dec 1 st at neck edge on next and every foll alt row until 27 sts remain.\nWork 1 row.",
    ],
)
def test_rows_that_lead_to_the_armhole_edge_are_taken(rows: str) -> None:
    (found,) = [p for p in rewrite(FRONT.format(rows=rows), QUIET).passages if p.kind == "shoulder"]
    assert found.status == "rewritten", found.reason


@pytest.mark.parametrize(
    "rows",
    [
        "Dec 1 st at neck edge on next 5 rows, then on foll 4 alt rows. 27 sts.",
        "Dec 1 st at neck edge on every row 9 times. 27 sts.",
        "Dec 1 st at neck edge on next and every foll alt row until 27 sts remain.",
    ],
)
def test_rows_that_lead_to_the_other_edge_are_asked_about(rows: str) -> None:
    (found,) = [p for p in rewrite(FRONT.format(rows=rows), QUIET).passages if p.kind == "shoulder"]
    assert found.status == "question"
    assert 'counting the rows from "... cm, ending with a WS row"' in (found.reason or "")


def test_counting_tells_the_side_where_nothing_else_does() -> None:
    text = """BACK
Work straight until armholes measure 12 cm, ending with a WS row.
Dec 1 st at each end of next row. 48 sts.
Shape shoulders
Cast off 8 sts at beg of next 4 rows. Cast off rem 16 sts.
"""
    report = rewrite(text, QUIET)
    told = [d.message for d in report.diagnostics if d.code == "inferred"]
    assert any("is a WS row: counting the rows" in message for message in told), told


def test_rows_that_cannot_be_counted_tell_nothing() -> None:
    # whether the first of "every other row" is the next one is not said
    rows = "Dec 1 st at neck edge every other row 9 times. 27 sts.\nWork 1 row."
    (found,) = [p for p in rewrite(FRONT.format(rows=rows), QUIET).passages if p.kind == "shoulder"]
    assert found.status == "rewritten", found.reason


def test_a_sloped_bind_off_is_named_and_left() -> None:
    text = """FRONT
Work straight until armhole measures 12 cm, ending with a RS row. 18 sts.
Right shoulder: Using the sloped method as on back, bind off 6 sts at beg of next 3 WS rows.
"""
    (found,) = rewrite(text, QUIET).passages
    assert found.status == "left"
    assert "a sloped bind-off" in (found.reason or "")


def test_a_count_behind_an_equals_sign_is_that_before_the_shoulder() -> None:
    text = """BACK
CO 82 sts. Work 8 rows in rib. Dec 2 sts evenly on last row = 80 sts.
Work even until piece measures 58 cm, ending with a WS row.
Shoulders: BO 8 sts at beg of next 6 rows. 34 sts. BO remaining sts for back neck.
"""
    (found,) = rewrite(text, QUIET).passages
    assert found.status == "question"
    assert "2 × 24 + 34 = 82, but 80 sts are on the needle" in (found.reason or "")


COLUMNS = """FRONT
Work as for back until armholes measure 4 ins.
Dec. 1 st. at neck edge on next 6    With No. 12 needles cast on 38
rows (17 sts. left).  Then work      sts. and rib for 2½ ins. straight.
straight  until  armhole  measures   Change to No. 9 needles and inc.
same  as  back,  ending at armhole   1 st. each end of every 6th row
edge.  Cast off 6 sts. at beg. of    until there are 58 sts. on needle.
next and foll. alt. row. Work 1 row. Work straight until sleeve measures
Cast off rem. 5 sts. and now turn.   13 ins. Cast off loosely in rib.
"""


def test_columns_copied_side_by_side_are_refused_with_the_reason() -> None:
    report = rewrite(COLUMNS, QUIET)
    assert report.output == COLUMNS
    assert report.passages
    assert all("two columns of a page" in (p.reason or "") for p in report.passages)


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        # the shoulders of both sides at once, the last step by what remains (common practice)
        (
            "Front\nNext row (RS): K30, place next 18 sts on holder, join a second ball and k to end.\n"
            "Working both sides at once, dec 1 st at each neck edge every row 10 times. 20 sts each side.\n"
            "Work even until armholes measure same as Back, ending with a WS row.\n"
            "Next 6 rows: BO 5 sts at beg of row.\nNext 2 rows: BO rem 5 sts at beg of row.\n",
            [5, 5, 5, 5],
        ),
        (
            "back - cast on 96, 2 inch of rib, then st st till it's 23 inches long. Finish on a purl row. "
            "Then for the shoulders cast off 8 at the start of every row till there's only 32 left, and put "
            "them on a stitch holder.\n",
            [8, 8, 8, 8],
        ),
        (
            "BACK\n62 sts. At 33 cm tot. height, bind off at each end of every 2 rows: 2 x 6 sts and "
            "1 x 7 sts. Bind off loosely the 24 rem sts in one go.\n",
            [6, 6, 7],
        ),
        (
            "FRONT\nBind off the 16 central sts and finish each side separately. Bind off on the "
            "neckline side every 2 rows: 1 time 4 sts, 1 time 3 sts. At 56 cm of total height, bind "
            "off on the armhole side every 2 rows, 2 times 7 sts and 1 time 8 sts.\n",
            [7, 7, 8],
        ),
    ],
)
def test_words_that_tell_a_shoulder(text: str, steps: list[int]) -> None:
    found = [p for p in rewrite(text, QUIET).passages if p.kind == "shoulder"]
    assert [n for row in found[0].edges[0].steps for n in row] == steps, found[0].reason
    assert found[0].status == "rewritten", found[0].reason
