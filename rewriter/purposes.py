"""What a step is good for, said by the way: "so that it will go over a little head"."""

from __future__ import annotations

from rewriter.lexicon import lexicon

_SUBJECT = (
    r"(?:it|they|this|these|that|there|you|your|baby|the\s+(?:edge|neck|neckline|opening|head|child|baby"
    r"|garment|finished|seam|band|collar|wearer))"
)
_MUST = r"(?:must|has|have|will|would|should|needs?|is|are|can|may)"
_HARMLESS = (
    r"(?:a|an|the|it|its|they|them|that|this|you|your|to|be|is|are|will|would|should|can|may|does|do|did|not|never"
    r"|has|have|as|so|too|very|quite|rather|easily|easy|comfortably|comfortable|nicely|nice|neatly|neat|smoothly"
    r"|smooth|flat|well|good|better|pretty|tidy|soft|softly|firm|firmly|snug|snugly|loose|loosely|tight|tightly"
    r"|stretchy|elastic|enough|room|fit|fits|go|goes|pass|passes|slide|slides|lie|lies|lay|sit|sits|hang|hangs"
    r"|stretch|stretches|pull|pulls|pucker|puckers|drag|drags|curl|curls|gape|gapes|look|looks|feel|feels|get|gets"
    r"|give|gives|over|around|round|on|off|little|small|big|head|heads|baby|baby's|child|child's|wearer|shape|slope"
    r"|in|of|and|neck|when|worn|wearing|dressing|form|forms|become|becomes|back)"
)
"""The words that may stand in such a clause: none of them tells what is knitted, or where.

Any other word leaves the clause to be asked about.
"""


def purpose_pattern() -> str:
    """Return the expression of a clause that gives a reason or a purpose and tells nothing to do.

    It reaches up to the end of the clause.
    """
    numbers = "|".join(lexicon().numbers)
    words = rf"(?:\s+{_HARMLESS}(?![a-z'\u2019-])){{1,14}}"
    openings = (
        rf"so(?:\s+(?:that|as))?\s+{_SUBJECT}",
        r"so\s+as(?:\s+not)?\s+to",
        rf"(?:as|since|for)\s+{_SUBJECT}\s+{_MUST}",
        rf"because\s+{_SUBJECT}",
        rf"(?<=[:;-]\s*){_SUBJECT}\s+{_MUST}",
    )
    # "so there are three little steps on each side"
    counted = (
        rf"so\s+(?:that\s+)?there\s+(?:are|will\s+be)\s+(?:{numbers}|\d)\s+(?:little\s+|small\s+)?"
        r"(?:steps?|stairs?)(?:\s+(?:on|at)\s+(?:each|both)\s+(?:sides?|edges?|ends?))?"
    )
    return rf"(?<![a-z])(?:(?:{'|'.join(openings)}){words}|{counted})(?=\s*(?:[.,;:)!]|$))"
