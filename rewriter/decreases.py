"""Neck decreases with rows of their own, or on the rows of steps told before them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from rewriter.asks import choice_of
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.labelledrows import LabelledReader
from rewriter.neckdec import decreased_sts
from rewriter.parsing import Part
from rewriter.rows import PLAIN, Kind, Row


class DecreaseReader(LabelledReader):
    """Reads decreases that stand in no row of steps."""

    def decreases(self, frame: Frame) -> None:
        """Read "dec 1 st at neck edge on each of these 2 rows", or on rows of their own."""
        n = decreased_sts(frame, self._value(frame.amount) if frame.amount else None)
        rows = frame.one("rows")
        at: Literal["start", "end", "neck"] = (
            "start" if "beg" in frame.parts else "end" if "end" in frame.parts else "neck"
        )
        count = self._value(rows.amount) if rows is not None and rows.amount else None
        if rows is not None and rows.kind == "last_rows":
            if count not in (None, len(self.step_rows)) or not self.step_rows:
                self._refuse(frame)
            for index in self.step_rows:
                self.rows[index] = replace(self.rows[index], dec=n, dec_at="neck")
        elif (
            rows is not None
            and self.step_rows
            and (rows.kind == "first_rows" or self._begins_with_steps(rows, frame))
        ):
            begins = next(i for i, row in enumerate(self.rows) if row.has(Kind.BIND_OFF))
            for index in self.rows_from(begins, frame):
                if index >= len(self.rows) or self.rows[index].dec:
                    self._refuse(frame)
                self.rows[index] = replace(self.rows[index], dec=n, dec_at=at)
        elif rows is not None and rows.kind == "next_rows" and self._begins_where(frame) is None:
            raise Unread(
                "rows-unclear",
                "do these decreases begin with the bind-offs or after them?",
                frame.span,
                ask="decreases",
            )
        elif rows is not None and _tells_rows_one_by_one(frame, rows, self.rows):
            row = replace(PLAIN, dec=n, dec_at=at, statement=self.number, span=frame.span)
            times = frame.one("times")
            plain = replace(PLAIN, statement=self.number, span=frame.span)
            for part in frame.parts["rows"]:
                told = self._value(part.amount) if part.amount else 1
                if part.kind == "every_row":
                    told = self._value(times.amount) if times and times.amount else 1
                for _ in range(told):
                    if part.kind == "foll_alt_rows":
                        self._append(plain)
                    self._append(row)
        else:
            self._refuse(frame)

    def _begins_where(self, frame: Frame) -> str | None:
        """Return whether decreases begin "with" or "after" the bind-offs; None where it is asked."""
        return self._decided("decreases", frame) if self.steps_here else "after"

    def _begins_with_steps(self, rows: Part, frame: Frame) -> bool:
        return rows.kind == "next_rows" and self._begins_where(frame) == "with"

    def _decided(self, ask: str, frame: Frame) -> str | None:
        """Return what the reader decided about the words of a frame."""
        return choice_of(self.decisions, ask, frame.span.of(self.source))


def _tells_rows_one_by_one(frame: Frame, rows: Part, before: Sequence[Row]) -> bool:
    """Say whether each row of a decrease is told: "on next 4 rows", "on next and foll 3 alt rows".

    Alternate rows may follow on the last decrease told before, and every row so many times is that many rows.
    """
    if "extent" in frame.parts or any(p.kind != "foll_alt_rows" for p in frame.parts["rows"][1:]):
        return False
    if rows.kind == "every_row":
        times = frame.one("times")
        return times is not None and times.amount is not None and len(frame.parts["rows"]) == 1
    if "times" in frame.parts:
        return False
    return rows.kind == "next_rows" or (
        rows.kind == "foll_alt_rows" and bool(before) and before[-1].dec > 0
    )
