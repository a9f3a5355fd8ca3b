"""Shoulders divided at the neck: each half keeps its fabric, the numbers say what is meant."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rewriter import rewrite
from rewriter.options import JOINS, TURNS, Options, Shoulders, Turn
from rewriter.report import Report

BACK = """BACK
Work in st st until armholes measure 20 cm, ending with a WS row. 81 sts.
Shape shoulders and back neck
Cast off 8 sts at beg of next 2 rows.
Next row (RS): Cast off 8 sts, K until there are 12 sts on right needle, turn and leave rem sts on a holder.
Next row: Cast off 4 sts, P to end.
Cast off rem 8 sts.
With RS facing, rejoin yarn to rem sts, cast off centre 25 sts, K to end.
Complete to match first side, reversing shapings.
"""


def test_the_second_side_is_written_out_and_waits_open_on_its_holder() -> None:
    report = rewrite(BACK, Options(markers=False))
    lines = [line for line in report.output.splitlines() if not line.startswith("Note on ")]
    assert lines[1:] == [
        "Work in st st until armholes measure 20 cm, ending with a RS row. 81 sts.",
        "Shape shoulders and back neck",
        "Next row (WS): P to last 8 sts, turn.",
        "Next row (RS): DS, K to last 8 sts, turn.",
        "Next row (WS): DS, P to last 16 sts, turn.",
        "Next row (RS): DS, K until there are 28 sts on right needle (the 16 unworked shoulder sts "
        "and 12 more), turn and leave rem sts on a holder (both legs of the DS as one st).",
        "Next row (WS): Cast off 4 sts, P to end, working each DS as one st.",
        "Next row (RS): Cast off all 24 sts.",
        "With RS facing, rejoin yarn to rem sts, cast off centre 25 sts, K to last 16 sts, turn.",
        "Next row (WS): DS, P to end.",
        "Next row (RS): Cast off 4 sts, K to end, working each DS as one st.",
        "Next row (WS): Cast off all 24 sts.",
    ]
    (passage,) = report.passages
    assert passage.verification.result == "same"
    assert passage.neck == (33,)
    assert passage.stitches_before == (81,)
    first, second = passage.edges
    assert [(t.row, t.side, t.unworked) for t in first.turns[0]] == [(-1, "WS", 8), (1, "WS", 16)]
    assert [(t.row, t.side, t.unworked) for t in second.turns[0]] == [(0, "RS", 8), (2, "RS", 16)]


HELD_FIRST = """BACK
Sizes 1 (2)
Work in st st until armholes measure 18 cm, ending with a WS row.
Shoulders and Back Neck
Next 2 rows: BO 5 (6) sts, work to end. 56 (58) sts.
Row 3 (RS): BO 5 (6) sts, k until there are 10 sts on right needle, place these sts on a holder for right
shoulder, BO 26 sts, k to end. 15 (16) sts rem for left shoulder.
Row 4: BO 5 (6) sts, p to end.
Row 5: BO 4 sts, k to end.
Row 6: BO rem 6 sts.
Return right shoulder sts to needle and join yarn at neck edge, ready for a WS row.
Row 4: BO 4 sts, p to end.
Row 5: BO rem 6 sts.
"""
PARKED: dict[Turn, tuple[str, str]] = {
    "german": ("both legs of the DS as one st", "both legs of each DS as one st"),
    "wrap": ("the wrap stays with its st", "each wrap stays with its st"),
    "japanese": ("the marker stays on its loop", "each marker stays on its loop"),
    "yarn-over": ("the yo stays with them", "each yo stays with them"),
    "shadow": ("both loops of the twin st as one st", "both loops of each twin st as one st"),
}


@pytest.mark.parametrize("turn", TURNS)
def test_a_side_that_waits_with_its_turns_open_says_what_goes_with_them(turn: Turn) -> None:
    for text, words, told in zip(
        (BACK, HELD_FIRST),
        ("leave rem sts on a holder", "these sts on a holder for right shoulder"),
        PARKED[turn],
        strict=True,
    ):
        report = rewrite(text, Options(turn=turn))
        assert report.passages[0].status == "rewritten", report.passages[0].reason
        flat = " ".join(report.output.split())
        assert f"{words} ({told})" in flat


def test_a_count_that_does_not_meet_the_bind_offs_after_the_turn_is_a_question() -> None:
    text = BACK.replace("12 sts on", "14 sts on")
    report = rewrite(text)
    assert report.output == text
    assert report.passages[0].status == "question"
    assert "14 sts are counted on the right needle, but 12" in (report.passages[0].reason or "")


def test_the_st_left_from_binding_off_may_not_be_counted() -> None:
    """Some leaflets do not count the st left on the needle after casting off (common practice)."""
    report = rewrite(BACK.replace("12 sts on", "11 sts on"))
    assert report.passages[0].status == "rewritten"
    assert "28 sts on right needle" in report.output


def test_both_sides_written_out_after_a_plain_dividing_row() -> None:
    text = """BACK
