"""Write cast-on shoulders in the draft's style: one cast-on a shoulder, rows that grow, what follows."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from rewriter import regex
from rewriter.castonmodel import CastOnShaping
from rewriter.castonplan import ROWS_AHEAD, CastOnPlan
from rewriter.castonrows import cast_on_acts
from rewriter.castons import CastOnPassage
from rewriter.edits import Edit
from rewriter.emitter import Writer
from rewriter.listform import listed
from rewriter.phrases import Job
from rewriter.planner import Line
from rewriter.rows import Act, Kind, Row
from rewriter.style import Style


def write_cast_on(
    job: Job, shaping: CastOnShaping, plan: CastOnPlan, passage: CastOnPassage, source: str
) -> list[str]:
    """Return the lines of the new text of cast-on shoulders."""
    return _CastOnWriter(job, shaping, plan, passage, source).lines()


def begun_edits(
    shaping: CastOnShaping, passage: CastOnPassage, style: Style, finding: str
) -> list[Edit]:
    """Cast the whole shoulder on where the piece begins, if its sts there are the first step."""
    if shaping.begun is None or passage.begun is None or passage.begun.count.amount is None:
        return []
    totals = [edges[0].total for edges in shaping.edges]
    text = listed(totals, style.list_form)
    return [Edit(passage.begun.count.amount.span, text, "cast-on", finding)]


class _CastOnWriter(Writer):
    """Writes growing short rows."""

    def __init__(
        self,
        job: Job,
        shaping: CastOnShaping,
        plan: CastOnPlan,
        passage: CastOnPassage,
        source: str,
    ) -> None:
        super().__init__(job)
        self.shaping, self.plan = shaping, plan
        own = passage.span.of(source)
        found = _VERB.search(own) or _VERB.search(source)
        self.verb = "cast on" if found is None or self.full else _verb(found.group())
        self.manner = _manner(passage, source)
        label = passage.statements[0].label
        self.first_number = label.numbers[0] if label and label.numbers else None

    def lines(self) -> list[str]:
        out: list[str] = []
        if self.marked:
            out += self._growing_markers()
        if self.explains():
            out.append(self.case(self.note()))
        everyone = group = tuple(range(self.sizes))
        apart = any(line.sizes != everyone for line in self.plan.lines)
        number = None if apart else self.first_number
        counted = [ln.number for ln in self.plan.lines if cast_on_acts(ln.any_row())]
        for line in self.plan.lines:
            if line.sizes != group:
                group = line.sizes
                out.append(self._group(group, everyone))
            text, _ = self._row(line)
            first = line is self.plan.lines[0] and bool(self.job.opening)
            if first:
                text = self.opened(text)
            side = self.plan.side(line, self.shaping.first_side)
            told = self._label(number, side)
            total = self._total() if line.number == max(counted, default=-1) else []
            if total:
                form = self.style.count_form
                out.append(form.write(told + text, self.listed(total), self.style.unit))
            else:
                out.append(f"{told}{text}.")
            number = None if number is None else number + 1
        if group != everyone:
            out.append(self._group(everyone, everyone))
        out += self._behind()
        return [self.finish(line) for line in out]

    # --- one row --------------------------------------------------------------------------------

    def _row(self, line: Line) -> tuple[str, str]:
        """Return the words of a row; a turn is closed before the next is made."""
        present = [r for r in line.rows if r is not None]
        row, work = present[0], self.work(line)
        words: list[str] = []
        aid = self._method("aid")
        aided = [r.aid for r in present]
        if any(aided) and aid:
            unaided = [i for i, r in enumerate(line.rows) if r is not None and not r.aid]
            words.append(aid.format(st=self.style.st) + self._except(unaided))
        closing = self._closing_words(present, begins_at_turn=any(aided) and bool(aid))
        for n, act in enumerate(row.acts):
            values = [r.acts[n].n or 0 for r in present]
            if act.kind is Kind.CAST_ON:
                words.append(self._cast_on(values))
            elif act.kind is Kind.LEAVE:
                words += self._turned(work, values, closing)
            elif act.kind is Kind.WORK:
                rows = self.wording["rows"]
                words.append(rows["to_end"].format(work=work, to_end=self.style.to_end))
                words += closing
        return self.row_case(", ".join(words)), "turn" if row.has(Kind.TURN) else "plain"

    def _closing_words(self, present: Sequence[Row], *, begins_at_turn: bool) -> list[str]:
        """Return what a row does to the one turn that it passes; no other is open there."""
        closes = [r.closes for r in present]
        if not any(closes):
            return []
        one = "closing" if begins_at_turn else "closing_one"
        key = one if all(closes) else "closing_any"
        return [self._method(key).format(st=self.style.st)]

    def _turned(self, work: str, values: Sequence[int], closing: Sequence[str]) -> list[str]:
        marker = " (marker)" if self.marked else ""
        if not self.shaping.two_edged and self.shaping.first_side is None:
            marker = f" at {self.job.edge} edge{marker}"
        turn = self._method("turn").format(st=self.style.st)
        told = self.wording["cast_on"]["short"].format(
            work=work, n=self.count(values), marker=marker
        )
        return [told, *closing, turn]

    def _cast_on(self, values: Sequence[int]) -> str:
        words = self.wording["cast_on"]["cast_on"]
        return str(words.format(co=self.verb, n=self.count(values), manner=self.manner))

    def _act(self, acts: Sequence[Act], row: Row, n: int, line: Line, work: str) -> str:
        raise NotImplementedError("rows that grow are written by _row")

    # --- around the rows --------------------------------------------------------------------------

    def _growing_markers(self) -> list[str]:
        """Return the sentence that places the markers, where one serves all edges and sizes."""
        edges = self.plan.steps
        if any(len(s) == 2 and s[0].sts != s[1].sts for s in edges) or (
            len({len(s[0].sts) for s in edges}) > 1
        ):
            self.marked = False
            return []
        table = self.wording["markers"]
        from_edge = [list(accumulate(reversed(s[0].sts)))[:-1] for s in edges]
        places = [table["place"].format(n=self.count(at)) for at in zip(*from_edge, strict=True)]
        told = places[0] if len(places) == 1 else f"{', '.join(places[:-1])} and {places[-1]}"
        key = "two_edges" if self.shaping.two_edged else "one_edge"
        text = self.wording["cast_on"][key].format(
            edge=self.job.edge, places=told, sts=self.style.unit
        )
        several = "off" if self.job.with_note else "off_again"
        one = len(places) == 1 and not self.shaping.two_edged
        return [
            f"{self.have()}{self.case(text)} {self.case(self.off('off_one' if one else several))}"
        ]

    def _total(self) -> list[int]:
        """Return the sts of each size when all are cast on, where the draft prints such counts."""
        if not self.style.prints_counts or any(n is None for n in self.shaping.neck):
            return []
        return [self.shaping.total(i) + (self.shaping.neck[i] or 0) for i in range(self.sizes)]

    def _behind(self) -> list[str]:
        """Return what the rows behind the passage must do: begin at a turn, close the last turns."""
        table, behind = self.wording["cast_on"], self.plan.behind
        out = []
        aid = self._method("aid").format(st=self.style.st)
        if behind.aid and aid:
            out.append(self.case(table["begin_next"].format(aid=aid)))
        if behind.closes:
            closing = self._method("closing_one").format(st=self.style.st)
            words = regex.sub(r"^working\b", "work", closing)
            named = next(word for word, rows in ROWS_AHEAD.items() if rows == behind.closes)
            # its capital stays in a house without: "... with its st. on the first" would be one sentence
            out.append(table[f"close_{named}"].format(closing=words))
        return out


_VERB = regex.compile(r"\bCO\b|\bco\b(?=\s\d)|(?i:\bcast\s+on\b)")


def _verb(found: str) -> str:
    return found if found in ("CO", "co") else "cast on"


def _manner(passage: CastOnPassage, source: str) -> str:
    """Return how the sts are cast on ("using the cable method"), as the draft says it."""
    method = loose = ""
    for statement in passage.statements:
        for frame in statement.frames:
            for note in frame.notes:
                words = " ".join(note.span.of(source).split()).lower()
                if note.concept == "method":
                    method = f" {words}"
                elif words == "loosely" and frame.verb == "cast_on":
                    loose = " loosely"
    return loose + method
