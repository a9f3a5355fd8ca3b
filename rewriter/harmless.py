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
from rewriter.passages import without_lead
from rewriter.rowframes import doubtful, phrase_of
from rewriter.sizes import Sizes
from rewriter.spans import Span
from rewriter.statements import read_statement


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
        statement.sentence, sizes.names, sizes.phrased, replace(view, text="".join(text))
    )
    if read is None:
        return None
    name_edges(read, statement.sentence.piece)
    return without_lead(read)[0] if led else read
