"""Rows told again: "rep last 2 rows twice more", "do this once more", "repeat from last bind-off"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.allrows import BRACKETS
from rewriter.amounts import Amount
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.parsing import Part
from rewriter.rowframes import says_more, side_named
from rewriter.rows import PLAIN, Kind, Row, bind_off, used_sts
from rewriter.steps import StepReader

_THIS = regex.compile(
    r"(?i)(?:(?:do|rep(?:eat)?)\s+(?:this|that|it|so|the\s+same)|work\s+(?:this|that)"
    r"|(?:one|a)\s+(?:last|final)\s+time)\b"
)
# Words by which a bind-off behind a repeat tells how the repeats differ: "..., binding off 6 sts"
_AS_IT_IS = regex.compile(r"(?i)\b(?:binding|casting)\b|\bbut\b")
# A number of sts that is that of the whole shoulder: "the 24 sts", "24 sts of each shoulder".
_ON_ROWS = regex.compile(
    r"(?i)\b(?:on|in|over|of|at|for)\s+(?:(?:each|both|all)\s+of\s+)?(?:the\s+)?\Z"
)
_WITH = regex.compile(r"(?i)\bwith\s+\Z")
_ONE_SIDE = frozenset({"next_side_rows", "foll_side_rows"})
"""Rows that are counted at one side of the work, so that plain ones lie between."""


class RepeatReader(StepReader):
    """Reads what repeats the rows read so far."""

    def _repeat(self, frame: Frame, rows_to_fill: int | None) -> None:
        """Copy rows: "rep last 2 rows twice more", "Rows 3-4: rep rows 1-2"."""
        rows = frame.one("rows")
        amount = frame.amount
        if (
            amount is not None
            and _WITH.search(self.source, frame.start, amount.span.start)
            and self.rows
        ):
            self._again_with(frame, rows)
            return
        if self.starred is not None and (rows is None or rows.kind == "next_rows"):
            # "rep from * on each of the next 5 rows" says how many rows are filled
            to_fill = self._value(rows.amount) if rows and rows.amount else rows_to_fill
            pattern = self.rows[self.starred[0] : self.starred[1]]
            self._copy(pattern, frame, to_fill)
            return
        if frame.concept == BRACKETS:
            pattern = [row for row in self.rows if row.statement == self.number]
            self._copy(pattern, frame, rows_to_fill)
            return
        if frame.concept == "both":
            self._copy(self.rows[-2:] if len(self.rows) > 1 else [], frame, rows_to_fill)
            return
        if frame.concept == "step":
            self._step_again(frame, rows)
            return
        if _THIS.match(self.source, frame.start) and self.rows:
            if rows is not None and self._names_one_row_later(rows):
                self._step_again(frame, rows)
                return
            if rows is not None and rows.kind in ("next_rows", "later_rows"):
                # "Do that again on the 2 rows after that"
                rows_to_fill = self._value(rows.amount) if rows.amount else 1
            # "Do this twice more": the rows of the sentence before
            pattern = [row for row in self.rows if row.statement == self.rows[-1].statement]
            if rows is None or rows_to_fill is not None:
                self._copy(pattern, frame, rows_to_fill)
                return
        if rows is not None and self._names_one_row_later(rows) and self.rows:
            self._step_again(frame, rows)  # "repeat 2 rows later", "repeat at beg of foll alt row"
            return
        if rows is not None and rows.kind == "side_row" and self._row_of_side_again(frame, rows):
            return
        if (
            rows is not None
            and rows.kind == "next_rows"
            and self.rows
            and self.rows[-1].has(Kind.TURN)
        ):
            # "work to last 8 sts and turn; repeat on the next row"
            self._copy(self.rows[-1:], frame, self._value(rows.amount) if rows.amount else 1)
            return
        if rows is None or rows.kind not in ("last_rows", "row_number"):
            raise Unread("repeat-unclear", "which rows are repeated is not clear", frame.span)
        if rows.kind == "last_rows":
            length = self._value(rows.amount) if rows.amount else 1
            pattern = self.rows[len(self.rows) - length :] if length <= len(self.rows) else []
            if not pattern and length == len(self.rows) + 1 and self.plain_side:
                pattern = self._with_plain_row(frame)
        else:
            numbers = rows.numbers
            if rows.concept == "range" and len(numbers) == 2:
                numbers = tuple(range(numbers[0], numbers[1] + 1))
            if not all(n in self.numbered for n in numbers):
                pattern = []
            else:
                pattern = [self.rows[self.numbered[n]] for n in numbers]
        if pattern and "times" not in frame.parts and rows_to_fill is None:
            rows_to_fill = self._filled_until(frame, pattern)
        self._copy(pattern, frame, rows_to_fill)

    def _filled_until(self, frame: Frame, pattern: Sequence[Row]) -> int | None:
        """Return how many rows repeats take "until 36 sts remain"; None where they are not told so."""
        until = frame.one("extent")
        if until is None or until.kind not in ("until_left", "until_count", "until_bare"):
            return None
        off = used_sts(pattern)
        if not off:
            return None  # rows that turn, or go on straight
        if until.amount is None or self.before is None:
            raise Unread(
                "rows-not-counted",
                "how many rows have a bind-off is not said (give the stitch count before, or the rows)",
                frame.span,
                ask="stitches",
            )
        left, rest = divmod(self.before - used_sts(self.rows) - self._value(until.amount), off)
        if rest or left < 0:
            raise Unread(
                "sums",
                f"repeats that take {off} sts each do not end at {self._value(until.amount)} sts",
                frame.span,
            )
        return left * len(pattern)

    def _again_with(self, frame: Frame, rows: Part | None) -> None:
        """Read "repeat the bind-offs once with 8 sts and once with 7 sts": the last two rows."""
        pair = self.rows[-2:]
        last = rows is None or (
            rows.kind == "last_rows" and rows.amount is not None and self._value(rows.amount) == 2
        )
        if not last or len(pair) < 2 or not all(r.acts[:1] and r.acts[0].n for r in pair):
            raise Unread("repeat-unclear", "which rows are repeated is not clear", frame.span)
        if not all(r.acts[0].kind is Kind.BIND_OFF for r in pair):
            raise Unread("repeat-unclear", "which rows are repeated is not clear", frame.span)
        n, times = self._count(frame), self._times(frame)
        for _ in range(self._value(times) if times else 1):
            for row in pair:
                told = row.with_acts(bind_off(n), *row.acts[1:])
                self._append(
                    replace(told, printed=None, side=None, statement=self.number, span=frame.span)
                )
        self.last_step = len(self.rows) - 1

    def instead_of(self, frames: Sequence[Frame]) -> int | None:
        """Return the sts that each repeat binds off: "rep last 2 rows, but bind off 6 sts instead of 5"."""
        frame = frames[0] if frames else None
        if frame is None or frame.verb != "bind_off" or frame.takes_all or frame.residue:
            return None
        noted = {n.concept: n for n in frame.notes}
        said = self.source[max(0, frame.start - 5) : frame.end]
        if frame.parts.keys() != {"count"} or not ("instead" in noted or _AS_IT_IS.search(said)):
            return None
        if "instead" in noted:
            old = [int(n) for n in regex.findall(r"\d+", noted["instead"].span.of(self.source))]
            last = [r.acts[0].n for r in self.rows if r.has(Kind.BIND_OFF) and r.acts]
            if old and len(old) in (1, self.sizes):
                told = old[self.size if len(old) > 1 else 0]
                if last and told != last[-1]:
                    raise Unread(
                        "repeat-unclear",
                        f"{told} sts are named that were bound off before, but it was {last[-1]}",
                        noted["instead"].span,
                    )
        return self._count(frame)

    def _row_of_side_again(self, frame: Frame, rows: Part) -> bool:
        """Read "rep the RS row twice, purling back between": the last step, which stands on such a row."""
        last = [i for i, row in enumerate(self.rows) if row.has(Kind.BIND_OFF)][-1:]
        times = self._times(frame)
        if not last or times is None or self.rows[last[0]].side != side_named(rows.side):
            return False
        self.last_step = last[0]
        for _ in range(self._value(times)):
            self._gap()
            self._append(replace(self.rows[last[0]], side=None, printed=None, span=frame.span))
            self.last_step = len(self.rows) - 1
        self.alternate = True
        return True

    def _with_plain_row(self, frame: Frame) -> list[Row]:
        """Return the rows so far behind the plain one that the lead-in worked: "rep last 2 rows" of one."""
        if not self.rows or self.rows[0].side == self.plain_side:
            raise Unread("repeat-unclear", "which rows are repeated is not clear", frame.span)
        return [PLAIN, *self.rows]

    def _step_again(self, frame: Frame, rows: Part | None) -> None:
        """Read "Repeat from last cast-off twice", "Repeat this bind-off on the next 2 RS rows"."""
        last = [i for i, row in enumerate(self.rows) if row.has(Kind.BIND_OFF)][-1:]
        if rows is None:
            self._copy(self.rows[last[0] :] if last else [], frame, None)
            return
        pair = bool(last) and last[0] > 0 and self.rows[last[0] - 1].has(Kind.BIND_OFF)
        later = self._is_later(rows)
        known = rows.kind in _ONE_SIDE or (self._names_one_row_later(rows) and not pair)
        if not known or not last or "times" in frame.parts:
            raise Unread(
                "repeat-unclear", "in which rows this is repeated is not clear", frame.span
            )
        self.last_step = last[0]
        count = self._value(rows.amount) if rows.amount else 1
        for _ in range(1 if later else count):
            if later:
                self._go_on_to_later(count)
            else:
                self._gap()
            self._copy([self.rows[last[0]]], frame, None)
        self.alternate = not later or count == 2

    def _names_one_row_later(self, rows: Part) -> bool:
        """Say whether rows are told that are one each at one edge: "on the foll alt row", "2 rows later"."""
        second = rows.kind == "every_other" and rows.concept == "second"
        return rows.kind in _ONE_SIDE | {"foll_alt_rows"} or second or self._is_later(rows)

    def _is_later(self, rows: Part) -> bool:
        """Say whether a row is told by how many rows it comes later; not "on the 2 rows after that"."""
        return rows.kind == "later_rows" and not _ON_ROWS.search(self.source, 0, rows.span.start)

    def _copy(self, pattern: list[Row], frame: Frame, rows_to_fill: int | None) -> None:
        if not pattern:
            raise Unread("repeat-unclear", "the rows to repeat are not in this passage", frame.span)
        times = self._times(frame)
        number = self._value(times) if times else 1
        if times is not None and rows_to_fill is None:
            number -= self._told_before(frame, times)
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
        self.kinds = []
        for _ in range(number):
            for row in pattern:
                told = replace(self.again(row), printed=None, side=None)
                head = told.acts[0] if told.acts else None
                if self.instead is not None and head is not None and head.kind is Kind.BIND_OFF:
                    told = told.with_acts(bind_off(self.instead), *told.acts[1:])
                self._append(replace(told, statement=self.number, span=frame.span))
        if self.rows[-1].has(Kind.BIND_OFF):
            self.last_step = len(self.rows) - 1

    def _told_before(self, frame: Frame, times: Amount) -> int:
        """Return how many of the times stand in the rows told already: 1 in "work these rows 3 times in all".

        "Rep these 2 rows 3 times in all" and "work these 2 rows 3 times" can be meant either way.
        """
        if frame.concept == BRACKETS:
            return 1
        if says_more(frame, self.source):
            return 0
        works = frame.verb == "work" or frame.concept == "do"
        if works != ("total" in frame.parts):
            self.open_counts.append(frame.span)
            return 0 if self.added else 1
        return 1 if works else 0

    def again(self, row: Row) -> Row:
        """Return a row as it is repeated."""
        return row
