"""Shoulder or not: what a stepped passage shapes, and which evidence says so.

The evidence counts in this order, an earlier one vetoing a later one (common practice): the words
of the passage and its own heading, the edge named, what is left afterwards, its place in the piece.
Where they disagree, or say nothing, it is a question.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from rewriter import regex
from rewriter.animals import for_animals
from rewriter.edgenames import ARMHOLE_SIDE, is_upright
from rewriter.evidencewords import (
    ARMHOLES_FIRST,
    AT_INNER_EDGE,
    AT_NECK_EDGE,
    AT_OUTER_EDGE,
    BODIES,
    DIVIDED_BEFORE,
    FOR_ARMHOLE,
    FOR_NECK,
    FROM_INNER_EDGE,
    FULL_DEPTH,
    OF_SHOULDER,
    ON_SHOULDER,
    SHAPES_SHOULDER,
    STRAIGHT,
    UP_TO_ARMHOLES,
    ends_beside_neck,
    is_announced,
    leaves_band,
    nearest,
    purpose,
)
from rewriter.frames import Frame
from rewriter.passages import Passage
from rewriter.rowframes import is_stepped, most_rows
from rewriter.twoballs import divided_parts

PassageKind = Literal["shoulder", "neck", "armhole", "cap", "other"]

_UNTIL_ARMHOLE = regex.compile(
    r"\b(?:armholes?|work|piece|back|front)\s+(?:edges?\s+)?(?:measures?|meas|is|are|match(?:es)?|reach(?:es)?|stands?)"
    r"|\bsame\s+(?:(?:length|height|depth|level)\s+)?as|\bas\s+(?:high|long|deep)\s+as"
    # "At 24 cm of armhole, ..."
    r"|\b(?:at|after|in)\s+[\d(][\d\s()\[\]\u00bd\u00bc\u00be.,:;/-]*(?:cms?|ins?|inch(?:es)?|\")\s*"
    r"(?:(?:of|from|above)\s+(?:the\s+)?armholes?\b|armhole\s+(?:height|depth|length)\b)"
    r"|\b(?:length|height|depth|level)\s+of\s+(?:the\s+)?back\b|\bto\s+(?:the\s+)?(?:beg|beginning|start)?\s*(?:of\s+)?shoulder"
)


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a passage shapes; `kind` is None where that must be asked."""

    kind: PassageKind | None
    because: str


