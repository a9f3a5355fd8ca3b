"""A second side told by the first one and by its rows: "Shape as for left shoulder, but on WS rows".

The short rows turn on the other side than the bind-offs did, and the straight rows before them end on the
other side. Both are reworded where the draft says them; else the words stay and a warning names them.
"""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.edits import Edit
from rewriter.leadedits import move_mention
from rewriter.leadflip import flipped
from rewriter.leadin import read_lead_in
from rewriter.lexicon import lexicon
from rewriter.linked import matching_line, mirrors, told_until
from rewriter.mirrored import rows_named, told_by_side
from rewriter.phrases import wording
from rewriter.reading import Draft
from rewriter.references import leaning_passage
from rewriter.revise import Revision
from rewriter.rows import OTHER_SIDE
from rewriter.spans import Span


def sided_edits(draft: Draft, revisions: Sequence[Revision]) -> list[Edit]:
    """Move the rows of a side that is told by the other one, with the straight rows before it."""
    out: list[Edit] = []
    for revision in revisions:
        finding, first = revision.finding, revision.shaping.first_side
        if finding.kind != "shoulder" or revision.shaping.two_edged or first is None:
            continue
        if not revision.plan.moves_lead_in:
            continue
        for place in told_by_side(draft.document, finding.passage):
            out += _moved(draft, revision, place) or _said(draft, revision, place)
    return out


def _said(draft: Draft, revision: Revision, place: Span) -> list[Edit]:
    """Say which rows turn behind "Work as first side but cast off on RS rows", where it tells no more."""
    first = revision.shaping.first_side
    sentence = next(s for s in draft.document.sentences if s.span == place)
    named = rows_named(sentence)
    if first is None or named is None or named[1] != OTHER_SIDE[first] or mirrors(sentence):
        return []
    if not _BINDS.search(sentence.view.text) or _LEADS.search(sentence.view.text):
        return []
    end, between = told_until(draft, sentence)
    words = between + matching_line(draft, sentence, first, [revision])
    return [Edit(Span(end, end), words, "matching", revision.finding.id)]


# The bind-off of the sweep stands on the row that is named; shoulders that are "shaped" on it turn there.
_BINDS = regex.compile(lexicon().patterns["BIND_OFF"])
_LEADS = regex.compile(r"\b(?:until|till|when|ending|ends?|measures?|\d+\s+rows?)\b")


def _moved(draft: Draft, revision: Revision, place: Span) -> list[Edit]:
    """Return the edits for one sentence; none where it cannot be told for certain what they are."""
    document, finding, first = draft.document, revision.finding, revision.shaping.first_side
    at = next(i for i, s in enumerate(document.sentences) if s.span == place)
    named = rows_named(document.sentences[at])
    if named is None or first is None or named[1] != OTHER_SIDE[first]:
        return []
    passage = leaning_passage(document, draft.statements, at)
    lead_in = read_lead_in(passage, finding.fabric)
    if lead_in.absorbed or lead_in.obstacle is not None or lead_in.doubt is not None:
        return []
    sides = [m for m in lead_in.mentions if m.fact in ("side", "stitch")]
    if not sides and not lead_in.length:
        return []
    out: list[Edit] = []
    try:
        for mention in lead_in.mentions:
            out += move_mention(draft, finding, mention, revision.shaping)
    except Unread:
        return []
    span, other = flipped(document.source.text, named[0], "side")
    words = named[0].of(document.source.text)
    start = span.start - named[0].start
    rows = f"{words[:start]}{other}{words[start + span.end - span.start :]}"
    said = str(wording()["rows"]["short_rows"]).format(rows=rows)
    out.append(Edit(named[0], said, "matching", finding.id))
    return out