Work in st st until armholes measure 20 cm, ending with a P row.
Shoulders and neck
1st row (RS): K 28, turn; work on these sts only, leaving others on a spare needle.
2nd row: Cast off 3 sts, P to end.
3rd row: Cast off 8 sts, K to end.
4th row: P2 tog, P to end.
5th row: Cast off 8 sts, K to end.
6th row: P.
Cast off rem 8 sts.
Rejoin yarn to rem sts with right side facing.
1st row: Cast off centre 22 sts, K to end.
2nd row: P.
3rd row: Cast off 3 sts, K to end.
4th row: Cast off 8 sts, P to end.
5th row: K2 tog, K to end.
6th row: Cast off 8 sts, P to end.
7th row: K.
Cast off rem 8 sts.
"""
    report = rewrite(text, Options(markers=False))
    assert [p.status for p in report.passages] == ["rewritten", "rewritten"]
    assert "4th row (WS): P2 tog, P to last 16 sts, turn." in report.output
    assert "1st row (RS): Cast off centre 22 sts, K to end." in report.output
    assert "3rd row (RS): Cast off 3 sts, K to last 8 sts, turn." in report.output


def test_both_sides_or_neither() -> None:
    text = """BACK
Work in st st until armholes measure 20 cm, ending with a P row.
Shoulders and neck
1st row (RS): K 27, turn; work on these sts only, leaving others on a spare needle.
2nd row: Cast off 3 sts, P to end.
3rd row: Cast off 8 sts, K to end.
4th row: P.
5th row: Cast off 8 sts, K to end.
6th row: P.
Cast off rem 8 sts.
Rejoin yarn to rem sts with right side facing.
1st row: Cast off centre 22 sts, K to end.
2nd row: P.
3rd row: Cast off 3 sts, K to end.
4th row: Cast off 8 sts, P to end.
5th row: K, except on the last 3 sts.
6th row: Cast off 8 sts, P to end.
7th row: K.
Cast off rem 8 sts.
"""
    report = rewrite(text)
    assert report.output == text
    assert "rewritten" not in {p.status for p in report.passages}


@st.composite
def divided(draw: st.DrawFn) -> tuple[str, int]:
    """Draw a back divided within its shoulders, both sides told in one go."""
    before = draw(st.integers(0, 2))
    steps = [draw(st.integers(4, 12)) for _ in range(before + 1)]
    after = [draw(st.integers(4, 12)) for _ in range(draw(st.integers(1, 2)))]
    necks = [draw(st.integers(1, 5)) for _ in after]
    centre = draw(st.integers(9, 40))
    side = draw(st.sampled_from([("WS", "RS", "K", "P"), ("RS", "WS", "P", "K")]))
    last, first, out, back = side
    text = f"BACK\nWork in st st until armholes measure 20 cm, ending with a {last} row.\nShape shoulders\n"
    for n in steps[:-1]:
        text += f"Cast off {n} sts at beg of next 2 rows.\n"
    beyond = sum(after) + sum(necks)
    text += (
        f"Next row ({first}): Cast off {steps[-1]} sts, {out} until there are {beyond} sts on right "
        "needle, turn and leave rem sts on a holder.\n"
    )
    for i, (neck, n) in enumerate(zip(necks, after, strict=True)):
        text += f"Next row: Cast off {neck} sts, {back} to end.\n"
        last_one = i + 1 == len(after)
        text += (
            f"Cast off rem {n} sts.\n"
            if last_one
            else f"Next row: Cast off {n} sts, {out} to end.\n"
        )
    text += (
        f"With {first} facing, rejoin yarn to rem sts, cast off centre {centre} sts, {out} to end.\n"
        "Complete to match first side, reversing shapings.\n"
    )
    return text, sum(steps) + sum(after)


def only(report: Report) -> Report:
    assert [p.status for p in report.passages] == ["rewritten"], (report.output, report.passages)
    return report


@settings(max_examples=40, deadline=None)
@given(divided(), st.sampled_from(TURNS), st.sampled_from(JOINS))
def test_any_divided_back_is_proven_for_every_turn_and_join(
    draft: tuple[str, int], turn: Turn, join: Shoulders
) -> None:
    text, total = draft
    report = only(rewrite(text, Options(turn=turn, shoulders=join)))
    (passage,) = report.passages
    assert passage.verification.result == "same"
    assert [e.together for e in passage.edges] == [(total,), (total,)]
    assert [e.rows_gained for e in passage.edges] == [(0,), (0,)]
    assert rewrite(report.output, Options(turn=turn, shoulders=join)).output == report.output


def test_a_count_of_the_sts_left_on_the_holder_is_put_right() -> None:
    text = BACK.replace("leave rem sts on a holder", "place the other 45 sts on a holder")
    output = rewrite(text, Options(markers=False)).output
    assert (
        "(the 16 unworked shoulder sts and 12 more), turn and place the other 53 sts on a holder."
        in output
    )


OVER_THE_NECK = """BACK
Work straight until armholes measure 19 (20) cm, ending with a WS row.
Shape shoulders and neck
Next row (RS): Cast off 7 (8) sts, k until there are 21 (22) sts on right-hand needle, cast off 16 (18) sts,
k to end.
{set}
Next row: Cast off 7 (8) sts, p to end.
Next row: Cast off 3 sts, k to end.
Next row: Cast off 7 (8) sts, p to end.
Next row: Cast off 3 sts, k to end.
Next row: Cast off rem 8 sts.
{rejoining}
Next row: Cast off 7 (8) sts, k to end.
Next row: Cast off 3 sts, p to end.
Next row: Cast off rem 8 sts.
"""


@pytest.mark.parametrize("named", ["On last set:", "Work on last set of sts only."])
@pytest.mark.parametrize(
    ("rejoining", "first"),
    [
        (
            "Join wool to neck edge of other set, and with wrong side facing cast off 3 sts, p to end.",
            "and with wrong side facing cast off 3 sts, p to last 14 (16) sts, turn.",
        ),
        (
            "With WS facing, rejoin yarn to neck edge of first set.\nNext row: Cast off 3 sts, p to end.",
            "Next row (WS): Cast off 3 sts, p to last 14 (16) sts, turn.",
        ),
    ],
)
def test_a_dividing_row_goes_on_over_the_half_finished_first(
    named: str, rejoining: str, first: str
) -> None:
    text = OVER_THE_NECK.format(set=named, rejoining=rejoining)
    for turn in TURNS:
        for join in JOINS:
            options = Options(markers=False, turn=turn, shoulders=join)
            report = rewrite(text, options)
            assert [p.status for p in report.passages] == ["rewritten"], report.passages[0].reason
    words = " ".join(rewrite(text, Options(markers=False)).output.split())
    assert (
        "Next row (RS): DS, k until there are 28 (30) sts on right-hand needle (the 7 (8) unworked shoulder "
        "sts and 21 (22) more), cast off 16 (18) sts, k to last 7 (8) sts, turn. " + named
    ) in words
    assert first in words
    assert words.count("Cast off all 22 (24) sts.") == 2


def test_the_sts_of_the_half_taken_up_later_are_counted_with_its_first_step() -> None:
    text = OVER_THE_NECK.format(
        set="Cont on last set of sts (28 (30) sts).",
        rejoining="With WS facing, rejoin yarn at neck edge to other 21 (22) sts, cast off 3 sts, p to end.",
    )
    words = " ".join(rewrite(text, Options(markers=False)).output.split())
    assert "Cont on last set of sts (28 (30) sts). Next row (WS): DS, " in words
    assert "to other 28 (30) sts, cast off 3 sts, p to last 14 (16) sts, turn." in words
