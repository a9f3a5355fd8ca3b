"""Judge what working both texts showed: which columns differ, and which words make them differ."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.amounts import ListLengthError
from rewriter.parked import names_both_ends
from rewriter.rows import Act, Kind, Row
from rewriter.spans import Span
from rewriter.turnfaults import TurnJudge
from rewriter.working import EdgeWorked, Worked

LIVE = frozenset({"held", "on the needle"})
_LESSENS = (Kind.BIND_OFF, Kind.PARK, Kind.PARK_NEXT, Kind.PARK_FAR, Kind.HOLD)


class Judge(TurnJudge):
    """Judges one passage, size by size."""

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
            wrong = self._neck(worked, rows, size) or wrong
            self._loose_ends(worked, rows, size)
        self._counts(worked, rows, size)
        if wrong:
            self.explain_rows(rows, size)
            for number, edge in enumerate(worked.edges):
                self.explain_turns(edge, number, rows, size)
            self.explain_other_edge(worked, rows, size)
        else:
            self.explain_stitches(rows, size)
            for number, edge in enumerate(worked.edges):
                self.note_order(edge, number, size)
        after = len(self.notes.errors(self.passage)), self._sizes_told()
        if wrong or after != before:
            return "differs"
        return "within-one-row" if within else "same"

    def _sizes_told(self) -> int:
        return sum(len(n.sizes) for n in self.notes.errors(self.passage))

    # --- heights ----------------------------------------------------------------------------------

    def _heights(self, edge: EdgeWorked, name: str, size: int) -> tuple[bool, bool]:
        """Return whether the columns of an edge are as they should be, and whether but for one row."""
        gain = edge.uniform
        if gain is not None and -1 <= gain <= 1:
            if gain:
                self.add(
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
            self.add(
                "warning",
                "within-one-row",
                f"{name}: the {last} sts of the last step are one row taller than the others; the "
                "original binds them off on the return row, which no short rows make exactly",
                size,
                None,
                name,
            )
            return True, True
        self.add("error", "rows-differ", f"{name}: {_columns(edge)}", size, None, name)
        return False, False

    def _decreased_at(self, rows: Sequence[Row], size: int) -> Span | None:
        """Return the first revised row that decreases other sts than the row in its place."""
        own = self.shaping.rows[size]  # from row -1 on
        for number, row in enumerate(rows, self.start[size] + 1):
            if 0 <= number < len(own) and row.dec != own[number].dec:
                return row.span
        return None

    def _neck(self, worked: Worked, rows: Sequence[Row], size: int) -> bool:
        """Judge the sts that belong to no shoulder; return whether their rows differ too much."""
        differs = any(abs(n) > 1 for n in worked.neck)
        if differs:
            most = max(worked.neck, key=abs)
            beside = "between the shoulders" if len(worked.edges) == 2 else "beside the shoulder"
            self.add(
                "error",
                "neck-rows-differ",
                f"the sts {beside} are up to {_rows(most)}",
                size,
                None,
            )
        elif len(worked.neck) == 1 and worked.neck[0]:
            self.add(
                "remark",
                "neck-rows-gained",
                f"the sts beside the shoulder are one row {_taller(worked.neck[0])}",
                size,
                None,
            )
        old, new = worked.decreased
        if old != new:
            self.add(
                "error",
                "sts-do-not-add-up",
                f"{old} sts are decreased at the neck edge in the original, {new} here",
                size,
                self._decreased_at(rows, size),
                "decreased",
            )
        before, after = worked.neck_fates
        if "on the needle" in after and "on the needle" not in before and not self.joined_live:
            self.add(
                "error", "sts-left", "sts beside the shoulder are left on the needle", size,
                self.place(rows, len(rows) - 1),
            )  # fmt: skip
        elif {"bound off"} == before and "bound off" in after and after & LIVE:
            self.add(
                "error",
                "sts-do-not-add-up",
                "of the sts beside the shoulder some are bound off and some kept live",
                size,
                None,
                "neck",
            )
        elif {"bound off"} == before and after & LIVE and "on the needle" not in after:
            self.add(
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
            self.add(
                "error", "sts-left", f"{name}: {loose} of its {steps.total} sts are left on the needle",
                size, self.place(rows, len(rows) - 1), name,
            )  # fmt: skip
            return
        mixed = bool(fates & LIVE) and "bound off" in fates
        short = edge.ended < steps.total and (edge.uniform is None or mixed)
        over = edge.ended > steps.total and not edge.ended_all and "bound off" in fates
        over = over and not _told_apart(rows, edge.ended_at, steps.total)
        if (short or over) and edge.ended_at is not None:
            at = edge.ended_at
            stepped = short and edge.ended == steps.sts[0]
            if not stepped:
                what = "bound off" if fates == {"bound off"} else "taken"
                self.add(
                    "error",
                    "sts-do-not-add-up",
                    f"{name}: {edge.ended} sts are {what} together, but it has {total} sts",
                    size,
                    self.place(rows, at),
                    name,
                )

    def _loose_ends(self, worked: Worked, rows: Sequence[Row], size: int) -> None:
        if worked.open_turns:
            if self.joined_live:
                self.add(
                    "remark",
                    "turns-closed-in-join",
                    "no row passes the turns again: they are closed only when the shoulders are "
                    "joined, so say there how",
                    size,
                    None,
                )
            else:
                number = worked.open_turns
                made = sorted((t.index for e in worked.edges for t in e.turns), reverse=True)
                self.add(
                    "error",
                    "turn-not-closed",
                    f"{number} turn{'s are' if number > 1 else ' is'} closed by no later row, sweep "
                    "or join",
                    size,
                    self.place(rows, made[min(number, len(made)) - 1]) if made else None,
                    "open",
                )
        aided = any(row.aid for row in rows)
        for index in worked.unclosed:
            self.add(
                "remark",
                "closing-not-told",
                "this row passes turns, but its words do not say how they are closed",
                size,
                self.place(rows, index),
            )
        for index in worked.unaided if aided else ():
            self.add(
                "warning",
                "aid-missing",
                "this row begins at a turn without what the turning method asks for",
                size,
                self.place(rows, index),
            )
        for index in worked.idle:
            self.add(
                "error",
                "aid-without-turn",
                "this row begins as after a turn, but the row before it does not turn",
                size,
                self.place(rows, index),
            )

    def _stuck(self, worked: Worked, rows: Sequence[Row], size: int) -> None:
        assert worked.stuck is not None
        message, index = worked.stuck
        self.add(
            "error",
            "sts-do-not-add-up",
            f"this row cannot be worked: {message}",
            size,
            self.place(rows, min(max(index, 0), len(rows) - 1)),
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
                self.add(
                    "error",
                    "sts-do-not-add-up",
                    f"{after} sts are on the needle after this row, but the text says {row.printed}",
                    size,
                    row.span,
                    "printed",
                )
            self._held(row, before, size)
            self._held_rest(row, before, size)
            takes_all = row.acts[:1] and row.acts[0].kind is Kind.BIND_OFF and row.acts[0].n is None
            if takes_all and row.claim is not None and row.claim != before - after:
                self.add(
                    "error",
                    "sts-do-not-add-up",
                    f"{before - after} sts are left to be bound off here, but the text says {row.claim}",
                    size,
                    row.span,
                    "claim",
                )

    def _held_rest(self, row: Row, live: int, size: int) -> None:
        """Compare the sts that a row leaves for its last holder with the number told for them."""
        done = [a for a in row.acts[:-1] if a.kind in _LESSENS]
        if row.claim is None or not done or row.acts[-1] != Act(Kind.HOLD):
            return
        left = live - row.dec - sum(a.n or 0 for a in done)
        if all(a.n is not None for a in done) and left != row.claim:
            self.add(
                "error",
                "sts-do-not-add-up",
                f"{left} sts are on the needle here, but the text puts {row.claim} on a holder",
                size,
                row.span,
                "held",
            )

    def _held(self, row: Row, live: int, size: int) -> None:
        """Compare the sts that a sentence puts on holders with those on the needle."""
        if not 0 <= row.statement < len(self.statements) or row.acts != (Act(Kind.HOLD),):
            return
        told = 0
        if not live:
            return  # the second of two holders that one sentence tells
        for frame in self.statements[row.statement].frames:
            if frame.verb not in ("hold", "") or frame.amount is None:
                continue
            try:
                sts = frame.amount.per_size(len(self.labels))[size]
            except ListLengthError:
                return  # told for some sizes only
            each = names_both_ends(frame, self.statements[row.statement].sentence.source)
            told += sts * (2 if each else 1)
        if told and told != live:
            self.add(
                "error",
                "sts-do-not-add-up",
                f"{live} sts are on the needle here, but the text puts {told} on holders",
                size,
                row.span,
                "held",
            )


def _told_apart(rows: Sequence[Row], at: int | None, sts: int) -> bool:
    """Say whether a row binds off the sts of a shoulder by themselves, and then others: "BO 20, BO 32"."""
    acts = rows[at].acts if at is not None and 0 <= at < len(rows) else ()
    alone = [a.n for a in acts[:2] if a.kind is Kind.BIND_OFF]
    return len(alone) == 2 and alone[0] == sts


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
