"""Prove a rewriting before anything is written.

The revised text is read again, from the text and not from the plan. Both texts are worked stitch by
stitch for every size and compared: heights, what became of each stitch, order, yarn, rows, turns.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rewriter import regex
from rewriter.fabric import Fabric, FabricError, knit
from rewriter.planner import Plan
from rewriter.rows import OTHER_SIDE, PLAIN, Act, Edge, Kind, Row, Side, bind_off, side_of
from rewriter.shapingmodel import Shaping

UNKNOWN_NECK = 29
"""Stitches that stand in for a neck whose number is not known; heights do not depend on it."""


@dataclass(frozen=True)
class Proof:
    """What the comparison showed for one size."""

    same: bool
    edge_rows_gained: tuple[int, ...]
    """For each edge in working order, the rows that every unchanged column gained."""
    neck_rows_gained: int
    piece_rows_gained: int
    exceptions: str = ""
    """Which columns differ, where they do not all gain the same."""


class NotProven(ValueError):
    """The revised text does not make the fabric that was planned."""


def prove(shaping: Shaping, plan: Plan, reread: Sequence[Sequence[Row]]) -> list[Proof]:
    """Work both texts for every size; raises NotProven with the reason if they do not agree.

    `reread` holds for each size the rows read from the revised text, its first row taking the
    place of row -1 where the plan moves the lead-in, of row 0 otherwise.
    """
    return [
        _prove_size(shaping, plan, size, list(reread[size])) for size in range(len(shaping.rows))
    ]


def _prove_size(shaping: Shaping, plan: Plan, size: int, rows: list[Row]) -> Proof:
    neck = shaping.neck[size]
    beside = UNKNOWN_NECK if neck is None else neck
    stitches = shaping.total(size) + shaping.off_at_neck(size) + beside
    if not plan.moves_lead_in:
        rows = [PLAIN, *rows]
    _check_sides(rows, shaping.first_side)
    old = _work(stitches, shaping.rows[size], shaping.begins(), "the draft")
    new = _work(stitches, rows, shaping.begins(), "the revised text")
    for fault, where in (
        ("passes a turn without closing it", new.unclosed),
        ("begins at a turn without the turning st", _unaided(new, plan, rows)),
        ("begins with a turning st where no turn was made", new.idle_aids),
    ):
        if where:
            raise NotProven(f"row {where[0] - 1} of the revised text {fault}")
    if _open_turns(new, shaping, size):
        raise NotProven("a turn is never closed")
    if neck is not None:
        _check_claims(rows, (stitches, *new.live), not shaping.two_edged or shaping.on_two_balls)
    return _compare(shaping, plan, size, old, new)


def _work(stitches: int, rows: Sequence[Row], first: Edge, what: str) -> Fabric:
    try:
        return knit(stitches, rows, first)
    except FabricError as error:
        raise NotProven(f"row {error.row - 1} of {what}: {error}") from None


def _check_sides(rows: Sequence[Row], first_side: Side | None) -> None:
    """Compare the sides that the labels name with the rows they stand on."""
    if first_side is None:
        return
    number = -1
    for row in rows:
        if row.side is not None and row.side != side_of(number, first_side):
            raise NotProven(f"row {number} is called a {row.side} row")
        if row.passes:
            number += 1


_EACH_SIDE = regex.compile(r"(?i)\b(?:each|both)\s+(?:sides?|halves|half)\b")


def _check_claims(rows: Sequence[Row], live: Sequence[int], all_held: bool) -> None:
    """Compare the counts of sts that are bound off, or held, as all there are with those on the needle.

    `live` begins with the sts before the first row; `all_held` says that a count told for a holder is that of
    all its sts.
    """
    for number, row in enumerate(rows):
        ends = row.acts == (bind_off(None),) or (all_held and row.acts == (Act(Kind.HOLD),))
        each = (
            _EACH_SIDE.search(row.neck_words) is not None
        )  # "rem 19 sts each side": twice as many
        if ends and row.claim is not None and live[number] not in (row.claim, 2 * row.claim * each):
            raise NotProven(f"{row.claim} sts are told where {live[number]} are on the needle")


def _unaided(new: Fabric, plan: Plan, rows: Sequence[Row]) -> tuple[int, ...]:
    """Return the rows that lack the turning aid, for methods that have one."""
    if not any(row.aid for size in plan.rows for row in size):
        return ()
    if not any(row.aid for row in rows) and any(row.has(Kind.TURN) for row in rows):
        return ()  # a method whose aid belongs to the turn itself
    return new.unaided


def _open_turns(new: Fabric, shaping: Shaping, size: int) -> bool:
    """Say whether a turn stays open; the one beside a held shoulder, at the neck, is none."""
    boundaries = {shaping.edges[size][0].total, shaping.edges[size][-1].total}
    stitches = sum(run.count for run in new.runs)
    boundaries |= {stitches - b for b in boundaries}
    return any(turn not in boundaries for turn in new.open_turns)


def _columns(fabric: Fabric) -> list[tuple[int, str]]:
    return [(run.height, run.fate) for run in fabric.runs for _ in range(run.count)]


def _compare(shaping: Shaping, plan: Plan, size: int, old: Fabric, new: Fabric) -> Proof:
    before, after = _columns(old), _columns(new)
    stitches = len(before)
    gained_by_edge: list[int] = []
    exceptions = ""
    live = plan.join != "sewn"
    taken = [False] * stitches
    for steps in shaping.edges[size]:
        places = range(steps.total)
        if steps.edge == "left":
            places = range(stitches - 1, stitches - 1 - steps.total, -1)
        gains = []
        for column in places:
            taken[column] = True
            fate = "held" if live else "bound off"
            if after[column][1] != fate:
                raise NotProven(f"a shoulder st is {after[column][1]}, it should be {fate}")
            gains.append(after[column][0] - before[column][0])
        usual = gains[0]
        odd = [i for i, g in enumerate(gains) if g != usual]
        if odd:
            last = steps.sts[-1]
            of_last_step = odd == list(range(steps.total - last, steps.total))
            if not (plan.within_one_row and of_last_step and gains[-1] == usual + 1):
                raise NotProven(
                    f"{len(odd)} columns of a shoulder gain {gains[odd[0]]} rows, the others {usual}"
                )
            exceptions = f"the {last} sts of the last step gain one row"
        same = plan.exact or shaping.on_two_balls or not live
        if not (-1 <= usual <= 1) or (same and usual != 0):
            raise NotProven(f"a shoulder gains {usual} rows")
        gained_by_edge.append(usual)
    necks = {after[c][0] - before[c][0] for c in range(stitches) if not taken[c]}
    if len(necks) > 1:
        raise NotProven(f"the neck sts gain {sorted(necks)} rows")
    neck_gain = necks.pop() if necks else 0
    if abs(neck_gain) > (0 if plan.exact else 1):
        raise NotProven(f"the neck gains {neck_gain} rows")
    if not live and not plan.within_one_row and (old.yarn, old.rows) != (new.yarn, new.rows):
        raise NotProven("the yarn does not end where it did")
    fates_old = {before[c][1] for c in range(stitches) if not taken[c]}
    fates_new = {after[c][1] for c in range(stitches) if not taken[c]}
    if fates_old != fates_new:
        raise NotProven(f"the neck sts were {fates_old}, now they are {fates_new}")
    if not live and _order(old, shaping, size) != _order(new, shaping, size):
        raise NotProven("the shoulders are not bound off in the order they were")
    piece = new.rows - old.rows if not live else _piece_gain(neck_gain, shaping, plan)
    return Proof(not exceptions, tuple(gained_by_edge), neck_gain, piece, exceptions)


def _order(fabric: Fabric, shaping: Shaping, size: int) -> list[str]:
    """Return which part of the needle is finished when: the edges in order, and the neck."""
    stitches = sum(run.count for run in fabric.runs)
    last: dict[str, int] = {}
    for run in fabric.runs:
        part = "neck"
        for steps in shaping.edges[size]:
            low = 0 if steps.edge == "right" else stitches - steps.total
            if low <= run.first < low + steps.total:
                part = steps.edge
        last[part] = max(last.get(part, 0), run.order if run.fate != "on the needle" else 10_000)
    return sorted(last, key=lambda part: last[part])


def _piece_gain(neck_gain: int, shaping: Shaping, plan: Plan) -> int:
    """Return the rows that a piece with live shoulders gains at its longest column."""
    if shaping.two_edged:
        return neck_gain
    return 1 if plan.within_one_row else 0


def lead_in_agrees(new_side: Side | None, shaping: Shaping, plan: Plan) -> bool:
    """Say whether the side that the revised lead-in names goes with the first new row."""
    if new_side is None or shaping.first_side is None:
        return True
    last_row_before = shaping.first_side if plan.moves_lead_in else OTHER_SIDE[shaping.first_side]
    return new_side == last_row_before
