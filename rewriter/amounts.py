"""Numbers and lists of numbers, one entry for each size, in every notation."""

from __future__ import annotations

from functools import cache

from rewriter import regex
from rewriter.lexicon import lexicon
from rewriter.numberwords import read_words
from rewriter.spans import Span
from rewriter.values import value

_ALONE = r"\d{1,4}(?![\d/]|[.,]\d(?!\d*[,.:)\]]))"
# In a list no ordinal: "(51)" at the end of a line, "98th row" at the beginning of the next.
_SHAPED = "shoulder|shaping|slope|sloping|neck|armhole"
"""What may be said of a row between its ordinal and its name: "1st shoulder row"."""
_N = rf"{_ALONE}(?!(?:nd|rd|th)(?![a-z])|(?<=1)st\s+(?:row|rnd|round|patt|(?:{_SHAPED})\s+row))"
_WORDS = "|".join(sorted(lexicon().numbers, key=len, reverse=True))
_ITEM = rf"(?:{_N}|-|(?<![a-z])(?:{_WORDS})(?![a-z-]))"
_SEP = r"(?:\s*[,:;/-]\s*|\s+)"
_SLASHED = r"[(\[]\s*\d{1,3}(?:\s*/\s*\d{1,3})+\s*[)\]]"
_GROUP = rf"(?:[(\[]\s*{_ITEM}(?:{_SEP}{_ITEM})*\s*[)\]]|{_SLASHED})"
_LISTS = (
    # A(B)C(D)E: a size is outside or inside the brackets
    rf"{_N}(?:\({_N}\){_N})+(?:\({_N}\))?",
    # 8 (8) 9 (9) 10 sts: with blanks, where a unit shows that the list goes on to the end
    rf"{_N}(?:\s\({_N}\)\s{_N})+(?:\s\({_N}\)){{0,2}}"
    r"(?=\s(?:(?:neck|cent(?:re|er)|middle|shoulder|front|band|rem|remaining)\s)?"
    r"(?:sts?|stitch(?:es)?|loops?|mesh(?:es)?|rows?|times|cms?|ins?|inch|balls)\b|\s*[.;]|\s*$"
    # "2x 5 (6) 7 and 1x 6 (6) 6 sts": or another item of the chain
    r"|\s*(?:,\s*(?:and\s+|then\s+)?|and\s+|&\s*|\+\s*)\d{1,2}\s?x\s?\d"
    # "7 (7) 8 (9) + 7 (8) 9 (10) sts": or the sts of the next step
    r"|\s*\+\s*\d{1,3}\s\(\d{1,3}\)\s\d)",
    # 8(9:9)  8 (9, 9)  8 [9-9-10]  8, (9, 9)  8 (9)(10)  - (-, 9)
    rf"{_ITEM}\s*,?\s*{_GROUP}(?:\s*{_GROUP})*",
    # (9, 10) sts: for the sizes named before
    rf"(?<![\d)\]]\s{{0,2}})[(\[]\s*{_N}(?:\s*[,:;-]\s*{_N})+\s*[)\]](?=\s*(?:sts?|stitches|rows?)\b)",
    # (8-9-9) (10-10-11): every size in brackets
    rf"{_GROUP}(?:\s*{_GROUP})+",
    # 5-6-6 (6-7): two garments, the second in brackets
    rf"{_N}(?:-{_N})+\s?\({_N}(?:-{_N})*\)",
    # 7 8: 8: 9 sts: the brackets lost
    rf"{_N}\s{_N}(?:\s?:\s?{_N})+",
    # (A) B (C), (A) B (C) D (E): the first size in brackets
    rf"\({_N}\)\s*{_N}(?:\s*\({_N}\)\s*{_N})*(?:\s*\({_N}\))?",
    # 8-9-10 or 8/9/10, three sizes or more: two would be a range
    rf"{_N}(?:\s?-\s?{_N}){{2,}}",
    r"\d{1,3}(?:\s?/\s?\d{1,3}){2,}(?!\d)",
)
_FRACTION = r"(?:[½¼¾⅓⅔⅛⅜⅝⅞]|\s?\d/\d|[.,]\d+|-\d/\d|\s?[½¼¾⅓⅔⅛⅜⅝⅞])"
_LENGTH = rf"\d+{_FRACTION}?"
_UNIT = r"(?:cms?|centimet(?:er|re)s?|mm|inch(?:es)?|ins?|[\"']{1,2}|ydss?|yds?|yards?|m|g|oz|%)"
_LENGTHS = (
    rf"(?:\({_LENGTH}\)\s?(?={_LENGTH}))?(?:{_LENGTH}\s?\({_LENGTH}\)\s?(?={_LENGTH}))*{_LENGTH}(?:\s*,?\s*[(\[]\s*(?:{_LENGTH}|-)(?:{_SEP}(?:{_LENGTH}|-))*\s*[)\]])*"
    rf"(?:\s?[-/]\s?{_LENGTH})*"
)


