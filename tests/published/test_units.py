"""Centimetres and inches in the project's own sample drafts, against pint (an inch is 2.54 cm).

The tool converts no lengths, so only the drafts are checked: where a length is given in both units
the two must be the same length, rounded as patterns round (common practice: whole or half
centimetres, quarter inches). The factor is pint's; the rounding allowed is ours.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pint
import pytest
import regex

from rewriter.source import read_source

CORPUS = Path(__file__).parents[2] / "corpus_synthetic"
DRAFTS = sorted(p for p in CORPUS.glob("*/*") if p.suffix in {".md", ".txt"})

HALF_A_CENTIMETRE = 0.5

_NUMBER = r"(?:\d+(?:\.\d+|\s?[½¼¾⅛⅜⅝⅞])?|[½¼¾])"
_MORE = rf"(?:\s?[(\[]{_NUMBER}(?:\s?[,:;-]\s?{_NUMBER})*[)\]])?"
_CM = rf"(?P<cm>{_NUMBER}{_MORE})\s?(?:cm(?![a-z])\.?|centimetres)"
_INCH = rf"(?P<inch>{_NUMBER}{_MORE})\s?(?:in(?![a-z])\.?|inch(?:es)?|[\"″])"
_BETWEEN = r"\s?[/(\[]\s?"
PAIRS = (regex.compile(_CM + _BETWEEN + _INCH), regex.compile(_INCH + _BETWEEN + _CM))


@cache
def registry() -> pint.UnitRegistry[float]:
    """Return pint's units, built once."""
    return pint.UnitRegistry()


def lengths(text: str) -> list[float]:
    """Return the lengths of a list for several sizes."""
    out: list[float] = []
    for found in regex.finditer(_NUMBER, text):
        whole = found.group().rstrip("½¼¾⅛⅜⅝⅞").strip()
        fraction = found.group()[-1]
        part = 0.0 if fraction.isdecimal() else unicodedata.numeric(fraction)
        out.append(float(whole or 0) + part)
    return out


def pairs(text: str) -> Iterator[tuple[str, list[float], list[float]]]:
    """Return (words, centimetres, inches) of every length given in both units."""
    for pattern in PAIRS:
        for found in pattern.finditer(text):
            if _NEEDLE.match(text, found.end()):
                continue  # circular needles are sold by round lengths, 16 in as 40 cm (common practice)
            yield found.group(), lengths(found["cm"]), lengths(found["inch"])


_NEEDLE = re.compile(r"\s*\)?\s*(?:long\s+)?(?:US\s+\d+\s+)?(?:circular|needle|cable)")


def disagreeing(text: str) -> list[str]:
    """Return the words of the pairs whose two lengths are not the same length, rounded."""
    units = registry()
    wrong: list[str] = []
    for words, centimetres, inches in pairs(text):
        converted = [units.Quantity(n, "inch").to("centimetre").magnitude for n in inches]
        if len(converted) != len(centimetres) or any(
            abs(a - b) > HALF_A_CENTIMETRE for a, b in zip(converted, centimetres, strict=True)
        ):
            wrong.append(words)
    return wrong


def text_of(draft: Path) -> str:
    """Return the text of a draft, in whatever encoding it is kept."""
    return read_source(draft.read_bytes(), draft.name).text


def test_a_wrong_pair_is_seen() -> None:
    """The check itself: a pair, lists, fractions, and a length of another size."""
    assert disagreeing("8 in / 20.5 cm, 9 (9½, 10) in (23 (24, 25.5) cm), 5 cm / 2 in") == []
    assert disagreeing("8 in / 21 cm") == ["8 in / 21 cm"]
    assert disagreeing("7¼ (7½) in / 18.5 (20) cm") == ["7¼ (7½) in / 18.5 (20) cm"]
    assert disagreeing("9 (9½, 10) in / 23 (24) cm") == ["9 (9½, 10) in / 23 (24) cm"]


def test_the_drafts_give_both_units_often() -> None:
    """So that the check below is about something."""
    found = [pair for draft in DRAFTS for pair in pairs(text_of(draft))]
    assert len(found) > 40


@pytest.mark.parametrize("folder", sorted({path.parent.name for path in DRAFTS}))
def test_both_units_of_a_draft_agree(folder: str) -> None:
    """No length differs by more than half a centimetre between its two units."""
    drafts = [path for path in DRAFTS if path.parent.name == folder]
    assert {p.name: words for p in drafts if (words := disagreeing(text_of(p)))} == {}
