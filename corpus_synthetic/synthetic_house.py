"""The house styles (houses.toml) and how a house writes numbers, lists and sentences."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

MARK = "\ue000"  # stands where a passage's first bind-off clause begins, until the text is done
NUMBER_WORDS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve",
)  # fmt: skip
QUARTERS = ("", "¼", "½", "¾")


@dataclass(frozen=True)
class House:
    """One house style."""

    name: str
    maker: str
    terms: str
    extension: str
    newline: str
    wrap: int
    case: str
    brackets: tuple[str, str, str]
    group: int
    same: str
    zero: str
    number_words: bool
    sizes: str
    length: str
    shaping: str
    counts: str
    dense: bool
    rows: tuple[str, str]
    abbreviation: tuple[str, str]
    format: dict[str, str]
    clauses: tuple[tuple[str, str, str], ...]
    words: dict[str, str]
    headings: dict[str, str]
    phrases: dict[str, list[str]]

    def listing(self, values: list[str]) -> str:
        """Write one value per size in the notation of the house."""
        opening, separator, closing = self.brackets
        if len(values) == 1:
            return values[0]
        rest = values[1:]
        size = self.group or len(rest)
        groups = [rest[i : i + size] for i in range(0, len(rest), size)]
        return values[0] + "".join(opening + separator.join(g) + closing for g in groups)

    def number(self, values: tuple[int, ...]) -> str:
        """Write a count that may differ from size to size."""
        if len(set(values)) == 1 and self.same != "list":
            return str(values[0])
        return self.listing([str(v) if v else self.zero for v in values])

    def rows_number(self, values: tuple[int, ...]) -> str:
        """Write a count of rows: one number if it is one, perhaps in words."""
        if len(set(values)) > 1:
            return self.number(values)
        if self.number_words and values[0] < len(NUMBER_WORDS):
            return NUMBER_WORDS[values[0]]
        return str(values[0])

    def times(self, values: tuple[int, ...]) -> str:
        """Write how many times."""
        if len(set(values)) > 1:
            return f"{self.number(values)} times"
        if values[0] in (1, 2):
            return ("once", "twice")[values[0] - 1]
        return f"{self.rows_number(values)} times"

    def measure(self, centimetres: tuple[float, ...]) -> str:
        """Write a length in the units of the house."""
        fields = {
            "cm": self._all([f"{c:g}" for c in centimetres]),
            "in": self._all([_inches(c) for c in centimetres]),
        }
        return self.length.format_map(fields)

    def _all(self, values: list[str]) -> str:
        return values[0] if len(set(values)) == 1 and self.same != "list" else self.listing(values)

    def cap(self, text: str) -> str:
        """Begin a sentence."""
        if self.case == "lower":
            return text
        at = len(text) - len(text.lstrip(MARK + "*"))
        return text[:at] + text[at : at + 1].upper() + text[at + 1 :]

    def label(self, number: int, side: str | None) -> str:
        """Write the label of a row; its side only if it is given."""
        template = self.rows[0] if number == 1 else self.rows[1]
        if side is None:
            template = re.sub(r" [(\[]\{side\}[)\]]", "", template)
        side_word = self.words[side] if side else ""
        return template.format(n=number, nth=_ordinal(number), side=side_word)


def _ordinal(number: int) -> str:
    suffix = {1: "st", 2: "nd", 3: "rd"}.get(number if number < 20 else number % 10, "th")
    return f"{number}{suffix}"


def _inches(centimetres: float) -> str:
    quarters = round(centimetres / 2.54 * 4)
    return f"{quarters // 4}{QUARTERS[quarters % 4]}"


@lru_cache(maxsize=1)
def houses() -> tuple[House, ...]:
    """Read all houses, in the order of the file."""
    data = tomllib.loads((Path(__file__).parent / "houses.toml").read_text(encoding="utf-8"))
    result = []
    for entry in data["house"]:
        base = data[entry["terms"]]
        words = {**base["words"], **entry.get("words", {})}
        headings = {**base["headings"], **entry.get("headings", {})}
        phrases = {**base["phrases"], **entry.get("phrases", {})}
        plain = {k: v for k, v in entry.items() if k not in ("list", "clauses", "rows")}
        plain |= {"words": words, "headings": headings, "phrases": phrases}
        plain["abbreviation"] = tuple(entry["abbreviation"])
        result.append(
            House(
                brackets=tuple(entry["list"]),
                clauses=tuple(tuple(c) for c in entry["clauses"]),
                rows=tuple(entry["rows"]),
                dense=plain.pop("dense", False),
                **plain,
            )
        )
    return tuple(result)
