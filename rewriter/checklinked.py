"""Shoulders that lean on a changed one: "as for back", "complete to match, reversing shapings"."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.checknotes import CheckNote, CheckNotes
from rewriter.comparison import PassageComparison
from rewriter.dividing import is_matching
from rewriter.document import Sentence
from rewriter.leadin import read_lead_in
from rewriter.pairing import Pair, plain
from rewriter.passages import Passage
from rewriter.reading import Draft
from rewriter.rows import Side


def leaning_sentence(pair: Pair, new: Draft) -> Sentence | None:
    """Return the sentence of the revised text that still tells a shoulder by another piece's."""
    if pair.original.refers_to is None:
        return None
    words = " ".join(pair.original.passage.sentence.view.text.split())
    return next((s for s in new.document.sentences if " ".join(s.view.text.split()) == words), None)


def check_linked(
    passages: Sequence[PassageComparison], pairs: Sequence[Pair], new: Draft, notes: CheckNotes
) -> None:
    """Add what is no longer true of the sentences that lean on a passage that was changed."""
    changed = {p.id for p in passages if p.changed and p.edges}
    for pair in pairs:
        told = leaning_sentence(pair, new)
        if told is not None and pair.revised is None and pair.original.refers_to in changed:
            _as_for_back(pair, told, new, notes)
        if pair.name in changed and not pair.mirrored:
            _matching(pair, pairs, notes)


def _as_for_back(pair: Pair, told: Sentence, new: Draft, notes: CheckNotes) -> None:
    """Compare the lead-in of "shoulder as for back" with the row on which the back now begins."""
    old = pair.original.lead_in.side
    side = _side_before(pair, told, new)
    span = pair.original.passage.span
    if old is not None and side == old:
        notes.add(
            CheckNote(
                "lead-in-not-moved",
                "error",
                f"the short rows it refers to begin a row earlier, but the words before it still end "
                f"with a {old} row",
                pair.name,
                span,
                told.span,
            )
        )
    notes.add(
        CheckNote(
            "told-by-both-edges",
            "warning",
            "the rows it refers to turn at two edges, this side has one: they cannot be followed as "
            "they stand",
            pair.name,
            span,
            told.span,
        )
    )


def _side_before(pair: Pair, told: Sentence, new: Draft) -> Side | None:
    before = [
        s
        for s, home in zip(new.statements, new.document.sentences, strict=True)
        if s is not None and home.piece_at == told.piece_at and home.span.end <= told.span.start
    ]
    old = pair.original.passage
    passage = Passage(old.statements, before, [], old.piece, told.piece_at, old.topics)
    return read_lead_in(passage, pair.original.fabric).side


def _matching(pair: Pair, pairs: Sequence[Pair], notes: CheckNotes) -> None:
    """Say that a second side told by the first begins on the other side of the work."""
    home = pair.original.passage
    written = any(p.mirrored and p.original is pair.original for p in pairs)
    shaping = pair.original.shaping
    if written or pair.revised is None or shaping is None or shaping.two_edged:
        return
    olds = {plain(s) for s in home.follows[:6] if is_matching(s)}
    for statement in pair.revised.follows[:6]:
        if is_matching(statement) and plain(statement) in olds:
            notes.add(
                CheckNote(
                    "second-side-by-words",
                    "remark",
                    "the other side is told by this one: its first short row falls on the other side of "
                    "the work, and the row before it with it",
                    pair.name,
                    home.span,
                    statement.span,
                )
            )
            return
