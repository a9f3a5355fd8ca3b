"""The lexer finds what the parser library's own contextual lexer finds, and tries no terminal in vain."""

from __future__ import annotations

from pathlib import Path

import pytest
import regex
from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput, UnexpectedToken

from rewriter.document import split_document
from rewriter.firstletters import ASCII, first_letters
from rewriter.parsing import grammar_text, parser
from rewriter.source import read_source
from tests.drafts import CORPUS

_LOOK = regex.compile(
    r"\(\?<?[=!](?:[^()\[\]\\]|\\.|\[(?:\\.|[^\]\\])+\]|(?P<inner>\((?:[^()\[\]\\]|\\.|\[(?:\\.|[^\]\\])+\]|(?&inner))*\)))*\)"
)
"""A lookaround, with the brackets inside it."""


def test_no_first_letter_is_left_out() -> None:
    """The regex library's partial matching says with which letters a match can begin."""
    for terminal in parser().terminals:
        pattern = terminal.pattern.to_regexp()
        # what stands before or behind a match may forbid it, but adds no letter
        free = regex.compile(_LOOK.sub("", pattern))
        possible = {c for c in ASCII if free.match(c, partial=True)}
        assert possible <= first_letters(pattern), terminal.name


@pytest.mark.parametrize(
    ("pattern", "letters"),
    [
        ("ab|cd", "ac"),
        ("(?:a|b)?c", "abc"),
        (r"(?<![a-z])(?:at\s+)?beg", "ab"),
        (r"(?=\d)[0-9(]", "0123456789("),
        ("[^\x00-by-\x7f]", "cdefghijklmnopqrstuvwx"),
        (r"a{0,2}b{1,2}c", "ab"),
        (r"\(\d", "("),
        (r"(?<=x\s)y", "y"),
    ],
)
def test_first_letters(pattern: str, letters: str) -> None:
    assert first_letters(pattern) == set(letters)


def test_what_can_match_nothing_may_begin_with_any_letter() -> None:
    assert first_letters("a*") == ASCII


def _shape(lark: Lark, text: str) -> tuple[object, tuple[object, ...]]:
    stray: list[Token] = []

    def keep(error: UnexpectedInput) -> bool:
        if isinstance(error, UnexpectedToken) and error.token.type != "$END":
            stray.append(error.token)
            return True
        return False

    try:
        tree: Tree[Token] | None = lark.parse(text, on_error=keep)
    except UnexpectedInput:
        tree = None
    return tree, tuple((t.type, str(t), t.start_pos, t.end_pos) for t in stray)


def test_it_is_the_contextual_lexer() -> None:
    """On the sentences of drafts of many houses, whole and cut in two."""
    whole = Lark(grammar_text(), parser="lalr", lexer="contextual", regex=True)
    texts: set[str] = set()
    for path in sorted(Path(CORPUS, "cuttings").glob("4?0.txt")):
        document = split_document(read_source(path.read_bytes(), path.name))
        for sentence in document.sentences:
            texts |= {sentence.view.text, sentence.view.text[len(sentence.view.text) // 2 :]}
    assert len(texts) > 50
    for text in sorted(texts):
        assert _shape(parser(), text) == _shape(whole, text), text
