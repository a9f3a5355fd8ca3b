"""Words by which the second side of a divided piece keeps the rows of the steps: they would be left behind.

"Work 2nd side as 1st, but shape shoulder on WS rows" was true of the steps; the short rows lie on the others.
"Work straight, ending with a RS row. Shape shoulder as first side" ends a row too late for them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.mirrored import before_shoulder_taken_out, rows_named

if TYPE_CHECKING:
    from rewriter.document import Sentence
    from rewriter.reading import Draft, Finding

_ROWS = r"(?:the\s+|an?\s+|every\s+)*(?:[rw]\.?s\.?|(?:right|wrong)[\s-]+side|knit|purl|k|p)[\s-]+rows?\b"
# A last row that binds off is still on rows of that side: only words about the shaping are no longer true.
_ON_ROWS = regex.compile(
    rf"(?i)\bshoulders?(?:\s+(?:shapings?|steps))?\s+(?:(?:is|are)\s+shaped\s+)?(?:on|in)\s+{_ROWS}"
)
_BY_FIRST = regex.compile(
    r"(?i)\bshoulders?\b[^.;]{0,20}\b(?:as|like|same\s+as)\b[^.;]{0,12}"
    r"\b(?:first|1st|other|left|right|opposite)\s+(?:side|half|shoulder|part|one)\b"
)
_ENDING = regex.compile(
    r"(?i)\b(?:end|ending|finish|finishing)\s+(?:with|after|on)\s+(?:an?\s+|the\s+)?"
    r"(?:[rw]\.?s\.?|(?:right|wrong)[\s-]+side|knit|purl|k|p)[\s-]+row\b"
)


def doubt_second_sides(draft: Draft) -> None:
    """Take its shaping from each shoulder whose second side names rows that the rewriting does not move."""
    for finding in draft.findings:
        shaping = finding.shaping
        if finding.kind != "shoulder" or shaping is None or shaping.two_edged:
            continue
        told = _told_behind(draft, finding)
        for before, sentence in zip([None, *told], told, strict=False):
            words = before_shoulder_taken_out(sentence.text)
            if _ON_ROWS.search(words) and rows_named(sentence) is None:
                _keep(
                    finding,
                    sentence,
                    "these words say on which rows the shoulder of the other side is shaped, which are "
                    "others for short rows: take the shoulder out of them",
                )
            elif _BY_FIRST.search(words) and _ends_on_side(before, words):
                _keep(
                    finding,
                    sentence,
                    "the other side is worked to a row of its own and then told by this one, whose short "
                    "rows begin a row sooner: write its shoulder out",
                )


def _told_behind(draft: Draft, finding: Finding) -> list[Sentence]:
    """Return the sentences behind a shoulder in its piece, up to the next shoulder, that are no shaping."""
    passage = finding.passage
    others = [f.passage.span for f in draft.findings if f is not finding]
    stop = min((s.start for s in others if s.start >= passage.span.end), default=None)
    return [
        s
        for s in draft.document.sentences
        if s.piece_at == passage.piece_at
        and not s.heading
        and s.span.start >= passage.span.end
        and (stop is None or s.span.start < stop)
    ]


def _ends_on_side(before: Sentence | None, words: str) -> bool:
    return any(_ENDING.search(text) for text in (words, before.text if before else ""))


def _keep(finding: Finding, sentence: Sentence, reason: str) -> None:
    finding.shaping, finding.unread = None, Unread("lead-in-unclear", reason, sentence.span)
