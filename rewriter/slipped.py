"""Sloped bind-offs: a st is left at the end of one row, slipped and passed over at the beginning of the next.

They leave no stairs, and their rows are not those of plain steps: they are recognised, named and left (common
practice).
"""

from __future__ import annotations

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.passages import Passage

_OFF = r"(?:(?:bind|cast)(?:ing)?[\s-]*off|bo|co|bound\s+off)"
_NAMED = regex.compile(
    rf"\b(?:sloped|sloping|slanted|slip(?:ped)?[\s-]+st(?:itch)?)\s+(?:method|edge\s+method|{_OFF})\b"
)
_PASSES = regex.compile(r"\bpass(?:ing|ed)?\b[^.;]{0,60}\bover\b")
_LEAVES = regex.compile(
    r"\bunworked\b|\b(?:to|before)\s+(?:the\s+)?last\s+(?:1\s+)?(?:st|stitch)\b|\b(?:1|one)\s+(?:st|stitch)\s+before\b"
    r"|\b(?:1|one|1st|first)\s+(?:st\s+|stitch\s+)?bound\s+off\b"
)


def sloped_off(passage: Passage) -> Unread | None:
    """Return why a passage is left whose words tell a sloped bind-off; None where they tell none."""
    words = " ".join(s.sentence.view.text for s in passage.statements)
    passed = _PASSES.search(words) and _LEAVES.search(words)
    if _NAMED.search(words) is None and not passed:
        return None
    return Unread(
        "sloped-bind-off",
        "a sloped bind-off: a st is left at the end of a row and passed over at the beginning of the next, "
        "so it has no stairs; it is left as it is",
        passage.span,
    )
