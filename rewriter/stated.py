"""Numbers of rows that a draft states elsewhere: put right where that is certain, named where not.

The shaping in short rows begins one row lower, takes more rows, and ends on the row on which the steps
ended: so rows counted to its beginning are one less, rows of the shaping are as many as the new text
has, and rows of the fabric (along the armhole, up the slope, in all) are what they were, except where
shoulders kept live gain one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rewriter import regex
from rewriter.diagnose import Notes
from rewriter.edits import Edit
from rewriter.halves import DividedShaping
from rewriter.leadedits import changed_by
from rewriter.leadflip import flipped
from rewriter.reading import Draft, Finding, called
from rewriter.revise import Revision
from rewriter.spans import Span, view_of
from rewriter.statedhits import Hit
from rewriter.statedwords import ridges
from rewriter.verify import Proof


@dataclass(frozen=True)
class Stated:
    """A statement about the rows of rewritten shoulders, and what becomes of it."""

    hit: Hit
    edits: tuple[Edit, ...] = ()
    doubt: str = ""
    """Why its right number is not certain, where it may be true no longer."""


def stated_edits(draft: Draft, revisions: Sequence[Revision], taken: Sequence[Edit]) -> list[Edit]:
    """Return the edits that keep statements about the rows true, outside the words that are `taken`."""
    edits = [e for s in _read_stated(draft, revisions, taken) for e in s.edits]
    for revision in revisions:
        for ridges_told in _ridges_before(draft, revision):
            if not any(_touch(ridges_told, e.span) for e in (*taken, *edits)):
                end = Span(ridges_told.end, ridges_told.end)
                edits.append(Edit(end, _LESS, "stated", revision.finding.id))
    return edits


def note_stated(
    draft: Draft,
    revisions: Sequence[Revision],
    proofs: dict[str, tuple[Proof, ...]],
    edits: Sequence[Edit],
    notes: Notes,
) -> None:
    """Warn of each statement that may be true no longer; `proofs` are those of each passage by its id."""
    taken = [e for e in edits if e.why != "stated"]
    for stated in _read_stated(draft, revisions, taken, proofs):
        if stated.doubt:
            notes.warn("stated-elsewhere", stated.doubt, stated.hit.words)
    told = {e.span.start for e in edits if e.why == "stated"}
    for revision in revisions:
        for ridges_told in _ridges_before(draft, revision):
            notes.warn("stated-elsewhere", ridges()[1][ridges_told.end in told], ridges_told)


_LESS = " less 1 row"


def _ridges_before(draft: Draft, revision: Revision) -> list[Span]:
    """Return the ridges of garter stitch that a lead-in counts: a row less leaves the last half done."""
    lead = revision.finding.lead_in
    if lead.span is None or lead.absorbed or not revision.plan.moves_lead_in:
        return []
    passage = revision.finding.passage
    view = view_of(draft.document.source.text, Span(lead.span.start, passage.span.start))
    return [view.span(*found.span()) for found in ridges()[0].finditer(view.text)]


def _read_stated(
    draft: Draft,
    revisions: Sequence[Revision],
    taken: Sequence[Edit],
    proofs: dict[str, tuple[Proof, ...]] | None = None,
) -> Iterator[Stated]:
    moving = [r for r in revisions if r.finding.kind == "shoulder" and r.plan.moves_lead_in]
    if not moving:
        return
    told = [
        hit
        for hit in draft.told_rows
        if not any(_touch(hit.words, edit.span) for edit in taken)
        and not any(_touch(hit.words, r.region) for r in revisions)
    ]
    out = [_judge(draft, hit, moving, proofs or {}) for hit in told]
    # "Armhole 52 rows, shoulder shaping 6 rows": stages of the work, so the first is shorter now
    staged = {
        s.hit.block for s in out if s and s.edits and s.hit.fact.name == "rows" and s.hit.labelled
    }
    for hit, stated in zip(told, out, strict=True):
        if hit.fact.name == "edge" and hit.labelled and hit.block in staged:
            yield _renumbered(draft, hit, -1, _about(draft, hit, moving)[0])
        elif stated is not None:
            yield stated


def _touch(one: Span, two: Span) -> bool:
    return one.start < two.end and two.start < one.end


# --- which shoulders it is about --------------------------------------------------------------------

_PIECE = regex.compile(r"(?<![a-z])(back|front)s?(?![a-z])")


def _about(
    draft: Draft, hit: Hit, moving: Sequence[Revision]
) -> tuple[list[Revision], list[Finding]]:
    """Return the rewritten shoulders that a statement is about, and those left as they are."""
    shoulders = [f for f in draft.findings if f.kind == "shoulder"]
    words = hit.words.of(draft.document.source.text).lower()
    # "14 rows less than on back to beg of shoulder shaping" stands in the front, but is about the back
    named = set(_PIECE.findall(words)) or set(_PIECE.findall(hit.text))
    if named:
        own = [f for f in shoulders if any(n in called(draft, f) for n in named)]
    else:
        own = [f for f in shoulders if f.passage.piece_at == hit.piece_at] or shoulders
    about = {f.id for f in own}
    changed = [r for r in moving if r.finding.id in about]
    moved = {r.finding.id for r in changed}
    return changed, [f for f in shoulders if f.id in about and f.id not in moved]


# --- what becomes of it ------------------------------------------------------------------------------


def _judge(
    draft: Draft, hit: Hit, moving: Sequence[Revision], proofs: dict[str, tuple[Proof, ...]]
) -> Stated | None:
    """Return what becomes of a statement; None where it is true as it stands."""
    changed, kept = _about(draft, hit, moving)
    if not changed:
        return None
    name = hit.fact.name
    if name in ("edge", "height", "total"):
        worked = [p for r in changed for p in proofs.get(r.finding.id, ())]
        return Stated(hit, doubt=hit.fact.says) if any(_differs(name, p) for p in worked) else None
    if name in ("steps", "other"):
        return Stated(hit, doubt=hit.fact.says)
    if kept:
        ids = " and ".join(f.id for f in kept)
        return Stated(hit, doubt=f"{hit.fact.says}, but not that of {ids}, which is left as it is")
    if name == "side":
        return _other_side(draft, hit, changed)
    if name in ("rows", "range"):
        return _rows_of_shaping(draft, hit, changed)
    return _renumbered(draft, hit, 1 if name == "later" else -1, changed)


def _differs(name: str, proof: Proof) -> bool:
    """Say whether the fabric has other rows than the draft's where a statement counts them."""
    if name == "total":
        return proof.piece_rows_gained != 0
    return any(proof.edge_rows_gained) if name == "edge" else not proof.same


