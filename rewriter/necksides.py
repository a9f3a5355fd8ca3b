"""Both sides of a neck told one after the other: which passages are put right together or not at all."""

from __future__ import annotations

from itertools import pairwise

from rewriter import regex
from rewriter.reading import Draft, Finding

# "**Right side.** Hook the yarn back in at the middle": the second side, with a name of its own.
_OTHER_SIDE = regex.compile(
    r"(?i)\b(?:(?:other|second|2nd)\s+(?:side|half|shoulder)|(?:left|right)\s+(?:half|shoulder))\b"
    r"|(?<=[.:*_\n]\s{0,4})(?:left|right)\s+side\b(?!\s+(?:of|facing|row))"
)


def sides_of_necks(draft: Draft, kind: str) -> list[list[Finding]]:
    """Return the passages of a kind in one piece that are told side by side: the yarn is rejoined between."""
    groups: list[list[Finding]] = []
    # what must be asked may be the other shoulder
    shoulders = [
        f for f in draft.findings
        if f.kind == kind or (kind == "shoulder" and f.evidence.kind is None)
    ]  # fmt: skip
    for one, two in pairwise(shoulders):
        if one.passage.piece_at != two.passage.piece_at:
            continue
        between = [
            st
            for st in draft.statements
            if st is not None and one.passage.span.end <= st.span.start < two.passage.span.end
        ]
        place = slice(one.passage.span.end, two.passage.span.start)
        named = _OTHER_SIDE.search(draft.document.source.text, place.start, place.stop)
        if (
            named
            or any(f.verb == "join" for f in two.passage.lead)
            or any(f.verb == "join" for st in between for f in st.frames)
        ):
            groups.append([one, two])
        elif groups and groups[-1][-1] is one:
            groups[-1].append(two)  # more steps of the second side
    return groups
