"""Read a sentence: its row label, the sizes it is for, and what it does, in frames."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from rewriter.allrows import out_of_brackets, settle_rows
from rewriter.amounts import Amount
from rewriter.document import Sentence
from rewriter.frames import Frame, Label, Statement
from rewriter.framing import Builder
from rewriter.parsing import Part, parse
from rewriter.restbound import name_rest_bound
from rewriter.sizesapart import Sized, SizeReader
from rewriter.slots import ROWS
from rewriter.spans import Span, View


def read_statement(
    sentence: Sentence, labels: Sequence[str] = (), phrases: bool = False, view: View | None = None
) -> Statement | None:
    """Read a sentence into frames; None where it cannot be an instruction (far too long).

    `labels` are the names of the sizes, for a sentence that is for some of them only; `phrases` says
    that the draft tells its sizes in phrases ("4 rows (6 rows)"); `view` its words, where some of them
    are left out.
    """
    parts = parse(view or sentence.view)
    if parts is None:
        return None
    label, rest = _label(name_rest_bound(parts, sentence.source))
    for_sizes = SizeReader(sentence.source, view or sentence.view, tuple(labels))
    by_size: list[Sized] = []
    sizes: tuple[int, ...] | None = None
    if for_sizes.names_sizes(rest):
        by_size = for_sizes.one_by_one(rest)
        sizes, rest = (None, rest) if by_size else for_sizes.restricted(rest)
    rest = _pairs_joined(rest) if sizes and len(sizes) == 2 else rest
    # two counts in a sentence for all of two sizes may be steps and what they leave: "8 sts (60 sts)"
    many = len(sizes) if sizes else len(labels) if len(labels) > 2 else 0
    builder = Builder(phrases, many)
    for part in by_size[0][1] if by_size else out_of_brackets(rest):
        builder.add(part)
    frames = settle_rows(builder.finish(), label is not None)
    _name_the_one_after(frames, sentence.source)
    _name_rows_by_side(frames, sentence.source)
    running, opening = builder.running, builder.opening
    if not any(f.verb for f in frames):
        running, opening = [*opening, *running], []  # nothing but counts
    solid = [p.kind for p in parts if p.kind not in ("stop", "link")]
    # behind words that change nothing: "Keeping the rib going, *BO ...", "Now shape the shoulders: *BO ..."
    begun = next((kind for kind in solid if kind not in ("filler", "colon")), "")
    stars = (begun == "star", len(solid) > 1 and solid[-1] == "star")
    of_sizes = tuple((named, _frames(told, phrases)) for named, told in by_size)
    return Statement(sentence, label, frames, running, sizes, of_sizes, opening, stars=stars)


def _pairs_joined(parts: Sequence[Part]) -> Sequence[Part]:
    """Join "8 - 9 sts" to one list where a sentence is for two sizes, whose lists have two entries."""
    out: list[Part] = []
    for part in parts:
        pair = out[-2:]
        if (
            part.kind in ("count", "bare_count")
            and [p.kind for p in pair] == ["bare_count", "dash"]
            and part.amount is not None
            and (first := pair[0].amount) is not None
            and len(first.values) == len(part.amount.values) == 1
        ):
            span = Span(pair[0].span.start, part.span.end)
            values = (*first.values, *part.amount.values)
            amount = Amount(values, Span(first.span.start, part.amount.span.end))
            out[-2:] = [replace(part, span=span, amount=amount)]
        else:
            out.append(part)
    return out


# "At the start of the next RS row bind off 8 sts, and at the start of the one after that the remaining 7":
# another RS row.
_LIKE = {
    "next_side_rows": "foll_side_rows",
    "foll_side_rows": "foll_side_rows",
    "next_alt_rows": "foll_alt_rows",
    "foll_alt_rows": "foll_alt_rows",
}


def _name_the_one_after(frames: Sequence[Frame], source: str) -> None:
    """Make "the one after that" a row like the one told before it."""
    for before, frame in pairwise(frames):
        told, rows = before.one("rows"), frame.one("rows")
        if told is None or rows is None or told.kind not in _LIKE or rows.kind != "later_rows":
            continue
        if not source[rows.span.start :].lower().startswith("one after"):
            continue
        like = replace(told, kind=_LIKE[told.kind], amount=None, numbers=(), span=rows.span)
        frame.parts["rows"] = [like]


def _name_rows_by_side(frames: Sequence[Frame], source: str) -> None:
    """Make "from the wrong side cast off 5 sts, then 6 sts from the wrong side twice" rows of that side."""
    for frame in frames:
        side = frame.one("side")
        if frame.verb != "bind_off" or side is None or side.kind != "side" or frame.takes_all:
            continue
        named = source[side.span.start : side.span.end].lower().startswith("from")
        if not named or frame.parts.keys() & {"rows", "beg", "end", "steps"}:
            continue
        kind = "every_side_row" if "times" in frame.parts else "next_side_rows"
        frame.parts["rows"] = [replace(side, kind=kind)]
        del frame.parts["side"]


def _frames(parts: Sequence[Part], phrases: bool) -> list[Frame]:
    builder = Builder(phrases)
    for part in parts:
        builder.add(part)
    return settle_rows(builder.finish(), labelled=False)


def _side_in(inner: Sequence[Part], behind: Sequence[Part]) -> str:
    """Return the side in brackets behind a row's number: "(RS)", "(RS; shoulder bind-off)", "(RS, dec row)".

    What the row shapes must be told in the words `behind`: only then do the brackets say nothing more.
    """
    sides = [p.side for p in inner if p.kind == "side" and p.side]
    alone = all(p.amount is None and p.kind not in ROWS for p in inner)
    told = {"decrease", "increase", "bind_off"} & {p.kind for p in behind}
    noted = {p.kind for p in inner} <= {"side", "link", "filler", "residue", "edge", *told}
    return sides[0] if len(sides) == 1 and alone and (noted or len(inner) == 1) else ""


def _numbered(parts: Sequence[Part], at: int) -> Sequence[Part]:
    """Read "2nd and every alt row:" as "2nd row and every alt row:"."""
    kinds = [p.kind for p in parts[at : at + 4]]
    if kinds[:2] != ["ordinal", "link"] or kinds[2:3] not in (["every_other"], ["every_side_row"]):
        return parts
    number = replace(parts[at], kind="row_number", concept="")
    return [*parts[:at], number, *parts[at + 1 :]] if kinds[3:] in (["colon"], ["paren"]) else parts


_MOST_ROWS = 60
"""How far "row 2 and every WS row" is taken to go on; no shoulder has as many rows."""


def _label(parts: Sequence[Part]) -> tuple[Label | None, Sequence[Part]]:
    """Take a row label off the front of a sentence."""
    at = 0
    while at < len(parts) and parts[at].kind in ("star", "link", "dash"):
        at += 1
    marks = at + 1
    while marks < len(parts) and parts[marks].kind in ("colon", "stop", "dash"):
        marks += 1
    if at < len(parts) and parts[at].kind == "filler" and marks > at + 1:
        at = marks  # "shape shoulders: next 2 rows: ...", "Shape shoulders.-1st row: ..."
    side = ""
    if at + 1 < len(parts) and parts[at].kind == "side" and parts[at + 1].kind == "row_number":
        side, at = parts[at].side, at + 1  # "RS row 1:"
    parts = _numbered(parts, at)
    alone = at + 1 < len(parts) and parts[at].kind == "side" and parts[at + 1].kind == "colon"
    if not alone and (at == len(parts) or parts[at].kind not in (
        "next_rows", "row_number", "next_side_rows", "side_row",
    )):  # fmt: skip
        return None, parts
    head = parts[at]
    if head.concept == "from":
        return None, parts
    side = head.side or side
    end = at + 1
    marked = every = False
    while end < len(parts):
        part = parts[end]
        if part.kind == "paren" and (named := _side_in(part.inner, parts[end + 1 :])):
            side, marked = named, True
        elif part.kind == "colon":
            marked = True
        elif part.kind in ("side", "side_facing") and (marked or end == at + 1):
            side = part.side
        elif part.kind in ("link", "star", "dash", "stop") and (end == at + 1 or marked):
            pass
        elif part.kind in ("every_side_row", "every_other") and head.kind == "row_number":
            every = len(head.numbers) == 1  # "Row 2 and every WS row:"
        else:
            break
        end += 1
    bare_next = head.kind == "next_rows" and head.concept == ""
    if bare_next or (head.kind == "side_row" and not marked):
        return None, parts
    if not marked and end < len(parts) and parts[end].kind in (ROWS | {"at_beg", "edge"}):
        return None, parts
    span = Span(head.span.start, parts[end - 1].span.end)
    numbers = head.numbers
    if head.concept == "range" and len(numbers) == 2:
        numbers = tuple(range(numbers[0], numbers[1] + 1))
    if every:
        numbers = tuple(range(numbers[0], numbers[0] + _MOST_ROWS, 2))
    of_one_side = head.kind == "next_side_rows" and head.amount is not None
    return Label(span, head.amount, numbers, side, of_one_side), parts[end:]
