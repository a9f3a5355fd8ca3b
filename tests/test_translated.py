"""Shoulders as translated houses tell them: steps, sizes and rows in the idiom of other languages."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import Report

QUIET = Options(markers=False)

DIVIDED = """Sizes: 36/38 (40/42) 44/46
BACK
{before}At 20 (21) 22 cm armhole height bind off for the shoulder slope at both sides in \
every 2nd row 3 x 7 (3 x 8) 3 x 9 sts. {neck}
"""
COUNTED = "= 76 (84) 92 sts. "


def rewritten(text: str) -> Report:
    return rewrite(text, QUIET)


def steps(report: Report, passage: int = -1) -> list[tuple[int, ...]]:
    """Return the steps of the first edge of a passage, for each size."""
    edge = report.passages[passage].edges[0]
    return [tuple(n for n in size if n) for size in zip(*edge.steps, strict=True)]


@pytest.mark.parametrize(
    "neck",
    [
        "For the neck opening bind off in the 1st row of the shoulder slope the middle 24 (26) 28 sts and "
        "finish both sides separately; bind off at the inner edge in the following 2nd row 1 x 5 sts.",
        "At the same time as the 1st cast-off of the shoulders bind off the central 24 (26) 28 sts and finish "
        "each side separately, binding off 2 rows later on the neck side 1 time 5 sts.",
        "Simultaneously with the 1st shoulder bind-off bind off the middle 24 (26) 28 sts, knit both halves "
        "separately and bind off at the neck edge in the next 2nd row 5 sts once.",
        "Together with the beginning of the shoulder slopes bind off the middle 24 (26) 28 sts and continue both "
        "sides separately. To round the neck bind off at the inner edge 2 rows higher 1 x 5 sts.",
    ],
)
def test_a_neck_bound_off_with_the_first_step_is_spelled_out_for_both_halves(neck: str) -> None:
    report = rewritten(DIVIDED.format(before=COUNTED, neck=neck))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert steps(report) == [(7, 7, 7), (8, 8, 8), (9, 9, 9)]
    rows = [line for line in report.output.splitlines() if line.startswith("Next row")]
    # row 0 waits for 7 sts at one edge, works 14 to the neck and 5 that go at the neck
    assert rows[0] == "Next row: Work to last 7 (8) 9 sts, turn."
    assert "until there are 26 (29) 32 sts on right needle (the 7 (8) 9 unworked" in rows[1]
    assert "bind off the middle 24 (26) 28 sts, work to last 7 (8) 9 sts, turn." in rows[1]
    # the half that goes on has its neck step 2 rows after the centre, the one that waits in the row behind it
    neck_row = (
        "Next row: Bind off 5 sts at neck edge, work to last 14 (16) 18 sts at armhole edge, turn."
    )
    assert rows.index(neck_row) == 3
    again = report.output.index("rejoin yarn at neck edge.")
    assert report.output[again:].splitlines()[1] == neck_row


def test_a_neck_bound_off_with_the_second_step() -> None:
    neck = (
        "At the same time with the 2nd shoulder bind-off bind off the middle 28 (30) 32 sts and finish both sides "
        "separately; bind off at the inner edge in the following 2nd row 1 x 3 sts."
    )
    report = rewritten(DIVIDED.format(before=COUNTED, neck=neck))
    assert report.passages[0].status == "rewritten"
    rows = [line for line in report.output.splitlines() if line.startswith("Next row")]
    assert "until there are 24 (27) 30 sts on right needle (the 14 (16) 18 unworked" in rows[3]
    assert (
        rows[5] == "Next row: Bind off 3 sts at neck edge, work to end, working each DS as one st."
    )


NECK = (
    "At the same time with the 1st shoulder bind-off bind off the middle 24 (26) 28 sts and finish both sides "
    "separately; bind off at the inner edge {rows}1 x {n} sts."
)


@pytest.mark.parametrize(
    ("before", "rows", "n", "why"),
    [
        ("", "in the following 2nd row ", 5, "stitch count"),  # no count tells the rows
        (COUNTED, "in the following 2nd row ", 4, "sts are on the needle"),  # 74 sts, not 76
        (COUNTED, "", 5, "not told"),  # in which row?
        (COUNTED, "in the frilly row ", 5, "frilly"),
    ],
)
def test_a_neck_with_a_step_is_a_question_where_rows_or_sums_do_not_tell(
    before: str, rows: str, n: int, why: str
) -> None:
    text = DIVIDED.format(before=before, neck=NECK.format(rows=rows, n=n))
    report = rewritten(text)
    assert report.output == text
    assert [p.status for p in report.passages] == ["question"]
    assert why in (report.passages[0].reason or "")


ONE_SIZE = """BACK
Cast on 90 sts. = 84 sts. At 20 cm armhole height{lead} {told}
"""


@pytest.mark.parametrize(
    "told",
    [
        "bind off at each side, always at the beginning of the rows, 8 sts, 8 sts and again 8 sts; then bind off in "
        "a single time the 36 sts of the neck.",
        "bind off at both sides 8 sts for the shoulders 3 times. Bind off the remaining 36 sts.",
        "bind off for the shoulders at both sides, at the beginning of every row, 8 sts 6 times. Put the remaining "
        "36 sts on a thread.",
        "bind off for the shoulders at both sides 8 sts, then in every 2nd row 2 x 8 sts. Bind off the remaining 36 sts.",
        "bind off for the shoulders on each side on every 2nd row 8,8,8 sts. Bind off the remaining 36 sts.",
        "bind off for the shoulders on each side on every 2nd row 8+8+8 sts. Bind off the remaining 36 sts.",
        "bind off the 24 sts of each shoulder at the armhole edges, on every 2nd row, in three equal parts. Bind off "
        "the remaining 36 sts.",
    ],
)
def test_steps_at_both_sides(told: str) -> None:
    report = rewritten(ONE_SIZE.format(lead="", told=told))
    assert report.passages[-1].status == "rewritten", report.passages[-1].reason
    assert steps(report) == [(8, 8, 8)]
    assert "Bind off 24 sts" in report.output


def test_parts_that_do_not_come_out_even_are_asked_about() -> None:
    told = (
        "shape the shoulders: bind off the 25 sts of each shoulder at the armhole edges, on every 2nd row, in four "
        "parts about equally large. Bind off the remaining 34 sts."
    )
    report = rewritten(ONE_SIZE.format(lead=",", told=told))
    assert report.passages[-1].status == "question"
    assert "25 sts are to be bound off in 4 steps" in (report.passages[-1].reason or "")


@pytest.mark.parametrize(
    ("lead", "moved"),
    [
        (", after a return row,", ", after an outward row,"),
        (", last row = wrong side,", ", last row = right side,"),
        (" = 56 rows from the rib", " = 55 rows from the rib"),
        (", last row = back of the work,", ", last row = front of the work,"),
    ],
)
def test_a_lead_in_moves_in_its_own_words(lead: str, moved: str) -> None:
    told = "bind off for the shoulders at both sides in every 2nd row 3 x 8 sts. Bind off the remaining 36 sts."
    report = rewritten(ONE_SIZE.format(lead=lead, told=told))
    assert report.passages[-1].status == "rewritten", report.passages[-1].reason
    assert moved.rstrip(",") in report.output


THREE = """Sizes: {sizes}
BACK: Cast on 90 sts. There remain {counts} sts. At {heights} cm total height cast off on each side, every 2 \
rows, {steps}. Cast off the remaining {neck} sts.
"""


@pytest.mark.parametrize(
    ("sizes", "told"),
    [
        (
            "a) 36 - b) 38 - c) 40",
            "a) 3 times 8 sts - b) 2 times 9 sts, 1 time 8 sts - c) 3 times 10 sts",
        ),
        ("36 (38, 40)", "3 x 8 sts (2 x 9 and 1 x 8 sts, 3 x 10 sts)"),
        ("36 (38 - 40)", "3x8 (2x9 and 1x8 - 3x10) sts"),
        ("36 (38 - 40)", "8,8,8 (9,9,8 - 10,10,10) sts"),
        ("36 (38) 40", "8, 8 and 8 (9, 9 and 8) 10, 10 and 10 sts"),
        ("36 (38) 40", "8 sts 3 times (9 sts twice and 8 sts once) 10 sts 3 times"),
    ],
)
def test_steps_in_a_phrase_a_size(sizes: str, told: str) -> None:
    def each(*values: int) -> str:
        one, two, three = values
        if "a)" in sizes:
            return f"a) {one} - b) {two} - c) {three}"
        return sizes.replace("36", str(one)).replace("38", str(two)).replace("40", str(three))

    text = THREE.format(
        sizes=sizes,
        counts=each(84, 90, 98),
        heights=each(60, 61, 62),
        steps=told,
        neck=each(36, 38, 38),
    )
    report = rewritten(text)
    assert report.passages[-1].status == "rewritten", report.passages[-1].reason
    assert steps(report) == [(8, 8, 8), (9, 9, 8), (10, 10, 10)]
    assert f"Work to last {each(8, 9, 10)} sts" in report.output


def test_a_list_that_may_go_on_from_steps_of_all_sizes_is_asked_about() -> None:
    text = "Sizes: 36 (38) 40\nBACK\nAt 20 cm armhole height bind off for the shoulders at both sides in every 2nd row {}.\n"
    assert (
        rewritten(text.format("1 x 9, 2 x 8 (2 x 9) 2 x 10 sts")).passages[0].status == "question"
    )
    told = rewritten(text.format("1 x 9, then 2 x 8 (2 x 9) 2 x 10 sts"))
    assert steps(told) == [(9, 8, 8), (9, 9, 9), (9, 10, 10)]


def test_a_row_at_the_neck_takes_the_first_turn_of_steps_told_at_the_same_time() -> None:
    text = """BACK
