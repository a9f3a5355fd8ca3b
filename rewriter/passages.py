"""Find the stepped passages of a draft: runs of sentences that tell bind-offs at the edges of rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import dropwhile

from rewriter import regex
from rewriter.asks import Decision
from rewriter.dividing import is_dividing
from rewriter.document import Document, Sentence
from rewriter.edgenames import hand_named, is_upright, name_edges
from rewriter.frames import Frame, Statement
from rewriter.lexicon import gives_cue
from rewriter.neckrest import name_rest
from rewriter.notions import find_abbreviations
from rewriter.rowframes import is_stepped
from rewriter.rowkinds import opens, turns
from rewriter.rowsentences import joined_rows
from rewriter.rowturned import from_turned_stretch
from rewriter.runs import stop_of_run, takes_all_sts, tells_no_row
from rewriter.shortframes import leaves_unworked, turns_before_end, works_short
from rewriter.shorthand import doubt_short_words
from rewriter.sizeheads import size_head
from rewriter.sizes import Sizes
from rewriter.sizesleft import others_named
from rewriter.spans import Span
from rewriter.statements import read_statement
from rewriter.verbless import with_verbs


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
    nearest: list[str] = field(default_factory=list)
    """The words of the sentences right before it in its piece, in lower case, nearest last."""
    ahead: str = ""
    """The words right after it, in lower case."""
    short_rows: bool = False
    """It turns before the edge: a shoulder already in short rows."""
    headed: bool = False
    """A heading stands right before it."""
    followed: bool = True
    """Its rows can be followed; a shoulder's bind-offs in other words are found, but not read."""
    decisions: tuple[Decision, ...] = ()
    """What the reader decided about it."""
    counted: tuple[int, ...] | None = None
    """Sts on the needle before it, for each size, as the reader gave them."""
    dropped: tuple[Span, ...] = ()
    """Words that change nothing, as the reader said; its sentences are read without them."""

    @cached_property
    def span(self) -> Span:
        """From the first bind-off to the last word of the passage."""
        return Span(_first(self.statements[0]), self.statements[-1].span.end)

    def take_in(self, more: Sequence[Statement]) -> None:
        """Put sentences that stand before it in front of its own."""
        self.statements = [*more, *self.statements]
        self.__dict__.pop("span", None)

    @property
    def opening_words(self) -> Span:
        """Words before the first bind-off in its sentence that are no lead-in ("Keeping patt correct,")."""
        start = self.statements[0].span.start if not self.lead else self.span.start
        while start < self.span.start and self.sentence.source[start] in "\u2013\u2014":
            start += 1  # "Shape for shoulders:\u2014Bind off ...": the dash goes with the heading
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
    meanings = find_abbreviations(document.source.text)
    names = sizes.names
    for sentence in document.sentences:
        if meanings is not None and meanings.covers(sentence.span):
            out.append(None)  # what words mean is no instruction
            continue
        words = sentence.view.text
        if sentence.heading or not (gives_cue(words) or _names_sizes(words, names)):
            out.append(None)
            continue
        statement = read_statement(sentence, names, sizes.phrased)
        if statement is not None:
            name_edges(statement, sentence.piece, _hand_in(document, sentence))
            doubt_short_words(statement)
        out.append(statement)
    document, joined = joined_rows(document, others_named(with_verbs(out), len(sizes)))
    return document, name_rest(document, joined)


def _names_sizes(text: str, names: Sequence[str]) -> bool:
    """Say whether a sentence is nothing but words that name sizes: "Age 6 only:", "2X and 3X:"."""
    head = size_head(text, names) if len(text) < _LONGEST_NAMES and len(names) > 1 else None
    return head is not None and head.end == len(text)


_LONGEST_NAMES = 80


def _hand_in(document: Document, sentence: Sentence) -> str:
    """Return the hand of the one edge that a piece names by it, for a sentence about a shoulder."""
    if "hand" not in sentence.view.text or not is_upright(document.source.text):
        return ""
    if "shoulder" not in sentence.topics and "shoulder" not in sentence.view.text:
        return ""
    return hand_named(s.text for s in document.sentences if s.piece_at == sentence.piece_at)


