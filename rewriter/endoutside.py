"""A second side told by the words between two signs, whose end stands behind the second of them.

"** ... Cast off 7 sts at beg of next and foll alt row. ** Work 1 row. Cast off rem 8 sts. ... Rep from ** to
**, then work 1 row. Cast off rem sts.": both sides are put right by one change. The new rows stand
between the signs as a whole, and the second side is told by them alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.interpret import read_rows
from rewriter.leadmodel import LeadIn
from rewriter.passages import Passage
from rewriter.rows import Act, Row
from rewriter.signs import STRETCH, repeated_stretch
from rewriter.spans import Span

_MOST_SENTENCES = 4
"""Sentences in which the end of a second side is told at most."""
_TURNS_ROUND = frozenset({"side", "stitch", "row of pattern", "relative"})
"""What a lead-in says of the last row that is not true of both sides."""


_ALIKE = regex.compile(
    r"(?i)\b(?:correspond|match|same\s+(?:way|manner)|(?:as|like)\s+(?:for\s+)?(?:the\s+)?(?:first|1st|other))\b[^.]*?"
    + STRETCH.pattern.removeprefix("(?i)")
)


def told_alike(source: str, lead_in: LeadIn) -> bool:
    """Say whether the other side is worked like this one up to the signs too, and a lead-in is true of both.

    "Work to correspond, repeating from ** to **": "ending at side edge" is so, "ending with a RS row" is not.
    """
    return _ALIKE.search(source) is not None and not any(
        m.fact in _TURNS_ROUND for m in lead_in.mentions
    )


@dataclass(frozen=True)
class EndOutside:
    """Where the words are that tell the end of both sides outside the signs."""

    stretch: Span
    """From the first sign to the second."""
    sign: str
    told: Span
    """The words that end the second side, behind "from ** to **" and without their stop."""


def end_outside(
    passage: Passage, lead_in: LeadIn, statements: Sequence[Statement | None], sizes: int
) -> EndOutside | None:
    """Return how a passage with a sign in its midst is repeated for the second side; None where it is not.

    Raises Unread where the second side is not told to be the same.
    """
    source = passage.sentence.source
    begins, ends = passage.span
    # signs at both ends are in nobody's way
    while ends > begins and source[ends - 1] in "* .\n\r\t":
        ends -= 1
    while begins < ends and source[begins] in "* \n\r\t":
        begins += 1
    repeats = list(STRETCH.finditer(source, passage.span.end))
    signs = [
        s
        for s in regex.compile(r"\*{1,4}").finditer(source, begins, ends)
        if any(s.group() == r["star"] for r in repeats)
    ]
    if not signs:
        return None
    sign, told = signs[0], [r for r in repeats if r["star"] == signs[0].group()]
    stretch = repeated_stretch(source, Span(passage.span.start, sign.end()))
    at = next((i for i, s in enumerate(passage.statements) if s.span.start >= sign.end()), 0)
    between = at > 0 and passage.statements[at - 1].span.end <= sign.start()
    if len(signs) > 1 or len(told) > 1 or stretch is None or not between:
        raise _unclear(sign.group(), Span(*sign.span()))
    head, tail = passage.statements[:at], passage.statements[at:]
    behind = list(_behind(statements, passage, told[0].end()))
    if not behind or not _ends(behind[-1]):
        raise _unclear(sign.group(), Span(*sign.span()))
    for size in range(sizes):
        first = read_rows([*head, *tail], size, sizes)
        try:
            second = read_rows([*head, *behind], size, sizes)
        except Unread:
            second = []
        if [_acts(r) for r in first] != [_acts(r) for r in second]:
            raise Unread(
                "sign-inside",
                "the side told from sign to sign does not end as this one does: write its shoulder out",
                behind[-1].span,
            )
    for mention in lead_in.mentions:
        if mention.fact in _TURNS_ROUND:
            raise Unread(
                "repeated-rows",
                "other words repeat these rows from sign to sign on the other side of the work, where "
                "these words are not true: write its shoulder out",
                mention.span,
            )
    last = behind[-1].span.of(source).rstrip()
    end = behind[-1].span.start + len(last) - (1 if last.endswith((".", "!")) else 0)
    return EndOutside(stretch, sign.group(), Span(told[0].end(), end))


def _unclear(sign: str, span: Span) -> Unread:
    return Unread(
        "sign-inside",
        f"the sign {sign}, to which other words refer, stands in the midst of these rows",
        span,
    )


def _behind(
    statements: Sequence[Statement | None], passage: Passage, start: int
) -> Iterator[Statement]:
    """Yield what is told behind "from ** to **", up to where the side is bound off."""
    taken = 0
    for statement in statements:
        if statement is None or statement.span.end <= start or taken == _MOST_SENTENCES:
            continue
        if statement.sentence.piece_at != passage.piece_at:
            return
        frames = [f for f in statement.frames if f.end > start]
        if any(f.start < start and f.parts for f in frames):
            return
        frames = [f for f in frames if f.start >= start and (f.verb or f.parts or f.residue)]
        taken += 1
        if frames:
            yield replace(statement, label=None, frames=frames)
        if _ends(statement):
            return


def _ends(statement: Statement) -> bool:
    """Say whether a sentence takes all the sts of a side."""
    return any(f.verb in ("bind_off", "hold") and f.takes_all for f in statement.frames)


def _acts(row: Row) -> tuple[object, ...]:
    """Return what a row does, all that is left standing for any number of sts."""
    acts = [Act(a.kind, None) if row.claim is not None or a.n is None else a for a in row.acts]
    return (tuple(acts), row.dec, row.edge)
