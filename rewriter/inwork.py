"""Sentences that only say which sts are in work: "Leave the first 26 sts on a holder, work on the others"."""

from __future__ import annotations

from rewriter import regex
from rewriter.frames import Statement

_SOME = (
    r"(?:the|these|this|those|first|last|next|left|right|other|second|remaining|rem|set|group|of|for|each|both|"
    r"one|single|neck|armhole|shoulder|side|half|part|sts?|stitches|loops|at|a|time|just|only|alone|by|itself|"
    r"separately|[(\[]?\d[\d\s,:;/()\[\]-]*)"
)
_NAMED = r"(?:\b(?:sts?|stitches|loops|side|half|part|shoulder|set)\b\.?)"
_PLACE = (
    r"(?:(?:on|onto|on\s+to|to|at)\s+)(?:(?:a|the|another|some)\s+)?(?:(?:stitch|spare|safety|length\s+of|waste|"
    r"contrast\w*)\s*-?)*(?:holders?|needle|thread|pin|yarn|rest)"
)
_WORKS = (
    rf"(?:cont(?:inue|inuing)?|work(?:ing)?|go(?:ing)?\s+on|proceed|finish|complete|keep(?:ing)?\s+on)\s+"
    rf"(?:(?:in\s+work\s+)?(?:on|over|with)\s+)?(?:{_SOME}\s+)*?{_NAMED}(?:\s+{_SOME})*"
)
_HOLDS = (
    rf"(?:leav(?:e|ing)|put(?:ting)?|plac(?:e|ing)|slip(?:ping)?|keep(?:ing)?|sl)\s+(?:{_SOME}\s+)*?{_NAMED}"
    rf"(?:\s+{_SOME})*?\s+{_PLACE}(?:\s+for\s+(?:the\s+)?(?:moment|time\s+being|neck|later))?"
)
_IS_WORKED = (
    rf"(?:{_SOME}\s+)*?{_NAMED}(?:\s+{_SOME})*?\s+(?:is|are|will\s+be)\s+(?:now\s+)?"
    rf"(?:(?:finished|worked|completed|knitted|shaped)(?:\s+{_SOME})*|(?:left|put|placed|held|kept)\s+{_PLACE})"
)
_TURNS = r"turn(?:\s+(?:the\s+)?work)?"
_BEGINS = (
    r"(?:beg(?:in(?:ning)?)?|start(?:ing)?|commenc(?:e|ing))\s+(?:on|with|at|in)\s+(?:(?:the|an?)\s+)?"
    r"(?:next|foll(?:owing)?\.?|rs|ws|right[\s-]side|wrong[\s-]side)\s+row(?:\s*\((?:rs|ws)\))?"
)
_SHAPES = r"shape\s+(?:(?:the|left|right|first|back|front|neck|and)\s+)*shoulders?"
_CLAUSE = rf"(?:(?:now|then)\s+)?(?:{_WORKS}|{_HOLDS}|{_IS_WORKED}|{_TURNS})"
_IN_WORK = regex.compile(
    rf"\W*{_CLAUSE}(?:(?:\s*[,;:]|\s+(?:and|then|while|but))+\s+(?:{_CLAUSE}|{_BEGINS}|{_SHAPES}))*"
    r"(?:\s*[:,=(]\s*\d[\d\s,:;/()\[\]-]*(?:sts?|stitches)?)?\W*"
)


_ON_SET = regex.compile(
    rf"\W*(?:now\s+)?(?:on|over|with|for)\s+(?:{_SOME}\s+)*?{_NAMED}(?:\s+{_SOME})*\W*"
)


def names_sts_in_work(words: str) -> bool:
    """Say whether words in lower case name sts and tell nothing to do: "On last set:"."""
    return _ON_SET.fullmatch(words) is not None


_GOES_ON = regex.compile(r"\W*(?:(?:now|then)\s+)?(?:work|cont|continue|proceed|go)(?:ing)?\b")


def goes_on_with_some(statement: Statement) -> bool:
    """Say whether a sentence tells no row but which sts are worked on, the others left waiting."""
    words = statement.sentence.view.text
    return _GOES_ON.match(words) is not None and says_which_in_work(statement)


def says_which_in_work(statement: Statement) -> bool:
    """Say whether a sentence tells no row: it turns, holds sts, or names those that are worked on."""
    return statement.label is None and _IN_WORK.fullmatch(statement.sentence.view.text) is not None
