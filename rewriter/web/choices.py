"""What was chosen on the page: options, size, view, answers."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from rewriter.options import JOINS, KINDS, TURNS, Options, Shoulders, Turn
from rewriter.pipeline import Rework, rework, rewrite_text
from rewriter.report import Report
from rewriter.spans import SourceText
from rewriter.web.asked import Given, given_from
from rewriter.web.bodies import Form

VIEWS = ("changes", "whole", "new")


@dataclass(frozen=True)
class Work:
    """What is to be done with a draft."""

    options: Options = field(default_factory=Options)
    given: tuple[Given, ...] = ()

    def report(self, source: SourceText) -> Report:
        """Rewrite a draft as chosen, with the answers that were given; raises WrongAnswer."""
        return rewrite_text(source, self._answered)

    def done(self, source: SourceText) -> tuple[Report, Rework | None]:
        """Return the report with what it was made from (nothing on the way back); raises WrongAnswer."""
        if self.options.to == "steps":
            return self.report(source), None
        work = _reworked(source, self._answered)
        return work.report, work

    def without_free(self) -> Work:
        """Return the same without the answers that are no choices."""
        return replace(self, given=tuple(g for g in self.given if g.means))

    @property
    def _answered(self) -> Options:
        return replace(self.options, answers=tuple(g.answer for g in self.given))


_LONGEST = 100_000
"""Letters of the longest draft whose rewriting is kept."""
_last: list[tuple[SourceText, Options, Rework]] = []
"""The rewriting done last, for one who looks at one size after the other or takes a file along."""


def _reworked(source: SourceText, options: Options) -> Rework:
    """Rewrite a draft, or return what the same one was rewritten to last with the same options."""
    for *known, work in _last:
        if known == [source, options]:
            return work
    work = rework(source, options)
    _last[:] = [(source, options, work)] if len(source.text) <= _LONGEST else []
    return work


@dataclass(frozen=True)
class Choices:
    """All that was chosen on the page."""

    work: Work = field(default_factory=Work)
    size: str = ""
    """Label of the size shown; "" for all."""
    view: str = "changes"
    pasted: bool = True
    """Whether the draft is a text on the page, which can be changed there."""


def choices_of(form: Form) -> Choices:
    """Return what a form says; what it does not know is passed over."""
    steps = form.get("to") == "steps"
    turn: Turn = next((t for t in TURNS if t == form.get("turn")), "german")
    join: Shoulders = next((j for j in JOINS if j == form.get("shoulders")), "sewn")
    live = join != "sewn" and not steps
    options = Options(
        to="steps" if steps else "short-rows",
        turn=turn,
        shoulders="sewn" if steps else join,
        kinds=("shoulder",) if steps else ("shoulder", *_kinds(form)),
        spelling="full" if form.get("spelling") == "full" else "draft",
        markers=form.get("markers") == "on",
        respace=form.get("respace") == "on" and not steps,
        exact_live=form.get("exact_live") == "on" and live,
    )
    given = given_from(form.fields)
    view = form.get("view")
    return Choices(
        Work(options, tuple(given)),
        form.get("size"),
        view if view in VIEWS else "changes",
        "file" not in form.files,
    )


def _kinds(form: Form) -> list[str]:
    return [k for k in KINDS[1:] if k in form.all("kinds")]
