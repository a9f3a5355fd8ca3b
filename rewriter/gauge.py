"""The draft's own gauge (tension): sts and rows to a length, as it is printed.

Counts and lengths are exact fractions, for gauges have halves: "5½ sts and 7½ rows to 1 inch". What the
draft does not give stays None: rows are never worked out from sts, nor a length taken for granted.
"""

from __future__ import annotations

import bisect
import tomllib
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import Literal

from rewriter import regex
from rewriter._resources import grammar_file
from rewriter.amounts import number_words
from rewriter.document import Document
from rewriter.lexicon import pattern_of
from rewriter.needed import may_match
from rewriter.numberwords import read_words
from rewriter.spans import Span, View, view_of
from rewriter.stitchwork import Fabric, fabric_in, patterns_in

Unit = Literal["cm", "in"]

CM_PER_INCH = Fraction(254, 100)
"""An inch is 2.54 cm by definition."""


@dataclass(frozen=True, slots=True)
class Rate:
    """How many sts or rows lie on a length."""

    count: Fraction
    length: Fraction
    unit: Unit

    @property
    def per_cm(self) -> Fraction:
        """Sts or rows on a centimetre."""
        length = self.length if self.unit == "cm" else self.length * CM_PER_INCH
        return self.count / length

    @property
    def per_inch(self) -> Fraction:
        """Sts or rows on an inch."""
        return self.per_cm * CM_PER_INCH

    def extent_cm(self, count: int | Fraction) -> Fraction:
        """Return the length of so many sts or rows, in centimetres."""
        return count / self.per_cm

    def extent_inches(self, count: int | Fraction) -> Fraction:
        """Return the length of so many sts or rows, in inches."""
        return count / self.per_inch

    def words(self, what: str) -> str:
        """Return the rate as a draft prints it: "30 rows to 10 cm"."""
        return f"{in_figures(self.count)} {what} to {in_figures(self.length)} {self.unit}"


@dataclass(frozen=True, slots=True)
class Gauge:
    """One gauge that a draft gives."""

    sts: Rate | None
    rows: Rate | None
    span: Span
    """Where it stands, from the first number to the last."""
    fabric: Fabric
    """The fabric it is measured over, as its words tell."""
    patterns: frozenset[str] = frozenset()
    """The stitch patterns that its words name."""

    @property
    def ratio(self) -> Fraction | None:
        """Rows to sts on the same length: how much wider than tall a stitch is."""
        if self.sts is None or self.rows is None:
            return None
        return self.rows.per_cm / self.sts.per_cm


@dataclass(frozen=True, slots=True)
class Gauges:
    """All that a draft says of its gauge."""

    given: tuple[Gauge, ...]
    cue: Span | None
    """The first word that announces one, whether or not it was then understood."""
    no_length: Span | None = None
    """Sts and rows behind such a word without a length, where no gauge was understood."""

    def for_fabric(self, fabric: Fabric) -> Gauge | None:
        """Return the gauge with rows that holds for a fabric; None where the draft leaves that open.

        One gauge holds for the whole draft. Of several, those alike in their rows are one; else the
        one over that very fabric holds.
        """
        told = [g for g in self.given if g.rows is not None]
        if len({g.rows.per_cm for g in told if g.rows}) <= 1:
            return told[0] if told else None
        fitting = [g for g in told if g.fabric == fabric != "unknown"]
        rates = {g.rows.per_cm for g in fitting if g.rows}
        return fitting[0] if len(rates) == 1 else None


def in_figures(number: Fraction) -> str:
    """Return a number as patterns print it: "7½", "14.5"."""
    whole, rest = divmod(number, 1)
    if rest == 0:
        return str(whole)
    sign = next((s for s, value in _SIGNS.items() if value == rest), "")
    return f"{whole or ''}{sign}" if sign else f"{float(number):.4g}"


_SIGNS = {sign: Fraction(unicodedata.numeric(sign)).limit_denominator(8) for sign in "½¼¾⅓⅔⅛⅜⅝⅞"}

# --- reading ----------------------------------------------------------------------------------------

# "7 1/2", "71/2" (the blank was lost), "7½", "14.5", "1/2", "7-1/2"
_FIGURES = (
    r"(?<![\d.,/])(?:\d{1,2}[\s-]?[1-7]/[2-8](?!\d)|\d{0,2}\s?[½¼¾⅓⅔⅛⅜⅝⅞]"
    r"|\d{1,3}(?:[.,]\d{1,2})?)(?![\d/£])"
)


