"""From a web page to paragraphs, each piece of text with its place in the page's source.

Blocks and white space follow the HTML standard (WHATWG) as far as a pattern's text needs it.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from html.parser import HTMLParser
from itertools import groupby

from rewriter.formats.flow import Paragraph, Run
from rewriter.spans import Span


def _tags(names: str) -> frozenset[str]:
    return frozenset(names.split())


_SKIPPED = _tags(
    "script style title template svg noscript textarea select button object iframe audio video"
)
_BLOCKS = _tags(
    "address article aside blockquote body caption center dd details dialog div dl dt fieldset "
    "figcaption figure footer form h1 h2 h3 h4 h5 h6 header hr html li main nav ol p pre section "
    "summary table tbody td tfoot th thead tr ul"
)
_SPACED = _tags("p blockquote pre h1 h2 h3 h4 h5 h6 ul ol table dl figure")
_EMPTY = _tags("area base br col embed hr img input link meta source track wbr")
_CLOSED_BY = {
    "p": _BLOCKS - {"body", "html", "li", "td", "th", "tr", "tbody", "thead", "tfoot"},
    "li": frozenset({"li"}),
    "td": frozenset({"td", "th", "tr"}),
    "th": frozenset({"td", "th", "tr"}),
    "tr": frozenset({"tr"}),
    "dt": frozenset({"dt", "dd"}),
    "dd": frozenset({"dt", "dd"}),
}
_HEADING = re.compile(r"h([1-6])")
_ENTITY = re.compile(r"&(?:#[xX]?)?\w+;?")
_BLANK = re.compile(r"[ \t\r\n\f]+")
_LONG_CELL = 150
MARK = "data-slopewise"
"""Attribute that numbers the change marks of this program."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Text as shown, and the stretch of the page's source it is shown for."""

    text: str
    source: Span
    bold: bool

    @property
    def plain(self) -> bool:
        """Say whether each character stands for itself, so that the piece can be cut."""
        return len(self.text) == self.source.end - self.source.start


@dataclass
class Element:
    """A block element of the page."""

    tag: str
    opening: Span
    """Its start tag in the source."""
    end: int = -1
    """Where it ends, its end tag included; -1 where that is not told."""
    inner_end: int = -1
    paragraphs: int = 0
    """How many paragraphs of text it holds, those of elements inside it included."""
    cells: list[list[list[WebParagraph]]] = field(default_factory=list)
    """Of a table: its rows, their cells, their paragraphs."""
    count: int = 0
    """Of a numbered list: the number of its last item."""
    item_told: bool = False


@dataclass
class WebParagraph:
    """A paragraph of the page with its pieces."""

    element: Element
    role: str
    prefix: str
    pieces: list[Piece]
    spaced: bool
    area: int

    def paragraph(self, gap: str | None = None, prefix: str | None = None) -> Paragraph:
        """Return it as the text shows it."""
        runs = tuple(
            Run("".join(p.text for p in group), bold)
            for bold, group in groupby(self.pieces, key=lambda p: p.bold)
        )
        return Paragraph(
            runs,
            role="heading"
            if self.role == "heading"
            else "item"
            if self.role == "item"
            else "cell"
            if self.role == "cell"
            else "text",
            prefix=self.prefix if prefix is None else prefix,
            family=self.element.tag,
            space_before=self.spaced,
            space_after=self.spaced,
            area=self.area,
            gap=gap,
        )


