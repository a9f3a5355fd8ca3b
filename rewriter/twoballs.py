"""Both sides of a neck in work at once, each with its ball of yarn, from a row inside the shoulders.

"BO 6 sts, k until there are 20 sts on right needle, join second ball of yarn and BO centre 19 sts, k
to end" divides the piece and goes on over both sides; every row after it tells first one side, then
the other. Each side is a half as in a divided shoulder: the row that joins the ball is its dividing
row and the other half's rejoining row, and each later row holds one row of each half.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.ballchains import is_chain, rows_of_chain, without_idle_end
from rewriter.dividing import Divided, part, part_held
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.interpret import read_rows
from rewriter.rowframes import names_both_edges
from rewriter.rows import PLAIN, Kind, Row

Rows = list[Row]


def joins_ball(statement: Statement) -> bool:
    """Say whether a row works on to the neck, joins another ball, and goes on to its end."""
    verbs = [f.verb for f in statement.frames if f.verb]
    if "join" not in verbs or "work" not in verbs[: verbs.index("join")]:
        return False
    work = statement.frames[_index(statement.frames, "work")]
    extent = work.one("extent")
    counted = (extent is not None and extent.kind == "until_count") or work.amount is not None
    return counted and "work" in verbs[verbs.index("join") :]


def _index(frames: Sequence[Frame], verb: str) -> int:
    return next(i for i, f in enumerate(frames) if f.verb == verb)


def is_aside(statement: Statement) -> bool:
    """Say whether a sentence only says how both sides are worked."""
    return not any(f.verb or f.parts or f.residue for f in statement.frames)


def stop_of_two_balls(statements: Sequence[Statement | None], at: int) -> int | None:
    """Return the index after the last row of two sides whose joining row is at `at`."""
    ended, chained = 0, False
    stop = at + 1
    while stop < len(statements):
        statement = statements[stop]
        if statement is not None and not ended and _rest_of_each(statement) is not None:
            return stop + 1
        told = statement is not None and (
            statement.label
            or is_aside(statement)
            or _only_holds(statement)
            or _only_cuts(statement)
            or is_chain(statement)
        )
        if statement is None or not told:
            break
        ended += sum(_ends_side(f) for f in statement.frames)
        chained = chained or is_chain(statement)
        stop += 1
        if ended == 2:
            return stop
    return stop if chained and not ended else None


def _ends_side(frame: Frame) -> bool:
    takes_all = frame.takes_all or any(n.concept == "all" for n in frame.notes)
    return (frame.verb == "bind_off" and takes_all) or (
        frame.verb == "hold" and "holder" in frame.parts
    )


def part_two_balls(statements: Sequence[Statement]) -> Divided | None:
    """Sort the sentences of a passage; None where no ball is joined within it."""
    at = next((i for i, s in enumerate(statements) if joins_ball(s)), None)
    if at is None:
        return None
    joining = statements[at]
    cut = _index(joining.frames, "join")
    return Divided(
        common=tuple(statements[:at]),
        dividing=replace(joining, frames=joining.frames[:cut]),
        first=tuple(s for s in statements[at + 1 :] if not is_aside(s)),
        rejoining=(replace(joining, frames=joining.frames[cut:]),),
        second=(),
        matching=None,
        at_once=True,
    )


def divided_parts(statements: Sequence[Statement]) -> Divided | None:
    """Sort the sentences of a shoulder divided at the neck, in whichever way; None for another."""
    return part_two_balls(statements) or part_held(statements) or part(statements)


def both_halves(parts: Divided, size: int, sizes: int) -> tuple[Rows, Rows]:
    """Return the rows of each half after the joining row; raises Unread.

    The first row after it begins at the second half's armhole edge, the next one at the first's.
    """
    halves: tuple[Rows, Rows] = ([], [])
    done = [False, False]
    number, idle, chained = 0, 0, False
    for statement in parts.first:
        if _only_cuts(statement):
            continue
        starts = 1 - number % 2
        if (rest := _rest_of_each(statement)) is not None and not any(done):
            _bind_off_each(rest, halves, number - idle, size, sizes)
            done = [True, True]
            continue
        if _only_holds(statement) and not done[starts]:
            halves[starts].extend(
                read_rows([replace(statement, running=[])], size, sizes, dividing=True)
            )
            done[starts] = True
            continue
        if is_chain(statement):
            both, count, idle = rows_of_chain(statement, size, sizes, starts)
            for half in (0, 1):
                halves[half].extend(both[half])
            number += count
            chained = True
            continue
        number += 1
        _refuse_ranges(statement)
        segments = _segments(statement.frames)
        order = [half for half in (starts, 1 - starts) if not done[half]]
        if len(segments) != len(order):
            raise Unread(
                "two-balls",
                "what this row does on each side of the neck is not clear",
                statement.span,
            )
        for half, frames in zip(order, segments, strict=True):
            told = replace(statement, frames=frames, running=[])
            (row,) = read_rows([told], size, sizes, dividing=True)
            halves[half].append(row if half == starts else replace(row, side=None))
            head = row.acts[0] if row.acts else None
            done[half] = (
                row.has(Kind.HOLD)
                or _takes_all(frames)
                or (
                    head is not None
                    and head.kind is Kind.BIND_OFF
                    and len(frames) == 1
                    and (_all_counted(frames) or half == starts)
                )
            )
    if chained and not any(done):
        return without_idle_end(halves[0]), without_idle_end(halves[1])
    if not all(done):
        raise Unread("two-balls", "how both sides end is not told", parts.dividing.span)
    return halves


def _rest_of_each(statement: Statement) -> Statement | None:
    """Return what one side does in "BO rem 9 sts of each side on next 2 rows"; None for another sentence."""
    told = [f for f in statement.frames if f.verb or f.parts]
    if statement.label is not None or len(told) != 1 or not _takes_all(told) or told[0].residue:
        return None
    rows = told[0].one("rows")
    two = rows is not None and rows.kind == "next_rows" and rows.amount is not None
    if rows is None or rows.amount is None or not two or rows.amount.values != (2,):
        return None
    if "each_side" not in told[0].parts and not names_both_edges(told[0]):
        return None
    own = {slot: parts for slot, parts in told[0].parts.items() if slot == "count"}
    return replace(statement, frames=[replace(told[0], parts=own)], running=[])


def _bind_off_each(
    rest: Statement, halves: tuple[Rows, Rows], first: int, size: int, sizes: int
) -> None:
    """Put the bind-off of all sts of each side on two rows, of which `first` goes on over the other side.

    Steps at the armhole follow each other on every row: one at the neck beside them may lie on the same
    row. Raises Unread where the side that is bound off has another row there.
    """
    for number in (first, first + 1):
        rows = halves[1 - number % 2]
        if any(row.acts != PLAIN.acts or row.dec for row in rows[number:]):
            raise Unread("two-balls", "how both sides end is not clear", rest.span)
        del rows[number:]
        rows.extend([PLAIN] * (number - len(rows)))
        rows.extend(read_rows([rest], size, sizes, dividing=True))


def _all_counted(frames: Sequence[Frame]) -> bool:
    """Say whether "all" stands before a counted bind-off: "Bind off all 19 sts"."""
    return any(n.concept == "all" for n in frames[0].notes)


def _takes_all(frames: Sequence[Frame]) -> bool:
    return any(f.verb == "bind_off" and f.takes_all for f in frames)


def _only_holds(statement: Statement) -> bool:
    """Say whether the sts of one side are put on a holder, and its yarn cut, between two rows."""
    told = [f for f in statement.frames if f.verb]
    alone = [f.verb for f in told[1:]] in ([], ["fasten_off"])
    return statement.label is None and alone and _ends_side(told[0]) if told else False


def _only_cuts(statement: Statement) -> bool:
    """Say whether the yarn is broken, between two rows."""
    verbs = {f.verb for f in statement.frames if f.verb}
    return statement.label is None and verbs == {"fasten_off"}


def _refuse_ranges(statement: Statement) -> None:
    label = statement.label
    if label is None or label.rows is not None or len(label.numbers) > 1:
        raise Unread("two-balls", "these rows are not told one by one", statement.span)


_BEGINS_SIDE = {"work": ("bind_off", "work", "decrease"), "bind_off": ("bind_off",)}
"""Verbs that cannot go on with a side behind another: "bind off 8 sts; bind off 4 sts, work to end"."""


def _segments(frames: Sequence[Frame]) -> list[list[Frame]]:
    """Cut the frames of a row in two, where the other side begins."""
    told = [f for f in frames if f.verb or f.parts]
    for i, frame in enumerate(told):
        if i and "other_side" in frame.parts:
            return [list(told[:i]), list(told[i:])]
    for i, frame in enumerate(told[:-1]):
        at_neck = (
            frame.verb in ("work", "bind_off") and told[i + 1].verb in _BEGINS_SIDE[frame.verb]
        )
        if at_neck or (frame.verb == "bind_off" and frame.takes_all):
            return [list(told[: i + 1]), list(told[i + 1 :])]
    return [list(told)]
