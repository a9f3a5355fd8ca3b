"""Drafts told in numbered steps: new rows take numbers of their own and the steps after them move on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rewriter import regex
from rewriter.edits import Edit
from rewriter.spans import Span

_STEP = regex.compile(r"(?m)^(?P<indent>[ \t]*)(?P<number>\d{1,2})(?P<mark>[.)])(?P<blank>[ \t]+)")
_REFERRED = regex.compile(r"(?i)\bsteps?\s+\d")


@dataclass(frozen=True)
class Steps:
    """The numbered steps that a new text replaces."""

    first: int
    """Number of the step in which it begins."""
    last: int
    """Number of the last step of which words are replaced."""
    mark: str
    indent: str


def steps_replaced(source: str, region: Span) -> Steps | None:
    """Return the steps that a region takes in, two at least; None where it lies in one or in none.

    Where the draft refers to its steps by their numbers these stay, and the new rows stand under one.
    """
    line = max(source.rfind("\n", 0, region.start), source.rfind("\r", 0, region.start)) + 1
    opening = _STEP.match(source, line, region.start)
    if opening is None or _REFERRED.search(source):
        return None
    inside = list(_STEP.finditer(source, opening.end(), region.end))
    numbers = [int(m.group("number")) for m in (opening, *inside)]
    if len(numbers) < 2 or numbers != list(range(numbers[0], numbers[0] + len(numbers))):
        return None
    return Steps(numbers[0], numbers[-1], opening.group("mark"), opening.group("indent"))


def with_numbers(lines: Sequence[str], steps: Steps, indent: str) -> tuple[list[str], int]:
    """Number lines that begin with `indent`, the first of which has its number; return the last number."""
    out, number = list(lines[:1]), steps.first
    for line in lines[1:]:
        number += 1
        label = f"{steps.indent}{number}{steps.mark}"
        out.append(f"{label.ljust(len(indent) - 1)} {line[len(indent) :]}")
    return out, number


def moved_on(source: str, end: int, steps: Steps, by: int, passage: str) -> list[Edit]:
    """Return the edits that give the steps after `end` their new numbers, as far as they go on."""
    out: list[Edit] = []
    expected = steps.last + 1
    for found in _STEP.finditer(source, end):
        if int(found.group("number")) != expected:
            break
        place = Span(found.start("number"), found.end("number"))
        out.append(Edit(place, str(expected + by), "numbering", passage))
        expected += 1
    return out if by else []
