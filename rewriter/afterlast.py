"""Words right behind the last step that no longer hold where the shoulders stay live."""

from __future__ import annotations

from rewriter import regex

_USED_UP = regex.compile(
    r"(?i)\s*(?:(?:with\s+(?:this|that|the\s+last[^.,]{0,40})|herewith|thus|now|then),?\s+)?(?:all\s+(?:the\s+)?|the\s+)"
    r"(?:sts|stitches|loops)(?:\s+of\s+each\s+side)?\s+(?:are|have\s+been)\s+(?:now\s+)?(?:all\s+)?"
    r"(?:used\s+up|bound\s+off|cast\s+off|gone)\."
)
_FASTENS_OFF = regex.compile(r"(?i)\s*(?:then\s+)?fasten\s+off[^.;\n]{0,30}\.")


def end_of_stale(source: str, at: int) -> int:
    """Return where words behind the last step end that say that its sts are gone or fastened off.

    That is the place itself where there are none.
    """
    for words in (_USED_UP, _FASTENS_OFF):
        found = words.match(source, at)
        at = found.end() if found is not None else at
    return at
