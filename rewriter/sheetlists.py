"""Lists of figures for the sizes: whether each has an entry for every size, and one notation."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from rewriter import regex
from rewriter.amounts import amount_pattern, measure_pattern, read_amount, step_list_pattern
from rewriter.document import Sentence
from rewriter.lexicon import lexicon
from rewriter.places import place_of
from rewriter.reading import Draft
from rewriter.sheetmodel import ListFigures, SheetFinding
from rewriter.spans import Span

_OPEN = "([-:/"
_FIGURE = r"\d+/[2-8](?![\d/])|\d+(?:\s?[½¼¾⅓⅔⅛⅜⅝⅞]|\s\d/\d(?!\d)|\.\d+)?|(?<![a-z])[½¼¾]"
# "3rd and 4th sizes only", "for sizes 10 and 12:", "largest size: …": such a list has a length of its own
_FOR_SOME = regex.compile(
    r"\bonly\b|\b(?:st|nd|rd|th|size|sizes|larger|largest|smaller|smallest)\b[^.]{0,20}:"
    r"|\bsizes?\s+(?:\d|x?s\b|m\b|x*l\b)|\b(?:small|first|larger|largest|second|two|three)\s+sizes?\b"
    r"|\d(?:st|nd|rd|th)?\s+sizes?\b"
)


@dataclass(frozen=True, slots=True)
class _List:
    """A list of figures in the text."""

    span: Span
    entries: int
    notation: str


@cache
def _counted() -> regex.Pattern[str]:
    """Return the pattern of a list of counts; what is counted must follow, or a number is no count."""
    words = lexicon().patterns
    unit = rf"(?:{words['STITCH']}|{words['ROW']}|{words['TIMES']}|(?:more|alt|foll|other)\b)"
    return regex.compile(rf"(?<![\d.,/-])({amount_pattern()})(?=\s*(?:more\s+)?{unit})")


_MEASURED = regex.compile(rf"(?<![\d.,/-]){measure_pattern()}")
_NUMBER = regex.compile(rf"(?:{_FIGURE})")
_LENGTH = regex.compile(r"(?:cms?|inch(?:es)?|ins?|\"|'')$|metres?$")
_STEPS = regex.compile(step_list_pattern())
# An entry of a size that has none: "-(-:9)"
_DASH = regex.compile(r"(?:(?<=[(\[:,/])|^)\s*-(?=\s*[:,)\]/(\[])")


def check_size_lists(
    draft: Draft, known: list[SheetFinding]
) -> tuple[ListFigures, list[SheetFinding]]:
    """Return what the lists of a draft are like, and those that have another length or notation.

    `known` are findings told already: a list that one of them is about is not told again.
    """
    source = draft.document.source
    sizes = len(draft.sizes)
    found: list[SheetFinding] = []
    told = [f.place.span for f in known if f.code in ("list-length", "size-line")]
    lists = list(_lists(draft)) if sizes > 1 else []
    whole = [one for one in lists if one.entries == sizes]
    usual = Counter(one.notation for one in whole if one.notation).most_common(1)
    notation = usual[0][0] if usual else ""
    for one in lists:
        if any(a < one.span.end and one.span.start < b for a, b in told):
            continue
        if one.entries != sizes:
            found.append(
                SheetFinding(
                    code="list-length",
                    about="lists",
                    severity="error",
                    message=f"{one.entries} entries, but there are {sizes} sizes",
                    place=place_of(source, one.span),
                )
            )
        elif one.notation != notation and one.notation:
            found.append(
                SheetFinding(
                    code="list-notation",
                    about="lists",
                    severity="remark",
                    message=f"written {_shown(one.notation)}, most lists of the draft {_shown(notation)}",
                    place=place_of(source, one.span),
                )
            )
    figures = ListFigures(
        sizes=sizes,
        size_line=place_of(source, draft.sizes.span) if draft.sizes.span else None,
        counted=len(whole),
        notation=_shown(notation),
    )
    return figures, found


def _lists(draft: Draft) -> Iterator[_List]:
    some: tuple[int, ...] | None = None
    for sentence, statement in zip(draft.document.sentences, draft.statements, strict=True):
        if statement is not None and statement.sizes is not None:
            some = statement.sizes or None
        if sentence.heading:
            some = None
        text = sentence.view.text
        if some or not any(c in text for c in _OPEN) or _FOR_SOME.search(text):
            continue
        if draft.sizes.span and sentence.span.start <= draft.sizes.span.start < sentence.span.end:
            continue
        if draft.abbreviations is not None and draft.abbreviations.covers(sentence.span):
            continue
        yield from _lists_in(sentence)


def _lists_in(sentence: Sentence) -> Iterator[_List]:
    text = sentence.view.text
    taken = -1
    steps = [m.span() for m in _STEPS.finditer(text)]
    hits = [(m.start(), m.end(1), True) for m in _counted().finditer(text)]
    hits += [(m.start(), m.end(), False) for m in _MEASURED.finditer(text)]
    for start, end, counted in sorted(hits):
        words = text[start:end]
        if start < taken or not any(c in words for c in "([") or not _is_list(words, counted):
            continue
        if any(a < end and start < b for a, b in steps):
            continue
        entries = len(read_amount(words, Span(0, 0)).values) if counted else _entries(words)
        if entries < 2:
            continue
        taken = end
        yield _List(sentence.view.span(start, end), entries, _notation(words))


def _is_list(words: str, counted: bool) -> bool:
    """Say whether figures are a list for the sizes: no weights, none whose first size is told elsewhere."""
    return not words.startswith(("(", "[")) and (counted or bool(_LENGTH.search(words)))


def _entries(words: str) -> int:
    """Return the number of entries of a list of lengths: "14½ (15, 15½) in"."""
    if any(c in words for c in ",:;"):
        words = regex.sub(r"(?<=\d)\s?-\s?(?=\d)", "to", words)  # a range: "32 (34, 36-38)"
        words = regex.sub(r"to\d+", "", words)
    return len(_NUMBER.findall(words)) + len(_DASH.findall(words))


def _notation(words: str) -> str:
    """Return a list with its numbers left out: its brackets and what parts its entries.

    Empty where that cannot be told.
    """
    plain = _DASH.sub("N", _NUMBER.sub("N", words))
    kept = regex.match(r"N[N()\[\],:;/\s-]+", plain)
    form = regex.sub(r"\s*([^N\s])\s*", r"\1", kept[0]).rstrip("-/ ") if kept else ""
    # dashes for sizes that have none, parted by hyphens: the form cannot be told from such a list
    return "" if "--" in form else form


def _shown(notation: str) -> str:
    """Return a notation with numbers for the sizes: "1(2:3)"."""
    number = iter(range(1, 100))
    return regex.sub("N", lambda _: str(next(number)), notation)
