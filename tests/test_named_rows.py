# ruff: noqa: E501 - the lines of drafts are as long as houses write them
"""Rows and edges told in further ways: by side, by kind, in pairs, by a verb that is dropped or stands before."""

from __future__ import annotations

import pytest

from rewriter.barelists import bare_lists
from tests.onepassage import passage, revised, steps


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("Shape shoulders. On the next RS row cast off 7 sts, knit to end; on the next WS row 7 sts. Repeat these 2 rows twice more. Cast off rem 30 sts.", [7, 7, 7]),
        ("Shoulders: with RS facing cast off 7 sts, k to end; the WS row that follows likewise. Next 2 rows: cast off 6 sts at beg, work to end. Cast off rem 30 sts.", [7, 6]),
        ("For the shoulder cast off from the side 6 sts three times on every other row, and likewise at the other end. Leave the remaining 30 sts on a thread.", [6, 6, 6]),
        ("Shoulders. First pair of rows: cast off 8 sts at the beg of each row. Second pair of rows: cast off 7 sts at the beg of each row. Cast off rem 33 sts.", [8, 7]),
        ("BACK [74 sts]: Shape shoulders, always at the beginning of the rows: bind off 7 sts 4 times and 8 sts twice. Leave the rem 30 sts on a spare needle.", [7, 7, 8]),
        ("Shoulders. RS rows: BO 7 sts, k to end. WS rows: BO 7 sts, p to end. Work 3 RS rows and 3 WS rows in total, beginning with a RS row. Leave 30 sts on a holder.", [7, 7, 7]),
        ("BACK, shoulders: At the right edge cast off 7 sts at the start of the next RS row, and at the left edge 7 sts at the start of the next WS row, then the same again with 6 sts. Leave the 31 sts for the neck on a holder.", [7, 6]),
        ("Back shoulders: each row begins with a bind-off of 7 sts for 4 rows, and then with one of 6 sts for 2 rows. Bind off the rem 32 sts.", [7, 7, 6]),
        ("The shoulders are now bound off. At each side: 6 sts, 6 sts, 7 sts at the beginning of every row. The remaining 32 sts are bound off.", [6, 6, 7]),
        ("Shape the shoulders: Bind off 21 sts in all for each shoulder at the beginning of the next 6 rows, as follows: 6 sts in each of the first 2 rows, then 7 sts in each of the next 2 rows and 8 sts in each of the last 2 rows. Bind off the rem 32 sts.", [6, 7, 8]),
    ],
)  # fmt: skip
def test_steps_at_both_edges(words: str, expected: list[int]) -> None:
    assert steps(words) == expected
    assert len(passage(words).edges) == 2


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("LEFT FRONT. Shape shoulder: from the right side bind off 7 sts, then from the right side 6 sts two times more. Cut the yarn.", [7, 6, 6]),
        ("LEFT FRONT: cast off for the shoulder in every 2nd row at the sleeve side 3x 7 sts. At the same time cast off at the neck side in the 2nd row of the shoulder 1x 3 sts.", [7, 7, 7]),
        ("At the shoulder edge cast off 7 sts on every other row until 8 sts remain of the original 29 sts. Work 1 row, and cast off these 8 sts.", [7, 7, 7, 8]),
    ],
)  # fmt: skip
def test_steps_at_one_edge(words: str, expected: list[int]) -> None:
    assert steps(words) == expected
    assert len(passage(words).edges) == 1


@pytest.mark.parametrize(
    "words",
    [
        # at a front only every other of the rows begins at the armhole
        "LEFT FRONT. Shape shoulder: cast off at the beginning of the rows: 8 sts twice and 9 sts twice.",
        "Shoulders. RS rows: BO 7 sts, k to end. WS rows: BO 7 sts, p to end. BO rem 30 sts.",
        "Shape shoulders: at the left edge cast off 7 sts at the start of the next RS row, and at the right edge 7 sts at the start of the next WS row. Cast off rem 30 sts.",
        "Shoulders (76 sts): at each end, in the next row and every 2 rows: 8 sts, 8 sts, 7 sts.",
    ],
)  # fmt: skip
def test_what_the_words_leave_open_is_asked(words: str) -> None:
    assert passage(words).status == "question"


def test_repeat_signs_are_no_part_of_a_label() -> None:
    words = (
        "Work on these 24 sts for 9 cm, finishing at the armhole edge. **1st row.\u2014Cast off 8, work to end. 2nd row.\u2014"
        "Work across. Repeat these 2 rows once. Cast off.** Join wool at neck edge to the other 24 sts, and work to match, "
        "repeating from ** to **."
    )
    text = revised(words).output
    assert text.count("**") == 4
    assert "finishing at the neck edge" in text


@pytest.mark.parametrize(
    ("words", "sign"),
    [
        ("Bind off 7, 8, 8 sts at beg of next 4 rows. Leave 41, 41, 43 sts on a holder.", ","),
        (
            "Cast off 8; 9 sts at beg of next 4 rows, then 8; 8 sts. Leave 34; 36 sts on a thread.",
            ";",
        ),
        # the steps of one shoulder
        ("Bind off 6, 6, 7 sts at armhole edge, then 5, 5, 6 sts at the other.", ""),
        # lists of another length, or with brackets
        ("Bind off 7, 8, 8 sts. Leave 41, 43 sts.", ""),
        ("Bind off 7, 8, 8 sts at armhole. Leave 41, 41, 43 sts. Cast off 7 (8, 8) sts.", ""),
    ],
)
def test_lists_without_brackets(words: str, sign: str) -> None:
    assert bare_lists(words) == sign
