"""The lines of a wrapped draft on a page that breaks lines of its own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.worddiff import Kind

Part = tuple[Kind, str] | int
"""A stretch of text and what became of it, or the number of a note about the words before it."""

_LINE_ENDS = regex.compile(r"(\r\n|\r|\n)")


def unwrapped(parts: Iterable[Part], width: int | None) -> Iterator[Part]:
    """Join the lines of a draft that is wrapped to a width, for the page breaks lines of its own.

    A line ends where it did if it is short, ends with a stop, or a blank line or row label follows it.
    """
    told = list(parts)
    if width is None:
        yield from told
        return
    column = {"old": 0, "new": 0}
    for n, part in enumerate(told):
        if isinstance(part, int):
            yield part
            continue
        kind, text = part
        sides = [s for s, gone in (("old", "inserted"), ("new", "deleted")) if kind != gone]
        following = next((p[1] for p in told[n + 1 :] if not isinstance(p, int)), "")
        pieces = _LINE_ENDS.split(text)
        for i, piece in enumerate(pieces):
            if i % 2 == 0:
                for side in sides:
                    column[side] += len(piece)
                continue
            after = "".join(pieces[i + 1 :]) or following
            stopped = _STOPPED.search(pieces[i - 1]) and not after.lstrip()[:1].islower()
            full = max(column[side] for side in sides) > 0.6 * width
            if full and not (stopped or _NEW_LINE.match(after)):
                pieces[i] = " "
            column.update(dict.fromkeys(sides, 0))
        yield kind, "".join(pieces)


_STOPPED = regex.compile(r"[.:!?][)\]\"'*_\u201d\u2019]*\Z")
_NEW_LINE = regex.compile(
    rf"\s*(?:[\r\n]|\Z|[-*{BULLETS}|#]\s)|(?:next |(?:ws |rs )?rows? )", regex.I
)
