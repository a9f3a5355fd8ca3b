"""A piece divided at the neck inside its shoulders: which sentence does what.

"Cast off 9 sts, K until there are 12 sts on right needle, turn and leave rem sts on a holder" is the
dividing row; the first side follows to its end, then the yarn is rejoined and the second side is
written out, or told by "complete to match first side, reversing shapings".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter import regex
from rewriter.frames import Statement
from rewriter.spans import Span


def is_dividing(statement: Statement) -> bool:
    """Say whether a row binds off at the shoulder, works on to the neck, turns and leaves the rest."""
    verbs = [f.verb for f in statement.frames]
    if "turn" not in verbs or "work" not in verbs:
        return False
    at = verbs.index("work")
    work = statement.frames[at]
    extent = work.one("extent")
    counted = extent is None and work.amount is not None and "bind_off" in verbs[:at]
    told = extent is not None and extent.kind == "until_count"
    return (counted or told) and at < verbs.index("turn")


_MATCHES = regex.compile(
    r"\b(?:to (?:match|correspond)|reversing|same way|as (?:for )?(?:the )?first (?:side|shoulder)"
    r"|symmetrically|in mirror image|mirrored)\b"
)


def is_matching(statement: Statement) -> bool:
    """Say whether a sentence tells the second side by the first."""
    verbs = {f.verb for f in statement.frames if f.verb}
    return verbs <= {"refer", "work", "ending"} and bool(
        _MATCHES.search(statement.sentence.view.text)
    )


def rejoins(statement: Statement) -> bool:
    """Say whether the yarn is rejoined, or sts are taken back or slipped for it."""
    verbs = {f.verb for f in statement.frames if f.verb}
    if "join" in verbs:
        return verbs <= {"join", "bind_off", "hold", "work", "turn", "ending"}
    text = statement.sentence.view.text
    return bool(regex.match(r"\W*(?:return|go back|with|slip|place)\b", text)) and verbs <= {"hold"}


def goes_on_rejoining(statement: Statement) -> bool:
    """Say whether a sentence behind the rejoining tells its row: "Cast off centre 28 sts, k to end."."""
    told = [f for f in statement.frames if f.verb]
    verbs = [f.verb for f in told]
    if statement.label or verbs[:2] != ["bind_off", "work"] or set(verbs[2:]) - {"turn"}:
        return False
    extent = told[1].one("extent")
    placed = told[0].parts.keys() & {"rows", "beg", "times"} or told[0].takes_all
    turned = verbs[2:] == ["turn"]
    ends = ("to_last", "to_marker") if turned else ("to_end",)
    return not placed and extent is not None and extent.kind in ends


def joins_and_matches(statement: Statement) -> int | None:
    """Return the frame at which a sentence that rejoins the yarn goes over to telling a side by the first.

    "Rejoin yarn to rem sts, cast off centre 20 sts and work the other side to correspond."
    """
    verbs = [f.verb for f in statement.frames]
    cut = next((i for i, verb in enumerate(verbs) if verb == "refer"), 0)
    if (
        cut
        and verbs[cut - 1] == "work"
        and not statement.frames[cut - 1].parts.keys() - {"other_side"}
    ):
        cut -= 1
    before = {verb for verb in verbs[:cut] if verb}
    if "join" not in before or not before <= {"join", "bind_off", "hold", "work", "ending"}:
        return None
    if not set(verbs[cut:]) <= {"refer", "work", "ending", ""}:
        return None
    words = statement.sentence.source[statement.frames[cut].start : statement.span.end]
    return cut if _MATCHES.search(words.lower()) else None


@dataclass(frozen=True)
class Divided:
    """The sentences of a divided shoulder, by what they tell."""

    common: tuple[Statement, ...]
    dividing: Statement
    first: tuple[Statement, ...]
    rejoining: tuple[Statement, ...]
    second: tuple[Statement, ...]
    """The rows of the second side; empty where it is told by the first."""
    matching: Statement | None
    held_first: bool = False
    """The sts of the first half wait on a holder from the dividing row on, and the row goes on over the
    other half, which is finished first."""
    at_once: bool = False
    """Both sides go on in the same rows, each with its ball; `first` tells the rows of both."""

    closed: Statement | None = None
    """The last sentence before the rejoining, where a heading may stand between the two."""

    @property
    def headings(self) -> tuple[Span | None, Span | None, Span | None]:
        """Where headings stand: before the dividing row, the first side's rows, the rejoining."""
        return (
            _between(self.common[-1] if self.common else None, self.dividing),
            _between(self.dividing, self.first[0]) if self.first else None,
            _between(self.closed, self.rejoining[0]),
        )

    @property
    def rejoined(self) -> tuple[int, int]:
        """Where the words of the rejoining begin and end, in the text of their sentences."""
        first, last = self.rejoining[0], self.rejoining[-1]
        told_on = last.sentence is self.matching.sentence if self.matching else False
        return first.span.start, last.frames[-1].end if told_on else last.span.end


