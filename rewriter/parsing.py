"""Parse one sentence into parts with source spans."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache

from lark import Lark, Token, Tree

from rewriter._resources import beside_byte_code
from rewriter.amounts import Amount, read_amount, row_numbers, step_lists
from rewriter.grammartext import EDGE_ALONE, grammar_text
from rewriter.lexicon import gives_cue, lexicon
from rewriter.scanning import ClauseLexer, ClauseParser
from rewriter.spans import Span, View, forget_views
from rewriter.values import value

LONGEST_SENTENCE = 4000
"""Characters; a longer sentence is not parsed (no shaping instruction comes near it)."""


@value
class Part:
    """A part of a sentence: what it is, what it says, and where it stands."""

    kind: str
    """Name of the grammar's reading (`bind_off`, `count`, `next_rows`, ...)."""
    span: Span
    concept: str = ""
    """Concept of its leading word, where the lexicon tells several apart."""
    amount: Amount | None = None
    side: str = ""
    """RS or WS, where the part names one."""
    inner: tuple[Part, ...] = ()
    """The parts inside brackets."""
    numbers: tuple[int, ...] = ()
    """Row numbers, the ordinal of a size, or 2 for an edge named on both sides."""
    pairs: tuple[tuple[tuple[int, int], ...], ...] = ()
    """For each size the steps of a step list, as (times, stitches)."""
    other_pairs: tuple[tuple[tuple[int, int], ...], ...] = ()
    """The same where commas stand between the sizes, if that can be."""


_ANY_ROW = re.compile(r"\b(?:a\s+\w+|\w+s)$")


@cache
def parser() -> ClauseParser:
    """Return the clause parser, built once per process."""
    return ClauseParser(
        Lark(
            grammar_text(),
            parser="lalr",
            lexer=ClauseLexer,
            regex=True,
            propagate_positions=False,
            maybe_placeholders=False,
            cache=str(beside_byte_code("clauses") or "") or False,
        )
    )


def parse(view: View) -> tuple[Part, ...] | None:
    """Return the parts of a sentence, or None for one that is too long to be an instruction.

    What the grammar has no place for is kept as parts of kind `residue`, never dropped.
    """
    if len(view.text) > LONGEST_SENTENCE:
        return None
    if view.offsets is None:
        return _parts_at(view.text, view.base)
    return _parts_of(view)


def _parts_at(text: str, base: int) -> tuple[Part, ...]:
    """Return the parts of a sentence that begins at an offset of the draft.

    The revised draft has most sentences once more, some of them moved: they are not read anew.
    """
    known = _readings(text)
    found = known.get(base)
    if found is None:
        if known:
            first, parts = next(iter(known.items()))
            found = tuple(_moved(part, base - first) for part in parts)
        else:
            found = _parts_of(View(text, base, None))
        if len(known) == _PLACES:
            known.clear()
        known[base] = found
    return found


_PLACES = 4
"""For how many places the parts of a sentence are kept at most."""


@lru_cache(maxsize=4096)
def _readings(text: str) -> dict[int, tuple[Part, ...]]:
    """Return the parts of a sentence that are kept, by the offset at which it begins."""
    return {}


def _moved(part: Part, by: int) -> Part:
    amount = part.amount
    if amount is not None:
        amount = Amount(amount.values, _later(amount.span, by), amount.text)
    return Part(
        part.kind,
        _later(part.span, by),
        part.concept,
        amount,
        part.side,
        tuple(_moved(inner, by) for inner in part.inner),
        part.numbers,
        part.pairs,
        part.other_pairs,
    )


def _later(span: Span, by: int) -> Span:
    return Span(span[0] + by, span[1] + by)


def _parts_of(view: View) -> tuple[Part, ...]:
    tree, stray = parser().parse(view.text)
    if tree is None:
        return (Part("residue", view.span(0, len(view.text))),)
    parts = list(_parts(tree, view))
    parts += [Part("residue", view.span(t.start_pos or 0, t.end_pos or 0)) for t in stray]
    return tuple(sorted(parts, key=lambda p: p.span))


def forget() -> None:
    """Forget what is kept of sentences that were read, so that each is read as if it were new."""
    _readings.cache_clear()
    gives_cue.cache_clear()
    forget_views()


def _parts(tree: Tree[Token], view: View) -> Iterator[Part]:
    for child in tree.children:
        if isinstance(child, Tree):
            yield _part(child, view)


