"""Lead-ins told for some of the sizes each: "Sizes S and M: work 50 rows, ending with a WS row"."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rewriter.frames import Statement
from rewriter.leadmodel import LeadIn


def sizes_for(statement: Statement) -> tuple[int, ...]:
    """Return the ordinals of the sizes that a sentence names; none where it is for all of them."""
    return statement.sizes or (statement.by_size[0][0] if statement.by_size else ())


def is_for_some(before: Sequence[Statement], at: int) -> bool:
    """Say whether a sentence is for some of the sizes, named in it or by a sentence of its paragraph."""
    block = before[at].sentence.block
    for statement in reversed(before[: at + 1]):
        alone = bool(statement.sizes) and not statement.frames
        if statement.sentence.block != block and not alone:
            return False
        if statement.by_size and statement is before[at]:
            return True
        if statement.sizes is not None:
            return bool(statement.sizes)
    return False


def read_apart(
    before: Sequence[Statement], at: int, found: LeadIn, read: Callable[[Statement, LeadIn], None]
) -> None:
    """Take in what sentences for some of the sizes each say of the last row, where they say the same.

    Where they do not, or one is not understood, the lead-in is in doubt.
    """
    told = before[at]
    group: list[Statement] = []
    sizes: set[int] = set()
    for statement in reversed(before[: at + 1]):
        own = set(sizes_for(statement))
        if not own or own & sizes or not statement.frames:
            break
        group.append(statement)
        sizes |= own
    each = [LeadIn() for _ in group]
    for statement, one in zip(group, each, strict=True):
        read(statement, one)
    alike = {(one.side, one.length, frozenset(m.fact for m in one.mentions)) for one in each}
    clear = not any(one.doubt or one.obstacle or one.absorbed for one in each)
    if len(alike) != 1 or not clear:
        found.doubt = told.span
        return
    for one in reversed(each):
        found.mentions += one.mentions
    last = each[0]
    found.side, found.side_span = last.side, last.side_span
    found.span, found.length = last.span, last.length
    found.sizes = tuple(sorted(sizes))
