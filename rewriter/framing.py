"""From parts to frames: the slots of each frame are filled from the parts around it.

Pattern English is telegraphic: the same facts come in any order, and an item of a chain drops what
the item before it already said. A frame takes the parts as they come; when a slot is filled twice
a new frame begins, and what stood after the last link word goes with it. A chain item inherits the
verb, the count or the cadence it does not say itself. Words that no slot takes are residue.
"""

from __future__ import annotations

from dataclasses import replace

from rewriter.bracketed import BracketReader
from rewriter.chains import STEPPING, spread_cadence, verb_behind, with_subject, without_head
from rewriter.frames import Frame
from rewriter.parsing import Part
from rewriter.sharedout import shared_out
from rewriter.slots import (
    LEADING,
    SLOTS,
    TELLS_STEPS,
    VERBS,
    adds_cadence,
    from_row,
    is_one_row,
    names_side,
)
from rewriter.totals import take_totals


class Builder(BracketReader):
    """Fills frames from the parts of a sentence."""

    def add(self, part: Part) -> None:
        kind = part.kind
        left, self.left = self.left, part if kind == "left_count" else None
        if self.in_all.take_off(self.current, part):
            self.since_link = []
        if kind in ("link", "colon", "stop", "dash"):
            goes_on = self.word_link and self.behind_link  # "and then, in every 2nd row, ..."
            if kind == "link" and not part.concept and self._stands_between():
                self.behind_link = (
                    True  # "..., then, every two rows, 5 sts": the rows are those of the 5 sts
                )
                return
            self.since_link = self._leading_on() if kind == "colon" else []
            self.word_link = kind == "link" and (part.concept == "link" or goes_on)
            self.behind_link = True
            if kind == "colon" and not self.current.verb and self._tells_height():
                if any(n.concept == "since" for n in self.current.notes):
                    self.since_link = []  # "74 rows from the armhole mark:" are worked up to here
                self._open_behind_height()  # "After 6 inches come the shoulders: ...", "After 74 rows: ..."
            self.set_off = kind != "link"
            if kind == "link" and "rows" in self.current.parts and not self._tells_rows_first():
                self.current.inherited_count = False  # the item is told to its end
            return
        if kind == "paren":
            self._paren(part)
        elif kind == "work_row" and self.current.verb == "ending":
            self._fill("rows", part)
        elif part.concept == "height" and self._awaits_count():
            self.current.notes.append(part)  # "close, at the same height as the back, 2x8 sts"
        elif kind == "until_off" and self._counts_again(part):
            self.current.notes.append(part)  # "every row, until 6 sts have been bound off twice"
        elif kind == "next_edge_row":  # "at beg of next armhole-edge row"
            self._slot("edge", replace(part, kind="edge"))
            self._slot("rows", replace(part, kind="next_alt_rows", concept=""))
        elif kind == "finish_row":
            self._verb(replace(part, kind="work", concept="work"))
            self._fill("extent", replace(part, kind="to_end"))
        elif kind == "do_like":
            self._do_like(part)
        elif kind == "by_binding":
            self._by_binding(part)
        elif part.concept == "passive":
            self._passive(replace(part, concept="counted" if kind == "decrease" else kind))
        elif kind == "bind_off" and verb_behind([*self.frames, self.current], part):
            self._stretch(self.current, part)
        elif kind in VERBS:
            self._verb(part)
        elif kind in SLOTS:
            self._slot(SLOTS[kind], part)
        elif kind in ("filler", "star", "row_on"):
            self.current.notes.append(part)
        elif kind == "original_count":
            self.opening.append(replace(part, kind="count"))  # the sts before the shaping
            self._stretch(self.current, part)
        elif kind == "likewise" and self._is_elided() and not self.current.amount:
            self._fill("count", replace(part, kind="same_count"))
        elif kind == "remain":
            self._remain(part)
        else:
            self.current.residue.append(part)
            self._stretch(self.current, part)
        self.set_off = self.behind_link = False
        if left is not None and part.concept in ("passive", "told_of_sts"):
            self._take_left(left)

    def _stands_between(self) -> bool:
        """Say whether nothing but rows was told since the last "then", of which the frame has none else."""
        alone = [slot for slot, _ in self.since_link] == ["rows"]
        alone = alone and len(self.current.parts.get("rows", [])) == 1
        return self.word_link and alone and self.current.parts.keys() >= {"count", "edge"}

    def _leading_on(self) -> list[tuple[str, Part]]:
        """Return what goes on to hold behind a colon: "shape the shoulders at each side: cast off ..."."""
        shaped = self.current.verb in ("cast_on", "decrease", "increase") and self.current.amount
        if self.current.verb == "bind_off" or shaped:
            return []
        told = self.since_link
        first = next((i for i in range(len(told)) if all(s in LEADING for s, _ in told[i:])), None)
        return [] if first is None else told[first:]

    def _tells_height(self) -> bool:
        """Say whether a length or a number of rows leads up to what follows."""
        rows = self.current.one("rows")
        counted = rows is not None and rows.kind == "some_rows" and "beg" not in self.current.parts
        return counted or "measure" in self.current.parts

    def _tells_rows_first(self) -> bool:
        """Say whether the items of a chain tell their rows before their sts: "on next 2 rows BO 6, ..."."""
        rows, count = (self.frames[-1].one(s) if self.frames else None for s in ("rows", "count"))
        return rows is not None and count is not None and rows.span < count.span

    def _counts_again(self, part: Part) -> bool:
        """Say whether a part gives the count of the frame a second time."""
        count, again = self.current.amount, part.amount
        return count is not None and again is not None and count.values == again.values

    def _awaits_count(self) -> bool:
        """Say whether sts are bound off, but it has not been said yet how many."""
        told = self.current.parts.keys() & {"count", "steps"}
        return self.current.verb == "bind_off" and not self.current.inherited and not told

    def _passive(self, part: Part) -> None:
        """Read "7 + 8 sts are bound off at each side": the sts come first."""
        told = with_subject([*self.frames, self.current], part)
        if told is None:
            self._verb(part)
            return
        *self.frames, self.current = told
        self.verb_at = part.span.start
        self._stretch(self.current, part)

    def _do_like(self, part: Part) -> None:
        """Begin an item in the way of the one before: "do the like with 7 sts on the two rows after"."""
        told = [f for f in (*self.frames, self.current) if f.verb in STEPPING]
        if not told:
            self.current.residue.append(part)
        else:
            self._open()
            self.current.verb, self.current.concept = told[-1].verb, told[-1].concept
            self.current.inherited = True
        self._stretch(self.current, part)

    def _by_binding(self, part: Part) -> None:
        """Read "6 sts are decreased at each side, by binding them off": the verb comes last."""
        if self.current.verb != "decrease":
            self._verb(replace(part, kind="bind_off", concept="bind_off"))
            return
        for frame in reversed([*self.frames, self.current]):
            frame.verb = frame.concept = "bind_off"
            if not frame.inherited:
                break
        self._stretch(self.current, part)

    def _verb(self, part: Part) -> None:
        own = self.current.verb and not self.current.inherited
        if part.kind == "bind_off" and self.set_off and self._awaits_count():
            # "bind off for the shoulders at both sides: bind off ..." says its verb twice
            self._stretch(self.current, part)
            return
        if part.kind == "bind_off" and not own and "measure" in self.current.parts:
            self._open_behind_height()
        if part.kind == "ending" and self.current.parts:
            self.since_link = []
            own = True  # what stands before an ending is told by itself
        if not own and self.current.inherited_count:
            del self.current.parts["count"]  # "..., on the WS row after that BO rem 7 sts"
            self.current.inherited_count = False
        counted = self.current.parts.keys() & {"count", "steps"}
        if own or (self.current.inherited and counted):
            self._open()
        self.current.verb, self.verb_at = part.kind, part.span.start
        self.current.concept = part.concept
        self.current.inherited = False
        self._stretch(self.current, part)
        if part.side and part.kind != "ending":
            self._fill("side", part)

    def _slot(self, slot: str, part: Part) -> None:
        if self._elides_verb(slot, part):
            self._open_elided()
            slot, part = "rows", part if slot == "rows" else replace(part, kind="side_row")
        counted = part.kind in ("count", "bare_count") and not self.current.parts
        if self.current.verb == "fasten_off" and counted and self.behind_link:
            self._open()  # "Cut yarn; 34 live sts remain"
        if slot == "count" and self.behind_link and self._steps_behind_row_back():
            self._open_elided()  # "bind off 8 sts, purl back, 8 sts, purl back, and the rest, 8 sts"
            self.current.inherited = False
        if slot == "extent" and part.kind == "to_last" and self.current.verb == "back_row":
            self.current.verb = "work"  # "K back on the 30 sts to last 10 sts, turn"
            self.current.notes += self.current.parts.pop("count", [])
        if (
            part.kind == "until_left"
            and part.concept == "on_needle"
            and self.current.verb == "work"
        ):
            part = replace(
                part, kind="until_count"
            )  # "patt until there are 17 sts on needle, turn"
        if (
            slot == "running"
            and self.current.verb in ("bind_off", "hold")
            and not self.current.parts.keys() & {"count", "steps"}
        ):
            slot, part = "count", replace(part, kind="rem_count")
        if slot == "running" or (slot == "count" and self._counts_row(part)):
            self._total(part)
            self._stretch(self.current, part)
            return
        if (
            part.kind == "every_other"
            and part.concept == "armhole"
            and "edge" not in self.current.parts
        ):
            self._fill("edge", replace(part, kind="edge"))  # "every row from the armhole"
        if slot == "other_side" and (self.current.parts or self.current.verb in ("", "aid")):
            self._open()  # "...; on other side bind off 3 sts": what follows is told of that side
        if slot == "on_needle" and self.current.verb == "hold" and self.current.takes_all:
            slot = "holder"  # "leave all sts on the needle: 21 sts for each shoulder and ..."
        rows = self.current.parts.get("rows")
        if slot == "side" and rows and rows[-1].kind == "every_row":
            rows[-1] = replace(rows[-1], kind="every_side_row", side=part.side)
            self._stretch(self.current, part)  # "on every row from the RS"
            return
        if slot == "side" and part.kind == "side" and not rows:
            beg = self.current.one("beg")
            if beg is not None and beg.concept == "rows":  # "of the rows on the wrong side"
                slot, part = "rows", replace(part, kind="every_side_row")
        if slot == "rows" and rows and names_side(rows[-1], part):
            # "(on right side rows) 8 sts on every 2nd row 3 times"
            every, side = sorted((rows[-1], part), key=lambda p: p.kind)
            rows[-1] = replace(every, kind="every_side_row", side=side.side, concept=side.side)
            self._stretch(self.current, part)
            return
        if slot == "rows" and self._rest_waits(part):
            count = self.running.pop()  # "..., and the 6 sts remaining on the 21st row"
            verb, concept = self.current.verb, self.current.concept
            self.since_link = []
            self._open()
            self.current.verb, self.current.concept, self.current.inherited = verb, concept, True
            self._fill("count", replace(count, kind="rem_count"))
            self._fill(slot, part)
            return
        by_length = "measure" in self.current.parts and not self.current.verb
        if slot == "rows" and part.kind == "some_rows" and self.set_off and by_length:
            self.current.notes.append(part)  # "at 59 cm = 142 rows from the rib"
            self._stretch(self.current, part)
            return
        taken = self.current.parts.get(slot)
        if not taken and slot in TELLS_STEPS and not self.set_off:
            # "(2x8) 2x9 (2x10) and 1x7 sts": the list told its steps; another item begins
            rivals = TELLS_STEPS - {slot} if slot == "steps" else {"steps"}
            taken = next((self.current.parts[s] for s in rivals if s in self.current.parts), None)
        if slot == "rows" and taken and taken[0].kind == "every_row" and part.kind == "some_rows":
            # "at the beginning of every row, for 6 rows"
            self.current.parts[slot] = [part]
            self._stretch(self.current, part)
            return
        if slot == "rows" and taken and part.kind == "every_row" and is_one_row(taken):
            self.current.parts[slot] = [part]  # "of the next row and of every row"
            self._stretch(self.current, part)
            return
        if slot == "rows" and taken and part.kind == "every_row" and self._counts_each(taken[0]):
            self._stretch(
                self.current, part
            )  # "on the next 6 rows cast off 8 sts at beg of each row"
            return
        nearest = self.since_link[-1] if self.since_link else None
        again = slot == "edge" and taken and taken[0].concept == part.concept
        if again and nearest and nearest[0] == "rows":
            self._stretch(self.current, part)  # "at the neck on the next row from the neck side"
            return
        rest = slot == "count" and taken is not None and taken[0].kind == "rem_all"
        if rest and taken and (nearest == (slot, taken[0]) or self._is_apart(taken[0])):
            taken = None  # "cast off all the remaining 34 sts", "cast off all the sts that remain, 34 sts"
            self.current.parts.pop(slot)
            part = replace(part, kind="rem_count")
        if rest and taken and taken[0].span.end <= self.verb_at and nearest != (slot, taken[0]):
            taken = None  # "on these sts (24) cast off 8 at beg of next row": which sts are in work
            self.current.parts.pop(slot)
            self.opening, self.running = [*self.opening, *self.running], []
            kept = [p.span.start for ps in self.current.parts.values() for p in ps]
            self.current.start = min([self.verb_at, *kept])
        if slot == "count" and taken and self._counts_before(taken[0]):
            self._count_apart()
            taken = None
        timed = self.current.verb == "decrease" and "times" in self.current.parts
        if slot == "count" and self.set_off and timed and "count" not in self.current.parts:
            self._total(part)  # "... and every foll 6th row 8 times in all - 50 sts"
            self._stretch(self.current, part)
            return
        if slot == "count" and self.set_off and self.current.parts.keys() & {"extent", "steps"}:
            taken = [part]  # "k to end - 52", "3 x 6 sts = 52 sts": a total
        if slot == "count" and self.current.inherited_count:
            del self.current.parts["count"]  # the item has a count of its own after all
            self.current.inherited_count, taken = False, None
        told = (
            from_row(taken or ()) and "count" in self.current.parts
        )  # "from row 37: 5 sts, on every ..."
        if taken and not (slot == "rows" and adds_cadence(taken, part) and not told):
            verb, concept = self.current.verb, self.current.concept
            last = self.current.one("count")
            set_off = self.set_off and slot == "count"
            # "8 sts at beg of next 2 rows, then 2 x 9 sts in every 2nd row": so often the count behind it
            often = slot == "count" and nearest is not None and nearest[0] == "times"
            late = self._times_of_later(part)
            self._open(often=often)
            for times in late:
                self._fill("times", times)
            if set_off:
                # "... next 2 rows - 43 sts": a total, unless rows follow
                verb = concept = ""
            self.current.verb, self.current.concept, self.current.inherited = verb, concept, True
            told_by_row = slot in (
                "rows",
                "beg",
            )  # "7 sts at beg of next 2 rows, again at beg of ..."
            if told_by_row and last is not None and "count" not in self.current.parts:
                self.current.parts["count"] = [last]
                self.current.inherited_count = True
        self._fill(slot, part)

    def _rest_waits(self, part: Part) -> bool:
        """Say whether a row by its number is told for the sts that were called the remaining ones."""
        rows = self.current.one("rows")
        waits = bool(self.running) and self.running[-1].kind == "left_count" and self.word_link
        behind = rows is not None and rows.span < self.running[-1].span if waits else False
        return behind and part.kind == "row_number" and self.current.verb == "bind_off"

    def _times_of_later(self, part: Part) -> list[Part]:
        """Take off how often a step is done again: "... on next row, and twice more, each 2 rows later"."""
        rows, times = self.current.one("rows"), self.current.one("times")
        if rows is None or times is None or times.span < rows.span:
            return []
        alone = self.since_link == [("times", times)] and SLOTS[part.kind] in ("rows", "beg")
        if part.kind != "later_rows" and not alone:
            return []
        self.since_link = []
        return self.current.parts.pop("times")

    def _counts_each(self, rows: Part) -> bool:
        """Say whether so many rows were told before the verb, each of which begins with what follows it."""
        counted = rows.kind == "next_rows" and rows.amount is not None
        told_first = counted and rows.span.start < self.verb_at
        return told_first and {"beg", "count"} <= self.current.parts.keys()

    def _counts_row(self, part: Part) -> bool:
        """Say whether sts are counted behind a row that goes to its end: "k to end; 40 sts"."""
        extent, alone = self.current.one("extent"), self.current.parts.keys() <= {"extent"}
        to_end = self.current.verb == "work" and extent is not None and extent.kind == "to_end"
        return part.kind == "count" and self.behind_link and to_end and alone

    def _open_behind_height(self) -> None:
        """Begin the frame of "After 20 cm armhole height cast off ...": a lead-in without a verb.

        "At 20 cm, beginning with a right side row, cast off ...": the row is that of the bind-offs.
        """
        told = self.current.parts.get("side", [])
        starting = [p for p in told if p.concept == "starting"]
        if starting:
            del self.current.parts["side"]
        self.current.end = self._end_without([("side", p) for p in starting])
        self._open()
        for part in starting:
            self._fill("side", part)

    def _is_apart(self, rest: Part) -> bool:
        """Say whether a count is set off behind the rest that is bound off: "... all that remain, 34 sts"."""
        alone = not self.current.inherited
        bound = self.current.verb == "bind_off" and alone and not self.word_link
        return bound and not self.since_link and rest.span.start > self.verb_at

    def finish(self) -> list[Frame]:
        self._give_back()
        frames = [f for f in [*self.frames, self.current] if not f.is_empty()]
        self.running += take_totals(frames)
        frames = without_head(frames)
        spread_cadence(frames)
        for before, frame in zip([Frame(), *frames], frames, strict=False):
            if frame.verb or not frame.parts:
                continue
            if "holder" in frame.parts:  # "rem 47 sts on holder"
                frame.verb = frame.concept = "hold"
            elif (
                before.verb in STEPPING
                and "count" in frame.parts
                and (frame.parts.keys() & {"rows", "beg", "times"})
            ):
                frame.verb, frame.concept, frame.inherited = before.verb, before.concept, True
        return shared_out(frames)
