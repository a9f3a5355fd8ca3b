"""The rows of a rewritten shoulder as one knitter works them: one size, row by row, with its counts.

The rows are read from the revised text, not taken from the plan, and worked over the needle; their
words are those of the revised text with the numbers of that size.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache

from rewriter.castonmodel import CastOnShaping
from rewriter.dividedplan import DividedPlan
from rewriter.fabric import Fabric, knit
from rewriter.frames import Statement
from rewriter.halfrows import centre_of, half_rows
from rewriter.halves import DividedShaping
from rewriter.interpret import read_rows
from rewriter.labels import without_label
from rewriter.needlehalves import sides_of
from rewriter.needlemodel import Does, NeedleRow, Shoulder
from rewriter.oneside import OneSideShaping, one_side_rows
from rewriter.onesize import in_one_size
from rewriter.phrases import wording
from rewriter.pipeline import Rework
from rewriter.planner import Plan
from rewriter.rereading import reread
from rewriter.revise import Revision
from rewriter.rows import PLAIN, Kind, Row, Side, side_of
from rewriter.shapingmodel import Shaping
from rewriter.spans import Span
from rewriter.twoballs import divided_parts

_WORDS = re.compile(r"[a-z]{2,}")


def shoulders(work: Rework, size: int) -> tuple[Shoulder, ...]:
    """Return the rewritten shoulders of one size (counted from 0), in text order.

    Shoulders that are cast on, in pieces worked from the top, are left out.
    """
    output = work.report.output
    out: list[Shoulder] = []
    for revision in work.revisions:
        if isinstance(revision.shaping, CastOnShaping):
            continue
        _, inside = reread(revision, work.edits, work.statements, work.draft.sizes)
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
        later, at = parts.rejoining[parts.held_first :], None
        if later and not parts.at_once:
            at = later[0].span.start
        first_done = not parts.held_first
        return sides_of(
            told.shoulder(shaping.first, drafted.first, plan.first, one, at, first_done),
            told.shoulder(
                shaping.second, drafted.second, plan.second, two, at or 0, not first_done
            ),
            divides=shaping.dividing_row,
            whole=shaping.stitches[size],
            centre_later=centre_of(parts, size, sizes) is not None,
            parts=parts,
        )
    one_sided = isinstance(shaping, OneSideShaping)
    rows = one_side_rows(inside, size, sizes)[0] if one_sided else read_rows(inside, size, sizes)
    told.spans = _spans(rows)
    return [told.shoulder(shaping, drafted, plan, rows)]


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
        rejoining: int | None = None,
        before: bool = True,
    ) -> Shoulder:
        """Return the rows of a needle, or all rows of one side of a divided one.

        `drafted` is the model with the draft's own steps; `before` says that the words before those at
        `rejoining` are of this side, else those from there on.
        """
        size, moves = self.size, self.revision.plan.moves_lead_in
        full = tuple(rows) if moves else (PLAIN, *rows)
        neck = shaping.neck[size]
        known = neck is not None
        stitches = shaping.total(size) + shaping.off_at_neck(size) + (neck or 0)
        fabric = knit(stitches, full, shaping.begins()) if known else None
        start = -1 if moves else 0
        worked = [
            (r, s)
            for r, s in self._rows(full, fabric, shaping.first_side, stitches)
            if r.number >= start
        ]
        notes, asides = self._notes(rejoining, before)
        labelled = _labelled([row for row, _ in worked], start)
        spans = [span for _, span in worked]
        return Shoulder(
            name=self.revision.finding.id,
            piece=self.revision.finding.passage.piece,
            half="",
            stitches=stitches if known else None,
            neck=neck,
            edges=shaping.edges[size],
            first_side=shaping.first_side,
            draft_rows=shaping.rows[size],
            drafted_edges=drafted.edges[size],
            drafted_rows=drafted.rows[size],
            new_rows=full,
            rows=tuple(_with_asides(labelled, spans, asides)),
            notes=tuple(notes),
            whole=stitches if known else None,
            label=next((r.label - r.number + start for r in labelled if r.label is not None), 1),
            at_once=shaping.on_two_balls,
        )

    def _rows(
        self,
        rows: Sequence[Row],
        fabric: Fabric | None,
        first: Side | None,
        stitches: int,
    ) -> list[tuple[NeedleRow, Span | None]]:
        out: list[NeedleRow] = []
        spans: list[Span | None] = []
        number, waiting, live = -1, 0, stitches
        told: Span | None = None
        for index, row in enumerate(rows):
            after = fabric.live[index] if fabric else None
            unworked = dict(fabric.turned).get(index, 0) if fabric else _leaves(row)
            off = live - after if after is not None else _off(row)
            words = "" if row.span is None or row.span == told else self._words(row.span)
            if out and not row.passes and not off and words in ("", out[-1].words):
                continue  # one sentence that puts several lots of sts on holders
            spans.append(row.span)
            out.append(
                NeedleRow(
                    number=number,
                    label=number if row.passes else None,
                    side=side_of(number, first),
                    words=words,
                    does=_does(row),
                    worked=live - waiting - unworked - off if fabric and row.passes else None,
                    off=off,
                    behind=waiting if fabric and row.passes else 0,
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
        return list(zip(out, spans, strict=True))

    def _words(self, span: Span) -> str:
        for sentence, only in self._restricted():
            if sentence.span.start <= span.start < sentence.span.end:
                return self._one(sentence, only)
        return " ".join(in_one_size(span.of(self.output), self.size, self.sizes).split())

    def _notes(self, rejoining: int | None, before: bool) -> tuple[list[str], list[_Aside]]:
        """Return the sentences for this size that tell no row and are no mere count.

        First those that stand before all rows, then those between them, of one side of a divided neck.
        """
        first = min((s.start for s in self.spans), default=0)
        notes: list[str] = []
        asides: list[_Aside] = []
        for sentence, only in self._restricted():
            start = sentence.span.start
            row = any(start <= t.start < sentence.span.end for t in self.spans)
            if row or (only and self.size not in only):
                continue
            told = self._one(sentence, only)
            if len(_WORDS.findall(told)) <= 3:
                continue
            if start < first:
                notes.append(told)
            elif rejoining is None or (start < rejoining) == before:
                asides.append((start, told))
        return notes, asides

    def _restricted(self) -> Iterator[tuple[Statement, tuple[int, ...]]]:
        """Yield the sentences with the sizes that each is for, counted from 0; none: all of them.

        Sizes named in a line of their own hold until others are named; those before a colon hold for
        their sentence.
        """
        only: tuple[int, ...] = ()
        for statement in self.inside:
            if statement.sizes is None:
                yield statement, only
                continue
            named = tuple(n - 1 for n in statement.sizes)
            head = _for_sizes().match(statement.span.of(self.output))
            if head is None or head.end() == len(head.string):
                only = named
            yield statement, named

    def _one(self, statement: Statement, only: tuple[int, ...]) -> str:
        """Return the words of a sentence for this size, without those that say for which sizes it is."""
        words = in_one_size(statement.span.of(self.output), self.size, self.sizes)
        if only and self.size in only:
            words = in_one_size(words, only.index(self.size), len(only))
        return " ".join(_for_sizes().sub("", words).split())


_Aside = tuple[int, str]
"""Where a sentence between rows stands, and its words."""


def _labelled(rows: Sequence[NeedleRow], start: int) -> list[NeedleRow]:
    """Give every row its label: what the text calls the first row that it numbers sets them all.

    Where a row stands before the text's row 1, its numbers are not taken.
    """
    own = (
        (without_label(r.words.replace("**", "").replace("__", ""))[1], r.number)
        for r in rows
        if r.label is not None
    )
    by = max(1 - start, next((n - number for n, number in own if n is not None), 1 - start))
    return [r if r.label is None else replace(r, label=r.number + by) for r in rows]


def _with_asides(
    rows: Sequence[NeedleRow], spans: Sequence[Span | None], asides: Sequence[_Aside]
) -> Iterator[NeedleRow]:
    """Yield rows and what is told between them, in the order of the text."""
    rest = list(asides)
    last = None
    for row, span in zip(rows, spans, strict=True):
        while rest and span is not None and rest[0][0] < span.start:
            yield _aside(rest.pop(0)[1], last or row)
        yield row
        last = row
    for _, told in rest:
        yield _aside(told, rows[-1])


def _aside(told: str, row: NeedleRow) -> NeedleRow:
    return NeedleRow(row.number, None, None, told, "aside", None, 0, 0, 0, row.on_needle)


@cache
def _for_sizes() -> re.Pattern[str]:
    """Return what a new paragraph says of the sizes that a sentence is for: "3rd and 4th sizes only"."""
    forms = [re.escape(wording()["rows"][name]) for name in ("only", "only_named")]
    only = "|".join(
        form.replace(r"\{sizes\}", r"[^:.]+?").replace(r"\{size\}", "sizes?") for form in forms
    )
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
