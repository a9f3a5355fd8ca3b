"""Clothes for animals, which have no shoulders that are joined, whatever their words say.

"Rover's walking-out coat, for a small dog (medium dog). ... Now shape the coat over the shoulders."
"""

from __future__ import annotations

from functools import lru_cache

from rewriter import regex

_ANIMAL = (
    r"(?:dogs?|doggies|puppy|puppies|pups?|hounds?|terriers?|spaniels?|dachshunds?|poodles?|whippets?"
    r"|greyhounds?|pugs?|corgis?|collies?|cats?|kittens?|pets?|pony|ponies)"
)
_FOR_ANIMALS = regex.compile(
    r"(?i)\b(?:for|to\s+fit|fits|measure)\s+(?:(?:an?|the|your|any|most|all|small|medium|large|big|little|young|old|toy"
    rf"|sturdy|miniature|and|or|to)[\s,]+)*{_ANIMAL}\b"
    rf"|\b{_ANIMAL}(?:'?s|s')?\s+(?:coat|sweater|jacket|jumper|pullover|cardigan|blanket|shoulders?|neck|chest|back|tail)\b"
    rf"|\b(?:small|medium|large|toy)\s+{_ANIMAL}\b"
    rf"|\b(?:coat|sweater|jacket|jumper|pullover)\s+for\s+[^.]{{0,40}}\b{_ANIMAL}\b"
    rf"|\bshoulders?\s+of\s+(?:the|your)\s+{_ANIMAL}\b"
)
_TITLE = 800
"""Characters within which a text says what it is for; its pieces have the names of a garment's."""


@lru_cache(maxsize=4)
def for_animals(source: str) -> bool:
    """Say whether the opening words of a draft make it one for an animal."""
    return _FOR_ANIMALS.search(source, 0, _TITLE) is not None
