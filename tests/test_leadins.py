"""Lead-ins: what they say of their last row moves one row down; what is not understood is asked."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options

SHOULDERS = "\nShape shoulders\nCast off 8 sts at beg of next 6 rows. Cast off rem 28 sts.\n"


@pytest.mark.parametrize(
    ("before", "after", "side"),
    [
        ("Work until armholes measure 20 cm, ending with a WS row.", "a RS row.", "RS"),
        (
            "Work for 20 cm, ending so that RS is facing for the next row.",
            "so that WS is facing for the next row.",
            "RS",
        ),
        (
            "Work until armholes measure 20 cm, with the right side towards you.",
            "the wrong side towards you.",
            "RS",
        ),
        ("Work for 20 cm. Right side is now facing.", "Wrong side is now facing.", "RS"),
        ("Work until armholes measure 20 cm, RSF for next row.", "WSF for next row.", "RS"),
        ("Work for 20 cm, last row = WS.", "last row = RS.", "RS"),
        (
            "Work for 20 cm, ending on a WS row ready for a RS row.",
            "a RS row ready for a WS row.",
            "RS",
        ),
        (
            "Work 59 more rows, ending with a WS row.",
            "Work 58 more rows, ending with a RS row.",
            "RS",
        ),
        ("Cont until armholes measure 20 cm, ending after a RS row.", "a WS row.", "WS"),
        ("Work in st st until armholes measure 8 in, ending with a purl row.", "a knit row.", "RS"),
        ("Work in st st until armholes measure 8 in, ending on a k row.", "a p row.", "WS"),
        (
            "Work until piece measures 56 cm, ending with RS facing for next row.",
            "WS facing for next row.",
            "RS",
        ),
        (
            "Cont until work measures 56 cm, with RS facing for next row.",
            "WS facing for next row.",
            "RS",
        ),
        ("Work until armholes measure 8 in, ready for a RS row.", "ready for a WS row.", "RS"),
        ("Work until armholes measure 20 cm, ready to begin a RS row.", "begin a WS row.", "RS"),
        (
            "Knit even until armhole is 8 inches, ending with a wrong-side row.",
            "a right-side row.",
            "RS",
        ),
        (
            "Cont until armholes measure 20 cm, the last row being a WS row.",
            "being a RS row.",
            "RS",
        ),
        (
            "Work until armholes measure 20 cm, having worked a WS row last.",
            "worked a RS row last.",
            "RS",
        ),
        (
            "Work until armholes measure 20 cm; the last row was worked from the WS.",
            "from the RS.",
            "RS",
        ),
        ("Work until armholes measure 20 cm, working last row on WS.", "last row on RS.", "RS"),
        ("Work 52 rows, ending with a WS row.", "Work 51 rows, ending with a RS row.", "RS"),
        ("52 rows even, end WS row.", "51 rows even, end RS row.", "RS"),
        (
            "Work in st st until armholes measure 8 in, purling the last row.",
            "knitting the last row.",
            "RS",
        ),
        ("Work 52 rows straight.", "Work 51 rows straight.", None),
        (
            "Work until 40 rows have been worked from beg of armhole, ending on wrong side.",
            "Work until 39 rows have been worked from beg of armhole, ending on right side.",
            "RS",
        ),
        ("Work 8 rows in moss stitch.", "Work 7 rows in moss stitch.", None),
        ("Cont until armholes measure 20 cm, ending with row 8 of patt.", "row 7 of patt.", None),
        ("Work until armholes measure 20 cm.", "Work until armholes measure 20 cm.", None),
    ],
)
def test_a_lead_in_moves_with_the_first_short_row(
    before: str, after: str, side: str | None
) -> None:
    report = rewrite(f"BACK\n{before}{SHOULDERS}")
    (passage,) = report.passages
    assert passage.status == "rewritten", passage.reason
    assert passage.edges[0].first_bind_off_side == side
    lead_in = report.output.splitlines()[1]
    assert lead_in.endswith(after)


def test_a_row_told_by_itself_becomes_the_first_short_row() -> None:
    report = rewrite(f"BACK\nWork until armholes measure 20 cm. Purl 1 row.{SHOULDERS}")
    assert "Purl 1 row" not in report.output
    assert report.output.startswith("BACK\nWork until armholes measure 20 cm.\nShape shoulders\n")


@pytest.mark.parametrize(
    "words",
    [
        "Work until armholes measure 20 cm and a wrong side row has been completed.",
    ],
)
def test_a_last_row_in_words_not_understood_is_asked_about(words: str) -> None:
    text = f"BACK\n{words}{SHOULDERS}"
    report = rewrite(text)
    assert report.output == text
    assert report.passages[0].status == "question"


@pytest.mark.parametrize(
    "told",
    [
        "As right front, with shapings reversed.",
        "As right front, reversing shapings.",
        "Work as for right front, with all shaping reversed.",
        "Foll instrs for right front, reversing all shapings.",
        "Work as a mirror image of right front.",
    ],
)
def test_the_front_told_by_the_other_is_told_which_rows_turn(told: str) -> None:
    text = f"""RIGHT FRONT
Straight until armhole measures 20 cm, ending with a RS row.
Shape shoulder
Cast off 6 sts at beg of next and foll alt row. Work 1 row. Cast off rem 6 sts.

