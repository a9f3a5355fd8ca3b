"""Sentences that sew or join the shoulders: which shoulder each joins, and what else it sews.

A live join takes the place of such words, so they are taken apart: "Join left shoulder and neckband
seam, then sides" joins the left shoulder, and sews a neckband and sides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.document import Document, Sentence
from rewriter.spans import Span

_SEWING = (
    r"(?:join|sew(?:\s+up)?|seam(?:\s+up)?|weave|(?:back|mattress|whip|ladder)[-\s]?stitch|over(?:sew|cast)"
    r"|stitch(?:\s+up)?)"
)
# Verbs that mean a seam only with that word, or where a draft puts its pieces together.
_MAKING = r"(?:close|make|work|do|perform|execute|run)"
_VERB = rf"(?:{_SEWING}|{_MAKING})"
_WHICH = r"(?:right|left|one|first|second|other|opposite|remaining|[rl](?=\s))"
_SLEEVE = r"(?:upper[\s-]+sleeves?|tops?[\s-]+of[\s-]+(?:the[\s-]+)?sleeves?|over-?arms?|sleeves?)"
_LINK = r"(?:\s+(?:and|&)\s+|\s*[/-]\s*(?:and\s*-\s*)?)"
_SHOULDER = (
    rf"(?:(?P<upper>{_SLEEVE})(?:{_LINK}|,\s+))?shoulders?"
    rf"(?:(?P<link>{_LINK}|,\s+(?=upper|top|over))(?P<sleeve>{_SLEEVE}))?"
)
# A seam along the top of a piece, where the draft never says shoulder.
_TOP = r"top\s+seams?|seams?\s+(?:at|along)\s+(?:the\s+)?top"
_STITCH = (
    r"(?:stitch(?:es)?|sts?|seams?|back-?\s?stitch(?:ing)?|whip-?\s?stitch(?:ing)?|yarn|wool|thread|crochet"
    r"|oversewing|grafting)\b"
)
_MANNER = (
    r"(?:together|edge\s+to\s+edge|(?:stitch|st)\s+(?:against|to|for|by)\s+(?:stitch|st)|first|from\s+the\s+(?:right|wrong)\s+side|neatly|carefully"
    r"|from\s+(?:the\s+)?cuffs?\s+to\s+(?:the\s+)?neck"
    rf"|(?:with|using|in|by|at)\s+(?:(?!neck|band|border|collar|sleeve|side|edg)[a-z]+[\s-]+){{0,4}}?{_STITCH}(?:\s+(?:hidden|of\s+the\s+(?:yarn|wool)))?)"
)
_PIECES = r"(?:sides?|sleeves?|underarms?|neckband|cuffs?)"
_SEAM = regex.compile(
    # behind a label ("FINISHING—"), at the head of a sentence, or behind ", then"
    rf"(?i)(?:^(?:\d+[.)]\s+|[{BULLETS}*_-]\s*)?|(?<=[.;:!(\u2014\u2013]\s*|[.:)]-)|(?<=\n)"
    r"|^(?:now|then|first|next|finally|(?:to\s+make|making)[\s-]+up|finishing)\s+"
    r"|^(?:when|once|after)\s[^.;,]{3,40},\s+|(?P<then>,?\s+(?:and\s+)?then\s+))"
    r"\s*(?P<said>(?P<lead>(?:using|with)\s[a-z\s-]{4,44},\s+)?"
    rf"(?P<verb>{_VERB})\s+(?:(?:both|(?P<the>the)|up|together)\s+)*"
    rf"(?:(?P<before>{_PIECES}(?:(?:,\s*|\s+and\s+|\s+&\s+){_PIECES})*(?:\s+seams?)?)(?:,|\s+and|\s+&)\s+(?:(?:(?P<the>the)|both)\s+)*)?"
    rf"(?:(?P<which>{_WHICH})\s+)?(?:(?P<top>{_TOP})"
    rf"|(?:(?P<seams>seams?)\s+(?:of|at)\s+(?:(?:the|both)\s+)*)?{_SHOULDER})(?P<seam>\s+seams?)?"
    rf"(?P<manner>(?:,?\s+{_MANNER})*)"
    r"(?:(?:,|\s+(?:and|&|together\s+with|including|plus))(?:\s+(?:and|including))?(?:\s+then)?\s+(?P<more>[^.;]+?))?"
    r"\s*(?:\.|(?=;)|$))"
)
# How the shoulders are sewn, which falls away when they are joined live: "..., aligning the slopes".
_EASING = regex.compile(
    r"(?i)(?:(?:taking|aligning|matching|easing|keeping|working|leaving|or)\b|\d)"
)
# What leaves a part of the shoulder open.
_PARTLY = regex.compile(r"(?i)(?:leaving(?!\s+(?:the\s+)?neck\s+open)|from|for|to)\b")
_DOING = regex.compile(rf"(?i)(?:{_SEWING}|close|set|press|block|pick|work|fold|turn|run|attach)\b")
_BETWEEN = (
    r"(?:\s*[,/&-]\s*|\s+)(?:up|together|the|both|right|left|r|l|one|first|second|other|opposite|back|front|and|all|its"
    r"|sides?|sleeves?|underarms?|uppers?|tops?|of|over-?arms?|seams?|neckband)\b"
)
LIVE_JOIN = regex.compile(r"(?i)\b(?:three|3)[\s-]*needle\b|\b3nbo\b|\bgraft|\bkitchener\b")
# Any sentence that sews or joins shoulders, in whatever words.
_SEWS = regex.compile(
    rf"(?i)\b(?:{_SEWING}\b(?:{_BETWEEN})*(?:\s*[,/&-]\s*|\s+)shoulders?\b(?!\s+(?:pads?|straps?|openings?|buttons?|bands?))"
    rf"|{_MAKING}\b(?:{_BETWEEN})*(?:\s*[,/&-]\s*|\s+)shoulders?(?:{_LINK}{_SLEEVE})?\s+seams?\b"
    rf"|{_MAKING}\s+(?:(?:the|both)\s+)*(?:seams?\s+(?:of|at)\s+(?:(?:the|both)\s+)*shoulders?\b"
    r"|shoulders?\s*(?:,|and\b|&)[^.;:]{0,40}\bseams?\b)"
    r"|close\s+(?:(?:the|both)\s+)?shoulders\b(?=\s*(?:[.,;]|$))"
    r"|shoulders?(?:\s+seams?)?\s+(?:is|are)\s+(?:then\s+)?(?:sewn|joined|closed|seamed|stitched|grafted)\b(?!\s+off\b)"
    r"|shoulders?\s+seams?\s+first\b)"
)
# Something is sewn in between or on to the shoulders: they do not meet.
_PARTED = regex.compile(
    r"(?i)\b(?:sew|stitch|join|set)\b[^.;]*\bsaddles?\b"
    r"|\b(?:sew|stitch)\b[^.;]*\b(?:to|between)\s+(?:(?:the|both|cast[\s-]off|bound[\s-]off|back|front|and)\s+)*shoulder\s+edges\b"
)
# A part of the shoulder stays open, or is buttoned.
_OPEN = regex.compile(
    rf"(?i)\b{_VERB}\b[^.;]*\bshoulders?\b[^.;]*?(?:,?\s+(?:but\s+)?(?:leaving|leave)\b(?!\s+(?:the\s+)?neck\s+open)(?![^.;]*\b(?:underarm|sides?|hem|vents?)\b)[^.;]*\b(?:open|opening|free|unsewn)\b"
    r"|,?\s+for\s+(?:half|a\s+third|about|\d)|\s+from\s+(?:the\s+)?arm(?:hole)?\b[^.;]*?\bfor\b|\s+on\s+the\s+\d[^.;]*\bonly\b)"
)
# A shoulder closed by buttons, or one that laps over the other: "lap the shoulder bands", "work 3 loops on
# the left shoulder", "buttoned on the left shoulder".
_BUTTONED = regex.compile(
    r"(?i)\b(?:lap|overlap)(?:ping|ped|s)?\b[^.;]*\bshoulders?\b"
    r"|\bshoulder\s+(?:button\s*bands?|bands?|opening|flap|buttons?)\b"
    r"|\b(?:(?:buttoned|fastened|loops)\s+(?:on|at|along)|(?:buttons|press[\s-]studs?|poppers|snaps)\s+(?:on|at|to))\s+"
    r"(?:(?:the|one|left|right|front|back)\s+)*shoulders?\b(?!\s+(?:straps?|pads?|bags?))"
)
_TOP_SEAM = regex.compile(rf"(?i)\b{_SEWING}\s+(?:(?:the|both|up|{_WHICH})\s+)*(?:{_TOP})\b")
# "Sew seams.": every seam of the garment, the shoulders among them.
_ALL_SEAMS = regex.compile(
    rf"(?i)(?:^|(?<=[.;:!\u2014\u2013]\s*))\s*(?P<said>(?P<verb>{_SEWING}|close)\s+(?:(?:all|the|up)\s+)*(?P<seams>seams)\b"
    r"(?P<more>[^.;]*))(?=[.;]|$)"
)
_KNITTED_ON = regex.compile(rf"(?i)\b(?:{_SLEEVE})\b")


@dataclass(frozen=True)
class Seam:
    """What a sentence says of joining shoulders, with its place in the draft."""

    span: Span
    """The words to be replaced, the point included where one ends them."""
    verb: str
    lead: str
    """Words that say how, before the verb: "Using back stitch, "."""
    which: str
    """right, left, one, other and the like, in small letters; empty for both shoulders."""
    the: str
    """The article that stands before it: "the ", or nothing."""
    sleeve: str
    """The part of a sleeve that is one seam with the shoulder: "upper sleeve"; empty where there is none."""
    more: str
    """What else is sewn in the same sentence."""
    told_plainly: bool
    """It says nothing that is untrue of live sts: no sewing, no seam."""
    goes_on: bool
    """It follows ", then": the words before it end there."""
    small: bool
    """Its first word is written small, behind words that stay."""
    stopped: bool
    """A point ends it."""

    @property
    def beside(self) -> str:
        """The sentence for what is sewn together with the shoulders: " Join neckband seam."."""
        more = self.more
        if not more or _EASING.match(more):
            return ""
        if _DOING.match(more):
            return f" {more[0].upper()}{more[1:]}."
        makes = regex.fullmatch(_MAKING, self.verb.lower()) and "seam" not in more
        said = f"{self.lead}{'sew' if makes else self.verb}"
        return f" {said[0].upper()}{said[1:]} {more}."


def sews(text: str) -> bool:
    """Say whether a text sews or joins shoulders, in whatever words."""
    return _SEWS.search(text) is not None


def partly_open(text: str) -> bool:
    """Say whether a text joins the shoulders only in part: "leaving 3 ins. of left shoulder open at neck"."""
    return _OPEN.search(text) is not None


def seams_of(sentence: Sentence, sleeved: bool = False) -> list[Seam] | None:
    """Return what a sentence says of joining shoulders.

    None where it joins them in words that cannot be taken apart, or only in part. `sleeved` says
    that the steps of the shoulders go on over the tops of sleeves.
    """
    text = sentence.text
    out = [_seam(sentence, found, sleeved) for found in _SEAM.finditer(text)]
    told = [s for s in out if s is not None]
    if len(told) < len(out) or (not told and (sews(text) or _TOP_SEAM.search(text))):
        return None
    return told


def _seam(sentence: Sentence, found: regex.Match[str], sleeved: bool) -> Seam | None:
    more = found.group("more") or ""
    if _PARTLY.match(more):
        return None
    sleeve = found.group("upper") or found.group("sleeve") or ""
    before = found.group("before")
    plain = sleeve.lower() in ("sleeve", "sleeves") and (found.group("link") or "").strip() in (
        "and",
        "&",
    )
    if sleeve and sleeved and plain and (before or not found.group("which")):
        return None  # the seam along the top of the sleeve, or the one under it
    if sleeve and not sleeved:
        if not plain:
            return None
        # set-in sleeves: the seam of the sleeve is one of its own
        more = f"{sleeve}{found.group('seam') or ''}{', ' if more else ''}{more}"
        sleeve = ""
    if before and more and "seam" not in before and "seam" in more:
        more = f"{before} and {more}"
    elif before:
        whole = before if "seam" in before else f"{before}{found.group('seam') or ''}"
        more = f"{whole}, {more}" if more else whole
    shift = sentence.span.start
    start = found.start("then") if found.group("then") else found.start("said")
    verb = found.group("verb")
    return Seam(
        span=Span(shift + start, shift + found.end()),
        verb=verb,
        lead=found.group("lead") or "",
        which={"r": "right", "l": "left"}.get(
            (found.group("which") or "").lower(), (found.group("which") or "").lower()
        ),
        the="the " if found.group("the") else "",
        sleeve=" ".join(sleeve.lower().split()),
        more=more,
        told_plainly=verb.lower() == "join"
        and not found.group("lead")
        and not found.group("manner")
        and not found.group("top")
        and "seam" not in f"{found.group('seam') or ''}{'' if _DOING.match(more) else more}",
        goes_on=bool(found.group("then")),
        small=not found.group("then") and found.group("said")[0].islower(),
        stopped=found.group().rstrip().endswith("."),
    )


def with_sleeves(document: Document, places: Sequence[Span]) -> bool:
    """Say whether the words of every shoulder, or the heading over them, name the tops of sleeves too."""
    told = []
    for place in places:
        at = next(
            (
                i
                for i, s in enumerate(document.sentences)
                if s.span.start <= place.start < s.span.end
            ),
            None,
        )
        if at is None:
            continue
        near = document.sentences[max(at - 1, 0) : at + 1]
        words = [s.text for s in near if s.heading or s.span.start <= place.start]
        told.append(any(_KNITTED_ON.search(w) for w in words))
    return any(told)


def shoulder_seams(document: Document) -> list[Sentence]:
    """Return the sentences that sew or join shoulders by that word, or else by the top of the pieces."""
    told = [s for s in document.sentences if not s.heading and s.piece != "list"]
    named = [s for s in told if sews(s.text)]
    return named or [s for s in told if _TOP_SEAM.search(s.text) and "hood" not in s.text.lower()]


def buttoned(document: Document) -> Sentence | None:
    """Return a sentence by which a shoulder is buttoned or laps over the other, if there is one."""
    return next((s for s in document.sentences if _BUTTONED.search(s.text)), None)


def parted_by(document: Document) -> Sentence | None:
    """Return a sentence that sews something in between the shoulders, a saddle say, if there is one."""
    return next((s for s in document.sentences if not s.heading and _PARTED.search(s.text)), None)


@dataclass(frozen=True)
class AllSeams:
    """A sentence that sews every seam at once: "Sew seams."."""

    at: int
    """Where it begins in the draft."""
    seams: Span
    """The word seams."""
    partly: bool
    """It leaves a part of the shoulders open."""


def all_seams(document: Document) -> AllSeams | None:
    """Return the first sentence that sews all seams at once, if there is one."""
    for sentence in document.sentences:
        found = None if sentence.heading else _ALL_SEAMS.search(sentence.text)
        if found is None or sentence.piece == "list":
            continue
        start = sentence.span.start
        partly = regex.search(r"(?i)\b(?:top|neck|shoulders?)\b", found.group("more"))
        return AllSeams(
            start + found.start("said"),
            Span(start + found.start("seams"), start + found.end("seams")),
            bool(partly),
        )
    return None
