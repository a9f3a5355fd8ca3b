"""Rows as they are knitted, for one size: the common language of reader, planner and fabric.

A row is one pass of the yarn. Its acts stand in working order; where it begins follows from the
row before it (the edge that row reached, or the place where it turned). Counts are stitches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from enum import Enum
from operator import attrgetter
from typing import Literal

from rewriter.spans import Span
from rewriter.values import value

Side = Literal["RS", "WS"]
Edge = Literal["right", "left"]

OTHER_SIDE: dict[Side, Side] = {"RS": "WS", "WS": "RS"}


class Kind(Enum):
    """What an act does to the stitches ahead of the yarn."""

    WORK = "work"
    """Work `n` sts, or all that are ahead when `n` is None."""
    LEAVE = "leave"
    """Work until `n` sts are left unworked ahead."""
    CAST_ON = "cast on"
    """Cast on `n` sts beside the yarn, at the edge where the row begins or the one it has reached."""
    BIND_OFF = "bind off"
    """Bind off `n` sts, or all that are ahead when `n` is None."""
    TURN = "turn"
    """Turn the work here, before the end of the row."""
    HOLD = "hold"
    """Put `n` sts of the needle, counted from the edge the next row begins at, on a holder;
    every live st when `n` is None."""
    PARK = "park"
    """Put the `n` sts worked last, in this row, on a holder."""
    PARK_NEXT = "park next"
    """Put the next `n` sts ahead of the yarn on a holder; the row goes on beyond them."""
    PARK_FAR = "park far"
    """Put the `n` sts at the end that the next row runs towards on a holder."""
    CUT = "cut"
    """Fasten off: the yarn is no longer at the work."""
    JOIN = "join"
    """Rejoin the yarn at the first st of the row."""


@value
class Act:
    """One act within a row."""

    kind: Kind
    n: int | None = None


@value
class Row:
    """One pass of the yarn in one direction."""

    acts: tuple[Act, ...]
    aid: bool = False
    """The row begins with what the turning method asks for at its first st (a double st, ...)."""
    closes: bool = False
    """The words of the row say that it closes the turns it passes."""
    side: Side | None = None
    """The side the words name for this row; None when they name none."""
    word: str | None = None
    """The work word of the row as written ("k", "purl", "patt"), for the emitter's choice."""
    span: Span | None = None
    """Where the words stand."""
    edge: str = ""
    """The edge its words name: armhole, shoulder, side, neck or nothing."""
    claim: int | None = None
    """The number of sts that the words give for what is bound off or held as "remaining"."""
    dec: int = 0
    """Stitches decreased at the neck edge in the row."""
    dec_at: Literal["", "start", "end", "neck"] = ""
    """Where in the row; "neck" until it is known which end of the row is the neck edge."""
    dec_words: str = ""
    """The draft's own words for it ("K2tog"), where it does not just say "dec 1 st"."""
    until: int | None = None
    """Stitches on the right needle at which a dividing row turns, as the words count them."""
    neck_words: str = ""
    """The draft's words for sts bound off at the neck edge ("Cast off centre 25 sts")."""
    band: str = ""
    """The draft's words for a front band at the beginning of the row ("K9"), worked in its own stitch."""
    further: int | None = None
    """Stitches by which its turn lies before the last one at that edge, where the words count so."""
    count_taken: Literal["", "row", "total"] = ""
    """How the sts before its turn are counted, where the words leave that open: those of the row, or of the
    whole needle."""
    told_twice: bool = False
    """Its turn is told by the sts worked and by those left, so the two must meet."""
    printed: int | None = None
    """The stitch count that the text prints after the row."""
    statement: int = -1
    """Number of the sentence that tells the row, within its passage; -1 for an implied row."""

    def has(self, kind: Kind) -> bool:
        """Say whether an act of this kind is in the row."""
        return any(act.kind is kind for act in self.acts)

    @property
    def passes(self) -> bool:
        """Whether the yarn passes over sts in it: holding and cutting alone are no row."""
        return any(a.kind in (Kind.WORK, Kind.LEAVE, Kind.BIND_OFF) for a in self.acts)

    @property
    def off_at_neck(self) -> int:
        """Stitches that the row takes away at the neck edge: decreased, or bound off there."""
        head = self.acts[0] if self.acts else None
        bound = head is not None and head.kind is Kind.BIND_OFF and self.edge == "neck"
        return self.dec + (head.n or 0 if head is not None and bound else 0)

    def with_acts(self, *acts: Act) -> Row:
        """Return the row with other acts."""
        return Row(acts, *_ALL_BUT_ACTS(self))


_ALL_BUT_ACTS = attrgetter(*(field.name for field in fields(Row)[1:]))
"""What `replace` looks up one by one; most rows that are changed get other acts."""

WORK_ALL = Act(Kind.WORK)
TURN = Act(Kind.TURN)
PLAIN = Row((WORK_ALL,))


def bind_off(n: int | None) -> Act:
    """Bind off `n` sts (all when None)."""
    return Act(Kind.BIND_OFF, n)


def cast_on(n: int) -> Act:
    """Cast on `n` sts at the edge where the yarn is."""
    return Act(Kind.CAST_ON, n)


def leave(n: int) -> Act:
    """Work until `n` sts are left unworked."""
    return Act(Kind.LEAVE, n)


def side_of(row: int, first: Side | None) -> Side | None:
    """Return the side of a row, counted from row 0 whose side is `first`."""
    if first is None:
        return None
    return first if row % 2 == 0 else OTHER_SIDE[first]


def edge_of_beginning(side: Side) -> Edge:
    """Return the edge, RS facing, at which a full row of this side begins [common practice]."""
    return "right" if side == "RS" else "left"


def used_sts(rows: Sequence[Row]) -> int:
    """Return the sts that rows take away, those that remain at their end included."""
    heads = [row.acts[0] for row in rows if row.acts and row.acts[0].kind is Kind.BIND_OFF]
    return sum(a.n or 0 for a in heads) + sum((row.claim or 0) + row.dec for row in rows)
