"""Shoulders told by another piece's alone: "Shape shoulder as for back".

A front worked one side at a time has one shoulder edge, where the back has two. Once the back is in
short rows the reference would lead astray, so such a shoulder is written out: a passage of its own,
with the back's steps at its one edge. Pieces shaped alike keep the sentence.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from rewriter import regex
from rewriter.counts import count_before
from rewriter.document import Document, Sentence
from rewriter.doubt import Unread
from rewriter.edgenames import ARMHOLE_SIDE
from rewriter.frames import Frame, Statement
from rewriter.leadmodel import LeadIn
from rewriter.neckrows import both_sides_at_once
from rewriter.parsing import Part
from rewriter.passages import Passage
from rewriter.rowbefore import RowBefore
from rewriter.rows import OTHER_SIDE, PLAIN, WORK_ALL, Row, Side, bind_off, edge_of_beginning
from rewriter.shapingmodel import Shaping
from rewriter.sizes import Sizes
from rewriter.spans import Span
from rewriter.statements import read_statement
from rewriter.twin import Steps

_LEANS = {
    kind: regex.compile(
        rf"(?i)\b{word}\b[^.;]{{0,60}}\b(?:as|same as|like)\b[^.;]{{0,20}}?\b(?P<piece>back|front|sleeve)\b"
    )
    for kind, word in (
        ("shoulder", r"(?:shoulders?|(?<=\bshape )top)"),
        ("armhole", "arm ?holes?"),
        ("neck", "neck"),
        ("cap", "(?:top|cap)"),
    )
}
# "Knit to the same height as the back and cast off for the shoulder in the same manner."
_LIKEWISE = regex.compile(
    r"(?i)\b(?:as|like)\s+(?:(?:on|for|the|of)\s+)*(?P<piece>back|front)\b[^.;]{0,30}?"
    r"\b(?:shap|slop|slant|bind|cast|work|clos)\w*\b[^.;]{0,24}\bshoulders?\b[^.;]{0,16}"
    r"\b(?:in\s+the\s+same\s+(?:way|manner)|likewise|the\s+same)\b"
)
# "Work to same length as back to shoulder. Bind off as on the back.": the sentence before names the shoulder.
_BARE = regex.compile(
    r"(?i)\W*(?:bind|cast)\s+off\s+(?:the\s+|these\s+|all\s+)*(?:sts\s+|stitches\s+)?"
    r"(?:as|same as|like)\s+(?:given\s+)?(?:for|on|at|in)?\s*(?:the\s+)?"
    r"(?:left\s+|right\s+)?(?P<piece>back|front)\W*"
)
# "SHOULDER: same height and same decreases as the back.": the heading names the shoulder.
_UNDER_HEADING = regex.compile(
    r"(?i)\W*(?:(?:at|from|with|and|the|same|total)\s+|,\s*)*(?:(?:height|level|depth|decreas\w+|steps|shaping"
    r"|slope|bind(?:ing)?[- ]offs?|cast(?:ing)?[- ]offs?)s?\s+(?:and\s+(?:with\s+)?(?:the\s+)?same\s+)?)+"
    r"(?:as|like)\s+(?:(?:on|for|of|the)\s+)*(?P<piece>back|front)\W*"
)
# "SHOULDER: as for the back", "SHOULDERS: work as on the back, at the same height"
_ALONE_UNDER_HEADING = regex.compile(
    r"(?i)\W*(?:at\s+the\s+same\s+(?:height|level|depth)\s+as\s+(?:(?:for|on|of|the)\s+)*(?:back|front)\W+)?"
    r"(?:(?:work|worked|knit|shape|shaped|made)\s+)?(?:exactly\s+)?(?:as|same\s+as|like)\s+"
    r"(?:(?:given|told|for|on|at|of|in|the)\s+)*(?P<piece>back|front)"
    r"(?:\W+(?:at|from|with|and)\s+(?:the\s+)?same\s+(?:total\s+)?(?:height|level|depth|length))?\W*"
)
# "At the same height and in the same way as on the back": straight rows up to it lie before.
_AT_HEIGHT = regex.compile(
    r"(?i)\b(?:(?:at|in|on|from)\s+(?:(?:the|exactly|about)\s+)*)?same\s+(?:total\s+)?(?:height|level|depth)s?"
    r"(?:,?\s+and(?:\s+(?:in\s+)?(?:the\s+)?(?:same\s+)?(?:way|manner|decreas\w+|shapings?|steps),?)?)?"
    r"\s+(?:as|like)\s+(?:(?:given|told)\s+)?(?:(?:on|for|at|in|of)\s+)?(?:the\s+)?(?:back|front)\b"
)
_SHOULDER = regex.compile(r"(?i)\bshoulders?\b")
_NOT_SHAPING = regex.compile(
    r"(?i)\b(?:until|measures?|length|rows?|seams?|sew|join|graft|high|long|deep)\b"
)
# Words that bind sts off: they do not stay where the rows turn.
BINDS_OFF = regex.compile(
    r"(?i)(?P<verb>(?:bind|cast)(?P<ing>ing)?\s+off|clos(?:e|(?P<ing>ing)))\b"
    r"(?:\s+(?:for\s+)?(?P<what>(?:the\s+)?(?:(?:left|right|both)\s+)*(?:sloping\s+)?shoulders?)\b"
    r"(?:\s+(?:sts|stitches|loops|slopes?|bevels?))?)?(?=\s+(?:as|like|(?:in\s+)?(?:the\s+)?same)\b)"
)
# "When the front is as high as the back, ...": where the shoulder begins, and not how it is shaped
_WHEN = regex.compile(r"(?i)\W*(?:when|once|as\s+soon\s+as)\b[^,.;]*,\s*")
# "Even to row 58, shoulder as for back": straight rows, told in the same sentence
_STRAIGHT = regex.compile(
    r"(?i)\W*(?P<rows>(?:(?:work|knit|k|patt|cont(?:inue)?|go\s+on)\s+)?(?:even|straight)(?:\s+(?:on|up))?"
    r"\s+(?:until|till|up\s+to|to|for)\b[^,.;]*),\s*"
)
_WHEN_BEHIND = regex.compile(r"(?i),?\s+(?:when|once|as\s+soon\s+as)\b[^.;]*\.?\s*\Z")
_OPENING = regex.compile(
    r"(?i)\W*(?:(?:work|shape|shaping|slope|carry out|do)\s+)?(?:the\s+)?"
    r"(?:left\s+|right\s+|both\s+)?"
    r"(?:shoulders?|arm ?holes?|neck|top|cap)(?:\s+(?:shaping|slopes?|slant|sts))?\s*"
)


@dataclass(frozen=True)
class Reference:
    """A sentence that tells a shoulder by that of another piece."""

    passage: Passage
    one_edge: bool
    """The piece is worked one side at a time there."""
    apart: bool = False
    """Its words say at least that both sides are finished separately."""
    at_once: bool = False
    """Both sides are in work at once, each with its ball of yarn."""
    sure: bool = True
    """Where it has one edge, a row is told that turns at the neck, or it is a piece with one armhole."""


def pieces_referred_to(document: Document) -> set[str]:
    """Return the pieces by which a document tells shoulders of others."""
    named = {referred_to(s) for s in document.sentences}
    named |= {_referred_behind(before, s) for before, s in pairwise(document.sentences)}
    return {piece for piece in named if piece is not None}


def referred_to(sentence: Sentence, kind: str = "shoulder") -> str | None:
    """Return the piece by which a sentence tells its shoulder, if it does."""
    return None if sentence.heading else _piece_named(sentence.text, kind)


@lru_cache(maxsize=4096)
def _piece_named(text: str, kind: str) -> str | None:
    found = _LEANS[kind].search(text)
    if found is None:
        behind = _LIKEWISE.search(text) if kind == "shoulder" else None
        return behind.group("piece").lower() if behind else None
    led, until = _WHEN.match(text) or _STRAIGHT.match(text), _WHEN_BEHIND.search(text, found.end())
    start, end = led.end() if led else 0, until.start() if until else len(text)
    if _NOT_SHAPING.search(text, start, end):
        return None
    return found.group("piece").lower()


def _referred_behind(before: Sentence, sentence: Sentence) -> str | None:
    """Return the piece that a bare "Bind off as on the back" refers to, behind words for the shoulder."""
    piece = _piece_alone(sentence.text, before.heading)
    if piece is None or before.piece_at != sentence.piece_at or not _SHOULDER.search(before.text):
        return None
    return piece


@lru_cache(maxsize=4096)
def _piece_alone(text: str, headed: bool) -> str | None:
    found = _BARE.fullmatch(text)
    if found is None and headed:
        found = _UNDER_HEADING.fullmatch(text) or _ALONE_UNDER_HEADING.fullmatch(text)
    return found.group("piece").lower() if found else None


def references(
    document: Document,
    statements: Sequence[Statement | None],
    piece: str,
    piece_at: int | None,
    kind: str = "shoulder",
) -> list[Reference]:
    """Return the sentences of other pieces that tell their shoulders (armholes, ...) by those of `piece`.

    `piece_at` is None where that piece is not in the text.
    """
    out = []
    for at, sentence in enumerate(document.sentences):
        named = referred_to(sentence, kind)
        if named is None and kind == "shoulder" and at:
            named = _referred_behind(document.sentences[at - 1], sentence)
        if sentence.piece_at == piece_at or named != piece:
            continue
        passage = leaning_passage(document, statements, at)
        before = passage.before
        divided = any(f.verb in ("turn", "join", "hold") for s in before for f in s.frames)
        at_once = both_sides_at_once(passage)
        sure = sentence.piece in ARMHOLE_SIDE or (divided and not at_once)
        said = any(map(_parts, before)) and not _names_side(before, sentence)
        one_edge = sure or (said and not at_once)
        apart = any(map(_divides, before))
        out.append(Reference(passage, one_edge, apart, at_once, sure))
    return out


def leaning_passage(document: Document, statements: Sequence[Statement | None], at: int) -> Passage:
    """Return the sentence of index `at`, which tells a shoulder by another one, as a passage of its own."""
    sentence = document.sentences[at]
    before = [
        s
        for s, home in zip(statements[:at], document.sentences[:at], strict=True)
        if s is not None and home.piece_at == sentence.piece_at
    ]
    straight = _STRAIGHT.match(sentence.text)
    if straight is not None:
        start, stop = sentence.span.start, sentence.span.end
        rows = read_statement(replace(sentence, span=Span(start, start + straight.end("rows"))))
        before += [rows] if rows is not None else []
        sentence = replace(sentence, span=Span(start + straight.end(), stop))
    return Passage(
        [_statement(sentence)], before, [], sentence.piece, sentence.piece_at, sentence.topics
    )


_SIDE = regex.compile(r"\b(?:rs|ws|right[\s-]side|wrong[\s-]side)\b")


def _names_side(before: Sequence[Statement], sentence: Sentence) -> bool:
    """Say whether the words before a shoulder name a side of the work: it is another on its other half."""
    last = [before[-1].sentence] if before else []
    return any(_SIDE.search(s.view.text) for s in (*last, sentence))


# "FRONT: Work as given for back.": all of it, its neck too
_THROUGHOUT = regex.compile(
    r"(?i)\W*(?:(?:front|sides?)\s*[:.\u2013\u2014-]+\s*)?(?:(?:is|are|work(?:ed)?|make|made|knit(?:ted)?|exactly"
    r"|all|it|this)\s+)*(?:in\s+(?:exactly\s+)?)?(?:(?:the\s+)?same\s+(?:way\s+)?(?:as|like)|exactly\s+(?:as|like)"
    r"|as|like|to\s+match)\s+(?:(?:given|told|worked|for|on|the|of)\s+)*(?P<piece>back|front)"
    r"(?:\s+(?:throughout|exactly|all\s+through|in\s+every\s+way))?\W*"
)


def told_for_others(
    document: Document, statements: Sequence[Statement | None], piece: str, piece_at: int | None
) -> bool:
    """Say whether another piece has both its shoulders, and the neck between, from the words of this one."""
    whole = any(
        s.piece_at != piece_at
        and s.piece in ("front", "back")
        and not s.heading
        and (found := _THROUGHOUT.fullmatch(s.text)) is not None
        and found["piece"].lower() == piece
        for s in document.sentences
    )
    return whole or any(
        not (r.one_edge or r.apart or r.at_once)
        for r in references(document, statements, piece, piece_at)
    )


def _divides(statement: Statement) -> bool:
    """Say whether a sentence binds off the centre, or says that each side is worked by itself."""
    edges = [frame.one("edge") for frame in statement.frames if frame.verb == "bind_off"]
    return any(e is not None and e.concept == "centre" for e in edges) or _parts(statement)


def _parts(statement: Statement) -> bool:
    """Say whether a sentence says that each side is worked by itself."""
    return any(n.concept == "separately" for f in statement.frames for n in f.notes)


def _statement(sentence: Sentence) -> Statement:
    """Return the sentence as one frame, from where its opening words ("Shape shoulder") end."""
    opening, when = _OPENING.match(sentence.text), _WHEN.match(sentence.text)
    start = sentence.span.start + (opening.end() if opening else 0)
    frame = Frame("refer", start=start, end=sentence.span.end)
    if when is not None:
        words = when.group().strip(" ,\t\r\n")
        begin = sentence.span.start + sentence.text.index(words)
        frame.notes.append(Part("filler", Span(begin, begin + len(words)), "height"))
    elif height := _AT_HEIGHT.search(sentence.text, start - sentence.span.start):
        at = Span(*(sentence.span.start + place for place in height.span()))
        frame.notes.append(Part("filler", at, "height"))
    return Statement(sentence, None, [frame], [])


def read_reference(
    reference: Reference,
    told: Shaping,
    lead_in: LeadIn,
    row_before: RowBefore | None,
    sizes: Sizes,
) -> Shaping:
    """Return the model of a shoulder at one edge with the steps of another.

    Raises Unread where the edges referred to differ, or sums or sides do not meet.
    """
    passage = reference.passage
    side = _side(passage, lead_in)
    edge = edge_of_beginning(side or "RS")
    before = count_before(passage, len(sizes))
    rows, edges = [], []
    for i, shoulders in enumerate(told.edges):
        if len({s.sts for s in shoulders}) > 1:
            raise Unread(
                "edges-differ", "the shoulders referred to differ at their two edges", passage.span
            )
        sts = shoulders[0].sts
        if before is not None and before[0][i] != sum(sts):
            where = "" if len(sizes) == 1 else f" in size {sizes.labels[i]}"
            raise Unread(
                "sums",
                f"the shoulder referred to has {' + '.join(map(str, sts))} = {sum(sts)} sts, but "
                f"{before[0][i]} are on the needle here{where}",
                before[1],
                (i,),
            )
        own: list[Row] = []
        for n in sts[:-1]:
            own += [Row((bind_off(n), WORK_ALL)), PLAIN]
        own.append(Row((bind_off(None),)))
        minus_one = PLAIN if row_before is None else replace(row_before.rows[i], edge="neck")
        rows.append((minus_one, *own))
        edges.append((Steps(edge, tuple(range(0, 2 * len(sts), 2)), sts),))
    return Shaping(
        rows=tuple(rows),
        edges=tuple(edges),
        first_side=side,
        ending="used up",
        neck=(0,) * len(sizes),
        stitches=tuple(steps[0].total for steps in edges),
        last_on_return_row=False,
        ending_from=1,
    )


def _side(passage: Passage, lead_in: LeadIn) -> Side | None:
    """Return the side of the first bind-off row; raises Unread where the words contradict the piece."""
    told = OTHER_SIDE[lead_in.side] if lead_in.side is not None else None
    own = ARMHOLE_SIDE.get(passage.piece)
    if told is not None and own is not None and told != own:
        raise Unread(
            "sides-contradict",
            f"the lead-in makes the first bind-off row a {told} row, but the armhole edge of a "
            f"{passage.piece} is at the beginning of {own} rows",
            passage.span,
        )
    return told or own
