"""Answers to questions: which passage each is for, by its words, and what is done with it there."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace
from typing import TypeVar

from rewriter.asks import ASKS, Decision, normal_words, parsed_counts
from rewriter.harmless import without_harmless
from rewriter.options import Answer, Options
from rewriter.passages import Passage
from rewriter.rows import Side
from rewriter.sizes import Sizes
from rewriter.spans import Span

AnyPassage = TypeVar("AnyPassage", bound=Passage)


class WrongAnswer(ValueError):
    """An answer that cannot be taken; the message names its place and what is wrong."""


@dataclass(frozen=True, slots=True)
class PassageKey:
    """By what an answer finds its passage again in a revision of the draft."""

    words: str
    """Its own words, normalised."""
    piece: str
    occurrence: int = 1
    """Which one it is of those with the same words in the same piece."""
    text: str = field(default="", compare=False)
    """Its words as written, before any of them were called harmless and dropped."""


@dataclass(frozen=True)
class Given:
    """The answers to what is asked of one passage."""

    kind: str | None = None
    side: Side | None = None
    decisions: tuple[Decision, ...] = ()
    stitches: tuple[int, ...] | None = None
    """Sts on the needle before it: one number, or one for each size."""

    @property
    def reads_anew(self) -> bool:
        """Whether they change how its words are read."""
        return bool(self.decisions or self.stitches)

    def applied(self, passage: AnyPassage, sizes: Sizes) -> AnyPassage:
        """Return a passage with what was decided about it."""
        if not self.reads_anew:
            return passage
        counted = self.stitches
        if counted is not None and len(counted) == 1:
            counted *= len(sizes)
        read, dropped = without_harmless(
            passage.statements, self.decisions, sizes, bool(passage.lead)
        )
        return replace(
            passage,
            statements=read,
            decisions=self.decisions,
            counted=counted,
            dropped=dropped,
        )


@dataclass
class AnswerBook:
    """The answers a reader gave, and which of them found their passage."""

    options: Options
    sizes: int
    used: set[Answer] = field(default_factory=set)
    overruled: list[tuple[str, Span]] = field(default_factory=list)
    """What is said of answers that the draft itself contradicts, with the passage."""
    _seen: Counter[tuple[str, str]] = field(default_factory=Counter)

    def key(self, passage: Passage) -> PassageKey:
        """Return the key of a passage; each is to be asked for once, in the order of the text."""
        text = passage.span.of(passage.sentence.source)
        words = normal_words(text)
        self._seen[words, passage.piece] += 1
        return PassageKey(
            words, passage.piece, self._seen[words, passage.piece], " ".join(text.split())
        )

    def given(self, key: PassageKey, name: str = "") -> Given:
        """Return the answers for a passage, by its words, or by its id where `name` gives it."""
        chosen: dict[str, str] = {}
        decisions: list[Decision] = []
        stitches: tuple[int, ...] | None = None
        for answer in self.options.answers:
            if not self._is_for(answer, key):
                continue
            self.used.add(answer)
            if answer.ask == "stitches":
                stitches = self._counts(answer)
            elif answer.ask in ("kind", "first-side"):
                chosen[answer.ask] = answer.choice
            else:
                decisions.append(Decision(answer.ask, answer.choice, normal_words(answer.about)))
        for ask in ASKS if name else ():
            assumed = self.options.answer(name, ask)
            if assumed is None or ask in chosen:
                continue
            if ask == "stitches":
                stitches = stitches or self._counts(Answer(ask, assumed, "", "", place="--assume"))
            elif ask in ("kind", "first-side"):
                chosen[ask] = assumed
            else:
                decisions.append(Decision(ask, assumed))
        side = chosen.get("first-side")
        return Given(
            chosen.get("kind"),
            "RS" if side == "RS" else "WS" if side == "WS" else None,
            tuple(decisions),
            stitches,
        )

    def _is_for(self, answer: Answer, key: PassageKey) -> bool:
        if normal_words(answer.passage) != key.words:
            return False
        if answer.piece == key.piece:
            return answer.occurrence == key.occurrence
        # a heading that came or went does not make it another passage, but one answer is for one
        return "unknown" in (answer.piece, key.piece) and answer not in self.used

    def _counts(self, answer: Answer) -> tuple[int, ...]:
        counts = parsed_counts(answer.choice)
        if counts is None or len(counts) not in (1, self.sizes):
            many = f"{len(counts)} numbers" if counts else "no numbers"
            raise WrongAnswer(
                f"{answer.place}: {answer.choice!r} holds {many}, but there "
                f"{'is 1 size' if self.sizes == 1 else f'are {self.sizes} sizes'}"
            )
        return counts

    def copy(self) -> AnswerBook:
        """Return a book of its own with what stands in this one."""
        return replace(
            self,
            used=set(self.used),
            overruled=list(self.overruled),
            _seen=Counter(self._seen),
        )

    def note(self, ask: str, passage: Passage, why: str) -> None:
        """Note that an answer is not followed, and why."""
        self.overruled.append((f"the answer to {ask!r} is not used: {why}", passage.span))

    def unused(self) -> list[Answer]:
        """Return the answers whose words stand in no passage."""
        return [a for a in self.options.answers if a not in self.used]
