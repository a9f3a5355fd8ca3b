"""Plain text and Markdown: the text is the file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rewriter.annotations import Annotation
from rewriter.edits import Edit
from rewriter.formats.carrier import AUTHOR
from rewriter.options import Changes
from rewriter.source import read_source


class TextDraft:
    """A draft in plain text or Markdown; changes are always made in earnest."""

    suffixes: tuple[str, ...] = ()
    binary = False
    notice = ""

    def __init__(self, data: bytes, name: str) -> None:
        """Decode a text; raises UnreadableDraft for an empty, binary or oversized one."""
        self._data = data
        self.source = read_source(data, name)

    def revised(
        self,
        edits: Sequence[Edit],
        annotations: Iterable[Annotation],
        changes: Changes,
        date: str,
        output: str,
        author: str = AUTHOR,
    ) -> bytes:
        """Return the revised text in the draft's encoding.

        A new letter that the encoding lacks makes the output UTF-8.
        """
        if output == self.source.text:
            return self._data
        try:
            return self.source.encode(output)
        except UnicodeEncodeError:
            return output.encode("utf-8")
