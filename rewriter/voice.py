"""How a draft speaks of small things: with articles or without, of yarn or wool, cut or broken."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from rewriter import regex


@dataclass(frozen=True)
class Voice:
    """The words that a draft puts in all its sentences, filled into every wording."""

    the: str = ""
    """"the " where the draft has articles ("at the beg of the next row"), else nothing."""
    to_the: str = ""
    """The same in the words of rows, which may have none: "k to last 8 sts"."""
    yarn: str = "yarn"
    """yarn, wool, or what else is joined and cut."""
    cut: str = "cut"
    """cut, or break."""
    needle: str = "yarn needle"
    """The needle that sews up."""
    right: str = "right"
    """The needle that takes the sts: right, right-hand, RH; `left` is the other."""
    left: str = "left"


PLAIN = Voice()
"""The voice where no draft is asked."""

YARNS = "yarn|wool|thread|cotton"
# Where a draft may leave the article out: "at beg of next row", "to last 8 sts", "from armhole edge"
_ARTICLE = regex.compile(
    r"(?i)\b(?:at|from|to|of|on|over|with)\s+(?P<the>the\s+)?"
    r"(?:next|last|foll(?:owing|\.)?|beg(?:inning|\.)?|end\b(?!s)|rem(?:aining|\.)?|other|right|left|same"
    r"|(?:arm ?hole|neck|front|side|arm|shoulder)\s+edges?)\b"
)
_TO_THE = regex.compile(r"(?i)\bto\s+(?P<the>the\s+)?(?:last\s+[\w(]|end\b)")
_FEW, _MOST = 4, 0.6
_YARN = regex.compile(
    r"(?i)\b(?:re-?join(?:ing)?|join(?:ing)?|break(?:ing)?|cut(?:ting)?|attach(?:ing)?)\s+(?:(?:off|in|the|new)\s+)*"
    rf"(?P<yarn>{YARNS})\b"
)
_BREAK = regex.compile(rf"(?i)\b(?P<cut>break|cut)\s+(?:off\s+)?(?:the\s+)?(?:{YARNS})\b")
_NEEDLE = regex.compile(r"(?i)\b(?P<needle>(?:yarn|tapestry|darning|wool|sewing)[\s-]needle)s?\b")
_HAND = regex.compile(r"\b(?P<hand>(?i:right(?:[\s-]hand)?)|RH|R\.H\.)\s+(?i:needle)")
_SHORT = {"rh": ("RH", "LH"), "r.h.": ("R.H.", "L.H.")}
"""Both needles in short; the left one's word is taken where the draft has that too."""


@lru_cache(maxsize=16)
def measure_voice(source: str) -> Voice:
    """Return the voice of a draft."""
    the = _articled(_ARTICLE, source, _FEW)
    rows = _articled(_TO_THE, source, 1)
    hand = _most(_HAND, "hand", source, PLAIN.right)
    right, left = _SHORT.get(hand, (hand, hand.replace("right", "left")))
    if left not in source and hand in _SHORT:
        left = PLAIN.left
    return Voice(
        the="the " if the else "",
        to_the="the " if (the if rows is None else rows) else "",
        yarn=_most(_YARN, "yarn", source, PLAIN.yarn),
        cut=_most(_BREAK, "cut", source, PLAIN.cut),
        needle=_most(_NEEDLE, "needle", source, PLAIN.needle).replace("-", " "),
        right=right,
        left=left,
    )


def _most(pattern: regex.Pattern[str], name: str, source: str, default: str) -> str:
    """Return the word that a draft has most often, the first of those alike."""
    found = [" ".join(m.group(name).lower().split()) for m in pattern.finditer(source)]
    return max(found, key=found.count) if found else default


def _articled(pattern: regex.Pattern[str], source: str, few: int) -> bool | None:
    """Say whether most places have the article; None where there are too few to tell."""
    places = [m.group("the") is not None for m in pattern.finditer(source)]
    return sum(places) > _MOST * len(places) if len(places) >= few else None
