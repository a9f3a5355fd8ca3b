"""The side of the first bind-off row, by counting the rows from the last one whose side is told.

"... ending with a WS row. Cast off 10 sts at beg of next row. Dec 1 st at neck edge on next 5 rows, then on
foll 4 alt rows" are fourteen rows: the shoulder behind them begins on a RS row, whatever its edge would say.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.frames import Frame, Statement
from rewriter.leadin import read_lead_in
from rewriter.leadrows import is_one_plain_row, label_side
from rewriter.parsing import Part
from rewriter.passages import Passage
from rewriter.rowframes import is_talk, only_marks
from rewriter.rows import OTHER_SIDE, Side
from rewriter.smoothsteps import smooths_steps
from rewriter.spans import Span
from rewriter.statedwords import states_rows
from rewriter.stitchwork import Fabric


def side_by_counting(passage: Passage, fabric: Fabric) -> tuple[Side, Span] | None:
    """Return the side of the row with which a passage begins, and the words from which rows are counted.

    None where a sentence between tells rows that cannot be counted, or an odd number for some sizes only.
    `fabric` is what the piece is in: "a purl row" is a WS row in stocking stitch only.
    """
    if passage.lead:
        return None
    odd = False
    told = False
    for at, statement in reversed(list(enumerate(passage.before))):
        if _tells_nothing(statement):
            continue
        count = _rows_in(statement)
        if count is None:
            if not told:
                return None  # the words right before the passage are its lead-in
            side = _side_at_end(passage, at, fabric)
            if side is None:
                return None
            return (side if odd else OTHER_SIDE[side]), statement.span
        parities = {n % 2 for n in count}
        if len(parities) > 1:
            return None
        odd ^= parities == {1}
        told = told or any(count)
    return None


# "the 1st row is a RS row, count the rows from here"
_COUNTED_FROM_HERE = regex.compile(
    r"\b(?:1st|first)\s+row\s+(?:(?:is|being)\s+)?(?:an?\s+|the\s+)?(?P<side>rs|ws|right[\s-]side|wrong[\s-]side)"
    r"(?:\s+row)?\b[^.]{0,16}\b(?:count|number)(?:ing)?\s+(?:the\s+|all\s+)?rows\s+from\s+(?:here|this)\b"
)
_FROM_ELSEWHERE = regex.compile(r"\b(?:arm\s?holes?|neck\w*|divid\w*|last|these)\b")
_WORDS_BEHIND = 40


def side_by_height(passage: Passage) -> tuple[Side, Span] | None:
    """Return the side of a first row that stands after so many rows, counted from a row whose side is told.

    "The 1st row is a RS row, count the rows from here. ... After 142 rows cast off 8 sts" begins on a RS
    row. None where the rows are counted from another place, or for some sizes to an even number only.
    """
    first = passage.statements[0]
    high = [
        p
        for f in [*passage.lead, *first.frames[:1]]
        for p in f.parts.get("measure", ())
        if p.kind == "rows_high" and p.amount is not None
    ]
    if len(high) != 1 or high[0].amount is None:
        return None
    source = first.sentence.source
    behind = source[high[0].span.end : high[0].span.end + _WORDS_BEHIND].lower()
    worked = -1 if high[0].concept == "nth" else 0  # "in the 55th row" it is after 54
    parities = {((v or 0) + worked) % 2 for v in high[0].amount.values}
    if len(parities) > 1 or _FROM_ELSEWHERE.search(behind.split(".")[0]):
        return None
    for statement in reversed(passage.before):
        if (found := _COUNTED_FROM_HERE.search(statement.sentence.view.text)) is not None:
            side: Side = "RS" if found["side"][0] == "r" else "WS"
            return (side if parities == {0} else OTHER_SIDE[side]), statement.span
    return None


def _tells_nothing(statement: Statement) -> bool:
    view = statement.sentence.view
    if not any(f.verb or f.parts for f in statement.frames):
        return not any(f.residue for f in statement.frames)
    aside = is_talk(statement) or only_marks(statement)
    return aside or states_rows(view) or smooths_steps(view)


def _side_at_end(passage: Passage, at: int, fabric: Fabric) -> Side | None:
    """Return the side of the last row that sentence `at` tells."""
    statement = passage.before[at]
    if statement.label is not None:
        one = len(statement.label.numbers) <= 1 and statement.label.rows is None
        return label_side(statement) if one else None
    lead_in = read_lead_in(replace(passage, before=passage.before[: at + 1]), fabric)
    sure = lead_in.doubt is None and lead_in.obstacle is None and not lead_in.absorbed
    return lead_in.side if sure else None


def _rows_in(statement: Statement) -> tuple[int, ...] | None:
    """Return how many rows a sentence tells, one number for all sizes or one for each; None if unknown."""
    frames = [f for f in statement.frames if f.verb or f.parts or f.residue]
    if statement.label is not None:
        alone = not statement.label.numbers and statement.label.rows is None
        return (1,) if alone and not statement.label.side and len(frames) == 1 else None
    total: tuple[int, ...] = (0,)
    for at, frame in enumerate(frames):
        count = _rows_of(frame, statement, frames, first=at == 0)
        if count is None:
            return None
        if (summed := _sum(total, count)) is None:
            return None
        total = summed
    return total


_REST_OF_ROW = frozenset({"extent"})


def _rows_of(
    frame: Frame, statement: Statement, frames: Sequence[Frame], *, first: bool
) -> tuple[int, ...] | None:
    if frame.residue or any(n.concept == "same_time" for n in frame.notes):
        return None
    if not frame.verb:
        return (0,) if frame.parts.keys() <= {"count"} else None
    if first and is_one_plain_row(statement, frames):
        return (1,)
    extent = frame.one("extent")
    if frame.verb == "work" and not first and frame.parts.keys() == _REST_OF_ROW:
        return (0,) if extent is not None and extent.kind == "to_end" else None
    if frame.verb not in ("work", "decrease", "bind_off"):
        return None
    if frame.parts.keys() & {"measure", "side"}:
        return None
    if frame.parts.keys() & {"extent", "times"}:
        return _rows_of_times(frame)
    if frame.verb == "work" and frame.concept in ("knit", "purl") and "count" in frame.parts:
        return None
    told = [_rows_told(p) for p in frame.parts.get("rows", ())]
    total: tuple[int, ...] = (0,)
    for one in told:
        summed = None if one is None else _sum(total, one)
        if summed is None:
            return None
        total = summed
    return total if told else None


def _rows_of_times(frame: Frame) -> tuple[int, ...] | None:
    """Return the rows of "on every row 5 times", or of alternate rows "until 27 sts remain".

    The latter are an even number after the first, however many: 0 stands for them.
    """
    rows, times, extent = frame.parts.get("rows", ()), frame.one("times"), frame.one("extent")
    if extent is None and len(rows) == 1 and rows[0].kind == "every_row" and times is not None:
        return tuple(v or 0 for v in times.amount.values) if times.amount else None
    kinds = [p.kind for p in rows if p.amount is None]
    until = extent is not None and extent.kind in ("until_left", "until_count")
    if frame.verb != "decrease" or times is not None or not until or len(kinds) < len(rows):
        return None
    return {("next_rows", "foll_alt_rows"): (1,), ("foll_alt_rows",): (0,)}.get(tuple(kinds))


def _rows_told(part: Part) -> tuple[int, ...] | None:
    values = tuple(v or 0 for v in part.amount.values) if part.amount else (1,)
    if part.kind == "next_rows" or (part.kind == "some_rows" and part.amount):
        return values
    if part.kind == "foll_alt_rows":
        return tuple(2 * n for n in values)
    return None


def _sum(one: tuple[int, ...], other: tuple[int, ...]) -> tuple[int, ...] | None:
    """Add numbers for each size, one alone being for all; None for lists of different length."""
    if len(one) == 1 or len(other) == 1:
        sizes = max(len(one), len(other))
        one, other = (v * sizes if len(v) == 1 else v for v in (one, other))
    if len(one) != len(other):
        return None
    return tuple(a + b for a, b in zip(one, other, strict=True))
