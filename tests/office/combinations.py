"""Combinations of the options of a rewriting: each pair of values of two options stands in one of them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product

from rewriter.options import JOINS, TURNS, Options

Combination = dict[str, str]

AXES: dict[str, tuple[str, ...]] = {
    "turn": TURNS,
    "shoulders": JOINS,
    "kinds": ("shoulder", "shoulder,neck", "shoulder,neck,cap,armhole"),
    "rows": ("own", "respace", "exact-live", "respace exact-live"),
    "spelling": ("draft", "full"),
    "markers": ("yes", "no"),
}
TO_STEPS: dict[str, tuple[str, ...]] = {
    "turn": TURNS,
    "shoulders": ("sewn", "three-needle"),
    "spelling": ("draft", "full"),
    "markers": ("yes", "no"),
}
"""How the short rows were written that are turned back into steps."""


def pairwise(axes: dict[str, tuple[str, ...]]) -> list[Combination]:
    """Return few combinations that hold every pair of values that go together.

    >>> len(pairwise({"a": ("1", "2"), "b": ("3", "4"), "c": ("5", "6")}))
    4
    """
    every = [c for c in _every(axes) if goes_together(c)]
    wanted = {pair for one in every for pair in _pairs(one)}
    out: list[Combination] = []
    while wanted:
        best = max(every, key=lambda one: len(wanted & _pairs(one)))
        wanted -= _pairs(best)
        out.append(best)
    return out


def _every(axes: dict[str, tuple[str, ...]]) -> Iterator[Combination]:
    for values in product(*axes.values()):
        yield dict(zip(axes, values, strict=True))


def _pairs(one: Combination) -> set[frozenset[tuple[str, str]]]:
    return {frozenset(pair) for pair in combinations(one.items(), 2)}


def goes_together(one: Combination) -> bool:
    """Say whether the program takes the options of a combination together."""
    try:
        Options(
            shoulders=one["shoulders"],  # type: ignore[arg-type]
            exact_live="exact-live" in one.get("rows", ""),
        )
    except ValueError:
        return False
    return True


def arguments(one: Combination) -> list[str]:
    """Return a combination as it is given to the command."""
    out = [f"--{name}={one[name]}" for name in ("turn", "shoulders", "spelling")]
    out += [f"--kinds={one['kinds']}"] if "kinds" in one else []
    out += [f"--{word}" for word in one.get("rows", "own").split() if word != "own"]
    return out + ["--no-markers"] * (one["markers"] == "no")
