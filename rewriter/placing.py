"""Where new text stands among the old: the words after it, the lines between its rows, their indent."""

from __future__ import annotations

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.doubt import Unread
from rewriter.frames import Statement
from rewriter.leadmodel import LeadIn
from rewriter.passages import Passage
from rewriter.phrases import ordinal, wording
from rewriter.reading import Draft
from rewriter.spans import Span


def with_gap(draft: Draft, region: Span, last: Statement) -> tuple[Span, bool]:
    """Take in the blank before more text on the same line, which then begins a line of its own."""
    source = draft.document.source.text
    found = regex.compile(r"[ \t]+(?=\S)").match(source, region.end)
    block = draft.document.blocks[last.sentence.block]
    if found and found.end() < block.span.end:
        return Span(region.start, found.end()), True
    wrapped = regex.compile(r"[ \t]*(?:\r\n|\r|\n)[ \t]*(?=\S)").match(source, region.end)
    if draft.document.width is None or wrapped is None or wrapped.end() >= block.span.end:
        return region, False
    if _SIGNED.match(source, wrapped.end()):
        return region, False  # the next step of a numbered list keeps its line
    return Span(region.start, wrapped.end()), True


_SIGNED = regex.compile(
    rf"[{BULLETS}][ \t]*(?=[\w*(])|(?:[-+\u00a3]|\d{{1,2}}(?:[.)]|(?=[ \t]{{2}})))[ \t]+(?=[A-Z*])"
)
_OF_HEIGHT = regex.compile(
    r"(?i)\s+(?:of\s+|in\s+)?(?:(?:total|armhole|whole)\s+)?(?:height|length)\b"
)
# "At the same height and in the same way as on the back": the way is told by the new rows.
_AND_MANNER = regex.compile(
    r"(?i),?\s+and\s+(?:in\s+)?(?:the\s+)?(?:same\s+)?(?:way|manner|decreas\w+|shapings?|steps)\b,?(?=\s)"
)
_OF_LENGTH = frozenset({"since", "reached"})
_BEFORE_LENGTH = regex.compile(r"(?i)\b(?:at|when|after|from)\b[^,.;:()]*\Z")


def length_inside(passage: Passage, source: str, by: int = 0) -> str:
    """Return the words among those of the first step that say at which height it stands, if any do.

    "Cast off for the shoulders at 18 cm armhole height 8 sts ...": they must not go with the old steps.
    A height told in rows changes `by` so many: the new rows begin as much lower.
    Raises Unread where they cannot be told from the others.
    """
    found = ""
    for statement in passage.statements:
        for i, frame in enumerate(statement.frames):
            refers = frame.verb == "refer" and passage.statements[0] is statement
            if not refers and (frame.verb != "bind_off" or frame.takes_all):
                continue
            height = next((n for n in frame.notes if n.concept == "height"), None)
            length = frame.one("measure")
            told = height or length
            if told is None:
                continue
            before = source[frame.start : told.span.start]
            opening = _BEFORE_LENGTH.search(before) if height is None else None
            first = statement is passage.statements[0] and i == 0
            if not first or (height is None and opening is None) or (height and length):
                raise Unread(
                    "length-among-steps",
                    "a length stands among the words of these steps; write it before them",
                    told.span,
                )
            more = _OF_HEIGHT.match(source, told.span.end)
            end = more.end() if more else told.span.end
            for note in sorted(frame.notes, key=lambda n: n.span):
                # "when 19 cm above the armhole mark are reached"
                beside = not source[end : note.span.start].strip() and note.span.start >= end
                end = note.span.end if beside and note.concept in _OF_LENGTH else end
            words = source[told.span.start : end]
            if told.kind == "rows_high" and told.amount is not None:
                words = _with_numbers(words, told.amount.span.end - told.span.start, by)
            led = _AT_EDGES.sub("", opening.group()) if opening else ""
            found = f"{led}{words}"
    return _BARE_HEIGHT.sub("at the ", _AND_MANNER.sub("", found))


