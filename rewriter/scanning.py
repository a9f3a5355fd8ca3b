"""The lexer and the driver of the clause grammar's parser.

The lexer finds what lark's contextual lexer would: of the terminals that may come, the first in order of
priority that matches. But each terminal is a pattern of its own, tried only where its first letters
stand and compiled when it is first tried; one pattern for each state of the parser, with all its
terminals, would take seconds to compile and most of the time of reading to match.

The driver goes through lark's own tables and builds its trees, but passes over blanks at once, and finds
what is done at the end of a rule without looking the rule up by its words each time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cached_property
from typing import Any, NamedTuple

from lark import Lark, Token, Tree
from lark.lexer import Lexer, LexerState, TerminalDef
from lark.parse_tree_builder import ExpandSingleChild
from lark.parsers.lalr_analysis import Shift

from rewriter import regex
from rewriter.firstletters import DEPTH, OPEN, beginnings

_MOST_KEPT = 20_000
"""Beginnings of words whose terminals are kept; drafts in English have far fewer."""


class _Terminal:
    """A terminal with the letters its matches begin with."""

    def __init__(self, definition: TerminalDef) -> None:
        self.name = definition.name
        self._pattern = definition.pattern.to_regexp()
        self.beginnings = beginnings(self._pattern)

    @cached_property
    def match(self) -> Callable[[str, int], regex.Match[str] | None]:
        """The pattern's own `match`, compiled when it is first asked for."""
        return regex.compile(self._pattern).match

    def may_begin(self, letters: str, cut: bool) -> bool:
        """Say whether a match may begin with these few letters; others follow where they were `cut`."""
        for length in range(len(letters) + 1):
            if letters[:length] + OPEN in self.beginnings:
                return True
        return cut and any(b.startswith(letters) for b in self.beginnings)


class ClauseLexer(Lexer):
    """The terminals in order, as lark hands them to its lexer (`lexer=ClauseLexer`)."""

    __future_interface__ = 2

    def __init__(self, conf: Any) -> None:
        order = sorted(conf.terminals, key=lambda t: (-t.priority, -len(t.pattern.value), t.name))
        self._terminals = [_Terminal(definition) for definition in order]
        self._begun: dict[str, list[int]] = {}
        """Numbers of the terminals by how their matches begin."""
        for number, terminal in enumerate(self._terminals):
            for beginning in terminal.beginnings:
                self._begun.setdefault(beginning, []).append(number)
        self.ignored = frozenset(conf.ignore)
        self.passes_blanks = all(
            self._terminals[number].name in self.ignored
            for beginning, numbers in self._begun.items()
            if beginning == OPEN or beginning[0] == " "
            for number in numbers
        )
        """No token begins with a blank: they are passed over."""
        self._any: dict[str, tuple[_Terminal, ...]] = {}

    def lex(self, lexer_state: LexerState, parser_state: Any) -> Iterator[Token]:
        """Raise NotImplementedError: `ClauseParser` reads sentences, and finds its tokens itself."""
        raise NotImplementedError

    def beginning_with(self, letters: str) -> tuple[_Terminal, ...]:
        """Return the terminals of which a match may begin with these letters, in order."""
        found = self._any.get(letters)
        if found is None:
            if len(self._any) > _MOST_KEPT:
                self._any.clear()
            known = _plain(letters)
            if len(known) == DEPTH:
                told = [known, *(known[:length] + OPEN for length in range(DEPTH + 1))]
                numbers = sorted({n for b in told for n in self._begun.get(b, ())})
                found = tuple(self._terminals[n] for n in numbers)
            else:
                cut = len(known) < len(letters)
                found = tuple(t for t in self._terminals if t.may_begin(known, cut))
            self._any[letters] = found
        return found


def _plain(letters: str) -> str:
    """Return the letters up to the first of which `beginnings` says nothing."""
    for at, letter in enumerate(letters):
        if not "\0" < letter < "\x80":
            return letters[:at]
    return letters


def first_of(terminals: Any, text: str, at: int) -> Token | None:
    """Return the token of the first terminal that matches here."""
    for terminal in terminals:
        if found := terminal.match(text, at):
            token = Token(terminal.name, found.group(), at)
            token.end_pos = found.end()
            return token
    return None


class _Rule(NamedTuple):
    """What is done where a rule ends."""

    size: int
    origin: str
    build: Callable[[list[Any]], Any] | None
    """Makes the tree from the parts of the rule; None where the one part stays as it is."""


