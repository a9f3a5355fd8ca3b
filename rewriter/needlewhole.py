"""Both sides of a neck that go on at once, each with its ball of yarn, as the rows of one needle.

Each side was read and worked by itself (`halfrows`). Here each row goes over one side, then over what lies
between them, and then over the other, so that one chart shows the whole needle.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rewriter.fabric import Fabric, knit
from rewriter.needlehalves import in_one
from rewriter.needlemodel import Shoulder
from rewriter.rows import (
    OTHER_SIDE,
    WORK_ALL,
    Act,
    Kind,
    Row,
    bind_off,
    edge_of_beginning,
)


def on_whole_needles(shoulders: Sequence[Shoulder]) -> tuple[Shoulder, ...]:
    """Return shoulders with both sides of a neck as one, where they go on at once and that can be told."""
    out: list[Shoulder] = []
    for shoulder in shoulders:
        first = out[-1] if out else None
        second = shoulder.at_once and shoulder.half == "second side"
        whole = on_one_needle(first, shoulder) if first is not None and second else None
        if whole is None:
            out.append(shoulder)
        else:
            out[-1] = whole
    return tuple(out)


def on_one_needle(first: Shoulder, second: Shoulder) -> Shoulder | None:
    """Return both sides of a neck as one shoulder at two edges.

    None where the sts between them are not known, or where sts are decreased in the midst of a row.
    """
    told = (*first.draft_rows, *first.new_rows, *second.draft_rows, *second.new_rows)
    if first.whole is None or first.stitches is None or second.stitches is None:
        return None
    if any(row.dec for row in told):
        return None
    centre = first.whole - first.stitches - second.stitches
    divides = first.divides + first.rows[0].number if first.rows else 0

    def whole(one: Sequence[Row], two: Sequence[Row]) -> tuple[Row, ...]:
        return tuple(_rows((_Side(first, one), _Side(second, two)), centre, divides))

    edges = (first.edges[0], second.edges[0])
    return replace(
        first,
        half="",
        stitches=first.whole,
        neck=first.whole - sum(s.total for s in edges),
        edges=edges,
        draft_rows=whole(first.draft_rows, second.draft_rows),
        drafted_edges=(first.drafted_edges[0], second.drafted_edges[0]),
        drafted_rows=whole(first.drafted_rows, second.drafted_rows),
        new_rows=whole(first.new_rows, second.new_rows),
        rows=in_one(first, second),
        divides=0,
    )


@dataclass
class _Side:
    """One side of the neck: its rows from row -1 on, and what lies on its needle before each."""

    shoulder: Shoulder
    rows: Sequence[Row]

    def __post_init__(self) -> None:
        first = self.shoulder.first_side or "RS"
        sts = self.shoulder.stitches or 0
        fabric: Fabric = knit(sts, self.rows, edge_of_beginning(OTHER_SIDE[first]))
        self.live = (sts, *fabric.live)
        self.waiting = dict(fabric.turned)

    def row(self, index: int) -> Row | None:
        """Return a row that is worked on this side."""
        return self.rows[index] if index < len(self.rows) and self.rows[index].passes else None

    def held(self, index: int) -> Row | None:
        """Return what puts the sts of this side on a holder where a row would begin."""
        told = index < len(self.rows) and not self.rows[index].passes
        return self.rows[index] if told else None

    def to_neck(self, index: int) -> tuple[Act, ...]:
        """Return what a row does that goes on beyond this side, every count told."""
        row = self.row(index)
        if row is None:
            return ()
        ahead = self.live[index] - self.waiting.get(index - 1, 0)
        out: list[Act] = []
        for act in row.acts:
            n = ahead if act.n is None else act.n
            out.append(Act(act.kind, n))
            ahead -= n
        return tuple(act for act in out if act.n)


def _rows(sides: tuple[_Side, _Side], centre: int, divides: int) -> Iterator[Row]:
    """Yield the rows of the whole needle, row -1 first; the row `divides` takes off the centre."""
    cut = False
    for index in range(max(len(side.rows) for side in sides)):
        number = index - 1
        begins, ends = sides if (number - divides) % 2 == 0 else sides[::-1]
        for side in (begins, ends):
            held = side.held(index)
            if held is not None:
                goes_on = ends.row(index) is not None
                cut = goes_on
                n = side.live[index] if goes_on else None
                yield held.with_acts(Act(Kind.HOLD, n), *([Act(Kind.CUT)] if goes_on else []))
        own, then = begins.row(index), ends.row(index)
        told = own or then
        if told is None:
            continue
        between: tuple[Act, ...] = ()
        if number < divides:
            between = (Act(Kind.WORK, centre),) if centre else ()
        elif number == divides:
            between = (bind_off(centre),) if centre else ()
        takes_up = (Act(Kind.JOIN),) if cut and own is None else ()
        rest = then.acts if then is not None else ()
        acts = (*takes_up, *begins.to_neck(index), *between, *rest)
        cut = cut and own is not None
        yield replace(
            told,
            acts=acts or (WORK_ALL,),
            edge="",
            aid=own.aid if own is not None else False,
            closes=any(row.closes for row in (own, then) if row is not None),
            claim=None,
            printed=None,
        )
