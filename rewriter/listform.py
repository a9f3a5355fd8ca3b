"""How a draft writes a list for its sizes: what stands before, between and after the entries."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import cache

from rewriter import regex
from rewriter.amounts import amount_pattern
from rewriter.spans import Span, view_of


def list_form(texts: Sequence[str], sizes: int) -> tuple[str, ...]:
    """Return what stands before, between and after the entries of a list with one for each size.

    The commonest form of the first text that has a list of that length counts.
    """
    if sizes == 1:
        return ("", "")
    for text in texts:
        forms: Counter[tuple[str, ...]] = Counter()
        view = view_of(text, Span(0, len(text)))
        for found in _amount().finditer(view.text):
            raw = view.span(found.start(), found.end()).of(text)
            form = tuple(_UNIT_OF_SIZE.sub("", gap) for gap in regex.split(r"\d+", raw))
            if len(form) == sizes + 1 and not any(
                regex.search(r"[A-Za-z\r\n{}<>]|[ \t]{3,}|\.{2}", _LETTER_OF_SIZE.sub("", gap))
                for gap in form
            ):
                forms[form] += 1
        if forms:
            return forms.most_common(1)[0][0]
    return _short_form(texts, sizes)


_LETTER_OF_SIZE = regex.compile(r"(?i)\b[a-k]\)")  # "a) 8 - b) 9 - c) 10"
# "a) 8 sts - b) 9 sts": a list is written with its unit behind the last
_UNIT_OF_SIZE = regex.compile(
    r"(?i)^\s*(?:sts?|stitches|loops|rows?|cms?|ins?|inch(?:es)?)\.?(?=\s*[,;\u2013-]?\s*[b-k]\))"
)


def _short_form(texts: Sequence[str], sizes: int) -> tuple[str, ...]:
    """Return the form of a list from those of another length, where the draft has no whole one."""
    for text in texts:
        found = _SHORT_LIST.search(text)
        if found:
            sep = regex.sub(r"\s+", " ", found.group("sep") or ", ")
            return ("", found.group("open"), *[sep] * (sizes - 2), found.group("close"))
    return ("", " (", *[", "] * (sizes - 2), ")")


_SHORT_LIST = regex.compile(
    r"\d(?P<open> ?[(\[])(?:\d+|[-\u2013\u2014])(?P<sep> ?[,:;/\u2013-] ?)?[^()\[\]a-zA-Z]*(?P<close>[)\]])"
)


@cache
def _amount() -> regex.Pattern[str]:
    return regex.compile(rf"(?<![\d.,/-]){amount_pattern()}")


_OPENING = regex.compile(r"\s?[(\[]")
_INSIDE = regex.compile(r"[^()\[\]]*")


def listed(values: Sequence[int], form: Sequence[str], group: Sequence[int] = ()) -> str:
    """Write a list of counts, one a size, in a draft's form (see `Style.list_form`).

    Counts for some sizes only, those of `group`, take the brackets and the separator of that form: their
    own where a draft has two kinds ("XS (S, M, L) [XL, 2XL]") and they are all of one.
    """
    if len(set(values)) == 1:
        return str(values[0])
    if group and len(values) == len(group) and (own := _own_brackets(form, group)) is not None:
        opening, gaps, closing = own
        parts = [f"{n}{gap}" for n, gap in zip(values, [*gaps, ""], strict=True)]
        return f"{opening}{''.join(parts)}{closing}"
    if len(values) + 1 == len(form):
        return form[0] + "".join(f"{n}{gap}" for n, gap in zip(values, form[1:], strict=True))
    opening = next((found.group() for gap in form if (found := _OPENING.search(gap))), " (")
    separator = next((gap for gap in form[2:-1] if _INSIDE.fullmatch(gap)), ", ")
    closing = "]" if "[" in opening else ")"
    return f"{values[0]}{opening}{separator.join(map(str, values[1:]))}{closing}"


def _own_brackets(
    form: Sequence[str], group: Sequence[int]
) -> tuple[str, Sequence[str], str] | None:
    """Return the bracket that opens before some sizes, what parts them, and the one that closes them."""
    first, last = group[0], group[-1]
    if first == 0 or len(group) != last - first + 1 or last + 1 >= len(form):
        return None
    gaps = form[first + 1 : last + 1]
    opening = regex.search(r"[(\[]\Z", form[first])
    closing = regex.match(r"[)\]]", form[last + 1])
    two_kinds = {"(", "["} <= set("".join(form))
    if not two_kinds or opening is None or closing is None:
        return None
    if not all(_INSIDE.fullmatch(gap) for gap in gaps):
        return None
    return opening.group(), gaps, closing.group()
