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
from rewriter.rowframes import is_note, is_stepped
from rewriter.signs import repeats_elsewhere
from rewriter.sizeheads import heads_sizes
from rewriter.twoballs import joins_ball, stop_of_two_balls


def opens(statement: Statement) -> bool:
    return _has_steps(statement) or turns(statement)


def _has_steps(statement: Statement) -> bool:
    frames = statement.frames
    for i, frame in enumerate(frames):
        if frame.verb != "bind_off":
            continue
        if is_stepped(frame):
            return True
        if frame.takes_all:
            continue
        back = [f.verb for f in frames[i + 1 : i + 3]] == ["back_row", "bind_off"]
        if back and frame.edge in ("armhole", "shoulder", "side"):
            return True  # "bind off at shoulder edge 5 sts, k back, bind off 5 sts"
        first_of_row = i == 0 or frames[i - 1].verb in ("turn", "ending")
        behind_height = frame.edge != "neck" and not any(f.verb for f in frames[:i])
        first_of_row = first_of_row or behind_height
        if first_of_row and (
            statement.label or (i + 1 < len(frames) and frames[i + 1].verb == "work")
        ):
            return True
    return False


def turns(statement: Statement) -> bool:
    """Say whether a row stops short of its end, or begins at such a turn."""
    if is_note(statement):
        return False
    verbs = [f.verb for f in statement.frames]
    if "closing" in verbs or any(
        f.verb == "aid" and f.concept != "yarn_over" for f in statement.frames
    ):
        return True
    return any(
        f.verb == "turn"
        and i > 0
        and (stops_short(statement.frames[i - 1]) or f.concept in ("wrap_turn", "twin_turn"))
        for i, f in enumerate(statement.frames)
    ) or any(_leaves_unworked(f) for f in statement.frames)


_SHORT = frozenset({"to_last", "before_turn", "to_marker"})


def stops_short(frame: Frame) -> bool:
    """Say whether a row is worked to a place before its end."""
    extent = frame.one("extent")
    if extent is None:
        return _leaves_unworked(frame)
    return extent.kind in _SHORT or (extent.kind == "until_left" and frame.verb == "work")


def works_short(frame: Frame) -> bool:
    """Say whether a row is worked to a place before its end, or for some sts only."""
    counted = frame.verb == "work" and "extent" not in frame.parts and frame.amount is not None
    return stops_short(frame) or (counted and not frame.takes_all)


def slips_one(frame: Frame) -> bool:
    """Say whether a single st is slipped: "Sl 1, k to end"."""
    one = frame.amount is not None and set(frame.amount.values) == {1}
    return frame.verb == "hold" and one and "holder" not in frame.parts


def _leaves_unworked(frame: Frame) -> bool:
    told = frame.verb == "hold" and frame.amount is not None
    return told and any(n.concept == "unworked" for n in frame.notes)


def is_plain(statement: Statement) -> bool:
    frames = [f for f in statement.frames if f.verb or f.parts]
    if not frames:
        return statement.sizes is not None or bool(statement.running)
    for frame in frames:
        rows = frame.one("rows")
        few = rows is not None and (
            rows.amount is None or max(v or 0 for v in rows.amount.values) <= 3
        )
        if frame.verb == "back_row" or (
            frame.verb == "work" and few and "extent" not in frame.parts
        ):
            continue
        extent = frame.one("extent")
        if statement.label and frame.verb == "work" and (extent is None or extent.kind == "to_end"):
            continue
        if statement.label and frame is frames[0] and (frame.verb == "aid" or slips_one(frame)):
            continue  # "Next row: Yo, k to end", "Sl 1, k to end" after a turn
        if statement.label and frame.verb in ("decrease", "work"):
            continue  # a row with a neck decrease, or one that goes to the last sts before it
        if frame.verb == "repeat" or (frame.verb == "work" and rows and rows.kind == "last_rows"):
            continue
        if not frame.verb and "count" in frame.parts and not frame.residue:
            continue
        return False
    return True


def _is_ending(statement: Statement) -> bool:
    """Say whether a sentence ends sts: binds off all of them, holds them, or fastens off."""
    if any(f.verb == "join" or (f.verb == "bind_off" and is_stepped(f)) for f in statement.frames):
        return False
    if any(f.verb == "work" and "measure" in f.parts for f in statement.frames):
        return False  # "Continue over the remaining 8 sts for 7 cm and leave them on a pin": a band
    return any(_ends_sts(statement, i) for i in range(len(statement.frames)))


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
    ended = first is not None and takes_all_sts(first)
    home = document.sentences[start]
    some = first.sizes or () if first is not None else ()
    if first is not None and (divided := _end_of_divided(document, statements, start)):
        return divided
    while stop < len(statements):
        statement = statements[stop]
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
        if _begins_at_height(statement) and not _binds_centre_with_step(statement):
            break
        if _first_for_shoulder(statements[start:stop], statement):
            break
        if _goes_on_outside(statements[start:stop], statement) or _tells_other_half(statement):
            break
        if _is_ending(statement):
            ended = ended or (takes_all_sts(statement) and not _rejoined(statements, stop))
        elif not (opens(statement) or is_plain(statement) or _after_turn(statements, stop)):
            break
        stop += 1
    while stop > start + 1:
        last = statements[stop - 1]
        if last is not None and not _is_left_out(last):
            break
        stop -= 1
    return stop


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


def _rejoined(statements: Sequence[Statement | None], at: int) -> bool:
    """Say whether the yarn is cut and rejoined in the next sentence to close turns left open."""
    told, then = statements[at], statements[at + 1] if at + 1 < len(statements) else None
    if told is None or then is None:
        return False
    cut = any(f.verb == "fasten_off" for f in told.frames)
    return cut and turns(then) and any(f.verb == "join" for f in then.frames)


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
        return stop_of_divided(statements, at)
    if not is_dividing(statement):
        return None
    kept = [i for i in range(at, len(statements)) if not _heads_side(document, statements, at, i)]
    stop = stop_of_divided([statements[i] for i in kept], 0)
    return None if stop is None else kept[stop - 1] + 1


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
            return False
        by_height = frame.verb == "refer" and frame.concept == "height"
        by_length = frame.verb in ("", "work") and "measure" in frame.parts
        if frame.verb == "measures" or by_height or by_length:
            return any(f.verb == "bind_off" for f in statement.frames)
    return False


def _is_left_out(statement: Statement) -> bool:
    """Say whether a sentence at the end of a run is no part of it: plain rows, fastening off."""
    plain = is_plain(statement) and not _only_counts(statement) and not _repeats(statement)
    return plain or only_fastens_off(statement)


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
