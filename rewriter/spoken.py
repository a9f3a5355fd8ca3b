"""Messages for those who never see a command: pieces by their names, and no options."""

from __future__ import annotations

from rewriter import regex
from rewriter.phrases import ordinal

_NAMED = regex.compile(
    r"\b(?P<piece>[a-z]+(?:-[a-z]+){0,3})/(?P<kind>shoulder|neck|cap|armhole|unknown|other)/(?P<n>\d+)\b"
)
_OPTION = regex.compile(r"\s*\(--[a-z-]+(?:[ =][\w-]+)?\)")
_KINDS = {"unknown": "shaping", "other": "shaping"}


def spoken(message: str) -> str:
    """Return a message with shapings named as a knitter would, and without options of a command.

    >>> spoken("back/shoulder/1 is not converted; left-front/shoulder/2 is")
    'the shoulder of the back is not converted; the 2nd shoulder of the left front is'
    """
    return _NAMED.sub(_in_words, _OPTION.sub("", message))


def _in_words(found: regex.Match[str]) -> str:
    piece = found["piece"].replace("-", " ")
    kind = _KINDS.get(found["kind"], found["kind"])
    number = int(found["n"])
    what = kind if number == 1 else f"{ordinal(number)} {kind}"
    return f"the {what}" if piece in ("unknown", "other") else f"the {what} of the {piece}"