def kind_of(
    passage: Passage, source: str, own: str, nothing_left: bool, first_in_piece: bool
) -> Evidence:
    """Say what a passage shapes.

    `own`: the words of its piece up to its end, in lower case. `nothing_left`: its last words bind
    off or hold every stitch. `first_in_piece`: no stepped passage stands before it in the piece.
    """
    words = " ".join(s.sentence.view.text for s in passage.statements)
    offs = [
        f for s in passage.statements for f in s.frames if f.verb == "bind_off" and not f.takes_all
    ]
    edges = {f.edge for f in offs if f.edge or not f.inherited}
    if passage.piece == "other":
        return Evidence("other", "it stands in a part that has no shoulders")
    if for_animals(source):
        return Evidence("other", "the text is about something that has no shoulders")
    if edges == {"neck"}:
        if _for_shoulder_at_hand(offs, source):
            return Evidence(None, "its words name the shoulder, but the edge named is the neck's")
        return Evidence("neck", "it names the neck edge")
    if offs and _is_for_neck(offs[0]) and not regex.search(r"\bshoulders?\b", words):
        return Evidence("neck", "its own words bind off for the neck")
    named = _named(passage, words)
    dolman = _KNITTED_ON.search(own)
    if named and passage.piece not in (BODIES | {"unknown"}) and not dolman:
        return Evidence(None, f"{named}, but it stands in the {passage.piece}")
    if (
        named
        and _of_both(passage)
        and not nothing_left
        and not edges - {"", "neck"}
        and _goes_on(passage)
    ):
        return Evidence("neck", "its heading names neck and shoulder, and further steps follow it")
    by_heading = bool(named) and not regex.search(r"\bshoulders?\b", words)
    if by_heading and not nothing_left and not edges - {"", "neck"} and _on_other_side(passage):
        return Evidence(
            "neck", "its heading names the shoulder of the side before; further steps follow"
        )
    if by_heading and not nothing_left and not edges - {"", "neck"} and _straight_behind(passage):
        return Evidence("neck", "straight rows up to the shoulder follow it")
    if named:
        return Evidence("shoulder", named)
    before = nearest(passage, 1)
    if is_announced(passage) or SHAPES_SHOULDER.search(before) or OF_SHOULDER.match(before):
        if passage.topics[-1:] == ("armhole",) and (passage.headed or not _after_length(passage)):
            return Evidence(None, "words before it name the shoulder, but its heading the armhole")
        if ARMHOLES_FIRST.search(before):
            return Evidence(None, "words before it name the shoulder, but then the armhole")
        return Evidence("shoulder", "the words right before it name the shoulder")
    if not nothing_left and (ARMHOLES_FIRST.search(before) or UP_TO_ARMHOLES.search(before)):
        return Evidence("armhole", "the words right before it name the armhole")
    if passage.piece == "sleeve" and dolman and nothing_left and _ONE_SEAM.search(source.lower()):
        return Evidence("shoulder", "sleeve and shoulder are one edge, joined in one seam")
    if passage.piece == "sleeve" and dolman and not passage.follows:
        return Evidence(None, "it stands in the sleeve, but the sleeves are knitted on to the body")
    called = passage.piece == "yoke" and "yoke" in own  # not the body of a wrap
    if called and STRAIGHT.search(before) and not _goes_on(passage):
        return Evidence(None, "it ends a yoke worked straight, and no word names the shoulder")
    if passage.piece in ("sleeve", "yoke"):
        kind: PassageKind = "cap" if passage.piece == "sleeve" else "other"
        return Evidence(kind, f"it stands in the {passage.piece}")
    return _vetoed(passage, source, own, edges, nothing_left, first_in_piece) or _by_remainder(
        passage, words, own, edges, nothing_left, first_in_piece
    )


# Sleeves knitted on to a body, in one edge with the shoulder: they have sleeve edges, or grow from the sides.
_KNITTED_ON = regex.compile(
    r"\b(?:sleeve|cuff) edges?\b"
    r"|\b(?:co|cast(?:ing)?\s+on)\b[^.]{0,80}\b(?:beg|beginning|start|end)\s+of\s+(?:the\s+|each\s+of\s+)*"
    r"(?:next|following|foll)\b"
    r"|\b(?:co|cast(?:ing)?\s+on)\b[^.]{0,80}\b(?:at|on)\s+(?:each|both)\s+(?:sides?|ends?|edges?)\b"
)


_ONE_SEAM = regex.compile(
    r"\b(?:sleeves?\W{1,3}(?:(?:and|&)\W{1,3})?shoulders?|shoulders?\W{1,3}(?:(?:and|&)\W{1,3})?(?:(?:upper|top)\s+)?"
    r"sleeves?)\s+seams?\b"
)


def _is_for_neck(frame: Frame) -> bool:
    """Say whether steps are bound off "for the neck": its words stand before the first count."""
    told = [p.span.start for slot in ("count", "steps") for p in frame.parts.get(slot, [])]
    named = [n.span.start for n in frame.notes if n.concept == "neck"]
    return is_stepped(frame) and bool(told and named) and min(named) < min(told)


def _for_shoulder_at_hand(offs: Sequence[Frame], source: str) -> bool:
    """Say whether steps are "for the shoulder", and their edge is called by its hand: "on the left edge".

    Which edge that is follows from the piece, as it lies with the RS facing; its writer may have meant
    the piece as worn.
    """
    named = any(n.concept == "shoulder" for f in offs for n in f.notes)
    edges = [p.span.of(source).lower() for f in offs for p in f.parts.get("edge", ())]
    return named and any("left" in words or "right" in words for words in edges)


