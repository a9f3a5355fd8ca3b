"""Edits of a lead-in: what it says of its last row moves one row down."""

from __future__ import annotations

from itertools import takewhile

from rewriter import regex
from rewriter.amounts import number_words
from rewriter.doubt import Unread
from rewriter.edits import Edit
from rewriter.headings import is_heading_words
from rewriter.leadflip import divisible, flipped
from rewriter.leadmodel import Mention
from rewriter.numberwords import in_words, read_words
from rewriter.passages import Passage
from rewriter.phrases import ordinal, wording
from rewriter.reading import Draft, Finding
from rewriter.shapingmodel import Shaping
from rewriter.spans import Span
from rewriter.statedwords import whole_tally


def lead_edits(draft: Draft, finding: Finding, shaping: Shaping) -> list[Edit]:
    """Move what the lead-in says of its last row one row down."""
    out: list[Edit] = []
    told_for = finding.lead_in.sizes
    if told_for and len(told_for) != len(draft.sizes):
        raise Unread(
            "lead-in-for-some",
            "the words before it say for some of the sizes only where the straight rows end",
            finding.lead_in.span or finding.passage.span,
        )
    for mention in finding.lead_in.mentions:
        out += move_mention(draft, finding, mention, shaping)
    for statement in finding.lead_in.absorbed[-1:]:
        text, passage = draft.document.source.text, finding.passage
        start = (passage.span if kept_words(passage, text) else passage.opening_words).start
        if not adjoin(text, statement.span.end, start):
            after = [s for s in finding.passage.before if s.span.start > statement.span.start]
            counts = list(takewhile(lambda s: whole_tally(s.sentence.view) is None, after))
            told = Span(statement.span.start, counts[-1].span.end if counts else statement.span.end)
            out.append(Edit(_whole(draft, told), "", "lead-in", finding.id))
    before = finding.before
    if before is not None and before.statement is None and not before.inside:
        out += _one_more(draft, finding)
    return out + _side_in_heading(draft, finding, shaping)


# "Left shoulder (RS): BO 6 sts at the beg of this and the next 2 RS rows"
_HEADED_BY_SIDE = regex.compile(
    r"(?i)(?<=[a-z][ ]?)\((?P<side>rs|ws|(?:right|wrong)[ -]side)(?:\s+(?:row|rows|facing))?\)[*_]*"
    r"\s*[:.\u2013\u2014-]?[*_]*\s*\Z"
)


def _side_in_heading(draft: Draft, finding: Finding, shaping: Shaping) -> list[Edit]:
    """Turn the side that a heading right before the first row gives it: the first short row has the other."""
    source = draft.document.source.text
    headed = _HEADED_BY_SIDE.search(source, 0, finding.passage.opening_words.start)
    if headed is None or shaping.first_side is None:
        return []
    side = "RS" if headed["side"][0] in "Rr" else "WS"
    if side != shaping.first_side:
        return []
    return [Edit(*flipped(source, Span(*headed.span("side")), "side"), "lead-in", finding.id)]


def kept_words(passage: Passage, source: str) -> bool:
    """Say whether the words before the first bind-off stay: a heading run in, a stitch count."""
    words = passage.opening_words.of(source)
    if passage.statements[0].opening:
        return True
    if passage.statements[0].sizes:
        return False  # "FIRST AND SECOND SIZES:", which the new rows say of their own lines
    letters = [c for c in words if c.isalpha()]
    titled = words.isupper() or regex.match(r"(?i)\W*(?:to\s+)?shap(?:e|ing)\b[^,]*$", words)
    return len(letters) > 3 and bool(titled) and is_heading_words(words)


def _one_more(draft: Draft, finding: Finding) -> list[Edit]:
    """Keep the stitch counts true that stand after decreases of which the last has moved on."""
    source = draft.document.source.text
    places: dict[Span, str] = {}
    for statement in reversed(finding.passage.before):
        counts = [*statement.opening, *statement.running]
        counts += [f.parts["count"][0] for f in statement.frames if not f.verb and f.amount]
        for count in counts:
            for number in regex.compile(r"\d+").finditer(source, count.span.start, count.span.end):
                places[Span(*number.span())] = str(int(number.group()) + 1)
        if any(f.verb for f in statement.frames):
            break
    return [Edit(span, text, "lead-in", finding.id) for span, text in places.items()]


def _whole(draft: Draft, span: Span) -> Span:
    """Return the span of a sentence with the blanks that would be left behind."""
    source = draft.document.source.text
    before = source[: span.start]
    if before.endswith((" ", "\t")):
        return Span(span.start - 1, span.end)
    found = regex.compile(r"[ \t]*(?:\r\n|\r|\n)?[ \t]*(?:\r\n|\r|\n)?").match(source, span.end)
    return Span(span.start, found.end() if found else span.end)


