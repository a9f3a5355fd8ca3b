"""Read a sentence: its row label, the sizes it is for, and what it does, in frames."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.document import Sentence
from rewriter.frames import Frame, Label, Statement
from rewriter.framing import Builder
from rewriter.parsing import Part, parse
from rewriter.restbound import name_rest_bound
from rewriter.sizewords import sizes_named
from rewriter.slots import ROWS, VERBS
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
    by_size = _one_by_one(rest, sentence.source, labels)
    sizes, rest = (None, rest) if by_size else _sizes(rest, sentence.source, labels)
    builder = Builder(phrases)
    for part in by_size[0][1] if by_size else rest:
        builder.add(part)
    frames = builder.finish()
    running, opening = builder.running, builder.opening
    if not any(f.verb for f in frames):
        running, opening = [*opening, *running], []  # nothing but counts
    solid = [p.kind for p in parts if p.kind not in ("stop", "link")]
    stars = (solid[:1] == ["star"], len(solid) > 1 and solid[-1] == "star")
    of_sizes = tuple((named, _frames(told, phrases)) for named, told in by_size)
    return Statement(sentence, label, frames, running, sizes, of_sizes, opening, stars=stars)


def _frames(parts: Sequence[Part], phrases: bool) -> list[Frame]:
    builder = Builder(phrases)
    for part in parts:
        builder.add(part)
    return builder.finish()


_MOST_ROWS = 60
"""How far "row 2 and every WS row" is taken to go on; no shoulder has as many rows."""


def _label(parts: Sequence[Part]) -> tuple[Label | None, Sequence[Part]]:
    """Take a row label off the front of a sentence."""
    at = 0
    while at < len(parts) and parts[at].kind in ("star", "link", "dash"):
        at += 1
    if [p.kind for p in parts[at : at + 2]] == ["filler", "colon"]:
        at += 2  # "shape shoulders: next 2 rows: ..."
    side = ""
    if at + 1 < len(parts) and parts[at].kind == "side" and parts[at + 1].kind == "row_number":
        side, at = parts[at].side, at + 1  # "RS row 1:"
    alone = at + 1 < len(parts) and parts[at].kind == "side" and parts[at + 1].kind == "colon"
    if not alone and (at == len(parts) or parts[at].kind not in (
        "next_rows", "row_number", "next_side_rows", "side_row",
    )):  # fmt: skip
        return None, parts
    head = parts[at]
    side = head.side or side
    end = at + 1
    marked = every = False
    while end < len(parts):
        part = parts[end]
        if part.kind == "paren" and len(part.inner) == 1 and part.inner[0].side:
            side, marked = part.inner[0].side, True
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
    return Label(span, head.amount, numbers, side), parts[end:]


def _sizes(
    parts: Sequence[Part], source: str, labels: Sequence[str]
) -> tuple[tuple[int, ...] | None, Sequence[Part]]:
    """Take a restriction to some sizes off the front: "3rd and 4th sizes only", "Sizes S (M, -) only"."""
    start = next((i for i, p in enumerate(parts) if p.kind not in ("star", "link")), 0)
    if start < len(parts) and parts[start].kind == "all_sizes":
        return (), _after_colon(parts[start + 1 :])
    if labelled := _size_label(parts[start:], source, labels):
        return labelled
    for i, part in enumerate(parts[start : start + 60], start):
        if part.kind == "sizes_only":
            named = _ordinals(parts[start:i], source) or sizes_named(
                Span(parts[start].span.start, part.span.start).of(source), labels
            )
            if named:
                return tuple(named), _after_colon(parts[i + 1 :])
            return (None, _after_colon(parts[i + 1 :]) if _dashed(parts[i + 1 :]) else parts)
        if part.kind in VERBS - {"work"}:
            break
    return None, parts


def _ordinals(parts: Sequence[Part], source: str) -> list[int]:
    """Return the sizes that ordinals name: "3rd and 4th", "6th to 9th"."""
    out: list[int] = []
    before = 0
    for part in parts:
        if part.kind != "ordinal":
            continue
        between = source[before : part.span.start].strip().lower()
        run = len(part.numbers) == 1 and out and between in ("to", "-", "\u2013")
        out += range(out[-1] + 1, part.numbers[0] + 1) if run else part.numbers
        before = part.span.end
    return out


def _size_label(
    parts: Sequence[Part], source: str, labels: Sequence[str]
) -> tuple[tuple[int, ...], Sequence[Part]] | None:
    """Take "Size M:", "2nd size:" or "Shape shoulders, sizes 1-3:" off the front, where it names sizes."""
    start = next((i for i, p in enumerate(parts) if p.kind not in ("filler", "link")), 0)
    colon = next((i for i, p in enumerate(parts[: start + 8]) if p.kind == "colon"), 0)
    head = parts[start:colon]
    size = next((i for i, p in enumerate(head) if p.kind == "size"), -1)
    if size < 0 or any(p.kind in VERBS for p in head):
        return None
    ordinals = _ordinals(head[:size], source)
    if size and not ordinals:
        return None
    text = Span(head[0].span.start, parts[colon].span.start).of(source)
    named = [n for n in ordinals if n <= len(labels)] or sizes_named(text, labels)
    return (tuple(named), _after_colon(parts[colon + 1 :])) if named else None


def _one_by_one(
    parts: Sequence[Part], source: str, labels: Sequence[str]
) -> list[tuple[tuple[int, ...], Sequence[Part]]]:
    """Part a sentence that tells its sizes one by one: "every 2 rows: size S: twice 7 sts; size M: ...".

    What stands before the first size is told for each. None of the sizes may be missing, or named twice.
    """
    starts = [
        (i, sizes, rest)
        for i, p in enumerate(parts)
        if p.kind in ("size", "ordinal", "sizes_only") and _stands_apart(parts[:i])
        for sizes, rest in (_sizes(parts[i:], source, labels),)
        if sizes
    ]
    told_for = sorted(n for _, sizes, _ in starts for n in sizes)
    if len(starts) < 2 or told_for != list(range(1, len(labels) + 1)):
        return []
    head = parts[: starts[0][0]]
    stops = [i for i, _, _ in starts[1:]] + [len(parts)]
    return [
        (sizes, [*head, *rest[: len(rest) - (len(parts) - stop)]])
        for (_, sizes, rest), stop in zip(starts, stops, strict=True)
    ]


def _stands_apart(before: Sequence[Part]) -> bool:
    """Say whether a size is named behind a mark that sets it apart: "...: for size S: ..."."""
    solid = [p for p in before if p.kind != "filler"]
    if not solid:
        return True
    return solid[-1].kind in ("colon", "stop", "dash", "star") or _is_semicolon(solid[-1])


def _is_semicolon(part: Part) -> bool:
    return part.kind == "link" and part.concept == "semicolon"


def _dashed(parts: Sequence[Part]) -> bool:
    """Say whether dashes in a list leave out sizes: they say for which sizes a sentence is."""
    amounts = [p.amount.values for p in parts if p.amount is not None]
    return any(None in values for values in amounts)


def _after_colon(parts: Sequence[Part]) -> Sequence[Part]:
    at = 0
    while at < len(parts) and parts[at].kind in ("colon", "link", "stop", "star"):
        at += 1
    return parts[at:]
