"""The questions of a draft: what the reader is asked, about which words, and between which answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from rewriter.asks import ASKS, Decision
from rewriter.diagnose import Notes
from rewriter.doubt import Unread
from rewriter.edits import Edit
from rewriter.outcome import Outcome
from rewriter.reading import Draft, Finding
from rewriter.report import Question
from rewriter.rowframes import doubtful, phrase_of
from rewriter.spans import Span, quote

KIND_ASKED = "Is this a shoulder? {because}"
_SIDE_ASKED = (
    "On which side is the first bind-off row? The draft does not say; without an answer the new text is "
    "worded so that it is true either way"
)
_LEFT = {"words": "leave", "last-sts": "neck"}
"""The choices by which a passage stays as it is."""


def questions_of(draft: Draft, outcomes: Mapping[str, Outcome]) -> tuple[Question, ...]:
    """Return the questions of a draft in the order of its text."""
    out = [q for f in draft.findings for q in _about(f, outcomes.get(f.id), draft)]
    return tuple(sorted(out, key=lambda q: (q.span, q.optional)))


def _about(finding: Finding, outcome: Outcome | None, draft: Draft) -> Iterator[Question]:
    asked = outcome is not None and outcome.status == "question"
    if finding.evidence.kind is None:
        because = finding.evidence.because
        text = KIND_ASKED.format(because=because[:1].upper() + because[1:])
        yield _question(finding, "kind", text, finding.passage.span, draft)
    unread = finding.unread or (outcome.unread if outcome is not None else None)
    if unread is not None and (asked or finding.evidence.kind is None):
        if_so = "If it is one: " if finding.evidence.kind is None else ""
        if unread.ask or not if_so:
            yield from _from_unread(finding, unread, if_so, draft)
    shaping = finding.shaping
    done = outcome is None or outcome.status == "rewritten"
    if done and shaping is not None and shaping.first_side is None:
        span = finding.passage.span
        yield _question(finding, "first-side", _SIDE_ASKED, span, draft, optional=True)


def _from_unread(finding: Finding, unread: Unread, before: str, draft: Draft) -> Iterator[Question]:
    if unread.ask != "words":
        text = before + unread.message
        yield _question(finding, unread.ask, text, unread.span, draft)
        return
    source = draft.document.source.text
    told: dict[Span, tuple[Span | None, str]] = {}
    for statement in finding.passage.statements:
        for part in doubtful(statement):
            phrase = phrase_of(statement, part)
            sentence = quote(statement.span.of(source), 200)
            told.setdefault(phrase or part.span, (phrase, sentence))
    # an answer about some words is of no use while others cannot be answered about
    firm = any(phrase is None for phrase, _ in told.values())
    for span, (phrase, sentence) in told.items():
        words = quote(span.of(source))
        if not firm:
            text = f"do the words {words!r} in “{sentence}” change what is knitted?"
        elif phrase is None:
            text = (
                f"the words {words!r} in “{sentence}” are not understood, and others hang on them"
            )
        else:
            text = f"the words {words!r} in “{sentence}” are not understood"
        yield _question(finding, "" if firm else "words", f"{before}{text}", span, draft)


def _question(
    finding: Finding, ask: str, text: str, span: Span, draft: Draft, optional: bool = False
) -> Question:
    key, source = finding.key, draft.document.source.text
    ask = ask if key is not None else ""
    whole = ask in ("kind", "first-side", "stitches")
    passage = (key.text if key is not None else "") or finding.passage.span.of(source)
    return Question(
        passage=finding.id,
        ask=ask,
        question=text[:1].upper() + text[1:],
        choices=dict(ASKS[ask].choices) if ask else {},
        form=ASKS[ask].form if ask else "",
        span=(span.start, span.end),
        about="" if whole else " ".join(span.of(source).split()),
        words=" ".join(passage.split()),
        piece=finding.passage.piece,
        occurrence=key.occurrence if key is not None else 1,
        optional=optional,
    )


def note_answers(
    draft: Draft, outcomes: Mapping[str, Outcome], edits: Sequence[Edit], notes: Notes
) -> None:
    """Say which answers the draft contradicts, and which words called harmless are gone."""
    source = draft.document.source.text
    for message, span in draft.book.overruled:
        notes.warn("answer-overruled", message, span)
    for finding in draft.findings:
        outcome = outcomes.get(finding.id)
        if outcome is None or outcome.status != "rewritten":
            continue
        for span in finding.passage.dropped:
            edit = next(
                (e for e in edits if e.span.start <= span.start and span.end <= e.span.end), None
            )
            words = span.of(source)
            if edit is not None and words.lower() not in edit.replacement.lower():
                notes.warn(
                    "words-dropped",
                    f"the words {quote(words)!r}, which change nothing as answered, are not in the new "
                    "rows",
                    span,
                )


def left_by_answer(unread: Unread, decisions: tuple[Decision, ...]) -> bool:
    """Say whether the reader answered that a passage is to stay as it is."""
    leave = _LEFT.get(unread.ask)
    return any(d.ask == unread.ask and d.choice == leave for d in decisions)
