"""What the workers do for the HTTP interface: bytes and options in, JSON out."""

from __future__ import annotations

from rewriter.formats import open_draft
from rewriter.options import Options
from rewriter.source import UnreadableDraft
from rewriter.spans import SourceText
from rewriter.web.bodies import File
from rewriter.web.problems import Refused


def _source(file: File) -> SourceText:
    try:
        return open_draft(file.data, file.name).source
    except UnreadableDraft as error:
        raise Refused("unreadable", str(error)) from None


def rewritten(file: File, options: Options) -> str:
    """Return the report of a rewriting as JSON; raises Refused where the draft cannot be read."""
    from rewriter.pipeline import rewrite_text

    return rewrite_text(_source(file), options).to_json()


def read(file: File, options: Options) -> str:
    """Return the report of a reading as JSON; raises Refused where the draft cannot be read."""
    from rewriter.pipeline import read_text

    return read_text(_source(file), options).to_json()


def checked(original: File, revised: File) -> str:
    """Return the comparison of two texts as JSON; raises Refused where one cannot be read."""
    from rewriter.checking import check_texts

    return check_texts(_source(original), _source(revised)).to_json()
