"""Words before the first bind-off: those that announce the shoulders and stay, and those that link."""

from __future__ import annotations

from dataclasses import dataclass

from rewriter import regex
from rewriter.passages import Passage
from rewriter.phrases import wording
from rewriter.spans import Span

_SLOPE = r"(?:\s+(?:shapings?|slopes?|slants?|bevels?))"
# "For the shoulders, cast off ...", "To slope the shoulders. - Cast off ...", "Now the shoulders slope: ...",
# "Slope the shoulders thus: ...", "Shape the shoulders by casting off ...", "Slanted shoulder: ..."
_SHOULDERS = regex.compile(
    r"(?i)[\W_]*(?:(?:and|now|then|next)\s+)?"
    r"(?:(?:for|(?P<verb>(?:to\s+)?(?:shape|slope|form|slant|bevel|work|make)))"
    rf"\s+(?:(?:the|this|each|left|right|back|front)\s+)*shoulders?{_SLOPE}?"
    rf"|(?:the\s+)?shoulders?{_SLOPE}|(?:the\s+)?(?:slanted|sloped|sloping|bevelled)\s+shoulders?)"
    r"(?P<way>\s+(?:thus|as\s+fo[il]l\w*\.?|(?:in\s+)?this\s+way))?(?P<by>\s+by\b)?"
    r"(?P<sign>[*_]*\s*[,:]?[*_]*|[*_]*\.\s?[\u2013\u2014-]+)(?P<star>\s+\*)?\s*"
)
# "Still working both sides at once, cast off ...", "Working both sides at once, shape shoulders: ..."
_BOTH = regex.compile(
    r"(?i)[\W_]*(?:(?:and|still|now)\s+)?(?:continu(?:e|ing)\s+(?:to\s+)?)?work(?:ing)?\s+(?:on\s+)?both\s+sides"
    r"(?:\s+of\s+(?:the\s+)?neck)?(?:\s+at\s+(?:once|(?:the\s+)?same\s+time))?"
    r"(?:,?\s+(?:each\s+)?(?:with|using)\s+(?:\w+\s+){1,2}balls?(?:\s+of\s+(?:yarn|wool))?)?"
    r"(?P<shape>,?\s+(?:and\s+)?(?:shape|slope)\s+(?:the\s+)?shoulders?)?(?P<sign>\s*[,:]?)\s*"
)


@dataclass(frozen=True)
class Announced:
    """Words that stay."""

    end: int
    """Where they end in the source."""
    sign: str
    """What is written behind them, before the rows."""
    line: bool
    """The rows begin on a line of their own."""
    asks: bool = False
    """They ask to shape the shoulders, and do not only name them."""


def tells_both(passage: Passage, source: str) -> bool:
    """Say whether the words before the first bind-off, which stay, put both sides in work at once."""
    return _BOTH.fullmatch(passage.opening_words.of(source)) is not None


def both_words(words: str) -> str:
    """Return words that put both sides of a neck in work at once, without their sign; empty for others."""
    found = _BOTH.fullmatch(words)
    return " ".join(words[: found.start("sign")].split()).lstrip("*_- ") if found else ""


def announced(passage: Passage, source: str, two_edged: bool) -> Announced | None:
    """Return the words before the first bind-off that go on to hold for the new rows, if there are any."""
    words = passage.opening_words.of(source)
    start = passage.opening_words.start
    if found := _SHOULDERS.fullmatch(words):
        asks = found["verb"] is not None
        own = found["sign"].strip(" *_\t\r\n")
        if own in ("", ",") or (found["way"] and own == ":"):
            return Announced(start + found.start("by" if found["by"] else "sign"), ":", True, asks)
        if found[
            "star"
        ]:  # "Shape the shoulders: * Cast off ...; rep from * twice": the rows are told one by one now
            return Announced(start + found.start("star"), "", True)
        return Announced(passage.opening_words.end, "", False)
    if found := _BOTH.fullmatch(words):
        if found["shape"] or headed(source, start):
            return Announced(start + found.start("sign"), ":", True)
        table = wording()
        what = table["lead"]["opens"].format(
            what=table["shaped"]["shoulder"][1 if two_edged else 0]
        )
        return Announced(start + found.start("sign"), f", {what}:", True)
    return None


_LINK_BEFORE = regex.compile(
    r"(?i)[\s,;]*\b(?:and\s+then|and\s+also|then|and|also|but|by)?\s*\Z|[\s,;]+\Z"
)
# A lead-in that says already what is shaped: "..., shape the shoulders", "..., for the sleeve cap"
NAMED = regex.compile(
    r"(?i)\b(?:shape|shaping|slope|sloping|slant|bevel|work|knit|form|for)\s+(?:the\s+)?(?:back\s+|front\s+|left\s+|right\s+|sleeve\s+)?"
    rf"(?:shoulders?|arm\s?holes?|neck|top|cap){_SLOPE}?\Z|\b(?:the\s+)?shoulders?{_SLOPE}\Z"
)


def headed(source: str, start: int) -> bool:
    """Say whether a heading run in before a sentence names the shaping already."""
    line = regex.split(r"[\r\n]", source[:start])[-1].rstrip()
    return line.endswith((":", "\u2014", "\u2013", "**")) and bool(
        NAMED.search(line.rstrip(" :*_.\u2014\u2013-"))
    )


def link_before(passage: Passage, source: str, start: int) -> Span | None:
    """Return the comma or link word between what leads up to the first bind-off in its sentence and it."""
    counts = passage.statements[0].opening
    told = [f.start for f in passage.lead[-1:]] or [
        c.span.end for c in counts[-1:] if source[:start].rstrip().endswith(",")
    ]
    found = _LINK_BEFORE.search(source, told[0], start) if told else None
    if found is None or source[: found.start()].rstrip("-\u2013\u2014").endswith(":"):
        return None
    return Span(*found.span())


def held_opening(words: str) -> str:
    """Return the words before the first bind-off that go on to hold for the rows after it."""
    bare = words.strip("*_ ")
    return bare if regex.search(r"(?i)\bkeeping\b|\bpatt", bare) else ""
