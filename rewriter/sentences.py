"""From blocks to sentences and run-in headings, each with its place.

Within a block a line break ends a sentence only where the writer broke the line on purpose: where
the next word would have fitted, or the next line begins with a row label or is a heading.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from typing import TypeGuard

from rewriter.blocks import Block, has_lower_case, lines_of
from rewriter.bullets import BULLETS
from rewriter.figures import columns_of, ends_in_figures, leads_to_figures
from rewriter.headings import is_heading_words, names_piece
from rewriter.sizeheads import size_head
from rewriter.spans import Span

_ROWS_NAMED = (
    r"(?:(?:[Ll]ast|[Ff]inal)\s+(?:shoulder|shaping)\s+row|[Nn](?:ext|EXT)\s+(?:[Rr]ow|ROW|\d+\s+[Rr]ows)|[Rr](?:ows?|OWS?)\s+\d[\d\s,&\u2013-]*(?:and\s+\d+)?"
    r"|\d+(?i:st|nd|rd|th)(?:\s+(?:and|&|to)\s+\d+(?i:st|nd|rd|th))?"
    r"\s+(?i:(?:shoulder|shaping|slope|sloping|neck|armhole)\s+)?(?i:rows?)"
    r"|[Rr]\s?\d{1,3}(?:\s?(?:[-\u2013,&]|and)\s?[Rr]?\d{1,3})*)"
)
# A row label opens a line, in a table with blanks behind it; one that goes on with "next row and" does not.
_ROW_LABEL = re.compile(
    rf"\**{_ROWS_NAMED}(?:\s*\**[:.(\[\u2013\u2014-]|[ \t]{{2,}}(?=[A-Z]))|[-*{BULLETS}]\s(?![(\[-])"
)
_LABEL_ONLY = re.compile(
    r"\W*(?:[Nn]ext [Rr]ow|NEXT ROW|[Rr]ows?\s+[\d\s,&\u2013-]+"
    r"|\d+(?i:st|nd|rd|th)(?:(?:\s+and\s+|\s+to\s+|,\s*)\d+(?i:st|nd|rd|th))*"
    r"\s+(?i:(?:shoulder|shaping|slope|sloping|neck|armhole)\s+)?(?i:rows?))"
    r"\s*(?:[(\[]\w+(?:[\s-]+\w+){0,2}[)\]])?\s*\."
)
# A row label at the end of a line: its row stands on the next one. "..., having purled a row, shape the
# shoulder:" is none.
_OPEN_LABEL = re.compile(
    r"(?i)\brows?\b(?:[^:.,]|,(?=\s*(?:\d|and|[rw]\.?s\b|right|wrong))){0,20}:$"
)
_NEVER_LAST = re.compile(r"(?i)\b(?:beg|heg|foll|foil|foli|alt)\.$")
_ABBREVIATED = re.compile(
    r"\b(?:sts?|beg|heg|rem|foll?|alt|dec|inc|patt?|rep|k|p|ins?|cms?|approx|cont|tog|tot|hgt|nos?|sl|pat|incl|ndls?|wl|fwd|yfwd|yfd|yf|yrn|yon|psso|tbl|ozs?|meas|rnds?|yds?|mths?|yrs?|[rw]\.\s?s|c\.\s?o|i\.\s?e|e\.\s?g|viz)\.$",
    re.I,
)
_AFTER_STS = re.compile(r"(?i)\b(?:sts?|stitch(?:es)?|cms?|ins)\.$")
# A stitch count that stands as a sentence of its own: "102 sts.", "43(47) sts rem."
_TOTAL = re.compile(
    r"[(\[]?\d[^a-zA-Z.]*(?i:sts?|stitches)\b(?i:\s+(?:rem\w*|left|now))?\W*(?:\Z|[.)\]]\W*(?:\s|\Z))"
)
# "Shape the shoulders as follows:- 1st row.-Cast off ...", "Begin shoulders - Row 1: Cast off ...",
# "Work the slope as follows: counting from the armhole edge, hang a marker ..."
_INTRODUCES = (
    r"(?<=[a-z]{3})(?:\s*:\s?[\u2013\u2014-]?|[.,]?\s?[\u2013\u2014])"
    rf"(?=\s*\**{_ROWS_NAMED}\s*(?:[:.(\u2013\u2014]))"
    r"|(?:(?<=follows)|(?<=thus)):(?=\s*counting\s+from\b)"
)
_SENTENCE_END = re.compile(
    r"[.!?]+[\"'\u201d\u2019)\]*_]*(?=\s)|(?<=[a-z])\.(?=[A-Z]{3,}\s)|(?<=rows)\.(?=\d)"
    rf"|{_INTRODUCES}"
    r"|(?<=[a-z][)\]])(?=\s)"
)
# "(37 sts) Cast off.": a count in brackets is of the rows before, and a sentence of its own.
_COUNT_ALONE = re.compile(
    r"\s*[(\[]\s*\d[^a-zA-Z]*(?i:sts?|stitches)\b(?i:\s+(?:rem\w*|left|now))?\s*[)\]]"
)
_RUN_IN = re.compile(
    r"(?P<mark>\*|_|\[[BbIi]\])*(?P<words>(?:[LR]t?\.\s?|(?:1st|2nd)\s)?[A-Za-z &/',\r\n-]{3,60}?)"
    r"(?:\s*\([^()\d]{1,20}\)|\s*[(\[]\d[^\[\]A-Za-z]{0,40}\s?(?:sts?|stitches)[)\]]"
    # "LEFT FRONT, 20 (22) sts left: ..."
    r"|,\s*\d[^\[\]A-Za-z]{0,40}\s?(?:sts?|stitches)(?:\s+(?:left|rem|remaining|remain))?(?=\s?:))?\s?"
    r"(?:\*|_|\[/[BbIi]\])*(?:(?<=\[/[BbIi]\])|:"
    r"|\.?(?:[\u2014\u2013]|--)|(?<=\s)-(?=\s)|\.{1,4}(?=[*_]{0,2}\s)|\.-(?=\s)|(?:\.{2,4}|\u2026)(?=[*_]{0,2}[A-Z])|(?(mark)(?<=[*_])(?=\s)|(?!)))(?(mark)(?:\*|_|\[/[BbIi]\])*)\s*"
)


_COUNT_BEHIND = re.compile(r"\s*[=:]\s*\d[\d\s(),:;/\u2013-]*(?:sts?|stitches)\.?\Z")
_FORUM_MARK = re.compile(r"\[/?[BbIiUu]\]")
_BRACKETED = re.compile(r"^[\[<](?=[A-Z][a-z])")  # "[Left shoulder] Work symmetrically."
_SIDE_ONLY = re.compile(r"(?i)\W*(?:right|wrong)[ -]side(?: row)?\W*")
_LEFT_SIDE = re.compile(r"(?i)\bleft[ -]side\b")


def _labels_row(words: str, text: str) -> bool:
    """Say whether "Right side:" labels a row: where a text has a left side too, it heads the other one."""
    return bool(_SIDE_ONLY.fullmatch(words)) and not has_left_side(text)


@lru_cache(maxsize=8)
def has_left_side(text: str) -> bool:
    """Say whether a text names a left side."""
    return _LEFT_SIDE.search(text) is not None


# "Shoulder slope, both edges: bind off ...": the edges are told of the rows, and are no part of the heading.
_EDGES_BEHIND = re.compile(
    r"(?i),\s+(?=(?:(?:at|on)\s+)?(?:both|each|the two)\s+(?:edges?|sides?|ends?)\b)"
)


# "*Sizes - (-, -) (3, 4) only:* Bind off ...": for which sizes a sentence is, in the middle of a piece.
_FOR_SOME_SIZES = re.compile(r"(?i)[*_\s]*(?:sizes?|szs?)\b[^.:]{1,80}\bonly\b")


def _plain(words: str) -> str:
    return words[:80].lower().replace("\u2013", "-").replace("\u2014", "-")


def _opens_heading(run_in: re.Match[str] | None, stop: int) -> TypeGuard[re.Match[str]]:
    """Say whether a match of a run-in heading is one, with text behind it or rows on the next lines."""
    if run_in is None or _labels_row(run_in.group(), run_in.string):
        return False
    if run_in.end() >= stop and not run_in.group().rstrip().endswith(":"):
        return False
    words = run_in.string[run_in.start() : stop]
    if run_in.group().rstrip().endswith(" -") and not names_piece(run_in.group("words")):
        return False  # "Back - cast on 96" opens the back, "Begin shoulders - Row 1" labels a row
    if _FOR_SOME_SIZES.match(words) or size_head(_plain(words)):
        return False
    return is_heading_words(run_in.group("words")) or opens_part(run_in.group("words"), words)


# "PEPLUM POCKET—Cast on 26 sts": a part of its own, by whatever name.
_OWN_STS = re.compile(
    r"\W*(?i:(?:with|using)\b[^.;]{0,60}?\W)?(?i:cast(?:ing)?\s+on|pick\s+up|pick(?:ing)?\s+up)\b"
)


_LONGEST_NAME = 60


def opens_part(name: str, text: str) -> bool:
    """Say whether a name in capitals begins a part with sts of its own; `text` begins with the name."""
    letters = [c for c in name if c.isalpha()]
    start = text.find(name) + len(name)
    set_off = (
        name.isupper() and not text[start : start + _LONGEST_NAME].isupper()
    )  # no text in capitals
    return len(letters) > 3 and set_off and _OWN_STS.match(text, start) is not None


def _is_heading_line(line: str, capitals: bool = True) -> bool:
    bare = _FORUM_MARK.sub("", line).strip().strip("*_#<>").strip()
    bare = re.sub(r"\s*\([^()]*\)(?=:?$)", "", bare)  # "Sleeves (make 2)"
    if _SIDE_ONLY.fullmatch(bare):
        return False  # "Right side:" labels a row
    counted = _COUNT_BEHIND.search(bare)
    if counted and bare[: counted.start()].isupper():
        bare = bare[: counted.start()]  # "BACK = 90-98-104 sts"
    if not bare or len(bare) > 60 or bare.endswith((",", ";")) or any(c.isdigit() for c in bare):
        return False
    if is_heading_words(bare.rstrip(":.")):
        return True
    letters = [c for c in bare if c.isalpha()]
    if capitals and len(letters) > 3 and all(c.isupper() for c in letters):
        return True
    wrapped = re.fullmatch(r"(?:(\*\*|__|\*|_)[^*_]+\1|\[[Bb]\][^\[\]]+\[/[Bb]\]):?", line.strip())
    return bool(wrapped) and not bare.endswith(".") and len(bare.split()) <= 7


def cut_sentences(
    text: str, block: Block, width: int | None, markup: bool
) -> Iterator[tuple[Span, bool]]:
    """Yield the sentences of a block, and whether each is a heading."""
    if block.kind == "heading":
        yield block.span, True
        return
    trimmed = [_trim_line(text, line) for line in lines_of(text, block.span)]
    trimmed = [line for line in trimmed if line.end > line.start]
    numbered = _is_numbered([line.of(text) for line in trimmed])
    lines = [_without_sign(text, line, numbered) for line in trimmed]
    # in a draft that is all in capitals they set no heading apart
    capitals = has_lower_case(text)
    headings = [
        _is_heading_line(line.of(text), capitals)
        and not (i and _runs_on(lines[i - 1].of(text), width))
        and not (i and line.of(text)[:1].islower() and text[lines[i - 1].end - 1] not in ".:!?")
        for i, line in enumerate(lines)
    ]
    words = [line.of(text) for line in lines]
    measure = max([width or 0, *map(len, words)])
    rows = [w for w, heading in zip(words, headings, strict=True) if not heading]
    row_a_line = _is_row_a_line(rows, measure)
    start = 0
    for i, line in enumerate(lines):
        last = i + 1 == len(lines)
        signed = not last and lines[i + 1] != trimmed[i + 1]
        if not (
            last
            or signed
            or headings[i]
            or headings[i + 1]
            or (row_a_line and _ends_row(line.of(text), lines[i + 1].of(text), measure))
            or _breaks(text, line, lines[i + 1], width)
        ):
            continue
        chunk = Span(lines[start].start, line.end)
        is_heading = start == i and headings[i]
        start = i + 1
        if is_heading:
            yield chunk, True
        else:
            yield from _prose(text, chunk)


# A sign before an instruction: a bullet, also one read as a pound sign; a number with its blanks.
_LINE_SIGN = re.compile(
    rf"[{BULLETS}]\s*(?=[\w*(])"
    r"|(?:\u00a3\s*|\d{1,2}(?:\.\s+|\)\s*|\s{2,})|[!@#]\s{2,})(?=[A-Z*])"
)


def _trim_line(text: str, line: Span) -> Span:
    body = line.of(text)
    return Span(line.start + len(body) - len(body.lstrip()), line.start + len(body.rstrip()))


_STEP_NUMBER = re.compile(r"(\d{1,2}|[!@#])\s(?=[A-Z*])")
_COUNT_AHEAD = re.compile(r"(?i)\b[kp]\.$")
# The figures of 10 to 13 in circles, as a scanner reads them.
_MISREAD = {"0": 10, "!": 11, "@": 12, "#": 13}


def _is_numbered(lines: list[str]) -> bool:
    """Say whether lines are steps numbered without a point: "8 Work ...", "9 Cast off ...", "10 ..."."""
    signs = [m.group(1) for line in lines if (m := _STEP_NUMBER.match(line))]
    numbers = [_MISREAD[s] if s in _MISREAD else int(s) for s in signs]
    return len(numbers) > 2 and all(b == a + 1 for a, b in pairwise(numbers))


def _without_sign(text: str, line: Span, numbered: bool = False) -> Span:
    """Leave out a bullet or number before a trimmed line."""
    sign = _LINE_SIGN.match(text, line.start, line.end)
    if sign is None and numbered:
        sign = _STEP_NUMBER.match(text, line.start, line.end)
    return Span(sign.end(), line.end) if sign else line


_FIGURES = re.compile(r"\.{2}.*\d[ \t]{2,}\d+[\u00bd\u00bc\u00be]?\Z")


def _runs_on(line: str, width: int | None) -> bool:
    """Say whether a wrapped line ends in the middle of a sentence."""
    ends = line.endswith((".", ":", "!", "?")) or _RULE.fullmatch(line) or _FIGURES.search(line)
    return width is not None and len(line) > 0.6 * width and not ends


_RULE = re.compile(r"(?:[-=_~*\u2013\u2014]\s?){8,}")


def _is_row_a_line(lines: list[str], measure: int) -> bool:
    """Say whether a block is typed without capitals, one row a line, as in a forum.

    Prose broken to a width, `measure`, fills its lines; here half of them or more have room for the next
    word.
    """
    if len(lines) < _FEWEST_ROWS or any(_CAPITAL.search(line) for line in lines):
        return False
    room = sum(_has_room(a, b, measure) for a, b in pairwise(lines))
    return room * 2 >= len(lines) - 1


_FEWEST_ROWS = 3
_CAPITAL = re.compile(r"\b[A-Z][a-z]|^[^\w]*[A-Z]")


def _has_room(this: str, after: str, measure: int) -> bool:
    return len(this) + 1 + len(after.split(maxsplit=1)[0]) <= measure - 2


def _ends_row(this: str, after: str, measure: int) -> bool:
    """Say whether the line of such a block is a row by itself, and goes on in no other.

    One that fills the measure may go on in the next, unless that opens a row.
    """
    goes_on = this.endswith((",", "-", "(", "[", "&", "+", ":")) or after[:1] in "([)]"
    hangs = _STOPS_SHORT.search(_INCHES.sub("", this)) or _OPENS_END.match(after)
    if this.count("(") > this.count(")") or this.count("[") > this.count("]"):
        return False
    ends = _has_room(this, after, measure) or _OPENS_ROW.match(after) is not None
    return ends and not goes_on and not hangs


_OPENS_ROW = re.compile(
    r"(?:then\s+)?(?:(?:cast|bind)\s+off|b\.?o\b|k\s?\d|p\s?\d|[kp]\s?2\s?tog|knit|purl|work|cont|dec|inc|put|leave"
    r"|slip|next\s+row|rep)\b"
)
_INCHES = re.compile(r"(?<=[\d/\u00bc-\u00be])\s?in$")
# Words with which no row begins: "cast off 7 beg next 4 rows / and 8 beg next 2 rows"
_OPENS_END = re.compile(r"(?:and|&|or|of|for|rows?|times|at|beg|until|till|to)\b")
# "..., shape the shoulders: / Note on DS (double st): after turning, ..."
_NOTE_LINE = re.compile(r"[Nn]ote on (?:[^:.]|\.(?=[):])){1,40}:")
# "BO 5 sts at beg of / next 2 rows"
_HANGING = "of|the|at|on|in|to|for|from|with|and|then|each"
_HANGS = re.compile(rf"\b(?:{_HANGING})$")
_STOPS_SHORT = re.compile(
    rf"\b(?:{_HANGING}|next|beg|every|foll|following|a|by|or|is|are|last|rem)$"
)


def _breaks(text: str, line: Span, following: Span, width: int | None) -> bool:
    """Say whether the line break between two lines of a block was made on purpose."""
    this, after = line.of(text), following.of(text)
    if after.startswith("*") and this.endswith((" to", " from")):
        return False  # "Repeat from * to", cut by the line end
    if this.count("(") > this.count(")") or this.count("[") > this.count("]"):
        return False
    if _RULE.fullmatch(this) or _RULE.fullmatch(after) or _NOTE_LINE.match(after):
        return True
    if _NEVER_LAST.search(this) and not after[0].isupper():
        return False  # "7 sts. beg. foll." and, on the next line, "2 rows."
    goes_on = after[0].islower() and (_runs_on(this, width) or _HANGS.search(this) is not None)
    if _ROW_LABEL.match(after) and not goes_on:
        return True
    if (columns := columns_of(text)) and ends_in_figures(this, columns):
        return after[:1].isupper()
    if _COUNT_AHEAD.search(this) and after[:1].isdigit():
        return False  # "K." and its count, in a line that a long list of counts leaves short
    opening = _FORUM_MARK.sub("", after).lstrip("*_\"'(\u201c")
    opening = _BRACKETED.sub("", opening)[:1]
    if opening.isdigit() and not this.endswith((".", "!", "?", ";")):
        return False
    if not (opening.isupper() or opening.isdigit()) or this.endswith((",", "-", "(", "[")):
        return False
    if _OPEN_LABEL.search(this):
        return False
    if width is None:
        return True
    first_word = after.split(maxsplit=1)[0]
    return len(this) + 1 + len(first_word) <= width - 2 and this.endswith((".", "!", "?"))


def _inside_brackets(text: str, start: int, at: int, stop: int) -> bool:
    """Say whether a bracket is open at a place of a stretch, and closed further on."""
    return text.count("(", start, at) > text.count(")", start, at) and ")" in text[at:stop]


# A heading whose line end was lost: "Shape ShouldersCast off 8 sts".
_GLUED = re.compile(r"([A-Za-z &]{3,40}?[A-Za-z])(?=(?:Cast|Bind|Work|Next|Keeping|With|BO|K|P)\b)")


def _prose(text: str, chunk: Span) -> Iterator[tuple[Span, bool]]:
    """Yield run-in headings and sentences of a stretch of prose."""
    at = chunk.start
    glued = _GLUED.match(text, chunk.start, chunk.end)
    if glued and is_heading_words(glued.group(1)):
        yield Span(at, glued.end()), True
        at = glued.end()
    run_in = _RUN_IN.match(text, at, chunk.end)
    while _opens_heading(run_in, chunk.end):
        named = _EDGES_BEHIND.search(run_in.group())
        end = run_in.start() + named.start() if named else run_in.end()
        yield _trim_line(text, Span(at, end)), True
        at = end
        if named:
            break
        run_in = _RUN_IN.match(text, at, chunk.end)
    for found in _SENTENCE_END.finditer(text, at, chunk.end):
        if found.start() < at:
            continue
        if not found.group() and not _COUNT_ALONE.fullmatch(text, at, found.start()):
            continue
        rest = text[found.end() : chunk.end].lstrip()
        if not rest:
            break
        if found.group()[:1] == "." and leads_to_figures(text, found.start()):
            continue  # "Cast off at beg. of next 6 rows ..... sts.   7   8   8   9"
        if _LABEL_ONLY.fullmatch(text, at, found.end()):
            continue
        abbreviated = _ABBREVIATED.search(text, max(at, found.start() - 12), found.start() + 1)
        if _NEVER_LAST.search(text, max(at, found.start() - 8), found.start() + 1):
            continue
        if abbreviated and _inside_brackets(text, at, found.end(), chunk.end):
            continue  # "3 x 8 sts. (2 x 8 and 1 x 9 sts. - 3 x 9 sts.)"
        if (
            abbreviated
            and not _ROW_LABEL.match(rest)
            and not (_AFTER_STS.search(text, at, found.start() + 1) and _TOTAL.match(rest))
            and not _BRACKETED.sub("", rest.lstrip("*_\"'(\u201c \t\r\n"))[:1].isupper()
        ):
            continue
        yield _trim_line(text, Span(at, found.end())), False
        at = chunk.end - len(rest)
        run_in = _RUN_IN.match(text, at, chunk.end)
        if _opens_heading(run_in, chunk.end):
            yield _trim_line(text, Span(at, run_in.end())), True
            at = run_in.end()
    if at < chunk.end:
        yield _trim_line(text, Span(at, chunk.end)), False
