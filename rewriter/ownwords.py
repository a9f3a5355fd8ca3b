"""Short words that a draft explains and nobody else uses: "r = row", "cl = close".

They are matched as the word that they stand for. What a draft does not explain, or explains as two
things, stands for nothing.
"""

from __future__ import annotations

import re
from functools import lru_cache

_MEANINGS = (
    (r"rows?", "row"),
    (r"(?:stitch(?:es)?|loops?)", "sts"),
    (r"(?:to\s+)?(?:bind|cast)\s+off", "bind off"),
    (r"right\s+side(?:\s+of\s+(?:the\s+)?work)?", "rs"),
    (r"wrong\s+side(?:\s+of\s+(?:the\s+)?work)?", "ws"),
)
"""What may be explained, with the word in whose place it is matched."""
_KNOWN = frozenset({"row", "rows", "st", "sts", "lp", "lps", "rs", "ws", "bo", "co", "off"})
_ENTRY = re.compile(
    r"(?<![\w'\u2019./-])(?P<short>[A-Za-z]{1,4})\.?(?:\(s\))?\s*"
    r"(?:=|\s(?:means|stands\s+for)\s|(?<=^.)[:\u2013-](?=\s)|(?<=^..)[:\u2013-](?=\s)|(?<=^...)[:\u2013-](?=\s))\s*"
    r"(?P<long>[A-Za-z]+(?:[ ][A-Za-z]+){0,4}?)(?:\(s\))?(?=\s*(?:[.,;)\]/|]|\r?\n|$|\band\b|\bor\b))",
    re.M,
)


@lru_cache(maxsize=8)
def own_words(source: str) -> tuple[tuple[str, str], ...]:
    """Return the short words in lower case that only this draft uses, each with the word it stands for.

    >>> own_words("Explanations: r = row. RS = right side. To close sts = to bind off.")
    (('r', 'row'),)
    """
    found: dict[str, str] = {}
    doubtful = set()
    for entry in _ENTRY.finditer(source):
        short, said = entry["short"].lower(), " ".join(entry["long"].lower().split())
        word = next((word for words, word in _MEANINGS if re.fullmatch(words, said)), "")
        if short not in _KNOWN and found.setdefault(short, word) != word:
            doubtful.add(short)
    return tuple((short, word) for short, word in found.items() if word and short not in doubtful)


def spelled_out(plain: str, words: tuple[tuple[str, str], ...]) -> list[tuple[int, int, str]]:
    """Return the cuts that put the words in place of the short ones in a text in lower case.

    >>> spelled_out("close 6 sts on the next 2 r, then", (("r", "row"),))
    [(26, 27, 'row')]
    """
    meant = dict(words)
    either = "|".join(map(re.escape, meant))
    return [
        (found.start(), found.end(1), meant[found.group(1)])
        for found in re.finditer(rf"(?<![\w'-])({either})(?![\w'-])", plain)
    ]
