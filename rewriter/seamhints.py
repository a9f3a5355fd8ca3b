"""Sentences that tell how shoulders are sewn, and sew none: they stay where shoulders are kept live.

"Mattress stitch gives the neatest shoulder seams." What becomes of it is the designer's to say, so it is
named. A sentence that sews the shoulders is reworded, or named, elsewhere (`seams.py`, `joins.py`).
"""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.diagnose import Notes
from rewriter.document import Document, Sentence
from rewriter.revise import Revision
from rewriter.seams import LIVE_JOIN, shoulder_seams

_STITCH = (
    r"(?:(?:mattress|back|whip|ladder|overcast|flat|blind|invisible)[\s-]?(?:stitch(?:es|ing)?|sts?|seam(?:s|ing)?)"
    r"|over-?sew(?:ing|n)?|slip[\s-]stitch\s+crochet)\b"
)
# A shoulder that is itself spoken of: no place from which sts are picked up, or at which sleeves are set in.
_SHOULDER = (
    r"(?<!\b(?:from|below|to|under|past|until|between|of|at|over)\s(?:the\s|both\s|each\s|left\s|right\s)*)"
    r"\bshoulders?\b(?!\s+(?:pads?|straps?|bands?|buttons?|openings?|to\b))"
)
_HINT = regex.compile(
    rf"(?i)\b{_STITCH}[^.;,:]*{_SHOULDER}|{_SHOULDER}[^.;,:]*\b{_STITCH}"
    rf"|\b(?:sew|sewn|seam)\b[^.;,]*\btogether\b[^.;,]*{_SHOULDER}"
)


def seam_hints(document: Document) -> list[Sentence]:
    """Return the sentences that tell how shoulders are sewn but do not sew them."""
    sewn = [s.span for s in shoulder_seams(document)]
    return [
        s
        for s in document.sentences
        if not s.heading
        and s.piece != "list"
        and s.span not in sewn
        and _HINT.search(s.text)
        and not LIVE_JOIN.search(s.text)
    ]


_NOW = {
    "three-needle": "are joined by a three-needle join now",
    "graft": "are grafted now",
    "held": "are held now",
}


def note_seam_hints(document: Document, revisions: Sequence[Revision], notes: Notes) -> None:
    """Warn of words about sewn shoulders that stay in a draft whose shoulders are kept live."""
    joins = {r.plan.join for r in revisions if r.finding.kind == "shoulder"} - {"sewn"}
    for sentence in seam_hints(document) if joins else ():
        notes.warn(
            "seam-words",
            f"this tells how shoulders are sewn, but they {_NOW[min(joins)]}: leave it out, or reword it",
            sentence.span,
        )
