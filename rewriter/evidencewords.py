"""What the words right before a passage say of what it shapes."""

from __future__ import annotations

from itertools import takewhile
from typing import Literal

from rewriter import regex
from rewriter.dividing import is_matching
from rewriter.lexicon import lexicon
from rewriter.passages import Passage

BODIES = frozenset(
    {"back", "front", "back and front", "left front", "right front", "left back", "right back"}
)


def nearest(passage: Passage, sentences: int) -> str:
    """Return the words right before a passage: sentences of its piece, and its own lead-in."""
    lead = [passage.sentence.view.text] if passage.lead else []
    return ". ".join([*passage.nearest[-sentences:], *lead])


# "First the armholes are made.", "Begin with the armholes.": said right before what they are.
ARMHOLES_FIRST = regex.compile(
    r"\b(?:arm\s?holes?|under\s?arms?)\s+(?:(?:come|go|are|is|has|have|to|be|must|should)\s+){0,3}"
    r"(?:(?:worked|made|done|shaped|formed|told|begun)\s+)?first\W*$"
    r"|\bfirst(?:\s+of\s+all)?\W{0,2}(?:\s*(?:work|make|do|shape|form|come|comes|for|we|now))*"
    r"(?:\s+(?:the|both|each))*\s+(?:arm\s?holes?|under\s?arms?)"
    r"(?:\s+(?:(?:are|is|be|to|have)\s+)*(?:worked|made|done|shaped|formed|begun))?\W*$"
    r"|\b(?:begin|start)(?:s|ning|ing)?\s+(?:with|at|by\s+\w+ing)\s+(?:(?:the|both|each)\s+)*"
    r"(?:arm\s?holes?|under\s?arms?)\W*$"
)


# "Work as for back to the armholes, ending with a purl row."; not the edge that a row "brings you to"
UP_TO_ARMHOLES = regex.compile(
    r"(?<!\b(?:you|us)\s+(?:(?:back|again|round)\s+)?)\b(?:up\s+)?(?:to|until)\s+(?:(?:the|start|beg|beginning|of)\s+)*(?:arm\s?holes?|under\s?arms?)"
    r"(?:\s+shapings?)?(?:\W+end(?:ing|ed)?\b[^.]*)?\W*$"
)


SHAPES_SHOULDER = regex.compile(
    r"\b(?:shap(?:e|ing)|slop(?:e|ing)|slant)\b[^.]{0,30}\bshoulders?\b(?!\s+(?:edge|seam))[^.]*\W*$"
    # "Now the shoulders are cast off."
    r"|\bshoulders?\s+(?:are|is)\s+(?:now\s+|then\s+)?(?:to\s+be\s+)?(?:cast|bound)\s+off\W*$"
    # "The markers show where the shoulders begin."
    r"|\bwhere\s+(?:(?:the|both|your)\s+)*shoulders?\s+(?:will\s+)?(?:begins?|starts?)\b[^.]*\W*$"
)


# "Both shoulders are now worked at the same time.", "The shoulders take 4 rows in every size."
OF_SHOULDER = regex.compile(
    r"\W*(?:(?:now|note that)\s+)?(?:(?:the|both|each|left|right)\s+){0,2}"
    r"shoulders?\s+(?!edge|seam|strap|pad|st)"
    r"(?![^.]*\b(?:complete|completed|finished|done|joined|sewn|seam|seams)\b)"
    # "Shoulders, under the saddle."
    r"|\W*(?:(?:the|both|left|right|back|front)\s+)*shoulders?,\s[^.]{0,40}\W*\Z"
    # "keep going with the 20 sts of the right shoulder"
    r"|[^.]*\bsts?\s+of\s+(?:the\s+)?(?:left|right|first|second|other)\s+shoulder\b"
)


# "Keep going with the 20 sts of the right shoulder.", and then where its rows begin
ON_SHOULDER = regex.compile(
    r"\b(?:on|with|over)\s+(?:the\s+|these\s+)?[\d(][\d\s(),:;/\[\]-]*sts?\.?\s+of\s+(?:the\s+)?"
    r"(?:left|right|first|second|other|back|front)\s+shoulder\b"
)

# "With wrong side facing and beginning at the front edge, purl to end.": the next row begins at the armhole.
FROM_INNER_EDGE = regex.compile(
    r"\b(?:begin|start|commenc)(?:ning|ting|ing)?\s+(?:at|from)\s+(?:the\s+)?"
    r"(?:front|neck|inner|cent(?:er|re)|opening)\s+edge\b[^.]*\bto\s+(?:the\s+)?end\W*$"
)

