"""Numbers of the new rows, where a draft numbers its rows, and of the rows that move on behind them."""

from __future__ import annotations

from rewriter import regex
from rewriter.frames import Statement
from rewriter.leadmodel import LeadIn
from rewriter.passages import Passage
from rewriter.planner import Plan
from rewriter.spans import Span


def first_number(
    passage: Passage, lead_in: LeadIn, last: Statement, plan: Plan, stands: bool = False
) -> int | None:
    """Return the number of the first new row; where numbers go on after them, each row keeps its own.

    `stands` says that the row before the steps takes the first turn in its own words.
    """
    label = passage.statements[0].label
    if label is None or not label.numbers:
        return None
    after = number_after(passage, last)
    if after is None and stands:
        return label.numbers[0] - 1
    if after is not None:
        fits = label.numbers[0] - 1 + len(plan.lines) <= after
        return label.numbers[0] - 1 if fits else None
    if lead_in.absorbed and (before := lead_in.absorbed[-1].label) and before.numbers:
        return before.numbers[-1]
    if any(m.values == (label.numbers[0] - 1,) for m in lead_in.mentions if m.fact == "rows"):
        return label.numbers[0] - 1  # "until row 44 has been worked", and then row 45
    return label.numbers[0]


def number_after(passage: Passage, last: Statement) -> int | None:
    """Return the number of the row right after the new text, where it has one."""
    later = [s for s in passage.statements if s.span.start > last.span.start]
    for statement in [*later, *passage.follows[:1]]:
        if statement.label and statement.label.numbers:
            return statement.label.numbers[0]
    return None


_NUMBER = regex.compile(r"\d+(?!\s?(?:st|nd|rd|th)\b)")
# What names rows by their numbers elsewhere: they could be these.
_NAMES_ROWS = regex.compile(
    r"\b(?:rows?|r)\s*\d|\b(?:even|odd)\b|\b\d+(?:st|nd|rd|th)\s+rows?\b|\b(?:all|every|alt)\b[^.]*\brows?\b"
)
_MOST = 3
"""So many rows behind the shoulder get another number; more of them keep theirs."""


def rows_moved(
    passage: Passage, lead_in: LeadIn, last: Statement, plan: Plan
) -> list[tuple[Span, int]]:
    """Return the numbers of rows behind the new text that move on by one, with the new number of each.

    The shoulder's rows are counted from 1 and are one more than they were, and a few rows end the piece
    behind them: "Row 7: BO all" becomes row 8. Empty where the rows keep their numbers.
    """
    label, after = passage.statements[0].label, number_after(passage, last)
    if label is None or label.numbers[:1] != (1,) or after is None or lead_in.absorbed:
        return []
    if len(plan.lines) != after or not plan.moves_lead_in:
        return []
    later = [s for s in passage.statements if s.span.start > last.span.start]
    out: list[tuple[Span, int]] = []
    behind = [*later, *passage.follows]
    for at, statement in enumerate(behind):
        told = statement.label
        if told is None or not told.numbers:
            if any(s.label and s.label.numbers for s in behind[at:]):
                return []
            break
        text = statement.sentence.text
        found = _NUMBER.search(text)
        if len(told.numbers) > 1 or told.numbers[0] != after + at or found is None:
            return []
        if int(found.group()) != after + at or _NAMES_ROWS.search(text[found.end() :].lower()):
            return []
        start = statement.sentence.span.start
        out.append((Span(start + found.start(), start + found.end()), after + at + 1))
    rest = behind[len(out) :]
    if len(out) > _MOST or any(_NAMES_ROWS.search(s.sentence.view.text) for s in rest):
        return []
    return out
