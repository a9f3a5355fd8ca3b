"""The shaping model of one passage: rows, steps, edges and stitches for every size.

Rows come from the interpreter; here they become edges with steps, the sides are settled from all
that the draft says of them, and the stitch arithmetic of a technical editor is done for each size.
Nothing is guessed: a side, count or edge that the draft does not determine stays None.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.asks import choice_of
from rewriter.counts import (
    check_counts,
    count_after,
    count_before,
)
from rewriter.doubt import Unread
from rewriter.edgenames import ARMHOLE_SIDE
from rewriter.edgesteps import steps_of_edges, sts_worked_out
from rewriter.frames import Statement
from rewriter.interpret import read_rows
from rewriter.leadmodel import LeadIn
from rewriter.neckrows import both_sides_at_once, surely_at_once, with_neck_rows
from rewriter.passages import Passage
from rewriter.rowbefore import RowBefore, refuse_narrow_row
from rewriter.rows import (
    PLAIN,
    WORK_ALL,
    Kind,
    Row,
    Side,
    bind_off,
)
from rewriter.shapingmodel import Ending, Inferred, Shaping
from rewriter.sides import Sized, settle_side
from rewriter.sizes import Sizes
from rewriter.sizesleft import none_told
from rewriter.spans import Span
from rewriter.twin import Steps

_OF_SUMS = Inferred(
    what="the number of sts in the last bind-off is not told",
    because="it follows from the last stitch count and what is taken off after it",
)


def read_shaping(
    passage: Passage,
    lead_in: LeadIn,
    sizes: Sizes,
    row_before: RowBefore | None = None,
    answer: Side | None = None,
    at_neck: bool = False,
) -> Shaping:
    """Build the model of a passage and do its sums; raises Unread with the reason where either fails.

    `row_before` is the row before the first bind-off, where it has words of its own; `answer` the
    side of the first bind-off row as the reader gave it; `at_neck` says that the steps are those of a
    neck edge.
    """
    shaping, before = build_shaping(passage, lead_in, sizes, row_before, answer, at_neck)
    check_counts(shaping.rows, shaping.edges, shaping.neck, passage, before, sizes)
    return shaping


_OF_EACH = regex.compile(
    r"(?i)(?:\s*(?:sts?|stitches)\b\.?)?(?:\s+(?:left|remain(?:ing)?|rem))?\s+(?:for|on|at|in)\s+(?:each|both)\b"
)


def build_shaping(
    passage: Passage,
    lead_in: LeadIn,
    sizes: Sizes,
    row_before: RowBefore | None = None,
    answer: Side | None = None,
    at_neck: bool = False,
) -> tuple[Shaping, tuple[tuple[int, ...], Span] | None]:
    """Build the model as `read_shaping` does, whether or not its sums agree.

    Returns it with the sts on the needle before it, per size, and where they are told.
    """
    before = count_before(passage, len(sizes))
    at_once = both_sides_at_once(passage)
    each_edge = not at_neck and surely_at_once(passage)
    counted = before[0] if before else None
    if before and at_once and _OF_EACH.match(passage.sentence.source, before[1].end):
        counted = tuple(2 * n for n in before[0])  # "leaving 15 sts for each strap"
    rows = [
        read_rows(
            passage.statements,
            i,
            len(sizes),
            counted[i] if counted else None,
            at_once=at_once,
            each_edge=each_edge,
        )
        for i in range(len(sizes))
    ]
    inside = row_before is not None and row_before.inside
    if inside:
        if before:  # the count is that before the first row, too
            less = tuple(r[0].dec for r in rows)
            before = tuple(n - d for n, d in zip(before[0], less, strict=True)), before[1]
        rows = [r[1:] for r in rows]
    if at_neck:
        rows = [[replace(row, edge="") for row in r] for r in rows]
    else:
        rows = with_neck_rows(rows, passage, lead_in, ARMHOLE_SIDE, -1 if inside else 0)
    sized = [_sized(r) for r in rows]
    if not any(s.steps for s in sized):
        words = " ".join(passage.span.of(passage.sentence.source).split()[:6])
        raise Unread(
            "no-steps",
            f"no bind-off at the beginning of a row was found at {words!r}",
            passage.span,
        )
    for i, s in enumerate(sized):
        if counted is not None and counted[i] and not s.steps:
            _take_square(s, counted[i])
    if without := tuple(i for i, s in enumerate(sized) if not s.steps):
        raise none_told(passage.statements, passage.span, sizes.labels, without)
    for s in sized if at_once else ():
        _take_last_of_second_side(s)
    two_edged = any(len(s.steps) == 2 for s in sized)
    if two_edged and not all(len(s.steps) == 2 for s in sized):
        raise Unread("edges-differ", "some sizes are shaped at one edge, some at two", passage.span)
    if each_edge and not two_edged:
        raise Unread(
            "edges-differ",
            "both sides of the neck are in work at once, but these rows shape one edge only: what does the "
            "other side do?",
            passage.span,
        )
    if two_edged and any(row.dec for s in sized for row in s.rows):
        raise Unread(
            "shaping-in-the-rows",
            "sts are decreased among rows that shape both edges; such rows are not converted yet",
            passage.span,
        )
    if two_edged:
        _refuse_odd_rows(sized, passage, sizes)
    first_side, because = (
        (answer, "the answer given")
        if answer is not None
        else settle_side(passage, lead_in, two_edged, sized, at_neck)
    )
    after = count_after(passage, len(sizes)) if two_edged else None
    two_balls = two_edged and after is None and at_once
    if two_balls:
        after, before = _without_neck(sized, before)
    stand_in = first_side or "RS"
    edges: list[tuple[Steps, ...]] = []
    neck: list[int | None] = []
    on_return = False
    worked_out = None if before or two_edged else sts_worked_out(passage, sized)
    for i, s in enumerate(sized):
        known = before[0][i] if before else worked_out[i] if worked_out else None
        told = after[i] if after and s.final is None else None
        steps, left, returned = steps_of_edges(s, two_edged, stand_in, known, told, passage, i)
        on_return = on_return or returned
        edges.append(steps)
        neck.append(left)
    stitches = tuple(
        sum(s.total for s in steps) + sum(r.off_at_neck for r in sized[i].rows) + left
        if left is not None
        else (before[0][i] if before else None)
        for i, (steps, left) in enumerate(zip(edges, neck, strict=True))
    )
    if not two_edged and choice_of(passage.decisions, "last-sts") != "shoulder":
        _refuse_neck_as_step(sized, passage, before is not None)
    ending, ending_from = _ending(sized, two_edged, passage.statements)
    neck_now = tuple(
        n
        if n is not None or before is None
        else before[0][i]
        - sum(s.total for s in edges[i])
        - sum(r.off_at_neck for r in sized[i].rows)
        for i, n in enumerate(neck)
    )
    absorbed = lead_in.absorbed[-1] if lead_in.absorbed else None
    for s, left in zip(sized, neck_now, strict=True):
        if not two_edged and left == 0 and s.final is None:
            # the last step takes all that is there
            last = max(row for steps in s.steps.values() for row, _ in steps)
            if last == len(s.rows) - 1:
                s.rows[last] = s.rows[last].with_acts(bind_off(None))
    plain = (
        PLAIN if absorbed is None else Row(PLAIN.acts, word=_stitch(absorbed), span=absorbed.span)
    )
    if not two_edged and absorbed is None:
        # the rows that begin at a front's band begin alike: "K9, p to end"
        plain = replace(plain, band=sized[0].rows[1].band if len(sized[0].rows) > 1 else "")
    minus_one = _row_before(row_before, two_edged, passage) or (plain,) * len(sizes)
    refuse_narrow_row(row_before, edges, stitches, passage.span)
    shaping = Shaping(
        rows=tuple((before_it, *s.rows) for before_it, s in zip(minus_one, sized, strict=True)),
        edges=tuple(edges),
        first_side=first_side,
        ending=ending,
        neck=neck_now,
        stitches=stitches,
        last_on_return_row=on_return,
        ending_from=ending_from,
        inferred=(
            *_inferred(first_side, because, sized, neck, neck_now, passage.piece),
            *([_OF_SUMS] if worked_out else []),
        ),
        on_two_balls=two_balls and ending == "open" and not any(neck_now),
    )
    return shaping, before


def _stitch(row: Statement) -> str | None:
    """Return knit or purl for a plain row that is told so."""
    words = {f.concept for f in row.frames if f.verb == "work"} & {"knit", "purl"}
    return words.pop() if len(words) == 1 else None


def _row_before(
    row_before: RowBefore | None, two_edged: bool, passage: Passage
) -> tuple[Row, ...] | None:
    """Return row -1 of each size; sts it takes away are the neck's, so only one edge may be shaped."""
    if row_before is None:
        return None
    if two_edged and any(r.dec or r.has(Kind.BIND_OFF) for r in row_before.rows):
        raise Unread(
            "row-before-has-words",
            "the row before the first bind-off shapes the piece too; such rows are not converted yet",
            passage.span,
        )
    return tuple(
        replace(r, edge="neck" if r.has(Kind.BIND_OFF) else r.edge) for r in row_before.rows
    )


