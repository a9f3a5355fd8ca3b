"""Where a run of stepped sentences begins and ends."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.centrewords import is_centre, with_step
from rewriter.dividing import (
    holds_first,
    is_dividing,
    joins_and_matches,
    only_fastens_off,
    rejoins,
    stop_of_divided,
)
from rewriter.document import Document
from rewriter.frames import Frame, Statement
from rewriter.inwork import names_sts_in_work, says_which_in_work
from rewriter.numberedrows import COUNTED_FROM_BELOW
from rewriter.onesidewords import stop_of_one_side
from rewriter.rowframes import is_stepped
from rewriter.rowkinds import goes_on_with_yarn, is_plain, opens, turns
from rewriter.rowturned import from_turned_stretch
from rewriter.shortframes import stops_short, works_on
from rewriter.signs import repeats_elsewhere
from rewriter.sizeheads import heads_sizes
from rewriter.slots import from_row
from rewriter.twoballs import joins_ball, stop_of_two_balls


def _is_ending(statement: Statement) -> bool:
    """Say whether a sentence ends sts: binds off all of them, holds them, or fastens off."""
    if any(f.verb == "join" or (f.verb == "bind_off" and is_stepped(f)) for f in statement.frames):
        return False
    if _BAND_GOES_ON.search(statement.sentence.view.text):
        return False
    if any(f.verb == "work" and "measure" in f.parts for f in statement.frames):
        return False  # "Continue over the remaining 8 sts for 7 cm and leave them on a pin": a band
    return any(_ends_sts(statement, i) for i in range(len(statement.frames)))


# "Carry on over the 20 collar sts until the strip reaches the middle of the back neck, then put them on a
# holder.": the steps have ended before it
_BAND_GOES_ON = regex.compile(
    r"\b(?:work|knit|rib|patt|keep|cont|continue|continued|proceed|carry|carrying|go|going|goes|keeping)\b"
    r"[^.;]*\b(?:reach(?:es)?|meets?|fits?|long enough|(?:half[\s-]?way|as far as|to)(?: to| round)?"
    r"(?: the)? (?:cent(?:re|er)|middle)|(?:cent(?:re|er)|middle) (?:of )?(?:the )?back)\b"
)


def _ends_sts(statement: Statement, i: int) -> bool:
    frame = statement.frames[i]
    if frame.verb == "bind_off":
        goes_on = any(f.verb == "work" for f in statement.frames[i + 1 : i + 2])
        return frame.takes_all or not goes_on
    if frame.verb == "hold":
        return "holder" in frame.parts and not _names_part(frame)
    return frame.verb == "fasten_off"


def _names_part(frame: Frame) -> bool:
    """Say whether words pick some of the sts: "slip the centre 14 sts", "the first 13 sts"."""
    count = frame.one("count")
    return count is not None and any(p.span.start < count.span.start for p in frame.residue)


def stop_of_run(document: Document, statements: Sequence[Statement | None], start: int) -> int:
    """Return the index after the last sentence of the run that begins at `start`."""
    stop = start + 1
    first = statements[start]
    ended = first is not None and takes_all_sts(first) and from_turned_stretch(first) is None
    home = document.sentences[start]
    some = first.sizes or () if first is not None else ()
    if first is not None and (divided := _end_of_divided(document, statements, start)):
        return divided
    if (one_side := stop_of_one_side(statements, start)) is not None:
        return one_side
    while stop < len(statements):
        statement = statements[stop]
        if _leads_on_from_turn(document, statements, start, stop):
            stop += 1
            continue
        if statement is None and (
            _is_sign(document, stop)
            or _heads_dividing_row(document, statements, stop)
            or _heads_centre_step(document, statements, stop)
        ):
            stop += 1
            continue
        if statement is None or document.sentences[stop].piece_at != home.piece_at:
            break
        run = document.source.text[home.span.start : statement.span.start]
        if repeats_elsewhere(statement.sentence.text, run):
            break
        if divided := _end_of_divided(document, statements, stop):
            return divided
        if ended and some and statement.sizes and not set(some) & set(statement.sizes):
            ended = False  # all sts of some sizes, and now the others
        if ended and not _only_counts(statement):
            break
        some = some if statement.sizes is None else statement.sizes
        if _holds_centre(statement) and at_one_edge(statements[start:stop]):
            break
        if goes_on_behind_neck(statement) or _leads_far_on(statements[start:stop], statement):
            break
        if _begins_at_height(statement) and not _binds_centre_with_step(statement):
            break
        if counted_from_below(statements[start:stop], statement):
            break
        if home.topics[-1:] == ("armhole",) and _first_to_name_shoulder(
            statements[start:stop], statement
        ):
            break
        if _first_for_shoulder(statements[start:stop], statement):
            break
        if _goes_on_outside(statements[start:stop], statement) or _tells_other_half(statement):
            break
        if _is_ending(statement):
            ended = ended or (takes_all_sts(statement) and not goes_on_with_yarn(statements, stop))
        elif not (
            opens(statement)
            or is_plain(statement)
            or _after_turn(statements, stop)
            or _works_on_behind_turn(statements, start, stop)
        ):
            break
        stop += 1
    while stop > start + 1:
        last = statements[stop - 1]
        if last is not None and not _is_left_out(last):
            break
        stop -= 1
    return stop


def goes_on_behind_neck(statement: Statement) -> bool:
    """Say whether a row binds off so many sts "for the neck" and goes on over others: no step is that."""
    told = [f for f in statement.frames if f.verb]
    first = told[0] if told else None
    named = first is not None and any(n.concept == "neck" for n in first.notes)
    counted = named and first is not None and first.verb == "bind_off" and not first.takes_all
    return counted and any(f.verb == "work" for f in told[1:])


def tells_no_row(statement: Statement | None) -> bool:
    """Say whether a sentence is no row: it says which sts are in work, counts them, or does nothing."""
    if statement is None or not any(f.verb or f.parts for f in statement.frames):
        return True
    return says_which_in_work(statement) or _only_counts(statement)


_NEXT_ROWS = 4
"""Sentences that may stand between a row that turns and the row back."""


def _leads_on_from_turn(
    document: Document, statements: Sequence[Statement | None], start: int, at: int
) -> bool:
    """Say whether a sentence stands between a row that turns after more than plain work, and the row back.

    "K 26, cast off the centre 30 sts, k to last 8 sts, turn. Work on these sts only:", a heading, a count.
    """
    first = statements[start]
    if first is None or from_turned_stretch(first) is None:
        return False
    if not all(map(tells_no_row, statements[start + 1 : at + 1])):
        return False
    for i in range(at + 1, min(at + 1 + _NEXT_ROWS, len(statements))):
        told = statements[i]
        if document.sentences[i].piece_at != document.sentences[start].piece_at:
            return False
        if told is not None and not tells_no_row(told):
            return opens(told) or is_plain(told) or _works_across(told)
    return False


def _is_sign(document: Document, at: int) -> bool:
    """Say whether nothing stands between two sentences but a repeat sign, or a count: "(51)"."""
    words = document.sentences[at].text.strip("* \n\r\t")
    return not words or _BARE_COUNT.fullmatch(words) is not None


_BARE_COUNT = regex.compile(r"[(\[]\s*\d[\d\s,:;/-]*[)\]]\.?")


def _after_turn(statements: Sequence[Statement | None], at: int) -> bool:
    """Say whether a row begins with a yarn-over at the turn of the row before it."""
    told, before = statements[at], statements[at - 1]
    if told is None or before is None or told.label is None or not turns(before):
        return False
    verbs = [f.verb for f in told.frames if f.verb]
    return verbs[:2] == ["aid", "work"] and any(f.verb == "turn" for f in before.frames)


def _works_across(told: Statement | None) -> bool:
    """Say whether a row is worked to its end, told in a few words: "P to end."."""
    frames = [f for f in told.frames if f.verb or f.parts] if told is not None else []
    if len(frames) != 1 or frames[0].residue or "rows" in frames[0].parts:
        return False
    return works_on(frames[0]) and not stops_short(frames[0])


def _works_on_behind_turn(statements: Sequence[Statement | None], start: int, at: int) -> bool:
    """Say whether a row is worked to its end behind one that turned."""
    return _works_across(statements[at]) and any(
        s is not None and turns(s) for s in statements[start:at]
    )


_FAR_ON = 20
"""Rows between two numbers behind which another shaping begins: no step is as far from the one before."""


def _leads_far_on(run: Sequence[Statement | None], statement: Statement) -> bool:
    """Say whether rows are worked to one with a number far behind those told so far: "Work to row 152."."""
    numbers = [_numbers_of(s) for s in run if s is not None]
    last = max((n for told in numbers for n in told), default=0)
    alone = [f.verb for f in statement.frames if f.verb] == ["work"] and statement.label is None
    return alone and bool(last) and min(_numbers_of(statement), default=0) > last + _FAR_ON


def _numbers_of(statement: Statement) -> list[int]:
    """Return the numbers of rows that a sentence names."""
    told = [p for f in statement.frames for p in f.parts.get("rows", []) if p.kind == "row_number"]
    return [n for p in told for n in p.numbers]


def _heads_dividing_row(
    document: Document, statements: Sequence[Statement | None], at: int
) -> bool:
    """Say whether a heading stands before the row that divides a shoulder ("Right side")."""
    then = statements[at + 1] if at + 1 < len(statements) else None
    same = document.sentences[at].piece_at == document.sentences[at - 1].piece_at
    headed = document.sentences[at].heading and same
    return headed and then is not None and is_dividing(then)


def _binds_centre_with_step(statement: Statement) -> bool:
    """Say whether a sentence tells the neck at the height of a shoulder step, and no steps before it."""
    off = [f for f in statement.frames if f.verb == "bind_off"]
    return with_step(statement) and is_centre(off[0])


def _heads_centre_step(document: Document, statements: Sequence[Statement | None], at: int) -> bool:
    """Say whether a heading stands before the words that bind off the centre with a shoulder step."""
    then = statements[at + 1] if at + 1 < len(statements) else None
    same = document.sentences[at].piece_at == document.sentences[at - 1].piece_at
    return document.sentences[at].heading and same and then is not None and with_step(then)


def _heads_side(
    document: Document, statements: Sequence[Statement | None], divides: int, at: int
) -> bool:
    """Say whether a heading is that of one side of a neck: right behind the row at `divides`, or where
    the yarn is rejoined ("Left shoulder").
    """
    sentences = document.sentences
    if not sentences[at].heading or sentences[at].piece_at != sentences[divides].piece_at:
        return False
    if heads_sizes(sentences[at].view.text.strip(" *_")):
        return False
    then = statements[at + 1] if at + 1 < len(statements) else None
    again = then is not None and (rejoins(then) or joins_and_matches(then) is not None)
    return again or at == divides + 1


def _end_of_divided(
    document: Document, statements: Sequence[Statement | None], at: int
) -> int | None:
    """Return where a shoulder ends that is divided at the neck by the row at `at`, if it is.

    The two sides may have headings of their own ("Left shoulder").
    """
    statement = statements[at]
    if statement is None:
        return None
    if joins_ball(statement):
        return stop_of_two_balls(statements, at)
    if holds_first(statement):
        own = [i for i in range(at, len(statements)) if not _names_sts(document, statements, i)]
        end = stop_of_divided([statements[i] for i in own], 0)
        return None if end is None else own[end - 1] + 1
    if not is_dividing(statement):
        return None
    kept = [i for i in range(at, len(statements)) if not _heads_side(document, statements, at, i)]
    stop = stop_of_divided([statements[i] for i in kept], 0)
    return None if stop is None else kept[stop - 1] + 1


def _names_sts(document: Document, statements: Sequence[Statement | None], at: int) -> bool:
    """Say whether a sentence only names the sts that are worked on: "On last set:"."""
    return statements[at] is None and names_sts_in_work(document.sentences[at].view.text)


def _first_for_shoulder(run: Sequence[Statement | None], statement: Statement) -> bool:
    """Say whether a sentence is the first that binds off "for the shoulder", after neck steps."""
    if not _names_shoulder(statement):
        return False
    edges = {
        f.edge
        for s in run
        if s
        for f in s.frames
        if f.verb == "bind_off" and (f.edge or not f.inherited)
    }
    return edges == {"neck"} and not any(s is not None and _names_shoulder(s) for s in run)


def _goes_on_outside(run: Sequence[Statement | None], statement: Statement) -> bool:
    """Say whether a sentence binds off at the outer edge after neck steps and rows worked straight."""
    offs = [f for s in run if s for f in s.frames if f.verb == "bind_off"]
    edges = {f.edge for f in offs if f.edge or not f.inherited}
    own = {f.edge for f in statement.frames if f.verb == "bind_off" and not f.inherited}
    last = run[-1]
    rows = [f.one("rows") for f in last.frames if f.verb == "work"] if last else []
    straight = bool(rows) and all(
        r is not None and r.kind == "some_rows" and r.amount is not None for r in rows
    )
    return edges == {"neck"} and bool(own) and own <= {"armhole", "shoulder"} and straight


_OTHER_HALF = regex.compile(r"\b(?:other|second|2nd)\s+(?:half|side|shoulder|front|part)\b")


def _tells_other_half(statement: Statement) -> bool:
    """Say whether a sentence repeats what was told for the other half: "For the other half repeat ..."."""
    told = [f for f in statement.frames if f.verb]
    alone = bool(told) and all(
        f.verb == "repeat" and not f.parts.keys() & {"rows", "times"} for f in told
    )
    return alone and bool(_OTHER_HALF.search(statement.sentence.view.text))


def _names_shoulder(statement: Statement) -> bool:
    return any(
        f.verb == "bind_off" and any(n.concept == "shoulder" for n in f.notes)
        for f in statement.frames
    )


def _holds_centre(statement: Statement) -> bool:
    """Say whether sts in the middle are put on a holder: "Slip centre 17 sts onto a holder"."""
    return any(f.verb == "hold" and f.edge == "neck" for f in statement.frames)


def at_one_edge(statements: Sequence[Statement | None]) -> bool:
    """Say whether the words put the bind-offs of these sentences at one edge."""
    one_edge = {"foll_alt_rows", "foll_side_rows", "next_alt_rows", "every_side_row", "side_row"}
    for statement in statements:
        for frame in statement.frames if statement else ():
            if frame.verb != "bind_off" or "each_side" in frame.parts:
                continue
            kinds = {p.kind for p in frame.parts.get("rows", [])}
            if frame.edge in ("armhole", "shoulder", "side") or kinds & one_edge:
                return True
    return False


def _begins_at_height(statement: Statement) -> bool:
    """Say whether a length or another piece tells where the bind-offs of a sentence begin."""
    for frame in statement.frames:
        if frame.verb == "bind_off":
            # "For the shoulders bind off on both sides after 142 rows 8 sts", "neck from row 37: ..."
            return "measure" in frame.parts or from_row(frame.parts.get("rows", ()))
        by_height = frame.verb == "refer" and frame.concept == "height"
        by_length = frame.verb in ("", "work") and "measure" in frame.parts
        if frame.verb == "measures" or by_height or by_length:
            return any(f.verb in ("bind_off", "turn") for f in statement.frames)
    return False


def counted_from_below(run: Sequence[Statement | None], statement: Statement) -> bool:
    """Say whether a sentence binds off in a row counted from far below: "In the 55th row bind off ..."."""
    off = next((f for f in statement.frames if f.verb == "bind_off"), None)
    rows = off.parts.get("rows", [])[:1] if off is not None else []
    if not rows or rows[0].kind != "row_number" or rows[0].numbers[0] < COUNTED_FROM_BELOW:
        return False
    first = rows[0].numbers[0]
    told = [n for s in run if s for n in (*_numbers_of(s), *(s.label.numbers if s.label else ()))]
    return not any(0 < first - n <= _NEAR for n in told)


_NEAR = 4
"""Rows of a shoulder that may lie between two that are told by their numbers."""


def _first_to_name_shoulder(run: Sequence[Statement | None], statement: Statement) -> bool:
    """Say whether a sentence is the first of a run to bind off "for the shoulders"."""
    return _names_shoulder(statement) and not any(s is not None and _names_shoulder(s) for s in run)


def _is_left_out(statement: Statement) -> bool:
    """Say whether a sentence at the end of a run is no part of it: plain rows, fastening off."""
    plain = is_plain(statement) and not _only_counts(statement) and not _repeats(statement)
    return plain or only_fastens_off(statement) or _goes_on_elsewhere(statement)


def _goes_on_elsewhere(statement: Statement) -> bool:
    """Say whether a sentence goes on with another part: "Then fasten off and work the pocket"."""
    told = [f for f in statement.frames if f.verb]
    verbs = [f.verb for f in told]
    return (
        verbs == ["fasten_off", "work"] and "count" not in told[0].parts and bool(told[1].residue)
    )


def _only_counts(statement: Statement) -> bool:
    counts = [f for f in statement.frames if f.parts]
    if any(is_stepped(f) for f in counts):
        return False
    return all(not f.verb for f in statement.frames) and bool(
        statement.running or any(f.amount for f in counts)
    )


def _repeats(statement: Statement) -> bool:
    return any(f.verb == "repeat" for f in statement.frames)


def takes_all_sts(statement: Statement) -> bool:
    """Say whether nothing is left on the needle after this sentence."""
    return any(
        (f.verb == "bind_off" and f.takes_all)
        or (f.verb == "hold" and "holder" in f.parts)
        or (f.verb == "fasten_off" and "count" in f.parts)
        for f in statement.frames
    )
