"""Write planned rows in the draft's own style. All wording comes from wording.toml."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from rewriter import regex
from rewriter.heldwords import HeldWords
from rewriter.phrases import Job
from rewriter.planner import Line
from rewriter.rows import Act, Kind, Row

IN_PLACE = "\0"
"""Stands among the lines behind the words of a row that stays where it was."""


def write(job: Job) -> list[str]:
    """Return the lines of the new text of a passage."""
    return Writer(job).lines()


class Writer(HeldWords):
    """Writes the rows of one shoulder in the draft's style."""

    # --- the whole ------------------------------------------------------------------------------

    def lines(self) -> list[str]:
        out: list[str] = []
        both = self._both_sides()
        if both and not self.job.joins:
            out.append(both)
        if self.marked:
            out += self._markers()
        if self.explains() and self.job.plan.slopes:
            out.append(self.case(self.note()))
        group: tuple[int, ...] = tuple(range(self.sizes))
        everyone = group
        number = self.job.numbered_from
        lines = self.job.plan.lines
        if any(line.sizes != everyone for line in lines):
            number = None
        before: str | None = None
        # a first row without a number names its side, and then they all do
        ending = not self.job.first_has_number
        for line in lines:
            if line.sizes != group:
                group = line.sizes
                self.group = group if group != everyone else ()
                out.append(self._group(group, everyone))
                before = None
            if line.any_row().has(Kind.JOIN):
                if not self.job.shaping.on_two_balls:
                    out += self.second_shoulder(line)
                    continue
                out.append(self.side_held(line))
            text, shape = self._row(line)
            if line.any_row().has(Kind.HOLD) and not line.any_row().has(Kind.JOIN):
                out.append(self.held(line, text))
                continue
            if line is lines[0] and self.job.before is not None:
                out.append(self._turned_words(line, *self.job.before))
                out += [IN_PLACE] if self.job.stays else []
                if both and self.job.joins:
                    out.append(both)  # there were no two sides before it
                number = None if number is None else number + 1
                continue
            if line is lines[0] and self.job.opening:
                text = self.opened(text)
            side = self.job.plan.side(line, self.job.shaping.first_side)
            ending = ending or shape in ("close", "sweep")  # from there on every row names its side
            told = side if number is None or shape != before or ending else None
            first = line is lines[0] and not self.job.first_has_number
            row = self._label(None if first else number, told) + text
            sweeps = shape == "sweep" and self._is_sweep(line)
            left = self._left(line) if self.style.prints_counts and sweeps else []
            if left:
                form, unit = self.style.count_form, self.style.unit
                out.append(form.write(row, self.listed(left), unit))
            else:
                out.append(row + ".")
            before = shape
            number = None if number is None else number + 1
        return [self.finish(line) for line in out]

    def _both_sides(self) -> str:
        """Return how rows go over both sides of a neck, each with a ball of its own; empty for one piece."""
        if not self.job.shaping.on_two_balls:
            return ""
        rows = self.wording["rows"]
        told = "" if self.job.both_told else self.case(rows["both_sides"])
        across = self.case(rows["across"].format(edge=self.job.edge))
        return " ".join([told, across] if self.job.plan.slopes else [told]).strip()

    # --- one row --------------------------------------------------------------------------------

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
            words.append(aid.format(st=self.style.st) + self._except(unaided))
        if row.band:
            words.append(row.band)
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
            edges = [s for i in line.sizes for s in self.job.plan.steps[i]]
            # a row passes the turns of one edge; one at its own beginning is closed by a later row
            one = all(len(s.rows) == 2 for s in edges)
            key = "closing_any" if not all(closing) else "closing_one" if one else "closing"
            words.append(self._method(key).format(st=self.style.st))
        text = ", ".join(words)
        return self.row_case(text), shape

    def opened(self, text: str) -> str:
        """Return a first row behind the words that stood before the first bind-off and hold for it."""
        opening = self.job.opening
        if regex.search(r"(?i)\bpatt?(?:ern)?\b", opening):
            text = regex.sub(r"(?i)^work in pat(?:t|tern)?\b", "work", text)  # it is said already
        return self.row_case(f"{opening} {text[0].lower()}{text[1:]}")

    def _turned_words(self, line: Line, prefix: str, word: str, suffix: str) -> str:
        """Return the draft's words of the row before the first bind-off, turned before its end."""
        rows = [line.rows[i] for i in line.sizes]
        leaves = [a.n or 0 for r in rows if r for a in r.acts if a.kind is Kind.LEAVE]
        text = f"{prefix}{self.turning(word, leaves)}{suffix}"
        return text if self.job.stays or text.rstrip().endswith(".") else f"{text.rstrip()}."

    def _decrease(self, row: Row) -> str:
        """Return the words of a neck decrease: the draft's own, or "dec 1 st at neck edge"."""
        if row.dec_words:
            return (
                row.dec_words[0].lower() + row.dec_words[1:]
                if self.style.knit != "K"
                else row.dec_words
            )
        unit = self.style.unit_one if row.dec == 1 else self.style.unit
        rows = self.wording["rows"]
        return str(rows["decrease"].format(n=f"{row.dec} {unit}", inner=self.job.inner))

    def _act(self, acts: Sequence[Act], row: Row, n: int, line: Line, work: str) -> str:
        rows = self.wording["rows"]
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
            if row.edge == "neck" and key == "sweep":
                key = "at_neck"
            return str(
                rows[key].format(
                    bo=bo,
                    n=self.count(known),
                    manner=self.style.neck_manner if key == "neck" else self.style.manner,
                    lest=self.style.neck_lest,
                    neck=self._neck_named(),
                    inner=self.job.inner,
                    marker=" (marker)" if self._swept_to_marker(line) else "",
                )
            )
        if kind is Kind.WORK:
            return str(rows["to_end"].format(work=work, to_end=self.style.to_end))
        if kind is Kind.LEAVE:
            return self._stop_short(known, row, line, work)
        if kind is Kind.HOLD:  # the side that is held before a row over the other is told before it
            return "" if row.has(Kind.JOIN) else self._hold(line)
        if kind is Kind.JOIN:
            return str(rows["other_side"])
        return ""  # turning and fastening off are said with the act before

    def _stop_short(self, known: Sequence[int], row: Row, line: Line, work: str) -> str:
        rows = self.wording["rows"]
        if self._is_third_row(line):
            # the third row of a live back: over the second shoulder and the neck
            shaping = self.job.shaping
            steps = self.job.plan.steps
            over = [steps[i][1].total + (shaping.neck[i] or 0) for i in line.sizes]
            # as worn: a front's left-hand edge, RS facing, is the wearer's right (common practice)
            second = (
                "left" if (shaping.first_side == "RS") == (self.job.neck == "back") else "right"
            )
            named = shaping.first_side and self.job.neck
            what = rows["over_named" if named else "over_this"].format(side=second)
            return str(rows["work_some"].format(work=work, n=self.count(over), what=what))
        marker = " (marker)" if self.marked else ""
        if self.names_edge and self.job.shaping.first_side is None:
            marker = rows["at_edge"].format(edge=self.job.edge) + marker
        turn = self._method("turn").format(st=self.style.st)
        return str(rows["turn"].format(work=work, n=self.count(known), marker=marker, turn=turn))

    def _is_third_row(self, line: Line) -> bool:
        following = [ln for ln in self.job.plan.lines if ln.number == line.number + 1]
        return bool(following) and following[0].any_row().has(Kind.CUT)

    def _left(self, line: Line) -> list[int]:
        """Return the stitch count of each size after a sweep; empty where it is not known or nothing."""
        shaping, steps = self.job.shaping, self.job.plan.steps
        first_of_two = shaping.two_edged and line is self._sweeps()[0]
        out = []
        for i in line.sizes:
            neck = shaping.neck[i]
            if neck is None:
                return []
            out.append(neck + (steps[i][1].total if first_of_two else 0))
        return [] if 0 in out else out

    def _is_sweep(self, line: Line) -> bool:
        """Say whether a line binds off a whole shoulder (no sts of the neck, be they as many)."""
        steps = self.job.plan.steps
        return not line.any_row().has(Kind.CUT) and any(
            line.rows[i] is not None
            and any(s.total == line.any_row().acts[0].n for s in steps[i])
            and line.any_row().edge != "neck"
            for i in line.sizes[:1]
        )

    def _swept_to_marker(self, line: Line) -> bool:
        hung = all(len(s.rows) > 1 for i in line.sizes for s in self.job.plan.steps[i])
        return self.marked and hung and self._has_boundary() and self._is_sweep(line)

    def _sweeps(self) -> list[Line]:
        return [ln for ln in self.job.plan.lines if _shape_of(ln.any_row()) == "sweep"]

    # --- for shoulders written in parts ---------------------------------------------------------

    def row_line(self, line: Line) -> str:
        """Return one row with its label."""
        text, _ = self._row(line)
        if line.any_row().has(Kind.HOLD):
            return self.held(line, text)
        return self.label_of(line) + text + "."

    def row_text(self, line: Line) -> str:
        """Return the words of one row without its label."""
        return self._row(line)[0]

    def words(self, line: Line) -> str:
        """Return the words of one row, without label and point."""
        return self._row(line)[0]

    def label_of(self, line: Line) -> str:
        """Return the label of a row, its side always told."""
        first = self.job.numbered_from
        number = None if first is None else first + line.number + 1
        return self._label(number, self.job.plan.side(line, self.job.shaping.first_side))

    def with_aid(self, line: Line, words: str) -> str:
        """Put the turning aid before the words of a row that begins at a turn."""
        aid = self._method("aid")
        aided = line.any_row().aid and bool(aid)
        return f"{aid.format(st=self.style.st)}, {words}" if aided else words


