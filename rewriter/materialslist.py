"""The draft's list of materials: where it stands, and in what form an item is added to it."""

from __future__ import annotations

from dataclasses import dataclass

from rewriter import regex
from rewriter.amounts import number_words
from rewriter.bullets import BULLETS
from rewriter.document import Document
from rewriter.letters import letters_of


@dataclass(frozen=True)
class MaterialsList:
    """A list of materials that an item can be added to."""

    start: int
    text: str
    """The list as it stands in the source."""
    end: int
    """Where an item goes in, in the source."""
    before: str
    """What stands before an added item."""
    after: str
    lower: bool
    """An item begins without a capital."""
    in_words: bool
    """Things are counted in words."""

    @property
    def words(self) -> str:
        """The list in lower case."""
        return self.text.lower()

    def case(self, item: str) -> str:
        """Return an item with the first letter that items have here."""
        return (item[0].lower() if self.lower else item[0].upper()) + item[1:]


# "Materials", "What you will need", "Also needed", "Yarn and tools", "Needles and notions", "What to buy"
_NAMES = (
    r"(?:what\s+)?you(?:\s+will|['\u2019]ll)?(?:\s+also)?\s+(?:need|want)|(?:(?:also|what\s+is)\s+)?(?:needed|required)"
    r"|what\s+to\s+buy|(?:[a-z]+\s+(?:and|&)\s+)?(?:materials?|notions|equipment|extras|requirements|tools|supplies"
    r"|sundries|accessories|haberdashery)(?:\s+(?:and|&)\s+[a-z]+)?"
)
_MARK = r"\b[ \t]*(?:[:*_.\u2013\u2014-]+[ \t*_]*|$)"
_TITLES = tuple(
    regex.compile(rf"(?im)^[ \t#*_-]*(?:{names}){_MARK}")
    for names in (
        r"(?:other\s+)?notions|also\s+needed|extras|sundries|accessories|haberdashery",
        _NAMES,
        # where no list of materials has a title of its own, what is needed may stand with the needles
        r"(?:knitting\s+)?needles(?:\s+(?:and|&)\s+[a-z]+)?",
    )
)
# The same behind another sentence of its line: "Yarn: 6 ozs. Needles: No. 6 and No. 8."
_RUN_ON = regex.compile(r"(?<=[.;]\s)(?:Materials|Notions|Needles):[ \t]*")
# "Stitches used", "Moss stitch: Row 1 ...", "Stocking st., needles no. 4"; but not "Stitch holder"
_STITCHES = (
    r"(?:[a-z]+\s+){0,2}(?:st(?:itch)?(?:es|s)?\b|patt(?:ern)?\b)"
    r"(?![.\s-]*(?:holder|marker|pin|stopper))"
)
# "Rib: k 1, p 1 alternately", "Sample: 20 sts x 27 rows", "Elastic band 1x1: alternately 1 front, 1 back"
_WORKED = (
    r"(?!needles?\b)[a-z]+(?:\s+[a-z]+)?(?:\s+\d+\s?[x\u00d7/]\s?\d+)?\s*:"
    r"(?:\s*[kp]\s?\d|[^\r\n]*(?:\brows?\b|\balternat(?:e|ely|ing)\b|\bsts\b|\*\s*[kp]\s?\d))"
)
_END = regex.compile(
    r"(?>\r\n|\r|\n)[ \t]*(?>\r\n|\r|\n)|(?>\r\n|\r|\n)(?=[ \t]*(?:#|[A-Z ]{4,}[.:\u2014]"
    rf"|\**(?i:{_STITCHES}|{_WORKED})"
    # a tension without a title: "22 sts and 30 rows to 10 cm"
    r"|(?i:\d[\d\s./\u00bc-\u00be]*(?:sts?|stitches|loops)\b)"
    r"|[*\[]*(?i:check|tension|gauge|scale|measure|size|abbrev|special|note|instructions|to fit)))"
)
_BULLET = regex.compile(rf"[ \t]*[-*{BULLETS}][ \t]+")
_ITEM = regex.compile(r"[ \t]*(?:\d|[A-Z]|an?\s|one\s|two\s)")
_COUNTED = (
    r"\s+(?:(?:st\.|[a-z-]+)\s+){0,2}"
    r"(?:pairs?|balls?|buttons?|holders?|markers?|pins?|needles?|spare|sets?)\b"
)
_IN_WORDS = regex.compile(rf"(?i)\b(?:{number_words()}){_COUNTED}")
_IN_FIGURES = regex.compile(rf"(?i)\b\d+{_COUNTED}")
# A line that names things to have at hand, where no title says so
_UNTITLED = regex.compile(
    r"(?im)^(?![ \t]*[#|*])(?=[^\r\n]*\bneedles?\b)(?=[^\r\n]*(?:\d|holder|pair))[^\r\n]*$"
)
# What a draft is called, though it may have a needle in its name
_FIRST_LINE = regex.compile(r"\s*[^\r\n]*")
# A paragraph behind the first that names such things too
_GOES_ON = regex.compile(
    r"(?:\r\n|\r|\n)\s*(?![#|*])(?=[^\r\n]*\b(?:needles?|holders?|markers?)\b)[^\r\n]+"
)
_TELLS = regex.compile(
    r"(?i)\b(?:cast|work|gauge|tension|rows?|inches|stitches|sts|using|with|knit|change|if)\b|="
)


