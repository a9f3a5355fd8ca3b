"""Where a short row turns, as people write it: from the end, from the turn before, at a marker."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from rewriter import regex
from rewriter.amounts import Amount
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.parsing import Part
from rewriter.rowframes import side_named
from rewriter.rows import TURN, WORK_ALL, Act, Kind, Row, leave
from rewriter.spans import Span
from rewriter.together import TogetherReader

SLIPPED = "slipped"
"""What stands for a st that is slipped after a turn, which is no aid of its own."""
WORKED_ST = frozenset({"double", "pinned", SLIPPED})
"""Aids that are a worked st: it is counted in "DS, k 44", and lies on the near side of the turn."""

_OF_MARKERS = regex.compile(r"(?i)\s*(?:stitch |removable |locking )?markers?\b")
"""Behind a number of markers: "place 4 markers: 7 sts and 14 sts from each edge"."""
_NAMED = regex.compile(r"\s*(?:\d|[A-Z]\b)")
"""Behind a marker that is called by a letter or a number: "to marker 7"."""
_CALLED = regex.compile(r"(?i:\b(?:markers?|mkrs?|m)\s+)(?P<name>[A-D])\b")
"""A marker with the letter it is called by: "place marker A"."""


class TurnReader(TogetherReader):
    """Reads the turns of one row, with the turns before it in mind."""

    begun = False
    """The first st of the row is told by itself: a double st, a slipped st."""
    aid_due = ""
    """The aid that was told behind the last turn: "turn, make DS"."""
    made: frozenset[str] = frozenset()
    """The aids that were made at turns so far."""
    further: int | None = None
    """By how many sts each repeated turn lies before the one before it."""
    markers: tuple[Amount, ...] = ()
    """Stitches from each edge at which markers hang, as written."""
    called: Mapping[str, Amount] = MappingProxyType({})
    """The same by the letters that markers are called by."""

    def note_markers(self, statement: Statement) -> None:
        """Remember where markers are hung: "place markers 8 and 16 sts from each edge"."""
        if not any(f.verb == "mark" for f in statement.frames):
            return
        told = [p for f in statement.frames for p in f.parts.get("count", []) if p.amount]
        told += [p for p in statement.running if p.amount]
        source = statement.sentence.source
        told = sorted(
            (p for p in told if not _OF_MARKERS.match(source, p.span.end)), key=lambda p: p.span
        )
        own = tuple(p.amount for p in told if p.amount)
        goes_on = bool(own) and statement.sizes is None and self._lie_further_in(own)
        self.markers = (*self.markers, *own) if goes_on else own
        span = statement.sentence.span
        names = list(_CALLED.finditer(source, span.start, span.end))
        if len(names) == len(told) and names:
            ahead = names[0].start() < told[0].span.start
            places = [(n.start(), n) for n in names] + [(p.span.start, p) for p in told]
            kinds = [x in names for _, x in sorted(places, key=lambda both: both[0])]
            if kinds == [ahead, not ahead] * len(names):  # each name stands beside its number
                called = zip(names, told, strict=True)
                found = {n["name"].lower(): p.amount for n, p in called if p.amount}
                self.called = {**self.called, **found}

    def _lie_further_in(self, own: Sequence[Amount]) -> bool:
        """Say whether markers are hung on top of those told in the sentence before."""
        if not self.markers:
            return False
        try:
            return self._value(self.markers[-1]) < self._value(own[0])
        except Unread:
            return False

    def last_turn(self, place: Span | None = None) -> int:
        """Return the sts that the last turn at the edge of the next row leaves; raises Unread."""
        here = len(self.rows)
        for row in self.rows[here - 2 :: -2] if here >= 2 else ():
            for act in row.acts:
                if act.kind is Kind.LEAVE and act.n is not None and row.has(Kind.TURN):
                    return act.n
        raise Unread(
            "turn-unclear",
            "the place of this turn is counted from one that is not told in sts from the end",
            place or Span(0, 0),
        )

    def turn_place(self, extent: Part) -> tuple[Act, int | None] | None:
        """Return how far an extent works, and by how many sts it lies before the turn before it.

        None for an extent that names no turn.
        """
        if extent.kind == "until_left" and extent.amount is not None and not self.dividing:
            return leave(self._value(extent.amount)), None
        if extent.kind == "before_turn" and extent.amount is not None:
            further = self._value(extent.amount) + (extent.concept in WORKED_ST)
            return leave(self.last_turn(extent.span) + further), further
        if extent.kind == "to_marker":
            return leave(self._at_marker(extent)), None
        return None

    def _at_marker(self, extent: Part) -> int:
        made = sum(1 for row in self.rows[len(self.rows) - 2 :: -2] if row.has(Kind.TURN))
        if len(self.rows) < 2:
            made = 0
        places = [self._value(amount) for amount in self.markers]
        lettered = len(extent.concept) == 1 and extent.concept.isalpha()
        if lettered and (amount := self.called.get(extent.concept)) is not None:
            return self._value(amount)
        if lettered or _NAMED.match(self.source, extent.span.end):
            raise Unread("turn-unclear", "which marker this is cannot be told surely", extent.span)
        concept = extent.concept
        number = made
        if concept.isdigit() or concept.startswith("from_end_"):
            number = int(concept.removeprefix("from_end_")) - 1
        elif concept in ("outer", "inner"):
            number = 0 if concept == "outer" else len(places) - 1
        if places and number >= len(places):
            raise Unread(
                "turn-unclear",
                f"which marker this is cannot be told: {len(places)} "
                f"{'hang' if len(places) > 1 else 'hangs'} at each edge, as the text has it",
                extent.span,
            )
        if (concept == "inner" and len(places) > 2) or places != sorted(set(places)) or not places:
            raise Unread(
                "turn-unclear",
                "where this marker hangs is not told in sts from the edge",
                extent.span,
            )
        return places[number]

    def unworked(self, frame: Frame) -> tuple[int, bool] | None:
        """Return the sts of "leaving 8 (more) sts unworked", and if they come on top of those before."""
        told = frame.verb == "hold" and any(n.concept == "unworked" for n in frame.notes)
        # "leave 7 sts unworked at end of next 2 rows, then 7 more sts at end of foll 2 rows"
        again = frame.verb == "hold" and {"more", "end", "rows"} <= frame.parts.keys()
        if not (told or again) or frame.amount is None:
            return None
        return self._value(frame.amount), "more" in frame.parts

    def run_of_turns(self, frames: Sequence[Frame]) -> tuple[list[Row], int] | None:
        """Read "work 4 short rows, leaving 7 more sts unworked at the end of each" and its frames.

        Each row turns further from its edge than the row before the last one: the first two count from
        the edges.
        """
        frames = _leaving_last(frames)
        alone = (
            frames[0].verb == "hold"
        )  # "Leave 7 more sts unworked at the end of each of the next 4 rows"
        if not alone and (
            len(frames) < 2 or frames[0].verb != "work" or "extent" in frames[0].parts
        ):
            return None
        leaves = frames[0 if alone else 1]
        told = self.unworked(leaves)
        rows = frames[0].one("rows") or leaves.one("rows")
        if told is None or "holder" in leaves.parts or (alone and rows is None):
            return None
        if rows is not None and rows.kind == "every_row" and (run := self._rows_until(frames)):
            return run
        if rows is None or rows.kind not in ("some_rows", "next_rows", "next_side_rows"):
            return None
        n, on_top = told
        count = self._value(rows.amount) if rows.amount is not None else 1
        count *= 2 if "each_side" in frames[0].parts else 1
        span = Span(frames[0].start, leaves.end)
        if (not alone and frames[0].amount is not None) or rows.kind == "next_side_rows":
            raise Unread("not-understood", "where these rows turn is not understood", span)
        if count > 2 and not on_top:
            raise Unread(
                "turn-unclear",
                f"are {n} sts more left at the end of each of these {count} rows, or the same {n} sts?",
                span,
            )
        if count == 1:
            return None
        used = 1 if alone else 2
        while used < len(frames) and frames[used].verb == "turn":
            used += 1
        facing = frames[0].one("side")
        out: list[Row] = []
        begun = self.rows
        for number in range(count):
            self.rows = [*begun, *out]
            place = n if number < 2 and not self._turned_before() else self.last_turn(span) + n
            row = Row(
                (leave(place), TURN),
                word="work" if alone else frames[0].concept,
                span=span,
                statement=self.number,
            )
            first = side_named(facing.side) if facing is not None and number == 0 else None
            out.append(replace(row, side=first, further=n))
        self.rows = begun
        return out, used

    def _rows_until(self, frames: Sequence[Frame]) -> tuple[list[Row], int] | None:
        """Read "cont in this way, leaving 9 sts more at end of every row until 27 are left at each end"."""
        told, extent = self.unworked(frames[1]), frames[1].one("extent")
        if told is None or extent is None or extent.kind != "until_left" or extent.amount is None:
            return None
        n, most = told[0], self._value(extent.amount)
        span = Span(frames[0].start, frames[1].end)
        begun, out = self.rows, list[Row]()
        while n and (place := self.last_turn(span) + n) <= most:
            row = Row((leave(place), TURN), word="work", span=span, statement=self.number)
            out.append(replace(row, further=n))
            self.rows = [*begun, *out]
        reached = self.last_turn(span) if not out else out[-1].acts[0].n
        self.rows = begun
        if reached != most:
            raise Unread(
                "sums", f"turns that leave {n} sts more each time do not come to {most}", span,
                (self.size,),
            )  # fmt: skip
        return out, 2

    def _turned_before(self) -> bool:
        here = len(self.rows)
        return here >= 2 and any(row.has(Kind.TURN) for row in self.rows[here - 2 :: -2])

    def close_across(self, frame: Frame) -> None:
        """Refuse "k2tog across each gap" where no yarn-over was made at the turns."""
        if frame.concept == "across" and not self.made & {"yarn_over", "pinned"}:
            raise Unread(
                "turn-unclear",
                "two sts are worked together at each gap, but no yarn-over is made at the turns: is a st "
                "lost there?",
                frame.span,
            )

    def turn_last_row(self) -> None:
        """Read "Turn" at the beginning of a sentence: it ends the row told before."""
        if not self.rows or not self.rows[-1].acts:
            return
        last = self.rows[-1]
        if last.acts[-1].kind is Kind.LEAVE or (
            last.acts[-1].kind is Kind.WORK and last.acts[-1].n is not None
        ):
            self.rows[-1] = last.with_acts(*last.acts, TURN)

    def leave_unworked(self, frame: Frame, row: Row, acts: list[Act]) -> Row | None:
        """Read "K to end, leaving 8 sts unworked" and "turn, leaving 8 sts unworked"."""
        told = self.unworked(frame)
        # "P 6, turn, leaving 5 sts": the sts worked and those left are told side by side
        counted = [a.kind for a in acts] == [Kind.WORK, Kind.TURN] and acts[0].n is not None
        if told is None and counted and frame.amount is not None and not self.dividing:
            told = None if "holder" in frame.parts else (self._value(frame.amount), False)
        if told is None:
            said = frame.verb == "hold" and any(n.concept == "unworked" for n in frame.notes)
            return row if said and "holder" not in frame.parts else None
        if "rows" in frame.parts:
            return None  # more than one row is told
        n, on_top = told
        turned = acts[-1:] == [TURN]
        while acts and acts[-1] in (TURN, WORK_ALL):
            acts.pop()
        acts.append(leave(self.last_turn(frame.span) + n if on_top else n))
        if turned:
            acts.append(TURN)
        return replace(row, further=n if on_top else None, told_twice=counted)

    def further_of(self, frames: Sequence[Frame]) -> int | None:
        """Return how many more sts each repeat leaves: "leaving 8 more sts unworked each time".

        `frames` are the repeat and what stands behind it.
        """
        extent = frames[0].one("extent")
        if extent is None and self.further_behind(frames):
            extent = frames[1].one("extent")
        if extent is not None and extent.kind == "before_turn" and extent.amount is not None:
            # "stopping 7 sts before the last wrap each time"
            return self._value(extent.amount) + (extent.concept in WORKED_ST)
        return self._more_left(frames[1]) if self.further_behind(frames) else None

    def further_behind(self, frames: Sequence[Frame]) -> bool:
        """Say whether the frame behind a repeat tells where its rows turn."""
        if len(frames) < 2:
            return False
        extent = frames[1].one("extent")
        placed = extent is not None and extent.kind == "before_turn" and frames[1].verb == "work"
        return placed or self._more_left(frames[1]) is not None

    def _more_left(self, frame: Frame) -> int | None:
        rows = frame.one("rows")
        if rows is not None and rows.kind not in ("every_row", "every_side_row", "every_other"):
            return None
        if frame.amount is None or "more" not in frame.parts:
            return None
        if frame.verb not in ("hold", "work", "turn"):
            return None
        return self._value(frame.amount)

    def again(self, row: Row) -> Row:
        """Return a repeated row with its turn in its new place."""
        further = row.further if row.further is not None else self.further
        if further is None or not row.has(Kind.TURN) or not row.has(Kind.LEAVE):
            return row
        place = self.last_turn() + further
        acts = tuple(leave(place) if a.kind is Kind.LEAVE else a for a in row.acts)
        return replace(row, acts=acts)


def _leaving_last(frames: Sequence[Frame]) -> Sequence[Frame]:
    """Read "leaving 7 more sts unworked at the end of each row, work 4 short rows" the other way round."""
    if [f.verb for f in frames[:2]] != ["hold", "work"] or "extent" in frames[1].parts:
        return frames
    told, rows = frames[0].one("rows"), frames[1].one("rows")
    each = told is None or told.kind == "every_row"
    if not each or rows is None or rows.kind not in ("some_rows", "next_rows"):
        return frames
    left = {slot: parts for slot, parts in frames[0].parts.items() if slot != "rows"}
    return [frames[1], replace(frames[0], parts=left), *frames[2:]]
