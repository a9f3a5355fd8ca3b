"""Turn findings, plans and proofs into the public report."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.castons import CastOnPassage
from rewriter.diagnose import Notes
from rewriter.edits import Edit
from rewriter.options import Options
from rewriter.outcome import Outcome
from rewriter.questions import questions_of
from rewriter.reading import Draft, Finding
from rewriter.report import (
    Diagnostic,
    EdgeReport,
    EditReport,
    OptionsInfo,
    PassageReport,
    Report,
    SourceInfo,
    Turn,
    UnusedAnswer,
    Verification,
)
from rewriter.respace import most_rows
from rewriter.revise import Revision
from rewriter.rows import side_of
from rewriter.shapingmodel import Shaping
from rewriter.twin import Steps, neck_turns
from rewriter.verify import Proof


def report_of(
    draft: Draft,
    options: Options,
    outcomes: dict[str, Outcome],
    revisions: Sequence[Revision],
    edits: Sequence[Edit],
    notes: Notes,
    output: str,
) -> Report:
    """Build the report of a reading or rewriting."""
    source = draft.document.source
    by_id = {r.finding.id: r for r in revisions}
    return Report(
        schema="slopewise/report/1",
        source=SourceInfo(
            name=source.name,
            format=source.carrier or source.format,
            sha256=source.sha256,
        ),
        terms=draft.terms,
        sizes=draft.sizes.labels,
        options=OptionsInfo(
            to=options.to,
            turn=options.turn,
            shoulders=options.shoulders,
            kinds=options.kinds,
            respace=options.respace,
            exact_live=options.exact_live,
        ),
        passages=tuple(
            _passage(f, outcomes.get(f.id), by_id.get(f.id), len(draft.sizes))
            for f in draft.findings
        ),
        edits=tuple(
            EditReport(span=(e.span.start, e.span.end), replacement=e.replacement, why=e.why)
            for e in edits
        ),
        diagnostics=tuple(
            Diagnostic(
                code=n.code,
                severity=n.severity,
                message=n.message,
                span=(n.span.start, n.span.end),
                sizes=tuple(draft.sizes.labels[i] for i in n.sizes),
            )
            for n in sorted(notes.all, key=lambda n: n.span)
        ),
        questions=questions_of(draft, outcomes),
        unused_answers=tuple(
            UnusedAnswer(ask=a.ask, answer=a.choice, passage=a.passage, place=a.place)
            for a in draft.book.unused()
        ),
        output=output,
    )


def _passage(
    finding: Finding, outcome: Outcome | None, revision: Revision | None, sizes: int
) -> PassageReport:
    shaping = finding.shaping
    known = shaping is not None and all(n is not None for n in shaping.neck)
    status, reason = ("left", "read only") if outcome is None else (outcome.status, outcome.reason)
    proofs = outcome.proofs if outcome else ()
    before = None
    if shaping is not None and all(n is not None for n in shaping.stitches):
        before = tuple(n for n in shaping.stitches if n is not None)
    return PassageReport(
        id=finding.id,
        piece=finding.passage.piece,
        kind=finding.evidence.kind or "other",
        span=(finding.passage.span.start, finding.passage.span.end),
        status=status,
        reason=reason,
        stitches_before=before,
        neck=tuple(n or 0 for n in shaping.neck)
        if shaping is not None and shaping.two_edged and known
        else None,
        edges=() if shaping is None else _edges(shaping, revision, proofs, sizes),
        cast_on=isinstance(finding.passage, CastOnPassage),
        verification=_verification(proofs, revision),
    )


def _verification(proofs: Sequence[Proof], revision: Revision | None) -> Verification:
    if not proofs or revision is None:
        return Verification(result="not-run")
    return Verification(
        result="same" if all(p.same for p in proofs) else "within-one-row",
        neck_rows_gained=tuple(p.neck_rows_gained for p in proofs),
        piece_rows_gained=tuple(p.piece_rows_gained for p in proofs),
        against="even steps" if revision.respaced else "draft",
        most_rows_moved=tuple(most_rows(edges) for edges in revision.moved),
    )


def _edges(
    shaping: Shaping, revision: Revision | None, proofs: Sequence[Proof], sizes: int
) -> tuple[EdgeReport, ...]:
    out = []
    for number in range(2 if shaping.two_edged else 1):
        stepped = [shaping.edges[i][number] for i in range(sizes)]
        planned = [revision.plan.steps[i][number] for i in range(sizes)] if revision else stepped
        first_row = min(s.rows[0] for s in stepped)
        out.append(
            EdgeReport(
                edge="unknown" if shaping.first_side is None else stepped[0].edge,
                first_bind_off_side=side_of(first_row, shaping.first_side),
                steps=_by_step(stepped),
                even_steps=_by_step(planned) if revision and revision.respaced else None,
                turns=tuple(
                    _turns(s, shaping, at_neck[number])
                    for s, at_neck in zip(planned, _neck_turns(revision, sizes), strict=True)
                ),
                together=tuple(s.total for s in stepped),
                rows_gained=tuple(p.edge_rows_gained[number] for p in proofs) or (0,) * sizes,
            )
        )
    return tuple(out)


def _by_step(edges: Sequence[Steps]) -> tuple[tuple[int, ...], ...]:
    """Return the sts step by step, each per size; 0 where a size has no such step."""
    most = max(len(s.sts) for s in edges)
    return tuple(tuple(s.sts[j] if j < len(s.sts) else 0 for s in edges) for j in range(most))


def _neck_turns(revision: Revision | None, sizes: int) -> list[list[list[int]]]:
    """Return for each size and edge the rows that turn behind all sts of the shoulder."""
    if revision is None or not revision.plan.exact:
        return [[[], []]] * sizes
    return [neck_turns(edges) for edges in revision.plan.steps]


def _turns(steps: Steps, shaping: Shaping, at_neck: Sequence[int]) -> tuple[Turn, ...]:
    turns = [(row, steps.unworked(row)) for row in steps.turning_rows()]
    turns += [(row, steps.total) for row in at_neck]
    return tuple(
        Turn(row=row, side=side_of(row, shaping.first_side), unworked=unworked)
        for row, unworked in turns
    )
