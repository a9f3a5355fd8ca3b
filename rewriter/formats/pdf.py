"""PDF drafts, to be read only: columns in order, paragraphs joined again, divided words made whole."""

from __future__ import annotations

import ctypes
import re
import statistics
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from rewriter.annotations import Annotation
from rewriter.edits import Edit
from rewriter.formats.carrier import AUTHOR, NotWritable, source_of
from rewriter.formats.columns import Box, Fragment, Line, joins, lines_in_order
from rewriter.formats.flow import Paragraph, Run, assemble
from rewriter.options import Changes
from rewriter.source import UnreadableDraft

if TYPE_CHECKING:
    from pypdfium2 import PdfDocument, PdfPage

MOST_PAGES = 400
MOST_CHARACTERS = 60_000
"""On one page; a page of small print has some eight thousand."""
_FEWEST_LETTERS = 20
"""With fewer in the whole file its pages are pictures."""
_HEADING = 1.15
"""Times the size of the running text."""

_LIGATURES = str.maketrans(
    {"ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl", "ﬅ": "st", "ﬆ": "st"}
)
# PDFium gives the hyphen of a divided word as one of these.
_DIVIDERS = "-\u00ad\u2010\x02\ufffe"


class PdfDraft:
    """A draft in PDF: its text; the revised draft is written as Markdown or DOCX."""

    suffixes: tuple[str, ...] = ()
    binary = True
    notice = ""

    def __init__(self, data: bytes, name: str) -> None:
        """Read a PDF file; raises UnreadableDraft for a damaged, locked or scanned one."""
        pages = _pages(data, name)
        lines = [line for page in _without_furniture(pages) for line in page]
        if sum(c.isalpha() for _, line in lines for c in line.text) < _FEWEST_LETTERS:
            raise UnreadableDraft(
                f"{name}: its pages are pictures without text (a scan); have the text recognised by a "
                "scanning program, or type the pattern in"
            )
        joined = _paragraphs(lines)
        flow = assemble(p.paragraph() for p in joined)
        source = source_of(flow, data, name, "pdf")
        first: dict[int, int] = {}
        for number, paragraph in enumerate(joined):
            for page in range(paragraph.page + 1):
                first.setdefault(page, flow.starts[number])
        self.source = replace(
            source, landmarks=tuple(first[p] for p in sorted(first)), landmark="page"
        )

    def revised(
        self,
        edits: Sequence[Edit],
        annotations: Iterable[Annotation],
        changes: Changes,
        date: str,
        output: str,
        author: str = AUTHOR,
    ) -> bytes:
        """Raise NotWritable: a PDF file has no way back."""
        raise NotWritable(
            f"{self.source.name}: a PDF file can only be read; write the revision as -o NAME.docx"
        )


def _pages(data: bytes, name: str) -> list[list[Line]]:
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as error:
        if "password" in str(error).lower():
            raise UnreadableDraft(
                f"{name}: it is locked by a password; save it without one"
            ) from None
        raise UnreadableDraft(f"{name}: the PDF file is damaged; make it again") from None
    try:
        if len(document) > MOST_PAGES:
            raise UnreadableDraft(
                f"{name}: {len(document)} pages, more than {MOST_PAGES}; take out those of the pattern"
            )
        return [_page(document, number, name) for number in range(len(document))]
    except pypdfium2.PdfiumError:
        raise UnreadableDraft(f"{name}: a page of the PDF file is damaged; make it again") from None
    finally:
        document.close()


def _page(document: PdfDocument, number: int, name: str) -> list[Line]:
    page = document[number]
    try:
        fragments = list(_fragments(page, f"{name}: page {number + 1}"))
        shown = _with_note_signs([f for f in fragments if f.text.strip()])
        return lines_in_order(shown, page.get_width())
    finally:
        page.close()


def _fragments(page: PdfPage, place: str) -> Iterator[Fragment]:
    """Yield the page's characters joined along their lines, cut at wide gaps and changes of weight."""
    import pypdfium2.raw as raw

    text = page.get_textpage()
    count = text.count_chars()
    if count > MOST_CHARACTERS:
        raise UnreadableDraft(
            f"{place}: more than {MOST_CHARACTERS} characters, which no printed page has; copy the text of "
            "the pattern into a new file"
        )
    current: Fragment | None = None
    for index in range(count):
        character = text.get_text_range(index, 1)
        if not character or character in "\r\n":
            continue
        left, bottom, right, top = text.get_charbox(index, loose=True)
        bold = character != " " and _is_bold(raw, text, index)
        size = raw.FPDFText_GetFontSize(text, index)
        if current is not None and joins(current, left, bottom, top - bottom):
            blank = character == " "
            alike = bold == current.bold and 0.8 * current.size <= size <= 1.25 * current.size
            if blank or alike:
                if not (blank and current.text.endswith(" ")):
                    current.text += character
                old = current.box
                current.box = Box(
                    old.left, min(old.bottom, bottom), max(old.right, right), max(old.top, top)
                )
                continue
        if character == " ":
            continue
        if current is not None:
            yield current
        current = Fragment(Box(left, bottom, right, top), character, size, bold)
    if current is not None:
        yield current
    text.close()


