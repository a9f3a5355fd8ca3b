"""Shoulders that share their rows: with neck decreases, with the other side of the neck, with a row before.

Expected rows are worked out by hand from the rule of the twin: what stands at the other edge of a
row stays in that row.
"""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import JOINS, TURNS, Options, Shoulders, Turn

FRONT = """LEFT FRONT
Work in st st.
Work even until armhole measures 8 in, ending with a WS row. {count} sts.
Shape shoulder
{words}
"""


def rows(text: str) -> list[str]:
    """Return the rows of the one rewritten text, without labels and turning words."""
    report = rewrite(text, Options(markers=False))
    assert {p.status for p in report.passages if p.kind == "shoulder"} == {"rewritten"}, [
        p.reason for p in report.passages
    ]
    lines = [line for line in report.output.splitlines() if line.startswith("Next row")]
    return [line.split("): ", 1)[-1].rstrip(".") for line in lines]


PLAIN_ROWS = [
    "purl to last 8 sts, turn",
    "DS, knit to end",
    "purl to last 16 sts, turn",
    "DS, knit to end",
]
CLOSE = "purl to end, working each DS as one st"


@pytest.mark.parametrize(
    ("count", "words", "decreased"),
    [
        (
            27,
            "Cast off 8 sts at beg of next row and foll alt row, at the same time dec 1 st at neck edge on next "
            "3 rows. Work 1 row. Cast off rem 8 sts.",
            (1, 2, 3),
        ),
        (
            27,
            "Dec 1 st at neck edge on next 3 rows, at the same time cast off 8 sts at beg of next and foll alt "
            "row. Work 1 row. Cast off rem 8 sts.",
            (1, 2, 3),
        ),
        (
            26,
            "At armhole edge bind off 8 sts every other row 3 times, at the same time dec 1 st at neck edge "
            "every other row twice.",
            (1, 3),
        ),
        (
            26,
            "Cast off 8 sts at beg of next and foll alt row while dec 1 st at neck edge on same rows. Work 1 "
            "row. Cast off rem 8 sts.",
            (1, 3),
        ),
        (
            27,
            "Cast off 8 sts at beg of next row. Dec 1 st at neck edge on next 3 rows, at the same time cast off 8 "
            "sts at beg of 2nd of these rows. Cast off rem 8 sts.",
            (2, 3, 4),
        ),
        (
            26,
            "Cast off 8 sts at beg of next and foll alt row, at the same time dec 1 st at neck edge on next and "
            "foll alt row. Work 1 row. Cast off rem 8 sts.",
            (1, 3),
        ),
        (
            27,
            "Cast off 8 sts at beg of next row and in foll alt row, dec 1 st at neck edge in first 3 rows. Work "
            "1 row. Cast off rem 8 sts.",
            (1, 2, 3),
        ),
    ],
)
def test_decreases_at_the_same_time_stay_on_their_rows(
    count: int, words: str, decreased: tuple[int, ...]
) -> None:
    found = rows(FRONT.format(count=count, words=words))
    for number, row in enumerate([*PLAIN_ROWS, CLOSE]):
        told = found[number].lower().replace("ds", "DS")
        assert ("dec 1 st at neck edge" in told) == (number in decreased)
        bare = told.replace("dec 1 st at neck edge, ", "").replace(", dec 1 st at neck edge", "")
        assert bare == row


@pytest.mark.parametrize(
    "words",
    [
        "Cast off 8 sts at beg of next row, dec 1 st at neck edge on next 3 rows. Cast off 8 sts.",
        "Cast off 8 sts at beg of next and foll alt row, at the same time dec 1 st at neck edge on next 9 "
        "rows. Work 1 row. Cast off rem 8 sts.",
    ],
)
def test_decreases_whose_rows_are_not_clear_are_asked_about(words: str) -> None:
    text = FRONT.format(count=27, words=words)
    report = rewrite(text)
    assert report.output == text


TWO_BALLS = """BACK
Work in st st until armholes measure 8 in, ending with a WS row. 71 sts.
Shape neck and shoulders
Next row (RS): BO 6 sts, k until there are 20 sts on RH needle, join second ball of yarn and BO center 19 sts, k to end.
Working both sides at the same time with separate balls:
Next row (WS): BO 6 sts, p to neck; BO 5, p to end.
Next row: BO 6 sts, k to neck; BO 5, k to end.
Next row: BO 6 sts, p to neck; on other side BO 3, p to end.
Next row: BO rem 6 sts of first side; on other side BO 3, k to end.
Next row: BO rem 6 sts.
"""


def test_two_balls_each_row_tells_both_sides() -> None:
    assert rows(TWO_BALLS) == [
        "P to last 6 sts, turn",
        "DS, k until there are 26 sts on RH needle (the 6 unworked shoulder sts and 20 more), join second "
        "ball of yarn and BO center 19 sts, k to last 6 sts, turn",
        "DS, p to neck edge; on other side, BO 5, p to last 12 sts, turn",
        "DS, k to neck edge; on other side, BO 5, k to last 12 sts, turn",
        "DS, p to neck edge; on other side, BO 3, p to end, working each DS as one st",
        "BO all 18 sts; on other side, BO 3, k to end, working each DS as one st",
        "BO all 18 sts",
    ]


