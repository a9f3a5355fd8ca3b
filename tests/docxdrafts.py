"""DOCX drafts in tests: read, rewritten once with each choice, saved."""

from __future__ import annotations

import io
from functools import cache

import docx

from rewriter.formats.docx import DocxDraft
from rewriter.options import Options, Turn
from rewriter.pipeline import rewrite_bytes
from rewriter.report import Report

DATE = "2026-01-06T09:00:00Z"


@cache
def revised(data: bytes, changes: str = "tracked", turn: Turn = "german") -> tuple[Report, bytes]:
    """Return the report of a rewritten document, and the document with its changes."""
    return rewrite_bytes(
        data,
        "draft.docx",
        Options(turn=turn),
        changes="applied" if changes == "applied" else "tracked",
        date=DATE,
    )


def text_of(data: bytes) -> str:
    """Return the text that is read of a document."""
    return DocxDraft(data, "draft.docx").source.text


def saved(document: docx.document.Document) -> bytes:
    """Return a document as a file."""
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()
