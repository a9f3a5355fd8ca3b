"""What a worksheet does not tell: passages that are left or asked about, pieces without steps."""

from __future__ import annotations

from collections.abc import Iterator

from rewriter.edgenames import OPPOSITE
from rewriter.options import Options
from rewriter.phrases import wording
from rewriter.pipeline import Rework
from rewriter.reading import called
from rewriter.references import Reference, references
from rewriter.report import PassageReport
from rewriter.worksheetmodel import words


def missing(work: Rework, options: Options) -> Iterator[str]:
    """Yield the shoulders that a worksheet does not tell, with the reasons."""
    says = words()["says"]["unread"]
    for passage in work.report.passages:
        asked = passage.kind in options.kinds
        if passage.status == "question" or (passage.status == "left" and asked):
            yield says.format(what=_where(work, passage), why=passage.reason)
        elif passage.status == "rewritten" and passage.cast_on:
            why = "shoulders that are cast on have no rows here"
            yield says.format(what=_where(work, passage), why=why)
    named = {p.piece for p in work.report.passages if p.kind == "shoulder"}
    named |= {OPPOSITE[piece] for piece in named if piece in OPPOSITE}
    named |= {r.passage.piece for r in _references(work)}
    named |= {
        whole for whole in ("back", "front") for piece in named if piece.endswith(f" {whole}")
    }
    if "shoulder" in options.kinds and "back and front" not in named:
        for piece in dict.fromkeys(s.piece for s in work.draft.document.sentences):
            if piece in ("back", "front", *OPPOSITE) and piece not in named:
                yield words()["says"]["no_steps"].format(what=piece.capitalize())


def _references(work: Rework) -> Iterator[Reference]:
    """Yield the pieces that are told by another one."""
    for revision in work.revisions:
        finding = revision.finding
        yield from references(
            work.draft.document,
            work.draft.statements,
            called(work.draft, finding),
            finding.passage.piece_at,
            finding.kind,
        )


def _where(work: Rework, passage: PassageReport) -> str:
    """Return which steps of the draft a passage tells, and where they stand."""
    piece = passage.piece if passage.piece != "unknown" else "the piece"
    place = work.draft.document.source.where(passage.span[0])
    return f"{piece.capitalize()}, {wording()['kinds'].get(passage.kind, 'steps')} ({place})"


def why_none(work: Rework, options: Options) -> str:
    """Say why there is no row to be told."""
    told = list(missing(work, options))
    if told:
        return "; ".join(told)
    return f"no steps of the kinds asked for ({', '.join(options.kinds)}) were found in the draft"
