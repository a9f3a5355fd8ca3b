"""The words that name a side or a stitch of the last row, turned to the other one."""

from __future__ import annotations

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.leadmodel import Fact
from rewriter.spans import Span

# A word may be divided at the end of a line: "arm-" and "hole edge" below it
_DIVISION = r"(?:-[ \t]*(?:\r\n|\r|\n)\s*)"


def divisible(word: str) -> str:
    """Return an expression for a word, whole or divided at the end of a line."""
    return f"{_DIVISION}?".join(map(regex.escape, word))


_SIDE = regex.compile(
    r"(?i)\b(?:[rw]\.s\.|(?:rs|ws)(?=f?\b))|\b(?:right|wrong)(?=[\s-]*side)|\bleft(?=-side)"
    r"|\b(?:return(?:ing)?|backward|outward|outgoing|forward|going-out|home-going|outbound|inward)(?=[\s-]+row)"
    r"|\b(?:front|back|outside|inside)(?=\s+of\s+the\s+work)"
)
_STITCHES = ["knitting", "purling", "knitted", "purled", "knit", "purl", "k", "p"]
_STITCH = regex.compile(rf"(?i)\b(?:{'|'.join(map(divisible, _STITCHES))})(?=\b)")
_FLIP = {
    "rs": "ws", "ws": "rs", "r.s.": "w.s.", "w.s.": "r.s.", "right": "wrong", "wrong": "right",
    "return": "outward", "returning": "outgoing", "backward": "forward",
    "outward": "return", "outgoing": "returning", "forward": "return", "left": "right",
    "going-out": "home-going", "home-going": "going-out", "outbound": "inward", "inward": "outbound",
    "front": "back", "back": "front", "outside": "inside", "inside": "outside",
    "knitted": "purled", "purled": "knitted",
    "knitting": "purling", "purling": "knitting", "knit": "purl", "purl": "knit", "k": "p", "p": "k",
}  # fmt: skip


def flipped(source: str, span: Span, fact: Fact) -> tuple[Span, str]:
    """Return the word that names the side (or knit, purl) in a span, and its opposite.

    Raises Unread where the span holds no such word.
    """
    found = (_SIDE if fact == "side" else _STITCH).search(span.of(source))
    if found is None:
        raise Unread("lead-in-unclear", "these words name a side that cannot be turned round", span)
    word = regex.sub(_DIVISION, "", found.group())
    other = _FLIP[word.lower()]
    if word.lower() == "right" and _LEFT_SIDE.search(source):
        other = "left"  # a translation whose WS rows are "left-side rows"
    place = span.start + found.start()
    for always in _ALWAYS.finditer(source, max(0, place - _BEFORE_SIDE), span.end + _BEFORE_SIDE):
        if always.start() <= place < always.end():
            own = other.upper() if word.isupper() else other
            told = f"beginning with {always['the'] or ''}{own}{always['side']} facing"
            return Span(*always.span()), told
    if both := _BOTH.search(source[: span.start]):
        words = span.of(source)
        ends = f"{words[: found.start()]}{other}{words[found.end() :]}"
        begin, end, by = both.group("begin", "end", "by")
        told = f"{begin} {by}{words} and {end} {by}{ends}"
        return Span(both.start(), span.end), told
    if word.lower() in _WAYS:
        return _other_way(source, Span(span.start + found.start(), span.start + found.end()), other)
    if word.isupper() and len(word) > 1:
        other = other.upper()
    elif word[0].isupper():
        other = other[0].upper() + other[1:]
    return Span(span.start + found.start(), span.start + found.end()), other


_LEFT_SIDE = regex.compile(r"(?i)\bleft-side\s+rows?\b")
# "Beginning and ending with a purl row": the row it begins with stays.
_BOTH = regex.compile(
    r"(?i)\b(?P<begin>beginning|starting|commencing|beg)\s+and\s+(?P<end>ending|finishing|end)\s+"
    r"(?P<by>(?:with|on|after)\s+(?:(?:an?|the)\s+)?)\Z"
)
# "Working always with right side facing at the start": of the steps, not of the rows that take their place.
_ALWAYS = regex.compile(
    r"(?i)\b(?:working\s+always|always(?:\s+working)?)\s+with\s+(?P<the>the\s+)?(?:right|wrong|[rw]s)"
    r"(?P<side>\s+side|)\s+facing(?:\s+you)?\s+at\s+the\s+(?:start|beginning)\b"
    r"(?:\s+of\s+(?:the|each|every)\s+rows?)?"
)
_BEFORE_SIDE = 60
_WAYS = frozenset({"return", "returning", "backward", "outward", "outgoing", "forward"})
_WAY_OUT = regex.compile(r"(?i)\b(?:outward|outgoing|forward)(?=[\s-]+rows?\b|\s+and\s+return)")


def _other_way(source: str, span: Span, other: str) -> tuple[Span, str]:
    """Return the other way that a row goes in the draft's own word, its article included."""
    if other in ("outward", "outgoing", "forward") and (own := _WAY_OUT.search(source)):
        other = own.group().lower()
    article = regex.search(r"(?i)\b(an?)\s+\Z", source[: span.start])
    if article is None:
        return span, other
    begins = "an" if other[0] in "aeio" else "a"
    word = begins.capitalize() if article.group(1)[0].isupper() else begins
    return Span(article.start(), span.end), f"{word} {other}"