def find_materials(document: Document) -> MaterialsList | None:
    """Return the list of materials, where its form is one that an item can be added to."""
    whole = document.source.text
    first = next(
        (s.span.start for s in document.sentences if s.piece not in ("list", "other", "unknown")),
        len(whole),
    )
    for pattern in (*_TITLES, _RUN_ON):
        for title in pattern.finditer(whole):
            pieces = (
                s.span.start
                for s in document.sentences
                if s.span.start >= title.end() and s.piece not in ("list", "other", "unknown")
            )
            found = _list_at(
                whole[: next(pieces, len(whole))], title.start(), title.end(), title.group()
            )
            if found is not None:
                return found
    called = _FIRST_LINE.match(whole)
    for line in _UNTITLED.finditer(whole, called.end() if called else 0, first):
        start, end = letters_of(whole).table
        if _TELLS.search(line.group()) is None and not start <= line.start() < end:
            return _list_at(whole[:first], line.start(), line.start(), "")
    return None


def _list_at(text: str, titled: int, behind: int, title: str) -> MaterialsList | None:
    skip = regex.compile(r"\s*").match(text, behind)
    begin = skip.end() if skip else behind
    own_line = "\n" in text[titled:begin]
    stop = _END.search(text, begin)
    while own_line and stop and (more := _GOES_ON.match(text, stop.start())):
        if _TELLS.search(more.group()):
            break
        stop = _END.search(text, more.end())
    body = text[begin : stop.start() if stop else len(text)].rstrip()
    if not body:
        return None
    formed = _form(body, text, own_line=own_line)
    if formed is None:
        return None
    length, before, after, lower = formed
    # "needles nos. 5 and 8. 4 markers": a figure is lost behind the point of another one
    figured = before == " " and regex.search(r"\d\.\Z", body) is not None
    counted = figured or len(_IN_WORDS.findall(body)) > len(_IN_FIGURES.findall(body))
    # a title in small letters heads a list in small letters
    lower = lower or (bool(title) and title.strip(" \t#*_:.-").islower())
    return MaterialsList(begin, body, begin + length, before, after, lower, counted)


def _form(body: str, text: str, own_line: bool) -> tuple[int, str, str, bool] | None:
    """Return where an item goes in, what stands around it, and whether it begins small."""
    lines = regex.split(r"\r\n|\r|\n", body)
    newline = "\r\n" if "\r\n" in text else "\n"
    bullets = [m.group() for line in lines if (m := _BULLET.match(line))]
    ends = "." if all(line.rstrip().endswith(".") for line in lines) else ""
    if bullets and len(bullets) >= len(lines) - 1:
        front = regex.match(r"[ \t]*", lines[-1])
        bullet = (front.group() if front else "") + bullets[-1].lstrip()
        names = [line[len(b) :] for line, b in zip(lines, bullets, strict=False)]
        small = any(name[:1].islower() and not regex.match(r"an?\b", name) for name in names)
        return len(body), newline + bullet, ends, small
    # a first line may go on behind the title; then the others tell
    own = lines if own_line else lines[1:]
    by_line = len(lines) > 1 and all(_ITEM.match(line) for line in own) and not body.endswith(";")
    if by_line and not any(
        regex.search(r"(?:,|\band|\beach|\bone|[^.]\s\d+)\s*$", line) for line in lines[:-1]
    ):
        front = regex.match(r"[ \t]*", lines[-1])
        return len(body), newline + (front.group() if front else ""), ends, False
    if body.count(";") > 1 or (";" in body and ". " not in body[body.rindex(";") :]):
        return len(body.rstrip(" .")), "; ", "", True
    if body.endswith("."):
        return len(body), " ", ".", False
    if len(lines) == 1 or "," in lines[-1]:
        return len(body), ", ", "", True
    return None
