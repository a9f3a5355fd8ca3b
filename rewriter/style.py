"""Measure how a draft says things, so that replacement text says them the same way.

Each choice is taken from the nearest text that shows it: the passage, then its piece, then the
whole draft, then what is usual for the draft's terms.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

import regex

from rewriter.amounts import amount_pattern
from rewriter.document import Document
from rewriter.lexicon import term_cues
from rewriter.passages import Passage
from rewriter.rows import Kind
from rewriter.shaping import Shaping
from rewriter.spans import Span, view_of
from rewriter.stitchwork import fabric_of

Terms = Literal["UK", "US"]


@dataclass(frozen=True)
class Style:
    """How a draft words its rows."""

    terms: Terms
    bind_off: str
    """Lower-case verb: cast off, bind off, BO."""
    unit: str
    """sts or stitches."""
    unit_one: str
    knit: str
    purl: str
    work: str
    """Work word where neither knit nor purl is told."""
    words: tuple[str, str] | None
    """Work words for the rows of row 0's direction and of the other, when the passage names them."""
    to_end: str
    rs: str
    ws: str
    label: str
    """Label with {n} and {side} places, for example "Row {n}{side}:" or "Next row{side}:"."""
    side_form: str
    """How a side stands in a label: " (RS)"."""
    ordinal_label: bool
    list_form: tuple[str, ...]
    """What stands before, between and after the counts of a list with one for each size."""
    manner: str
    prints_counts: bool
    case: Literal["sentence", "lower", "upper"]
    in_words: bool
    """Sts and work words are spelled out."""


_CAST_OFF = regex.compile(r"\bcast(?:ing)?\s+off\b")
_BIND_OFF = regex.compile(r"\bbind(?:ing)?\s+off\b|\bbo\b")


def measure_terms(document: Document) -> Terms:
    """Say whether a draft speaks UK or US English (US where nothing tells)."""
    uk = us = 0
    uk_cue, us_cue = term_cues()
    for sentence in document.sentences:
        uk += len(uk_cue.findall(sentence.view.text))
        # the verb tells most: Canadian leaflets "cast off" and "work even"
        uk += 2 * len(_CAST_OFF.findall(sentence.view.text))
        us += 2 * len(_BIND_OFF.findall(sentence.view.text))
        us += len(us_cue.findall(sentence.view.text))
    return "UK" if uk > us else "US"


def _first_of(texts: Sequence[str], choices: dict[str, str], default: str) -> str:
    """Return the choice found most often in the first text that has any of them."""
    for text in texts:
        counts = {key: len(regex.findall(pattern, text)) for key, pattern in choices.items()}
        best = max(counts, key=lambda k: counts[k])
        if counts[best]:
            return best
    return default


def measure_style(
    document: Document, passage: Passage, shaping: Shaping, terms: Terms, full: bool
) -> Style:
    """Measure the style in which a passage is to be rewritten."""
    source = document.source.text
    here = Span(passage.opening_words.start, passage.span.end).of(source)
    start = passage.before[0].span.start if passage.before else passage.span.start
    piece = source[start : passage.span.end]
    texts = [here, piece, source]
    verb = _first_of(
        texts,
        {
            "cast off": r"(?i)\bcast(?:ing)?\s+off?\b",
            "bind off": r"(?i)\bbind(?:ing)?\s+off?\b",
            "BO": r"\b(?:BO|B\.O\.)(?=[\s\d])",
            "bo": r"\bbo\b",
        },
        "cast off" if terms == "UK" else "bind off",
    )
    unit = _first_of(
        texts, {"sts": r"(?i)\d\s?sts?\b|\bsts\b", "stitches": r"(?i)\bstitch(?:es)?\b"}, "sts"
    )
    spelled = full or unit == "stitches"
    knit, purl = _stitch_words(texts, spelled, full)
    if full:
        unit, verb = "stitches", ("cast off" if terms == "UK" else "bind off")
    letters = [c for c in here if c.isalpha()]
    upper = bool(letters) and not any(c.islower() for c in letters)
    label, side_form, ordinal = _label_form(passage, source, texts)
    sides = _first_of(
        [source],
        {"short": r"\b(?:RS|WS)\b", "long": r"(?i)\b(?:right|wrong)[\s-]side\b"},
        "long" if unit == "stitches" and not full else "short",
    )
    return Style(
        terms=terms,
        bind_off=verb,
        unit=unit,
        unit_one="stitch" if spelled else "st",
        knit=knit,
        purl=purl,
        work=_work_word(document, passage, here, piece),
        words=_passage_words(shaping, passage),
        to_end=_first_of(
            [here, source],
            {
                "to end": r"(?i)\bto end\b(?!\s+of)",
                "to end of row": r"(?i)\bto (?:the )?end of (?:the )?row\b",
                "to the end": r"(?i)\bto the end\b(?!\s+of)",
            },
            "to end",
        ),
        rs="right side" if sides == "long" else "RS",
        ws="wrong side" if sides == "long" else "WS",
        label=label,
        side_form=side_form,
        ordinal_label=ordinal,
        list_form=_list_form(texts, len(shaping.rows)),
        manner=_manner(passage, shaping, source),
        prints_counts=_prints_counts(shaping, passage),
        case="upper" if upper else "lower" if _is_lower(source, passage) else "sentence",
        in_words=spelled,
    )


