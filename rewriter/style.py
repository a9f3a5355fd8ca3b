"""Measure how a draft says things, so that replacement text says them the same way.

Each choice is taken from the nearest text that shows it: the passage, then its piece, then the
whole draft, then what is usual for the draft's terms.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from rewriter import regex
from rewriter.amounts import number_words
from rewriter.bullets import BULLETS
from rewriter.countform import CountForm, measure_counts
from rewriter.document import Document
from rewriter.labels import Labels, measure_labels
from rewriter.lexicon import term_cues
from rewriter.listform import list_form
from rewriter.needed import may_match
from rewriter.notions import names_list
from rewriter.numberwords import read_words
from rewriter.passages import Passage
from rewriter.rows import Kind
from rewriter.shapingmodel import Shaping
from rewriter.sidewords import SIDES, SideWords, side_words
from rewriter.spans import Span
from rewriter.stitchwork import fabric_of
from rewriter.voice import Voice, measure_voice

Terms = Literal["UK", "US"]


@dataclass(frozen=True)
class Style:
    """How a draft words its rows."""

    terms: Terms
    bind_off: str
    """Lower-case verb: cast off, bind off, BO."""
    unit: str
    """sts, stitches or loops; st where the draft writes "6 st"."""
    unit_one: str
    st: str
    """One stitch in the terms of a turning method: st, stitch."""
    knit: str
    purl: str
    work: str
    """Work word where neither knit nor purl is told."""
    words: tuple[str, str] | None
    """Work words for the rows of row 0's direction and of the other, when the passage names them."""
    to_end: str
    rs: str
    ws: str
    sides: SideWords
    """The sides within a sentence."""
    hyphen: bool
    """The draft writes "a right-side row"."""
    labels: Labels
    list_form: tuple[str, ...]
    """What stands before, between and after the counts of a list with one for each size."""
    manner: str
    """How the shoulder sts are bound off ("loosely", "in patt"), a blank before it."""
    neck_manner: str
    """How the neck's are ("rather firmly"): their own manner, or none."""
    neck_lest: str
    """What that manner is to prevent: ", so that it will not stretch,"."""
    prints_counts: bool
    count_form: CountForm
    case: Literal["sentence", "lower", "upper"]
    points: frozenset[str]
    """Abbreviations that the draft writes with a point within a sentence."""
    spelled_out: bool
    """The draft says that it has no abbreviations."""
    colour: str
    """"colour" or "color"."""
    on_to: bool
    """The draft writes "on to a holder" in two words."""
    voice: Voice
    """Articles, and the words for yarn and what is done with it."""
    slip_spelled: bool
    """The draft lists its abbreviations, and sl is none of them."""
    waste_yarn: bool
    """Sts wait on waste yarn here, and the draft has no holders."""
    words_up_to: int
    """Counts that are told in words up to this number of sts; 0 where all are in figures."""


_CAST_OFF = regex.compile(r"\bcast(?:ing)?\s+off\b")
_BIND_OFF = regex.compile(r"\bbind(?:ing)?\s+off\b|\bbo\b")


def measure_terms(document: Document) -> Terms:
    """Say whether a draft speaks UK or US English (US where nothing tells)."""
    uk = us = 0
    uk_cue, us_cue = term_cues()
    for sentence in document.sentences:
        text = sentence.view.text
        # the verb tells most: Canadian leaflets "cast off" and "work even"
        uk += _count(uk_cue, text) + 2 * _count(_CAST_OFF, text)
        us += _count(us_cue, text) + 2 * _count(_BIND_OFF, text)
    return "UK" if uk > us else "US"


def _count(expression: regex.Pattern[str], text: str) -> int:
    return len(expression.findall(text)) if may_match(expression, text) else 0


def _first_of(texts: Sequence[str], choices: dict[str, str], default: str) -> str:
    """Return the choice found most often in the first text that has any of them."""
    for text in texts:
        counts = {key: _times(pattern, text) for key, pattern in choices.items()}
        best = max(counts, key=lambda k: counts[k])
        if counts[best]:
            return best
    return default


