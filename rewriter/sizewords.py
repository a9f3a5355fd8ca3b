"""Which sizes a sentence is for: "3rd and 4th sizes only", "Sizes 1-5 only"."""

from __future__ import annotations

import re
from collections.abc import Sequence

_ENTRY = re.compile(r"\d+\s*[-\u2013]\s*\d+|[A-Za-z0-9½]+|[-\u2013\u2014]")
_RUN = re.compile(r"(?i)(?:for\s+)?sizes?\s+(?P<first>[A-Za-z0-9]+)\s+to\s+(?P<last>[A-Za-z0-9]+)")
_FROM_TO = re.compile(r"(\d+)\s*[-\u2013]\s*(\d+)")


def sizes_named(text: str, labels: Sequence[str]) -> list[int]:
    """Return the ordinals of the sizes that words name; none if in doubt.

    "Sizes XS (S, -, -) only" names two of four, "Sizes 1-5 only" the first five.
    """
    if run := _RUN.fullmatch(text.strip()):
        named = [label.lower() for label in labels]
        first, last = run["first"].lower(), run["last"].lower()
        if first in named and last in named:
            return list(range(named.index(first) + 1, named.index(last) + 2))
    words = [
        w
        for w in _ENTRY.findall(text)
        if w.lower() not in ("size", "sizes", "for", "and", "the", "to")
    ]
    if len(words) == len(labels) and any(w in "-\u2013\u2014" for w in words):
        return [i + 1 for i, w in enumerate(words) if w not in "-\u2013\u2014"]
    known = {label.lower(): i + 1 for i, label in enumerate(labels)}
    if not any(str(n + 1) in known for n in range(len(labels))):
        known |= {str(n + 1): n + 1 for n in range(len(labels))}
    found: list[int] = []
    for word in words:
        run = _FROM_TO.fullmatch(word)
        ends = run.groups() if run and word not in known else (word, word)
        first, last = (known.get(end.lower(), 0) for end in ends)
        found += range(first, last + 1) if first and last else [0]
    return found if found and all(found) else []
