"""Which slot of a frame each kind of part fills, and which kinds of parts belong together."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.parsing import Part

VERBS = frozenset(
    {
        "bind_off", "cast_on", "work", "work_row", "back_row", "decrease", "increase", "turn", "aid",
        "closing", "hold", "fasten_off", "repeat", "join", "mark", "ending", "measures", "refer",
    }
)  # fmt: skip
COUNTS = frozenset({"count", "bare_count", "rem_count", "rem_all", "same_count"})
ROWS = frozenset(
    {
        "next_rows", "next_alt_rows", "next_side_rows", "foll_alt_rows", "foll_side_rows",
        "and_foll_rows", "every_row", "every_side_row", "every_other", "some_rows", "some_alt_rows",
        "some_side_rows", "side_row", "later_rows", "last_rows", "first_rows", "row_number", "rows_ahead",
        "row_between",
    }
)  # fmt: skip
CADENCES = frozenset({"foll_alt_rows", "foll_side_rows"})
_EXTENTS = frozenset(
    {
        "to_end",
        "to_last",
        "until_count",
        "until_left",
        "until_none",
        "until_bare",
        "until",
        "to_band",
        "before_turn",
        "to_marker",
    }
)
SLOTS = {
    **dict.fromkeys(COUNTS, "count"),
    **dict.fromkeys(ROWS, "rows"),
    **dict.fromkeys(_EXTENTS, "extent"),
    "step_list": "steps",
    "times": "times",
    "once": "times",
    "shares": "shares",
    "edge": "edge",
    "each_side": "each_side",
    "at_beg": "beg",
    "at_end": "end",
    "side": "side",
    "side_facing": "side",
    "holder": "holder",
    "on_needle": "on_needle",
    "left_count": "running",
    "marker": "marker",
    "other_side": "other_side",
    "more": "more",
    "total": "total",
    "measure": "measure",
    "rows_high": "measure",
    "stitch_pattern": "stitch_pattern",
}
TELLS_STEPS = frozenset({"steps", "times", "count"})
"""Slots that say how many sts are bound off how often: a list of steps says both."""
LEADING = frozenset({"edge", "beg", "rows", "each_side", "side", "end"})


def is_one_row(taken: Sequence[Part]) -> bool:
    """Say whether nothing but the next row has been told."""
    return len(taken) == 1 and taken[0].kind == "next_rows" and taken[0].amount is None


def names_side(one: Part, two: Part) -> bool:
    """Say whether two parts tell the same rows, by how often they come and by their side."""
    return {one.kind, two.kind} == {"every_other", "side_row"} and not (one.amount or two.amount)


def from_row(taken: Sequence[Part]) -> bool:
    """Say whether rows begin with one that is told by its number: "from row 55, on every 2nd row"."""
    first = taken[0] if taken else None
    return first is not None and (first.kind, first.concept) == ("row_number", "from")


def adds_cadence(taken: list[Part], part: Part) -> bool:
    """Say whether "foll 2 alt rows" goes on from "next row" in the same frame."""
    if from_row(taken):
        return part.kind == "every_other" and part.concept != "second"
    if len(taken) != 1 or taken[0].kind not in ("next_rows", "next_side_rows"):
        return False
    amount = taken[0].amount
    single = amount is None or amount.values == (1,)
    goes_on = CADENCES | {"some_alt_rows", "every_other", "every_side_row", "next_alt_rows"}
    return single and part.kind in goes_on
