"""What the sizes of a draft are called."""

from __future__ import annotations

import pytest

from rewriter.document import split_document
from rewriter.formats import open_draft
from rewriter.sizes import read_sizes

THREE = "\n\nBACK\nCast on 40 (44, 48) sts. Work 8 (9, 10) rows.\n"


def labels(text: str) -> tuple[str, ...]:
    sizes = read_sizes(split_document(open_draft(text.encode(), "draft.md").source))
    assert sizes.disagreement is None
    return sizes.labels


@pytest.mark.parametrize(
    ("line", "names"),
    [
        ("## Sizes\n\nA (B, C)", ("A", "B", "C")),
        ("Sizes: A (B, C)", ("A", "B", "C")),
        ("Sizes A, B and C", ("A", "B", "C")),
        ("Sizes: i [ii, iii]", ("i", "ii", "iii")),
        ("## Sizes\n\nLamb (Ewe, Ram)", ("Lamb", "Ewe", "Ram")),
        ("To fit 36/38 (40/42, 44/46)", ("36/38", "40/42", "44/46")),
        ("Sizes : 34/36 - 38/40 - 42/44", ("34/36", "38/40", "42/44")),
        ("Size: (2) 4 (6)", ("2", "4", "6")),
    ],
)
def test_sizes_have_the_names_that_the_draft_gives_them(line: str, names: tuple[str, ...]) -> None:
    assert labels(line + THREE) == names


@pytest.mark.parametrize(
    "line",
    [
        "Sizes: A (B, C, D)",  # not as many as the lists of the draft
        "Yarn\n\nRed (Blue, Green)",
        "Sizes: see the chart (below, and the notes at the end, on page 4)",
    ],
)
def test_other_lists_name_no_sizes(line: str) -> None:
    assert labels(line + THREE) == ("1", "2", "3")
