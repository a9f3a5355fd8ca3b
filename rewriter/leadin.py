"""The words before the first bind-off that say where a piece stops: the lead-in.

The first short row takes the place of the last row of the lead-in, so what the lead-in says of
that row moves with it: its side, its edge, the number of rows. A lead-in that says nothing of it
stays as it is. Where the row before the first bind-off has words of its own (a decrease, a neck
bind-off, a repeat), those words would have to take the turn: that is not done here but said.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.frames import Frame, Statement
from rewriter.leadapart import is_for_some, read_apart, sizes_for
from rewriter.leadending import read_facing_alone, read_frames, values_of
from rewriter.leadmodel import Fact, LeadIn, Mention
from rewriter.leadnumber import ends_with_row, is_last_row_alone, last_of_label, names_last_row
from rewriter.parsing import Part
from rewriter.passages import Passage
from rewriter.rowframes import is_talk, only_marks
from rewriter.rows import OTHER_SIDE, Side
from rewriter.spans import Span, View
from rewriter.statedwords import Tally, ridges, tallies_in, whole_tally, without
from rewriter.statements import read_statement
from rewriter.stitchwork import Fabric


def read_lead_in(passage: Passage, fabric: Fabric) -> LeadIn:
    """Return what stands before a passage.

    `fabric` is what the piece is in: "a purl row" is a WS row in stocking stitch only, says nothing in
    garter stitch, and is a row of its own in a pattern.
    """
    found = LeadIn()
    joined = next((f for f in passage.lead if f.verb == "join"), None)
    if joined is not None:
        # the rejoining row stays in its row: it tells a side, and nothing moves
        facing = joined.one("side")
        if facing is not None:
            found.side = OTHER_SIDE["RS" if facing.side == "RS" else "WS"]
            found.side_span = facing.span
        return found
    if passage.lead:
        read_frames(passage.lead, found, fabric, passage.sentence.source)
        found.span = Span(passage.lead[0].start, passage.lead[-1].end)
        view = passage.sentence.view
        _count(found, tallies_in(view, len(view.before(passage.span.start))))
        _doubt(found, view, passage.span.start)
        if found.mentions and sizes_for(passage.statements[0]):
            found.doubt = found.span  # what the other sizes are told stands elsewhere
        if _begins_at_once(passage.lead):
            found.obstacle = _read_rows_before(passage, LeadIn(), fabric).obstacle
            found.named_after = found.obstacle is not None
        return found
    told = {n.concept for f in passage.statements[0].frames[:1] for n in f.notes}
    if told & {"height", "high"}:
        # "close, at the same height as the back, 2x8 sts", "cast off, when the armhole is 20 cm, 8 sts"
        found.length = True
        return found
    return _read_rows_before(passage, found, fabric)


def _begins_at_once(lead: Sequence[Frame]) -> bool:
    """Say whether words name the first row and tell none before it: "On these sts: beg with a WS row"."""
    starts = any(p.concept == "starting" for f in lead for p in f.parts.get("side", ()))
    bare = all(f.verb in ("", "work") and not f.parts.keys() - {"count", "side"} for f in lead)
    return starts and bare


def _read_rows_before(passage: Passage, found: LeadIn, fabric: Fabric) -> LeadIn:
    """Take in what the sentences before a passage say of its last row, nearest first."""
    ended = False
    for at, statement in reversed(list(enumerate(passage.before))):
        if not any(f.verb or f.parts for f in statement.frames):
            if _unread(statement):
                found.doubt = statement.span
                break
            continue
        if is_talk(statement) or only_marks(statement):
            continue
        if tally := whole_tally(statement.sentence.view):
            _count(found, [tally])
            continue
        if _only_counts(statement):
            read_facing_alone(statement, found)
            continue  # a stitch count, or "RS is now facing."
        if ended:
            _count_rows(statement, found)
            break
        if is_for_some(passage.before, at):
            read_apart(passage.before, at, found, lambda one, to: _read_before(one, to, fabric))
            break
        _read_before(statement, found, fabric)
        if not _tells_only_end(statement) or found.doubt or found.obstacle:
            break
        if found.side is not None or any(m.fact != "edge" for m in found.mentions):
            ended = True  # "Work 15 rows. The last row is a WS row."; not "You are at the armhole edge."
    return found


def _unread(statement: Statement) -> bool:
    """Say whether a sentence that names a side or rows could not be parsed at all."""
    residue = [p for f in statement.frames for p in f.residue]
    whole = len(residue) == 1 and len(residue[0].span.of(statement.sentence.source).split()) > 3
    return whole and _TELLS_END.search(statement.sentence.view.text) is not None


def _only_counts(statement: Statement) -> bool:
    """Say whether a sentence works no row: "RS is now facing.", "With RS facing, work on 74 sts."."""
    told = [f for f in statement.frames if f.verb]
    if not told:
        return not any(f.parts.keys() & {"rows", "measure"} for f in statement.frames)
    (head, *others) = told
    facing = head.one("side")
    on = head.verb == "work" and head.parts.keys() == {"count", "side"} and not head.residue
    words = statement.sentence.view.text
    on = on and facing is not None and facing.kind == "side_facing" and not others
    return (
        on and statement.label is None and bool(regex.search(r"\bon\s+(?:the(?:se)?\s+)?\d", words))
    )


def _tells_only_end(statement: Statement) -> bool:
    """Say whether a sentence tells nothing but which row is the last: "End with a WS row"."""
    told = [f for f in statement.frames if f.verb or f.parts]
    if statement.label is None and is_last_row_alone(statement.sentence.view):
        return True
    return statement.label is None and [f.verb for f in told] == ["ending"]


def _count_rows(statement: Statement, found: LeadIn) -> None:
    """Take in the number of rows worked up to the one that a sentence of its own calls the last."""
    rows = _plain_count([f for f in statement.frames if f.verb or f.parts])
    if rows is not None and statement.label is None:
        found.mentions.append(Mention("rows", rows.span, values_of(rows)))


def _read_before(statement: Statement, found: LeadIn, fabric: Fabric) -> None:
    """Read the last sentence that has rows worked; counts of the rows so far are taken off first."""
    view = statement.sentence.view
    tallies = list(tallies_in(view))
    if tallies:
        rest = read_statement(statement.sentence, view=without(view, [t.words for t in tallies]))
        statement = replace(statement, frames=rest.frames if rest else statement.frames)
    _read_statement(statement, found, fabric)
    _with_relatives(found, view)
    if found.obstacle is None and not found.absorbed:
        _count(found, tallies)
        _doubt(found, view, statement.span.end)


def _count(found: LeadIn, tallies: Iterable[Tally]) -> None:
    """Take in counts of the rows so far: the place where they stand moves one row down."""
    for tally in tallies:
        found.mentions = [
            m for m in found.mentions if m.fact != "rows" or not _overlap(m.span, tally.span)
        ]
        fact: Fact = "about" if tally.about else "count"
        found.mentions.append(Mention(fact, tally.span, tally.values))


def _overlap(one: Span, two: Span) -> bool:
    return one.start < two.end and two.start < one.end


_TELLS_END = regex.compile(
    r"(?<![a-z])(?:rs|ws)(?![a-z])|(?:right|wrong)[\s-]?side|(?<![a-z])(?:knit|purl|k|p)\s+row(?![a-z])"
    r"|(?<![a-z])(?:return(?:ing)?|backward|outward|outgoing|forward)[\s-]+rows?(?![a-z])"
    r"|(?<![a-z])(?:even|odd)(?:[\s-]numbered)?\s+row"
    r"|last\s+row(?![a-z])[^.,;]*|\d[\d\s,:;/()\[\]-]*(?:st|nd|rd|th)?\s+(?:patt\w*\s+)?rows?(?![a-z])|(?<![a-z])row\s+\d"
)
_BY_EDGE = regex.compile(r"\bend\w*\s+at\s+(?:the\s+)?(?:\w+\s+)?edge\W*\Z")
_BEFORE_END = regex.compile(r"(?<![a-z])(?:until|till|measures?|meas)(?![a-z])")


def _doubt(found: LeadIn, view: View, stop: int) -> None:
    """Doubt a lead-in whose words name a side or rows where it ends, but were not understood."""
    text = view.before(stop)
    until = _BEFORE_END.search(text)
    told = [m for m in found.mentions if m.fact not in ("edge", "repeat")]
    ends = any(m.fact not in ("count", "about") for m in told)
    for hit in _TELLS_END.finditer(text, until.end() if until else 0):
        place = view.span(hit.start(), hit.end())
        # "last row ending at armhole edge" tells its edge and nothing else of the row
        row_by_edge = hit.group().startswith("last") and bool(_BY_EDGE.search(hit.group()))
        covered = any(_overlap(place, m.span) for m in (found.mentions if row_by_edge else told))
        if hit.group().startswith("return") and found.side is None:
            # the row back, which is a WS row in translated drafts
            found.mentions.append(Mention("side", place))
            found.side, found.side_span = "WS", place
            continue
        counts = hit.group()[0].isdigit()  # a number of rows is doubtful beside a side, too
        if not covered and (counts or not ends):
            found.doubt = place
            return


def _read_statement(statement: Statement, found: LeadIn, fabric: Fabric) -> None:
    frames = [f for f in statement.frames if f.verb or f.parts]
    found.span = statement.span
    if not frames:
        return  # nothing but a count of rows, which is taken in by itself
    view = statement.sentence.view
    if statement.label is None and ends_with_row(view, found, fabric):
        return
    if statement.label is None and names_last_row(view, found, fabric):
        rows = frames[0].one("rows")
        some = frames[0].verb == "work" and rows is not None and rows.kind == "some_rows"
        if rows is not None and rows.amount is not None and some:
            found.mentions.append(Mention("rows", rows.span, values_of(rows)))
        elif not is_last_row_alone(view):
            found.doubt = statement.span
        return
    if [f.verb for f in frames if f.verb != "ending"] == ["work"] and ridges()[0].search(view.text):
        # "Knit 33 ridges": a row less leaves the last half done, of which a warning tells
        read_frames(
            [f for f in frames if f.verb == "ending"], found, fabric, statement.sentence.source
        )
        return
    if counted := _ROWS_UNTIL.search(view.text):
        # "until there are 18 rows above last dec row", "until 52 rows from beg have been done"
        values = tuple(int(n) for n in regex.findall(r"\d+", counted.group("rows")))
        found.mentions.append(Mention("rows", view.span(*counted.span("rows")), values))
    if _is_one_plain_row(statement, frames):
        found.absorbed.append(statement)
        found.side = _label_side(statement) or _named_side(frames[0], fabric)
        found.side_span = frames[0].span if found.side else None
        return
    if any(f.verb == "ending" for f in frames):
        found.mentions += last_of_label(statement)
        read_frames(frames, found, fabric, statement.sentence.source)
        if _is_one_plain_row(statement, [f for f in frames if f.verb != "ending"]):
            # "Work 1 row, ending with a WS row": the row itself becomes the first short row
            found.mentions = [m for m in found.mentions if m.fact in ("count", "about")]
            found.absorbed.append(statement)
        return
    if (row := _up_to_row(statement, frames)) is not None:
        found.mentions.append(Mention("rows", row.span, row.numbers))
        found.length = True
        return
    if (edge := _to_edge(statement, frames)) is not None:
        found.mentions.append(Mention("edge", edge.span))
        found.length = True
        return
    ends = any(
        f.verb == "work" and (r := f.one("rows")) is not None and r.kind == "last_rows"
        for f in frames[1:]
    )
    if not ends and (statement.label is not None or any(_tells_rows(f) for f in frames)):
        rows = _plain_count(frames)
        if rows is not None and statement.label is None:
            found.mentions.append(Mention("rows", rows.span, values_of(rows)))
            return
        if _repeats_until(statement, frames):
            # its last row becomes the first short row
            found.mentions.append(Mention("repeat", statement.span))
            found.length = True
            return
        if not any(f.verb in ("measures",) for f in frames):
            found.obstacle = statement
            found.side = _label_side(statement)
            found.side_span = statement.label.span if statement.label else None
            return
    read_frames(frames, found, fabric, statement.sentence.source)


# "Work 1 row more than before": it counts from the other side's rows, which move alike.
_RELATIVE = regex.compile(
    r"\brows?\s+(?:more|less|fewer)\s+than\s+(?:before|(?:(?:on|for|to|the)\s+)*(?:first|other|left|right)\s+side)\b"
    # "until front is 4 rows lower than back to shoulder"
    r"|\brows?\s+(?:less|fewer|shorter|lower)\s+than\s+(?:(?:on|for|the|of)\s+)*(?:back|front)\b"
)


def _with_relatives(found: LeadIn, view: View) -> None:
    if _RELATIVE.search(view.text):
        found.mentions = [
            replace(m, fact="relative") if m.fact == "rows" else m for m in found.mentions
        ]


def _named_side(frame: Frame, fabric: Fabric) -> Side | None:
    """Return the side of "K 1 row on wrong side", or of "P 1 row" in stocking stitch."""
    told, rows = frame.one("side"), frame.one("rows")
    if told is None and rows is not None and rows.side:
        told = rows  # "Work 1 WS row"
    if told is not None:
        return "RS" if told.side == "RS" else "WS"
    if fabric == "stocking" and frame.concept in ("knit", "purl"):
        return "RS" if frame.concept == "knit" else "WS"
    return None


def _repeats_until(statement: Statement, frames: Sequence[Frame]) -> bool:
    """Say whether rows are repeated up to a length: "Rep last 4 rows until armhole is 16 cm deep"."""
    repeated = frames[0].verb == "repeat" and frames[0].one("rows") is not None
    return repeated and bool(regex.search(r"\b(?:until|till)\b", statement.sentence.view.text))


_ROWS_UNTIL = regex.compile(
    r"\b(?:until|till) (?:there are )?(?P<rows>\d[\d\s,:;()\[\]-]*?)\s*(?:rows|needles|ndls?)\b"
    r"(?:(?<=there are [^a-z]*(?:rows|needles|ndls?))"
    r"|[^.;]{0,40}\b(?:have|are) (?:now )?(?:been )?(?:worked|done|knitted|completed)\b)"
)


def _label_side(statement: Statement) -> Side | None:
    side = statement.label.side if statement.label else ""
    return "RS" if side == "RS" else "WS" if side == "WS" else None


def _is_one_plain_row(statement: Statement, frames: Sequence[Frame]) -> bool:
    """Say whether the sentence tells one plain row and nothing else."""
    if len(frames) != 1 or frames[0].verb not in ("work", "back_row", "work_row"):
        return False
    frame = frames[0]
    extent = frame.one("extent")
    if extent is not None and extent.kind != "to_end":
        return False
    if frame.residue or frame.amount is not None or "measure" in frame.parts:
        return False
    if statement.label is not None:
        label = statement.label
        return len(label.numbers) <= 1 and (label.rows is None or label.rows.values == (1,))
    if frame.verb == "back_row":
        return True
    rows = frame.one("rows")
    return (
        rows is not None
        and rows.kind in ("some_rows", "next_rows", "some_side_rows")
        and ((rows.amount is None and rows.kind == "next_rows") or values_of(rows) == (1,))
    )


def _plain_count(frames: Sequence[Frame]) -> Part | None:
    """Return the number of rows in "Work 52 rows [in patt]"."""
    working = [f for f in frames if f.verb in ("work", "") and "rows" in f.parts]
    others = [f for f in frames if f.verb and f.verb not in ("work", "measures", "refer")]
    if len(working) != 1 or others or working[0].residue:
        return None
    rows = working[0].one("rows")
    return rows if rows is not None and rows.kind == "some_rows" and rows.amount else None


def _tells_rows(frame: Frame) -> bool:
    """Say whether a frame works rows of its own, so that the last of them has words of its own."""
    if {"measure", "side"} <= frame.parts.keys():
        return False  # "work for 20 cm, RS facing for next row"
    if (
        frame.verb == "hold"
        and "stitch_pattern" in frame.parts
        and not frame.parts.keys() & {"rows"}
    ):
        return False  # "Keep the 8 border sts in garter st."
    bare = frame.verb == "decrease" and not frame.parts.keys() - {"extent"}
    if not bare and frame.verb in (
        "decrease",
        "increase",
        "bind_off",
        "repeat",
        "turn",
        "cast_on",
        "hold",
    ):
        return True
    if frame.verb == "decrease" and not frame.parts.keys() - {"extent"}:
        return False  # "until there are 18 rows above last dec row"
    extent = frame.one("extent")
    until = extent is not None and extent.kind in ("until", "until_bare")
    if frame.verb == "work" and extent is not None and not until:
        return True
    if until and (extent is None or "rows" not in frame.parts or _counts_rows(frame)):
        return False  # "until there are 14 ridges", "until there are 18 rows above ..."
    across = frame.verb == "work" and frame.concept in ("knit", "purl") and "count" in frame.parts
    if frame.verb == "back_row" or (across and not frame.parts.keys() - {"count"}):
        return True  # "K. back on the 30 sts. of right shoulder", "P these 30 sts"
    return frame.verb in ("work", "") and "rows" in frame.parts


def _to_edge(statement: Statement, frames: Sequence[Frame]) -> Part | None:
    """Return the edge in "When armhole is as deep as the back, work to armhole edge"."""
    last = frames[-1]
    extent = last.one("extent")
    by_length = any(f.verb in ("measures", "refer") or "measure" in f.parts for f in frames[:-1])
    if statement.label is not None or not by_length or last.verb != "work" or extent is None:
        return None
    named = extent.kind == "to_end" and _EDGE_NAMED.search(statement.sentence.view.text)
    return extent if named and not last.parts.keys() - {"extent"} else None


_UP_TO = regex.compile(
    r"(?i)\b(?:to|until|till|through|incl(?:uding)?)\s+(?:(?:the\s+)?end\s+of\s+)?(?:the\s+)?\Z"
)


def _up_to_row(statement: Statement, frames: Sequence[Frame]) -> Part | None:
    """Return the row up to which is worked by its number: "Knit even to row 54"."""
    rows = frames[0].one("rows") if len(frames) == 1 and statement.label is None else None
    if rows is None or frames[0].verb != "work" or rows.kind != "row_number":
        return None
    before = statement.sentence.source[statement.span.start : rows.span.start]
    return rows if len(rows.numbers) == 1 and _UP_TO.search(before) else None


_EDGE_NAMED = regex.compile(r"\bto (?:the )?(?:armhole|arm|shoulder|side|neck|front) edge\W*$")


def _counts_rows(frame: Frame) -> bool:
    rows = frame.one("rows")
    return rows is not None and rows.kind == "some_rows"
