"""What a step is good for, said by the way: "so that it will go over a little head"."""

from __future__ import annotations

_MATTERS = (
    r"(?:\d|[rw]\.?s\b|right|wrong|facing|sts?\b|stitch|loops?\b|rows?\b|rounds?\b|needles?\b|yarn|wool"
    r"|cast|bind|bound|clos|work|knit|purl|patt|turn|slip|hold|rejoin|join|repeat|rep\b|cm\b|ins\b|inch"
    r"|left|remain|rem\b|before|after|until|till|when|while|whilst|then|and|but|or\b|both|each|every|other"
    r"|same|first|second|last|next|same|match|meet|reach|measure|length|height|back\b|front|sleeve|armholes?"
    r"|shoulders?|one|two|three|four|five|six|seven|eight|nine|ten|twelve|k\b|p\b|not\s+yet)"
)
"""Words by which a clause tells what is knitted, or where: such a clause is no aside."""

_SUBJECT = (
    r"(?:it|they|this|these|that|there|you|your|baby|the\s+(?:edge|neck|neckline|opening|head|child|baby"
    r"|work|garment|finished|seam|band|collar|wearer))"
)
_MUST = r"(?:must|has|have|will|would|should|needs?|is|are|can|may)"


def purpose_pattern() -> str:
    """Return the expression of a clause that gives a reason or a purpose and tells nothing to do.

    It reaches up to the end of the clause; one that speaks of sts, rows, sides or work does not match.
    """
    words = rf"(?:\s+(?!{_MATTERS})[a-z'\u2019-]+){{1,14}}"
    openings = (
        rf"so(?:\s+(?:that|as))?\s+{_SUBJECT}",
        r"so\s+as(?:\s+not)?\s+to",
        rf"(?:as|since|for)\s+{_SUBJECT}\s+{_MUST}",
        rf"because\s+{_SUBJECT}",
        rf"(?<=[:;-]\s*){_SUBJECT}\s+{_MUST}",
        rf"to\s+(?:keep|let|allow|prevent|avoid|stop)\s+(?:it|them|{_SUBJECT}|pulling|puckering)",
    )
    return rf"(?<![a-z])(?:{'|'.join(openings)}){words}(?=\s*(?:[.,;:)!]|$))"
