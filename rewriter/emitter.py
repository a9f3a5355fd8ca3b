"""Write planned rows in the draft's own style. All wording comes from wording.toml."""

from __future__ import annotations

import textwrap
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from rewriter._resources import grammar_file
from rewriter.options import Options
from rewriter.planner import Line, Plan
from rewriter.rows import Act, Kind, Row, Side
from rewriter.shaping import Shaping
from rewriter.style import Fabric, Style


@cache
def wording() -> dict[str, Any]:
    """Return the wording tables."""
    return tomllib.loads(grammar_file("wording.toml"))


@dataclass(frozen=True)
class Job:
    """Everything that one passage is written from."""

    plan: Plan
    shaping: Shaping
    style: Style
    fabric: Fabric
    options: Options
    edge: str
    """How the outer edge is called: armhole, shoulder, side."""
    inner: str
    """How the inner edge of a one-edged piece is called."""
    neck: str
    """back or front, for the neck."""
    numbered_from: int | None
    """Number of the first row label; None for "Next row"."""
    with_note: bool
    """Explain the turning method here."""
    ordinals: tuple[str, ...]
    """Names of the sizes: 1st, 2nd, ..."""
    opening: str = ""
    """Words that stood before the first bind-off and go with the first row."""


def write(job: Job) -> list[str]:
    """Return the lines of the new text of a passage."""
    return Writer(job).lines()


