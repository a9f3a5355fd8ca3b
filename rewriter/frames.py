"""From parts to frames: one frame for each thing done, its slots filled from the parts around it.

Pattern English is telegraphic: the same facts come in any order, and an item of a chain drops what
the item before it already said. A frame takes the parts as they come; when a slot is filled twice
a new frame begins, and what stood after the last link word goes with it. A chain item inherits the
verb, the count or the cadence it does not say itself. Words that no slot takes are residue.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from rewriter.amounts import Amount
from rewriter.document import Sentence
from rewriter.parsing import Part, parse
from rewriter.spans import Span

_VERBS = frozenset(
    {
        "bind_off", "cast_on", "work", "work_row", "back_row", "decrease", "increase", "turn", "aid",
        "closing", "hold", "fasten_off", "repeat", "join", "mark", "ending", "measures", "refer",
    }
)  # fmt: skip
_COUNTS = frozenset({"count", "bare_count", "rem_count", "rem_all"})
_ROWS = frozenset(
    {
        "next_rows", "next_alt_rows", "next_side_rows", "foll_alt_rows", "foll_side_rows",
        "and_foll_rows", "every_row", "every_side_row", "every_other", "some_rows", "some_alt_rows",
        "some_side_rows", "side_row", "last_rows", "row_number",
    }
)  # fmt: skip
_CADENCES = frozenset({"foll_alt_rows", "foll_side_rows"})
_EXTENTS = frozenset({"to_end", "to_last", "until_count", "until_left", "until_bare", "until"})
_SLOT = {
    **dict.fromkeys(_COUNTS, "count"),
    **dict.fromkeys(_ROWS, "rows"),
    **dict.fromkeys(_EXTENTS, "extent"),
    "times": "times",
    "once": "times",
    "edge": "edge",
    "each_side": "each_side",
    "at_beg": "beg",
    "at_end": "end",
    "side": "side",
    "side_facing": "side",
    "holder": "holder",
    "on_needle": "on_needle",
    "left_count": "running",
    "marker": "marker",
    "more": "more",
    "measure": "measure",
    "stitch_pattern": "stitch_pattern",
}
_LEADING = frozenset({"edge", "beg", "rows", "each_side", "side", "end"})


@dataclass
class Frame:
    """One thing done, with the slots its words fill."""

    verb: str = ""
    parts: dict[str, list[Part]] = field(default_factory=dict)
    """Parts by slot; only `rows` may hold two ("next" and "foll 2 alt rows")."""
    concept: str = ""
    """Concept of the verb's word: knit or purl, the turning method, ..."""
    inherited: bool = False
    """The verb was dropped and comes from the frame before."""
    inherited_count: bool = False
    residue: list[Part] = field(default_factory=list)
    excepts: tuple[int, ...] = ()
    """Ordinals of the sizes it is not for ("DS (not 1st size)")."""
    notes: list[Part] = field(default_factory=list)
    """Harmless words that the frame takes along."""
    start: int = 0
    end: int = 0

    @property
    def span(self) -> Span:
        """From the first to the last word of the frame."""
        return Span(self.start, self.end)

    def one(self, slot: str) -> Part | None:
        """Return the part in a slot, if there is one."""
        return self.parts[slot][0] if slot in self.parts else None

    @property
    def amount(self) -> Amount | None:
        """The count of the frame as written."""
        part = self.one("count")
        return part.amount if part else None

    @property
    def takes_all(self) -> bool:
        """Whether the count is what remains, whatever number is given for it."""
        part = self.one("count")
        return part is None or part.kind in ("rem_count", "rem_all")

    @property
    def edge(self) -> str:
        """The edge named: armhole, shoulder, side, neck or nothing."""
        part = self.one("edge")
        return "" if part is None else "neck" if part.concept == "centre" else part.concept

    def is_empty(self) -> bool:
        """Say whether nothing at all is in the frame."""
        return not (self.verb or self.parts or self.residue or self.notes)


@dataclass(frozen=True)
class Label:
    """What stands before the colon of a row: which rows it tells, and their side."""

    span: Span
    rows: Amount | None
    """Number of rows, where the label gives one ("Next 2 rows")."""
    numbers: tuple[int, ...]
    """Row numbers ("Row 3", "Rows 3-4")."""
    side: str = ""


@dataclass
class Statement:
    """A sentence in frames."""

    sentence: Sentence
    label: Label | None
    frames: list[Frame]
    running: list[Part]
    """Stitch counts that the sentence prints."""
    sizes: tuple[int, ...] | None = None
    """Ordinals of the sizes it is for ("3rd and 4th sizes only"); () for all sizes again."""
    residue: list[Part] = field(default_factory=list)
    stars: tuple[bool, bool] = (False, False)
    """Whether a repeat sign stands before the first and after the last word."""

    @property
    def span(self) -> Span:
        """Where the sentence stands."""
        return self.sentence.span


