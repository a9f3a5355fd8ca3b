"""The sts of the neck called by their name where they are all that is left.

"Cast off the 34 centre sts", "BO 30 back neck sts loosely" behind steps at both shoulders bind off what
remains, as "cast off rem 34 sts" does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.document import Document
from rewriter.frames import Frame, Statement
from rewriter.rowframes import most_rows
from rewriter.rowkinds import opens
from rewriter.runs import at_one_edge


def name_rest(document: Document, statements: Sequence[Statement | None]) -> list[Statement | None]:
    """Return the statements, those that end a shoulder with the neck's sts told as what remains."""
    out = list(statements)
    pieces = [s.piece_at for s in document.sentences]
    for at, statement in enumerate(statements):
        if statement is None or not (_binds_neck(statement) or _ends_rows(statement)):
            continue
        before = [s for i, s in enumerate(statements[:at]) if s and pieces[i] == pieces[at]]
        after = [s for i, s in enumerate(statements[at + 1 :], at + 1) if pieces[i] == pieces[at]]
        if not _binds_neck(statement) and not (_go_on(before) and _ends_piece(after[:1])):
            continue
        if _both_edges(before) and not (after and after[0] and opens(after[0])):
            out[at] = _as_rest(statement)
    return out


def _binds_neck(statement: Statement) -> bool:
    """Say whether a sentence does nothing but bind off a number of sts that it calls the neck's."""
    told = [f for f in statement.frames if f.verb]
    if len(told) != 1 or len(statement.frames) != 1 or told[0].verb != "bind_off":
        return False
    frame = told[0]
    named = frame.one("edge")
    centre = named is not None and named.concept == "centre"
    neck = named is None and any(n.concept == "neck" for n in frame.notes)
    told_once = [p.concept for p in frame.parts.get("times", [])] in ([], ["1"])  # "at once"
    slots = frame.parts.keys() - {"count", "edge", "rows", "side", "times"}
    alone = told_once and not slots and not frame.residue
    aside = any(n.concept in ("separately", "both", "same_time") for n in frame.notes)
    one_row = "rows" not in frame.parts or frame.parts["rows"][0].amount is None
    counted = frame.amount is not None and not frame.takes_all
    return counted and alone and one_row and (centre or neck) and not aside


def _ends_rows(statement: Statement) -> bool:
    """Say whether a row told by its number binds off some sts, and nothing is worked behind them."""
    label, told = statement.label, statement.frames
    if label is None or len(label.numbers) != 1 or len(told) != 1:
        return False
    bare = told[0].parts.keys() == {"count"} and not told[0].residue
    return told[0].verb == "bind_off" and bare and not told[0].takes_all


def _go_on(before: Sequence[Statement]) -> bool:
    """Say whether the rows right before that bind off are all worked to their end, in so many words."""
    rows = [s for s in before if s.label is not None and _begins_with_bind_off(s)][-2:]
    return len(rows) == 2 and all(len(s.frames) > 1 and s.frames[1].verb == "work" for s in rows)


def _ends_piece(after: Sequence[Statement | None]) -> bool:
    """Say whether the next sentence binds off or holds nothing more."""
    told = [f.verb for s in after if s is not None for f in s.frames]
    return not {"bind_off", "hold"} & set(told)


def _both_edges(before: Sequence[Statement]) -> bool:
    """Say whether the sentences right before bind off at the beginning of rows in a row."""
    before = [s for s in before if any(f.verb for f in s.frames)]  # counts stand between rows
    while before and any(f.verb == "repeat" for f in before[-1].frames[:1]):
        before = before[:-1]
    if not before or at_one_edge(before[-2:]):
        return False
    last = before[-1]
    if last.label is None:
        return any(_on_several_rows(f) for f in last.frames if f.verb == "bind_off")
    if last.label.rows is not None or len(last.label.numbers) > 1:
        return _begins_with_bind_off(last)
    return len(before) > 1 and all(_begins_with_bind_off(s) for s in before[-2:])


def _on_several_rows(frame: Frame) -> bool:
    rows = frame.one("rows")
    if "each_side" in frame.parts or (rows is not None and rows.kind == "every_row"):
        return True
    several = ("next_rows", "later_rows", "some_rows")
    return rows is not None and rows.kind in several and most_rows(rows) > 1


def _begins_with_bind_off(statement: Statement) -> bool:
    return bool(statement.frames) and statement.frames[0].verb == "bind_off"


def _as_rest(statement: Statement) -> Statement:
    (frame,) = statement.frames
    count = replace(frame.parts["count"][0], kind="rem_count")
    kept = {k: parts for k, parts in frame.parts.items() if k not in ("edge", "times")}
    return replace(statement, frames=[replace(frame, parts={**kept, "count": [count]})])
