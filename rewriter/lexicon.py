"""Load the lexicon: from spellings to terminals, concepts and the cue filter."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache, lru_cache

from rewriter import regex
from rewriter._resources import grammar_file
from rewriter.needed import may_match

# Order decides between terminals that match at the same place: the first in this list wins, so a
# terminal whose spellings begin with another's words stands before it.
TERMINALS = (
    "CLOSING", "FINISH_ROW", "WHEN_HIGH", "ASIDE", "EACH_SIDE", "OTHER_SIDE", "ENDING", "BACK_ROW", "REFER",
    "TURN", "HOLDER", "FASTEN_OFF", "JOIN", "BY_BINDING", "BIND_OFF", "CAST_METHOD", "CAST_ON", "DECREASE",
    "INCREASE", "AID",
    "TO_BAND", "TO_MARKER", "TO_LAST", "TO_END", "BEFORE_END", "BEFORE_TURN", "EVERY_OTHER",
    "AND_FOLL", "FROM_EDGE", "STARTING", "AT_BEG", "AT_END", "EDGE", "ROW_BEGINS",
    "ON_NEEDLE", "MARK", "MARKER", "ALL_SIZES", "SHOULD_BE", "MAKES", "BUT_ONE", "LATER",
    "SIZES_ONLY", "EXCEPTING", "STITCH_PATTERN", "LARGER", "NEXT", "FOLL", "ONCE", "SAME_NUMBER", "REM",
    "REMAIN", "LAST_STS", "BOTH_ENDS", "UNTIL_ALL", "UNTIL", "EVERY", "FIRST", "LAST", "ALT", "ALL",
    "SIDE_FACING", "RS_WS", "FACING", "MEASURES", "DO_LIKE", "WORKED_ROW", "REPEAT", "WORK", "DO", "HOLD",
    "TOTAL", "MORE", "SIZE", "STITCH", "ROWS_AHEAD", "ROW_BETWEEN", "ROW", "TIMES", "SHARES", "OFF_SO_FAR",
    "LINK", "FILLER",
)  # fmt: skip

_OPTIONAL_FIRST = regex.compile(r"(?:\G|(?<=[(|]))\[([^\[\]]*)\] ")
_OPTIONAL_LAST = regex.compile(r" \[([^\[\]]*)\]")
_OPTIONAL = regex.compile(r"\[([^\[\]]*)\]")
_OPEN, _CLOSE = "\x01", "\x02"
"""Stand for brackets of the text while the notation's own brackets are read."""
_SPECIAL = regex.compile(r"([.+&*?^$])")


def pattern_of(spelling: str) -> str:
    """Return the regular expression of a spelling (see the notation in the lexicon).

    Raises ValueError for brackets inside brackets, which the notation does not have.
    """
    if regex.search(r"\[[^\]]*\[", spelling):
        raise ValueError(f"nested brackets in the lexicon: {spelling!r}")
    out = _SPECIAL.sub(r"\\\1", spelling.replace(r"\(", _OPEN).replace(r"\)", _CLOSE))
    out = _OPTIONAL_FIRST.sub(r"(?:(?:\1) )?", out)
    out = _OPTIONAL_LAST.sub(r"(?: (?:\1))?", out)
    out = _OPTIONAL.sub(r"(?:\1)?", out)
    out = regex.sub(r"\((?!\?)", "(?:", out)
    return out.replace(" ", r"\s+").replace(_OPEN, r"\(").replace(_CLOSE, r"\)")


def _bounded(patterns: list[str]) -> str:
    """Return one expression for several spellings: whole words, the longest spelling first."""
    body = "|".join(sorted(patterns, key=lambda p: (-len(p), p)))
    return rf"(?:(?<![a-z])(?:{body})(?![a-z]))"


