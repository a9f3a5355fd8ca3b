"""Set a text as a new DOCX document: headings, a paragraph for each row, bullets, tables, bold words."""

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
            continue
        told: list[str] = []
        for line in lines:
            if told and not _begins(line, told[-1]):
                told[-1] += f"\n{line}"
            else:
                told.append(line)
        for words in told:
            document.add_paragraph(words)
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def _begins(line: str, paragraph: str) -> bool:
    """Say whether a line is a row told for itself, or stands behind one that has come to its end.

    `paragraph` is what was told before it, in one paragraph so far. Other lines keep their break inside
    one: they may run on from one to the next.
    """
    if _NUMBERED.match(paragraph):
        return False  # rows of a numbered step belong to it
    before = paragraph.rstrip().rpartition("\n")[2]
    ended = _STOPPED.search(before) is not None
    if _ROW_TOLD.match(line):
        return ended or len(before.split()) <= _TITLE
    return ended and _ROW_TOLD.match(paragraph) is not None and line.lstrip()[:1].isupper()


_TITLE = 3
"""Words that a heading above the rows has at most: "Shape left shoulder"."""


_ROW_TOLD = re.compile(
    r"\s*[*_]*(?:(?:(?:Next|Foll(?:owing)?|Short)\s+(?:(?:WS|RS)\s+)?r|(?:(?:WS|RS)\s+r|R))ows?\b[^.;:]{0,40}"
    r"|\d{1,3}(?:st|nd|rd|th)\s+(?:(?:WS|RS)\s+)?[Rr]ow\b[^.;:]{0,30}|[RW]S\b[^.;:]{0,12}):"
)
"""A label of a row at the beginning of a line: "Row 3 (RS):", "**Next row:**", "2nd row:"."""
_STOPPED = re.compile(r"[.:!?][)\]\"'*_\u201d\u2019]*\Z")


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
        elif paragraph is None or _NUMBERED.match(bare) or _begins(bare, paragraph.text):
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
