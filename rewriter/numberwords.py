"""Numbers told in words, read and written."""

from __future__ import annotations

from rewriter import regex
from rewriter.lexicon import lexicon


def read_words(text: str) -> int:
    """Return the number that words tell; raises KeyError for words that are no number."""
    hundreds, said, rest = text.strip().lower().rpartition("hundred")
    words = regex.split(r"[\s-]+", rest.strip().removeprefix("and").strip())
    small = sum(lexicon().numbers[word] for word in words if word)
    if not said:
        return small
    return 100 * lexicon().numbers.get(hundreds.strip(), 1) + small


def in_words(number: int) -> str:
    """Return a number up to 999 in words: "twenty-four", "one hundred and six"."""
    words = {n: word for word, n in lexicon().numbers.items()}
    if number >= 100:
        rest = f" and {in_words(number % 100)}" if number % 100 else ""
        return f"{words[number // 100]} hundred{rest}"
    if number in words:
        return words[number]
    return f"{words[number - number % 10]}-{words[number % 10]}"
