"""Words so short that they have two meanings: "c.o." is cast off where casting on is written apart."""

from __future__ import annotations

from functools import lru_cache

from rewriter import regex
from rewriter.frames import Statement
from rewriter.lexicon import lexicon
from rewriter.parsing import Part

_SHORT = "short"
"""The concept of BIND_OFF whose spellings can also mean to cast on."""


@lru_cache(maxsize=8)
def casts_on_apart(text: str) -> bool:
    """Say whether a draft casts on so many sts in words that are not the short ones.

    >>> casts_on_apart("C.on 90 sts. C.o. 6 at beg of next 2 rows."), casts_on_apart("C.o. 90 sts.")
    (True, False)
    """
    words = lexicon().patterns["CAST_ON"]
    return regex.search(rf"{words}\s*[\d(\[]", text.lower()) is not None


def doubt_short_words(statement: Statement) -> None:
    """Leave the short words for casting off as not understood, where they may tell of casting on."""
    if casts_on_apart(statement.sentence.source):
        return
    for frame in statement.frames:
        if frame.verb == "bind_off" and frame.concept == _SHORT and not frame.inherited:
            frame.residue.append(Part("residue", frame.span))
