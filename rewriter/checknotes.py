"""Findings of a check, collected over the sizes: what is the same for several sizes is said once."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from rewriter.comparison import CheckFinding
from rewriter.sizefigures import by_sizes
from rewriter.spans import SourceText, Span

Severity = Literal["error", "warning", "remark"]


@dataclass
class CheckNote:
    """A finding while it is collected; `sizes` are indexes, empty for all."""

    code: str
    severity: Severity
    message: str
    passage: str | None = None
    original: Span | None = None
    revised: Span | None = None
    sizes: list[int] = field(default_factory=list)
    consequence: bool = False
    """It follows from another finding about the same passage."""
    messages: dict[int, str] = field(default_factory=dict)
    """What is said of each size, where figures differ between them."""

    @property
    def told(self) -> list[tuple[str, list[int]]]:
        """What is said, with the sizes it is said of; like words for several sizes once."""
        return by_sizes(self.messages) or [(self.message, [])]


# What a finding may follow from: faults of the rows themselves come first, then what they do to the
# turns, then what these do to the fabric and to the counts printed behind them.
_ROWS = frozenset({"row-missing", "turn-at-wrong-edge", "list-length", "not-understood"})
_TURNS = frozenset(
    {
        "turn-missing", "turn-misplaced", "turn-too-many", "rows-between-turns", "starts-on-wrong-row",
    }
)  # fmt: skip
_FABRIC = frozenset(
    {
        "rows-differ", "neck-rows-differ", "turn-not-closed", "rows-gained", "neck-rows-gained",
        "sts-left", "aid-without-turn", "aid-missing",
    }
)  # fmt: skip
_PRINTED = frozenset({"printed", "claim", "held"})


def _stands_before(note: CheckNote, other: CheckNote) -> bool:
    """Say whether a finding has its place in rows before those of another: it cannot follow from that."""
    if note.revised is None or other.revised is None:
        return False
    return note.revised.start < other.revised.start


@dataclass
class CheckNotes:
    """Findings in the order they were made."""

    all: list[CheckNote] = field(default_factory=list)

    def add(self, note: CheckNote, key: str = "") -> None:
        """Add a finding; one of the same code, place and `key` takes its sizes along."""
        for known in self.all:
            alike = (known.code, known.passage, known.original, known.revised) == (
                note.code,
                note.passage,
                note.original,
                note.revised,
            )
            if alike and (key == self._keys.get(id(known)) or known.message == note.message):
                for size in note.sizes:
                    if size not in known.sizes:
                        known.sizes.append(size)
                        known.messages[size] = note.message
                return
        note.messages = dict.fromkeys(note.sizes, note.message)
        self.all.append(note)
        self._keys[id(note)] = key

    _keys: dict[int, str] = field(default_factory=dict)

    def errors(self, passage: str) -> list[CheckNote]:
        """Return the errors about one passage."""
        return [n for n in self.all if n.passage == passage and n.severity == "error"]

    def settle(self) -> None:
        """Mark what follows from other findings about the same passage, for the same sizes."""
        for note in self.all:
            rank = self._rank(note)
            causes = [
                n
                for n in self.all
                if n.passage == note.passage is not None
                and n.severity == "error"
                and self._rank(n) < rank
                and (self._rank(n) == 0 or rank == 2)
                and not (rank == 1 and _stands_before(note, n))
            ]
            sizes = {s for n in causes for s in n.sizes}
            note.consequence = bool(causes) and sizes >= set(note.sizes)

    def _rank(self, note: CheckNote) -> int:
        """Return 0 for a fault of rows, 1 for one of turns or counts, 2 for what they do, 3 for others."""
        if note.code in _ROWS:
            return 0
        if note.code in _FABRIC or self._keys.get(id(note)) in _PRINTED:
            return 2
        return 1 if note.code in _TURNS or note.code == "sts-do-not-add-up" else 3

    def public(
        self, sizes: tuple[str, ...], original: SourceText, revised: SourceText
    ) -> tuple[CheckFinding, ...]:
        """Return the findings as they are reported: the gravest first, causes before what they do."""
        order = {"error": 0, "warning": 1, "remark": 2}
        home: dict[str | None, Span] = {}
        for note in self.all:
            place = note.revised or note.original or Span(0, 0)
            if note.severity == "error" and note.passage is not None:
                home[note.passage] = min(home.get(note.passage, place), place)

        def rank(note: CheckNote) -> tuple[int, Span, int, int, Span]:
            place = note.revised or note.original or Span(0, 0)
            grave = 0 if note.consequence and note.passage in home else order[note.severity]
            group = home.get(note.passage, place) if grave == 0 else place
            # what follows from a cause stands behind all causes of its passage, turns before fabric
            follows = self._rank(note) + 1 if note.consequence else 0
            return grave, group, follows, order[note.severity], place

        ranked = sorted(self.all, key=rank)
        return tuple(
            CheckFinding(
                code=n.code,
                severity=n.severity,
                message=message,
                passage=n.passage,
                original_span=None if n.original is None else (n.original.start, n.original.end),
                revised_span=None if n.revised is None else (n.revised.start, n.revised.end),
                original_line=None if n.original is None else original.place(n.original.start)[0],
                revised_line=None if n.revised is None else revised.place(n.revised.start)[0],
                sizes=() if len(sizes) == len(own) == 1 else tuple(sizes[i] for i in own),
                consequence=n.consequence,
            )
            for n in ranked
            for message, own in n.told
        )