@cache
def number_words() -> str:
    """Return the regular expression of a spelled-out number: "twenty-four", "one hundred and six"."""
    tens = "|".join(word for word, n in lexicon().numbers.items() if n >= 20)
    small = rf"(?:(?:{tens})[\s-](?:{_WORDS})(?![a-z])|(?:{_WORDS})(?![a-z-]))"
    many = rf"(?:(?:one|a|two|three)\s+)?hundred(?![a-z])(?:\s+and\s+{small})?"
    return rf"(?:(?<![a-z])(?:{many}|{small}))"


@cache
def amount_pattern() -> str:
    """Return the regular expression of a count or list of counts (a single token)."""
    number = rf"(?:{_N}|{number_words()})"
    # "twenty-six, or twenty-eight" at the end of a sentence: one for each of two sizes
    either = rf"{number},?\s+or\s+{number}(?=\s*[.;]?\s*$)"
    return "(?:" + "|".join([*_LISTS, either, _ALONE, number_words()]) + ")"


@cache
def loose_amount_pattern() -> str:
    """Return a short expression that takes in every count or list, and more: see `is_amount`.

    Where many phrases have a count, one for each of the notations would take long to compile.
    """
    word = rf"(?:{_WORDS})(?![a-z])"
    return rf"(?:[\d(\[-][\d\s,:;/()\[\]-]*(?<=[\d)\]])|{word}(?:[\s-]+{word})?)"


def is_amount(text: str) -> bool:
    """Say whether `text` is a count or list of counts in one of the notations."""
    return _amount().fullmatch(text) is not None


@cache
def _amount() -> regex.Pattern[str]:
    return regex.compile(amount_pattern())


@cache
def sized_pattern(left: bool | None = None) -> str:
    """Return the regular expression of a count told for each of two sizes in running words.

    "Seven stitches for a small one, and nine for a larger"; "28 left for the neck in the small one, 30
    in the larger" where sts are `left`.
    """
    number = rf"(?:{_N}|{number_words()})"
    unit = rf"(?:\s*{lexicon().patterns['STITCH']})?\.?"
    words = rf"(?:\s+{lexicon().patterns['REMAIN']})"
    remain = words if left else "" if left is False else f"{words}?"
    smaller, larger = (lexicon().concepts["LARGER"][c].pattern for c in ("smaller", "larger"))
    return (
        rf"(?:{number}{unit}{remain}(?:\s+for\s+the\s+neck)?\s+{smaller}\s*[,;]?\s*(?:(?:and|or)\s+)?"
        rf"{number}{unit}{words}?\s+{larger})"
    )


def measure_pattern() -> str:
    """Return the regular expression of a length or weight with its unit, for any sizes."""
    # "8 in number", "8 in patt" are no inches
    other = r"(?<!\d\)?\s?in(?=\s+(?:number|patt|pattern|rib|ribbing|purl|garter|moss|each|every)(?![a-z])))"
    # "from the 57th (59th, 61st) cm on"
    nth = r"\d{1,3}(?:st|nd|rd|th)"
    others = rf"(?:\s*[(\[]\s*{nth}(?:\s*[,:;/-]\s*{nth})*\s*[)\]])?"
    reached = rf"{nth}{others}\s?(?:cms?|inch|in)(?:\s+on(?![a-z]|\s+\d))?"
    # "at cm 37 (40/43/46)": the unit stands first
    first = (
        rf"(?<![a-z]|[\d)\]]\s?)(?:cms?|centimet(?:er|re)s?)\.?\s?{_LENGTHS}"
        r"(?!\d|\s*(?:sts?|stitches|rows?|cms?|x|times)(?![a-z]))"
    )
    # "six and one-half inches", "an inch and a half", "half an inch"
    part = r"(?:(?:a|one|three)[\s-]+)?(?:half|quarters?|thirds?)"
    whole = rf"(?:{number_words()}|(?<![a-z])an?(?![a-z]))"
    long = r"(?:inch(?:es)?|centimet(?:er|re)s?|yards?)(?![a-z])"
    spelled = (
        rf"{whole}(?:\s+and\s+{part})?\s+{long}(?:\s+and\s+{part}(?![a-z]))?"
        rf"|{part}\s+(?:of\s+)?an\s+{long}"
    )
    return rf"(?:{_LENGTHS}\s?-?{_UNIT}(?![a-z]){other}|{first}|{reached}(?![a-z])|{spelled})"


