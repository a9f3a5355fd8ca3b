"""The row before the first bind-off keeps its words and ends at a turn, wherever it goes to its end."""

from __future__ import annotations

import pytest

from rewriter import check, rewrite
from rewriter.options import JOINS, TURNS, Options, Shoulders, Turn
from rewriter.report import Report

DIVIDED = """BACK
Cont straight until armhole measures 19 cm, ending with a WS row.
{row}
{between}Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.
Rejoin yarn to the sts of the other side and work to match, reversing shapings.
"""
ROW = "Next row (RS): K 24, cast off centre 30 sts, k to end."

FRONT = """RIGHT FRONT
Cont until armhole measures 20 cm, ending with a WS row. 25 sts.
{row} 24 sts.
Shape shoulder
Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.
"""

BACK = """BACK
{before}
Shape shoulders
Cast off 8 sts at beg of next 6 rows. Cast off rem 28 sts.
"""


def revised(text: str) -> Report:
    return rewrite(text, Options(markers=False))


def shoulder(text: str) -> Report:
    report = revised(text)
    found = [p for p in report.passages if p.kind == "shoulder"]
    assert [p.status for p in found] == ["rewritten"] * len(found), [p.reason for p in found]
    return report


@pytest.mark.parametrize(
    ("row", "turned"),
    [
        (ROW, "K 24, cast off centre 30 sts, k to last 8 sts, turn."),
        (
            "Next row (RS): K24, cast off centre 30 sts, k24.",
            "K24, cast off centre 30 sts, k to last 8 sts, turn.",
        ),
        (
            "Next row: Work 24 sts, cast off the middle 30 sts for the neck, work the rest of the row.",
            "Work 24 sts, cast off the middle 30 sts for the neck, work to last 8 sts, turn.",
        ),
        (
            "On the next row, knit across 24 sts, cast off the centre 30 sts and knit across the "
            "remaining 24 sts.",
            "cast off the centre 30 sts and knit to last 8 sts, turn.",
        ),
        (
            "When the back measures 60 cm, work the next row from the right side: k 24, cast off the middle "
            "30 sts, k to end.",
            "k 24, cast off the middle 30 sts, k to last 8 sts, turn.",
        ),
    ],
)
def test_a_row_that_divides_the_piece_turns_before_the_first_step(row: str, turned: str) -> None:
    report = shoulder(DIVIDED.format(row=row, between=""))
    assert turned in report.output
    assert report.passages[0].edges[0].first_bind_off_side == "WS"
    assert "Next row (WS): DS, " in report.output


@pytest.mark.parametrize(
    "between",
    [
        "Work on the last set of 24 sts only.\n",
        "Each side is finished separately. Continue over the last 24 sts:\n",
        "Leave the first 24 sts on a holder and work on the last 24 sts only.\n",
        "The left side is finished first; put the right side on a holder.\n",
        "Turn, work on these 24 sts only.\n",
        "24 sts each side.\n",
    ],
)
def test_what_is_said_of_the_sts_in_work_stays_between_the_turn_and_the_row_back(
    between: str,
) -> None:
    report = shoulder(DIVIDED.format(row=ROW, between=between))
    assert f"k to last 8 sts, turn.\n{between}Next row (WS): DS, " in report.output


def test_rows_behind_a_dividing_row_begin_at_the_armhole_and_at_the_neck_by_turns() -> None:
    steps = (
        "Next row (WS): Cast off 8 sts, p to end.\nNext row: Cast off 2 sts, k to end.\n"
        "Next row: Cast off 8 sts, p to end.\nNext row: K.\nNext row: Cast off rem 8 sts.\n"
    )
    text = DIVIDED.format(row=ROW.replace("K 24", "K 26"), between="")
    text = text.replace(
        "Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.\n", steps
    )
    report = shoulder(text)
    assert report.passages[0].edges[0].steps == ((8,), (8,), (8,))
    assert "Next row (RS): Cast off 2 sts, k to last 16 sts, turn." in report.output


