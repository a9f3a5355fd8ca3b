"""Where no word stands that a match must hold, there is no match."""

from __future__ import annotations

import re

import pytest

from rewriter import regex
from rewriter.document import split_document
from rewriter.gauge import _forms
from rewriter.lexicon import _cues, term_cues
from rewriter.needed import may_match, needed
from rewriter.sizes import _PHRASE_LIST, _sized
from rewriter.source import read_source
from rewriter.statedwords import _tallies, facts, phrases_of
from tests.drafts import CORPUS


@pytest.mark.parametrize(
    ("pattern", "words"),
    [
        ("ab|cd", {"ab", "cd"}),
        ("(?:bind|cast)\\s+off", {"bind", "cast"}),
        ("(?:the\\s+)?rows?(?![a-z])", {"row"}),
        ("(?<=to )last(?=\\s+sts)", {"last"}),
        ("b\\.?o", {"b"}),
        ("b\\.o", {"b.o"}),
        ("\\bturn\\b|w&t", {"turn", "w&t"}),
        ("a{0,2}bc+d", {"bc"}),
        ("[ab]c{2}", {"c"}),
        ("x?", {""}),
        ("\\d+|row", {""}),
        ("(?i:row)", {""}),
        ("(?P<n>\\d+) sts", {" sts"}),
    ],
)
def test_words_of_which_one_is_needed(pattern: str, words: set[str]) -> None:
    assert needed(pattern) == words


def test_case_that_is_not_heeded_tells_nothing() -> None:
    assert may_match(regex.compile("row", regex.I), "ROW")


def _expressions() -> list[regex.Pattern[str]]:
    of_facts = [pattern for fact in facts() if (pattern := phrases_of(fact)) is not None]
    return [*of_facts, *_cues(), *term_cues(), *_tallies(), _PHRASE_LIST, _sized(), _forms().turned]


def test_nothing_is_lost_in_the_drafts() -> None:
    texts: set[str] = set()
    for path in sorted([*CORPUS.glob("stated/*.txt"), *CORPUS.glob("*/*.md")])[::4]:
        document = split_document(read_source(path.read_bytes(), path.name))
        texts |= {sentence.view.text for sentence in document.sentences}
    assert len(texts) > 1000
    held = passed = 0
    for expression in _expressions():
        for text in texts:
            if may_match(expression, text):
                held += 1
            else:
                passed += 1
                assert expression.search(text) is None, (expression.pattern[:80], text)
    assert passed > held  # it is worth the while


def test_every_fact_needs_words() -> None:
    for expression in _expressions():
        assert all(re.search("[a-z=]", word) for word in needed(expression.pattern))