ORDINALS = (
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
    "eleventh", "twelfth",
)  # fmt: skip
"""Ordinals in words, in order; they name rows ("Third and Fourth Rows")."""


def row_numbers(text: str) -> tuple[int, ...]:
    """Return the numbers in matched words that name rows: "rows 3-6", "third and fourth rows"."""
    found = regex.findall(rf"\d+|\b(?:{'|'.join(ORDINALS)})\b", text)
    return tuple(int(n) if n.isdigit() else ORDINALS.index(n) + 1 for n in found)


def row_number_pattern() -> str:
    """Return the regular expression of numbered rows: "row 3", "rows 3-6", "1st row", "R3-R6"."""
    # "Row 2 and row 4: purl" names its rows one by one; "Row 1 (RS) through Row 4"
    tail = r"(?:(?:\s*\((?:rs|ws)\))?\s*(?:-|,|&|and|to|through)\s*(?:rows?\s+)?\d{1,3})*"
    # "last 2 rows 3 times": not row 3
    # "at the beginning of the rows 1 x 8 sts", "at the beginning of a row 8 (9) 10 sts", too
    number = r"\d{1,3}(?!\s?x\s?\d|\s+times?(?![a-z]))"
    named = (
        rf"(?<![a-z])(?<![\d)\]]\s{{1,4}})(?:(?:short|slope|shoulder|shaping|step)[\s-]+)?rows?\s+{number}{tail}"
        r"(?!\d|\s*(?:[(\[]\s?\d|(?:sts?|stitches|loops)(?![a-z])))"
    )
    one = rf"(?:\d{{1,3}}(?:st|nd|rd|th)|(?<![a-z])(?:{'|'.join(ORDINALS)})(?![a-z]))"
    ordinal = (
        rf"{one}(?:\s*(?:-|to|and|&|,|through)\s*{one})*"
        rf"\s+(?:(?:patt|pat|pattern|short|{_SHAPED})[\s-]+)?(?:rows?|ndls?|{lexicon().needles})(?![a-z])"
    )
    of_these = rf"{one}\s+of\s+(?:these|those)\s+(?:\d+\s+)?rows?(?![a-z])"
    # "3rd row. As 1st."
    alone = (
        rf"(?<=(?<![a-z])as\s+){one}(?:\s*(?:-|to|and|&|,)\s*{one})*(?=\s*(?:[.;,]|$|but(?![a-z])))"
    )
    # "on the third row, turn after 69 sts; and on the fourth, turn after 62 sts"
    in_turn = rf"(?<=(?<![a-z])on\s+the\s+){one}(?=\s*,?\s*turn(?![a-z]))"
    # "R1: ...", "rep R1 and R2": a letter with its number, a blank only where it labels a row
    short = (
        r"(?<![a-z\d.-])(?:r\d{1,3}|r\s\d{1,3}(?=\s?(?:[:(\[]|[\u2013\u2014-]\s)))"
        r"(?:\s*(?:-|,|&|and|to|through)\s*r\s?\d{1,3}|-\d{1,3})*(?![a-z\d]|[.,/]\d)"
    )
    return rf"(?:{named}|{ordinal}|{of_these}|{alone}|{in_turn}|{short})"


def ordinal_pattern() -> str:
    """Return the regular expression of an ordinal that names a size: "3rd"."""
    return r"(?:\d{1,2}(?:st|nd|rd|th)(?![a-z]))"


