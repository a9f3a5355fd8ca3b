"""Steps told without their verb, which stands in the sentence before, or at another shoulder.

"Now the shoulders are cast off. From each side: 5 sts, 5 sts, 6 sts at the beginning of every row.";
"Shoulder: 2 x 8 and 1 x 7 sts in every 2nd row", where the draft says of another that they are bound off.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.frames import Frame, Statement
from rewriter.parsing import Part


def with_verbs(statements: Sequence[Statement | None]) -> list[Statement | None]:
    """Give sentences that list steps the verb of the sentence right before them, which names it alone."""
    out = list(statements)
    verbs = (_for_shoulder(told) for told in out if told is not None)
    verb = next((verb for verb in verbs if verb is not None), None)
    for at in range(1, len(out)):
        told, before = out[at], out[at - 1]
        if told is None:
            continue
        if verb is not None and _names_steps(told):
            out[at] = _with_verb(told, verb)
            continue
        if before is None or not _announces(before) or not _lists_steps(told):
            continue
        if told.sentence.piece_at != before.sentence.piece_at:
            continue
        out[at - 1] = None  # it says what follows, and does nothing itself
        out[at] = replace(told, frames=_as_steps(told.frames, before.frames[-1]))
    return out


_SHOULDER = regex.compile(r"\bshoulders?\b")
_ROWS = frozenset(
    {"every_other", "every_side_row", "next_alt_rows", "foll_alt_rows", "next_side_rows"}
)


def _for_shoulder(statement: Statement) -> Frame | None:
    """Return the verb by which sts are bound off for a shoulder, if a sentence does so."""
    offs = [f for f in statement.frames if f.verb == "bind_off" and not f.inherited]
    named = statement.sentence.topics[-1:] == ("shoulder",)
    return offs[0] if offs and (named or _SHOULDER.search(statement.sentence.view.text)) else None


def _names_steps(statement: Statement) -> bool:
    """Say whether a sentence names a shoulder and lists its steps, on rows at one edge, and has no verb."""
    told = [f for f in statement.frames if f.verb or f.parts or f.residue]
    if statement.label or not told or any(f.verb not in ("", "refer") or f.residue for f in told):
        return False
    if statement.sentence.topics[-1:] != ("shoulder",) and not _SHOULDER.search(
        statement.sentence.view.text
    ):
        return False
    steps = [f for f in told if f.parts]
    slots = {slot for f in steps for slot in f.parts}
    rows = [p.kind for f in steps for p in f.parts.get("rows", [])]
    counted = all("steps" in f.parts or {"count", "times"} <= f.parts.keys() for f in steps)
    placed = bool(slots & {"edge", "each_side"})
    known = slots <= {"steps", "count", "times", "rows", "edge", "each_side", "beg"}
    return bool(steps) and counted and placed and known and bool(rows) and set(rows) <= _ROWS


def _with_verb(statement: Statement, verb: Frame) -> Statement:
    """Return the sentence with the verb; what it refers to before its steps stands apart from them."""
    out: list[Frame] = []
    first = True
    for frame in statement.frames:
        if not frame.parts:
            out.append(frame)
            continue
        start = min(p.span.start for ps in frame.parts.values() for p in ps)
        if frame.verb:
            out.append(replace(frame, parts={}, end=start))
        out.append(
            replace(
                frame,
                verb=verb.verb,
                concept=verb.concept,
                notes=[n for n in frame.notes if n.span.start >= start],
                start=start,
                inherited=not first,
            )
        )
        first = False
    return replace(statement, frames=out)


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
