"""Whether frames of a sentence without a label tell one row together, or where the rows begin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.frames import Frame


def works_back(frames: Sequence[Frame]) -> bool:
    """Say whether one row is told: "cast off 3 sts for the neck at the start of the next row, purl back".

    Of an armhole edge it is left open: the row back from the neck may be told.
    """
    step, back = frames
    rows = step.one("rows")
    one = rows is not None and rows.kind in ("next_rows", "next_side_rows") and rows.amount is None
    at_neck = step.edge == "neck" or any(n.concept == "neck" for n in step.notes)
    return (
        one and at_neck and "beg" in step.parts and back.verb == "back_row" and back.amount is None
    )


def decreases_in_row(frames: Sequence[Frame]) -> bool:
    """Say whether one row is told: "cast off 7 sts at beg of next row, patt to last 2, work 2 tog"."""
    if [f.verb for f in frames[:3]] != ["bind_off", "work", "decrease"]:
        return False
    rows, extent = frames[0].one("rows"), frames[1].one("extent")
    one = rows is not None and rows.kind == "next_rows" and rows.amount is None
    return one and extent is not None and extent.kind == "to_last" and "rows" not in frames[2].parts


def decreases_beside(frames: Sequence[Frame]) -> bool:
    """Say whether one row is worked with a decrease: "work 1 row, dec 1 st at neck edge"."""
    if [f.verb for f in frames] != ["work", "decrease"] or frames[1].concept != "counted":
        return False
    rows = frames[0].one("rows")
    one = rows is not None and rows.kind in ("some_rows", "next_rows")
    one = one and (rows is None or rows.amount is None or rows.amount.values == (1,))
    alone = frames[0].parts.keys() == {"rows"} and frames[1].parts.keys() == {"count", "edge"}
    return one and alone and frames[1].edge == "neck"


def tells_height(frame: Frame) -> bool:
    """Say whether a frame tells no row, only where the rows begin: "At 20 cm, shape the shoulders:"."""
    if frame.verb:
        return frame.verb == "refer" and frame.concept == "height" and not frame.parts
    rows = frame.one("rows")
    if rows is not None and rows.kind == "row_number" and len(rows.numbers) == 1:
        return not frame.parts.keys() - {"rows", "beg", "edge"}  # "In row 56, shape the shoulders:"
    return frame.parts.keys() == {"measure"}


def without_rows(frame: Frame) -> Frame:
    """Return a frame without the words that say in which row it stands."""
    return replace(frame, parts={k: v for k, v in frame.parts.items() if k not in ("rows", "beg")})