LEFT FRONT
{told}
"""
    said = "end the straight rows before the shoulder with a RS row; the short rows are WS rows."
    assert rewrite(text).output.endswith(f"{told} On this front, {said}\n")


def test_a_last_row_told_by_its_stitch_alone_moves() -> None:
    text = (
        "BACK\nWork in stocking stitch until the armhole is nine inches deep, the last row being purl.\n"
        "To slope the shoulders, cast off 7 stitches at the beginning of the next 8 rows. Cast off.\n"
    )
    report = rewrite(text)
    assert "the last row being knit." in report.output
    assert report.passages[0].edges[0].first_bind_off_side == "RS"


def test_a_side_told_as_the_opposite_is_told_which_rows_turn() -> None:
    text = (
        "RIGHT FRONT\nWork in stocking stitch until armhole measures 20 cm, ending with a RS row. 24 sts.\n"
        "Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.\n\n"
        "LEFT FRONT\nKnit as the right front, but opposite.\n"
    )
    output = rewrite(text).output
    assert (
        "opposite. On this front, end the straight rows before the shoulder with a RS row;"
        in output
    )


LEFT = """LEFT FRONT
{lead}
Shape shoulder
At armhole edge cast off 7 sts on next and foll alt row.

RIGHT FRONT
{told}
"""


@pytest.mark.parametrize(
    ("lead", "revised"),
    [
        (
            "Straight in st st until armhole measures 20 cm.",
            "Straight in st st until armhole measures 20 cm, ending with a right side row.",
        ),
        (
            "Work 4 rows, ending after a RS row. Straight in st st until armhole measures 20 cm.",
            "until armhole measures 20 cm, ending after a RS row.",
        ),
        (
            "Work 4 rows, ending with RS facing for next row. Straight until armhole measures 20 cm.",
            "until armhole measures 20 cm, ending with WS facing for next row.",
        ),
        (
            "Work 3 ins., ending at the front edge. Straight until armhole measures 8 ins.",
            "until armhole measures 8 ins., ending at the neck edge.",
        ),
    ],
)
def test_a_lead_in_that_tells_a_length_alone_is_told_its_last_row(lead: str, revised: str) -> None:
    """The old steps stood at the armhole edge, which told it; the first short row begins at the other."""
    report = rewrite(LEFT.format(lead=lead, told="Work as left front, reversing shapings."))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert revised in report.output


def test_a_side_told_by_another_says_the_last_row_as_the_draft_does() -> None:
    lead = "Straight in st st until armhole measures 20 cm, ending with RS facing for next row."
    told = "Work as left front, reversing shapings."
    output = rewrite(LEFT.format(lead=lead, told=told)).output
    assert (
        f"{told} On this front, end the straight rows before the shoulder with RS facing for next row; "
        "the short row is a RS row." in output
    )


def test_a_number_of_rows_on_one_side_is_one_more_on_the_other() -> None:
    lead = "Rib straight to same number of rows as back to shoulder, ending at armhole edge."
    output = rewrite(LEFT.format(lead=lead, told="As left front, reversing all shapings.")).output
    assert "with a wrong side row, one row later than on the left front; the short row" in output


@pytest.mark.parametrize(
    ("told", "last"),
    [
        (
            "As left front, reversing shapings and making 3 buttonholes thus:\n"
            "Buttonhole row (RS): K2, k2tog, yfwd, k to end.",
            "k to end.",
        ),
        (
            "As left front, reversing shapings and making 3 buttonholes 4 cm apart. "
            "To make a buttonhole: k 2, cast off 2, work to end.",
            "work to end.",
        ),
    ],
)
def test_a_row_that_a_sentence_announces_stays_behind_it(told: str, last: str) -> None:
    lead = "Straight in st st until armhole measures 20 cm, ending with a WS row."
    output = rewrite(LEFT.format(lead=lead, told=told)).output
    # behind a row on a line of its own it stands on the next line
    assert f"{last} On this front, end the straight rows" in output.replace("\n", " ")


@pytest.mark.parametrize(
    ("edge", "ending"),
    [("armhole", "19 cm, ending at neck edge."), ("shoulder", "19 cm, ending at neck edge.")],
)
def test_a_length_alone_before_one_edge_without_a_side_names_the_edge(
    edge: str, ending: str
) -> None:
    """The first short row ends at the outer edge, on whichever side of the work that is."""
    draft = f"""FRONT
Knit 25 sts, leave rem sts on a holder. Dec 1 st at neck edge on next 3 rows. 24 sts.
Work until armhole measures 19 cm.
Starting at {edge} edge, cast off 8 sts every other row 3 times.
"""
    report = rewrite(draft)
    assert [e.first_bind_off_side for e in report.passages[0].edges] == [None]
    assert ending in report.output
    assert f"to last 8 sts at {edge} edge (marker), turn." in report.output


BOTH = """BACK
Cast on 80 sts. Work in st st until armholes measure 20 cm.
Shape shoulders
{first}ast off 8 sts at beg of next {rows} rows.
Cast off rem 32 sts.
"""


@pytest.mark.parametrize(
    ("first", "rows", "told"),
    [
        (
            "1st row (RS): Cast off 8 sts, k to end. 2nd row: Cast off 8 sts, p to end. Then c",
            4,
            True,
        ),
        ("C", 6, False),
    ],
)
def test_a_length_alone_before_two_edges_is_told_its_last_row_where_the_side_is_known(
    first: str, rows: int, told: bool
) -> None:
    """A label that names the side told where to stop; rows without one are true on either side."""
    draft = BOTH.format(first=first, rows=rows)
    report = rewrite(draft)
    assert [p.status for p in report.passages] == ["rewritten"]
    assert ("measure 20 cm, ending with a RS row." in report.output) is told
    assert any(d.code == "length-only" for d in report.diagnostics) is not told


def test_a_length_alone_is_told_its_last_row_where_the_side_was_answered() -> None:
    draft = BOTH.format(first="C", rows=6)
    report = rewrite(draft, Options(assume={"first-side": "RS"}))
    assert "measure 20 cm, ending with a right side row." in report.output
    assert not any(d.code == "length-only" for d in report.diagnostics)
