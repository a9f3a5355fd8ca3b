"""A draft cut into blocks and sentences, each with the piece it belongs to and what its headings name."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache

from rewriter.blocks import Block, has_lower_case, markdown_blocks, text_blocks, wrap_width
from rewriter.figures import columns_of
from rewriter.headings import read_heading
from rewriter.letters import letters_of
from rewriter.sentences import cut_sentences, has_left_side, opens_part
from rewriter.sizeheads import heads_sizes
from rewriter.sizeitems import joined_items
from rewriter.spans import SourceText, Span, View, view_of


@dataclass(frozen=True)
class Sentence:
    """One sentence, or one run-in or stand-alone heading."""

    span: Span
    source: str = field(repr=False)
    heading: bool
    block: int
    markup: bool = False
    piece: str = "unknown"
    piece_at: int = -1
    """Number of the heading that opened the piece; two backs have two numbers."""
    topics: tuple[str, ...] = ()
    """Topics of the headings in force (shoulder, armhole, neck, cap), the nearest last."""

    @property
    def text(self) -> str:
        """The words as they stand in the source."""
        return self.span.of(self.source)

    @cached_property
    def view(self) -> View:
        """The view in which the words are matched."""
        return view_of(self.source, self.span, self.markup)


@dataclass(frozen=True)
class Document:
    """A draft in blocks and sentences."""

    source: SourceText
    blocks: tuple[Block, ...]
    sentences: tuple[Sentence, ...]
    width: int | None
    """Line width of a hard-wrapped draft in characters, None where lines run on."""

    def tiles(self) -> Iterator[tuple[str, Span]]:
        """Yield spans that cover the whole text in order: sentences, and `gap` between them."""
        at = 0
        for sentence in self.sentences:
            if sentence.span.start > at:
                yield "gap", Span(at, sentence.span.start)
            yield ("heading" if sentence.heading else "sentence"), sentence.span
            at = sentence.span.end
        if at < len(self.source.text):
            yield "gap", Span(at, len(self.source.text))


def split_document(source: SourceText) -> Document:
    """Cut a draft into blocks and sentences whose spans, with the gaps, cover every character."""
    blocks, sentences, width = _cut(
        SourceText(source.text, format=source.format, line_starts=source.line_starts)
    )
    return Document(source, blocks, sentences, width)


@lru_cache(maxsize=2)
def _cut(source: SourceText) -> tuple[tuple[Block, ...], tuple[Sentence, ...], int | None]:
    """Return blocks, sentences and width; the text revised last is cut again when it is a draft itself."""
    blocks = tuple(markdown_blocks(source) if source.format == "markdown" else text_blocks(source))
    width = wrap_width(source.text)
    markup = source.format == "markdown"
    sentences: list[Sentence] = []
    piece, piece_at = "unknown", -1
    topics: tuple[str, ...] = ()
    opener = ""
    body, body_block = (piece, piece_at), -1
    for number, block in enumerate(blocks):
        if block.kind in ("table", "code") or _is_table(source.text, block.span):
            continue
        for span, heading in _sentences_in(source.text, block, width, markup):
            words = view_of(source.text, span, markup).text if heading else ""
            if heading and _in_piece(piece, topics) and heads_sizes(words.strip(" *_")):
                heading = False  # "Sizes S and M", before what is told for them
            if heading:
                found, piece_found = read_heading(words)
                if (
                    piece_found == "list"
                    and piece not in _LISTS
                    and _is_aside(source.text, span, begun=piece != "unknown")
                ):
                    pass  # "Note: ..." within a piece, which goes on after it
                elif piece_found is not None:
                    piece, piece_at, topics = piece_found, len(sentences), found
                    body = body if piece in ("other", "list") else (piece, piece_at)
                elif not found and _opens_part(source.text, span):
                    # behind pieces that have their names it is none of those with shoulders
                    part = "unknown" if body[0] == "unknown" else "other"
                    piece, piece_at, topics = part, len(sentences), ()
                elif found or block.kind == "heading" or _begins_other_side(opener, words):
                    topics = found
                    if piece in ("other", "list") and {"shoulder", "armhole"} & set(found):
                        # a pocket or border told on the way: the piece goes on
                        if piece == "other":
                            _take_back(sentences, piece_at, body)
                        piece, piece_at = body
                opener = words if found else opener
            elif (
                piece == "other"
                and number == body_block
                and _EDGES_NAMED.search(span.of(source.text))
            ):
                # "Pocket: ..." told within the paragraph of a piece, which goes on behind it
                (piece, piece_at), topics = body, ()
            if (piece, piece_at) == body:
                body_block = number
            sentences.append(
                Sentence(span, source.text, heading, number, markup, piece, piece_at, topics)
            )
    return blocks, tuple(joined_items(sentences)), width


_BEFORE = 40
"""Characters before a block of which its first words are told apart (the sign of an item, a line end)."""


def _sentences_in(
    text: str, block: Block, width: int | None, markup: bool
) -> Sequence[tuple[Span, bool]]:
    """Return the sentences of a block; the revised draft has most blocks once more, some of them moved.

    Figures in columns are looked for beyond the block, so that a draft with these is cut anew.
    """
    at = block.span.start
    before = text[max(0, at - _BEFORE) : at]
    said = width, markup, has_lower_case(text), has_left_side(text)
    known = _cuts(block.kind, block.span.of(text), before, said)
    if not known or columns_of(text):
        found = list(cut_sentences(text, block, width, markup))
        known[:] = [(span.start - at, span.end - at, heading) for span, heading in found]
        return found
    return [(Span(at + start, at + end), heading) for start, end, heading in known]


@lru_cache(maxsize=1024)
def _cuts(
    kind: str, words: str, before: str, said: tuple[int | None, bool, bool, bool]
) -> list[tuple[int, int, bool]]:
    """Return the sentences that are kept of a block: where each begins and ends, and whether it heads."""
    return []


_AHEAD = 120


def _opens_part(text: str, heading: Span) -> bool:
    """Say whether a heading of unknown words, in capitals, begins a part with sts of its own."""
    name = heading.of(text).strip(" *_:.\u2014\u2013-")
    return opens_part(
        name, text[heading.start + heading.of(text).find(name) : heading.end + _AHEAD]
    )


def _is_table(text: str, span: Span) -> bool:
    """Say whether a stretch is the table in which a draft explains its letters."""
    start, end = letters_of(text).table
    return (
        start < end
        and start <= span.start + _INDENT
        and span.end <= end + _INDENT
        and start < span.end
    )


_INDENT = 60
"""Blanks that may stand before the names of the columns of a table."""


def forget_document() -> None:
    """Forget the texts that were cut last."""
    _cut.cache_clear()
    _cuts.cache_clear()


def _in_piece(piece: str, topics: tuple[str, ...]) -> bool:
    """Say whether headings have begun a piece, or name what is shaped."""
    return piece not in _LISTS and (piece != "unknown" or bool(topics))


# A part that has sts of its own: "Pocket linings: Cast on 24 sts", "Collar: pick up 80 sts".
_OWN_STS = re.compile(r"(?i)\b(?:cast(?:ing)?[\s-]+on|co|c\.?\s?on|pick(?:ing)?[\s-]+up)\b")


def _take_back(sentences: list[Sentence], opened: int, body: tuple[str, int]) -> None:
    """Give back to a piece what was told on its own sts under another heading ("Collar: ...")."""
    told = sentences[opened:]
    if body[1] < 0 or any(_OWN_STS.search(s.text) for s in told):
        return
    sentences[opened:] = [replace(s, piece=body[0], piece_at=body[1]) for s in told]


_EDGES_NAMED = re.compile(r"(?i)\b(?:armholes?|shoulders?|neck)\b")
# One shoulder of two: "Shape left shoulder"; a side of the neck: "Right side of neck", "Second side".
_ONE_SHOULDER = re.compile(r"\b(?:left|right|first|1st) (?:front |back )?shoulder\b(?!s)")
_ONE_SIDE = re.compile(
    r"\W*(?:(?:left|right|second|2nd|other) (?:side|half)|(?:side|half) two)"
    r"(?: of (?:the )?(?:front |back )?neck)?\W*"
)


def _begins_other_side(opener: str, words: str) -> bool:
    """Say whether a heading begins the other side of a neck, behind the one that opened a shoulder."""
    return bool(_ONE_SHOULDER.search(opener) and _ONE_SIDE.fullmatch(words))


_LISTS = ("other", "list")
_NOTE = re.compile(r"[\s*_(]*note\b(?: on [^:]{1,40})?[\s*_:.]*", re.I)
_FACT = re.compile(r"[\s*_(]*(?:sizes?|gauge|tension)[\s*_:.]*", re.I)


def _is_aside(text: str, span: Span, begun: bool) -> bool:
    """Say whether a heading is a run-in "Note:", its words following on the same line.

    So is "Sizes:" within a piece that has `begun`.
    """
    line_end = re.compile(r"[ \t*_]*(?:[\r\n]|\Z)").match(text, span.end)
    words = span.of(text)
    told = _NOTE.fullmatch(words) or (begun and _FACT.fullmatch(words))
    return line_end is None and bool(told)
