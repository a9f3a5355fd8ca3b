"""How a draft says on which row, or at which edge, its straight rows end; and a lead-in that is to say it."""

from __future__ import annotations

from collections import Counter

from rewriter import regex
from rewriter.edits import Edit
from rewriter.phrases import finished, wording
from rewriter.reading import Draft, Finding
from rewriter.rows import OTHER_SIDE, Side
from rewriter.shapingmodel import Shaping
from rewriter.spans import Span
from rewriter.style import Style

_ENDS = r"(?i)\b(?:end|finish)(?:ing)?\s+(?:off\s+)?"
_SIDE = r"(?:rs|ws|right[\s-]side|wrong[\s-]side)"
_WITH_ROW = regex.compile(
    rf"{_ENDS}(?P<link>with|after|on)\s+(?P<article>an?|the)?\s*{_SIDE}\s+row"
)
_FACING = regex.compile(rf"\bwith\s+(?i:{_SIDE})\s+facing\s+(?P<next>for\s+(?:the\s+)?next\s+row)")
_AT_EDGE = regex.compile(
    rf"{_ENDS}at\s+(?P<article>the\s+)?(?:neck|front|armhole|shoulder|side)\s+edge"
)


def with_row(source: str, style: Style, last: Side) -> str:
    """Return "with a WS row", "after a WS row" or "with RS facing for next row", as the draft says it."""
    table = wording()["lead"]
    words = {"RS": style.rs, "WS": style.ws}
    rows = [
        " ".join(filter(None, m.group("link", "article"))).lower()
        for m in _WITH_ROW.finditer(source)
    ]
    facing = [" ".join(m["next"].split()) for m in _FACING.finditer(source)]
    if len(facing) > len(rows):
        told = Counter(facing).most_common(1)[0][0]
        return str(table["facing"].format(side=words[OTHER_SIDE[last]], next=told))
    link = Counter(rows).most_common(1)[0][0] if rows else table["link"]
    return str(table["row"].format(link=link, side=words[last]))


# "When armhole is same depth as back, shape shoulder.": the straight rows end before these words
_GOES_ON = regex.compile(
    r"(?i)(?:\s*[,;])?\s+(?:(?:and|then)\s+)*(?:beg(?:in)?|start|commence|shape|slope|work|form)\s+(?:to\s+)?"
    r"(?:(?:shape|shaping|slope|sloping|the|left|right|both)\s+)*shoulders?(?:\s+(?:shapings?|slopes?))?"
    r"(?:\s+(?:as\s+follows|thus))?\s*\.\Z"
)


def ending_edits(
    draft: Draft, finding: Finding, shaping: Shaping, style: Style, inner: str
) -> list[Edit]:
    """Say where the straight rows before a shoulder end, if the draft says it nowhere.

    The steps stood on the rows that begin at the outer edge, or on the side that their labels name, which
    told where to stop; the first short row is the row before. `inner` is what the draft calls the edge
    where that row begins: it is named where the side of the work is not known.
    """
    place = ending_place(draft, finding, shaping)
    if place is None:
        return []
    said, source = ending_said(draft, finding, shaping, style, inner), draft.document.source.text
    if finding.lead_in.span is not None and place.start == finding.lead_in.span.end:
        sign = "."
    else:
        sign = "" if regex.match(r"\s*[,;.]", source[place.start :]) else ","
    return [Edit(place, f"{said}{sign}", "lead-in", finding.id)]


def ending_place(draft: Draft, finding: Finding, shaping: Shaping) -> Span | None:
    """Return where a sentence before a shoulder is to say how its straight rows end, if it is to say it."""
    lead, source = finding.lead_in, draft.document.source.text
    if lead.span is None or finding.passage.lead or not _wants_ending(finding, shaping):
        return None
    words, end = lead.span.of(source), lead.span.end
    if not words.endswith(".") or source[end : end + 1] == ".":
        return None
    if (goes_on := _GOES_ON.search(words)) is not None:
        end = lead.span.start + goes_on.start()
    elif not _is_pointed(words, source):
        end -= 1
    return Span(end, end)


def _wants_ending(finding: Finding, shaping: Shaping) -> bool:
    """Say whether the words before a shoulder name a length alone, and more can be said of its rows."""
    lead = finding.lead_in
    told = any(m.fact not in ("about", "relative") for m in lead.mentions)
    unknown = shaping.two_edged and shaping.first_side is None  # true whichever edge comes first
    return lead.length and not (unknown or told or lead.absorbed or finding.before is not None)


def ending_said(draft: Draft, finding: Finding, shaping: Shaping, style: Style, inner: str) -> str:
    """Return ", ending at neck edge" for a lead-in by length alone; nothing where it says more."""
    first, source = shaping.first_side, draft.document.source.text
    if not _wants_ending(finding, shaping):
        return ""
    table = wording()["lead"]
    edge = _AT_EDGE.search(source)
    by_edge = not shaping.two_edged and edge and not _told_by_row(source)
    if first is None or by_edge:
        the = (edge["article"] or "") if edge else style.voice.the
        place = table["edge"].format(the=the, inner=inner)
    else:
        place = with_row(source, style, first)
    return str(finished(table["ending"].format(place=place), style))


def _told_by_row(source: str) -> bool:
    return bool(_WITH_ROW.search(source) or _FACING.search(source))


def _is_pointed(words: str, source: str) -> bool:
    """Say whether the point at the end of a sentence is also that of an abbreviation: "3 ins."."""
    last = regex.search(r"[A-Za-z]+\.\Z", words)
    return last is not None and bool(
        regex.compile_new(rf"\b{regex.escape(last.group())}\s*[,;a-z(]").search(source)
    )
