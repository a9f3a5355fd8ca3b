"""Find what a draft states about the rows of its shoulders: in sentences, lists and tables."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

from rewriter import regex
from rewriter.amounts import is_amount, loose_amount_pattern, read_amount
from rewriter.blocks import Block
from rewriter.document import Document
from rewriter.needed import may_match
from rewriter.spans import Span, View, view_of
from rewriter.statedwords import Fact, counted, facts, labels_of, phrases_of


@dataclass(frozen=True, slots=True)
class Hit:
    """One statement with its numbers."""

    fact: Fact
    words: Span
    numbers: tuple[Span, ...]
    """The count (or that of each size in cells of its own), the row number, or the words of the side."""
    values: tuple[int, ...]
    """What the numbers are: one for all sizes or one for each."""
    text: str
    """Its sentence or line in lower case."""
    piece_at: int
    """Number of the piece it stands in (see Sentence.piece_at)."""
    block: int
    about: bool = False
    """The number is approximate."""
    last: int = 0
    """Last row of a range."""
    labelled: bool = False
    """It stands in a table or list behind its label."""


def hits_in(document: Document) -> list[Hit]:
    """Return the statements in text order; of two about the same words the more telling one."""
    out: list[Hit] = []
    for hit in [*_in_sentences(document), *_in_lines(document)]:
        if not any(h.words.start < hit.words.end and hit.words.start < h.words.end for h in out):
            out.append(hit)
    return sorted(out, key=lambda h: h.words)


def _in_sentences(document: Document) -> Iterator[Hit]:
    sentences = [s for s in document.sentences if "row" in s.view.text or "shoulder" in s.view.text]
    for fact in facts():
        pattern = phrases_of(fact)
        if pattern is None:
            continue
        for sentence in sentences:
            if not may_match(pattern, sentence.view.text):
                continue
            for found in counted(pattern, sentence.view.text):
                yield _hit(fact, sentence.view, found, sentence.piece_at, sentence.block)


def _hit(fact: Fact, view: View, found: regex.Match[str], piece_at: int, block: int) -> Hit:
    groups = found.groupdict()
    named = next((n for n in ("n", "number", "first", "side") if groups.get(n)), None)
    values: tuple[int | None, ...] = ()
    if named == "n":
        values = read_amount(groups[named], Span(0, 0)).values
    elif named in ("number", "first"):
        values = (int(regex.sub(r"\D", "", groups[named])),)
    return Hit(
        fact,
        view.span(*found.span()),
        (view.span(*found.span(named)),) if named else (),
        tuple(v or 0 for v in values),
        view.text,
        piece_at,
        block,
        bool(groups.get("about")),
        int(groups.get("last") or 0),
    )


# --- labels with their numbers -----------------------------------------------------------------------

_LENGTH = r"(?:[^a-z]*(?:cms?|ins?|inch(?:es)?|\")\s*[,;/=(-]*)?"
_VALUE = regex.compile(
    rf"\s*{_LENGTH}\s*(?P<about>(?:approx\w*|about)\s+)?(?P<n>{loose_amount_pattern()})\s*(?P<unit>rows?)?\W*"
)
_RANGE = regex.compile(
    r"\s*(?P<unit>rows?)\s+(?P<n>\d{1,3})\s*(?:-|to|and|through)\s*(?P<last>\d{1,3})\W*"
)
_ROW = regex.compile(r"\s*(?:on\s+)?(?P<unit>row)\s+(?P<n>\d{1,3})\W*")
# "Shoulder shaping: 6 rows", "Shoulder shaping ..... 6 rows", "Shoulder shaping - rows 69-74"
_PARTED = regex.compile(
    r"\s*(?::|=|\.{2,}|\s-\s|\t|\s{2,}|\s(?=\d))\s*(?=\d|(?:on\s+)?rows?\s+\d|about|approx)"
)


def _in_lines(document: Document) -> Iterator[Hit]:
    text = document.source.text
    starts = [s.span.start for s in document.sentences]
    for number, block in enumerate(document.blocks):
        before = bisect_right(starts, block.span.start)
        piece_at = document.sentences[before - 1].piece_at if before else -1
        if block.kind == "table":
            yield from _in_table(text, block, number, piece_at)
            continue
        for line in regex.finditer(r"[^\r\n;]+", text[block.span.start : block.span.end]):
            start, end = (block.span.start + at for at in line.span())
            view = view_of(text, Span(start, end), markup=True)
            parted = _PARTED.search(view.text)
            if parted is not None:
                cells = [Span(start, start + parted.start()), Span(start + parted.end(), end)]
                yield from _in_cells(text, cells, "", number, piece_at)


def _in_table(text: str, block: Block, number: int, piece_at: int) -> Iterator[Hit]:
    """Yield the hits of a table whose lines begin with their label."""
    header = ""
    for line in regex.finditer(r"[^\r\n]+", text[block.span.start : block.span.end]):
        start = block.span.start + line.start()
        cells = [
            Span(start + cell.start(), start + cell.end())
            for cell in regex.finditer(r"[^|]*[^|\s][^|]*", line.group())
        ]
        if not header:
            header = line.group().lower()
            continue
        yield from _in_cells(text, cells, header, number, piece_at)


def _in_cells(
    text: str, cells: list[Span], header: str, block: int, piece_at: int
) -> Iterator[Hit]:
    label = view_of(text, cells[0], markup=True).text
    told = f"{header} {label}"
    views = [view_of(text, cell, markup=True) for cell in cells[1:]]
    for fact in facts():
        pattern = labels_of(fact)
        if pattern is None or not pattern.fullmatch(label):
            continue
        value = _RANGE if fact.name == "range" else _ROW if fact.name == "row" else _VALUE
        found = [value.fullmatch(view.text) for view in views]
        matches = [m for m in found if m is not None and is_amount(m["n"])]
        if (
            not matches
            or len(matches) < len(found)
            or not ("rows" in told or all(m["unit"] for m in matches))
        ):
            continue
        amounts = [read_amount(m["n"], Span(0, 0)).values for m in matches]
        yield Hit(
            fact,
            Span(cells[0].start, cells[-1].end),
            tuple(view.span(*m.span("n")) for view, m in zip(views, matches, strict=True)),
            tuple(v or 0 for values in amounts for v in values),
            told,
            piece_at,
            block,
            any(m.groupdict().get("about") for m in matches),
            int(matches[0].groupdict().get("last") or 0),
            labelled=True,
        )
