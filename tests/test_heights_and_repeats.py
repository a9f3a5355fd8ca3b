"""Heights told in rows, repeats with another number of sts, lots, both sides of a neck in work at once."""

from __future__ import annotations

import pytest

from tests.onepassage import passage, revised, steps

BACK = "BACK\nWork until armhole measures 20 cm, ending with a WS row. 62 sts.\nShape shoulders: "
REST = " Bind off rem 30 sts."
SLOPE = (
    "BACK\nCast on 62 sts.\nShoulder slope, both edges: bind off on every 2nd row 2x5, 1x6 "
    "(each side {each} sts). Bind off rem 30 sts."
)


@pytest.mark.parametrize(
    ("told", "left"),
    [
        ("after 142 rows from the rib bind off on both sides", "after 141 rows from the rib"),
        ("when the work reaches 96 rows, bind off on both sides", "reaches 95 rows"),
        ("bind off on both sides after 60 rows", "For the shoulders, after 59 rows:"),
        ("at a height of 58 rows bind off on both sides", "at a height of 57 rows"),
    ],
)
def test_a_height_in_rows_is_one_row_less(told: str, left: str) -> None:
    steps_told = "1x 5 sts, then in every 2nd row 1x 5 and 1x 6 sts."
    text = f"BACK\nCast on 62 sts. For the shoulders {told} {steps_told}{REST}"
    report = revised(text)
    assert [p.status for p in report.passages] == ["rewritten"]
    assert left in report.output


def test_few_rows_before_a_bind_off_are_still_asked_about() -> None:
    told = "after 2 rows bind off on both sides 1x 5 sts, then in every 2nd row 1x 5 and 1x 6 sts."
    assert passage(f"BACK\nCast on 62 sts. For the shoulders {told}{REST}").status == "question"


def test_steps_from_a_row_by_its_number() -> None:
    text = (
        "BACK\nCast on 62 sts. Straight to row 54.\nShoulder drop: from row 55 bind off at each "
        f"armhole side on every 2nd row 2x5 and 1x6.{REST}"
    )
    report = revised(text)
    assert [n for row in report.passages[0].edges[0].steps for n in row] == [5, 5, 6]
    assert "Straight to row 53." in report.output


def test_edges_named_behind_a_heading_are_both_shaped() -> None:
    text = SLOPE.format(each=16)
    assert len(passage(text).edges) == 2


def test_a_sum_that_fails_stops_a_passage() -> None:
    text = SLOPE.format(each=17)
    assert passage(text).status == "question"


@pytest.mark.parametrize(
    "told",
    [
        "Rep last 2 rows once more. Rep last 2 rows once, binding off 6 sts instead of 5.",
        "Do both of those again. Then one last time, but bind off 6 instead of 5 each time.",
        "Rep these 2 rows once more. Work these 2 rows again, but bind off 6 sts each time.",
    ],
)
def test_a_repeat_may_bind_off_another_number(told: str) -> None:
    assert steps(
        f"{BACK}Bind off 5 sts, k to end. Turn it around, bind off 5 sts, p to end. {told}{REST}"
    ) == [
        5,
        5,
        6,
    ]


def test_a_repeat_that_names_another_number_than_there_was_is_asked_about() -> None:
    told = "Bind off 5 sts, k to end. Bind off 5 sts, p to end. "
    told += "Rep last 2 rows twice, binding off 6 sts instead of 4."
    assert passage(f"{BACK}{told}{REST}").status == "question"


@pytest.mark.parametrize("verb", ["get rid of the sts", "dispose of the sts", "cast off"])
def test_lots_of_so_many_sts(verb: str) -> None:
    told = f"At armhole edge {verb} in three lots of 8, with a row worked between one lot and the next."
    text = (
        f"LEFT FRONT\nWork straight until armhole measures 20 cm. 24 sts.\nShape shoulder: {told}"
    )
    assert steps(text) == [8, 8, 8]


NECK = (
    "FRONT\nWork until armholes measure 14 cm, ending with a WS row. 80 sts.\nNext row (RS): K 32, join a "
    "second ball, bind off centre 16 sts, k to end. {sides} dec 1 st at each neck edge every RS row 8 times. "
    "24 sts each side.\nWork even until armholes measure 20 cm, ending with a WS row.\nShape shoulders: "
    "{told}"
)


@pytest.mark.parametrize(
    "told",
    [
        "bind off 8 sts at armhole edge every other row 3 times.",
        "at the shoulder edge of each half bind off 8 sts 3 times.",
        "every time you start a row at an armhole, bind off 8 sts 3 times.",
    ],
)
def test_both_sides_at_once_are_both_shaped(told: str) -> None:
    found = passage(NECK.format(sides="Working both sides at once,", told=told))
    assert found.status == "rewritten", found.reason
    assert [edge.steps for edge in found.edges] == [((8,), (8,), (8,))] * 2


def test_one_edge_of_two_sides_at_once_is_asked_about() -> None:
    told = "bind off 8 sts at armhole edge on next row and foll 2 alt rows."
    found = passage(NECK.format(sides="Working both sides at once,", told=told))
    assert found.status == "question"


def test_a_side_that_contradicts_the_stitch_of_its_rows_is_asked_about() -> None:
    text = (
        "BACK\nWork in stocking stitch until armholes measure 20 cm, finishing after a knit row. 62 sts.\n"
        "Shape shoulders\n1st row: Cast off 8, knit to end.\n2nd row: Cast off 8, purl to end.\n"
        "3rd and 4th rows: As 1st and 2nd.\nCast off rem 30 sts."
    )
    assert passage(text).status == "question"


def test_decreases_said_to_end_on_the_row_before_are_no_straight_rows() -> None:
    text = (
        "LEFT FRONT\nDec 1 st at neck edge in every row 7 times. 24 sts. These decs end on row 16.\n"
        "Shape shoulder: Cast off 8 sts at beg of next row and foll 2 alt rows."
    )
    assert passage(text).status != "rewritten"


def test_words_that_head_some_sizes_go_with_the_old_rows() -> None:
    text = (
        "SIZES 1 - 2 - 3 - 4\n\nBACK\nCAST ON 82 - 86 - 88 - 92 STS. WORK STRAIGHT, ENDING ON P ROW.\n"
        "SHOULDERS.  FIRST AND SECOND SIZES: CAST OFF 8 STS AT BEG OF NEXT 4 ROWS, THEN 8 - 9 STS AT BEG OF "
        "NEXT 2 ROWS.  THIRD AND FOURTH SIZES: CAST OFF 7 STS AT BEG OF NEXT 6 ROWS, THEN 6 - 7 STS AT BEG "
        "OF NEXT 2 ROWS.\nALL SIZES: LEAVE REMAINING 34 - 36 - 34 - 36 STS ON A THREAD."
    )
    report = revised(text)
    (found,) = report.passages
    assert found.edges[0].steps == ((8, 8, 7, 7), (8, 8, 7, 7), (8, 9, 7, 7), (0, 0, 6, 7))
    assert "FIRST AND SECOND SIZES" not in report.output