@pytest.mark.parametrize(
    ("row", "turned"),
    [
        ("Next row (RS): K1, ssk, k to end.", "Next row (RS): K1, ssk, k to last 8 sts, turn. 24"),
        ("Next row: K2tog, k to end.", "K2tog, k to last 8 sts, turn"),
        ("Next row: K3, k2tog, k to end.", "Next row: K3, k2tog, k to last 8 sts, turn. 24 sts."),
    ],
)
def test_a_decrease_at_the_neck_stays_in_the_row_that_turns(row: str, turned: str) -> None:
    assert turned in shoulder(FRONT.format(row=row)).output


def test_decreases_over_the_whole_back_stay_in_the_row_that_turns() -> None:
    before = (
        "Cont until armhole measures 20 cm, ending with a RS row. 78 sts\n"
        "Next row (WS): P 26, p2tog, p to last 28 sts, p2tog, p26. 76 sts."
    )
    report = shoulder(BACK.format(before=before))
    assert "p2tog, p to last 28 sts, p2tog, p to last 8 sts, turn. 76 sts." in report.output


def test_a_second_ball_may_be_joined_in_the_row_that_turns() -> None:
    text = """BACK
Work even until armhole measures 7 in, ending with a WS row.
Next row (RS): K 22, join a second ball of yarn and BO center 24 sts, k to end.
Working both sides at the same time, shape shoulders: BO 8 sts at beg of next 4 rows, then 6 sts at beg
of next 2 rows.
"""
    report = shoulder(text)
    assert "BO center 24 sts, k to last 8 sts, turn." in report.output
    assert len(report.passages[0].edges) == 2


@pytest.mark.parametrize(
    ("rejoining", "turned"),
    [
        (
            "With WS facing, rejoin yarn to rem 24 sts and p to end.\nCast off",
            "rejoin yarn to rem 24 sts and p to last 8 sts, turn.\nNext row (RS): DS, ",
        ),
        (
            "With WS facing, rejoin yarn to rem 24 sts, p to end, then cast off",
            "rejoin yarn to rem 24 sts, p to last 8 sts, turn.\nNext row (RS): DS, ",
        ),
        (
            "With WS facing, slip centre 30 sts onto a holder, rejoin yarn and p to end. 24 sts.\nCast off",
            "rejoin yarn and p to last 8 sts, turn. 24 sts.\nNext row (RS): DS, ",
        ),
    ],
)
def test_the_row_that_rejoins_the_yarn_turns(rejoining: str, turned: str) -> None:
    steps = " 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.\n"
    text = DIVIDED.format(row=ROW, between="").splitlines()[:-1]
    report = shoulder("\n".join([*text, rejoining + steps]))
    assert turned in report.output


@pytest.mark.parametrize(
    "before",
    [
        # a row of a stitch pattern; what the row does where it would turn; a step of the other shoulder
        "Work until armhole measures 20 cm.\nNext row: (K1, p1) to end.",
        "Work until armhole measures 20 cm.\nNext row: *K1, p1; rep from * to end.",
        "Work until armhole measures 20 cm.\nNext row: P 4, p2tog, p to last 6 sts, p2tog, p4. 76 sts.",
        "1st row: K.\n2nd row: P2tog, p to last 2 sts, p2tog.\nRep these 2 rows until 76 sts remain.",
        "1st row: K.\n2nd row: P2tog, p to last 2 sts, p2tog.\nRep last 2 rows 4 times more.",
    ],
)
def test_a_row_that_cannot_turn_is_left_with_the_reason(before: str) -> None:
    text = BACK.format(before=before)
    report = revised(text)
    assert report.output == text
    assert [p.status for p in report.passages] == ["left"]
    assert "first turn" in (report.passages[0].reason or "")


