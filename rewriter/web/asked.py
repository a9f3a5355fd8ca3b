"""Questions as the page asks them, and the answers that come back with the next request.

An answer holds the words of its passage, so that it is never taken for another draft's.
"""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import BaseModel, ConfigDict, ValidationError

from rewriter.report import PassageReport, Report
from rewriter.spans import SourceText

_ANSWER = "; answer kind=shoulder or kind=other"
_KINDS = {
    "shoulder": "these steps shape a shoulder",
    "other": "they shape something else and stay as they are",
}
_SIDES = {
    "RS": "the first bind-off row is a right-side row",
    "WS": "it is a wrong-side row",
}
_SIDE_ASKED = (
    "On which side is the first bind-off row? The pattern does not say; without an answer the new words "
    "are true either way."
)


class Given(BaseModel):
    """An answer, with the question it was given to."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    passage: str
    ask: str
    choice: str
    words: str
    question: str
    means: str

    def answers(self, asked: Asked) -> bool:
        """Say whether it is an answer to a question."""
        return (self.passage, self.ask, self.words) == (asked.passage, asked.ask, asked.words)


@dataclass(frozen=True)
class Asked:
    """A question about a passage."""

    passage: str
    ask: str
    """Name of its answer; "" where the draft itself must be changed."""
    question: str
    choices: dict[str, str]
    span: tuple[int, int]
    words: str
    """The words of the passage."""
    optional: bool = False

    def given(self, choice: str) -> Given:
        """Return the answer that a choice would be."""
        return Given(
            passage=self.passage,
            ask=self.ask,
            choice=choice,
            words=self.words,
            question=self.question,
            means=self.choices[choice],
        )


def given_from(values: list[str]) -> list[Given]:
    """Return the answers that a form holds; what is none is passed over."""
    out: list[Given] = []
    for value in values:
        try:
            out.append(Given.model_validate_json(value))
        except ValidationError:
            continue
    return out


def asked_of(report: Report, source: SourceText) -> list[Asked]:
    """Return the questions of a report: those that must be answered first."""
    out: list[Asked] = []
    for passage in report.passages:
        words = _words(passage, source)
        if passage.status == "question":
            reason = passage.reason or ""
            kind = reason.endswith(_ANSWER)
            out.append(
                Asked(
                    passage.id,
                    "kind" if kind else "",
                    reason.removesuffix(_ANSWER),
                    _KINDS if kind else {},
                    passage.span,
                    words,
                )
            )
        elif passage.status == "rewritten" and any(
            e.first_bind_off_side is None for e in passage.edges
        ):
            out.append(
                Asked(passage.id, "first-side", _SIDE_ASKED, _SIDES, passage.span, words, True)
            )
    return sorted(out, key=lambda a: a.optional)


def assumed(report: Report, source: SourceText, given: list[Given]) -> dict[str, str]:
    """Return the answers whose passage has the words that they were given for."""
    words = {p.id: _words(p, source) for p in report.passages}
    return {f"{g.passage}:{g.ask}": g.choice for g in given if words.get(g.passage) == g.words}


def _words(passage: PassageReport, source: SourceText) -> str:
    return " ".join(source.text[slice(*passage.span)].split())
