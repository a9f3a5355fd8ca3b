"""What every file format offers: a text for the pipeline, and a way to write the revised one back."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Literal, Protocol

from rewriter.annotations import Annotation
from rewriter.edits import Edit
from rewriter.formats.flow import Change, Flow, NotPlaced
from rewriter.options import Changes
from rewriter.spans import SourceText, line_starts

AUTHOR = "Slopewise"
"""Who signs changes and comments where nobody is named."""


class NotWritable(ValueError):
    """The revised text cannot be set into the document; the message says what to do instead."""


class DraftFile(Protocol):
    """A draft file of some format."""

    source: SourceText
    suffixes: tuple[str, ...]
    """Endings of file names that its own format goes by; none for a text file, which takes any."""
    binary: bool
    """Whether the format is no text and cannot be shown on a screen."""
    notice: str
    """What the reader of the draft should know of the file itself; empty where there is nothing."""

    def revised(
        self,
        edits: Sequence[Edit],
        annotations: Iterable[Annotation],
        changes: Changes,
        date: str,
        output: str,
        author: str = AUTHOR,
    ) -> bytes:
        """Return the file with edits of its text made; raises NotWritable where they cannot be.

        `date` is the time of the change (ISO 8601, UTC); `output` is the whole revised text; `author` is
        who signs changes and comments, where the format has them.
        """
        ...


def unsettled(authors: Iterable[str]) -> str:
    """Return the notice that a document has changes of somebody which are not settled yet.

    `authors` names the author of each change.
    """
    made = Counter(authors)
    if not made:
        return ""
    *others, last = (f"{n} by {name}" for name, n in sorted(made.items()))
    told = f"{', '.join(others)} and {last}" if others else last
    one = made.total() == 1
    return (
        f"tracked change{'' if one else 's'} not settled yet: {told}; read as if "
        f"{'it was' if one else 'they were'} accepted"
    )


def source_of(
    flow: Flow,
    data: bytes,
    name: str,
    carrier: Literal["docx", "odt", "html", "pdf"],
    pending: str = "",
) -> SourceText:
    """Return the text of a document of paragraphs, in Markdown's block form.

    `pending` is what `unsettled` says of its changes.
    """
    return SourceText(
        text=flow.text,
        name=name,
        sha256=hashlib.sha256(data).hexdigest(),
        format="markdown",
        line_starts=line_starts(flow.text),
        carrier=carrier,
        landmarks=flow.starts,
        pending=pending,
    )


def place_edits(flow: Flow, edits: Sequence[Edit], source: SourceText) -> list[tuple[int, Change]]:
    """Return edits as changes of paragraphs, with the number of each edit, which may take several.

    Raises NotWritable naming the place of an edit that the paragraphs cannot take.
    """
    out: list[tuple[int, Change]] = []
    for number, edit in enumerate(edits):
        try:
            for span, replacement in flow.parted(edit.span, edit.replacement):
                change = flow.place(span, replacement)
                if (
                    out
                    and len(out[-1][1].parts) > 1
                    and len(change.new) > 1
                    and out[-1][1].meets(change)
                ):
                    raise NotPlaced("two changes meet at the end of one paragraph")
                if not change.is_empty:
                    out.append((number, change))
        except NotPlaced as reason:
            raise NotWritable(f"{source.name}: {source.where(edit.span.start)}: {reason}") from None
    return out