def _other_side(draft: Draft, hit: Hit, changed: Sequence[Revision]) -> Stated:
    source = draft.document.source.text
    (place,) = hit.numbers
    told = "RS" if place.of(source).lower().startswith(("rs", "right")) else "WS"
    if any(r.shaping.first_side != told for r in changed):
        return Stated(hit, doubt=hit.fact.says)
    span, word = flipped(source, place, "side")
    return Stated(hit, (Edit(span, word, "stated", changed[0].finding.id),))


def _renumbered(draft: Draft, hit: Hit, by: int, changed: Sequence[Revision]) -> Stated:
    if hit.about:
        return Stated(hit)
    if min(hit.values) + by < 1:
        return Stated(hit, doubt=hit.fact.says)
    source = draft.document.source.text
    edits = [
        edit
        for number in hit.numbers
        for edit in changed_by(source, number, by, changed[0].finding.id, "stated")
    ]
    return Stated(hit, tuple(edits))


def _rows_of_shaping(draft: Draft, hit: Hit, changed: Sequence[Revision]) -> Stated:
    """Follow the number of rows in which the shoulders are shaped, if it is that of the old text."""
    unsure = Stated(hit, doubt=hit.fact.says)
    sizes = len(draft.sizes)
    told = (hit.last - hit.values[0] + 1,) if hit.last else hit.values
    if len(told) not in (1, sizes):
        return unsure
    told = told * sizes if len(told) == 1 else told
    grown: set[int] = set()
    for revision in changed:
        counts = _counts(revision, sizes)
        if counts is None or counts[0] != told:
            return unsure
        grown |= {new - old for old, new in zip(*counts, strict=True)}
    if len(grown) != 1 or (hit.last and grown != {1}):
        return unsure
    return _renumbered(draft, hit, -1 if hit.last else grown.pop(), changed)


def _counts(revision: Revision, sizes: int) -> tuple[tuple[int, ...], tuple[int, ...]] | None:
    """Return for each size the rows from the first bind-off to the last, and those of the new text."""
    shaping, plan = revision.shaping, revision.plan
    if isinstance(shaping, DividedShaping) or plan.join != "sewn":
        return None
    old = tuple(max(s.rows[-1] for s in shaping.edges[i]) + 1 for i in range(sizes))
    return old, tuple(len(plan.rows[i]) for i in range(sizes))
