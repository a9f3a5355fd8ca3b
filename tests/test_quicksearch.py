"""What is looked for by its first letters is what is found without."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from rewriter import regex, sizes, statedwords, style
from rewriter.document import split_document
from rewriter.quicksearch import QuickSearch
from rewriter.source import read_source
from tests.drafts import CORPUS


def _all() -> dict[str, QuickSearch]:
    """Return the expressions that are looked for in this way."""
    phrases = {
        f"{n} {f.says}": statedwords.phrases_of(f) for n, f in enumerate(statedwords.facts())
    }
    return {
        "amount": sizes._amount(),
        "sized": sizes._sized(),
        "steps": sizes._STEP_LIST,
        "amount of style": style._amount(),
        "tallies": statedwords._tallies()[1],
        **{name: found for name, found in phrases.items() if found is not None},
    }


@pytest.mark.parametrize("name", _all())
def test_the_same_is_found(name: str) -> None:
    """In the sentences of drafts of many houses."""
    quick = _all()[name]
    assert quick.is_quick, "its first letters cannot be told"
    for folder in ("cuttings", "stated", "drafts"):
        for path in sorted(Path(CORPUS, folder).glob("*[05]*.[mt][dx]*")):
            document = split_document(read_source(path.read_bytes(), path.name))
            for text in [s.view.text for s in document.sentences]:
                assert list(_spans(quick.finditer(text))) == list(
                    _spans(quick.plain.finditer(text))
                )


def _spans(matches: Iterator[regex.Match[str]]) -> Iterator[tuple[int, int]]:
    return (m.span() for m in matches)


@pytest.mark.parametrize(
    ("pattern", "text", "found"),
    [
        ("tens|ten|end", "tends tend bend", [(0, 3), (6, 9), (12, 15)]),
        ("aab|ab", "aaab", [(1, 4)]),
        ("x[^y]z", "x\u00e9z xyz xaz", [(0, 3), (8, 11)]),
        (r"(?<=a)b", "abb b", [(1, 2)]),
        ("(?i)one", "ONE", [(0, 3)]),
        (r"be\b", "bee be", [(4, 6)]),
    ],
)
def test_places(pattern: str, text: str, found: list[tuple[int, int]]) -> None:
    quick = QuickSearch(regex.compile(pattern))
    assert list(_spans(quick.finditer(text))) == found
    assert quick.search(text, len(text)) is None
