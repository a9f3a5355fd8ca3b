"""Rows told in several sentences: "Next row: Cast off 6 sts. Purl to end." is one row.

Some leaflets end a sentence after each thing done. A row label begins the row; the sentences after
it belong to it until it has been worked to its end or turned, so they are read as one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter.chains import spread_cadence
from rewriter.document import Document, Sentence
from rewriter.frames import Frame, Statement
from rewriter.spans import Span


def joined_rows(
    document: Document, statements: Sequence[Statement | None]
) -> tuple[Document, list[Statement | None]]:
    """Return the document and its statements with the sentences of a labelled row joined."""
    sentences: list[Sentence] = []
    out: list[Statement | None] = []
    at = 0
    while at < len(statements):
        sentence, statement = document.sentences[at], statements[at]
        at += 1
        while statement is not None and _is_open(statement) and at < len(statements):
            following = statements[at]
            if following is None or not _goes_on(statement, following):
                break
            if _awaits_numbers(statement):
                statement, following = _with_verb(statement, following)
            sentence = replace(sentence, span=Span(sentence.span.start, following.span.end))
            statement = replace(
                statement,
                sentence=sentence,
                frames=[*statement.frames, *following.frames],
                running=[*statement.running, *following.running],
            )
            at += 1
        sentences.append(sentence)
        out.append(statement)
    if len(out) == len(statements):
        return document, out
    return replace(document, sentences=tuple(sentences)), out


def _is_open(statement: Statement) -> bool:
    """Say whether the row of a label has not come to its end yet."""
    label, frames = statement.label, _told(statement)
    if _awaits_numbers(statement):
        return True
    if label is None:
        return bool(frames) and (_stops_short(frames[-1]) or _counts_on_needle(frames[-1]))
    if len(label.numbers) > 1 or label.rows is not None:
        return False
    if not frames:
        return True
    last = frames[-1]
    if last.verb in ("bind_off", "cast_on"):
        return not last.takes_all and "rows" not in last.parts and "beg" not in last.parts
    if last.verb == "work":
        counted = last.one("extent") is None and last.amount is not None
        return counted or _counts_on_needle(last) or _stops_short(last)
    return last.verb == "turn"


def _stops_short(frame: Frame) -> bool:
    """Say whether a row is worked to a place before its end, so that "Turn." may follow."""
    extent = frame.one("extent")
    stops = ("to_last", "before_turn", "to_marker", "until_left")
    return frame.verb == "work" and extent is not None and extent.kind in stops


def _counts_on_needle(frame: Frame) -> bool:
    """Say whether a row is worked until so many sts are on the needle, so that "Turn." may follow."""
    extent = frame.one("extent")
    return frame.verb == "work" and extent is not None and extent.kind == "until_count"


def _goes_on(row: Statement, following: Statement) -> bool:
    """Say whether a sentence goes on with an open row."""
    if following.label is not None or following.sentence.block != row.sentence.block:
        return False
    frames = _told(following)
    if _awaits_numbers(row):
        return not following.by_size and following.sizes is None and _tells_numbers(following)
    if not frames or following.sizes is not None or any("rows" in f.parts for f in frames):
        return False
    before = _told(row)
    verb = frames[0].verb
    if before and _works_the_last(before[-1], frames):
        return True
    if row.label is None:
        return verb == "turn"
    if before and before[-1].verb == "turn":
        return verb == "hold" and len(frames) == 1
    if not before:
        return verb in ("bind_off", "cast_on", "work")
    if before[-1].verb == "work":
        band = (
            before[-1].one("extent") is None and before[-1].amount is not None and len(before) == 1
        )
        across = (
            verb == "work" and (e := frames[0].one("extent")) is not None and e.kind == "to_end"
        )
        return verb == "turn" or (band and across)  # "Next row: K5. P to end."
    works = verb == "work" and (frames[0].one("extent") is not None or frames[0].amount is not None)
    return works and not frames[0].residue


def _works_the_last(before: Frame, frames: Sequence[Frame]) -> bool:
    """Say whether the sts at the end of a row are worked: "Purl to last 5 sts. K5."."""
    extent = before.one("extent") if before.verb == "work" else None
    if extent is None or extent.kind != "to_last" or extent.amount is None:
        return False
    alone = len(frames) == 1 and frames[0].verb == "work" and not frames[0].residue
    worked = frames[0].amount if alone and frames[0].parts.keys() == {"count"} else None
    return worked is not None and worked.values == extent.amount.values


def _awaits_numbers(statement: Statement) -> bool:
    """Say whether a sentence ends with binding off for the shoulder, without a number."""
    last = statement.frames[-1] if statement.frames else None
    bare = last is not None and last.verb == "bind_off" and not last.parts and not last.residue
    return bare and last is not None and any(n.concept == "shoulder" for n in last.notes)


def _tells_numbers(statement: Statement) -> bool:
    """Say whether a sentence without a verb tells sts and rows: "On every 2nd row: 8, 8 and 7 sts."."""
    frames = [f for f in statement.frames if f.verb or f.parts]
    if not frames or any(f.verb for f in frames):
        return False
    return "rows" in frames[0].parts and bool(frames[0].parts.keys() & {"count", "steps", "times"})


def _with_verb(row: Statement, following: Statement) -> tuple[Statement, Statement]:
    """Give the numbers of a sentence the verb that ends the one before it."""
    verb, (head, *others) = row.frames[-1], following.frames
    first = replace(head, notes=[*verb.notes, *head.notes], start=verb.start, inherited=False)
    frames = [
        replace(f, verb=verb.verb, concept=verb.concept, inherited=i > 0, parts=dict(f.parts))
        for i, f in enumerate((first, *others))
    ]
    spread_cadence(frames)
    return replace(row, frames=row.frames[:-1]), replace(following, frames=frames)


def _told(statement: Statement) -> list[Frame]:
    return [f for f in statement.frames if f.verb]
