# ruff: noqa: E501 - the lines of drafts are as long as houses write them
"""Shoulders told in further ways: by "she", a size at a time in items, in lists within brackets."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import Report

QUIET = Options(markers=False)


def rewritten(text: str) -> Report:
    return rewrite(text, QUIET)


def steps(report: Report, passage: int = -1) -> list[tuple[int, ...]]:
    """Return the steps of the first edge of a passage, for each size."""
    edge = report.passages[passage].edges[0]
    return [tuple(n for n in size if n) for size in zip(*edge.steps, strict=True)]


THIRD_PERSON = """Sizes 44 (48)
BACK
The knitter casts on 88 (96) sts and knits 8 cm of rib. There remain 76 (82) sts. At the height of 20 (21) cm \
from the beginning of the armholes {}
"""


@pytest.mark.parametrize(
    "words",
    [
        "the knitter makes the bevels of the shoulders: she closes, on both sides in every 2nd row, 3 times 8 loops "
        "(1 time 8 and 2 times 9 loops). The 28 (30) loops which remain in the middle make the neck of the back, "
        "and they are closed in one row.",
        "she shapes the shoulders: he closes on both sides in every 2nd row 3 times 8 sts (1 time 8 and 2 times 9 "
        "sts). The 28 (30) sts that remain form the back neck and are bound off at once.",
        "one slopes the shoulders: she binds off at each side in every 2nd row 3 times 8 sts (1 time 8 and 2 times "
        "9 sts). The remaining 28 (30) sts are the neck; they are cast off in one go.",
        "she forms the slopes of the shoulders: she casts off on both sides in every 2nd row 3 times 8 sts (1 time 8 "
        "and 2 times 9 sts). The 28 (30) sts which are left become the neckline and she closes them all at once.",
    ],
)
def test_what_the_knitter_does_is_read_as_what_is_to_be_done(words: str) -> None:
    report = rewritten(THIRD_PERSON.format(words))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert steps(report) == [(8, 8, 8), (8, 9, 9)]
    assert "Bind off 24 (26)" in report.output or "Cast off 24 (26)" in report.output


def test_sts_that_make_a_hood_are_not_the_neck() -> None:
    words = (
        "she closes on both sides in every 2nd row 3 times 8 sts (1 time 8 and 2 times 9 sts). The 28 (30) sts "
        "that remain make the hood, and they are knitted on."
    )
    assert "rewritten" not in [p.status for p in rewritten(THIRD_PERSON.format(words)).passages]


BY_LETTERS = """{sign}Jumper
Sizes: a) 34/36 - b) 38/40 - c) 42/44

{sign}BACK
Cast on a) 86 sts - b) 92 sts - c) 98 sts.

SHOULDERS: {rows}
{items}

