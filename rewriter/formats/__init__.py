"""File formats: bytes to a text with a map back, and edits of that text to bytes of the same format.

`open_draft` tells a file's kind by what it holds, its name only where that leaves a doubt. The rest
of the program sees the text alone.
"""

from __future__ import annotations

import importlib.util
from pathlib import PurePath

from rewriter.formats.carrier import DraftFile
from rewriter.formats.textfile import TextDraft
from rewriter.source import UnreadableDraft

_ZIP, _COMPOUND, _RTF = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", b"{\\rtf"
LARGEST_FILE = 100_000_000
"""Bytes; a draft with photographs has some ten million."""


def open_draft(data: bytes, name: str) -> DraftFile:
    """Read a draft of any format; raises UnreadableDraft, with what to do, where it cannot be."""
    if len(data) > LARGEST_FILE:
        raise UnreadableDraft(f"{name}: larger than {LARGEST_FILE // 1_000_000} MB; split it")
    if data.startswith(_ZIP):
        return _zipped(data, name)
    if b"%PDF-" in data[:1024]:
        _need("pypdfium2", "pdf", "PDF", name)
        from rewriter.formats.pdf import PdfDraft

        return PdfDraft(data, name)
    if data.startswith(_COMPOUND):
        raise UnreadableDraft(
            f"{name}: an old .doc file, or one locked by a password; save it as .docx, without a password"
        )
    if data.startswith(_RTF):
        raise UnreadableDraft(f"{name}: a rich text file; save it as .docx")
    if _is_html(data, name):
        from rewriter.formats.html import HtmlDraft

        return HtmlDraft(data, name)
    return TextDraft(data, name)


def _zipped(data: bytes, name: str) -> DraftFile:
    from rewriter.formats.archive import Package

    package = Package(data, name)
    kind = package.read("mimetype").decode("latin-1").strip() if "mimetype" in package else ""
    if kind.startswith("application/vnd.oasis.opendocument.text"):
        _need("lxml", "docx", "ODT", name)
        from rewriter.formats.odt import OdtDraft

        return OdtDraft(data, name)
    if "[Content_Types].xml" in package and "_rels/.rels" in package:
        _need("lxml", "docx", "DOCX", name)
        from rewriter.formats.docx import DocxDraft

        return DocxDraft(data, name)
    raise UnreadableDraft(
        f"{name}: this is not a text document; save it as .docx, .odt or plain text"
    )


def _need(module: str, extra: str, kind: str, name: str) -> None:
    if importlib.util.find_spec(module) is None:
        raise UnreadableDraft(
            f"{name}: reading {kind} needs an addition: pip install 'slopewise[{extra}]'"
        )


def _is_html(data: bytes, name: str) -> bool:
    if PurePath(name).suffix.lower() in (".html", ".htm", ".xhtml"):
        return True
    head = data[:2048].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    return head.startswith((b"<!doctype html", b"<html"))
