"""From the content of an ODT document to paragraphs: body, lists, tables, text boxes, notes."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING

from rewriter.formats.docx_read import LONGEST_TEXT, MOST_PARAGRAPHS
from rewriter.formats.flow import Flow, Paragraph, Run, assemble
from rewriter.formats.odf import FO, OFFICE, STYLE, TABLE, TEXT, H, P, leaves
from rewriter.source import UnreadableDraft

if TYPE_CHECKING:
    from lxml.etree import _Element

_DRAWN = "{urn:oasis:names:tc:opendocument:xmlns:drawing:1.0}*"
_INDEXES = ("table-of-content", "alphabetical-index", "illustration-index", "user-index")
_SKIPPED = frozenset({f"{TEXT}{name}" for name in (*_INDEXES, "tracked-changes")})
_WORDS = (P, H, f"{TEXT}list", f"{TABLE}table")
_LENGTH = re.compile(r"(-?[\d.]+)(cm|mm|in|pt|pc|px)?")
_POINTS = {"cm": 28.35, "mm": 2.835, "in": 72.0, "pt": 1.0, "pc": 12.0, "px": 0.75}
_TIGHT = 4.0
"""Points: less space than this between paragraphs is not seen as a gap."""
_LONG_CELL = 150


@dataclass(frozen=True)
class OdtParagraph:
    """A paragraph as read, and the element that holds its words."""

    paragraph: Paragraph
    element: _Element


class OdtStyles:
    """Styles of a document, with what each takes over from its parent."""

    def __init__(self, roots: Sequence[_Element | None]) -> None:
        """Index the styles of the content and the styles part."""
        self._styles: dict[tuple[str, str], _Element] = {}
        self._lists: dict[str, _Element] = {}
        self._default: _Element | None = None
        for root in (r for r in roots if r is not None):
            for style in root.iter(f"{STYLE}style"):
                key = (style.get(f"{STYLE}family", ""), style.get(f"{STYLE}name", ""))
                self._styles.setdefault(key, style)
            for style in root.iter(f"{TEXT}list-style"):
                self._lists.setdefault(style.get(f"{STYLE}name", ""), style)
            for style in root.iter(f"{STYLE}default-style"):
                if style.get(f"{STYLE}family") == "paragraph":
                    self._default = style

    def _chain(self, family: str, name: str) -> Iterator[_Element]:
        seen: set[str] = set()
        while (family, name) in self._styles and name not in seen:
            seen.add(name)
            style = self._styles[family, name]
            yield style
            name = style.get(f"{STYLE}parent-style-name", "")

    def is_bold(self, family: str, name: str) -> bool | None:
        """Say whether a style is bold; None where it does not tell."""
        for style in self._chain(family, name):
            for properties in style.iter(f"{STYLE}text-properties"):
                if weight := properties.get(f"{FO}font-weight"):
                    return weight == "bold" or (weight.isdigit() and int(weight) >= 600)
        return None

    def names(self, name: str) -> list[str]:
        """Return a paragraph style's name and those of its parents."""
        return [s.get(f"{STYLE}name", "") for s in self._chain("paragraph", name)]

    def space(self, name: str, where: str) -> bool:
        """Say whether space is seen before (`top`) or after (`bottom`) a paragraph."""
        chain = [
            *self._chain("paragraph", name),
            *([self._default] if self._default is not None else []),
        ]
        for style in chain:
            for properties in style.iter(f"{STYLE}paragraph-properties"):
                told = properties.get(f"{FO}margin-{where}") or properties.get(f"{FO}margin")
                if told and (found := _LENGTH.match(told)):
                    return (
                        float(found.group(1)) * _POINTS.get(found.group(2) or "pt", 1.0) >= _TIGHT
                    )
        return False

    def is_numbered(self, name: str, level: int) -> bool:
        """Say whether a list style numbers its items at a level (from 1)."""
        style = self._lists.get(name)
        if style is None:
            return False
        return any(
            number.get(f"{TEXT}level") == str(level) and number.get(f"{STYLE}num-format") == "1"
            for number in style.iter(f"{TEXT}list-level-style-number")
        )


