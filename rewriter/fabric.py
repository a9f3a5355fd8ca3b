"""Work rows stitch by stitch, in runs of equal columns, and compare what comes out.

Columns are numbered from the right-hand edge as seen with the right side facing; a RS row works
them upward, a WS row downward (common practice for flat knitting). The height of a column is the
number of rows worked into it before it is bound off or put on a holder. Work is done in runs of
equal columns, so a piece of 400 stitches costs what a piece of 40 costs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from rewriter.rows import Act, Edge, Kind, Row
from rewriter.values import value

Fate = Literal["bound off", "held", "decreased", "on the needle"]
Yarn = Literal["right", "left", "inside", "cut"]


class FabricError(ValueError):
    """A row asks for what the needle does not hold; `row` is its index in the list of rows."""

    def __init__(self, message: str, row: int) -> None:
        super().__init__(message)
        self.row = row


@value
class Run:
    """A run of neighbouring columns that were treated alike."""

    first: int
    count: int
    height: int
    fate: Fate
    ended: int
    """Index of the row that ended these columns (bound them off or held them)."""
    order: int
    """How many runs ended before this one."""


@dataclass(frozen=True, slots=True)
class Fabric:
    """What a list of rows makes of a needle of stitches."""

    runs: tuple[Run, ...]
    rows: int
    """Number of passes of the yarn."""
    yarn: Yarn
    open_turns: tuple[int, ...]
    """Columns at whose lower side a turn was made that no later row passed."""
    unclosed: tuple[int, ...]
    """Rows that pass a turn though their words do not close it."""
    unaided: tuple[int, ...]
    """Rows that begin at a turn without the turning aid."""
    idle_aids: tuple[int, ...]
    """Rows that begin with a turning aid though no turn came before."""
    turned: tuple[tuple[int, int], ...] = ()
    """Rows that turn before their end, each with the sts it leaves unworked."""
    live: tuple[int, ...] = ()
    """Stitches on the needle after each row."""

    def heights(self) -> list[tuple[int, int]]:
        """Return (stitches, rows) from the right-hand edge inward, equal neighbours joined."""
        out: list[tuple[int, int]] = []
        for run in self.runs:
            if out and out[-1][1] == run.height:
                out[-1] = (out[-1][0] + run.count, run.height)
            else:
                out.append((run.count, run.height))
        return out

    def at(self, first: int, count: int) -> list[tuple[int, int, Fate]]:
        """Return (stitches, rows, fate) of the columns first … first + count - 1."""
        out: list[tuple[int, int, Fate]] = []
        for run in self.runs:
            start, stop = max(first, run.first), min(first + count, run.first + run.count)
            if start < stop:
                out.append((stop - start, run.height, run.fate))
        return out


class _Needle:
    """The live stitches as [first column, count, height] from the right-hand edge, and the yarn."""

    def __init__(self, stitches: int, first: Edge) -> None:
        self.live: list[list[int]] = [[0, stitches, 0]] if stitches else []
        self.up = first == "right"
        self.gap = 0 if self.up else stitches
        """Number of live sts on the right-hand side of the yarn."""
        self.size = stitches
        self.ended: list[Run] = []
        self.turns: set[int] = set()
        self.cut = False

    def ahead(self) -> int:
        return self.size - self.gap if self.up else self.gap

    def _split(self, place: int) -> int:
        """Cut the runs at a place among the live sts; return the index of the run behind it."""
        for i, (first, count, height) in enumerate(self.live):
            if place <= 0:
                return i
            if place < count:
                self.live[i : i + 1] = [
                    [first, place, height],
                    [first + place, count - place, height],
                ]
                return i + 1
            place -= count
        return len(self.live)

    def _next(self, n: int) -> tuple[int, int]:
        low = self.gap if self.up else self.gap - n
        return self._split(low), self._split(low + n)

    def pass_turns(self, n: int) -> bool:
        """Close the open turns with sts on both sides among the next `n`; say if there were any."""
        if not n or not self.turns:
            return False
        i, j = self._next(n)
        low, high = self.live[i][0], self.live[j - 1][0] + self.live[j - 1][1]
        hit = {t for t in self.turns if low < t < high}
        self.turns -= hit
        return bool(hit)

    def work(self, n: int) -> None:
        i, j = self._next(n)
        for run in self.live[i:j]:
            run[2] += 1
        self.gap += n if self.up else -n

    def cast_on(self, n: int) -> bool:
        """Add sts at the edge where the yarn is; say whether it is at an edge.

        Columns added at the right-hand edge have numbers below those that are there.
        """
        if self.gap not in (0, self.size):
            return False
        if self.gap == 0 and (self.size or self.up):
            low = self.live[0][0] if self.live else 0
            self.live.insert(0, [low - n, n, 0])
            self.size += n
        else:
            high = self.live[-1][0] + self.live[-1][1] if self.live else 0
            self.live.append([high, n, 0])
            self.size += n
            self.gap = self.size
        return True

    def end(self, n: int, fate: Fate, row: int) -> None:
        """Take the next `n` sts off the needle."""
        i, j = self._next(n)
        for first, count, height in self.live[i:j]:
            self.ended.append(Run(first, count, height, fate, row, len(self.ended)))
            if fate == "bound off":
                self.turns -= {first, first + count}
        del self.live[i:j]
        self.size -= n
        if not self.up:
            self.gap -= n

    def boundary(self) -> int:
        """Return the column at whose lower side the yarn stands."""
        i = self._split(self.gap)
        return self.live[i][0] if i < len(self.live) else self.live[-1][0] + self.live[-1][1]


def knit(stitches: int, rows: Sequence[Row], first: Edge) -> Fabric:
    """Work `rows` over `stitches` columns, the first row beginning at the edge `first`.

    Raises FabricError when a row asks for more stitches than are ahead of the yarn.
    """
    needle = _Needle(stitches, first)
    unclosed: list[int] = []
    unaided: list[int] = []
    idle: list[int] = []
    turns: list[tuple[int, int]] = []
    live: list[int] = []
    passes = 0
    turned = False
    for index, row in enumerate(rows):
        came_from_turn = turned
        turned = False
        if row.aid and not came_from_turn:
            idle.append(index)
        if came_from_turn and not row.aid and row.acts and row.acts[0].kind is not Kind.BIND_OFF:
            unaided.append(index)
        worked = worked_all = False
        if row.dec_at == "start" and row.dec:
            _decrease(needle, row.dec, index)
        last_work = max((i for i, a in enumerate(row.acts) if a.kind is Kind.WORK), default=-1)
        for number, act in enumerate(row.acts):
            ahead = needle.ahead()
            decreasing = row.dec if row.dec_at == "end" and number == last_work else 0
            if act.kind in (Kind.WORK, Kind.LEAVE, Kind.BIND_OFF):
                if needle.cut:
                    raise FabricError("the yarn was fastened off before this row", index)
                if worked_all and act.kind is Kind.WORK and act.n is None:
                    raise FabricError("it works on where it has come to its end", index)
                n = _reach(act.kind, act.n, ahead - decreasing, index)
                if act.kind is Kind.LEAVE and row.told_twice and n:
                    raise FabricError(f"it leaves {ahead} sts unworked, not {act.n}", index)
                if needle.pass_turns(n) and not row.closes:
                    unclosed.append(index)
                if act.kind is Kind.BIND_OFF:
                    needle.end(n, "bound off", index)
                elif n:
                    needle.work(n)
                if decreasing:
                    _decrease(needle, decreasing, index)
                worked = True
                worked_all = act.kind is Kind.WORK and act.n is None
            elif act.kind is Kind.TURN:
                turned = True
                turns.append((index, ahead))
                needle.turns.add(needle.boundary())
            elif act.kind is Kind.CAST_ON:
                if not needle.cast_on(act.n or 0):
                    raise FabricError("sts are to be cast on inside the row", index)
            elif act.kind is Kind.HOLD:
                _hold(needle, act.n, index)
            elif act.kind in _PARKED:
                _park(needle, act, index)
            else:
                needle.cut = act.kind is Kind.CUT
        if worked:
            passes += 1
            if not turned and not needle.cut and needle.ahead():
                raise FabricError(f"the row stops with {needle.ahead()} sts still ahead", index)
            needle.up = not needle.up
        live.append(needle.size)
    runs = [Run(f, c, h, "on the needle", len(rows), len(needle.ended)) for f, c, h in needle.live]
    return Fabric(
        runs=tuple(sorted([*needle.ended, *runs], key=lambda r: r.first)),
        rows=passes,
        yarn=_yarn(needle),
        open_turns=tuple(sorted(needle.turns)),
        unclosed=tuple(unclosed),
        unaided=tuple(unaided),
        idle_aids=tuple(idle),
        turned=tuple(turns),
        live=tuple(live),
    )


def _decrease(needle: _Needle, n: int, row: int) -> None:
    """Take sts out at the place of the yarn: two worked as one leave one column fewer."""
    if n >= needle.ahead() + 1:
        raise FabricError(f"{n} sts are to be decreased, but {needle.ahead()} are ahead", row)
    needle.end(n, "decreased", row)


def _reach(kind: Kind, n: int | None, ahead: int, row: int) -> int:
    if n is None:
        return ahead
    if n > ahead:
        raise FabricError(f"{n} sts are asked for, but {ahead} are on the needle", row)
    return ahead - n if kind is Kind.LEAVE else n


def _hold(needle: _Needle, n: int | None, row: int) -> None:
    """Put sts on a holder: all of them, or `n` from the edge where the next row would begin."""
    if n is None:
        needle.gap = 0 if needle.up else needle.size
        needle.end(needle.size, "held", row)
        return
    up, gap = needle.up, needle.gap
    needle.up, needle.gap = True, 0 if up else needle.size - n
    if n > needle.size:
        raise FabricError(f"{n} sts are to be held, but {needle.size} are on the needle", row)
    needle.end(n, "held", row)
    needle.up, needle.gap = up, min(gap, needle.size)


_PARKED = frozenset({Kind.PARK, Kind.PARK_NEXT, Kind.PARK_FAR})


def _park(needle: _Needle, act: Act, row: int) -> None:
    """Put some sts on a holder, told by where they lie from the yarn."""
    n, ahead = act.n or 0, needle.ahead()
    there = needle.size - ahead if act.kind is Kind.PARK else ahead
    if n > there:
        raise FabricError(f"{n} sts are to be held, but {there} are there", row)
    if act.kind is Kind.PARK_NEXT:
        needle.end(n, "held", row)
        return
    behind = act.kind is Kind.PARK
    up, needle.up = needle.up, True
    gap = needle.gap
    if behind:
        needle.gap = gap - n if up else gap
        needle.end(n, "held", row)
        needle.gap = gap - n if up else gap
    else:
        needle.gap = needle.size - n if up else 0
        needle.end(n, "held", row)
        needle.gap = gap if up else gap - n
    needle.up = up


def _yarn(needle: _Needle) -> Yarn:
    if needle.cut:
        return "cut"
    if not needle.live:
        return "right" if needle.up else "left"
    if needle.gap == 0:
        return "right"
    return "left" if needle.gap == needle.size else "inside"
