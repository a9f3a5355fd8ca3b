"""Where the turning method is explained: in the draft's own abbreviations, else in a note."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.edits import Edit
from rewriter.emitter import wrap
from rewriter.ground import ground_of
from rewriter.notions import KEYS, entry_text
from rewriter.options import Options
from rewriter.phrases import finished, meaning
from rewriter.reading import Draft, Finding
from rewriter.spans import Span
from rewriter.style import measure_style


def is_listed(draft: Draft, options: Options) -> bool:
    """Say whether the turning method stands in the draft's abbreviations, or can be added to them."""
    key = KEYS.get(options.turn)
    return key is not None and options.spelling == "draft" and draft.abbreviations is not None


def abbreviation_edits(draft: Draft, finding: Finding, options: Options) -> list[Edit]:
    """Add the turning method to the draft's list of abbreviations, in the list's own form."""
    found, key, source = draft.abbreviations, KEYS[options.turn], draft.document.source
    if found is None or finding.shaping is None or found.defines(key):
        return []
    style = measure_style(draft.document, finding.passage, finding.shaping, draft.terms, False)
    means = meaning(options.turn, style, ground_of(draft, options))
    at, words = entry_text(found, key, finished(means, style), source.text)
    if style.case == "upper":
        words = words.upper()
    width, newline = draft.document.width, source.newline()
    if "\n" in found.parting or "\r" in found.parting:
        front = found.parting.lstrip("\r\n")
        parted = words.removeprefix(found.parting).removesuffix(found.parting)
        hanging = regex.sub(r"\S", " ", front) + "  "
        (told,) = wrap([parted], width, hanging, newline, len(front))
        words = words.replace(parted, told)
    return [Edit(Span(at, at), words, "abbreviation", finding.id)]


_PAIRS = (
    ("RS", "WS", "wrong side"),
    ("WS", "RS", "right side"),
    ("k", "p", "purl"),
    ("p", "k", "knit"),
)
"""A side or stitch that a list explains, the other one, and what that means."""


def side_edits(draft: Draft, edits: Sequence[Edit]) -> list[Edit]:
    """Return the edits with the other side, or p beside k, explained where the new text alone has it."""
    found, source = draft.abbreviations, draft.document.source
    if found is None or not edits:
        return list(edits)
    out = list(edits)
    new = " ".join(e.replacement for e in edits)
    for known, other, means in _PAIRS:
        used = regex.search(rf"(?i)(?<![\w&'\u2019]){other}(?![\w&])", new)
        if (
            used is None
            or not found.defines(known)
            or regex.search(rf"(?i)\b{other}\b", source.text)
        ):
            continue
        own = next(e.key for e in found.entries if e.key.lower().rstrip(".") == known.lower())
        key = used.group().lower() if own.islower() else used.group().upper()
        key += "." if own.endswith(".") else ""
        at, words = entry_text(found, key, means.upper() if new.isupper() else means, source.text)
        beside = next((e for e in out if e.why == "abbreviation" and e.span.start == at), None)
        if beside is None:
            out.append(Edit(Span(at, at), words, "abbreviation", edits[0].passage))
        else:
            after = beside.replacement.strip(" .,;:|*_-\r\n\u2013\u2014").lower() < key.lower()
            both = (beside.replacement, words) if after else (words, beside.replacement)
            out[out.index(beside)] = replace(beside, replacement="".join(both))
    return out
