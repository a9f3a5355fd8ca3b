"""Shoulders and second sides told by others: what their words say once those are in short rows."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import Report

QUIET = Options(markers=False)
HELD = Options(markers=False, shoulders="held")

BACK = (
    "BACK\n= 84 sts. At 20 cm armhole height bind off for the shoulders at both sides in every 2nd row "
    "3 x 8 sts. Bind off the remaining 36 sts.\n"
)
ONE_SIDE = (
    "BACK\nWork until armhole measures 19 cm. Bind off the middle 30 sts and finish each side "
    "separately. {lead} bind off for the shoulder from the armhole side on every 2nd row 8, 8 and 9 "
    "sts.\nWork the other side in the same way, mirrored.\n"
)


def codes(report: Report) -> set[str]:
    return {d.code for d in report.diagnostics}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("Cast off for shoulder as on back.", "Shape the shoulder as on back."),
        ("Bind off as on the back.", "Shape the shoulder as on the back."),
        ("Close the shoulder sts like on the back.", "Shape the shoulder like on the back."),
        (
            "When the armhole measures 21 cm, bind off for the shoulder like on the back.",
            "When the armhole measures 21 cm, shape the shoulder like on the back.",
        ),
    ],
)
def test_a_shoulder_told_by_a_sloped_one_is_bound_off_no_more(words: str, said: str) -> None:
    back = ONE_SIDE.format(lead="When the armhole measures 20 cm,")
    front = (
        "FRONT\nBind off the middle 20 sts and finish each side separately. Work straight until front "
        f"is as long as back to the shoulder. {words}\nWork the other side in the same way, mirrored.\n"
    )
    report = rewrite(back + front, QUIET)
    assert [p.status for p in report.passages if p.kind == "shoulder"] == ["rewritten"]
    assert said.lower() in report.output.lower()
    assert words not in report.output


@pytest.mark.parametrize(
    ("words", "opening"),
    [
        (
            "When the front is as high as the back, close the shoulder as on the back piece.",
            "When the front is as high as the back, ending at neck edge, shape the shoulder:",
        ),
        (
            "Shoulder bevel at the same height as on the back.",
            "At the same height as on the back, ending at neck edge, shape the shoulder:",
        ),
        (
            "SHOULDER: same height and same decreases as the back.",
            "SHOULDER: At the same height as the back, ending at neck edge, shape the shoulder:",
        ),
    ],
)
@pytest.mark.parametrize("apart", ["finish both sides separately", "continue one side at a time"])
def test_a_side_worked_by_itself_is_written_out(words: str, opening: str, apart: str) -> None:
    text = f"{BACK}FRONT\nBind off the middle 36 sts for the neck and {apart}.\n{words}\n"
    report = rewrite(text, HELD)
    assert [p.status for p in report.passages] == ["rewritten", "rewritten"]
    front = report.output.split("FRONT\n")[1]
    assert opening in front
    assert "Leave 24 sts on a holder." in front
    assert "leans-on-short-rows" not in codes(report)


def test_both_sides_at_once_have_the_turns_of_both_edges() -> None:
    front = (
        "FRONT\nBind off center 36 sts, join another ball of yarn and work both sides at once. "
        "{words}\n"
    )
    for words in (
        "Shape shoulders as for back.",
        "Shape top as on back when armholes are the same length.",
    ):
        report = rewrite(BACK + front.format(words=words), QUIET)
        (named,) = (d for d in report.diagnostics if d.code == "leans-on-short-rows")
        assert "both armhole edges" in named.message


def test_sts_are_not_kept_for_a_shoulder_that_does_not_say_so() -> None:
    front = "FRONT\nBind off the middle 36 sts for the neck. Slope the shoulder as on the back.\n"
    report = rewrite(BACK + front, HELD)
    assert {"bound-off-instead", "leans-on-short-rows"} <= codes(report)
    assert "holder" not in report.output


def test_a_second_side_spelled_out_is_not_told_again() -> None:
    text = (
        "BACK\n= 76 sts. At 20 cm armhole height bind off for the shoulder slope at both sides in every "
        "2nd row 3 x 7 sts. At the same time as the first shoulder decrease, bind off the 26 central sts "
        "and continue one side at a time, binding off 2 rows later at the neck edge 1 x 4 sts.\n"
        "Work the second side the same, reversing.\n\nFRONT\nWork 10 rows.\n"
    )
    report = rewrite(text, QUIET)
    assert [p.status for p in report.passages] == ["rewritten"]
    assert "reversing" not in report.output
    assert "\n\nFRONT" in report.output


def test_straight_rows_end_before_the_words_that_go_on_to_the_shoulder() -> None:
    text = (
        "LEFT FRONT\nWork in st st. When armhole is same depth as back, shape shoulder.\nAt arm edge bind "
        "off 8 sts every other row twice. Work 1 row even, then bind off remaining 9 sts.\n"
    )
    assert (
        "same depth as back, ending with a right side row, shape shoulder"
        in rewrite(text, QUIET).output
    )


def test_straight_rows_end_in_the_sentence_of_the_first_step() -> None:
    report = rewrite(ONE_SIDE.format(lead="When the armhole measures 20 cm,"), QUIET)
    said = "When the armhole measures 20 cm, ending at neck edge, shape the shoulder:"
    assert said in report.output


LEFT = (
    "LEFT FRONT\nWork in st st until armhole measures 20 cm, ending with a WS row.\nBind off 8 sts at "
    "beg of next row and foll 2 alt rows.\n\n"
)


@pytest.mark.parametrize(
    ("told", "end"),
    [
        (
            "RIGHT FRONT\nWork as left front, reversing all shapings and making buttonholes as follows: "
            "k 3, bind off 2, work to end. On next row cast on 2 sts over those bound off.",
            "On next row cast on 2 sts over those bound off. On this front, end",
        ),
        (
            "RIGHT FRONT\nAs left front, with all shapings reversed and buttonholes to match the marks:\n"
            "Buttonhole row (RS): K3, yo, k2tog, k to end.",
            "k to end.\nOn this front, end",
        ),
    ],
)
def test_what_differs_on_a_second_front_stands_behind_its_buttonholes(told: str, end: str) -> None:
    assert end in rewrite(f"{LEFT}{told}\n", QUIET).output


NECK = (
    "FRONT\nNext row (RS): K 27, turn and leave rem sts on a holder. Work 3 rows straight, ending with "
    "RS facing for next row.\nShape shoulder\nCast off 9 sts at beg of next and foll 2 alt rows.\n"
)


def test_one_row_more_is_said_once() -> None:
    told = (
        "Rejoin yarn to rem sts, k to end. Complete to match first side, reversing shapings and working "
        "one row more before shaping shoulder.\n"
    )
    output = rewrite(NECK + told, QUIET).output
    assert "reversing shapings. On this side, end" in output
    assert "one row more" not in output


@pytest.mark.parametrize("link", ["in place of", "instead of"])
def test_rows_told_in_place_of_others_move_with_them(link: str) -> None:
    text = (
        "FRONT\nNext row: K24, turn.\n** Dec at neck edge in next 6 rows .... 18 sts.\nWork 3 rows.\n"
        "SHAPE SHOULDER:\nCast off 6 sts beg next row and foll alt row. Work 1 row. Cast off. **\n"
        f"Join yarn to rem sts and knit to end. Rep from ** to ** working 4 rows {link} 3 rows before "
        "SHAPE SHOULDER.\n"
    )
    assert f"working 3 rows {link} 2 rows before" in rewrite(text, QUIET).output


FRONT_OF_TWO = """FRONT
Next row (RS): K 33, turn. Put rem sts on a thread.
Left shoulder
Dec 1 st at neck edge on next 9 rows. 24 sts.
Work straight until armhole measures 18 cm, ending with a WS row.
Cast off 8 sts at beg of next 3 RS rows.
Fasten off.
Right shoulder
With RS facing, leave 20 sts at centre on the thread, join yarn to rem sts, k to end.
Dec 1 st at neck edge on next 9 rows. 24 sts.
{before}
{told}
"""


@pytest.mark.parametrize(
    ("before", "told", "before_now", "told_now"),
    [
        (
            "Work straight until armhole measures the same as left side, ending with a RS row.",
            "Shape as for left shoulder, but on WS rows.",
            "Work straight until armhole measures the same as left side, ending with a WS row.",
            "Shape as for left shoulder, but with the short rows on RS rows.",
        ),
        (
            "Work 19 rows, ending with RS row.",
            "Cast off like the left side but on wrong side rows.",
            "Work 18 rows, ending with WS row.",
            "Cast off like the left side but with the short rows on right side rows.",
        ),
    ],
)
def test_a_side_told_by_the_other_and_its_rows_follows(
    before: str, told: str, before_now: str, told_now: str
) -> None:
    report = rewrite(FRONT_OF_TWO.format(before=before, told=told))
    assert f"{before_now}\n{told_now}\n" in report.output
    assert "leans-on-short-rows" not in {d.code for d in report.diagnostics}


def test_a_side_whose_rows_are_not_its_mirror_image_is_named_in_a_warning() -> None:
    before = "Work straight until armhole measures the same as left side, ending with a RS row."
    text = FRONT_OF_TWO.format(before=before, told="Shape as for left shoulder, but on RS rows.")
    report = rewrite(text)
    assert "Shape as for left shoulder, but on RS rows." in report.output
    assert "leans-on-short-rows" in {d.code for d in report.diagnostics}