Work until the armhole measures 20 cm. Now bind off the middle 34 sts for the neck and finish each side separately. \
{neck} At the same time slope the shoulder by binding off from the armhole side on every 2nd row 10,10,9 sts.
"""
    report = rewritten(
        text.format(neck="Bind off 2 more sts at the neck on the next row from the neck side.")
    )
    assert "on the next row from the neck side, work to last 10 sts, turn." in report.output
    report = rewritten(text.format(neck="Bind off at the neck edge on every 2nd row 2 sts once."))
    assert (
        "Next row: Bind off 2 sts at neck edge, work to last 10 sts at armhole edge, turn."
        in report.output
    )
    more = text.format(neck="Bind off at the neck edge on every 2nd row 2 sts twice.")
    assert rewritten(more).output == more


@pytest.mark.parametrize(
    ("piece", "edge", "side"),
    [("LEFT", "at the right, at the beginning of the outward rows,", "RS"),
     ("RIGHT", "at the left edge, thus at the beginning of the return rows,", "WS")],
)  # fmt: skip
def test_rows_named_by_the_way_they_go(piece: str, edge: str, side: str) -> None:
    text = f"{piece} FRONT\n= 24 sts. At 20 cm armhole height bind off for the shoulder {edge} 8 sts, 8 sts and 8 sts.\n"
    report = rewritten(text)
    assert steps(report) == [(8, 8, 8)]
    assert report.passages[0].edges[0].first_bind_off_side == side


def test_to_return_to_sts_names_no_row() -> None:
    text = "BACK\nReturn to the sts on the holder. Bind off 8 sts at beg of next 6 rows. Bind off rem 28 sts.\n"
    assert rewritten(text).passages[0].edges[0].first_bind_off_side is None


def test_a_side_that_leans_on_the_back_is_named() -> None:
    text = """BACK
