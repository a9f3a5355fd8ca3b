"""How a draft prints the sts left at the end of a row: ". 52 sts.", " - 52", ". [52 sts]"."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from rewriter import regex


@dataclass(frozen=True)
class CountForm:
    """What stands around a count of the sts left."""

    joint: str = ". "
    unit: bool = True
    """The count has its unit."""
    tail: str = ""
    """Words after the unit: " rem"."""
    close: str = "."

    def write(self, row: str, count: str, unit: str) -> str:
        """Return a row (without full stop) with the sts left after it."""
        told = f"{count} {unit}" if self.unit else count
        return f"{row}{self.joint}{told}{self.tail}{self.close}"


_FORM = regex.compile(
    r"(?i)\b(?P<word>end|row|rows|edge|across|time|sts?)(?P<joint>\s?[-\u2013\u2014]\s?|\.?\s+[(\[]|[.:]\s+)"
    r"(?P<count>\d[\d\s,:;/()\[\]\u2013-]*?)(?P<unit>\s*(?:sts?|stitches|loops)\b\.?)?"
    r"(?P<tail>\s+(?:rem(?:ain|aining)?|left|on needle)\b)?(?P<close>[)\]]?\.?)\s*$"
)


def measure_counts(rows: Iterable[str]) -> CountForm:
    """Return the form of the first row, of those given in order, that ends with a count."""
    return next((form for row in rows if (form := _form_of(row))), CountForm())


@lru_cache(maxsize=4096)
def _form_of(row: str) -> CountForm | None:
    found = _FORM.search(row)
    if found is None or not found.group("count").strip():
        return None
    if not found["unit"] and (
        found["joint"][0] == ":" or (found["joint"][0] == "." and found["word"].lower()[:2] == "st")
    ):
        return None  # "m.st. 10": ten sts to work, not ten that are left
    joint = " ".join(found.group("joint").split(" "))
    close = found.group("close")
    if close.startswith((")", "]")) and joint[-1] not in "([":
        return None  # the bracket is that of a list
    tail = found.group("tail") or ""
    return CountForm(
        regex.sub(r"\s+", " ", joint),
        found.group("unit") is not None,
        regex.sub(r"\s+", " ", tail),
        close if close[:1] in (")", "]") else ".",
    )
