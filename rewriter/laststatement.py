"""The last sentence that new rows replace, and what it says of the sts that remain."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.dividing import only_fastens_off
from rewriter.frames import Frame, Statement
from rewriter.passages import Passage
from rewriter.planner import Plan
from rewriter.rowframes import is_stepped
from rewriter.rowkinds import is_plain
from rewriter.shapingmodel import Shaping

Left = Sequence[int | None]
"""Sts that the steps leave, one number for each size."""


def last_statement(
    passage: Passage, shaping: Shaping, plan: Plan, source: str, verb: str
) -> tuple[Statement, str]:
    """Return the last sentence that the new paragraph replaces, and what of it must be kept.

    What is kept gets the `verb` if it had dropped its own ("..., and what is left for the neck").
    """
    statements = passage.statements
    if plan.takes_ending or shaping.ending_from >= len(statements):
        return statements[-1], ""
    if shaping.ending_from == 0 or _has_steps_too(statements[shaping.ending_from], shaping.neck):
        ending = statements[shaping.ending_from]
        at, verbless = _ending_frame(ending, source, shaping.neck)
        kept = source[at : ending.span.end]
        return ending, f"{verb} {kept}" if verbless else kept
    at = shaping.ending_from
    over_neck = shaping.two_edged and plan.join == "sewn"
    while at > 1 and (
        only_fastens_off(statements[at - 1]) or (over_neck and _only_works(statements[at - 1]))
    ):
        at -= 1  # "Cut yarn.", "Work 1 row." stays before the words about the sts that remain
    return statements[at - 1], ""


def _only_works(statement: Statement) -> bool:
    """Say whether a sentence works plain rows and does nothing else: "Work 1 row."."""
    told = [f for f in statement.frames if f.verb or f.parts]
    works = bool(told) and all(
        f.verb in ("work", "work_row", "back_row") and not _goes_over_rows(f) for f in told
    )
    return works and statement.label is None and is_plain(statement)


def _goes_over_rows(frame: Frame) -> bool:
    """Say whether rows told before are meant: "Work these 2 rows twice more", "Work 6 rows in all"."""
    again = "times" in frame.parts or "total" in frame.parts
    return again or any(p.kind == "last_rows" for p in frame.parts.get("rows", []))


def _has_steps_too(statement: Statement, left: Left) -> bool:
    steps = any(f.verb == "bind_off" and not f.takes_all for f in statement.frames)
    return steps and any(
        f.verb == "hold" or _ends_in(statement, i, left) for i, f in enumerate(statement.frames)
    )


def _ends_in(statement: Statement, at: int, left: Left) -> bool:
    """Say whether a frame binds off all that is left, or the neck's sts behind the steps of its sentence.

    They are the neck's where it says so, or where they are as many as the steps leave in each size.
    """
    frame, before = statement.frames[at], statement.frames[:at]
    if frame.verb != "bind_off" or frame.takes_all:
        return frame.verb == "bind_off"
    for_neck = any(n.concept == "neck" for n in frame.notes)
    if frame.amount is not None and len(frame.amount.values) in (1, len(left)):
        for_neck = for_neck or frame.amount.per_size(len(left)) == tuple(left)
    alone = not frame.inherited and not is_stepped(frame) and not frame.edge
    return for_neck and alone and at == len(statement.frames) - 1 and any(map(is_stepped, before))


def _ending_frame(statement: Statement, source: str, left: Left) -> tuple[int, bool]:
    """Return where the words about the remaining sts begin, their count included.

    Also say whether they have dropped their verb.
    """
    steps = [
        f.start
        for i, f in enumerate(statement.frames)
        if f.verb == "bind_off" and not _ends_in(statement, i, left)
    ]
    for i, frame in enumerate(statement.frames):
        if frame.verb == "hold" or _ends_in(statement, i, left):
            counts = [p.span.start for p in statement.running]
            counts = [c for c in counts if max(steps, default=0) < c < frame.start]
            at = min(counts, default=frame.start)
            article = regex.search(r"(?i)\bthe\s+$", source[statement.span.start : at])
            verbless = frame.verb == "bind_off" and frame.inherited and not counts
            return at - len(article.group()) if article else at, verbless
    return statement.span.start, False
