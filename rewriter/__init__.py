"""Rewrite stepped shoulder bind-offs in knitting patterns as short rows, and prove it.

>>> from rewriter import rewrite
>>> report = rewrite("Shape shoulders\\nBO 8 sts at beg of next 4 rows.\\nBO rem 20 sts.\\n")
>>> report.passages[0].status
'rewritten'
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rewriter._version import __version__

if TYPE_CHECKING:
    from rewriter.options import Options
    from rewriter.report import Report

__all__ = ["__version__", "read", "rewrite"]


def rewrite(text: str, options: Options | None = None, *, name: str = "draft") -> Report:
    """Rewrite the stepped shoulders of a draft and return the report with the revised text.

    Raises `rewriter.source.UnreadableDraft` for an empty text. What is in doubt is not rewritten
    but listed, with its reason, in the report.
    """
    from rewriter.options import Options
    from rewriter.pipeline import rewrite_text
    from rewriter.source import read_source

    return rewrite_text(read_source(text.encode(), name), options or Options())


def read(text: str, options: Options | None = None, *, name: str = "draft") -> Report:
    """Say what is understood of a draft: sizes, passages, steps, diagnostics; rewrite nothing.

    Raises `rewriter.source.UnreadableDraft` for an empty text.
    """
    from rewriter.options import Options
    from rewriter.pipeline import read_text
    from rewriter.source import read_source

    return read_text(read_source(text.encode(), name), options or Options())