_STS = r"(?:\s*(?:sts?|stitches|loops?|mesh(?:es)?)\b\.?)"
_ONCE = r"(?:once|twice|thrice)"
_SMALL = {"two": "2", "three": "3", "four": "4", "five": "5", "six": "6"}
_OFTEN = rf"(?:\d{{1,2}}|{'|'.join(_SMALL)})"
"""How often a step is made: "7 stitches three times"."""
_TIMES_OF = (
    rf"(?:\d{{1,2}}\s?x\s?\d{{1,3}}{_STS}?"
    rf"|\d{{1,2}}\s?times?\s\d{{1,3}}(?!\d)(?:{_STS}|(?!\s*(?:times?|x|rows?|cm)(?![a-z])))"
    rf"|{_ONCE}\s\d{{1,3}}{_STS}|\d{{1,3}}{_STS}\s{_OFTEN}\s?times?\b|\d{{1,3}}{_STS}?\s{_ONCE}\b)"
)
_RUN = rf"{_TIMES_OF}(?:\s*(?:,\s*(?:and|then)|,|and|then|&|\+|plus)\s*{_TIMES_OF})*"
_RUNS = rf"[(\[]\s*{_RUN}(?:\s*[:;/-]\s*{_RUN})*\s*[)\]]"


_STEPS = "{1,40}"
"""How many more steps a list of one size's steps may have: more is a list of something else."""
_STS_CHAIN = rf"\d{{1,2}}{_STS}(?:(?:\s*,\s*|\s*,?\s+and\s+)\d{{1,2}}{_STS}){_STEPS}"
_CHAIN = (
    rf"(?:\d{{1,2}}(?:(?:-\d{{1,2}}){_STEPS}|(?:,\d{{1,2}}){_STEPS}|(?:\s?\+\s?\d{{1,2}}){_STEPS})"
    rf"|{_STS_CHAIN})"
)
_IN_BRACKETS = rf"[(\[]\s*{_CHAIN}\s*[)\]]"
_COMMAS = rf"\d{{1,2}}(?:\s*,\s*\d{{1,2}}){_STEPS}"
_WITH_AND = rf"\d{{1,2}}(?:(?:,\s?\d{{1,2}}){_STEPS})?\s+and\s+\d{{1,2}}"
# 9-9-8 (10-9-9) 11-10-10: the steps of each size, for outside the brackets they go on
_CHAINS = (
    # 5-5-6 (6-6-6 / 6-6-7), 5-5-6 sts (6-6-6 sts / 6-6-7 sts): the sizes parted by strokes
    rf"(?:{_CHAIN}{_STS}?\s*[(\[]\s*{_CHAIN}{_STS}?(?:\s*[/;]\s*{_CHAIN}{_STS}?)+\s*[)\]]"
    rf"|{_COMMAS}\s*[(\[]\s*{_COMMAS}(?:\s*[/;]\s*{_COMMAS})+\s*[)\]]"
    # 7-7-6 sts (8-7-7 sts, 8-8-8 sts): the unit behind the steps of each size
    rf"|{_CHAIN}{_STS}\s*[(\[]\s*{_CHAIN}{_STS}(?:\s*[,;]\s*{_CHAIN}{_STS})*\s*[)\]]"
    rf"|{_CHAIN}(?:\s*/\s*{_CHAIN})+(?={_STS})|{_CHAIN}(?:\s*{_IN_BRACKETS}){{2,}}"
    rf"|{_CHAIN}\s*{_IN_BRACKETS}\s*{_CHAIN}(?:\s*{_IN_BRACKETS}(?:\s*{_CHAIN})?)*"
    # 6 sts, 7 sts, 7 sts (7 sts, 7 sts, 8 sts); 8 sts, 8 sts and 8 sts (9, 9, 9 - 9, 9, 10)
    rf"|{_STS_CHAIN}\s*(?:[(\[]\s*{_STS_CHAIN}\s*[)\]]\s*)+"
    rf"|{_STS_CHAIN}\s*[(\[]\s*{_COMMAS}(?:\s*[-;:]\s*{_COMMAS})*\s*[)\]]"
    # 7, 7 and 6 sts (8, 8 and 7 sts)
    rf"|{_WITH_AND}{_STS}\s*[(\[]\s*{_WITH_AND}{_STS}(?:\s*[-;:]\s*{_WITH_AND}{_STS})*\s*[)\]]"
    # 9, 9, 10 sts (10, 10, 10 sts - 10, 11, 11 sts): the unit behind each size's steps
    rf"|{_COMMAS}{_STS}\s*[(\[]\s*{_COMMAS}{_STS}?(?:\s*[-;:]\s*{_COMMAS}{_STS}?)*\s*[)\]])"
)
# (6, 6, 5) 7, 6, 6 (7, 7, 7) sts: every other size in brackets, outside which the sizes go on
_IN_TURN = rf"[(\[]\s*{_COMMAS}\s*[)\]]"
_ALTERNATING = (
    rf"(?:{_IN_TURN}\s*{_COMMAS}(?:\s*{_IN_TURN}\s*{_COMMAS})*|{_COMMAS}(?:\s*{_IN_TURN}\s*{_COMMAS})+)"
    rf"(?:\s*{_IN_TURN})?(?={_STS})"
)


