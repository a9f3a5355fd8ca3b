"""Lists of sizes with a unit behind each number, "26 sts (27 sts)": matched with the unit at the end."""

from __future__ import annotations

from rewriter import regex

_LIST = regex.compile(
    # not "6 sts, 7 sts, 7 sts (7 sts, 7 sts, 8 sts)", which are steps
    r"(?<![\w.,/-])(?<!\b(?:sts?|stitches|rows),?\s)(?<!\band\s)"
    r"(?P<first>\d{1,3})\s(?P<unit>sts?|stitches|rows)\s?"
    r"(?P<open>[(\[])\s?(?P<more>\d{1,3}\s(?P=unit)(?:\s?[,:;-]\s?\d{1,3}\s(?P=unit))*)\s?(?P<close>[)\]])"
)
_UNIT = regex.compile(r"\s(?:sts?|stitches|rows)(?![a-z])")


def units_at_end(plain: str) -> list[tuple[int, int, str]]:
    """Return the cuts that leave such lists in a text in lower case one unit, behind them.

    >>> units_at_end("neck: 26 sts (27 sts).")
    [(8, 12, ''), (16, 20, ''), (21, 21, ' sts')]
    """
    cuts = []
    for found in _LIST.finditer(plain):
        unit = found["unit"]
        cuts.append((found.end("first"), found.end("unit"), ""))
        base = found.start("more")
        cuts += [
            (base + inner.start(), base + inner.end(), "")
            for inner in _UNIT.finditer(found["more"])
        ]
        cuts.append((found.end(), found.end(), f" {unit}"))
    return cuts
