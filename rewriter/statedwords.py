"""The words in which drafts state numbers of rows, from `grammar/stated.toml`."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict

from rewriter import regex
from rewriter._resources import grammar_file
from rewriter.amounts import is_amount, loose_amount_pattern, number_words, read_amount
from rewriter.lexicon import pattern_of
from rewriter.needed import may_match
from rewriter.spans import Span, View

FactName = Literal[
    "beginning",
    "row",
    "later",
    "rows",
    "range",
    "side",
    "steps",
    "edge",
    "height",
    "total",
    "other",
]


class Fact(BaseModel):
    """One kind of statement about the rows of a shoulder; the table says what becomes of each."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: FactName
    says: str
    phrases: tuple[str, ...] = ()
    labels: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Tally:
    """A count of the rows worked so far, in front of a shaping."""

    span: Span
    """The number itself, with its list."""
    values: tuple[int, ...]
    about: bool
    """It is approximate, so it stays true a row lower."""
    words: tuple[int, int]
    """Where its words stand in the view."""


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(grammar_file("stated.toml"))


def _word_in(name: str) -> str:
    """Return the expression of one of the words that a list of the table holds."""
    return "(?:" + "|".join(pattern_of(word) for word in _table()["words"][name]) + ")(?![a-z-])"


_WORD = rf"(?!{_word_in('stop')})[a-z'/]+(?:-[a-z]+)*"
_N = rf"(?<![\d.,/-])(?:(?P<about>{_word_in('about')})\s+)?(?P<n>{loose_amount_pattern()})"
_ROWS = r"(?:(?:patt|pattern|complete|knitted|single)\s+)?(?:rows?|rws)(?![a-z])"
_LENGTH = r"(?:[^()\[\]]{0,25}?(?:cms?|ins?|inch(?:es)?|\")\s*[,;/=-]*\s*)?"
_RAW = {
    r"\s+{tail}": rf"(?:\s+{_WORD}){{0,12}}",
    r"\s+{gap}\s+": rf"(?:\s+{_WORD}){{0,6}}?\s+",
    r"\s+{words}\s+": r"\s(?:(?!\b(?:more|less|fewer)\b)[^.;]){0,60}?(?<![a-z])",
    r"{gap}\s+": rf"(?:{_WORD}\s+){{1,4}}?",
    r"\s+{is}\s+": r"\s*(?:[:=-]|is|are)?\s*",
    r"{n}\s+{rows}": rf"{_N}\s*{_ROWS}",
    "{n}": _N,
    "{rows}": _ROWS,
    "{number}": r"(?:row\s+(?P<number>\d{1,3})|(?P<number>\d{1,3}(?:st|nd|rd|th))\s+row)(?![\d-])",
    "{range}": r"rows?\s+(?P<first>\d{1,3})\s*(?:-|to|and|through)\s*(?P<last>\d{1,3})",
    "{side}": r"(?P<side>(?:rs|ws|right[\s-]side|wrong[\s-]side)\s+row)",
    "{count}": rf"(?:\d+|{number_words()})",
    "{counts}": rf"(?:\d[\d\s,:;/()\[\]-]*(?<=[\d)\]])|{number_words()})",
}
_NAMED = regex.compile(r"\{(\w+)\}")


@cache
def facts() -> tuple[Fact, ...]:
    """Return the facts, the more telling first; raises ValidationError for a bad table."""
    return tuple(Fact.model_validate(entry) for entry in _table()["fact"])


def _expression(phrase: str) -> str:
    """Return the regular expression of a phrase; raises KeyError for a name that is not there."""
    out = pattern_of(phrase)
    for name, raw in _RAW.items():
        out = out.replace(name, raw)
    return _NAMED.sub(lambda m: f"(?:{_fragment(m.group(1))})", out)


@cache
def _fragment(name: str) -> str:
    return _expression(_table()["fragments"][name])


def _either(phrases: tuple[str, ...]) -> str:
    return "|".join(f"(?:{_expression(p)})" for p in phrases)


@cache
def phrases_of(fact: Fact) -> regex.Pattern[str] | None:
    """Return the expression of a fact's phrases, if it has any."""
    if not fact.phrases:
        return None
    return regex.compile(rf"(?<![a-z\d])(?:{_either(fact.phrases)})(?![a-z])")


@cache
def labels_of(fact: Fact) -> regex.Pattern[str] | None:
    """Return the expression of what stands before the numbers of a fact in a table or list."""
    if not fact.labels:
        return None
    return regex.compile(
        rf"\W*(?:(?P<unit>(?:no|number)?\W*(?:of\s+)?rows)\W+(?:of|in|for|from)?\s*)?(?:{_either(fact.labels)})"
        r"(?:\W+(?:in\s+)?(?P<unit>rows)\b)?\W*"
    )


