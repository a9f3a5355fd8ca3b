"""What the workers do for the HTTP interface: bytes and options in, JSON out."""

from __future__ import annotations

from collections.abc import Callable

from rewriter.answers import WrongAnswer
from rewriter.formats import open_draft
from rewriter.options import Options
from rewriter.report import Report
from rewriter.source import UnreadableDraft
from rewriter.spans import SourceText
from rewriter.web.bodies import File
from rewriter.web.problems import Refused


def _source(file: File) -> SourceText:
    try:
        return open_draft(file.data, file.name).source
    except UnreadableDraft as error:
        raise Refused("unreadable", str(error)) from None


def _told(work: Callable[[SourceText, Options], Report], file: File, options: Options) -> str:
    try:
        return work(_source(file), options).to_json()
    except UnreadableDraft as error:
        raise Refused("unreadable", str(error)) from None
    except WrongAnswer as error:
        raise Refused("invalid", f"/options/assume: {error}") from None


def rewritten(file: File, options: Options) -> str:
    """Return the report of a rewriting as JSON; raises Refused where the draft cannot be read."""
    from rewriter.pipeline import rewrite_text

    return _told(rewrite_text, file, options)


def read(file: File, options: Options) -> str:
    """Return the report of a reading as JSON; raises Refused where the draft cannot be read."""
    from rewriter.pipeline import read_text

    return _told(read_text, file, options)


def checked(original: File, revised: File) -> str:
    """Return the comparison of two texts as JSON; raises Refused where one cannot be read."""
    from rewriter.checking import check_texts

    return check_texts(_source(original), _source(revised)).to_json()
