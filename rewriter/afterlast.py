"""Words right behind the last step that no longer hold: of the steps, or of what becomes of their sts."""

from __future__ import annotations

from rewriter import regex

_USED_UP = regex.compile(
    r"(?i)\s*(?:(?:with\s+(?:this|that|the\s+last[^.,]{0,40})|herewith|thus|now|then),?\s+)?(?:all\s+(?:the\s+)?|the\s+)"
    r"(?:sts|stitches|loops)(?:\s+of\s+each\s+side)?\s+(?:are|have\s+been)\s+(?:now\s+)?(?:all\s+)?"
    r"(?:used\s+up|bound\s+off|cast\s+off|gone)\."
)
_FASTENS_OFF = regex.compile(r"(?i)\s*(?:then\s+)?fasten\s+off[^.;\n]{0,30}\.")


FIRST_STEP = (
    r"(?:the\s+)?(?:first\s+(?:(?:bind(?:ing)?|cast(?:ing)?)[\s-]off|step)"
    r"(?:\s+(?:of|at)\s+the\s+[a-z -]{0,20}edge)?"
    r"|first\s+\d[\d\s(),:;/\[\]-]*(?:sts?|stitches)\s+(?:are|is)\s+(?:bound|cast)\s+off)\s+"
    r"(?:(?:is|are|falls|comes|stands)\s+)?"
    r"(?:(?:bound\s+off|cast\s+off|made|worked|done)\s+)?(?:in|on)\s+the\s+(?:very\s+)?(?:next|following)"
    r"\s+(?:(?:rs|ws|right-side|wrong-side|right\s+side|wrong\s+side)\s+)?row"
)
"""What says on which row the first step stands: "The first bind-off is in the next row"."""
_FIRST_STEP = regex.compile(rf"(?i)\s*{FIRST_STEP}\.")


def end_of_stale(source: str, at: int, live: bool) -> int:
    """Return where words behind the last step end that no longer hold: where its first row was, and where
    the shoulders stay live also that their sts are gone or fastened off.

    That is the place itself where there are none.
    """
    for words in (_FIRST_STEP, _USED_UP, _FASTENS_OFF) if live else (_FIRST_STEP,):
        found = words.match(source, at)
        at = found.end() if found is not None else at
    return at
