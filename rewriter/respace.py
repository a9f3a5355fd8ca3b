"""Spread the sts of a shoulder evenly over the rows it has, instead of over the draft's own steps.

The rows stay: the first and the last bind-off keep theirs, and every second row between them takes
a step, also where the draft leaves rows out. What changes is how many sts each step has, so the
fabric is a deliberate other one: columns may be some rows longer or shorter than the draft's. The
totals of shoulder and neck and the number of rows stay, and `moved` says what does not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

from rewriter.doubt import Unread
from rewriter.fabric import Fabric, knit
from rewriter.halves import DividedShaping
from rewriter.reading import Finding
from rewriter.rows import Kind, Row, bind_off
from rewriter.shapingmodel import Shaping
from rewriter.spans import Span
from rewriter.twin import Steps, lengthen_return_row
from rewriter.verify import UNKNOWN_NECK

Kept = frozenset[tuple[int, tuple[int, ...]]]
"""Steps of a size (its index) that stay as they are."""


@dataclass(frozen=True, slots=True)
class Moved:
    """Neighbouring sts of one shoulder whose columns all gain or lose the same number of rows."""

    first: int
    """The first of these sts, counted from the armhole edge; the st at the edge is 1."""
    last: int
    rows: int
    """Rows gained against the draft; negative where they are lost."""


def even_steps(total: int, count: int) -> tuple[int, ...]:
    """Return `total` sts in `count` steps from the armhole inward, as evenly as integers allow.

    Every step is the quotient or one more (largest remainder), and after every step the sts so far
    are the integer nearest to a straight line; of two equally near the smaller, as drafts put their
    larger steps last (common practice). `total` is at least `count`.
    """
    places = [(2 * j * total + count - 1) // (2 * count) for j in range(count + 1)]
    return tuple(b - a for a, b in pairwise(places))


def is_even(steps: Steps) -> bool:
    """Say whether steps are as even as integers allow, though perhaps in another order than ours.

    They stand on every row there is, differ by one st at most, and none of them ends a whole st or
    more away from the straight line.
    """
    count, total = len(steps.sts), steps.total
    places = accumulate(steps.sts)
    return (
        steps.rows == _all_rows(steps)
        and max(steps.sts) - min(steps.sts) <= 1
        and all(abs(at * count - j * total) < count for j, at in enumerate(places, start=1))
    )


def kept_steps(shapings: Sequence[Shaping]) -> Kept:
    """Return the even steps of a draft that stay: all its shoulders that could share them do.

    Shoulders that meet must have the same slope, so where two with the same number of sts and of
    rows have different steps neither keeps its own, not even one that is even.
    """
    own: dict[tuple[int, int, int], set[tuple[int, ...]]] = {}
    for shaping in shapings:
        for size, edges in enumerate(shaping.edges):
            for steps in edges:
                key = (size, steps.total, len(_all_rows(steps)))
                own.setdefault(key, set()).add(steps.sts if is_even(steps) else ())
    return frozenset(
        (size, sts)
        for (size, _, _), found in own.items()
        for sts in found
        if sts and len(found) == 1
    )


def spaced(
    findings: Sequence[Finding], finding: Finding, drafted: Shaping
) -> tuple[Shaping, tuple[list[list[Moved]], ...]]:
    """Return the model of a finding with even steps, and what they change in each size.

    `findings` are all of the draft, for shoulders that meet get the same steps. Raises Unread where
    the sts cannot be spread.
    """
    span = finding.passage.span
    shoulders = [f.shaping for f in findings if f.kind == "shoulder" and f.shaping]
    shaping = respace(drafted, kept_steps(shoulders), span)
    try:
        return shaping, tuple(moved(drafted, shaping, i) for i in range(len(drafted.rows)))
    except ValueError as error:
        raise Unread("rows-unusual", f"the sts cannot be spread evenly: {error}", span) from None


def respace(shaping: Shaping, kept: Kept, span: Span) -> Shaping:
    """Return the model of a passage as if the draft had printed the even steps.

    Steps that are `kept`, single steps, and steps with fewer sts than rows to turn on stay. Raises
    Unread, with the passage's `span` where the row has none, where a row between two steps cannot
    take one.
    """
    if isinstance(shaping, DividedShaping):
        first, second = (respace(s, kept, span) for s in (shaping.first, shaping.second))
        both = tuple((a[0], b[0]) for a, b in zip(first.edges, second.edges, strict=True))
        return shaping.model_copy(
            update={"first": first, "second": second, "rows": first.rows, "edges": both}
        )
    rows: list[tuple[Row, ...]] = []
    edges_now: list[tuple[Steps, ...]] = []
    for size, (own, edges) in enumerate(zip(shaping.rows, shaping.edges, strict=True)):
        even = tuple(s if is_even(s) and (size, s.sts) in kept else _even(s) for s in edges)
        rows.append(_rebound(own, edges, even, span))
        edges_now.append(even)
    return shaping.model_copy(update={"rows": tuple(rows), "edges": tuple(edges_now)})


def _all_rows(steps: Steps) -> tuple[int, ...]:
    """Return every row that can take a step; the last one keeps its row, on a return row too."""
    last = steps.rows[-1]
    return (*range(steps.rows[0], last, 2), last)


def _even(steps: Steps) -> Steps:
    rows = _all_rows(steps)
    if len(steps.rows) < 2 or steps.total < len(rows):
        return steps
    return replace(steps, rows=rows, sts=even_steps(steps.total, len(rows)))


def _rebound(
    rows: Sequence[Row], edges: Sequence[Steps], even: Sequence[Steps], span: Span
) -> tuple[Row, ...]:
    """Bind the even steps off in rows of which the first is row -1."""
    out = list(rows)
    for steps, now in zip(edges, even, strict=True):
        for number, sts in zip(now.rows, now.sts, strict=True):
            row = out[number + 1]
            head = row.acts[0]
            if head.kind is Kind.BIND_OFF and number in steps.rows:
                # "bind off all that remain" holds for any number
                acts = (head if head.n is None else bind_off(sts), *row.acts[1:])
            elif head.kind is Kind.WORK:
                acts = (bind_off(sts), *row.acts)
            else:
                raise Unread(
                    "rows-unusual",
                    "a row between two steps cannot take a step of its own, so the sts cannot be "
                    "spread over the rows",
                    row.span or span,
                )
            out[number + 1] = row.with_acts(*acts)
    return tuple(out)


def moved(before: Shaping, after: Shaping, size: int) -> list[list[Moved]]:
    """Return for each shoulder of one size the sts whose columns change, worked row by row.

    Where steps change and the last one is on a return row, the row that it gains counts too. Raises
    ValueError where the draft's rows cannot be worked, and where anything but the heights of
    shoulder columns would change: the number of rows, where the yarn ends, the neck.
    """
    if isinstance(before, DividedShaping) and isinstance(after, DividedShaping):
        return [
            *moved(before.first, after.first, size),
            *moved(before.second, after.second, size),
        ]
    if before.edges[size] == after.edges[size]:
        return [[] for _ in before.edges[size]]
    old, new = (_knit(shaping, size, shaping.rows[size]) for shaping in (before, after))
    if (old.rows, old.yarn) != (new.rows, new.yarn):
        raise ValueError("the number of rows would change")
    if len(after.edges[size]) == 1:
        longer, _, _ = lengthen_return_row(after.rows[size], after.edges[size][0])
        new = _knit(after, size, longer)
    gains = [b - a for a, b in zip(_heights(old), _heights(new), strict=True)]
    out = []
    for one, two in zip(before.edges[size], after.edges[size], strict=True):
        if one.total != two.total:
            raise ValueError("the sts of a shoulder would change")
        own = gains[: one.total] if one.edge == "right" else gains[::-1][: one.total]
        out.append(_stretches(own))
    if sum(map(bool, gains)) != sum(m.last - m.first + 1 for edge in out for m in edge):
        raise ValueError("columns beside the shoulders would change")
    return out


def most_rows(edges: Sequence[Sequence[Moved]]) -> int:
    """Return the greatest difference in rows among the columns of one size's shoulders."""
    return max((abs(m.rows) for edge in edges for m in edge), default=0)


def _knit(shaping: Shaping, size: int, rows: Sequence[Row]) -> Fabric:
    beside = shaping.neck[size]
    beside = UNKNOWN_NECK if beside is None else beside
    stitches = shaping.total(size) + shaping.off_at_neck(size) + beside
    return knit(stitches, rows, shaping.begins())


def _heights(fabric: Fabric) -> list[int]:
    return [run.height for run in fabric.runs for _ in range(run.count)]


def _stretches(gains: Sequence[int]) -> list[Moved]:
    out: list[Moved] = []
    for place, rows in enumerate(gains, start=1):
        if not rows:
            continue
        if out and out[-1].last == place - 1 and out[-1].rows == rows:
            out[-1] = replace(out[-1], last=place)
        else:
            out.append(Moved(place, place, rows))
    return out
