"""The format of the revised draft: its own, plain text, or DOCX, as the name of the output asks."""

from __future__ import annotations

import importlib.util
from pathlib import PurePath

from rewriter.annotations import annotations_of
from rewriter.edits import Edit
from rewriter.formats.carrier import AUTHOR, DraftFile, NotWritable
from rewriter.options import Changes
from rewriter.report import Report
from rewriter.spans import Span

TEXT_SUFFIXES = (".md", ".markdown", ".txt", ".text")


def draft_for(draft: DraftFile, out: str | None) -> DraftFile:
    """Return the draft to work on so that it can be written as `out` (a file name, None: unnamed).

    A draft that is to become a DOCX document is set as one first, so that the revision is tracked in
    it. Raises NotWritable, with what to do instead, where no such file can be made of the draft.
    """
    suffix = PurePath(out).suffix.lower() if out else ""
    if (
        out is None
        or suffix in draft.suffixes
        or (draft.source.carrier and suffix in TEXT_SUFFIXES)
    ):
        return draft
    if suffix == ".docx" and draft.suffixes != (".docm",):
        if importlib.util.find_spec("docx") is None:
            raise NotWritable(
                f"{out}: writing DOCX needs an addition: pip install 'slopewise[docx]'"
            )
        from rewriter.formats.docx import DocxDraft
        from rewriter.formats.docx_new import document_of

        return DocxDraft(document_of(draft.source), draft.source.name)
    if draft.source.carrier:
        kinds = (
            *draft.suffixes,
            *TEXT_SUFFIXES[:1],
            *([] if ".docm" in draft.suffixes else [".docx"]),
        )
        listed = ", ".join(dict.fromkeys(kinds))
        raise NotWritable(
            f"{out}: this draft can be written as {listed}; give the file such a name"
        )
    return draft


def write_revised(
    draft: DraftFile,
    report: Report,
    out: str | None,
    changes: Changes,
    date: str,
    author: str = AUTHOR,
) -> bytes:
    """Return the revised draft in the format that the name `out` asks for (None: the draft's own).

    `date` is the time of the changes (ISO 8601, UTC), `author` who signs them. Raises NotWritable where the
    new words have no place in the document as it is built.
    """
    if out and draft.source.carrier and PurePath(out).suffix.lower() in TEXT_SUFFIXES:
        return report.output.encode("utf-8")
    edits = [Edit(Span(*e.span), e.replacement, e.why) for e in report.edits]
    return draft.revised(edits, annotations_of(report), changes, date, report.output, author)
