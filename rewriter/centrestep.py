"""A neck that is bound off in the row of a shoulder step: both halves, spelled out row by row.

"Bind off at both sides in every 2nd row 3 x 7 sts; in the 1st row of the slope bind off the middle 24 sts
and finish both sides separately, binding off 5 sts at the inner edge 2 rows later": the row of a step
divides the piece. It binds off its step, works to the centre, binds the centre off and goes on over the
other half, which is finished first; the neck steps of that half follow as many rows after the centre as
the words say. The half that waits is the mirror of it: its neck steps lie between the same steps of its
shoulder, so they come one row earlier. Only where the sums of every size meet is it read so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter import regex
from rewriter.amounts import Amount
from rewriter.centrewords import ASIDES, CentreRow, is_centre, row_of
from rewriter.counts import count_before
from rewriter.dividing import Divided, part_held
from rewriter.document import Document, split_document
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.interpret import read_rows
from rewriter.listform import list_form, listed
from rewriter.passages import Passage, says_none_left, statements_of
from rewriter.phrases import wording
from rewriter.rows import Kind, Side
from rewriter.sizes import Sizes
from rewriter.spans import Span, line_starts, quote
from rewriter.style import Terms


@dataclass(frozen=True)
class CentreStep:
    """The words of a shoulder whose centre is bound off in one of its rows."""

    steps: tuple[Statement, ...]
    """The sentences that tell the steps of both shoulders."""
    row: CentreRow
    """The row that binds off the centre."""
    centre: Amount
    neck: tuple[Frame, ...]
    """What is bound off at the neck edge afterwards."""
    source: str
    span: Span


def centre_step(statements: Sequence[Statement]) -> CentreStep | None:
    """Return what the words of a passage tell, if its centre goes in the row of a step.

    Raises Unread where they tell it, but not clearly.
    """
    at = next((i for i, s in enumerate(statements) if any(map(is_centre, s.frames))), None)
    if at is None or statements[0].label is not None:
        return None
    row = row_of(statements[at])
    told = [*statements[:at], *map(_without_asides, statements[at:])]
    frame_at = next((j for j, f in enumerate(told[at].frames) if is_centre(f)), None)
    if row is None or frame_at is None:
        return None
    before = replace(told[at], frames=told[at].frames[:frame_at])
    begun = any(f.verb == "bind_off" for f in before.frames)
    steps = [*told[:at], *([before] if begun else [])]
    centre = told[at].frames[frame_at].amount
    if centre is None or not steps:
        return None
    neck = [*told[at].frames[frame_at + 1 :], *(f for s in told[at + 1 :] for f in s.frames)]
    _refuse_strange([told[at].frames[frame_at], *neck], told[at].sentence.source)
    span = Span(told[at].frames[frame_at].start, statements[-1].span.end)
    return CentreStep(tuple(steps), row, centre, tuple(neck), told[at].sentence.source, span)


def _without_asides(statement: Statement) -> Statement:
    """Take off the words that say with which step the centre goes, and how the sides are worked."""
    view = statement.sentence.view
    asides = [view.span(*m.span()) for p in ASIDES for m in p.finditer(view.text)]

    def aside(span: Span) -> bool:
        return any(a.start <= span.start and span.end <= a.end for a in asides)

    frames = []
    for frame in statement.frames:
        words = [*(p.span for ps in frame.parts.values() for p in ps)]
        if frame.verb not in ("", "bind_off") and all(map(aside, [frame.span, *words])):
            continue  # "the 1st decrease", "finish the two parts separately"
        bare = frame.verb in ("", "bind_off") and not frame.parts and not frame.inherited
        residue = [p for p in frame.residue if not aside(p.span)]
        if bare and not residue:
            continue  # "the 2nd casting off"
        notes = [n for n in frame.notes if not aside(n.span)]
        frames.append(replace(frame, residue=residue, notes=notes))
    return replace(statement, frames=frames)


def _refuse_strange(frames: Sequence[Frame], source: str) -> None:
    """Raise Unread for words, and for things done, that the spelled-out rows would not hold."""
    for frame in frames:
        told = frame.verb == "bind_off" and frame.parts.keys() & {"count", "steps"}
        strange = [p.span for p in frame.residue] or ([] if told else [frame.span])
        if strange:
            raise Unread(
                "words-not-understood",
                f"the words {quote(strange[0].of(source))!r} are not understood here and could change "
                "what is knitted",
                strange[0],
            )


def spelled_out(
    told: CentreStep,
    passage: Passage,
    document: Document,
    sizes: Sizes,
    terms: Terms,
    first_side: Side | None,
) -> Divided:
    """Return the sentences of both halves, spelled out row by row; raises Unread in doubt.

    `first_side` is the side of the first bind-off row, where it is known.
    """
    count = len(sizes)
    before = count_before(passage, count)
    steps = [_steps(told, i, count) for i in range(count)]
    neck = [_neck_steps(told, i, count) for i in range(count)]
    if before is None and not (says_none_left(passage.ahead) and _rows_counted(told)):
        raise Unread(
            "neck-with-step",
            "the centre is bound off in the row of a shoulder step: in which rows of each side do "
            "the neck and the shoulder go on? (write the rows of both sides out, or give the stitch "
            "count before the shoulder)",
            told.span,
        )
    centre = told.centre.per_size(count)
    for i in range(count):
        total = 2 * sum(steps[i]) + centre[i] + 2 * sum(n for _, n in neck[i])
        if before is not None and total != before[0][i]:
            where = "" if count == 1 else f" in size {sizes.labels[i]}"
            raise Unread(
                "sums",
                f"2 × {sum(steps[i])} at the shoulders and {total - 2 * sum(steps[i])} at the neck = "
                f"{total}, but {before[0][i]} sts are on the needle{where}",
                before[1],
                (i,),
            )
    if len({(len(s), tuple(row for row, _ in n)) for s, n in zip(steps, neck, strict=True)}) > 1:
        raise Unread(
            "sizes-differ",
            "the sizes of this shoulder, divided at the neck, have different numbers of rows",
            told.span,
        )
    row = _row_number(told, first_side)
    writer = _Spelling(
        told, row, steps, neck, centre, list_form([document.source.text], count), terms
    )
    return _parsed(writer.text(), document, sizes, told.span)


def _rows_counted(told: CentreStep) -> bool:
    """Say whether each step at the neck is told by how many rows it lies after the one before it."""
    kinds = [r.kind if (r := f.one("rows")) is not None else "" for f in told.neck]
    return all(kind in ("some_rows", "later_rows") for kind in kinds)


def _row_number(told: CentreStep, first_side: Side | None) -> int:
    """Return the number of the row that binds off the centre; the first step is in row 0."""
    side = told.row.side
    if side is None or side == first_side:
        return told.row.number
    if first_side is None:
        raise Unread(
            "neck-with-step",
            f"the centre is bound off on a {side} row: is the first bind-off row one too?",
            told.span,
            ask="first-side",
        )
    return told.row.number + 1


def _steps(told: CentreStep, size: int, sizes: int) -> list[int]:
    """Return the steps of one shoulder; raises Unread where the two are not told alike."""
    rows = read_rows(told.steps, size, sizes)
    heads = [row.acts[0] if row.acts else None for row in rows]
    counts = [
        a.n if a is not None and a.kind is Kind.BIND_OFF and a.n is not None else 0 for a in heads
    ]
    if len(counts) % 2 and counts:
        counts.append(0)
    one, two = counts[::2], counts[1::2]
    if any(two) and one != two:
        raise Unread("odd-rows", "the two shoulders are not told alike", told.span, (size,))
    if not one or not all(one):
        raise Unread(
            "rows-unclear",
            "the steps of this shoulder do not follow on every other row",
            told.span,
            (size,),
        )
    return one


def _neck_steps(told: CentreStep, size: int, sizes: int) -> list[tuple[int, int]]:
    """Return what is bound off at the neck edge after the centre: rows later, and sts."""
    out: list[tuple[int, int]] = []
    later = 0
    for frame in told.neck:
        if frame.edge != "neck" and not frame.inherited:
            raise Unread("rows-unclear", "at which edge are these sts bound off?", frame.span)
        every = _rows_later(told, frame, size, sizes, bool(out))
        if every % 2 or not every:
            raise Unread(
                "rows-unclear",
                "in which of these rows sts are bound off at the neck edge is not told",
                frame.span,
            )
        for n in _counts(frame, size, sizes):
            later += every
            out.append((later, n))
            every = 2
    return out


def _rows_later(told: CentreStep, frame: Frame, size: int, sizes: int, goes_on: bool) -> int:
    """Return how many rows after the row before a neck step is bound off; 0 where it is not told."""
    rows = frame.one("rows")
    if rows is None:
        return 2 if goes_on else 0
    after = rows.kind == "some_rows" and (
        "more" in frame.parts or told.source[: rows.span.start].lower().rstrip().endswith("after")
    )
    if (rows.kind == "later_rows" or after) and rows.amount is not None:
        return rows.amount.per_size(sizes)[size]
    if rows.kind == "row_number" and rows.numbers == (2,) and not goes_on:
        return 2  # "bind off 1x4 sts in the 2nd row"
    return 2 if rows.kind in _SECOND_ROWS else 0


def _counts(frame: Frame, size: int, sizes: int) -> list[int]:
    """Return the sts of each neck step that a frame tells; raises Unread."""
    if (listed_steps := frame.one("steps")) is not None:
        pairs = listed_steps.pairs
        if len(pairs) not in (1, sizes):
            raise Unread("list-length", "these steps are told for other sizes", listed_steps.span)
        return [n for times, n in pairs[size if len(pairs) > 1 else 0] for _ in range(times)]
    amount, times = frame.amount, frame.one("times")
    if amount is None:
        raise Unread("no-count", "no number of sts is given here", frame.span)
    number = 1
    if times is not None:
        told_times = times.amount or Amount((int(times.concept),), times.span)
        number = told_times.per_size(sizes)[size]
    return [amount.per_size(sizes)[size]] * number


_SECOND_ROWS = frozenset({"every_other", "foll_alt_rows", "next_alt_rows", "next_rows"})
"""Rows that are the next ones to begin at the neck, of those after the row that divides."""


@dataclass(frozen=True)
class _Spelling:
    """Writes the rows of both halves."""

    told: CentreStep
    row: int
    """Number of the row that binds off the centre."""
    steps: Sequence[Sequence[int]]
    neck: Sequence[Sequence[tuple[int, int]]]
    centre: Sequence[int]
    form: tuple[str, ...]
    terms: Terms

    def text(self) -> str:
        """Return the words of all rows."""
        row = self.row
        step = row // 2
        lines = [self._step(n // 2) for n in range(row)]
        sizes = range(len(self.steps))
        beyond = [sum(self.steps[i][step + 1 :]) + self._all_neck(i) for i in sizes]
        lines.append(
            self._say("dividing", n=[self.steps[i][step] for i in sizes], m=beyond, c=self.centre)
        )
        # the half beyond the centre has bound off as many steps as rows began at its edge
        lines += self._half(row, (row + 1) // 2, row + 1)
        lines.append(self._say("rejoin"))
        lines += self._half(row, step + 1, row + 2)
        return "\n".join(lines)

    def _half(self, row: int, step: int, armhole: int) -> list[str]:
        """Return the rows of a half from the one after the centre; row `armhole` has its step `step`."""
        last = armhole + 2 * (len(self.steps[0]) - step - 1)
        # the half that goes on ends its rows at the armhole where the centre is bound off
        shift = 0 if armhole == row + 1 else -1
        neck = {row + later + shift: k for k, (later, _) in enumerate(self.neck[0])}
        if step >= len(self.steps[0]) or any(n > last for n in neck):
            raise Unread(
                "rows-unclear",
                "sts are bound off at the neck with the last step of the shoulder, or after it",
                self.told.span,
            )
        out: list[str] = []
        for number in range(row + 1, last):
            if (number - armhole) % 2 == 0:
                out.append(self._step(step + (number - armhole) // 2))
            elif number in neck:
                out.append(self._say("neck", n=[sts[neck[number]][1] for sts in self.neck]))
            else:
                out.append(wording()["spelled"]["plain"])
        out.append(self._say("last", n=[s[-1] for s in self.steps]))
        return out

    def _step(self, step: int) -> str:
        return self._say("step", n=[s[step] for s in self.steps])

    def _all_neck(self, size: int) -> int:
        return sum(n for _, n in self.neck[size])

    def _say(self, key: str, **counts: Sequence[int]) -> str:
        said = {name: listed(list(values), self.form) for name, values in counts.items()}
        bo = "cast off" if self.terms == "UK" else "bind off"
        unit = _UNIT.search(self.told.span.of(self.told.source))
        said |= {"bo": bo, "Bo": bo.capitalize(), "sts": unit.group(1).lower() if unit else "sts"}
        text: str = wording()["spelled"][key].format(**said)
        return text


# What the draft calls sts, behind a number.
_UNIT = regex.compile(r"(?i)[\d)\]]\s+(sts|stitches|loops)\b")


def _parsed(text: str, document: Document, sizes: Sizes, span: Span) -> Divided:
    source = replace(document.source, text=text, line_starts=line_starts(text), format="text")
    _, statements = statements_of(split_document(source), sizes)
    parts = part_held([s for s in statements if s is not None])
    if parts is None:
        raise Unread("rows-unclear", "the rows of both sides could not be spelled out", span)
    return parts