# "Stop after a RS row (yes, RS, I started with a purl row)"
_SAYS_SIDE = regex.compile(
    r"[^.;()]{0,20}\([^().]*?\b(?:RS|WS|(?i:right|wrong)[ -]side)\b[^().]*[,.][^()]*\)"
)


def move_mention(
    draft: Draft, finding: Finding, mention: Mention, shaping: Shaping, by: int = -1
) -> list[Edit]:
    """Return the edits that make a lead-in end one row earlier (`by` = -1) or later (1).

    Raises Unread where its words cannot say so.
    """
    source = draft.document.source.text
    if mention.fact in ("side", "stitch"):
        if (aside := _SAYS_SIDE.match(source, mention.span.end)) is not None:
            raise Unread(
                "lead-in-unclear",
                "these words say the side of the last row once more, which moves: take them out",
                Span(mention.span.end, aside.end()),
            )
        span, word = flipped(source, mention.span, mention.fact)
        told = [Edit(span, word, "lead-in", finding.id)]
        if mention.fact == "side" and (beside := _stitch_beside(source, span, finding)) is not None:
            told.append(Edit(*flipped(source, beside, "stitch"), "lead-in", finding.id))
        return told
    if mention.fact in ("relative", "about"):
        return []
    if mention.fact in ("rows", "count"):
        # "work 3(1-1-1) rows": none in some sizes; "after row no. 3(1-1-1)" leaves none
        named = source[max(0, mention.span.start - 14) : mention.span.start]
        counted = regex.search(r"(?i)\brow\s*(?:no\W*)?\Z", named) is None
        fewest = 1 if max(mention.values) > 1 and counted else 2
        if by < 0 and min(mention.values) < fewest:
            raise Unread("lead-in-too-short", "the lead-in has no row to give up", mention.span)
        return changed_by(source, mention.span, by, finding.id, "lead-in")
    if mention.fact == "left":
        return changed_by(source, mention.span, -by, finding.id, "lead-in")
    if mention.fact == "plain" and by < 0:
        end = mention.span.end
        return [Edit(Span(end, end), wording()["lead"]["plain_row"], "lead-in", finding.id)]
    if mention.fact == "edge" and shaping.two_edged:
        return _other_hand(source, mention.span, finding.id)
    if mention.fact == "edge":
        return _other_edge(source, mention.span, finding.id)
    if mention.fact not in _ADDED:
        return []
    words = wording()["lead"][_ADDED[mention.fact]]
    if by > 0:
        added = added_words(source, mention)
        if added is None:
            raise Unread("lead-in-unclear", "one more row cannot be told here", mention.span)
        return [Edit(added, "", "lead-in", finding.id)]
    if mention.fact == "repeat":
        at = len(mention.span.of(source).rstrip(" .*_")) + mention.span.start
    else:
        at = _article(source, mention.span.start)
    return [Edit(Span(at, at), words, "lead-in", finding.id)]


# "A knit row from the right side", "a RS (knit) row": the stitch by which the row is named, beside its side
_ROW_OF = regex.compile(
    r"(?i)\b(?P<stitch>knit|purl|k|p)\s+(?:row|needle)\s+(?:(?:worked|knitted)\s+)?(?:from|on)\s+(?:the\s+)?\Z"
)
_STITCH_BEHIND = regex.compile(
    r"(?i)(?:[\s-]+side)?\s*\(\s*(?P<stitch>knit|purl|k|p)\s*\)\s+(?:row|needle)\b"
    # "RS facing for next row (a knit row)"
    r"|[^.;,()]{0,30}\(\s*(?:=\s*)?(?:an?\s+)?(?P<stitch>knit|purl|k|p)\s+row\s*\)"
)


def _stitch_beside(source: str, side: Span, finding: Finding) -> Span | None:
    """Return the word for the stitch of a row whose side is turned; in garter stitch it stays."""
    if finding.fabric == "garter":
        return None
    found = _ROW_OF.search(source, 0, side.start) or _STITCH_BEHIND.match(source, side.end)
    if found is None:
        return None
    place = Span(*found.span("stitch"))
    told = (m.span for m in finding.lead_in.mentions)
    return None if any(m.start <= place.start < m.end for m in told) else place


_ADDED = {"row of pattern": "row_before", "repeat": "less_last"}
"""Facts that are moved by words put beside them."""