class _Builder:
    def __init__(self) -> None:
        self.frames: list[Frame] = []
        self.current = Frame()
        self.since_link: list[tuple[str, Part]] = []
        self.running: list[Part] = []
        self.set_off = False
        """Whether a dash, colon or stop stands right before the part."""

    def add(self, part: Part) -> None:
        kind = part.kind
        if kind in ("link", "colon", "stop", "dash"):
            self.since_link = []
            self.set_off = kind != "link"
            return
        if kind == "paren":
            self._paren(part)
        elif kind == "work_row" and self.current.verb == "ending":
            self._fill("rows", part)
        elif kind in _VERBS:
            self._verb(part)
        elif kind in _SLOT:
            self._slot(_SLOT[kind], part)
        elif kind in ("filler", "star"):
            self.current.notes.append(part)
        else:
            self.current.residue.append(part)
            self._stretch(self.current, part)
        self.set_off = False

    def _paren(self, part: Part) -> None:
        inner = [p for p in part.inner if p.kind not in ("link", "colon", "stop", "dash", "filler")]
        if any(p.concept == "unworked" for p in part.inner):
            self.current.notes.append(part)  # "(the 16 unworked shoulder sts and 12 more)"
            self._stretch(self.current, part)
        elif len(inner) == 1 and inner[0].kind in (
            "count",
            "bare_count",
            "left_count",
            "rem_count",
        ):
            self.running.append(inner[0])
        elif len(inner) == 1 and inner[0].kind in ("side", "side_row", "side_facing"):
            self._slot("side", inner[0])
        elif (
            inner
            and inner[0].kind == "excepting"
            and all(p.kind in ("ordinal", "size") for p in inner[1:])
        ):
            self.current.excepts += tuple(n for p in inner for n in p.numbers)
        elif all(p.kind in ("marker", "edge", "each_side", "all_sizes") for p in inner):
            self.current.notes.append(part)
            self._stretch(self.current, part)
        else:
            self.current.residue.append(part)
            self._stretch(self.current, part)

    def _verb(self, part: Part) -> None:
        own = self.current.verb and not self.current.inherited
        if part.kind == "ending" and self.current.parts and not own:
            self.since_link = []
            own = True  # what stands before an ending is told by itself
        if own or (self.current.inherited and "count" in self.current.parts):
            self._open()
        self.current.verb = part.kind
        self.current.concept = part.concept
        self.current.inherited = False
        self._stretch(self.current, part)
        if part.side and part.kind != "ending":
            self._fill("side", part)

    def _slot(self, slot: str, part: Part) -> None:
        if (
            slot == "running"
            and self.current.verb in ("bind_off", "hold")
            and ("count" not in self.current.parts)
        ):
            slot, part = "count", replace(part, kind="rem_count")
        if slot == "running":
            self.running.append(part)
            self._stretch(self.current, part)
            return
        taken = self.current.parts.get(slot)
        if slot == "count" and self.set_off and "extent" in self.current.parts:
            taken = [part]  # "k to end - 52": a total
        if slot == "count" and self.current.inherited_count:
            del self.current.parts["count"]  # the item has a count of its own after all
            self.current.inherited_count, taken = False, None
        if taken and not (slot == "rows" and _adds_cadence(taken, part)):
            verb, concept = self.current.verb, self.current.concept
            count = self.current.one("count")
            set_off = self.set_off and slot == "count"
            self._open()
            if set_off:
                # "... next 2 rows - 43 sts": a total, unless rows follow
                verb = concept = ""
            self.current.verb, self.current.concept, self.current.inherited = verb, concept, True
            if slot == "rows" and count is not None and "count" not in self.current.parts:
                self.current.parts["count"] = [count]
                self.current.inherited_count = True
        self._fill(slot, part)

    def _open(self) -> None:
        """Begin a new frame; leading modifiers since the last link word go with it."""
        moved = self.since_link if all(s in _LEADING for s, _ in self.since_link) else []
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

    def finish(self) -> list[Frame]:
        frames = [f for f in [*self.frames, self.current] if not f.is_empty()]
        for before, frame in zip([Frame(), *frames], frames, strict=False):
            if frame.verb or not frame.parts:
                continue
            if "holder" in frame.parts:  # "rem 47 sts on holder"
                frame.verb = frame.concept = "hold"
            elif (
                before.verb == "bind_off"
                and "count" in frame.parts
                and (frame.parts.keys() & {"rows", "beg", "times"})
            ):
                frame.verb, frame.concept, frame.inherited = "bind_off", before.concept, True
        return frames


