"""What the abbreviations mean that some rows use: from the draft's own list, else the usual meaning."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from functools import cache

from rewriter import regex
from rewriter._resources import grammar_file
from rewriter.document import Document
from rewriter.notions import KEYS, find_abbreviations
from rewriter.options import Options
from rewriter.sheetterms import terms, use_of, variants_of

_ORDINALS = regex.compile(r"\b\d+(?:st|nd|rd|th)\b")
_SIGNS = " \t\r\n=,:;\u2013\u2014-"


@cache
def _usual() -> dict[str, str]:
    table: dict[str, str] = tomllib.loads(grammar_file("abbreviations.toml"))["means"]
    return table


def meanings(
    document: Document, texts: Sequence[str], options: Options
) -> tuple[tuple[str, str], ...]:
    """Return the abbreviations that `texts` use, each with its meaning, in the order of the alphabet.

    `document` is the draft whose list is asked first. What the turning method uses is explained there.
    """
    told = _ORDINALS.sub(" ", " \n ".join(texts).lower())
    source = document.source.text
    out: dict[str, str] = {}
    known = {KEYS.get(options.turn, "").lower(), "yo" if options.turn == "yarn-over" else ""}
    listed = find_abbreviations(source)
    for entry in listed.entries if listed is not None else ():
        variants = variants_of(entry, listed) if listed is not None else set()
        if known & variants:
            continue
        if any(use_of(v).search(told) for v in variants):
            meaning = " ".join(entry.span.of(source)[len(entry.key) :].split())
            out[entry.key] = meaning.strip(_SIGNS).strip("*_")
        known |= variants
    left = _masked(told)
    for term in terms():
        if term.key in _usual() and not known & {term.key, *term.spellings}:
            found = term.pattern.search(told if " " in term.key else left)
            if found is not None:
                out[_as_written(found.group(), texts)] = _usual()[term.key]
    return tuple(sorted(out.items(), key=lambda item: item[0].lower()))


def _masked(told: str) -> str:
    """Return the text without the abbreviations of two words, whose parts are no abbreviations there."""
    for term in terms():
        if " " in term.key:
            told = term.pattern.sub(" ", told)
    return told


def _as_written(found: str, texts: Sequence[str]) -> str:
    """Return a spelling with the capitals it has in the texts."""
    place = regex.compile_new(rf"(?i)(?<!\w){regex.escape(found)}(?!\w)")
    for text in texts:
        hit = place.search(text)
        if hit is not None:
            return str(hit.group())
    return found