def _sized(rows: list[Row]) -> Sized:
    out = Sized(rows)
    for i, row in enumerate(rows):
        if not row.acts:
            continue
        head = row.acts[0]
        if head.kind is Kind.BIND_OFF and head.n is not None and not row.has(Kind.CUT):
            if row.edge == "neck" and len(row.acts) > 1:
                continue
            if head.n == 0:
                raise Unread(
                    "zero-count",
                    "no sts are to be bound off in this row",
                    row.span or Span(0, 0),
                )
            if len(row.acts) > 1:
                out.steps.setdefault(i % 2, []).append((i, head.n))
                continue
        if head.kind is Kind.BIND_OFF or row.has(Kind.HOLD):
            out.final = i
            if i + 1 < len(rows) and any(r.has(Kind.BIND_OFF) for r in rows[i + 1 :]):
                raise Unread(
                    "rows-after-the-end",
                    "rows follow after all sts are gone",
                    row.span or Span(0, 0),
                )
            break
    return out


def _take_last_of_second_side(sized: Sized) -> None:
    """Take the last row of both sides on two balls, "Bind off rem 6 sts", as the last step of the second.

    The row before it ended the first side, by as many sts.
    """
    last = sized.final
    if last is None or last != len(sized.rows) - 1 or last == 0 or len(sized.steps) != 2:
        return
    own, other = sized.steps[last % 2], sized.steps[(last - 1) % 2]
    if len(other) == len(own) + 1 and other[-1] == (last - 1, sized.rows[last].claim):
        n = other[-1][1]
        own.append((last, n))
        row = replace(sized.rows[last], claim=None)
        sized.rows[last], sized.final = row.with_acts(bind_off(n), WORK_ALL), None


