"""Which sizes a sentence is for: "3rd and 4th sizes only", "Sizes 1-5 only"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from rewriter.sizecues import JOINT

_LETTERS = r"\d{0,2}[Xx]{0,4}[SMLXsmlx]"
_ENTRY = re.compile(
    rf"\d+\s*[-\u2013]\s*\d+|\b{_LETTERS}[-\u2013]{_LETTERS}\b|[A-Za-z0-9½]+|[-\u2013\u2014]"
)
_RUN = re.compile(r"(?i)(?:for\s+)?sizes?\s+(?P<first>[A-Za-z0-9]+)\s+to\s+(?P<last>[A-Za-z0-9]+)")
_FROM_TO = re.compile(rf"(\d+|{_LETTERS})\s*[-\u2013]\s*(\d+|{_LETTERS})")


def sizes_named(text: str, labels: Sequence[str]) -> list[int]:
    """Return the ordinals of the sizes that words name; none if in doubt.

    "Sizes XS (S, -, -) only" names two of four, "Sizes 1-5 only" the first five, "Sizes XS-L" all up to L.
    """
    own = [label.lower().split(JOINT) for label in labels]
    if run := _RUN.fullmatch(text.strip()):
        ends = [
            next((i for i, names in enumerate(own) if e.lower() in names), -1) for e in run.groups()
        ]
        if -1 not in ends:
            return list(range(ends[0] + 1, ends[1] + 2))
    words = [
        w
        for w in _ENTRY.findall(text)
        if w.lower() not in ("size", "sizes", "for", "and", "the", "to")
    ]
    known = {name: i + 1 for i, names in enumerate(own) for name in names}
    if not any(str(n + 1) in known for n in range(len(labels))):
        known |= {str(n + 1): n + 1 for n in range(len(labels))}
    dashes = [w in "-\u2013\u2014" for w in words]
    if len(words) == len(labels) and any(dashes):
        told = [i + 1 for i, dash in enumerate(dashes) if not dash]
        return told if all(words[i - 1].lower() in known for i in told) else []
    found: list[int] = []
    for word in words:
        run = _FROM_TO.fullmatch(word) if word.lower() not in known else None
        both = run.groups() if run else (word, word)
        first, last = (known.get(end.lower(), 0) for end in both)
        found += range(first, last + 1) if first and last else [0]
    return found if found and all(found) else []
