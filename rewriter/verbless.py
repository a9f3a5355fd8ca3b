"""Steps told without their verb, which stands in the sentence before: "Now the shoulders are cast off.
From each side: 5 sts, 5 sts, 6 sts at the beginning of every row."
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.frames import Frame, Statement
from rewriter.parsing import Part


def with_verbs(statements: Sequence[Statement | None]) -> list[Statement | None]:
    """Give sentences that list steps the verb of the sentence right before them, which names it alone."""
    out = list(statements)
    for at in range(1, len(out)):
        told, before = out[at], out[at - 1]
        if told is None or before is None or not _announces(before) or not _lists_steps(told):
            continue
        if told.sentence.piece_at != before.sentence.piece_at:
            continue
        out[at - 1] = None  # it says what follows, and does nothing itself
        out[at] = replace(told, frames=_as_steps(told.frames, before.frames[-1]))
    return out


def _announces(statement: Statement) -> bool:
    """Say whether a sentence binds off the shoulders, and tells neither how many sts nor on which rows."""
    told = [f for f in statement.frames if f.verb or f.parts]
    if len(told) != 1 or told[0].verb != "bind_off" or told[0].parts or statement.running:
        return False
    return any(n.concept == "shoulder" for n in told[0].notes) and not told[0].residue


def _lists_steps(statement: Statement) -> bool:
    """Say whether a sentence has no verb and nothing but counts, for both sides, on every row."""
    told = [f for f in statement.frames if f.verb or f.parts]
    if (
        statement.label
        or len(told) < 2
        or any(f.verb or f.residue or f.amount is None for f in told)
    ):
        return False
    slots = {slot for f in told for slot in f.parts}
    rows = [p for f in told for p in f.parts.get("rows", [])]
    if not slots <= {"count", "each_side", "beg", "rows"} or "each_side" not in told[0].parts:
        return False
    return all(p.kind == "every_row" for p in rows) and len(rows) <= 1


def _as_steps(frames: Sequence[Frame], verb: Frame) -> list[Frame]:
    """Return frames of one step each, at either side once: every row has one of them by turns."""
    out = []
    for frame in frames:
        if not frame.parts:
            out.append(frame)
            continue
        kept = {s: ps for s, ps in frame.parts.items() if s in ("count", "each_side")}
        once = Part("once", frame.span, "1")
        said = replace(frame, verb=verb.verb, concept=verb.concept, parts={**kept, "times": [once]})
        out.append(replace(said, inherited=bool(out)))
    return out
