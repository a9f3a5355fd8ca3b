"""Read a draft: sizes, pieces, stepped passages, and what is understood of each."""

from __future__ import annotations

from collections import Counter
from copy import copy
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import NamedTuple

from rewriter.answers import AnswerBook, Given, PassageKey
from rewriter.castonmodel import read_cast_on
from rewriter.castons import CastOnPassage, find_cast_ons, kind_of_cast_on
from rewriter.centrestep import centre_step, spelled_out
from rewriter.countedside import side_by_counting, side_by_height
from rewriter.counts import count_before, ends_with
from rewriter.dividing import Divided
from rewriter.document import Document, forget_document, split_document
from rewriter.doubt import Unread
from rewriter.doubts import doubt_what_stands_beside
from rewriter.edgenames import OPPOSITE
from rewriter.evidence import Evidence, PassageKind, kind_of
from rewriter.frames import Statement
from rewriter.halves import read_divided
from rewriter.leadin import read_lead_in
from rewriter.leadmodel import LeadIn
from rewriter.likeother import LAST_STEP, counted_by_other, steps_alike
from rewriter.mixedcolumns import in_mixed_columns
from rewriter.notions import Abbreviations, find_abbreviations
from rewriter.oneside import read_one_side
from rewriter.onesidewords import is_one_side
from rewriter.options import Answer, Options
from rewriter.overlooked import not_followed, overlooked
from rewriter.passages import Passage, find_passages, leaves_nothing, statements_of
from rewriter.patternrows import tell_side
from rewriter.references import pieces_referred_to, read_reference, references
from rewriter.rowbefore import RowBefore, first_row_inside, take_row_before
from rewriter.rows import OTHER_SIDE, Side
from rewriter.shaping import read_shaping
from rewriter.shapingmodel import Inferred, Shaping
from rewriter.sizes import Sizes, forget_lists, read_sizes
from rewriter.slipped import sloped_off
from rewriter.source import UnreadableDraft
from rewriter.spans import SourceText, Span
from rewriter.statedhits import Hit, hits_in
from rewriter.stitchwork import Fabric, fabric_of
from rewriter.style import Terms, measure_terms
from rewriter.twoballs import divided_parts


@dataclass
class Finding:
    """A stepped passage and what is understood of it."""

    id: str
    passage: Passage
    evidence: Evidence
    lead_in: LeadIn
    before: RowBefore | None
    """The row before the first bind-off, where it has words of its own."""
    fabric: Fabric
    shaping: Shaping | None
    unread: Unread | None
    """Why there is no shaping model, where there is none."""
    key: PassageKey | None = None
    """By what an answer finds it again in a revision of the draft; None where nothing is asked."""
    refers_to: str | None = None
    """The shoulder by which its words tell this one ("as for back")."""

    @property
    def kind(self) -> str:
        """What the passage shapes; "other" while it must be asked."""
        return self.evidence.kind or "other"


@dataclass
class Draft:
    """A draft as understood."""

    document: Document
    statements: list[Statement | None]
    sizes: Sizes
    terms: Terms
    abbreviations: Abbreviations | None = None
    """The draft's own list of abbreviations."""
    findings: list[Finding] = field(default_factory=list)
    short_rows: list[Passage] = field(default_factory=list)
    """Shoulders that are already in short rows."""
    book: AnswerBook = field(default_factory=lambda: AnswerBook(Options(), 1))
    """The reader's answers."""

    _told_rows: list[list[Hit]] = field(default_factory=list)
    """What is kept of them, for all who share the reading."""

    @property
    def told_rows(self) -> list[Hit]:
        """The numbers of rows that the draft states, in text order."""
        if not self._told_rows:
            self._told_rows.append(hits_in(self.document))
        return self._told_rows[0]


MOST_PASSAGES = 1000
"""Shapings in one text: a booklet of a hundred patterns has some six hundred."""


_KEPT = 100_000
"""Letters of the longest draft that is kept when it has been read."""


def read_draft(source: SourceText, options: Options, sizes: Sizes | None = None) -> Draft:
    """Read a decoded draft; `sizes` are given where another text has settled them.

    What is read depends on the text and the answers alone, so a draft that is rewritten with one turning
    method after the other, as on the page, is read once. Nothing that is read may be changed afterwards,
    but for the list of findings and the book of answers, which each caller has for itself.

    Raises UnreadableDraft for a text with far more shapings than a booklet has.
    """
    answered = _Answered(tuple(sorted(options.assume.items())), options.answers)
    read = _read_once if len(source.text) <= _KEPT else _read_once.__wrapped__
    draft = copy(read(source, answered, sizes))
    draft.findings, draft.book = list(draft.findings), draft.book.copy()
    return draft