= 84 sts. At 20 cm armhole height bind off for the shoulders at both sides in every 2nd row 3 x 8 sts. Bind off the \
remaining 36 sts.
FRONT
Bind off the middle 20 sts for the neck and finish both sides separately. Slope the shoulder as on the back.
"""
    report = rewritten(text)
    assert "leans-on-short-rows" in {d.code for d in report.diagnostics}


LEFT_FRONT = "Sizes S (M) L.\n\nLEFT FRONT\nCast on 40 (43) 46 sts. Work in st st.\n{told}\n"
LISTED = "bind off for the shoulder at the right edge in every 2nd row 2 x 5 and 1 x 6 sts (3 x 6 sts) 3 x 7 sts."


@pytest.mark.parametrize(
    "height",
    [
        "At the height of the back",
        "At the total height of the back",
        "At back height",
        "At the back's height",
        "On reaching the height of the back piece,",
        "When the front has reached the height of the back,",
        "At an equal height to the back",
        "Level with the back,",
    ],
)
def test_the_height_of_the_back_tells_where_a_shoulder_begins(height: str) -> None:
    report = rewritten(LEFT_FRONT.format(told=f"{height} {LISTED}"))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert steps(report) == [(5, 5, 6), (6, 6, 6), (7, 7, 7)]


INWARDS = """Sizes S (M) L.

