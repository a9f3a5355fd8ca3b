"""What a reader asks for: turning method, join, kinds, spelling, answers."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Turn = Literal["wrap", "german", "japanese", "yarn-over", "shadow"]
Shoulders = Literal["sewn", "three-needle", "graft", "held"]
Spelling = Literal["draft", "full"]
To = Literal["short-rows", "steps"]
Changes = Literal["tracked", "applied"]

TURNS: tuple[Turn, ...] = ("wrap", "german", "japanese", "yarn-over", "shadow")
TARGETS: tuple[To, ...] = ("short-rows", "steps")
JOINS: tuple[Shoulders, ...] = ("sewn", "three-needle", "graft", "held")
CHANGES: tuple[Changes, ...] = ("tracked", "applied")
"""How a document shows what is new: to be accepted or refused, or made in earnest."""
KINDS = ("shoulder", "neck", "cap", "armhole")
"""Kinds of passage that can be converted."""


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer to a question about one passage, which is found by its words."""

    ask: str
    """Kind of question, a key of `asks.ASKS`."""
    choice: str
    passage: str
    """The words of the passage."""
    piece: str
    about: str = ""
    """The words in question, where they are not the whole passage."""
    occurrence: int = 1
    """Which one it is of the passages with the same words in the same piece."""
    place: str = ""
    """Where the answer was given, for a message."""


@dataclass(frozen=True, slots=True)
class Options:
    """Options of a rewrite; the defaults change least."""

    to: To = "short-rows"
    """What the shoulders are turned into: short rows, or back into steps."""
    turn: Turn = "german"
    shoulders: Shoulders = "sewn"
    kinds: tuple[str, ...] = ("shoulder",)
    spelling: Spelling = "draft"
    markers: bool = True
    respace: bool = False
    """Spread the sts of each shoulder evenly over the rows there are."""
    exact_live: bool = False
    """Keep live shoulders of a two-edged piece at the draft's own rows, at the price of a cut yarn."""
    assume: dict[str, str] = field(default_factory=dict)
    """Answers to questions, by name: first-side=RS, kind=shoulder, or back/shoulder/1:first-side=WS."""
    answers: tuple[Answer, ...] = ()
    """Answers to questions about passages that are found by their words."""

    def __post_init__(self) -> None:
        """Raise ValueError where options do not go together."""
        if self.to == "steps" and (self.shoulders != "sewn" or self.exact_live or self.respace):
            raise ValueError("shoulders in steps are bound off and sewn, in the rows they have")
        if self.exact_live and self.shoulders == "sewn":
            raise ValueError(
                "exact_live is for shoulders kept live: choose three-needle, graft or held for shoulders"
            )

    def answer(self, passage: str, name: str) -> str | None:
        """Return the answer given for a passage, or for all of them."""
        return self.assume.get(f"{passage}:{name}", self.assume.get(name))
