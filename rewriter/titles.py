"""What a draft is called."""

from __future__ import annotations

from rewriter import regex
from rewriter.document import Document

# A star between two spaces is no type: "then * go ...; repeat from * to the neck".
_SIGNS = regex.compile(r"\*\*|__|^[#>\s]+|(?<!\s)[*_](?!\w)|(?<!\w)[*_](?!\s)|^[*_]")
_LONGEST = 60


def plain(text: str) -> str:
    """Return words on one line, without the signs of headings and bold type."""
    return " ".join(_SIGNS.sub("", text).split())


def title_of(document: Document) -> str:
    """Return a draft's title: its first line, where it is short; else the name of the file."""
    lines = document.sentences[0].text.split("\n") if document.sentences else [""]
    first = plain(lines[0]).rstrip(".")
    if not first or len(first) > _LONGEST:
        return document.source.name.rpartition(".")[0] or document.source.name
    return " ".join(w.capitalize() for w in first.split()) if first.isupper() else first
