"""Answers as they come from the page: each with the question it was given to.

An answer holds the words of its passage, so that it is never taken for another draft's.
"""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, ValidationError

from rewriter.options import Answer
from rewriter.report import Question, UnusedAnswer

PLACE = "Your answer"
"""How the place of an answer is called in a message."""


class Given(BaseModel):
    """An answer, with its question."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    ask: str
    choice: str
    words: str
    """The words of the passage."""
    piece: str
    about: str
    occurrence: int
    question: str
    means: str
    """The choice in words; "" for a free answer."""

    @property
    def answer(self) -> Answer:
        """The answer as an option of a rewriting."""
        return Answer(
            self.ask, self.choice, self.words, self.piece, self.about, self.occurrence, PLACE
        )

    def answers(self, question: Question) -> bool:
        """Say whether it is an answer to a question."""
        return self == given_to(question, self.choice)

    def is_unused(self, unused: UnusedAnswer) -> bool:
        """Say whether its passage was not found."""
        return (self.ask, self.choice, self.words) == (unused.ask, unused.answer, unused.passage)


def given_to(question: Question, choice: str) -> Given:
    """Return the answer that a choice would be, or with no choice a free answer yet to be filled in."""
    return Given(
        ask=question.ask,
        choice=choice,
        words=question.words,
        piece=question.piece,
        about=question.about,
        occurrence=question.occurrence,
        question=question.question,
        means=question.choices.get(choice, ""),
    )


def given_from(values: list[tuple[str, str]]) -> list[Given]:
    """Return the answers that a form's fields hold; what is none is passed over.

    `answer.N` is an answer; a free one has its words in `free.N`.
    """
    free = {n.removeprefix("free."): v.strip() for n, v in values if n.startswith("free.")}
    out: list[Given] = []
    for name, value in values:
        kind, _, number = name.partition(".")
        if kind != "answer":
            continue
        try:
            given = Given.model_validate_json(value)
        except ValidationError:
            continue
        given = given.model_copy(update={"choice": given.choice or free.get(number, "")})
        out += [given] if given.choice else []
    return out
