"""Words that are not understood and change nothing, as the reader says: the passage read without them.

Only words that stand by themselves can be left out, up to a comma or the end of the sentence: what
follows them otherwise may be theirs ("not on 8 sts"), and would be read as if it stood alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.asks import Decision, choice_of
from rewriter.edgenames import name_edges
from rewriter.frames import Statement
from rewriter.parsing import Part, parse
from rewriter.passages import without_lead
from rewriter.rowframes import doubtful
from rewriter.sizes import Sizes
from rewriter.spans import Span
from rewriter.statements import read_statement

_BOUNDARY = frozenset({"link", "stop", "colon", "paren", "dash"})


def phrase_of(statement: Statement, part: Part) -> Span | None:
    """Return the words that belong with one that is not understood; None where more may hang on it."""
    if part.concept == "same_time":
        return None
    parts: Sequence[Part] = parse(statement.sentence.view) or ()
    at = next((i for i, p in enumerate(parts) if p.span == part.span), None)
    if at is None:
        return None
    if part.kind == "paren":
        return part.span if all(_is_idle(p) for p in part.inner) else None
    first, last = at, at
    while first and _is_idle(parts[first - 1]):
        first -= 1
    while last + 1 < len(parts) and _is_idle(parts[last + 1]):
        last += 1
    if last + 1 < len(parts) and parts[last + 1].kind not in _BOUNDARY:
        return None
    return Span(parts[first].span.start, parts[last].span.end)


def _is_idle(part: Part) -> bool:
    """Say whether a part tells nothing by itself; "the pattern" is what an unknown word is about."""
    return part.kind in ("residue", "filler", "excepting") or (
        part.kind == "work" and part.concept == "patt" and part.amount is None
    )


def without_harmless(
    statements: Sequence[Statement], decisions: tuple[Decision, ...], sizes: Sizes, led: bool
) -> tuple[list[Statement], tuple[Span, ...]]:
    """Return the sentences of a passage without the words called harmless, and those words.

    `led` says that a lead-in stands before the passage in its first sentence.
    """
    out: list[Statement] = []
    gone: list[Span] = []
    for number, statement in enumerate(statements):
        phrases = []
        for part in doubtful(statement):
            phrase = phrase_of(statement, part)
            words = None if phrase is None else phrase.of(statement.sentence.source)
            if phrase is not None and choice_of(decisions, "words", words) == "harmless":
                phrases.append(phrase)
        read = _read_without(statement, phrases, sizes, led and number == 0) if phrases else None
        out.append(replace(read or statement, decisions=decisions))
        gone += phrases if read is not None else []
    return out, tuple(dict.fromkeys(gone))


def _read_without(
    statement: Statement, phrases: list[Span], sizes: Sizes, led: bool
) -> Statement | None:
    """Return a sentence read without some words; None where it cannot be read as it was."""
    whole = _read(statement, [], sizes, led)
    if whole is None or [f.verb for f in whole.frames] != [f.verb for f in statement.frames]:
        return None  # several sentences that are read as one row
    return _read(statement, phrases, sizes, led)


def _read(statement: Statement, phrases: list[Span], sizes: Sizes, led: bool) -> Statement | None:
    view = statement.sentence.view
    text = list(view.text)
    for i in range(len(text)):
        at = view.base + i if view.offsets is None else view.offsets[i]
        if any(p.start <= at < p.end for p in phrases):
            text[i] = " "
    read = read_statement(
        statement.sentence, sizes.labels, sizes.phrased, replace(view, text="".join(text))
    )
    if read is None:
        return None
    name_edges(read, statement.sentence.piece)
    return without_lead(read)[0] if led else read
