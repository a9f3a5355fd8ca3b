"""The rows of sentences that cast on, for one size: read as bind-offs are, and turned into cast-ons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.asks import choice_of
from rewriter.castons import as_bind_offs, told_at_end
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.interpret import read_rows
from rewriter.parsing import Part
from rewriter.rowframes import is_note
from rewriter.rows import PLAIN, Act, Kind, Row, Side, cast_on
from rewriter.spans import Span


def rows_of(statements: Sequence[Statement], size: int, sizes: int) -> list[Row]:
    """Return the rows of sentences that cast on, for one size; raises Unread."""
    statements = [_placed(s) for s in statements]
    for statement in statements:
        _refuse_other_acts(statement)
    try:
        rows = read_rows([as_bind_offs(s) for s in statements], size, sizes)
    except Unread as unread:
        message = unread.message.replace("bind-off", "cast-on").replace("bound off", "cast on")
        raise Unread(unread.code, message, unread.span, unread.sizes, unread.ask) from None
    ends, both, sides = _places(statements)
    out: list[Row] = []
    for number, row in enumerate(rows):
        told = row.span in sides and all(r.span != row.span for r in rows[:number])
        side = sides[row.span] if told and row.span is not None else None
        out.append(replace(_cast(row, ends), side=row.side or side))
    return _at_both_ends(out, both)


def _placed(statement: Statement) -> Statement:
    """Return a sentence with its cast-ons at the end of the rows where the reader said so."""
    where = choice_of(statement.decisions, "cast-on-at")
    if where is None:
        return statement
    slot = "beg" if where == "beginning" else "end"
    return replace(
        statement,
        frames=[
            replace(f, parts={**f.parts, slot: [Part(slot, f.span)]}) if _is_unplaced(f) else f
            for f in statement.frames
        ],
    )


def _is_unplaced(frame: Frame) -> bool:
    """Say whether a frame casts on in steps, but tells neither beginning nor end of the rows."""
    stepped = frame.verb == "cast_on" and frame.parts.keys() & {"rows", "times", "steps"}
    placed = frame.parts.keys() & {"beg", "end", "each_side"}
    return bool(stepped) and not frame.inherited and not placed


_ACTS = frozenset(
    {"", "cast_on", "work", "work_row", "back_row", "repeat", "turn", "aid", "closing", "mark"}
)


def _refuse_other_acts(statement: Statement) -> None:
    """Refuse what is done among cast-ons besides plain rows, and steps whose place is not told."""
    if is_note(as_bind_offs(statement)):
        return
    for frame in statement.frames:
        if frame.verb not in _ACTS:
            shapes = frame.verb in ("decrease", "increase")
            raise Unread(
                "shaping-in-the-rows" if shapes else "not-understood",
                "sts are decreased or increased in these rows; such rows are not converted yet"
                if shapes
                else "this is not understood among these rows",
                frame.span,
            )
        if _is_unplaced(frame):
            raise Unread(
                "rows-unclear",
                "are these sts cast on at the beginning or at the end of the rows?",
                frame.span,
                ask="cast-on-at",
            )


def _places(statements: Sequence[Statement]) -> tuple[set[Span], set[Span], dict[Span, Side]]:
    """Return the frames that cast on at the end of rows, those at both ends, and the sides they name."""
    ends: set[Span] = set()
    both: set[Span] = set()
    sides: dict[Span, Side] = {}
    for statement in statements:
        at_end = False
        for frame in statement.frames:
            if frame.verb != "cast_on":
                continue
            at_end = told_at_end(frame, at_end)
            if at_end:
                ends.add(frame.span)
            for part in frame.parts.get("rows", []):
                if part.side:
                    sides[frame.span] = "RS" if part.side == "RS" else "WS"
            if "each_side" in frame.parts:
                _refuse_unclear_ends(frame, statement)
                both.add(frame.span)
    return ends, both, sides


_ENDS = regex.compile(r"\b(?:each|both) ends?\b")
_ALTERNATE = frozenset({"foll_alt_rows", "foll_side_rows", "next_alt_rows", "next_side_rows"})


def _refuse_unclear_ends(frame: Frame, statement: Statement) -> None:
    """Take "at each end of next and foll 2 alt rows", and nothing that may be one row or two."""
    alternate = any(p.kind in _ALTERNATE for p in frame.parts.get("rows", []))
    if not (alternate and _ENDS.search(statement.sentence.view.text)):
        raise Unread(
            "rows-unclear",
            "are these sts cast on at both ends of one row, or at the beginning of two rows?",
            frame.span,
        )


def _cast(row: Row, ends: set[Span]) -> Row:
    """Return a row with its bind-offs as the cast-ons they stand for."""
    acts = [cast_on(a.n) if a.kind is Kind.BIND_OFF and a.n else a for a in row.acts]
    if any(a.kind is Kind.BIND_OFF for a in acts):
        raise Unread("no-count", "no number of sts is cast on here", row.span or Span(0, 0))
    if row.span in ends and len(acts) == 2 and acts[0].kind is Kind.CAST_ON:
        acts.reverse()
    return replace(row, acts=tuple(acts))


def _at_both_ends(rows: Sequence[Row], both: set[Span]) -> list[Row]:
    """Lay two rows that begin with a cast-on together as one that has it at both ends."""
    out: list[Row] = []
    at = 0
    while at < len(rows):
        row = rows[at]
        if row.span not in both:
            out.append(row)
            at += 1
            continue
        out.append(replace(row, acts=(*row.acts, row.acts[0])))
        at += 2
        if at < len(rows) and rows[at].span == row.span:
            out.append(PLAIN)
    return out


def cast_on_acts(row: Row) -> list[Act]:
    """Return the cast-ons of a row."""
    return [a for a in row.acts if a.kind is Kind.CAST_ON]
