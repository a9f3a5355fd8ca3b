"""The edges of a checked passage in the public model, and the other side of a neck as its mirror image."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from rewriter.comparison import Columns, EdgeComparison
from rewriter.judge import LIVE
from rewriter.report import Turn
from rewriter.rows import OTHER_SIDE, Edge, side_of
from rewriter.shapingmodel import Shaping
from rewriter.working import EdgeWorked, Worked


def edges_of(part: Shaping, works: Sequence[Worked]) -> list[EdgeComparison]:
    """Report the edges of one part, a list for each size."""
    out = []
    known = part.first_side is not None
    for number in range(len(part.edges[0])):
        own = [w.edges[number] for w in works]
        out.append(
            EdgeComparison(
                edge=own[0].steps.edge if known else "unknown",
                steps=tuple(e.steps.sts for e in own),
                turns=tuple(
                    tuple(
                        Turn(row=t.row, side=side_of(t.row, part.first_side), unworked=t.unworked)
                        for t in e.turns
                    )
                    for e in own
                ),
                together=tuple(
                    None if w.stuck is not None else e.steps.total if e.ended_all else e.ended
                    for w, e in zip(works, own, strict=True)
                ),
                ending=_ending(own),
                gained=tuple(tuple(Columns(sts=n, rows=gain) for n, gain in e.gained) for e in own),
            )
        )
    return out


def _ending(edges: Sequence[EdgeWorked]) -> Literal["bound off", "live", "mixed"] | None:
    """Return what becomes of the sts of an edge, over all sizes."""
    fates = {fate for edge in edges for _, fate in edge.fates}
    if not fates:
        return None
    return "live" if fates <= LIVE else "bound off" if fates == {"bound off"} else "mixed"


def mirrored(shaping: Shaping) -> Shaping:
    """Return the other side of a neck: right side and wrong side, right and left exchanged."""
    other: dict[Edge, Edge] = {"right": "left", "left": "right"}
    return shaping.model_copy(
        update={
            "edges": tuple(
                tuple(replace(s, edge=other[s.edge]) for s in edges) for edges in shaping.edges
            ),
            "first_side": None if shaping.first_side is None else OTHER_SIDE[shaping.first_side],
            "rows": tuple(
                tuple(
                    replace(row, side=None if row.side is None else OTHER_SIDE[row.side])
                    for row in rows
                )
                for rows in shaping.rows
            ),
        }
    )
