"""The words that bind off the centre of a neck in the row of a shoulder step."""

from __future__ import annotations

from dataclasses import dataclass

from rewriter import regex
from rewriter.amounts import ORDINALS
from rewriter.frames import Frame, Statement
from rewriter.rows import Side

_NTH = rf"(?P<n>\d{{1,2}}(?:st|nd|rd|th)|{'|'.join(ORDINALS)})"
_OFF = r"(?:bind|cast|close|bound|closed|binding|casting|closing)(?:ing)?[\s-]off"
_OF_SHOULDER = (
    rf"(?:\s+(?:{_OFF}|shoulders?|sts|stitches|steps?|groups?|decreases?|time|slopes?|shaping|of|for|the|each"
    r"|is|are|being))*"
)
_TOGETHER = (
    r"(?:(?:at|in|on)\s+the\s+same\s+(?:time|row)\s+(?:as|with)|together\s+with|simultaneously\s+with"
    r"|along\s+with|with|in|at)"
)
_WITH_STEP = regex.compile(
    rf"\b{_TOGETHER}\s+(?:the\s+)?{_NTH}\s+(?:{_OFF}|shoulder|sts|stitches|step|group|decrease|time)\b"
    rf"{_OF_SHOULDER}"
)
_WITH_FIRST = regex.compile(
    rf"\b{_TOGETHER}\s+(?:the\s+)?(?:beginning|beg|start)\s+of\s+(?:(?:the|both|these)\s+)*(?:shoulders?|slopes?)"
    r"(?:\s+(?:slopes?|shaping))?\b|\bat\s+the\s+same\s+height\s+as\s+(?:the\s+(?:beginning|beg|start|first\s+\w+(?:[\s-]off)?)\s+of\s+)?"
    r"(?:the\s+)?shoulders?\b(?:\s+shapings?\b)?"
)
IN_ROW = regex.compile(
    rf"\b(?:in|on|at)\s+the\s+{_NTH}\s+row\s+of\s+(?:the|this)\s+(?:shoulders?|slope)(?:\s+(?:slope|shaping))?\b"
)
_OF_TIME = regex.compile(
    r"\b(?:in|on|at)\s+the\s+(?:same\s+)?row\s+(?:(?:from|on|of)\s+the\s+(?P<side>right|wrong)\s+side\s+)?"
    r"(?:where|when|in\s+which|on\s+which)\s+(?:(?:sts|stitches|the|both)\s+)*"
    rf"(?:shoulders?\s+)?(?:is|are)\s+{_OFF}\s+(?:(?:at|for)\s+the\s+(?:shoulders?|armholes?)\s+)?"
    rf"for\s+the\s+{_NTH}\s+time\b"
)
_AT_ONCE = regex.compile(r"\b(?:and\s+)?at\s+the\s+same\s+(?:time|height)\b(?!\s+(?:as|with|dec))")
_SEPARATELY = regex.compile(
    r"\b(?:and\s+)?(?:knit|work|finish|complete|end|continue|cont|go|carry)(?:ing)?\s+(?:on\s+|with\s+|to\s+)*"
    r"(?:each|both|the|one)\s+(?:two\s+|other\s+)?(?:sides?|halves|half|parts?|shoulders?)"
    r"(?:\s+(?:separately|singly|apart|by\s+(?:itself|themselves)|on\s+(?:its|their)\s+own|one\s+after\s+the\s+other|(?:one\s+)?at\s+a\s+time"
    r"|at\s+(?:the\s+same\s+time|once)|simultaneously|together))?"
)
_SECOND_BALL = regex.compile(
    r"\b(?:and\s+|then\s+)?(?:join|attach|add|take|tie)(?:ing)?\s+(?:on\s+|in\s+)?(?:a|the|another)\s+"
    r"(?:(?:second|2nd|new|separate)\s+)?(?:ball|skein)(?:\s+of\s+(?:yarn|wool))?\b"
)
_USED_UP = regex.compile(
    r"\b(?:(?:with\s+(?:this|that)|thus|so|then|now|thereby|hereby)\s+)*(?:all\s+(?:of\s+)?)?(?:the\s+)?(?:shoulder\s+)?"
    r"(?:sts|stitches)\s+(?:(?:of|on|at|in)\s+(?:each|every|either|both|the)\s+(?:sides?|half|halves|shoulders?)\s+)?"
    r"(?:are|have\s+been)(?:\s+(?:now|then|all))*\s+"
    r"(?:used(?:\s+up)?|worked\s+off|bound\s+off|cast\s+off|finished|gone|worked\s+up)\b"
)
_TOWARDS = regex.compile(r"(?<=\brow\s+)towards?\s+the\s+(?:shoulder|armhole|side)s?\b")
_FOR_NECK = regex.compile(
    r"\b(?:for|to\s+(?:form|round|shape|complete))\s+(?:the\s+)?(?:round(?:ing|ed)?|curve|neck|neckline|back\s+neck)"
    r"(?:\s+(?:of\s+the\s+neck(?:line)?|opening|rounding|curve|line))?\b|\b(?:more|further|once|also|then)\b"
)
_SIDES_APART = regex.compile(
    r"\b(?:and\s+)?(?:each|both)\s+(?:sides?|halves|half|shoulders?)\s+(?:is|are)\s+(?:then\s+|now\s+)?"
    r"(?:knit|worked|finished|completed|ended|continued)(?:\s+(?:separately|singly|apart"
    r"|by\s+(?:itself|themselves)|on\s+(?:its|their)\s+own))?"
)
ASIDES = (
    _WITH_STEP, _WITH_FIRST, _SECOND_BALL, IN_ROW, _OF_TIME, _AT_ONCE, _SEPARATELY, _SIDES_APART, _USED_UP,
    _TOWARDS, _FOR_NECK,
)  # fmt: skip
"""Words that say with which step the centre goes and how the sides are worked, and nothing else."""