class Writer:
    """Writes the rows of one shoulder in the draft's style."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.style = job.style
        self.full = job.options.spelling == "full"
        self.method = wording()[job.options.turn]
        self.sizes = len(job.shaping.rows)
        self.marked = job.options.markers and job.plan.slopes

    # --- the whole ------------------------------------------------------------------------------

    def lines(self) -> list[str]:
        out: list[str] = []
        if self.marked:
            out += self._markers()
        if self.job.with_note and self.job.plan.slopes:
            out.append(self.note())
        group: tuple[int, ...] = tuple(range(self.sizes))
        everyone = group
        number = self.job.numbered_from
        lines = self.job.plan.lines
        if any(line.sizes != everyone for line in lines):
            number = None
        before: str | None = None
        for line in lines:
            if line.sizes != group:
                group = line.sizes
                out.append(self._group(group, everyone))
                before = None
            text, shape = self._row(line)
            if line.any_row().has(Kind.HOLD):
                out.append(self.case(text + "."))
                continue
            if line is lines[0] and self.job.opening:
                text = self.case(f"{self.job.opening} {text[0].lower()}{text[1:]}")
            side = self.job.plan.side(line, self.job.shaping.first_side)
            told = side if number is None or shape != before else None
            out.append(self._label(number, told) + text + ".")
            sweeps = shape == "sweep" and self._is_sweep(line)
            if self.style.prints_counts and sweeps and self._left(line):
                out[-1] += f" {self._left(line)}."
            before = shape
            number = None if number is None else number + 1
        return [self.upper(line) for line in out]

    def upper(self, text: str) -> str:
        return text.upper() if self.style.case == "upper" else text

    def case(self, text: str) -> str:
        if self.style.case == "lower":
            return text if text[1:2].isupper() else text[0].lower() + text[1:]
        return text[0].upper() + text[1:]

    def _method(self, key: str) -> str:
        full: str | None = self.method.get(f"{key}_full") if self.full else None
        text: str = full if full is not None else self.method.get(key, "")
        return text

    def note(self) -> str:
        note = self._method("note").format(st=self.style.unit_one)
        if self.job.fabric == "other":
            more = wording()["rows"]["patterned"].format(st=self.style.unit_one)
            note = f"{note.removesuffix('.')}{more}."
        return note

    def _group(self, group: Sequence[int], everyone: Sequence[int]) -> str:
        rows = wording()["rows"]
        if tuple(group) == tuple(everyone):
            return self.case(rows["all_sizes"])
        return self.case(rows["only"].format(sizes=self._names(group), size=_size_word(group)))

    def _names(self, group: Sequence[int]) -> str:
        names = [self.job.ordinals[i] for i in group]
        return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"

    # --- numbers --------------------------------------------------------------------------------

    def listed(self, values: Sequence[int]) -> str:
        if len(set(values)) == 1:
            return str(values[0])
        first, *more = values
        style = self.style
        if len(more) == sum(style.groups) and len(style.groups) > 1:
            out, at = str(first) + (" " if style.opening.startswith(" ") else ""), 0
            for size in style.groups:
                entries = style.separator.join(map(str, more[at : at + size]))
                out += f"{style.opening.strip()}{entries}{style.closing}"
                at += size
            return out
        return f"{first}{style.opening}{style.separator.join(map(str, more))}{style.closing}"

    def count(self, values: Sequence[int]) -> str:
        one = set(values) == {1}
        return f"{self.listed(values)} {self.style.unit_one if one else self.style.unit}"

    # --- one row --------------------------------------------------------------------------------

    def _label(self, number: int | None, side: Side | None) -> str:
        style = self.style
        word = "" if side is None else style.rs if side == "RS" else style.ws
        marked = style.side_form.format(side=word) if word else ""
        if number is None:
            label = style.label if "{n}" not in style.label else "Next row{side}:"
            return self._first(label.format(side=marked)) + " "
        n = _ordinal(number) if style.ordinal_label else str(number)
        return self._first(style.label.format(n=n, side=marked)) + " "

    def _first(self, text: str) -> str:
        return text[0].lower() + text[1:] if self.style.case == "lower" else text

    def _row(self, line: Line) -> tuple[str, str]:
        """Return the words of a row and what it does (turn, close, sweep, ...)."""
        row = line.any_row()
        rows = [line.rows[i] for i in line.sizes]
        present = [r for r in rows if r is not None]
        work = self.work(line)
        shape = _shape_of(row)
        words: list[str] = []
        aided = [r.aid for r in present]
        aid = self._method("aid")
        if any(aided) and aid:
            unaided = [i for i in line.sizes if not line.rows[i].aid]  # type: ignore[union-attr]
            words.append(aid.format(st=self.style.unit_one) + self._except(unaided))
        if row.dec_at == "start":
            words.append(self._decrease(row))
        for n in range(len(row.acts)):
            acts = [r.acts[n] for r in present]
            whole = row.dec_at == "end" and " last " in row.dec_words
            text = self._act(acts, row, n, line, work)
            if text and not (whole and acts[0].kind is Kind.WORK):
                words.append(text)
        if row.dec_at == "end":
            words.append(self._decrease(row))
        closing = [r.closes for r in present]
        if any(closing):
            key = "closing" if all(closing) else "closing_any"
            words.append(self._method(key).format(st=self.style.unit_one))
        text = ", ".join(words)
        return self.case(text), shape

    def _decrease(self, row: Row) -> str:
        """Return the words of a neck decrease: the draft's own, or "dec 1 st at neck edge"."""
        if row.dec_words:
            return (
                row.dec_words[0].lower() + row.dec_words[1:]
                if self.style.knit != "K"
                else row.dec_words
            )
        unit = self.style.unit_one if row.dec == 1 else self.style.unit
        return f"dec {row.dec} {unit} at {self.job.inner} edge"

    def _except(self, sizes: Sequence[int]) -> str:
        if not sizes:
            return ""
        return str(
            wording()["rows"]["not_sizes"].format(sizes=self._names(sizes), size=_size_word(sizes))
        )

    def _act(self, acts: Sequence[Act], row: Row, n: int, line: Line, work: str) -> str:
        rows = wording()["rows"]
        kind = acts[0].kind
        values = [act.n for act in acts]
        known = [v for v in values if v is not None]
        if kind is Kind.BIND_OFF:
            bo = self.style.bind_off
            if not known:
                total = [self.job.shaping.total(i) for i in line.sizes]
                return str(rows["all"].format(bo=bo, n=self.count(total), manner=self.style.manner))
            if row.edge == "neck" and row.neck_words and not row.has(Kind.CUT):
                return row.neck_words
            key = "neck" if row.has(Kind.CUT) else "sweep"
            return str(
                rows[key].format(
                    bo=bo,
                    n=self.count(known),
                    manner=self.style.manner,
                    neck=self.job.neck,
                    marker=" (marker)" if self.marked and self._is_sweep(line) else "",
                )
            )
        if kind is Kind.WORK:
            return str(rows["to_end"].format(work=work, to_end=self.style.to_end))
        if kind is Kind.LEAVE:
            return self._stop_short(known, row, line, work)
        if kind is Kind.HOLD:
            return self._hold(line)
        return ""  # turning and fastening off are said with the act before

    def _stop_short(self, known: Sequence[int], row: Row, line: Line, work: str) -> str:
        rows = wording()["rows"]
        if self._is_third_row(line):
            # the third row of a live back: over the second shoulder and the neck
            shaping = self.job.shaping
            steps = self.job.plan.steps
            over = [steps[i][1].total + (shaping.neck[i] or 0) for i in line.sizes]
            second = "left" if shaping.first_side == "RS" else "right"
            what = (
                f"{second} shoulder and neck" if shaping.first_side else "second shoulder and neck"
            )
            return str(rows["work_some"].format(work=work, n=self.count(over), what=what))
        marker = " (marker)" if self.marked else ""
        if not self.job.shaping.two_edged and self.job.shaping.first_side is None:
            marker = f" at {self.job.edge} edge{marker}"
        turn = self._method("turn").format(st=self.style.unit_one)
        return str(rows["turn"].format(work=work, n=self.count(known), marker=marker, turn=turn))

    def _is_third_row(self, line: Line) -> bool:
        following = [ln for ln in self.job.plan.lines if ln.number == line.number + 1]
        return bool(following) and following[0].any_row().has(Kind.CUT)

    def _hold(self, line: Line) -> str:
        rows = wording()["rows"]
        shaping, steps = self.job.shaping, self.job.plan.steps
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

    def work(self, line: Line) -> str:
        """Return the work word of a row: the draft's own, or knit and purl by side, or "work"."""
        style = self.style
        plain = {"knit": style.knit, "purl": style.purl, "rib": "rib"}
        if style.words is not None:
            return plain.get(style.words[line.number % 2], style.work)
        side = self.job.plan.side(line, self.job.shaping.first_side)
        if "patt" in style.work:
            return style.work
        if self.job.fabric == "garter":
            return style.knit
        if self.job.fabric == "stocking" and side is not None:
            return style.knit if side == "RS" else style.purl
        return style.work

    def _left(self, line: Line) -> str:
        """Return the stitch count after a sweep, where it is known and not nothing."""
        shaping, steps = self.job.shaping, self.job.plan.steps
        first_of_two = shaping.two_edged and line is self._sweeps()[0]
        out = []
        for i in line.sizes:
            neck = shaping.neck[i]
            if neck is None:
                return ""
            out.append(neck + (steps[i][1].total if first_of_two else 0))
        return "" if 0 in out else self.count(out)

    def _is_sweep(self, line: Line) -> bool:
        """Say whether a line binds off a whole shoulder (not sts at the neck)."""
        steps = self.job.plan.steps
        return any(
            line.rows[i] is not None
            and any(s.total == line.any_row().acts[0].n for s in steps[i])
            and line.any_row().edge != "neck"
            for i in line.sizes[:1]
        )

    def _sweeps(self) -> list[Line]:
        return [ln for ln in self.job.plan.lines if _shape_of(ln.any_row()) == "sweep"]

    # --- for shoulders written in parts ---------------------------------------------------------

    def row_line(self, line: Line) -> str:
        """Return one row with its label."""
        text, _ = self._row(line)
        if line.any_row().has(Kind.HOLD):
            return self.case(text + ".")
        return self.label_of(line) + text + "."

    def label_of(self, line: Line) -> str:
        """Return the label of a row that has no number."""
        return self._label(None, self.job.plan.side(line, self.job.shaping.first_side))

    def with_aid(self, line: Line, words: str) -> str:
        """Put the turning aid before the words of a row that begins at a turn."""
        aid = self._method("aid")
        aided = line.any_row().aid and bool(aid)
        return f"{aid.format(st=self.style.unit_one)}, {words}" if aided else words

    def turning(self, work: str, leaves: Sequence[int]) -> str:
        """Return "K to last 16 sts (marker), turn"."""
        return str(
            wording()["rows"]["turn"].format(
                work=work,
                n=self.count(leaves),
                marker=" (marker)" if self.marked else "",
                turn=self._method("turn").format(st=self.style.unit_one),
            )
        )

    def divided_markers(self) -> list[str]:
        """Return the sentence that places the markers of both halves."""
        sizes = range(self.sizes)
        k = {len(self.job.plan.steps[i][0].rows) for i in sizes}
        if len(k) > 1:
            self.marked = False
            return []
        text = self._marker_sentence(k.pop(), list(sizes)).replace(
            f"from {self.job.edge} edge", f"from each {self.job.edge} edge"
        )
        off = f" {self.case(wording()['markers']['off'])}" if self.job.with_note else ""
        return [self.case(text) + off]

    # --- markers ----------------------------------------------------------------------------------

    def _markers(self) -> list[str]:
        """Return the sentence that places the markers, one for each group of sizes with equal k."""
        steps = self.job.plan.steps
        groups: dict[int, list[int]] = {}
        for i in range(self.sizes):
            k = max(len(s.rows) for s in steps[i])
            if k >= 2:
                groups.setdefault(k, []).append(i)
        if any(
            len(s) == 2 and s[0].sts != s[1].sts for s in steps
        ):  # unequal edges: no sentence could serve both
            self.marked = False
            return []
        out = []
        for k in sorted(groups):
            sizes = groups[k]
            text = self._marker_sentence(k, sizes)
            if len(sizes) < self.sizes:
                only = wording()["rows"]["only"]
                names = only.format(sizes=self._names(sizes), size=_size_word(sizes))
                text = f"{names}: {text[0].lower()}{text[1:]}"
            out.append(self.case(text))
        if out and self.job.with_note:
            out[-1] += f" {self.case(wording()['markers']['off'])}"
        return out

    def _marker_sentence(self, k: int, sizes: Sequence[int]) -> str:
        table = wording()["markers"]
        steps = self.job.plan.steps
        places = []
        for j in range(1, k):
            at = [sum(steps[i][0].sts[:j]) for i in sizes]
            places.append(table["place"].format(n=self.count(at)))
        listed = places[0] if len(places) == 1 else f"{', '.join(places[:-1])} and {places[-1]}"
        boundary = ""
        if self.job.shaping.two_edged:
            key = "boundary" if self.style.terms == "UK" else "boundary_us"
            boundary = table[key].format(n=self.count([steps[i][0].total for i in sizes]))
        key = "two_edges" if self.job.shaping.two_edged else "one_edge"
        return f"{table[key].format(edge=self.job.edge, places=listed)}{boundary}."


def _shape_of(row: Row) -> str:
    if row.has(Kind.TURN):
        return "turn"
    if row.acts and row.acts[0].kind is Kind.BIND_OFF:
        return "sweep"
    return "close" if row.closes else "plain"


def _ordinal(number: int) -> str:
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def ordinals(count: int) -> tuple[str, ...]:
    """Return the names of sizes by their place: 1st, 2nd, ..."""
    return tuple(_ordinal(n + 1) for n in range(count))


def _size_word(group: Sequence[int]) -> str:
    return "size" if len(group) == 1 else "sizes"


def wrap(
    lines: Sequence[str], width: int | None, indent: str, newline: str, column: int
) -> list[str]:
    """Break lines to the width of a hard-wrapped draft, in characters.

    The first line begins at `column` and has no indent.
    """
    out: list[str] = []
    for i, line in enumerate(lines):
        parts = [line]
        if width is not None:
            lead = "" if i else " " * max(column - len(indent), 0)
            parts = textwrap.wrap(
                line,
                max(width - len(indent), 30),
                initial_indent=lead,
                break_long_words=False,
                break_on_hyphens=False,
            )
            parts[0] = parts[0][len(lead) :]
        out.append(("" if i == 0 else indent) + (newline + indent).join(parts))
    return out
