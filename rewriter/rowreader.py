"""One row from its frames: what the words of a row do to the stitches, in working order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.frames import Frame
from rewriter.hungmarkers import SLIPPED, WORKED_ST
from rewriter.neckdec import beside_decrease, decrease_in_row, decreased_sts
from rewriter.parsing import Part
from rewriter.rowframes import side_named, with_holders
from rewriter.rows import TURN, WORK_ALL, Act, Kind, Row, bind_off, leave
from rewriter.shortframes import slips_one, turns_after, turns_before_end
from rewriter.spans import Span
from rewriter.turnruns import TurnRunReader

_NECK = regex.compile(r"(?i)\bneck\b")
_WRAPS = frozenset({"wrap_turn", "twin_turn"})
"""Turns that need a st ahead: a row worked to its end has none to wrap."""


class RowReader(TurnRunReader):
    """Reads the frames of one row."""

    at_neck = False
    """The row was worked to the neck edge, beyond which other sts may be worked with a ball of their own."""

    def _row(self, frames: Sequence[Frame], labelled: bool = False) -> Row:
        """Read one row from its frames; a labelled one goes on to the end of the row."""
        acts: list[Act] = []
        self.at_neck = self.turned_at_end = False
        span = Span(frames[0].start, frames[-1].end)
        row = Row((), aid=self.aid_due not in ("", SLIPPED), statement=self.number, span=span)
        self.begun = self.aid_due in WORKED_ST
        self.aid_due = ""
        for frame in with_holders(frames):
            row = self._act(frame, row, acts)
        if row.aid and not acts:
            self.aid_due = frames[0].concept  # "make DS", told by itself behind a turn
        if _folds_band(acts, frames) or _folds_last(acts):
            row = replace(row, word="work")  # in two stitches
        row = self._band_first(row, acts, frames)
        row = beside_decrease(row, acts, frames, self.source)
        if labelled and len(acts) == 1 and acts[0].kind is Kind.BIND_OFF and acts[0].n is not None:
            acts.append(WORK_ALL)
        if acts and self._takes_up_other_side(frames):
            acts.insert(0, Act(Kind.JOIN))
        return row.with_acts(*acts)

    def _takes_up_other_side(self, frames: Sequence[Frame]) -> bool:
        """Say whether a row goes over the other side of a neck by its own yarn: that of the first is cut."""
        told = any("other_side" in f.parts for f in frames[:1])
        return told and bool(self.rows) and self.rows[-1].has(Kind.CUT)

    def _band_first(self, row: Row, acts: list[Act], frames: Sequence[Frame]) -> Row:
        """Read "K9, p to end" as one row worked on, the band's words kept."""
        of_work = [f.verb for f in frames[:2]] == ["work", "work"]
        goes_on = len(acts) > 1 and (acts[1] == WORK_ALL or acts[1].kind is Kind.LEAVE)
        if not of_work or not goes_on or acts[0].kind is not Kind.WORK or acts[0].n is None:
            return row
        if any(f.verb == "decrease" for f in frames) or row.until is not None:
            return row
        del acts[0]
        return replace(row, band=self.source[frames[0].start : frames[0].end])

    def _act(self, frame: Frame, row: Row, acts: list[Act]) -> Row:
        verb = frame.verb
        if (edge := frame.edge) and edge != row.edge and verb != "decrease":
            row = replace(row, edge=edge)
        if (facing := frame.one("side")) and not row.side:
            row = replace(row, side=side_named(facing.side))
        if verb == "hold" and acts[-1:] == [bind_off(None)] and "holder" not in frame.parts:
            return row  # "bind off rem sts, leaving first and last st loose"
        if verb == "decrease":
            return self._decrease(frame, row, acts)
        if verb == "bind_off":
            acts.append(bind_off(None if frame.takes_all else self._count(frame)))
            row = replace(row, neck_words=self.source[frame.start : frame.end])
            if frame.takes_all and frame.amount:
                twice = self.at_once and "each_side" in frame.parts  # "rem 18 sts each side"
                row = replace(row, claim=self._count(frame) * (2 if twice else 1))
        elif verb == "aid" and acts[-1:] == [TURN]:
            self.made |= {frame.concept}
            self.aid_due = frame.concept  # "..., turn, make DS": it begins the next row
        elif verb == "aid":
            self.made |= {frame.concept}
            self.begun = frame.concept in WORKED_ST
            if acts:
                raise Unread("turn-unclear", "a turning st stands inside the row", frame.span)
            row = replace(row, aid=self.size + 1 not in frame.excepts)
        elif verb in ("work", "work_row", "back_row"):
            extent = frame.one("extent")
            if self.at_once and "other_side" in frame.parts and acts[-1:] == [WORK_ALL]:
                return row  # "k to neck edge; with second ball, k to end": one row over both sides
            place = self.turn_place(extent) if extent is not None else None
            act = self._work(frame) if place is None else place[0]
            if act.kind is Kind.LEAVE and frame.inherited and acts[-1:] == [WORK_ALL]:
                acts.pop()  # "P across to last 8 sts"
            elif self.at_neck and acts[-1:] == [WORK_ALL]:
                acts.pop()  # "p to neck edge; with other ball p to last 8 sts"
            self.at_neck = (
                extent is not None and extent.kind == "to_end" and _to_neck(extent, self.source)
            )
            acts.append(act)
            row = row if place is None else replace(row, further=place[1])
            if len(acts) == 1 and self.begun and acts[0].kind is Kind.WORK and acts[0].n:
                acts[0] = Act(Kind.WORK, acts[0].n + 1)  # "DS, k 44": the DS is the first of 45
            if extent is not None and extent.kind == "until_count" and extent.amount:
                row = replace(row, until=self._value(extent.amount))
            elif self.dividing and frame.amount:
                row = replace(row, until=self._count(frame))
            if row.word != frame.concept:
                row = replace(row, word=frame.concept)
        elif verb == "turn" and turns_after(frame, self.source) and acts in ([], [WORK_ALL]):
            row = self.after_sts(self._count(frame), frame, row)
            acts[:] = row.acts  # "k, turn after 83 sts"
        elif verb == "turn" and _turns_nowhere(frame, acts or self.rows[-1:]):
            raise Unread("turn-unclear", "before which sts this row turns is not told", frame.span)
        elif turns_before_end(frame) and not acts:
            acts += [leave(self._count(frame)), TURN]  # "turn 8 sts before the end of each row"
        elif verb == "turn" and TURN in acts:
            raise Unread("turn-unclear", "this row seems to turn twice", frame.span)
        elif verb == "turn" and not acts:
            self.turn_last_row()
        elif verb == "turn":
            self.turned_at_end = acts[-1:] == [WORK_ALL]
            if not self.turned_at_end:  # "K to end, turn": every row is turned at its end
                acts.append(TURN)
        elif verb == "closing":
            self.close_across(frame)
            row = replace(row, closes=True)
        elif slips_one(frame) and acts[-1:] == [TURN]:
            self.aid_due = SLIPPED  # "..., turn, sl 1": it begins the next row
        elif slips_one(frame) and not acts:
            self.begun = True
        elif verb == "hold" and (told := self.leave_unworked(frame, row, acts)) is not None:
            row = told
        elif verb == "hold" and "holder" not in frame.parts and frame.amount:
            row = replace(row, printed=self._count(frame))  # "..., leaving 31 sts"
        elif verb == "hold":
            acts.append(self._hold(frame))
            row = replace(row, claim=self._count(frame) if frame.amount else None)
        elif verb == "fasten_off" and "count" in frame.parts:
            acts.append(bind_off(None))  # "fasten off rem sts"
            row = replace(row, claim=self._count(frame) if frame.amount else None)
        elif verb == "fasten_off":
            acts.append(Act(Kind.CUT))
        elif not verb and "count" in frame.parts and acts[-1:] == [Act(Kind.HOLD)]:
            pass  # "place all sts on holders: 16 for each shoulder, 30 for the neck"
        elif not verb and "count" in frame.parts and acts:
            row = replace(row, printed=self._count(frame))
        else:
            self._refuse(frame)
        return row

    def _decrease(self, frame: Frame, row: Row, acts: Sequence[Act]) -> Row:
        """Read a decrease among the words of one row."""
        n = decreased_sts(frame, self._value(frame.amount) if frame.amount else None)
        return decrease_in_row(frame, row, acts, n, self.source)

    def _work(self, frame: Frame) -> Act:
        extent = frame.one("extent")
        if extent is None or extent.kind in ("to_end", "to_band"):
            if frame.amount and not frame.takes_all:
                return Act(Kind.WORK, self._count(frame))
            return WORK_ALL
        if extent.kind == "until_count" and self.dividing:
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
                "sts are decreased or increased in these rows; such rows are not converted yet",
                frame.span,
            )
        raise Unread("not-understood", "this is not understood among these rows", frame.span)


