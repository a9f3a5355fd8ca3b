"""Work an original passage and its revised one over the same stitches, for one size, and compare."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from rewriter.fabric import Fabric, FabricError, knit
from rewriter.rows import (
    OTHER_SIDE,
    PLAIN,
    Edge,
    Kind,
    Row,
    Side,
    edge_of_beginning,
    side_of,
)
from rewriter.shapingmodel import Shaping
from rewriter.twin import Steps
from rewriter.verify import UNKNOWN_NECK

T = TypeVar("T")

WORKED = (Kind.WORK, Kind.LEAVE, Kind.BIND_OFF)


@dataclass(frozen=True)
class Made:
    """A turn that a revised row makes before its end."""

    row: int
    unworked: int
    edge: Edge
    """The edge that the row runs towards."""
    index: int
    """Index of the row in the list of revised rows; negative for a row before it."""


@dataclass
class EdgeWorked:
    """What became of the columns of one edge."""

    steps: Steps
    gained: list[tuple[int, int]] = field(default_factory=list)
    """Columns from the outer edge inward as (sts, rows gained), equal neighbours joined."""
    fates: list[tuple[int, str]] = field(default_factory=list)
    turns: list[Made] = field(default_factory=list)
    ended: int = 0
    """Stitches from the outer edge inward that end in one row with the outermost."""
    ended_at: int | None = None
    """Index of the revised row that ends them."""
    ended_all: bool = False
    """That row ends whatever is on the needle."""

    @property
    def uniform(self) -> int | None:
        """Rows that every column gains; None where they differ."""
        return self.gained[0][1] if len(self.gained) == 1 else None


@dataclass
class Worked:
    """Both texts worked for one size."""

    edges: list[EdgeWorked]
    neck: list[int] = field(default_factory=list)
    """Rows gained by the other columns, each value once."""
    neck_fates: tuple[frozenset[str], frozenset[str]] = (frozenset(), frozenset())
    decreased: tuple[int, int] = (0, 0)
    stuck: tuple[str, int] | None = None
    """Why the revised rows cannot be worked to their end, and the index of the row."""
    at_neck: list[Made] = field(default_factory=list)
    """Turns of a one-edged passage that are made at the other edge."""
    open_turns: int = 0
    unclosed: tuple[int, ...] = ()
    unaided: tuple[int, ...] = ()
    idle: tuple[int, ...] = ()
    live: tuple[int, ...] = ()
    """Stitches on the needle after each revised row."""
    stitches: int = 0
    neck_known: bool = True


def work_both(shaping: Shaping, size: int, rows: Sequence[Row], start: int) -> Worked:
    """Work the original and the revised rows, whose first stands on row `start` of the original.

    Raises FabricError where the original itself cannot be worked.
    """
    neck = shaping.neck[size]
    beside = UNKNOWN_NECK if neck is None else neck
    stitches = shaping.total(size) + shaping.off_at_neck(size) + beside
    low = min(-1, start)
    begins = shaping.begins()
    if (-1 - low) % 2:
        begins = "left" if begins == "right" else "right"
    own = shaping.rows[size]
    old = knit(stitches, [*[PLAIN] * (-1 - low), *own], begins)
    lead = [own[0] if n == -1 else PLAIN for n in range(low, start)]
    out = Worked(
        [EdgeWorked(s) for s in shaping.edges[size]],
        stitches=stitches,
        neck_known=neck is not None,
    )
    todo = [*lead, *rows]
    try:
        new = knit(stitches, todo, begins)
    except FabricError as error:
        out.stuck = (str(error), error.row - len(lead))
        new = knit(stitches, todo[: max(0, error.row)], begins)
    _turns(out, new, todo, len(lead), low, shaping.first_side)
    out.live = new.live[len(lead) :]
    if out.stuck is None and sum(r.count for r in new.runs) < sum(r.count for r in old.runs):
        out.stuck = ("sts of the original are not on the needle", len(rows) - 1)
    if out.stuck is None:
        _columns(out, old, new, len(lead), rows)
    return out


def _turns(
    out: Worked, new: Fabric, todo: Sequence[Row], lead: int, low: int, first: Side | None
) -> None:
    number, numbers = low, []
    for row in todo:
        numbers.append(number)
        number += any(a.kind in WORKED for a in row.acts)
    for index, unworked in new.turned:
        place = numbers[index]
        side = side_of(place, first or "RS") or "RS"
        edge = edge_of_beginning(OTHER_SIDE[side])
        made = Made(place, unworked, edge, index - lead)
        home = next((e for e in out.edges if e.steps.edge == edge), None)
        (out.at_neck if home is None else home.turns).append(made)


def _columns(out: Worked, old: Fabric, new: Fabric, lead: int, rows: Sequence[Row]) -> None:
    before = [(run.height, run.fate) for run in old.runs for _ in range(run.count)]
    after = [(run.height, run.fate, run.ended) for run in new.runs for _ in range(run.count)]
    stitches = len(before)
    taken = [False] * stitches
    for edge in out.edges:
        places = list(range(edge.steps.total))
        if edge.steps.edge == "left":
            places = [stitches - 1 - p for p in places]
        for place in places:
            taken[place] = True
            _add(edge.gained, after[place][0] - before[place][0])
            _add(edge.fates, after[place][1])
        inward = range(stitches) if edge.steps.edge == "right" else range(stitches - 1, -1, -1)
        _, fate, last = after[next(iter(inward))]
        other = {"bound off", "held"} - {fate}
        for place in inward:
            if after[place][2] != last or after[place][1] in ("decreased", *other):
                break
            edge.ended += 1
        edge.ended_at = last - lead if 0 <= last - lead < len(rows) else None
        if edge.ended_at is not None:
            row = rows[edge.ended_at]
            edge.ended_all = any(
                a.n is None for a in row.acts if a.kind in (Kind.BIND_OFF, Kind.HOLD)
            )
    rest = [c for c in range(stitches) if not taken[c]]
    out.neck = sorted({after[c][0] - before[c][0] for c in rest})
    out.neck_fates = (
        frozenset(before[c][1] for c in rest),
        frozenset(after[c][1] for c in rest),
    )
    out.decreased = (
        sum(b[1] == "decreased" for b in before),
        sum(a[1] == "decreased" for a in after),
    )
    bounds = {e.steps.total for e in out.edges}
    bounds |= {stitches - b for b in bounds}
    out.open_turns = sum(1 for turn in new.open_turns if turn not in bounds)
    out.unclosed = tuple(i - lead for i in new.unclosed)
    out.unaided = tuple(i - lead for i in new.unaided)
    out.idle = tuple(i - lead for i in new.idle_aids)


def _add(runs: list[tuple[int, T]], value: T) -> None:
    """Add one column to runs of equal neighbours."""
    if runs and runs[-1][1] == value:
        runs[-1] = (runs[-1][0] + 1, value)
    else:
        runs.append((1, value))