# 8,8,9 (9,9,9 - 10,10,9): the sizes after the first in one pair of brackets
_TIGHT = rf"\d{{1,2}}(?:(?:,\d{{1,2}}){_STEPS}|(?:\s?\+\s?\d{{1,2}}){_STEPS})"
_MORE_TIGHT = rf"[(\[]\s*{_TIGHT}(?:\s*(?:[;:/-]|,\s)\s*{_TIGHT})*\s*[)\]]"
# 9, 9 and 8 (10, 9 and 9) 11, 10 and 10
_MORE_WITH_AND = rf"[(\[]\s*{_WITH_AND}(?:\s*[;:/-]\s*{_WITH_AND})*\s*[)\]]"
_LISTS_OF_STEPS = (
    rf"(?:{_TIGHT}\s*{_MORE_TIGHT}(?:\s*(?:{_TIGHT}|{_MORE_TIGHT}))*"
    rf"|{_WITH_AND}\s*{_MORE_WITH_AND}(?:\s*(?:{_WITH_AND}|{_MORE_WITH_AND}))*)"
)
# 3,2,2,1,1 sts: without blanks no list of sizes, nor any number with a decimal
_BARE_CHAIN = rf"(?<![\d.,(\[-]){_TIGHT}(?={_STS}(?!\s*[(\[]))"

# How each of them begins; most lists of numbers begin otherwise, which is told at their first number. From
# within a list for the sizes, "5, 6) ...", none does: its numbers end at a bracket that was open before them.
# Nor does one begin with a whole list in brackets, "(5, 6) sts", behind which no numbers follow at once.
_FIRST_OF = rf"{_STS}\s(?:\d|{'|'.join(_SMALL)})|{_STS}?\s*(?:[-,+x]|and|times?|{_ONCE})"
_LEFT_OF_LIST = r"\d{1,3}[\u00bd\u00bc\u00be]?(?:\s*,\s*\d{1,3}[\u00bd\u00bc\u00be]?)+\s*[)\]]"
_NO_STEPS = rf"(?!{_LEFT_OF_LIST})(?![(\[]\s*{_LEFT_OF_LIST}\s*(?:[^\d\s]|\Z))"
BEGINS_STEPS = rf"{_NO_STEPS}(?:[(\[]\s*)?\d{{1,3}}(?:{_FIRST_OF})"


def step_list_pattern() -> str:
    """Return the regular expression of steps told as a phrase a size: "2x6 and 1x7 (3x7) 2x8".

    Or of the steps of all sizes alike, where commas without blanks join them: "10,10,9".
    """
    # 2x9 sts, 1x10 sts - 3x10 sts: a size between dashes; 2x7/2x8/2x8: one item of a chain
    # "4 x 7 sts / 3 x 8 and 1 x 7 sts": a size on either side of a stroke
    dashed = (
        rf"(?:{_RUN}(?:\s+/\s+{_RUN})+|{_TIMES_OF}(?:\s?/\s?{_TIMES_OF})+|{_RUN}(?:\s*-\s*{_RUN})+)"
    )
    # "1x9, then 2x8 (2x9) 2x10": what comes before "then" is for all sizes
    first = rf"{_TIMES_OF}(?:\s*(?:,\s*and|,|and|&)\s*{_TIMES_OF})*"
    return (
        rf"(?={BEGINS_STEPS})(?:{_ALTERNATING}|{_CHAINS}|{_LISTS_OF_STEPS}|{_BARE_CHAIN}|{dashed}"
        rf"|(?:{first}\s*{_RUNS}|{_RUNS}\s*{_RUN})(?:\s*(?:{_RUN}|{_RUNS}))*)"
    )