def _to_neck(extent: Part, source: str) -> bool:
    """Say whether a row is worked to the neck edge."""
    return _NECK.search(extent.span.of(source)) is not None


def _turns_nowhere(frame: Frame, told: Sequence[Act] | Sequence[Row]) -> bool:
    """Say whether a st is to be wrapped where the row has come to its end and has none ahead."""
    last = told[-1] if told else None
    act = last.acts[-1] if isinstance(last, Row) and last.acts else last
    return frame.concept in _WRAPS and act == WORK_ALL


def _folds_band(acts: list[Act], frames: Sequence[Frame]) -> bool:
    """Read "work to the band, moss 8" as a row worked to its end; says whether it is one."""
    to_band = any((e := f.one("extent")) is not None and e.kind == "to_band" for f in frames)
    if not to_band or len(acts) < 2 or acts[-2] != WORK_ALL or acts[-1].kind is not Kind.WORK:
        return False
    acts.pop()
    return True


def _folds_last(acts: list[Act]) -> bool:
    """Read "purl to last 5 sts, K5" as a row worked to its end; says whether it is one."""
    if len(acts) < 2 or acts[-1].kind is not Kind.WORK or acts[-2].kind is not Kind.LEAVE:
        return False
    if acts[-1].n not in (None, acts[-2].n):
        return False
    acts[-2:] = [WORK_ALL]
    return True
