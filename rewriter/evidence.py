"""Shoulder or not: what a stepped passage shapes, and which evidence says so.

The evidence counts in this order, an earlier one vetoing a later one (common practice): the words
of the passage and its own heading, the edge named, what is left afterwards, its place in the piece.
Where they disagree, or say nothing, it is a question.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import regex

from rewriter.passages import Passage

PassageKind = Literal["shoulder", "neck", "armhole", "cap", "other"]

_BODIES = frozenset(
    {"back", "front", "back and front", "left front", "right front", "left back", "right back"}
)
_UNTIL_ARMHOLE = regex.compile(
    r"\b(?:armholes?|work|piece|back|front)\s+(?:edges?\s+)?(?:measures?|meas|is|are|match(?:es)?|reach(?:es)?)"
    r"|\bsame\s+(?:length\s+)?as|\bto\s+(?:the\s+)?(?:beg|beginning|start)?\s*(?:of\s+)?shoulder"
)


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a passage shapes; `kind` is None where that must be asked."""

    kind: PassageKind | None
    because: str


def kind_of(passage: Passage, source: str, nothing_left: bool, first_in_piece: bool) -> Evidence:
    """Say what a passage shapes.

    `nothing_left`: its last words bind off or hold every stitch. `first_in_piece`: no stepped
    passage stands before it in the piece.
    """
    words = " ".join(s.sentence.view.text for s in passage.statements)
    edges = {f.edge for s in passage.statements for f in s.frames if f.verb == "bind_off"}
    topic = passage.topics[-1] if passage.topics else ""
    if passage.piece == "other":
        return Evidence("other", "it stands in a part that has no shoulders")
    if regex.search(r"\bshoulders?\b", words) and passage.piece in (_BODIES | {"unknown"}):
        return Evidence("shoulder", "its own words name the shoulder")
    if "shoulder" in passage.topics and edges != {"neck"}:
        return Evidence("shoulder", "its heading names the shoulder")
    if edges == {"neck"}:
        return Evidence("neck", "it names the neck edge")
    if passage.piece in ("sleeve", "yoke"):
        kind: PassageKind = "cap" if passage.piece == "sleeve" else "other"
        return Evidence(kind, f"it stands in the {passage.piece}")
    after_length = _after_length(passage)
    if topic == "armhole" and not (nothing_left and (after_length or not first_in_piece)):
        return Evidence("armhole", "its heading names the armhole")
    raglan = any("raglan" in s.sentence.view.text for s in [*passage.before, *passage.statements])
    whole = source.lower()
    raglan = raglan or ("raglan" in whole and "shoulder" not in whole)
    if raglan:
        return Evidence("neck", "the piece has raglan edges, which have no shoulder")
    if topic == "neck" and not (nothing_left and after_length):
        return Evidence("neck", "its heading names the neck")
    if topic == "cap":
        return Evidence("cap", "its heading names the top of a sleeve")
    if not nothing_left:
        if topic == "neck" or "neck" in edges:
            return Evidence("neck", "it names the neck")
        return Evidence("armhole", "sts are left to work on with, and no word names the shoulder")
    if passage.piece in _BODIES:
        if after_length or not first_in_piece or "shoulder" in edges:
            return Evidence("shoulder", "it ends the piece after a straight stretch")
        if any(regex.search(r"\barmholes?\b", s.sentence.view.text) for s in passage.before):
            return Evidence("shoulder", "it ends the piece after the armhole")
        return Evidence(None, "it ends the piece, but nothing says that it is a shoulder")
    if after_length:
        return Evidence("shoulder", "it follows the armhole length and ends the piece")
    return Evidence(None, "no word says whether this is a shoulder")


def _after_length(passage: Passage) -> bool:
    """Say whether the nearest words before tell a straight stretch up to a shoulder."""
    nearest = [s.sentence.view.text for s in passage.before[-2:]]
    nearest += [passage.sentence.view.text] if passage.lead else []
    return any(
        _UNTIL_ARMHOLE.search(text) and regex.search(r"\barmholes?\b|\bshoulders?\b|\bback\b", text)
        for text in nearest
    )
