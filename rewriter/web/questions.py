"""Questions on the page, each with its choices, and the answers that were given."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from rewriter.report import Question, Report
from rewriter.spans import SourceText, quote
from rewriter.web.asked import Given, given_to
from rewriter.web.words import capital

_BY_HAND = {
    True: "Put it right in your pattern, and the result follows.",
    False: "Put it right in the file, and choose it again.",
}


def questions_of(
    report: Report,
    source: SourceText,
    given: Sequence[Given],
    pasted: bool,
    amiss: str,
) -> str:
    """Return the questions of a report as HTML, those that must be answered first, then the answers.

    The draft's words stand in all sizes, whichever is shown: a question may be about another. `pasted`
    says whether the draft can be changed on the page, `amiss` what is wrong with a free answer.
    """
    asked = sorted(report.questions, key=lambda q: q.optional)
    settled = [
        g
        for g in given
        if not any(g.answers(q) for q in asked)
        and not any(g.is_unused(u) for u in report.unused_answers)
    ]
    parts: list[str] = []
    for number, question in enumerate(asked):
        place = escape(capital(source.where(question.span[0]))[:-1])
        words = escape(quote(question.words, 220))
        about = f'<p class="about">{place} <q>{words}</q></p>'
        parts.append(_question(question, number, about, given, pasted, amiss))
    parts += [_answered(g, n) for n, g in enumerate(settled)]
    if not parts:
        return ""
    title = _title([q for q in asked if can_be_answered(q)], asked, len(parts))
    return (
        '<section class="questions" aria-labelledby="questions-title">'
        f'<h2 id="questions-title">{title}</h2>{"".join(parts)}</section>'
    )


def can_be_answered(asked: Question) -> bool:
    """Say whether there is an answer to give, or the draft itself must be changed."""
    return bool(asked.choices or asked.form)


def _title(open_ones: Sequence[Question], asked: Sequence[Question], parts: int) -> str:
    if open_ones:
        return "Question" if parts == 1 else "Questions"
    if asked:
        return "To put right in the pattern"
    return "Answered"


def _question(
    asked: Question, number: int, about: str, given: Sequence[Given], pasted: bool, amiss: str
) -> str:
    text = escape(capital(asked.question))
    if not can_be_answered(asked):
        return f'<div class="question"><p class="asked">{text}</p>{about}<p>{_BY_HAND[pasted]}</p></div>'
    if asked.optional:
        text += ' <span class="optional">You may leave it open.</span>'
    if asked.form:
        return _free(asked, number, text, about, given, amiss)
    radios = "".join(
        f'<label><input type="radio" form="draft" name="answer.{number}" id="answer-{number}-{i}" '
        f'value="{escape(given_to(asked, choice).model_dump_json())}"'
        f"{' checked' if given_to(asked, choice) in given else ''}>"
        f"<span>{escape(means[:1].upper() + means[1:])}</span></label>"
        for i, (choice, means) in enumerate(asked.choices.items())
    )
    return f'<fieldset class="question"><legend class="asked">{text}</legend>{about}{radios}</fieldset>'


def _free(
    asked: Question, number: int, text: str, about: str, given: Sequence[Given], amiss: str
) -> str:
    before = next((g.choice for g in given if g.answers(asked)), "")
    wrong = f'<p class="amiss" id="amiss-{number}">{escape(capital(amiss))}</p>' if before else ""
    describes = f"form-{number}{f' amiss-{number}' if wrong else ''}"
    return (
        f'<div class="question"><p class="asked"><label for="free-{number}">{text}</label></p>{about}'
        f'<p class="help" id="form-{number}">{escape(capital(asked.form))}</p>'
        f'<input type="hidden" form="draft" name="answer.{number}" '
        f'value="{escape(given_to(asked, "").model_dump_json())}">'
        f'<input type="text" form="draft" name="free.{number}" id="free-{number}" autocomplete="off" '
        f'value="{escape(before)}" aria-describedby="{describes}"'
        f"{' aria-invalid=true' if wrong else ''}>{wrong}</div>"
    )


def _answered(given: Given, number: int) -> str:
    value = escape(given.model_dump_json())
    return (
        f'<div class="question answered"><p class="asked">{escape(capital(given.question))}</p>'
        f"<p>Your answer: {escape(given.means or given.choice)}. "
        f'<input type="hidden" form="draft" name="answer.settled-{number}" value="{value}">'
        f'<button type="button" class="quiet" data-forget="answer.settled-{number}">Ask me again'
        "</button></p></div>"
    )
