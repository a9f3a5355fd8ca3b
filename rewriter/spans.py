"""Source text, half-open spans in code points, and a view of the text made for matching.

The source is never altered. `View` holds a lower-case, plain-typography copy together with the
source offset of each of its characters, so that whatever is matched in it has a place in the text.
"""

from __future__ import annotations

import bisect
import re
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from typing import Literal, NamedTuple

from rewriter import regex
from rewriter.barelists import bare_lists, bracketed
from rewriter.figures import columns_of, set_in_sentence
from rewriter.glued import lost_blanks
from rewriter.groups import by_turns, in_one_bracket
from rewriter.letters import Letters, lettered, letters_of
from rewriter.ownwords import own_words, spelled_out
from rewriter.slashes import pairs_with_slash, slashed
from rewriter.triples import explains_triples, triples, unexplained
from rewriter.units import units_at_end
from rewriter.values import value


class Span(NamedTuple):
    """A half-open range of code points in the source text."""

    start: int
    end: int

    def of(self, text: str) -> str:
        """Return the slice of `text` that the span covers."""
        return text[self.start : self.end]


# Typography that pattern texts vary without meaning anything by it, one character for one.
_PLAIN = str.maketrans(
    {
        "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ", "\t": " ", "\n": " ", "\r": " ",
        "\u2018": "'", "\u2019": "'", "\u201c": '"', "\u201d": '"', "\u2032": "'", "\u2033": '"',
        "\u2010": "-", "\u2011": "-", "\u2012": "-", "\u2013": "-", "\u2014": "-", "\u2212": "-",
        "\u00d7": "x", "\u0445": "x", "\u0430": "a", "\u0435": "e", "\u043e": "o", "\u0441": "c",
        "\u0440": "p", "\u2028": " ", "\x0b": " ", "\x0c": " ",
    }
)  # fmt: skip

# A word divided at a line end ("begin-\nning"): the hyphen and the break are left out of the view.
_DIVIDED = re.compile(r"(?<=[a-zA-Z])-[ \t]*(?:\r\n|\r|\n)[ \t]*(?=[a-z])")

# The point of an abbreviation within a sentence ("at beg. of next", "sts., then"): no stop.
_POINT = regex.compile(
    # a total may follow "sts." as a sentence of its own: "6 sts. 102 sts."
    r"(?<=\b(?i:sts?))\.(?=\s*[a-z0-9,;:()\[\]\u2014-])(?!\s*\d[^a-zA-Z.]*(?i:sts?|stitches)\b)"
    r"(?!\s*\d{2,3}(?:/\d{2,3})?\s?:\s)"  # nor may the name of a size: "6 sts. 38/40: 2 x 7 sts."
    r"|(?<=\b(?i:rs|ws|pm|ch|tog|beg|heg|rem|alt|dec|inc|patt?|rep|foll|foil|foli|cont|ins?|cm|nos?|sl|yo|lh|ndls?"
    r"|rh|bo|co|k|p|m|w|wl|fwd|yfwd|yfd|yf|yrn|yon|psso|approx))\.(?=\s*[a-z0-9,;:()\[\]\u2014-])"
    r"|(?<=\b(?:BEG|ALT|FOLL|REM|PATT|CONT|DEC|INC))\.(?=\s*[A-Z0-9(\[])"
)


# A figure read as a letter by a scanner: "3l sts", "l0 rows", "ll2 sts", "Kl", "ll sts", "9 (ll) sts".
# The letter comes first in the expression: places without one are passed over at once.
_COUNTED = r"(?:\s*\.?\s(?:sts?|stitches|rows|times|ins|inches)\b|(?<=[(\[:,-]\s?..)\s?[)\]:,])"
_DIGIT = regex.compile(
    r"[lo](?:(?<=\d.)(?![a-z])|(?<=l)(?<![a-z\d].)(?=l?\d)|(?<=(?<![a-z\d])ll)(?=\d)|(?<=\b[kp]l)\b)"
    rf"|[li](?:(?<![a-z\d].)(?=\d)|(?<![a-z\d].)(?=[lio](?![a-z\d]){_COUNTED})|(?<=\d.)(?=\s(?:sts?|rows)\b))"
    rf"|[lio](?<=(?<![a-z\d])[li].)(?={_COUNTED})"
)
# A figure parted from its zero: "until 3 0 sts rem".
_PARTED = re.compile(r"(?<=until )(\d) (?=0 sts?\b)")


