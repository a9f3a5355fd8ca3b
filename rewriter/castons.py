"""Stepped cast-ons: where a piece worked from the top grows, and whether that is its shoulders."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter import regex
from rewriter.document import Document
from rewriter.edgenames import TOP_DOWN
from rewriter.evidence import Evidence
from rewriter.evidencewords import BODIES
from rewriter.frames import Frame, Statement
from rewriter.parsing import Part
from rewriter.passages import Passage, piece_of, two_rows
from rewriter.rowframes import is_stepped
from rewriter.rowkinds import is_plain, turns

_FEW = 4
"""Plain rows at most between the first cast-on and the shoulders of a piece, where no word names them."""


@dataclass(frozen=True)
class Begun:
    """The cast-on with which a piece begins, where only plain rows lie between it and the steps."""

    statement: Statement
    """Its sentence; what stands before the cast-on is left out."""
    count: Part
    between: tuple[Statement, ...]
    """The sentences between it and the passage, what follows in its own sentence first."""

    @property
    def is_near(self) -> bool:
        """Whether no more than a few rows lie between: an underarm is cast on far from the top."""
        rows = 0
        for frame in (f for s in self.between for f in s.frames):
            told = frame.one("rows")
            most = (
                max((v or 0 for v in told.amount.values), default=1) if told and told.amount else 1
            )
            rows += most if frame.verb in ("work", "back_row", "work_row") else 0
            extent = frame.one("extent")
            if "measure" in frame.parts or (extent is not None and extent.kind != "to_end"):
                return False
        return rows <= _FEW


@dataclass
class CastOnPassage(Passage):
    """A run of sentences that cast sts on at the edges of a piece."""

    begun: Begun | None = None
    heading: str = ""
    """The heading it stands under, in lower case."""
    ends_piece: bool = False
    """Another piece, or another heading, follows right on it."""


def as_bind_offs(statement: Statement) -> Statement:
    """Return a sentence with its cast-ons told as bind-offs, at the beginning of their rows.

    The words for rows, edges, times and sizes are the same for both, so one reader serves them.
    """
    frames = []
    at_end = False
    for frame in statement.frames:
        if frame.verb == "cast_on":
            at_end = told_at_end(frame, at_end)
            parts = {k: v for k, v in frame.parts.items() if k != "end"}
            if at_end and "end" in frame.parts:
                parts["beg"] = frame.parts["end"]
            frame = replace(frame, verb="bind_off", parts=parts)
        frames.append(frame)
    return replace(statement, frames=frames)


def told_at_end(frame: Frame, before: bool) -> bool:
    """Say whether sts are cast on at the end of rows; a chain item goes on as the one `before` it."""
    if "end" in frame.parts:
        return True
    return before and frame.inherited and "beg" not in frame.parts


def opens_cast_on(statement: Statement) -> bool:
    """Say whether a sentence casts sts on in rows that it tells."""
    if any(f.verb == "bind_off" for f in statement.frames):
        return False  # a buttonhole
    return any(
        f.verb == "cast_on" and (_is_stepped(f) or (statement.label is not None and f.amount))
        for f in statement.frames
    )


def _is_stepped(frame: Frame) -> bool:
    return not frame.takes_all and (is_stepped(frame) or "end" in frame.parts)


def _in_every_row(statement: Statement) -> bool:
    """Say whether sts are cast on in every row, up to a count perhaps."""
    every = {"every_row", "every_other", "every_side_row"}
    return any(
        f.verb == "cast_on" and any(p.kind in every for p in f.parts.get("rows", []))
        for f in statement.frames
    )


def find_cast_ons(
    document: Document, statements: Sequence[Statement | None]
) -> list[CastOnPassage]:
    """Return the runs of sentences that cast on in two rows or more, in order."""
    out: list[CastOnPassage] = []
    at = 0
    while at < len(statements):
        statement = statements[at]
        if statement is None or not opens_cast_on(statement):
            at += 1
            continue
        stop = _stop(document, statements, at)
        run = [s for s in statements[at:stop] if s is not None]
        first, lead = _without_lead(run[0])
        body = [first, *run[1:]]
        behind = statements[stop] if stop < len(statements) else None
        if any(turns(s) for s in [*body, behind] if s):
            at = stop  # in short rows already
            continue
        if two_rows([as_bind_offs(s) for s in body]) or any(map(_in_every_row, body)):
            out.append(_passage(document, statements, at, stop, body, lead))
        at = stop
    return out


def _stop(document: Document, statements: Sequence[Statement | None], start: int) -> int:
    """Return the index after the last sentence of a run; plain rows behind it are none of it."""
    home = document.sentences[start].piece_at
    stop = after = start + 1
    while after < len(statements):
        statement = statements[after]
        if statement is None or document.sentences[after].piece_at != home:
            break
        steps = opens_cast_on(statement) or _goes_on(statement)
        if not steps and not is_plain(statement):
            break
        after += 1
        if steps:
            stop = after
    return stop


def _goes_on(statement: Statement) -> bool:
    """Say whether a sentence repeats rows, counts the sts, or names the sizes it is for."""
    told = [f for f in statement.frames if f.verb or f.parts]
    if any(f.verb == "repeat" for f in told):
        return True
    return not any(f.verb for f in told) and all("rows" not in f.parts for f in told)


def _without_lead(statement: Statement) -> tuple[Statement, list[Frame]]:
    """Take off what stands before the first stepped cast-on: "Cast on 31 sts, then cast on 7 sts at ..."."""
    if statement.label is not None:
        return statement, []
    at = next(i for i, f in enumerate(statement.frames) if f.verb == "cast_on" and _is_stepped(f))
    lead = [f for f in statement.frames[:at] if f.verb or f.parts]
    if not lead:
        return statement, []
    return replace(statement, frames=statement.frames[at:]), lead


def _passage(
    document: Document,
    statements: Sequence[Statement | None],
    start: int,
    stop: int,
    body: list[Statement],
    lead: list[Frame],
) -> CastOnPassage:
    home = document.sentences[start]
    before = [
        s
        for i, s in enumerate(statements[:start])
        if s is not None and document.sentences[i].piece_at == home.piece_at
    ]
    follows = [
        s
        for i, s in enumerate(statements[stop:], stop)
        if s is not None and document.sentences[i].piece_at == home.piece_at
    ]
    nearest = [
        s.view.text
        for s in document.sentences[max(0, start - 4) : start]
        if s.piece_at == home.piece_at and not s.heading
    ]
    following = document.sentences[stop : stop + 1]
    if following and not _WORKS.search(following[0].view.text):
        following = document.sentences[stop : stop + 2]
    ahead = " ".join(s.view.text for s in following)
    passage = CastOnPassage(
        body, before, lead, piece_of(home), home.piece_at, home.topics, follows, nearest, ahead
    )
    whole = [s for s in statements[:start] if s is not None]
    own = [replace(body[0], frames=lead)] if lead else []
    passage.ends_piece = any(s.heading or s.piece_at != home.piece_at for s in following)
    headings = [
        s.view.text for s in document.sentences[:start] if s.heading and s.piece_at == home.piece_at
    ]
    passage.heading = headings[-1] if headings else ""
    passage.begun = _begun([*(s for s in whole if s in before), *own])
    return passage


_WORKS = regex.compile(r"\b(?:work|cont\w*|knit|purl|patt\w*|rib|k|p)\b")
_PLAIN = frozenset({"", "work", "back_row", "ending"})


def _begun(before: Sequence[Statement]) -> Begun | None:
    """Return the cast-on that the piece begins with, if nothing but plain rows follows on it."""
    between: list[Statement] = []
    for statement in reversed(before):
        told = [f for f in statement.frames if f.verb or f.parts or f.residue]
        casts = [i for i, f in enumerate(told) if f.verb == "cast_on"]
        if not casts:
            if not is_plain(statement) and any(f.verb not in _PLAIN for f in told):
                return None
            between.insert(0, statement)
            continue
        at = casts[-1]
        count = told[at].one("count")
        rest = replace(statement, frames=told[at + 1 :])
        if len(casts) > 1 or count is None or count.amount is None or _is_stepped(told[at]):
            return None
        if rest.frames:
            between.insert(0, rest)
        return Begun(statement, count, tuple(between))
    return None


# --- what it shapes -------------------------------------------------------------------------------

_SHOULDER = regex.compile(r"\bshoulders?\b")
_NO_SHOULDER = (
    (
        "armhole",
        "the underarm",
        regex.compile(r"\bunder\s?-?arms?\b|\barm\s?holes?\b(?!\s+edge)|\bgussets?\b"),
    ),
    ("other", "a sleeve", regex.compile(r"\b(?:sleeves?|cuffs?|dolman|batwing|magyar|kimono)\b")),
    ("other", "a steek", regex.compile(r"\bsteeks?\b")),
    ("other", "a buttonhole or band", regex.compile(r"\bbutton|\bbands?\b|\bborders?\b")),
    ("other", "a thumb, heel or hem", regex.compile(r"\b(?:thumb|heel|hem|tail|vent|flap)\b")),
)
_NECK = regex.compile(r"\bneck(?:line)?\b")
_SIDEWAYS = regex.compile(r"(?i)\bsideways\b|\b(?:side|cuff)[\s-]to[\s-](?:side|cuff)\b")


def kind_of_cast_on(passage: CastOnPassage, source: str) -> Evidence:
    """Say whether cast-ons shape the shoulders of a piece worked from the top, and why.

    Underarms and sleeves are cast on in the same words, so something must name the shoulder, or
    the piece must begin there: at the neck's sts, or in a draft that says it is worked from the top.
    """
    words = " ".join(s.sentence.view.text for s in passage.statements)
    first = passage.begun.statement.sentence.view.text if passage.begun else ""
    told = bool(_SHOULDER.search(words)) or bool(_SHOULDER.search(first))
    named = told or "shoulder" in passage.topics[-1:]
    near = " ".join([*passage.nearest[-1:], passage.heading, words])
    begins = passage.begun is not None
    if passage.piece == "other":
        return Evidence("other", "it stands in a part that has no shoulders")
    for kind, what, pattern in _NO_SHOULDER:
        if not pattern.search(f"{passage.heading} {words}" if named else near):
            continue
        if named:
            return Evidence(None, f"its words name the shoulder and {what}")
        return Evidence("armhole" if kind == "armhole" else "other", f"its words name {what}")
    if named and passage.piece not in (BODIES | {"unknown"}):
        return Evidence(None, f"its words name the shoulder, but it stands in the {passage.piece}")
    if passage.piece not in (BODIES | {"unknown"}):
        return Evidence("other", f"sts are cast on in the {passage.piece}")
    if {"armhole", "cap"} & set(passage.topics[-1:]):
        return Evidence("armhole", "its heading names the armhole")
    if named and _SIDEWAYS.search(source):
        return Evidence(None, "its words name the shoulder, but the draft is worked sideways")
    if named and (begins or (told and TOP_DOWN.search(source))):
        return Evidence("shoulder", "its words name the shoulder")
    if named:
        return Evidence(None, "its words name the shoulder, but the piece does not begin here")
    if passage.begun is None or not passage.begun.is_near:
        return Evidence("other", "sts are cast on here, and no word names the shoulder")
    if _NECK.search(first):
        return Evidence("shoulder", "the sts it begins with are the neck's")
    if TOP_DOWN.search(source):
        return Evidence("shoulder", "it begins a piece worked from the top")
    return Evidence("other", "sts are cast on here, and no word names the shoulder")
