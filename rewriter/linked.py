"""Sentences of other pieces that lean on a rewritten one: they follow, or say what changed."""

from __future__ import annotations

from collections.abc import Sequence

import regex

from rewriter.doubt import Unread
from rewriter.edits import Edit
from rewriter.emitter import wrap
from rewriter.halves import DividedShaping
from rewriter.leadin import read_lead_in
from rewriter.phrases import finished, wording
from rewriter.reading import Draft, Finding, called
from rewriter.references import references
from rewriter.revise import Revision, move_mention, one_less
from rewriter.rows import OTHER_SIDE
from rewriter.shaping import Shaping
from rewriter.spans import Span
from rewriter.style import measure_style

_FEWER = regex.compile(
    r"(?i)\b(?P<rows>\d[\d\s,:;/()\[\]\u2013-]*?)\s*(?:rows?)\s+(?:less|fewer|shorter)\b[^.;]*?\b(?P<piece>back|front)\b[^.;]*?\bshoulder"
)


def linked_edits(draft: Draft, revisions: Sequence[Revision]) -> list[Edit]:
    """Follow "N rows less than on back to beg of shoulder shaping": the shaping begins a row lower."""
    source = draft.document.source.text
    moved = {called(draft, r.finding): r.finding.id for r in revisions if r.plan.moves_lead_in}
    out: list[Edit] = []
    for found in _FEWER.finditer(source):
        piece = found.group("piece").lower()
        if piece in moved:
            span = Span(found.start("rows"), found.end("rows"))
            if min(int(n) for n in regex.findall(r"\d+", span.of(source))) > 1:
                out += one_less(source, span, moved[piece], "linked")
    return out


_MATCHING = regex.compile(
    r"(?i)\brevers\w+[^.;]*\bshap\w+|\bshap\w+[^.;]*\brevers\w+|\bmirror(?:s|ed|ing|\s+image)?\b"
    r"|\bopposite\b|\bto\s+(?:match|correspond)\b(?!\s+(?:with\s+|the\s+)*back)"
)
_OPPOSITE = {
    "left front": "right front",
    "right front": "left front",
    "left back": "right back",
    "right back": "left back",
}


def matching_edits(draft: Draft, revisions: Sequence[Revision]) -> list[Edit]:
    """Say of a side told by "to match, reversing shapings" which rows turn there.

    The mirror exchanges RS and WS, so its first short row falls on the other side of the work.
    """
    out: list[Edit] = []
    for revision in revisions:
        first, passage = revision.shaping.first_side, revision.finding.passage
        if revision.shaping.two_edged or first is None or not revision.plan.moves_lead_in:
            continue
        style = measure_style(draft.document, passage, revision.shaping, draft.terms, revision.full)
        words = {"RS": style.rs, "WS": style.ws}
        text = wording()["rows"]["matching"].format(
            last=words[OTHER_SIDE[first]], turning=words[first]
        )
        text = finished(text, style)
        for sentence in draft.document.sentences:
            own = sentence.piece_at == passage.piece_at and sentence.span.start > passage.span.end
            if own or sentence.piece == _OPPOSITE.get(passage.piece):
                if not _MATCHING.search(sentence.text):
                    continue
                end = sentence.span.end
                column = draft.document.source.place(end)[1]
                newline = draft.document.source.newline()
                (line,) = wrap([text], draft.document.width, "", newline, column)
                joint = newline if line.startswith(newline) else " "
                out.append(
                    Edit(Span(end, end), joint + line.lstrip(), "matching", revision.finding.id)
                )
                break
    return out


def leaning_edits(draft: Draft, finding: Finding, shaping: Shaping) -> list[Edit]:
    """Move the lead-ins of pieces whose shoulders are "as for back" and shaped alike; the words stay true.

    Raises Unread where the row before has words of its own.
    """
    out: list[Edit] = []
    for reference in references(
        draft.document, draft.statements, called(draft, finding), finding.passage.piece_at
    ):
        if reference.one_edge and shaping.two_edged and not isinstance(shaping, DividedShaping):
            continue  # written out: see rewriter/references.py
        if reference.one_edge and shaping.two_edged:
            raise Unread(
                "told-elsewhere",
                "another piece tells its shoulders only by referring to these, but is worked one side "
                "at a time; write them out there",
                reference.passage.span,
            )
        lead_in = read_lead_in(reference.passage, finding.fabric)
        if lead_in.absorbed:
            raise Unread(
                "told-elsewhere",
                "another piece tells its shoulders only by referring to these, and the row before has "
                "words of its own; write them out there",
                reference.passage.span,
            )
        for mention in lead_in.mentions:
            out += move_mention(draft, finding, mention, shaping)
    return out
