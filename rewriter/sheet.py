"""The technical editing sheet of a draft: figures, sums, sides, slopes, lists, words, findings."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.castonmodel import CastOnShaping
from rewriter.counts import passed_over, worked_out_before
from rewriter.diagnose import Note, Notes, begins_beside, diagnose
from rewriter.gauge import Gauges, read_gauges
from rewriter.options import Options
from rewriter.places import place_of
from rewriter.reading import Draft, Finding
from rewriter.shapingmodel import Shaping
from rewriter.sheetdepth import depths, gauge_findings, gauge_info, slope_findings
from rewriter.sheetlists import check_size_lists
from rewriter.sheetmodel import (
    About,
    ComparedShoulder,
    OtherPassage,
    Sheet,
    SheetFinding,
    ShoulderSheet,
)
from rewriter.sheetshoulders import (
    before_figures,
    edge_figures,
    model_of,
    neck_figures,
    slope_rows,
    sums_of,
)
from rewriter.sheetsides import ending_of, pieces_without, side_headed
from rewriter.sheetterms import check_terms
from rewriter.sheetwords import compared_cell
from rewriter.spans import Span


def sheet_of(draft: Draft, options: Options) -> Sheet:
    """Return the technical editing sheet of a draft as it is read with these options."""
    source = draft.document.source
    gauges = read_gauges(draft.document)
    notes = Notes()
    diagnose(draft, notes, options)
    findings = [_finding(draft, note) for note in notes.all if note.code not in _ELSEWHERE]
    lists, more = check_size_lists(draft, findings)
    terms, undefined = check_terms(draft)
    findings += [*more, *undefined, *gauge_findings(draft, gauges)]
    shoulders: list[ShoulderSheet] = []
    models: list[tuple[Finding, Shaping]] = []
    for finding in draft.findings:
        if finding.kind != "shoulder":
            continue
        shaping = model_of(draft, finding)
        shoulder = _shoulder(draft, finding, shaping, gauges)
        shoulders.append(shoulder)
        findings += [
            *slope_findings(draft, finding, shoulder.depth),
            *_sum_findings(draft, finding, shoulder),
        ]
        if shaping is not None:
            models.append((finding, shaping))
    comparison, differing = compare(draft, models)
    findings += differing
    compared = {one.id for one in comparison}
    return Sheet(
        schema="slopewise/sheet/1",
        terms=draft.terms,
        sizes=draft.sizes.labels,
        gauges=tuple(gauge_info(g, source) for g in gauges.given),
        shoulders=tuple(shoulders),
        comparison=comparison,
        not_compared=tuple(s.id for s in shoulders if s.id not in compared)
        if len(shoulders) > 1
        else (),
        lists=lists,
        abbreviations=terms,
        others=tuple(
            OtherPassage(
                id=f.id,
                kind=f.evidence.kind or "in doubt",
                place=place_of(source, f.passage.span),
                decided=f.evidence.because,
            )
            for f in draft.findings
            if f.kind != "shoulder"
        )
        + pieces_without(draft),
        findings=tuple(sorted(findings, key=lambda f: (f.place.span, f.code))),
    )


def _shoulder(
    draft: Draft, finding: Finding, shaping: Shaping | None, gauges: Gauges
) -> ShoulderSheet:
    sheet = ShoulderSheet(
        id=finding.id,
        piece=finding.passage.piece,
        place=place_of(draft.document.source, finding.passage.span),
        decided=finding.evidence.because,
        cast_on=isinstance(shaping, CastOnShaping),
        read=shaping is not None,
        unread=finding.unread.message if finding.unread is not None else "",
        ending=ending_of(draft, finding, shaping),
    )
    if shaping is None:
        return sheet
    before = before_figures(draft, finding, shaping)
    neck = neck_figures(draft, finding, shaping)
    edges = tuple(
        edge_figures(draft, finding, shaping, n) for n in range(2 if shaping.two_edged else 1)
    )
    passed = passed_over(finding.passage, len(draft.sizes))
    rows = [max(slope_rows(steps) for steps in own) for own in shaping.edges]
    depth, note = depths(draft, finding, rows, gauges)
    return sheet.model_copy(
        update={
            "before": before,
            "edges": edges,
            "neck": neck,
            "sums": sums_of(
                shaping,
                before,
                neck,
                edges,
                len(draft.sizes),
                passed[0] if passed else None,
                worked_out_before(finding.passage, len(draft.sizes)),
            ),
            "depth": depth,
            "depth_note": note,
        }
    )


# --- shoulders that meet ----------------------------------------------------------------------------


def compare(
    draft: Draft, models: Sequence[tuple[Finding, Shaping]]
) -> tuple[tuple[ComparedShoulder, ...], list[SheetFinding]]:
    """Compare all shoulders with the first, for every size; both edges of a piece where they differ."""
    rows: list[tuple[Finding, ComparedShoulder]] = []
    for finding, shaping in models:
        if begins_beside(shaping):
            continue
        own = [_compared(draft, finding, shaping, n) for n in range(len(shaping.edges[0]))]
        alike = len(own) > 1 and own[0].steps == own[1].steps
        rows += [(finding, one) for one in (own[:1] if alike else own)]
        if alike:
            rows[-1] = (finding, own[0].model_copy(update={"name": _named(draft, finding)}))
    if len(rows) < 2:
        return (), []
    first = rows[0][1]
    told: list[ComparedShoulder] = [first]
    findings: list[SheetFinding] = []
    for finding, one in rows[1:]:
        count = range(len(one.total))
        sts = [i for i in count if one.total[i] != first.total[i]]
        steps = [
            i
            for i in count
            if (one.steps[i], one.slope_rows[i]) != (first.steps[i], first.slope_rows[i])
        ]
        odd = sts or steps
        sizes = tuple(draft.sizes.labels[i] for i in odd)
        result = "other sts" if sts else "other steps" if steps else "same"
        told.append(one.model_copy(update={"result": result, "sizes": sizes}))
        if odd:
            severity = "warning" if sts else "remark"
            findings.append(_differs(draft, finding, first, one, odd[0], sizes, severity))
    return tuple(told), findings


_WHOLE = frozenset({"front", "back"})
"""Pieces whose halves have headings of their own."""


def _named(draft: Draft, finding: Finding) -> str:
    """Return the piece of a shoulder, with the side that a heading names or its number among several."""
    piece, number = finding.passage.piece, finding.id.rpartition("/")[2]
    if piece in _WHOLE and (side := side_headed(draft, finding)):
        return f"{piece}, {side} side"
    return piece if number == "1" else f"{piece} ({number})"


def _compared(draft: Draft, finding: Finding, shaping: Shaping, number: int) -> ComparedShoulder:
    own = [edges[number] for edges in shaping.edges]
    name = _named(draft, finding)
    if shaping.two_edged:
        edge = ("first", "second")[number] if shaping.first_side is None else own[0].edge
        name += f", {edge} edge"
    outward = isinstance(shaping, CastOnShaping)  # these are told from the neck outward
    return ComparedShoulder(
        id=finding.id,
        name=name,
        total=tuple(s.total for s in own),
        steps=tuple(s.sts[::-1] if outward else s.sts for s in own),
        slope_rows=tuple(slope_rows(s) for s in own),
        result="first",
    )


def _differs(
    draft: Draft,
    finding: Finding,
    first: ComparedShoulder,
    other: ComparedShoulder,
    size: int,
    sizes: tuple[str, ...],
    severity: str,
) -> SheetFinding:
    one, two = (f"{s.name} {_steps(s, size)}" for s in (first, other))
    same = first.total[size] == other.total[size]
    ends = "as many sts, but other steps" if same else "they cannot be joined stitch for stitch"
    message = f"{one}; {two}: {ends}"
    return SheetFinding.model_validate(
        {
            "code": "steps-differ" if same else "shoulders-differ",
            "about": "joining",
            "severity": severity,
            "message": message,
            "place": place_of(draft.document.source, finding.passage.span),
            "sizes": sizes,
        }
    )


def _steps(shoulder: ComparedShoulder, size: int) -> str:
    return compared_cell(shoulder.total[size], shoulder.steps[size], shoulder.slope_rows[size])


# --- findings ---------------------------------------------------------------------------------------

# What belongs to a rewriting, or stands on the sheet in another place.
_ELSEWHERE = frozenset(
    {"length-only", "row-before", "last-step-on-return-row", "inferred", "shoulders-differ"}
)
_ABOUT: dict[str, About] = {
    "sums": "sums",
    "odd-rows": "sums",
    "last-step-unknown": "sums",
    "sides-contradict": "sides",
    "side-not-told": "sides",
    "steps-far-apart": "slope",
    "size-line": "lists",
    "list-length": "lists",
    "slip-read": "other",
    "changes-pending": "other",
    "nothing-found": "other",
    "rows-in-table": "other",
}


def _sum_findings(draft: Draft, finding: Finding, shoulder: ShoulderSheet) -> list[SheetFinding]:
    """Return what is amiss where a sum is not what shaping leaves of a count before that shaping.

    A sum that fails beside a count right before the shoulder keeps its steps from being read at all; that
    finding is made there.
    """
    odd = [i for i, one in enumerate(shoulder.sums) if one.result == "differs"]
    told = passed_over(finding.passage, len(draft.sizes))
    if not odd or told is None or finding.unread is not None:
        return []
    one = shoulder.sums[odd[0]]
    where = "" if len(draft.sizes) == 1 else f" in size {draft.sizes.labels[odd[0]]}"
    source = draft.document.source
    found = SheetFinding(
        code="sums",
        about="sums",
        severity="warning",
        message=f"{one.words}, which is not {one.against}{',' if where else ''}{where}",
        place=place_of(source, told[1]),
        beside=place_of(source, finding.passage.span),
        sizes=tuple(draft.sizes.labels[i] for i in odd),
    )
    return [found]


def _steps_of(draft: Draft, note: Note) -> Span | None:
    """Return where the steps stand whose sum fails, if that is another place than the finding's own."""
    if note.code != "sums":
        return None
    own = (f for f in draft.findings if f.unread is not None and f.unread.span == note.span)
    spans = (f.passage.span for f in own if f.unread is not None and f.unread.code == "sums")
    return next((span for span in spans if not span.start <= note.span.start < span.end), None)


def _finding(draft: Draft, note: Note) -> SheetFinding:
    message = note.message
    steps = _steps_of(draft, note)
    if note.code == "side-not-told":
        message = "the draft does not say on which side the shaping starts"
    elif note.code == "steps-far-apart":
        message = "steps are more than two rows apart"
    elif note.code == "already-short-rows":
        message = "already shaped in short rows; its figures are not on this sheet"
    return SheetFinding(
        code=note.code,
        about=_ABOUT.get(note.code, "reading"),
        severity=note.severity,
        message=message,
        place=place_of(draft.document.source, note.span),
        beside=place_of(draft.document.source, steps) if steps is not None else None,
        sizes=tuple(draft.sizes.labels[i] for i in note.sizes),
    )