@dataclass(frozen=True, slots=True)
class Lexicon:
    """The words of pattern English, by terminal and concept."""

    patterns: dict[str, str]
    """Regular expression of each terminal."""
    concepts: dict[str, dict[str, regex.Pattern[str]]]
    """For each terminal, the expression of each of its concepts."""
    numbers: dict[str, int]
    """Spelled-out numbers."""
    joined: frozenset[str]
    """Words that a scanner may run together."""
    uk: tuple[str, ...]
    us: tuple[str, ...]
    abbreviated: tuple[str, ...]
    """Abbreviations of the turning methods, which a list of abbreviations must have."""
    needles: str
    """Regular expression of what older and translated drafts call a row."""

    def concept(self, terminal: str, text: str) -> str:
        """Return the concept of a matched wording; raises KeyError for one not in the lexicon."""
        return _concept(terminal, text)


_OF_ROW = r"(?=[\s-]+rows?(?![a-z]))"
"""What must stand behind a way that a row goes: "return to the held sts" names no row."""
_COUNTED = (
    r"(?<=\b(?:next|foll|following|every|each|other|alt|alternate|2nd|second|these|last|side)"
    r"\s+(?:[a-z0-9]+\s+)?|\b(?:beg|beginning|start)\s+of\s+(?:the\s+|each\s+)?(?:[0-9]{1,2}\s+)?)"
)
"""What must stand before a needle that is counted as a row."""
_COUNTED_AFTER = r"(?=\s+(?:following|foll|after|later)\b)"
"""What may stand behind it instead."""


@cache
def lexicon() -> Lexicon:
    """Return the lexicon, read once per process."""
    data = tomllib.loads(grammar_file("lexicon.toml"))
    patterns: dict[str, str] = {}
    concepts: dict[str, dict[str, regex.Pattern[str]]] = {}
    for terminal in TERMINALS:
        table = {
            concept: [pattern_of(spelling) for spelling in spellings]
            for concept, spellings in data[terminal].items()
        }
        patterns[terminal] = _bounded([p for spellings in table.values() for p in spellings])
        concepts[terminal] = {c: regex.compile(_bounded(ps)) for c, ps in table.items()}
    ways = {c: _bounded([pattern_of(s) for s in ss]) for c, ss in data["RS_WS_ROW"].items()}
    patterns["RS_WS"] = rf"(?:{patterns['RS_WS']}|(?:{'|'.join(ways.values())}){_OF_ROW})"
    for concept, way in ways.items():
        concepts["RS_WS"][concept] = regex.compile(
            rf"(?:{concepts['RS_WS'][concept].pattern}|{way})"
        )
    named = _bounded([pattern_of(s) for s in data["ROW_NAMED"]["needle"]])
    patterns["ROW"] = rf"(?:{patterns['ROW']}|{_COUNTED}{named}|{named}{_COUNTED_AFTER})"
    numbers = {str(k): int(v) for k, v in data["numbers"].items()}
    terms = data["terms"]
    joined = frozenset(data["joined"]["words"])
    uk, us, turning = (tuple(terms[name]) for name in ("uk", "us", "turning"))
    return Lexicon(patterns, concepts, numbers, joined, uk, us, turning, named)


@lru_cache(maxsize=4096)
def _concept(terminal: str, text: str) -> str:
    table = lexicon().concepts[terminal]
    if len(table) == 1:
        return next(iter(table))
    for concept, pattern in table.items():
        if pattern.fullmatch(text):
            return concept
    raise KeyError(f"{terminal}: {text!r}")


