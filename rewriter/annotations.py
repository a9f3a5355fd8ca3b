"""What is said beside a revised draft: the reason of each edit, the questions, the findings."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, replace
from functools import cache
from typing import Literal

from rewriter._resources import grammar_file
from rewriter.report import EditReport, Report
from rewriter.spans import Span

Kind = Literal["reason", "question", "error", "warning", "remark"]
LEFT_AS_IT_IS = "Left as it is"
"""How a remark begins that says why a passage was left."""


@dataclass(frozen=True, slots=True)
class Annotation:
    """Words about a stretch of the draft, in code points of its text."""

    span: Span
    kind: Kind
    text: str
    edit: int | None = None
    """Number of the edit whose reason it is."""


@cache
def _reasons() -> dict[str, str]:
    return dict(tomllib.loads(grammar_file("reasons.toml"))["reason"])


def reason_of(why: str, to: str = "short-rows") -> str:
    """Return the reason of an edit in words, in a rewriting `to` short rows or to steps."""
    table = _reasons()
    back = f"{why}-to-steps"
    return table[back] if to == "steps" and back in table else table.get(why, why)


def annotations_of(report: Report) -> list[Annotation]:
    """Return the reasons of all edits, and what else the report says of a place, in text order.

    An edit that follows one with the same reason within the same sentence is not explained again.
    """
    out: list[Annotation] = []
    for number, edit in enumerate(report.edits):
        text = f"{reason_of(edit.why, report.options.to).removesuffix('.')}{_rows_gained(report, edit)}."
        one = Annotation(Span(*edit.span), "reason", text, number)
        near = out and out[-1].text == one.text and one.span.start - out[-1].span.end <= _SAME_PLACE
        if near:
            first = out.pop()
            one = replace(first, span=Span(first.span.start, one.span.end))
        out.append(one)
    for passage in report.passages:
        span = Span(*passage.span)
        if passage.status == "question" and passage.reason:
            out.append(Annotation(span, "question", _for_people(passage.reason)))
        elif passage.status == "left" and passage.reason and passage.kind in report.options.kinds:
            out.append(Annotation(span, "remark", f"{LEFT_AS_IT_IS}: {passage.reason}."))
    told = {a.text for a in out}
    for found in report.diagnostics:
        if found.code in _NOT_FOR_PEOPLE:
            continue
        sizes = f" (size {', '.join(found.sizes)})" if found.sizes else ""
        text = f"{_for_people(found.message)}{sizes}"
        if not any(text in t or t in text for t in told):
            out.append(Annotation(Span(*found.span), found.severity, text))
    return sorted(out, key=lambda a: (a.span.start, a.kind != "reason"))


_NOT_FOR_PEOPLE = frozenset({"nothing-found", "steps-not-spread", "changes-pending"})
"""Findings about the run of the program, which are about no words of the draft."""
_HOW_TO_ANSWER = re.compile(r"\s*\((?:or|to)[^()]*\banswer [^()]*\)|; answer kind=\S+ or kind=\S+")
"""What only the command takes, at the end of a message."""


def _for_people(message: str) -> str:
    return _HOW_TO_ANSWER.sub("", message)


def _rows_gained(report: Report, edit: EditReport) -> str:
    """Return which shoulders of an edited passage gain a row, as the end of a sentence."""
    if edit.why not in ("shaping", "steps"):
        return ""
    start, end = edit.span
    for passage in report.passages:
        if passage.status != "rewritten" or not (passage.span[0] < end and start < passage.span[1]):
            continue
        told: dict[int, list[str]] = {}
        for edge in passage.edges:
            gained = set(edge.rows_gained)
            if len(gained) == 1 and (rows := gained.pop()):
                told.setdefault(rows, []).append(edge.edge)
        which = [_gained(edges, rows, len(passage.edges)) for rows, edges in told.items()]
        return f", but {' and '.join(which)}" if which else ""
    return ""


def _gained(edges: list[str], rows: int, of: int) -> str:
    if len(edges) > 1:
        which = "both shoulders"
    else:
        which = f"the {edges[0]} shoulder (RS facing)" if of > 1 else "the shoulder"
    does = "gains" if rows > 0 else "loses"
    return f"every column of {which} {does} {_ROWS.get(abs(rows), abs(rows))}"


_ROWS = {1: "one row"}


# Edits this near to one another, in characters, are one to a reader (the sizes of one list).
_SAME_PLACE = 12
