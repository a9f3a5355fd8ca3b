"""The frame that is being filled, those before it, and what has been said since the last link word."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.frames import Frame
from rewriter.parsing import Part
from rewriter.sharedout import InAll
from rewriter.slots import LEADING


class FrameState:
    """What has been read of a sentence."""

    def __init__(self, phrases: bool, sizes: int = 0) -> None:
        self.frames: list[Frame] = []
        self.current = Frame()
        self.since_link: list[tuple[str, Part]] = []
        self.running: list[Part] = []
        self.opening: list[Part] = []
        self.sizes = sizes
        """For how many sizes a sentence is, where it is not for one."""
        self.phrases = phrases
        """Whether sizes are told in phrases: "twice (3 times)"."""
        self.verb_at = 0
        """Where the last verb stands."""
        self.word_link = False
        """Whether the last link was a word ("then", "and"), not a comma."""
        self.behind_link = False
        """Whether a link stands right before the part."""
        self.set_off = False
        """Whether a dash, colon or stop stands right before the part."""
        self.left: Part | None = None
        """The sts that are left, where the part right before tells them."""
        self.in_all = InAll()
        self.elided: list[Frame] = []
        """Frames whose rows stand behind a row that goes to its end, and whose verb is dropped."""

    def _without_edge(self) -> bool:
        """Say whether sts are bound off, and no edge has been named for it."""
        named = self.current.parts.keys() & {"edge", "each_side"}
        return self.current.verb == "bind_off" and not named

    def _total(self, part: Part) -> None:
        """Take a stitch count: one before the first verb is the count before the sentence."""
        begun = self.frames or self.current.verb or "count" in self.current.parts
        (self.running if begun else self.opening).append(part)

    def _take_left(self, left: Part) -> None:
        """Give a verb the sts that stand before it: "the 32 sts that are left are bound off"."""
        for counts in (self.running, self.opening):
            if counts and counts[-1] is left and "count" not in self.current.parts:
                self._fill("count", replace(counts.pop(), kind="rem_count"))

    def _remain(self, part: Part) -> None:
        """Read the last word of "until thirty-six sts. (thirty-eight) remain"."""
        extent = self.current.parts.get("extent")
        if extent and extent[-1].kind == "until_count":
            extent[-1] = replace(extent[-1], kind="until_left")
        else:
            self.current.residue.append(part)
        self._stretch(self.current, part)

    def _open(self, *, often: bool = False) -> None:
        """Begin a new frame; leading modifiers since the last link word go with it."""
        leading = LEADING | {"times"} if often else LEADING
        if self.word_link and any(s == "rows" for s, _ in self.since_link):
            leading = LEADING | {"times"}  # "8 sts, then in every 2nd row 2 x 8 sts"
        # what was taken out of the frame meanwhile goes with neither
        told = [(s, p) for s, p in self.since_link if p in self.current.parts.get(s, ())]
        moved = told if all(s in leading for s, _ in told) else []
        for slot, part in moved:
            self.current.parts[slot].remove(part)
            if not self.current.parts[slot]:
                del self.current.parts[slot]
        if moved:
            self.current.end = self._end_without(moved)
        self.frames.append(self.current)
        self.current = Frame()
        self.since_link = []
        for slot, part in moved:
            self._fill(slot, part)

    def _end_without(self, moved: Sequence[tuple[str, Part]]) -> int:
        gone = {id(part) for _, part in moved}
        kept = [p for ps in self.current.parts.values() for p in ps if id(p) not in gone]
        ends = [p.span.end for p in [*kept, *self.current.residue]]
        return max([*ends, self.current.start])

    def _fill(self, slot: str, part: Part) -> None:
        self.current.parts.setdefault(slot, []).append(part)
        self.since_link.append((slot, part))
        self._stretch(self.current, part)

    @staticmethod
    def _stretch(frame: Frame, part: Part) -> None:
        empty = frame.end == 0
        frame.start = part.span.start if empty else min(frame.start, part.span.start)
        frame.end = max(frame.end, part.span.end)

    def _elides_verb(self, slot: str, part: Part) -> bool:
        """Say whether rows begin a step whose verb is dropped, behind a step whose row goes to its end.

        "Cast off 7 sts, knit to end; on the next WS row 7 sts", "...; the WS row that follows likewise".
        """
        extent = self.current.one("extent")
        to_end = self.current.verb == "work" and extent is not None and extent.kind == "to_end"
        if not to_end or self.current.parts.keys() != {"extent"} or self.since_link:
            return False
        named = [n.kind for n in self.current.notes if n.span.end <= part.span.start][-1:]
        tells = (
            part.kind in _ROWS_OF_STEP if slot == "rows" else named == ["row_on"] and slot == "side"
        )
        before = self.frames[-1] if self.frames else Frame()
        return tells and before.verb == "bind_off" and "count" in before.parts

    def _counts_before(self, count: Part) -> bool:
        """Say whether a count before a bind-off tells the sts in work: "On 66 sts cast off 8 sts ..."."""
        frame = self.current
        ahead = all(p.span.end <= self.verb_at for ps in frame.parts.values() for p in ps)
        first = frame.verb == "bind_off" and not frame.inherited and not self.frames
        return (
            first
            and ahead
            and count.kind == "count"
            and frame.parts.keys() <= {"count", "stitch_pattern"}
        )

    def _count_apart(self) -> None:
        """Take a count before the bind-off out of its frame; that of a band is none of all sts."""
        frame = self.current
        (count,) = frame.parts.pop("count")
        frame.parts.pop("stitch_pattern", None)
        of_band = [n for n in frame.notes if n.concept == "neck" and n.span.end <= count.span.start]
        if not of_band:
            self.opening.append(count)
        frame.notes = [n for n in frame.notes if n not in of_band]
        frame.start, self.since_link = self.verb_at, []

    def _steps_behind_row_back(self) -> bool:
        """Say whether sts are told behind a row back after a step at one edge: another step."""
        before = self.frames[-1] if self.frames else Frame()
        back = self.current.verb == "back_row" and not self.current.parts
        placed = bool(before.edge) or any(before is frame for frame in self.elided)
        return back and placed and before.verb == "bind_off" and "count" in before.parts

    def _open_elided(self) -> None:
        """Begin the frame of such a step."""
        before = self.frames[-1]
        self._open()
        self.current.verb, self.current.concept, self.current.inherited = (
            "bind_off",
            before.concept,
            True,
        )
        self.elided.append(self.current)

    def _is_elided(self) -> bool:
        """Say whether the frame being filled is such a step."""
        return any(self.current is frame for frame in self.elided) and self.current.inherited

    def _give_back(self) -> None:
        """Give rows behind which no step was told to the row that goes to its end after all."""
        for frame in self.elided:
            told = frame.parts.keys() & {"count", "steps", "times"}
            if told or not frame.inherited or frame.verb != "bind_off":
                continue
            at = next(i for i, f in enumerate([*self.frames, self.current]) if f is frame)
            before = self.frames[at - 1]
            for slot, parts in frame.parts.items():
                before.parts.setdefault(slot, []).extend(parts)
            before.notes, before.residue = (
                before.notes + frame.notes,
                before.residue + frame.residue,
            )
            before.end = max(before.end, frame.end)
            frame.verb, frame.parts, frame.notes, frame.residue = "", {}, [], []


_ROWS_OF_STEP = frozenset(
    {
        "next_rows",
        "next_alt_rows",
        "next_side_rows",
        "foll_alt_rows",
        "foll_side_rows",
        "side_row",
        "later_rows",
    }
)
"""Rows that a further step may stand on."""