def added_words(source: str, mention: Mention) -> Span | None:
    """Return where the words stand that moved a mention one row up, if they do."""
    words = wording()["lead"][_ADDED[mention.fact]]
    if mention.fact == "repeat":
        at = source.find(words, mention.span.start, mention.span.end)
        return Span(at, at + len(words)) if at >= 0 else None
    end = _article(source, mention.span.start)
    start = end - len(words)
    return Span(start, end) if start >= 0 and source[start:end] == words else None


def _article(source: str, at: int) -> int:
    """Return where the article before a place begins, or the place itself."""
    article = regex.compile(r"(?i)\b(?:an?|the)\s+\Z").search(source, 0, at)
    return article.start() if article else at


_NUMBER = regex.compile(rf"(?P<figure>\d+)(?P<suffix>(?:st|nd|rd|th)\b)?|(?i:{number_words()})")


def changed_by(source: str, span: Span, by: int, passage: str, why: str) -> list[Edit]:
    """Return the edits that change every number in a span by so many, each written as it is.

    Raises Unread where the span holds no number.
    """
    numbers = list(_NUMBER.finditer(source, span.start, span.end))
    if not numbers:
        raise Unread("lead-in-in-words", "the number of rows is not understood here", span)
    edits = [Edit(Span(*n.span()), _changed(n, by), why, passage) for n in numbers]
    article = _INDEFINITE.search(source, 0, numbers[0].start())
    if article is not None and len(numbers) == 1 and numbers[0].group("suffix"):
        edits += _article_before(Span(*article.span()), source, edits[0])
    plural = regex.compile(r"\s*\w*\s*\brow(s?)\b").match(source, numbers[-1].end())
    plural = plural or regex.compile(r"[^.;]{0,12}\brow(s)\b").search(source, span.start, span.end)
    if plural and len(numbers) == 1:
        place = Span(*plural.span(1))
        was = numbers[0].group().lower()
        if edits[0].replacement.lower() in ("1", "one") and plural.group(1):
            edits.append(Edit(place, "", why, passage))
        elif was in ("1", "one") and not plural.group(1):
            edits.append(Edit(place, "s", why, passage))
    return edits


_INDEFINITE = regex.compile(r"(?i)\ban?(?=\s+\Z)")
_WITH_AN = frozenset({"8th", "11th", "18th"})


def _article_before(article: Span, source: str, changed: Edit) -> list[Edit]:
    """Return the edit that fits "a" or "an" to the number behind it: "an 8th row", "a 7th row"."""
    was = article.of(source)
    fits = was[0] + ("n" if changed.replacement in _WITH_AN else "")
    return [Edit(article, fits, changed.why, changed.passage)] if fits != was else []


def _changed(number: regex.Match[str], by: int) -> str:
    """Return another number as this one is written: in figures, as an ordinal or in words."""
    if not number.group("figure"):
        value = read_words(number.group()) + by
        words = in_words(value) if value < 100 else str(value)
        return words.capitalize() if number.group()[0].isupper() else words
    value = int(number.group("figure")) + by
    return ordinal(value) if number.group("suffix") else str(value)


_EDGE_NAMES = [
    "armhole",
    "arm-hole",
    "arm",
    "shoulder",
    "side",
    "outer",
    "sleeve",
    "neck",
    "front",
    "inner",
]
_EDGE_WORD = regex.compile(rf"(?i)\b(?:{'|'.join(map(divisible, _EDGE_NAMES))})\b")


def _other_edge(source: str, span: Span, passage: str) -> list[Edit]:
    found = _EDGE_WORD.search(span.of(source))
    if found is None:
        return []
    word = found.group()
    other = "armhole" if word.lower() in ("neck", "front", "inner") else "neck"
    if word.isupper():
        other = other.upper()
    elif word[0].isupper():
        other = other.capitalize()
    place = Span(span.start + found.start(), span.start + found.end())
    return [Edit(place, other, "lead-in", passage)]


_HAND = regex.compile(r"(?i)\b(?:left|right)(?=[\s-]+(?:hand\b|edge\b))")


def _other_hand(source: str, span: Span, passage: str) -> list[Edit]:
    """Turn "ending at the left-hand edge" round; other edges are told for no row of both sides."""
    found = _HAND.search(span.of(source))
    if found is None:
        return []
    other = "right" if found.group().lower() == "left" else "left"
    word = other.capitalize() if found.group()[0].isupper() else other
    return [
        Edit(Span(span.start + found.start(), span.start + found.end()), word, "lead-in", passage)
    ]


def adjoin(source: str, end: int, start: int) -> bool:
    """Say whether nothing but blanks and one line end lies between two places."""
    between = source[end:start]
    return not between.strip() and len(regex.findall(r"\r\n|\r|\n", between)) <= 1