BACK
Work in st st until armhole measures 18 (19) 20 cm, ending with a WS row. 60 (64) 68 sts.
Shape shoulders
{told}
Put the remaining 30 (32) 32 sts on a thread.
"""


@pytest.mark.parametrize(
    "told",
    [
        "Bind off at the beginning of every row, from the outer edge and inwards in both sides, {steps}.",
        "Bind off at the beginning of each row, at both sides from the armhole inwards: {steps}.",
        "Bind off on every row from the armhole edge towards the neck {steps} at each side.",
        "Counting from the outer edge inwards, bind off at both sides at the beginning of every row {steps}.",
        "At both sides, from the armhole edge and in towards the neck, bind off {steps} on every 2nd row.",
    ],
)
def test_steps_that_go_inwards_from_an_edge_are_those_of_the_edge(told: str) -> None:
    report = rewritten(INWARDS.format(told=told.format(steps="5-5-5 (5-5-6) 6-6-6 sts")))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert steps(report) == [(5, 5, 5), (5, 5, 6), (6, 6, 6)]


PORTIONS = """Sizes S (M) L

BACK
Cast on 108 (116) 124 sts. Work stockinette.
{told}
The remaining 38 (40) 42 sts are put on a thread.
"""


@pytest.mark.parametrize(
    "told",
    [
        "At 64 (66) 68 cm the outermost 35 (38) 41 sts in each side are bound off for shoulder, in 3 portions.",
        "At 64 cm the shoulder stitches are bound off in two parts.",
        "Shoulders are cast off in three goes.",
        "At 64 cm bind off for the shoulders in thirds: 35 (38) 41 sts in each side.",
        "Bind off 35 (38) 41 sts at the beg of the next 2 rows for the shoulders.\n(Should you like a slope "
        "better, bind off each shoulder in two goes.)",
    ],
)
def test_portions_that_are_not_told_are_asked_about(told: str) -> None:
    found = rewritten(PORTIONS.format(told=told)).passages
    assert any("how many in each" in (p.reason or "") for p in found if p.status == "question")
    assert not [p for p in found if p.status == "rewritten"]


def test_an_aside_in_brackets_belongs_to_no_steps() -> None:
    told = (
        "Bind off 35 (38) 41 sts at the beg of the next 2 rows for the shoulders.\n"
        "(Should you like a slope better, bind off each shoulder in two goes.)"
    )
    square, aside = rewritten(PORTIONS.format(told=told)).passages
    assert (square.status, aside.status) == ("left", "question")
    assert "one step" in (square.reason or "")
