"""Shoulders told in words that give no steps: they are found all the same, and asked about."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from rewriter import regex
from rewriter.dividing import holds_first, is_dividing
from rewriter.document import Document
from rewriter.doubt import Unread
from rewriter.evidencewords import BODIES
from rewriter.frames import Statement
from rewriter.lexicon import lexicon
from rewriter.mixedcolumns import is_mixed
from rewriter.passages import Passage, piece_of, without_lead
from rewriter.rowframes import is_note, is_stepped
from rewriter.runs import goes_on_behind_neck

_SHOULDER = regex.compile(r"\b(?:shoulders?|straps?)\b")
_TOLD = regex.compile(
    r"\b(?:seams?|sew|join|graft|needle bind|needle cast|short[- ]rows?|instead)\b"
    r"|\A\W*pick(?:ed|ing)? up\b"
)


# Steps in words that give none: run together by a scanner, or told as a decrease.
_ODD_WORDS = regex.compile(
    r"\b(?:cast|bind)\s?of[ft]?(?![a-z]).*[a-z](?:thebeg|begof|ofevery|everyrow|nextrow)"
    r"|\bdecreased\b[^.]*\bbinding\b[^.]*\boff\b"
)


def overlooked(
    document: Document, statements: Sequence[Statement | None], found: Sequence[Passage]
) -> list[Passage]:
    """Return shoulders whose bind-offs are told in words that give no steps: never passed over in silence.

    A shoulder bound off in one row has no steps and is none of them.
    """
    out = []
    taken = [p.span for p in found]
    pieces = any(s.piece not in ("unknown", "list") for s in document.sentences)
    for at, (sentence, statement) in enumerate(zip(document.sentences, statements, strict=True)):
        if statement is None or is_note(statement) or sentence.piece in ("other", "sleeve"):
            continue
        text = sentence.view.text
        torn = is_mixed(document.source.text, sentence.span)
        torn = torn and sentence.piece in BODIES and _BINDS.search(text) is not None
        named = (
            torn
            or sentence.topics[-1:] == ("shoulder",)
            or _SHOULDER.search(text)
            or _without_count(statement)
            or _ODD_WORDS.search(text)
            or _AS_ELSEWHERE.search(text)
            or (sentence.piece in BODIES and (told_in_shares(text) or _lost_count(statement)))
        )
        inside = any(t.start < sentence.span.end and sentence.span.start < t.end for t in taken)
        stepped = (
            torn
            or _may_be_stepped(statement)
            or _without_count(statement)
            or _ODD_WORDS.search(text)
            or (told_in_shares(text) and (sentence.piece not in ("unknown", "list") or not pieces))
            or _broken(statement)
            or _AS_ELSEWHERE.search(text)
            or (_BY_NUMBERS.search(text) and _BINDS.search(text))
            or _CHAIN_OF_STS.search(text)
            or _goes_on(document, statements, at)
            or _without_verb(statement, named=sentence.topics[-1:] == ("shoulder",))
            or _lost_count(statement)
            or is_dividing(statement)
            or holds_first(statement)
        )
        if inside or not named or _TOLD.search(text) or not stepped:
            continue
        home = [
            (i, s)
            for i, s in enumerate(statements)
            if s is not None and document.sentences[i].piece_at == sentence.piece_at
        ]
        first, lead = without_lead(statement)
        out.append(
            Passage(
                [first],
                [s for i, s in home if i < at],
                lead,
                piece_of(sentence),
                sentence.piece_at,
                sentence.topics,
                [s for i, s in home if i > at],
                followed=False,
            )
        )
    return out


def _goes_on(document: Document, statements: Sequence[Statement | None], at: int) -> bool:
    """Say whether, more sts are bound off behind this row under the heading of a shoulder."""
    home, first = document.sentences[at], statements[at]
    if home.topics[-1:] != ("shoulder",) or first is None or not _binds_some(first):
        return False
    if goes_on_behind_neck(first):
        return False
    for sentence, statement in zip(document.sentences[at + 1 :], statements[at + 1 :], strict=True):
        if sentence.heading or sentence.piece_at != home.piece_at or sentence.topics != home.topics:
            return False
        if statement is None:
            continue
        if any(f.verb == "join" for f in statement.frames):
            return False
        if any(f.verb == "bind_off" and f.edge != "neck" for f in statement.frames):
            return True
    return False


def _binds_some(statement: Statement) -> bool:
    """Say whether a row binds off sts, not at the neck, and is worked on behind them.

    "Next row: As 1st row of first shoulder, casting off 6 sts" goes on as that row does.
    """
    frames = statement.frames
    if statement.label and [f.verb for f in frames if f.verb] in (
        ["refer", "bind_off"],
        ["repeat", "bind_off"],
    ):
        return True
    return any(
        one.verb == "bind_off" and one.amount and one.edge != "neck" and not one.takes_all
        and then.verb == "work"
        for one, then in pairwise(frames)
    )  # fmt: skip


def not_followed(passage: Passage) -> Unread:
    """Return why the bind-offs of such a shoulder are not read."""
    if any(_BY_NUMBERS.search(s.sentence.view.text) for s in passage.statements):
        return Unread(
            "steps-elsewhere",
            "this shoulder takes its numbers from another one: write its own rows out",
            passage.span,
        )
    if any(told_in_shares(s.sentence.view.text) for s in passage.statements):
        return Unread(
            "steps-unclear",
            "sts are bound off here for a shoulder in so many steps, but how many in each is not told",
            passage.span,
        )
    if any(f.verb == "bind_off" and not f.amount for s in passage.statements for f in s.frames):
        return Unread(
            "no-count",
            "the rows of these bind-offs are told, but not how many sts (does a table stand behind "
            "it whose columns were lost?)",
            passage.span,
        )
    return Unread(
        "not-followed",
        "sts are bound off here for a shoulder, but the words do not say clearly in which rows",
        passage.span,
    )


# "Bind off the 25 in the same goes as you picked for the back": the steps are told elsewhere.
_AS_ELSEWHERE = regex.compile(
    rf"\b(?:bind|cast)\b[^.;]*\boff\b[^.;]*\b(?:same|as many|such|equal)\s+"
    rf"(?:(?:number|amount)\s+of\s+)?{lexicon().patterns['SHARES']}\s+(?:as|like)\b"
)


# "Slope the shoulder with the same numbers as the back, casting off at the start of RS rows"
_BY_NUMBERS = regex.compile(
    r"\b(?:same|identical)\s+(?:numbers?|amounts?|counts?|groups?|steps?|sts|stitches)\b[^.;]{0,40}\b(?:as|like)\s+"
    r"(?:(?:on|for|in|at|the|left|right)\s+)*(?:back|front|first\s+side)\b"
)


# "You bind the shoulder off on the purl side: 5, then 5, then 6"
_CHAIN_OF_STS = regex.compile(
    r"\b(?:bind|cast)(?:ing)?\b[^.;:]{0,40}\boff\b[^.;:]*:\s*\d{1,2}\s*,\s*(?:(?:and\s+)?then\s+)?\d{1,2}(?![\d\s,]*\s(?:cm|in))"
)
# Words of old leaflets for binding off that are no instruction by themselves.
_BINDS = regex.compile(
    rf"{lexicon().patterns['BIND_OFF']}|(?<![a-z])(?:get(?:ting)?\s+rid\s+of|dispos(?:e|ing)\s+of)(?![a-z])"
)
_SHARES = regex.compile(
    # the last number of a list, "5 - 7 - 8 times", tells no shares
    rf"(?<![\w-])(?<!\d[)\]]?\s?[-\u2013:,/(\[]\s?)(?:[2-9]|(?:a )?few|several|some"
    rf"|{'|'.join(w for w, n in lexicon().numbers.items() if 1 < n < 10)})\s+"
    rf"{lexicon().patterns['SHARES']}"
    r"|(?<![\w-])in\s+(?:halves|thirds|quarters)(?![a-z])"
)


def told_in_shares(text: str) -> bool:
    """Say whether the view of a sentence binds off sts "in 3 portions", whatever else it tells."""
    return _BINDS.search(text) is not None and _SHARES.search(text) is not None


def _without_count(statement: Statement) -> bool:
    """Say whether rows of bind-offs are counted but not their sts, as where a table was flattened."""
    for frame in statement.frames:
        rows = frame.one("rows")
        if frame.verb != "bind_off" or "count" in frame.parts or rows is None:
            continue
        many = rows.amount is not None and max(v or 0 for v in rows.amount.values) > 1
        often = rows.kind == "every_other" and (
            "times" in frame.parts or (frame.edge == "armhole" and "steps" not in frame.parts)
        )
        if many or often:
            return True
    return False


def _lost_count(statement: Statement) -> bool:
    """Say whether a bind-off at the beginning of rows has lost its number: "Cast off £ sts at beg of"."""
    source = statement.sentence.source
    for frame in statement.frames:
        beg = frame.one("beg")
        lost = "count" not in frame.parts and "rows" in frame.parts
        if frame.verb == "bind_off" and beg is not None and lost:
            return _STITCHES.search(source, frame.start, beg.span.start) is not None
    return False


_STITCHES = regex.compile(r"(?i)\b(?:sts?|stitches|loops)\b")


def _without_verb(statement: Statement, named: bool) -> bool:
    """Say whether steps of a shoulder are told without what is done: "Shoulder slope: 2 x 7 sts".

    `named`: its heading names the shoulder; then "at each end, every 2 rows: 8-9-9 sts" are steps too.
    """
    frames = statement.frames
    told = any("steps" in f.parts or {"times", "count"} <= f.parts.keys() for f in frames)
    placed = any(
        {"count", "rows"} <= f.parts.keys() and f.parts.keys() & {"each_side", "edge"}
        for f in frames
    )
    if any(f.verb not in ("", "refer") for f in frames):
        return False
    return (told and bool(_SHOULDER.search(statement.sentence.view.text))) or (named and placed)


_OFF = regex.compile(r"\b(?:bind|cast)\s+off\s+\d")


def _broken(statement: Statement) -> bool:
    """Say whether a bind-off cannot be read at all: a list cut off, columns mixed."""
    unread = not any(f.verb for f in statement.frames)
    return unread and bool(_OFF.search(statement.sentence.view.text))


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
