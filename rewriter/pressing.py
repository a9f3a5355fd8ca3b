"""Pieces that are pressed before their shoulders are joined: live sts are kept meanwhile."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.edits import Edit
from rewriter.phrases import finished, wording
from rewriter.reading import Draft
from rewriter.revise import Revision
from rewriter.spans import Span
from rewriter.style import Style

# "Block pieces to size.", "Making up: Pin out the parts, moisten and let dry.", "Weave in ends and block."
_PRESSES = regex.compile(
    r"(?i)\W*(?:(?:to\s+)?(?:mak(?:e|ing)[\s-]+up|finish(?:ing)?|mounting|assembly|blocking)\W{1,4})?"
    r"(?:weave\s+in\s+(?:all\s+)?ends(?:,|;|\s+and)\s+)?"
    r"(?:(?:very\s+)?(?:lightly|gently|carefully)\s+)?"
    r"(?:(?:wet[\s-]?)?block|press|pin\s+(?:\w+\s+){0,4}?out|steam|damp(?:en)?"
    r"|(?:wash|soak|spread|stretch|lay|pin|pull|moisten)\s+(?:out\s+)?(?:(?:the|all|both|each|garment)\s+)*(?:pieces?|parts?))\b"
    # what is pressed when it is whole, and the studs that close it
    r"(?!\s+(?:(?:the|all|over)\s+)*(?:seams?|garment|sweater|cardigan|jumper|pullover|neckband|studs?|again)\b)"
    r"(?!\s+when\b)"
)


def pressing_edits(
    draft: Draft, revision: Revision, style: Style, joined: Sequence[int]
) -> list[Edit]:
    """Say that live sts are kept where pieces are pressed before they are joined, at places `joined`."""
    sentence = next(
        (
            s
            for s in draft.document.sentences
            if joined
            and revision.region.end < s.span.start < joined[0]
            and not s.heading
            and s.piece in ("other", "unknown")
            and _PRESSES.match(s.text)
        ),
        None,
    )
    if sentence is None:
        return []
    text = finished(wording()["pressing"]["live"].format(sts=style.unit), style)
    end = sentence.span.start + len(sentence.text.rstrip())
    return [Edit(Span(end, end), f" {text}", "joining", revision.finding.id)]
