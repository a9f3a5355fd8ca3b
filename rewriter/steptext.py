"""Write stepped rows in the draft's own style: counted in one sentence, or row by row.

A draft that numbers its rows, or whose rows shape the neck too, is written row by row; else the steps
are counted ("Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of foll 2 rows").
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from rewriter import regex
from rewriter.emitter import Writer
from rewriter.phrases import Job, wording
from rewriter.planner import Line
from rewriter.rows import Act, Kind, Row
from rewriter.twin import Steps


@dataclass(frozen=True)
class Chunk:
    """Steps that are told together, for every size."""

    sts: tuple[int, ...]
    """Stitches of each step; 0 where a size has none."""
    times: tuple[int, ...]
    """Number of steps at one edge."""


def chunks(edges: Sequence[Steps]) -> list[Chunk]:
    """Return the steps of one edge in all sizes, equal neighbours told together, in the fewest words.

    Where the sizes differ in their number of steps, one with fewer counts fewer of them, or 0.
    """
    first = [s.sts[:-1] for s in edges]
    last = Chunk(tuple(s.sts[-1] for s in edges), (1,) * len(edges))
    told = [_by_place([s.sts for s in edges]), [*_by_place(first), last]]
    runs = [[(n, len(list(same))) for n, same in groupby(s.sts)] for s in edges]
    if len({len(r) for r in runs}) == 1:
        columns = zip(*runs, strict=True)
        told.append([Chunk(tuple(n for n, _ in c), tuple(t for _, t in c)) for c in columns])
    return min(told, key=lambda way: (len(way), sum(c.sts.count(0) for c in way)))


def _by_place(edges: Sequence[Sequence[int]]) -> list[Chunk]:
    """Tell first steps together, second steps together and so on."""
    out: list[Chunk] = []
    for j in range(max(map(len, edges))):
        here = tuple(sts[j] if j < len(sts) else 0 for sts in edges)
        if out and all(n in (0, told) for n, told in zip(here, out[-1].sts, strict=True)):
            last = out.pop()
            times = tuple(t + (n > 0) for t, n in zip(last.times, here, strict=True))
            out.append(Chunk(last.sts, times))
        else:
            out.append(Chunk(here, tuple(int(n > 0) for n in here)))
    return out


class StepWriter(Writer):
    """Writes the steps of one shoulder in the draft's style."""

    def __init__(self, job: Job, source: str, first_row: int) -> None:
        """`source` is the draft, for its abbreviations; `first_row` -1 writes the row before too."""
        super().__init__(job)
        self.source = source
        self.first_row = first_row
        sloped = getattr(job.shaping, "sloped", ())
        self.prints_counts = any(row.printed is not None for rows in sloped for row in rows)
        words = wording()["steps"]["words"]
        own = {short: self._own(short, long) for short, long in words.items()}
        if self.style.terms == "US" and not self._has("foll"):
            own["foll"] = "next"
        own["the"] = "the " if self._has("of the next") else ""
        if self._has(r"at the beg\w*"):
            own["beg"] = f"the {own['beg']}"
        self.terms = own

    def _has(self, word: str) -> bool:
        return regex.compile_new(rf"(?i)\b{word}\b").search(self.source) is not None

    def _own(self, short: str, long: str) -> str:
        """Return the word or its abbreviation, as the draft has it."""
        if self.full or self.style.unit != "sts":
            return long
        return long if self._has(long) and not self._has(short) else short

    def say(self, key: str, **fields: object) -> str:
        """Return a phrase of the table of steps, filled in."""
        style = self.style
        return str(
            wording()["steps"][key].format(
                bo=style.bind_off, manner=style.manner, sts=style.unit, **self.terms, **fields
            )
        )

    # --- counted ----------------------------------------------------------------------------------

    def counted(self) -> list[str] | None:
        """Return the steps counted in one sentence or two; None where they cannot be told so."""
        shaping = self.job.shaping
        if self.job.numbered_from is not None or self.first_row < 0:
            return None
        if any(row.dec or row.edge == "neck" for rows in shaping.rows for row in rows[1:]):
            return None
        both = shaping.two_edged
        for edges in shaping.edges:
            for place, steps in enumerate(edges):
                if steps.rows != tuple(range(place, place + 2 * len(steps.rows), 2)):
                    return None
            if both and edges[0].sts != edges[1].sts:
                return None
        edge = [edges[0] for edges in shaping.edges]
        if both:
            return [self.both(chunks(edge))]
        ended = all(rows[-1].acts[0].n is None for rows in shaping.rows)
        return self._one(edge, ended)

    def both(self, told: Sequence[Chunk]) -> str:
        """Return the steps of two edges, counted in one sentence."""
        parts = [
            self.say(
                "both_then" if i else "both",
                n=self.count(chunk.sts),
                m=self.listed([2 * t for t in chunk.times]),
            )
            for i, chunk in enumerate(told)
        ]
        return self._with_count(self.case(self._chain(parts)))

    def _one(self, edge: Sequence[Steps], ended: bool) -> list[str] | None:
        if not ended:
            parts = self._one_parts(chunks(edge))
            return [self._with_count(self.case(self._chain(parts)))]
        if any(len(s.sts) < 2 for s in edge):
            return None
        before = [Steps(s.edge, s.rows[:-1], s.sts[:-1]) for s in edge]
        last = self.say("rest", n=self.count([s.sts[-1] for s in edge]))
        between = wording()["steps"]["between"]
        chain = self._chain(self._one_parts(chunks(before)))
        return [f"{self.case(chain)}.", f"{self.case(between)}.", f"{self.case(last)}."]

    def _one_parts(self, told: Sequence[Chunk]) -> list[str]:
        out = []
        side = self.job.plan.side(Line((), 0), self.job.shaping.first_side)
        by_side = self.style.terms == "US" and side is not None
        kind = "side" if by_side else "other" if self.style.terms == "US" else "alt"
        for i, chunk in enumerate(told):
            # of the first steps one stands on "next row", the others on alternate rows
            times = list(chunk.times) if i or by_side else [t - 1 for t in chunk.times]
            several = len(set(times)) > 1 or times[0] > 1
            key = f"{kind}s" if several else kind if any(times) else "once"
            out.append(
                self.say(
                    f"then_{key}" if i else key,
                    n=self.count(chunk.sts),
                    m=self.listed(times),
                    side=self.style.rs if side == "RS" else self.style.ws,
                )
            )
        return out

    def _chain(self, parts: Sequence[str]) -> str:
        return str(wording()["steps"]["then"].join(parts))

    def _with_count(self, text: str) -> str:
        """Print the sts that are left, where the draft's rows do."""
        left = [n for n in self.job.shaping.neck if n]
        if not self.prints_counts or len(left) < self.sizes:
            return f"{text}."
        return str(self.style.count_form.write(text, self.listed(left), self.style.unit))

    # --- row by row -------------------------------------------------------------------------------

    def rows(self) -> list[str]:
        """Return the steps row by row, each row with its label."""
        out: list[str] = []
        everyone = group = tuple(range(self.sizes))
        number = self.job.numbered_from
        lines = [line for line in self.job.plan.lines if line.number >= self.first_row]
        if any(line.sizes != everyone for line in lines):
            number = None
        before = ""
        for line in lines:
            if line.sizes != group:
                group, before = line.sizes, ""
                out.append(self._group(group, everyone))
            text, shape = self._row(line)
            side = self.job.plan.side(line, self.job.shaping.first_side)
            told = side if number is None or not before else None
            row = self._label(number, told) + text
            left = self._left_after(line) if self.prints_counts and shape == "sweep" else []
            form, unit = self.style.count_form, self.style.unit
            out.append(form.write(row, self.listed(left), unit) if left else f"{row}.")
            before = shape
            number = None if number is None else number + 1
        if group != everyone and self.job.shaping.two_edged:
            out.append(self._group(everyone, everyone))  # what ends the neck is for all of them
        return out

    def _left_after(self, line: Line) -> list[int]:
        """Return the sts of each size after a row; empty where they are not known or none are left."""
        shaping = self.job.shaping
        out = []
        for i in line.sizes:
            whole = shaping.stitches[i]
            if whole is None:
                return []
            own = [ln.rows[i] for ln in self.job.plan.lines if ln.number <= line.number]
            taken = sum(_taken(row) for row in own if row is not None)
            last = line.rows[i]
            out.append(0 if last is not None and last.acts[0].n is None else whole - taken)
        return [] if 0 in out else out

    def _act(self, acts: Sequence[Act], row: Row, n: int, line: Line, work: str) -> str:
        if acts[0].kind is Kind.BIND_OFF and acts[0].n is None:
            last = [self.job.shaping.edges[i][0].sts[-1] for i in line.sizes]
            return self.say("rest", n=self.count(last))
        return super()._act(acts, row, n, line, work)

    # --- the neck ---------------------------------------------------------------------------------

    def ending(self) -> str:
        """Return the words that end the sts between two shoulders that were kept live."""
        shaping = self.job.shaping
        known = [n for n in shaping.neck if n is not None]
        key = "neck_held" if shaping.ending == "held" else "neck"
        if len(known) < self.sizes:
            key = f"{key}_unknown"
        n = self.count(known) if known else ""
        return self.case(self.say(key, n=n, neck=self._neck_named())) + "."


def _taken(row: Row) -> int:
    """Return the sts that a row takes off the needle."""
    bound = sum(a.n or 0 for a in row.acts if a.kind is Kind.BIND_OFF)
    return row.dec + bound