# Sizes called by letters, each before its own: "a) 62 - b) 63 - c) 65 cm", "a) 3 times 8 sts - b) 2 times
# 9 sts, 1 time 8 sts". They are matched as a list with brackets.
_STEPS = r"(?:\d{1,2}\s?(?:x|times?)|once|twice|thrice)\s?\d{1,3}(?:\s*(?:sts?|stitches|loops))?"
_NUMBER = r"\d+(?:[.,/]\d+|\s?[\u00bd\u00bc\u00be]|-\d+)?(?!\d)"
# The unit may stand behind each ("a) 46 sts - b) 48 sts"), and each in an item of its own.
_UNIT = r"(?:\s*(?:sts?|stitches|loops|rows?|cms?|ins?|inch(?:es)?)(?![a-z]))?"
_NEXT = r"\s*[-,;.]?\s*(?:[*+\u2022-]\s+)?"
_LETTERED = tuple(
    regex.compile(
        rf"(?<![a-z(])a\)\s*(?P<item>{item}){_UNIT}"
        rf"{_NEXT}b\)\s*(?P<item>{item})(?:{_UNIT}{_NEXT}[c-k]\)\s*(?P<item>{item}))*"
    )
    for item in (
        rf"{_STEPS}(?:\s*(?:,|and|,\s*and)\s*{_STEPS})*",
        r"\d{1,2}\s?(?:times?|x)(?![a-z])",  # "a) 1 time b) 2 times c) 3 times 1 st"
        _NUMBER,
    )
)


def _letters_of_sizes(plain: str) -> list[tuple[int, int, str]]:
    """Return the cuts that make lists of lettered sizes lists with brackets."""
    if "b)" not in plain:
        return []
    cuts: list[tuple[int, int, str]] = []
    for pattern in _LETTERED:
        for found in pattern.finditer(plain):
            if any(start < found.end() and found.start() < end for start, end, _ in cuts):
                continue
            first, *more = found.spans("item")
            cuts.append((found.start(), first[0] + 1, plain[first[0]]))
            at = first[1]
            for number, (start, end) in enumerate(more):
                cuts.append((at, start, "-" if number else " ("))
                at = end
            cuts.append((at - 1, at, plain[at - 1] + ")"))
    return cuts


# "7|8|8" and "S | M | L": sizes between upright lines. They are matched as a list with brackets; a row
# of a table has such a line before its first or behind its last entry, or words among them.
_ENTRY = (
    r"(?:\d+(?:[.,/]\d+|\s?[\u00bd\u00bc\u00be])?|-|(?<![a-z\d])(?:\d?x{0,4}[sl]|m)(?![a-z\d]))"
)
_PIPED = regex.compile(
    rf"(?<![\w|]|\|\s+)(?P<item>{_ENTRY})(?:\s?\|\s?(?P<item>{_ENTRY}))+(?![\w|]|\s+\|)"
)


def _lists_with_lines(plain: str) -> list[tuple[int, int, str]]:
    """Return the cuts that make lists with upright lines lists with brackets."""
    if "|" not in plain:
        return []
    cuts: list[tuple[int, int, str]] = []
    for found in _PIPED.finditer(plain):
        places = found.spans("item")
        for number, ((_, end), (start, _)) in enumerate(pairwise(places)):
            cuts.append((end, start, ", " if number else " ("))
        cuts.append((found.end() - 1, found.end(), plain[found.end() - 1] + ")"))
    return cuts


def _as_digit(found: regex.Match[str]) -> str:
    return "0" if found.group() == "o" else "1"


def _lower(text: str) -> str:
    """Lower the case without ever changing the length (some letters would grow)."""
    low = text.lower()
    if len(low) == len(text):
        return low
    return "".join(c if len(c.lower()) != 1 else c.lower() for c in text)


@value
class View:
    """A stretch of source text made plain for matching, with its way back."""

    text: str
    base: int
    offsets: tuple[int, ...] | None
    """Source offset of each character and of the end; None when they run on from `base`."""

    def span(self, start: int, end: int) -> Span:
        """Return the source span of `text[start:end]`."""
        if self.offsets is None:
            return Span(self.base + start, self.base + end)
        last = self.offsets[end - 1] + 1 if end > start else self.offsets[start]
        return Span(self.offsets[start], last)

    def before(self, place: int) -> str:
        """Return the text of the view up to a source offset."""
        if self.offsets is None:
            return self.text[: max(0, place - self.base)]
        return self.text[: bisect.bisect_left(self.offsets, place)]


# One word that is stressed ("after *that*"); several between such signs may be rows to repeat.
_STRESSED = re.compile(r"(?<![\w*])\*([a-z]{3,20})\*(?![\w*])")


def view_of(source: str, span: Span, markup: bool = False) -> View:
    """Make the matching view of a stretch; with `markup`, Markdown's bold signs count as blanks."""
    text, offsets = _made_plain(span.of(source), markup, _told_in(source))
    moved = None if offsets is None else tuple(span.start + at for at in offsets)
    return View(text, span.start, moved)


class _Told(NamedTuple):
    """What a draft explains of its own notation."""

    triples: bool
    letters: Letters
    slashes: bool
    columns: int
    bare_lists: str
    own_words: tuple[tuple[str, str], ...]
    by_turns: bool


@lru_cache(maxsize=4)
def _told_in(source: str) -> _Told:
    return _Told(
        explains_triples(source),
        letters_of(source),
        pairs_with_slash(source),
        columns_of(source),
        bare_lists(source),
        own_words(source),
        by_turns(source),
    )