@cache
def _whole_facts() -> regex.Pattern[str]:
    """Return the expression of a sentence that states a number of rows and does nothing else."""
    told = "|".join(p.pattern for f in facts() if (p := phrases_of(f)) is not None)
    return regex.compile(rf"\W*(?:{told})(?:\s+{_WORD}){{0,6}}\W*")


def states_rows(view: View) -> bool:
    """Say whether a sentence only states a number of rows: "The shoulders take 4 rows in every size"."""
    phrases = (pattern for fact in facts() if (pattern := phrases_of(fact)) is not None)
    if not any(may_match(pattern, view.text) for pattern in phrases):
        return False
    return _whole_facts().fullmatch(view.text) is not None


# --- counts of the rows worked so far ---------------------------------------------------------------


@cache
def _tallies() -> tuple[regex.Pattern[str], regex.Pattern[str]]:
    table = _table()["tally"]
    aside = _either(tuple(table["aside"]))
    anywhere = (
        rf"(?<![a-z\d])(?:{_either(tuple(table['clause']))})(?![a-z])"
        rf"|[(\[]\s*(?:=\s*)?{_LENGTH}(?:{aside})\s*\.?\s*[)\]]"
        rf"|(?:[,;=]|\s-|(?<![a-z])(?:and|or)\s|(?<=(?:cms?|ins?|inch|inches|\")\s{{1,4}}))\s*(?:{aside})"
        # "= 56 rows from the armholes work the shoulder slope: ..."
        r"(?=(?:\s+(?:of\s+)?(?:the\s+)?(?:armhole|total|whole)\s+(?:height|depth|length))?"
        r"(?:\s*(?:[,;.(]|\Z)|\s+(?:work|shape|begin|start|make|do|slope)\s+"
        r"(?:(?:with|the|both)\s+)*shoulders?(?![a-z])))"
    )
    whole = rf"\W*(?:{_either(tuple(table['sentence']))})\W*"
    return regex.compile(whole), regex.compile(anywhere)


# "7 patts have been worked (70 rows)": a row less is no whole pattern any more.
_IN_REPEATS = regex.compile(
    rf"(?:\d|{number_words()})\W*(?:complete\s+)?(?:patts?|patterns?|repeats?|reps|times|ridges?)(?![a-z])|\btwice\b"
)


def whole_tally(view: View) -> Tally | None:
    """Return the count of rows so far that a sentence gives, where it says nothing else."""
    whole = _tallies()[0]
    found = whole.fullmatch(view.text) if may_match(whole, view.text) else None
    return _tally(view, found) if found is not None and is_amount(found["n"]) else None


def tallies_in(view: View, stop: int | None = None) -> Iterator[Tally]:
    """Yield the counts of rows so far in the words of a lead-in, up to `stop` in its view."""
    text = view.text if stop is None else view.text[:stop]
    anywhere = _tallies()[1]
    if not may_match(anywhere, text) or _IN_REPEATS.search(text):
        return
    for found in counted(anywhere, text):
        if not POINTED.search(text, 0, found.start("n")):
            yield _tally(view, found)


# "(these 4 rows are made up by the button band)": rows that were told of before
POINTED = regex.compile(r"\b(?:these|those)\s+(?:last\s+)?\Z")


def counted(pattern: regex.Pattern[str], text: str) -> Iterator[regex.Match[str]]:
    """Yield the matches whose count, if they have one, is a count or list in one of the notations."""
    at = 0
    while found := pattern.search(text, at):
        count = found.groupdict().get("n")
        if count is None or is_amount(count):
            yield found
            at = max(found.end(), found.start() + 1)
        else:
            at = found.start() + 1


def _tally(view: View, found: regex.Match[str]) -> Tally:
    values = read_amount(found.group("n"), Span(0, 0)).values
    return Tally(
        view.span(*found.span("n")),
        tuple(v or 0 for v in values),
        found.group("about") is not None,
        found.span(),
    )


def without(view: View, words: list[tuple[int, int]]) -> View:
    """Return the view with some of its words made blank."""
    text = view.text
    for start, end in words:
        text = text[:start] + " " * (end - start) + text[end:]
    return View(text, view.base, view.offsets)


@cache
def ridges() -> tuple[regex.Pattern[str], tuple[str, str]]:
    """Return the expression of a number of garter ridges, and what is said where a row is taken from them.

    The second of these words is for where the new text says so too.
    """
    table = _table()["ridges"]
    return regex.compile(_expression(table["phrase"])), (str(table["says"]), str(table["said"]))
