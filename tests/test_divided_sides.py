"""The two sides of a divided neck: their headings, how the second is taken up, what it mirrors."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import Report

BACK = """Back
Work 2 rows, ending with a WS row.
Shape back neck and shoulders
Next row (RS): Cast off 6 sts, K until there are 14 sts on right needle, turn, leaving rem sts.
{first}Next row: Cast off 3 sts, P to end.
Next row: Cast off 6 sts, K to end.
Next row: P to end.
Cast off rem 5 sts.
{second}
"""
REJOIN = (
    "With RS facing, rejoin yarn to rem sts, cast off centre 20 sts, K to end. Complete to match."
)


def revised(first: str = "", second: str = REJOIN) -> Report:
    report = rewrite(BACK.format(first=first, second=second), Options(markers=False))
    assert [p.status for p in report.passages] == ["rewritten"], report.passages
    assert rewrite(report.output, Options(markers=False)).output == report.output
    return report


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("", "\n**Left shoulder**\n\n" + REJOIN),
        ("\n**Right shoulder**\n\n", "\n**Left shoulder**\n\n" + REJOIN),
        ("\nFirst side\n\n", "\nSecond side\n\n" + REJOIN),
    ],
)
def test_each_side_keeps_its_heading(first: str, second: str) -> None:
    output = revised(first, second).output
    before_rows = output.split("turn, leaving rem sts.")[1]
    assert before_rows.startswith("\n" + first)
    assert f"Cast off all 17 sts.\n{second.removesuffix(REJOIN)}With RS facing, rejoin" in output
    assert output.replace(first, "", 1).replace(second.removesuffix(REJOIN), "", 1).split() == (
        revised().output.split()
    )


def test_steps_are_not_told_across_the_headings_of_the_sides() -> None:
    sloped = revised("\n**Right shoulder**\n\n", "\n**Left shoulder**\n\n" + REJOIN).output
    back = rewrite(sloped, Options(to="steps"))
    assert back.output == sloped
    assert "headings stand among these rows" in (back.passages[0].reason or "")


@pytest.mark.parametrize(
    "second",
    [
        "Rejoin yarn to rem sts, cast off centre 20 sts, k to end, p 1 row and complete to match first side.",
        "Rejoin yarn to rem sts, work 3 rows, then complete to match first side.",
        "Rejoin yarn to rem sts, cast off centre 20 sts and join shoulders to match front.",
        "Rejoin yarn, cast off centre 20 sts, K to end and work to match first side, working 1 row more.",
        "Rejoin yarn, cast off centre 20 sts, K to end. Complete to match first side, ending with a P row.",
        "Slip centre 20 sts onto a holder, rejoin yarn and work collar to match front.",
        "Slip centre 20 sts on a holder. Rejoin yarn and work left side to correspond, omitting 3 sts.",
        "Cast off centre 20 sts, rejoin yarn at outer edge and work left shoulder to match right.",
    ],
)
def test_words_that_tell_more_of_the_second_side_are_not_lost(second: str) -> None:
    text = BACK.format(first="", second=second)
    report = rewrite(text, Options(markers=False))
    assert report.output == text


def test_a_heading_of_other_shapings_ends_a_side() -> None:
    text = """FRONT
Next row (RS): Cast off 8 sts, K until there are 48 sts on right needle, turn.
Dec one st at armhole edge in next and alt rows 9 times, at the same time dec one st at neck edge on 4th rows
until 22 sts rem.
Work until armhole measures 20 cm, ending with a WS row.

Shape shoulder

Cast off 7 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.
Rejoin yarn to rem sts and complete to match first side, reversing shapings.
"""
    *_, shoulder = rewrite(text).passages
    assert shoulder.status == "rewritten"
    assert [n for row in shoulder.edges[0].steps for n in row] == [7, 7, 8]


@pytest.mark.parametrize(
    "second",
    [
        "Slip the centre 20 sts on to a holder, join in the wool and work the other side to correspond.",
        "Rejoin yarn to rem sts, cast off centre 20 sts and complete to match first side.",
        "With RS facing, rejoin yarn to rem sts. Cast off centre 20 sts, K to end. Finish to match.",
        "Rejoin yarn to rem sts, cast off centre 20 sts, K to end and work to match first side.",
    ],
)
def test_the_second_side_is_taken_up_in_one_sentence_or_two(second: str) -> None:
    output = revised(second=second).output
    told = output.split("Cast off all 17 sts.")[1]
    assert "K to last 6 sts, turn." in told
    assert told.count("turn.") == 2
    assert "match" not in told and "correspond" not in told


def test_a_decrease_that_leans_is_told_by_its_edge_on_the_second_side() -> None:
    text = """Back
