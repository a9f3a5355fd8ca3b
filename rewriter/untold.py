"""Turns that a revised text tells in words that give no rows, so that nothing may be judged by them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from rewriter import regex
from rewriter.checknotes import CheckNote, CheckNotes, Severity
from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.pairing import Pair, plain
from rewriter.passages import Passage
from rewriter.reading import Draft
from rewriter.rowframes import doubtful, is_note
from rewriter.rows import TURN, WORK_ALL, Kind, Row, leave
from rewriter.shapingmodel import Shaping
from rewriter.spans import Span
from rewriter.unreadwords import shown

_SHORT = regex.compile(r"\bshort[ -]rows?\b")
_WORDS = regex.compile(r"[a-z]{2,}\W+[a-z]{2,}")
_STS = regex.compile(r"\d[\d\s(),:;/\[\]-]*(?:fewer |more |less |further )?(?:sts|stitches)\b")


def note_markers_taken(pair: Pair, notes: CheckNotes) -> None:
    """Say which marker "the first marker" was taken to be, where the words could mean another."""
    told = [f.one("extent") for s in pair.statements for f in s.frames]
    for extent in told:
        if extent is not None and extent.kind == "to_marker" and extent.concept.isdigit():
            number = (
                "nearest the edge"
                if extent.concept == "1"
                else f"no. {extent.concept} from the edge"
            )
            notes.add(
                CheckNote(
                    "marker-taken",
                    "remark",
                    f"this marker is taken as the one {number} that the row runs towards; counted in the "
                    "order in which the row comes to them it would be another",
                    pair.name,
                    pair.original.passage.span,
                    extent.span,
                )
            )
            return


_TAKEN = {
    "row": "these sts are taken as those worked in this row; counted with the sts left unworked at its "
    "beginning the turn would lie nearer the middle: say which is meant",
    "total": "these sts are taken as counted with those left unworked at the beginning of the row, for "
    "without them they reach to its end and nothing turns at this edge: say how many are worked",
}


def note_counts_taken(rows: Sequence[Sequence[Row]], pair: Pair, notes: CheckNotes) -> None:
    """Say how the sts before a turn were counted, where they could be meant in another way."""
    for row in (row for own in rows for row in own if row.count_taken):
        severity: Severity = "remark" if row.count_taken == "row" else "warning"
        message, place = _TAKEN[row.count_taken], pair.original.passage.span
        notes.add(CheckNote("turn-count-taken", severity, message, pair.name, place, row.span))
        return


def counted_in_all(rows: list[Row], shaping: Shaping, size: int) -> list[Row]:
    """Read "work 81 sts, turn" twice, then "work 74 sts, turn" twice, as counts of the whole needle.

    Counted in their row, each second one would be worked to its end, and nothing would turn at that edge of
    a shoulder that has steps at both.
    """
    before = shaping.stitches[size]
    counted = [[a.kind for a in row.acts] == [Kind.WORK, Kind.TURN] for row in rows]
    number = counted.index(False) if False in counted else len(rows)
    told = [row.acts[0].n or 0 for row in rows[:number]]
    if not shaping.two_edged or before is None or number < _PAIR or number % _PAIR:
        return rows
    pairs = [*zip(told[::2], told[1::2], strict=True)]
    if any(one != two or not 0 < one < before for one, two in pairs):
        return rows
    turned = [
        replace(row.with_acts(leave(before - n), TURN), count_taken="total" if i % _PAIR else "")
        for i, (row, n) in enumerate(zip(rows, told, strict=False))
    ]
    return [*turned, *rows[number:]]


_PAIR = 2
"""Rows of a turn at each edge."""


def note_words_passed_over(pair: Pair, old: Draft, new: Draft, notes: CheckNotes) -> None:
    """Name sentences among the rows that the original has not and that tell nothing that is read here."""
    region = pair.region
    if region is None or pair.same_words:
        return
    known = {s.view.text for s in old.document.sentences}
    read = {s.sentence.span for s in pair.statements}
    for sentence, statement in zip(new.document.sentences, new.statements, strict=True):
        inside = region.start < sentence.span.start < region.end
        if not inside or statement is not None or sentence.heading or sentence.span in read:
            continue
        if sentence.view.text not in known and _WORDS.search(sentence.view.text):
            notes.add(
                CheckNote(
                    "words-passed-over",
                    "warning",
                    "these words stand among the short rows, and tell no row that is read here: do they "
                    "change what is knitted?",
                    pair.name,
                    pair.original.passage.span,
                    sentence.span,
                )
            )


_IN_TABLE = regex.compile(r"(?mi)^[ \t]*\|[^\n]*\b(?:turn|w&t|ds)\b[^\n]*\|")


def rows_in_table(new: Draft) -> Span | None:
    """Return the first row of a table that turns: such rows are not read."""
    found = _IN_TABLE.search(new.document.source.text)
    return None if found is None else Span(found.start(), found.end())


def only_marks_of(statement: Statement) -> Statement:
    """Return a sentence before short rows with nothing but the markers that it hangs."""
    return replace(statement, label=None, frames=[f for f in statement.frames if f.verb == "mark"])


def goes_on_to_band(rows: Sequence[Row], shaping: Shaping, size: int) -> list[Row]:
    """Let the last row go on over the sts beside the shoulder, where no more is told than what it ends.

    "Cast off 36 sts." at the armhole edge of a front whose band is worked on.
    """
    last = rows[-1] if rows else None
    alone = last is not None and [a.kind for a in last.acts] == [Kind.BIND_OFF]
    if last is None or shaping.two_edged or not alone or last.acts[0].n != shaping.total(size):
        return list(rows)
    if shaping.neck[size] == 0:
        return list(rows)
    return [*rows[:-1], last.with_acts(*last.acts, WORK_ALL)]


def words_not_understood(pair: Pair) -> str:
    """Name all words of a passage that are not understood, so that they can be changed at once."""
    odd = [(s, doubtful(s)) for s in pair.statements if not is_note(s)]
    told = dict.fromkeys(shown(statement, parts) for statement, parts in odd if parts)
    if not told or sum(len(parts) for _, parts in odd) < 2:
        return ""
    listed = " and ".join(told)
    return f"the words {listed} are not understood here and could change what is knitted"


def refuse_untold_turns(pair: Pair) -> None:
    """Refuse a passage before which short rows are told with their sts in words that gave no row."""
    known = {plain(s) for s in pair.before[0]}
    own = {
        s.sentence.span for s in pair.statements
    }  # a lead-in may stand in the first of its sentences
    for statement in pair.before[1]:
        if statement.sentence.span in own:
            continue
        text = plain(statement).lower()
        if plain(statement) in known or any(f.verb == "mark" for f in statement.frames):
            continue
        if _SHORT.search(text) and _STS.search(text):
            raise Unread(
                "not-understood", "how these short rows turn is not understood", statement.span
            )


def cut_off(pair: Pair, extra: Sequence[Passage]) -> Passage | None:
    """Return the short rows that go on behind a passage, past one sentence that is not read as its rows."""
    region = pair.region
    if region is None or pair.revised is None or not pair.revised.short_rows:
        return None
    for passage in extra:
        if passage.piece_at != pair.revised.piece_at or passage.span.start < region.end:
            continue
        between = [s for s in passage.before if s.span.start >= region.end]
        return passage if passage.short_rows and len(between) < 2 else None
    return None


def refuse_cut_off(pair: Pair, behind: Passage | None) -> None:
    """Refuse a passage whose rows go on in words that are not read as such."""
    region = pair.region
    if behind is not None and region is not None:
        between = [s.span for s in behind.before if s.span.start >= region.end]
        raise Unread(
            "not-understood",
            "how the rows before this go on is not understood",
            between[0] if between else behind.span,
        )


def refuse_turns_at_both_edges(rows: Sequence[Sequence[Row]], region: Span) -> None:
    """Refuse "work 6 short rows, leaving 7 more sts at the end of each" where one edge is shaped."""
    for one, two in pairwise(rows[0]):
        if one.further is not None and one.span == two.span and two.has(Kind.TURN):
            raise Unread(
                "not-understood",
                "at the end of which of these rows sts are left is not understood",
                one.span or region,
            )