Cast off the a) 46 sts - b) 48 sts - c) 50 sts which remain for the neck.
"""
THREE_SIZES = [(4, 4, 4, 4, 4), (4, 4, 4, 5, 5), (4, 5, 5, 5, 5)]


@pytest.mark.parametrize(
    ("sign", "bullet", "rows"),
    [
        ("## ", "* ", "At 52 cm of total height, cast off on each side every 2 rows:\n"),
        ("## ", "- ", "At a) 52 cm - b) 53 cm - c) 55 cm cast off at both sides on every 2nd row:\n"),
        ("", "", "At 52 cm, bind off on each side every 2 rows:"),
        ("", "- ", "At 52 cm, bind off at each side in every second row:"),
    ],
)  # fmt: skip
def test_steps_a_size_in_the_items_of_a_list(sign: str, bullet: str, rows: str) -> None:
    told = (
        "a) 5 times 4 sts,",
        "b) 3 times 4 sts, 2 times 5 sts,",
        "c) 1 time 4 sts, 4 times 5 sts.",
    )
    items = "\n".join(bullet + item for item in told)
    report = rewritten(BY_LETTERS.format(sign=sign, rows=rows, items=items))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert steps(report) == THREE_SIZES
    assert "a) 20" in report.output and "5 times" not in report.output


@pytest.mark.parametrize("name", ["Size {}", "For size {}"])
def test_steps_in_items_that_name_their_sizes(name: str) -> None:
    told = ("5 times 4 sts", "3 times 4 sts, 2 times 5 sts", "1 time 4 sts, 4 times 5 sts")
    items = "\n".join(
        f"* {name.format(size)}: {words}" for size, words in zip("SML", told, strict=True)
    )
    text = (
        "## Back\nSizes: S (M, L)\nCast on 86 (92, 98) sts.\n\nShoulders: At 52 cm cast off on each side every 2 "
        f"rows:\n\n{items}\n\nCast off the 46 (48, 50) sts that remain.\n"
    )
    report = rewritten(text)
    assert [p.status for p in report.passages] == ["rewritten"]
    assert steps(report) == THREE_SIZES


def test_the_row_after_which_a_shoulder_begins_moves_one_row_down() -> None:
    items = "a) 5 times 4 sts,\nb) 3 times 4 sts, 2 times 5 sts,\nc) 1 time 4 sts, 4 times 5 sts."
    rows = "At 52 cm, that is, after row no. a) 156 - b) 160 - c) 166, cast off on each side every 2 rows:"
    report = rewritten(BY_LETTERS.format(sign="", rows=rows, items=items))
    assert "after row no. a) 155 - b) 159 - c) 165, shape the shoulders" in report.output
    first = rewritten(
        BY_LETTERS.format(sign="", rows=rows.replace("156", "1"), items=items)
    ).passages[0]
    assert first.status == "question"


def test_items_that_are_for_no_sizes_stay_apart() -> None:
    items = "a) first the left shoulder,\nb) then the right one."
    rows = "At 52 cm cast off on each side every 2 rows:"
    assert "rewritten" not in [
        p.status for p in rewritten(BY_LETTERS.format(sign="", rows=rows, items=items)).passages
    ]


IN_TURN = """Size: {sizes} years
Back: Cast on {cast_on} sts and knit rib. When the work measures 25 cm, bind off at each side for armholes on \
every 2nd row 3, 2, 1 sts = {width} sts. When the work measures 38 cm, bind off the {middle} sts in the middle for \
neck and each side is knitted finished for itself. Bind off at the neck edge on every 2nd row 2, 1 sts = {shoulder} \
sts for shoulder. Knit until the work measures 40 cm. {told} Knit the other shoulder likewise, but mirrored.
"""
FIVE = {
    "sizes": "(2) 4 (6) 8 (10)",
    "cast_on": "(76) 82 (88) 94 (100)",
    "width": "(64) 70 (76) 82 (88)",
    "middle": "(24) 26 (28) 30 (32)",
    "shoulder": "(17) 19 (21) 23 (25)",
}
THREE = {
    "sizes": "2 (4) 6",
    "cast_on": "76 (82) 88",
    "width": "64 (70) 76",
    "middle": "24 (26) 28",
    "shoulder": "17 (19) 21",
}


@pytest.mark.parametrize(
    ("counts", "told"),
    [
        (FIVE, "Then bind off from the armhole, on every 2nd row (6, 6, 5) 7, 6, 6 (7, 7, 7) 8, 8, 7 (9, 8, 8) sts."),
        (FIVE, "Bind off at the armhole side in every 2nd row [6, 6, 5] 7, 6, 6 [7, 7, 7] 8, 8, 7 [9, 8, 8] stitches."),
        (THREE, "Now cast off at the armhole edge on every other row 6, 6, 5 (7, 6, 6) 7, 7, 7 sts."),
    ],
)  # fmt: skip
def test_steps_of_the_sizes_in_and_outside_brackets_in_turn(
    counts: dict[str, str], told: str
) -> None:
    report = rewritten(IN_TURN.format(told=told, **counts))
    *others, shoulder = report.passages
    assert shoulder.status == "rewritten"
    assert steps(report)[:3] == [(6, 6, 5), (7, 6, 6), (7, 7, 7)]
    assert [p.status for p in others] == ["left", "left"]
    assert [p.kind for p in others] == ["armhole", "neck"]


def test_lists_in_turn_that_are_too_few_for_the_sizes_are_asked_about() -> None:
    told = "Then bind off from the armhole, on every 2nd row (6, 6, 5) 7, 6, 6 (7, 7, 7) sts."
    assert rewritten(IN_TURN.format(told=told, **FIVE)).passages[-1].status != "rewritten"
