"""Markers hung where rows turn: sts from each edge, told by themselves or within a row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from rewriter import regex
from rewriter.amounts import Amount
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.parsing import Part
from rewriter.rows import Kind
from rewriter.shortframes import hangs_in_row, slips_one
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


class MarkerReader(TogetherReader):
    """Reads where markers hang, and which of them a row is worked to."""

    markers: tuple[Amount, ...] = ()
    """Stitches from each edge at which markers hang, as written."""
    called: Mapping[str, Amount] = MappingProxyType({})
    """The same by the letters that markers are called by."""
    hung: Mapping[int, tuple[int, ...]] = MappingProxyType({})
    """Where markers hang that were placed within a row: sts from the edge at which the rows end whose
    numbers are even (0) or odd (1)."""

    def hang_in_row(self, statement: Statement, row: int) -> Statement:
        """Take the markers out of a row that hangs them: "K8, pm, k8, pm, k to last 16 sts, pm, ...".

        `row` is its number among the rows of the passage, -1 for the row before the first. Returns the
        sentence with the row alone.
        """
        frames = [f for f in statement.frames if f.verb or f.parts]
        last = hangs_in_row(frames)
        if last is None:
            return statement
        turned = last + 1 < len(frames) and frames[last + 1].verb == "turn"
        near, far, left = self._places_in_row(frames[: last + 1])
        self.markers = ()
        if left and turned and far:
            far.append(left)  # the row turns where no marker needs to hang
        hung = dict(self.hung)
        for side, places in ((row + 1, near), (row, far)):
            if places:
                hung[side % 2] = tuple(sorted(set(places)))
        self.hung = hung
        works = next(f for f in frames if f.verb == "work")
        kind = "to_last" if left else "to_end"
        extent = Part(kind, works.span, amount=Amount((left,), works.span) if left else None)
        kept = {
            slot: parts for slot, parts in works.parts.items() if slot not in ("count", "extent")
        }
        row_alone = replace(works, parts={**kept, "extent": [extent]}, end=frames[last].end)
        begun = frames[: frames.index(works)]
        return replace(statement, frames=[*begun, row_alone, *frames[last + 1 :]])

    def _places_in_row(self, frames: Sequence[Frame]) -> tuple[list[int], list[int], int]:
        """Return where the markers of a row hang, from its beginning and from its end, and what it leaves."""
        done: int | None = 0
        ahead: int | None = None
        marks: list[tuple[int | None, int | None]] = []
        for frame in frames:
            extent = frame.one("extent")
            if frame.verb == "mark":
                marks.append((done, ahead))
            elif frame.verb == "aid" or slips_one(frame):
                done = (
                    None
                    if done is None
                    else done + (frame.verb != "aid" or frame.concept in WORKED_ST)
                )
            elif extent is not None and extent.kind == "to_last":
                done, ahead = None, self._value(extent.amount) if extent.amount is not None else 1
            elif extent is not None or frame.amount is None or frame.takes_all:
                done, ahead = None, 0
            else:
                n = self._value(frame.amount)
                done = None if done is None else done + n
                ahead = None if ahead is None else ahead - n
                if ahead is not None and ahead < 0:
                    raise Unread("sums", f"{-ahead} sts more are worked here than are left", frame.span,
                                 (self.size,))  # fmt: skip
        total = self.before if done is None else done
        if ahead == 0 and done is None and total is not None:
            marks = [
                (at if at is not None or left is None else total - left,
                 left if left is not None or at is None else total - at)
                for at, left in marks
            ]  # fmt: skip
        elif done is not None and total is not None:
            marks = [(at, total - at if at is not None else left) for at, left in marks]
            ahead = 0
        near = [at for at, left in marks if at is not None and (left is None or at <= left)]
        far = [left for at, left in marks if left is not None and (at is None or left <= at)]
        return near, far, ahead or 0

    def note_markers(self, statement: Statement) -> None:
        """Remember where markers are hung: "place markers 8 and 16 sts from each edge"."""
        if not any(f.verb == "mark" for f in statement.frames):
            return
        told = [
            p for f in _counted_on(statement.frames) for p in f.parts.get("count", []) if p.amount
        ]
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

    def at_marker(self, extent: Part) -> int:
        """Return how many sts lie beyond the marker that a row is worked to; raises Unread."""
        made = sum(1 for row in self.rows[len(self.rows) - 2 :: -2] if row.has(Kind.TURN))
        if len(self.rows) < 2:
            made = 0
        places = [self._value(amount) for amount in self.markers]
        places = places or list(self.hung.get(len(self.rows) % 2, ()))
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


def _counted_on(frames: Sequence[Frame]) -> list[Frame]:
    """Count "another marker 8 sts further in" from the edge, as the marker before it is."""
    out: list[Frame] = []
    for frame in frames:
        last = out[-1].one("count") if out else None
        count = frame.one("count")
        more = frame.verb == "mark" and "more" in frame.parts
        if more and last is not None and last.amount and count is not None and count.amount:
            total = _sum(last.amount, count.amount)
            if total is not None:
                frame = replace(
                    frame, parts={**frame.parts, "count": [replace(count, amount=total)]}
                )
        out.append(frame)
    return out


def _sum(one: Amount, two: Amount) -> Amount | None:
    """Return the counts of two lists added, one number standing for all; None where that cannot be."""
    longest = max(len(one.values), len(two.values))
    lists = [v * longest if len(v) == 1 else v for v in (one.values, two.values)]
    if any(len(v) != longest or None in v for v in lists):
        return None
    return replace(two, values=tuple((a or 0) + (b or 0) for a, b in zip(*lists, strict=True)))
