"""A side whose last step is "the remaining sts", of which only the other side of the neck tells how many."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rewriter.shapingmodel import Inferred

if TYPE_CHECKING:
    from rewriter.reading import Finding

LAST_STEP = Inferred(
    what="the last step is as large as that of the other side",
    because="the steps before it are alike, and only the other side's sts are counted",
)
_OTHER_FRONT = {"left front": "right front", "right front": "left front"}


def counted_by_other(findings: Sequence[Finding], finding: Finding) -> tuple[int, ...] | None:
    """Return the sts before a side whose count is lost, as many for each size as the other side has.

    Both sides of a neck are as wide as each other, and so are two fronts (common practice); whether the
    steps agree is for the caller to see.
    """
    if finding.unread is None or finding.unread.code != "last-step-unknown":
        return None
    passage = finding.passage
    for other in reversed(findings):
        told = other.passage
        beside = told.piece_at == passage.piece_at or _OTHER_FRONT.get(told.piece) == passage.piece
        if other.kind != "shoulder" or other.shaping is None or not beside:
            continue
        edges = other.shaping.edges
        if any(len(steps) != 1 for steps in edges):
            continue
        return tuple(sum(steps[0].sts) for steps in edges)
    return None


def steps_alike(findings: Sequence[Finding], finding: Finding) -> bool:
    """Say whether a side has the steps of one before it, size for size."""
    if finding.shaping is None:
        return False
    own = [[steps.sts for steps in edges] for edges in finding.shaping.edges]
    return any(
        [[steps.sts for steps in edges] for edges in other.shaping.edges] == own
        for other in findings
        if other.shaping is not None
    )
