"""What a piece is knitted in, as far as the words before a passage tell: the knitted material."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Literal

from rewriter import regex
from rewriter.document import Document
from rewriter.passages import Passage

Fabric = Literal["stocking", "garter", "reverse", "patterned", "mixed", "unknown"]
"""Reverse stocking stitch, and stocking stitch beside a border, are not plain stocking stitch."""


def fabric_of(document: Document, passage: Passage) -> Fabric:
    """Return the fabric in work at a passage: the last one its piece names, else the draft's."""
    own, others = map(list, _texts_before(document, passage))
    named = fabric_in(own) or fabric_in(others)
    # "knit even" is what is said of any fabric, unless none is named
    knit = any(_KNIT_EVEN.search(text) for text in (*own, *others))
    return named or ("garter" if knit else "unknown")


_KNIT_EVEN = regex.compile(r"\bknit even\b")


def patterns_of(document: Document, passage: Passage) -> frozenset[str]:
    """Return the stitch patterns that a passage's piece names before it, else those before its piece."""
    own, others = _texts_before(document, passage)
    return patterns_in(own) or patterns_in(others)


def _texts_before(document: Document, passage: Passage) -> tuple[Iterator[str], Iterator[str]]:
    """Return the words before a passage in its piece and in all pieces, nearest first."""
    end = bisect_right(document.sentences, passage.span.start, key=lambda s: s.span.start)
    earlier = document.sentences[:end]
    own = (s.view.text for s in reversed(earlier) if s.piece_at == passage.piece_at)
    # a piece worked "as for back" is in the fabric of the pieces before it
    return own, (s.view.text for s in reversed(earlier) if s.piece not in ("other", "list"))


ON_NEEDLE = r"(?<!\bon(?:to)?\s+(?:the|an?|your)\s+(?:spare\s+|needle\s+)?)"
"""Before "cable": it is not that of a circular needle, "leave the first 32 sts on the cable"."""

_FABRICS: tuple[tuple[Fabric, regex.Pattern[str]], ...] = (
    ("reverse", regex.compile(r"\brev(?:erse)?\.?\s+(?:st(?:ocking|\.)?[\s-]*st|stockinette)")),
    ("stocking", regex.compile(
        r"\b(?:(?<!\d\s)st\.?\s?-?\s?st|stocking[- ]st(?:itch)?|stockinette(?:[- ]st(?:itch)?)?)\b"
        # "work plain (RS knit, WS purl)", "knit on RS and purl on WS", "1 row k, 1 row p"
        r"|\b(?:rs|right[- ]side)(?:\s+rows?)?\W{0,2}\s*(?:k|knit)\b\W{0,3}(?:and\s+)?"
        r"\b(?:ws|wrong[- ]side)(?:\s+rows?)?\W{0,2}\s*(?:p|purl)\b"
        r"|\b(?:k|knit(?:ting)?)\s+(?:on\s+)?(?:the\s+)?(?:rs|right[- ]side)(?:\s+rows?)?\W{0,2}\s*"
        r"(?:and\s+)?"
        r"(?:p|purl(?:ing)?)\s+(?:on\s+)?(?:the\s+)?(?:ws|wrong[- ]side)\b"
        r"|\b(?:1|one)\s+row\s+(?:k|knit|plain)\W{0,2}\s*(?:and\s+)?(?:1|one)\s+row\s+(?:p|purl)\b"
    )),
    ("garter", regex.compile(
        # a border is told by the number of its rows or rounds: what is knitted on behind them is none of it
        r"(?<!\d (?:rnds?|rounds?|rows?) (?:in |of )?)(?:\b(?:g\.?[- ]?st|garter[- ]st(?:itch)?)\b"
        r"(?! (?:in the round )?(?:for )?\d+ (?:rnds?|rounds?|rows?)\b)|\bknit (?:every|each|all) rows?\b)")),
    ("patterned", regex.compile(
        r"\b(?:m\.?[- ]?st|moss|seed|lace|" + ON_NEEDLE + r"cables?(?!\s+(?:method|cast))"
        r"|(?<!\bstripes?\s)(?:patt|pat|pattern)|fair isle|texture|ridges?|slipped|broken rib)\b"
        # a welt is told by its rows or its depth: "work 10 rows in k1, p1 rib"
        r"|\b(?:work|working|worked|cont)\b(?!\s+\d+ rows\b)[^.]{0,30}\brib\b(?! for \d)")),
)  # fmt: skip


_BESIDE = regex.compile(r"\b(?:border|band|panel|edging|selvedge|buttonhole)s?\b")

# "Work the first and last 4 sts of every row in garter stitch", "4 sts at each end in garter st": what
# the edges are in, and not the piece between them.
_EDGE_STS = regex.compile(
    r"\b(?:first|last|outer|outermost|edge|end)\s+(?:\w+\s+)?(?:sts|stitch(?:es)?)\b"
    r"|\b(?:sts|stitch(?:es)?)\s+(?:at|in|on)\s+(?:each|both|either)\s+(?:ends?|sides?|edges?)\b"
    r"[^.;]{0,30}\bin\b"
)


