"""How many markers the shoulders of a draft need, for a draft that has no list of materials to tell it."""

from __future__ import annotations

from rewriter import regex
from rewriter.castonmodel import CastOnShaping
from rewriter.halves import DividedShaping
from rewriter.materialslist import find_materials
from rewriter.options import Options
from rewriter.reading import Draft

# A cutting, which begins no piece, has its materials elsewhere.
_BEGINS = regex.compile(r"(?i)\bcast(?:ing)?[\s-]+on\b|\bCO\b(?=\s*\d)")


def markers_untold(draft: Draft, options: Options) -> tuple[int, int]:
    """Return the most markers that a piece has at its turns, and how many more in a second colour.

    Both are 0 where a list of materials tells them, or no marker is hung.
    """
    source = draft.document.source.text
    if not options.markers or _BEGINS.search(source) is None:
        return 0, 0
    if find_materials(draft.document) is not None:
        return 0, 0
    first = second = 0
    for finding in draft.findings:
        shaping = finding.shaping
        if shaping is None or finding.kind not in options.kinds:
            continue
        edges = [max(len(e.rows) for e in same) for same in zip(*shaping.edges, strict=False)]
        first = max(first, sum(k - 1 for k in edges))
        own = shaping.first if isinstance(shaping, DividedShaping) else shaping
        cast_on = isinstance(shaping, CastOnShaping)  # whose rows grow up to the neck's own sts
        if not cast_on and any(n is None or n > 0 for n in own.neck):
            second = max(second, len(edges))
    return (first, second) if first else (0, 0)
