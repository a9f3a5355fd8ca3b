"""Set a text as a new DOCX document: headings, paragraphs, bullets, tables, bold words."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING

from rewriter.spans import SourceText

if TYPE_CHECKING:
    from docx.document import Document
    from docx.text.paragraph import Paragraph

_HEADING = re.compile(r"(#{1,6})\s+(.*?)\s*#*$")
_BULLET = re.compile(r"[-*+]\s+(?=\S)")
_NUMBERED = re.compile(r"\d{1,3}[.)]\s+(?=\S)")
_ROW = re.compile(r"\|(.*?)\|?\s*$")
_RULE = re.compile(r"[\s|:-]+$")
# What XML cannot hold.
_CONTROLS = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")


def document_of(source: SourceText) -> bytes:
    """Return a DOCX document with the words of a text; Markdown's signs become what they stand for."""
    import docx

    document = docx.Document()
    text = _CONTROLS.sub(" ", source.text.replace("\r\n", "\n").replace("\r", "\n"))
    for block in re.split(r"\n[ \t]*\n\s*", text.strip("\n")):
        lines = block.split("\n")
        if source.format == "markdown":
            _add_markdown(document, lines)
        else:
            document.add_paragraph(block)
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def _add_markdown(document: Document, lines: list[str]) -> None:
    table: list[list[str]] = []
    paragraph: Paragraph | None = None
    for line in lines:
        bare = line.strip()
        row = _ROW.match(bare) if bare.startswith("|") else None
        if row:
            if not _RULE.match(row.group(1)):
                table.append([cell.strip() for cell in row.group(1).split("|")])
            paragraph = None
            continue
        _add_table(document, table)
        table = []
        heading = _HEADING.match(bare)
        if heading:
            document.add_heading(heading.group(2), len(heading.group(1)) - 1)
            paragraph = None
        elif bullet := _BULLET.match(bare):
            paragraph = document.add_paragraph(style="List Bullet")
            _add_words(paragraph, bare[bullet.end() :])
        elif paragraph is None or _NUMBERED.match(bare):
            paragraph = document.add_paragraph()
            _add_words(paragraph, bare)
        else:
            _add_words(paragraph, "\n" + bare)
    _add_table(document, table)


def _add_words(paragraph: Paragraph, line: str) -> None:
    for count, words in enumerate(line.removeprefix("\\").split("**")):
        if words:
            paragraph.add_run(words).bold = True if count % 2 else None


def _add_table(document: Document, rows: list[list[str]]) -> None:
    if not rows:
        return
    table = document.add_table(0, max(len(row) for row in rows), style="Table Grid")
    for row in rows:
        cells = table.add_row().cells
        for cell, words in zip(cells, row, strict=False):
            cell.text = words