def forget_drafts() -> None:
    """Forget the drafts that were read last, so that each is read as if it were new."""
    _read_once.cache_clear()
    find_abbreviations.cache_clear()
    forget_lists()
    forget_document()


class _Answered(NamedTuple):
    """What of the options a reading depends on."""

    assume: tuple[tuple[str, str], ...]
    answers: tuple[Answer, ...]


@lru_cache(maxsize=4)
def _read_once(source: SourceText, answered: _Answered, sizes: Sizes | None) -> Draft:
    options = Options(assume=dict(answered.assume), answers=answered.answers)
    document = split_document(source)
    sizes = sizes or read_sizes(document)
    document, statements = statements_of(document, sizes)
    draft = Draft(
        document, statements, sizes, measure_terms(document), find_abbreviations(source.text)
    )
    draft.book = AnswerBook(options, len(sizes))
    counts: Counter[str] = Counter()
    seen_pieces: set[int] = set()
    passages = find_passages(document, statements)
    if len(passages) > MOST_PASSAGES:
        raise UnreadableDraft(
            f"{source.name}: more than {MOST_PASSAGES} shapings in one text; split it into its patterns"
        )
    passages += overlooked(document, statements, passages)
    for passage in sorted(passages, key=lambda p: p.span):
        smooth = sloped_off(passage)
        if passage.short_rows and smooth is None:
            draft.short_rows.append(passage)
            continue
        finding = _read_passage(draft, passage, passage.piece_at not in seen_pieces, counts)
        finding = _counted_alike(draft, finding, passage.piece_at not in seen_pieces)
        if (stop := in_mixed_columns(passage) or smooth) is not None:
            finding.shaping, finding.unread = None, stop
            if finding.evidence.kind is None:
                finding.evidence = Evidence("shoulder", "it may shape one")
        if passage.piece != "other" or finding.evidence.kind != "other":
            seen_pieces.add(passage.piece_at)
        draft.findings.append(finding)
    doubt_what_stands_beside(draft)
    for finding in list(draft.findings):
        draft.findings += _references_to(draft, finding, counts)
    draft.findings += _references_to_nothing(draft, counts)
    for cast_on in find_cast_ons(document, statements):
        draft.findings.append(_read_cast_on(draft, cast_on, counts))
    draft.findings.sort(key=lambda f: f.passage.span)
    return draft


def _read_cast_on(draft: Draft, passage: CastOnPassage, counts: Counter[str]) -> Finding:
    """Read cast-ons in steps, which are the shoulders of a piece worked from the top, or none."""
    evidence = kind_of_cast_on(passage, draft.document.source.text)
    name = _name(passage, evidence, counts)
    key = draft.book.key(passage)
    given = draft.book.given(key, name)
    passage = given.applied(passage, draft.sizes)
    evidence = _answered(evidence, given, passage, draft.book)
    fabric = fabric_of(draft.document, passage)
    lead_in = read_lead_in(passage, fabric)
    shaping, unread = None, None
    if evidence.kind == "shoulder":
        try:
            shaping = read_cast_on(passage, lead_in, fabric, draft.sizes, given.side)
        except Unread as reason:
            unread = reason
    return Finding(name, passage, evidence, lead_in, None, fabric, shaping, unread, key)


def called(draft: Draft, finding: Finding) -> str:
    """Return what the other pieces call a finding's piece: one without a name is their back."""
    piece = finding.passage.piece
    named = {f.passage.piece for f in draft.findings}
    return "back" if piece == "unknown" and "back" not in named else piece


def piece_named(finding: Finding) -> str:
    """Return a finding's piece as a message names it: "the back"."""
    piece = finding.passage.piece
    return "this piece" if piece in ("unknown", "other") else f"the {piece}"


