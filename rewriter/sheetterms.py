"""The draft's own abbreviations: used and not defined, defined and not used, defined twice."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from rewriter import regex
from rewriter._resources import grammar_file
from rewriter.notions import Abbreviations, Entry, names_list
from rewriter.places import place_of
from rewriter.reading import Draft
from rewriter.sheetmodel import SheetFinding, TermFigures
from rewriter.spans import Span, view_of


@dataclass(frozen=True, slots=True)
class Term:
    """An abbreviation of the trade."""

    key: str
    pattern: regex.Pattern[str]
    parts: tuple[str, ...]
    spellings: tuple[str, ...]


@cache
def terms() -> tuple[Term, ...]:
    """Return the abbreviations of `grammar/abbreviations.toml`, in its order."""
    table = tomllib.loads(grammar_file("abbreviations.toml"))
    after = "|".join(table["single"]["after"])
    out = []
    for key, spellings in table["terms"].items():
        words = "|".join(
            regex.escape(s, literal_spaces=True).replace(" ", r"\s+")
            for s in sorted(spellings, key=len, reverse=True)
        )
        body = rf"(?<![\w&+'-])(?:{words})"
        single = rf"(?=\s?\d|\.?\s+(?:{after})\b)" if len(key) == 1 else r"(?![\w&+'-])"
        parts = tuple(table["parts"].get(key, ()))
        out.append(Term(key, regex.compile(body + single), parts, tuple(spellings)))
    return tuple(out)


def check_terms(draft: Draft) -> tuple[TermFigures, list[SheetFinding]]:
    """Compare the abbreviations that a draft uses with its own list of them."""
    source = draft.document.source
    listed = draft.abbreviations
    if listed is None:
        named = names_list(source.text)
        if named is None:
            return TermFigures(found="none"), []
        not_read = SheetFinding(
            code="abbreviations-not-read",
            about="abbreviations",
            severity="remark",
            message="this list is in a form that is not read, so no abbreviation was compared with it",
            place=place_of(source, named),
        )
        return TermFigures(found="not read", place=place_of(source, named)), [not_read]
    keys = [(entry, variants_of(entry, listed)) for entry in listed.entries]
    defined = {variant for _, variants in keys for variant in variants}
    found = [*_undefined(draft, listed, defined), *_unused(draft, listed, keys)]
    found += _twice(draft, keys)
    figures = TermFigures(
        found="read",
        defined=tuple(entry.key for entry in listed.entries),
        place=place_of(source, listed.span),
    )
    return figures, found


def variants_of(entry: Entry, listed: Abbreviations) -> set[str]:
    """Return what an entry defines: "st(s)" is st and sts, "RS/WS" both; all in lower case."""
    out: set[str] = set()
    whole = regex.sub(r"\s+", " ", entry.key.lower())
    for key in [whole, *regex.split(r"\s*[/,]\s*|\s+(?:and|or)\s+", whole)]:
        plain = key.replace(".", "").strip()
        out.add(regex.sub(r"\.\s*", " ", key).strip())  # "st.st." is written "st st" too
        short = regex.sub(r"\([^()]*\)?|\)", "", plain).strip()
        out |= {plain, short, short.replace("-", " ")}
        if "(s)" in plain or short == "st":
            out.add(f"{short}s")
        if short == "sts":
            out.add("st")
    out.discard("")
    return out


def _also(entry: Entry, listed: Abbreviations, text: str) -> Iterator[str]:
    """Yield more abbreviations told in front of a meaning: "st, sts, stitch(es)"."""
    if not listed.sign.strip().startswith(","):
        return
    told = {s for term in terms() for s in term.spellings}
    for part in entry.span.of(text)[len(entry.key) :].lower().split(","):
        word = part.strip(" .")
        if word and word not in told:
            return
        if word:
            yield word


_USUAL = regex.compile(r"(?i)\b(?:usual|standard)\b")  # "others as usual"


def _undefined(draft: Draft, listed: Abbreviations, defined: set[str]) -> Iterator[SheetFinding]:
    source = draft.document.source
    known = set(defined)
    for entry in listed.entries:
        known.update(_also(entry, listed, source.text))
    masked = [t for t in terms() if " " in t.key or "-" in t.key]
    rest = regex.compile(r"[^\r\n]*").match(source.text, listed.span.end)
    more = listed.span.of(source.text) + (rest.group() if rest else "")
    as_usual = bool(_USUAL.search(more))
    for term in terms():
        capitals = term.key in ("bo", "co")
        if known & {term.key, *term.spellings} or (term.parts and set(term.parts) <= known):
            continue
        for sentence in draft.document.sentences:
            if sentence.heading or sentence.piece == "list" or listed.covers(sentence.span):
                continue
            text = sentence.view.text
            if term.key in ("st", "k", "p"):
                for other in masked:
                    text = other.pattern.sub(lambda m: " " * len(m.group()), text)
            spans = (sentence.view.span(*hit.span()) for hit in term.pattern.finditer(text))
            # "Co." is a company
            span = next((s for s in spans if not capitals or s.of(source.text).isupper()), None)
            if span is None:
                continue
            yield SheetFinding(
                code="abbreviation-undefined",
                about="abbreviations",
                severity="remark" if as_usual else "warning",
                message=f"{span.of(source.text)!r} is used, but the list of abbreviations does not have it",
                place=place_of(source, span),
            )
            break


def _unused(
    draft: Draft, listed: Abbreviations, keys: list[tuple[Entry, set[str]]]
) -> Iterator[SheetFinding]:
    source = draft.document.source
    markup = source.format == "markdown"
    around = [Span(0, listed.span.start), Span(listed.span.end, len(source.text))]
    text = " \n ".join(view_of(source.text, span, markup).text for span in around)
    for entry, variants in keys:
        if any(use_of(variant).search(text) for variant in variants):
            continue
        yield SheetFinding(
            code="abbreviation-unused",
            about="abbreviations",
            severity="remark",
            message=f"{entry.key!r} is defined, but not used",
            place=place_of(source, entry.span),
        )


def use_of(variant: str) -> regex.Pattern[str]:
    """Return what finds the use of an abbreviation in a text in lower case."""
    words = r"[\s.-]*".join(regex.escape(word) for word in variant.replace("-", " ").split())
    # "K2tog" uses K and tog, "P.2" uses P: figures may stand on either side
    return regex.compile_new(rf"(?<![a-z]){words}(?:'?s)?(?![a-z])")


def _twice(draft: Draft, keys: list[tuple[Entry, set[str]]]) -> Iterator[SheetFinding]:
    source = draft.document.source
    seen: dict[str, Entry] = {}
    for entry, _ in keys:
        key = regex.sub(r"\s+", " ", entry.key.lower().replace(".", ""))
        first = seen.setdefault(key, entry)
        if first is entry:
            continue
        where = place_of(source, first.span).where
        yield SheetFinding(
            code="abbreviation-twice",
            about="abbreviations",
            severity="warning",
            message=f"{entry.key!r} is defined a second time (first in {where})",
            place=place_of(source, entry.span),
        )