def _shape_of(row: Row) -> str:
    if row.has(Kind.TURN):
        return "turn"
    if row.acts and row.acts[0].kind is Kind.BIND_OFF:
        return "sweep"
    return "close" if row.closes else "plain"


# A list of counts is not broken: a line that begins with "- 35)" would look like a new item.
_COUNTS = regex.compile(
    r"\d+ ?[(\[][\d\s,:;/\u2013\u2014-]*[)\]]"
    r"|(?i:(?<![a-z(])a\) ?\d+(?: ?[\u2013\u2014,;-]? ?[b-k]\) ?\d+)+)"
)
_KEPT = "\x00"


def wrap(
    lines: Sequence[str], width: int | None, indent: str, newline: str, column: int
) -> list[str]:
    """Break lines to the width of a hard-wrapped draft, in characters.

    The first line begins at `column` and has no indent; a bullet stands before the first line of each.
    An empty line stays empty.
    """
    out: list[str] = []
    hanging = regex.sub(r"[^\s>]", " ", indent)
    for i, line in enumerate(lines):
        if not line:
            out.append("")
            continue
        parts = [line]
        if width is not None:
            line = regex.sub(r"\s*[\r\n]\s*", " ", line)  # the draft's own words, broken anew
            line = _COUNTS.sub(lambda found: found.group().replace(" ", _KEPT), line)
            lead = "" if i else " " * max(column - len(indent), 0)
            parts = textwrap.wrap(
                line,
                max(width - len(indent), 30),
                initial_indent=lead,
                break_long_words=False,
                break_on_hyphens=False,
            )
            parts[0] = parts[0][len(lead) :]
            parts = [part.replace(_KEPT, " ") for part in parts]
        out.append(("" if i == 0 else indent) + (newline + hanging).join(parts))
    return out
