"""Find the stepped passages of a draft: runs of sentences that tell bind-offs at the edges of rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import regex

from rewriter.dividing import is_dividing, stop_of_divided
from rewriter.document import Document, Sentence
from rewriter.frames import Frame, Statement
from rewriter.lexicon import cue
from rewriter.rowframes import is_note, is_stepped
from rewriter.rowsentences import joined_rows
from rewriter.sizes import Sizes
from rewriter.spans import Span
from rewriter.statements import read_statement
from rewriter.twoballs import joins_ball, stop_of_two_balls


@dataclass
class Passage:
    """A run of sentences that shape an edge, in one piece."""

    statements: list[Statement]
    """The sentences of the passage; a lead-in in the first one is taken off."""
    before: list[Statement]
    """The sentences of the piece before it, nearest last."""
    lead: list[Frame]
    """Frames that stand before the first bind-off in the same sentence."""
    piece: str
    piece_at: int
    topics: tuple[str, ...]
    follows: list[Statement] = field(default_factory=list)
    """The sentences after it in the same piece, nearest first."""
    ahead: str = ""
    """The words right after it, in lower case."""
    short_rows: bool = False
    """It turns before the edge: a shoulder already in short rows."""
    followed: bool = True
    """Its rows can be followed; a shoulder's bind-offs in other words are found, but not read."""

    @property
    def span(self) -> Span:
        """From the first bind-off to the last word of the passage."""
        return Span(_first(self.statements[0]), self.statements[-1].span.end)

    @property
    def opening_words(self) -> Span:
        """Words before the first bind-off in its sentence that are no lead-in ("Keeping patt correct,")."""
        start = self.statements[0].span.start if not self.lead else self.span.start
        return Span(start, self.span.start)

    @property
    def sentence(self) -> Sentence:
        """The sentence in which the passage begins."""
        return self.statements[0].sentence


def _first(statement: Statement) -> int:
    starts = [f.start for f in statement.frames if f.end]
    if statement.label is not None:
        starts.append(statement.label.span.start)
    return min(starts, default=statement.span.start)


def statements_of(document: Document, sizes: Sizes) -> tuple[Document, list[Statement | None]]:
    """Read every sentence that gives a cue; None for headings, prose and what gives none.

    Returns the document too, for the sentences of one row are joined in it.
    """
    out: list[Statement | None] = []
    for sentence in document.sentences:
        if sentence.heading or not cue().search(sentence.view.text):
            out.append(None)
            continue
        out.append(read_statement(sentence, sizes.labels, sizes.phrased))
    return joined_rows(document, out)


def find_passages(document: Document, statements: Sequence[Statement | None]) -> list[Passage]:
    """Return the stepped passages in order, and those already in short rows."""
    out: list[Passage] = []
    at = 0
    count = len(statements)
    while at < count:
        statement = statements[at]
        if statement is None or not _opens(statement):
            at += 1
            continue
        stop = _stop(document, statements, at)
        before = statements[at - 1] if at else None
        if before is not None and before.sizes and not before.frames:
            at -= 1  # "3rd and 4th sizes only", on a line of its own
        passage = _passage(document, statements, at, stop)
        if passage is not None:
            out.append(passage)
        at = max(stop, at + 1)
    return sorted([*out, *_overlooked(document, statements, out)], key=lambda p: p.span)


_SHOULDER = regex.compile(r"\bshoulders?\b")
_TOLD = regex.compile(
    r"\b(?:seams?|sew|join|graft|needle bind|needle cast|short[- ]rows?|instead)\b"
)


def _overlooked(
    document: Document, statements: Sequence[Statement | None], found: Sequence[Passage]
) -> list[Passage]:
    """Return shoulders whose bind-offs are told in words that give no steps: never passed over in silence.

    A shoulder bound off in one row has no steps and is none of them.
    """
    out = []
    taken = [p.span for p in found]
    for at, (sentence, statement) in enumerate(zip(document.sentences, statements, strict=True)):
        if statement is None or is_note(statement) or sentence.piece in ("other", "sleeve"):
            continue
        text = sentence.view.text
        named = (
            sentence.topics[-1:] == ("shoulder",)
            or _SHOULDER.search(text)
            or _without_count(statement)
        )
        inside = any(t.start < sentence.span.end and sentence.span.start < t.end for t in taken)
        stepped = _may_be_stepped(statement) or _without_count(statement)
        if inside or not named or _TOLD.search(text) or not stepped:
            continue
        home = [
            (i, s)
            for i, s in enumerate(statements)
            if s is not None and document.sentences[i].piece_at == sentence.piece_at
        ]
        first, lead = _without_lead(statement)
        out.append(
            Passage(
                [first],
                [s for i, s in home if i < at],
                lead,
                _piece_of(sentence),
                sentence.piece_at,
                sentence.topics,
                [s for i, s in home if i > at],
                followed=False,
            )
        )
    return out


