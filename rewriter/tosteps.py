"""Turn shoulders in short rows back into steps: read, plan, write, prove, report."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from rewriter import edits as editing
from rewriter import regex
from rewriter.checktext import explains
from rewriter.diagnose import Notes, compare_shoulders
from rewriter.doubt import Unread
from rewriter.edits import Edit
from rewriter.evidence import kind_of
from rewriter.fitting import fitted
from rewriter.frames import Statement
from rewriter.joins import sewn_edits
from rewriter.leadin import read_lead_in
from rewriter.leadmodel import LeadIn
from rewriter.lexicon import lexicon
from rewriter.linked import linked_edits, matching_words, unmatched_edits
from rewriter.necksides import sides_of_necks
from rewriter.options import Options
from rewriter.outcome import Outcome
from rewriter.passages import Passage, leaves_nothing
from rewriter.questions import KIND_ASKED, note_answers
from rewriter.reading import Draft, Finding, read_draft
from rewriter.report import Report
from rewriter.reporting import report_of
from rewriter.revise import Revision
from rewriter.rows import Side
from rewriter.sizes import Sizes
from rewriter.sloped import SlopedShaping, read_sloped, whole_passage
from rewriter.slopedhalves import SlopedDivided, read_sloped_divided
from rewriter.spans import SourceText, Span, line_starts
from rewriter.stepproof import prove_steps
from rewriter.steprevise import is_turning_note, revise_to_steps
from rewriter.stitchwork import fabric_of
from rewriter.twoballs import divided_parts
from rewriter.verify import NotProven, Proof


@dataclass
class _Work:
    draft: Draft
    """The draft, its findings being the shoulders in short rows."""
    options: Options
    notes: Notes
    outcomes: dict[str, Outcome] = field(default_factory=dict)
    row_by_row: set[str] = field(default_factory=set)
    """Passages whose steps could not be proven when they were counted in a sentence."""
    revisions: list[Revision] = field(default_factory=list)


def steps_text(source: SourceText, options: Options) -> Report:
    """Turn the shoulders of a draft that are in short rows back into steps, each proven."""
    draft = read_draft(source, options)
    sloped = replace(draft, findings=_findings(draft), short_rows=[])
    work = _Work(sloped, options, Notes())
    _diagnose(draft, work)
    for finding in sloped.findings:
        if finding.evidence.kind is None:
            work.outcomes[finding.id] = Outcome(
                "question",
                f"{KIND_ASKED.format(because=finding.evidence.because)}; answer kind=shoulder or "
                "kind=other",
            )
        elif finding.kind != "shoulder" or finding.kind not in options.kinds:
            reason = f"only shoulders are turned back into steps ({finding.evidence.because})"
            work.outcomes[finding.id] = Outcome("left", reason)
        elif finding.unread is not None:
            work.outcomes[finding.id] = _refusal(finding.unread)
    edits, output = _rewrite(work)
    _remarks(work, edits, output)
    note_answers(sloped, work.outcomes, edits, work.notes)
    return report_of(sloped, options, work.outcomes, work.revisions, edits, work.notes, output)


def _refusal(unread: Unread) -> Outcome:
    return Outcome("question" if unread.ask else "left", unread.message, unread)


def _findings(draft: Draft) -> list[Finding]:
    """Read the shoulders in short rows of a draft."""
    counts: Counter[str] = Counter()
    seen = {f.passage.piece_at: f.passage.span.start for f in reversed(draft.findings)}
    out = []
    for found in draft.short_rows:
        passage = replace(
            whole_passage(found),
            nearest=_nearest(draft, found),
            before=[s for s in found.before if not _is_about_turns(s)],
        )
        first = seen.get(passage.piece_at, passage.span.start) >= passage.span.start
        own = " ".join(
            s.view.text
            for s in draft.document.sentences
            if s.piece_at == passage.piece_at and s.span.start < passage.span.end
        )
        fabric = fabric_of(draft.document, passage)
        lead_in = read_lead_in(passage, fabric)
        shaping, unread = _model(passage, lead_in, draft.sizes, None)
        nothing_left = leaves_nothing(passage) or (
            shaping is not None and all(n == 0 for n in shaping.neck)
        )
        evidence = kind_of(passage, draft.document.source.text, own, nothing_left, first)
        base = f"{passage.piece.replace(' ', '-')}/{evidence.kind or 'unknown'}"
        counts[base] += 1
        name = f"{base}/{counts[base]}"
        key = draft.book.key(found)
        given = draft.book.given(key, name)
        if evidence.kind is None and given.kind is not None:
            evidence = replace(evidence, kind="shoulder" if given.kind == "shoulder" else "other")
        if given.reads_anew:
            passage = given.applied(passage, draft.sizes)
            shaping, unread = _model(passage, lead_in, draft.sizes, None)
        if shaping is not None and shaping.first_side is None and given.side is not None:
            shaping, unread = _model(passage, lead_in, draft.sizes, given.side)
        out.append(Finding(name, passage, evidence, lead_in, None, fabric, shaping, unread, key))
    return out


def _is_about_turns(statement: Statement) -> bool:
    """Say whether a sentence is about the turns alone: markers, method, the rows of the other side."""
    words = statement.sentence.text
    return is_turning_note(statement) or matching_words().fullmatch(words) is not None


def _nearest(draft: Draft, passage: Passage) -> list[str]:
    """Return the words of the sentences right before a passage, those about its turns left out."""
    told = zip(draft.document.sentences, draft.statements, strict=True)
    return [
        sentence.view.text
        for sentence, statement in told
        if sentence.piece_at == passage.piece_at
        and sentence.span.end <= passage.sentence.span.start
        and not sentence.heading
        and not (statement is not None and _is_about_turns(statement))
    ][-4:]


def _model(
    passage: Passage, lead_in: LeadIn, sizes: Sizes, answer: Side | None
) -> tuple[SlopedShaping | SlopedDivided | None, Unread | None]:
    try:
        parts = divided_parts(passage.statements)
        if parts is not None:
            return read_sloped_divided(passage, parts, lead_in, sizes, answer), None
        return read_sloped(passage, lead_in, sizes, answer), None
    except Unread as unread:
        return None, unread


def _diagnose(draft: Draft, work: _Work) -> None:
    notes = work.notes
    if draft.sizes.disagreement and draft.sizes.span:
        notes.warn("size-line", draft.sizes.disagreement, draft.sizes.span)
    for finding in work.draft.findings:
        if finding.unread is not None and finding.kind == "shoulder":
            unread = finding.unread
            notes.warn(unread.code, unread.message, unread.span, unread.sizes)
    for finding in draft.findings:
        if finding.kind == "shoulder":
            notes.remark("already-steps", "already in steps; left as it is", finding.passage.span)
    compare_shoulders(work.draft, notes)
    if not work.draft.findings and not draft.findings:
        notes.remark(
            "nothing-found", "no shoulders in short rows were found in this text", Span(0, 0)
        )


def _rewrite(work: _Work) -> tuple[list[Edit], str]:
    """Write and prove; what fails is taken back, and the rest is written and proven again."""
    source = work.draft.document.source
    while True:
        edits = _revise_all(work)
        if not work.revisions:
            return [], source.text
        output = editing.apply(source.text, edits)
        failed = _failures(work, edits, output)
        if not failed:
            return edits, output
        for revision, why in failed:
            name = revision.finding.id
            if name not in work.row_by_row:
                work.row_by_row.add(name)
                continue
            work.outcomes[name] = Outcome(
                "left", f"the new text could not be proven and is not used: {why}"
            )
            work.notes.error(
                "not-proven", f"the new text was not used: {why}", revision.finding.passage.span
            )


def _revise_all(work: _Work) -> list[Edit]:
    """Write every passage that is not settled yet; return all edits."""
    work.revisions.clear()
    edits: list[Edit] = []
    for finding in work.draft.findings:
        if finding.id in work.outcomes:
            continue
        try:
            revision = revise_to_steps(
                work.draft, finding, work.options, finding.id in work.row_by_row
            )
        except Unread as unread:
            work.outcomes[finding.id] = _refusal(unread)
            continue
        work.revisions.append(revision)
    _keep_together(work)
    live = [r.finding for r in work.revisions if _is_live(r.finding)]
    try:
        edits += sewn_edits(work.draft, live, Notes()) if live else []
    except Unread as unread:
        for finding in live:
            work.outcomes[finding.id] = _refusal(unread)
        return _revise_all(work)
    edits += [e for r in work.revisions for e in r.edits]
    edits += linked_edits(work.draft, work.revisions, 1)
    if work.revisions and len(work.revisions) == len(work.draft.findings):
        edits += unmatched_edits(work.draft, work.revisions[0])
    try:
        return fitted(work.draft.document, editing.ordered(edits))
    except editing.OverlapError:
        last = work.revisions.pop()
        work.outcomes[last.finding.id] = Outcome(
            "left", "its words are shared with another passage that is rewritten"
        )
        return _revise_all(work)


def _is_live(finding: Finding) -> bool:
    return isinstance(finding.shaping, SlopedShaping | SlopedDivided) and finding.shaping.live


def _keep_together(work: _Work) -> None:
    """Leave both sides of a neck alike, and all live shoulders: their sts need a partner."""
    groups = sides_of_necks(work.draft, "shoulder")
    live = [f for f in work.draft.findings if f.kind == "shoulder" and _is_live(f)]
    if live:
        # a live shoulder that is not understood may be the partner of one that is
        live += [f for f in work.draft.findings if f.kind == "shoulder" and f.shaping is None]
        groups.append(live)
    changed = True
    while changed:
        changed = False
        for group in groups:
            lost = [f for f in group if f.id in work.outcomes]
            for finding in group if lost else ():
                if finding.id not in work.outcomes:
                    changed = True
                    work.outcomes[finding.id] = Outcome(
                        "left",
                        f"{lost[0].id} is not turned into steps, so neither is its partner",
                    )
    work.revisions[:] = [r for r in work.revisions if r.finding.id not in work.outcomes]


def _failures(work: _Work, edits: Sequence[Edit], output: str) -> list[tuple[Revision, str]]:
    source = work.draft.document.source
    if not editing.untouched_outside(source.text, output, edits):
        return [(r, "text outside the edits would change") for r in work.revisions]
    revised = replace(source, text=output, line_starts=line_starts(output))
    reread = read_draft(revised, work.options)
    failed: list[tuple[Revision, str]] = []
    proofs: dict[str, list[Proof]] = {}
    for revision in work.revisions:
        place = editing.moved(edits, revision.region)
        try:
            proofs[revision.finding.id] = prove_steps(revision, reread, place)
        except NotProven as reason:
            failed.append((revision, str(reason)))
    if not failed:
        for name, proof in proofs.items():
            work.outcomes[name] = Outcome("rewritten", None, proofs=tuple(proof))
    return failed


def _remarks(work: _Work, edits: Sequence[Edit], output: str) -> None:
    """Say what is no longer needed, and what changed."""
    if not work.revisions:
        return
    live = [r.finding for r in work.revisions if _is_live(r.finding)]
    if live:
        sewn_edits(work.draft, live, work.notes)
    left = [f for f in work.draft.findings if work.outcomes[f.id].status != "rewritten"]
    changed = [e.span for e in edits]
    for term, span in _unused_terms(work.draft, changed) if not left else ():
        message = f"{term!r} stands in no row any more: its explanation can be deleted here"
        work.notes.remark("abbreviation-unused", message, span)
    for sentence in work.draft.document.sentences if not left else ():
        inside = any(c.start < sentence.span.end and sentence.span.start < c.end for c in changed)
        if not inside and "marker" in sentence.view.text and sentence.piece == "list":
            work.notes.remark(
                "markers-unused", "the shoulders no longer need the markers", sentence.span
            )


def _unused_terms(draft: Draft, changed: Sequence[Span]) -> list[tuple[str, Span]]:
    """Return the abbreviations of turning methods that are explained but no longer used, with their place.

    `changed` are the places whose words are replaced.
    """
    text, found = draft.document.source.text, draft.abbreviations
    out: list[tuple[str, Span]] = []
    for term in lexicon().abbreviated:
        pattern = regex.compile_new(rf"(?i)(?<![a-z&+]){regex.escape(term)}(?![a-z&+])")
        places = [
            Span(*hit.span())
            for hit in pattern.finditer(text)
            if not any(c.start < hit.end() and hit.start() < c.end for c in changed)
        ]
        entry = next(
            (e.span for e in found.entries if e.key.lower().rstrip(".") == term)
            if found
            else iter(()),
            None,
        )
        told = [
            p
            for p in places
            if (entry and entry.start <= p.start < entry.end) or _is_explained(text, p)
        ]
        if told and told == places:
            out.append((told[0].of(text), entry or told[0]))
    return out


_TABLE_CELL = regex.compile(r"[ \t]*\|[ \t]*$")


def _is_explained(text: str, place: Span) -> bool:
    """Say whether the words around an abbreviation give its meaning, or it heads a line of a table."""
    line = text[text.rfind("\n", 0, place.start) + 1 : place.start]
    if _TABLE_CELL.fullmatch(line) and text[place.end :].lstrip(" \t")[:1] == "|":
        return True
    return explains(text.lower(), place.start, place.end)