@dataclass(frozen=True)
class CentreRow:
    """The row in which the centre is bound off; the first step is in row 0."""

    number: int
    side: Side | None = None
    """The side it is told by, where the step may be worked on either: the number is then that of the
    first row of the step."""


def is_centre(frame: Frame) -> bool:
    """Say whether a frame binds off the sts in the middle, in one row."""
    edge = frame.one("edge")
    centre = frame.verb == "bind_off" and edge is not None and edge.concept == "centre"
    return centre and "count" in frame.parts and not frame.parts.keys() & {"times", "steps"}


def row_of(told: Statement) -> CentreRow | None:
    """Return the row in which the centre is bound off; None where it is not told."""
    text = told.sentence.view.text
    if found := _OF_TIME.search(text):
        side: Side | None = {"right": "RS", "wrong": "WS"}.get(found.group("side"))  # type: ignore[assignment]
        return CentreRow(2 * (_number(found.group("n")) - 1), side)
    if found := _WITH_STEP.search(text):
        return CentreRow(2 * (_number(found.group("n")) - 1))
    if _WITH_FIRST.search(text):
        return CentreRow(0)
    if found := IN_ROW.search(text):
        return CentreRow(_number(found.group("n")) - 1)
    return CentreRow(0) if _AT_ONCE.search(text) else None


def with_step(told: Statement) -> bool:
    """Say whether a sentence names the step of the shoulder with which the centre is bound off."""
    text = told.sentence.view.text
    named = any(p.search(text) for p in (_OF_TIME, _WITH_STEP, _WITH_FIRST, IN_ROW))
    return named and any(map(is_centre, told.frames))


def number_of_row(found: regex.Match[str]) -> int:
    """Return the number of the row that words matched by `IN_ROW` name, the first of the shoulder being 1."""
    return _number(found.group("n"))


def _number(word: str) -> int:
    return int(word[:-2]) if word[0].isdigit() else ORDINALS.index(word) + 1
