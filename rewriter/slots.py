"""Which slot of a frame each kind of part fills, and which kinds of parts belong together."""

from __future__ import annotations

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
    "stitch_pattern": "stitch_pattern",
}
TELLS_STEPS = frozenset({"steps", "times", "count"})
"""Slots that say how many sts are bound off how often: a list of steps says both."""
LEADING = frozenset({"edge", "beg", "rows", "each_side", "side", "end"})
