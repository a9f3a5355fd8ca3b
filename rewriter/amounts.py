"""Numbers and lists of numbers, one entry for each size, in every notation."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import regex

from rewriter.lexicon import lexicon
from rewriter.spans import Span

_N = r"\d{1,4}(?![\d/]|[.,]\d(?!\d*[,.:)\]]))"
_WORDS = "|".join(sorted(lexicon().numbers, key=len, reverse=True))
_ITEM = rf"(?:{_N}|-|(?<![a-z])(?:{_WORDS})(?![a-z-]))"
_SEP = r"(?:\s*[,:;/-]\s*|\s+)"
_GROUP = rf"[(\[]\s*{_ITEM}(?:{_SEP}{_ITEM})*\s*[)\]]"
_LISTS = (
    # A(B)C(D)E: a size is outside or inside the brackets
    rf"{_N}(?:\({_N}\){_N})+(?:\({_N}\))?",
    # 8 (8) 9 (9) 10 sts: with blanks, where a unit shows that the list goes on to the end
    rf"{_N}(?:\s\({_N}\)\s{_N})+(?:\s\({_N}\))?(?=\s(?:sts?|stitch(?:es)?|loops?|mesh(?:es)?|rows?|times|cms?|ins?|inch|balls)\b)",
    # 8(9:9)  8 (9, 9)  8 [9-9-10]  8, (9, 9)  8 (9)(10)  - (-, 9)
    rf"{_ITEM}\s*,?\s*{_GROUP}(?:\s*{_GROUP})*",
    # (8-9-9) (10-10-11): every size in brackets
    rf"{_GROUP}(?:\s*{_GROUP})+",
    # 5-6-6 (6-7): two garments, the second in brackets
    rf"{_N}(?:-{_N})+\s?\({_N}(?:-{_N})*\)",
    # 7 8: 8: 9 sts: the brackets lost
    rf"{_N}\s{_N}(?:\s?:\s?{_N})+",
    # (A) B (C): the first size in brackets
    rf"\({_N}\)\s*{_N}(?:\s*\({_N}\)(?:\s*{_N})?)?",
    # 8-9-10 or 8/9/10, three sizes or more: two would be a range
    rf"{_N}(?:\s?-\s?{_N}){{2,}}",
    rf"{_N}(?:/{_N}){{2,}}",
)
_FRACTION = r"(?:[½¼¾⅓⅔⅛⅜⅝⅞]|\s?\d/\d|[.,]\d+|-\d/\d|\s?[½¼¾⅓⅔⅛⅜⅝⅞])"
_LENGTH = rf"\d+{_FRACTION}?"
_UNIT = r"(?:cms?|centimet(?:er|re)s?|mm|inch(?:es)?|ins?|[\"']{1,2}|ydss?|yds?|yards?|m|g|oz|%)"
_LENGTHS = (
    rf"(?:\({_LENGTH}\)\s?(?={_LENGTH}))?(?:{_LENGTH}\s?\({_LENGTH}\)\s?(?={_LENGTH}))*{_LENGTH}(?:\s*,?\s*[(\[]\s*(?:{_LENGTH}|-)(?:{_SEP}(?:{_LENGTH}|-))*\s*[)\]])*"
    rf"(?:\s?-\s?{_LENGTH})*"
)


@cache
def number_words() -> str:
    """Return the regular expression of a spelled-out number: "eight", "twenty-four"."""
    tens = "|".join(word for word, n in lexicon().numbers.items() if n >= 20)
    return rf"(?:(?<![a-z])(?:{tens})[\s-](?:{_WORDS})(?![a-z])|(?<![a-z])(?:{_WORDS})(?![a-z-]))"


@cache
def amount_pattern() -> str:
    """Return the regular expression of a count or list of counts (a single token)."""
    return "(?:" + "|".join([*_LISTS, _N, number_words()]) + ")"


def measure_pattern() -> str:
    """Return the regular expression of a length or weight with its unit, for any sizes."""
    return rf"(?:{_LENGTHS}\s?-?{_UNIT}(?![a-z]))"


def row_number_pattern() -> str:
    """Return the regular expression of numbered rows: "row 3", "rows 3-6", "1st row"."""
    tail = r"(?:\s*(?:-|,|&|and|to|through)\s*\d{1,3})*"
    # "last 2 rows 3 times": not row 3
    named = rf"(?<![a-z])(?<![\d)\]]\s{{1,4}})(?:short[\s-]+)?rows?\s+\d{{1,3}}{tail}"
    one = r"\d{1,3}(?:st|nd|rd|th)"
    ordinal = rf"{one}(?:\s*(?:-|to|and|&|,|through)\s*{one})*\s+rows?(?![a-z])"
    of_these = rf"{one}\s+of\s+(?:these|those)\s+(?:\d+\s+)?rows?(?![a-z])"
    return rf"(?:{named}|{ordinal}|{of_these})"


def ordinal_pattern() -> str:
    """Return the regular expression of an ordinal that names a size: "3rd"."""
    return r"(?:\d{1,2}(?:st|nd|rd|th)(?![a-z]))"


_TIMES_OF = r"\d{1,2}\s?x\s?\d{1,3}(?:\s*(?:sts?|stitches|loops?|mesh(?:es)?)\b)?"
_RUN = rf"{_TIMES_OF}(?:\s*(?:,\s*(?:and|then)|,|and|then|&)\s*{_TIMES_OF})*"
_RUNS = rf"[(\[]\s*{_RUN}(?:\s*[:;-]\s*{_RUN})*\s*[)\]]"


_CHAIN = r"\d{1,2}(?:-\d{1,2})+"
_IN_BRACKETS = rf"[(\[]\s*{_CHAIN}\s*[)\]]"
# 9-9-8 (10-9-9) 11-10-10: the steps of each size, for outside the brackets they go on
_CHAINS = rf"{_CHAIN}\s*{_IN_BRACKETS}\s*{_CHAIN}(?:\s*{_IN_BRACKETS}(?:\s*{_CHAIN})?)*"


def step_list_pattern() -> str:
    """Return the regular expression of steps told as a phrase a size: "2x6 and 1x7 (3x7) 2x8"."""
    return rf"(?:{_CHAINS}|(?:{_RUN}\s*{_RUNS}|{_RUNS}\s*{_RUN})(?:\s*(?:{_RUN}|{_RUNS}))*)"


def read_step_list(text: str) -> tuple[tuple[tuple[int, int], ...], ...]:
    """Return, for each size, the pairs (times, stitches) of a matched step list."""
    if "x" not in text:
        chains = regex.findall(_CHAIN, text)
        return tuple(tuple((1, int(n)) for n in chain.split("-")) for chain in chains)
    runs = regex.findall(_RUN, text)
    return tuple(
        tuple((int(t), int(n)) for t, n in regex.findall(r"(\d+)\s?x\s?(\d+)", run)) for run in runs
    )


class ListLengthError(ValueError):
    """A list has another number of entries than there are sizes."""


@dataclass(frozen=True, slots=True)
class Amount:
    """A count as written: one number for all sizes, or a list."""

    values: tuple[int | None, ...]
    """One entry for each number written; None where a dash stands for "not this size"."""
    span: Span
    text: str = ""

    def per_size(self, sizes: int) -> tuple[int, ...]:
        """Return one count for each size (a dash counts as 0).

        Raises ListLengthError when the list has neither one entry nor one for each size.
        """
        if len(self.values) == 1:
            return (self.values[0] or 0,) * sizes
        if len(self.values) != sizes:
            raise ListLengthError(
                f"{self.text!r} has {len(self.values)} entries, but there are {sizes} sizes"
            )
        return tuple(v or 0 for v in self.values)


_HAS_DIGIT = regex.compile(r"\d")


def read_amount(text: str, span: Span) -> Amount:
    """Return the counts of a matched amount (see `amount_pattern`)."""
    if not _HAS_DIGIT.search(text) and not any(c in text for c in "(["):
        return Amount((read_words(text),), span, text)
    return Amount(tuple(_entries(text)), span, text)


def read_words(text: str) -> int:
    """Return the number that words tell; raises KeyError for words that are no number."""
    return sum(lexicon().numbers[word] for word in regex.split(r"[\s-]+", text.strip().lower()))


def in_words(number: int) -> str:
    """Return a number up to 99 in words: "twenty-four"."""
    words = {n: word for word, n in lexicon().numbers.items()}
    if number in words:
        return words[number]
    return f"{words[number - number % 10]}-{words[number % 10]}"


def _entries(text: str) -> list[int | None]:
    """Read the entries in order; a hyphen is an entry only where no number could stand."""
    out: list[int | None] = []
    expecting = True
    for token in regex.findall(r"\d+|[a-z]+|[-,:;/()\[\]]", text):
        if token.isalnum():
            out.append(int(token) if token.isdigit() else lexicon().numbers[token])
            expecting = False
        elif token == "-":
            if expecting:
                out.append(None)
                expecting = False
            else:
                expecting = True
        elif token in ",:;/([":
            expecting = True
    return out