class _State:
    """A state of the parser: what each token does in it, and which terminals are tried in it."""

    def __init__(
        self, actions: dict[str, tuple[Any, Any]], callbacks: Any, ignored: frozenset[str]
    ) -> None:
        self.shifts: dict[str, int] = {}
        """The state to which a token leads, or what a rule made."""
        self.ends: dict[str, _Rule] = {}
        """The rule that ends before a token."""
        for name, (action, arg) in actions.items():
            if action is Shift:
                self.shifts[name] = arg
            else:
                size, build = len(arg.expansion), callbacks[arg]
                if size == 1 and isinstance(build, ExpandSingleChild):
                    build = None
                self.ends[name] = _Rule(size, str(arg.origin.name), build)
        self.may_stand = ignored.union(self.shifts, self.ends)
        """Names of the terminals that are tried in it: those that it accepts, or that stand anywhere."""
        self.tried: dict[str, tuple[_Terminal, ...]] = {}


class ClauseParser:
    """Trees of sentences by lark's tables."""

    def __init__(self, lark: Lark) -> None:
        self.lark = lark
        self._lexer: ClauseLexer = lark.parser.lexer
        inner = lark.parser.parser.parser
        table = inner.parse_table
        (start,) = lark.options.start
        self._table, self._callbacks = table.states, inner.callbacks
        self._start, self._end = table.start_states[start], table.end_states[start]
        self._states: dict[int, _State] = {}

    def _state(self, number: int) -> _State:
        found = self._states.get(number)
        if found is None:
            found = _State(self._table[number], self._callbacks, self._lexer.ignored)
            self._states[number] = found
        return found

    def parse(self, text: str) -> tuple[Tree[Token] | None, tuple[Token, ...]]:
        """Return the tree of a sentence and the tokens that have no place in it.

        There is no tree where a sign begins no token, or where the sentence ends too early.
        """
        stray: list[Token] = []
        numbers, values = [self._start], []
        state = self._state(self._start)
        at, end = 0, len(text)
        lexer = self._lexer
        states, make = self._states, self._state
        passes = lexer.passes_blanks
        while at < end:
            if passes and text[at] == " ":
                at += 1
                continue
            letters = text[at : at + DEPTH]
            terminals = state.tried.get(letters)
            if terminals is None:
                terminals = self._tried(state, letters)
            for terminal in terminals:
                if found := terminal.match(text, at):
                    break
            else:
                lost = first_of(lexer.beginning_with(letters), text, at)
                if lost is None:
                    return None, ()
                stray.append(lost)
                at = lost.end_pos or 0
                continue
            name = terminal.name
            begin, at = at, found.end()
            if name in lexer.ignored:
                continue
            token = Token(name, found.group(), begin)
            token.end_pos = at
            while True:
                goes_to = state.shifts.get(name)
                if goes_to is not None:
                    numbers.append(goes_to)
                    values.append(token)
                    state = states.get(goes_to) or make(goes_to)
                    break
                rule = state.ends.get(name)
                if rule is None:
                    stray.append(token)
                    break
                state = self._reduced(rule, numbers, values)
        return self._ended(state, numbers, values), tuple(stray)

    def _tried(self, state: _State, letters: str) -> tuple[_Terminal, ...]:
        if len(state.tried) > _MOST_KEPT:
            state.tried.clear()
        may_stand = state.may_stand
        found = tuple(t for t in self._lexer.beginning_with(letters) if t.name in may_stand)
        state.tried[letters] = found
        return found

    def _reduced(self, rule: _Rule, numbers: list[int], values: list[Any]) -> _State:
        """Put what a rule makes in the place of what it is made of."""
        size, origin, build = rule
        if build is None:
            del numbers[-1]
        elif size:
            children = values[-size:]
            del values[-size:], numbers[-size:]
            values.append(build(children))
        else:
            values.append(build([]))
        goes_to = self._states[numbers[-1]].shifts[origin]
        numbers.append(goes_to)
        return self._states.get(goes_to) or self._state(goes_to)

    def _ended(self, state: _State, numbers: list[int], values: list[Any]) -> Tree[Token] | None:
        while numbers[-1] != self._end:
            rule = state.ends.get("$END")
            if rule is None:
                return None
            state = self._reduced(rule, numbers, values)
        tree: Tree[Token] = values[-1]
        return tree
