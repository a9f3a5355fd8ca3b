"""What is said of several sizes at once: like words with each size's own figures, as patterns give them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rewriter import regex

_NUMBER = regex.compile(r"\d+")


def by_sizes(messages: Mapping[int, str]) -> list[tuple[str, list[int]]]:
    """Return messages with the sizes they are for; those that differ by figures alone become one.

    >>> by_sizes({0: "7 sts, not 5", 1: "8 sts, not 5", 2: "1 st is left"})
    [('7 (8) sts, not 5', [0, 1]), ('1 st is left', [2])]
    """
    groups: dict[str, list[int]] = {}
    for size in sorted(messages):
        groups.setdefault(_NUMBER.sub("#", messages[size]), []).append(size)
    return [(_told([messages[s] for s in sizes]), sizes) for sizes in groups.values()]


def _told(messages: Sequence[str]) -> str:
    """Return messages of like words as one, a list in brackets where their figures differ."""
    figures = zip(*(_NUMBER.findall(m) for m in messages), strict=True)
    lists = iter([_listed(own) for own in figures])
    return _NUMBER.sub(lambda _: next(lists), messages[0])


def _listed(figures: Sequence[str]) -> str:
    if len(set(figures)) == 1:
        return figures[0]
    return f"{figures[0]} ({', '.join(figures[1:])})"
