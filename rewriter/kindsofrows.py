"""Rows told by their kind, and then how many of them: "RS rows: BO 8, k to end. WS rows: BO 8, p to end.
Work 3 RS rows and 3 WS rows in total, beginning with a RS row."
"""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.frames import Frame, Statement

_KIND = regex.compile(r"(?i)\brows\b")


def tells_kind(statement: Statement) -> bool:
    """Say whether a sentence tells what all rows of a side do: "RS rows: ..."."""
    label = statement.label
    if label is None or label.rows is not None or label.numbers or not label.side:
        return False
    return _KIND.search(label.span.of(statement.sentence.source)) is not None


def rows_in_all(frames: Sequence[Frame]) -> tuple[list[Frame], str] | None:
    """Return the frames that count rows of both sides, and the side of the first, "" where it is not told.

    None for a sentence that tells something else.
    """
    told = [f for f in frames if f.verb or f.parts]
    counted = [f for f in told if (r := f.one("rows")) is not None and r.amount is not None]
    if not counted or len(counted) != len(told) or any(f.verb != "work" or f.residue for f in told):
        return None
    if any(f.parts.keys() - {"rows", "total", "side"} for f in told):
        return None
    kinds = [f.parts["rows"][0] for f in counted]
    both = len(kinds) == 2 and {k.side for k in kinds} == {"RS", "WS"}
    alone = len(kinds) == 1 and kinds[0].kind in ("some_rows", "next_rows")
    if not both and not alone:
        return None
    starts = [p.side for f in told for p in f.parts.get("side", []) if p.concept == "starting"]
    return counted, starts[0] if starts else ""
