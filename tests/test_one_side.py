# ruff: noqa: E501 - the lines of drafts are as long as houses write them
"""Sides of a neck: one told by itself, one that waits while the other is finished, one told by the first."""

from __future__ import annotations

import pytest

from rewriter import check
from tests.onepassage import passage, revised, steps

ALONE = (
    "Right back shoulder\nRow 1 (RS): BO 6 sts, knit until there are 16 sts on the right needle, turn. Put the other "
    "sts on a holder.\nRow 2: BO 3 sts, purl to end.\nRow 3: BO 6 sts, knit to end.\nRow 4: Purl.\nBO the last 7 sts.\n"
)


def test_a_side_told_by_itself_begins_with_its_dividing_row() -> None:
    found = passage(ALONE)
    assert found.status == "rewritten"
    assert len(found.edges) == 1
    assert [step[0] for step in found.edges[0].steps] == [6, 6, 7]
    assert found.edges[0].first_bind_off_side == "RS"
    text = revised(ALONE).output
    assert "Next row (WS): Purl to last 6 sts, turn." in text
    assert (
        "knit until there are 22 sts on right needle (the 6 unworked shoulder sts and 16 more)"
        in text
    )
    assert "Put the other sts on a holder." in text


@pytest.mark.parametrize(
    "behind",
    [
        "Left back shoulder: as seems best, on the opposite side.",
        "Rejoin yarn to the sts left and shape as you like.",
        "Go back to the sts on the holder and do the second shoulder likewise.",
    ],
)
def test_words_that_lean_on_a_side_are_asked_about(behind: str) -> None:
    assert passage(f"{ALONE}{behind}\n").status == "question"


def test_a_side_whose_count_is_wrong_is_asked_about() -> None:
    assert passage(ALONE.replace("16 sts", "17 sts")).status == "question"


def test_words_that_lay_the_others_aside_stay_with_their_new_count() -> None:
    words = (
        "Shape left shoulder: Next row: Cast off 8, k until 17 sts are on right needle, turn. Work upon these 17 sts "
        "only, leaving the others on a spare needle. Next row: Cast off 2, p to end. Next row: Cast off 7, k to end. "
        "P 1 row. Cast off the remaining 8."
    )
    assert (
        "Work upon these 25 sts only, leaving the others on a spare needle."
        in revised(words).output
    )


WAITS = (
    "Shape shoulders and back neck\nNext row (RS): Bind off 7 sts, knit until there are 15 sts on right needle, bind off "
    "center 24 sts, knit to end. Work on the last set of sts only.\nNext row: Bind off 7 sts, purl to neck.\nNext row: "
    "Bind off 3 sts, knit to end.\nNext row: Bind off 6 sts, purl to neck.\nNext row: Knit.\nBind off the rem 6 sts.\n"
)


def test_the_half_that_waits_is_counted_with_its_unworked_sts() -> None:
    words = (
        f"{WAITS}With WS facing rejoin yarn to the other 15 sts at neck edge, bind off 3 sts, purl to end.\nNext row: "
        "Bind off 6 sts, knit to neck.\nNext row: Purl.\nBind off rem 6 sts.\n"
    )
    assert [[s[0] for s in edge.steps] for edge in passage(words).edges] == [[7, 6, 6], [7, 6, 6]]
    text = revised(words).output
    assert (
        "rejoin yarn to the other 22 sts at neck edge, bind off 3 sts, purl to last 13 sts" in text
    )
    assert "Work on the last set of sts only." in text


def test_the_half_that_waits_may_be_told_by_the_other() -> None:
    words = f"{WAITS}Rejoin yarn at neck edge to first set, bind off 3 sts, purl to end; then complete as for other side, beginning at armhole edge.\n"
    assert len(passage(words).edges) == 2
    other = words.replace("bind off 3 sts, purl", "bind off 4 sts, purl")
    assert passage(other).status != "rewritten"


@pytest.mark.parametrize(("first", "status"), [("cast off 7", "rewritten"), ("cast off 6", "left")])
def test_a_second_side_may_name_its_first_step(first: str, status: str) -> None:
    words = (
        "Shape shoulder: Next row, right side facing: cast off 7, k until there are 18 sts on right needle, turn. Cast "
        "off 4, p back. Cast off 7, k to end. P 1 row. Cast off 7. Slip centre 25 sts on a holder, join wool, k to end, "
        f"then work as for first side, starting with {first} at armhole edge."
    )
    assert passage(words).status == status


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("LEFT FRONT, 20 sts left: with RS facing, cast off 6 sts at the beg of the row for the shoulder, knit to end, turn and purl back. Do so 2 times altogether, and cast off the last 8 sts.", [6, 6, 8]),
        ("LEFT FRONT. Shape shoulder: cast off 6 sts at armhole edge, k back, cast off 6 sts, k back, cast off the last 7 sts.", [6, 6, 7]),
        ("RIGHT FRONT. Bind off from the armhole for the shoulder: 7 sts, knit back, 7 sts, knit back, and the rest, 8 sts.", [7, 7, 8]),
    ],
)  # fmt: skip
def test_the_row_back_is_one_row(words: str, expected: list[int]) -> None:
    assert steps(words) == expected


def test_a_side_told_by_itself_is_checked_with_its_count() -> None:
    text = revised(ALONE).output
    assert check(ALONE, text).result == "same"
    wrong = check(ALONE, text.replace("until there are 22 sts", "until there are 21 sts"))
    assert "21 sts are counted on the right needle, but it is 22" in wrong.findings[0].message
    wrong = check(ALONE, text.replace("purl to last 12 sts", "purl to last 11 sts"))
    assert "this turn leaves 11 sts unworked" in wrong.findings[0].message
