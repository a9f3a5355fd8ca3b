"""Steps and gaps: the rows that a frame stands for, for one size."""

from __future__ import annotations

from dataclasses import replace

from rewriter import regex
from rewriter.amounts import Amount
from rewriter.cadence import CadenceReader
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.parsing import Part
from rewriter.rowframes import names_both_edges, names_each_shoulder, side_named
from rewriter.rows import OTHER_SIDE, PLAIN, WORK_ALL, Kind, Row, Side, bind_off

_WHOLE = regex.compile(r"(?i)\b(?:the|these|all)\s+\||\|[^|]*\bof\s+(?:the|each)\s+shoulder\b")

_SHORT_ROWS = regex.compile(r"(?i)\bshort[\s-]rows?\b")


_OF_ONE_SIDE = frozenset({"next_side_rows", "foll_side_rows", "side_row"})


class StepReader(CadenceReader):
    """Reads frames that bind off steps, plain rows among them."""

    def _plain_rows(self, frame: Frame) -> None:
        rows = frame.one("rows")
        if rows is not None and self._tells_rows_between(frame, rows):
            return
        if rows is not None and _SHORT_ROWS.search(rows.span.of(self.source)):
            raise Unread("not-understood", "where these rows turn is not understood", frame.span)
        if frame.verb == "back_row":
            count = 1
        elif rows is not None and rows.kind == "row_number" and len(rows.numbers) == 1:
            self._reach(rows)
            count = 1
        elif rows is not None and rows.kind in ("some_rows", "next_rows", "some_side_rows"):
            count = self._value(rows.amount) if rows.amount else 1
        elif rows is not None and rows.kind in _OF_ONE_SIDE and rows.amount is None:
            self._row_of_side(frame, rows)
            return
        else:
            raise Unread("rows-unclear", "how many rows are meant is not clear", frame.span)
        for _ in range(count):
            self._append(replace(PLAIN, word=frame.concept, statement=self.number, span=frame.span))

    def fill_to_side(self, side: Side | None) -> None:
        """Add the row back that nothing tells: "On next WS row p to last 8 sts, turn. On next WS row ..."."""
        if side is None or not any(row.has(Kind.TURN) for row in self.rows):
            return
        for back, row in enumerate(reversed(self.rows)):
            if row.side is not None:
                last = row.side if back % 2 == 0 else OTHER_SIDE[row.side]
                if last == side:
                    self._append(replace(PLAIN, word="work", statement=self.number))
                return

    def _row_of_side(self, frame: Frame, rows: Part) -> None:
        """Read "on the next WS row p to end" behind rows that turn."""
        if not any(row.has(Kind.TURN) for row in self.rows):
            raise Unread("rows-unclear", "how many rows are meant is not clear", frame.span)
        side = side_named(rows.side)
        self.fill_to_side(side)
        row = replace(PLAIN, word=frame.concept, statement=self.number, span=frame.span)
        self._append(replace(row, side=side))

    def _tells_rows_between(self, frame: Frame, rows: Part) -> bool:
        """Take in "purl every WS row", or "purl the rows in between", behind steps on every other row.

        The row after each step, and every row of a side, is one after the last step, too.
        """
        told = self.rows[-3:]
        alternate = len(told) == 3 and [r.has(Kind.BIND_OFF) for r in told] == [True, False, True]
        if not alternate or told[1].acts != (WORK_ALL,) or frame.amount is not None:
            return False
        each = any(n.concept == "each" and n.span.start > rows.span.start for n in frame.notes)
        after = each and (
            (rows.kind == "next_side_rows" and rows.amount is None)
            or (
                rows.kind == "later_rows"
                and rows.amount is not None
                and set(rows.amount.values) == {1}
            )
        )
        words = {p.kind for p in frame.parts["rows"]}
        between = words <= {"side_row", "every_side_row", "row_between"} and rows.concept != "one"
        after = after or (between and "row_between" not in words)
        if not after and not between:
            return False
        side = side_named(rows.side)
        if side is not None and side in (told[0].side, told[2].side):
            return False
        self.rows[-2] = replace(told[1], side=told[1].side or side, word=frame.concept)
        if after:
            row = replace(PLAIN, word=frame.concept, statement=self.number, span=frame.span)
            self._append(replace(row, side=side))
        return True

    def _steps(self, frame: Frame) -> None:
        """Add the rows of "V n sts at beg of next m rows" in any of its shapes."""
        if listed := frame.one("steps"):
            self._listed_steps(frame, listed)
            return
        if shares := frame.one("shares"):
            self._shared_steps(frame, shares)
            return
        n = self._count(frame)
        if "end" in frame.parts:
            raise Unread(
                "rows-unclear",
                "sts bound off at the end of a row: at which edge, and with which yarn?",
                frame.span,
            )
        both = "each_side" in frame.parts or names_both_edges(frame)
        both = both or (self.at_once and names_each_shoulder(frame, self.source))
        both = both or (self.each_edge and self._at_outer_edge(frame))
        goes_on = frame.inherited and not frame.parts.keys() & {"edge", "beg"}
        told = frame.one("rows")
        same = told is None or (goes_on and told.kind == "every_other")
        # "at both sides 1 x 8, then in every 2nd row 2 x 7 sts"; "at both sides 8 sts at beg of next 2 rows,
        # then in every 2nd row 2 x 7"
        steps_on = goes_on and told is not None and told.kind == "every_other"
        both = both or (self.both and same) or (self.at_both and steps_on)
        if until := self._until(frame):
            self._steps_until(frame, n, until, both)
            return
        edge = self._edge(frame)
        cadence, times, gap_first, side = self._cadence(frame)
        if facing := frame.one("side"):
            side = side_named(facing.side)
        if n == 0 and times and (self._is_dash(frame) or self._is_optional(frame)):
            return
        if n == 0 and times:
            raise Unread("zero-count", "no sts are to be bound off on these rows", frame.span)
        every = (1 if self._on_all_rows(frame) else self.every) if told is None else 0
        if told is not None and told.kind == "every_row":
            self.counted_at_both = self.counted_at_both or both
            every = 2 if both and not self.halved else 1
        if cadence == "every" and every:
            times *= every  # "at beg of each row 3 times each side"; "over 4 rows" counts them all
        first = len(self.rows)
        for i in range(times):
            if cadence == "alternate" and (i > 0 or gap_first) and not both:
                self._gap()
            for second in (False, True) if both and cadence == "alternate" else (False,):
                self._append(
                    Row(
                        (bind_off(n), WORK_ALL),
                        side=side if i == 0 and not second else None,
                        edge=edge,
                        statement=self.number,
                        span=frame.span,
                    )
                )
            self.last_step = len(self.rows) - 1
        self.step_rows = [
            i for i in range(first, len(self.rows)) if self.rows[i].has(Kind.BIND_OFF)
        ]
        self.alternate = cadence == "alternate" and not both
        self.both, self.at_both = cadence == "alternate" and both, both
        self.every = every if cadence == "every" else 0
        self.step_side = side

    def _at_outer_edge(self, frame: Frame) -> bool:
        """Say whether steps are told for the outer edge as often as rows begin there."""
        told = {p.kind for p in frame.parts.get("rows", ())}
        often = told == {"every_other"} or (not told and "times" in frame.parts)
        return frame.edge in ("armhole", "shoulder", "side") and often

    def _edge(self, frame: Frame) -> str:
        """Return the edge of a frame's steps: "at neck edge bind off 4 sts, then 1 st twice" is one edge."""
        goes_on = frame.inherited and not frame.parts.keys() & {"rows", "beg", "edge"}
        self.last_edge = self.last_edge if goes_on else frame.edge
        return self.last_edge

    def _listed_steps(self, frame: Frame, listed: Part) -> None:
        """Add the steps of this size from "2x6 and 1x7 (3x7)", a phrase a size."""
        told = listed.pairs if len(listed.pairs) == self.sizes else listed.other_pairs
        if len(listed.pairs) == 1 < self.sizes:
            counts = [sts for _, sts in listed.pairs[0]]
            if len(counts) == self.sizes and counts == sorted(counts):
                raise Unread(
                    "count-unclear",
                    "are these the steps of every size, or one number for each size?",
                    listed.span,
                )
            told = listed.pairs * self.sizes
        if len(told) != self.sizes:
            raise Unread(
                "list-length",
                f"steps are told for {len(listed.pairs)} sizes, but there are {self.sizes}",
                listed.span,
            )
        if len(listed.other_pairs) == len(listed.pairs):
            raise Unread(
                "count-unclear",
                "are the steps before the last list those of the first size, or of all sizes?",
                listed.span,
            )
        kept = {k: v for k, v in frame.parts.items() if k not in ("steps", "shares")}
        for times, sts in told[self.size]:
            said = {
                "count": [Part("bare_count", listed.span, amount=Amount((sts,), listed.span))],
                "times": [Part("times", listed.span, amount=Amount((times,), listed.span))],
            }
            self._steps(replace(frame, parts={**kept, **said}))
            kept.pop("rows", None)

    def _shared_steps(self, frame: Frame, shares: Part) -> None:
        """Add the steps of "the 24 sts of the shoulder every 2 rows in 3 goes": so many in all."""
        told = frame.one("count")
        if told is None or told.amount is None or shares.amount is None:
            raise Unread("no-count", "no number of sts is given here", frame.span)
        total, times = self._value(told.amount), self._value(shares.amount)
        whole = told.kind == "rem_count" or _WHOLE.search(
            f"{self.source[frame.start : told.span.start]}|{self.source[told.span.end : frame.end]}"
        )
        if not whole:
            raise Unread(
                "count-unclear",
                f"are {total} sts bound off each time, or in all?",
                frame.span,
            )
        if times < 1 or total % times:
            raise Unread(
                "steps-unclear",
                f"{total} sts are to be bound off in {times} steps: how many in each?",
                frame.span,
            )
        kept = {k: v for k, v in frame.parts.items() if k != "shares"}
        said = {
            "count": [Part("count", told.span, amount=Amount((total // times,), told.span))],
            "times": [Part("times", shares.span, amount=Amount((times,), shares.span))],
        }
        self._steps(replace(frame, parts={**kept, **said}))

    def _until(self, frame: Frame) -> Amount | None:
        """Return the sts to be left in "at beg of every row until 24 sts remain"."""
        extent, rows = frame.one("extent"), frame.one("rows")
        if extent is None or "times" in frame.parts:
            return None
        if extent.kind == "until_none" and rows is not None:
            return Amount((0,), extent.span)
        if extent.kind != "until_left":
            return None
        told = frame.parts.get("rows", [])
        goes_on = (
            len(told) == 2 and told[1].amount is None
        )  # "of next row and of every foll WS row"
        every = rows is not None and rows.kind in ("every_row", "every_other", "every_side_row")
        return extent.amount if every or goes_on else None

    def _rows_in_all(self, frame: Frame) -> int:
        """Return how many rows bind off in "at beg of every row until 42 sts remain (ten rows in all)"."""
        rows = frame.one("rows")
        if rows is None or rows.kind != "every_row" or frame.edge or self.rows:
            return 0
        inner = [p for note in frame.notes if note.kind == "paren" for p in note.inner]
        told = [p.amount for p in inner if p.kind == "some_rows" and p.amount is not None]
        counted = self._value(told[0]) if len(told) == 1 else 0
        return counted if any(p.kind == "total" for p in inner) else 0

    def _steps_until(self, frame: Frame, n: int, until: Amount, both: bool) -> None:
        """Add steps of `n` sts until so many are left; a smaller last step takes what remains."""
        extent = frame.one("extent")
        if self.before is None and extent is not None and extent.kind == "until_none":
            self.before = self.counted  # "until all are worked off (36 stitches)"
        if self.before is None and (counted := self._rows_in_all(frame)):
            self.before = self._value(until) + n * counted
        if self.before is None:
            raise Unread(
                "rows-not-counted",
                "how many rows have a bind-off is not said (give the stitch count before)",
                frame.span,
                ask="stitches",
            )
        gone = sum(
            r.acts[0].n or 0 for r in self.rows if r.acts and r.acts[0].kind is Kind.BIND_OFF
        )
        rows = frame.one("rows")
        two_edges = both or (rows is not None and rows.kind == "every_row" and not frame.edge)
        left = self.before - gone - self._value(until)
        edges = 2 if two_edges else 1
        if left <= 0 or left % edges or n < 1:
            raise Unread(
                "sums",
                f"{self.before - gone} sts cannot be bound off in steps of {n} at "
                f"{edges} edge{'s' if edges > 1 else ''} until {self._value(until)} remain",
                frame.span,
            )
        shoulder = left // edges
        steps = [n] * (shoulder // n) + ([shoulder % n] if shoulder % n else [])
        next_first = rows is not None and rows.kind in ("next_rows", "next_side_rows")
        for number, sts in enumerate(steps):
            if not two_edges and not (next_first and number == 0):
                self._gap()
            for _ in range(edges):
                self._append(
                    Row(
                        (bind_off(sts), WORK_ALL),
                        edge=frame.edge,
                        statement=self.number,
                        span=frame.span,
                    )
                )
            self.last_step = len(self.rows) - 1
        self.alternate = not two_edges
