"""Words that smooth the stairs of stepped bind-offs: the first st of each is slipped, no row is shorter."""

from __future__ import annotations

from rewriter import regex
from rewriter.spans import View

_SLIPS_FIRST = regex.compile(
    r"\b(?:slip(?:ping|ped)?|sl)\s+(?:the\s+|its\s+)?(?:first|1st)\s+(?:st|stitch)(?:\s+(?:of|in|to)\b|\s+\w+wise\b"
    r"|\s+(?:instead|rather)\b|\W*\Z)"
)
_OF_STEPS = regex.compile(r"\b(?:(?:bind|cast)(?:ing)?[\s-]*offs?|bound\s+off|bo|steps?)\b")
# the slip-stitch bind-off leaves a st at the end of the row before: other rows than those of the steps
_STOPS_SHORT = regex.compile(
    r"\b(?:unworked|last\s+(?:st|stitch)|leav(?:e|ing)|pass(?:ing)?|to\s+end|turn|row\s+before)\b"
)


def smooths_steps(view: View) -> bool:
    """Say whether a sentence tells no row, only that the first st of each bind-off is slipped."""
    text = view.text
    told = _SLIPS_FIRST.search(text) and _OF_STEPS.search(text)
    return bool(told) and _STOPS_SHORT.search(text) is None
