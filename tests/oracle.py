"""An oracle that knows nothing of the planner: what a truth's steps must become.

Turns follow from the steps by counting; heights by working rows column by column over plain lists
(one number a stitch, no runs), with the rows read from the revised text.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import Any

from rewriter.rows import Kind, Row


def steps_of(edge: dict[str, Any], size: int) -> tuple[list[int], list[int]]:
    """Return the non-zero steps of an edge for one size and the rows they are bound off on."""
    sts = [step[size] for step in edge["steps"] if step[size]]
    return sts, list(edge["rows"][size])


def on_return_row(rows: Sequence[int]) -> bool:
    """Say whether the last step is bound off on the row right after the one before it."""
    return len(rows) > 1 and (rows[-1] - rows[-2]) % 2 == 1


def expected_turns(edge: dict[str, Any], size: int) -> list[tuple[int, int]]:
    """Return (row, unworked sts) of every turn: one before each step's row but the last's."""
    sts, rows = steps_of(edge, size)
    totals = list(accumulate(sts))
    out = []
    for i in range(len(sts) - 1):
        nxt = rows[i + 1] + (1 if i + 2 == len(sts) and on_return_row(rows) else 0)
        # a place is turned at again while the next step is more than two rows away
        out += [(row, totals[i]) for row in range(rows[i] - 1, nxt - 1, 2)]
    return out


def stepped_heights(edges: Sequence[dict[str, Any]], size: int, neck: int) -> list[int]:
    """Return the rows in each column of the stepped piece, the edge bound off first coming first.

    Row -1 counts as the first row. The columns run from the first edge across the neck.
    """
    sides = []
    for edge in edges:
        sts, rows = steps_of(edge, size)
        # row 0 is bound off with one row worked into it (row -1), row r with r + 1
        sides.append([row + 1 for n, row in zip(sts, rows, strict=True) for _ in range(n)])
    last = max(steps_of(edge, size)[1][-1] for edge in edges)
    middle = [last + 2] * neck if len(edges) == 2 else []
    second = sides[1][::-1] if len(sides) == 2 else []
    return sides[0] + middle + second


def knit_columns(stitches: int, rows: Sequence[Row], first_edge_first: bool) -> list[int]:
    """Work rows over a list of columns and return the rows in each, in the order above.

    Row -1 ends at the edge that is bound off first, so it begins at the far one.
    """
    heights = [0] * stitches
    live = list(range(stitches))
    gap, up = len(live), False  # the yarn: live columns below it, direction
    for row in rows:
        turned = worked = False
        for act in row.acts:
            ahead = len(live) - gap if up else gap
            if act.kind in (Kind.WORK, Kind.LEAVE):
                n = ahead if act.n is None else ahead - act.n if act.kind is Kind.LEAVE else act.n
                assert 0 <= n <= ahead
                for column in live[gap : gap + n] if up else live[gap - n : gap]:
                    heights[column] += 1
                gap += n if up else -n
                worked = True
            elif act.kind is Kind.BIND_OFF:
                n = ahead if act.n is None else act.n
                assert n <= ahead
                start = gap if up else gap - n
                del live[start : start + n]
                gap = start
                worked = True
            elif act.kind is Kind.TURN:
                turned = True
            elif act.kind is Kind.HOLD:
                # from the edge that the next row begins at
                n = len(live) if act.n is None else act.n
                live = live[n:] if up else live[: len(live) - n]
                gap = 0 if up else len(live)
        if worked:
            up = not up
            assert turned or not live or gap in (0, len(live))
    return heights if first_edge_first else heights[::-1]