def find_passages(document: Document, statements: Sequence[Statement | None]) -> list[Passage]:
    """Return the stepped passages in order, and those already in short rows."""
    out: list[Passage] = []
    at = 0
    count = len(statements)
    while at < count:
        statement = statements[at]
        if statement is None or not opens(statement):
            at += 1
            continue
        stop = stop_of_run(document, statements, at)
        before = statements[at - 1] if at else None
        if before is not None and before.sizes and not before.frames:
            at -= 1  # "3rd and 4th sizes only", on a line of its own
        while at and _square_for_others(document, statements, at):
            at -= 1
        passage = _passage(document, statements, at, stop)
        if passage is not None:
            out.append(passage)
        at = max(stop, at + 1)
    return out


def _square_for_others(document: Document, statements: Sequence[Statement | None], at: int) -> bool:
    """Say whether the sentence before binds off all sts of other sizes in one row.

    "For size S, cast off all 16 sts at beg of next row. For sizes M and L, cast off 9 (10) sts ..."
    """
    told, before = statements[at], statements[at - 1]
    if told is None or before is None or not told.sizes or not before.sizes:
        return False
    same = document.sentences[at].piece_at == document.sentences[at - 1].piece_at
    verbs = [f.verb for f in before.frames if f.verb]
    apart = not set(told.sizes) & set(before.sizes)
    return same and apart and verbs == ["bind_off"] and before.frames[0].takes_all


def _passage(
    document: Document, statements: Sequence[Statement | None], start: int, stop: int
) -> Passage | None:
    run = [s for s in statements[start:stop] if s is not None]
    home = document.sentences[start]
    short_rows = any(turns(s) for s in run if not is_dividing(s))
    first, lead = without_lead(run[0])
    if start and not lead and _tells_neck_row(statements[start - 1]):
        first = _without_same_time(first)
    body = [first, *run[1:]]
    if short_rows and from_turned_stretch(run[0]) is not None:
        if lead and any(f.verb == "work" for f in lead):
            first, lead = run[0], []  # "K 26, cast off ...": the row begins before its bind-off
        body = [first, *dropwhile(tells_no_row, run[1:])]
    if home.piece == "list" if short_rows else not two_rows(body):
        return None  # a list of abbreviations explains how to turn, but turns nothing
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
        if len(nearest) == 3 or (statement is not None and opens(statement)):
            break
        nearest.append(sentence.view.text)
    return Passage(
        body,
        before,
        lead,
        piece_of(home),
        home.piece_at,
        home.topics,
        follows,
        [
            s.view.text
            for s in document.sentences[max(0, start - 4) : start]
            if s.piece_at == home.piece_at and not s.heading
        ],
        " ".join(nearest),
        short_rows,
        headed=start > 0 and document.sentences[start - 1].heading,
    )


def _tells_neck_row(statement: Statement | None) -> bool:
    """Say whether a sentence tells one row that binds off at the neck edge, and nothing else."""
    frames = [f for f in statement.frames if f.verb or f.parts] if statement else []
    if len(frames) != 1 or frames[0].verb != "bind_off" or frames[0].edge != "neck":
        return False
    rows = frames[0].one("rows")
    times = frames[0].one("times")
    once = times is None or times.concept == "1" or (times.amount and times.amount.values == (1,))
    if rows is None or rows.amount is not None or not once:
        return False
    return rows.kind == "next_rows" or (rows.kind == "every_other" and times is not None)


def _without_same_time(statement: Statement) -> Statement:
    """Take off "at the same time" behind a row at the neck: that row is the one before the first step."""
    head, *others = statement.frames
    notes = [n for n in head.notes if n.concept != "same_time"]
    return replace(statement, frames=[replace(head, notes=notes), *others])


def piece_of(sentence: Sentence) -> str:
    """Return the piece a sentence belongs to; a list (abbreviations, materials) is none."""
    return "unknown" if sentence.piece == "list" else sentence.piece


