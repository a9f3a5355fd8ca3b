"""The steps of each edge of a passage, and the sts left beside them, for one size."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.counts import worked_out_before
from rewriter.dividing import is_matching
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.passages import Passage
from rewriter.rows import Edge, Kind, Side, bind_off, edge_of_beginning, side_of
from rewriter.sides import Sized
from rewriter.twin import Steps

_NARROWEST_BAND = 4
"""Sts beside a shoulder that may be a front band, though nothing is said of it there (common practice).

Fewer are a slip in the sums.
"""


def steps_of_edges(
    s: Sized,
    two_edged: bool,
    stand_in: Side,
    known: int | None,
    told: int | None,
    passage: Passage,
    size: int,
) -> tuple[tuple[Steps, ...], int | None, bool]:
    """Return the steps of each edge, the sts left beside them, and if the last is on a return row.

    `known` are the sts before the passage, `told` those left as its words tell them, where they do. Raises
    Unread where the sts of the last bind-off are not told, or none would be left for it.
    """
    shoulders: list[tuple[Edge, list[int], list[int], int]] = []
    for parity in sorted(s.steps, key=lambda p: s.steps[p][0][0]):
        side = side_of(parity, stand_in) or "RS"
        rows = [row for row, _ in s.steps[parity]]
        sts = [n for _, n in s.steps[parity]]
        shoulders.append((edge_of_beginning(side), rows, sts, parity))
    taken = sum(sum(sts) for _, _, sts, _ in shoulders) + sum(row.off_at_neck for row in s.rows)
    claim = None
    if s.final is not None:
        ending = s.rows[s.final]
        claim = ending.claim if ending.claim is not None else ending.acts[0].n
    printed = _printed_left(s, taken)
    left = claim if claim is not None else told if told is not None else printed
    said = left is not None
    if left is None and known is not None:
        left = known - taken
    returned = False
    if not two_edged:
        edge, rows, sts, parity = shoulders[0]
        ends_in_bind_off = s.final is not None and s.rows[s.final].acts[0].kind is Kind.BIND_OFF
        if ends_in_bind_off and s.final is not None:
            if left is None:
                raise Unread(
                    "last-step-unknown",
                    "how many sts are in the last bind-off? (give the stitch count before it)",
                    s.rows[s.final].span or passage.span,
                    (size,),
                    "stitches",
                )
            if left <= 0:
                raise Unread(
                    "sums",
                    f"{taken} sts are bound off in steps, so {left} would be left for the last",
                    passage.span,
                    (size,),
                )
            returned = (s.final - rows[-1]) % 2 == 1
            rows.append(s.final)
            sts.append(left)
            left = 0
        elif s.final is None and not said:
            goes_on = works_on_after(passage) or any(row.band for row in s.rows)
            if left is None:
                left = None if goes_on else 0
            elif 0 < left < _NARROWEST_BAND and not goes_on:
                raise Unread(
                    "sums",
                    f"the steps take {taken} sts, but {known} are on the needle; nothing is said of the rest",
                    passage.span,
                    (size,),
                )
        shoulders = [(edge, rows, sts, parity)]
    return tuple(Steps(e, tuple(r), tuple(n)) for e, r, n, _ in shoulders), left, returned


def sts_worked_out(passage: Passage, sized: Sequence[Sized]) -> tuple[int, ...] | None:
    """Return the sts before a shoulder whose last step is told without a number, if the sums give them.

    The step must come out about as large as the others (steps are about even, common practice).
    """
    finals = [s.rows[s.final].acts[0] if s.final is not None else None for s in sized]
    known = worked_out_before(passage, len(sized))
    if known is None or not all(a is not None and a == bind_off(None) for a in finals):
        return None
    for s, sts in zip(sized, known, strict=True):
        steps = [n for taken in s.steps.values() for _, n in taken]
        left = sts - sum(steps) - sum(row.off_at_neck for row in s.rows)
        if not max(steps) <= 2 * left <= 3 * max(steps):
            return None
    return known


# "Pick up and knit 1 st in every cast-off st": a border, for which no st of the piece is left
_PICKS_UP = regex.compile(r"\b(?:pick(?:ing)?|knit|take|taking)\s+up\b")


def works_on_after(passage: Passage) -> bool:
    """Say whether the words after a passage go on with sts that it leaves on the needle."""
    following = [s for s in passage.follows[:1] if not is_matching(s)]
    if any(_PICKS_UP.search(s.sentence.view.text) for s in following):
        return False
    verbs = {f.verb for s in following for f in s.frames}
    if "join" not in verbs and any(_keeps_sts(f) for s in following for f in s.frames):
        return True  # yarn is joined to the sts of another side, which waited
    ends = {f.verb for s in passage.follows[:1] for f in s.frames} & {"join", "hold"}
    return bool(verbs & {"work", "bind_off", "decrease"}) and not ends


def _keeps_sts(frame: Frame) -> bool:
    """Say whether a frame keeps the sts that are left: "Leave this yarn on: 14 sts remain for collar"."""
    left = frame.one("count")
    named = left is not None and left.kind in ("rem_count", "rem_all")
    return frame.verb == "hold" and named and not frame.parts.keys() & {"holder", "on_needle"}


def _printed_left(s: Sized, taken: int) -> int | None:
    """Return the sts left after the steps as the text prints them, counting back if need be."""
    removed = 0
    start: int | None = None
    for row in s.rows:
        head = row.acts[0] if row.acts else None
        if head is not None and head.kind is Kind.BIND_OFF and head.n is not None:
            removed += head.n
        removed += row.dec
        if row.printed is not None and start is None:
            start = row.printed + removed
    return None if start is None else start - taken
