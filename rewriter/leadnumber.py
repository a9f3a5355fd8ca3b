"""Lead-ins that end with a row by its number: "Continue until row 44, a purl row, has been worked"."""

from __future__ import annotations

from rewriter import regex
from rewriter.amounts import number_words
from rewriter.frames import Statement
from rewriter.leadmodel import LeadIn, Mention
from rewriter.lexicon import lexicon
from rewriter.spans import Span, View
from rewriter.stitchwork import Fabric

_SIDE = lexicon().patterns["RS_WS"]
_KIND = (
    r"(?:(?:which|this)\s+is\s+)?(?:an?|the|on\s+the)\s+"
    rf"(?:(?P<stitch>knit|purl|k|p)|(?P<side>{_SIDE}))\s+row"
)
_DONE = r"(?:has\s+been|have\s+been|is|was|are)\s+(?:worked|completed|complete|done|finished|knitted|reached)"
_REACHED = regex.compile(
    r"\b(?:until|till|through|(?:up\s+)?to|after)\s+(?:and\s+including\s+)?(?:(?:the\s+)?end\s+of\s+)?"
    r"(?:you\s+have\s+(?:worked|completed|done|finished)\s+|having\s+(?:worked|completed)\s+)?"
    rf"(?P<row>row\s+\d{{1,3}}|\d{{1,3}}(?:st|nd|rd|th)\s+row)(?:\s*[,(]\s*{_KIND}\s*[,)]?)"
    rf"(?:\s*{_DONE})?\W*\Z"
)


def ends_with_row(view: View, found: LeadIn, fabric: Fabric) -> bool:
    """Take in the number and the kind of the row that a sentence names as the last; say if it does."""
    told = _REACHED.search(view.text)
    if told is None:
        return False
    number = tuple(int(n) for n in regex.findall(r"\d+", told["row"]))
    found.mentions.append(Mention("rows", view.span(*told.span("row")), number))
    _take_kind(told, view, found, fabric)
    found.length = True
    return True


# "..., so that a p row is the last one worked", "A k row is the last one this time."
_LAST_ONE = regex.compile(
    rf"(?:\b(?:so\s+that|and)\s+)?\b(?:an?|the)\s+(?:(?P<stitch>knit|purl|k|p)|(?P<side>{_SIDE}))\s+row\s+"
    r"(?:is|being|will\s+be|was|comes|should\s+be)\s+(?:the\s+)?last(?:\s+(?:one|row|of\s+(?:these|them)))?"
    r"(?:\s+(?:to\s+be\s+)?(?:worked|knitted|done))?(?:\s+this\s+time)?\W*\Z"
    # "until there are 96 rows, the last being a right-side row"
    r"|\b(?:with\s+)?(?:the\s+)?last(?:\s+(?:one|of\s+(?:these|them)))?\s+(?:being|is|was|to\s+be|should\s+be)\s+"
    rf"(?:an?|the)\s+(?:(?P<stitch>knit|purl|k|p)|(?P<side>{_SIDE}))\s+row\W*\Z"
)


def is_last_row_alone(view: View) -> bool:
    """Say whether a sentence tells nothing but of what kind the last row is."""
    return _LAST_ONE.fullmatch(view.text.strip()) is not None


def names_last_row(view: View, found: LeadIn, fabric: Fabric) -> Span | None:
    """Take in the kind of the last row where the end of a sentence names it; return the words that do."""
    told = _LAST_ONE.search(view.text)
    if told is None:
        return None
    _take_kind(told, view, found, fabric)
    return view.span(*told.span())


_END_OF_ROW = regex.compile(
    r"\b(?:until|till|through|(?:up\s+)?to)\s+(?:the\s+)?(?:end|completion)\s+of\s+row\s+"
    r"(?P<rows>\d[\d\s,:;/()\[\]-]*)\W*\Z"
)


def up_to_end_of_row(view: View) -> Mention | None:
    """Return the number of the last row in "Work even to end of row 138 [144]", one for each size or all."""
    told = _END_OF_ROW.search(view.text)
    if told is None:
        return None
    start = told.start("rows")
    numbers = list(regex.finditer(r"\d+", told["rows"]))
    return Mention(
        "rows", view.span(start, start + numbers[-1].end()), tuple(int(n[0]) for n in numbers)
    )


# what it does is the pattern's own, so a row less is told as one: "Work the final 2 rows of the lace panel"
_OF_PATTERN = regex.compile(
    r"\W*(?:now\s+)?(?:work|knit|complete|do|patt)\s+(?:the\s+)?(?:final|last|remaining|rem|next|foll\w*)\s+"
    rf"(?:[2-9]|\d\d|{number_words()})\s+rows\s+of\s+(?:the\s+)?(?:[a-z-]+\s+){{0,2}}"
    r"(?:panel|patt|pattern|chart|repeat|rep|motif|border|diagram)\W*"
)


def ends_in_pattern(view: View) -> bool:
    """Say whether a sentence tells nothing but a number of rows of the pattern, whose last is one of them."""
    return _OF_PATTERN.fullmatch(view.text) is not None


def _take_kind(told: regex.Match[str], view: View, found: LeadIn, fabric: Fabric) -> None:
    if told["side"]:
        found.mentions.append(Mention("side", view.span(*told.span("side"))))
        found.side = "RS" if lexicon().concept("RS_WS", told["side"]) == "RS" else "WS"
        found.side_span = view.span(*told.span("side"))
    elif fabric in ("stocking", "reverse"):
        found.mentions.append(Mention("stitch", view.span(*told.span("stitch"))))
        if fabric == "stocking":
            found.side = "RS" if told["stitch"] in ("knit", "k") else "WS"
            found.side_span = view.span(*told.span("stitch"))
    else:
        found.doubt = view.span(*told.span("stitch"))  # in other fabrics it names no side


def last_of_label(statement: Statement) -> list[Mention]:
    """Return the number of the last row in "Rows 6 to 44: work in st st, ending with a purl row"."""
    label = statement.label
    if label is None or len(label.numbers) < 2:
        return []
    numbers = list(regex.finditer(r"\d+", label.span.of(statement.sentence.source)))
    last = next((n for n in reversed(numbers) if int(n[0]) == label.numbers[-1]), None)
    if last is None:
        return []
    start = label.span.start
    return [Mention("rows", Span(start + last.start(), start + last.end()), (label.numbers[-1],))]
