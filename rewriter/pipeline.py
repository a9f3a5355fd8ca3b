"""The one place that knows the order: read, plan, write, prove, report."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from rewriter import edits as editing
from rewriter.castons import find_cast_ons
from rewriter.cautions import warn_of_cautions
from rewriter.diagnose import Notes, diagnose
from rewriter.document import split_document
from rewriter.doubt import Unread
from rewriter.edits import Edit
from rewriter.explain import side_edits
from rewriter.fitting import fitted
from rewriter.formats import open_draft
from rewriter.formats.carrier import AUTHOR
from rewriter.formats.outcome import draft_for, write_revised
from rewriter.frames import Statement
from rewriter.joins import (
    note_gained_rows,
    note_held,
    note_joins,
    seam_edits,
    steps_edits,
)
from rewriter.leftovers import note_leftovers
from rewriter.linked import (
    leaning_edits,
    left_leaning,
    linked_edits,
    matching_edits,
    refuse_other_words,
    reworded_edits,
)
from rewriter.materials import notion_edits
from rewriter.mirrored import told_by_side
from rewriter.necksides import sides_of_necks
from rewriter.options import Changes, Options, Shoulders
from rewriter.outcome import Outcome
from rewriter.partners import (
    bound_off_front,
    front_untold,
    warn_of_other_edges,
    why_no_live_seam,
    why_sewn,
)
from rewriter.passages import Passage, find_passages, statements_of
from rewriter.questions import KIND_ASKED, left_by_answer, note_answers
from rewriter.reading import Draft, Finding, called, read_draft
from rewriter.references import references
from rewriter.report import Report
from rewriter.reporting import report_of
from rewriter.rereading import prove_revision
from rewriter.revise import Revision, revise
from rewriter.sheet import sheet_of
from rewriter.sided import sided_edits
from rewriter.spacing import note_spacing
from rewriter.spans import SourceText, Span, line_starts
from rewriter.stated import note_stated, stated_edits
from rewriter.tosteps import steps_text
from rewriter.verify import NotProven

# What is a question to the reader, and what is deliberately left alone.
_QUESTIONS = frozenset(
    {
        "sums", "sides-contradict", "odd-rows", "last-step-unknown", "list-length", "zero-count",
        "rows-not-counted", "rows-unclear", "repeat-unclear", "edge-and-rows", "edges-differ",
        "words-not-understood", "rows-out-of-order", "no-count", "lead-in-too-short", "kind-unknown",
        "told-elsewhere", "broken-off", "count-unclear", "verb-missing", "lead-in-unclear",
        "decrease-on-turn", "not-followed", "neck-with-step", "row-behind", "steps-unclear", "sign-inside",
        "columns-mixed", "repeated-rows", "list-unread", "size-not-told", "lead-in-for-some",
    }
)  # fmt: skip


@dataclass
class _Work:
    draft: Draft
    options: Options
    notes: Notes
    outcomes: dict[str, Outcome] = field(default_factory=dict)
    revisions: list[Revision] = field(default_factory=list)
    reread: Sequence[Statement | None] = ()
    """The sentences of the text that was proven last."""


CONVERTIBLE = "can be turned into short rows: use rewrite"
"""Reason given by a reading for a passage that a rewriting would convert."""


def read_text(source: SourceText, options: Options) -> Report:
    """Say what is understood of a draft, and what a rewriting would do; nothing is rewritten.

    The report holds the technical editing sheet of the draft too.
    """
    report = rewrite_text(source, options)
    sheet = sheet_of(read_draft(source, options), options)
    passages = tuple(
        p.model_copy(update={"status": "left", "reason": CONVERTIBLE})
        if p.status == "rewritten"
        else p
        for p in report.passages
    )
    # what only the old steps needed is of use to one who rewrites them
    told = tuple(d for d in report.diagnostics if d.code != "explained-in-vain")
    return report.model_copy(
        update={
            "passages": passages,
            "edits": (),
            "output": source.text,
            "sheet": sheet,
            "diagnostics": told,
        }
    )


def rewrite_text(source: SourceText, options: Options) -> Report:
    """Rewrite the shoulders of a draft and prove each rewriting before it is taken."""
    if options.to == "steps":
        return steps_text(source, options)
    return rework(source, options).report


@dataclass(frozen=True)
class Rework:
    """A rewriting with what it was made from, for those who show its rows."""

    draft: Draft
    revisions: tuple[Revision, ...]
    """The passages that were rewritten and proven, in text order."""
    edits: tuple[Edit, ...]
    report: Report
    statements: tuple[Statement | None, ...]
    """The sentences of the revised draft, as they were read for the proof; none where nothing changed."""


def rework(source: SourceText, options: Options) -> Rework:
    """Rewrite a draft into short rows, and keep its models, plans and edits."""
    draft = read_draft(source, options)
    work = _Work(draft, options, Notes())
    diagnose(draft, work.notes, options)
    candidates: list[Finding] = []
    for finding in draft.findings:
        outcome = _not_converted(finding, options)
        if outcome is None:
            candidates.append(finding)
        else:
            work.outcomes[finding.id] = outcome
    join = _join(work, candidates)
    _revise_all(work, candidates, join)
    edits, output = _prove_all(work)
    _warn_of_sides_that_lean(work, edits)
    warn_of_other_edges(draft, work.revisions, work.outcomes, work.notes)
    note_joins(draft, work.revisions, work.notes)
    warn_of_cautions(draft, work.revisions, options, work.notes)
    note_answers(draft, work.outcomes, edits, work.notes)
    note_spacing(draft, work.revisions, work.notes)
    proofs = {name: outcome.proofs for name, outcome in work.outcomes.items()}
    note_stated(draft, work.revisions, proofs, edits, work.notes)
    note_leftovers(draft, edits, output, work.notes)
    if options.exact_live:
        note_gained_rows(work.revisions, work.notes)
    report = report_of(draft, options, work.outcomes, work.revisions, edits, work.notes, output)
    return Rework(draft, tuple(work.revisions), tuple(edits), report, tuple(work.reread))


def _warn_of_sides_that_lean(work: _Work, edits: Sequence[Edit]) -> None:
    """Name the shoulders told by one that is now in short rows, where each side is worked by itself."""
    draft = work.draft
    for revision in work.revisions:
        finding = revision.finding
        if finding.kind != "shoulder":
            continue
        for place in told_by_side(draft.document, finding.passage):
            if any(e.why == "matching" and place.start <= e.span.start <= place.end for e in edits):
                continue  # its words follow
            work.notes.warn(
                "leans-on-short-rows",
                "this tells a shoulder by another one and by a side: its short rows turn on the other side, "
                "and the straight rows before them end one row earlier, on the other side, too",
                place,
            )
        if not revision.shaping.two_edged:
            continue
        piece = called(draft, finding)
        told = references(draft.document, draft.statements, piece, finding.passage.piece_at)
        for reference in told:
            if any(r.finding.passage.span == reference.passage.span for r in work.revisions):
                continue  # its rows are written out
            told_here = f"this shoulder is told by that of the {piece}, which is now in short rows"
            if reference.at_once:
                work.notes.warn(
                    "leans-on-short-rows",
                    f"{told_here}: its turns come at both armhole edges here too, each side with its own "
                    "yarn; what is told there of the neck, and of markers beside it, falls away",
                    reference.passage.span,
                )
            elif reference.apart:
                work.notes.warn(
                    "leans-on-short-rows",
                    f"{told_here} over both shoulders: here each side has the turns of its own armhole edge "
                    "only, and what is told there of the neck, and of markers beside it, falls away",
                    reference.passage.span,
                )


def _not_converted(finding: Finding, options: Options) -> Outcome | None:
    """Return what becomes of a passage that is not to be converted, or None."""
    kind = finding.evidence.kind
    if kind is None:
        asked = KIND_ASKED.format(because=finding.evidence.because)
        return Outcome("question", f"{asked}; answer kind=shoulder or kind=other")
    if kind not in options.kinds:
        return Outcome("left", f"{kind} steps are left as they are ({finding.evidence.because})")
    if finding.unread is not None:
        return _refusal(finding.unread, finding)
    return None


def _refusal(unread: Unread, finding: Finding) -> Outcome:
    if left_by_answer(unread, finding.passage.decisions):
        return Outcome("left", f"left as it is, as answered: {unread.message}", unread)
    return Outcome("question" if unread.code in _QUESTIONS else "left", unread.message, unread)


def _join(work: _Work, candidates: Sequence[Finding]) -> Shoulders:
    """Return the join that can be had: live sts never stay without a partner."""
    asked = work.options.shoulders
    if asked == "sewn" or not any(f.kind == "shoulder" for f in candidates):
        return "sewn"
    shoulders = [f for f in work.draft.findings if f.kind == "shoulder" or f.evidence.kind is None]
    reason = why_sewn(shoulders, work.options.exact_live)
    if reason is None and (front := bound_off_front(work.draft, shoulders)):
        reason = "the front is bound off straight, so that these sts have no partner", front
    if reason is None and (front := front_untold(work.draft, shoulders)):
        reason = (
            "no shoulder was found beside this neck, so that these sts may have no partner",
            front,
        )
    if reason is None:
        reason = why_no_live_seam(work.draft, shoulders, told=asked != "held")
    leaning = [r for f in shoulders for r in left_leaning(work.draft, f)]
    if reason is None and leaning:
        told = "the rows of a shoulder told by another one do not say that its sts are kept"
        reason = told, leaning[0].passage.span
    if reason is None:
        if asked == "held":
            note_held(work.draft, work.notes)
        return asked
    _warn_sewn(work, *reason)
    return "sewn"


_ASKED = {
    "three-needle": "a three-needle join was",
    "graft": "a grafted join was",
    "held": "live shoulders on holders were",
}


def _warn_sewn(work: _Work, why: str, place: Span) -> None:
    """Say what join was asked for, what was made in its place, and why."""
    work.notes.warn(
        "bound-off-instead",
        f"{_ASKED[work.options.shoulders]} asked for (--shoulders {work.options.shoulders}), but the "
        f"shoulders are bound off in one sweep and sewn, for {why}",
        place,
    )


def _revise_all(work: _Work, candidates: Sequence[Finding], join: Shoulders) -> None:
    noted = False
    for finding in candidates:
        try:
            own_join = join if finding.kind == "shoulder" else "sewn"
            revision = revise(work.draft, finding, own_join, work.options, not noted)
            if revision.plan.moves_lead_in:
                revision.edits += leaning_edits(work.draft, finding, revision.shaping)
                refuse_other_words(work.draft, finding, revision.shaping)
        except Unread as unread:
            work.outcomes[finding.id] = _refusal(unread, finding)
            continue
        noted = noted or revision.plan.slopes
        work.revisions.append(revision)
    _keep_sides_together(work)
    _keep_references_together(work)
    lost = [f for f in candidates if f.kind == "shoulder" and f.id in work.outcomes]
    if join != "sewn" and lost:
        # one shoulder could not be kept live after all: its partners are not left waiting
        left = lost[0]
        _warn_sewn(work, f"{left.id} is not converted", left.passage.span)
        again = [f for f in candidates if f.id not in work.outcomes]
        work.revisions.clear()
        _revise_all(work, again, "sewn")


def _keep_sides_together(work: _Work) -> None:
    """Leave both sides of a divided piece as they are where one of them must be left."""
    for group in [g for kind in work.options.kinds for g in sides_of_necks(work.draft, kind)]:
        lost = [f for f in group if f.id in work.outcomes]
        if not lost or len(lost) == len(group):
            continue
        for finding in group:
            work.outcomes.setdefault(
                finding.id,
                Outcome(
                    "left",
                    f"the other side of this neck ({lost[0].id}) is not converted, so neither is this",
                ),
            )
        kept = [r for r in work.revisions if r.finding.id not in work.outcomes]
        work.revisions[:] = kept


def _keep_references_together(work: _Work) -> None:
    """Leave a shoulder and those told by it alone alike, where one of them must be left."""
    by_id = {f.id: f for f in work.draft.findings}
    for finding in work.draft.findings:
        if finding.refers_to is None:
            continue
        told = by_id[finding.refers_to]
        for one, other in ((finding, told), (told, finding)):
            if one.id in work.outcomes and other.id not in work.outcomes:
                work.outcomes[other.id] = Outcome(
                    work.outcomes[one.id].status,
                    f"{one.id} and {other.id} are told together: {work.outcomes[one.id].reason}",
                )
    work.revisions[:] = [r for r in work.revisions if r.finding.id not in work.outcomes]


# --- proof ------------------------------------------------------------------------------------------


def _prove_all(work: _Work) -> tuple[list[Edit], str]:
    """Prove the revised text; a passage that fails is taken back and the rest proven again."""
    source = work.draft.document.source
    while work.revisions:
        try:
            edits = _edits_of(work)
        except editing.OverlapError:
            # two passages would change the same words: the later one stays as it is
            last = work.revisions.pop()
            work.outcomes[last.finding.id] = Outcome(
                "left", "its words are shared with another passage that is rewritten"
            )
            continue
        output = editing.apply(source.text, edits)
        failed = _failures(work, edits, output)
        if not failed:
            return edits, output
        work.reread = ()
        live = any(r.plan.join != "sewn" for r in work.revisions)
        for revision, why in failed:
            work.outcomes[revision.finding.id] = Outcome(
                "left", f"the new text could not be proven and is not used: {why}"
            )
            work.notes.error(
                "not-proven", f"the new text was not used: {why}", revision.finding.passage.span
            )
        kept = [r.finding for r in work.revisions if r.finding.id not in work.outcomes]
        join: Shoulders = "sewn" if live else work.options.shoulders
        work.revisions.clear()
        if live and any(f.kind == "shoulder" for f in kept):
            lost = failed[0][0].finding
            _warn_sewn(
                work, f"{lost.id} could not be proven with live shoulders", lost.passage.span
            )
        _revise_all(work, kept, join)
    return [], source.text


def _edits_of(work: _Work) -> list[Edit]:
    edits = [e for r in work.revisions for e in r.edits]
    edits += linked_edits(work.draft, work.revisions)
    edits += reworded_edits(work.draft, work.revisions)
    edits += matching_edits(work.draft, work.revisions)
    edits += sided_edits(work.draft, work.revisions)
    edits += notion_edits(work.draft, work.revisions)
    shoulders = [r for r in work.revisions if r.finding.kind == "shoulder"]
    joins = {r.plan.join for r in shoulders}
    if len(joins) == 1:
        edits += seam_edits(work.draft, shoulders, joins.pop())
    edits += steps_edits(work.draft, shoulders, edits)
    edits += stated_edits(work.draft, work.revisions, edits)
    edits = side_edits(work.draft, edits)
    return fitted(work.draft.document, editing.ordered(edits))


def _failures(work: _Work, edits: Sequence[Edit], output: str) -> list[tuple[Revision, str]]:
    source = work.draft.document.source
    if not editing.untouched_outside(source.text, output, edits):
        return [(r, "text outside the edits would change") for r in work.revisions]
    revised = replace(source, text=output, line_starts=line_starts(output))
    document, statements = statements_of(split_document(revised), work.draft.sizes)
    passages = find_passages(document, statements)
    work.reread = statements
    failed: list[tuple[Revision, str]] = []
    for revision in work.revisions:
        try:
            proofs = prove_revision(work.draft, revision, edits, statements, passages)
        except NotProven as reason:
            failed.append((revision, str(reason)))
        except Unread as unread:
            quoted = " ".join(unread.span.of(output).split())
            failed.append((revision, f"reading it again: {unread.message} ({quoted[:80]!r})"))
        else:
            work.outcomes[revision.finding.id] = Outcome("rewritten", None, proofs=tuple(proofs))
    if not failed:
        passages += find_cast_ons(document, statements)
        failed = _unstable(work, passages)
    for revision, _ in failed:
        work.outcomes.pop(revision.finding.id, None)
    if failed:
        for revision in work.revisions:
            work.outcomes.pop(revision.finding.id, None)
    return failed


def _unstable(work: _Work, passages: Sequence[Passage]) -> list[tuple[Revision, str]]:
    """Return the revisions that a second rewriting would change again."""
    stepped = [p for p in passages if not p.short_rows]
    before = len(work.draft.findings)
    sloped = sum(1 for r in work.revisions if r.plan.slopes)
    if len(stepped) > before - sloped + sum(1 for r in work.revisions if not r.plan.slopes):
        return [(r, "a second rewriting would change it again") for r in work.revisions]
    return []


def rewrite_bytes(
    data: bytes,
    name: str,
    options: Options,
    *,
    out: str | None = None,
    changes: Changes = "tracked",
    date: str = "",
    author: str = AUTHOR,
) -> tuple[Report, bytes]:
    """Rewrite a draft given as bytes; return the report and the revised bytes.

    The bytes are of the draft's own format, or of the one that the file name `out` asks for;
    `changes` are tracked in a document or made in earnest, with `date` (ISO 8601, UTC) as their time and
    `author` as who made them.
    Raises UnreadableDraft for what cannot be read, NotWritable where that format cannot be written.
    """
    draft = draft_for(open_draft(data, name), out)
    report = rewrite_text(draft.source, options)
    return report, write_revised(draft, report, out, changes, date, author)
