"""What a piece told by its mirror image says of its own shoulder: "End with a k row before the shoulder."

The words were true of the steps. Where the rewriting tells in a sentence of its own how the straight rows
end and which rows turn, they would contradict it and give way to it.
"""

from __future__ import annotations

from dataclasses import dataclass

from rewriter import regex
from rewriter.document import Document, Sentence
from rewriter.doubt import Unread
from rewriter.edgenames import OPPOSITE
from rewriter.passages import Passage
from rewriter.rows import Side
from rewriter.spans import Span
from rewriter.stitchwork import Fabric

_ROW = (
    r"(?:(?:an?|the)\s+)?(?:(?P<side>[rw]\.?s\.?|right[\s-]+side|wrong[\s-]+side)|(?P<stitch>k|p|knit|purl)"
    r"|(?:\d+(?:st|nd|rd|th)\s+)?(?:patt|pat|pattern))[\s-]+(?:rows?|facing(?:\s+for\s+(?:the\s+)?next\s+row)?)"
)
_ANY_ROW = _ROW.replace("?P<side>", "?:").replace("?P<stitch>", "?:")
_BEFORE = r"before\s+(?:(?:shaping\s+)?(?:the\s+)?shoulders?(?:\s+(?:shaping|is\s+shaped))?)\b"
_ENDING = r"(?:end|ending|finish|finishing)\s+(?:with|after|on)"
_BINDING = (
    r"(?:\s*[,;])?\s*(?:and\s+)?(?:then\s+)?(?:cast|bind)\s+off\s+(?:at|on)\s+(?:the\s+)?(?:beg|beginning"
    rf"|start)\s+of\s+{_ANY_ROW}(?:\s+for\s+(?:it|them|the\s+shoulders?))?"
)
_WHOLE = regex.compile(
    rf"(?i)\W*(?P<words>{_ENDING}\s+{_ROW}\s+{_BEFORE}(?:{_BINDING})?)\s*[.;]?\s*"
)
_ONE_MORE = (
    r"(?:(?:one|1)\s+(?:row\s+more|(?:more|extra|additional)\s+row|row\s+extra)"
    r"|an\s+(?:extra|additional)\s+row)"
)
_CLAUSE = regex.compile(
    rf"(?i)(?:\s*,)?\s*\b(?:and\s+)?(?:(?:(?:and|with|after|on|{_ENDING})\s+)+(?:{_ROW}\s+)?{_BEFORE}(?:{_BINDING})?"
    # "working one row more before shaping shoulder": the sentence written says on which row it begins
    rf"|(?:and\s+)?(?:working|work|with)\s+{_ONE_MORE}\s+{_BEFORE}"
    # "but begin shoulder shaping on a WS row": its first bind-off
    r"|(?:but\s+)?(?P<begins>begin|beginning|start|starting)\s+(?:the\s+)?shoulders?(?:\s+shapings?)?\s+"
    rf"(?:on|with|in)\s+{_ROW})"
)
# "working armhole and shoulder shapings on WS rows": of the short rows it is no longer true
_ROWS_OF_SHOULDER = regex.compile(
    rf"(?i)\bshoulders?(?:\s+(?:shapings?|bind-offs?|cast-offs?|steps))?\s+(?:on|in)\s+{_ANY_ROW}"
)


@dataclass(frozen=True)
class Superseded:
    """Words about the straight rows before the shoulder of a piece that mirrors another."""

    span: Span
    whole: bool
    """They are a sentence of their own."""


def superseded(
    document: Document, told: Sentence, first: Side, fabric: Fabric
) -> Superseded | None:
    """Return the words that a piece told by sentence `told` says of the rows before its own shoulder.

    `first` is the side of the first bind-off of the piece that it mirrors. Raises Unread where the words
    name the other side than the mirror image does.
    """
    for sentence in document.sentences:
        if sentence.piece_at != told.piece_at or sentence.span.start < told.span.start:
            continue
        if sentence.heading:
            continue
        whole = _WHOLE.fullmatch(sentence.text)
        found = whole or _CLAUSE.search(sentence.text)
        if found is None:
            _refuse_rows_of_shoulder(sentence)
            continue
        side = _side_named(found.group("side"), found.group("stitch"), fabric)
        begins = not whole and found["begins"] is not None
        facing = begins or "facing" in found.group().lower()
        if side is not None and (side == first) == facing:
            raise Unread(
                "sides-contradict",
                "the words of the other side about the rows before its shoulder do not agree with this one",
                sentence.span,
            )
        start, end = found.span("words") if whole else found.span()
        if whole:
            end = len(sentence.text.rstrip())
        at = sentence.span.start
        return Superseded(Span(at + start, at + end), whole is not None)
    return None