class OdtReader:
    """Reads the paragraphs of a document's content."""

    def __init__(self, content: _Element, styles: OdtStyles, name: str) -> None:
        """Take the parsed content and the styles."""
        self._content, self._styles, self._name = content, styles, name
        self._area = 0
        self._count = 0
        self._length = 0

    def read(self) -> tuple[Flow, list[OdtParagraph]]:
        """Return the text of the document, and its paragraphs with their elements."""
        body = self._content.find(f"{OFFICE}body/{OFFICE}text")
        if body is None:
            raise UnreadableDraft(
                f"{self._name}: this is not a text document; save it as .odt or .docx"
            )
        found = list(self._blocks(body, 0))
        for drawn in body.iter(_DRAWN):  # text boxes, and all other shapes that words stand in
            if any(child.tag in _WORDS for child in drawn):
                self._area += 1
                found += self._blocks(drawn, self._area)
        for note in body.iter(f"{TEXT}note"):
            inner = note.find(f"{TEXT}note-body")
            if inner is not None:
                self._area += 1
                sign = note.findtext(f"{TEXT}note-citation", "").strip()
                for number, one in enumerate(self._blocks(inner, self._area)):
                    prefix = f"[^{sign}]: " if number == 0 else ""
                    found.append(replace(one, paragraph=replace(one.paragraph, prefix=prefix)))
        return assemble(p.paragraph for p in found), found

    def _blocks(self, container: _Element, area: int) -> Iterator[OdtParagraph]:
        for child in container:
            if child.tag in (P, H):
                yield self._paragraph(child, area)
            elif child.tag == f"{TEXT}list":
                yield from self._list(child, area, 1, child.get(f"{TEXT}style-name", ""))
            elif child.tag == f"{TABLE}table":
                yield from self._table(child)
            elif child.tag not in _SKIPPED and child.tag == f"{TEXT}section":
                yield from self._blocks(child, area)

    def _paragraph(self, element: _Element, area: int) -> OdtParagraph:
        style = element.get(f"{TEXT}style-name", "")
        runs = self._runs(element, style)
        words = "".join(r.text for r in runs).strip()
        self._count += 1
        self._length += len(words)
        if self._count > MOST_PARAGRAPHS or self._length > LONGEST_TEXT:
            raise UnreadableDraft(
                f"{self._name}: longer than a book of patterns (at paragraph {self._count}); split it"
            )
        paragraph = Paragraph(
            runs,
            family=style,
            space_before=self._styles.space(style, "top"),
            space_after=self._styles.space(style, "bottom"),
            area=area,
        )
        level = 0
        if element.tag == H:
            told = element.get(f"{TEXT}outline-level", "1")
            level = min(int(told) + 1 if told.isdigit() else 2, 6)
        elif "Title" in self._styles.names(style):
            level = 1
        if level and words and len(words) < _LONG_CELL:
            paragraph = replace(paragraph, role="heading", prefix="#" * level + " ")
        return OdtParagraph(paragraph, element)

    def _runs(self, element: _Element, style: str) -> tuple[Run, ...]:
        usual = self._styles.is_bold("paragraph", style) or False

        def bold(holder: _Element) -> bool:
            while holder is not element:
                told = self._styles.is_bold("text", holder.get(f"{TEXT}style-name", ""))
                if told is not None:
                    return told
                above = holder.getparent()
                if above is None:
                    break
                holder = above
            return usual

        weighed = [(leaf.text, bold(leaf.holder)) for leaf in leaves(element)]
        return tuple(
            Run("".join(text for text, _ in group), weight)
            for weight, group in groupby(weighed, key=lambda w: w[1])
        )

    def _list(
        self, container: _Element, area: int, level: int, style: str
    ) -> Iterator[OdtParagraph]:
        number = 0
        numbered = self._styles.is_numbered(style, level)
        for item in container:
            if item.tag not in (f"{TEXT}list-item", f"{TEXT}list-header"):
                continue
            first = item.tag == f"{TEXT}list-item"
            for child in item:
                if child.tag == f"{TEXT}list":
                    inner = child.get(f"{TEXT}style-name") or style
                    yield from self._list(child, area, level + 1, inner)
                elif child.tag in (P, H):
                    one = self._paragraph(child, area)
                    if first and one.paragraph.role == "text" and one.paragraph.text.strip():
                        number += 1
                        sign = f"{number}. " if numbered else "- "
                        shown = replace(
                            one.paragraph, role="item", prefix="   " * (level - 1) + sign
                        )
                        one = replace(one, paragraph=shown)
                        first = False
                    yield one

    def _table(self, table: _Element) -> Iterator[OdtParagraph]:
        rows = [[c for c in row if c.tag == f"{TABLE}table-cell"] for row in _rows(table)]
        prose = any(
            len(list(cell.iter(P, H))) > 2
            or any(sum(len(x.text) for x in leaves(p)) > _LONG_CELL for p in cell.iter(P, H))
            or cell.find(f"{TABLE}table") is not None
            for row in rows
            for cell in row
        )
        if prose or sum(map(len, rows)) <= 1:
            for cell in (c for row in rows for c in row):
                self._area += 1
                yield from self._blocks(cell, self._area)
            return
        self._area += 1
        width = max(map(len, rows), default=0)
        for number, row in enumerate(rows):
            below = " |\n| " if number else f" |\n|{' --- |' * width}\n| "
            for column, cell in enumerate(row):
                last = column + 1 == len(row)
                paragraphs = list(cell.iter(P, H))
                self._count += 1
                if self._count > MOST_PARAGRAPHS:
                    raise UnreadableDraft(
                        f"{self._name}: a table has more than {MOST_PARAGRAPHS} cells; copy the text of "
                        "the pattern into a new document"
                    )
                runs = [r for p in paragraphs for r in (*self._runs(p, ""), Run("\n"))][:-1]
                yield OdtParagraph(
                    Paragraph(
                        tuple(runs),
                        role="cell",
                        prefix="| " if number == column == 0 else "",
                        area=self._area,
                        gap=" | " if not last else below if number + 1 < len(rows) else " |\n\n",
                    ),
                    paragraphs[0] if paragraphs else cell,
                )


def _rows(table: _Element) -> Iterator[_Element]:
    for child in table:
        if child.tag == f"{TABLE}table-row":
            yield child
        elif child.tag in (
            f"{TABLE}table-header-rows",
            f"{TABLE}table-rows",
            f"{TABLE}table-row-group",
        ):
            yield from _rows(child)