@lru_cache(maxsize=4096)
def _made_plain(raw: str, markup: bool, told: _Told) -> tuple[str, tuple[int, ...] | None]:
    """Return the text of a view and its offsets, counted from its start.

    The same words come several times: with their heading, in their sentence, and in the revised draft.
    """
    pointed = _POINT.sub(" ", raw) if "." in raw else raw
    plain = _DIGIT.sub(_as_digit, _lower(pointed).translate(_PLAIN))
    if markup:
        plain = plain.replace("**", "  ").replace("__", "  ").replace("\\", " ")
        plain = _STRESSED.sub(r" \1 ", plain) if "*" in plain else plain
    divided = _DIVIDED.finditer(raw) if "-" in raw and ("\n" in raw or "\r" in raw) else ()
    cuts = [(cut.start(), cut.end(), "") for cut in divided]
    # a blank that was lost has no place of its own: it stands where the next word begins
    if "until " in plain:
        cuts += [(parted.end(1), parted.end(), "") for parted in _PARTED.finditer(plain)]
    cuts += [(place, place, " ") for place in lost_blanks(plain)]
    cuts += _letters_of_sizes(plain)
    cuts += _lists_with_lines(plain)
    cuts += units_at_end(plain)
    cuts += triples(plain) if told.triples else unexplained(plain)
    if told.letters.values:
        cuts += lettered(raw, told.letters)
    if told.slashes:
        cuts += slashed(plain)
    if told.columns:
        cuts += set_in_sentence(plain, told.columns)
    if told.bare_lists:
        cuts += bracketed(plain, told.bare_lists)
    if told.by_turns:
        cuts += in_one_bracket(plain)
    if told.own_words:
        cuts += spelled_out(plain, told.own_words)
    if not cuts:
        return plain, None
    kept: list[str] = []
    offsets: list[int] = []
    at = 0
    for start, end, instead in [*sorted(cuts), (len(raw), len(raw), "")]:
        kept.append(plain[at:start] + instead)
        offsets.extend(range(at, start))
        offsets.extend([start] * len(instead))
        at = end
    return "".join(kept), (*offsets, len(raw))


def forget_views() -> None:
    """Forget the views that are kept."""
    _made_plain.cache_clear()


_FIRST_WORDS = 5
"""Words by which a paragraph is named."""
_LINE_END = re.compile(r"\r\n|\r|\n")


@dataclass(frozen=True, slots=True)
class SourceText:
    """The text as decoded, newlines kept, with what is needed to write it back."""

    text: str
    name: str = "draft"
    encoding: str = "utf-8"
    bom: bytes = b""
    sha256: str = ""
    format: Literal["text", "markdown"] = "text"
    """The form of the text, whatever file it was taken from."""
    line_starts: tuple[int, ...] = field(default=(), repr=False)
    carrier: Literal["", "docx", "odt", "html", "pdf"] = ""
    """The kind of file it was taken from, where that is no text file."""
    landmarks: tuple[int, ...] = field(default=(), repr=False)
    """Offset of each paragraph (or page) of such a file."""
    landmark: str = "paragraph"
    pending: str = ""
    """What the reader should know of changes in it that somebody has not settled yet."""

    def place(self, offset: int) -> tuple[int, int]:
        """Return line and column, both counted from 1."""
        line = bisect.bisect_right(self.line_starts, offset)
        return line, offset - self.line_starts[line - 1] + 1

    def where(self, offset: int) -> str:
        """Return the place of an offset in words: line, or paragraph of a document."""
        if self.landmarks:
            return f"{self.landmark} {max(bisect.bisect_right(self.landmarks, offset), 1)}"
        return f"line {self.place(offset)[0]}"

    def named_place(self, offset: int) -> str:
        """Return the place of an offset; a paragraph, which has no number in print, with its words."""
        where = self.where(offset)
        if not self.landmarks or self.landmark != "paragraph":
            return where
        start = max((n for n in self.landmarks if n <= offset), default=0)
        words = self.text[start:].lstrip("#*-| \n").split("\n", 1)[0].replace("**", "").split()
        more = " …" if len(words) > _FIRST_WORDS else ""
        return f"{where} (“{' '.join(words[:_FIRST_WORDS])}{more}”)"

    def newline(self) -> str:
        """Return the newline the text uses first (a plain one when it has none)."""
        found = _LINE_END.search(self.text)
        return found.group() if found else "\n"

    def encode(self, text: str) -> bytes:
        """Encode a revised text as the source was; raises UnicodeEncodeError if it cannot be."""
        return self.bom + text.encode(self.encoding)


def line_starts(text: str) -> tuple[int, ...]:
    """Return the offset of the first character of each line."""
    return (0, *(m.end() for m in _LINE_END.finditer(text)))


def quote(text: str, limit: int = 90) -> str:
    """Return a stretch of the draft fit for a message: one line, shortened in the middle between words."""
    flat = " ".join(text.split())
    if len(flat) <= limit:
        return flat
    half = (limit - 3) // 2
    # one more character on either side shows whether a word ends there; a long word is cut all the same
    head, tail = flat[: half + 1], flat[-half - 1 :]
    head = head.rpartition(" ")[0] or head[:-1]
    tail = tail.partition(" ")[2] or tail[1:]
    return f"{head} … {tail}"