def _of_both(passage: Passage) -> bool:
    """Say whether the heading of a passage names neck and shoulder, and its own words neither."""
    words = " ".join(s.sentence.view.text for s in passage.statements)
    return {"neck", "shoulder"} <= set(passage.topics) and "shoulder" not in words


def _on_other_side(passage: Passage) -> bool:
    """Say whether another side has begun since the side before was bound off, and has steps to come.

    A heading that named the shoulder of the first side says nothing of the second side's neck.
    """
    since = [f for s in passage.before for f in s.frames if f.verb]
    ended = max(
        (i for i, f in enumerate(since) if f.verb in ("bind_off", "hold") and f.takes_all),
        default=None,
    )
    if ended is None or not any(f.verb == "join" for f in since[ended:]):
        return False
    return _goes_on(passage, at_neck=False)


def _straight_behind(passage: Passage) -> bool:
    """Say whether straight rows up to the shoulder are told between a passage and further steps.

    "Right shoulder" may head all of one side of a front, its neck too.
    """
    straight = False
    for statement in passage.follows:
        if any(f.verb == "join" for f in statement.frames):
            return False
        words = statement.sentence.view.text
        if straight and any(f.verb == "bind_off" and f.edge != "neck" for f in statement.frames):
            return True
        straight = straight or bool(STRAIGHT.search(words) and FULL_DEPTH.search(words))
    return False


def _goes_on(passage: Passage, at_neck: bool = True) -> bool:
    """Say whether further steps are told in the same piece, those `at_neck` among them or not."""
    return any(
        f.verb == "bind_off"
        and (is_stepped(f) or (s.label and not f.takes_all))
        and (at_neck or f.edge != "neck")
        for s in passage.follows
        for f in s.frames
    )


def _named(passage: Passage, words: str) -> str:
    """Return which words name the shoulder, if any do."""
    if regex.search(r"\bshoulders?\b", words):
        return "its own words name the shoulder"
    return "its heading names the shoulder" if "shoulder" in passage.topics else ""


_ELSEWHERE = regex.compile(
    r"(?<!\bfor (?:the |a )?)(?<!\bto (?:the )?)(?<!\bside of )"
    r"\b(?:sleeves?(?!\s+edge)|shawl|gusset|thumb|hood|pocket|puff(?:ed)?|mitten|heel"
    r"|collar sts|shawl collar)\b"
)


# A line that stops where a number or row must follow, and goes on with a heading or another text.
_CUT_OFF = regex.compile(
    r"(?m)\b(?:at|of|the|next|foll|following|beg|beginning)[ \t]*[\r\n]+"
    r"[ \t]*(?:[A-Z]{4,}\b|[A-Z][a-z]+ [A-Z])"
)
_SHAWL = regex.compile(r"\bshawl\b(?!\s+collar)")


