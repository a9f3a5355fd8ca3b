"""Stitch counts told as results or left to the sums, and words that lead up to a shoulder."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import PassageReport

FRONT = (
    "LEFT FRONT\nCast on 44 sts. Work in st st until work measures 30 cm, ending with a purl row.\n"
)
END = "Cont until armhole measures 20 cm, ending with a purl row.\n"
SHOULDER = "Shape shoulder: Next row: Cast off 7 sts, k to end. P 1 row. Rep these 2 rows once. "
BACK = "BACK\nCast on 62 sts. Work until piece measures 40 cm, ending with a WS row.\n"


def shoulder(text: str) -> PassageReport:
    """Return what became of the last passage of a draft."""
    return rewrite(text + "\n", Options(markers=False)).passages[-1]


def steps(text: str) -> list[int]:
    found = shoulder(text)
    assert found.status == "rewritten", found.reason
    return [n for row in found.edges[0].steps for n in row]


@pytest.mark.parametrize(
    "told",
    [
        "K2tog at neck edge every row 6 times = 22.",
        "K2tog at neck edge on next 6 rows \u2192 22 sts.",
        "Dec 1 st at neck edge every row until you have 22.",
        "Dec 1 st at neck edge every row 6 times. There remain 22 sts.",
        # 35 - 6 - 7 = 22
        "35 sts.\nNeck: Next row: Cast off 6 sts, p to end. Dec neck edge every row 7 times.",
    ],
)
def test_the_count_before_gives_the_last_step(told: str) -> None:
    assert steps(f"{FRONT}{told} {END}{SHOULDER}Cast off.") == [7, 7, 8]


@pytest.mark.parametrize(
    "told",
    [
        # both ends, a row with words of its own, and sums that leave no even step: no count is worked out
        "35 sts.\nDec 1 st at each end of every row 7 times.",
        "35 sts.\nNext row: Cast off 6 sts, (k2tog, k1) to end. Dec neck edge every row 7 times.",
        "60 sts.\nNext row: Cast off 6 sts, p to end. Dec neck edge every row 7 times.",
    ],
)
def test_a_last_step_that_no_sum_gives_is_asked(told: str) -> None:
    assert shoulder(f"{FRONT}{told} {END}{SHOULDER}Cast off.").status == "question"


def test_an_edge_named_behind_the_last_steps_is_that_of_all() -> None:
    told = "Shape shoulder: Cast off 8 sts twice and 6 once at the armhole end."
    assert steps(f"{FRONT}22 sts. {END}{told}") == [8, 8, 6]


def test_sts_left_beside_the_last_step_end_its_row() -> None:
    told = (
        "Shape shoulder: Cast off 7 sts at beg of next and foll alt row. Work 1 row. "
        "Cast off 6 sts at beg of next row, k8. Work on these 8 sts for 6 cm."
    )
    assert steps(f"{FRONT}28 sts. {END}{told}") == [7, 7, 6]


def test_steps_go_on_until_they_are_gone() -> None:
    told = (
        "Shape shoulder: At the start of the next 2 RS rows cast off 7 sts, "
        "then 4 sts at the start of every foll RS row until they're gone."
    )
    assert steps(f"{FRONT}22 sts. {END}{told}") == [7, 7, 4, 4]


@pytest.mark.parametrize(
    "told",
    [
        "Now the slope of the shoulder. Mine is rather steep. Cast off 9 sts at beg of next 4 rows.",
        "Cast off 9 sts at beg of next 4 rows. What is left, 26 sts, is the back of your neck.",
        "Cast off 9 sts at beg of next 4 rows. Leave the last 26 sts on a spare length of yarn.",
        "Shoulders: The knitter now casts off 9 sts at the beginning of each of the next 4 rows. "
        "There remain 26 sts.",
    ],
)
def test_words_around_the_steps_tell_a_shoulder(told: str) -> None:
    assert steps(BACK + told) == [9, 9]


def test_an_armhole_after_announced_words_is_none() -> None:
    told = (
        "Now the slope of the shoulder. But the armholes come first. "
        "Cast off 4 sts at beg of next 4 rows. Cont on 46 sts."
    )
    assert shoulder(BACK + told).kind != "shoulder"
