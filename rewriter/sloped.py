"""The model of a shoulder in short rows: its rows as they are read, and the steps that make its fabric.

The rows come from the reader, however they were worded. Which sts belong to which shoulder follows
from what ends them: the sweep at the beginning of a row, or the counts of what is held. The steps then
follow from the fabric (`untwin.py`). What cannot be told raises `Unread`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import regex

from rewriter.counts import count_before
from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.interpret import read_rows
from rewriter.leadin import LeadIn
from rewriter.neckrows import both_sides_at_once
from rewriter.passages import Passage
from rewriter.rows import OTHER_SIDE, PLAIN, Edge, Kind, Row, Side, edge_of_beginning
from rewriter.runs import takes_all_sts
from rewriter.shaping import Ending, Shaping, works_on_after
from rewriter.sides import Sized, settle_side
from rewriter.sizes import Sizes
from rewriter.untwin import NoSteps, SteppedTwin, untwin
from rewriter.verify import UNKNOWN_NECK


class SlopedShaping(Shaping):
    """A shoulder in short rows; `rows` and `edges` are those of the steps that make its fabric."""

    sloped: tuple[tuple[Row, ...], ...]
    """The short rows of each size as read, from row -1 on."""
    needle: tuple[int, ...]
    """Stitches on the needle of each size, a number that stands in where it is not known."""
    live: bool
    """The shoulders were kept live."""
    gained: tuple[tuple[int, ...], ...]
    """Rows that each shoulder gains, per size, in the order of the edges."""
    neck_gained: tuple[int, ...]
    """Rows that the sts beside the shoulders gain, per size."""

    @property
    def begins_with_turn(self) -> bool:
        """Whether row -1 turns before its end, in some size."""
        return any(own[0].has(Kind.TURN) for own in self.sloped)

    def shoulders(self, size: int) -> dict[Edge, int]:
        """Return the sts of each shoulder of one size by its edge."""
        return {steps.edge: steps.total for steps in self.edges[size]}


@dataclass(frozen=True)
class _Ends:
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


def whole_passage(passage: Passage) -> Passage:
    """Return a sloped passage with the sentences up to those that end its sts, and none after them.

    The third row of a back kept live turns at its neck, and the sts that it leaves are ended after it.
    Sts of the centre that wait for a neckband belong to no shoulder at one edge.
    """
    told = passage.statements
    for place, statement in enumerate(told):
        centre = any(f.verb == "hold" and f.edge == "neck" for f in statement.frames)
        if centre and sum(_sweeps(s) for s in told[:place]) == 1:
            return replace(passage, statements=told[:place], follows=told[place:])
    if takes_all_sts(told[-1]):
        return passage
    more = passage.follows[:3]
    third = [f.verb for f in more[0].frames if f.verb] if more else []
    if third[:2] != ["work", "turn"]:
        return passage
    for place, statement in enumerate(more):
        if any(f.verb == "hold" and "holder" in f.parts for f in statement.frames):
            added = more[: place + 1]
            return replace(
                passage, statements=[*told, *added], follows=passage.follows[place + 1 :]
            )
    return passage


def _sweeps(statement: Statement) -> bool:
    return any(f.verb == "bind_off" and f.edge != "neck" for f in statement.frames)


def read_sloped(
    passage: Passage, lead_in: LeadIn, sizes: Sizes, answer: Side | None = None
) -> SlopedShaping:
    """Build the model of a whole passage in short rows and find its steps; raises Unread.

    `answer` is the side of the first bind-off row as the reader gave it.
    """
    count = len(sizes)
    statements = passage.statements
    before = count_before(passage, count)
    known = before[0] if before else (None,) * count
    at_once = both_sides_at_once(passage)
    rows = [read_rows(statements, i, count, known[i], at_once=at_once) for i in range(count)]
    return sloped_shaping(rows, passage, statements, lead_in, sizes, known, answer)


def sloped_shaping(
    rows: Sequence[Sequence[Row]],
    passage: Passage,
    statements: Sequence[Statement],
    lead_in: LeadIn,
    sizes: Sizes,
    known: Sequence[int | None],
    answer: Side | None,
) -> SlopedShaping:
    """Build the model from the rows of each size; `known` are the sts on the needle before them."""
    turning = {i % 2 for own in rows for i, row in enumerate(_worked(own)) if _turns_at_edge(row)}
    if not turning:
        raise Unread("no-turns", "no row stops before its edge and turns", passage.span)
    two_edged = len(turning) == 2
    if not two_edged:
        rows = [_with_neck(own, next(iter(turning))) for own in rows]
    sized = [
        Sized(_worked(own), {(p + 1) % 2: [((p + 1) % 2, 1)] for p in turning}) for own in rows
    ]
    minus_one = (
        OTHER_SIDE[answer]
        if answer is not None
        else settle_side(passage, lead_in, two_edged, sized)[0]
    )
    begins = edge_of_beginning(minus_one or "WS")
    twins, ends, needle = [], [], []
    for i, own in enumerate(rows):
        end = _ends(own, turning, passage, statements, known[i], i)
        beside = end.neck if end.neck is not None else UNKNOWN_NECK
        off = sum(row.off_at_neck for row in own)
        stitches = sum(end.shoulders) + off + beside
        of_one_side = end.neck == 0 and 2 * (known[i] or 0) == stitches
        if end.neck is not None and known[i] not in (None, stitches) and not of_one_side:
            raise Unread(
                "sums",
                f"{stitches} sts are worked here, but {known[i]} are on the needle",
                passage.span,
                (i,),
            )
        twins.append(_twin(own, stitches, begins, turning, end, passage, i))
        ends.append(end)
        needle.append(stitches)
    first = OTHER_SIDE[minus_one] if minus_one is not None else None
    return SlopedShaping(
        rows=tuple(t.rows for t in twins),
        edges=tuple(t.edges for t in twins),
        first_side=first,
        ending=ends[0].ending,
        neck=tuple(e.neck for e in ends),
        stitches=tuple(
            s if e.neck is not None else k for s, e, k in zip(needle, ends, known, strict=True)
        ),
        last_on_return_row=False,
        ending_from=ends[0].ending_from,
        sloped=tuple(tuple(own) for own in rows),
        needle=tuple(needle),
        live=ends[0].live,
        gained=tuple(t.gained for t in twins),
        neck_gained=tuple(t.neck_gained for t in twins),
    )


def _twin(
    rows: Sequence[Row],
    stitches: int,
    begins: Edge,
    turning: set[int],
    end: _Ends,
    passage: Passage,
    size: int,
) -> SteppedTwin:
    other: Edge = "left" if begins == "right" else "right"
    # rows of even index begin at `begins` and end at the other edge
    ends_at = {0: other, 1: begins}
    edges = [ends_at[p] for p in sorted(turning, reverse=True)]
    shoulders = dict(zip(edges, end.shoulders, strict=True))
    try:
        return untwin(rows, stitches, begins, shoulders, end.live)
    except NoSteps as reason:
        raise Unread(
            "no-exact-steps", f"no steps make this fabric: {reason}", passage.span, (size,)
        ) from None


def _worked(rows: Sequence[Row]) -> list[Row]:
    return [row for row in rows if _passes(row)]


def _passes(row: Row) -> bool:
    return any(a.kind in (Kind.WORK, Kind.LEAVE, Kind.BIND_OFF) for a in row.acts)


def _turns_at_edge(row: Row) -> bool:
    return row.has(Kind.LEAVE) and row.has(Kind.TURN)


def _with_neck(rows: Sequence[Row], turning: int) -> list[Row]:
    """Mark the bind-offs of rows that begin at the neck: they are those that turn at the other edge."""
    out, index = [], 0
    for row in rows:
        binds = len(row.acts) > 1 and row.acts[0].kind is Kind.BIND_OFF
        neck = binds and index % 2 == turning
        out.append(replace(row, edge="neck") if neck else row)
        index += _passes(row)
    return out


# --- what ends the sts --------------------------------------------------------------------------


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
        index += _passes(row)
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


def _ends(
    rows: Sequence[Row],
    turning: set[int],
    passage: Passage,
    statements: Sequence[Statement],
    known: int | None,
    size: int,
) -> _Ends:
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
            return _Ends(totals, neck, _ending(ending), False, where)
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
    worked = _worked(rows)
    for parity in turning:
        turns = [i for i, r in enumerate(worked) if i % 2 == parity and _turns_at_edge(r)]
        later = worked[turns[-1] + 2 :: 2] if turns else [PLAIN]
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
) -> _Ends:
    """Tell what is held: both shoulders by one count, one after the other, or with the neck between."""
    shoulders = [e for e in held if not regex.search(r"\bneck\b", e.words)]
    necks = [e for e in ends if e not in shoulders]
    each = bool(shoulders) and bool(regex.search(r"\b(?:each|both)\b", shoulders[0].words))
    counts = [e.n for e in shoulders for _ in range(2 if each and len(shoulders) == 1 else 1)]
    if len(counts) != 2 or len(necks) != 1 or None in counts:
        raise Unread(
            "ending-unclear",
            "how many of the sts held belong to each shoulder is not told",
            held[-1].row.span or passage.span,
        )
    first, second = (n or 0 for n in counts)
    totals = (first, second) if _begins_at_second(rows) else (second, first)
    ending = "held" if necks[0].kind is Kind.HOLD else "bound off"
    return _Ends(totals, necks[0].n, _ending(ending), True, statements)


def _begins_at_second(rows: Sequence[Row]) -> int:
    """Return the parity of the rows that begin at the edge of the shoulder which is finished second."""
    index = 0
    for row in rows:
        if row.has(Kind.HOLD) and row.has(Kind.CUT):
            return (index + 1) % 2  # the first shoulder is held where the last row ended
        if row.has(Kind.TURN) and not row.has(Kind.LEAVE):
            return index % 2  # over the second shoulder and the neck
        index += _passes(row)
    return index % 2


def _one_edge(
    rows: Sequence[Row],
    ends: Sequence[_End],
    turning: int,
    passage: Passage,
    statements: Sequence[Statement],
    known: int | None,
    size: int,
) -> _Ends:
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
        )
    neck: int | None = 0
    if not takes_all:
        works_on = works_on_after(passage)
        neck = known - total - off if known is not None else None if works_on else 0
    return _Ends((total,), neck, "used up", end.kind is Kind.HOLD, len(statements))


def _printed(rows: Sequence[Row]) -> int | None:
    """Return the last count that the text prints, if no st is taken away after it."""
    for row in reversed(rows):
        if row.printed is not None:
            return row.printed
        if row.off_at_neck:
            return None
    return None
