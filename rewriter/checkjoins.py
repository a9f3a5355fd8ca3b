"""Whether shoulders that meet can be joined, and whether the making-up goes with how they end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from rewriter.checknotes import CheckNote, CheckNotes
from rewriter.comparison import PassageComparison
from rewriter.diagnose import begins_beside
from rewriter.joinwords import LIVE, SEWN, names_join
from rewriter.pairing import Pair
from rewriter.reading import Draft, Finding
from rewriter.spans import Span
from rewriter.twin import Steps


@dataclass
class Joins:
    """The sentences that join the shoulders."""

    live: bool = False
    """One of them joins live sts."""
    told: list[tuple[Span, str]] = field(default_factory=list)
    """Their places, each with "live", "sewn" or "neutral"."""


def joins_of(draft: Draft) -> Joins:
    """Find the sentences of a draft that join its shoulders."""
    out = Joins()
    for sentence in draft.document.sentences:
        text = sentence.view.text
        if sentence.heading or not names_join(text):
            continue
        live, sewn = bool(LIVE.search(text)), bool(SEWN.search(text))
        kind = "neutral" if live == sewn else "live" if live else "sewn"
        out.told.append((sentence.span, kind))
        out.live = out.live or live
    return out


def check_joins(
    passages: Sequence[PassageComparison],
    pairs: Sequence[Pair],
    joins: Joins,
    notes: CheckNotes,
) -> None:
    """Add what keeps the shoulders from being joined as the text says."""
    shoulders = [p for p in passages if p.kind == "shoulder"]
    endings = {p.id: ending_of(p) for p in shoulders}
    _counts_meet(pairs, notes)
    known = {name: ends for name, ends in endings.items() if ends in ("live", "bound off")}
    live = [name for name, ends in known.items() if ends == "live"]
    bound = [name for name, ends in known.items() if ends == "bound off"]
    region = {p.id: None if p.revised_span is None else Span(*p.revised_span) for p in passages}
    if live and bound:
        notes.add(
            CheckNote(
                "live-meets-bound-off",
                "error",
                f"the sts of {live[0]} are kept live, those of {bound[0]} are bound off: they cannot be "
                "joined stitch for stitch",
                live[0],
                revised=region[live[0]],
            )
        )
    for span, kind in joins.told:
        if kind == "sewn" and live:
            message = f"the shoulders are sewn here, but the sts of {live[0]} are live"
            notes.add(CheckNote("sewn-over-live", "error", message, live[0], revised=span))
        elif kind == "live" and bound:
            message = f"live sts are joined here, but those of {bound[0]} are bound off"
            notes.add(
                CheckNote("live-join-over-bound-off", "error", message, bound[0], revised=span)
            )
        elif kind == "neutral" and live:
            notes.add(
                CheckNote(
                    "join-not-told",
                    "remark",
                    "how the live shoulders are joined is left open here",
                    live[0],
                    revised=span,
                )
            )


def ending_of(passage: PassageComparison) -> str:
    """Return how the shoulders of a passage end: "live", "bound off", "mixed" or "" for not known."""
    if not passage.changed and passage.result == "same":
        return "bound off"
    told = {edge.ending for edge in passage.edges if edge.ending is not None}
    return told.pop() if len(told) == 1 else "mixed" if told else ""


def _counts_meet(pairs: Sequence[Pair], notes: CheckNotes) -> None:
    """Compare the sts of all shoulders, for each size: back and front are joined stitch for stitch."""
    shoulders: list[tuple[Finding, list[Steps]]] = []
    for pair in pairs:
        shaping = pair.original.shaping
        if pair.mirrored or shaping is None or pair.original.kind != "shoulder":
            continue
        if begins_beside(shaping):
            continue
        for edges in zip(*shaping.edges, strict=True):
            shoulders.append((pair.original, list(edges)))
    named = {f.passage.piece for f, _ in shoulders}
    if "back" in named and any("front" in piece for piece in named):
        # what has no name is another garment of a leaflet, where both are told by theirs
        shoulders = [(f, steps) for f, steps in shoulders if f.passage.piece != "unknown"]
    if not shoulders:
        return
    home, first = shoulders[0]
    regions = {p.original.id: p.region for p in pairs if not p.mirrored}
    for finding, steps in shoulders[1:]:
        wrong = [i for i, (a, b) in enumerate(zip(first, steps, strict=True)) if a.total != b.total]
        if not wrong:
            continue
        i = wrong[0]
        notes.add(
            CheckNote(
                "shoulders-differ",
                "error",
                f"{home.passage.piece}: {_sum(first[i])} sts, {finding.passage.piece}: {_sum(steps[i])} "
                "sts: they cannot be joined stitch for stitch (so in the original, too)",
                finding.id,
                finding.passage.span,
                regions.get(finding.id),
                wrong,
            )
        )


def _sum(steps: Steps) -> str:
    if len(steps.sts) == 1:
        return str(steps.total)
    return f"{' + '.join(map(str, steps.sts))} = {steps.total}"
