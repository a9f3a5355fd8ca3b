"""What the frames of a sentence are to a row: steps, notes, doubtful words, the end of the row."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.frames import Frame, Statement
from rewriter.lexicon import lexicon
from rewriter.parsing import Part, parse
from rewriter.rows import Side
from rewriter.shortframes import leaves_unworked, slips_one, stops_short, turns_counted, works_on
from rewriter.spans import Span


def side_named(text: str) -> Side | None:
    """Return the side that a part names, as a side of the model."""
    return "RS" if text == "RS" else "WS" if text == "WS" else None


def with_holders(frames: Sequence[Frame]) -> list[Frame]:
    """Give "slip 25 sts for each shoulder and 31 sts for the neck onto holders" one holder each."""
    out: list[Frame] = []
    for i, frame in enumerate(frames):
        if frame.verb == "hold" and "holder" not in frame.parts:
            later = [f for f in frames[i + 1 :] if f.verb == "hold" and "holder" in f.parts]
            if later and later[0].inherited:
                frame.parts["holder"] = later[0].parts["holder"]
        out.append(frame)
    return out


# Words that speak of instructions and give none.
_TALK = regex.compile(
    r"\b(?:tells? you|pattern(?:s)? (?:says?|tells?|asks?)|many of us"
    r"|most (?:patterns|knitters)|if you have|each\s+row\s+goes\s+over\s+one\s+side"
    r"|you\s+need\s[^.;]{1,20}\sremovable\s+markers?)\b"
    r"|\bmethod\b[^.]*\bthroughout\b"
    # how each turn is made; the turns themselves are told elsewhere
    r"|^\W*wrap(?:ping)?\s+(?:the\s+)?(?:next|following|foll)?\s*(?:st|stitch)\s+(?:at|before|when)\s+(?:each|every)"
    r"\s+turn(?:ing)?\W*$"
)


# "Cont on these 12 sts": which sts are in work, after a turn; no row of its own.
_ON_THESE = regex.compile(
    r"\W*(?:then\s+)?(?:cont|continue|continuing|work|working|go on|proceed)\s+(?:on|upon|over)\s+"
    r"(?:these|this|(?:the\s+)?first)\s+(?:(?:side|set|set of)\s*)?[\d\s(),:;/\[\]-]*(?:sts|stitches)?"
    r"(?:\s+(?:only|first|for (?:the )?(?:first|1st|left|right|one) (?:side|half|shoulder)"
    r"(?: of (?:the )?(?:front |back )?neck)?))*"
    r"(?:\W+(?:and\s+)?(?:leave|leaving|put|putting|place|placing|slip|slipping)\s+(?:the\s+)?"
    r"(?:others?|rest|rem(?:aining)?)(?:\s+(?:sts|stitches))?\s+(?:on|onto|on to)\s+(?:an?|the)\s+"
    r"(?:spare\s+|st\s+|stitch\s+|safety\s+)?"
    r"(?:needle|holder|pin|thread))?\W*"
    # "Place the right shoulder sts on a holder and continue on the left shoulder: 18 sts."
    r"|\W*(?:place|put|slip|leave)\s+(?:the\s+)?(?:left|right|first|other)\s+"
    r"(?:shoulder|side|half|set)(?:'s)?(?:\s+of)?\s+(?:sts|stitches)\s+(?:on|onto|on to)\s+(?:an?|the)\s+"
    r"(?:spare\s+|st\s+|stitch\s+|safety\s+)?(?:needle|holder|pin|thread)\W+(?:and\s+)?"
    r"(?:cont|continue|work|go on|proceed)\s+(?:on|over|with)\s+(?:the\s+)?"
    r"(?:left|right|second|other|last|rem(?:aining)?)\s+(?:shoulder|side|half|set(?:\s+of)?|sts|stitches)(?:\s+(?:sts|stitches|only|first))*"
    r"(?:\W+[\d\s(),:;/\[\]-]+(?:sts|stitches))?\W*"
)


def is_talk(statement: Statement) -> bool:
    """Say whether a sentence speaks of the work in general and tells nothing to do."""
    return bool(_TALK.search(statement.sentence.view.text))


_MARKS = regex.compile(
    r"\W*(?:(?:on the way|meanwhile|here|now|also)\W+)?(?:hang|place|put|insert|attach|tie|clip|mark)\b[^.;]*"
)
_MARKED_BY = regex.compile(r"\b(?:mark\w*|threads?|contrast\w*|safety\s?pins?)\b")


def only_marks(statement: Statement) -> bool:
    """Say whether a sentence hangs markers and works no row: "Place a marker at each end of last row."."""
    text = statement.sentence.view.text
    told = {f.verb for f in statement.frames} <= {"mark", "hold", ""}
    held = any("holder" in f.parts for f in statement.frames)
    rows = [p for f in statement.frames for p in f.parts.get("rows", []) if p.kind != "last_rows"]
    words = _MARKS.fullmatch(text.rstrip(" .")) and _MARKED_BY.search(text)
    return statement.label is None and told and not held and not rows and bool(words)


# "Note on DS (double st): ...", "DS = double st: ..."; but "at 59 cm = 142 rows, last row = wrong side,
# cast off ..." and "work till armhole = 18 cm" tell what to do
_MEANS = regex.compile(
    rf"(?:[-{BULLETS}]\s+|\*{{1,4}}\s*)?note on\s(?:[^.:=]|\.(?=[):])){{1,40}}:"
    r"|(?:note:\s*)?(?![^.:=]{0,40}\b(?:till?|until|when|once)\b[^.:=]{0,40}=\s*[\d(])[^.:=]{1,40}(?<!\brow\s*)=(?!\s*\d[\d\s(),:;/-]*rows?\b)"
)
_MEANING = regex.compile(r"\W{0,8}(?:(?:for|means|stands for)\s+)?(?P<words>[a-z][^.;:]*)")
_LISTED = regex.compile(r"[*_]*\s*(?:[:=|(]|[\u2013\u2014-]\s)")


def tells_meaning(text: str, *, in_list: bool = False) -> bool:
    """Say whether a sentence begins with an abbreviation of a turning method and tells its meaning.

    The meaning is known by its first letters; in a list of abbreviations, by the sign before it.

    >>> tells_meaning("w&t \u2013 wrap and turn"), tells_meaning("w&t, p to end")
    (True, False)
    """
    text = text.lower().lstrip(f" \t*_|{BULLETS}-")
    for term in lexicon().abbreviated:
        if not text.startswith(term) or text[len(term) : len(term) + 1].isalnum():
            continue
        rest = text[len(term) :]
        if in_list and _LISTED.match(rest):
            return True
        words = _MEANING.match(rest)
        letters = [c for c in term if c.isalpha()]
        if words is None or len(term.split()) > 1:
            continue
        told = [w for w in regex.findall(r"[a-z]+", words["words"]) if w not in ("and", "a")]
        if len(told) >= len(letters) and all(
            w.startswith(c) and (len(w) > 2 or w == "st")
            for w, c in zip(told, letters, strict=False)
        ):
            return True
    return False


def is_note(statement: Statement) -> bool:
    """Say whether a sentence tells no row: markers, "DS = double st: ...", "Cont on these 12 sts"."""
    sentence = statement.sentence
    if _words_tell_no_row(sentence.view.text, sentence.text, sentence.piece == "list"):
        return True
    verbs = [f.verb for f in statement.frames]
    return "mark" in verbs and not {"bind_off", "work", "closing"} & set(verbs)


@lru_cache(maxsize=2048)
def _words_tell_no_row(text: str, written: str, in_list: bool) -> bool:
    """Say so of the words of a sentence, asked for each size; `written` are they with their line ends."""
    if _MEANS.match(text) or _TALK.search(text):
        return True
    entries = [text, *regex.split(r"[\r\n,;]" if in_list else r"[\r\n]", written)]
    return any(tells_meaning(e, in_list=in_list) for e in entries) or bool(
        _ON_THESE.fullmatch(text)
    )


def doubtful(statement: Statement) -> list[Part]:
    """Return the words of a sentence that no slot took and that could change the knitting.

    After all sts are bound off or on a holder, words about their later use change nothing.
    """
    out = list(statement.residue)
    decreases = any(f.verb == "decrease" for f in statement.frames)
    for frame in statement.frames:
        ended = frame.verb == "fasten_off" or (frame.verb == "bind_off" and frame.takes_all)
        ended = ended or (frame.verb == "hold" and not _by_the_way(frame))
        bare = frame.verb == "bind_off" and "count" not in frame.parts
        if frame.verb == "bind_off" or not ended:
            # "at the same time with the last step, cast off the remaining 30 sts": in its row, or after it?
            out += [n for n in frame.notes if n.concept == "same_time" and not decreases]
        if ended and not bare:
            break
        out += frame.residue
        if ended:
            break
    return out


def _by_the_way(frame: Frame) -> bool:
    """Say whether sts are slipped or left by the way, and the row goes on."""
    return slips_one(frame) or leaves_unworked(frame)


_BOUNDARY = frozenset({"link", "stop", "colon", "paren", "dash"})


def phrase_of(statement: Statement, part: Part) -> Span | None:
    """Return the words that belong with one that is not understood; None where more may hang on it."""
    if part.concept == "same_time":
        return None
    parts: Sequence[Part] = parse(statement.sentence.view) or ()
    at = next((i for i, p in enumerate(parts) if p.span == part.span), None)
    if at is None:
        return None
    if part.kind == "paren":
        return part.span if all(_is_idle(p) for p in part.inner) else None
    first, last = at, at
    while first and _is_idle(parts[first - 1]):
        first -= 1
    while last + 1 < len(parts) and _is_idle(parts[last + 1]):
        last += 1
    if last + 1 < len(parts) and parts[last + 1].kind not in _BOUNDARY:
        return None
    return Span(parts[first].span.start, parts[last].span.end)


def _is_idle(part: Part) -> bool:
    """Say whether a part tells nothing by itself; "the pattern" is what an unknown word is about."""
    return part.kind in ("residue", "filler", "excepting") or (
        part.kind == "work" and part.concept == "patt" and part.amount is None
    )


_WITH_STEP = regex.compile(
    r"\b(?:same time|together|simultaneously|along)\b[^.]*\bshoulder\b|\bshoulder\b[^.]*\bsame time\b"
    r"|\bsame row (?:as|with) the (?:first|1st|last|2nd|second)\b[^.]*\bshoulder\b"
)


def divides_with_step(statement: Statement) -> bool:
    """Say whether the centre is bound off in the row of a shoulder step ("with the 1st shoulder bind-off").

    In which row of each side the neck edge goes on is then not told.
    """
    centre = any(
        f.verb == "bind_off" and (edge := f.one("edge")) is not None and edge.concept == "centre"
        for f in statement.frames
    )
    return centre and bool(_WITH_STEP.search(statement.sentence.view.text))


def neck_at_same_time(statement: Statement) -> bool:
    """Say whether a sentence binds off at both edges of a side "at the same time"."""
    edges = {f.edge for f in statement.frames if f.verb == "bind_off"}
    together = any(n.concept == "same_time" for f in statement.frames for n in f.notes)
    return together and "neck" in edges and len(edges) > 1


def neck_without_rows(statement: Statement) -> bool:
    """Say whether steps at the shoulder are followed by bind-offs at the neck for which no row is told.

    "On shoulder line bind off 5 sts every other row 4 times, on neckline bind off 4 sts once": before,
    among or after the others?
    """
    steps = [f for f in statement.frames if f.verb == "bind_off" and f.edge]
    return any(
        "times" in one.parts and "rows" in one.parts and one.edge != "neck"
        and two.edge == "neck" and "times" in two.parts and "rows" not in two.parts
        for one, two in pairwise(steps)
    )  # fmt: skip


def rows_told_ahead(statement: Statement) -> Frame | None:
    """Return a bind-off before which a bare number of rows stands that nothing makes its own.

    "After 68 rows cast off 8 sts at beg of next 6 rows": the 68 rows are not for binding off; but those
    of "at beg of the 2 rows after that cast off 7 sts" are.
    """
    for frame in statement.frames:
        rows, count, beg = frame.one("rows"), frame.one("count"), frame.one("beg")
        if frame.verb != "bind_off" or rows is None or count is None:
            continue
        own = beg is not None and beg.span.start < rows.span.start
        if rows.kind == "some_rows" and rows.span.start < count.span.start and not own:
            return frame
    return None


def is_stepped(frame: Frame) -> bool:
    """Say whether a bind-off is told for the beginning of rows."""
    if "shares" in frame.parts:
        return "count" in frame.parts  # not "the shoulders are bound off in 3 steps"
    if frame.takes_all:
        return False
    return bool(frame.parts.keys() & {"rows", "times", "beg", "steps"})


def goes_on(frame: Frame) -> bool:
    """Say whether a frame is "..., work to end of row" behind a step."""
    extent = frame.one("extent")
    return extent is not None and extent.kind == "to_end" and "rows" not in frame.parts


_MORE = regex.compile(r"(?i)\bmore\b")


def says_more(frame: Frame, source: str) -> bool:
    """Say whether something is done so many times more: "twice more", "3 more times"."""
    times = frame.one("times")
    return "more" in frame.parts or (
        times is not None and _MORE.search(times.span.of(source)) is not None
    )


def names_both_edges(frame: Frame) -> bool:
    """Say whether the words name an edge on both sides ("at each armhole edge", "each side at arm edge")."""
    part = frame.one("edge")
    return part is not None and (part.numbers == (2,) or "each_side" in frame.parts)


_EACH = regex.compile(r"(?i)\b(?:each|both)\b")


def names_each_shoulder(frame: Frame, source: str) -> bool:
    """Say whether words put a bind-off at each of two shoulders in work: "bind off each strap ..."."""
    return any(n.concept == "shoulder" and _EACH.search(n.span.of(source)) for n in frame.notes)


def end_of_row(frames: Sequence[Frame], at: int) -> int:
    """Return where the row that begins with frame `at` ends, in a sentence without a label."""
    stop = at + 1
    turned = frames[at].verb == "turn"
    while stop < len(frames):
        frame = frames[stop]
        before = frames[stop - 1]
        ends_row = before.verb == "fasten_off" or (before.verb == "hold" and not slips_one(before))
        ends_row = ends_row or (
            turned and (frame.verb not in ("hold", "closing") or slips_one(frame))
        )
        begins_row = (
            frame.verb in ("bind_off", "aid", "back_row", "repeat")
            or (frame.verb == "work" and "rows" in frame.parts)
            # "k to end; p to last 14 sts, turn"
            or (
                works_on(before)
                and not stops_short(before)
                and (works_on(frame) or turns_counted(frames[stop : stop + 2]))
            )
        )
        if not frame.verb or (ends_row and frame.verb not in ("fasten_off",)) or begins_row:
            break
        turned = turned or frame.verb == "turn"
        stop += 1
    return stop


def rows_of_label(frames: Sequence[Frame]) -> list[list[Frame]]:
    """Cut the frames of a label that tells a row and the row back, where the first of them turns."""
    for i, frame in enumerate(frames[:-1]):
        later = frames[i + 1 :]
        told = later[0].one("rows")
        anew = told is not None and told.kind in ("next_rows", "row_number") and frame.verb != ""
        turned = frame.verb == "turn" and i > 0
        if anew or (turned and any(f.verb in ("work", "back_row") for f in later)):
            return [list(frames[: i + 1]), *rows_of_label(later)]
    return [list(frames)]


def most_rows(rows: Part) -> int:
    """Return the largest number of rows that a part counts for any size."""
    return max((v or 0 for v in rows.amount.values), default=1) if rows.amount else 1


def is_again(frame: Frame) -> bool:
    """Say whether rows told before are worked again: "Work these 2 rows again"."""
    rows = frame.one("rows")
    return frame.verb == "work" and rows is not None and rows.kind == "last_rows"


def plain_side_of(frames: Sequence[Frame]) -> Side | None:
    """Return the side whose rows are plain by the words behind a repeat: "..., knitting the RS rows"."""
    for frame in frames:
        rows, alone = frame.one("rows"), frame.parts.keys() <= {"rows", "extent"}
        tells = frame.verb in ("", "work") or (frame.verb == "repeat" and frame.inherited)
        if rows is not None and tells and alone and not frame.residue and rows.amount is None:
            return side_named(rows.side) if rows.kind in ("side_row", "every_side_row") else None
    return None


def turns_in_one_row(frames: Sequence[Frame]) -> bool:
    """Say whether frames tell one row: "cast off 2 sts at neck on next row, work to last 8 sts, turn"."""
    if [f.verb for f in frames] != ["bind_off", "work", "turn"]:
        return False
    rows, extent = frames[0].one("rows"), frames[1].one("extent")
    one = rows is not None and rows.kind == "next_rows" and rows.amount is None
    return one and extent is not None and extent.kind == "to_last"


def turns_in_told_row(frames: Sequence[Frame]) -> bool:
    """Say whether one row is told by its number or place and turns: "1st row: p to last 8 sts, turn"."""
    if [f.verb for f in frames] != ["work", "turn"] or not stops_short(frames[0]):
        return False
    rows = frames[0].one("rows")
    one = rows is not None and (rows.amount is None or rows.amount.values == (1,))
    kinds = ("next_rows", "next_side_rows", "foll_side_rows", "side_row", "row_number")
    return one and rows is not None and rows.kind in kinds and len(rows.numbers) < 2


def side_of_rows(frame: Frame) -> Side | None:
    """Return the side of the rows that a frame names."""
    rows = frame.one("rows")
    return side_named(rows.side) if rows is not None else None


def holds_side(frame: Frame) -> bool:
    """Say whether a counted hold takes one side of a neck: the side just worked, the other still in work."""
    counted = frame.verb == "hold" and frame.amount is not None and not frame.takes_all
    return counted and any(n.concept == "side_worked" for n in frame.notes)


def holds_part(frames: Sequence[Frame], at: int, stop: int) -> bool:
    """Say whether a counted hold takes some sts only: the yarn is cut there, or joined beyond them."""
    frame = frames[at]
    if frame.verb != "hold" or frame.amount is None or frame.takes_all:
        return False
    joins = stop < len(frames) and frames[stop].verb == "join"
    return joins or frames[stop - 1].verb == "fasten_off"