def before_shoulder_taken_out(words: str) -> str:
    """Return words without those that the rewriting takes out of them."""
    return "" if _WHOLE.fullmatch(words) else _CLAUSE.sub("", words)


def _refuse_rows_of_shoulder(sentence: Sentence) -> None:
    """Raise Unread where words tell the rows of a mirrored shoulder together with those of other edges."""
    named = _ROWS_OF_SHOULDER.search(sentence.text)
    if named is not None and mirrors_front(sentence.text):
        raise Unread(
            "lead-in-unclear",
            "these words say on which rows the shoulder of the other side is shaped, which are others for "
            "short rows: take the shoulder out of them",
            sentence.span,
        )


_BY_FRONT = regex.compile(
    r"(?i)\W*(?:(?:work|worked|knit|make|made)\s+)?(?:(?:this|the|right|left|front|piece|second|other)\s+)*"
    r"(?:exactly\s+)?(?:as|like|same\s+as)\s+(?:(?:given|told|set|worked)\s+)?(?:(?:for|on)\s+)?(?:the\s+)?"
    r"(?:left|right)\s+front\b(?![^.;]*\b(?:to|until|till|as\s+far\s+as)\b)"
)


def mirrors_front(words: str) -> bool:
    """Say whether a front is told by the other front, whole: "Work as given for left front"."""
    return _BY_FRONT.match(words) is not None


def _side_named(words: str | None, stitch: str | None, fabric: Fabric) -> Side | None:
    if words is None:
        told = stitch if fabric == "stocking" else None
        return None if told is None else "RS" if told[0] in "kK" else "WS"
    return "RS" if words[0] in "rR" else "WS"


# "Shape as for left shoulder, but on WS rows": true of the bind-offs, and not of the short rows.
_BY_SIDE = regex.compile(
    r"(?i)\b(?:as|like)\s+(?:(?:for|on)\s+)?(?:the\s+)?(?:left|right|first|other)\s+(?:shoulder|side|front)\b"
    r"[^.;]*\b(?P<rows>on\s+(?:the\s+)?(?P<side>[rw]\.?s\.?|right[\s-]+side|wrong[\s-]+side)\s+rows)\b"
)


def rows_named(sentence: Sentence) -> tuple[Span, Side] | None:
    """Return where a sentence that tells a shoulder by another one names its rows, and their side."""
    found = _BY_SIDE.search(sentence.text)
    if found is None:
        return None
    start = sentence.span.start
    side: Side = "RS" if found["side"][0] in "rR" else "WS"
    return Span(start + found.start("rows"), start + found.end("rows")), side


def told_by_side(document: Document, passage: Passage) -> list[Span]:
    """Return the sentences behind a passage that tell a shoulder by its own and by a side.

    They stand in its piece; or in the one that mirrors it, and then they name the shoulder.
    """
    out = []
    for sentence in document.sentences:
        found = _BY_SIDE.search(sentence.text)
        if found is None or sentence.span.start < passage.span.end:
            continue
        named = [m.group().lower() for m in _PART.finditer(sentence.text, 0, found.start("rows"))]
        of_shoulder = named[-1].startswith("shoulder") if named else None
        own = sentence.piece_at == passage.piece_at and of_shoulder is not False
        if own or (of_shoulder and sentence.piece == OPPOSITE.get(passage.piece)):
            out.append(sentence.span)
    return out


# "Shape armhole as for left front, on wrong side rows", "... and shoulder on RS rows": the part named last
_PART = regex.compile(r"(?i)\b(?:shoulders?|arm\s?holes?|neck(?:line)?)\b(?!\s+edge)")
