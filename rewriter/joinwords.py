"""Words that join shoulders, and what they join: live sts, or a bound-off edge."""

from __future__ import annotations

from rewriter import regex

_OBJECT = (
    r"(?:(?:the|both|up|one|each|first|second|right|left|back|front|and|all|sts|stitches|of|two)"
    r"[\s,]+)*shoulders?\b"
)
_NAMES_JOIN = regex.compile(
    r"\b(?:sew(?:n|ing)?|join(?:ed|ing)?|seam(?:ed|ing)?|close|weav(?:e|ing)|graft(?:ed|ing)?|stitch)"
    rf"\s+{_OBJECT}"
    r"|\b(?:three|3)[\s-]needle\b|\b3nb?o\b|\bgraft|\bkitchener\b|\bmattress\b"
)
LIVE = regex.compile(
    r"\b(?:three|3)[\s-]needle\b|\b3nb?o\b|\bgraft\w*|\bkitchener\b"
    r"|\b(?:bind|cast|binding|casting) (?:them )?off together\b"
    r"|\bknit(?:ting)? (?:them )?together\b"
)
SEWN = regex.compile(
    rf"\bsew(?:n|ing)?\b|\bmattress\b|\bback\s?stitch\b|\bover\s?sew\w*\b|\bseam(?:ed|ing)?\s+{_OBJECT}"
)


def names_join(text: str) -> bool:
    """Say whether a sentence (its view) joins shoulders."""
    return "shoulder" in text and bool(_NAMES_JOIN.search(text))
