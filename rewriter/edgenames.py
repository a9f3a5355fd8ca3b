"""Edges named by left and right: which of them is the armhole's follows from the piece."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from rewriter import regex
from rewriter.frames import Frame, Statement
from rewriter.rows import OTHER_SIDE, Side

ARMHOLE_SIDE: dict[str, Side] = {
    "left front": "RS",
    "right front": "WS",
    "left back": "WS",
    "right back": "RS",
}
"""Where rows begin at the armhole edge of a front or half back, worked from the bottom (common practice)."""

NECK_SIDE: dict[str, Side] = {piece: OTHER_SIDE[side] for piece, side in ARMHOLE_SIDE.items()}
"""Where rows begin at its neck edge: opposite the armhole."""

OPPOSITE = {
    "left front": "right front",
    "right front": "left front",
    "left back": "right back",
    "right back": "left back",
}
"""The piece that mirrors a front or half back."""

# A piece worked from the top hangs the other way: its edges tell no side here.
TOP_DOWN = regex.compile(r"(?i)\b(?:top[\s-]down|from the top(?:\s+down)?|neck down)\b")


@lru_cache(maxsize=4)
def is_upright(source: str) -> bool:
    """Say whether no word of a draft tells of pieces worked from the top."""
    return not TOP_DOWN.search(source)


# "At the left-hand edge": as the work lies with the RS facing, whatever piece it is.
_HAND = regex.compile(r"(?i)\b(left|right)[\s-]hand\s+(?:edge|side)\b")
_MIRRORED = regex.compile(r"(?i)\b(?:opposite|mirror\w*|revers\w*|other|second)\b")


def hand_named(sentences: Iterable[str]) -> str:
    """Return the hand of the one edge that the sentences of a piece name by it; "" for none or both.

    >>> hand_named(["Bind off at the left-hand edge 7 sts.", "Mirrored, at the right-hand edge."])
    'left'
    """
    named = {
        hit.lower()
        for text in sentences
        if not _MIRRORED.search(text)
        for hit in _HAND.findall(text)
    }
    return named.pop() if len(named) == 1 else ""


def name_edges(statement: Statement, piece: str, hand: str = "") -> None:
    """Call "the left edge" of a sentence by its name: the armhole's or the neck's.

    Left and right are those of the piece with the RS facing; RS rows begin at the right edge. Where
    the piece does not tell which edge it is, the words stay residue; but the one edge that is named by
    its `hand` in a shoulder is its outer edge, and tells the side of the rows that begin there.
    """
    for frame in statement.frames:
        part = frame.one("edge")
        if part is None or part.concept not in ("left", "right"):
            continue
        side = ARMHOLE_SIDE.get(piece)
        if side is None and _is_where_row_begins(frame, part.concept, statement.sentence.source):
            del frame.parts[
                "edge"
            ]  # "on the right 8 sts at the start of the RS row": the row says it
            continue
        words = part.span.of(statement.sentence.source)
        if side is None and part.concept == hand and _HAND.search(words):
            begin = "RS" if hand == "right" else "WS"
            frame.parts["edge"] = [replace(part, concept="side")]
            if "side" not in frame.parts:
                frame.parts["side"] = [replace(part, kind="side", concept=begin, side=begin)]
            continue
        if side is None or not is_upright(statement.sentence.source):
            frame.residue.append(part)
            continue
        begins: Side = "RS" if part.concept == "right" else "WS"
        frame.parts["edge"] = [replace(part, concept="armhole" if begins == side else "neck")]


def _is_where_row_begins(frame: Frame, edge: str, source: str) -> bool:
    """Say whether a row of a whole piece is told with its side, and begins at the edge named."""
    told = [p.side for slot in ("rows", "side") for p in frame.parts.get(slot, []) if p.side]
    begins = "RS" if edge == "right" else "WS"
    return (
        frame.verb == "bind_off"
        and "beg" in frame.parts
        and told == [begins]
        and is_upright(source)
    )
