"""The sts that remain as the last thing bound off: "8 sts twice, and then the 7 sts that remain".

"8 sts twice; 28 sts remain" tells a count, and so does "and the 28 sts that remain are left on a
holder"; where "the" sts end a list of bind-offs joined by "and" or "then", they are bound off too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.parsing import Part
from rewriter.slots import VERBS

_THE = regex.compile(r"(?i)\bthe\s+\Z")
_BEHIND = frozenset({"filler", "once", "stop"})


def name_rest_bound(parts: Sequence[Part], source: str) -> Sequence[Part]:
    """Return the parts of a sentence, such sts told as what is left to bind off."""
    at = next((i for i, p in enumerate(parts) if p.kind == "left_count"), None)
    if at is None or not _THE.search(source, parts[at].span.start - 6, parts[at].span.start):
        return parts
    if any(p.kind not in _BEHIND for p in parts[at + 1 :]):
        return parts
    before = [p for p in parts[:at] if p.kind != "filler"]
    verbs = [p.kind for p in before if p.kind in VERBS]
    if not before or before[-1].concept != "link" or verbs[-1:] != ["bind_off"]:
        return parts
    return [*parts[:at], replace(parts[at], kind="rem_count"), *parts[at + 1 :]]
