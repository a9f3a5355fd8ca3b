"""From frames to rows: what one size knits, row by row.

The interpreter keeps the little state that the words rely on: the last rows (for "rep last 2
rows"), the cadence (for "then 6 sts once"), the sizes a sentence is for. What it cannot read with
certainty it does not read: it raises `Unread`, with the words and the reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.asks import choice_of
from rewriter.countreader import CountReader
from rewriter.doubt import Unread
from rewriter.edgenames import ARMHOLE_SIDE
from rewriter.frames import Frame, Statement
from rewriter.kindsofrows import rows_in_all, tells_kind
from rewriter.neckbetween import put_between, without_neck_between
from rewriter.neckdec import place_decreases
from rewriter.rowforms import (
    decreases_beside,
    decreases_in_row,
    in_row,
    is_about_later,
    tells_height,
    worked_on,
    works_back,
)
from rewriter.rowframes import (
    divides_with_step,
    end_of_row,
    goes_on,
    holds_part,
    holds_side,
    is_again,
    is_note,
    neck_at_same_time,
    neck_without_rows,
    plain_side_of,
    rows_told_ahead,
    side_named,
    side_of_rows,
    turns_in_one_row,
    turns_in_told_row,
    with_holders,
)
from rewriter.rows import WORK_ALL, Act, Kind, Row, used_sts
from rewriter.shortframes import rows_in_place, slips_one
from rewriter.together import at_the_same_time
from rewriter.unreadwords import unread_words


def read_rows(
    statements: Sequence[Statement],
    size: int,
    sizes: int,
    before: int | None = None,
    dividing: bool = False,
    at_once: bool = False,
    each_edge: bool = False,
    hung: Sequence[tuple[Statement, int]] = (),
) -> list[Row]:
    """Return the rows that the size with index `size` of `sizes` works; raises Unread.

    `before` is the number of sts on the needle where the passage starts, if it is known;
    `dividing` says that the rows belong to a divided shoulder: a row may turn at the neck and leave
    the rest, and where a neck decrease stands is settled later. `at_once` says that both sides of a
    neck are in work, so that "rem sts" are those of each side; `each_edge` that this is certain, so
    that steps told for "armhole edge" are for both. `hung` are sentences before the passage that hang
    markers within a row, with the number of that row, -1 for the one before the first.
    """
    reader = _Reader(size, sizes, before)
    for statement, row in hung:
        reader.hang_in_row(statement, row)
    if statements and choice_of(statements[0].decisions, "first-row"):
        reader.added = choice_of(statements[0].decisions, "first-row") == "added"
        reader.settled = True
    reader.dividing, reader.at_once, reader.each_edge = dividing, at_once, each_edge
    reader.read_all(statements)
    rows = _without_empty(reader.finish(), before)
    if reader.counted_at_both and before is not None and used_sts(rows) != before:
        other = _Reader(size, sizes, before)
        other.dividing, other.at_once, other.halved = dividing, at_once, True
        other.each_edge = each_edge
        other.added, other.settled = reader.added, reader.settled
        other.read_all(statements)
        in_all = other.finish()
        rows = in_all if used_sts(in_all) == before else rows
    if reader.open_counts and not reader.settled:
        rows = _settled(reader, statements, rows)
    return rows if dividing else place_decreases(rows)


def _without_empty(rows: list[Row], before: int | None) -> list[Row]:
    """Take off the row back over nothing that a repeat brings along once all sts are bound off."""
    empty = bool(before) and len(rows) > 1 and rows[-1].acts == (WORK_ALL,)
    if empty and rows[-2].has(Kind.BIND_OFF) and used_sts(rows) == before:
        return rows[:-1]
    return rows


def _settled(reader: _Reader, statements: Sequence[Statement], rows: list[Row]) -> list[Row]:
    """Return the rows of "on next row and on alternate rows twice" in the way that the sums allow."""
    other = _Reader(reader.size, reader.sizes, reader.before)
    other.dividing, other.at_once, other.added = reader.dividing, reader.at_once, True
    other.each_edge = reader.each_edge
    other.read_all(statements)
    readings = [r for r in (rows, other.finish()) if used_sts(r) == reader.before]
    if len(readings) != 1:
        raise Unread(
            "rows-unclear",
            "is the first row one of these times, or are they added to it? (give the stitch count "
            "before the shoulder)",
            reader.open_counts[0],
            ask="first-row",
        )
    return readings[0]


_AFTER_A_ROW = frozenset({"foll_alt_rows", "foll_side_rows", "next_alt_rows", "every_other"})
"""Words for a row before which a plain one lies: "the last 6 sts at beg of foll alt row"."""


class _Reader(CountReader):
    """Reads the sentences of a passage in order."""

    def read_all(self, statements: Sequence[Statement]) -> None:
        """Read the sentences of a passage."""
        told, between = without_neck_between(statements)
        for number, statement in enumerate(told):
            self.read(number, statement)
            for row in [b for b in between if b.statement == number]:
                self.rows = put_between(self.rows, row, self._value(row.sts))
        if len(self.kinds) == 2:
            raise Unread(
                "rows-not-counted",
                "how many of these rows are worked is not said",
                told[-1].span,
            )
        self.put_in_told_ahead(last=True)
        self.rows = worked_on(self.rows)

    # --- sentences --------------------------------------------------------------------------

    def read(self, number: int, statement: Statement) -> None:
        self.number = number
        self.source = statement.sentence.source
        self.decisions = statement.decisions
        self.half = statement.sentence.piece in ARMHOLE_SIDE
        self.whole = self.whole or "shoulders" in statement.sentence.view.text
        self.note_markers(statement)
        if is_note(statement):
            return
        self._restrict(statement)
        if statement.by_size:
            self._one_by_one(number, statement)
            return
        if divides_with_step(statement):
            raise Unread(
                "neck-with-step",
                "the centre is bound off in the row of a shoulder step: in which rows of each side do "
                "the neck and the shoulder go on? (write the rows of both sides out)",
                statement.span,
            )
        if neck_at_same_time(statement) or neck_without_rows(statement):
            raise Unread(
                "rows-unclear",
                "in which of these rows sts are bound off at the neck edge is not told",
                statement.span,
            )
        if (ahead := rows_told_ahead(statement)) is not None:
            raise Unread(
                "rows-unclear",
                "are the rows told before this bind-off worked before it, or are they its own?",
                ahead.span,
            )
        if (unread := unread_words(statement)) is not None:
            raise unread
        if self.only is not None and self.size not in self.only:
            return
        statement = self.hang_in_row(statement, len(self.rows))
        frames = [f for f in statement.frames if f.verb or f.parts]
        closes = self.starred is not None and bool(frames) and frames[0].verb == "repeat"
        if frames and frames[0].verb == "bind_off":
            self.fill_rows()
        if statement.stars[0] and not closes:  # in "... * Repeat from * to *" the first star closes
            self.starred = (len(self.rows), None)
        alone = statement.running[0].amount if len(statement.running) == 1 else None
        self.counted = self._value(alone) if alone is not None and not self.rows else None
        self.steps_here = any(f.verb == "bind_off" for f in frames)
        counted = rows_in_all(frames) if self._waits_for_number() else None
        if counted is not None:
            self.fill_kinds(*counted)
            return
        if tells_kind(statement) and frames and statement.label:
            self._labelled(statement.label, frames)
            self.kinds = [*self.kinds[-1:], range(len(self.rows) - 1, len(self.rows))]
        elif statement.label and [f.verb for f in frames[1:]][-1:] == ["repeat"]:
            self._labelled(statement.label, frames[:-1])
            self.unlabelled(frames[-1:])  # "* Next 2 rows: BO 6 sts, k to end; rep from * once"
        elif statement.label and frames:
            self._labelled(statement.label, frames)
        elif at_the_same_time(frames):
            self.together(frames)
        elif not self._tells_wrong_side_rows(frames):
            if any(f.verb == "bind_off" for f in frames):
                self.put_in_told_ahead()  # "Rows 2 and 4: Purl. Bind off rem sts."
            self.unlabelled(frames)
        if statement.stars[1] and self.starred is not None:
            self.starred = (self.starred[0], len(self.rows))
        for part in statement.running:
            self._print_count(part.amount)

    def _tells_wrong_side_rows(self, frames: Sequence[Frame]) -> bool:
        """Take in "Purl all WS rows" where rows are told ahead of their turn."""
        rows = frames[0].one("rows") if len(frames) == 1 else None
        every = rows is not None and rows.kind in ("side_row", "every_side_row")
        return every and rows is not None and self.fills_between(frames[0], rows.side)

    def _one_by_one(self, number: int, statement: Statement) -> None:
        """Read a sentence that tells its sizes one by one: "size S: ...; size M: ...", for this size."""
        for sizes, frames in statement.by_size:
            if self.size + 1 in sizes:
                self.read(number, replace(statement, frames=frames, sizes=sizes, by_size=()))
        self.only = self.only_block = None

    def _restrict(self, statement: Statement) -> None:
        if statement.sizes is not None:
            self.only = tuple(n - 1 for n in statement.sizes) or None
            alone = not statement.frames
            self.only_block = None if alone else statement.sentence.block
        elif self.only_block is not None and (
            statement.sentence.block != self.only_block or self._lists_all(statement)
        ):
            self.only = self.only_block = None

    def _lists_all(self, statement: Statement) -> bool:
        """Say whether a sentence has a list for all sizes, behind sentences for some of them only."""
        told = [p.amount for f in statement.frames for ps in f.parts.values() for p in ps]
        told += [p.amount for p in statement.running]
        return len(self.only or ()) < self.sizes and any(
            len(amount.values) == self.sizes for amount in told if amount is not None
        )

    # --- labelled rows ----------------------------------------------------------------------

    # --- sentences without a label ------------------------------------------------------------

    def unlabelled(self, frames: list[Frame]) -> None:
        """Read the frames of a sentence without a row label."""
        frames = rows_in_place(frames)
        at, begun = 0, len(self.rows)
        told = here = begun
        while at < len(frames):
            frame = frames[at]
            told, here = here, len(self.rows)
            if frame.verb == "closing" and told < here:
                self.close_rows(frame, told)  # "P 1 row over all sts, picking up wraps"
                told, here, at = here, told, at + 1
            elif turns_in_one_row(frames[at : at + 3]):
                self._append(self._row(frames[at : at + 3]))
                at += 3
            elif (
                run := self.turns_before_end(frames[at:]) or self.run_of_turns(frames[at:])
            ) is not None:
                for row in run[0]:
                    self._append(row)
                at += run[1]
            elif decreases_in_row(frames[at : at + 4]):
                stop = end_of_row(frames, at)
                self._append(self._row([in_row(frame), *frames[at + 1 : stop]], labelled=True))
                self.alternate, self.last_step = True, len(self.rows) - 1
                at = stop
            elif decreases_beside(frames[at : at + 2]):
                self._append(self._row([in_row(frame), frames[at + 1]], labelled=True))
                at += 2
            elif (meant := self._decided("count", frame)) and self._unclear_count(frame):
                if meant == "left":
                    self._print_count(frame.amount)
                else:
                    self._same_again(frame)
                at += 1
            elif self._is_next_step(frame):
                at += 1
                if at < len(frames) and (
                    (frames[at].verb == "work" and goes_on(frames[at]))
                    or works_back(frames[at - 1 : at + 1])
                ):
                    at += 1  # "..., work to end of row", "cast off 3 sts at beg of next row, purl back"
                self._steps(frame)
                if at < len(frames) and self._works_all_left(frames[at]):
                    at += 1  # "..., k8", where 8 sts are left
            elif frame.verb == "repeat" and frame.concept == "other_end":
                self.turn_like_last(frame)
                at += 1
            elif frame.verb == "repeat" or is_again(frame):
                self.further = self.further_of(frames[at : at + 2])
                self.plain_side = plain_side_of(frames[at + 1 : at + 2])
                self.instead = self.instead_of(frames[at + 1 : at + 2])
                self._repeat(frame, None)
                alone = (self.instead, self.plain_side) == (None, None)
                self.instead = None
                at += 2 if self.further_behind(frames[at : at + 2]) or not alone else 1
            elif frame.verb == "ending" and not self.rows and at and tells_height(frames[at - 1]):
                at += 1  # "At 20 cm, ending with a RS row, shape the shoulder:"
            elif frame.verb == "ending" and self.rows and (frame.one("rows") or frame.one("side")):
                self._ended(frame)
                at += 1
            elif frame.verb == "join":
                self.rejoined = frame.one("side")
                self.rejoins = any(row.has(Kind.CUT) for row in self.rows)
                at += 1
            elif frame.verb == "decrease" and "rows" in frame.parts:
                self.decreases(frame)
                at += 1
            elif turns_in_told_row(frames[at : at + 2]):
                stop = end_of_row(frames, at)
                self.fill_to_side(side_of_rows(frame))
                row = self._row([in_row(frame), *frames[at + 1 : stop]])
                self._append(replace(row, side=side_of_rows(frame) or row.side))
                at = stop
            elif frame.verb in ("work", "back_row") and (
                "rows" in frame.parts or frame.verb == "back_row"
            ):
                if "more" in frame.parts and "count" in frame.parts:
                    self._refuse(frame)  # "work 7 fewer sts at the end of each of the next 4 rows"
                self._plain_rows(frame)
                at += 1
            elif "count" in frame.parts and (
                not frame.verb
                or (
                    frame.verb == "hold"
                    and not slips_one(frame)
                    and "holder" not in with_holders(frames[at:])[0].parts
                )
            ):
                if frame.verb == "hold" and frame.parts.keys() & {"rows", "more", "end"}:
                    self._refuse(frame)  # "leave 7 sts more at the end of the foll 2 rows"
                if not self._tells_held(frame):
                    self._print_count(frame.amount)
                at += 1
            elif (not frame.verb and not frame.parts) or (tells_height(frame) and not self.rows):
                at += 1
            else:
                stop = end_of_row(frames, at)
                rows_told = frame.one("rows")
                if (
                    frame.verb == "bind_off"
                    and rows_told is not None
                    and rows_told.kind in _AFTER_A_ROW
                ):
                    self._gap()  # "the last 6 sts at beg of foll alt row"
                elif (
                    frame.verb == "bind_off"
                    and rows_told is not None
                    and rows_told.kind == "later_rows"
                    and rows_told.amount is not None
                ):
                    # "the last 7 sts 2 rows later"
                    self._go_on_to_later(self._value(rows_told.amount))
                elif frame.verb == "bind_off" and rows_told and rows_told.kind == "row_number":
                    self._reach(rows_told)  # "..., and the remaining 6 sts on the 7th row"
                elif frame.inherited and self.alternate and "times" in frame.parts:
                    self._gap()  # "on WS rows bind off 6 sts 3 times, then remaining 5 once"
                row = self._row(frames[at:stop])
                back = stop < len(frames) and frames[stop].verb == "back_row"
                if back and row.acts and WORK_ALL not in row.acts and not row.has(Kind.TURN):
                    row = row.with_acts(*row.acts, WORK_ALL)  # "bind off 5 sts, k back"
                part = holds_part(frames, at, stop) and self._sloped()
                if part or holds_side(frame):
                    row = row.with_acts(Act(Kind.HOLD, row.claim), *row.acts[1:])
                if row.dec and not row.acts:
                    self._refuse(frame)  # "..., dec 1 st at neck edge": in which rows?
                if row.acts:
                    if self.rejoins and self._sloped():
                        row = row.with_acts(Act(Kind.JOIN), *row.acts)
                    self.rejoins = False
                    if self.rejoined is not None and not row.side:
                        row = replace(row, side=side_named(self.rejoined.side))
                    self.rejoined = None
                    self._append(row)
                at = stop
                if is_about_later(frames, at):
                    break
        for frame in frames:
            if frame.whole is not None:
                self._check_whole(frame, *frame.whole, self.rows[begun:])

    def _ended(self, frame: Frame) -> None:
        """Read "..., ending with a RS row": the side of the last row."""
        told = frame.one("rows") or frame.one("side")
        side = side_named(told.side) if told is not None else None
        if side is None or self.rows[-1].side not in (None, side):
            self._refuse(frame)
        self.rows[-1] = replace(self.rows[-1], side=side)

    def _sloped(self) -> bool:
        """Say whether rows turned before the edge: one shoulder of two may be held by itself."""
        return not self.dividing and any(row.has(Kind.TURN) for row in self.rows)
