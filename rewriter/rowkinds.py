"""What a sentence does to rows: it opens a run of steps, turns before the edge, or works plain rows."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.frames import Frame, Statement
from rewriter.rowframes import holds_side, is_note, is_stepped
from rewriter.shortframes import (
    leaves_unworked,
    slips_one,
    stops_short,
    turns_after,
    turns_before_end,
)


def opens(statement: Statement) -> bool:
    return _has_steps(statement) or turns(statement)


def _has_steps(statement: Statement) -> bool:
    frames = statement.frames
    for i, frame in enumerate(frames):
        if frame.verb != "bind_off":
            continue
        if is_stepped(frame):
            return True
        if frame.takes_all:
            continue
        back = [f.verb for f in frames[i + 1 : i + 3]] == ["back_row", "bind_off"]
        if back and frame.edge in ("armhole", "shoulder", "side"):
            return True  # "bind off at shoulder edge 5 sts, k back, bind off 5 sts"
        first_of_row = i == 0 or frames[i - 1].verb in ("turn", "ending")
        behind_height = frame.edge != "neck" and not any(f.verb for f in frames[:i])
        first_of_row = first_of_row or behind_height
        if first_of_row and (
            statement.label or (i + 1 < len(frames) and frames[i + 1].verb == "work")
        ):
            return True
    return False


def turns(statement: Statement) -> bool:
    """Say whether a row stops short of its end, or begins at such a turn."""
    if is_note(statement):
        return False
    verbs = [f.verb for f in statement.frames]
    if "closing" in verbs or any(
        f.verb == "aid" and f.concept != "yarn_over" for f in statement.frames
    ):
        return True
    return any(
        f.verb == "turn"
        and i > 0
        and (stops_short(statement.frames[i - 1]) or f.concept in ("wrap_turn", "twin_turn"))
        for i, f in enumerate(statement.frames)
    ) or any(
        leaves_unworked(f)
        or turns_before_end(f)
        or turns_after(f, statement.sentence.source)
        or any(n.concept == "but_to" for n in f.notes)  # "as row 1, but to last 14 sts"
        for f in statement.frames
    )


def is_plain(statement: Statement) -> bool:
    frames = [f for f in statement.frames if f.verb or f.parts]
    if not frames:
        return statement.sizes is not None or bool(statement.running)
    for frame in frames:
        rows = frame.one("rows")
        few = rows is not None and (
            rows.amount is None or max(v or 0 for v in rows.amount.values) <= 3
        )
        few = few or "total" in frame.parts  # "Work 6 rows in all"
        if frame.verb == "back_row" or (frame.verb == "work" and few and not _stops_inside(frame)):
            continue
        extent = frame.one("extent")
        if statement.label and frame.verb == "work" and (extent is None or extent.kind == "to_end"):
            continue
        if statement.label and frame is frames[0] and (frame.verb == "aid" or slips_one(frame)):
            continue  # "Next row: Yo, k to end", "Sl 1, k to end" after a turn
        if statement.label and frame.verb in ("decrease", "work"):
            continue  # a row with a neck decrease, or one that goes to the last sts before it
        if frame.verb == "repeat" or (frame.verb == "work" and rows and rows.kind == "last_rows"):
            continue
        if not frame.verb and "count" in frame.parts and not frame.residue:
            continue
        return False
    return True


def _stops_inside(frame: Frame) -> bool:
    """Say whether rows go elsewhere than to their end; "work 1 row to the armhole side" does not."""
    extent = frame.one("extent")
    return extent is not None and extent.kind != "to_end"


def goes_on_with_yarn(statements: Sequence[Statement | None], at: int) -> bool:
    """Say whether the yarn is cut and the next sentence goes on: it rejoins it to close turns left open, or
    goes over the other side of a neck, which has its own."""
    told, then = statements[at], statements[at + 1] if at + 1 < len(statements) else None
    if told is None or then is None:
        return False
    cut = any(f.verb == "fasten_off" for f in told.frames)
    other = any("other_side" in f.parts for f in then.frames[:1]) and any(
        holds_side(f) for f in told.frames
    )
    return cut and (other or (turns(then) and any(f.verb == "join" for f in then.frames)))
