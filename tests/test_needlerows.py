"""One size of a revised draft: its words, and its rows with the sts on the needle."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from rewriter.needlemodel import Shoulder
from rewriter.needlerows import shoulders
from rewriter.onesize import in_one_size
from rewriter.options import Options, Shoulders
from tests.drafts import CORPUS, reworked

DRAFTS = [
    path
    for folder in ("drafts", "houses")
    for path in sorted(Path(CORPUS, folder).glob("*"))
    if path.suffix in (".txt", ".md")
]


@pytest.mark.parametrize(
    ("text", "sizes", "last"),
    [
        ("Cast off 8(9:9:10) sts.", 4, "Cast off 10 sts."),
        ("armholes measure 19(20:21½:22) cm", 4, "armholes measure 22 cm"),
        ('8 (9, 9) sts, 16 (16½, 17)"', 3, '9 sts, 17"'),
        ("4-4½-5 in", 3, "5 in"),
        ("8(9)10(11) sts", 4, "11 sts"),
        ("6x10 (7-7) times", 3, "6x10 (7-7) times"),
        ("- (-, 9, 8) sts", 4, "8 sts"),
        ("22 sts and 30 rows = 10 cm", 4, "22 sts and 30 rows = 10 cm"),
        ("seven (eight, nine) sts", 3, "9 sts"),
        ("(the 8 (9) 10 unworked sts and 20 (22) 23 more)", 3, "(the 10 unworked sts and 23 more)"),
        ("8 (9) 10 (11) 12 more", 5, "12 more"),
        ("8 (9) 10 more", 2, "9 10 more"),
        ("4 rows (6 rows)", 1, "4 rows (6 rows)"),
    ],
)
def test_the_words_of_one_size(text: str, sizes: int, last: str) -> None:
    assert in_one_size(text, sizes - 1, sizes) == last


def begun_with(shoulder: Shoulder, found: Sequence[Shoulder]) -> set[int | None]:
    """Return the sts that may be on the needle where the rows of a shoulder begin.

    The first side of a divided neck begins with all sts; the second with its own, or with those of
    the centre too, where the words that take it up again bind them off.
    """
    if shoulder.half != "second side":
        return {shoulder.whole}
    first = next(f for f in found if f.name == shoulder.name)
    assert first.whole is not None and first.stitches is not None
    return {shoulder.stitches, first.whole - first.stitches}


@pytest.mark.parametrize("path", DRAFTS, ids=lambda p: p.stem)
@pytest.mark.parametrize("join", ["sewn", "held"])
def test_the_rows_of_the_first_and_last_size_use_up_the_shoulder(
    path: Path, join: Shoulders
) -> None:
    work = reworked(path, Options(shoulders=join))
    for size in sorted({0, len(work.draft.sizes) - 1}):
        found = shoulders(work, size)
        passages = {p.id: p for p in work.report.passages}
        for shoulder in found:
            passage = passages[shoulder.name]
            turns = [r for r in shoulder.rows if r.does == "turn"]
            assert sum(shoulder.together) + sum(
                s.total
                for f in found
                if f.name == shoulder.name and f is not shoulder
                for s in f.edges
            ) == sum(e.together[size] for e in passage.edges)
            if shoulder.stitches is None:
                continue
            assert shoulder.rows[-1].words or shoulder.half
            taken = sum(r.off for r in shoulder.rows)
            left = shoulder.rows[-1].on_needle
            assert left is not None and left + taken in begun_with(shoulder, found)
            for row in turns:
                assert row.worked is None or row.worked > 0