@dataclass(frozen=True, slots=True)
class _Forms:
    cue: regex.Pattern[str]
    told: regex.Pattern[str]
    """Counts, then the length."""
    turned: regex.Pattern[str]
    """The length, then counts."""
    both: regex.Pattern[str]
    """Where sts and rows stand together, or a count and what may be the other."""
    bare: regex.Pattern[str]
    """Sts and rows, whether or not a length follows."""
    part: regex.Pattern[str]


def _any(spellings: Sequence[str]) -> str:
    return "|".join(sorted((pattern_of(s) for s in spellings), key=len, reverse=True))


@cache
def _forms() -> _Forms:
    table = tomllib.loads(grammar_file("gauge.toml"))
    word = {key: f"(?:{_any(spellings)})" for key, spellings in table.items()}
    number = rf"(?:{_FIGURES}|{number_words()})"
    sts = rf"(?P<sts>{number})\s*{word['sts']}(?![a-z])"
    rows = rf"(?P<rows>{number})\s*{word['rows']}(?![a-z])"
    joint = rf"\s*(?:{word['joint']}\s*)+"
    counts = rf"(?:{sts}(?:{joint}{rows})?|{rows}(?:{joint}{sts})?)"
    square = rf"(?:{number}\s*(?:cm|ins?|\")?\s*{word['square']}\s*)?"
    units = rf"(?:(?P<cm>{word['cm']})|(?P<inch>{word['inch']}))(?![a-z])"
    length = rf"(?:{square}(?P<length>{number})|{word['one']})\s*(?:square\s*)?{units}"
    # what the needles and the fabric are may stand between, but no other count and no stop
    between = (
        rf"(?:(?!{number}\s*(?:{word['sts']}|{word['rows']})(?![a-z]))"
        r"(?:[^.;:]|(?<=\d)\.(?=\d)|(?<=\b(?:no|nr|st))\.|\.(?=\s*=))){0,70}?"
    )
    return _Forms(
        regex.compile(rf"\b{word['cue']}\b"),
        regex.compile(
            rf"{counts}(?![a-z]){between}(?:(?<![a-z]){word['to']}|{word['sign']})\s*{length}"
        ),
        regex.compile(rf"{length}{between}=\s*{counts}"),
        regex.compile(rf"{number}\s*(?:{word['sts']}|{word['rows']})(?![a-z]){joint}{number}"),
        regex.compile(rf"{sts}{joint}{rows}"),
        regex.compile(rf"{word['part']}\s*(?:\w+\s+)?$"),
    )


def read_gauges(document: Document) -> Gauges:
    """Return the gauges of a draft in the order they stand."""
    source = document.source
    view = view_of(source.text, Span(0, len(source.text)), source.format == "markdown")
    forms = _forms()
    regions = list(_regions(document, view))
    found: list[tuple[int, Gauge]] = []
    taken = -1
    for hit in _hits(view, regions):
        if hit.start() < taken or forms.part.search(view.text[: hit.start()]):
            continue
        region = next((n for n, (a, b) in enumerate(regions) if a <= hit.start() < b), None)
        both = hit["sts"] is not None and hit["rows"] is not None
        if region is None and not both:
            continue
        if (gauge := _gauge(hit, view, document)) is None:
            continue
        taken = hit.end()
        number = -1 if region is None else region
        if found and found[-1][0] == number >= 0 and (one := _together(found[-1][1], gauge)):
            found[-1] = (number, one)
        else:
            found.append((number, gauge))
    cue = view.span(*regions[0]) if regions else None
    no_length = None
    if not found:
        hits = (forms.bare.search(view.text, a, b) for a, b in regions)
        no_length = next((view.span(*hit.span()) for hit in hits if hit), None)
    return Gauges(
        tuple(gauge for _, gauge in found), cue and _first_line(cue, source.text), no_length
    )