_NUMBERS = frozenset(
    {
        "N", "N_STITCHES", "N_PAIRS", "N_ROWS", "N_TIMES", "N_SHARES", "N_FOLL", "N_LATER", "N_AFTER",
        "N_SIZED", "N_SIZED_LEFT", "N_MORE", "N_OFTEN",
        "N_HIGH", "NTH_HIGH",
    }
)  # fmt: skip
_NO_EDGE = re.compile(EDGE_ALONE.partition("(?=")[0])
_RANGE = re.compile(
    r"\d(?:st|nd|rd|th)?\s*(?:\((?:rs|ws)\)\s*)?(?:-|to|through)\s*(?:r|rows?)?\s?\d"
)
_SUFFIX = re.compile(r"(?<=\d)(?:st|nd|rd|th)")
_SIDE_MARKED = re.compile(r"\((rs|ws)\)")
_SIDE_OF_TURN = re.compile(r"\b(?:rs|ws|(?:right|wrong)[\s-]side)\b")
_BOTH = re.compile(r"\b(?:each|both)\b|\bedges\b")


_NAMED = {
    "FROM_ROW": "from",
    "NTH_HIGH": "nth",
    "BUT_BINDS": "but",
    "INSTEAD": "instead",
    "OFF_BEHIND": "passive",
    "JOIN_AT": "join",
    "BUT_TO": "but_to",
    "BUT_WORKS": "but_works",
    "NOT_WORKING": "not_working",
}
"""Concepts of terminals that are not made from the lexicon."""


def _tokens(tree: Tree[Token]) -> Iterator[Token]:
    for child in tree.children:
        if isinstance(child, Token):
            yield child
        else:
            yield from _tokens(child)


def _place(view: View, first: Token, last: Token) -> Span:
    return view.span(first.start_pos or 0, last.end_pos or 0)


def _part(tree: Tree[Token], view: View) -> Part:
    kind = str(tree.data)
    tokens = list(_tokens(tree))
    span = _place(view, tokens[0], tokens[-1])
    if kind == "paren":
        return Part(kind, span, inner=tuple(_parts(tree, view)))
    amount: Amount | None = None
    side = concept = ""
    numbers: tuple[int, ...] = ()
    pairs: tuple[tuple[tuple[int, int], ...], ...] = ()
    other_pairs: tuple[tuple[tuple[int, int], ...], ...] = ()
    of_work = False
    for token in tokens:
        if token.type in _NUMBERS:
            said = _SUFFIX.sub("", str(token)) if token.type == "NTH_HIGH" else str(token)
            amount = read_amount(said, _place(view, token, token))
        elif token.type in ("RS_WS", "SIDE_FACING"):
            side = lexicon().concept(token.type, str(token))
            of_work = " work" in str(token)
        elif token.type == "BEFORE_TURN":
            told = _SIDE_OF_TURN.search(str(token))
            side = side if told is None else "RS" if told.group()[0] == "r" else "WS"
        elif token.type in ("ROW_NUMBER", "ORDINAL"):
            numbers = row_numbers(str(token))
            marked = _SIDE_MARKED.search(str(token))
            side = marked.group(1).upper() if marked else side
        elif token.type == "STEP_LIST":
            pairs, *others = step_lists(str(token))
            other_pairs = others[0] if others else ()
        elif token.type == "EDGE" and _BOTH.search(str(token)):
            numbers = (2,)
    lead = tokens[-1] if tokens[-1].type == "BEFORE_TURN" else tokens[0]
    if kind == "next_edge_row":
        lead = tokens[1]
    if lead.type == "SEMICOLON":
        concept = "semicolon"
    elif lead.type in _NAMED:
        concept = _NAMED[lead.type]
    elif lead.type == "ROW_NUMBER":
        concept = "range" if _RANGE.search(str(lead)) else ""
    elif kind == "at_beg" and _ANY_ROW.search(" ".join(map(str, tokens))):
        concept = "rows"  # "at the beginning of the rows", "at the beginning of a row six times"
    elif kind == "until_left" and str(tokens[-1]).startswith("on"):
        concept = "on_needle"  # "until there are 17 sts on the needle"
    elif lead.type in lexicon().concepts:
        named = f"at {lead}" if lead.type == "EDGE" and _NO_EDGE.fullmatch(str(lead)) else str(lead)
        concept = "of work" if of_work else lexicon().concept(lead.type, named)
    if kind == "next_pairs":  # a pair of rows begins at both edges
        twos = tuple(2 * (n or 0) for n in amount.values) if amount else (2,)
        kind, concept, numbers = "next_rows", "next", ()
        amount = Amount(twos, amount.span if amount else span, amount.text if amount else "")
    return Part(kind, span, concept, amount, side, (), numbers, pairs, other_pairs)