class PageReader(HTMLParser):
    """Reads the paragraphs of a page; change marks from number `refused` on are taken as refused."""

    def __init__(self, page: str, refused: int | None = None) -> None:
        """Read a whole page."""
        super().__init__(convert_charrefs=False)
        self._page = page
        self._lines = [0, *(m.end() for m in re.finditer("\n", page))]
        self._refused = refused
        self._open: list[Element] = [Element("html", Span(0, 0))]
        self._inline: list[str] = []
        self._hidden: list[str] = []
        self._bold = 0
        self._raised = 0
        self._pieces: list[Piece] = []
        self._area = 0
        self._areas = [0]
        self.found: list[tuple[WebParagraph, str | None, str | None]] = []
        self._tables: list[Element] = []
        self.feed(page)
        self.close()
        self._flush()
        while len(self._open) > 1:  # what the page leaves open ends with it
            self._close(self._open[-1].tag, -1, -1)

    def _at(self) -> int:
        line, column = self.getpos()
        return self._lines[line - 1] + column

    # --- tags ---------------------------------------------------------------------------------------

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        start = self._at()
        end = start + len(self.get_starttag_text() or "")
        if self._hidden:
            if tag not in _EMPTY:
                self._hidden.append(tag)
            return
        if self._hides(tag, dict(attrs)) and tag not in _EMPTY:
            if tag in _BLOCKS:
                self._flush()
            self._hidden.append(tag)
        elif tag == "br":
            self._add("\n", Span(start, end))
        elif tag in _BLOCKS:
            self._block(tag, Span(start, end), dict(attrs))
        elif tag not in _EMPTY:
            self._inline.append(tag)
            self._bold += tag in ("b", "strong")
            self._raised += tag in ("sup", "sub")

    def _hides(self, tag: str, attrs: dict[str, str | None]) -> bool:
        if tag in ("del", "ins"):
            number = attrs.get(MARK) or ""
            own = self._refused is not None and number.isdigit() and int(number) >= self._refused
            return tag == ("ins" if own else "del")
        style = (attrs.get("style") or "").replace(" ", "").lower()
        return tag in _SKIPPED or "hidden" in attrs or "display:none" in style

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)

    def _block(self, tag: str, opening: Span, attrs: dict[str, str | None]) -> None:
        self._flush()
        for open_tag, closers in _CLOSED_BY.items():
            if self._open[-1].tag == open_tag and tag in closers:
                self._close(open_tag, opening.start, opening.start)
        if tag == "hr":
            return
        element = Element(tag, opening)
        if tag == "ol":
            start = attrs.get("start") or "1"
            element.count = int(start) - 1 if start.isdigit() and len(start) < 5 else 0
        if tag == "table":
            self._tables.append(element)
        elif tag == "tr" and self._tables:
            self._tables[-1].cells.append([])
        elif tag in ("td", "th") and self._tables:
            if not self._tables[-1].cells:
                self._tables[-1].cells.append([])
            self._tables[-1].cells[-1].append([])
            self._area += 1
            self._areas.append(self._area)
        self._open.append(element)

    def handle_endtag(self, tag: str) -> None:
        start = self._at()
        found = self._page.find(">", start)
        end = found + 1 if found >= 0 else len(self._page)
        if self._hidden:
            if tag in self._hidden:
                while self._hidden.pop() != tag:
                    pass
            return
        if tag in _BLOCKS:
            self._flush()
            if any(e.tag == tag for e in self._open[1:]):
                while self._open[-1].tag != tag:
                    self._close(self._open[-1].tag, start, start)
                self._close(tag, start, end)
        elif tag in self._inline:
            while True:
                last = self._inline.pop()
                self._bold -= last in ("b", "strong")
                self._raised -= last in ("sup", "sub")
                if last == tag:
                    break

    def _close(self, tag: str, inner_end: int, end: int) -> None:
        element = self._open.pop()
        element.end, element.inner_end = end, inner_end
        if tag in ("td", "th") and len(self._areas) > 1:
            self._areas.pop()
        if tag == "table" and self._tables and self._tables[-1] is element:
            self._tables.pop()
            self._table(element)

    # --- text ---------------------------------------------------------------------------------------

    def handle_data(self, data: str) -> None:
        if self._hidden:
            return
        start = self._at()
        if any(e.tag == "pre" for e in self._open):
            at = start
            for line in data.splitlines(keepends=True):
                body = line.rstrip("\r\n")
                self._add(body, Span(at, at + len(body)))
                if len(body) < len(line):
                    self._add("\n", Span(at + len(body), at + len(line)))
                at += len(line)
            return
        at = 0
        for blank in [*_BLANK.finditer(data), None]:
            stop = blank.start() if blank else len(data)
            self._add(data[at:stop], Span(start + at, start + stop))
            if blank:
                self._space(Span(start + stop, start + blank.end()))
                at = blank.end()

    def handle_entityref(self, name: str) -> None:
        self._reference()

    def handle_charref(self, name: str) -> None:
        self._reference()

    def _reference(self) -> None:
        if self._hidden:
            return
        start = self._at()
        found = _ENTITY.match(self._page, start)
        raw = found.group() if found else "&"
        text = html.unescape(raw).replace("\u00ad", "")
        if _BLANK.fullmatch(text):
            self._space(Span(start, start + len(raw)))
        else:
            self._add(text, Span(start, start + len(raw)))

    def _space(self, source: Span) -> None:
        """Add white space: one blank, none at the beginning of a line."""
        shown = next((p.text for p in reversed(self._pieces) if p.text), "\n")
        if shown[-1] not in " \n":
            self._add(" ", source)

    def _add(self, text: str, source: Span) -> None:
        if not text:
            return
        if self._raised and text.strip():
            text = f"[^{text.strip()}]"  # a note's sign or part of a fraction, never a figure of the text
        self._pieces.append(Piece(text.replace("\u00ad", ""), source, self._bold > 0))

    # --- paragraphs ---------------------------------------------------------------------------------

    def _flush(self) -> None:
        pieces = self._pieces
        self._pieces = []
        while pieces and not pieces[-1].text.strip(" \n"):
            pieces.pop()
        if not "".join(p.text for p in pieces).strip():
            return
        element = self._open[-1]
        for around in self._open:
            around.paragraphs += 1
        role, prefix = "text", ""
        if found := _HEADING.fullmatch(element.tag):
            role, prefix = "heading", "#" * int(found.group(1)) + " "
        item = next((e for e in reversed(self._open) if e.tag == "li"), None)
        if item is not None and not item.item_told and role == "text":
            item.item_told = True
            role, prefix = "item", self._sign()
        paragraph = WebParagraph(
            element,
            role,
            prefix,
            pieces,
            element.tag in _SPACED or element.tag in ("body", "html"),
            self._areas[-1],
        )
        if self._tables and self._tables[-1].cells and self._tables[-1].cells[-1]:
            self._tables[-1].cells[-1][-1].append(paragraph)
        else:
            self.found.append((paragraph, None, None))

    def _sign(self) -> str:
        lists = [e for e in self._open if e.tag in ("ol", "ul")]
        indent = "   " * (len(lists) - 1)
        if lists and lists[-1].tag == "ol":
            lists[-1].count += 1
            return f"{indent}{lists[-1].count}. "
        return f"{indent}- "

    def _table(self, table: Element) -> None:
        """Give out a table: as a table, or its cells one after the other where it lays out the page."""
        rows = [row for row in table.cells if row]
        inner = [p for row in rows for cell in row for p in cell]
        prose = any(
            len(cell) > 1 or any(sum(len(x.text) for x in p.pieces) > _LONG_CELL for p in cell)
            for row in rows
            for cell in row
        )
        target = self._tables[-1].cells[-1][-1] if self._tables and self._tables[-1].cells else None
        if prose or sum(len(row) for row in rows) <= 1 or target is not None:
            for paragraph in inner:
                if target is not None:
                    target.append(paragraph)
                else:
                    self.found.append((paragraph, None, None))
            return
        width = max((len(row) for row in rows), default=0)
        for number, row in enumerate(rows):
            below = " |\n| " if number else f" |\n|{' --- |' * width}\n| "
            for column, cell in enumerate(row):
                last = column + 1 == len(row)
                gap = " | " if not last else below if number + 1 < len(rows) else " |\n\n"
                one = cell[0] if cell else WebParagraph(table, "cell", "", [], False, self._area)
                one.role, one.area = "cell", -id(table)
                self.found.append((one, gap, "| " if number == column == 0 else ""))

    def paragraphs(self) -> Iterator[tuple[WebParagraph, Paragraph]]:
        """Yield the paragraphs in order, as found and as the text shows them."""
        for one, gap, prefix in self.found:
            yield one, one.paragraph(gap, prefix)


def in_source(pieces: Sequence[Piece], span: Span) -> list[Span]:
    """Return the stretches of the page's source that show a span of a paragraph's characters."""
    out: list[Span] = []
    at = 0
    for piece in pieces:
        start, end = max(span.start - at, 0), min(span.end - at, len(piece.text))
        at += len(piece.text)
        if start >= end:
            continue
        place = piece.source
        if piece.plain:
            place = Span(place.start + start, place.start + end)
        if out and out[-1].end == place.start:
            out[-1] = Span(out[-1].start, place.end)
        else:
            out.append(place)
    return out


def place_after(pieces: Sequence[Piece], at: int) -> int:
    """Return the place in the source right behind a number of a paragraph's characters."""
    count = 0
    for piece in pieces:
        if count + len(piece.text) >= at and (at > count or piece is pieces[0]):
            if at == 0:
                return piece.source.start
            return piece.source.start + (at - count) if piece.plain else piece.source.end
        count += len(piece.text)
    return pieces[-1].source.end