def _vetoed(
    passage: Passage,
    source: str,
    own: str,
    edges: set[str],
    nothing_left: bool,
    first_in_piece: bool,
) -> Evidence | None:
    """Return what words other than "shoulder" make of a passage, where they leave no choice."""
    topic = passage.topics[-1] if passage.topics else ""
    after_length = _after_length(passage)
    words = " ".join(s.sentence.view.text for s in passage.statements)
    ends = nothing_left or _for_neck(passage, words, nothing_left)
    if topic == "armhole" and not (ends and (after_length or not first_in_piece)):
        return Evidence("armhole", "its heading names the armhole")
    both = {"armhole", "neck"} <= set(passage.topics)  # "Shape armholes and divide for neck"
    if both and passage.headed and first_in_piece and _goes_on(passage, at_neck=False):
        return Evidence("armhole", "its heading names the armhole; further steps follow")
    if FOR_ARMHOLE.search(words) and not (nothing_left or after_length):
        return Evidence("armhole", "its own words name the armhole")
    if (part := purpose(passage)) is not None:
        if nothing_left and part != "cap":
            return Evidence(None, f"its words name the {part}, but it leaves nothing")
        return Evidence(part, f"its own words name the {part}")
    whole = source.lower()
    if "raglan" in own or ("raglan" in whole and "shoulder" not in whole):
        return Evidence("neck", "the piece has raglan edges, which have no shoulder")
    outer = bool(edges & {"armhole", "shoulder"}) or _on_armhole_rows(passage)
    # the heading was that of the rows before: a straight stretch parts the two
    used_up = nothing_left and not passage.headed and bool(STRAIGHT.search(nearest(passage, 1)))
    if outer and edges <= {"", "armhole", "shoulder"} and _after_neck_steps(passage):
        return Evidence("shoulder", "its steps are at the outer edge, after those of the neck")
    if ends_beside_neck(passage, edges) and not _goes_on(passage, at_neck=False):
        return Evidence("shoulder", "it ends the piece at the armhole edge, the neck being shaped")
    outer = outer or "side" in edges  # "at sleeve edge" of sleeves in one with the front
    outer = outer or AT_OUTER_EDGE.search(nearest(passage, 1)) is not None
    if topic == "neck" and not used_up and not (after_length and (nothing_left or outer)):
        if nothing_left and passage.piece in (BODIES | {"unknown"}):
            return Evidence(None, "its heading names the neck, but it leaves nothing")
        return Evidence("neck", "its heading names the neck")
    if topic == "cap":
        return Evidence("cap", "its heading names the top of a sleeve")
    if _CUT_OFF.search(passage.sentence.text):
        return Evidence(None, "its sentence is mixed with other lines, or broken off")
    if topic == "top" and passage.piece == "unknown":
        return Evidence(None, "its heading may name the top of a sleeve or of a back")
    if passage.piece == "unknown":
        if _SHAWL.search(whole):
            return Evidence("other", "the text is about something that has no shoulders")
        if (found := _ELSEWHERE.search(own)) is not None:
            return Evidence("other", f"its piece speaks of {found.group()!r}")
        if _decreases_up_to(passage):
            return Evidence("cap", "sts are decreased at both ends right up to it")
    return None


def _on_armhole_rows(passage: Passage) -> bool:
    """Say whether all steps of a half front or back are told on the rows that begin at its armhole."""
    side = ARMHOLE_SIDE.get(passage.piece)
    rows = [
        rows
        for s in passage.statements
        for f in s.frames
        if f.verb == "bind_off" and (rows := f.one("rows")) is not None
    ]
    upright = side is not None and is_upright(passage.sentence.source)
    return upright and bool(rows) and all(r.side == side for r in rows)


def _after_neck_steps(passage: Passage) -> bool:
    """Say whether steps at the neck, and then rows worked straight, stand right before a passage."""
    if passage.lead or len(passage.before) < 2:
        return False
    rows = [f.one("rows") for f in passage.before[-1].frames if f.verb == "work"]
    if not rows or not all(r is not None and r.kind == "some_rows" for r in rows):
        return False
    offs = [f for f in passage.before[-2].frames if f.verb == "bind_off"]
    return bool(offs) and all(f.edge == "neck" or f.inherited for f in offs)


def _decreases_up_to(passage: Passage) -> bool:
    """Say whether decreases at both ends stand right before a passage, as in a sleeve's top."""
    if passage.lead or not passage.before:
        return False
    last = passage.before[-1]
    both = regex.search(r"\b(?:each|both) (?:ends?|sides?|edges?)\b", last.sentence.view.text)
    tells = [f.verb for f in last.frames if f.verb in ("decrease", "work", "measures")]
    return both is not None and tells[-1:] == ["decrease"]


