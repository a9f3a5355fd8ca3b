"""What a draft calls its sizes, and whether words can name them at all.

The expressions that read such words hold the names of the draft's own sizes and have to be made for each
draft, which takes longer than all else that is done with most drafts. What is here tells of nearly all
sentences, by plain comparisons, that they name no size; it never says so of one that does.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from itertools import zip_longest
from typing import NamedTuple

from rewriter import regex
from rewriter.needed import may_match

JOINT = "\x1f"
"""Stands between two names of one size."""
_UNIT = r"(?:\s?(?:years?|yrs?|months?|mths?|mos?|cms?|ins?|inch(?:es)?)\b\.?)"
UNIT = rf"{_UNIT}?"
# "1 (0, 2) time(s)": no size S
_NO_PLURAL = r"(?<!(?:time|row|st|stitch|marker)\()"
SIZE = r"(?:sizes?|szs?|ages?)(?![a-z])"


@lru_cache(maxsize=64)
def item_of(labels: tuple[str, ...]) -> tuple[str, dict[str, int]]:
    """Return the regular expression of one size's name, and the sizes by their names."""
    if not labels:
        usual = r"(?<!\w)(?:[a-z]{1,2}|[0-9]{0,2}x{0,4}[sl]|\d{1,3}(?:/\d{1,3})?)(?!\w)"
        return _NO_PLURAL + usual + UNIT, {}
    named: dict[str, int] = {}
    for told in zip_longest(*(label.split(JOINT) for label in labels)):
        own: dict[
            str, int
        ] = {}  # what a later list calls by a name of an earlier one stays the earlier's
        for n, label in enumerate(told, 1):
            plain = " ".join((label or "").lower().replace("\u2013", "-").split())
            bare = regex.sub(UNIT + r"\Z", "", plain)
            for name in {plain, bare, bare.replace(" ", "")} - {""}:
                own[name] = 0 if own.get(name, n) != n else n
        named = {**own, **named}
    named = {**_in_other_words(named), **named}
    if not any(str(n) in named for n in range(1, len(labels) + 1)):
        named |= {str(n): n for n in range(1, len(labels) + 1)}
    words = sorted(named, key=len, reverse=True)
    words = [regex.escape(w).replace(r"\ ", r"\s+") for w in words]
    return rf"(?<!\w){_NO_PLURAL}(?:{'|'.join(words)})(?:{_UNIT}|(?!\w))", named


_LETTERED = regex.compile(
    r"(?P<many>(?:x+|\d+x|extra(?: extra)*)?)(?P<gap>[ -]?)(?P<end>s|sm|small|m|med|medium|l|lge|large)"
    r"|(?P<plus>\d+)x"
)


def _in_other_words(named: Mapping[str, int]) -> dict[str, int]:
    """Return other names of sizes that are called by letters or words: "2x-large" is "xxl"."""
    found: dict[tuple[str, int], set[int]] = {}
    for name, n in named.items():
        letter = _letter_of(name)
        if letter is not None:
            found.setdefault(letter, set()).add(n)
    out: dict[str, int] = {}
    for (end, many), sizes in found.items():
        if len(sizes) == 1:
            out |= dict.fromkeys(_words_for(end, many), sizes.pop())
    return {name: n for name, n in out.items() if n}


def _letter_of(name: str) -> tuple[str, int] | None:
    """Return the letter that a size is called by, and how many times it is extra so."""
    told = _LETTERED.fullmatch(name)
    if told is None:
        return None
    if told["plus"]:
        return "l", int(told["plus"])
    extra, end = told["many"], told["end"][0]
    many = (
        int(extra[:-1])
        if extra[:1].isdigit()
        else len(extra.split())
        if "e" in extra
        else len(extra)
    )
    return None if many and end == "m" else (end, many)


def _words_for(end: str, many: int) -> list[str]:
    words = {"s": ("s", "sm", "small"), "m": ("m", "med", "medium"), "l": ("l", "lge", "large")}[
        end
    ]
    if not many:
        return list(words)
    extras = ["x" * many, f"{many}x", " ".join(["extra"] * many)]
    out = [f"{extra}{gap}{word}" for extra in extras for gap in ("", "-", " ") for word in words]
    return [*out, f"{many}x"] if end == "l" else out


_SAYS = regex.compile(
    r"size|szs?\b|ages?\b|\bonly\b|\ball[\s*_]*:|(?<![a-z])(?:years?|yrs?|months?|mths?|mos?)\b|\d/\d"
)
_BETWEEN = str.maketrans(dict.fromkeys(",;:()[]*_&+", " "))
"""Signs that stand between words, to be made blanks."""


@lru_cache(maxsize=64)
def _names(labels: tuple[str, ...]) -> tuple[str, ...]:
    """Return what a draft calls its sizes by themselves; where it has no names, they have the word "size"."""
    if labels == tuple(str(n) for n in range(1, len(labels) + 1)):
        return ()
    return tuple(sorted(name for name, n in item_of(labels)[1].items() if n))


def may_name(text: str, labels: tuple[str, ...]) -> bool:
    """Say whether words can name sizes; most cannot, and are done with before an expression is made."""
    if may_match(_SAYS, text) and _SAYS.search(text):
        return True
    words = {word.strip(".") for word in text.translate(_BETWEEN).split()}
    return any(name in words or (" " in name and name in text) for name in _names(labels))


_PARTS_OF_SAYS = ("siz", "sz", "age", "only", "all")


def says_sizes(text: str, set_off: bool = False) -> bool:
    """Say whether words can tell of sizes that have no known names; where `set_off`, by a sign alone."""
    return any(part in text for part in _PARTS_OF_SAYS) or (
        set_off and (":" in text or "-" in text)
    )


