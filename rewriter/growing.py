"""The exact short-row twin of stepped cast-ons: the shoulders of a piece worked from the top.

It is the rule of `twin.py` with time turned round. Steps s_1 ... s_k are cast on at one edge, the
first beside the neck, so that row r_i is the first that works s_i: "at the beginning of row r_i" and
"at the end of row r_i - 1" make the same fabric. The twin casts on all of them where the draft
casts on s_1, so row r_1 works the whole shoulder. Every later row that ends at that edge stops where
the draft's needle ends, with the steps still to come unworked, and turns; the next row begins at that
turn. Each of these rows closes the turn of the one before as it passes it, and the last turn is closed
by row r_k + 1. A column of step i > 1 loses row r_i and gains row r_1: all keep their number of rows,
the neck among them, and nothing before or behind the passage moves.

Rows are counted from row 0, the first row of the passage; counts are stitches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter.rows import PLAIN, TURN, Act, Kind, Row, cast_on, leave
from rewriter.twin import Steps


@dataclass(frozen=True, slots=True)
class GrowingSteps(Steps):
    """The steps cast on at one edge, for one size; `rows` are those that first work each step.

    `sts` are told from the neck outward.
    """

    def unworked(self, row: int) -> int:
        """Return how many sts wait at the end of `row`: those that no row of the draft has reached."""
        return sum(n for r, n in zip(self.rows, self.sts, strict=True) if r > row)

    def turning_rows(self) -> list[int]:
        """Return the rows that turn at this edge, in order; a place may be turned at again."""
        if len(self.rows) < 2:
            return []
        return list(range(self.rows[0] + 1, self.rows[-1], 2))

    def closing_rows(self) -> list[int]:
        """Return the rows that pass a turn of this edge and close it."""
        turns = self.turning_rows()
        if not turns:
            return []
        grown = [r for r in turns[1:] if self.unworked(r) < self.unworked(r - 2)]
        return [*grown, self.rows[-1] + 1]


@dataclass(frozen=True, slots=True)
class Behind:
    """What the twin asks of the rows that follow the passage."""

    aid: bool
    """The first of them begins at a turn."""
    closes: tuple[int, ...]
    """Which of them close a turn, counted from 0; none where the passage closes all."""

    def rows(self, count: int) -> list[Row]:
        """Return the first `count` rows behind the passage."""
        return [
            replace(PLAIN, aid=self.aid and i == 0, closes=i in self.closes) for i in range(count)
        ]


def grow(rows: Sequence[Row], edges: Sequence[GrowingSteps]) -> tuple[list[Row], Behind]:
    """Return the short rows that make the same fabric as rows with stepped cast-ons, and what is behind.

    Each row of `rows` works to its end and may cast on at its beginning, at its end or at both.
    """
    out = [_grown(number, row, edges) for number, row in enumerate(rows)]
    turned = {row for steps in edges for row in steps.turning_rows()}
    closing = {row - len(rows) for steps in edges for row in steps.closing_rows()}
    return out, Behind(len(rows) - 1 in turned, tuple(sorted(n for n in closing if n >= 0)))


def _grown(number: int, row: Row, edges: Sequence[GrowingSteps]) -> Row:
    acts: list[Act] = []
    worked = False
    for act in row.acts:
        if act.kind is Kind.CAST_ON:
            first_worked = number + 1 if worked else number
            acts += [cast_on(s.total) for s in edges if s.rows[0] == first_worked]
            continue
        worked = True
        stops = [s.unworked(number) for s in edges if number in s.turning_rows()]
        acts += [leave(stops[0]), TURN] if stops else [act]
    aid = any(number - 1 in s.turning_rows() for s in edges)
    closes = any(number in s.closing_rows() for s in edges)
    return replace(row, acts=tuple(acts), aid=aid, closes=closes, printed=None)