_PLAIN_CUE = re.compile(
    r"(?<![a-z])(?:rows?|ridges?|rnds?|shoulders?|holders?|fasten|sts?|loops?|edge|stitch(?:es)?"
    r"|sizes?|steps?|separately|each side|both sides"
    r"|once|twice|times|match|correspond|symmetrically|mirrored|reversing|rejoin|until|till|without|measures?|facing|straight|even|rep(?:eat)?)(?![a-z])"
    r"|(?<![a-z])(?:reversed?|same way|likewise)(?![a-z])"
    # "Work to same length as back."
    r"|(?<![a-z])(?:same\s+(?:length|height|depth|level)\s+as|(?:length|height|depth|level)\s+of)"
    r"\s+(?:the\s+)?back(?![a-z])"
    # "RS: K.": a row labelled by its side alone
    r"|^\W*(?:[rw]\.?\s?s\.?|(?:right|wrong)[\s-]side)(?:\s+row)?\s*:"
    # "The 38 left are slipped to waste yarn."
    r"|(?<![a-z])(?:the|last|remaining|rem)\s+[\d(][\d\s(),:;/\[\]-]*left(?![a-z])"
    # "Leave the others resting."
    r"|(?<![a-z])(?:leav(?:e|ing)|put|place|slip|keep|let)\s+(?:all\s+)?(?:the\s+)?(?:rest|others|remainder)(?![a-z])"
    # "Put these on a spare needle, or a bit of wool."
    r"|(?<![a-z])(?:leav(?:e|ing)|put|place|slip|keep|let)\s+(?:these|those|them)\s+on(?:to)?(?![a-z])"
    # "14 (15, 16) left": a count on a line of its own
    r"|^\W*\d[\d\s(),:;/\[\]-]*\s?(?:left|remain|remaining)\W*$"
    # "Put last 22 on a pin"
    r"|(?<![a-z])(?:leav(?:e|ing)|put|place|slip|keep)\s+(?:the\s+)?(?:(?:last|rem|remaining|other|these)\s+)?"
    r"[\d(][\d\s(),:;/\[\]-]*on(?:to)?(?![a-z])"
    r"|(?<![a-z])(?:one|a)\s+(?:last|final)\s+time|you\s+(?:(?:should\s+)?now\s+)?have\s+\d"
    # "Do that again."
    r"|(?<![a-z])(?:do|knit|work)\s+(?:this|that|it|so|both|the\s+same)\s[^.;:]{0,24}again(?![a-z])"
    # "You are now at the armhole."
    r"|(?<![a-z])you\s+(?:are|stand|will be)\s+(?:now\s+|back\s+)*at\s+(?:the\s+)?arm-?hole(?![a-z])"
    # "Purl to last 5 sts. K5."
    r"|^\W*(?:k|p|knit|purl)\.?\s*(?:the\s+)?(?:last\s+)?\d+\W*$"
    r"|^\W*(?:k|p|knit|purl|work)\.?\s+to\s+(?:the\s+)?(?:[a-z]+\s+)?(?:band|border)(?![a-z])"
    # "Knit across.", "P to end."
    r"|(?<![a-z])(?:k|knit|p|purl|work|rib|patt|pattern)\s+(?:across|to\s+(?:the\s+)?end)(?![a-z])"
    # "Knit another 11 cm."
    r"|(?<![a-z])(?:work|knit|cont|continue|proceed|go on|carry on)\s+[^.;:]{0,24}[\d)\]½¼¾⅓⅔]\s*"
    r"(?:cm|ins?|inch(?:es)?)(?![a-z])"
)


@cache
def _cues() -> tuple[regex.Pattern[str], ...]:
    names = ("BIND_OFF", "BACK_ROW", "FASTEN_OFF", "TURN", "AID", "CLOSING", "ENDING")
    return tuple(regex.compile(lexicon().patterns[name]) for name in names)


@lru_cache(maxsize=4096)
def gives_cue(text: str) -> bool:
    """Say whether the view of a sentence may speak of steps, turns or lead-ins; else it is not parsed."""
    return _PLAIN_CUE.search(text) is not None or any(
        may_match(cue, text) and cue.search(text) is not None for cue in _cues()
    )


@cache
def term_cues() -> tuple[regex.Pattern[str], regex.Pattern[str]]:
    """Return the patterns of words that give away UK and US English."""
    uk, us = (
        regex.compile(_bounded([pattern_of(w) for w in words]))
        for words in (lexicon().uk, lexicon().us)
    )
    return uk, us
