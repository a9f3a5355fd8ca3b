"""What ends the sts of a shoulder in short rows: which belong to a shoulder, and which to the neck."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.edgesteps import works_on_after
from rewriter.frames import Statement
from rewriter.neckrows import both_sides_at_once
from rewriter.passages import Passage
from rewriter.rows import PLAIN, Kind, Row
from rewriter.shapingmodel import Ending


@dataclass(frozen=True)
class Ends:
    """What becomes of the sts of one size after the turns."""

    shoulders: tuple[int, ...]
    """Stitches of the shoulders: first that whose rows of even index begin at its edge, if there is one."""
    neck: int | None
    ending: Ending
    live: bool
    ending_from: int


@dataclass(frozen=True)
class _End:
    """Stitches bound off or held: where, how many, and in which words."""

    index: int
    """Index of the row among those that are worked."""
    kind: Kind
    n: int | None
    row: Row
    alone: bool
    """Nothing else is worked in the row."""
    words: str


def worked(rows: Sequence[Row]) -> list[Row]:
    """Return the rows in which the yarn passes over the work: holding and cutting are none."""
    return [row for row in rows if row.passes]


def turns_at_edge(row: Row) -> bool:
    """Say whether a row stops short of the edge and turns."""
    return row.has(Kind.LEAVE) and row.has(Kind.TURN)


def _listed_ends(rows: Sequence[Row], statements: Sequence[Statement]) -> list[_End]:
    out: list[_End] = []
    index = 0
    for number, row in enumerate(rows):
        words = _words(rows, number, statements)
        for act in row.acts:
            if act.kind in (Kind.BIND_OFF, Kind.HOLD) and not (
                row.edge == "neck" and len(row.acts) > 1 and not row.has(Kind.JOIN)
            ):
                n = act.n if act.n is not None else row.claim
                out.append(_End(index, act.kind, n, row, len(row.acts) == 1, words))
        index += row.passes
    return out


def _words(rows: Sequence[Row], number: int, statements: Sequence[Statement]) -> str:
    """Return the words of a row up to the next row told in its sentence, in lower case."""
    row = rows[number]
    if row.span is None or row.statement < 0:
        return ""
    statement = statements[row.statement]
    later = [
        r.span.start
        for r in rows[number + 1 :]
        if r.span is not None and r.statement == row.statement and r.span.start > row.span.start
    ]
    stop = min(later, default=statement.span.end)
    return statement.sentence.source[row.span.start : stop].lower()


def ends_of(
    rows: Sequence[Row],
    turning: set[int],
    passage: Passage,
    statements: Sequence[Statement],
    known: int | None,
    size: int,
) -> Ends:
    """Tell shoulders and neck apart by what ends them; raises Unread."""
    ends = _listed_ends(rows, statements)
    _refuse_no_closing_row(rows, turning, passage, size)
    if len(turning) == 1:
        return _one_edge(rows, ends, next(iter(turning)), passage, statements, known, size)
    last = len(statements)
    sweeps = [e for e in ends if e.kind is Kind.BIND_OFF and not e.row.has(Kind.CUT)]
    held = [e for e in ends if e.kind is Kind.HOLD]
    rest = ends[2:]
    if len(sweeps) >= 2 and ends[:2] == sweeps[:2] and len(rest) <= 1 and not sweeps[0].alone:
        one, two = sweeps[:2]
        ended = two.alone and not rest and one.n == two.n  # no neck: "Cast off rem 24 sts"
        if one.n and two.n and (one.index - two.index) % 2 and (ended or not two.alone):
            # the shoulder whose sweep stands on a row of even index comes first
            totals = (one.n, two.n) if one.index % 2 == 0 else (two.n, one.n)
            neck, ending, where = 0 if ended else None, "open", last
            if rest:
                neck, where = rest[0].n, rest[0].row.statement
                ending = "held" if rest[0].kind is Kind.HOLD else "bound off"
            elif both_sides_at_once(passage):
                neck = 0  # each side has its own ball, and no sts lie between them
            if neck is None and known is not None:
                neck = known - sum(totals)
            if neck is not None and neck < 0:
                raise Unread(
                    "sums",
                    f"{totals[0]} + {totals[1]} sts are bound off, but {known} are on the needle",
                    passage.span,
                    (size,),
                )
            return Ends(totals, neck, _ending(ending), False, where)
    if len(ends) == 1 and ends[0].kind is Kind.BIND_OFF:
        raise Unread(
            "no-exact-steps",
            "no steps make this fabric: both shoulders are bound off on one row, where steps end "
            "one row apart, so one of them would be one row higher or lower",
            ends[0].row.span or passage.span,
            (size,),
        )
    if held and not sweeps[1:]:
        return _live(rows, ends, held, passage, last)
    raise Unread(
        "ending-unclear",
        "which sts are the shoulders' and which the neck's is not told by what ends them",
        (ends[-1].row.span if ends else None) or passage.span,
        (size,),
    )


def _refuse_no_closing_row(
    rows: Sequence[Row], turning: set[int], passage: Passage, size: int
) -> None:
    """Refuse turns after which no row works to the end at their edge: every column lacks a row."""
    passed = worked(rows)
    for parity in turning:
        turns = [i for i, r in enumerate(passed) if i % 2 == parity and turns_at_edge(r)]
        later = passed[turns[-1] + 2 :: 2] if turns else [PLAIN]
        if not any(row.acts[-1].kind is not Kind.TURN for row in later):
            raise Unread(
                "no-exact-steps",
                "no steps make this fabric: no row closes the turns, so with steps the sts would "
                "be one row higher",
                passage.span,
                (size,),
            )


def _ending(name: str) -> Ending:
    return "held" if name == "held" else "bound off" if name == "bound off" else "open"


def _live(
    rows: Sequence[Row],
    ends: Sequence[_End],
    held: Sequence[_End],
    passage: Passage,
    statements: int,
) -> Ends:
    """Tell what is held: both shoulders by one count, one after the other, or with the neck between."""
    shoulders = [e for e in held if not regex.search(r"\bneck\b", e.words)]
    necks = [e for e in ends if e not in shoulders]
    each = bool(shoulders) and bool(regex.search(r"\b(?:each|both)\b", shoulders[0].words))
    counts = [e.n for e in shoulders for _ in range(2 if each and len(shoulders) == 1 else 1)]
    apart = not necks and both_sides_at_once(passage)
    if len(counts) != 2 or (len(necks) != 1 and not apart) or None in counts:
        raise Unread(
            "ending-unclear",
            "how many of the sts held belong to each shoulder is not told",
            held[-1].row.span or passage.span,
        )
    first, second = (n or 0 for n in counts)
    totals = (first, second) if _begins_at_second(rows) else (second, first)
    if apart:  # each side has its own ball, and no sts lie between them
        return Ends(totals, 0, "open", True, statements)
    ending = "held" if necks[0].kind is Kind.HOLD else "bound off"
    return Ends(totals, necks[0].n, _ending(ending), True, statements)


def _begins_at_second(rows: Sequence[Row]) -> int:
    """Return the parity of the rows that begin at the edge of the shoulder which is finished second."""
    index = 0
    for row in rows:
        if row.has(Kind.HOLD) and row.has(Kind.CUT):
            return (index + 1) % 2  # the first shoulder is held where the last row ended
        if row.has(Kind.TURN) and not row.has(Kind.LEAVE):
            return index % 2  # over the second shoulder and the neck
        index += row.passes
    return index % 2


def _one_edge(
    rows: Sequence[Row],
    ends: Sequence[_End],
    turning: int,
    passage: Passage,
    statements: Sequence[Statement],
    known: int | None,
    size: int,
) -> Ends:
    off = sum(row.off_at_neck for row in rows)
    if len(ends) != 1 or (ends[0].kind is Kind.BIND_OFF and ends[0].index % 2 == turning):
        raise Unread(
            "ending-unclear",
            "what ends the sts of this shoulder is not understood",
            (ends[-1].row.span if ends else None) or passage.span,
            (size,),
        )
    end = ends[0]
    takes_all = end.alone or regex.search(r"\ball\b", end.words) is not None
    total = end.n
    if total is None and known is not None and takes_all:
        total = known - off
    if total is None:
        total = _printed(rows)
    if total is None:
        raise Unread(
            "last-step-unknown",
            "how many sts does this shoulder have in all? (give the stitch count before it)",
            end.row.span or passage.span,
            (size,),
            "stitches",
        )
    neck: int | None = 0
    if not takes_all:
        works_on = works_on_after(passage)
        neck = known - total - off if known is not None else None if works_on else 0
    return Ends((total,), neck, "used up", end.kind is Kind.HOLD, len(statements))


def _printed(rows: Sequence[Row]) -> int | None:
    """Return the last count that the text prints, if no st is taken away after it."""
    for row in reversed(rows):
        if row.printed is not None:
            return row.printed
        if row.off_at_neck:
            return None
    return None