def _is_bold(raw: Any, text: Any, index: int) -> bool:
    if raw.FPDFText_GetFontWeight(text, index) >= 600:
        return True
    name, flags = ctypes.create_string_buffer(80), ctypes.c_int()
    raw.FPDFText_GetFontInfo(text, index, name, 80, ctypes.byref(flags))
    return b"bold" in name.value.lower() or b"black" in name.value.lower()


def _with_note_signs(fragments: list[Fragment]) -> list[Fragment]:
    """Show small raised figures as the signs of footnotes, never as figures of the text."""
    usual = statistics.median(f.size for f in fragments) if fragments else 0.0
    out: list[Fragment] = []
    for fragment in fragments:
        box = fragment.box
        words = fragment.text.strip()
        before = out[-1] if out else None
        if (
            before is not None
            and (words.isdigit() or set(words) <= {"*", "†", "‡"})
            and fragment.size < 0.8 * min(before.size, usual)
            and before.box.bottom < box.bottom < before.box.top
            and abs(box.left - before.box.right) < before.box.height
        ):
            before.text = f"{before.text.rstrip()}[^{words}]"
            old = before.box
            before.box = Box(old.left, old.bottom, max(old.right, box.right), old.top)
        else:
            out.append(fragment)
    return out


# --- pages to paragraphs ----------------------------------------------------------------------------

_NUMBER = re.compile(r"\d+")
_PAGE_NUMBER = re.compile(r"(?i)(?:page|p\.)?\s*[-–]?\s*\d{1,3}\s*(?:[-–]|(?:of|/)\s*\d{1,3})?")


def _without_furniture(pages: Sequence[Sequence[Line]]) -> Iterator[list[tuple[int, Line]]]:
    """Yield the lines of each page with its number; headers, footers and page numbers left out.

    A first or last line counts as such where most pages have it, but for its numbers.
    """
    edges = [_edges(page) for page in pages]
    common = Counter(words for edge in edges for words in {_NUMBER.sub("#", e.text) for e in edge})
    for number, (page, edge) in enumerate(zip(pages, edges, strict=True)):
        gone = [
            line
            for line in edge
            if _PAGE_NUMBER.fullmatch(line.text)
            or (len(pages) > 2 and common[_NUMBER.sub("#", line.text)] > len(pages) / 2)
        ]
        yield [(number, line) for line in page if not any(line is g for g in gone)]


def _edges(page: Sequence[Line]) -> list[Line]:
    if len(page) < 3:
        return []
    return [max(page, key=lambda x: x.box.top), min(page, key=lambda x: x.box.bottom)]


@dataclass
class _Joined:
    """A paragraph put together from lines."""

    page: int
    runs: list[Run]
    size: float
    body: float
    tight: bool = False
    """Whether the next paragraph follows without space."""

    def paragraph(self) -> Paragraph:
        """Return it as the text shows it; larger letters than the running text's make a heading."""
        text = "".join(r.text for r in self.runs).strip()
        heading = (
            self.size > _HEADING * self.body and len(text) < 100 and any(map(str.isalpha, text))
        )
        level = 1 if self.size > 1.6 * self.body else 2 if self.size > 1.3 * self.body else 3
        if bullet := _BULLET.match("".join(r.text for r in self.runs)):
            return Paragraph(tuple(_without(self.runs, bullet.end())), role="item", prefix="- ")
        return Paragraph(
            tuple(self.runs),
            role="heading" if heading else "text",
            prefix="#" * level + " " if heading else "",
            space_after=not self.tight,
        )


def _without(runs: Sequence[Run], count: int) -> Iterator[Run]:
    """Leave out the first characters of some runs."""
    for run in runs:
        if len(run.text) > count:
            yield replace(run, text=run.text[count:])
        count = max(count - len(run.text), 0)


