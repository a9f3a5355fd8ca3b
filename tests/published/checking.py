"""What the tests of published rewritings share: pieces in our words, and what a check says of them."""

from __future__ import annotations

from rewriter.comparison import Comparison, EdgeComparison, PassageComparison

LEAD = "Work even in stockinette st until armhole measures 8 in, ending with a {side} row. {sts} sts.\n"


def shoulder(found: Comparison) -> PassageComparison:
    """Return the one passage of a comparison."""
    (passage,) = found.passages
    return passage


def by_step(edge: EdgeComparison, size: int = 0) -> list[int]:
    """Return the rows that each step gains, from the outer edge inward; all of a step must agree."""
    gained = [c.rows for c in edge.gained[size] for _ in range(c.sts)]
    out = []
    at = 0
    for sts in edge.steps[size]:
        assert len(set(gained[at : at + sts])) == 1, gained
        out.append(gained[at])
        at += sts
    assert at == len(gained)
    return out


def turns(edge: EdgeComparison, size: int = 0) -> list[tuple[int, int]]:
    """Return row and unworked sts of each turn."""
    return [(t.row, t.unworked) for t in edge.turns[size]]


def codes(found: Comparison, severity: str) -> set[str]:
    """Return the codes of the findings of one severity."""
    return {f.code for f in found.findings if f.severity == severity}


BACK = "BACK\n\n{lead}\nShape shoulders\n{rows}\n\nFINISHING\n{join}\n"
FRONT = "{piece}\n\n{lead}\nShape shoulder\n{rows}\n\nFINISHING\n{join}\n"


def back(sts: int, side: str, rows: str, join: str = "Join shoulders.") -> str:
    """Return a back in our words."""
    return BACK.format(lead=LEAD.format(side=side, sts=sts), rows=rows.strip(), join=join)


def front(
    sts: int, side: str, rows: str, join: str = "Join shoulders.", piece: str = "LEFT FRONT"
) -> str:
    """Return a front in our words."""
    lead = LEAD.format(side=side, sts=sts)
    return FRONT.format(piece=piece, lead=lead, rows=rows.strip(), join=join)


THREE_NEEDLE = "Join shoulders with a three-needle bind-off."
