"""Measure where written text departs from the style of the draft it is written into.

It shares no code with the package: the forms are looked for here by patterns of its own, first in the
words that an edit replaces, then in the whole draft. A form of which the draft shows nothing at all
cannot be departed from and is not counted.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise

from rewriter.edits import Edit, apply


@dataclass(frozen=True)
class Disagreement:
    """One form in the new text that the draft does not have."""

    kind: str
    found: str
    usual: tuple[str, ...]
    """The forms that the draft has."""
    line: str
    """The line of the new text."""


Forms = Callable[[str], list[str]]

_NUMBER_WORDS = (
    "one", "two", "three", "four", "five", "six", "seven", "eight",
    "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen",
    "seventeen", "eighteen", "nineteen", "twenty", "thirty", "forty", "fifty",
)  # fmt: skip
_WORD = rf"(?:{'|'.join(_NUMBER_WORDS)})"


def _all(pattern: str, flags: int = 0) -> Forms:
    compiled = re.compile(pattern, flags)
    return lambda text: [found.group(found.lastindex or 0) for found in compiled.finditer(text)]


def _verbs(text: str) -> list[str]:
    found = re.findall(r"(?i)\b(cast|bind)(?:ing)?\s*o(?:ff|ft|f)\b|\b(B\.?O\.?)(?=[\s(])", text)
    return [f"{a.lower()} off" if a else b.replace(".", "") for a, b in found]


def _units(text: str) -> list[str]:
    """The unit of counts within a sentence: its point is no full stop there."""
    within = r"(?=\s*[,;(\[\u2014]|\s+(?:at|and|on|once|twice|in|for|to|of|every|each|beg)\b)"
    if not any(c.islower() for c in text):  # a point and a full stop cannot be told apart
        return [unit.lower() for unit in re.findall(r"[\d)\]]\s?(STS|STITCHES|LOOPS)\b", text)]
    several = rf"(?:(?<![\d.,])(?!1\s?s)\d+\s?|[)\]]\s?|\b(?!one\b){_WORD}\s+)"
    pattern = rf"{several}(sts?\.|sts?\b|stitches|loops|lps\.?){within}"
    return re.findall(pattern, text)


def _stitch_words(text: str) -> list[str]:
    """Knit and purl within a sentence, where a capital is not that of a beginning."""
    found = re.findall(
        r"(?:,|;|\band|\bthen|DS,)\s+(K|P|k|p|[Kk]nit|[Pp]url|KNIT|PURL)(?=\s?\d|\s+to\b|\s+until\b|[.,;])",
        text,
    )
    pairs = {"P": "K", "p": "k", "purl": "knit", "Purl": "Knit", "PURL": "KNIT"}
    return [pairs.get(word, word) for word in found]


def _bare_stitch_words(text: str) -> list[str]:
    """Letters or whole words for knit and purl, whatever their case; "as if to purl" is none of them."""
    text = re.sub(r"(?i)\bas\s+if\s+to\s+(?:knit|purl)\b", "", text)
    found = re.findall(r"(?i)\b(k|p|knit|purl)(?=\s?\d|\s+to\b|\s+until\b|[.;]|,\s)", text)
    return ["letter" if len(word) == 1 else "word" for word in found]


def _sides(text: str) -> list[str]:
    found = re.findall(
        r"\b(RS|WS|rs|ws|R\.S\.|W\.S\.)\b|\b((?:right|wrong)[\s-]side)\b", text, re.IGNORECASE
    )
    return ["right side" if long else "RS" if short.isupper() else "rs" for short, long in found]


_LABEL = re.compile(
    r"(?:^|(?<=[.;:*)]\s)|(?<=\n))[ \t]*(?:[-\u2022][ \t]+|\d+[.)][ \t]+)?(?P<front>[*_]*)"
    r"(?P<name>(?:next|following)\s+rows?|next\s+\d+\s+rows|rows?\s\d+(?:\s?[-\u2013]\s?\d+)?|\d+(?:st|nd|rd|th)\s+row)\b"
    r"(?P<side>\s?[,(\[]?\s?(?:RS|WS|right side|wrong side)(?:\s+facing|\s+row)?[)\]]?)?"
    r"(?P<mark>(?:[:.]|\s?[\u2013\u2014-])+)(?P<back>[*_]*:?)(?P<gap>\s+)(?=(?P<first>\S))",
    re.IGNORECASE,
)


def _labels(text: str) -> list[re.Match[str]]:
    """Return the labels in a text.

    A small "next row" that goes on with the line above, or with "beg.", is none.
    """
    return [
        found
        for found in _LABEL.finditer(text)
        if not (
            found.group("name")[0].islower()
            and re.search(
                r"(?:[a-z,0-9][ \t]*\r?\n[ \t]*|\b[Bb]eg\.\s+)$", text[: found.start("front")]
            )
        )
    ]


def _label_marks(text: str) -> list[str]:
    """Bold signs and punctuation around a row label."""
    return [f"{f.group('front')}label{f.group('mark')}{f.group('back')}" for f in _labels(text)]


def _label_names(text: str) -> list[str]:
    """The words of a row label: Next row, Row 1, 1st row, with their capitals."""
    out = []
    for found in _labels(text):
        name = re.sub(r"\d+(?:\s?[-\u2013]\s?\d+)?", "1", " ".join(found.group("name").split()))
        name = re.sub(r"(?i)(?<=next) 1(?= row)", "", name)
        name = re.sub(r"1(?:st|nd|rd|th)", "1st", name, flags=re.IGNORECASE)
        out.append(re.sub(r"(?i)(?<=row)s\b", "", name))
    return out


def _label_sides(text: str) -> list[str]:
    """What stands around the side in a row label."""
    found = [f.group("side") for f in _labels(text) if f.group("side")]
    return [re.sub(r"[A-Za-z]+(?: side)?", "side", side, count=1) for side in found]


def _row_starts(text: str) -> list[str]:
    """Whether the first word after a row label has a capital (K and P where they are always so apart)."""
    out = []
    always = "K" in _stitch_words(text)
    for found in _labels(text):
        word = re.match(r"[A-Za-z&]+", text[found.end() :])
        if word is None or (len(word.group()) == 1 and always) or word.group()[:2].isupper():
            continue
        out.append("capital" if word.group()[0].isupper() else "small")
    return out


def _list_forms(sizes: int) -> Forms:
    """What stands between the counts of lists with one for each size."""

    def forms(text: str) -> list[str]:
        out = []
        for found in re.finditer(
            r"(?<![\d.,/-])(?:\d|\(\d|\[\d)[\d\s,:;/()\[\]\u2013\u2014-]*", text
        ):
            raw = " ".join(found.group().rstrip(" ,:;-\u2013\u2014/\r\n\t").split())
            if raw.count("(") < raw.count(")") or raw.count("[") < raw.count("]"):
                raw = raw.rstrip(")]")
            gaps = re.split(r"\d+", raw)
            if len(gaps) == sizes + 1 and sizes > 1 and not gaps[0].strip(" (["):
                out.append("n".join(gaps))
        return out

    return forms


def _numerals(text: str) -> list[str]:
    """Whether counts of sts are told in words or figures, small ones and greater ones apart."""
    unit = r"\s+(?:sts?\b|stitch)"
    out = []
    for found in re.finditer(rf"(?i)(?<!-)\b({_WORD})(-{_WORD})?{unit}", text):
        great = found.group(2) or _NUMBER_WORDS.index(found.group(1).lower()) >= 12
        if great or found.group(1).lower() != "one":
            out.append("great in words" if great else "small in words")
    for found in re.finditer(rf"(?<![\d)\]])\b(\d+){unit}", text):
        if int(found.group(1)) > 1:
            out.append("great in figures" if int(found.group(1)) > 12 else "small in figures")
    return out


_COUNT = re.compile(
    r"(?i)(?:end|rows?|st|sts)(\s?[\u2013\u2014-]\s?|\.?\s+[(\[]|\.\s+)(?!\d+(?:st|nd|rd|th)\s+row)\d[\d\s,:;/()\[\]\u2013-]*?"
    r"(?:\s*(sts?|stitches)\b\.?)?(\s(?:rem|remain|left))?([)\]]?)\.?[ \t]*(?=[\r\n]|$|(?-i:[A-Z]))"
)


def _count_forms(text: str) -> list[str]:
    """What parts a row from the sts left after it, and stands around their number."""
    flat = re.sub(r"[ \t]*\r?\n(?=\d|sts|\))", " ", text)
    return [
        f"{' '.join(m.group(1).split())}n{' unit' if m.group(2) else ''}"
        + re.sub(r"\s+", " ", m.group(3) or "")
        for m in _COUNT.finditer(flat)
    ]


_ABBREVIATED = r"(?:rem|foll|beg|alt|dec|inc|patt|pat|tog|cont|rep)"
_POINTED = re.compile(rf"\b{_ABBREVIATED}\b\.?(?=\s*[a-z0-9,(])")


def _abbreviations(text: str) -> list[str]:
    """Abbreviations within a sentence, with their points."""
    return [found.group().lower() for found in _POINTED.finditer(text)]


def _same_word(form: str, forms: Iterable[str]) -> tuple[str, ...]:
    return tuple(f for f in forms if f.rstrip(".") == form.rstrip("."))


_dashes = _all(r"(?<=[a-z.)] )[\u2013\u2014-](?= [a-z])|(?<=[a-z.)])[\u2014\u2013](?=[a-z0-9])")
_quotes = _all("[\u2018\u2019\u201c\u201d'\"]")


def _colours(text: str) -> list[str]:
    return [word.lower() for word in re.findall(r"(?i)\bcolou?r\b", text)]


def disagreements(draft: str, edits: Iterable[Edit], sizes: int) -> list[Disagreement]:
    """Return every form of the replacements that neither the replaced words nor the draft have."""
    near: dict[str, Forms] = {
        "verb": _verbs, "unit": _units, "stitch word": _stitch_words, "letter or word": _bare_stitch_words,
        "side": _sides, "label marks": _label_marks, "label name": _label_names,
        "label side": _label_sides, "row start": _row_starts, "list": _list_forms(sizes),
        "numerals": _numerals, "count form": _count_forms,
    }  # fmt: skip
    far: dict[str, Forms] = {"dash": _dashes, "quote": _quotes, "colour": _colours}
    out: list[Disagreement] = []
    edits = list(edits)
    # where only one side is abbreviated, a note spells both out
    spelled = not all(re.search(rf"(?i)\b{side}\.?s\b", draft) for side in "rw")
    for edit in edits:
        replaced, new = edit.span.of(draft), edit.replacement
        for kind, forms in near.items():
            if kind == "numerals" and edit.why == "notions":
                continue  # the list has figures or words of its own
            usual = forms(replaced) if edit.why == "shaping" else []
            usual = usual or forms(draft)
            if kind == "side" and usual and spelled:
                usual = [*usual, "right side"]
            out += _strange(kind, forms, new, usual)
        out += _unnumbered(replaced, new)
        for kind, forms in far.items():
            usual = forms(draft)
            if kind == "colour" or usual:
                out += _strange(kind, forms, new, usual)
        out += _points(draft, new)
    return out + _too_wide(draft, edits)


def _points(draft: str, new: str) -> list[Disagreement]:
    """Return the abbreviations whose points the draft has not, or that it does not have at all."""
    known = set(_abbreviations(draft))
    return [
        Disagreement("abbreviation", form, _same_word(form, known), _line_of(form, new))
        for form in _abbreviations(new)
        if form not in known
    ]


def _of_its_kind(kind: str, form: str, usual: Iterable[str]) -> list[str]:
    """Return the forms that can be compared with one: figures and words of like numbers, like labels."""
    if kind == "numerals":
        return [u for u in usual if u.split()[0] == form.split()[0]]
    if kind == "stitch word":
        return [u for u in usual if (len(u) == 1) == (len(form) == 1)]
    if kind == "label name":
        return [
            u
            for u in usual
            if (u[0].isdigit(), u[:1].lower()) == (form[0].isdigit(), form[:1].lower())
        ]
    return list(usual)


def _strange(kind: str, forms: Forms, new: str, usual: list[str]) -> list[Disagreement]:
    if not usual:
        return []
    common = Counter(usual)
    return [
        Disagreement(kind, form, tuple(common), _line_of(form, new))
        for form in forms(new)
        if form not in common and _of_its_kind(kind, form, common)
    ]


def _line_of(form: str, new: str) -> str:
    """Return the line of the new text that shows a form, or its first line."""
    lines = new.strip().splitlines()
    return next((line for line in lines if form in line), lines[0] if lines else "")


def _unnumbered(replaced: str, new: str) -> list[Disagreement]:
    """Return the rows without number that stand where the draft has numbered rows only."""
    names = _label_names(replaced)
    if not names or any(name.lower().startswith("next") for name in names):
        return []
    if re.search(r"\bsizes? only\b", new):
        return []  # rows of some sizes alone would have other numbers in the others
    out = []
    for line in new.splitlines():
        if any(name.lower().startswith("next") for name in _label_names(line)):
            out.append(Disagreement("number", "Next row", tuple(set(names)), line))
    return out


def _unbroken(lines: list[str]) -> set[str]:
    """Return the paragraphs of a single line."""
    around = ["", *(line.strip() for line in lines), ""]
    return {
        line
        for line, above, below in zip(lines, around, around[2:], strict=False)
        if not above and not below
    }


def hard_width(draft: str) -> int | None:
    """Return the widest line of a draft whose lines break within sentences; None where they do not.

    A paragraph that runs on in one line, wider than any that is broken, does not count.
    """
    lines = [line.rstrip() for line in draft.splitlines()]
    broken = [
        len(line)
        for line, after in pairwise(lines)
        if len(line) > 25 and re.search(r"[^.:;!?|*_]$", line) and re.match(r"\s*[a-z(]", after)
    ]
    if len(broken) < 4:
        return None
    unbroken = _unbroken(lines)
    return max(len(line) for line in lines if line not in unbroken or len(line) <= max(broken))


def _too_wide(draft: str, edits: list[Edit]) -> list[Disagreement]:
    width = hard_width(draft)
    if width is None:
        return []
    old = [line.rstrip() for line in draft.splitlines()]
    wide = tuple(line[:20] for line in old if len(line) > width)
    new = [line.rstrip() for line in apply(draft, sorted(edits, key=lambda e: e.span)).splitlines()]
    return [
        Disagreement("width", str(len(line)), (str(width),), line)
        for line in new
        if len(line) > width and line not in old and not line.startswith(wide or "\n")
    ]
