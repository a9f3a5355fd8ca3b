"""Words that a worksheet quotes: those of the revised draft, for one size."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rewriter import edits as editing
from rewriter.leadmodel import LeadIn
from rewriter.onesize import in_one_size
from rewriter.passages import Passage
from rewriter.pipeline import Rework
from rewriter.revise import Revision
from rewriter.spans import Span
from rewriter.titles import plain


@dataclass(frozen=True)
class DraftWords:
    """The words of one size (counted from 0) of a rewritten draft."""

    work: Rework
    size: int

    def lead_in(self, revision: Revision) -> str:
        """Return what is done right before the shaping, as the revised draft says it; may be empty."""
        return self.lead_words(revision.finding.passage, revision.finding.lead_in)

    def lead_words(self, passage: Passage, lead: LeadIn) -> str:
        """Return the same of a passage that is told by another one."""
        if passage.lead:
            return self._before(Span(passage.sentence.span.start, passage.span.start))
        spots = [m.span.start for m in lead.mentions]
        before = [
            s.sentence.span for s in passage.before if s.sentence.span.start < passage.span.start
        ]
        if spots:
            held = [s for s in before if any(s.start <= at < s.end for at in spots)]
        else:
            gone = {s.sentence.span for s in lead.absorbed}
            held = [
                s.sentence.span
                for s in passage.before
                if s.sentence.span not in gone and any(f.verb for f in s.frames)
            ]
        return self.now(held[-1]) if held else ""

    def _before(self, span: Span) -> str:
        """Return the words with which a sentence leads to the shaping, as the revised draft has them."""
        own = [e for e in self.work.edits if e.span.start < span.end and span.start < e.span.end]
        end = min([span.end, *(e.span.start for e in own if e.why == "shaping")])
        span = Span(span.start, max(span.start, end))
        own = [e for e in own if span.start <= e.span.start and e.span.end <= span.end]
        shifted = [
            replace(e, span=Span(e.span.start - span.start, e.span.end - span.start)) for e in own
        ]
        text = editing.apply(span.of(self.work.draft.document.source.text), shifted)
        return plain(in_one_size(text, self.size, len(self.work.draft.sizes))).rstrip(" ,;:")

    def now(self, span: Span) -> str:
        """Return words of the draft as the revised one has them, for this size, on one line."""
        place = editing.moved(self.work.edits, span)
        text = in_one_size(place.of(self.work.report.output), self.size, len(self.work.draft.sizes))
        return plain(text)