def _hits(view: View, regions: Sequence[tuple[int, int]]) -> Iterator[regex.Match[str]]:
    """Yield counts with their length: of sts or rows alone where regions are, of both anywhere."""
    forms, text = _forms(), view.text
    turned = list(forms.turned.finditer(text)) if may_match(forms.turned, text) else []
    places = {hit.start() for hit in forms.both.finditer(text, overlapped=True)}
    places.update(at for start, end in regions for at in range(start, end))
    told = [
        hit
        for at in sorted(places)
        # "10 cm = 15 sts and 22 rows": these counts have their length before them
        if not any(t.start() < at < t.end() for t in turned) and (hit := forms.told.match(text, at))
    ]
    return iter(sorted([*turned, *told], key=lambda hit: (hit.start(), -hit.end())))


_REACH = 420
"""Characters behind the word for gauge within which sts or rows told alone are taken for it."""


def _regions(document: Document, view: View) -> Iterator[tuple[int, int]]:
    """Yield the stretches behind the draft's words for gauge, up to the next heading."""
    cue = _forms().cue
    headings = [s.span.start for s in document.sentences if s.heading]
    headings += [b.span.start for b in document.blocks if b.kind == "heading"]
    stops = sorted({_in_view(view, start) for start in headings})
    last = 0
    for hit in cue.finditer(view.text):
        if hit.start() < last:
            continue
        until = min((s for s in stops if s > hit.end()), default=len(view.text))
        last = min(hit.end() + _REACH, until)
        yield hit.start(), last


def _in_view(view: View, offset: int) -> int:
    """Return the place in a view of an offset of the source."""
    return offset - view.base if view.offsets is None else bisect.bisect_left(view.offsets, offset)


def _first_line(span: Span, text: str) -> Span:
    """Return the part of a region that stands on the line of its first word."""
    words = span.of(text)
    start = span.start + len(words) - len(words.lstrip())
    line = regex.match(r"[^\r\n]*", text[start : span.end])
    return Span(start, start + len(line.group().rstrip()) if line else span.end)


def _gauge(hit: regex.Match[str], view: View, document: Document) -> Gauge | None:
    unit: Unit = "cm" if hit["cm"] else "in"
    length = _number(hit["length"]) if hit["length"] else Fraction(1)
    if not _BELIEVABLE[unit][0] <= length <= _BELIEVABLE[unit][1]:
        return None
    sts, rows = (
        None if hit[what] is None else Rate(_number(hit[what]), length, unit)
        for what in ("sts", "rows")
    )
    if any(rate is not None and rate.count == 0 for rate in (sts, rows)):
        return None
    span = view.span(*hit.span())
    words = _words_of(span, document)
    return Gauge(sts, rows, span, fabric_in([words]) or "unknown", patterns_in([words]))


# Swatches are measured over such lengths (common practice): half an inch to 8 in, 1 to 20 cm.
_BELIEVABLE: dict[Unit, tuple[int | Fraction, int]] = {"cm": (1, 20), "in": (Fraction(1, 2), 8)}


def _words_of(span: Span, document: Document) -> str:
    """Return the sentence of a gauge in lower case, or its line where it is no sentence."""
    own = next((s for s in document.sentences if s.span.start <= span.start < s.span.end), None)
    if own is not None:
        # "… = 10 x 10 cm", a line end within: the words may go on behind the hit
        return own.view.text
    line = regex.compile(r"[^\r\n]*").match(document.source.text, span.start)
    return line.group().lower() if line else ""


def _together(one: Gauge, two: Gauge) -> Gauge | None:
    """Return sts told in one statement and rows in the next as one gauge, or None."""
    if one.sts is not None and one.rows is None and two.sts is None:
        merged = replace(one, rows=two.rows)
    elif one.rows is not None and one.sts is None and two.rows is None:
        merged = replace(one, sts=two.sts)
    else:
        return None
    fabric = one.fabric if one.fabric != "unknown" else two.fabric
    return replace(
        merged,
        span=Span(one.span.start, two.span.end),
        fabric=fabric,
        patterns=one.patterns | two.patterns,
    )


def _number(text: str) -> Fraction:
    """Return the number of matched figures or words."""
    text = text.strip()
    if not any(c.isnumeric() for c in text):
        return Fraction(read_words(text))
    if found := regex.fullmatch(r"(\d{0,2}?)[\s-]?([1-7])/([2-8])", text):
        return Fraction(int(found[1] or 0)) + Fraction(int(found[2]), int(found[3]))
    if text[-1] in _SIGNS:
        return Fraction(text[:-1].strip() or 0) + _SIGNS[text[-1]]
    return Fraction(text.replace(",", "."))
