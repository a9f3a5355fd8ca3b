"""Where a short row turns, as people write it: from the end, from the turn before, at a marker."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.hungmarkers import WORKED_ST, MarkerReader
from rewriter.parsing import Part
from rewriter.rowframes import side_named
from rewriter.rows import TURN, WORK_ALL, Act, Kind, Row, leave, side_of
from rewriter.shortframes import says_unworked
from rewriter.spans import Span

_ALSO = regex.compile(r"(?i)\b(?:also|too|as well|in addition)\b")


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
    counting: Literal["", "row", "total"] = ""
    """How "turn after 83 sts" is counted, where that is known."""
    stop: int | None = None
    """The sts that a repeated row leaves, where it does not turn as the one it repeats."""
    stop_in_all = False
    """They are told from the end of the row, and cannot be those left on top of others."""
    further: int | None = None
    """By how many sts each repeated turn lies before the one before it."""

    def last_turn(self, place: Span | None = None) -> int:
        """Return the sts that the last turn at the edge of the next row leaves; raises Unread."""
        here = len(self.rows)
        for index in range(here - 2, -1, -2):
            if self.rows[index].has(Kind.TURN) and (left := self._left_by(index)) is not None:
                return left
        raise Unread(
            "turn-unclear",
            "the place of this turn is counted from one that is not told in sts from the end",
            place or Span(0, 0),
        )

    def _left_by(self, index: int) -> int | None:
        """Return the sts that a row leaves at its end; None where its words do not give them.

        "P 67, turn; k 59, turn": what is left of those on the needle, where all are known.
        """
        acts = self.rows[index].acts
        if (told := next((a.n for a in acts if a.kind is Kind.LEAVE), None)) is not None:
            return told
        if not acts or any(a.kind not in (Kind.WORK, Kind.TURN) for a in acts):
            return None
        worked = [a.n for a in acts if a.kind is Kind.WORK]
        if not self.rows[index].has(Kind.TURN):
            return 0 if worked == [None] else None
        waiting = self._left_by(index - 1) if index else 0
        if self.before is None or waiting is None or len(worked) != 1 or worked[0] is None:
            return None
        return self.before - waiting - worked[0]

    def _agree_in_side(self, extent: Part) -> None:
        """Refuse a turn counted from one on the other side: "p to 8 sts before the last RS turn".

        A row comes only to turns of rows on its own side, for they lie at the edge that it runs towards.
        """
        told = side_named(extent.side)
        here = len(self.rows)
        known = [i for i, row in enumerate(self.rows) if row.side is not None]
        if told is None or not known:
            return
        side = side_of(here - known[-1], self.rows[known[-1]].side)
        if side is not None and side != told:
            raise Unread(
                "turn-unclear",
                f"this {side} row cannot come to a turn that was made on a {told} row: that lies at the "
                "other edge",
                extent.span,
            )

    def turned_before(self) -> bool:
        """Say whether a row turned at the edge where the next one ends."""
        here = len(self.rows)
        return here >= 2 and any(row.has(Kind.TURN) for row in self.rows[here - 2 :: -2])

    def turn_place(self, extent: Part) -> tuple[Act, int | None] | None:
        """Return how far an extent works, and by how many sts it lies before the turn before it.

        None for an extent that names no turn.
        """
        if extent.kind == "until_left" and extent.amount is not None and not self.dividing:
            return leave(self._value(extent.amount)), None
        if extent.kind == "before_turn" and extent.amount is not None:
            self._agree_in_side(extent)
            further = self._value(extent.amount) + (extent.concept in WORKED_ST)
            return leave(self.last_turn(extent.span) + further), further
        if extent.kind == "to_marker":
            return leave(self.at_marker(extent)), None
        return None

    def unworked(self, frame: Frame) -> tuple[int, bool] | None:
        """Return the sts of "leaving 8 (more) sts unworked", and if they come on top of those before."""
        told = says_unworked(frame)
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
        stops = [a for a in acts[-2:] if a.kind is Kind.LEAVE]
        if stops and self._told_again(frame, stops[-1], acts[-1] == TURN):
            return row
        told = self.unworked(frame)
        # "P 6, turn, leaving 5 sts": the sts worked and those left are told side by side
        counted = [a.kind for a in acts] == [Kind.WORK, Kind.TURN] and acts[0].n is not None
        if told is None and counted and frame.amount is not None and not self.dividing:
            told = None if "holder" in frame.parts else (self._value(frame.amount), False)
        if told is None:
            return row if says_unworked(frame) and "holder" not in frame.parts else None
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

    def _told_again(self, frame: Frame, stop: Act, turned: bool) -> bool:
        """Say whether the sts behind a stop are told twice: "to last 21 sts, leaving also the last 14 sts".

        Behind the turn itself no more is said than "leaving 8 sts". They are all of these, those added now,
        or those left before; raises Unread for any other number.
        """
        words = frame.span.of(self.source)
        also = turned or says_unworked(frame) or _ALSO.search(words) is not None
        if not also or frame.amount is None or "holder" in frame.parts or stop.n is None:
            return False
        before = self.last_turn(frame.span) if self.turned_before() else 0
        n = self._value(frame.amount)
        if n not in (stop.n, before, stop.n - before):
            raise Unread(
                "sums",
                f"this row stops {stop.n} sts before its end, but {n} sts are told to be left there",
                frame.span,
                (self.size,),
            )
        return True

    def after_sts(self, n: int, frame: Frame, row: Row) -> Row:
        """Return a row that turns after `n` sts, counted in that row or with those left at its beginning.

        Where the words do not say which, it is what can be worked; where both can, the sts of the row.
        """
        last = self.rows[-1] if self.rows else None
        acts = last.acts if last is not None and last.has(Kind.TURN) else ()
        left = sum(a.n or 0 for a in acts if a.kind is Kind.LEAVE)
        if self.before is None:
            return row.with_acts(Act(Kind.WORK, n), TURN)
        in_row, in_all = self.before - left - n, self.before - n
        taken = False
        if left and not self.counting:
            possible = [in_row > 0, in_all > 0 and n > left]
            taken = all(possible)
            self.counting = "row" if possible[0] else "total"
        place = in_all if self.counting == "total" else in_row
        if place <= 0:
            raise Unread(
                "sums",
                f"{n} sts are to be worked before this turn, but {self.before - left} are there",
                frame.span,
                (self.size,),
            )
        told = row.with_acts(leave(place), TURN)
        return replace(told, count_taken="row" if taken else "")

    def note_counting(self, frames: Sequence[Frame]) -> None:
        """Take in whether the sts of turns are counted with those that are left at the beginning of a row."""
        told = {n.concept for f in frames for n in f.notes}
        if "counted_too" in told:
            self.counting = "total"
        elif "not_counted" in told:
            self.counting = "row"

    def _repeat(self, frame: Frame, rows_to_fill: int | None) -> None:
        """Copy rows, each with its turn where "but to last 16 sts" puts it."""
        extent = frame.one("extent")
        if extent is not None and any(n.concept == "but_to" for n in frame.notes):
            place = self.turn_place(extent)
            if place is None and extent.kind == "to_last" and extent.amount is not None:
                place = leave(self._value(extent.amount)), None
            if place is None:
                raise Unread(
                    "repeat-unclear", "where the repeated row turns is not clear", frame.span
                )
            self.stop, self.stop_in_all = place[0].n, True
        first = len(self.rows)
        super()._repeat(frame, rows_to_fill)
        for note in frame.notes if len(self.rows) - first == 1 else ():
            if note.concept == "but_works":  # "as 1st row, but knitting"
                row = self.rows[first]
                self.rows[first] = replace(row, word=_other_word(row, note.span.of(self.source)))
        self.stop, self.stop_in_all = None, False

    def stop_behind(self, frames: Sequence[Frame]) -> int | None:
        """Return the sts told to be left behind a repeat: "as row 1, leaving 16 sts unworked"."""
        told = self.unworked(frames[1]) if len(frames) > 1 else None
        if told is None or told[1] or frames[1].parts.keys() & {"rows", "holder"}:
            return None
        return told[0]

    def further_of(self, frames: Sequence[Frame]) -> int | None:
        """Return how many more sts each repeat leaves: "leaving 8 more sts unworked each time".

        `frames` are the repeat and what stands behind it.
        """
        self.stop = self.stop_behind(frames)
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
        left = self._more_left(frames[1]) is not None or self.stop_behind(frames) is not None
        return placed or left

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
        if self.stop is not None:
            if not row.has(Kind.TURN) or not row.has(Kind.LEAVE):
                raise Unread(
                    "repeat-unclear",
                    "the row that is repeated does not turn",
                    row.span or Span(0, 0),
                )
            if not self.stop_in_all and self.turned_before() and self.stop <= self.last_turn():
                raise Unread(
                    "turn-unclear",
                    f"are {self.stop} sts more left at the end of the repeated row, or in all?",
                    row.span or Span(0, 0),
                )
            acts = tuple(leave(self.stop) if a.kind is Kind.LEAVE else a for a in row.acts)
            return replace(row, acts=acts, further=None)
        further = row.further if row.further is not None else self.further
        if further is None or not row.has(Kind.TURN) or not row.has(Kind.LEAVE):
            return row
        place = self.last_turn() + further
        acts = tuple(leave(place) if a.kind is Kind.LEAVE else a for a in row.acts)
        return replace(row, acts=acts)


def _other_word(row: Row, words: str) -> str | None:
    """Return the work word of a row that is told by another one, "but knitting"."""
    said = regex.search(r"(?i)\b(?:knit|purl|[kp](?![a-z]))", words)
    if said is None:  # "but on the wrong side"
        return {"knit": "purl", "purl": "knit"}.get(row.word or "", row.word)
    return "knit" if said.group().lower().startswith("k") else "purl"