@pytest.mark.parametrize(
    ("before", "now"),
    [
        (
            "Work until there are 96 rows of the pattern, the last being a right-side row.",
            "Work until there are 95 rows of the pattern, the last being a wrong-side row.",
        ),
        (
            "Work straight, the last row being a WS row.",
            "Work straight, the last row being a RS row.",
        ),
        ("Continue even to end of row 138.", "Continue even to end of row 137."),
        (
            "Work the final 2 rows of the lace panel.",
            "Work the final 2 rows of the lace panel, stopping one row before the end.",
        ),
        (
            "Repeat rows 1-4 twice more.",
            "Repeat rows 1-4 twice more, stopping one row before the end.",
        ),
        (
            "1st row: K.\n2nd row: P.\nRep last 2 rows 5 times more.",
            "Rep last 2 rows 5 times more, stopping one row before the end.",
        ),
        ("The shoulders take 6 rows in every size.", "The shoulders take 7 rows in every size."),
    ],
)
def test_what_is_said_of_the_last_row_moves(before: str, now: str) -> None:
    assert now in shoulder(BACK.format(before=before)).output


def test_words_that_smooth_the_steps_are_named_where_the_steps_are_gone() -> None:
    told = "From the second bind-off row on, slip the first st instead of knitting it."
    report = shoulder(BACK.format(before=f"Work straight until armhole measures 20 cm.\n{told}"))
    assert told in report.output
    assert any("no steps to smooth" in d.message for d in report.diagnostics)


@pytest.mark.parametrize(
    "text",
    [
        DIVIDED.format(row=ROW, between="Work on the last set of 24 sts only.\n"),
        FRONT.format(row="Next row (RS): K1, ssk, k to end."),
    ],
)
@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("join", JOINS)
def test_every_method_and_join_is_proven_and_checked(
    text: str, turn: Turn, join: Shoulders
) -> None:
    report = rewrite(text, Options(turn=turn, shoulders=join))
    assert [p.status for p in report.passages] == ["rewritten"], report.passages[0].reason
    assert not [f for f in check(text, report.output).findings if f.severity == "error"]


@pytest.mark.parametrize(
    ("decreases", "now"),
    [
        ("on next 4 rows. 24 sts.", "on next 3 rows. 25 sts."),
        (
            "on next 4 rows, then on foll 3 alt rows. 24 sts.",
            "on next 4 rows, then on foll 2 alt rows, then work 1 row. 25 sts.",
        ),
        (
            "on next and foll 5 alt rows. 24 sts.",
            "on next and foll 4 alt rows, then work 1 row. 25 sts.",
        ),
        ("on every row 6 times. 24 sts.", "on every row 5 times. 25 sts."),
        ("on every row until 24 sts remain.", "on every row until 25 sts remain."),
        (
            "on next and every foll alt row until 24 sts remain.",
            "on next and every foll alt row until 25 sts remain, then work 1 row.",
        ),
    ],
)
def test_the_last_of_the_neck_decreases_goes_with_the_first_short_row(
    decreases: str, now: str
) -> None:
    text = (
        "LEFT FRONT\nWork until armhole measures 14 cm.\nDec 1 st at neck edge {decreases}\nShape shoulder\n"
        "Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.\n"
    )
    report = shoulder(text.format(decreases=decreases))
    assert f"Dec 1 st at neck edge {now}\nShape shoulder\n" in report.output
    assert "(wrong side): Dec 1 st at neck edge, work to last 8 sts, turn." in report.output


def test_decreases_that_end_on_another_side_than_the_shoulder_begins_are_asked_about() -> None:
    text = """LEFT FRONT
Work until armhole measures 14 cm, ending with a WS row.
Dec 1 st at neck edge on next and every foll alt row until 24 sts remain.
Shape shoulder
Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.
"""
    report = revised(text)
    assert [p.status for p in report.passages] == ["question"]
    assert report.output == text
