"""The second side of a shoulder that a draft tells by the first ("to match, reversing shapings").

It is the mirror image: right and left edge, RS and WS, knit and purl change places. The mirrored words
are read again and worked, and given only where they make the mirror image of the first side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.document import split_document
from rewriter.doubt import Unread
from rewriter.fabric import FabricError, Run, knit
from rewriter.interpret import read_rows
from rewriter.labels import without_label
from rewriter.needlemodel import NeedleRow, Shoulder
from rewriter.passages import statements_of
from rewriter.rows import OTHER_SIDE, Edge, Row, edge_of_beginning
from rewriter.sizes import Sizes
from rewriter.source import read_source
from rewriter.twin import Steps

_OTHER_EDGE: dict[Edge, Edge] = {"right": "left", "left": "right"}
_PAIRS = (("rs", "ws"), ("right side", "wrong side"), ("right-side", "wrong-side"))
_STITCHES = (("knit", "purl"), ("k", "p"))
_SIDES = regex.compile(r"(?i)\b(?:RS|WS|(?:right|wrong)[\s-]side)\b")
_WORK = regex.compile(r"(?i)\b(?:knit|purl|[kp](?=\s?\d|\s+(?:to|until|across|all|next)\b))")
# A decrease leans one way and a twist turns one way: their mirror has other words.
_LEANS = regex.compile(r"(?i)\b(?:\w*\d\s?tog|ssk|ssp|skpo?|psso|tbl|c\d+[fb]|cables?)\b")
_ONE_SIZE = Sizes(("one size",), None)


def mirrored(first: Shoulder, stitch_changes: bool) -> Shoulder | None:
    """Return the mirror image of a shoulder at one edge, or None where its words cannot be had.

    `stitch_changes` says that what is knit on one side is purled on the other (not in garter stitch).
    """
    if len(first.edges) != 1 or first.stitches is None:
        return None
    if (
        first.first_side is None
        and stitch_changes
        and any(_WORK.search(r.words) for r in first.rows)
    ):
        return None  # no one can say which of its rows is purled
    rows = [_mirrored_row(row, stitch_changes) for row in first.rows]
    if any(row is None for row in rows):
        return None
    side = OTHER_SIDE[first.first_side] if first.first_side else None
    edges = tuple(Steps(_OTHER_EDGE[s.edge], s.rows, s.sts) for s in first.edges)
    out = replace(
        first,
        edges=edges,
        first_side=side,
        draft_rows=_other_sides(first.draft_rows),
        new_rows=_other_sides(first.new_rows),
        rows=tuple(row for row in rows if row is not None),
        notes=tuple(n for n in first.notes if not _SIDES.search(n)),
    )
    return out if _proven(out, first) else None


def _mirrored_row(row: NeedleRow, stitch_changes: bool) -> NeedleRow | None:
    words, _ = without_label(row.words.replace("*", ""))
    if not words or _LEANS.search(words):
        return None
    words = _exchange(words, _SIDES, _PAIRS)
    if stitch_changes:
        words = _exchange(words, _WORK, _STITCHES)
    side = OTHER_SIDE[row.side] if row.side else None
    return replace(row, words=words, side=side)


def _exchange(words: str, places: regex.Pattern[str], pairs: Sequence[tuple[str, str]]) -> str:
    other = dict(pairs) | {b: a for a, b in pairs}

    def turned(found: regex.Match[str]) -> str:
        told = found.group()
        new = other[" ".join(told.lower().split())]
        if told.isupper():
            return new.upper()
        return new.capitalize() if told[0].isupper() else new

    return str(places.sub(turned, words))


def _other_sides(rows: Sequence[Row]) -> tuple[Row, ...]:
    return tuple(replace(r, side=OTHER_SIDE[r.side] if r.side else None) for r in rows)


def _proven(second: Shoulder, first: Shoulder) -> bool:
    """Say whether the mirrored words, read again, make the mirror image stitch by stitch."""
    told_rows = [row for row in second.rows if row.does != "aside"]
    text = "\n\n".join(f"{_label(row)}{row.words}" for row in told_rows) + "\n"
    source = read_source(text.encode("utf-8"), "mirror.txt")
    _, told = statements_of(split_document(source), _ONE_SIZE)
    try:
        again = read_rows([s for s in told if s is not None], 0, 1)
        before = tuple(second.new_rows[: len(second.new_rows) - len(again)])
        assert first.stitches is not None
        # where no side is told, the first side stands as if its row 0 were RS
        begins = edge_of_beginning(OTHER_SIDE[first.first_side or "RS"])
        one = knit(first.stitches, first.new_rows, begins)
        two = knit(first.stitches, (*before, *again), _OTHER_EDGE[begins])
    except (Unread, FabricError):
        return False
    # a method without a turning aid has rows "unaided" on both sides
    whole = not (two.unclosed or two.idle_aids or two.open_turns) and one.unaided == two.unaided
    sided = all(
        row.side in (None, told_row.side) for row, told_row in zip(again, told_rows, strict=False)
    )
    return whole and sided and _columns(one.runs) == _columns(two.runs)[::-1]


def _label(row: NeedleRow) -> str:
    if row.does == "hold":
        return ""
    return f"Next row ({row.side}): " if row.side else "Next row: "


def _columns(runs: Sequence[Run]) -> list[tuple[int, str]]:
    """Return the height and fate of every column, from the right-hand edge."""
    return [(run.height, run.fate) for run in runs for _ in range(run.count)]