def _by_remainder(
    passage: Passage,
    words: str,
    own: str,
    edges: set[str],
    nothing_left: bool,
    first_in_piece: bool,
) -> Evidence:
    """Judge a passage whose words name no part by what is left, its place, and its edge."""
    for_neck = _for_neck(passage, words, nothing_left)
    divided = divided_parts(passage.statements)
    if divided is not None:
        return Evidence("shoulder", "it is divided at the neck and uses up both sides")
    # a short row begins at the edge opposite the one that it shapes
    begins_there = AT_OUTER_EDGE if passage.short_rows else AT_INNER_EDGE
    if begins_there.search(nearest(passage, 1)) and not edges & {"armhole", "shoulder", "side"}:
        return Evidence("neck", "it begins at the inner edge")
    last = not _goes_on(passage, at_neck=False)
    if not nothing_left and not for_neck and last and FULL_DEPTH.search(nearest(passage, 4)):
        return Evidence("shoulder", "it begins where the armhole has its full depth")
    if not nothing_left and not for_neck and leaves_band(passage, own):
        return Evidence("shoulder", "what it leaves is the front band")
    if nothing_left and ON_SHOULDER.search(nearest(passage, 2)):
        return Evidence("shoulder", "it uses up the sts that are called a shoulder's")
    if not nothing_left and not for_neck:
        if "neck" in edges:
            return Evidence("neck", "it names the neck")
        if not passage.follows:
            return Evidence(
                None, "no word names the shoulder, and nothing follows that tells what is left"
            )
        if DIVIDED_BEFORE.search(nearest(passage, 2)):
            return Evidence("neck", "the piece is divided at the neck right before it")
        if passage.piece == "unknown" and last and _stays_straight(passage, own):
            return Evidence(None, "no word says whether this is a shoulder or an armhole")
        return Evidence("armhole", "sts are left to work on with, and no word names the shoulder")
    if for_neck:
        return Evidence("shoulder", "what it leaves is the neck")
    if passage.piece in BODIES and not first_in_piece:
        return Evidence("shoulder", "it ends the piece after a straight stretch")
    if "neck" in edges or AT_NECK_EDGE.search(own) or AT_NECK_EDGE.search(passage.ahead):
        return Evidence("shoulder", "it is worked beside the neck edge and leaves nothing")
    if edges & {"armhole", "shoulder"}:
        return Evidence("shoulder", "it names the armhole edge and leaves nothing")
    if _after_length(passage):
        return Evidence("shoulder", "it follows the armhole length and ends the piece")
    if regex.search(r"\barmholes?\b", nearest(passage, 3)):
        return Evidence("shoulder", "it ends the piece after the armhole")
    if STRAIGHT.search(nearest(passage, 2)):
        return Evidence("shoulder", "it ends the piece after a straight stretch")
    if FROM_INNER_EDGE.search(nearest(passage, 1)):
        return Evidence("shoulder", "the row before goes from the front edge to the armhole")
    if passage.piece in BODIES:
        return Evidence("shoulder", f"it ends the {passage.piece}")
    return Evidence(None, "no word says whether this is a shoulder")


def _stays_straight(passage: Passage, own: str) -> bool:
    """Say whether several steps an edge are told in a text without armholes, and nothing is shaped after.

    Behind the bind-offs of an armhole sts are decreased, or its length is told.
    """
    told = [(s.label, f) for s in passage.statements for f in s.frames]
    rows = sum(most_rows(r) for _, f in told if f.verb == "bind_off" and (r := f.one("rows")))
    rows += sum(2 for label, f in told if f.verb == "repeat" or (label and label.rows))
    shaped = any(f.verb in ("decrease", "increase") for s in passage.follows for f in s.frames)
    armhole = regex.search(r"\b(?:arm\s?holes?|under\s?arms?|sleeves?)\b", f"{own} {passage.ahead}")
    return rows >= 4 and not shaped and armhole is None


def _for_neck(passage: Passage, words: str, nothing_left: bool) -> bool:
    """Say whether the sts that remain are called the neck's, here or in what follows."""
    if FOR_NECK.search(words):
        return True
    return not nothing_left and bool(FOR_NECK.search(passage.ahead))


def _after_length(passage: Passage) -> bool:
    """Say whether the nearest words before tell a straight stretch up to a shoulder."""
    text = FOR_ARMHOLE.sub(" ", nearest(passage, 2))  # what begins an armhole is no length of it
    return bool(
        _UNTIL_ARMHOLE.search(text) and regex.search(r"\barmholes?\b|\bshoulders?\b|\bback\b", text)
    )
