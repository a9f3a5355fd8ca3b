"""Sizes that a sentence leaves to others: "All other sizes: ...", and those that nothing is told for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.parsing import Part
from rewriter.sizeheads import OTHERS
from rewriter.spans import Span


def others_named(statements: Iterable[Statement | None], sizes: int) -> list[Statement | None]:
    """Return the sentences, "all other sizes" being those that the ones before have not named."""
    out: list[Statement | None] = []
    named: set[int] = set()
    everyone = range(1, sizes + 1)
    for statement in statements:
        told = statement.sizes if statement is not None else None
        if statement is None or told == ():
            named = set()
        elif told == OTHERS:
            left = tuple(n for n in everyone if n not in named)
            if not named or not left:
                statement.residue.append(Part("residue", statement.span))  # which are meant?
                left = ()
            statement = replace(statement, sizes=left or None)
            named = set()
        elif told:
            named = named | set(told) if not named & set(told) else set(told)
        out.append(statement)
    return out


def none_told(
    statements: Sequence[Statement], span: Span, labels: Sequence[str], without: tuple[int, ...]
) -> Unread:
    """Return why a passage that binds off nothing for these sizes is not read."""
    if not any(s.sizes or s.by_size for s in statements):
        return Unread("no-steps", "this size has no bind-offs here", span, without[:1])
    names = " and ".join(labels[i] for i in without)
    return Unread(
        "size-not-told",
        f"these steps are told for some of the sizes only: nothing is bound off here for {names}",
        span,
        without,
    )