def _adds_cadence(taken: list[Part], part: Part) -> bool:
    """Say whether "foll 2 alt rows" goes on from "next row" in the same frame."""
    if len(taken) != 1 or taken[0].kind not in ("next_rows", "next_side_rows"):
        return False
    amount = taken[0].amount
    single = amount is None or amount.values == (1,)
    return single and (
        part.kind in _CADENCES or part.kind in ("every_other", "every_side_row", "next_alt_rows")
    )


def read_statement(sentence: Sentence, labels: Sequence[str] = ()) -> Statement | None:
    """Read a sentence into frames; None where it cannot be an instruction (far too long).

    `labels` are the names of the sizes, for a sentence that is for some of them only.
    """
    parts = parse(sentence.view)
    if parts is None:
        return None
    label, rest = _label(parts)
    sizes, rest = _sizes(rest, sentence.source, labels)
    builder = _Builder()
    for part in rest:
        builder.add(part)
    solid = [p.kind for p in parts if p.kind not in ("stop", "link")]
    stars = (solid[:1] == ["star"], len(solid) > 1 and solid[-1] == "star")
    return Statement(sentence, label, builder.finish(), builder.running, sizes, stars=stars)


def _label(parts: Sequence[Part]) -> tuple[Label | None, Sequence[Part]]:
    """Take a row label off the front of a sentence."""
    at = 0
    while at < len(parts) and parts[at].kind in ("star", "link", "dash"):
        at += 1
    if at == len(parts) or parts[at].kind not in (
        "next_rows", "row_number", "next_side_rows", "side_row",
    ):  # fmt: skip
        return None, parts
    head = parts[at]
    side = head.side
    end = at + 1
    marked = False
    while end < len(parts):
        part = parts[end]
        if part.kind == "paren" and len(part.inner) == 1 and part.inner[0].side:
            side, marked = part.inner[0].side, True
        elif part.kind == "colon":
            marked = True
        elif part.kind in ("side", "side_facing") and (marked or end == at + 1):
            side = part.side
        elif part.kind in ("link", "star", "dash", "stop") and (end == at + 1 or marked):
            pass
        else:
            break
        end += 1
    bare_next = head.kind == "next_rows" and head.concept == ""
    if bare_next or (head.kind == "side_row" and not marked):
        return None, parts
    if not marked and end < len(parts) and parts[end].kind in (_ROWS | {"at_beg", "edge"}):
        return None, parts
    span = Span(head.span.start, parts[end - 1].span.end)
    numbers = head.numbers
    if head.concept == "range" and len(numbers) == 2:
        numbers = tuple(range(numbers[0], numbers[1] + 1))
    return Label(span, head.amount, numbers, side), parts[end:]


def _sizes(
    parts: Sequence[Part], source: str, labels: Sequence[str]
) -> tuple[tuple[int, ...] | None, Sequence[Part]]:
    """Take a restriction to some sizes off the front: "3rd and 4th sizes only", "Sizes S (M, -) only"."""
    start = next((i for i, p in enumerate(parts) if p.kind not in ("star", "link")), 0)
    if start < len(parts) and parts[start].kind == "all_sizes":
        return (), _after_colon(parts[start + 1 :])
    ordinals: list[int] = []
    for i, part in enumerate(parts[start : start + 60], start):
        if part.kind == "ordinal":
            ordinals.extend(part.numbers)
        elif part.kind == "sizes_only":
            named = ordinals or _named(
                Span(parts[start].span.start, part.span.start).of(source), labels
            )
            return (tuple(named), _after_colon(parts[i + 1 :])) if named else (None, parts)
        elif part.kind in _VERBS - {"work"}:
            break
    return None, parts


def _after_colon(parts: Sequence[Part]) -> Sequence[Part]:
    at = 0
    while at < len(parts) and parts[at].kind in ("colon", "link", "stop", "star"):
        at += 1
    return parts[at:]


_ENTRY = re.compile(r"[A-Za-z0-9½]+|[-\u2013\u2014]")


def _named(text: str, labels: Sequence[str]) -> list[int]:
    """Return the ordinals of the sizes named in "Sizes XS (S, -, -) only"; none if in doubt."""
    words = [
        w for w in _ENTRY.findall(text) if w.lower() not in ("size", "sizes", "for", "and", "the")
    ]
    if len(words) == len(labels) and any(w in "-\u2013\u2014" for w in words):
        return [i + 1 for i, w in enumerate(words) if w not in "-\u2013\u2014"]
    known = {label.lower(): i + 1 for i, label in enumerate(labels)}
    found = [known.get(w.lower(), 0) for w in words]
    return found if found and all(found) else []
