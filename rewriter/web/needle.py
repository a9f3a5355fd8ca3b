"""The needle of one size as a drawing: stitches above it, turning points and markers below.

Places along the needle are percentages, so that the drawing fills any width and its figures keep their
size. Shoulders are true to scale; a wide neck is drawn shorter.
"""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from itertools import accumulate, pairwise

from rewriter.render import needle_map
from rewriter.report import EdgeReport, PassageReport

_NECK_SHARE, _NO_NECK = 26.0, 3.0
_NARROWEST = 4.6
"""Least width of a step, in percent, that its figures need on a narrow screen."""
_COUNTS_APART = 6.0
"""Least distance of two counts of two figures, in percent, on a narrow screen."""
_LINE = 26


@dataclass(frozen=True)
class Stretch:
    """Neighbouring stitches on the needle, in working order of the first short row."""

    sts: int | None
    """None where the number is not known."""
    neck: bool = False


@dataclass(frozen=True)
class Needle:
    """The needle of one size."""

    left: tuple[Stretch, ...]
    """Steps of the second edge, from the outer edge inward; none in a piece with one edge."""
    neck: Stretch | None
    right: tuple[Stretch, ...]
    """Steps of the first edge, from the neck outward."""

    @property
    def widest(self) -> int:
        """Stitches of the shoulders together."""
        return sum(s.sts or 0 for s in (*self.left, *self.right))


def needle_of(passage: PassageReport, size: int) -> Needle | None:
    """Return the needle of one size (counted from 0); None where a passage has no edge."""
    if not passage.edges:
        return None
    steps = [tuple(map(Stretch, _steps(edge, size, passage.cast_on))) for edge in passage.edges]
    right = steps[0][::-1]
    if len(steps) == 1:
        return Needle((), None, right)
    return Needle(steps[1], Stretch(passage.neck[size] if passage.neck else None, True), right)


def _steps(edge: EdgeReport, size: int, cast_on: bool) -> list[int]:
    steps = [step[size] for step in edge.even_steps or edge.steps if step[size]]
    return steps[::-1] if cast_on else steps  # those are told from the neck outward


def drawing(passage: PassageReport, size: int, widest: int, apart: bool = False) -> str:
    """Return the drawing as SVG; `widest` is the most sts that the shoulders have in any size.

    `apart` says that its two edges are those of two sides of a neck, whose own sts are long off.
    """
    needle = needle_of(passage, size)
    if needle is None or not widest:
        return ""
    label = needle_map(passage, size)
    if apart:
        label = label.replace("\u2016 0 \u2016", "\u2016 neck \u2016")
    room = 100 - (_NECK_SHARE if needle.neck else _NO_NECK)
    unit = room / widest
    if min((s.sts or 0) * unit for s in (*needle.left, *needle.right)) < _NARROWEST:
        return f'<p class="needle-text">{escape(label)}</p>'
    width = needle.widest * unit + (_NECK_SHARE if needle.neck else 0)
    start = (100 - width) / 2 if needle.neck else 0.0
    out: list[str] = []
    left = [start, *(start + x * unit for x in accumulate(s.sts or 0 for s in needle.left))]
    neck_end = left[-1] + (_NECK_SHARE if needle.neck else 0)
    right = [neck_end, *(neck_end + x * unit for x in accumulate(s.sts or 0 for s in needle.right))]
    ends = (left[0], left[-1], right[0], right[-1]) if apart else (left[0], right[-1])
    out += [_line(a, b) for a, b in zip(ends[::2], ends[1::2], strict=True)]
    for places, stretches in ((left, needle.left), (right, needle.right)):
        for (a, b), stretch in zip(pairwise(places), stretches, strict=True):
            out.append(_figure((a + b) / 2, str(stretch.sts)))
    if needle.neck:
        sts = "neck" if apart else "?" if needle.neck.sts is None else str(needle.neck.sts)
        out.append(_figure((left[-1] + right[0]) / 2, sts, "neck"))
    # turning points are counted from the outer edge inward
    inward = list(accumulate(s.sts or 0 for s in needle.left))
    for before, place, count in zip(left, left[1:], inward, strict=False):
        boundary = count == inward[-1]
        out.append(_marker(place, count, boundary, place - before >= _COUNTS_APART))
    inward = list(accumulate(s.sts or 0 for s in reversed(needle.right)))
    for before, place, count in zip(right[::-1], right[-2::-1], inward, strict=False):
        boundary = count == inward[-1]
        if needle.neck or not boundary:
            out.append(_marker(place, count, boundary, before - place >= _COUNTS_APART))
    return (
        f'<svg class="needle" role="img" aria-label="{escape(label)}" width="100%" height="52">'
        f"{''.join(out)}</svg>"
    )


def _line(a: float, b: float) -> str:
    return f'<line class="rod" x1="{a:.2f}%" x2="{b:.2f}%" y1="{_LINE}" y2="{_LINE}"/>'


def _figure(x: float, text: str, kind: str = "step") -> str:
    return f'<text class="{kind}" x="{x:.2f}%" y="17">{escape(text)}</text>'


def _marker(x: float, count: int, boundary: bool, room: bool) -> str:
    """Return the mark of a turning point, or of the boundary between shoulder and neck.

    A boundary has its count, that of the whole shoulder, where there is room beside the last turn's.
    """
    mark = (
        '<path class="boundary" d="M-2 -20V7M2 -20V7"/>'
        if boundary
        else '<path class="turn" d="M0 -6V0M-4 1H4L0 8Z"/>'
    )
    told = f'<text class="count" y="22">{count}</text>' if room or not boundary else ""
    return f'<svg x="{x:.2f}%" y="{_LINE}" overflow="visible">{mark}{told}</svg>'