_OF_BAND = regex.compile(
    r"\b(?:border|band|facing|placket)\s+of\s+(?P<n>\d+)\s+(?:sts?|stitches)\b"
    r"|\b(?P<n>\d+)\s+(?:front\s+)?(?:border|band|facing|placket)\s+(?:sts?|stitches)\b"
)
_REMAINING = regex.compile(
    r"\b(?:on|over|with)\s+(?:the(?:se)?\s+)?(?:rem(?:aining|\.)?\s+|last\s+)?(?P<n>\d+)\s+(?:sts?|stitches)\b"
)


def leaves_band(passage: Passage, own: str) -> bool:
    """Say whether the sts on which the words behind a passage go on are those of a front band.

    "Keeping the border of 8 sts correct, cast off ... On the 8 sts remaining work a further 4 inches."
    `own`: the words of its piece up to its end, in lower case.
    """
    left = _REMAINING.search(passage.ahead)
    return left is not None and left["n"] in {m["n"] for m in _OF_BAND.finditer(own)}


def is_announced(passage: Passage) -> bool:
    """Say whether a sentence right before a passage, or one before an aside, says that shoulders follow."""
    told = [bool(_ANNOUNCED.fullmatch(words)) for words in passage.nearest[-2:]]
    aside = not regex.search(r"\b(?:neck|arm\s?holes?|rows?)\b", nearest(passage, 1))
    return told[-1:] == [True] or (True in told and aside)


# "Now the slope of the shoulder.", "Next come the shoulders.": a sentence that says what follows.
_ANNOUNCED = regex.compile(
    r"\W*(?:and\s+)?(?:(?:now|next)(?:\s+(?:for|to|we\s+come\s+to|comes?|shape))?"
    r"|on\s+to|here\s+comes?)\s+"
    r"(?:the\s+)?(?:(?:slope|shaping|slant|shape)\s+of\s+(?:the\s+)?)?(?:back\s+|front\s+)?"
    r"shoulders?(?:\s+(?:slopes?|shapings?|stairs?|steps?))?\W*"
)


FOR_ARMHOLE = regex.compile(
    r"\b(?:bind|binding|cast|casting|close)\s[^.]{0,20}"
    r"\b(?:for|to (?:shape|form))\s+(?:the\s+|each\s+)?(?:arm\s?hole|arm\b|underarm)"
    r"|\bshap(?:e|ing)\s+(?:the\s+)?arm\s?holes?\b"
)


# What bind-offs are for, told before them: "To form the armholes, cast off ...". The words stand by
# themselves: "after 40 rows for the armhole" tells a length.
_TOLD_PURPOSE = regex.compile(
    r"(?:^|[.,:;\u2013\u2014-]|\b(?:then|and|now))\s*"
    r"(?:(?:in\s+order\s+)?to\s+(?:shape|form|make|work|begin|start|do)|for|shap(?:e|ing)|form(?:ing)?|mak(?:e|ing)"
    r"|(?:begin|start)(?:ning|ing)?)"
    r"(?:\s+(?:the|each|both|an?|for|of|to\s+(?:shape|form|make)|shap(?:e|ing)|left|right|first|second|back|front))*"
    r"\s+(?:(?P<armhole>arm\s?holes?|under\s?arms?|arm\s+openings?)|(?P<neck>neck(?:line|\s+opening)?)"
    r"|(?P<cap>(?:sleeve\s+)?(?:caps?|tops?\s+of\s+(?:the\s+)?sleeves?|sleeve\s+tops?)))"
    r"(?:\s+shapings?)?"
    r"\s*(?:as\s+follows|at\s+(?:each|both)\s+(?:sides?|edges?|ends?)|(?:on|at)\s+the\s+sides)?\s*"
    r"(?:$|[.,:;\u2013\u2014-])"
)


def purpose(passage: Passage) -> Literal["armhole", "neck", "cap"] | None:
    """Return what the words before the first bind-off say that it is for, a shoulder apart."""
    text = passage.sentence.view.text
    off = regex.search(rf"\b{lexicon().patterns['BIND_OFF']}", text)
    head = text[: off.start()] if off else ""
    ahead = passage.nearest[-1] if passage.nearest else ""
    for words, own in ((head, True), (ahead, False)):
        found = list(_TOLD_PURPOSE.finditer(words.strip()))
        # of another sentence only the last words lead up to these bind-offs
        if found and (own or found[-1].end() >= len(words.strip(" .:;,-\u2013\u2014"))):
            parts: tuple[Literal["armhole", "neck", "cap"], ...] = ("armhole", "neck", "cap")
            return next((part for part in parts if found[-1].group(part)), None)
    return None


