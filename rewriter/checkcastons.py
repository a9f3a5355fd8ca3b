"""Check cast-on shoulders: the growing short rows of a revised text against the stepped cast-ons.

Rows are counted from row 0, the first row of the passage in the original; counts are stitches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

from rewriter.castonmodel import CastOnShaping
from rewriter.castonplan import split_behind
from rewriter.castonrows import cast_on_acts, rows_of
from rewriter.castons import opens_cast_on
from rewriter.checknotes import CheckNote, CheckNotes, Severity
from rewriter.comparison import PassageComparison
from rewriter.doubt import Unread
from rewriter.fabric import Fabric, FabricError, knit
from rewriter.frames import Statement
from rewriter.growing import Behind, grow
from rewriter.pairing import Pair, plain
from rewriter.rows import OTHER_SIDE, PLAIN, Kind, Row, edge_of_beginning, side_of
from rewriter.spans import Span
from rewriter.verify import UNKNOWN_NECK

_BEHIND = 3
"""Plain rows behind the passage that are worked in both texts: one more than can close a turn."""


def compare_cast_ons(
    pair: Pair, shaping: CastOnShaping, result: PassageComparison, sizes: int, notes: CheckNotes
) -> PassageComparison:
    """Work both texts for each size, say where they differ, and return the passage with its result.

    Raises Unread for words that are not understood.
    """
    inside, behind = split_behind([*_cast_on_before(pair, shaping), *pair.statements])
    before = len(notes.errors(pair.name))
    for i in range(sizes):
        rows = rows_of(inside, i, sizes)
        _Size(notes, pair, shaping, rows, behind, _begun(pair, shaping, i, sizes), i).judge()
    same = len(notes.errors(pair.name)) == before
    return result.model_copy(
        update={
            "result": "same" if same else "differs",
            "first_row": (0,) * sizes,
            "changed": True,
        }
    )


def _cast_on_before(pair: Pair, shaping: CastOnShaping) -> list[Statement]:
    """Return the revised sentences before the first turn that tell rows of the passage.

    A row that casts a shoulder on does not turn, so it is not found as a short row.
    """
    known = {plain(s) for s in pair.before[0]}
    told = pair.before[1]
    first = next((i for i, s in reversed([*enumerate(told)]) if plain(s) in known), -1) + 1
    if shaping.begun is not None:
        casts = [i for i, s in enumerate(told) if any(f.verb == "cast_on" for f in s.frames)]
        return [s for s in told[max(first, casts[-1] + 1 if casts else 0) :] if s.label is not None]
    opens = next((i for i in range(first, len(told)) if opens_cast_on(told[i])), len(told))
    return told[opens:]


def _begun(pair: Pair, shaping: CastOnShaping, size: int, sizes: int) -> int | None:
    """Return the sts with which the revised piece begins, where they are those of its one shoulder."""
    if shaping.begun is None:
        return None
    casts = [f for s in pair.before[1] for f in s.frames if f.verb == "cast_on"]
    if not casts or casts[-1].amount is None:
        raise Unread(
            "not-understood",
            "the cast-on that the piece begins with is not found",
            pair.region or Span(0, 0),
        )
    return casts[-1].amount.per_size(sizes)[size]


@dataclass
class _Size:
    """Both texts of one size."""

    notes: CheckNotes
    pair: Pair
    shaping: CastOnShaping
    rows: list[Row]
    behind: Behind
    begun: int | None
    size: int

    def judge(self) -> None:
        """Add what is wrong for this size."""
        shaping, between = self.shaping, self.shaping.rows_between
        neck = shaping.neck[self.size]
        before = shaping.begun[self.size] if shaping.begun else neck
        start = UNKNOWN_NECK if before is None else before
        opening = [PLAIN] * between
        edge = edge_of_beginning(side_of(between, shaping.first_side or "RS") or "RS")
        own = shaping.rows[self.size][1:]
        # a row behind the passage that the revised text tells in words stands for one of the plain ones
        more = max(0, min(len(self.rows) - len(own), _BEHIND))
        stepped = [*opening, *own, *[PLAIN] * _BEHIND]
        revised = [*opening, *self.rows, *self.behind.rows(_BEHIND - more)]
        self._sides()
        self._counts(self.begun or start, before is not None)
        try:
            old = knit(start, stepped, edge)
            new = knit(self.begun or start, revised, edge)
        except FabricError as error:
            index = min(max(error.row - between, 0), len(self.rows) - 1)
            place = self.rows[index].span if self.rows else None
            self._add("error", "sts-do-not-add-up", f"this row cannot be worked: {error}", place)
            self._explain(own)
            return
        if old.heights() != new.heights() or old.rows != new.rows:
            self._explain(own)
            self._add("error", "rows-differ", f"the shoulders: {_difference(old, new)}", None)
        self._loose_ends(new, between)

    def _sides(self) -> None:
        first = self.shaping.first_side
        for number, row in enumerate(self.rows):
            first = first or (side_of(number, row.side) if row.side is not None else None)
            if row.side is not None and first is not None and row.side != side_of(number, first):
                message = (
                    f"this row is called a {row.side} row, but by the rows before it it is a "
                    f"{OTHER_SIDE[row.side]} row"
                )
                self._add("error", "sides-contradict", message, row.span)

    def _counts(self, live: int, known: bool) -> None:
        """Compare printed counts with the needle, where the number of all sts is known."""
        for row in self.rows if known else ():
            live += sum(a.n or 0 for a in cast_on_acts(row))
            if row.printed not in (None, live):
                message = (
                    f"{live} sts are on the needle after this row, but the text says {row.printed}"
                )
                self._add("error", "sts-do-not-add-up", message, row.span, "printed")

    def _explain(self, own: Sequence[Row]) -> None:
        """Say which cast-ons and turns are not those that the steps give."""
        edges = self.shaping.edges[self.size]
        planned, _ = grow(own, edges)
        if self.begun is not None and self.begun != edges[0].total:
            message = f"{self.begun} sts are cast on here, the steps give {_sum(edges[0].sts)}"
            place = next(
                (s.span for s in reversed(self.pair.before[1]) if any(f.verb == "cast_on" for f in s.frames)),
                None,
            )  # fmt: skip
            self._add("error", "sts-do-not-add-up", message, place, "begun")
        for row, due in zip_longest(self.rows, planned):
            if row is None:
                last = self.rows[-1].span if self.rows else None
                self._add("error", "row-missing", "a row is missing behind this one", last)
                return
            if due is None:
                return  # a row behind the passage, told in words
            cast, wanted = ([a.n for a in cast_on_acts(r)] for r in (row, due))
            if cast != wanted:
                told, give = (" and ".join(map(str, c)) or "no" for c in (cast, wanted))
                message = f"{told} sts are cast on in this row, the steps give {give}"
                self._add("error", "sts-do-not-add-up", message, row.span, "cast on")
            left, leaves = _left(row), _left(due)
            if left == leaves:
                continue
            code = "turn-misplaced"
            if left is None:
                code, message = "turn-missing", f"no turn leaves {leaves} sts unworked in this row"
            elif leaves is None:
                code, message = "turn-too-many", "this row is due to be worked to its end"
            else:
                message = f"this turn leaves {left} sts unworked, the steps give {leaves}"
            self._add("error", code, message, row.span, code)

    def _loose_ends(self, new: Fabric, between: int) -> None:
        if new.open_turns:
            self._add("error", "turn-not-closed", "a turn is closed by no later row", None, "open")
        aided = any(row.aid for row in self.rows)
        told: tuple[tuple[str, Severity, str, tuple[int, ...]], ...] = (
            (
                "closing-not-told", "remark",
                "this row passes turns, but its words do not say how they are closed", new.unclosed,
            ),
            (
                "aid-missing", "warning",
                "this row begins at a turn without what the turning method asks for",
                new.unaided if aided else (),
            ),
            (
                "aid-without-turn", "error",
                "this row begins as after a turn, but the row before it does not turn", new.idle_aids,
            ),
        )  # fmt: skip
        for code, severity, message, where in told:
            for index in where:
                number = index - between
                inside = 0 <= number < len(self.rows)
                self._add(severity, code, message, self.rows[number].span if inside else None)

    def _add(
        self, severity: Severity, code: str, message: str, place: Span | None, key: str = ""
    ) -> None:
        passage = self.pair.original.passage.span
        at = place or self.pair.region
        note = CheckNote(code, severity, message, self.pair.name, passage, at, [self.size])
        self.notes.add(note, key)


def _left(row: Row) -> int | None:
    """Return the sts that a row leaves where it turns."""
    told = [a.n for a in row.acts if a.kind is Kind.LEAVE]
    return told[0] if told and row.has(Kind.TURN) else None


def _sum(sts: Sequence[int]) -> str:
    return f"{' + '.join(map(str, sts))} = {sum(sts)}"


def _difference(old: Fabric, new: Fabric) -> str:
    """Say how the columns of two fabrics differ, counted from the right-hand edge."""
    sums = [sum(n for n, _ in f.heights()) for f in (old, new)]
    if sums[0] != sums[1]:
        return f"{sums[1]} sts are on the needle at last, {sums[0]} in the original"
    out: list[tuple[int, int]] = []
    one, two = ([list(run) for run in f.heights()] for f in (old, new))
    while one and two:
        n = min(one[0][0], two[0][0])
        gain = two[0][1] - one[0][1]
        if out and out[-1][1] == gain:
            out[-1] = (out[-1][0] + n, gain)
        else:
            out.append((n, gain))
        for runs in (one, two):
            runs[0][0] -= n
            if not runs[0][0]:
                runs.pop(0)
    return "counted from the right-hand edge, " + "; then ".join(
        f"{n} st{'' if n == 1 else 's'} {_taller(gain)}" for n, gain in out
    )


def _taller(gain: int) -> str:
    if not gain:
        return "as tall as before"
    rows = f"{abs(gain)} row{'' if abs(gain) == 1 else 's'}"
    return f"{rows} {'taller' if gain > 0 else 'shorter'}"