def _between(before: Statement | None, after: Statement) -> Span | None:
    """Return the place between two sentences if words stand there, which can only be a heading."""
    if before is None or before.sentence is after.sentence:
        return None
    gap = Span(before.span.end, after.span.start)
    words = gap.of(after.sentence.source) if gap.start < gap.end else ""
    return gap if regex.search(r"\w", words) else None


def part(statements: Sequence[Statement], dividing: int | None = None) -> Divided | None:
    """Sort the sentences of a passage; None where one of the parts is missing.

    `dividing` is the index of the dividing row, where it is known.
    """
    at = dividing
    if at is None:
        at = next((i for i, s in enumerate(statements) if is_dividing(s)), None)
    if at is None:
        return None
    stop = at + 1
    while stop < len(statements) and not _bound_off(statements[stop]):
        stop += 1
    if stop >= len(statements):
        return None
    first = statements[at + 1 : stop + 1]
    stop += 1
    while stop < len(statements) and only_fastens_off(statements[stop]):
        stop += 1
    rejoin = stop
    while stop < len(statements) and rejoins(statements[stop]):
        stop += 1
    if rejoin < stop < len(statements) and goes_on_rejoining(statements[stop]):
        stop += 1
    rejoining = list(statements[rejoin:stop])
    cut = joins_and_matches(statements[stop]) if stop < len(statements) else None
    if cut is not None:
        told = statements[stop]
        return Divided(
            tuple(statements[:at]),
            statements[at],
            tuple(first),
            (*rejoining, replace(told, frames=told.frames[:cut])),
            (),
            replace(told, frames=told.frames[cut:]),
            closed=statements[rejoin - 1],
        )
    if not rejoining:
        return None
    rest = [s for s in statements[stop:] if not only_fastens_off(s)]
    matching = rest[0] if rest and is_matching(rest[0]) else None
    if matching is None and not rest:
        return None
    return Divided(
        tuple(statements[:at]),
        statements[at],
        tuple(first),
        tuple(rejoining),
        () if matching is not None else tuple(rest),
        matching,
        closed=statements[rejoin - 1],
    )


def holds_first(statement: Statement) -> bool:
    """Say whether a row holds the sts up to the neck, binds off the centre and goes on to its end."""
    verbs = [f.verb for f in statement.frames if f.verb]
    if "join" in verbs or "hold" not in verbs:
        return False
    cut = verbs.index("hold")
    if "work" not in verbs[:cut] or verbs[cut + 1 : cut + 3] != ["bind_off", "work"]:
        return False
    work = next(f for f in statement.frames if f.verb == "work")
    extent = work.one("extent")
    return (extent is not None and extent.kind == "until_count") or work.amount is not None


def part_held(statements: Sequence[Statement]) -> Divided | None:
    """Sort the sentences of a passage whose first half is held; None where a part is missing."""
    at = next((i for i, s in enumerate(statements) if holds_first(s)), None)
    if at is None:
        return None
    row = statements[at]
    cut = next(i for i, f in enumerate(row.frames) if f.verb == "hold")
    told = part(
        [*statements[:at], replace(row, frames=row.frames[:cut]), *statements[at + 1 :]], at
    )
    if told is None or not told.second:
        return None
    return replace(
        told,
        rejoining=(replace(row, frames=row.frames[cut:]), *told.rejoining),
        held_first=True,
    )


def only_fastens_off(statement: Statement) -> bool:
    """Say whether a sentence just fastens off, or breaks the yarn: it stays true behind a sweep."""
    told = [f for f in statement.frames if f.verb]
    return bool(told) and all(f.verb == "fasten_off" and "count" not in f.parts for f in told)


def _bound_off(statement: Statement) -> bool:
    """Say whether the side in work ends here ("Cast off rem 8 sts", "Cast off all 24 sts")."""
    frames = [f for f in statement.frames if f.verb]
    return (
        len(frames) == 1
        and (
            frames[0].verb == "bind_off"
            or (frames[0].verb == "hold" and "holder" in frames[0].parts)
        )
        and "rows" not in frames[0].parts
        and "beg" not in frames[0].parts
    )


def stop_of_divided(statements: Sequence[Statement | None], at: int) -> int | None:
    """Return the index after the last sentence of a divided shoulder whose dividing row is at `at`."""
    stage = 1
    stop = at + 1
    while stop < len(statements):
        before, statement = statements[stop - 1], statements[stop]
        if statement is None:
            break
        if stage == 1:
            stage = 2 if _bound_off(statement) else 1
        elif stage in (2, 3) and joins_and_matches(statement) is not None:
            return stop + 1
        elif stage == 2:
            if rejoins(statement):
                stage = 3
            elif not only_fastens_off(statement):
                break
        elif stage == 3:
            if is_matching(statement):
                return stop + 1
            on = goes_on_rejoining(statement) and rejoins(before) if before else False
            if not rejoins(statement) and not on:
                stage = 4
                if _bound_off(statement):
                    return stop + 1
        elif _bound_off(statement):
            return stop + 1
        stop += 1
    return None
