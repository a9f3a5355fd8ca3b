"""Shoulders that meet: whether live ones would be left without a partner, and where only one is sloped."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rewriter import regex
from rewriter.castonmodel import CastOnShaping
from rewriter.diagnose import Notes
from rewriter.frames import Statement
from rewriter.outcome import Outcome
from rewriter.planner import why_not_live
from rewriter.reading import Draft, Finding
from rewriter.revise import Revision
from rewriter.seams import (
    LIVE_JOIN,
    all_seams,
    buttoned,
    parted_by,
    partly_open,
    seams_of,
    shoulder_seams,
    with_sleeves,
)
from rewriter.spans import Span


def why_sewn(findings: Sequence[Finding], exact: bool) -> tuple[str, Span] | None:
    """Return why live shoulders would be left without a partner, and where; None if they are not.

    Back and front shoulders are joined stitch for stitch: every shoulder of the draft must be
    converted, and all must have the same number of sts for each size. `exact` says that no row is to
    be gained where that can be had.
    """
    for finding in findings:
        if finding.evidence.kind is None or finding.unread is not None or finding.shaping is None:
            return f"{finding.id} is not converted", finding.passage.span
        if isinstance(finding.shaping, CastOnShaping):
            return f"{finding.id} is cast on, so it has no sts to keep", finding.passage.span
        reason = why_not_live(finding.shaping, exact)
        if reason is not None:
            return f"{finding.id}: {reason}", finding.passage.span
    totals = {}
    for finding in findings:
        shaping = finding.shaping
        if shaping is None:
            continue
        for edges in zip(*shaping.edges, strict=True):
            totals[tuple(s.total for s in edges)] = finding
    if len(totals) > 1:
        (one, first), (two, second) = list(totals.items())[:2]
        return (
            f"the shoulders have different numbers of sts: {_list(one)} in {first.id}, "
            f"{_list(two)} in {second.id}",
            second.passage.span,
        )
    return None


_FRONTS = frozenset({"front", "left front", "right front"})


def bound_off_front(draft: Draft, findings: Sequence[Finding]) -> Span | None:
    """Return where a front is bound off whose shoulder is not among those found, if one is.

    "Work straight until front matches back. Cast off." leaves nothing that live sts could be joined to.
    """
    told = {f.passage.piece_at for f in findings}
    pieces = {f.passage.piece for f in findings}
    if not pieces & {"back", "unknown"} or pieces & _FRONTS:
        return None
    last: dict[int, Statement] = {}
    silent: set[int] = set()
    for sentence, statement in zip(draft.document.sentences, draft.statements, strict=True):
        if sentence.piece not in _FRONTS or sentence.piece_at in told:
            continue
        silent.add(sentence.piece_at)
        if "shoulder" in sentence.view.text:
            told.add(sentence.piece_at)
        if statement is not None and any(f.verb for f in statement.frames):
            last[sentence.piece_at] = statement
    for piece in sorted(silent - told):
        end = last.get(piece)
        if end is not None and end.frames[-1].verb == "bind_off":
            return end.span
    return None


_AS_OTHER = regex.compile(r"\b(?:as|like|same|match)\b")
_MIRRORED = regex.compile(
    r"\b(?:mirror\w*|revers\w*|correspond|symmetric\w*|opposite|other\s+way)\b"
)
_OPENS_NECK = frozenset({"turn", "join", "hold", "bind_off"})


def front_untold(draft: Draft, findings: Sequence[Finding]) -> Span | None:
    """Return where a front opens its neck whose shoulder is not among those found, nor told by another one.

    Its edge may be told in words that were not understood: live sts would have no partner there.
    """
    told = {f.passage.piece_at for f in findings} | {p.piece_at for p in draft.short_rows}
    pieces = {f.passage.piece for f in findings}
    if not pieces & {"back", "unknown"} or pieces & _FRONTS:
        return None
    opened: dict[int, Span] = {}
    leaning: set[int] = set()
    for sentence, statement in zip(draft.document.sentences, draft.statements, strict=True):
        if sentence.piece not in _FRONTS or sentence.piece_at in told:
            continue
        text = sentence.view.text
        named = "shoulder" in text or sentence.piece_at in opened
        if _MIRRORED.search(text) or (named and _AS_OTHER.search(text)):
            leaning.add(sentence.piece_at)
        frames = statement.frames if statement is not None else ()
        if any(f.verb in _OPENS_NECK and f.edge == "neck" for f in frames):
            opened.setdefault(sentence.piece_at, sentence.span)
    return next((span for at, span in opened.items() if at not in leaning), None)


def why_no_live_seam(
    draft: Draft, findings: Sequence[Finding], *, told: bool
) -> tuple[str, Span] | None:
    """Return why the words that sew the shoulders rule live ones out, and where; None if they do not.

    `told` says that the join is to be told there; sts that are only held are joined in any words, but
    not where a part of the shoulder stays open or something is sewn in between.
    """
    document = draft.document
    if saddle := parted_by(document):
        return "what is sewn between the shoulders keeps them from meeting", saddle.span
    if button := buttoned(document):
        return "a shoulder is buttoned, so that its edges are not joined", button.span
    sleeved = with_sleeves(document, [f.passage.span for f in findings])
    seams = shoulder_seams(document)
    for sentence in seams:
        if LIVE_JOIN.search(sentence.text):
            continue
        if partly_open(sentence.text):
            return "a part of the shoulder stays open, by the words that join it", sentence.span
        if told and seams_of(sentence, sleeved) is None:
            return "a sentence sews them in words for which no live join can stand", sentence.span
    every = None if seams else all_seams(document)
    if every is not None and every.partly:
        return "a part of the shoulder stays open, by the words that sew the seams", every.seams
    return None


def _list(values: Sequence[int]) -> str:
    return ", ".join(map(str, values))


def warn_of_other_edges(
    draft: Draft, revisions: Sequence[Revision], outcomes: Mapping[str, Outcome], notes: Notes
) -> None:
    """Warn where one shoulder is sloped now and one that meets it, or the other side, keeps its steps."""
    sloped = [r.finding for r in revisions if r.finding.kind == "shoulder" and r.plan.slopes]
    told: set[int] = set()
    for kept in draft.findings if sloped else ():
        outcome = outcomes.get(kept.id)
        perhaps = kept.evidence.kind is None  # it is asked whether it shapes a shoulder
        if (kept.kind != "shoulder" and not perhaps) or kept.passage.piece_at in told:
            continue
        if outcome is None or outcome.status == "rewritten":
            continue
        told.add(kept.passage.piece_at)
        other = next((f for f in sloped if f.passage.piece_at != kept.passage.piece_at), sloped[0])
        where = "" if other.passage.piece_at != kept.passage.piece_at else " in the same piece"
        notes.warn(
            "edges-no-longer-match",
            f"{kept.id} keeps its steps, but {other.id}{where} is sloped now: "
            f"{'if it shapes a shoulder, ' if perhaps else ''}edges that are joined no "
            f"longer match (put {kept.id} right too, or leave both as they were)",
            kept.passage.span,
        )