def _without_count(statement: Statement) -> bool:
    """Say whether rows of bind-offs are counted but not their sts, as where a table was flattened."""
    for frame in statement.frames:
        rows = frame.one("rows")
        if frame.verb != "bind_off" or "count" in frame.parts or rows is None:
            continue
        many = rows.amount is not None and max(v or 0 for v in rows.amount.values) > 1
        if many or (rows.kind == "every_other" and "times" in frame.parts):
            return True
    return False


def _may_be_stepped(statement: Statement) -> bool:
    """Say whether a sentence counts bind-offs that may be more than one row an edge."""
    offs = [
        f for f in statement.frames if f.verb == "bind_off" and (f.amount or "steps" in f.parts)
    ]
    if not offs:
        return False
    if not any(is_stepped(f) or (f.edge and f.edge != "neck") for f in offs) and len(offs) < 2:
        return False
    rows = [f.one("rows") for f in offs]
    counted = [r.amount.values for r in rows if r is not None and r.amount is not None]
    square = len(offs) == 1 and all(max(v or 0 for v in values) <= 2 for values in counted)
    return not (square and "times" not in offs[0].parts and len(statement.frames) <= 2)


def _opens(statement: Statement) -> bool:
    return _has_steps(statement) or _turns(statement)


def _has_steps(statement: Statement) -> bool:
    frames = statement.frames
    for i, frame in enumerate(frames):
        if frame.verb != "bind_off" or frame.takes_all:
            continue
        if is_stepped(frame):
            return True
        first_of_row = i == 0 or frames[i - 1].verb in ("turn", "ending")
        if first_of_row and (
            statement.label or (i + 1 < len(frames) and frames[i + 1].verb == "work")
        ):
            return True
    return False


def _turns(statement: Statement) -> bool:
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
        and (
            (extent := statement.frames[i - 1].one("extent")) is not None
            and extent.kind == "to_last"
        )
        for i, f in enumerate(statement.frames)
    )


def _is_plain(statement: Statement) -> bool:
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
        if statement.label and frame.verb in ("decrease", "work"):
            continue  # a row with a neck decrease, or one that goes to the last sts before it
        if frame.verb == "repeat":
            continue
        if not frame.verb and "count" in frame.parts:
            continue
        return False
    return True


def _is_ending(statement: Statement) -> bool:
    """Say whether a sentence ends sts: binds off all of them, holds them, or fastens off."""
    if any(f.verb == "join" or (f.verb == "bind_off" and is_stepped(f)) for f in statement.frames):
        return False
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


def _stop(document: Document, statements: Sequence[Statement | None], start: int) -> int:
    """Return the index after the last sentence of the run that begins at `start`."""
    stop = start + 1
    first = statements[start]
    ended = first is not None and _takes_all(first)
    home = document.sentences[start]
    if first is not None and (divided := _end_of_divided(statements, start)):
        return divided
    while stop < len(statements):
        statement = statements[stop]
        if statement is None or document.sentences[stop].piece_at != home.piece_at:
            break
        if divided := _end_of_divided(statements, stop):
            return divided
        if ended and not _only_counts(statement):
            break
        if _holds_centre(statement) and _at_one_edge(statements[start:stop]):
            break
        if _begins_at_height(statement) or _first_for_shoulder(statements[start:stop], statement):
            break
        if _is_ending(statement):
            ended = ended or _takes_all(statement)
        elif not _opens(statement) and not _is_plain(statement):
            break
        stop += 1
    while stop > start + 1:
        last = statements[stop - 1]
        if (
            last is None
            or (_is_plain(last) and not _only_counts(last) and not _repeats(last))
            or _only_fastens_off(last)
        ):
            stop -= 1
        else:
            break
    return stop


def _end_of_divided(statements: Sequence[Statement | None], at: int) -> int | None:
    """Return where a shoulder ends that is divided at the neck by the row at `at`, if it is."""
    statement = statements[at]
    if statement is None:
        return None
    if joins_ball(statement):
        return stop_of_two_balls(statements, at)
    return stop_of_divided(statements, at) if is_dividing(statement) else None


def _first_for_shoulder(run: Sequence[Statement | None], statement: Statement) -> bool:
    """Say whether a sentence is the first that binds off "for the shoulder", after neck steps."""
    if not _names_shoulder(statement):
        return False
    edges = {f.edge for s in run if s for f in s.frames if f.verb == "bind_off"}
    return edges == {"neck"} and not any(s is not None and _names_shoulder(s) for s in run)


def _names_shoulder(statement: Statement) -> bool:
    return any(
        f.verb == "bind_off" and any(n.concept == "shoulder" for n in f.notes)
        for f in statement.frames
    )


def _holds_centre(statement: Statement) -> bool:
    """Say whether sts in the middle are put on a holder: "Slip centre 17 sts onto a holder"."""
    return any(f.verb == "hold" and f.edge == "neck" for f in statement.frames)


