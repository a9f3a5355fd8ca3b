"""The rows of a rewritten shoulder as one knitter works them: one size, row by row, with its counts.

The rows are read from the revised text, not taken from the plan, and worked over the needle; their
words are those of the revised text with the numbers of that size.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Literal

from rewriter.castonmodel import CastOnShaping
from rewriter.dividedplan import DividedPlan
from rewriter.document import split_document
from rewriter.fabric import Fabric, knit
from rewriter.frames import Statement
from rewriter.halves import DividedShaping, half_rows
from rewriter.interpret import read_rows
from rewriter.onesize import in_one_size
from rewriter.passages import statements_of
from rewriter.phrases import wording
from rewriter.pipeline import Rework, reread
from rewriter.planner import Plan
from rewriter.revise import Revision
from rewriter.rows import PLAIN, Kind, Row, Side, side_of
from rewriter.shaping import Shaping
from rewriter.spans import Span, line_starts
from rewriter.twin import Steps
from rewriter.twoballs import divided_parts

Does = Literal["turn", "close", "bind off", "hold", "work"]
Half = Literal["", "first side", "second side"]

_WORDS = re.compile(r"[a-z]{2,}")


@dataclass(frozen=True)
class NeedleRow:
    """One row of one size, counts in sts."""

    number: int
    """Row 0 is that of the draft's first bind-off."""
    side: Side | None
    words: str
    """Its words in the revised draft, with the numbers of this size; empty for a row that the words
    before the shoulder tell."""
    does: Does
    worked: int | None
    """Stitches the yarn passes over, those bound off left out; None where the neck is not known."""
    off: int
    """Stitches bound off or held in it."""
    unworked: int
    """Stitches left unworked behind its turn; 0 where it runs to the end."""
    on_needle: int | None
    """Stitches on the needle after it."""


@dataclass(frozen=True)
class Shoulder:
    """The shoulder shaping of one needle: a whole piece, or one side of a divided one."""

    name: str
    """Id of its passage in the report."""
    piece: str
    half: Half
    stitches: int | None
    """On the needle (or of this side) before the first row; None where not known."""
    neck: int | None
    edges: tuple[Steps, ...]
    """The steps worked at each edge, the one bound off first coming first."""
    first_side: Side | None
    """Side of row 0."""
    draft_rows: tuple[Row, ...]
    """The draft's rows as if it had printed those steps, row -1 first."""
    drafted_edges: tuple[Steps, ...]
    """The draft's own steps; other ones only where the sts were spread evenly."""
    drafted_rows: tuple[Row, ...]
    """The draft's rows with its own steps, row -1 first."""
    new_rows: tuple[Row, ...]
    """The rows of the revised text, row -1 first."""
    rows: tuple[NeedleRow, ...]
    notes: tuple[str, ...]
    """What the new paragraph says beside its rows (markers, the turning method), for this size."""

    @property
    def together(self) -> tuple[int, ...]:
        """Stitches of each edge that are bound off in one sweep or kept live."""
        return tuple(s.total for s in self.edges)


def shoulders(work: Rework, size: int) -> tuple[Shoulder, ...]:
    """Return the rewritten shoulders of one size (counted from 0), in text order.

    Shoulders that are cast on, in pieces worked from the top, are left out.
    """
    output = work.report.output
    source = replace(work.draft.document.source, text=output, line_starts=line_starts(output))
    _, statements = statements_of(split_document(source), work.draft.sizes)
    out: list[Shoulder] = []
    for revision in work.revisions:
        if isinstance(revision.shaping, CastOnShaping):
            continue
        _, inside = reread(revision, work.edits, statements, work.draft.sizes)
        out += _shoulders(revision, inside, size, len(work.draft.sizes), output)
    return tuple(out)


def _shoulders(
    revision: Revision, inside: list[Statement], size: int, sizes: int, output: str
) -> list[Shoulder]:
    shaping, plan = revision.shaping, revision.plan
    told = _Told(revision, inside, size, sizes, output)
    drafted = revision.finding.shaping or shaping
    if (
        isinstance(shaping, DividedShaping)
        and isinstance(drafted, DividedShaping)
        and isinstance(plan, DividedPlan)
    ):
        parts = divided_parts(inside)
        assert parts is not None  # the text was proven
        number = -1 if plan.moves_lead_in else 0
        one, two, _ = half_rows(parts, size, sizes, number, True)
        told.spans = _spans([*one, *two])
        return [
            told.shoulder(
                shaping.first, drafted.first, plan.first, one, "first side", shaping.dividing_row
            ),
            told.shoulder(
                shaping.second,
                drafted.second,
                plan.second,
                two,
                "second side",
                shaping.dividing_row,
            ),
        ]
    rows = read_rows(inside, size, sizes)
    told.spans = _spans(rows)
    return [told.shoulder(shaping, drafted, plan, rows, "")]


def _spans(rows: Sequence[Row]) -> list[Span]:
    return [row.span for row in rows if row.span is not None]