@lru_cache(maxsize=256)
def _times(pattern: str, text: str) -> int:
    """Count matches; those in the whole draft are asked for by each of its passages."""
    return len(regex.findall(pattern, text))


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
        texts,
        {
            "sts": r"(?!)" if _singular(source) else r"(?i)\d\s?sts?\b|\bsts\b",
            "st": r"\bst\b" if _singular(source) else r"(?!)",
            "stitches": r"(?i)\bstitch(?:es)?\b",
            "loops": r"(?i)[\d)]\s+loops\b",
        },
        "sts",
    )
    if full:
        unit, verb = "stitches", ("cast off" if terms == "UK" else "bind off")
    knit, purl = ("knit", "purl") if full else _stitch_words(texts)
    neck_manner, neck_lest = _neck_manner(passage, shaping, source)
    letters = [c for c in here if c.isalpha()]
    upper = bool(letters) and not any(c.islower() for c in letters)
    sides = _first_of(
        [source],
        {
            "short": r"\b(?:RS|WS)\b",
            "small": r"\b(?:rs|ws)\b",
            "long": r"(?i)\b(?:right|wrong)[\s-]side\b",
        },
        "short" if full else "long",
    )
    return Style(
        terms=terms,
        bind_off=verb,
        unit=unit,
        unit_one=_ONE[unit],
        st="stitch" if unit in ("stitches", "loops") else "st",
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
        rs=SIDES[sides][0],
        ws=SIDES[sides][1],
        sides=side_words(source, sides, full),
        hyphen=full or bool(regex.search(r"(?i)\b(?:right|wrong)-side rows?\b", source)),
        labels=measure_labels(texts, knit == "K"),
        list_form=list_form(texts, len(shaping.rows)),
        manner=_manner(passage, shaping, source),
        neck_manner=neck_manner,
        neck_lest=neck_lest,
        prints_counts=_prints_counts(shaping, passage),
        count_form=measure_counts(_rows_with_counts(document, passage, source)),
        case="upper" if upper else "lower" if _is_lower(document, passage) else "sentence",
        points=frozenset() if full or upper else _points(source),
        spelled_out=unit in ("stitches", "loops") and _NO_ABBREVIATIONS.search(source) is not None,
        colour=colour_word(source, terms),
        on_to=len(regex.findall(r"(?i)\bon to (?:an?|the|\d+)\b", source))
        > len(regex.findall(r"(?i)\bonto\b", source)),
        voice=measure_voice(source),
        slip_spelled=names_list(source) is not None and _SL.search(source) is None,
        waste_yarn=_WASTE.search(source) is not None and _HOLDER.search(source) is None,
        words_up_to=0 if full else _words_up_to(here, source),
    )


_SL = regex.compile(r"(?i)\bsl\b")
_WASTE = regex.compile(r"(?i)\b(?:on|onto|on\s+to)\s+(?:a\s+)?(?:\w+\s+of\s+)?waste\s+yarn\b")
_HOLDER = regex.compile(r"(?i)\b(?:holders?|spare\s+needle|safety\s+pins?)\b")
_NO_ABBREVIATIONS = regex.compile(r"(?i)\b(?:no|without|free of)\s+(?:any\s+)?abbreviations\b")
_ONE = {"sts": "st", "st": "st", "stitches": "stitch", "loops": "loop"}


# Several, told with the word for one: "6 st.", "6 (7, 8) st".
_SEVERAL_ST = regex.compile(r"(?i)(?:(?<![\d.,])(?!1\s?s)\d+|[)\]])\s?st\b(?!\.?\s+st\b)")


@lru_cache(maxsize=16)
def _singular(source: str) -> bool:
    """Say whether a draft writes "st" for several stitches too."""
    return len(_SEVERAL_ST.findall(source)) > len(regex.findall(r"(?i)\bsts\b", source))


_LETTER = r"\b[KkPp](?=\s?\d|\s+to\b|[.,;]|\s+until\b)"
_SPELLED = r"\b(?:[Kk]nit|[Pp]url)(?=\s?\d|\s+(?:to|until|across|all|one)\b|[.,;])"
# Within a sentence a capital is the draft's own, at the beginning it may be the sentence's.
_WITHIN = r"(?:[,;]|\band|\bthen)\s+"


def _stitch_words(texts: Sequence[str]) -> tuple[str, str]:
    """Return the words for knit and purl within a sentence: k and p, K and P, or whole words.

    Whole words need no explanation where the draft has neither.
    """
    if _first_of(texts, {"letter": _LETTER, "word": _SPELLED}, "word") == "word":
        return "knit", "purl"
    capital = {
        "K": rf"{_WITHIN}[KP](?=\s?\d|\s+to\b|\s+until\b|[.,;])",
        "k": rf"{_WITHIN}[kp](?=\s?\d|\s+to\b|\s+until\b|[.,;])",
    }
    anywhere = {"K": r"\b[KP](?=\s?\d|\s+to\b|[.,;])", "k": r"\b[kp](?=\s?\d|\s+to\b|[.,;])"}
    word = _first_of(texts, capital, _first_of(texts, anywhere, "k"))
    return (word, "P" if word == "K" else "p")


