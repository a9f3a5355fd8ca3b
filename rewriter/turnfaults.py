"""Which turns of a revised passage are not where the steps of the original put them, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rewriter.checknotes import CheckNote, CheckNotes, Severity
from rewriter.frames import Statement
from rewriter.rows import Kind, Row
from rewriter.shapingmodel import Shaping
from rewriter.spans import Span
from rewriter.working import WORKED, EdgeWorked, Made, Worked


@dataclass
class TurnJudge:
    """Says which turns of a passage are not where the steps put them."""

    notes: CheckNotes
    passage: str
    kind: str
    original: Span
    revised: Span
    shaping: Shaping
    start: Sequence[int]
    labels: Sequence[str]
    joined_live: bool
    """The text joins live shoulders, so that sts left on the needle are not forgotten."""
    statements: Sequence[Statement] = ()
    """The sentences that the rows were read from."""
    part: str = ""
    """Which side of a divided piece is judged: "first", "second"."""
    stocking: bool = False
    """Rows are knitted and purled in turn, so that two alike tell of one that is missing."""

    # --- how it is said ---------------------------------------------------------------------------

    def edge_name(self, number: int, size: int) -> str:
        """Return how an edge is called: by its side, where that is known."""
        edges = self.shaping.edges[size]
        if len(edges) == 1:
            return f"the {self.part} {self.kind}" if self.part else f"the {self.kind}"
        if self.shaping.first_side is None:
            return f"the {'first' if number == 0 else 'second'} {self.kind}"
        return f"the {edges[number].edge} {self.kind} (RS facing)"

    def add(
        self, severity: Severity, code: str, message: str, size: int, at: Span | None, key: str = ""
    ) -> None:
        self.notes.add(
            CheckNote(
                code, severity, message, self.passage, self.original, at or self.revised, [size]
            ),
            key,
        )

    def place(self, rows: Sequence[Row], index: int | None) -> Span | None:
        if index is None or not 0 <= index < len(rows):
            return None
        return rows[index].span

    # --- turns ----------------------------------------------------------------------------------------

    def explain_turns(self, edge: EdgeWorked, number: int, rows: Sequence[Row], size: int) -> None:
        """Say which turns are not where the steps put them."""
        steps = edge.steps
        name = self.edge_name(number, size)
        wanted = [(row, steps.unworked(row)) for row in steps.turning_rows()]
        places = [u for _, u in wanted]
        made = edge.turns
        if wanted and made and [m.unworked for m in made][: len(places)] == places:
            # the right places: what is left are rows, and turns behind the last step
            self._shifted(made, wanted, steps.sts, name, rows, size)
            return
        if len(made) == len(wanted):
            for turn, (_, unworked) in zip(made, wanted, strict=True):
                if turn.unworked != unworked:
                    self._misplaced(turn, unworked, steps.sts, name, rows, size)
            return
        sums = [sum(steps.sts[: i + 1]) for i in range(len(steps.sts))]
        told = [m.unworked for m in made]
        for turn in made:
            if turn.unworked not in sums:
                due = next((p for p in places if p not in told), None)
                if due is not None:
                    self._misplaced(turn, due, steps.sts, name, rows, size)
                    told.append(due)
                else:
                    self._too_many(turn, places, steps.sts, name, rows, size)
        for i, place in enumerate(places):
            if place not in told:
                self.add(
                    "error",
                    "turn-missing",
                    f"{name}: no turn leaves {_sum(steps.sts[: i + 1])} sts unworked; it is due by "
                    f"this row ({len(made)} turn{'' if len(made) == 1 else 's'} made, "
                    f"{len(places)} wanted)",
                    size,
                    self._row_at(rows, wanted[i][0], size),
                    f"{name} {i}",
                )

    def note_order(self, edge: EdgeWorked, number: int, size: int) -> None:
        """Say that turns which make the same fabric come in another order than the steps."""
        made = [turn.unworked for turn in edge.turns]
        if made != sorted(made):
            self.add(
                "remark",
                "turns-in-other-order",
                f"{self.edge_name(number, size)}: the turns leave {_listed(made)} sts unworked, in this "
                "order; the fabric is the same, but the steps go inward from the edge",
                size,
                None,
                f"{number} order",
            )

    def _misplaced(
        self, turn: Made, due: int, sts: Sequence[int], name: str, rows: Sequence[Row], size: int
    ) -> None:
        told = next((sts[: i + 1] for i in range(len(sts)) if sum(sts[: i + 1]) == due), (due,))
        self.add(
            "error",
            "turn-misplaced",
            f"{name}: this turn leaves {turn.unworked} sts unworked, the steps give {_sum(told)}",
            size,
            self.place(rows, turn.index),
            f"{name} {turn.index}",
        )

    def _shifted(
        self,
        made: Sequence[Made],
        wanted: Sequence[tuple[int, int]],
        sts: Sequence[int],
        name: str,
        rows: Sequence[Row],
        size: int,
    ) -> None:
        late = made[0].row - wanted[0][0]
        if late:
            self.add(
                "error",
                "starts-on-wrong-row",
                f"{name}: the first turn stands {abs(late)} row{'s' if abs(late) > 1 else ''} too "
                f"{'late' if late > 0 else 'early'}; it belongs in the row before the first bind-off",
                size,
                self.place(rows, made[0].index),
                name,
            )
        for turn, (row, _) in zip(made, wanted, strict=False):
            if turn.row - row != late:
                self.add(
                    "error",
                    "rows-between-turns",
                    f"{name}: this turn stands {abs(turn.row - row - late)} rows "
                    f"{'later' if turn.row - row > late else 'earlier'} than the turn before it asks for",
                    size,
                    self.place(rows, turn.index),
                    name,
                )
                break
        else:
            for turn in made[len(wanted) :] if not late else ():
                self._too_many(turn, [p for _, p in wanted], sts, name, rows, size)

    def _too_many(
        self,
        turn: Made,
        places: Sequence[int],
        sts: Sequence[int],
        name: str,
        rows: Sequence[Row],
        size: int,
    ) -> None:
        self.add(
            "error",
            "turn-too-many",
            f"{name}: a turn with {turn.unworked} sts unworked; the steps "
            f"{' + '.join(map(str, sts))} give {_listed(places)}",
            size,
            self.place(rows, turn.index),
            f"{name} {turn.index}",
        )

    def _row_at(self, rows: Sequence[Row], number: int, size: int) -> Span | None:
        """Return where the row stands that is row `number` of the original, or the last one."""
        at = self.start[size]
        last = None
        number = max(number, at)
        for row in rows:
            if not any(a.kind in WORKED for a in row.acts):
                continue
            last = row.span or last
            if at == number:
                break
            at += 1
        return last

    def explain_rows(self, rows: Sequence[Row], size: int) -> None:
        """Say where a row is missing: sts are bound off at a turn, or two rows have the same stitch."""
        for before, row in pairwise([r for r in rows if any(a.kind in WORKED for a in r.acts)]):
            left = next((a.n for a in before.acts if a.kind is Kind.LEAVE), None)
            if not left or not before.has(Kind.TURN) or self.part:
                continue
            if row.acts[0].kind is Kind.BIND_OFF and row.acts[0].n is not None:
                self.add(
                    "error",
                    "row-missing",
                    f"this row binds off where the row before it turned, with {left} sts unworked at the "
                    "edge: a row that works to the end seems to be missing between them",
                    size,
                    row.span,
                    "alike",
                )
                return
        for _, row in self._alike(rows):
            self.add(
                "error",
                "row-missing",
                f"this row is {_WORDS[row.word or '']} and so is the row before it: a row seems to be "
                "missing between them",
                size,
                row.span,
                "alike",
            )
            return

    def explain_stitches(self, rows: Sequence[Row], size: int) -> None:
        """Say which row is knitted that must be purled, or purled that must be knitted.

        The heights are right, so no row is missing: a row of stocking stitch has the other's stitch.
        """
        if any(True for _ in self._alike(self.shaping.rows[size])):
            return  # the original does so itself
        for before, row in self._alike(rows):
            named = before.side is not None and before.side != _SIDES[before.word or ""]
            wrong = before if named else row
            words = _WORDS[wrong.word or ""]
            side = f" on a {wrong.side} row" if wrong.side is not None else ""
            self.add(
                "error",
                "stitch-differs",
                f"this row is {words}{side}, in stocking stitch, and the row beside it is {words} too: "
                "knit or purl is the wrong way round here",
                size,
                wrong.span,
                "stitch",
            )
            return

    def _alike(self, rows: Sequence[Row]) -> Iterator[tuple[Row, Row]]:
        """Yield two rows of stocking stitch that follow one another and are knitted, or purled, both."""
        worked = [row for row in rows if any(a.kind in WORKED for a in row.acts)]
        if not self.stocking or {"knit", "purl"} - {row.word for row in worked}:
            return
        for before, row in pairwise(worked):
            if row.has(Kind.JOIN) or before.has(Kind.CUT) or before.has(Kind.HOLD):
                continue
            if row.word == before.word and row.word in _WORDS:
                yield before, row

    def explain_other_edge(self, worked: Worked, rows: Sequence[Row], size: int) -> None:
        if len(self.shaping.edges[size]) == 1 and worked.at_neck:
            turn = worked.at_neck[0]
            self.add(
                "error",
                "turn-at-wrong-edge",
                f"this row turns {turn.unworked} sts before the neck edge, but the steps are at the "
                "armhole edge",
                size,
                self.place(rows, turn.index),
                "edge",
            )


_WORDS = {"knit": "knitted", "purl": "purled"}
_SIDES = {"knit": "RS", "purl": "WS"}


def _sum(sts: Sequence[int]) -> str:
    return f"{' + '.join(map(str, sts))} = {sum(sts)}" if len(sts) > 1 else str(sum(sts))


def _listed(values: Sequence[int]) -> str:
    if len(values) < 2:
        return "".join(map(str, values)) or "none"
    return f"{', '.join(map(str, values[:-1]))} and {values[-1]}"
