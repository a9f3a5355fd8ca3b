"""What headings say: the piece they open and the shaping they are about."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache

from rewriter import regex
from rewriter._resources import grammar_file
from rewriter.lexicon import lexicon, pattern_of


@dataclass(frozen=True, slots=True)
class _Headings:
    pieces: tuple[tuple[str, regex.Pattern[str]], ...]
    topics: tuple[tuple[str, regex.Pattern[str]], ...]
    words: frozenset[str]


@cache
def _headings() -> _Headings:
    data = tomllib.loads(grammar_file("headings.toml"))

    def table(name: str) -> tuple[tuple[str, regex.Pattern[str]], ...]:
        return tuple(
            (key, regex.compile(rf"\b(?:{'|'.join(pattern_of(s) for s in spellings)})\b"))
            for key, spellings in data[name].items()
        )

    return _Headings(table("pieces"), table("topics"), frozenset(data["words"]["words"]))


_SIDE_OF_NECK = re.compile(
    r"\b(?:left|right|first|second|1st|2nd|one|other|each) "
    r"(?:(?:side|half) of (?:the )?neck|neck (?:side|half))\b"
)


# "Both sizes alike": a remark behind the heading of a piece, no list of sizes.
_ALIKE = re.compile(r"\b(?:both|all|two) sizes\b")


def names_piece(text: str) -> bool:
    """Say whether words are the name of a piece and nothing else: "back", "left front"."""
    words = " ".join(text.lower().split())
    return any(pattern.fullmatch(words) for _, pattern in _headings().pieces)


def read_heading(text: str) -> tuple[tuple[str, ...], str | None]:
    """Return the topics of a heading and the piece it opens, if it opens one."""
    text = _SIDE_OF_NECK.sub(" ", text)  # it names a side, not the shaping of the neck
    text = _ALIKE.sub(" ", text)
    topics = tuple(name for name, pattern in _headings().topics if pattern.search(text))
    if topics and re.search(r"\b(?:shap|neck|slope|edge|shoulder|armhole|raglan)", text):
        # "Shape back neck" is about the neck of a piece, it does not open a back.
        return topics, None
    hits = [
        (len(found.group()), name)
        for name, pattern in _headings().pieces
        for found in pattern.finditer(text)
    ]
    return topics, max(hits)[1] if hits else None


_LEADS_ON = frozenset({"the", "and", "of", "for", "to"})
"""Words that a heading cannot end with: what they lead to stands on the next line."""


def is_heading_words(text: str) -> bool:
    """Say whether a few words are all such as headings are made of."""
    words = re.findall(r"(?<![a-z\d])[a-z']+", text.lower())  # not those of "1st shoulder"
    if regex.fullmatch(lexicon().patterns["BACK_ROW"], " ".join(words)):
        return False  # "Work back." tells a row
    if not 0 < len(words) <= 8 or words[-1] in _LEADS_ON:
        return False
    return all(w in _headings().words for w in words)
