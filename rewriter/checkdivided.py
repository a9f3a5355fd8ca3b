"""Counts of a shoulder divided at the neck: what the dividing and the rejoining row say."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.amounts import Amount
from rewriter.checknotes import CheckNote, CheckNotes
from rewriter.dividedplan import counted as counted_at_turn
from rewriter.dividing import Divided, is_dividing, part, rejoins
from rewriter.frames import Statement
from rewriter.halfrows import centre_of
from rewriter.halves import DividedShaping
from rewriter.oneside import OneSideShaping, one_side_rows
from rewriter.pairing import Pair
from rewriter.rows import Row
from rewriter.twoballs import divided_parts

_AND = regex.compile(r"\s(?:and|plus|\+)\s")


def sides_told(statements: Sequence[Statement]) -> Divided | None:
    """Sort the revised sentences of a shoulder divided at the neck; None where it cannot be done.

    Behind short rows the dividing row may count its own sts alone: "Patt 12, turn.".
    """
    told = divided_parts(statements)
    if told is not None:
        return told
    joined = next((i for i, s in enumerate(statements) if rejoins(s)), 0)
    rows = [i for i, s in enumerate(statements[:joined]) if _counts_to_turn(s)]
    return part(statements, rows[-1]) if rows else None


def _counts_to_turn(statement: Statement) -> bool:
    """Say whether a sentence tells one row of so many sts that turns."""
    frames = [f for f in statement.frames if f.verb]
    verbs = [f.verb for f in frames]
    if verbs[:2] != ["work", "turn"] or set(verbs[2:]) - {"hold"} or "extent" in frames[0].parts:
        return False
    return frames[0].amount is not None and not frames[0].takes_all


def divided_counts(
    shaping: DividedShaping, told: Divided, until: Sequence[int], pair: Pair, notes: CheckNotes
) -> None:
    """Add the counts of the dividing and the rejoining row that do not fit the original's."""
    sizes = len(until)
    for i, counted in enumerate(until):
        waiting, beyond = counted_at_turn(shaping, i)
        if counted not in (waiting + beyond, shaping.until[i]):
            notes.add(
                CheckNote(
                    "sts-do-not-add-up",
                    "error",
                    f"{counted} sts are counted on the right needle, but {waiting} wait unworked and "
                    f"{beyond} are beyond them",
                    pair.name,
                    pair.original.passage.span,
                    told.dividing.span,
                    [i],
                ),
                "until",
            )
        for written, due in zip(_explained(told), (waiting, beyond), strict=False):
            if len(written.values) in (1, sizes) and written.per_size(sizes)[i] != due:
                notes.add(
                    CheckNote(
                        "sts-do-not-add-up",
                        "error",
                        f"the brackets say {written.per_size(sizes)[i]} sts, but it is {due}",
                        pair.name,
                        pair.original.passage.span,
                        told.dividing.span,
                        [i],
                    ),
                    f"brackets {due}",
                )
        old, new = centre_of(shaping.parts, i, sizes), centre_of(told, i, sizes)
        if old is not None and new is not None and old != new:
            notes.add(
                CheckNote(
                    "sts-do-not-add-up",
                    "error",
                    f"{new} sts are taken off at the centre, {old} in the original",
                    pair.name,
                    pair.original.passage.span,
                    told.rejoining[0].span,
                    [i],
                ),
                "centre",
            )


def one_side_compared(
    shaping: OneSideShaping, pair: Pair, sizes: int, notes: CheckNotes
) -> list[list[Row]]:
    """Return the revised rows of one side of a neck; note a count of its dividing row that is wrong."""
    out = []
    for i in range(sizes):
        rows, counted = one_side_rows(pair.statements, i, sizes)
        due = shaping.total(i) + shaping.off_at_neck(i)
        if counted not in (due, shaping.until[i]):
            message = f"{counted} sts are counted on the right needle, but it is {due}"
            at = next(s.span for s in pair.statements if is_dividing(s))
            span = pair.original.passage.span
            notes.add(
                CheckNote("sts-do-not-add-up", "error", message, pair.name, span, at, [i]), "until"
            )
        out.append(rows)
    return out


def _explained(told: Divided) -> list[Amount]:
    """Return the counts of "(the 16 unworked shoulder sts and 12 more)" in the dividing row."""
    source = told.dividing.sentence.source
    notes = [note for frame in told.dividing.frames for note in frame.notes]
    brackets = [n for n in notes if any(p.concept == "unworked" for p in n.inner)]
    # a list such as "5 (6) 7" stands before no "sts" here, so that it is not told from its words
    halves = [half for note in brackets for half in _AND.split(note.span.of(source), 1)]
    numbers = [tuple(map(int, regex.findall(r"\d+", half))) for half in halves]
    return [Amount(values, told.dividing.span) for values in numbers if values]
