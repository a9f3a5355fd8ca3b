"""Rows told beside their steps, in tables, by number or by another row; and steps that lack a word."""

from __future__ import annotations

import pytest

from tests.onepassage import revised, steps

NINETEEN = (
    "LEFT FRONT\nWork even until armhole measures 8 in, ending after working a WS row. 19 sts.\n"
)


@pytest.mark.parametrize(
    "between",
    [
        "Purl the WS row after each. BO rem 7 sts",
        "Purl 1 row after each. BO rem 7 sts",
        "Purl every WS row. BO rem 7 sts",
        "Purl the rows in between. BO rem 7 sts on the foll RS row",
    ],
)
def test_the_plain_rows_between_steps_are_told_behind_them(between: str) -> None:
    found = revised(f"{NINETEEN}On next 2 RS rows, BO 6 sts at armhole edge. {between}.")
    assert [list(row) for row in found.passages[-1].edges[0].steps] == [[6], [6], [7]]
    assert found.passages[-1].status == "rewritten"
    assert "last-step-on-return-row" not in [d.code for d in found.diagnostics]


@pytest.mark.parametrize("label", ["Row 2 and Row 4", "Rows 2 & 4", "Row 2, row 4"])
def test_rows_are_named_one_by_one(label: str) -> None:
    rows = (
        f"Row 1 (RS): BO 6 sts at armhole, knit to neck edge.\n{label}: Purl.\nRow 3: As Row 1.\n"
    )
    assert steps(f"{NINETEEN}Shoulder\n{rows}Row 5: BO the last 7 sts.") == [6, 6, 7]


def test_bind_offs_under_the_heading_of_a_shoulder_are_never_passed_over() -> None:
    rows = "Row 1 (RS): BO 6 sts, knit to neck edge.\nRow 2: Frobnicate gently.\nRow 3: BO 7 sts, knit."
    found = revised(f"{NINETEEN}Shoulder\n{rows}")
    assert [p.status for p in found.passages] == ["question"]


@pytest.mark.parametrize("row", ["next RS row", "next alt row"])
def test_the_one_after_that_is_a_row_like_the_one_before(row: str) -> None:
    told = (
        f"{NINETEEN}At the start of the {row} BO 10 sts, and at the start of the one after that BO the "
        "last 9 sts."
    )
    assert steps(told) == [10, 9]
    assert "last-step-on-return-row" not in [d.code for d in revised(told).diagnostics]


@pytest.mark.parametrize(
    "numbers",
    [
        "From the armhole edge, on every 2nd row: 7, 6 and 6 sts.",
        "On every 2nd row 1 x 7 and 2 x 6 sts.",
    ],
)
def test_numbers_without_a_verb_belong_to_the_one_before(numbers: str) -> None:
    told = f"LEFT FRONT\n= 19 sts.\nWhen the armhole is 8 in deep, also bind off for the shoulder. {numbers}"
    assert steps(told) == [7, 6, 6]
    assert "8 in deep, ending with a right side row, shape the shoulder:" in (
        revised(told).output or ""
    )


def test_a_length_that_begins_the_shoulders_stands_in_a_sentence_of_its_own() -> None:
    told = (
        "BACK\n= 68 sts.\nFor the armholes bind off on both sides in every 2nd row 1 x 4 and 1 x 3 sts "
        "= 54 sts.\nAt a height of 57 cm from the cast-on edge begin the shoulders.\nFor the shoulder "
        "bevels bind off on both sides in every 2nd row 2 x 7 and 1 x 6 sts.\nBind off the rem 14 sts."
    )
    last = revised(told).passages[-1]
    assert (last.kind, last.status) == ("shoulder", "rewritten")
    assert [list(row) for row in last.edges[0].steps] == [[7], [7], [6]]


def test_steps_on_the_rows_that_begin_at_the_armhole_are_not_the_neck_s() -> None:
    """A band goes on when the shoulder of a left front is bound off; the heading before is the neck's."""
    told = (
        "LEFT FRONT\nFront slope: dec 1 st before the band on every RS row until 27 sts remain.\nContinue "
        "until the armhole measures 8 inches, ending with a WS row.\nBO 7 sts at the beginning of the next "
        "two RS rows, then BO 5 sts at the beginning of the RS row after that. 8 sts remain.\nKeep going on "
        "these 8 sts for 3 inches.\n"
    )
    last = revised(told).passages[-1]
    assert (last.kind, last.status) == ("shoulder", "rewritten"), last.reason