def step_lists(text: str) -> tuple[tuple[tuple[tuple[int, int], ...], ...], ...]:
    """Return the readings of a matched step list, the likeliest first.

    Where "and" joins the steps of a size, a comma in the brackets may stand between the sizes: "1x6 and
    2x5 sts (3x6 sts, 2x7 and 1x6 sts, 1x8 and 2x7 sts)" is for two sizes or for four.
    """
    if not regex.search(r"x|time|once|twice|thrice", text):
        chains = regex.findall(rf"{_WITH_AND}|{_CHAIN}|{_COMMAS}", text)
        return (tuple(tuple((1, int(n)) for n in regex.findall(r"\d+", c)) for c in chains),)
    text = text.replace("[", "(").replace("]", ")")
    slashed = "/" in text and not regex.search(r"[(\[]", text)
    plain = tuple(_of_run(run) for run in (text.split("/") if slashed else _runs(text)))
    head_steps, *others = plain
    if len(head_steps) > 1 and all(len(o) == 1 and o[0][0] == head_steps[-1][0] for o in others):
        # "1x9, 2x8 (2x9) 2x10": is the first step that of all sizes?
        return (
            plain,
            tuple((*head_steps[:-1], last) for last in (head_steps[-1], *(o[0] for o in others))),
        )
    if not regex.search(r"\([^)]*,", text) or regex.search(r"\([^)]*[:;/-]", text):
        return (plain,)
    head, _, inside = text.partition("(")
    parted = [*_runs(head), *(run for piece in inside.split(",") for run in _runs(piece))]
    return (plain, tuple(map(_of_run, parted)))


def _of_run(run: str) -> tuple[tuple[int, int], ...]:
    return tuple(map(_times_of, regex.findall(_TIMES_OF, run)))


def _runs(text: str) -> list[str]:
    return [found.group() for found in regex.finditer(_RUN, text)]


def _times_of(text: str) -> tuple[int, int]:
    """Return (times, stitches) of "2x6", "2 times 6 sts" or "6 sts 2 times"."""
    if once := regex.search(_ONCE, text):
        times = ("once", "twice", "thrice").index(once.group()) + 1
        return times, int(regex.findall(r"\d+", text)[0])
    text = regex.sub("|".join(_SMALL), lambda word: _SMALL[word.group()], text)
    one, two = map(int, regex.findall(r"\d+", text))
    return (two, one) if regex.search(r"times?$", text) else (one, two)


class ListLengthError(ValueError):
    """A list has another number of entries than there are sizes."""


@value
class Amount:
    """A count as written: one number for all sizes, or a list."""

    values: tuple[int | None, ...]
    """One entry for each number written; None where a dash stands for "not this size"."""
    span: Span
    text: str = ""

    def per_size(self, sizes: int) -> tuple[int, ...]:
        """Return one count for each size (a dash counts as 0).

        Raises ListLengthError when the list has neither one entry nor one for each size.
        """
        if len(self.values) == 1:
            return (self.values[0] or 0,) * sizes
        if len(self.values) != sizes:
            raise ListLengthError(
                f"{repr(self.text) if self.text else 'a list of numbers'} has {len(self.values)} entries, "
                f"but there are {sizes} sizes"
            )
        return tuple(v or 0 for v in self.values)


_LABEL_ONE = regex.compile(r"\bone\b(?=\s*(?:,|;|$))")  # "for a small one": no number
_HAS_DIGIT = regex.compile(r"\d")


def read_amount(text: str, span: Span) -> Amount:
    """Return the counts of a matched amount (see `amount_pattern`)."""
    if regex.fullmatch(sized_pattern(), text):
        one, two = regex.findall(rf"{_N}|{number_words()}", _LABEL_ONE.sub(" ", text))
        return Amount((_number(one), _number(two)), span, text)
    if found := regex.fullmatch(r"(.+?),?\s+or\s+(.+)", text):
        return Amount(tuple(_number(n) for n in found.groups()), span, text)
    if not _HAS_DIGIT.search(text) and not any(c in text for c in "(["):
        return Amount((read_words(text),), span, text)
    return Amount(tuple(_entries(text)), span, text)


def _number(text: str) -> int:
    return int(text) if text.isdigit() else read_words(text)


def _entries(text: str) -> list[int | None]:
    """Read the entries in order; a hyphen is an entry only where no number could stand."""
    out: list[int | None] = []
    expecting = True
    for token in regex.findall(r"\d+|[a-z]+|[-,:;/()\[\]]", text):
        if token.isalnum():
            out.append(int(token) if token.isdigit() else lexicon().numbers[token])
            expecting = False
        elif token == "-":
            if expecting:
                out.append(None)
                expecting = False
            else:
                expecting = True
        elif token in ",:;/([":
            expecting = True
    return out