def _take_square(sized: Sized, before: int) -> None:
    """Take the one row that binds off all sts of a size as its only step: others have several."""
    if sized.final is None or sized.rows[sized.final].claim != before:
        return
    sized.steps[sized.final % 2] = [(sized.final, before)]
    sized.final = None


def _refuse_neck_as_step(sized: Sequence[Sized], passage: Passage, counted: bool) -> None:
    """Ask where steps seem to be at one edge, but the sts bound off last must be the neck's.

    They are called so; or no count before tells (`counted`), and they are 20 or more and over two and
    a half times any step (steps are about even, common practice).
    """
    for s in sized:
        final = None if s.final is None else s.rows[s.final]
        if final is None or final.statement < 0 or not final.has(Kind.BIND_OFF):
            continue
        told = passage.statements[final.statement].frames
        called = any(f.takes_all and any(n.concept == "neck" for n in f.notes) for f in told)
        steps = [n for taken in s.steps.values() for _, n in taken]
        claim = final.claim or 0
        many = not counted and claim >= 20 and 2 * claim > 5 * max(steps, default=0)
        if called or many:
            raise Unread(
                "edges-differ",
                "the sts that remain seem to be the neck's: are both edges shaped?",
                final.span or passage.span,
                ask="last-sts",
            )


def _refuse_odd_rows(sized: Sequence[Sized], passage: Passage, sizes: Sizes) -> None:
    uneven = [i for i, s in enumerate(sized) if len(s.steps[0]) != len(s.steps[1])]
    if uneven:
        counts = [len(s.steps[0]) + len(s.steps[1]) for s in sized]
        where = "" if len(sizes) == 1 else f" in size {sizes.labels[uneven[0]]}"
        raise Unread(
            "odd-rows",
            f"{counts[uneven[0]]} rows begin with a bind-off{where}: "
            "an odd number cannot shape both edges alike; which edge has one more?",
            passage.span,
            tuple(uneven),
        )


def _ending(
    sized: Sequence[Sized], two_edged: bool, statements: Sequence[Statement]
) -> tuple[Ending, int]:
    finals = [s.rows[s.final] for s in sized if s.final is not None]
    if not finals:
        return ("open" if two_edged else "used up"), len(statements)
    if len(finals) < len(sized) and two_edged:
        return "open", len(statements)
    row = finals[0]
    held = row.acts[0].kind is Kind.HOLD
    if not two_edged and not held:
        return "used up", len(statements)
    return ("held" if held else "bound off"), row.statement


def _without_neck(
    sized: Sequence[Sized], before: tuple[tuple[int, ...], Span] | None
) -> tuple[tuple[int, ...], tuple[tuple[int, ...], Span] | None]:
    """Both sides in work at once have no sts between them; a count of one side is doubled."""
    taken = [sum(n for steps in s.steps.values() for _, n in steps) for s in sized]
    if before is not None and all(2 * b == t for b, t in zip(before[0], taken, strict=True)):
        before = (tuple(taken), before[1])
    return (0,) * len(sized), before


def _inferred(
    first_side: Side | None,
    because: str,
    sized: Sequence[Sized],
    neck: Sequence[int | None],
    neck_now: Sequence[int | None],
    piece: str,
) -> tuple[Inferred, ...]:
    """Collect what the model holds though the passage does not say it."""
    out: list[Inferred] = []
    if first_side is not None and because not in ("the row labels", "the lead-in"):
        told = because if because == "the answer given" else f"{because} tells it"
        out.append(Inferred(what=f"the first bind-off row is a {first_side} row", because=told))
    if piece == "unknown":
        out.append(Inferred(what="the piece is not named", because="no heading stands before it"))
    if list(neck) != list(neck_now):
        out.append(
            Inferred(
                what="the number of sts between the shoulders is not told here",
                because="it follows from the stitch count before",
            )
        )
    if any(row.statement < 0 for s in sized for row in s.rows):
        out.append(
            Inferred(
                what="a plain row is taken to lie between two steps at one edge",
                because="rows begin there every other time",
            )
        )
    return tuple(out)
