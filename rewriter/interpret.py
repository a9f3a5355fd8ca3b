"""From frames to rows: what one size knits, row by row.

The interpreter keeps the little state that the words rely on: the last rows (for "rep last 2
rows"), the cadence (for "then 6 sts once"), the sizes a sentence is for. What it cannot read with
certainty it does not read: it raises `Unread`, with the words and the reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.amounts import Amount, ListLengthError
from rewriter.frames import Frame, Label, Statement
from rewriter.rowframes import (
    doubtful,
    end_of_row,
    goes_on,
    is_note,
    is_stepped,
    names_both_edges,
    side_named,
    with_holders,
)
from rewriter.rows import PLAIN, TURN, WORK_ALL, Act, Kind, Row, Side, bind_off, leave
from rewriter.spans import Span

MOST_ROWS = 400
"""Rows of one passage; more than any shoulder has, and a guard against misread numbers."""


class Unread(ValueError):
    """A passage that cannot be read with certainty: `code`, the reason, and where it stands."""

    def __init__(self, code: str, message: str, span: Span, sizes: tuple[int, ...] = ()) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.span = span
        self.sizes = sizes
        """Indexes of the sizes it is about; empty for all."""


def read_rows(
    statements: Sequence[Statement], size: int, sizes: int, before: int | None = None
) -> list[Row]:
    """Return the rows that the size with index `size` of `sizes` works; raises Unread.

    `before` is the number of sts on the needle where the passage starts, if it is known.
    """
    reader = _Reader(size, sizes, before)
    for number, statement in enumerate(statements):
        reader.read(number, statement)
    return reader.rows


class _Reader:
    def __init__(self, size: int, sizes: int, before: int | None) -> None:
        self.size = size
        self.before = before
        self.sizes = sizes
        self.rows: list[Row] = []
        self.numbered: dict[int, int] = {}
        self.only: tuple[int, ...] | None = None
        self.only_block: int | None = None
        self.number = -1
        self.alternate = False
        """Whether the steps so far were on every other row."""
        self.both = False
        """Whether the steps so far were on every other row at both edges."""
        self.last_step = -2
        self.step_side: Side | None = None
        """Side of the last steps, where their words name it."""
        self.starred: tuple[int, int | None] | None = None
        """Rows between the repeat signs, as far as they were met."""

    # --- sentences --------------------------------------------------------------------------

    def read(self, number: int, statement: Statement) -> None:
        self.number = number
        if is_note(statement):
            return
        self._restrict(statement)
        for part in doubtful(statement):
            raise Unread(
                "words-not-understood",
                "these words are not understood here and could change what is knitted",
                part.span,
            )
        if self.only is not None and self.size not in self.only:
            return
        frames = [f for f in statement.frames if f.verb or f.parts]
        if statement.stars[0]:
            self.starred = (len(self.rows), None)
        if statement.label and frames:
            self._labelled(statement.label, frames)
        else:
            self._unlabelled(frames)
        if statement.stars[1] and self.starred is not None:
            self.starred = (self.starred[0], len(self.rows))
        for part in statement.running:
            self._print_count(part.amount)

    def _restrict(self, statement: Statement) -> None:
        if statement.sizes is not None:
            self.only = tuple(n - 1 for n in statement.sizes) or None
            alone = not statement.frames
            self.only_block = None if alone else statement.sentence.block
        elif self.only_block is not None and statement.sentence.block != self.only_block:
            self.only = self.only_block = None

    def _value(self, amount: Amount) -> int:
        """Return the count for this size, in lists for all sizes or for the named ones only."""
        if self.only is not None and len(amount.values) == len(self.only):
            return amount.values[self.only.index(self.size)] or 0
        try:
            return amount.per_size(self.sizes)[self.size]
        except ListLengthError as error:
            raise Unread("list-length", str(error), amount.span) from None

    # --- labelled rows ----------------------------------------------------------------------

    def _labelled(self, label: Label, frames: list[Frame]) -> None:
        count = self._value(label.rows) if label.rows else max(1, len(label.numbers))
        if label.numbers and list(label.numbers) != list(
            range(label.numbers[0], label.numbers[0] + len(label.numbers))
        ):
            raise Unread("rows-out-of-order", "these rows are not given in order", label.span)
        if label.numbers and self.numbered:
            known, index = next(iter(self.numbered.items()))
            expected = known + len(self.rows) - index
            if label.numbers[0] == 1 != expected:
                self.numbered = {}
            elif label.numbers[0] != expected:
                raise Unread(
                    "rows-out-of-order",
                    f"row {expected} was expected here, not row {label.numbers[0]}",
                    label.span,
                )
        first = len(self.rows)
        if frames[0].verb == "repeat":
            self._repeat(frames[0], count)
        else:
            side = side_named(label.side)
            for n in range(count):
                row = self._row(frames)
                self._append(replace(row, side=(side or row.side) if n == 0 else None))
                if row.acts and row.acts[0].kind is Kind.BIND_OFF and row.acts[0].n is not None:
                    self.alternate = count == 1
                    self.last_step = len(self.rows) - 1
        if (side_of_label := side_named(label.side)) and first < len(self.rows):
            self.rows[first] = replace(self.rows[first], side=side_of_label)
        for n, index in zip(label.numbers, range(first, len(self.rows)), strict=False):
            self.numbered[n] = index

    def _row(self, frames: Sequence[Frame]) -> Row:
        """Read one row from the frames of a labelled sentence."""
        acts: list[Act] = []
        row = Row((), statement=self.number, span=Span(frames[0].start, frames[-1].end))
        for frame in with_holders(frames):
            row = self._act(frame, row, acts)
        if acts and acts[0].kind is Kind.BIND_OFF and len(acts) == 1 and acts[0].n is not None:
            acts.append(WORK_ALL)
        return row.with_acts(*acts)

    def _act(self, frame: Frame, row: Row, acts: list[Act]) -> Row:
        verb = frame.verb
        if frame.edge:
            row = replace(row, edge=frame.edge)
        if (facing := frame.one("side")) and not row.side:
            row = replace(row, side=side_named(facing.side))
        if verb == "bind_off":
            acts.append(bind_off(None if frame.takes_all else self._count(frame)))
            if frame.takes_all and frame.amount:
                row = replace(row, claim=self._count(frame))
        elif verb == "aid":
            if acts:
                raise Unread("turn-unclear", "a turning st stands inside the row", frame.span)
            row = replace(row, aid=self.size + 1 not in frame.excepts)
        elif verb in ("work", "work_row", "back_row"):
            acts.append(self._work(frame))
            row = replace(row, word=frame.concept)
        elif verb == "turn":
            acts.append(TURN)
        elif verb == "closing":
            row = replace(row, closes=True)
        elif verb == "hold" and "holder" not in frame.parts and frame.amount:
            row = replace(row, printed=self._count(frame))  # "..., leaving 31 sts"
        elif verb == "hold":
            acts.append(self._hold(frame))
            row = replace(row, claim=self._count(frame) if frame.amount else None)
        elif verb == "fasten_off":
            acts.append(Act(Kind.CUT))
        elif not verb and "count" in frame.parts and acts:
            row = replace(row, printed=self._count(frame))
        else:
            self._refuse(frame)
        return row

    def _work(self, frame: Frame) -> Act:
        extent = frame.one("extent")
        if extent is None or extent.kind == "to_end":
            if frame.amount and not frame.takes_all:
                return Act(Kind.WORK, self._count(frame))
            return WORK_ALL
        if extent.kind == "to_last":
            return leave(self._value(extent.amount) if extent.amount else 1)
        raise Unread(
            "dividing-row",
            "a row that is divided within the shoulder is not converted yet",
            frame.span,
        )

    def _hold(self, frame: Frame) -> Act:
        if "holder" not in frame.parts:
            self._refuse(frame)
        return Act(Kind.HOLD)

    def _refuse(self, frame: Frame) -> None:
        if frame.verb in ("decrease", "increase"):
            raise Unread(
                "shaping-in-the-rows",
                "sts are decreased or increased in the rows of the shoulder; such rows are not "
                "converted yet",
                frame.span,
            )
        raise Unread("not-understood", "this is not understood among shoulder rows", frame.span)

    def _count(self, frame: Frame) -> int:
        amount = frame.amount
        if amount is None:
            raise Unread("no-count", "no number of sts is given here", frame.span)
        return self._value(amount)

    # --- sentences without a label ------------------------------------------------------------

    def _unlabelled(self, frames: list[Frame]) -> None:
        at = 0
        while at < len(frames):
            frame = frames[at]
            if self._is_next_step(frame):
                at += 1
                if at < len(frames) and frames[at].verb == "work" and goes_on(frames[at]):
                    at += 1  # "..., work to end of row"
                self._steps(frame)
            elif frame.verb == "repeat":
                self._repeat(frame, None)
                at += 1
            elif frame.verb in ("work", "back_row") and (
                "rows" in frame.parts or frame.verb == "back_row"
            ):
                self._plain_rows(frame)
                at += 1
            elif "count" in frame.parts and (
                not frame.verb
                or (frame.verb == "hold" and "holder" not in with_holders(frames[at:])[0].parts)
            ):
                self._print_count(frame.amount)
                at += 1
            elif not frame.verb and not frame.parts:
                at += 1
            else:
                stop = end_of_row(frames, at)
                row = self._row(frames[at:stop])
                if row.acts:
                    self._append(row)
                at = stop

    def _is_next_step(self, frame: Frame) -> bool:
        """Say whether a frame tells steps, with its own verb or with the one before ("Then 6 sts ...")."""
        if frame.verb == "bind_off":
            if frame.inherited and not is_stepped(frame) and not frame.takes_all:
                raise Unread(
                    "count-unclear",
                    "is this number a further bind-off or the sts that are left? "
                    "(write the total in brackets)",
                    frame.span,
                )
            return is_stepped(frame)
        stepped = not frame.verb and "count" in frame.parts and is_stepped(frame)
        if stepped and self.last_step < 0:
            raise Unread("verb-missing", "what is done with these sts is not said", frame.span)
        return stepped

    def _plain_rows(self, frame: Frame) -> None:
        rows = frame.one("rows")
        if frame.verb == "back_row":
            count = 1
        elif rows is not None and rows.kind in ("some_rows", "next_rows", "some_side_rows"):
            count = self._value(rows.amount) if rows.amount else 1
        else:
            raise Unread("rows-unclear", "how many rows are meant is not clear", frame.span)
        for _ in range(count):
            self._append(replace(PLAIN, word=frame.concept, statement=self.number, span=frame.span))

    def _steps(self, frame: Frame) -> None:
        """Add the rows of "V n sts at beg of next m rows" in any of its shapes."""
        n = self._count(frame)
        both = "each_side" in frame.parts or names_both_edges(frame)
        both = both or (self.both and "rows" not in frame.parts)
        if until := self._until(frame):
            self._steps_until(frame, n, until, both)
            return
        cadence, times, gap_first, side = self._cadence(frame)
        if facing := frame.one("side"):
            side = side_named(facing.side)
        if n == 0 and times:
            raise Unread("zero-count", "no sts are to be bound off on these rows", frame.span)
        for i in range(times):
            if cadence == "alternate" and (i > 0 or gap_first) and not both:
                self._gap()
            for _ in range(2 if both and cadence == "alternate" else 1):
                self._append(
                    Row(
                        (bind_off(n), WORK_ALL),
                        side=side if i == 0 else None,
                        edge=frame.edge,
                        statement=self.number,
                        span=frame.span,
                    )
                )
            self.last_step = len(self.rows) - 1
        self.alternate = cadence == "alternate" and not both
        self.both = cadence == "alternate" and both
        self.step_side = side

    def _until(self, frame: Frame) -> Amount | None:
        """Return the sts to be left in "at beg of every row until 24 sts remain"."""
        extent, rows = frame.one("extent"), frame.one("rows")
        if extent is None or extent.kind != "until_left" or "times" in frame.parts:
            return None
        every = rows is not None and rows.kind in ("every_row", "every_other", "every_side_row")
        return extent.amount if every else None

    def _steps_until(self, frame: Frame, n: int, until: Amount, both: bool) -> None:
        """Add steps of `n` sts until so many are left; a smaller last step takes what remains."""
        if self.before is None:
            raise Unread(
                "rows-not-counted",
                "how many rows have a bind-off is not said (give the stitch count before)",
                frame.span,
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
        for sts in steps:
            if not two_edges:
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

    def _cadence(self, frame: Frame) -> tuple[str, int, bool, Side | None]:
        """Return how the steps follow one another, how many, and if a row lies before them."""
        rows = frame.parts.get("rows", [])
        times = self._value(t) if (t := self._times(frame)) else None
        head = rows[0] if rows else None
        if len(rows) == 2:
            more = self._value(rows[1].amount) if rows[1].amount else 1
            if rows[1].kind in ("every_other", "every_side_row"):
                added = "more" in frame.parts or frame.edge == "same"
                more = (times or 0) if added else (times or 2) - 1
            elif times is not None:
                raise Unread("rows-unclear", "how many rows are meant is not clear", frame.span)
            return "alternate", 1 + more, False, side_named(rows[0].side)
        if head is None:
            if times is None:
                return "single", 1, False, None
            if self.alternate or self.both or frame.edge:
                return "alternate", times, True, None
            raise Unread("rows-unclear", "on which rows is not said", frame.span)
        count = self._value(head.amount) if head.amount else None
        if head.kind in ("foll_alt_rows", "foll_side_rows", "next_alt_rows"):
            if head.kind == "next_alt_rows" and not self.alternate and count is None:
                return "single", 1, False, None
            return "alternate", (times or 1) * (1 if count is None else count), True, None
        if head.kind in ("next_side_rows", "every_side_row"):
            number = count if count is not None else times
            if number is None:
                if head.kind == "next_side_rows":
                    number = 1
                else:
                    raise Unread("rows-not-counted", "how many rows is not said", frame.span)
            side = side_named(head.side)
            return "alternate", number, self.step_side in (None, side), side
        if head.kind == "every_other":
            if times is None:
                raise Unread("rows-not-counted", "how many times is not said", frame.span)
            return "alternate", times, True, None
        if head.kind in ("next_rows", "and_foll_rows", "some_rows"):
            number = 1 if count is None else count
            if frame.edge and number > 1:
                raise Unread(
                    "edge-and-rows",
                    "one edge is named, but rows at both edges are counted",
                    frame.span,
                )
            if number == 1 and self.alternate and head.concept == "foll":
                return "alternate", 1, True, None
            return "single" if number == 1 else "every", number, False, None
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

    def _repeat(self, frame: Frame, rows_to_fill: int | None) -> None:
        """Copy rows: "rep last 2 rows twice more", "Rows 3-4: rep rows 1-2"."""
        rows = frame.one("rows")
        if rows is None and self.starred is not None:
            pattern = self.rows[self.starred[0] : self.starred[1]]
            self._copy(pattern, frame, rows_to_fill)
            return
        if rows is None or rows.kind not in ("last_rows", "row_number"):
            raise Unread("repeat-unclear", "which rows are repeated is not clear", frame.span)
        if rows.kind == "last_rows":
            length = self._value(rows.amount) if rows.amount else 1
            pattern = self.rows[len(self.rows) - length :] if length <= len(self.rows) else []
        else:
            numbers = rows.numbers
            if rows.concept == "range" and len(numbers) == 2:
                numbers = tuple(range(numbers[0], numbers[1] + 1))
            if not all(n in self.numbered for n in numbers):
                pattern = []
            else:
                pattern = [self.rows[self.numbered[n]] for n in numbers]
        self._copy(pattern, frame, rows_to_fill)

    def _copy(self, pattern: list[Row], frame: Frame, rows_to_fill: int | None) -> None:
        if not pattern:
            raise Unread("repeat-unclear", "the rows to repeat are not in this passage", frame.span)
        times = self._times(frame)
        number = self._value(times) if times else 1
        if rows_to_fill is not None:
            if times is None:
                number, left = divmod(rows_to_fill, len(pattern))
            else:
                left = rows_to_fill - number * len(pattern)
            if left:
                raise Unread(
                    "repeat-unclear",
                    f"{rows_to_fill} rows are to be filled by repeats of {len(pattern)} rows",
                    frame.span,
                )
        for _ in range(number):
            for row in pattern:
                self._append(replace(row, printed=None, statement=self.number, span=frame.span))
        if self.rows[-1].has(Kind.BIND_OFF):
            self.last_step = len(self.rows) - 1

    # --- common ---------------------------------------------------------------------------------

    def _append(self, row: Row) -> None:
        if len(self.rows) >= MOST_ROWS:
            raise Unread(
                "too-many-rows",
                f"more than {MOST_ROWS} rows in one passage",
                row.span or Span(0, 0),
            )
        self.rows.append(row)

    def _print_count(self, amount: Amount | None) -> None:
        if amount is None or not self.rows:
            return
        self.rows[-1] = replace(self.rows[-1], printed=self._value(amount))
