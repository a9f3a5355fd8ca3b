"""Steps that share out a number told in all, rows told by those before them, words of old magazines."""

from __future__ import annotations

import pytest

from tests.onepassage import passage, revised, steps

BACK = "BACK\n80 sts. Work in stocking stitch for 20 cm, ending with a WS row.\nShape shoulders\n"
LEFT = (
    "LEFT FRONT\n20 sts. Work in stocking stitch for 20 cm, ending with a WS row.\nShape shoulder\n"
)
RIGHT = "RIGHT FRONT\n20 sts. Work in stocking stitch for 20 cm, ending with a RS row.\nShape shoulder\n"
HELD = " Leave rem 40 sts on a holder."


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("in two steps: 10 sts at once, the other 10 sts in the next right side row.", [10, 10]),
        (
            "in three steps: 7 sts in the next row, 7 sts in the 2nd following row, the last 6 sts 2 "
            "rows later.",
            [7, 7, 6],
        ),
        ("in three steps: 7, 7 and 6 sts.", [7, 7, 6]),
        ("in every 2nd row in three steps: 7, 7 and 6 sts.", [7, 7, 6]),
        ("in two steps of 10 sts, in every 2nd row.", [10, 10]),
        (
            "in 3 goes: 7 sts on next row, 7 sts on foll RS row, the remaining 6 on the RS row after "
            "that.",
            [7, 7, 6],
        ),
    ],
)
def test_steps_share_out_the_sts_told_in_all(told: str, expected: list[int]) -> None:
    assert steps(LEFT + "Bind off the 20 shoulder sts at the armhole edge " + told) == expected


@pytest.mark.parametrize(
    "told",
    [
        "in two steps: 10 sts at once, the other 9 sts in the next right side row.",
        "in three steps: 10 sts at once, the other 10 sts in the next right side row.",
        "in two steps of 9 sts, in every 2nd row.",
    ],
)
def test_steps_that_are_not_the_number_told_in_all_are_asked_about(told: str) -> None:
    found = passage(LEFT + "Bind off the 20 shoulder sts at the armhole edge " + told)
    assert found.status == "question"


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        (
            "Bind off 7 sts at beg of next 2 rows. Do that again on the 2 rows after that. Then bind "
            "off 6 at beg of the 2 rows after that.",
            [7, 7, 6],
        ),
        ("Bind off 7 sts at beg of next 2 rows. Do the same on the next 4 rows.", [7, 7, 7]),
        ("Bind off 9 sts at beg of next 2 rows. Do it again on the next two rows.", [9, 9]),
        (
            "Bind off on both sides 8 sts, then in the 2nd following row again 7 sts and in the 2nd "
            "row thereafter 5 sts.",
            [8, 7, 5],
        ),
        (
            "Bind off on both sides the 20 shoulder sts in two steps: 10 sts at once and the other 10 "
            "sts in the 2nd following row.",
            [10, 10],
        ),
    ],
)
def test_rows_are_told_by_those_before_them(told: str, expected: list[int]) -> None:
    rest = 80 - 2 * sum(expected)
    assert steps(BACK + told + HELD.replace("40", str(rest))) == expected


def test_what_is_done_again_fills_the_rows_that_are_told() -> None:
    told = "Bind off 7 sts at beg of next 2 rows. Do that again on the next 3 rows."
    assert passage(BACK + told + HELD).status == "question"


@pytest.mark.parametrize("words", ["knitting the RS rows plain", "working all RS rows even"])
def test_the_first_of_two_rows_to_repeat_is_the_plain_one_before(words: str) -> None:
    told = "Next row (WS): Bind off 7 sts, p to end. Rep last 2 rows once more"
    end = " K 1 row. Bind off rem 6 sts."
    assert steps(f"{RIGHT}{told}, {words}.{end}") == [7, 7, 6]
    assert passage(f"{RIGHT}{told}.{end}").status == "question"
    assert passage(f"{RIGHT}{told}, {words.replace('RS', 'WS')}.{end}").status == "question"


def test_short_words_cast_off_where_casting_on_is_written_apart() -> None:
    rest = "Shape shoulders\nC.o. 7 at beg of next 4 rows, 6 at beg of next 2 rows. C.o. rem.\n"
    work = "Work in stocking stitch for 20 cm, ending with a WS row. 80 sts.\n"
    assert steps(f"BACK\nC.on 80 sts. {work}{rest}") == [7, 7, 6]
    assert passage(f"BACK\nC.o. 80 sts. {work}{rest}").status == "question"


