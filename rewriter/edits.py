"""Edits of the source text: sorted, never overlapping, applied all together."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rewriter.spans import Span


@dataclass(frozen=True, slots=True)
class Edit:
    """Replace a span of the source; `passage` is the passage for whose sake it is made."""

    span: Span
    replacement: str
    why: str
    passage: str = ""


class OverlapError(ValueError):
    """Two edits want the same words."""


def ordered(edits: Iterable[Edit]) -> list[Edit]:
    """Return edits in text order, equal ones once; raises OverlapError if two overlap."""
    out: list[Edit] = []
    for edit in sorted(edits, key=lambda e: (e.span, e.replacement)):
        if out and out[-1].span == edit.span and out[-1].replacement == edit.replacement:
            continue
        if out and edit.span.start < out[-1].span.end:
            raise OverlapError(f"{out[-1]} and {edit}")
        out.append(edit)
    return out


def apply(text: str, edits: Sequence[Edit]) -> str:
    """Return the text with ordered edits made; all else is copied as it is."""
    pieces: list[str] = []
    at = 0
    for edit in edits:
        pieces += [text[at : edit.span.start], edit.replacement]
        at = edit.span.end
    return "".join([*pieces, text[at:]])


def moved(edits: Sequence[Edit], span: Span) -> Span:
    """Return where a span of the old text stands in the new one.

    An edit that touches the span is inside it.
    """
    start, end = span
    for edit in edits:
        grown = len(edit.replacement) - (edit.span.end - edit.span.start)
        if edit.span.end <= span.start and edit.span.start < span.start:
            start += grown
        if edit.span.start < span.end or edit.span == Span(span.end, span.end):
            end += grown
    return Span(start, end)


def untouched_outside(old: str, new: str, edits: Sequence[Edit]) -> bool:
    """Say whether the new text equals the old one everywhere outside the edits."""
    at_old = at_new = 0
    for edit in edits:
        kept = old[at_old : edit.span.start]
        if new[at_new : at_new + len(kept)] != kept:
            return False
        at_new += len(kept)
        if new[at_new : at_new + len(edit.replacement)] != edit.replacement:
            return False
        at_new += len(edit.replacement)
        at_old = edit.span.end
    return old[at_old:] == new[at_new:]


def unified(old: str, new: str, name: str, renamed: str = "") -> str:
    """Return a unified diff of two texts, line ends kept; the second may have a name of its own."""
    lines = difflib.unified_diff(
        old.splitlines(keepends=True),
        new.splitlines(keepends=True),
        f"a/{name}",
        f"b/{renamed or name}",
    )
    out = []
    for line in lines:
        out.append(
            line if line.endswith(("\n", "\r")) else line + "\n\\ No newline at end of file\n"
        )
    return "".join(out)
