"""Several rows that turn, told at once: so many sts left at the end of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.hungmarkers import SLIPPED, WORKED_ST
from rewriter.parsing import Part
from rewriter.rowframes import side_named
from rewriter.rows import TURN, Kind, Row, leave
from rewriter.shortframes import stops_short, turns_after, turns_before_end
from rewriter.spans import Span
from rewriter.turnreader import TurnReader

_COUNTED = frozenset({"next_rows", "some_rows", "next_side_rows", "foll_side_rows"})


_THEN = regex.compile(r"(?i)\bafter\s+(?:that|those|these|them|this|it)\b")
_UNTIL = frozenset({"until_left", "until_count"})


class TurnRunReader(TurnReader):
    """Reads turns of more than one row told in one go."""

    def _plain_rows(self, frame: Frame) -> None:
        """Read rows worked from end to end; what was told behind the last turn begins the first of them."""
        first = len(self.rows)
        super()._plain_rows(frame)
        if self.aid_due and first < len(self.rows):
            self.rows[first] = replace(self.rows[first], aid=self.aid_due != SLIPPED)
            self.aid_due = ""

    def turn_like_last(self, frame: Frame) -> None:
        """Read "k to last 8 sts, w&t; repeat at the other end": a row like the last, at its own end."""
        last = self.rows[-1] if self.rows else None
        if last is None or not last.has(Kind.TURN) or not last.has(Kind.LEAVE):
            raise Unread("repeat-unclear", "which rows are repeated is not clear", frame.span)
        row = replace(last, side=None, word="work", printed=None, span=frame.span)
        self._append(replace(row, statement=self.number))

    def turns_before_end(self, frames: Sequence[Frame]) -> tuple[list[Row], int] | None:
        """Read "turn 7 sts before the end of the next 2 rows" and "work to last 7 sts, turn, on next 2 rows".

        Returns the rows, and how many frames tell them.
        """
        first = frames[0]
        if turns_after(first, self.source):
            return self._turns_after(frames)
        rows = first.one("rows")
        if rows is None or "holder" in first.parts:
            return None
        if rows.kind not in _COUNTED and not self._is_then(rows):
            return None
        span = first.span
        if turns_before_end(first) and first.amount is not None:
            n, on_top, used, word = self._value(first.amount), "more" in first.parts, 1, "work"
        elif (
            [f.verb for f in frames[:2]] == ["work", "turn"]
            and stops_short(first)
            and rows.kind != "some_rows"  # "work 4 short rows: p to last 8 sts, turn, ..."
            and rows.amount is not None
            and (extent := first.one("extent")) is not None
            and extent.kind in ("to_last", "before_turn")
            and extent.amount is not None
        ):
            n, on_top = self._value(extent.amount), extent.kind == "before_turn"
            n += on_top and extent.concept in WORKED_ST
            used, word = 2, first.concept
            span = Span(first.start, frames[1].end)
        else:
            return None
        count = self._value(rows.amount) if rows.amount is not None else 1
        if count > 2 and not on_top:
            raise Unread(
                "turn-unclear",
                f"are {n} sts more left at the end of each of these {count} rows, or the same {n} sts?",
                span,
            )
        side, out, begun = side_named(rows.side), list[Row](), self.rows
        self.fill_to_side(side)
        begun = self.rows
        for number in range(count):
            self.rows = [*begun, *out]
            place = self.last_turn(span) + n if on_top else n
            row = Row((leave(place), TURN), word=word, span=span, statement=self.number)
            told = side if number == 0 else None
            out.append(replace(row, side=told, further=n if on_top else None))
        self.rows = begun
        return out, used

    def _is_then(self, rows: Part) -> bool:
        """Say whether rows are those right behind the ones before: "the 4 rows after that"."""
        return rows.kind == "later_rows" and _THEN.search(rows.span.of(self.source)) is not None

    def _turns_after(self, frames: Sequence[Frame]) -> tuple[list[Row], int]:
        """Read a run of "turn after 84 sts on the next 2 rows, after 78 sts on the 2 rows after that".

        The words for its rows may stand before a turn or behind it: they go with the turns in their order.
        """
        self.note_counting(frames)
        told: list[Frame] = []
        for frame in frames:
            if not turns_after(frame, self.source):
                break
            told.append(frame)
        named = [part for frame in told for part in frame.parts.get("rows", [])]
        out, begun = list[Row](), self.rows
        # a part that names its rows twice over, or stands for no turn, would shift all behind it
        turns = list(dict.fromkeys(f.amount.span for f in told if f.amount is not None))
        if named and len(named) != len(turns):
            raise Unread(
                "not-understood", "in which rows these turns are made is not clear", told[0].span
            )
        by_count = {f.amount.span: f for f in reversed(told) if f.amount is not None}
        for number, span in enumerate(turns):
            frame = by_count[span]
            for _ in range(self._rows_of_turn(named[number], len(out)) if named else 1):
                self.rows = [*begun, *out]
                row = Row((), word="work", span=frame.span, statement=self.number)
                out.append(self.after_sts(self._count(frame), frame, row))
        self.rows = begun
        return out, len(told)

    def _rows_of_turn(self, rows: Part, told: int) -> int:
        """Return how many rows turn after the same sts; `told` are those told before them."""
        if rows.kind == "row_number":
            if rows.numbers != (told + 1,):
                raise Unread("not-understood", f"row {told + 1} was expected here", rows.span)
            return 1
        if rows.kind != "next_rows" and not self._is_then(rows):
            raise Unread("not-understood", "in which row this turn is made is not clear", rows.span)
        return self._value(rows.amount) if rows.amount is not None else 1

    def run_of_turns(self, frames: Sequence[Frame]) -> tuple[list[Row], int] | None:
        """Read "work 4 short rows, leaving 7 more sts unworked at the end of each" and its frames.

        Each row turns further from its edge than the row before the last one: the first two count from
        the edges.
        """
        frames = _leaving_last(frames)
        alone = (
            frames[0].verb == "hold"
        )  # "Leave 7 more sts unworked at the end of each of the next 4 rows"
        if not alone and (
            len(frames) < 2 or frames[0].verb != "work" or "extent" in frames[0].parts
        ):
            return None
        leaves = frames[0 if alone else 1]
        told = self.unworked(leaves)
        rows = frames[0].one("rows") or leaves.one("rows")
        if told is None or "holder" in leaves.parts or (alone and rows is None):
            return None
        if rows is not None and rows.kind == "every_row" and (run := self._rows_until(frames)):
            return run
        if rows is None or rows.kind not in ("some_rows", "next_rows", "next_side_rows"):
            return None
        n, on_top = told
        count = self._value(rows.amount) if rows.amount is not None else 1
        count *= 2 if "each_side" in frames[0].parts else 1
        span = Span(frames[0].start, leaves.end)
        if (not alone and frames[0].amount is not None) or rows.kind == "next_side_rows":
            raise Unread("not-understood", "where these rows turn is not understood", span)
        if count > 2 and not on_top:
            raise Unread(
                "turn-unclear",
                f"are {n} sts more left at the end of each of these {count} rows, or the same {n} sts?",
                span,
            )
        if count == 1:
            return None
        used = 1 if alone else 2
        while used < len(frames) and frames[used].verb == "turn":
            used += 1
        facing = frames[0].one("side")
        out: list[Row] = []
        begun = self.rows
        for number in range(count):
            self.rows = [*begun, *out]
            place = n
            if number >= 2 or self.turned_before():
                last = self.last_turn(span)
                # "leave 8 sts at end of next 2 rows, 16 sts at end of foll 2 rows" counts from the edge
                place = n if n > last and not on_top else last + n
            row = Row(
                (leave(place), TURN),
                word="work" if alone else frames[0].concept,
                span=span,
                statement=self.number,
            )
            first = side_named(facing.side) if facing is not None and number == 0 else None
            out.append(replace(row, side=first, further=n))
        self.rows = begun
        return out, used

    def _rows_until(self, frames: Sequence[Frame]) -> tuple[list[Row], int] | None:
        """Read "cont in this way, leaving 9 sts more at end of every row until 27 are left at each end"."""
        told, extent = self.unworked(frames[1]), frames[1].one("extent")
        if told is None or extent is None or extent.kind not in _UNTIL or extent.amount is None:
            return None
        n, most = told[0], self._value(extent.amount)
        span = Span(frames[0].start, frames[1].end)
        begun, out = self.rows, list[Row]()
        while n and (place := self.last_turn(span) + n) <= most:
            row = Row((leave(place), TURN), word="work", span=span, statement=self.number)
            out.append(replace(row, further=n))
            self.rows = [*begun, *out]
        reached = self.last_turn(span) if not out else out[-1].acts[0].n
        self.rows = begun
        if reached != most:
            raise Unread(
                "sums", f"turns that leave {n} sts more each time do not come to {most}", span,
                (self.size,),
            )  # fmt: skip
        return out, 2


def _leaving_last(frames: Sequence[Frame]) -> Sequence[Frame]:
    """Read "leaving 7 more sts unworked at the end of each row, work 4 short rows" the other way round."""
    if [f.verb for f in frames[:2]] != ["hold", "work"] or "extent" in frames[1].parts:
        return frames
    told, rows = frames[0].one("rows"), frames[1].one("rows")
    each = told is None or told.kind == "every_row"
    if not each or rows is None or rows.kind not in ("some_rows", "next_rows"):
        return frames
    left = {slot: parts for slot, parts in frames[0].parts.items() if slot != "rows"}
    return [frames[1], replace(frames[0], parts=left), *frames[2:]]