def _stitch_words(texts: Sequence[str], spelled: bool, full: bool) -> tuple[str, str]:
    if full:
        return "knit", "purl"
    word = _first_of(
        texts,
        {
            "K": r"\bK(?=\s?\d|\s+to\b|[.,;]|\s+until\b|\s*1\b)",
            "k": r"\bk(?=\s?\d|\s+to\b|[.,;]|\s+until\b)",
            "knit": r"\b[Kk]nit\b",
        },
        "knit" if spelled else "k",
    )
    # "K" may only be "k" at the beginning of a sentence
    if word == "K" and regex.search(r"(?<![.:]\s)\b(?:k|p)\s?\d", texts[-1]):
        word = "K" if regex.search(r",\s*[KP]\s+to\b", texts[-1]) else "k"
    if word == "K" and regex.search(r",\s*[kp]\s+to\b", texts[-1]):
        word = "k"
    purl = {"K": "P", "k": "p", "knit": "purl"}[word]
    return word, purl


def _work_word(document: Document, passage: Passage, here: str, piece: str) -> str:
    """Return the word for a row that is neither knit nor purl: the draft's own for a row in pattern."""
    told = regex.search(r"(?i)\bin\s+(?:patt|pat|pattern)\b|\bpatt\s+to\b|\bkeeping\s+patt", here)
    if not told and fabric_of(document, passage) != "patterned":
        return "work"
    return _first_of(
        [here, piece],
        {
            "patt": r"(?i)\bpatt\s+(?:to\b|across\b|\d|\()",
            "work in patt": r"(?i)\b(?:in|keeping|of)\s+(?:\w+\s+)?patt\b",
            "work in pat": r"(?i)\b(?:in|keeping|of)\s+(?:\w+\s+)?pat\b",
            "work in pattern": r"(?i)\b(?:in|keeping|of)\s+(?:\w+\s+)?pattern\b",
        },
        "work in pattern" if told else "work",
    )


def _passage_words(shaping: Shaping, passage: Passage) -> tuple[str, str] | None:
    """Return the work words that the rows of the passage itself use, by direction."""
    words: tuple[set[str], set[str]] = (set(), set())
    for rows in shaping.rows:
        for i, row in enumerate(rows[1:]):
            if row.word and row.has(Kind.WORK) and row.statement >= 0:
                words[i % 2].add(row.word)
    even, odd = words
    if len(even) == 1 and len(odd) == 1:
        return next(iter(even)), next(iter(odd))
    return None


def _label_form(passage: Passage, source: str, texts: Sequence[str]) -> tuple[str, str, bool]:
    """Return the label template, the form of the side in it, and if numbers are ordinals."""
    statement = passage.statements[0]
    mark = _first_of(
        texts,
        {
            ":": r"(?i)\brow[^:.\n]{0,12}:",
            ".": r"(?:\bNext [Rr]ow|\d(?:st|nd|rd|th) [Rr]ow|\bRow \d+)(?: ?\(\w+\))?\.\s+\S",
        },
        ":",
    )
    side_form = " ({side})"
    if statement.label is not None:
        text = statement.label.span.of(source)
        if regex.search(r"(?i):\s*-?\s*(?:rs|ws)\b", text):
            side_form = " ({side})"
        if statement.label.numbers:
            if regex.search(r"(?i)\d(?:st|nd|rd|th)\s+row", text):
                word = regex.search(r"(?i)row", text)
                return f"{{n}} {word.group() if word else 'row'}{{side}}{mark}", side_form, True
            word = regex.search(r"(?i)row", text)
            return f"{word.group() if word else 'Row'} {{n}}{{side}}{mark}", side_form, False
    found = regex.search(r"\b(?:Next [Rr]ow|NEXT ROW)\b", source)
    words = found.group() if found else "Next row"
    return f"{words}{{side}}{mark}", side_form, False


def _list_form(texts: Sequence[str], sizes: int) -> tuple[str, ...]:
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
            form = tuple(regex.split(r"\d+", raw))
            if len(form) == sizes + 1 and not any(
                regex.search(r"[A-Za-z\r\n]", gap) for gap in form
            ):
                forms[form] += 1
        if forms:
            return forms.most_common(1)[0][0]
    return _short_form(texts, sizes)


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


_MANNERS = (
    regex.compile(
        r"(?i)\b(?:in|keeping)\s+(?:patt|pat|pattern|rib|ribbing|moss st(?:itch)?|seed st(?:itch)?)\b\.?"
    ),
    regex.compile(r"(?i)\bloosely\b"),
)


def _manner(passage: Passage, shaping: Shaping, source: str) -> str:
    """Return how the shoulder sts are bound off ("loosely", "in patt"); the neck's manner is its own."""
    found = []
    for statement in passage.statements:
        for frame in statement.frames:
            if frame.verb != "bind_off" or (frame.takes_all and shaping.two_edged):
                continue
            start = (
                passage.opening_words.start if statement is passage.statements[0] else frame.start
            )
            words = source[min(start, frame.start) : frame.end]
            found += [hit.group().rstrip(".") for m in _MANNERS if (hit := m.search(words))]
    out: list[str] = []
    for words in found:
        said = regex.sub(r"(?i)^keeping", "in", " ".join(words.split())).lower()
        if said not in out:
            out.append(said)
    return "".join(f" {words}" for words in out)


def _prints_counts(shaping: Shaping, passage: Passage) -> bool:
    """Say whether the passage prints stitch counts, or works until a count is left."""
    until = any(
        (extent := f.one("extent")) is not None and extent.kind == "until_left"
        for s in passage.statements
        for f in s.frames
    )
    return until or any(row.printed is not None for rows in shaping.rows for row in rows)


def _is_lower(source: str, passage: Passage) -> bool:
    """Say whether the draft begins its sentences without a capital."""
    starts = [
        s.sentence.text.lstrip("*_-\u2022 ")[:1] for s in [*passage.before, *passage.statements]
    ]
    letters = [c for c in starts if c.isalpha()]
    return len(letters) > 2 and not any(c.isupper() for c in letters)
