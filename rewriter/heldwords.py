"""Write what becomes of live stitches: which of them go onto a holder, when, and where their yarn is cut."""

from __future__ import annotations

from rewriter.phrases import Phrases
from rewriter.planner import Line
from rewriter.rows import Kind


class HeldWords(Phrases):
    """Says which sts are held, and how a row goes on beyond them."""

    def work(self, line: Line) -> str:
        """Return the work word of a row: the draft's own, or knit and purl by side, or "work"."""
        style = self.style
        plain = {"knit": style.knit, "purl": style.purl, "rib": "rib"}
        own = line.any_row().word if line.number < 0 else None
        if own in plain:
            return plain[own]  # the row before the first bind-off was told so
        if style.words is not None:
            return plain.get(style.words[line.number % 2], style.work)
        side = self.job.plan.side(line, self.job.shaping.first_side)
        if style.work != "work":
            return style.work
        if self._over_band():
            return style.work
        if self.job.fabric == "garter":
            return style.knit
        if self.job.fabric == "stocking" and side is not None:
            return style.knit if side == "RS" else style.purl
        return style.work

    def _over_band(self) -> bool:
        """Say whether rows go on over sts kept beside a shoulder, whose stitch may be another one."""
        shaping = self.job.shaping
        told = any(row.band for rows in shaping.rows for row in rows)
        beside = not shaping.two_edged and self.job.edge != "neck"
        return beside and not told and any(n != 0 for n in shaping.neck)

    def _neck_named(self) -> str:
        """Return what the sts between the shoulders are: "back neck", or "the neck" of any piece."""
        rows, piece = self.wording["rows"], self.job.neck
        return str(rows["neck_of"].format(piece=piece) if piece else rows["neck_alone"])

    def second_shoulder(self, line: Line) -> list[str]:
        """Return the words from the holding of the first shoulder to the end of the second's row."""
        rows, style, shaping = self.wording["rows"], self.style, self.job.shaping
        first = [self._closing_order(i)[0] for i in line.sizes]
        neck = [shaping.neck[i] or 0 for i in line.sizes]
        side = self.job.plan.side(line, shaping.first_side)
        facing = rows["facing"].format(side=style.rs if side == "RS" else style.ws) if side else ""
        work = rows["to_end"].format(work=self.work(line), to_end=style.to_end)
        goes = f"{work}, {self._method('closing').format(st=style.st)}"
        key = "rejoin_neck_held" if shaping.ending == "held" else "rejoin"
        held = rows["hold_first"].format(n=self.count(first), tail=self._tail())
        rejoined = rows[key].format(
            facing=facing,
            n=self.count(neck),
            bo=style.bind_off,
            neck=self._neck_named(),
            manner=style.neck_manner,
            lest=style.neck_lest,
            aid=self._method("holder").format(st=style.st),
            goes=goes,
        )
        return [self.case(f"{held}."), self.case(f"{rejoined}.")]

    def _closing_order(self, size: int) -> list[int]:
        """Return the sts of both shoulders, the one that is closed first coming first."""
        edges = sorted(self.job.plan.steps[size], key=lambda s: s.rows[-1])
        return [s.total for s in edges]

    def _hold(self, line: Line) -> str:
        rows = self.wording["rows"]
        shaping, steps = self.job.shaping, self.job.plan.steps
        if shaping.on_two_balls:
            last = [self._closing_order(i)[1] for i in line.sizes]
            return str(rows["hold_one"].format(n=self.count(last)))
        if self.job.plan.exact:
            last = [self._closing_order(i)[1] for i in line.sizes]
            return str(rows["hold_second"].format(n=self.count(last)))
        first = [steps[i][0].total for i in line.sizes]
        if not shaping.two_edged:
            return str(rows["hold_one"].format(n=self.count(first)))
        second = [steps[i][1].total for i in line.sizes]
        if shaping.ending == "held":
            neck = [n for n in shaping.neck if n is not None]
            if len(neck) == self.sizes and first == second:
                return str(rows["hold_neck"].format(n=self.count(first), m=self.count(neck)))
            return str(rows["hold_neck_unknown"].format(n=self.count(first), sts=self.style.unit))
        if first == second:
            return str(rows["hold_each"].format(n=self.count(first)))
        return str(rows["hold_both"].format(n=self.count(first), m=self.count(second)))

    def held(self, line: Line, text: str) -> str:
        """Return the sentence that holds sts, and what becomes of the yarn, which hangs at their edge."""
        rows = self.wording["rows"]
        lines = self.job.plan.lines
        before = [ln for ln in lines[: lines.index(line)] if ln.any_row().acts][-1:]
        fastened = any(
            ln.any_row().has(Kind.CUT) and not ln.any_row().has(Kind.JOIN) for ln in before
        )
        shaping = self.job.shaping
        ended = shaping.on_two_balls or shaping.ending in ("held", "used up", "bound off")
        if fastened or not ended or self.job.yarn_told:
            return self.case(f"{text}.")
        return f"{self.case(text)}. {self.case(rows['cut'].format(tail=self._tail()))}"

    def side_held(self, line: Line) -> str:
        """Return the sentence that holds the side of a neck that is finished first, the other in work.

        Each side has a ball of its own, so the row that follows goes over the other one with its yarn.
        """
        first = [self._closing_order(i)[0] for i in line.sizes]
        held = self.wording["rows"]["hold_side"].format(n=self.count(first), tail=self._tail())
        return self.case(f"{held}.")

    def _tail(self) -> str:
        """Return what is said of the end of yarn that a join needs; nothing where sts are just held."""
        return "" if self.job.plan.join == "held" else str(self.wording["rows"]["tail"])
