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
    from rewriter.comparison import Comparison
    from rewriter.options import Options
    from rewriter.report import Report

__all__ = ["__version__", "check", "read", "rewrite"]


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


def check(
    original: str, revised: str, *, names: tuple[str, str] = ("original", "revised")
) -> Comparison:
    """Work an original and a revised text stitch by stitch and say where the fabric differs.

    The revised text may be the tool's or a person's. Raises `rewriter.source.UnreadableDraft` for an
    empty text. What cannot be read with certainty is a finding, not an exception.
    """
    from rewriter.checking import check_texts
    from rewriter.source import read_source

    return check_texts(
        read_source(original.encode(), names[0]), read_source(revised.encode(), names[1])
    )
