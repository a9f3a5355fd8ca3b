"""What the trade warns of where short rows meet certain fabrics, yarns and wearers (common practice)."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from functools import cache
from typing import Literal

from pydantic import BaseModel, ConfigDict

from rewriter import regex
from rewriter._resources import grammar_file
from rewriter.castonmodel import CastOnShaping
from rewriter.diagnose import Notes
from rewriter.ground import fabric_at_turns
from rewriter.joins import seam_sentences
from rewriter.options import Options
from rewriter.reading import Draft, Finding
from rewriter.revise import Revision


class Caution(BaseModel):
    """One caution of `grammar/cautions.toml`, and when it is given."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    code: str
    severity: Literal["warning", "remark"]
    message: str
    place: Literal["", "piece", "draft"] = ""
    cue: str = ""
    kinds: tuple[str, ...] = ()
    fabric: tuple[str, ...] = ()
    turns: tuple[str, ...] = ()
    joins: tuple[str, ...] = ()
    markers: bool = False
    before_join: bool = False
    """Only where the cue stands before the words that join the shoulders, or nothing joins them."""


@cache
def cautions() -> tuple[Caution, ...]:
    """Return the cautions in the order of how often they matter; raises ValidationError for a bad table."""
    table = tomllib.loads(grammar_file("cautions.toml"))["caution"]
    return tuple(Caution.model_validate(entry) for entry in table)


def warn_of_cautions(
    draft: Draft, revisions: Sequence[Revision], options: Options, notes: Notes
) -> None:
    """Add each caution that a rewritten slope calls for, once a code, at the first passage it is about."""
    said: set[str] = set()
    sloped = [r for r in revisions if r.plan.slopes]
    for caution in cautions():
        about = next((r for r in sloped if _applies(caution, r, draft, options)), None)
        if about is None or caution.code in said:
            continue
        said.add(caution.code)
        add = notes.warn if caution.severity == "warning" else notes.remark
        add(caution.code, caution.message, about.finding.passage.span)


def _applies(caution: Caution, revision: Revision, draft: Draft, options: Options) -> bool:
    finding = revision.finding
    return (
        (not caution.kinds or finding.kind in caution.kinds)
        and (not caution.fabric or fabric_at_turns(draft, finding) in caution.fabric)
        and (not caution.turns or options.turn in caution.turns)
        and (not caution.joins or (revision.plan.join in caution.joins and not _casts_on(revision)))
        and (not caution.markers or options.markers)
        and not (caution.before_join and _joined_first(caution, draft))
        and (not caution.cue or bool(regex.search(caution.cue, _words(caution, finding, draft))))
    )


def _joined_first(caution: Caution, draft: Draft) -> bool:
    """Say whether the words that join the shoulders stand before all that the cue finds."""
    joined = next((s.span.start for s in seam_sentences(draft.document)), None)
    return joined is not None and not any(
        s.piece != "list" and s.span.start < joined and regex.search(caution.cue, s.view.text)
        for s in draft.document.sentences
    )


def _casts_on(revision: Revision) -> bool:
    """Say whether a shoulder is cast on: it is neither bound off nor joined."""
    return isinstance(revision.shaping, CastOnShaping)


def _words(caution: Caution, finding: Finding, draft: Draft) -> str:
    """Return the words in which a cue is searched, in lower case."""
    if caution.place == "draft":
        return draft.document.source.text.lower()
    return " ".join(
        s.view.text
        for s in draft.document.sentences
        if s.piece_at == finding.passage.piece_at and s.span.start < finding.passage.span.end
    )
