"""Shoulders whose sizes are told one by one: each reads its own words, and the rest is for all."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import PassageReport

DRAFT = """Sizes: S (M, L, XL).

BACK
Work straight until armhole measures 18 cm, ending with a WS row. 74 (78, 86, 92) sts.
Shape shoulders
{told}
Leave rem 32 (30, 30, 28) sts on a holder.
"""
STEPS = [(7, 7, 7), (8, 8, 8), (7, 7, 7, 7), (8, 8, 8, 8)]


def passage(told: str) -> PassageReport:
    (found,) = rewrite(DRAFT.format(told=told), Options(markers=False)).passages
    return found


@pytest.mark.parametrize(
    "told",
    [
        "1st and 2nd sizes only: cast off 7 (8) sts at beg of next 6 rows. "
        "3rd and 4th sizes only: cast off 7 (8) sts at beg of next 8 rows.",
        "1st and 2nd sizes only: cast off 7 (8) sts at beg of next 6 rows; "
        "3rd and 4th sizes only: cast off 7 (8) sts at beg of next 8 rows.",
        "Size S: cast off 7 sts at beg of next 6 rows. Size M: cast off 8 sts at beg of next 6 rows. "
        "Size L: cast off 7 sts at beg of next 8 rows. Size XL: cast off 8 sts at beg of next 8 rows.",
        "1st size: cast off 7 sts at beg of next 6 rows. 2nd size: cast off 8 sts at beg of next 6 rows. "
        "3rd size: cast off 7 sts at beg of next 8 rows. 4th size: cast off 8 sts at beg of next 8 rows.",
        "Cast off at each end every 2 rows: size S: 3 times 7 sts; size M: 3 times 8 sts; "
        "size L: 3 times 7 sts and once 7 sts; size XL: 4 times 8 sts.",
        "Sizes S and M: cast off 7 (8) sts at beg of next 6 rows; "
        "sizes L and XL: cast off 7 (8) sts at beg of next 8 rows.",
    ],
)
def test_each_size_reads_its_own_words(told: str) -> None:
    found = passage(told)
    assert found.status == "rewritten", found.reason
    (edge, _) = found.edges
    assert [tuple(n for n in size if n) for size in zip(*edge.steps, strict=True)] == STEPS
    assert found.neck == (32, 30, 30, 28)


@pytest.mark.parametrize(
    "told",
    [
        "Cast off at each end every 2 rows: size S: 3 times 7 sts; size M: 3 times 8 sts; "
        "size L: 4 times 7 sts.",  # nothing for XL
        "Cast off at each end every 2 rows: size S: 3 times 7 sts; size M: 3 times 8 sts; "
        "size M: 4 times 7 sts; size XL: 4 times 8 sts.",  # M twice, L never
    ],
)
def test_a_size_that_is_told_nothing_is_not_guessed(told: str) -> None:
    assert passage(told).status != "rewritten"
