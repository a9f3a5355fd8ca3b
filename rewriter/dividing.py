"""A piece divided at the neck inside its shoulders: which sentence does what.

"Cast off 9 sts, K until there are 12 sts on right needle, turn and leave rem sts on a holder" is the
dividing row; the first side follows to its end, then the yarn is rejoined and the second side is
written out, or told by "complete to match first side, reversing shapings".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter import regex
from rewriter.frames import Frame, Statement
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
    r"\b(?:to (?:match|correspond)|reversing|same way|as (?:for )?(?:the )?(?:first|other) (?:side|shoulder)"
    r"|symmetrically|in mirror image|mirrored)\b"
)


def is_matching(statement: Statement) -> bool:
    """Say whether a sentence tells the second side by the first."""
    verbs = {f.verb for f in statement.frames if f.verb}
    words = statement.sentence.view.text
    return (verbs <= {"refer", "work"} and bool(_MATCHES.search(words))) or _tells_alike(words)


_SIDE = r"(?:side|half|shoulder|part|edge)(?:\s+of\s+(?:the\s+)?neck)?"
_FIRST = r"(?:first|1st|other|left|right|previous)"
_OTHER = r"(?:other|second|2nd|left|right|remaining)"
_REVERSED = (
    r"(?:reversing(?=[\s.*_]*\Z)|revers(?:ing|e)\s+(?:all\s+|the\s+)*shapings?|revers(?:ing|e)\s+(?:everything|all)|(?:but\s+)?(?:in\s+)?"
    r"(?:reversed?|mirrored|mirror\s+image|mirror-inverted)|symmetrically|the\s+other\s+way\s+(?:about|a?round))"
)
# Words that tell a side by the first and nothing else: any others would be lost with them.
_ALIKE = regex.compile(
    r"[\s*_]*(?:[\[(][^\])]*[\])]\s*)?(?:and\s+|then\s+|and\s+then\s+|now\s+)?"
    r"(?:(?:work|complete|finish|continue|cont|knit|shape|patt|do)\b(?:\s+(?:on|the|this|that|these|those|sts|stitches)"
    rf"\b)*(?:\s*\b{_OTHER}\b)?(?:\s*\b{_SIDE}\b)?)?\s*"
    rf"(?:(?:exactly\s+)?(?:to\s+(?:match|correspond)(?:\s+(?:with|to))?|(?:the\s+same\s+)?(?:as|like)(?:\s+(?:for|on|given\s+for))?"
    r"|in\s+the\s+same\s+(?:way|manner)(?:\s+as)?|the\s+same(?:\s+way)?(?:\s+as)?|likewise)"
    rf"(?:\s+(?:the\s+)?{_FIRST}(?:\s+(?:front|back)(?=\s+shoulder))?(?:\s+{_SIDE})?)?|(?={_REVERSED}))"
    rf"\s*(?:,|;|-|and|but)?\s*(?:{_REVERSED})?"
    r"(?:\s*,?\s*(?:beginning|starting|commencing)\s+(?:with\s+(?:a\s+|the\s+)?(?:cast|bind)(?:ing)?[\s-]off(?:\s+of)?"
    r"\s+[\d(][\d\s,:;/()\[\]-]*(?:sts?\b\.?|stitches)?\s*)?(?:at|from)\s+(?:the\s+)?(?:armhole|arm|side|shoulder"
    r"|outer)\s+edge(?:\s+on\s+(?:the\s+|a\s+)?(?:right|wrong|rs|ws)(?:[\s-]side)?(?:\s+row)?)?)?"
    r"[\s.*_]*"
)


def _tells_alike(words: str) -> bool:
    """Say whether words in lower case tell the second side by the first, and tell nothing else."""
    return _ALIKE.fullmatch(words) is not None and bool(_MATCHES.search(words))


def second_told_again(
    parts: Divided, follows: Sequence[Statement], source: str
) -> Statement | None:
    """Return the sentence that tells a second side by the first where the rows of both are spelled out.

    The words of the draft, `source`, told one side; the rows that stand for them tell two.
    """
    if parts.dividing.sentence.source == source or not follows:
        return None
    after = follows[0]
    return (
        after
        if after.label is None and is_matching(after) and _tells_alike(after.sentence.view.text)
        else None
    )


def rejoins(statement: Statement) -> bool:
    """Say whether the yarn is rejoined, or sts are taken back or slipped for it."""
    verbs = {f.verb for f in statement.frames if f.verb}
    if "join" in verbs:
        return verbs <= {"join", "bind_off", "hold", "work", "turn", "ending"}
    text = statement.sentence.view.text
    return bool(
        regex.match(r"\W*(?:return|go back|with|slip|place|put|set)\b", text)
    ) and verbs <= {"hold"}


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


def counts_only(statement: Statement) -> bool:
    """Say whether a sentence does nothing but count sts: "19 sts."."""
    told = [f for f in statement.frames if f.verb or f.parts]
    alone = statement.label is None and all(
        not f.verb and f.parts.keys() <= {"count"} for f in told
    )
    return alone and bool(statement.running or told)


def joins_and_matches(statement: Statement) -> int | None:
    """Return the frame at which a sentence that rejoins the yarn goes over to telling a side by the first.

    "Rejoin yarn to rem sts, cast off centre 20 sts and work the other side to correspond."
    """
    verbs = [f.verb for f in statement.frames]
    cut = next((i for i, verb in enumerate(verbs) if verb == "refer"), 0)
    if (
        not cut
        and verbs[-2:] == ["join", "work"]
        and not statement.frames[-1].parts.keys() - {"other_side"}
    ):
        cut = (
            len(verbs) - 1
        )  # "start at the neck with the other side and work this in the same way"
    if (
        cut
        and verbs[cut - 1] == "work"
        and not statement.frames[cut - 1].parts.keys() - {"other_side"}
    ):
        cut -= 1
    before = {verb for verb in verbs[:cut] if verb}
    if "join" not in before or not before <= {"join", "bind_off", "hold", "work", "ending"}:
        return None
    if not set(verbs[cut:]) <= {"refer", "work", "ending", "bind_off", ""}:
        return None
    worked = [f for f in statement.frames[:cut] if f.verb == "work"]
    ends = [f.one("extent") for f in worked]
    if len(worked) > 1 or any(e is None or e.kind != "to_end" for e in ends):
        return None  # more rows than the one of the rejoining
    if any(f.verb == "join" and f.edge not in ("", "neck") for f in statement.frames[:cut]):
        return None
    words = statement.sentence.source[statement.frames[cut].start : statement.span.end]
    return cut if _tells_alike(" ".join(words.lower().split())) else None


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
    while stop < len(statements) and not bound_off(statements[stop]):
        stop += 1
    if stop >= len(statements):
        return None
    first = statements[at + 1 : stop + 1]
    stop += 1
    while stop < len(statements) and only_fastens_off(statements[stop]):
        stop += 1
    rejoin = stop
    while (
        stop < len(statements)
        and rejoins(statements[stop])
        and joins_and_matches(statements[stop]) is None
    ):
        stop += 1
    if rejoin < stop < len(statements) and goes_on_rejoining(statements[stop]):
        stop += 1
    rejoining = list(statements[rejoin:stop])
    if rejoining and stop < len(statements) and counts_only(statements[stop]):
        stop += 1  # "..., patt to end. 19 sts.": behind the turns there are more of them
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
    alike = bool(rest) and is_matching(rest[0]) and _tells_alike(rest[0].sentence.view.text)
    matching = rest[0] if alike else None
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
    """Say whether a row leaves the sts up to the neck, binds off the centre and goes on to its end.

    They are put on a holder, or just wait: "patt 20, cast off centre 22 sts, patt to end".
    """
    return _cut_of_held(statement) is not None


def _cut_of_held(statement: Statement) -> int | None:
    """Return the frame of such a row with which its other half begins: what is held, or the centre."""
    frames = [f for f in statement.frames if f.verb]
    verbs = [f.verb for f in frames]
    if "join" in verbs or "work" not in verbs:
        return None
    at = verbs.index("work")
    cut = at + 1
    after = verbs[cut + 1 : cut + 3] if verbs[cut : cut + 1] == ["hold"] else verbs[cut:]
    if after[:2] != ["bind_off", "work"] or (
        verbs[cut] != "hold" and not _binds_centre(frames, at)
    ):
        return None
    extent = frames[at].one("extent")
    counted = (extent is not None and extent.kind == "until_count") or frames[at].amount is not None
    return statement.frames.index(frames[cut]) if counted else None


def _binds_centre(frames: Sequence[Frame], at: int) -> bool:
    """Say whether a row goes on to its end, or to a turn, behind the work at `at` and the centre's sts.

    It binds off at its beginning, or begins at a turn.
    """
    verbs = [f.verb for f in frames]
    head, tail = verbs[:at], verbs[at + 1 :]
    if tail[:2] != ["bind_off", "work"] or tail[2:] not in ([], ["turn"], ["closing"]):
        return False
    until = frames[at].one("extent")
    by_count = until is not None and until.kind == "until_count"
    if head not in (["bind_off"], ["aid"]) and (head or tail[2:] != ["turn"] or not by_count):
        return (
            False  # "K 26, cast off 30, k to last 8 sts, turn" begins with no step of the shoulder
        )
    centre, rest = frames[at + 1], frames[at + 2].one("extent")
    counted = centre.amount is not None and not centre.parts.keys() & {"rows", "beg", "times"}
    return counted and rest is not None and rest.kind in ("to_end", "to_last", "to_marker")


def part_held(statements: Sequence[Statement]) -> Divided | None:
    """Sort the sentences of a passage whose second half is finished first; None where a part is missing."""
    at = next((i for i, s in enumerate(statements) if holds_first(s)), None)
    if at is None:
        return None
    row = statements[at]
    cut = _cut_of_held(row)
    if cut is None:
        return None
    told = part(
        [*statements[:at], replace(row, frames=row.frames[:cut]), *statements[at + 1 :]], at
    )
    if told is None or not (told.second or told.matching):
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


def bound_off(statement: Statement) -> bool:
    """Say whether the side in work ends here ("Cast off rem 8 sts", "Cast off all 24 sts")."""
    frames = [f for f in statement.frames if f.verb]
    if len(frames) != 1:
        return False
    (frame,) = frames
    held = frame.verb == "hold" and "holder" in frame.parts
    rows = frame.one("rows")
    if frame.verb == "bind_off" and frame.takes_all and rows is not None:
        return (
            rows.kind == "next_rows" and rows.amount is None
        )  # "... rem 7 sts at beg of next row"
    return (frame.verb == "bind_off" or held) and not frame.parts.keys() & {"rows", "beg"}


def works_to_height(statement: Statement) -> bool:
    """Say whether rows are worked up to a length, or to the height of another piece, or an armhole is shaped.

    No divided shoulder is as high as that: the row that divides the piece before it shapes the armhole
    ("Shape armhole and divide for neck").
    """
    frames = statement.frames
    worked = any(f.verb == "work" and "measure" in f.parts for f in frames)
    until = any((e := f.one("extent")) is not None and e.kind == "until" for f in frames)
    if until and any(f.verb == "refer" for f in frames):
        return True  # "until armhole matches that of back"
    if any(f.verb == "decrease" and f.edge == "armhole" for f in frames):
        return True
    return worked or any(
        f.verb == "measures" or (f.verb == "refer" and f.concept == "height") for f in frames
    )


def stop_of_divided(statements: Sequence[Statement | None], at: int) -> int | None:
    """Return the index after the last sentence of a divided shoulder whose dividing row is at `at`."""
    stage = 1
    stop = at + 1
    while stop < len(statements):
        before, statement = statements[stop - 1], statements[stop]
        if statement is None:
            break
        if stage == 1 and works_to_height(statement):
            break
        if stage == 1:
            stage = 2 if bound_off(statement) else 1
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
            if not rejoins(statement) and not on and not counts_only(statement):
                stage = 4
                if bound_off(statement):
                    return stop + 1
        elif bound_off(statement):
            return stop + 1
        stop += 1
    return None
