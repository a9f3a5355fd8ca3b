"""Steps and neck decreases told for the same rows: "..., at the same time dec 1 st at neck edge ..."."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.neckdec import decreased_sts
from rewriter.repeats import RepeatReader
from rewriter.rows import PLAIN, Row
from rewriter.spans import Span


class TogetherReader(RepeatReader):
    """Reads sentences whose parts share their rows."""

    @abstractmethod
    def unlabelled(self, frames: list[Frame]) -> None:
        """Read the frames of a sentence without a row label."""

    @abstractmethod
    def decreases(self, frame: Frame) -> None:
        """Read decreases that have rows of their own, or stand on the last steps."""

    def together(self, frames: Sequence[Frame]) -> None:
        """Read steps and neck decreases told for the same rows ("at the same time dec 1 st ...").

        Both begin with the next row. Decreases on rows still to come wait until these are read.
        """
        self.base = len(self.rows)
        after: list[Frame] = []
        for frame in frames:
            rows = frame.one("rows")
            if frame.verb == "decrease" and rows is not None and rows.kind == "last_rows":
                after.append(frame)  # "dec 1 st at neck edge on these 2 rows"
            elif frame.verb == "decrease":
                self._wait(frame)
        self.unlabelled([f for f in frames if f.verb != "decrease"])
        self.base = None
        for frame in after:
            self.decreases(frame)
        for index in [i for i in self.waiting if i < len(self.rows)]:
            self._put_decrease(index, *self.waiting.pop(index))

    def fill_rows(self) -> None:
        """Add the rows that only decreases tell, where the next words go on with bind-offs."""
        while self.waiting and len(self.rows) <= max(self.waiting):
            self._append(PLAIN)

    def _wait(self, frame: Frame) -> None:
        n = decreased_sts(frame, self._value(frame.amount) if frame.amount else None)
        rows = frame.one("rows")
        times = self._value(t) if (t := self._times(frame)) else None
        base = self.base or 0
        kind = rows.kind if rows is not None else ""
        indexes: Sequence[int]
        if kind in ("next_rows", "first_rows") and times is None:
            indexes = self.rows_from(base, frame)
        elif kind == "row_number" and rows is not None and times is None:
            indexes = [base + n - 1 for n in rows.numbers]  # "on 2nd and 4th rows"
        elif kind == "every_row" and times is not None:
            indexes = range(base, base + times)
        elif kind in ("every_other", "every_side_row") and times is not None:
            indexes = range(base, base + 2 * times, 2)
        else:
            raise Unread(
                "shaping-in-the-rows",
                "on which of these rows sts are decreased at the neck is not clear",
                frame.span,
            )
        at: Literal["start", "end", "neck"] = (
            "start" if "beg" in frame.parts else "end" if "end" in frame.parts else "neck"
        )
        for index in indexes:
            if index in self.waiting:
                raise Unread("shaping-in-the-rows", "two decreases stand in one row", frame.span)
            self.waiting[index] = (n, at)

    def rows_from(self, base: int, frame: Frame) -> list[int]:
        """Return the rows of "on next and foll 6 alt rows", the next row being the one with index `base`."""
        first, *later = frame.parts["rows"]
        count = self._value(first.amount) if first.amount is not None else 1
        out = [*range(base, base + count)]
        for part in later:
            if part.kind not in ("foll_alt_rows", "and_foll_rows") or not out:
                raise Unread(
                    "shaping-in-the-rows",
                    "on which of these rows sts are decreased at the neck is not clear",
                    frame.span,
                )
            step = 2 if part.kind == "foll_alt_rows" else 1
            more = self._value(part.amount) if part.amount is not None else 1
            out += [out[-1] + step * (n + 1) for n in range(more)]
        return out

    def _put_decrease(self, index: int, n: int, at: Literal["start", "end", "neck"]) -> None:
        row = self.rows[index]
        if row.dec:
            raise Unread(
                "shaping-in-the-rows", "two decreases stand in one row", row.span or Span(0, 0)
            )
        self.rows[index] = replace(row, dec=n, dec_at=at)

    def _append(self, row: Row) -> None:
        super()._append(row)
        if self.base is None and len(self.rows) - 1 in self.waiting:
            self._put_decrease(len(self.rows) - 1, *self.waiting.pop(len(self.rows) - 1))

    def finish(self) -> list[Row]:
        """Return the rows read; raises Unread where decreases go on beyond them."""
        if self.waiting:
            last = self.rows[-1].span if self.rows else None
            raise Unread(
                "shaping-in-the-rows",
                "the decreases at the neck go on for more rows than are told here",
                last or Span(0, 0),
            )
        return self.rows


def at_the_same_time(frames: Sequence[Frame]) -> bool:
    """Say whether a sentence tells bind-offs and decreases for the same rows."""
    together = any(note.concept == "same_time" for f in frames for note in f.notes)
    return together and {"bind_off", "decrease"} <= {f.verb for f in frames}
