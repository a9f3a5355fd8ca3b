"""A draft's words for one size: every list of numbers replaced by the number of that size."""

from __future__ import annotations

from functools import cache, lru_cache

from rewriter import regex
from rewriter.amounts import amount_pattern, read_amount
from rewriter.spans import Span, view_of

_NUMBER = r"(?:\d+(?:[½¼¾⅓⅔⅛⅜⅝⅞]|\s\d/\d|/\d|[.,]\d+|\s[½¼¾⅓⅔⅛⅜⅝⅞])?)"
_ENTRY = rf"(?:{_NUMBER}|[½¼¾]|-)"
_BETWEEN = r"(?:\s*[,:;/|-]\s*|\s+)"
_GROUP = rf"[(\[]\s*{_ENTRY}(?:{_BETWEEN}{_ENTRY})*\s*[)\]]"
# "41(43:45)", "16 (16½, 17)", "8(9)10(11)", "16-17-18": lengths as well as counts
_LENGTHS = (
    rf"(?:{_ENTRY}\s*,?\s*{_GROUP}(?:\s*(?:{_GROUP}|{_NUMBER}(?=\s*[(\[])))*(?:\s*{_NUMBER}(?=\s?(?:cm|in\b|\")))?"
    rf"|{_NUMBER}(?:\s?[-/]\s?{_NUMBER}){{2,}})"
)
# "8 (9) 10": its last entry is told from a number of something else by the sizes that there are
_LAST = regex.compile(rf"\s*{_NUMBER}")
_SINGLE = regex.compile(rf"{_NUMBER}(?:\s*[(\[]{_NUMBER}[)\]]\s*{_NUMBER})*\s*[(\[]{_NUMBER}[)\]]")
_ENTRIES = regex.compile(rf"{_NUMBER}|[½¼¾]|(?<=(?:[(\[,:;/|]|^)\s*)-(?=\s*(?:[,:;/)\]|]|$))")


@cache
def _lists() -> regex.Pattern[str]:
    return regex.compile(
        rf"(?<![\d.,/-])(?<!\dx\s?)(?:(?P<count>{amount_pattern()})|(?P<length>{_LENGTHS}))"
    )


def in_one_size(text: str, size: int, sizes: int) -> str:
    """Return `text` with the numbers of one size (counted from 0) in the place of lists for `sizes`.

    Lists of another length stay as they are, and so does everything else.
    """
    if sizes < 2:
        return text
    out: list[str] = []
    at = 0
    for place in _places(text, sizes):
        entry = _entry(place.of(text), size, sizes)
        if entry is not None:
            out += [text[at : place.start], entry]
            at = place.end
    return "".join([*out, text[at:]])


@lru_cache(maxsize=64)
def _places(text: str, sizes: int) -> tuple[Span, ...]:
    """Return the places of the lists; a reader looks at the same words in one size after the other."""
    view = view_of(text, Span(0, len(text)))
    return tuple(view.span(start, end) for start, end in _found(view.text, sizes))


def _found(text: str, sizes: int) -> list[tuple[int, int]]:
    """Return where lists stand, the longer reading of two that begin at the same place."""
    lengths = {
        m.start(): m.end() for m in regex.finditer(rf"(?<![\d.,/-])(?<!\dx\s?){_LENGTHS}", text)
    }
    out: list[tuple[int, int]] = []
    for found in _lists().finditer(text):
        start, end = found.span()
        if out and start < out[-1][1]:
            continue
        if (whole := _whole(text, start, max(end, lengths.get(start, 0)), sizes)) is not None:
            out.append((start, whole))
        elif found["count"] is None or lengths.get(start, 0) > end:
            out.append((start, lengths.get(start, end)))
        elif len(read_amount(found["count"], Span(0, 0)).values) == sizes:
            out.append((start, end))
    return out


def _whole(text: str, start: int, end: int, sizes: int) -> int | None:
    """Return where a list ends whose last number stands behind its last bracket; None if none does."""
    last = _LAST.match(text, end) if _SINGLE.fullmatch(text[start:end]) else None
    if last is None or len(_ENTRIES.findall(text[start : last.end()])) != sizes:
        return None
    return int(last.end())


def _entry(text: str, size: int, sizes: int) -> str | None:
    """Return one entry of a list as it is written; None where the list has another length."""
    entries = _ENTRIES.findall(text)
    if len(entries) == sizes:
        return "0" if entries[size] == "-" else str(entries[size]).strip()
    values = read_amount(view_of(text, Span(0, len(text))).text, Span(0, 0)).values
    return str(values[size] or 0) if len(values) == sizes else None
