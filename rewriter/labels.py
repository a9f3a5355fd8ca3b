"""Row labels as a draft writes them: words, number, side, bold signs, the point or dash after them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from rewriter import regex
from rewriter.bullets import BULLETS


@dataclass(frozen=True)
class Labels:
    """How a draft writes its row labels."""

    plain: str = "Next row"
    """The words of a label without number."""
    numbered: str = "Row {n}"
    """The words of a numbered label, with the place of the number."""
    ordinal: bool = False
    """Numbers are ordinals: 1st row."""
    side: str = " ({side})"
    """How a side stands in a label."""
    front: str = ""
    """Signs of bold type before the label."""
    mark: str = ": "
    """What stands after the label, signs of bold type and the blank included."""
    capital: bool | None = None
    """Whether the first word of a row begins with a capital; None where no row shows it."""

    def write(self, number: str | None, side: str) -> str:
        """Return a label; an empty `side` is left out."""
        words = self.plain if number is None else self.numbered.format(n=number)
        told = self.side.format(side=side) if side else ""
        return f"{self.front}{words}{told}{self.mark}"


# A label that begins a line or a sentence, and the word after it.
_LABEL = regex.compile(
    rf"(?:^|(?<=[.;:*_)]\s)|(?<=[\r\n]))[ \t]*(?:[-{BULLETS}][ \t]+|\d+[.)][ \t]+)?(?P<front>[*_]{{0,2}})"
    r"(?:(?P<next>next)\s+(?:\d+\s+)?(?P<word>row)s?|(?P<word>row)s?\s\d+(?:\s?[-\u2013]\s?\d+)?"
    r"|(?P<short>r)\s?\d{1,3}(?:\s?[-\u2013]\s?r?\s?\d+)?"
    r"|(?P<ordinal>\d+)(?:st|nd|rd|th)\s+(?:(?:shoulder|shaping|slope|sloping|neck|armhole)\s+)?(?P<word>row))\b"
    r"(?P<side>(?P<open>\s?[,(\[]?\s?)(?:[RW]S|(?:right|wrong)[\s-]side)(?P<close>[)\]]?))?"
    r"(?P<mark>(?:[:.]\s?|\s)?(?:\u2014|\u2013|-(?!\d))|[:.])(?P<back>[*_]{0,2}:?)"
    r"(?P<gap>\s+|(?<=[\u2014\u2013-]))(?P<first>\S+)",
    regex.I | regex.M,
)


_NUMBER = regex.compile(r"\d+")


def without_label(words: str) -> tuple[str, int | None]:
    """Return the words of a row without its label, and the number that the label gives the row."""
    found = _LABEL.match(words)
    if found is None:
        return words, None
    label = found.group()[: -len(found.group("first"))]
    number = None if found.group("next") else _NUMBER.search(label)
    return words[found.start("first") :], int(number.group()) if number else None


@lru_cache(maxsize=8)
def _labels_in(text: str) -> list[regex.Match[str]]:
    """Return the labels of a text; the whole draft is asked about for each of its passages."""
    return [m for m in _LABEL.finditer(text) if not _runs_on(text, m)]


def measure_labels(texts: Sequence[str], letters: bool) -> Labels:
    """Measure the labels of a draft, the nearest text first; `letters`: rows begin with K and P always."""
    out = Labels()
    found = [_labels_in(text) for text in texts]
    every = [label for labels in found for label in labels]
    if not every:
        return out
    near = next(labels for labels in found if labels)
    plain = next((m for m in every if m.group("next")), None)
    numbered = next((m for m in every if not m.group("next")), None)
    sided = next((m for m in every if m.group("side")), None)
    marks = Counter(
        # a sign that is not closed behind the label is a repeat sign: "**1st row.-Cast off 9"
        (
            m.group("front") if m.group("back").strip(":") else "",
            m.group("mark") + m.group("back") + (" " if m.group("gap") else ""),
        )
        for m in near
    )
    (front, mark), _ = marks.most_common(1)[0]
    return Labels(
        plain=_plain(plain, numbered, out.plain),
        numbered=_numbered(numbered, out.numbered),
        ordinal=numbered is not None and numbered.group("ordinal") is not None,
        side=out.side if sided is None else f"{sided.group('open')}{{side}}{sided.group('close')}",
        front=front,
        mark=mark,
        capital=_capital(found, letters),
    )


_SHORT_FOR_BEGINNING = regex.compile(r"(?i)\b(?:beg|foll|each)\.\Z")


def _runs_on(text: str, label: regex.Match[str]) -> bool:
    """Say whether what looks like a label goes on with the sentence of the line above it."""
    above = text[: label.start()].rstrip()
    between = text[len(above) : label.start()]
    breaks = len(regex.findall(r"\r\n|\r|\n", between))
    small = label.group().lstrip()[:1].islower()
    if small and breaks < 2 and _SHORT_FOR_BEGINNING.search(above) is not None:
        return True  # "cast off 3 sts. beg. next 2 rows. Dec. ..."
    return breaks == 1 and small and above[-1:] not in ".:;!*_)]"


def _plain(plain: regex.Match[str] | None, numbered: regex.Match[str] | None, usual: str) -> str:
    """Return the label without number, with the capitals that the draft gives its labels."""
    if plain is not None:
        return f"{plain.group('next')} {plain.group('word')}"
    if numbered is None:
        return usual
    short = numbered.group("short")
    if short:  # "R1": there is no word to be had from it
        return usual.lower() if short.islower() else usual
    word: str = numbered.group("word")
    if numbered.group("ordinal"):
        first, _, _ = usual.partition(" ")
        return f"{first.upper() if word.isupper() else first} {word}"
    if word.isupper():
        return usual.upper()
    return usual.lower() if word.islower() else usual


def _numbered(numbered: regex.Match[str] | None, usual: str) -> str:
    if numbered is None:
        return usual
    if short := numbered.group("short"):
        return f"{short}{{n}}"
    word = numbered.group("word")
    return f"{{n}} {word}" if numbered.group("ordinal") else f"{word} {{n}}"


def _capital(found: Sequence[Sequence[regex.Match[str]]], letters: bool) -> bool | None:
    """Say whether rows begin with a capital, by the nearest text that shows it."""
    for labels in found:
        told = [
            bool(first[0].isupper())
            for m in labels
            if (first := m.group("first").strip("*_"))[:1].isalpha()
            and not first[:2].isupper()
            and not (letters and len(first.strip(".,;")) <= 2)
        ]
        if told:
            return sum(told) >= len(told) / 2
    return None