@dataclass
class _Told:
    revision: Revision
    inside: list[Statement]
    size: int
    sizes: int
    output: str
    spans: list[Span] = field(default_factory=list)
    """The words of all its rows."""

    def shoulder(
        self,
        shaping: Shaping,
        drafted: Shaping,
        plan: Plan,
        rows: Sequence[Row],
        half: Half,
        divides: int = -1,
    ) -> Shoulder:
        """Return the rows of a needle; before row `divides` both halves are on it.

        `drafted` is the model with the draft's own steps.
        """
        size, moves = self.size, self.revision.plan.moves_lead_in
        full = tuple(rows) if moves else (PLAIN, *rows)
        neck = shaping.neck[size]
        known = neck is not None
        stitches = shaping.total(size) + shaping.off_at_neck(size) + (neck or 0)
        fabric = knit(stitches, full, shaping.begins()) if known else None
        return Shoulder(
            name=self.revision.finding.id,
            piece=self.revision.finding.passage.piece,
            half=half,
            stitches=stitches if known else None,
            neck=neck,
            edges=shaping.edges[size],
            first_side=shaping.first_side,
            draft_rows=shaping.rows[size],
            drafted_edges=drafted.edges[size],
            drafted_rows=drafted.rows[size],
            new_rows=full,
            rows=tuple(
                row if row.number >= divides else replace(row, worked=None, on_needle=None)
                for row in self._rows(full, fabric, shaping.first_side, stitches)
                if row.number >= (0 if not moves else -1)
                and (half != "second side" or row.number >= divides)
            ),
            notes=() if half == "second side" else tuple(self._notes()),
        )

    def _rows(
        self,
        rows: Sequence[Row],
        fabric: Fabric | None,
        first: Side | None,
        stitches: int,
    ) -> list[NeedleRow]:
        out: list[NeedleRow] = []
        number, waiting, live = -1, 0, stitches
        told: Span | None = None
        for index, row in enumerate(rows):
            after = fabric.live[index] if fabric else None
            unworked = dict(fabric.turned).get(index, 0) if fabric else _leaves(row)
            off = live - after if after is not None else _off(row)
            words = "" if row.span is None or row.span == told else self._words(row.span)
            if out and not row.passes and not off and words in ("", out[-1].words):
                continue  # one sentence that puts several lots of sts on holders
            out.append(
                NeedleRow(
                    number=number,
                    side=side_of(number, first),
                    words=words,
                    does=_does(row),
                    worked=live - waiting - unworked - off if fabric and row.passes else None,
                    off=off,
                    unworked=unworked,
                    on_needle=after,
                )
            )
            told = row.span
            if row.has(Kind.CUT) and out[-1].worked is not None:
                # what lies ahead where the yarn is fastened off is not worked
                within = sum(a.n or 0 for a in row.acts if a.kind is Kind.WORK)
                out[-1] = replace(out[-1], worked=within, unworked=live - waiting - off - within)
            waiting = unworked if row.has(Kind.TURN) else 0
            live = after if after is not None else live
            number += row.passes
        return out

    def _words(self, span: Span) -> str:
        for sentence, only in self._restricted():
            if sentence.span.start <= span.start < sentence.span.end:
                return self._one(sentence, only)
        return " ".join(in_one_size(span.of(self.output), self.size, self.sizes).split())

    def _notes(self) -> list[str]:
        """Return the sentences for this size that tell no row and are no mere count."""
        told = [
            self._one(s, only)
            for s, only in self._restricted()
            if not any(s.span.start <= t.start < s.span.end for t in self.spans)
            and (not only or self.size in only)
        ]
        return [words for words in told if len(_WORDS.findall(words)) > 3]

    def _restricted(self) -> Iterator[tuple[Statement, tuple[int, ...]]]:
        """Yield the sentences with the sizes that each is for, counted from 0; none: all of them."""
        only: tuple[int, ...] = ()
        for statement in self.inside:
            if statement.sizes is not None:
                only = tuple(n - 1 for n in statement.sizes)
            yield statement, only

    def _one(self, statement: Statement, only: tuple[int, ...]) -> str:
        """Return the words of a sentence for this size, without those that say for which sizes it is."""
        words = in_one_size(statement.span.of(self.output), self.size, self.sizes)
        if only and self.size in only:
            words = in_one_size(words, only.index(self.size), len(only))
        return " ".join(_for_sizes().sub("", words).split())


@cache
def _for_sizes() -> re.Pattern[str]:
    """Return what a new paragraph says of the sizes that a sentence is for: "3rd and 4th sizes only"."""
    only = re.escape(wording()["rows"]["only"])
    only = only.replace(r"\{sizes\}", r"[\w\s,&-]+?").replace(r"\{size\}", "sizes?")
    return re.compile(rf"(?i)^[*_]*(?:{only}|{wording()['rows']['all_sizes']})[*_]*(?::\s*|$)")


def _leaves(row: Row) -> int:
    return next((a.n or 0 for a in row.acts if a.kind is Kind.LEAVE), 0)


def _off(row: Row) -> int:
    return sum(a.n or 0 for a in row.acts if a.kind in (Kind.BIND_OFF, Kind.HOLD)) + row.dec


def _does(row: Row) -> Does:
    if row.has(Kind.TURN):
        return "turn"
    if row.acts and row.acts[0].kind is Kind.BIND_OFF:
        return "bind off"
    if row.acts and row.acts[0].kind is Kind.HOLD:
        return "hold"
    return "close" if row.closes else "work"