def without_lead(statement: Statement) -> tuple[Statement, list[Frame]]:
    """Take off the frames before the first bind-off: "... ending with a WS row, cast off ..."."""
    if statement.label is not None:
        return statement, []
    for i, frame in enumerate(statement.frames):
        if frame.verb == "bind_off" or frame.verb in ("aid", "turn"):
            own = turns_before_end(frame)
            if i and frame.verb == "turn" and not own and works_short(statement.frames[i - 1]):
                i -= 1  # "P to last 8 sts, turn": the row begins with its work
                # "Purl, leaving the last 8 sts unworked; turn", and the same told for rows twice over
                while (
                    i and leaves_unworked(statement.frames[i]) and _leads(statement.frames[i - 1])
                ):
                    i -= 1
            lead = [f for f in statement.frames[:i] if f.verb or f.parts]
            if not lead or _told_together(statement.frames, i):
                return statement, []
            # counts told before the first bind-off are those before it
            early = [p for p in statement.running if p.span.end <= frame.start]
            body = Statement(
                statement.sentence,
                None,
                statement.frames[i:],
                [p for p in statement.running if p not in early],
                statement.sizes,
                tuple((sizes, frames[i:]) for sizes, frames in statement.by_size),
                [*statement.opening, *early],
            )
            return body, lead
    return statement, []


def _leads(frame: Frame) -> bool:
    """Say whether a frame tells the rows of those behind it that leave sts unworked."""
    works = frame.verb == "work" and frame.parts.keys() <= {"rows"}
    return works or leaves_unworked(frame)


def _told_together(frames: Sequence[Frame], at: int) -> bool:
    """Say whether decreases stand before the first bind-off for the same rows."""
    noted = any(n.concept == "same_time" for f in frames[: at + 1] for n in f.notes)
    return noted and any(f.verb == "decrease" for f in frames[:at])


def says_none_left(ahead: str) -> bool:
    """Say whether the words right behind a passage say that no sts remain."""
    return _NONE_LEFT.match(ahead) is not None


_GONE = r"(?:now\s+)?(?:used\s+up|worked\s+off|bound\s+off|cast\s+off|gone)\b"
_NONE_LEFT = regex.compile(
    r"\W*(?:0|no)\s+(?:sts|stitches)\s+(?:now\s+)?(?:remain|are\s+left|left|rem)\b"
    rf"|\W*all\s+(?:(?:of|the)\s+)*(?:sts|stitches)\s+(?:are|have\s+been)\s+{_GONE}"
    rf"|\W*(?:the\s+)?(?:sts|stitches)\s+are\s+(?:now\s+)?all\s+{_GONE}"
    r"|\W*(?:sts|stitches)\s+(?:remaining|left|rem)\W{1,3}0\b"
)


def leaves_nothing(passage: Passage) -> bool:
    """Say whether the words of a passage bind off or hold every stitch in the end."""
    fastened = regex.match(r"\W*(?:fasten|break|cut) (?:off|yarn|wool)\b", passage.ahead)
    none_left = says_none_left(passage.ahead)
    none_counted = any(
        p.amount is not None and set(p.amount.values) == {0}
        for s in passage.statements
        for p in [
            *s.running,
            *(p for f in s.frames if not f.verb for p in f.parts.get("count", ())),
        ]
    )
    counted = bool(fastened or none_left) or none_counted
    return counted or any(takes_all_sts(s) for s in passage.statements)


def two_rows(statements: Sequence[Statement]) -> bool:
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
                    rows += len(statement.label.numbers[1:])  # "Rows 1-4: BO 7 sts, work to end"
                continue
            head = frame.parts.get("rows", [])
            times = (
                bool(frame.parts.keys() & {"times", "shares"})
                or "steps" in frame.parts
                or len(head) > 1
            )
            amount = head[0].amount if head else None
            largest = max((v or 0 for v in amount.values), default=1) if amount else 1
            if statement.label and statement.label.rows and not head:
                largest = max((v or 0 for v in statement.label.rows.values), default=1)
            if head and head[0].kind in ("every_row", "every_other", "every_side_row"):
                largest = 2
            rows += max(largest, 2 if times else 1)
    return rows >= 2
