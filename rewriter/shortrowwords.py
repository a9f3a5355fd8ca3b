"""Terminals for the words in which people tell short rows; each is made from words of the lexicon."""

from __future__ import annotations

from collections.abc import Mapping

_WORK = r"(?:k|p|knit|purl|knitting|purling|knitted|purled)(?![a-z])"
_ENDS = r"(?=\s*(?:[.;)]|$|,\s*(?:and\s+)?(?:turn|wrap|w&t|working)))"


def short_row_terminals(words: Mapping[str, str], amount: str) -> list[tuple[str, str]]:
    """Return the names and expressions of the terminals; `amount` is that of a number for all sizes."""
    stitch = words["STITCH"]
    some_sts = rf"\s+(?:the\s+)?(?:(?:last|next)\s+)?{amount}\s*{stitch}"
    return [
        # "rep these 2 rows once more, but bind off 6 sts instead of 5"
        ("BUT_BINDS", rf"(?<![a-z])but(?=\s+(?:this\s+time\s+)?{words['BIND_OFF']}\s)"),
        ("INSTEAD", rf"(?<![a-z])(?:instead|in\s+place)\s+of\s+{amount}(?:\s*{stitch})?"),
        # "as 1st row, but knitting instead of purling": the same places, seen from the other side
        (
            "BUT_WORKS",
            rf"(?<![a-z])(?:but\s+(?:in\s+|this\s+time\s+)?{_WORK}(?:\s+(?:instead\s+of|for)\s+{_WORK})?"
            rf"|{_WORK}\s+instead\s+of\s+{_WORK}|but\s+(?:on|from)\s+the\s+(?:other|right|wrong)\s+side"
            rf"|but\s+on\s+(?:the\s+)?(?:rs|ws)(?![a-z]))(?:\s+(?:throughout|across))?{_ENDS}",
        ),
        # "as row 1, but until 12 sts remain", "as row 1, but to last 16 sts"
        (
            "BUT_TO",
            r"(?<![a-z])but(?:\s+this\s+time)?(?=\s+(?:(?:only\s+)?(?:as\s+far\s+as|up\s+to|to|until|till)\s"
            rf"|(?:leaving|leave|not\s+working){some_sts}))",
        ),
        # "not working the last 7 sts", "nor the last 14 sts of the foll 2 rows"
        (
            "NOT_WORKING",
            r"(?<![a-z])(?:(?:do\s+not|don't|without|not)\s+(?:work|working|knit|knitting)|omit|omitting|nor)"
            rf"(?={some_sts})",
        ),
        # "... sts at each side on holders and the centre 31 sts on another"
        (
            "ON_ANOTHER",
            r"(?<![a-z])on(?:to)?\s+(?:another|a\s+(?:second|third|separate)|one)(?:\s+one)?(?=\s*(?:[.;)]|$))",
        ),
        ("EITHER", r"(?<![a-z])either(?=\s*(?:[.;,)]|$))"),
    ]
