"""Where a short row turns, as people write it: from the end, from the turn before, at a marker."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.hungmarkers import WORKED_ST, MarkerReader
from rewriter.parsing import Part
from rewriter.rows import TURN, WORK_ALL, Act, Kind, Row, leave
from rewriter.spans import Span


class TurnReader(MarkerReader):
    """Reads the turns of one row, with the turns before it in mind."""

    begun = False
    """The first st of the row is told by itself: a double st, a slipped st."""
    aid_due = ""
    """The aid that was told behind the last turn: "turn, make DS"."""
    made: frozenset[str] = frozenset()
    """The aids that were made at turns so far."""
    turned_at_end = False
    """The row was told as worked and turned: where, may stand behind: "k, turn, leaving 7 sts unworked"."""
    further: int | None = None
    """By how many sts each repeated turn lies before the one before it."""

    def last_turn(self, place: Span | None = None) -> int:
        """Return the sts that the last turn at the edge of the next row leaves; raises Unread."""
        here = len(self.rows)
        for row in self.rows[here - 2 :: -2] if here >= 2 else ():
            for act in row.acts:
                if act.kind is Kind.LEAVE and act.n is not None and row.has(Kind.TURN):
                    return act.n
        raise Unread(
            "turn-unclear",
            "the place of this turn is counted from one that is not told in sts from the end",
            place or Span(0, 0),
        )

    def turn_place(self, extent: Part) -> tuple[Act, int | None] | None:
        """Return how far an extent works, and by how many sts it lies before the turn before it.

        None for an extent that names no turn.
        """
        if extent.kind == "until_left" and extent.amount is not None and not self.dividing:
            return leave(self._value(extent.amount)), None
        if extent.kind == "before_turn" and extent.amount is not None:
            further = self._value(extent.amount) + (extent.concept in WORKED_ST)
            return leave(self.last_turn(extent.span) + further), further
        if extent.kind == "to_marker":
            return leave(self.at_marker(extent)), None
        return None

    def unworked(self, frame: Frame) -> tuple[int, bool] | None:
        """Return the sts of "leaving 8 (more) sts unworked", and if they come on top of those before."""
        told = frame.verb == "hold" and any(n.concept == "unworked" for n in frame.notes)
        # "leave 7 sts unworked at end of next 2 rows, then 7 more sts at end of foll 2 rows"
        again = frame.verb == "hold" and {"more", "end", "rows"} <= frame.parts.keys()
        if not (told or again) or frame.amount is None:
            return None
        return self._value(frame.amount), "more" in frame.parts

    def close_across(self, frame: Frame) -> None:
        """Refuse "k2tog across each gap" where no yarn-over was made at the turns."""
        if frame.concept == "across" and not self.made & {"yarn_over", "pinned"}:
            raise Unread(
                "turn-unclear",
                "two sts are worked together at each gap, but no yarn-over is made at the turns: is a st "
                "lost there?",
                frame.span,
            )

    def close_rows(self, frame: Frame, first: int) -> None:
        """Let the rows told last, from the one with index `first`, close the turns that they pass."""
        self.close_across(frame)
        for index in range(first, len(self.rows)):
            self.rows[index] = replace(self.rows[index], closes=True)

    def turn_last_row(self) -> None:
        """Read "Turn" at the beginning of a sentence: it ends the row told before."""
        if not self.rows or not self.rows[-1].acts:
            return
        last = self.rows[-1]
        if last.acts[-1].kind is Kind.LEAVE or (
            last.acts[-1].kind is Kind.WORK and last.acts[-1].n is not None
        ):
            self.rows[-1] = last.with_acts(*last.acts, TURN)

    def leave_unworked(self, frame: Frame, row: Row, acts: list[Act]) -> Row | None:
        """Read "K to end, leaving 8 sts unworked" and "turn, leaving 8 sts unworked"."""
        told = self.unworked(frame)
        # "P 6, turn, leaving 5 sts": the sts worked and those left are told side by side
        counted = [a.kind for a in acts] == [Kind.WORK, Kind.TURN] and acts[0].n is not None
        if told is None and counted and frame.amount is not None and not self.dividing:
            told = None if "holder" in frame.parts else (self._value(frame.amount), False)
        if told is None:
            said = frame.verb == "hold" and any(n.concept == "unworked" for n in frame.notes)
            return row if said and "holder" not in frame.parts else None
        if "rows" in frame.parts:
            return None  # more than one row is told
        n, on_top = told
        turned = acts[-1:] == [TURN] or (acts[-1:] == [WORK_ALL] and self.turned_at_end)
        while acts and acts[-1] in (TURN, WORK_ALL):
            acts.pop()
        acts.append(leave(self.last_turn(frame.span) + n if on_top else n))
        if turned:
            acts.append(TURN)
        return replace(row, further=n if on_top else None, told_twice=counted)

    def further_of(self, frames: Sequence[Frame]) -> int | None:
        """Return how many more sts each repeat leaves: "leaving 8 more sts unworked each time".

        `frames` are the repeat and what stands behind it.
        """
        extent = frames[0].one("extent")
        if extent is None and self.further_behind(frames):
            extent = frames[1].one("extent")
        if extent is not None and extent.kind == "before_turn" and extent.amount is not None:
            # "stopping 7 sts before the last wrap each time"
            return self._value(extent.amount) + (extent.concept in WORKED_ST)
        return self._more_left(frames[1]) if self.further_behind(frames) else None

    def further_behind(self, frames: Sequence[Frame]) -> bool:
        """Say whether the frame behind a repeat tells where its rows turn."""
        if len(frames) < 2:
            return False
        extent = frames[1].one("extent")
        placed = extent is not None and extent.kind == "before_turn" and frames[1].verb == "work"
        return placed or self._more_left(frames[1]) is not None

    def _more_left(self, frame: Frame) -> int | None:
        rows = frame.one("rows")
        if rows is not None and rows.kind not in ("every_row", "every_side_row", "every_other"):
            return None
        if frame.amount is None or "more" not in frame.parts:
            return None
        if frame.verb not in ("hold", "work", "turn"):
            return None
        return self._value(frame.amount)

    def again(self, row: Row) -> Row:
        """Return a repeated row with its turn in its new place."""
        further = row.further if row.further is not None else self.further
        if further is None or not row.has(Kind.TURN) or not row.has(Kind.LEAVE):
            return row
        place = self.last_turn() + further
        acts = tuple(leave(place) if a.kind is Kind.LEAVE else a for a in row.acts)
        return replace(row, acts=acts)
