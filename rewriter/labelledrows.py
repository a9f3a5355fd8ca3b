"""Rows under a label: "Row 3: ...", "Next 6 rows: ...", "Rows 2, 4 and 6: ..."."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.amounts import Amount
from rewriter.doubt import Unread
from rewriter.frames import Frame, Label
from rewriter.numberedrows import COUNTED_FROM_BELOW, apart
from rewriter.parsing import Part
from rewriter.rowframes import plain_side_of, rows_of_label, side_named
from rewriter.rowreader import RowReader
from rewriter.rows import OTHER_SIDE, PLAIN, WORK_ALL, Kind, Row, bind_off, used_sts
from rewriter.spans import Span


def _is_worked(row: Row) -> bool:
    """Say whether a row has a number: sts slipped onto a holder between two rows are none."""
    return not row.acts or any(act.kind not in (Kind.HOLD, Kind.CUT) for act in row.acts)


class LabelledReader(RowReader):
    """Reads the rows of a sentence with a row label."""

    def _labelled(self, label: Label, frames: list[Frame]) -> None:
        count = self._value(label.rows) if label.rows else max(1, len(label.numbers))
        if len(label.numbers) > 1 and apart(label.numbers) == 2:
            if label.numbers[0] == 1:
                self.numbered = {}
            for n in label.numbers:  # "Rows 2, 4 and 6: Knit" before row 3
                row = self._row(frames, labelled=True)
                self.ahead[n] = replace(row, side=side_named(label.side) or row.side)
            return
        if label.numbers:
            self._rows_told_ahead(label.numbers[0])
        if label.numbers and self.numbered:
            known, index = next(iter(self.numbered.items()))
            expected = known + sum(map(_is_worked, self.rows[index:]))
            if label.numbers[0] == 1 != expected:
                self.numbered = {}
            elif label.numbers[0] != expected:
                raise Unread(
                    "rows-out-of-order",
                    f"row {expected} was expected here, not row {label.numbers[0]}",
                    label.span,
                )
        by_side = label.side and not label.numbers and not label.rows and len(frames) == 1
        if by_side and label.side and self.fills_between(frames[0], label.side):
            return
        first = len(self.rows)
        if label.rows and frames[0].verb == "bind_off" and self._is_dash(frames[0]):
            return  # "Next 2 rows: BO - (-, 6, 7) sts at beg of each row": not for this size
        if frames[0].verb == "repeat":
            self.further = self.further_of(frames[:2])
            self.plain_side = plain_side_of(frames[1:2])
            self.instead = self.instead_of(frames[1:2])
            self._repeat(frames[0], count)
            more = self.further_behind(frames[:2]) or self.plain_side or self.instead is not None
            self.instead = None
            for frame in frames[2 if more else 1 :]:
                if frame.verb not in ("turn", "closing", "aid", ""):
                    self._refuse(frame)
        elif label.rows and (told := frames[0].one("rows")) and told.kind == "every_other":
            self._every_other_of(frames, count, label)
        else:
            side = side_named(label.side)
            rows = rows_of_label(frames) if count == 1 and not self.dividing else [frames]
            for told_first in rows[:-1]:  # "Row 1: P to last 8 sts, w&t, k to last 8 sts, w&t"
                row = self._row(told_first, labelled=True)
                self._append(replace(row, side=side or row.side))
                side, self.numbered = None, {}
            for n in range(count):
                if n and label.of_one_side:
                    self._append(PLAIN)  # "Next 2 RS rows: ..."
                row = self._worked_out(self._row(rows[-1], labelled=True))
                if count > 1 and row.claim and row.acts == (bind_off(None),):
                    # "Next 2 rows: BO rem 5 sts": the last step of each edge
                    row = replace(row.with_acts(bind_off(row.claim), WORK_ALL), claim=None)
                printed = row.printed if n == count - 1 else None  # "next 6 rows: ... - 26 sts"
                side_here = (side or row.side) if n == 0 else None
                if (side_here, printed) != (row.side, row.printed):
                    row = replace(row, side=side_here, printed=printed)
                self._append(row)
                if row.acts and row.acts[0].kind is Kind.BIND_OFF and row.acts[0].n is not None:
                    self.alternate = count == 1
                    self.last_step = len(self.rows) - 1
        named = side_named(label.side)
        if named and first < len(self.rows) and self.rows[first].side != named:
            self.rows[first] = replace(self.rows[first], side=named)
        if len(self.rows) - first > max(count, 1):
            return
        for n, index in zip(label.numbers, range(first, len(self.rows)), strict=False):
            self.numbered[n] = index

    def _waits_for_number(self) -> bool:
        """Say whether rows of both sides were told last by their kind, and not yet how many of them."""
        return len(self.kinds) == 2 and self.kinds[1].stop == len(self.rows)

    def fill_kinds(self, counted: Sequence[Frame], side: str) -> None:
        """Work the two rows told last by turns, as many of each as is told, those of `side` first."""
        counts = [self._value(r.amount) for f in counted if (r := f.one("rows")) and r.amount]
        pair = self.rows[-2:]
        if len(counts) == 1 and counts[0] % 2 == 0:
            counts = [counts[0] // 2] * 2
        if len(set(counts)) > 1 or len(counts) != 2 or any(row.side is None for row in pair):
            raise Unread(
                "rows-unclear", "how these rows follow one another is not clear", counted[0].span
            )
        if side and pair[0].side != side:
            pair.reverse()
        del self.rows[-2:]
        for n in range(counts[0]):
            for row in pair:
                self._append(row if n == 0 else replace(row, side=None))
        self.last_step, self.kinds = len(self.rows) - 1, []

    def _worked_out(self, row: Row) -> Row:
        """Return a row that works as many sts as are left as one that is worked to its end: "Purl 9"."""
        last = row.acts[-1] if row.acts else None
        kinds = [a.kind for a in row.acts]
        plain = kinds in ([Kind.WORK], [Kind.BIND_OFF, Kind.WORK]) and not (row.dec or row.aid)
        if last is None or last.n is None or not plain or self.before is None or self.dividing:
            return row
        if any(r.has(Kind.TURN) or r.has(Kind.LEAVE) for r in self.rows):
            return row
        left = self.before - used_sts([*self.rows, row])
        return row.with_acts(*row.acts[:-1], WORK_ALL) if left == last.n else row

    def _rows_told_ahead(self, number: int) -> None:
        """Put in the rows told ahead of their turn, up to the row of this number."""
        first = min(self.ahead, default=number)
        if not self.numbered and first < number and (first == 1 or first >= COUNTED_FROM_BELOW):
            self.numbered[first] = len(self.rows)  # "Rows 1 and 3: ...", "Rows 2 and 4: ..."
            self._append(self.ahead.pop(first))
        while self.numbered:
            last, index = max(self.numbered.items())
            due = last + len(self.rows) - index
            if due >= number or due not in self.ahead:
                return
            self.numbered[due] = len(self.rows)
            self._append(self.ahead.pop(due))

    def fills_between(self, frame: Frame, side: str) -> bool:
        """Take in "WS rows: Purl" beside rows told ahead, "Rows 1, 3 and 5: ...": rows 2, 4 and 6.

        Says whether it is so; each of the rows told ahead then is followed by a plain one.
        """
        plain = frame.verb == "work" and frame.amount is None and not frame.residue
        told = sorted(self.ahead)
        sides = {row.side for row in self.ahead.values()}
        if not plain or len(told) < 2 or apart(told) != 2 or (self.numbered and told[0] == 1):
            return False
        if sides - {None, OTHER_SIDE["RS" if side == "RS" else "WS"]}:
            return False
        row = replace(PLAIN, side=side_named(side), word=frame.concept, statement=self.number)
        self.ahead |= {n + 1: replace(row, span=frame.span) for n in told}
        return True

    def put_in_told_ahead(self, *, last: bool = False) -> None:
        """Put in the rows told ahead as far as they follow on one another.

        Raises Unread where none follow and one that is left over is not plain.
        """
        waiting = any(row.acts != (WORK_ALL,) for row in self.ahead.values())
        if waiting or not last:  # no plain row is worked once all else has been
            self._rows_told_ahead(max(self.ahead, default=0) + 1)
        left = [n for n, row in self.ahead.items() if row.acts != (WORK_ALL,)]
        if last and left:
            raise Unread(
                "rows-out-of-order",
                f"row {min(left) - 1}, which should come before row {min(left)}, is not told",
                self.ahead[min(left)].span or Span(0, 0),
            )

    def _every_other_of(self, frames: Sequence[Frame], rows: int, label: Label) -> None:
        """Read "Next 6 rows: bind off 7 sts every other row at armhole edge": three steps."""
        if rows % 2 or len([f for f in frames if f.verb]) > 1:
            raise Unread("rows-unclear", "which of these rows bind off is not clear", label.span)
        times = Part("times", label.span, amount=Amount((rows // 2,), label.span))
        self._steps(replace(frames[0], parts={**frames[0].parts, "times": [times]}))
