"""Bind-offs at the neck edge that fall in the rows of a shoulder: told apart from its steps.

An edge may be named. Where it is not, the side of the row tells it in a front or half back, whose
armhole edge has a side of its own; elsewhere it is asked.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.asks import choice_of
from rewriter.doubt import Unread
from rewriter.leadmodel import LeadIn
from rewriter.passages import Passage
from rewriter.rows import OTHER_SIDE, Kind, Row, Side, side_of
from rewriter.spans import Span, view_of


def with_neck_rows(
    rows: Sequence[list[Row]],
    passage: Passage,
    lead_in: LeadIn,
    armhole_sides: Mapping[str, Side],
    number: int = 0,
) -> list[list[Row]]:
    """Mark the rows of each size whose bind-off is at the neck edge; raises Unread in doubt.

    `number` is that of the passage's first row: -1 where it stands before the first bind-off.
    """
    named = {i % 2 for r in rows for i, row in enumerate(r) if _binds(row) and row.edge == "neck"}
    others = {i % 2 for r in rows for i, row in enumerate(r) if _binds(row) and row.edge != "neck"}
    if named:
        if len(others) == 2 and named == {0} and rows[0] and rows[0][0].edge == "neck":
            # "rejoin yarn, cast off centre sts": that row begins at the neck, and so do those like it
            return [_marked(r, 0) for r in rows]
        if named & others:
            raise Unread(
                "neck-in-the-rows",
                "bind-offs at the neck edge and at both shoulders among the same rows are not "
                "converted yet",
                passage.span,
            )
        return [list(r) for r in rows]
    if _begins_at_neck(passage):
        # the row after the turn at a dividing row begins at the neck
        return [_marked(r, number % 2) for r in rows]
    divided = lead_in.stretch
    if divided is not None and divided.divides and not divided.joins:
        # "K 26, cast off the centre 30 sts, k to end": the row after it begins at the armhole
        return [_marked(r, (number + 1) % 2) for r in rows]
    if len(others) < 2:
        return [list(r) for r in rows]
    if passage.piece in armhole_sides:
        first = _told_side(rows, lead_in)
        if first is None:
            raise Unread(
                "edges-differ",
                "sts are bound off at both edges of this piece: which are at the neck? "
                "(say on which side the shaping starts)",
                passage.span,
                ask="first-side",
            )
        neck = 1 if first == armhole_sides[passage.piece] else 0
        return [_marked(r, neck) for r in rows]
    if (at_neck := choice_of(passage.decisions, "neck-rows")) is not None:
        if at_neck == "none":
            return [list(r) for r in rows]
        # the rows are counted from the first that binds off
        begins = min((i for r in rows for i, row in enumerate(r) if _binds(row)), default=0)
        return [_marked(r, (begins + (at_neck == "second")) % 2) for r in rows]
    side_edge = any(m.fact == "edge" for m in lead_in.mentions)
    if any(_totals_differ(r) for r in rows):
        if side_edge and all(_binds(r[0]) for r in rows):
            # "ending at side edge": the first row begins there, so the other rows begin at the neck
            return [_marked(r, 1) for r in rows]
        if passage.piece == "unknown":
            raise Unread(
                "edges-differ",
                "the sts bound off on these rows and on the rows between differ: are some of them at "
                "the neck edge?",
                passage.span,
                ask="neck-rows",
            )
    if (
        _divided(passage)
        and not both_sides_at_once(passage)
        and any(_totals_differ(r) for r in rows)
    ):
        raise Unread(
            "edges-differ",
            "this side is worked by itself and sts are bound off at both of its edges: which are "
            "at the neck?",
            passage.span,
            ask="neck-rows",
        )
    return [list(r) for r in rows]


def _marked(rows: Sequence[Row], neck: int) -> list[Row]:
    """Mark the bind-offs on rows of one parity as the neck's."""
    return [
        replace(row, edge="neck") if i % 2 == neck and _binds(row) else row
        for i, row in enumerate(rows)
    ]


def _begins_at_neck(passage: Passage) -> bool:
    """Say whether the passage follows right on a row that divides the piece: "K28, turn"."""
    if not passage.before:
        return False
    last = passage.before[-1]
    verbs = [f.verb for f in last.frames]
    return "turn" in verbs and verbs[: verbs.index("turn")].count("work") == 1


_BOTH_SIDES = regex.compile(
    r"\bboth (?:sides|straps|halves|shoulders) (?:of (?:the )?neck )?(?:(?:are|being) )?"
    r"(?:now |then )?(?:worked |shaped )?at (?:once|(?:the )?same time)\b"
    r"|\bsides? (?:(?:separately|at once) )?(?:with|using) (?:its|their) own (?:ball|yarn)"
    r"|\bboth sets of (?:sts|stitches)\b|\b(?:second|separate|another|two|2nd) balls?\b"
    r"|\bboth (?:sides|straps|halves|shoulders) (?:with|using) separate (?:yarns?|wools?)\b"
)


def both_sides_at_once(passage: Passage) -> bool:
    """Say whether both sides of a neck are in work at once, each with its ball of yarn."""
    source, piece = passage.sentence.source, passage.before[0].span.start if passage.before else 0
    before = view_of(source, Span(piece, passage.span.start)).text
    return bool(_BOTH_SIDES.search(before))


# Words that put both sides in work; and words behind them that take up one of them by itself.
_SURELY_BOTH = regex.compile(
    r"\bboth (?:sides|straps|halves|shoulders) (?:of (?:the )?neck )?(?:(?:are|being) )?"
    r"(?:now |then )?(?:worked |shaped |on the needles? )?(?:together|at once|at (?:the )?same time)\b"
    r"|\b(?:work|working) (?:on )?both (?:sides|straps|halves|shoulders)\b"
)
_ONE_ALONE = regex.compile(
    r"\b(?:separately|one side|(?:first|this|other|second|2nd|left|right) (?:side|half|shoulder|strap)|rejoin"
    r"|return to)\b"
)


def surely_at_once(passage: Passage) -> bool:
    """Say whether both sides are in work at once and nothing since has taken up one of them alone."""
    source, piece = passage.sentence.source, passage.before[0].span.start if passage.before else 0
    before = view_of(source, Span(piece, passage.span.start)).text
    told = list(_SURELY_BOTH.finditer(before))
    return bool(told) and _ONE_ALONE.search(before, told[-1].end()) is None


def _binds(row: Row) -> bool:
    """Say whether a row begins by binding off a number of sts and goes on."""
    head = row.acts[0] if row.acts else None
    return (
        head is not None and head.kind is Kind.BIND_OFF and head.n is not None and len(row.acts) > 1
    )


def _told_side(rows: Sequence[Sequence[Row]], lead_in: LeadIn) -> Side | None:
    """Return the side of row 0 as labels or the lead-in tell it."""
    for r in rows:
        for i, row in enumerate(r):
            if row.side is not None:
                return side_of(i, row.side)
    return OTHER_SIDE[lead_in.side] if lead_in.side is not None else None


def _divided(passage: Passage) -> bool:
    """Say whether the words before the passage divide the piece at the neck."""
    return any(f.verb in ("turn", "hold", "join") for s in passage.before[-8:] for f in s.frames)


def _totals_differ(rows: Sequence[Row]) -> bool:
    totals = [0, 0]
    for i, row in enumerate(rows):
        if _binds(row):
            totals[i % 2] += row.acts[0].n or 0
    return totals[0] != totals[1]
