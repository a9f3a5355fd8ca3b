"""The lexer finds what the parser library's own contextual lexer finds, and tries no terminal in vain."""

from __future__ import annotations

import string
from collections.abc import Iterable
from pathlib import Path

import pytest
import regex
from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput, UnexpectedToken

from rewriter.document import split_document
from rewriter.firstletters import ASCII, DEPTH, OPEN, beginnings, first_letters
from rewriter.grammartext import grammar_text
from rewriter.parsing import parser
from rewriter.source import read_source
from tests.drafts import CORPUS

_LOOK = regex.compile(
    r"\(\?<?[=!](?:[^()\[\]\\]|\\.|\[(?:\\.|[^\]\\])+\]|(?P<inner>\((?:[^()\[\]\\]|\\.|\[(?:\\.|[^\]\\])+\]|(?&inner))*\)))*\)"
)
"""A lookaround, with the brackets inside it."""


def test_no_beginning_is_left_out() -> None:
    """The regex library's partial matching says with which letters a match can begin."""
    for terminal in parser().lark.terminals:
        pattern = terminal.pattern.to_regexp()
        # what stands before or behind a match may forbid it, but adds no letter
        free = regex.compile(_LOOK.sub("", pattern))
        possible = {c for c in ASCII if free.match(c, partial=True)}
        assert possible <= first_letters(pattern), terminal.name
        told = beginnings(pattern)
        for _ in range(DEPTH - 1):
            possible -= {b for b in possible if any(b[:n] + OPEN in told for n in range(DEPTH))}
            possible = {b + c for b in possible for c in ASCII if free.match(b + c, partial=True)}
        possible = {b for b in possible if not any(b[:n] + OPEN in told for n in range(DEPTH))}
        assert possible <= told, terminal.name


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


@pytest.mark.parametrize(
    ("pattern", "told"),
    [
        ("beginning|be", {"beg", "be" + OPEN}),
        (r"(?<![a-z])(?:at[ -]+)?beg", {"at ", "at-", "beg"}),
        ("a+b", {"aaa", "aab", "ab" + OPEN}),
        ("x(?:yz)?w", {"xyz", "xw" + OPEN}),
        (r"(?:one|\d{1,2})a", {"one"} | {c + OPEN for c in "0123456789"}),
        ("[ab]c", {"ac" + OPEN, "bc" + OPEN}),
        ("ab?c*d", {"abc", "abd", "acc", "acd", "ad" + OPEN}),
        ("", {OPEN}),
        (r"(?P<n>one)", {"one"}),
        (r"[^\W\d]", {c + OPEN for c in string.ascii_letters + "_"}),
        *((strange, {OPEN}) for strange in ("(?i)one", r"(a)\1", r"\x41", r"[\x41]", r"\Gone")),
    ],
)
def test_beginnings(pattern: str, told: set[str]) -> None:
    assert beginnings(pattern) == told


def test_what_can_match_nothing_may_begin_with_any_letter() -> None:
    assert first_letters("a*") == ASCII


_Shape = tuple[object, tuple[object, ...]]


def _by_lark(lark: Lark, text: str) -> _Shape:
    stray: list[Token] = []

    def keep(error: UnexpectedInput) -> bool:
        if isinstance(error, UnexpectedToken) and error.token.type != "$END":
            stray.append(error.token)
            return True
        return False

    try:
        tree: Tree[Token] = lark.parse(text, on_error=keep)
    except UnexpectedInput:
        return None, ()
    return _with_places(tree), _with_places(stray)


def _by_own(text: str) -> _Shape:
    tree, stray = parser().parse(text)
    return (None, ()) if tree is None else (_with_places(tree), _with_places(stray))


def _with_places(told: Tree[Token] | Token | Iterable[Tree[Token] | Token]) -> tuple[object, ...]:
    if isinstance(told, Token):
        return told.type, str(told), told.start_pos, told.end_pos
    if isinstance(told, Tree):
        return told.data, _with_places(told.children)
    return tuple(map(_with_places, told))


def test_it_is_the_contextual_lexer() -> None:
    """On the sentences of drafts of many houses, whole, cut in two, and with signs out of place."""
    whole = Lark(grammar_text(), parser="lalr", lexer="contextual", regex=True)
    texts = {"", " ", "knit )", "((", "k 2 \u00e9t\u00e9 row", "be", "\0", "row \u2042"}
    for path in sorted(Path(CORPUS, "cuttings").glob("4[0-2]0.txt")):
        document = split_document(read_source(path.read_bytes(), path.name))
        for sentence in document.sentences:
            text = sentence.view.text
            texts |= {text, text[len(text) // 2 :], text.replace(",", " )")}
    assert len(texts) > 20
    for text in sorted(texts):
        assert _by_own(text) == _by_lark(whole, text), text