TRIPLES = "Notation: rows - sts - times (2-6-2 is 6 sts on every 2nd row, 2 times)\n"


@pytest.mark.parametrize("explained", [True, False])
def test_rows_sts_and_times_in_one_are_read_where_the_draft_explains_them(explained: bool) -> None:
    told = (
        f"{TRIPLES if explained else ''}BACK\n= 52 sts. Work until the armhole measures 20 cm, ending with a "
        "WS row.\nShoulders: bind off at each side 2-6-2, 2-7-1. Bind off the remaining 14 sts.\n"
    )
    found = revised(told).passages[-1]
    if explained:
        assert [list(row) for row in found.edges[0].steps] == [[6], [6], [7]]
    assert (found.status == "rewritten") == explained


def test_rows_in_a_table_begin_their_lines() -> None:
    told = (
        "BACK\n95th row          Stocking stitch.                             (56)\n"
        "96th row          P.                                           (56)\n"
        "97th row          Cast off 8, K. to end.                       (48)\n"
        "98th row          Cast off 8, P. to end.                       (40)\n"
        "99th row          As 97th.                                     (32)\n"
        "100th row         As 98th.                                     (24)\n"
        "101st row         Slip all on to a length of wool.\n"
    )
    assert [p.kind for p in revised(told).passages if p.status != "left"] == ["shoulder"]


def test_a_total_behind_decreases_counts_the_sts_before_the_shoulder() -> None:
    told = (
        "FRONT\nOn 60 sts decrease 1 st at neck edge every other row 8 times, 52 sts. Work even till "
        "sleeve edge measures 6 ins.\nBind off from sleeve edge 10 sts every other row 4 times, then 6 "
        "sts every other row twice.\n"
    )
    last = revised(told).passages[-1]
    assert (last.kind, last.status, last.stitches_before) == ("shoulder", "rewritten", (52,))


def test_sleeves_knitted_on_under_a_heading_of_their_own_are_asked_about() -> None:
    told = (
        "BACK. Cast on 80 sts and work 8 ins.\nSLEEVES. Cast on 6 sts at beginning of each of next 10 "
        "rows, 140 sts. Work even till sleeve edge measures 6 ins. Bind off 10 sts at beginning of each "
        "of next 8 rows, then bind off 6 sts at beginning of each of next 4 rows. Slip remaining 36 sts "
        "to a holder.\n"
    )
    found = revised(told)
    assert [q.ask for q in found.questions] == ["kind"]


@pytest.mark.parametrize(
    "told",
    [
        "Shoulder slope at armhole edge, from row 139: 2 x 7, 1 x 8 sts.",
        "Cast off from the armhole side as many as you like, a plain row between.",
    ],
)
def test_a_shoulder_that_lacks_its_verb_or_its_numbers_is_never_passed_over(told: str) -> None:
    found = revised(
        f"LEFT FRONT\n= 22 sts. Work straight until the front matches the back.\n{told}\n"
    )
    assert [p.status for p in found.passages] == ["question"]


def test_what_is_left_is_cast_off_by_the_word_rest_alone() -> None:
    rows = "Next row: Cast off 7 sts, k rest.\nNext row: P.\n" * 2
    assert steps(f"{NINETEEN}Shoulder\n{rows}Cast off rest.") == [7, 7, 5]


def test_the_side_by_which_another_shoulder_is_told_follows_or_is_named_in_a_remark() -> None:
    told = (
        f"FRONT\nLeft shoulder\n{NINETEEN.split(chr(10), 1)[1]}Cast off 7 sts at beg of next 2 RS rows, then "
        "5 sts at beg of foll RS row.\nRight shoulder\nWork straight until armhole measures the same as left "
        "side, ending with a RS row.\nShape as for left shoulder, but on WS rows.\n"
    )
    assert (
        "ending with a WS row.\nShape as for left shoulder, but with the short rows on RS rows."
        in (revised(told).output)
    )
    # the row before has words of its own: it cannot be said which row turns
    found = revised(
        told.replace("ending with a RS row.", "ending with a WS row. K 1 row, dec 1 st.")
    )
    assert found.passages[-1].status == "rewritten"
    (warned,) = [d for d in found.diagnostics if d.code == "leans-on-short-rows"]
    assert "on the other side" in warned.message
