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


def test_sts_that_make_a_collar_are_not_the_neck() -> None:
    words = (
        "she closes on both sides in every 2nd row 3 times 8 sts (1 time 8 and 2 times 9 sts). The 28 (30) sts "
        "that remain make the hood, and they are knitted on."
    )
    assert "rewritten" not in [p.status for p in rewritten(THIRD_PERSON.format(words)).passages]