# "Edge st: k on every row", "selvedge sts in garter st", "k the first and last st of every row"
_EDGE_ST = r"(?:(?:edge|selvedge|selvage)[\s-]*|first\s+and\s+last\s+)(?:sts?|stitch(?:es)?)\b\.?"
_ALWAYS = r"(?:(?:on|in|of|at)\s+)?(?:every|each|all|both|forward\s+and|rs\s+and)\b"
_KNIT_EDGES = regex.compile(
    rf"(?i)\b{_EDGE_ST}[\s*:=(,\u2013-]*(?:{_ALWAYS}\s+rows?\s+)?(?:(?:is|are|an?|the|edge|st|stitch|and|to|be|"
    r"always|worked|in|as|at\s+each\s+(?:side|end|edge))\s+)*"
    rf"(?:(?:k|knit)\b\.?\s+{_ALWAYS}|knitted\s+{_ALWAYS}|always\s+knit(?:ted)?\b|(?<=always\s)knit(?:ted)?\b"
    r"|g(?:arter)?[\s.-]*st\b|garter\b)"
    rf"|\b(?:k|knit)\b\.?\s+(?:the\s+)?{_EDGE_ST}\s+{_ALWAYS}"
)


def edges_knit(document: Document) -> bool:
    """Say whether a draft knits its edge sts on every row: no row of its pieces is then all purl."""
    return _KNIT_EDGES.search(document.source.text) is not None


# "Knit 8, slip marker, purl to end": a row with a band in garter stitch; a single st is a selvedge.
_BAND = regex.compile(
    r"\b(?:k|knit)\s*(?!1\b)\d+\b(?:(?!\bturn)[^.;]){0,40}\b(?:p|purl)\s+to\b"
    r"|\b(?:p|purl)\s+to\s+(?:the\s+)?last\s+(?!1\b)\d+\b(?:(?!\bturn)[^.;]){0,40}\b(?:k|knit)(?![a-z])"
)

# "Continue in garter stitch on these 5 sts until the strip reaches the centre back": a band alone
_ON_A_BAND = regex.compile(
    r"\bon\s+(?:these|the|this|rem(?:aining)?|last|first)\s+(?:rem(?:aining)?\s+|last\s+)?(?:[2-9]|1[0-2])"
    r"\s+(?:border\s+|band\s+)?(?:sts|stitches)\b"
)


def fabric_in(texts: Iterable[str]) -> Fabric | None:
    """Return the fabric that the first of some texts names, in lower case; None where none does."""
    return next((fabric for text in texts if (fabric := _named(text))), None)


@lru_cache(maxsize=4096)
def _named(text: str) -> Fabric | None:
    if _BAND.search(text):
        return "mixed"
    if _ON_A_BAND.search(text):
        return None
    hits = [
        (found.start(), fabric) for fabric, pattern in _FABRICS for found in pattern.finditer(text)
    ]
    if not hits:
        return None
    # two fabrics side by side (a border, a panel): no single word is right for a row
    told = {fabric for _, fabric in hits}
    if len(told) > 1 or _BESIDE.search(text) or _EDGE_STS.search(text):
        return "mixed" if "stocking" in told else "patterned"
    return hits[0][1]


_AT_OTHER_EDGE = regex.compile(
    r"\b(?:outer|each|both|either|first\s+and\s+last|panels?)\b"
    r"|\barmholes?\s+(?:edge|band|border)s?\b|\b(?:at|along|beside)\s+(?:the\s+)?armholes?\b"
    r"|\b(?:k|knit)\s*\d+[^.;]*\b(?:p|purl)\b[^.;]*\b(?:k|knit)\s*\d"
)


def banded_only(document: Document, passage: Passage) -> bool:
    """Say whether a front is in stocking stitch, with nothing beside it but a band at its front edge."""
    if passage.piece not in ("left front", "right front"):
        return False
    texts = [text for side in _texts_before(document, passage) for text in side]
    told = next((text for text in texts if _named(text)), None)
    if told is None or _AT_OTHER_EDGE.search(told):
        return False
    return {fabric for fabric, pattern in _FABRICS if pattern.search(told)} <= {
        "stocking",
        "garter",
    }


_PATTERNS: dict[str, regex.Pattern[str]] = {
    "moss stitch": regex.compile(r"\b(?:m\.?[- ]?st|moss|seed)\b"),
    "lace": regex.compile(r"\blace\b"),
    "cables": regex.compile(r"\b(?:" + ON_NEEDLE + r"cables?(?!\s+(?:method|cast|needle))|aran)\b"),
    "a panel": regex.compile(r"\bpanels?\b"),
    "fair isle": regex.compile(r"\bfair isle\b"),
    "ridges": regex.compile(r"\bridges?\b"),
    "slipped sts": regex.compile(r"\bslipped\b"),
    "broken rib": regex.compile(r"\bbroken rib\b"),
}
"""Stitch patterns that drafts call by a name; "patt" is any of them."""


def patterns_in(texts: Iterable[str]) -> frozenset[str]:
    """Return the stitch patterns that texts in lower case call by their names."""
    whole = "\n".join(texts)
    return frozenset(name for name, pattern in _PATTERNS.items() if pattern.search(whole))
