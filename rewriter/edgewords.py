"""What a draft calls the edges of a piece, and the neck between its shoulders."""

from __future__ import annotations

from rewriter import regex
from rewriter.passages import Passage
from rewriter.reading import Draft, Finding
from rewriter.references import told_for_others
from rewriter.spans import Span

_EDGE_NAMED = regex.compile(r"(?i)\b(armhole|arm|shoulder|side|sleeve|outer)\s+edges?\b")


def edge_word(passage: Passage, source: str) -> str:
    """Return what the draft calls the outer edge, the nearest words first."""
    start = passage.before[-1].span.start if passage.before else passage.span.start
    for stretch in (passage.span, Span(start, passage.span.start)):
        if found := _EDGE_NAMED.search(stretch.of(source)):
            return str(found.group(1).lower())
    return "armhole"


def neck_of(draft: Draft, finding: Finding) -> str:
    """Return the piece whose neck lies between the shoulders; none where the words serve two pieces."""
    passage = finding.passage
    if passage.piece == "back and front":
        return ""
    own = "front" if "front" in passage.piece else "back"
    others = told_for_others(draft.document, draft.statements, own, passage.piece_at)
    return "" if others else own


def inner_of(finding: Finding, source: str) -> str:
    """Return the edge across from the one that is shaped: for a neck the armhole's."""
    return "armhole" if finding.kind == "neck" else inner_edge(finding.passage, source)


def inner_edge(passage: Passage, source: str) -> str:
    """Return what the draft calls the inner edge of a front: neck or front edge."""
    return "front" if regex.search(r"(?i)\bfront edge\b", passage.span.of(source)) else "neck"