# --- where the names can begin and end ----------------------------------------------------------

_SIZE_WORD = regex.compile(r"size|szs?(?![a-z])|ages?(?![a-z])")
_SIGNED = regex.compile(
    r"(?:[^\w(\[]|_|\d{1,2}[.)](?=\s))*[(\[]?\s*(?:(?:for|in|on)\s+)?(?:the\s+)?"
)
"""What may stand before the names at the front of a sentence: more than there is, never less."""
_OPENS = regex.compile(r"(?:[(\[]\s*(?:(?:for|in|on)\s+)?|(?<![a-z])(?:for|in|on)\s+)(?:the\s+)?")
"""What must stand before the names behind what is told, where the word "only" does not follow."""
_FIRST = (
    "all", "each", "every", "both", "other", "rem", "from", "up", "size", "sz", "age", "small", "large",
    "big", "first", "last", "middle", "cent", "one", "two", "three", "four", "five", "six", "seven",
    "eight", "nine", "ten", "eleven", "twel", "second", "third", "fourth", "fifth", "ninth",
    *"0123456789",
)  # fmt: skip
"""How the words begin that name sizes, with the word "size", without naming one by its name."""
_AGE = regex.compile(r"\d\s?/\s?\d")
_LAST = regex.compile(
    r"(?:[)\]]|first|second|third|[rfxnh]th|\d(?:st|nd|rd|th)"
    r"|(?<!\w)(?:sizes?|szs?|ages?|up|upwards?|above|over|larger|bigger|under|below|down|smaller|again|together|onwards?|on"
    r"|smallest|small|largest|large|biggest|big|last|middle|centre|center))\Z"
)
"""How the words end that name sizes without naming one by its name."""
_LONGEST_LAST = 8
_UNIT_LAST = regex.compile(UNIT.replace(r"\b\.?)?", r")\Z"))
_CLOSING = "*_.;" + "".join(filter(str.isspace, map(chr, range(0x3001))))


class _Ends(NamedTuple):
    """How words begin that name sizes, and how they end."""

    words: tuple[str, ...]
    """Names that do not begin with a figure, and the word for every size."""
    named: tuple[str, ...]
    """These, and names that do."""
    first: tuple[str, ...]
    """All of them, and the words that need the word "size"."""
    last: tuple[str, ...]
    """Last words of the names."""


@lru_cache(maxsize=64)
def _ends(labels: tuple[str, ...]) -> _Ends:
    """Return how words begin and end that name sizes of these names."""
    names = [name.split() for name in item_of(labels)[1]]
    first = {name[0] for name in names}
    figures = {word for word in first if word[0] in "0123456789"}
    last = {name[-1].rstrip(_CLOSING) for name in names}
    words = (*sorted(first - figures), "all")
    named = (*words, *sorted(figures))
    return _Ends(words, named, (*named, *_FIRST), tuple(sorted(last)))


def _begins(text: str, start: int, end: int, labels: tuple[str, ...], listed: bool) -> bool:
    """Say whether names of sizes can begin at one of these places of a text.

    Names in figures count only where they are `listed`, or where a word says that they are sizes.
    """
    found = _ends(labels)
    places = [at for at in range(start, end + 1) if text.startswith(found.first, at)]
    if not places:
        return False
    if _SIZE_WORD.search(text, start):
        return True
    listed = listed or _SAYS.search(text, start) is not None or _AGE.search(text, start) is not None
    first = found.named if listed else found.words
    return any(text.startswith(first, at) for at in places)


def may_head(text: str, at: int, labels: tuple[str, ...]) -> bool:
    """Say whether words at a place of a view can name sizes for what follows."""
    signs = _SIGNED.match(text, at)
    return signs is not None and _begins(text, at, signs.end(), labels, False)


def _ends_in_names(text: str, labels: tuple[str, ...]) -> bool:
    """Say whether a text without the signs behind it can end in words that name sizes."""
    if _LAST.search(text, max(0, len(text) - _LONGEST_LAST)):
        return True
    unit = _UNIT_LAST.search(text, max(0, len(text) - _LONGEST_LAST))
    last = _ends(labels).last
    return _ends_in_word(text, last) or (
        unit is not None and _ends_in_word(text[: unit.start()], last)
    )


def _ends_in_word(text: str, words: tuple[str, ...]) -> bool:
    """Say whether a text ends in one of these words, which is not the end of a longer one."""
    for word in words:
        if text.endswith(word):
            before = text[: len(text) - len(word)][-1:]
            if not (before.isascii() and before.isalnum()):
                return True
    return False


def may_tail(text: str, labels: tuple[str, ...]) -> bool:
    """Say whether the last words of a text can keep it for some sizes.

    Figures do so only where a word says that they are sizes.
    """
    told = text.rstrip(_CLOSING)
    bare = told.rstrip(")]" + _CLOSING)
    if bare.endswith("only"):
        return _ends_in_names(bare[: -len("only")].rstrip("," + _CLOSING), labels)
    return _ends_in_names(told, labels) and any(
        _begins(text, found.start(), found.end(), labels, False) for found in _OPENS.finditer(text)
    )


def may_have_tails(text: str, labels: tuple[str, ...]) -> bool:
    """Say whether a text can keep what it tells for some sizes and then for others."""
    told = text.rstrip(_CLOSING).removesuffix("only").rstrip("," + _CLOSING)
    if not _ends_in_names(told, labels):
        return False
    opened = (
        _begins(text, found.start(), found.end(), labels, True) for found in _OPENS.finditer(text)
    )
    return sum(opened) > 1