def ends_beside_neck(passage: Passage, edges: set[str]) -> bool:
    """Say whether steps at the armhole edge follow neck steps and end the piece: an armhole comes first."""
    if passage.piece not in BODIES or not edges & {"armhole", "shoulder", "side"}:
        return False
    at_neck = any(
        f.verb in ("bind_off", "decrease") and f.edge == "neck"
        for s in passage.before
        for f in s.frames
    )
    own = takewhile(lambda s: not any(f.verb == "join" for f in s.frames), passage.follows)
    after = {f.verb for s in own if not is_matching(s) for f in s.frames}
    return at_neck and not after & {"bind_off", "decrease", "increase", "measures", "refer"}


AT_NECK_EDGE = regex.compile(
    r"\b(?:neck|neckline) (?:edge|side)\b|\brejoin\b[^.]*\bneck\b|\bat neck\b|\bside of (?:the )?neck\b"
)


# "Place next 12 sts on a holder for front neck", "join yarn at neck edge", right before bind-offs.
DIVIDED_BEFORE = regex.compile(
    r"\b(?:holder|thread|yarn|needle|pin|wool|join|rejoin)\b[^.]{0,40}\b(?:for|at)\s+(?:the\s+)?"
    r"(?:(?:front|back|centre|center)\s+)?neck\b"
)
AT_INNER_EDGE = regex.compile(
    r"\b(?:end|finish)(?:ing|ed|e?s)?\s+at\s+(?:the\s+)?(?:front|neck|inner|cent(?:er|re)|opening)(?:\s+edge)?\W*$"
)
AT_OUTER_EDGE = regex.compile(
    r"\b(?:end|finish)(?:ing|ed|e?s)?\s+at\s+(?:the\s+)?(?:armhole|arm|shoulder|side|outer)(?:\s+edge)?\W*$"
)
FULL_DEPTH = regex.compile(
    r"\b(?:armholes?(?:\s+edges?)?|sleeve\s+edges?)\s+(?:measures?|meas|is|are|match|reach)"
    r"(?!\s+(?:to\s+be\s+)?(?:shap|complet|finish|done|made|work|form|begun))"
    r"|\barmhole\s+(?:depth|height)\b"
    r"|\b(?:as\s+(?:high|deep|long)\s+as|same\s+(?:length|height|depth|level)\s+as"
    r"|measures?\s+(?:the\s+)?same\s+as|match(?:es)?)"
    r"\s+(?:(?:the|on|at)\s+)*back\b(?!\s+to\b(?!\s+(?:(?:the|beg|beginning|start|of|shaping|shape)\s+)*shoulder))"
    r"|(?:ins?|inch(?:es)?|cms?|[\"'])\s+above\s+(?:the\s+)?armhole\b"
    r"|\b(?:height|length|level|depth)\s+of\s+(?:the\s+)?back\b(?!\s+to\b)"
)
FOR_NECK = regex.compile(
    # "divide for neck" leaves no neck
    r"(?<!\b(?:divid\w*|divisions?|split\w*|shap\w*)\s+)\b(?:for|as)\s+(?:the\s+|back\s+of\s+(?:the\s+)?|back\s+|front\s+)*neck(?:band|line)?\b"
    r"|\b(?:remaining|rem|last|left|these)\b[^.]{0,30}\bneck\s+(?:sts|stitches|edge)\b"
    # "what is left, 34 sts, is the back of your neck"
    r"|\b(?:remaining|rem|last|left|remains?)\b[^.]{0,60}\b(?:is|are|be|being|makes?|forms?)\s+"
    r"(?:(?:the|your)\s+)?(?:back\s+(?:of\s+)?)?(?:(?:the|your)\s+)?neck\b(?!\s+(?:edge|shaping))"
    r"|\bfor\s+(?:the\s+)?(?:hood|collar)\b"
    # "Slide the 45 back-neck sts to a length of scrap yarn."
    r"|\b(?:slide|slip|place|put|leave|transfer|keep|hold|(?:bind|cast)\s+off)\s+(?:(?:the|centre|center|rem|remaining)"
    r"\s+)*[\d(][\d\s(),:;/\[\]-]*(?:sts?\s+)?(?:back[\s-]+)?neck\s+(?:sts?|stitches)\b"
    r"|\bneckband\W{1,4}(?:on|over|work)\b[^.]{0,30}\brem"
)
STRAIGHT = regex.compile(
    r"\b(?:straight|plain|even)\b|\bwithout\s+(?:any\s+|further\s+)?shaping\b"
    r"|\b(?:work|patt|knit|k|rib|cont\w*)\s+(?:\w+\s+)?\d+[\d\s(),:;-]*\s+rows\b"
    r"|\b(?:work|cont\w*|knit|rib|patt)\b[^.]*\b(?:until|till)\b"
)