def test_numbered_rows_tell_sides_and_the_last_row_before_them() -> None:
    report = revised(
        "FRONT\nKnitted in stocking stitch.\nRow 37 (RS): Knit 20, turn.\nKnit even to row 54. (20 sts)\n"
        "Shape shoulder\nBind off 7 sts at beginning of rows 55 and 57, and 6 sts on row 59."
    )
    (found,) = report.passages
    assert (found.status, found.edges[0].first_bind_off_side) == ("rewritten", "RS")
    assert "Knit even to row 53." in report.output


def test_the_edge_where_the_knitter_sits_moves_with_the_side_that_faces() -> None:
    told = (
        "LEFT FRONT\n20 sts. Knit on in stockinette until it's as tall as the back and you're at the "
        "armhole edge with the right side facing you.\nIt's 7 stitches bound off at the start of this "
        "row, 7 at the start of the next right side row and the last 6 on the right side row after that."
    )
    assert steps(told) == [7, 7, 6]
    assert "at the neck edge with the wrong side facing you" in revised(told).output


def test_steps_told_as_those_of_another_piece_are_asked_about() -> None:
    told = "FRONT\n20 sts. Work until as long as the back.\nShape shoulder\nBind off the 20 sts in as many "
    assert passage(told + "goes as on the back, starting from the armhole.").status == "question"


def test_the_next_step_of_a_numbered_list_keeps_its_line() -> None:
    long = (
        "   and these words go on over several lines, as lists of steps do in a\n   narrow column,"
    )
    text = (
        f"LEFT FRONT\n1.  20 sts. Work in stocking stitch for 20 cm, ending with a WS row\n{long}\n{long}\n"
        f"{long}\n   with care.\n2.  Shape shoulder: bind off 10 sts at beg of next and foll RS row.\n"
        "3.  Fasten off."
    )
    assert "\n3.  Fasten off." in revised(text).output


WHOLE = "LEFT FRONT\nCast on 30 sts. Work until front measures 25 cm, ending with a WS row.\nShape shoulder\n"


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        (
            "Cast off the 24 shoulder sts at the armhole edge on every RS row: 2x 9 and 1x 6 sts.",
            [9, 9, 6],
        ),
        (
            "Cast off the 24 shoulder sts at the armhole side, on every right-side row: 3 x 8 sts.",
            [8, 8, 8],
        ),
        (
            "Cast off the 24 sts of the shoulder at the armhole edge as follows: 8 sts at beg of next "
            "and foll 2 alt rows.",
            [8, 8, 8],
        ),
        (
            "Bind off the 24 shoulder sts at beg of RS rows: 9 sts once and 5 sts 3 times.",
            [9, 5, 5, 5],
        ),
        ("Bind off the rem 24 sts at armhole edge on every other row: 9, 8, 7 sts.", [9, 8, 7]),
        (
            "At armhole edge cast off these 24 sts on every 2nd row as follows: 3 x 8 sts.",
            [8, 8, 8],
        ),
        (
            "Bind off all 24 sts at armhole edge on every 2nd row: 9 sts once, 5 sts 3 times.",
            [9, 5, 5, 5],
        ),
    ],
)
def test_sts_told_in_all_are_those_of_the_steps_behind_the_colon(
    told: str, expected: list[int]
) -> None:
    assert steps(WHOLE + told) == expected


@pytest.mark.parametrize(
    "told",
    [
        "Cast off the 24 shoulder sts at the armhole edge on every RS row: 2 x 8 sts and 1 x 9 sts.",
        "Cast off the 8 shoulder sts at the armhole edge on every RS row: 2 x 8 sts and 1 x 9 sts.",
        "Cast off the 25 sts of the shoulder at the armhole edge as follows: 8 sts at beg of next and "
        "foll 2 alt rows.",
    ],
)
def test_steps_that_do_not_make_the_sts_told_in_all_are_asked_about(told: str) -> None:
    found = passage(WHOLE + told)
    assert found.status == "question"
    assert "but the steps told are not as many" in (found.reason or "")
