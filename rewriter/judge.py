"""Judge what working both texts showed: which columns differ, and which words make them differ."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rewriter.checknotes import CheckNote, CheckNotes, Severity
from rewriter.rows import Kind, Row
from rewriter.shaping import Shaping
from rewriter.spans import Span
from rewriter.working import EdgeWorked, Made, Worked

LIVE = frozenset({"held", "on the needle"})


@dataclass
class Judge:
    """Judges one passage, size by size."""

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

    def judge(self, size: int, rows: Sequence[Row], worked: Worked) -> str:
        """Add what is wrong for one size; return "same", "within-one-row" or "differs"."""
        before = len(self.notes.errors(self.passage)), self._sizes_told()
        within = False
        wrong = worked.stuck is not None
        for number, edge in enumerate(worked.edges):
            name = self.edge_name(number, size)
            if worked.stuck is None:
                good, close = self._heights(edge, name, size)
                within = within or close
                wrong = wrong or not good
                self._ending(edge, name, rows, size)
        if worked.stuck is not None:
            self._stuck(worked, rows, size)
        else:
            wrong = self._neck(worked, size) or wrong
            self._loose_ends(worked, rows, size)
        self._counts(worked, rows, size)
        if wrong:
            for number, edge in enumerate(worked.edges):
                self._turns(edge, number, rows, size)
            self._at_other_edge(worked, rows, size)
        after = len(self.notes.errors(self.passage)), self._sizes_told()
        if wrong or after != before:
            return "differs"
        return "within-one-row" if within else "same"

    def _sizes_told(self) -> int:
        return sum(len(n.sizes) for n in self.notes.errors(self.passage))

    # --- how it is said ---------------------------------------------------------------------------

    def edge_name(self, number: int, size: int) -> str:
        """Return how an edge is called: by its side, where that is known."""
        edges = self.shaping.edges[size]
        if len(edges) == 1:
            return f"the {self.kind}"
        if self.shaping.first_side is None:
            return f"the {'first' if number == 0 else 'second'} {self.kind}"
        return f"the {edges[number].edge} {self.kind} (RS facing)"

    def _add(
        self, severity: Severity, code: str, message: str, size: int, at: Span | None, key: str = ""
    ) -> None:
        self.notes.add(
            CheckNote(
                code, severity, message, self.passage, self.original, at or self.revised, [size]
            ),
            key,
        )

    def _place(self, rows: Sequence[Row], index: int | None) -> Span | None:
        if index is None or not 0 <= index < len(rows):
            return None
        return rows[index].span

    # --- heights ----------------------------------------------------------------------------------

    def _heights(self, edge: EdgeWorked, name: str, size: int) -> tuple[bool, bool]:
        """Return whether the columns of an edge are as they should be, and whether but for one row."""
        gain = edge.uniform
        if gain is not None and -1 <= gain <= 1:
            if gain:
                self._add(
                    "remark",
                    "rows-gained",
                    f"{name}: every column is one row {_taller(gain)}",
                    size,
                    None,
                    name,
                )
            return True, False
        last = edge.steps.sts[-1]
        close = (
            self.shaping.last_on_return_row
            and len(edge.gained) == 2
            and edge.gained[1][0] == last
            and edge.gained[1][1] - edge.gained[0][1] == 1
            and edge.gained[0][1] in (-1, 0, 1)
        )
        if close:
            self._add(
                "warning",
                "within-one-row",
                f"{name}: the {last} sts of the last step are one row taller than the others; the "
                "original binds them off on the return row, which no short rows make exactly",
                size,
                None,
                name,
            )
            return True, True
        self._add("error", "rows-differ", f"{name}: {_columns(edge)}", size, None, name)
        return False, False

    def _neck(self, worked: Worked, size: int) -> bool:
        """Judge the sts that belong to no shoulder; return whether their rows differ too much."""
        differs = any(abs(n) > 1 for n in worked.neck)
        if differs:
            most = max(worked.neck, key=abs)
            self._add(
                "error",
                "neck-rows-differ",
                f"the sts between the shoulders are up to {_rows(most)}",
                size,
                None,
            )
        elif len(worked.neck) == 1 and worked.neck[0]:
            self._add(
                "remark",
                "neck-rows-gained",
                f"the sts beside the shoulder are one row {_taller(worked.neck[0])}",
                size,
                None,
            )
        old, new = worked.decreased
        if old != new:
            self._add(
                "error",
                "sts-do-not-add-up",
                f"{old} sts are decreased at the neck edge in the original, {new} here",
                size,
                None,
                "decreased",
            )
        before, after = worked.neck_fates
        if "on the needle" in after and "on the needle" not in before and not self.joined_live:
            self._add(
                "error", "sts-left", "sts beside the shoulder are left on the needle", size, None
            )
        elif {"bound off"} == before and "bound off" in after and after & LIVE:
            self._add(
                "error",
                "sts-do-not-add-up",
                "of the sts beside the shoulder some are bound off and some kept live",
                size,
                None,
                "neck",
            )
        elif {"bound off"} == before and after & LIVE and "on the needle" not in after:
            self._add(
                "warning",
                "neck-held",
                "the neck sts, bound off in the original, are kept on a holder here",
                size,
                None,
            )
        return differs

    # --- the ends of the rows -----------------------------------------------------------------------

    def _ending(self, edge: EdgeWorked, name: str, rows: Sequence[Row], size: int) -> None:
        """Say whether all sts of an edge end together, bound off or live."""
        steps = edge.steps
        fates = {fate for _, fate in edge.fates}
        total = f"{' + '.join(map(str, steps.sts))} = {steps.total}"
        if len(steps.sts) == 1:
            total = str(steps.total)
        loose = sum(n for n, fate in edge.fates if fate == "on the needle")
        if loose and not (loose == steps.total and self.joined_live):
            self._add(
                "error", "sts-left", f"{name}: {loose} of its {steps.total} sts are left on the needle",
                size, None, name,
            )  # fmt: skip
            return
        mixed = bool(fates & LIVE) and "bound off" in fates
        short = edge.ended < steps.total and (edge.uniform is None or mixed)
        over = edge.ended > steps.total and not edge.ended_all and "bound off" in fates
        if (short or over) and edge.ended_at is not None:
            at = edge.ended_at
            stepped = short and edge.ended == steps.sts[0]
            if not stepped:
                what = "bound off" if fates == {"bound off"} else "taken"
                self._add(
                    "error",
                    "sts-do-not-add-up",
                    f"{name}: {edge.ended} sts are {what} together, but it has {total} sts",
                    size,
                    self._place(rows, at),
                    name,
                )

    def _loose_ends(self, worked: Worked, rows: Sequence[Row], size: int) -> None:
        if worked.open_turns:
            if self.joined_live:
                self._add(
                    "remark",
                    "turns-closed-in-join",
                    "no row passes the turns again: they are closed only when the shoulders are "
                    "joined, so say there how",
                    size,
                    None,
                )
            else:
                number = worked.open_turns
                self._add(
                    "error",
                    "turn-not-closed",
                    f"{number} turn{'s are' if number > 1 else ' is'} closed by no later row, sweep "
                    "or join",
                    size,
                    None,
                    "open",
                )
        aided = any(row.aid for row in rows)
        for index in worked.unclosed:
            self._add(
                "remark",
                "closing-not-told",
                "this row passes turns, but its words do not say how they are closed",
                size,
                self._place(rows, index),
            )
        for index in worked.unaided if aided else ():
            self._add(
                "warning",
                "aid-missing",
                "this row begins at a turn without what the turning method asks for",
                size,
                self._place(rows, index),
            )
        for index in worked.idle:
            self._add(
                "error",
                "aid-without-turn",
                "this row begins as after a turn, but the row before it does not turn",
                size,
                self._place(rows, index),
            )

    def _stuck(self, worked: Worked, rows: Sequence[Row], size: int) -> None:
        assert worked.stuck is not None
        message, index = worked.stuck
        self._add(
            "error",
            "sts-do-not-add-up",
            f"this row cannot be worked: {message}",
            size,
            self._place(rows, min(max(index, 0), len(rows) - 1)),
            "stuck",
        )

    def _counts(self, worked: Worked, rows: Sequence[Row], size: int) -> None:
        """Compare printed counts with the needle, where the number of all sts is known."""
        if not worked.neck_known:
            return
        live = [worked.stitches, *worked.live]
        for index, row in enumerate(rows[: len(worked.live)]):
            before, after = live[index], live[index + 1]
            if row.printed is not None and row.printed != after:
                self._add(
                    "error",
                    "sts-do-not-add-up",
                    f"{after} sts are on the needle after this row, but the text says {row.printed}",
                    size,
                    row.span,
                    "printed",
                )
            takes_all = row.acts[:1] and row.acts[0].kind is Kind.BIND_OFF and row.acts[0].n is None
            if takes_all and row.claim is not None and row.claim != before - after:
                self._add(
                    "error",
                    "sts-do-not-add-up",
                    f"{before - after} sts are left to be bound off here, but the text says {row.claim}",
                    size,
                    row.span,
                    "claim",
                )

    # --- turns ----------------------------------------------------------------------------------------

    def _turns(self, edge: EdgeWorked, number: int, rows: Sequence[Row], size: int) -> None:
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
                self._add(
                    "error",
                    "turn-missing",
                    f"{name}: no turn leaves {_sum(steps.sts[: i + 1])} sts unworked "
                    f"({len(made)} turn{'' if len(made) == 1 else 's'} made, {len(places)} wanted)",
                    size,
                    None,
                    f"{name} {i}",
                )

    def _misplaced(
        self, turn: Made, due: int, sts: Sequence[int], name: str, rows: Sequence[Row], size: int
    ) -> None:
        told = next((sts[: i + 1] for i in range(len(sts)) if sum(sts[: i + 1]) == due), (due,))
        self._add(
            "error",
            "turn-misplaced",
            f"{name}: this turn leaves {turn.unworked} sts unworked, the steps give {_sum(told)}",
            size,
            self._place(rows, turn.index),
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
            self._add(
                "error",
                "starts-on-wrong-row",
                f"{name}: the first turn stands {abs(late)} row{'s' if abs(late) > 1 else ''} too "
                f"{'late' if late > 0 else 'early'}; it belongs in the row before the first bind-off",
                size,
                self._place(rows, made[0].index),
                name,
            )
        for turn, (row, _) in zip(made, wanted, strict=False):
            if turn.row - row != late:
                self._add(
                    "error",
                    "rows-between-turns",
                    f"{name}: this turn stands {abs(turn.row - row - late)} rows "
                    f"{'later' if turn.row - row > late else 'earlier'} than the turn before it asks for",
                    size,
                    self._place(rows, turn.index),
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
        self._add(
            "error",
            "turn-too-many",
            f"{name}: a turn with {turn.unworked} sts unworked; the steps "
            f"{' + '.join(map(str, sts))} give {_listed(places)}",
            size,
            self._place(rows, turn.index),
            f"{name} {turn.index}",
        )

    def _at_other_edge(self, worked: Worked, rows: Sequence[Row], size: int) -> None:
        if len(self.shaping.edges[size]) == 1 and worked.at_neck:
            turn = worked.at_neck[0]
            self._add(
                "error",
                "turn-at-wrong-edge",
                f"this row turns {turn.unworked} sts before the neck edge, but the steps are at the "
                "armhole edge",
                size,
                self._place(rows, turn.index),
                "edge",
            )


def _sum(sts: Sequence[int]) -> str:
    return f"{' + '.join(map(str, sts))} = {sum(sts)}" if len(sts) > 1 else str(sum(sts))


def _listed(values: Sequence[int]) -> str:
    if len(values) < 2:
        return "".join(map(str, values)) or "none"
    return f"{', '.join(map(str, values[:-1]))} and {values[-1]}"


def _taller(gain: int) -> str:
    return "taller" if gain > 0 else "shorter"


def _rows(gain: int) -> str:
    if gain == 0:
        return "as tall as before"
    return f"{abs(gain)} row{'s' if abs(gain) > 1 else ''} {_taller(gain)}"


def _columns(edge: EdgeWorked) -> str:
    if edge.uniform is not None:
        return f"every column is {_rows(edge.uniform)}"
    told = "; ".join(
        f"{'the first' if i == 0 else 'then'} {sts} st{'s' if sts > 1 else ''} {_rows(gain)}"
        for i, (sts, gain) in enumerate(edge.gained)
    )
    return f"counted from the outer edge inward, {told}"
