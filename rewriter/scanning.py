"""The lexer of the clause grammar: words to tokens, each in the context of the parser's state.

It finds what lark's contextual lexer would: of the terminals that may come, the first in order of
priority that matches. But each terminal is a pattern of its own, tried only where its first letter
stands and compiled when it is first tried; one pattern for each state of the parser, with all its
terminals, would take seconds to compile and most of the time of reading to match.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cached_property
from typing import Any

from lark import Token
from lark.exceptions import UnexpectedCharacters, UnexpectedToken
from lark.lexer import Lexer, LexerState, TerminalDef

from rewriter import regex
from rewriter.firstletters import first_letters

_BEYOND = "\x80"
"""Stands for any letter beyond ASCII."""


class _Terminal:
    """A terminal with the letters its matches begin with."""

    def __init__(self, definition: TerminalDef) -> None:
        self.name = definition.name
        self._pattern = definition.pattern.to_regexp()
        self.letters = first_letters(self._pattern)

    @cached_property
    def match(self) -> Callable[[str, int], regex.Match[str] | None]:
        """The pattern's own `match`, compiled when it is first asked for."""
        return regex.compile(self._pattern).match


class ClauseLexer(Lexer):
    """Tokens of a sentence, for lark's LALR parser (`lexer=ClauseLexer`)."""

    __future_interface__ = 2

    def __init__(self, conf: Any) -> None:
        order = sorted(conf.terminals, key=lambda t: (-t.priority, -len(t.pattern.value), t.name))
        self._terminals = [_Terminal(definition) for definition in order]
        self._ignored = frozenset(conf.ignore)
        self._tried: dict[tuple[int, str], tuple[_Terminal, ...]] = {}
        self._all: dict[str, tuple[_Terminal, ...]] = {}

    def lex(self, lexer_state: LexerState, parser_state: Any) -> Iterator[Token]:
        """Yield the tokens; raises UnexpectedToken for one that cannot stand here.

        Raises UnexpectedCharacters for a sign that begins no token at all.
        """
        text, counter = lexer_state.text.text, lexer_state.line_ctr
        end = lexer_state.text.end
        while counter.char_pos < end:
            at = counter.char_pos
            letter = text[at] if text[at] < _BEYOND else _BEYOND
            token = _first(self._allowed(parser_state, letter), text, at)
            if token is None:
                stray = _first(self._any(letter), text, at)
                if stray is None:
                    raise UnexpectedCharacters(text, at, 1, at)  # type: ignore[no-untyped-call]
                counter.feed(stray, test_newline=False)
                raise UnexpectedToken(stray, set(), state=parser_state)  # type: ignore[no-untyped-call]
            counter.feed(token, test_newline=False)  # the view has no line ends
            if token.type not in self._ignored:
                lexer_state.last_token = token
                yield token

    def _allowed(self, parser_state: Any, letter: str) -> tuple[_Terminal, ...]:
        """Return the terminals that may come in this state and begin with this letter, in order."""
        key = (parser_state.position, letter)
        if key not in self._tried:
            accepted = parser_state.parse_conf.states[parser_state.position]
            self._tried[key] = tuple(
                t for t in self._any(letter) if t.name in accepted or t.name in self._ignored
            )
        return self._tried[key]

    def _any(self, letter: str) -> tuple[_Terminal, ...]:
        if letter not in self._all:
            self._all[letter] = tuple(
                t for t in self._terminals if letter == _BEYOND or letter in t.letters
            )
        return self._all[letter]


def _first(terminals: tuple[_Terminal, ...], text: str, at: int) -> Token | None:
    for terminal in terminals:
        if found := terminal.match(text, at):
            token = Token(terminal.name, found.group(), at)
            token.end_pos = found.end()
            return token
    return None
