"""Steps and gaps: the rows that a frame stands for, for one size."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from rewriter import regex
from rewriter.amounts import Amount, ListLengthError
from rewriter.asks import Decision
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.numberedrows import begins_count, index_of, rows_apart
from rewriter.parsing import Part
from rewriter.rowframes import names_both_edges, names_each_shoulder, says_more, side_named
from rewriter.rows import PLAIN, WORK_ALL, Kind, Row, Side, bind_off
from rewriter.spans import Span

_WHOLE = regex.compile(r"(?i)\b(?:the|these|all)\s+\||\|[^|]*\bof\s+(?:the|each)\s+shoulder\b")
MOST_ROWS = 400
"""Rows of one passage; more than any shoulder has, and a guard against misread numbers."""


class StepReader:
    """The rows read so far, and the little state that step sentences rely on."""

    def __init__(self, size: int, sizes: int, before: int | None) -> None:
        self.size = size
        self.before = before
        self.sizes = sizes
        self.rows: list[Row] = []
        self.numbered: dict[int, int] = {}
        self.added = False
        """How "on next row and on alternate rows twice" is read: the rows are added to the first."""
        self.halved = self.counted_at_both = False
        """How "at both sides, at the beginning of every row, 4 times" is read: four rows in all; and
        whether there were such words."""
        self.open_counts: list[Span] = []
        """Where it was read, for it can be meant either way."""
        self.settled = False
        """Whether the reader said which way."""
        self.decisions: tuple[Decision, ...] = ()
        """What the reader decided about the sentence being read."""
        self.steps_here = False
        """Whether the sentence being read binds off sts."""
        self.base: int | None = None
        """Index of the first of the rows in which steps and decreases are told together."""
        self.waiting: dict[int, tuple[int, Literal["start", "end", "neck"]]] = {}
        """Decreases by the index of their row, until it is read."""
        self.ahead: dict[int, Row] = {}
        """Rows by number that are told before their turn comes."""
        self.only: tuple[int, ...] | None = None
        self.only_block: int | None = None
        self.number = -1
        self.alternate = False
        """Whether the steps so far were on every other row."""
        self.both = False
        """Whether the steps so far were on every other row at both edges."""
        self.at_both = False
        """Whether the steps so far were told for both edges, on whatever rows."""
        self.every = 0
        """How many rows a time stands for where the steps so far were told for every row."""
        self.last_step = -2
        self.source = ""
        self.dividing = self.at_once = False
        self.rejoined: Part | None = None
        """The side that faces where the yarn was rejoined, until its row is read."""
        self.last_edge = ""
        """Edge of the last steps, for chain items that name none."""
        self.rejoins = False
        """The yarn was cut and is rejoined for the next row."""
        self.step_rows: list[int] = []
        """Indexes of the rows of the last steps told together."""
        self.step_side: Side | None = None
        """Side of the last steps, where their words name it."""
        self.counted: int | None = None
        """The one count that the sentence being read prints."""
        self.plain_side: Side | None = None
        """Side of the rows that a repeat calls plain: "rep last 2 rows twice, knitting the RS rows"."""
        self.starred: tuple[int, int | None] | None = None
        """Rows between the repeat signs, as far as they were met."""

    def _value(self, amount: Amount) -> int:
        """Return the count for this size, in lists for all sizes or for the named ones only."""
        if self.only is not None and len(amount.values) == len(self.only):
            return amount.values[self.only.index(self.size)] or 0
        try:
            return amount.per_size(self.sizes)[self.size]
        except ListLengthError as error:
            raise Unread("list-length", str(error), amount.span) from None

    def _is_optional(self, frame: Frame) -> bool:
        """Say whether 0 sts for a size means no step: "8 sts twice, then 6 (0-5) sts once"."""
        amount = frame.amount
        return "rows" not in frame.parts and amount is not None and len(amount.values) > 1

    def _is_dash(self, frame: Frame) -> bool:
        """Say whether a dash stands for this size in the count of a frame."""
        amount = frame.amount
        return (
            amount is not None
            and len(amount.values) == self.sizes
            and amount.values[self.size] is None
        )

    def _count(self, frame: Frame) -> int:
        amount = frame.amount
        told = frame.one("count")
        if told is not None and told.kind == "same_count":
            steps = [r.acts[0].n for r in self.rows if r.acts and r.acts[0].kind is Kind.BIND_OFF]
            if steps and steps[-1] is not None:
                return steps[-1]
        if amount is None:
            raise Unread("no-count", "no number of sts is given here", frame.span)
        return self._value(amount)

    def _plain_rows(self, frame: Frame) -> None:
        rows = frame.one("rows")
        if frame.verb == "back_row":
            count = 1
        elif rows is not None and rows.kind == "row_number" and len(rows.numbers) == 1:
            self._reach(rows)
            count = 1
        elif rows is not None and rows.kind in ("some_rows", "next_rows", "some_side_rows"):
            count = self._value(rows.amount) if rows.amount else 1
        else:
            raise Unread("rows-unclear", "how many rows are meant is not clear", frame.span)
        for _ in range(count):
            self._append(replace(PLAIN, word=frame.concept, statement=self.number, span=frame.span))

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
        every = self.every if told is None else 0
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

    def _steps_until(self, frame: Frame, n: int, until: Amount, both: bool) -> None:
        """Add steps of `n` sts until so many are left; a smaller last step takes what remains."""
        extent = frame.one("extent")
        if self.before is None and extent is not None and extent.kind == "until_none":
            self.before = self.counted  # "until all are worked off (36 stitches)"
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

    def _gap(self) -> None:
        """Add the plain row between two steps at one edge, unless the words gave it already."""
        if self.last_step == len(self.rows) - 1:
            self._append(PLAIN)

    def _go_on_to_later(self, count: int) -> None:
        """Add the plain rows before a step that is told so many rows behind the one before it."""
        while self.last_step >= 0 and len(self.rows) < self.last_step + count:
            self._append(PLAIN)

    def _reach(self, told: Part) -> None:
        """Add the plain rows before a row that is told by its number; raises Unread where it is not known."""
        if not self.rows and self.base is None and begins_count(told):
            self.numbered[told.numbers[0]] = 0
        due = index_of(told, self.base, self.numbered)
        if due is None:
            raise Unread(
                "rows-not-counted",
                "from which row these rows are counted is not said",
                told.span,
                ask="stitches",
            )
        if due < len(self.rows):
            raise Unread(
                "rows-out-of-order",
                f"row {told.numbers[0]} has been told already before this",
                told.span,
            )
        while len(self.rows) < due:
            self._append(PLAIN)
        self.numbered[told.numbers[0]] = due

    def _cadence(self, frame: Frame) -> tuple[str, int, bool, Side | None]:
        """Return how the steps follow one another, how many, and if a row lies before them."""
        rows = frame.parts.get("rows", [])
        times = self._value(t) if (t := self._times(frame)) else None
        head = rows[0] if rows else None
        if len(rows) == 2:
            more = self._value(rows[1].amount) if rows[1].amount else 1
            cadence = rows[1].kind in ("every_other", "every_side_row")
            told = rows[1].span.of(self.source)
            if rows[1].amount is None and times is None and told.endswith("s"):
                raise Unread("rows-not-counted", "how many of these rows is not said", frame.span)
            if cadence and times is None:
                more = 1
            elif times is not None and (says_more(frame, self.source) or frame.edge == "same"):
                more = times
            elif times is not None and "total" in frame.parts:
                more = times - 1
            elif times is not None:
                self.open_counts.append(frame.span)
                more = times if self.added else times - 1
            return "alternate", 1 + more, False, side_named(rows[0].side)
        if head is None:
            if times is None and self.at_once and self.both and frame.takes_all:
                times = 1
            if times is None:
                return "single", 1, False, None
            at_both = "each_side" in frame.parts
            if self.every and not self.alternate:
                return "every", times, False, None  # "every row 7 sts 2 times, 8 sts 2 times"
            if at_both:  # "at each side three times": on two rows each time
                return "alternate", times, False, None
            if self.alternate or self.both or self.last_edge:
                return "alternate", times, True, None
            raise Unread("rows-unclear", "on which rows is not said", frame.span)
        count = self._value(head.amount) if head.amount else None
        if head.kind in ("foll_alt_rows", "foll_side_rows", "next_alt_rows", "some_alt_rows"):
            if head.kind == "next_alt_rows" and self.last_step < 0 and count is None:
                return "single", 1, False, None
            repeated = 1 if times is None else times
            return "alternate", repeated * (1 if count is None else count), True, None
        if head.kind == "last_rows" and count and "beg" in frame.parts and self.last_step >= 0:
            return "every", count, False, None  # "..., and 8 sts beg last 2 rows"
        if head.kind in ("next_side_rows", "every_side_row", "side_row", "some_side_rows"):
            number = count if count is not None else times
            if number is None:
                if head.kind in ("next_side_rows", "side_row"):
                    number = 1
                else:
                    raise Unread("rows-not-counted", "how many rows is not said", frame.span)
            side = side_named(head.side)
            if number > 1 and self.step_side not in (None, side):
                raise Unread(
                    "rows-unclear",
                    "are these rows to be worked after the ones before, or in turn with them?",
                    frame.span,
                )
            return "alternate", number, self.step_side in (None, side), side
        if head.kind == "every_other":
            if times is None and head.concept != "second":
                raise Unread("rows-not-counted", "how many times is not said", frame.span)
            return "alternate", 1 if times is None else times, True, None
        begins = head.kind == "first_rows" and self.last_step < 0  # "at beg of first 4 rows"
        if begins or head.kind in ("next_rows", "and_foll_rows", "some_rows"):
            number = 1 if count is None else count
            if times is not None and times > 1:
                raise Unread("rows-unclear", "which rows these times are is not said", frame.span)
            if frame.edge and number > 1 and not names_both_edges(frame):
                raise Unread(
                    "edge-and-rows",
                    "one edge is named, but rows at both edges are counted",
                    frame.span,
                )
            if number == 1 and self.alternate and head.concept == "foll":
                return "alternate", 1, True, None
            return "single" if number == 1 else "every", number, False, None
        if head.kind == "later_rows" and count:
            if "beg" in frame.parts:  # "at beg of the 2 rows after that"
                return "every" if count > 1 else "single", count, False, None
            if times is not None and self.last_step < 0 and says_more(frame, self.source):
                times += 1  # "bind off 7 sts, and twice more, each time 2 rows later"
            self._go_on_to_later(count)
            self.alternate = count == 2
            if times is None or times == 1:
                return "single", 1, False, None
            if count == 2:
                return "alternate", times, False, None  # "twice more, each time 2 rows later"
        # not "..., and the 6 sts remaining on the 21st row": that row would take the count before it
        if not frame.inherited_count and (every := rows_apart(head)):
            self._reach(head)  # "at beg of 1st, 3rd and 5th rows", "at beg of 7th row"
            self.alternate = True
            return "alternate" if every == 2 else "every", len(head.numbers), False, None
        if head.kind == "every_row" and times is not None:
            return "every", times, False, None
        raise Unread(
            "rows-not-counted",
            "how many rows have a bind-off is not said (give the stitch count before, or the rows)",
            frame.span,
        )

    def _times(self, frame: Frame) -> Amount | None:
        part = frame.one("times")
        if part is None:
            return None
        return part.amount or Amount((int(part.concept),), part.span, part.concept)

    def _append(self, row: Row) -> None:
        if len(self.rows) >= MOST_ROWS:
            raise Unread(
                "too-many-rows",
                f"more than {MOST_ROWS} rows in one passage",
                row.span or Span(0, 0),
            )
        self.rows.append(row)
