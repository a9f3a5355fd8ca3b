"""What the new text needs that the draft's list of materials does not name: markers, holders, a needle.

An item is added at the end of the list in the list's own form: a line, or after the last semicolon or
full stop. Where the list names such things already it stays, and a list in no known form stays too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rewriter import regex
from rewriter.amounts import number_words, read_words
from rewriter.edits import Edit
from rewriter.phrases import wording
from rewriter.reading import Draft
from rewriter.revise import Revision
from rewriter.spans import Span
from rewriter.style import colour_word


@dataclass(frozen=True)
class _List:
    end: int
    """Where an item goes in."""
    before: str
    """What stands before an added item."""
    after: str
    words: str
    """The list in lower case."""
    lower: bool
    """The draft's own title of it has no capital."""


_TITLE = regex.compile(
    r"(?im)^[ \t#*_]*(?:materials|you(?: will)? need|you will want|needles and notions|notions|equipment"
    r"|extras|requirements)"
    r"\b[ \t]*(?:[:*_.\u2013\u2014-]+[ \t*_]*|$)"
)
# Where no list of materials has a title of its own, what is needed may stand with the needles.
_NEEDLES = regex.compile(r"(?im)^[ \t#*_]*needles\b[ \t]*(?:[:*_.\u2013\u2014-]+[ \t*_]*|$)")
_END = regex.compile(
    r"(?>\r\n|\r|\n)[ \t]*(?>\r\n|\r|\n)|(?>\r\n|\r|\n)(?=[ \t]*(?:#|[A-Z ]{4,}[.:\u2014]"
    r"|\**(?i:check|tension|gauge|scale|measure|size|abbrev|special|note|instructions|to fit)))"
)
_ITEM_LINE = regex.compile(r"[ \t]*(?P<bullet>(?:[-*\u2022][ \t]+)?)(?=\d|[A-Z]|an?\s|one\s|two\s)")


def notion_edits(draft: Draft, revisions: Sequence[Revision]) -> list[Edit]:
    """Add what the rewritten shoulders need to the draft's materials."""
    told = [r for r in revisions if r.plan.slopes]
    found = _find(draft)
    if not told or found is None:
        return []
    items = [*_markers(draft, told, found), *_holders(told, found)]
    if not items:
        return []
    source = draft.document.source
    if found.before == "; " or found.lower:
        items = [item[0].lower() + item[1:] for item in items]
    text = "".join(f"{found.before}{item}{found.after}" for item in items)
    if not any(c.islower() for c in source.text):
        text = text.upper()
    return [Edit(Span(found.end, found.end), text, "notions", told[0].finding.id)]


def _markers(draft: Draft, revisions: Sequence[Revision], found: _List) -> list[str]:
    told = _MARKERS.search(found.words)
    if told is None and "marker" in found.words:
        return []
    first = second = 0
    for revision in revisions:
        words = " ".join(e.replacement for e in revision.edits if e.why == "shaping").lower()
        if "marker" not in words:
            continue
        edges = [max(len(e.rows) for e in same) for same in zip(*revision.plan.steps, strict=True)]
        first = max(first, sum(k - 1 for k in edges))
        second = max(second, len(edges) if "in a second" in words else 0)
    if not first:
        return []
    table = wording()["notions"]
    colour = colour_word(draft.document.source.text, draft.terms)
    key = "markers_two" if second else "markers"
    if first == 1 and not second:
        key = "marker"
    item = table[key].format(n=first, m=second, colour=colour)
    if told is None:
        return [item]
    if read_count(told.group()) >= first + second:
        return []
    return [item + table["for_shoulders"]]  # the draft's own may hang elsewhere by then


def _holders(revisions: Sequence[Revision], found: _List) -> list[str]:
    table = wording()["notions"]
    joins = {r.plan.join for r in revisions} - {"sewn"}
    out = []
    named = regex.search(r"holder|waste yarn|scrap yarn|spare needle", found.words)
    counted = _HOLDERS.search(found.words)
    if joins and named is None:
        out.append(table["holders"])
    elif joins and counted is not None and read_count(counted.group()) < _held(revisions):
        out.append(table["holders"] + table["for_shoulders"])
    if "three-needle" in joins and not regex.search(r"spare needle", found.words):
        out.append(table["needle"])
    return out


_NUMBER = rf"(?:\d+|{number_words()}|an?)"
_MARKERS = regex.compile(rf"\b{_NUMBER}\s+(?:[a-z-]+\s+){{0,2}}markers?\b")
_HOLDERS = regex.compile(rf"\b{_NUMBER}\s+(?:[a-z.-]+\s+){{0,2}}holders?\b")


def read_count(words: str) -> int:
    """Return the number with which the name of a thing begins; "a" is one."""
    number = words.split()[0]
    if number.isdigit():
        return int(number)
    return 1 if number in ("a", "an") else read_words(number)


def _held(revisions: Sequence[Revision]) -> int:
    """Return how many stitch holders a piece needs at most, with that of its neck."""
    return max((3 if r.shaping.two_edged else 2) for r in revisions)


def _find(draft: Draft) -> _List | None:
    """Return the list of materials, where its form is one that an item can be added to."""
    whole = draft.document.source.text
    title = _TITLE.search(whole) or _NEEDLES.search(whole)
    if title is None:
        return None
    pieces = (
        s.span.start
        for s in draft.document.sentences
        if s.span.start >= title.end() and s.piece not in ("list", "other", "unknown")
    )
    text = whole[: next(pieces, len(whole))]  # a piece is no part of the list
    skip = regex.compile(r"\s*").match(text, title.end())
    begin = skip.end() if skip else title.end()
    stop = _END.search(text, begin)
    end = stop.start() if stop else len(text.rstrip())
    body = text[begin:end].rstrip()
    end = begin + len(body)
    words, lower = body.lower(), title.group().islower()
    lines = regex.split(r"\r\n|\r|\n", body)
    newline = "\r\n" if "\r\n" in text else "\n"
    own_line = "\n" in text[title.start() : begin]
    bullets = [m.group("bullet") for line in lines if (m := _ITEM_LINE.match(line))]
    if own_line and len(lines) > 1 and len(bullets) == len(lines) and not body.endswith(";"):
        ends = "." if all(line.rstrip().endswith(".") for line in lines) else ""
        front = regex.match(r"[ \t]*", lines[-1])
        indent = front.group() if front and len(lines) > 1 else ""
        return _List(end, f"{newline}{indent}{bullets[-1]}", ends, words, lower)
    if body.count(";") > 1 or (";" in body and ". " not in body[body.rindex(";") :]):
        return _List(begin + len(body.rstrip(" .")), "; ", "", words, lower)
    if body.endswith("."):
        return _List(end, " ", ".", words, lower)
    return None
