"""Repeat signs that words elsewhere refer to: "Rep from ** to **"."""

from __future__ import annotations

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.spans import Span

_STARS = regex.compile(r"\*{1,4}")
_REFERS_TO = regex.compile(
    r"(?i)\b(?:from|between|to|and|at)\s+(?:the\s+)?(?P<star>\*{1,4})(?![\w*])"
)


def between_signs(source: str, region: Span, markup: bool, moved: str = "") -> Span:
    """Leave out repeat signs at both ends that words elsewhere refer to ("Rep from ** to **").

    Raises Unread where such a sign stands in the midst of what is replaced. In Markdown (`markup`) signs
    that come in pairs set words apart. A sign that is `moved` behind the new rows may be replaced.
    """
    outside = source[: region.start] + " \0 " + source[region.end :]
    used = {found["star"] for found in _REFERS_TO.finditer(outside)}
    if not used:
        return region
    words = region.of(source)
    start, end = region.start, region.end
    if (sign := regex.match(r"\s*(\*{1,4})\s*", words)) and sign[1] in used:
        start += sign.end()
    if (sign := regex.search(r"\s*(\*{1,4})\s*\Z", words)) and sign[1] in used:
        end -= len(words) - sign.start()
    inside = [s for s in _STARS.findall(source[start:end]) if s in used and s != moved]
    own = _REFERS_TO.search(source, start, end) is not None
    if inside and not own and not (markup and len(inside) % 2 == 0):
        raise Unread(
            "sign-inside",
            f"the sign {inside[0]}, to which other words refer, stands in the midst of these rows",
            region,
        )
    return Span(start, end)


STRETCH = regex.compile(
    r"(?i)\bfrom\s+(?:the\s+)?(?P<star>\*{1,4})\s+(?:to|until)\s+(?:the\s+)?(?P=star)(?!\*)"
)


def repeated_stretch(source: str, place: Span) -> Span | None:
    """Return the words between two signs around a place that other words repeat ("Rep from ** to **")."""
    for told in STRETCH.finditer(source):
        if place.start <= told.start() < place.end:
            continue
        refers = [f.span() for f in STRETCH.finditer(source)]
        own = regex.compile_new(rf"(?<!\*){regex.escape(told['star'])}(?!\*)")
        signs = [
            m.start()
            for m in own.finditer(source)
            if not any(a <= m.start() < b for a, b in refers)
        ]
        before = [s for s in signs if s <= place.start]
        after = [s for s in signs if s >= place.end - len(told["star"])]
        if len(before) % 2 and after:
            return Span(before[-1], after[0])
    return None


def repeats_elsewhere(text: str, run: str) -> bool:
    """Say whether words repeat what stands between signs that are not among those of a run of sentences."""
    told = STRETCH.search(text)
    return told is not None and told["star"] not in run