def _references_to(draft: Draft, told: Finding, counts: Counter[str]) -> list[Finding]:
    """Return the shoulders at one edge that are told by a shoulder at two."""
    if told.kind != "shoulder" or told.shaping is None or not told.shaping.two_edged:
        return []
    out = []
    for reference in references(
        draft.document, draft.statements, called(draft, told), told.passage.piece_at
    ):
        passage = reference.passage
        if not reference.one_edge:
            continue
        fabric = fabric_of(draft.document, passage)
        lead_in = read_lead_in(passage, fabric)
        before = take_row_before(lead_in, len(draft.sizes))
        if before is not None and before.stretch is not None:
            lead_in.obstacle, before = before.statement, None
        evidence = Evidence("shoulder", "its own words name the shoulder")
        shaping, unread = None, None
        try:
            shaping = read_reference(reference, told.shaping, lead_in, before, draft.sizes)
        except Unread as reason:
            unread = reason
        if not reference.sure and (unread or lead_in.obstacle or lead_in.doubt or before):
            continue  # the sentence stays, and is named beside the new rows
        name = _asked_within(draft, passage.span) or _name(passage, evidence, counts)
        out.append(
            Finding(
                name, passage, evidence, lead_in, before, fabric, shaping, unread, None, told.id
            )
        )
    return out


def _asked_within(draft: Draft, place: Span) -> str | None:
    """Take out what would be asked of words that are understood now as told elsewhere; return its name."""
    for finding in draft.findings:
        span = finding.passage.span
        if not finding.passage.followed and place.start <= span.start and span.end <= place.end:
            draft.findings.remove(finding)
            return finding.id
    return None


def _references_to_nothing(draft: Draft, counts: Counter[str]) -> list[Finding]:
    """Return the shoulders told by those of a piece that is not in the text, as in a cutting."""
    there = {s.piece for s in draft.document.sentences} | {called(draft, f) for f in draft.findings}
    out = []
    for piece in sorted(pieces_referred_to(draft.document) - there):
        for reference in references(draft.document, draft.statements, piece, None):
            passage = reference.passage
            evidence = Evidence("shoulder", "its own words name the shoulder")
            fabric = fabric_of(draft.document, passage)
            of_front = piece == "front" and passage.piece in OPPOSITE
            message = (
                "this shoulder is told by that of the other front: write it out"
                if of_front
                else f"this shoulder is told by that of the {piece}, which is not in this text"
            )
            reason = Unread("told-elsewhere", message, passage.span)
            name = _name(passage, evidence, counts)
            lead_in = read_lead_in(passage, fabric)
            out.append(Finding(name, passage, evidence, lead_in, None, fabric, None, reason))
            _keep_other_front(draft, passage)
    return out


def _keep_other_front(draft: Draft, told: Passage) -> None:
    """Keep the steps of a front by which the other front's shoulder is told: its short rows lie on rows
    of the other side there."""
    for finding in draft.findings:
        fronts = {finding.passage.piece, told.piece} == {"left front", "right front"}
        if fronts and finding.kind == "shoulder" and finding.shaping is not None:
            finding.shaping = None
            finding.unread = Unread(
                "told-elsewhere",
                "the shoulder of the other front is told by this one, whose short rows would lie on rows of "
                "the other side there: write it out first",
                told.span,
            )


def _read_passage(draft: Draft, passage: Passage, first: bool, counts: Counter[str]) -> Finding:
    key = draft.book.key(passage)
    given = draft.book.given(key)
    finding = _understood(draft, given.applied(passage, draft.sizes), first)
    finding.id, finding.key = _name(passage, finding.evidence, counts), key
    named = draft.book.given(key, finding.id)
    if named.reads_anew and named != given:
        # an answer to the passage by its name, which only a reading gives it
        again = _understood(draft, named.applied(passage, draft.sizes), first)
        again.id, again.key = finding.id, key
        finding = again
    return _with_answers(draft, finding, named)


def _counted_alike(draft: Draft, finding: Finding, first: bool) -> Finding:
    """Return a side whose last step is unknown as one that is as wide as the other side before it."""
    counted = counted_by_other(draft.findings, finding)
    if counted is None:
        return finding
    again = _understood(draft, replace(finding.passage, counted=counted), first)
    if again.shaping is None or not steps_alike(draft.findings, again):
        return finding
    again.id, again.key = finding.id, finding.key
    again.shaping = again.shaping.model_copy(
        update={"inferred": (*again.shaping.inferred, LAST_STEP)}
    )
    return again


def _with_answers(draft: Draft, finding: Finding, given: Given) -> Finding:
    """Return a finding with its kind and the side of its first row as they were answered."""
    passage = finding.passage
    finding.evidence = _answered(finding.evidence, given, passage, draft.book)
    shaping, at_neck = finding.shaping, finding.evidence.kind == "neck"
    if at_neck and passage.followed:
        shaping, finding.unread = _model(
            draft, passage, finding.lead_in, finding.before, None, at_neck=True
        )
        finding.shaping = shaping
    if given.side is None or not passage.followed:
        return finding
    if shaping is None or shaping.first_side is None:
        finding.shaping, finding.unread = _model(
            draft, passage, finding.lead_in, finding.before, given.side, at_neck=at_neck
        )
    elif shaping.first_side != given.side:
        draft.book.note(
            "first-side", passage, f"the draft itself makes it a {shaping.first_side} row"
        )
    return finding


