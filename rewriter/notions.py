"""The draft's own list of abbreviations, and what the new text adds to it.

Lists come one entry a line ("k - knit") or run on in a paragraph ("k, knit; p, purl."). An entry is
added in the list's own form, and in its order where it is alphabetical. Tables, and lists in no form that is
known, are left as they are: the meaning then stands in a note.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.spans import Span


@dataclass(frozen=True)
class Entry:
    """One abbreviation of a list."""

    key: str
    span: Span


@dataclass(frozen=True)
class Abbreviations:
    """A list of abbreviations as it stands in a draft."""

    span: Span
    entries: tuple[Entry, ...]
    sign: str
    """What parts a word from its meaning: " = ", ", ", ": "."""
    parting: str
    """What parts two entries: "; ", or a line end with the bullet or blanks before an entry."""

    def covers(self, span: Span) -> bool:
        """Say whether words stand in the list."""
        return span.start < self.span.end and self.span.start < span.end

    def defines(self, key: str) -> bool:
        """Say whether an abbreviation is in the list."""
        return any(entry.key.lower().rstrip(".") == key.lower() for entry in self.entries)

    def place(self, key: str, in_order: bool) -> int:
        """Return the index before which an entry belongs; the number of entries for the end."""
        keys = [entry.key.lower() for entry in self.entries]
        if not in_order or any(a > b for a, b in pairwise(keys)):
            return len(keys)
        return next((i for i, k in enumerate(keys) if k > key.lower()), len(keys))


_TITLE = regex.compile(
    r"(?im)^[ \t#*_]*(?:abbrev(?:iation)?s?|short\s+forms?|(?:stitches|terms|words)\s+used|shorthand"
    r"|contractions)\b[ \t.:*_\u2013\u2014-]*(?:used[ \t:]*)?"
)
_KEY = r"[A-Za-z][A-Za-z0-9()&+/. ]{0,14}?"
_SIGN = r"(?:[ \t]*=[ \t]*|,[ \t]+|:[ \t]+|[ \t]+[\u2013\u2014-][ \t]+|[ \t]*\u2014[ \t]*)"
_LINE = regex.compile(
    rf"(?P<front>(?P<indent>[ \t]*)(?:[-*{BULLETS}][ \t]+)?(?P<bold>\*\*|__)?)(?P<key>{_KEY})"
    rf"(?P<sign>(?(bold)(?:(?P=bold){_SIGN}|{_SIGN}(?P=bold)[ \t]*|[:=](?P=bold)[ \t]+)|{_SIGN}))"
    # a meaning goes on in lines set further in than its first
    rf"(?P<meaning>\S[^\r\n]*?(?:(?:\r\n|\r|\n)(?P=indent)[ \t]{{2,}}(?![-*{BULLETS}\s])\S[^\r\n]*?)*)"
    r"[ \t]*(?:\r\n|\r|\n|\Z)"
)
_RUN = regex.compile(
    rf"\s*(?P<key>{_KEY})(?P<sign>\s*=\s*|,\s+|:\s+|\s+[\u2013\u2014-]\s+|\s*\u2014\s*)(?P<meaning>\S.*)",
    regex.S,
)
_BLANK = regex.compile(
    r"(?>\r\n|\r|\n)[ \t]*(?>\r\n|\r|\n)|(?<=\.)[ \t]*(?>\r\n|\r|\n)(?=[ \t]*[A-Z*#\[])"
)


@lru_cache(maxsize=4)
def find_abbreviations(text: str) -> Abbreviations | None:
    """Return the list of abbreviations of a draft, or None for none in a form that is known."""
    title = _TITLE.search(text)
    if title is None:
        return None
    start = regex.compile(r"\s*").match(text, title.end())
    begin = start.end() if start else title.end()
    return _by_lines(text, begin) or _run_on(text, begin)


def names_list(text: str) -> Span | None:
    """Return where a draft names a list of abbreviations, whether or not its form is known."""
    title = _TITLE.search(text)
    return Span(title.start(), title.end()) if title else None


# A sentence behind the entries: "A 0 means that there are no sts for that size"
_SENTENCE = regex.compile(
    r"(?<=[a-z)]\.)\s+(?=(?:An?|The|Where|Figures?|Numbers?|When|If|In|All|For)\s[^;=]*?\.?\s*\Z)"
)


def _by_lines(text: str, begin: int) -> Abbreviations | None:
    found = []
    at = begin - len(text[:begin]) + len(text[:begin].rstrip(f" \t-*{BULLETS}"))
    while (line := _LINE.match(text, at)) and ";" not in line.group("meaning"):
        found.append(line)
        at = line.end()
    signs = {line.group("sign").strip() for line in found}
    several = any(sign in line.group("meaning") for sign in signs for line in found)
    if len(found) < 3 or len(signs) > 1 or several:
        return None
    entries = tuple(
        Entry(line.group("key").strip(), Span(line.start("key"), line.end("meaning")))
        for line in found
    )
    between = text[found[0].end("meaning") : found[1].start("key")]
    return Abbreviations(
        Span(entries[0].span.start, entries[-1].span.end), entries, found[0].group("sign"), between
    )


def _run_on(text: str, begin: int) -> Abbreviations | None:
    blank = _BLANK.search(text, begin)
    end = blank.start() if blank else len(text.rstrip())
    if (sentence := _SENTENCE.search(text, begin, end)) is not None:
        end = sentence.start()
    for mark in (";", "\u00b7", ",", "."):
        pieces = list(_pieces(text, begin, end, mark))
        found = [_RUN.match(text, a, b) for a, b in pieces]
        parted = [m for m in found if m is not None]
        if len(parted) < 3 or len(parted) < len(pieces) - 1 - _going_on(pieces, found, text):
            continue
        if any(m.group("key").count("(") != m.group("key").count(")") for m in parted):
            continue  # "K (= knit)"
        if mark == "," and any(m.group("sign").startswith(",") for m in parted):
            continue
        entries = tuple(
            Entry(m.group("key").strip(), Span(m.start("key"), stop))
            for m, stop in _with_ends(pieces, found)
        )
        sign = regex.sub(r"\s+", " ", parted[0].group("sign"))
        parting = " \u00b7 " if mark == "\u00b7" else f"{mark} "
        return Abbreviations(Span(entries[0].span.start, end), entries, sign, parting)
    return _side_by_side(text, begin, end)


def _going_on(
    pieces: Sequence[tuple[int, int]], found: Sequence[regex.Match[str] | None], text: str
) -> int:
    """Count the pieces that go on with a meaning: "C4F - slip 2 sts to front, k2, k2 from needle"."""
    if found[0] is None:
        return 0
    return sum(
        m is None and regex.search(r"\d|\bthen\b|\band\b", text[a:b]) is not None
        for (a, b), m in zip(pieces, found, strict=True)
    )


def _with_ends(
    pieces: Sequence[tuple[int, int]], found: Sequence[regex.Match[str] | None]
) -> Iterator[tuple[regex.Match[str], int]]:
    """Yield the entries with the end of each, over the pieces that go on with its meaning."""
    entry, stop = None, 0
    for (_, end), m in zip(pieces, found, strict=True):
        if m is not None:
            if entry is not None:
                yield entry, stop
            entry = m
        stop = end
    if entry is not None:
        yield entry, stop


# No sign between: "alt alternate, beg beginning, st(s) stitch(es)"
_BESIDE = regex.compile(
    r"\s*(?P<key>(?i:st st)|[A-Za-z][A-Za-z0-9()./&]{0,9})(?P<sign>\s+)(?P<meaning>[A-Za-z].*)",
    regex.S,
)


def _side_by_side(text: str, begin: int, end: int) -> Abbreviations | None:
    """Return a list whose words stand beside their meanings, known by their first letters."""
    pieces = list(_pieces(text, begin, end, ","))
    found = [m for a, b in pieces if (m := _BESIDE.match(text, a, b)) is not None]
    alike = [m for m in found if m.group("key")[0].lower() == m.group("meaning")[0].lower()]
    if len(alike) < 4 or len(alike) < 0.8 * len(pieces):
        return None
    entries = tuple(Entry(m.group("key"), Span(m.start("key"), m.end())) for m in found)
    return Abbreviations(Span(entries[0].span.start, end), entries, " ", ", ")


def _pieces(text: str, begin: int, end: int, mark: str) -> Iterator[tuple[int, int]]:
    at, depth = begin, 0
    for here in range(begin, end):
        depth += (text[here] in "([") - (text[here] in ")]")
        if text[here] == mark and depth <= 0:
            yield at, here
            at = here + 1
    yield at, len(text[:end].rstrip().rstrip("."))


# The turning methods with an abbreviation of their own (common practice).
KEYS = {"german": "DS", "wrap": "w&t"}


def entry_text(found: Abbreviations, key: str, means: str, text: str) -> tuple[int, str]:
    """Return where an entry goes in, and its words with what parts it from its neighbours."""
    wrapped = "\n" not in found.parting and "\n" in text[found.span.start : found.span.end]
    at = found.place(key, in_order=not wrapped)
    entry = f"{key}{found.sign}{means}"
    if at == len(found.entries):
        last = found.entries[-1].span.end
        stop = len(text[:last].rstrip(" ."))
        return stop, f"{found.parting}{entry}"
    return found.entries[at].span.start, f"{entry}{found.parting}"