def _at_one_edge(statements: Sequence[Statement | None]) -> bool:
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
        if frame.verb == "measures" or by_height or (not frame.verb and "measure" in frame.parts):
            return any(f.verb == "bind_off" for f in statement.frames)
    return False


def _is_left_out(statement: Statement) -> bool:
    """Say whether a sentence at the end of a run is no part of it: plain rows, fastening off."""
    plain = _is_plain(statement) and not _only_counts(statement) and not _repeats(statement)
    return plain or _only_fastens_off(statement)


def _only_fastens_off(statement: Statement) -> bool:
    """Say whether a sentence just fastens off: it stays true behind a sweep."""
    told = [f for f in statement.frames if f.verb]
    return bool(told) and all(f.verb == "fasten_off" and "count" not in f.parts for f in told)


def _only_counts(statement: Statement) -> bool:
    counts = [f for f in statement.frames if f.parts]
    if any(is_stepped(f) for f in counts):
        return False
    return all(not f.verb for f in statement.frames) and bool(
        statement.running or any(f.amount for f in counts)
    )


def _repeats(statement: Statement) -> bool:
    return any(f.verb == "repeat" for f in statement.frames)


def _takes_all(statement: Statement) -> bool:
    """Say whether nothing is left on the needle after this sentence."""
    return any(
        (f.verb == "bind_off" and f.takes_all)
        or (f.verb == "hold" and "holder" in f.parts)
        or (f.verb == "fasten_off" and "count" in f.parts)
        for f in statement.frames
    )


def _passage(
    document: Document, statements: Sequence[Statement | None], start: int, stop: int
) -> Passage | None:
    run = [s for s in statements[start:stop] if s is not None]
    home = document.sentences[start]
    short_rows = any(_turns(s) for s in run if not is_dividing(s))
    first, lead = _without_lead(run[0])
    body = [first, *run[1:]]
    if not short_rows and not _two_rows(body):
        return None
    before = [
        s
        for i, s in enumerate(statements[:start])
        if s is not None and document.sentences[i].piece_at == home.piece_at
    ]
    follows = [
        s
        for i, s in enumerate(statements[stop:], stop)
        if s is not None and document.sentences[i].piece_at == home.piece_at
    ]
    nearest: list[str] = []
    for sentence, statement in zip(document.sentences[stop:], statements[stop:], strict=True):
        if len(nearest) == 3 or (statement is not None and _opens(statement)):
            break
        nearest.append(sentence.view.text)
    return Passage(
        body,
        before,
        lead,
        _piece_of(home),
        home.piece_at,
        home.topics,
        follows,
        " ".join(nearest),
        short_rows,
    )


def _piece_of(sentence: Sentence) -> str:
    """Return the piece a sentence belongs to; a list (abbreviations, materials) is none."""
    return "unknown" if sentence.piece == "list" else sentence.piece


def _without_lead(statement: Statement) -> tuple[Statement, list[Frame]]:
    """Take off the frames before the first bind-off: "... ending with a WS row, cast off ..."."""
    if statement.label is not None:
        return statement, []
    for i, frame in enumerate(statement.frames):
        if frame.verb == "bind_off" or frame.verb in ("aid", "turn"):
            lead = [f for f in statement.frames[:i] if f.verb or f.parts]
            if not lead:
                return statement, []
            body = Statement(
                statement.sentence,
                None,
                statement.frames[i:],
                statement.running,
                statement.sizes,
                statement.opening,
            )
            return body, lead
    return statement, []


def leaves_nothing(passage: Passage) -> bool:
    """Say whether the words of a passage bind off or hold every stitch in the end."""
    fastened = regex.match(r"\W*(?:fasten|break|cut) (?:off|yarn|wool)\b", passage.ahead)
    return bool(fastened) or any(_takes_all(s) for s in passage.statements)


def _two_rows(statements: Sequence[Statement]) -> bool:
    """Say whether bind-offs stand on two rows or more, as far as can be told without numbers."""
    rows = 0
    for statement in statements:
        divided = any(
            (extent := f.one("extent")) is not None and extent.kind == "until_count"
            for f in statement.frames
        )
        if divided:  # one row, however many bind-offs it has
            rows += 1
            continue
        for i, frame in enumerate(statement.frames):
            if frame.verb == "repeat":
                rows += 2
            if frame.verb != "bind_off":
                continue
            if not is_stepped(frame):
                rows += 1
                if statement.label and i == 0:
                    many = statement.label.rows
                    rows += max((v or 0 for v in many.values), default=1) - 1 if many else 0
                continue
            head = frame.parts.get("rows", [])
            times = "times" in frame.parts or "steps" in frame.parts or len(head) > 1
            amount = head[0].amount if head else None
            largest = max((v or 0 for v in amount.values), default=1) if amount else 1
            if head and head[0].kind in ("every_row", "every_other", "every_side_row"):
                largest = 2
            rows += max(largest, 2 if times else 1)
    return rows >= 2
