"""Steps from short rows: the inverse of the twin, one transformation of the rows at an edge.

Working the short rows gives the height of every column. At an edge, the columns of equal height are
one step: those of height h are bound off at the beginning of the row that comes after h rows. So the
steps follow from the fabric alone, however the turns were worded; all else (decreases and bind-offs at
the neck edge) stays in the row where it is. Counts are stitches and rows; a list of rows begins with
row -1, as in `twin.py`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from rewriter.fabric import Fabric, FabricError, knit
from rewriter.rows import PLAIN, WORK_ALL, Act, Edge, Kind, Row, bind_off
from rewriter.twin import Steps


class NoSteps(ValueError):
    """No steps make this fabric; the message says which columns differ, and by how many rows."""


@dataclass(frozen=True)
class SteppedTwin:
    """The stepped rows that make the fabric of short rows, for one size."""

    rows: tuple[Row, ...]
    """Stepped rows from row -1 to that of the last step; what ends the neck is no part of them."""
    edges: tuple[Steps, ...]
    """Steps at each edge, the one bound off first coming first."""
    gained: tuple[int, ...]
    """Rows that every column of each shoulder gains: 0 or, from live shoulders, -1."""
    neck_gained: int
    """Rows that the sts beside the shoulders gain."""


def untwin(
    rows: Sequence[Row], stitches: int, begins: Edge, shoulders: Mapping[Edge, int], live: bool
) -> SteppedTwin:
    """Return the stepped rows that make the fabric of short rows.

    `stitches` are on the needle before row -1, which begins at the edge `begins`; `shoulders` has the
    sts of the shoulder at each shaped edge. Shoulders bound off keep their heights; those that are
    `live` lose a row where the stepped rows have one less. Raises NoSteps.
    """
    try:
        sloped = knit(stitches, rows, begins)
    except FabricError as error:
        raise NoSteps(f"row {error.row + 1} of the short rows: {error}") from None
    _refuse_open_turns(sloped, stitches, shoulders)
    found = [_steps(sloped, stitches, edge, n, begins, live) for edge, n in shoulders.items()]
    found.sort(key=lambda steps_and_gain: steps_and_gain[0].rows[0])
    edges = tuple(steps for steps, _ in found)
    stepped = _with_steps(rows, edges)
    if stitches == sum(shoulders.values()) + sum(row.off_at_neck for row in stepped):
        stepped[-1] = stepped[-1].with_acts(bind_off(None))
    gained = tuple(gain for _, gain in found)
    neck = compare(sloped, stepped, stitches, begins, shoulders, dict(zip_edges(edges, gained)))
    if neck and not live:
        higher = "higher" if neck < 0 else "lower"
        raise NoSteps(
            f"the sts beside the shoulders are {_rows(abs(neck))} {higher} than with steps "
            f"(steps have one turn less at each edge than they have bind-offs)"
        )
    return SteppedTwin(tuple(stepped), edges, gained, neck)


def zip_edges(edges: Sequence[Steps], gained: Sequence[int]) -> list[tuple[Edge, int]]:
    """Pair the edges with the rows that their shoulders gain."""
    return [(steps.edge, gain) for steps, gain in zip(edges, gained, strict=True)]


def _refuse_open_turns(sloped: Fabric, stitches: int, shoulders: Mapping[Edge, int]) -> None:
    """Refuse turns that no row closes; one at the neck, behind all sts of a shoulder, needs none."""
    at_neck = {n if edge == "right" else stitches - n for edge, n in shoulders.items()}
    at_neck |= {stitches - place for place in at_neck}
    if any(turn not in at_neck for turn in sloped.open_turns):
        raise NoSteps(
            "no row closes the turns: with steps the sts beyond them would be one row higher"
        )


def _outer(fabric: Fabric, stitches: int, edge: Edge, total: int) -> list[tuple[int, int]]:
    """Return (stitches, rows) of a shoulder from its outer edge inward, equal neighbours joined."""
    runs = fabric.at(0 if edge == "right" else stitches - total, total)
    out: list[tuple[int, int]] = []
    for count, height, _ in runs if edge == "right" else reversed(runs):
        if out and out[-1][1] == height:
            count += out.pop()[0]
        out.append((count, height))
    return out


def _steps(
    sloped: Fabric, stitches: int, edge: Edge, total: int, begins: Edge, live: bool
) -> tuple[Steps, int]:
    """Return the steps of one shoulder and the rows that its columns gain."""
    runs = _outer(sloped, stitches, edge, total)
    for (_, lower), (count, higher) in pairwise(runs):
        if higher < lower:
            raise NoSteps(
                f"{_sts(count)} nearer the neck are {_rows(lower - higher)} lower than those outside"
            )
        if (higher - lower) % 2:
            raise NoSteps(
                f"{_sts(count)} are {_rows(higher - lower)} higher than those outside; steps at one "
                "edge differ by two rows or a multiple of two"
            )
    # a row that begins at this edge comes after so many rows, even or odd
    fits = runs[0][1] % 2 == (0 if edge == begins else 1)
    if not fits and not live:
        raise NoSteps(
            f"a whole shoulder of {total} sts would be one row higher or lower: no row begins at its "
            "edge after the rows it has"
        )
    gain = 0 if fits else -1
    if runs[0][1] + gain < 1:
        raise NoSteps("the outermost sts would have to be bound off before the first short row")
    return (
        Steps(edge, tuple(h + gain - 1 for _, h in runs), tuple(count for count, _ in runs)),
        gain,
    )


def _with_steps(rows: Sequence[Row], edges: Sequence[Steps]) -> list[Row]:
    """Take turns and sweeps out of rows and put the steps in."""
    last = max(steps.rows[-1] for steps in edges)
    worked = [row for row in rows if row.passes]
    worked += [PLAIN] * (last + 2 - len(worked))
    out = [_to_the_end(row) for row in worked[: last + 2]]
    for steps in edges:
        for number, sts in zip(steps.rows, steps.sts, strict=True):
            here = out[number + 1]
            if here.has(Kind.BIND_OFF):
                raise NoSteps("sts are bound off at the neck where a step would have to stand")
            out[number + 1] = here.with_acts(bind_off(sts), *here.acts)
    return out


def _to_the_end(row: Row) -> Row:
    """Return a row worked to its end; sts bound off at the neck, and decreases, stay in it."""
    head: tuple[Act, ...] = row.acts[:1] if row.edge == "neck" else ()
    kept = tuple(act for act in head if act.kind is Kind.BIND_OFF and len(row.acts) > 1)
    acts = (*kept, WORK_ALL)
    return replace(row, acts=acts, aid=False, closes=False, claim=None, printed=None)


def compare(
    sloped: Fabric,
    stepped: Sequence[Row],
    stitches: int,
    begins: Edge,
    shoulders: Mapping[Edge, int],
    gained: Mapping[Edge, int],
) -> int:
    """Work stepped rows and compare every column with the sloped fabric.

    Each shoulder must gain the rows of `gained`, and all its sts be bound off. Returns the rows that
    the other columns gain; raises NoSteps where columns differ otherwise.
    """
    try:
        fabric = knit(stitches, stepped, begins)
    except FabricError as error:
        raise NoSteps(f"row {error.row - 1} of the steps: {error}") from None
    before = [(run.height, run.fate) for run in sloped.runs for _ in range(run.count)]
    after = [(run.height, run.fate) for run in fabric.runs for _ in range(run.count)]
    taken: set[int] = set()
    for edge, total in shoulders.items():
        places = range(total) if edge == "right" else range(stitches - total, stitches)
        taken.update(places)
        for column in places:
            if after[column][1] != "bound off":
                raise NoSteps(f"a shoulder st is {after[column][1]}, it should be bound off")
            differs = after[column][0] - before[column][0]
            if differs != gained[edge]:
                raise NoSteps(f"a shoulder st would gain {_rows(differs)}")
    beside = [c for c in range(stitches) if c not in taken]
    differing = {after[c][0] - before[c][0] for c in beside}
    if len(differing) > 1:
        raise NoSteps("the sts beside the shoulder would not all keep their rows")
    if any((after[c][1] == "decreased") != (before[c][1] == "decreased") for c in beside):
        raise NoSteps("the neck would be decreased elsewhere")
    return differing.pop() if differing else 0


def _rows(n: int) -> str:
    return f"{n} row" if abs(n) == 1 else f"{n} rows"


def _sts(n: int) -> str:
    return f"{n} st" if n == 1 else f"{n} sts"