# "cast off at both sides after 142 rows": the rows say at which edges they turn
_AT_EDGES = regex.compile(r"(?i)\A(?:at|on)\s+(?:both|each)\s+(?:sides?|edges?|ends?)\s+(?=\pL)")


def _with_numbers(words: str, stop: int, by: int) -> str:
    """Return words with the numbers that stand before `stop` changed by so many."""

    def changed(number: regex.Match[str]) -> str:
        n = int(number["n"]) + by
        return ordinal(n) if number["nth"] else str(n)

    head = regex.sub(r"(?P<n>\d+)(?P<nth>(?:st|nd|rd|th)\b)?", changed, words[:stop])
    return f"{head}{words[stop:]}"


# "SHOULDER: same height as the back": an item of a list, which goes on as a sentence now
_BARE_HEIGHT = regex.compile(r"(?i)\A(?=same\s)")


_BULLET = regex.compile(
    rf"[ \t]*(?:[-*+{BULLETS}\u00a3]|\d+[.)]|\d{{1,2}}(?=[ \t]{{2}}))[ \t]+|[ \t]+"
)


def between_lines(draft: Draft, passage: Passage) -> tuple[str, str]:
    """Return what parts two rows of the new text, and the indent of each."""
    source = draft.document.source
    newline = source.newline()
    block = draft.document.blocks[passage.sentence.block]
    line = source.line_starts[source.place(passage.span.start)[0] - 1]
    found = _BULLET.match(source.text, line, passage.span.start)
    indent = found.group() if found else ""
    if source.format != "markdown" and regex.search(r"\d", indent):
        indent = " " * len(indent)  # the number stands before the first line only
    by_sign = bool(indent.strip()) and indent.strip() in BULLETS
    if source.format != "markdown" or block.kind == "item" or by_sign:
        return newline, indent
    inside = source.text[block.span.start : block.span.end]
    label_lines = regex.findall(
        r"(?m)^\s*\**(?:Next|NEXT|next|Rows?|ROWS?|\d+(?:st|nd|rd|th)) ", inside
    )
    if len(label_lines) > 1 or _hard_lines(inside, draft.document.width):
        return newline, ""
    return newline * 2, ""


def _hard_lines(block: str, width: int | None) -> bool:
    """Say whether a block of Markdown is written in short lines, one instruction each."""
    lines = block.splitlines()
    return width is None and len(lines) > 1


_COUNTED_FROM = regex.compile(
    r"(?i)\s+(?:counted\s+|counting\s+)?(?:from|after|since|of|above)\s[^,.(:;\d]*"
)
_NUMBERED = regex.compile(r"\d+(?:st|nd|rd|th)?")
_MOST_OF_STEPS = 2
"""A first bind-off in row 1 or 2 is counted from the shoulder's own first row."""


def row_inside(passage: Passage, lead_in: LeadIn, source: str, by: int) -> str:
    """Return the words that number the row where the new rows begin, "in the 56th row from the armhole".

    The first bind-off is told for a row by its number, and nothing before it leads up to that row; `by` is
    where the new rows begin, counted from it. Empty where no such number would be lost.
    """
    first = passage.statements[0]
    frame = first.frames[0] if first.frames and first.label is None else None
    rows = frame.one("rows") if frame is not None and frame.verb == "bind_off" else None
    if frame is None or rows is None or rows.kind != "row_number" or not rows.numbers:
        return ""
    number = rows.numbers[0]
    led = any(m.fact == "rows" and set(m.values) == {number - 1} for m in lead_in.mentions)
    if number <= _MOST_OF_STEPS or led:
        return ""
    told = _NUMBERED.search(rows.span.of(source))
    more = _COUNTED_FROM.match(source, rows.span.end)
    verb = regex.compile(r"(?i)\s+(?:bind|cast|close|bo|c/o)\b").search(source, rows.span.end)
    counted = ""
    if more is not None and verb is not None and more.start() < verb.start():
        counted = source[more.start() : min(more.end(), verb.start())].rstrip()
    nth = told is not None and not told.group().isdigit()
    words = wording()["lead"]["in_nth" if nth else "in_row"]
    return f"{words.format(n=ordinal(number + by) if nth else number + by)}{counted}"