def _work_word(document: Document, passage: Passage, here: str, piece: str) -> str:
    """Return the word for a row that is neither knit nor purl: the draft's own for a row in pattern."""
    told = regex.search(r"(?i)\bin\s+(?:patt|pat|pattern)\b|\bpatt\s+to\b|\bkeeping\s+patt", here)
    if not told and fabric_of(document, passage) != "patterned":
        return "work"
    texts = [here, piece, document.source.text]
    if _first_of(texts, {"rib": _RIBS, "patt": r"(?i)\b(?:pattern|patt?)\b"}, "") == "rib":
        return "rib"
    return _first_of(
        texts,
        {
            "patt": r"(?i)\bpatt\s+(?:to\b|across\b|\d|\()",
            "work in patt": r"(?i)\b(?:in|keeping|of)\s+(?:\w+\s+)?patt\b",
            "work in pat": r"(?i)\b(?:in|keeping|of)\s+(?:\w+\s+)?pat\b",
            "work in pattern": r"(?i)\b(?:in|keeping|of)\s+(?:\w+\s+)?pattern\b",
        },
        "work in pattern" if told else "work",
    )


_RIBS = (
    r"(?i)\brib\s+(?:straight|even|(?:until|till)\s+(?:the\s+)?(?:armholes?|work|piece|back|front)\b)"
    r"|\bin rib (?:until|till)\s+(?:the\s+)?armholes?\b"
)


def _passage_words(shaping: Shaping, passage: Passage) -> tuple[str, str] | None:
    """Return the work words that the rows of the passage itself use, by direction."""
    words: tuple[set[str], set[str]] = (set(), set())
    for rows, edges in zip(shaping.rows, shaping.edges, strict=True):
        last = max(steps.rows[-1] for steps in edges)  # the neck may go on in another stitch
        for i, row in enumerate(rows[1 : last + 2]):
            # "k back" names a stitch too, but its model only the way: such a row is told by its side
            if row.word not in (None, "", "back") and row.has(Kind.WORK) and row.statement >= 0:
                words[i % 2].add(row.word)
    even, odd = words
    if len(even) == 1 and len(odd) == 1:
        return next(iter(even)), next(iter(odd))
    return None


# A number after "sts." may be a count that stands by itself; after "dec." it never is.
_POINTED = regex.compile(
    r"\b(?:(?P<word>sts?)\b(?P<point>\.?)(?=\s*[,;(\[]|\s+[a-z])"
    r"|(?P<word>rem|beg|foll|alt|dec|inc|patt?|tog|cont|rep)\b(?P<point>\.?)(?=\s*[,;(\[]|\s+[a-z\d]))"
)


_POINTED_LETTER = regex.compile(r"\b[KkPp](\.?)(?=\s?\d|\s+(?:to|the|across|until)\b)")


@lru_cache(maxsize=16)
def _points(source: str) -> frozenset[str]:
    """Return the abbreviations that mostly have a point where the sentence goes on after them."""
    counts: Counter[str] = Counter()
    for found in _POINTED.finditer(source):
        counts[found.group("word")] += 1 if found.group("point") else -1
    pointed = {word for word, n in counts.items() if n > 0}
    letters = [bool(m.group(1)) for m in _POINTED_LETTER.finditer(source)]
    if sum(letters) > len(letters) / 2:
        pointed |= {"k", "p", "K", "P"}
    if pointed & {"st", "sts"}:
        pointed |= {word for word in ("st", "sts") if word not in counts}
    return frozenset(pointed)


_IN_WORDS = regex.compile(rf"(?i)(?<![\w-])({number_words()})\s+(?:sts?\b|stitch|loops\b)")
_IN_FIGURES = regex.compile(r"(?<![\d)\]])\b\d+\s+(?:sts?\b|stitch|loops\b)")


def _words_up_to(here: str, source: str) -> int:
    """Return up to which number counts of sts are told in words: all, those to twelve, or none.

    The passage decides: counts in figures there are numbers too great for words, or all of them.
    """
    told = [read_words(m.group(1)) for m in _IN_WORDS.finditer(here)]
    if not told or max(told) < 2:
        return 0
    figures = _IN_FIGURES.search(here) or len(_IN_FIGURES.findall(source)) > len(
        _IN_WORDS.findall(source)
    )
    return _GREATEST if not figures or max(told) > _SMALL else _SMALL