def _paragraphs(lines: Sequence[tuple[int, Line]]) -> list[_Joined]:
    sizes = Counter(
        round(f.size, 1) for _, line in lines for f in line.fragments for _ in f.text.strip()
    )
    body = sizes.most_common(1)[0][0] or 10.0
    pitch = _pitch([line for _, line in lines])
    seen = set(re.findall(r"\w+(?:-\w+)+", " ".join(line.text for _, line in lines)))
    out: list[_Joined] = []
    before: tuple[int, Line] | None = None
    for page, line in lines:
        runs = [Run(_clean(text), bold) for text, bold in line.runs]
        size = max(f.size for f in line.fragments)
        how = _follows(before, (page, line), pitch) if before else "apart"
        if how == "joined":
            _append(out[-1], runs, seen)
        else:
            if out:
                out[-1].tight = how == "next"
            out.append(_Joined(page, runs, size, body))
        before = (page, line)
    return out


def _clean(text: str) -> str:
    return text.translate(_LIGATURES)


def _pitch(lines: Sequence[Line]) -> float:
    """Return the distance of two lines of one paragraph, in heights of a line: the closer ones."""
    found = [
        (a.box.bottom - b.box.bottom) / max(a.box.height, 1.0)
        for a, b in pairwise(lines)
        if a.column == b.column and a.box.bottom > b.box.bottom
    ]
    return sorted(found)[len(found) // 4] if found else 1.2


_SPACE = 1.2
"""Times the usual distance of lines: with more, space is seen between them."""
_NARROW = 120.0
"""Points: a narrower column is one of a table, whose lines are cells."""
_ENDED = (".", ":", "!", "?", ".”", ".)", ".]")
_LABEL = re.compile(
    r"(?:N(?:ext|EXT)\s+(?:[Rr]ow|ROW|\d)|R(?:ow|OW)[sS]?\s+\d|\d+(?:st|nd|rd|th)\s+[Rr]ow|[-*]\s|\d+[.)]\s)"
)
# Bullets, those of symbol fonts (in the private area of Unicode) among them.
_BULLET = re.compile(r"\s*[•‣▪▫◦●○■□·–\uf0a7\uf0b7\uf076\uf0fc]\s+(?=\S)")


def _follows(before: tuple[int, Line], this: tuple[int, Line], pitch: float) -> str:
    """Say how a line follows another: joined (one paragraph), next (no space between), apart."""
    (old_page, old), (page, line) = before, this
    same = old_page == page and old.column == line.column and old.box.bottom > line.box.bottom
    sizes = (max(f.size for f in old.fragments), max(f.size for f in line.fragments))
    if abs(sizes[0] - sizes[1]) > 0.5:
        return "apart"
    if same and old.box.bottom - line.box.bottom > _SPACE * pitch * old.box.height:
        return "apart"
    if old.text[-1:] in _DIVIDERS and line.text[:1].islower():
        return "joined"
    first = line.text.split(maxsplit=1)[0] if line.text else ""
    room = (old.right - old.box.right) / max(old.box.height, 1.0)
    narrow = old.right - old.left < _NARROW
    full = not narrow and room < 0.5 * len(first) + 1.0
    if not full or _LABEL.match(line.text) or _BULLET.match(line.text):
        return "next" if same else "apart"
    if same:
        all_bold = all(f.bold for f in old.fragments) != all(f.bold for f in line.fragments)
        return (
            "next" if all_bold and not old.text.endswith((",", "(")) and _short(old) else "joined"
        )
    goes_on = not old.text.endswith(_ENDED) and (
        line.text[:1].islower() or not line.text[:1].isalpha()
    )
    return "joined" if goes_on else "apart"


def _short(line: Line) -> bool:
    return line.box.right - line.box.left < 0.6 * (line.right - line.left)


def _append(joined: _Joined, runs: list[Run], hyphenated: set[str]) -> None:
    """Add a line to a paragraph; a word divided at the line end is made whole."""
    last = joined.runs[-1]
    text = last.text.rstrip()
    first = runs[0].text.lstrip()
    if text[-1:] in _DIVIDERS and first[:1].islower() and text[-2:-1].isalpha():
        head = re.findall(r"\w+$", text[:-1])
        tail = re.findall(r"^\w+", first)
        whole = f"{head[0]}-{tail[0]}" if head and tail else ""
        text = f"{text[:-1]}-" if whole in hyphenated else text[:-1]
        joined.runs[-1] = Run(text, last.bold)
        runs = [Run(first, runs[0].bold), *runs[1:]]
    else:
        joined.runs[-1] = Run(f"{text} ", last.bold)
    joined.runs += runs
