"""What counts tell among rows: a further step, what is left, sts told in all, the sts of a row before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.amounts import Amount
from rewriter.decreases import DecreaseReader
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.parsing import Part
from rewriter.rowframes import is_stepped, most_rows, names_each_shoulder
from rewriter.rows import Act, Kind, Row, used_sts
from rewriter.spans import Span

# What follows the first number of a list whose numbers are parted in a way that ends a sentence part.
_LIST_GOES_ON = regex.compile(r"(?:\s*;\s*\d{1,3})+(?=\s*(?:st|sts|stitches)\b)")


class CountReader(DecreaseReader):
    """Reads numbers of sts by what they are of."""

    def _works_all_left(self, frame: Frame) -> bool:
        """Say whether a frame behind one step works as many sts as are left, which ends its row."""
        if frame.verb != "work" or frame.parts.keys() != {"count"} or self.before is None:
            return False
        if len(self.step_rows) != 1:
            return False  # behind "at beg of next 2 rows" it is a row of its own
        left = self.before - used_sts(self.rows)
        return (
            not frame.takes_all and frame.amount is not None and self._value(frame.amount) == left
        )

    def _check_whole(
        self, frame: Frame, count: Part, shares: Part | None, rows: Sequence[Row]
    ) -> None:
        """Raise Unread where steps are not the number of sts, and of goes, that are told in all."""
        if count.amount is None:
            return
        total, edges = (
            self._value(count.amount),
            2
            if self.both or "each_side" in frame.parts or names_each_shoulder(frame, self.source)
            else 1,
        )
        if shares is None:
            if used_sts(rows) not in (total, total * edges):
                raise Unread(
                    "sums",
                    f"{total} sts are to be bound off, but the steps told are not as many",
                    frame.span,
                )
            return
        if shares.amount is None:
            return
        goes = self._value(shares.amount)
        steps = sum(row.has(Kind.BIND_OFF) for row in rows)
        if used_sts(rows) != total * edges or steps != goes * edges:
            raise Unread(
                "sums",
                f"{total} sts are to be bound off in {goes} steps, but the steps told are not those",
                frame.span,
            )

    def _same_again(self, frame: Frame) -> None:
        """Take a number for that of the sts bound off right before it."""
        sts = self._count(frame)
        if not self.rows or [a.kind for a in self.rows[-1].acts[:1]] != [Kind.BIND_OFF]:
            self._refuse(frame)
        row = self.rows[-1]
        told = row.acts[0].n if row.acts[0].n is not None else row.claim
        if told not in (None, sts):
            raise Unread("sums", f"{told} sts are bound off before this, not {sts}", frame.span)
        self.rows[-1] = replace(row, claim=sts if row.acts[0].n is None else row.claim)

    def _unclear_count(self, frame: Frame) -> bool:
        """Say whether a number behind bind-offs may be one more of them, or what is left."""
        chained = frame.verb == "bind_off" and frame.inherited
        return chained and not is_stepped(frame) and not frame.takes_all

    def _is_next_step(self, frame: Frame) -> bool:
        """Say whether a frame tells steps, with its own verb or with the one before ("Then 6 sts ...")."""
        if frame.verb == "bind_off":
            rows = frame.one("rows")
            if frame.inherited and rows is not None and not frame.parts.keys() & {"count", "steps"}:
                raise Unread("no-count", "no number of sts is given here", frame.span)
            after = rows is not None and rows.kind == "later_rows" and "beg" in frame.parts
            each = rows is not None and (after or rows.kind == "next_rows") and most_rows(rows) > 1
            if frame.takes_all and frame.amount and each:
                return True  # "then rem 6 sts at beg of next 2 rows"
            if self.at_once and self.both and frame.takes_all and frame.amount:
                return True  # "at each armhole edge ... 7 sts twice, then rem 6 sts": on each side
            if self._unclear_count(frame):
                self._refuse_list(frame)
                raise Unread(
                    "count-unclear",
                    "is this number a further bind-off or the sts that are left? "
                    "(write the total in brackets, or the row of a further bind-off)",
                    frame.span,
                    ask="count",
                )
            return is_stepped(frame) and not self._takes_neck_in_row(frame)
        stepped = not frame.verb and "count" in frame.parts and is_stepped(frame)
        if stepped and self.last_step < 0:
            raise Unread("verb-missing", "what is done with these sts is not said", frame.span)
        return stepped

    def _takes_neck_in_row(self, frame: Frame) -> bool:
        """Say whether just the sts left by steps at both edges are bound off "on next row"."""
        rows = frame.one("rows")
        one = rows is not None and rows.kind == "next_rows" and rows.amount is None
        if not one or frame.amount is None or self.before is None or self.half:
            return False
        both = len(self.rows) > 2 and all(row.has(Kind.BIND_OFF) for row in self.rows[-2:])
        return both and self._value(frame.amount) == self.before - used_sts(self.rows)

    def _refuse_list(self, frame: Frame) -> None:
        """Raise Unread where a count and the one behind it are a list for sizes: "11; 12 sts"."""
        count = frame.one("count")
        if count is None:
            return
        listed = _LIST_GOES_ON.match(self.source, count.span.end)
        if listed is not None:
            span = Span(count.span.start, listed.end())
            raise Unread(
                "list-unread",
                f"{span.of(self.source)!r} looks like a list for the sizes in a form that is not read "
                "(write it as 8(9))",
                span,
            )

    def _tells_held(self, frame: Frame) -> bool:
        """Say whether a count shares out held sts: "... on holders: 16 for each shoulder, 30 for neck"."""
        shares = any(n.concept in ("shoulder", "neck") for n in frame.notes)
        return shares and bool(self.rows) and self.rows[-1].acts == (Act(Kind.HOLD),)

    def _print_count(self, amount: Amount | None) -> None:
        if amount is None or not self.rows:
            return
        self.rows[-1] = replace(self.rows[-1], printed=self._value(amount))
