"""Where yarn hangs for the join of live shoulders: at every armhole edge, at some, or at none."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from rewriter.halves import DividedShaping
from rewriter.phrases import wording
from rewriter.revise import Revision

Ends = Literal["left", "some", "new"]


def ends_left(revisions: Sequence[Revision]) -> Ends:
    """Say at which armhole edges an end long enough for the join is left, by the new text itself.

    Each pair of shoulders needs one, so a piece with an end at each of its own serves all.
    """
    most = 0
    for revision in revisions:
        tail = wording()["rows"]["tail"].strip(" ,").lower()
        new = " ".join(e.replacement for e in revision.edits if e.why == "shaping")
        told = " ".join(new.lower().split()).count(tail)
        whole = revision.shaping.two_edged or isinstance(revision.shaping, DividedShaping)
        most = max(most, told if whole else 2 * told)  # the other front is worked like this one
    return "left" if most > 1 else "some" if most else "new"
