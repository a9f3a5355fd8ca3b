"""On which rows steps stand, for one size: the rows read so far, and what words of rows say after them."""

from __future__ import annotations

from typing import Literal

from rewriter.amounts import Amount, ListLengthError
from rewriter.asks import Decision
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.numberedrows import begins_count, index_of, rows_apart
from rewriter.parsing import Part
from rewriter.rowframes import names_both_edges, says_more, side_named
from rewriter.rows import PLAIN, Kind, Row, Side
from rewriter.slots import from_row
from rewriter.spans import Span

MOST_ROWS = 400
"""Rows of one passage; more than any shoulder has, and a guard against misread numbers."""


class CadenceReader:
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
        self.kinds: list[range] = []
        """Where the rows stand that were told last by their kind ("RS rows: ...")."""
        self.whole = False
        """Whether words say that both shoulders are in work."""
        self.half = False
        """Whether the piece is a half front or back, of which only every other row begins at the armhole."""
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
        self.dividing = self.at_once = self.each_edge = False
        self.rejoined: Part | None = None
        """The side that faces where the yarn was rejoined, until its row is read."""
        self.last_edge = ""
        """Edge of the last steps, for chain items that name none."""
        self.rejoins = False
        """The yarn was cut and is rejoined for the next row."""
        self.step_rows: list[int] = []
        """Indexes of the rows of the last steps told together."""
        self.from_first = False
        """Whether the steps so far began with "the first 2 rows", so that "the last 2" are further ones."""
        self.step_side: Side | None = None
        """Side of the last steps, where their words name it."""
        self.counted: int | None = None
        """The one count that the sentence being read prints."""
        self.plain_side: Side | None = None
        """Side of the rows that a repeat calls plain: "rep last 2 rows twice, knitting the RS rows"."""
        self.instead: int | None = None
        """Sts that the repeats bind off where it is not what was bound off before."""
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

    def _gap(self) -> None:
        """Add the plain row between two steps at one edge, unless the words gave it already."""
        if self.last_step == len(self.rows) - 1:
            self._append(PLAIN)

    def _go_on_to_later(self, count: int) -> None:
        """Add the plain rows before a step that is told so many rows behind the one before it."""
        last = self.last_step
        if (
            last < 0
        ):  # "at armhole edge bind off 5 sts, then 2 rows later 5 sts": the first has no row named
            told = [i for i, row in enumerate(self.rows) if row.has(Kind.BIND_OFF)]
            last = told[-1] if told else -1
        while last >= 0 and len(self.rows) < last + count:
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

    def _on_all_rows(self, frame: Frame) -> bool:
        """Say whether steps are told "at the beginning of the rows", of a piece with two shoulders."""
        beg = frame.one("beg")
        rows = (
            beg is not None
            and beg.concept == "rows"
            and not frame.parts.keys() & {"rows", "each_side"}
        )
        # of a piece without a name, "the shoulders" or a stitch count says that it is a whole one
        whole = self.whole or self.before is not None
        return rows and whole and not (self.half or self.dividing or self.at_once or frame.edge)

    def _refuse_other_side(self, frame: Frame, rows: Part, number: int) -> None:
        """Raise Unread where several steps are told on rows of the other side than those before."""
        if number > 1 and self.step_side not in (None, side_named(rows.side)):
            raise Unread(
                "rows-unclear",
                "are these rows to be worked after the ones before, or in turn with them?",
                frame.span,
            )

    def _cadence(self, frame: Frame) -> tuple[str, int, bool, Side | None]:
        """Return how the steps follow one another, how many, and if a row lies before them."""
        rows = frame.parts.get("rows", [])
        times = self._value(t) if (t := self._times(frame)) else None
        head = rows[0] if rows else None
        if len(rows) == 2 and from_row(rows):
            self._reach(rows[0])  # "from row 55, on every 2nd row 3 times"
            if times is None:
                raise Unread("rows-not-counted", "how many times is not said", frame.span)
            return "alternate", times, False, None
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
            if self._on_all_rows(frame):
                return "every", times, False, None
            raise Unread("rows-unclear", "on which rows is not said", frame.span)
        count = self._value(head.amount) if head.amount else None
        if head.kind in ("foll_alt_rows", "foll_side_rows", "next_alt_rows", "some_alt_rows"):
            if head.kind == "next_alt_rows" and self.last_step < 0 and count is None:
                return "single", 1, False, None
            repeated = 1 if times is None else times
            if head.kind == "foll_side_rows":
                self._refuse_other_side(frame, head, repeated * (1 if count is None else count))
            return "alternate", repeated * (1 if count is None else count), True, None
        further = "beg" in frame.parts or self.from_first
        if head.kind == "last_rows" and count and further and self.last_step >= 0:
            return "every", count, False, None  # "..., and 8 sts beg last 2 rows"
        if head.kind in ("next_side_rows", "every_side_row", "side_row", "some_side_rows"):
            number = count if count is not None else times
            if number is None:
                if head.kind in ("next_side_rows", "side_row"):
                    number = 1
                else:
                    raise Unread("rows-not-counted", "how many rows is not said", frame.span)
            side = side_named(head.side)
            self._refuse_other_side(frame, head, number)
            return "alternate", number, self.step_side in (None, side), side
        if head.kind == "every_other":
            if times is None and head.concept != "second":
                raise Unread("rows-not-counted", "how many times is not said", frame.span)
            return "alternate", 1 if times is None else times, True, None
        begins = head.kind == "first_rows" and self.last_step < 0  # "at beg of first 4 rows"
        self.from_first = self.from_first or begins
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