@pytest.mark.parametrize("ball", ["2nd ball of yarn", "a new ball", "another ball of yarn"])
@pytest.mark.parametrize(
    "other", ["with other ball", "on 2nd shoulder", "with the second ball of yarn"]
)
def test_the_other_side_is_told_by_its_ball_or_its_shoulder(ball: str, other: str) -> None:
    text = TWO_BALLS.replace("second ball of yarn", ball).replace("on other side", f"{other},")
    found = rows(text)
    assert f"join {ball} and BO center 19 sts" in found[1]
    assert found[4:] == [
        f"DS, p to neck edge; {other}, BO 3, p to end, working each DS as one st",
        f"BO all 18 sts; {other}, BO 3, k to end, working each DS as one st",
        "BO all 18 sts",
    ]


HELD_FIRST = """BACK
Work in st st until armhole measures 18 cm, ending with a WS row. 66 sts.
Shoulders and back neck
Next 2 rows: BO 5 sts, work to end. 56 sts.
Row 3 (RS): BO 5 sts, k until there are 10 sts on right needle, place these sts on a holder for right shoulder, BO 26 sts, k to end.
Row 4: BO 5 sts, p to end.
Row 5: BO 4 sts, k to end.
Row 6: BO rem 6 sts.
Return right shoulder sts to needle and join yarn at neck edge, ready for a WS row.
Row 4: BO 4 sts, p to end.
Row 5: BO rem 6 sts.
"""


def test_the_side_worked_first_waits_on_its_holder() -> None:
    found = rows(HELD_FIRST)
    assert found[3:] == [
        "DS, k until there are 20 sts on right needle (the 10 unworked shoulder sts and 10 more), place these "
        "sts on a holder for right shoulder (both legs of each DS as one st), BO 26 sts, k to last 10 sts, turn",
        "DS, p to end",
        "BO 4 sts, k to end, working each DS as one st",
        "BO all 16 sts",
        "BO 4 sts, p to end, working each DS as one st",
        "BO all 16 sts",
    ]


ROW_BEFORE = """RIGHT FRONT
Work in st st until armhole measures 18 cm. 28 sts.
Next row (RS): Cast off 4 sts, K to end. 24 sts.
Cast off 8 sts at beg of next and foll alt row.
Work 1 row. Cast off rem 8 sts.
"""


def test_a_row_before_with_words_of_its_own_keeps_them_and_turns() -> None:
    assert rows(ROW_BEFORE)[:2] == ["Cast off 4 sts, K to last 8 sts, turn", "DS, P to end"]


def test_the_last_of_counted_decreases_moves_into_the_first_short_row() -> None:
    text = FRONT.replace(
        "Work even until armhole measures 8 in, ending with a WS row.", "{before}"
    ).format(
        before="Dec 1 st at neck edge on next 5 rows.",
        count=24,
        words="Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.",
    )
    report = rewrite(text, Options(markers=False))
    assert "Dec 1 st at neck edge on next 4 rows. 25 sts." in report.output
    assert rows(text)[0] == "Dec 1 st at neck edge, purl to last 8 sts, turn"


AS_FOR_BACK = """BACK
Work in st st until armholes measure 19 cm, ending with a WS row. 81 sts.
Shape shoulders
Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of next 2 rows.
Leave rem 31 sts on a holder.

FRONT
Work as for back until there are 14 rows less than on back to beg of shoulder shaping.
Next row: K 33, turn, leave rem sts on a spare needle.
Dec 1 st at neck edge on next 8 rows. 25 sts.
Work 5 rows, ending with a WS row. Shape shoulder as for back.
"""


def test_a_shoulder_as_for_back_is_written_out_for_one_side() -> None:
    report = rewrite(AS_FOR_BACK, Options(markers=False))
    assert [p.id for p in report.passages if p.status == "rewritten"] == [
        "back/shoulder/1",
        "front/shoulder/1",
    ]
    front = report.output.split("FRONT")[1]
    assert "13 rows less" in front
    assert (
        "Work 4 rows, ending with a RS row. Shape shoulder:\nNext row (WS): P to last 8 sts, turn."
        in (front)
    )
    assert "Next row (RS): Cast off all 25 sts." in front


def test_a_shoulder_as_for_back_with_other_stitches_is_asked_about() -> None:
    text = AS_FOR_BACK.replace("25 sts.", "24 sts.")
    report = rewrite(text)
    assert report.output == text
    assert {p.status for p in report.passages} == {"question"}


@pytest.mark.parametrize("text", [TWO_BALLS, HELD_FIRST, ROW_BEFORE, AS_FOR_BACK])
@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("join", JOINS)
def test_every_method_and_join_is_proven(text: str, turn: Turn, join: Shoulders) -> None:
    report = rewrite(text, Options(turn=turn, shoulders=join))
    shoulders = [p for p in report.passages if p.kind == "shoulder"]
    assert shoulders
    for passage in shoulders:
        assert passage.status == "rewritten", passage.reason
        assert passage.verification.result == "same"
    assert rewrite(report.output).output == report.output