def _answered(evidence: Evidence, given: Given, passage: Passage, book: AnswerBook) -> Evidence:
    """Return what a passage shapes, as answered where the draft leaves it open."""
    if given.kind is None:
        return evidence
    kind: PassageKind = "shoulder" if given.kind == "shoulder" else "other"
    if evidence.kind is None:
        return Evidence(kind, "the answer given")
    if (evidence.kind == "shoulder") != (kind == "shoulder"):
        book.note("kind", passage, f"the draft itself tells: {evidence.because}")
    return evidence


def _understood(draft: Draft, passage: Passage, first: bool) -> Finding:
    """Read a passage; what it shapes may be left open."""
    fabric = fabric_of(draft.document, passage)
    lead_in = read_lead_in(passage, fabric)
    tell_side(draft.document, draft.statements, lead_in, passage.span.start)
    lead_in.counted = side_by_counting(passage, fabric) or side_by_height(passage)
    lead_in.stocking = fabric == "stocking"
    before = first_row_inside(passage, lead_in, len(draft.sizes)) or take_row_before(
        lead_in, len(draft.sizes)
    )
    shaping, unread = _model(draft, passage, lead_in, before, None)
    if not passage.followed:
        shaping, unread = None, not_followed(passage)
    nothing_left = leaves_nothing(passage) or (
        shaping is not None
        and (ends_with(passage, shaping.neck) or all(n == 0 for n in shaping.neck))
        and count_before(passage, len(draft.sizes)) is not None
    )
    own = " ".join(
        s.view.text
        for s in draft.document.sentences
        if s.piece_at == passage.piece_at and s.span.start < passage.span.end
    )
    evidence = kind_of(passage, draft.document.source.text, own, nothing_left, first)
    if not passage.followed and evidence.kind == "armhole" and not passage.topics:
        evidence = Evidence(None, "the rows of these bind-offs are not understood")
    return Finding("", passage, evidence, lead_in, before, fabric, shaping, unread)


def _name(passage: Passage, evidence: Evidence, counts: Counter[str]) -> str:
    base = f"{passage.piece.replace(' ', '-')}/{evidence.kind or 'unknown'}"
    counts[base] += 1
    return f"{base}/{counts[base]}"


def _model(
    draft: Draft,
    passage: Passage,
    lead_in: LeadIn,
    before: RowBefore | None,
    answer: Side | None,
    at_neck: bool = False,
) -> tuple[Shaping | None, Unread | None]:
    try:
        parts = None if at_neck else divided_parts(passage.statements)
        told = None if at_neck or parts is not None else centre_step(passage.statements)
        if told is not None:
            document, terms = draft.document, draft.terms
            first = answer or (OTHER_SIDE[lead_in.side] if lead_in.side else None)
            parts = spelled_out(told, passage, document, draft.sizes, terms, first)
            return _read_spelled(passage, parts, lead_in, draft.sizes, answer), None
        if parts is not None:
            return read_divided(passage, parts, lead_in, draft.sizes, answer), None
        if not at_neck and is_one_side(passage.statements):
            ahead = _behind(draft, passage)
            return read_one_side(passage, lead_in, draft.sizes, answer, ahead), None
        return read_shaping(passage, lead_in, draft.sizes, before, answer, at_neck), None
    except Unread as unread:
        return None, unread


def _behind(draft: Draft, passage: Passage) -> str:
    """Return the words of a passage's piece behind it, in lower case."""
    return ". ".join(
        s.view.text
        for s in draft.document.sentences
        if s.piece_at == passage.piece_at and s.span.start >= passage.span.end
    )


def _read_spelled(
    passage: Passage, parts: Divided, lead_in: LeadIn, sizes: Sizes, answer: Side | None
) -> Shaping:
    """Return the model of rows that were spelled out; what is amiss with them is the passage's."""
    mirror = Inferred(
        what="the second side is the mirror of the first, at its neck edge too",
        because="both sides are told in one, and the sums meet",
    )
    try:
        shaping = read_divided(passage, parts, lead_in, sizes, answer)
        return shaping.model_copy(update={"inferred": (*shaping.inferred, mirror)})
    except Unread as unread:
        raise Unread(unread.code, unread.message, passage.span, unread.sizes) from None
