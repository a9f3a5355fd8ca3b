"""Findings of a check, collected over the sizes: what is the same for several sizes is said once."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from rewriter.comparison import CheckFinding
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
                known.sizes += [s for s in note.sizes if s not in known.sizes]
                return
        self.all.append(note)
        self._keys[id(note)] = key

    _keys: dict[int, str] = field(default_factory=dict)

    def errors(self, passage: str) -> list[CheckNote]:
        """Return the errors about one passage."""
        return [n for n in self.all if n.passage == passage and n.severity == "error"]

    def public(
        self, sizes: tuple[str, ...], original: SourceText, revised: SourceText
    ) -> tuple[CheckFinding, ...]:
        """Return the findings as they are reported, the gravest first, then by place."""
        order = {"error": 0, "warning": 1, "remark": 2}
        ranked = sorted(
            self.all, key=lambda n: (order[n.severity], n.revised or n.original or Span(0, 0))
        )
        return tuple(
            CheckFinding(
                code=n.code,
                severity=n.severity,
                message=n.message,
                passage=n.passage,
                original_span=None if n.original is None else (n.original.start, n.original.end),
                revised_span=None if n.revised is None else (n.revised.start, n.revised.end),
                original_line=None if n.original is None else original.place(n.original.start)[0],
                revised_line=None if n.revised is None else revised.place(n.revised.start)[0],
                sizes=()
                if len(sizes) == len(n.sizes) == 1
                else tuple(sizes[i] for i in sorted(n.sizes)),
            )
            for n in ranked
        )