Work 2 rows, ending with a WS row.
Shape shoulders
Row 1 (RS): bind off 5 sts, knit until there are 12 sts on the right needle, turn, leaving rem sts.
Row 2: p1, ssp, purl to end.
Row 3: bind off 6 sts, knit to last 3 sts, k2tog, k1.
Row 4: purl.
Bind off the remaining 4 sts. Break yarn.
Rejoin yarn, bind off the next 30 sts, knit to end. Complete to match first side, reversing shaping.
"""
    output = rewrite(text, Options(markers=False)).output
    one, two = output.split("Break yarn.")
    assert "p1, ssp, purl to last 11 sts, turn." in one
    assert "ssp" not in two and "k2tog" not in two
    assert two.count("dec 1 st at neck edge") == 2


def test_a_decrease_told_over_a_line_end_is_one_row() -> None:
    text = """LEFT FRONT
Work straight until front measures same as back to shoulder, ending at armhole edge.
To shape shoulder and finish front slope: 1st row: Cast off 9 sts, K to last
2 sts, K2 tog. 2nd row: P. Rep 1st and 2nd rows once more. Cast off rem 10 sts.
"""
    output = rewrite(text, Options(markers=False)).output
    assert output.count("DS, K to last 2 sts, K2 tog.") == 2
    assert "K to end, K to last" not in output


@pytest.mark.parametrize(
    "rest",
    ["Leave the others resting.", "Leave the rest on hold.", "Place the others on a thread."],
)
def test_the_other_sts_wait_in_a_sentence_without_the_word(rest: str) -> None:
    text = (
        "BACK\n= 80 sts. Work until armhole is 20 cm, ending with a WS row.\nRow 1 (RS): Bind off 10 sts, "
        f"knit until there are 16 sts on the right needle, turn. {rest}\nRow 2 (WS): Bind off 4 sts, purl "
        "to end.\nRow 3 (RS): Bind off the remaining 12 sts.\nSlip the centre 28 sts to waste yarn, join "
        "yarn with RS facing and knit to end.\nRow 2 (WS): Bind off 10 sts, purl to end.\nRow 3 (RS): Bind "
        "off 4 sts, knit to end.\nRow 4 (WS): Bind off the remaining 12 sts.\n"
    )
    (found,) = rewrite(text, Options(markers=False)).passages
    assert found.status == "rewritten", found.reason


def test_a_row_told_without_a_label_divides_and_the_other_side_is_knitted_the_same_way() -> None:
    """No word rejoins the yarn: the new text says it, for the second side begins with a turn."""
    text = (
        "BACK\n= 58 sts. Stocking st until armhole is 20 cm, ending with a WS row.\nOn the next row from the "
        "right side cast off 5 sts for the shoulder, knit until there are 13 sts on the right needle. Turn "
        "and let the other sts rest. Cast off 3 sts for the neck at the start of the next row, purl back. "
        "Cast off 5 sts at the start of the next row for the shoulder. Purl 1 row. Cast off the last 5 sts.\n"
        "Put the middle 22 sts on a thread. Knit the other side in the same way but reversed.\n"
    )
    report = rewrite(text, Options(markers=False))
    (found,) = report.passages
    assert found.status == "rewritten", found.reason
    assert [[list(row) for row in e.steps] for e in found.edges] == [[[5], [5], [5]]] * 2
    second = (report.output or "").split("on a thread. ")[1].splitlines()
    assert second[0] == (
        "With the RS facing, rejoin the yarn at the neck edge of the other side, knit to the last 5 sts, "
        "turn."
    )


def test_a_row_that_cannot_divide_is_no_fault() -> None:
    text = (
        "BACK\n= 58 sts.\nOn the next 2 rows cast off 5 sts for the shoulder, knit until there are 13 sts on "
        "the right needle. Turn and let the other sts rest. Cast off 3 sts at the start of the next row, "
        "purl back. Cast off the last 10 sts.\nPut the middle 22 sts on a thread. Knit the other side in "
        "the same way but reversed.\n"
    )
    assert [p.status for p in rewrite(text, Options()).passages] != ["rewritten"]


def test_a_side_whose_steps_are_not_told_keeps_the_other_side_in_steps() -> None:
    text = (
        "FRONT\nKnit 33, cast off the next 16, knit to the end. On these 33 sts dec 1 st at neck edge on "
        "next 9 rows. Work straight until the front matches the back, ending at armhole edge.\nCast off 8 "
        "sts at beg of next and foll 2 alt rows.\nJoin wool at the neck edge to the 33 sts left and purl to "
        "the end. Dec 1 st at neck edge on next 9 rows. Knit straight until this side is as deep as the "
        "other, then starting at that edge get rid of the sts in three lots.\n"
    )
    assert [p.status for p in rewrite(text, Options()).passages] == ["left", "question"]