_SMALL, _GREATEST = 12, 99


def colour_word(source: str, terms: str) -> str:
    """Return how a draft spells "colour": its own way, or that of its terms ("UK" or "US")."""
    own = {word.lower() for word in regex.findall(r"(?i)\bcolou?r", source)}
    return own.pop() if len(own) == 1 else "colour" if terms == "UK" else "color"


_MANNERS = (
    regex.compile(
        r"(?i)\b(?:in|keeping)\s+(?:patt|pat|pattern|rib|ribbing|moss st(?:itch)?|seed st(?:itch)?)\b\.?"
    ),
    regex.compile(r"(?i)\bloosely\b"),
)
# told of the side on which a step is bound off; the sweep is on that side unless the last step was not
_STITCHWISE = regex.compile(r"(?i)\b(?:knit|purl)(?:wise|ways)\b")


def _manner(passage: Passage, shaping: Shaping, source: str) -> str:
    """Return how the shoulder sts are bound off ("loosely", "in patt"); the neck's manner is its own."""
    found = []
    told = _MANNERS if shaping.two_edged or shaping.last_on_return_row else (*_MANNERS, _STITCHWISE)
    for statement in passage.statements:
        for frame in statement.frames:
            if frame.verb != "bind_off" or (frame.takes_all and shaping.two_edged):
                continue
            start = (
                passage.opening_words.start if statement is passage.statements[0] else frame.start
            )
            words = source[min(start, frame.start) : frame.end]
            found += [hit.group().rstrip(".") for m in told if (hit := m.search(words))]
    out: list[str] = []
    for words in found:
        said = regex.sub(r"(?i)^keeping", "in", " ".join(words.split())).lower()
        if said not in out:
            out.append(said)
    return "".join(f" {words}" for words in out)


_FIRMNESS = regex.compile(
    r"(?i)\b(?:(?:very|rather|fairly|quite|not too)\s+)?(?:loosely|firmly|tightly|evenly)\b"
)
_LEST = regex.compile(r"(?i)\bso (?:that|as)\b[^.;:()]*\bstretch\b")


def _neck_manner(passage: Passage, shaping: Shaping, source: str) -> tuple[str, str]:
    """Return how the sts left for the neck are bound off, and lest what: "rather firmly", "so that ..."."""
    if not shaping.two_edged or shaping.ending != "bound off":
        return "", ""
    last = passage.statements[-1]
    bind_offs = [f for f in last.frames if f.verb == "bind_off"]
    if not bind_offs:
        return "", ""
    words = source[bind_offs[-1].start : last.span.end]
    told = [
        " ".join(m.group().lower().split())
        for p in (_MANNERS[0], _FIRMNESS)
        if (m := p.search(words))
    ]
    lest = _LEST.search(words)
    out = "".join(f" {word.rstrip('.')}" for word in told)
    return out, f", {' '.join(lest.group().split())}," if out and lest else ""


def _prints_counts(shaping: Shaping, passage: Passage) -> bool:
    """Say whether the passage prints stitch counts, or works until a count is left."""
    until = any(
        (extent := f.one("extent")) is not None and extent.kind == "until_left"
        for s in passage.statements
        for f in s.frames
    )
    return until or any(row.printed is not None for rows in shaping.rows for row in rows)


def _rows_with_counts(document: Document, passage: Passage, source: str) -> Iterator[str]:
    """Yield the words of rows, each with the count that may stand after it; the passage's come first."""
    own = [s.span for s in passage.statements]
    others = [s.span for s in document.sentences if not s.heading]
    for spans in (own, others):
        yield from (source[a.start : b.end] for a, b in pairwise(spans))
        yield from (span.of(source) for span in spans)


def _is_lower(document: Document, passage: Passage) -> bool:
    """Say whether the draft begins its sentences without a capital: the piece, or all if that is short."""
    near = [s.sentence for s in [*passage.before, *passage.statements]]
    for sentences in (near, document.sentences):
        starts = [s.text.lstrip(f"*_-{BULLETS} ")[:1] for s in sentences]
        letters = [c for c in starts if c.isalpha()]
        if any(c.isupper() for c in letters):
            return False
        if len(letters) > 2:
            return True
    return False
