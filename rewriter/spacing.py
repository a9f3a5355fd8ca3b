"""Say what evenly spread steps change: by size, and between shoulders that should be alike."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations_with_replacement, product

from rewriter.diagnose import Notes
from rewriter.reading import Draft, Finding, piece_named
from rewriter.respace import Moved, is_even, most_rows
from rewriter.revise import Revision
from rewriter.shapingmodel import Shaping


def note_spacing(draft: Draft, revisions: Sequence[Revision], notes: Notes) -> None:
    """Add what even steps changed in each rewritten shoulder, and where two of a draft differ."""
    for revision in revisions:
        _note_changes(revision, notes)
    if not any(r.respaced for r in revisions):
        return
    worked = {r.finding.id: r.shaping for r in revisions}
    shoulders = [f for f in draft.findings if f.kind == "shoulder"]
    for one, two in combinations_with_replacement(shoulders, 2):
        _note_unlike(one, two, worked, notes)
    for finding in shoulders:
        if finding.shaping is None:
            notes.warn(
                "steps-unlike",
                f"the shoulder of {piece_named(finding)} is not understood, so its steps stay as they "
                "are; those it meets have even steps now",
                finding.passage.span,
            )


def _note_changes(revision: Revision, notes: Notes) -> None:
    finding = revision.finding
    drafted, span = finding.shaping, finding.passage.span
    if drafted is None:
        return
    even: list[int] = []
    few: list[int] = []
    changed: dict[str, list[int]] = {}
    for size, edges in enumerate(revision.moved):
        if most_rows(edges):
            changed.setdefault(_change(drafted, revision.shaping, size, edges), []).append(size)
        elif all(is_even(steps) for steps in revision.shaping.edges[size]):
            even.append(size)
        else:
            few.append(size)
    for message, sizes in changed.items():
        notes.warn("steps-spread", message, span, _named(sizes, revision))
    if even:
        notes.remark(
            "steps-even",
            f"the steps of {piece_named(finding)} are even already and stay",
            span,
            _named(even, revision),
        )
    if few:
        notes.remark(
            "steps-not-spread",
            f"the steps of {piece_named(finding)} stay, for there are fewer sts than rows to turn on",
            span,
            _named(few, revision),
        )


def _named(sizes: Sequence[int], revision: Revision) -> tuple[int, ...]:
    """Return the sizes that a note names: none where it holds for all."""
    return tuple(sizes) if len(sizes) < len(revision.moved) else ()


def _change(drafted: Shaping, shaping: Shaping, size: int, edges: Sequence[Sequence[Moved]]) -> str:
    """Return the words for what one size's even steps change."""
    most = most_rows(edges)
    told: list[str] = []
    for old, new, moves in zip(drafted.edges[size], shaping.edges[size], edges, strict=True):
        if not moves:
            continue
        far = ", ".join(_stretch(m) for m in moves if abs(m.rows) == most)
        text = f"{_sum(new.sts)} instead of {_sum(old.sts)}" + (f" ({far})" if far else "")
        if text not in told:
            told.append(text)
    return (
        f"the steps are spread evenly, so the fabric is no longer the draft's column by column: "
        f"{'; '.join(told)}; the greatest difference is {most} {'row' if most == 1 else 'rows'}"
    )


def _stretch(move: Moved) -> str:
    count = move.last - move.first + 1
    place = f"st {move.first}" if count == 1 else f"sts {move.first}\u2013{move.last}"
    return (
        f"{place} from the armhole edge {move.rows:+d} {'row' if abs(move.rows) == 1 else 'rows'}"
    )


def _sum(sts: Sequence[int]) -> str:
    return " + ".join(map(str, sts))


def _note_unlike(one: Finding, two: Finding, worked: dict[str, Shaping], notes: Notes) -> None:
    """Warn where two shoulders of the same number of sts have different steps in the new text."""
    first, second = worked.get(one.id, one.shaping), worked.get(two.id, two.shaping)
    if first is None or second is None or not {one.id, two.id} & worked.keys():
        return
    unlike = {
        size: (a, b)
        for size in range(len(first.edges))
        for a, b in product(first.edges[size], second.edges[size])
        if a.total == b.total and a.sts != b.sts
    }
    if not unlike:
        return
    a, b = next(iter(unlike.values()))
    who = (
        f"the two shoulders of {piece_named(one)}"
        if one is two
        else f"the shoulders of {piece_named(one)} and {piece_named(two)}"
    )
    kept = [
        f"{piece_named(f)} is not rewritten and keeps its own"
        for f in (one, two)
        if f.id not in worked
    ]
    notes.warn(
        "steps-unlike",
        f"{who} have the same number of sts but not the same steps ({_sum(a.sts)} and "
        f"{_sum(b.sts)}): {[*kept, 'their rows offer different numbers of steps'][0]}",
        two.passage.span,
        tuple(unlike) if len(unlike) < len(first.edges) else (),
    )
