"""The words before the first bind-off that say where a piece stops: the lead-in.

The first short row takes the place of the last row of the lead-in, so what the lead-in says of
that row moves with it: its side, its edge, the number of rows. A lead-in that says nothing of it
stays as it is. Where the row before the first bind-off has words of its own (a decrease, a neck
bind-off, a repeat), those words would have to take the turn: what of them can is found in `rowbefore.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.frames import Frame, Statement
from rewriter.inwork import says_which_in_work
from rewriter.leadapart import is_for_some, read_apart, sizes_for
from rewriter.leadending import read_facing_alone, read_frames, tells_no_row, values_of
from rewriter.leadmodel import Fact, LeadIn, Mention
from rewriter.leadnumber import (
    ends_in_pattern,
    ends_with_row,
    is_last_row_alone,
    last_of_label,
    names_last_row,
    up_to_end_of_row,
)
from rewriter.leadrows import (
    is_one_plain_row,
    label_side,
    last_repeated,
    named_side,
    plain_count,
    repeats_rows,
    rows_until,
    shapes_at_end,
    side_by_numbers,
    tells_rows,
    to_edge,
    up_to_row,
)
from rewriter.passages import Passage
from rewriter.rowframes import is_talk, only_marks
from rewriter.rows import OTHER_SIDE, Side
from rewriter.rowturned import Stretch, last_stretch
from rewriter.smoothsteps import smooths_steps
from rewriter.spans import Span, View
from rewriter.statedwords import (
    POINTED,
    Tally,
    ridges,
    states_rows,
    tallies_in,
    whole_tally,
    without,
)
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
        _read_rejoining_row(passage, found)
        return found
    if passage.lead and tells_no_row(passage.lead, passage.sentence.source):
        return _read_rows_before(passage, found, fabric)
    if passage.lead and not all(_keeps_pattern(f) for f in passage.lead):
        read_frames(passage.lead, found, fabric, passage.sentence.source)
        found.span = Span(passage.lead[0].start, passage.lead[-1].end)
        view = passage.sentence.view
        _count(found, tallies_in(view, len(view.before(passage.span.start))))
        _doubt(found, view, passage.span.start)
        if found.mentions and sizes_for(passage.statements[0]):
            found.doubt = found.span  # what the other sizes are told stands elsewhere
        if _begins_at_once(passage.lead):
            before = _read_rows_before(passage, LeadIn(), fabric)
            found.obstacle, found.stretch = before.obstacle, before.stretch
            found.named_after = found.obstacle is not None
            if found.stretch is not None and before.side is not None:
                found.side, found.side_span = before.side, before.side_span
        return found
    told = {n.concept for f in passage.statements[0].frames[:1] for n in f.notes}
    heights = [f.one("measure") for f in passage.statements[0].frames[:1] if f.verb == "bind_off"]
    if told & {"height", "high"} or any(h and h.kind == "rows_high" for h in heights):
        # "close, at the same height as the back, 2x8 sts", "cast off, when the armhole is 20 cm, 8 sts"
        found.length = not any(h and h.kind == "rows_high" for h in heights)
        return found
    return _read_rows_before(passage, found, fabric)


def _read_rejoining_row(passage: Passage, found: LeadIn) -> None:
    """Take in a row told in the sentence of the steps: "Rejoin yarn, p to end, then cast off 8 sts ..."."""
    joined = next(i for i, f in enumerate(passage.lead) if f.verb == "join")
    if not any(tells_rows(f) for f in passage.lead[joined + 1 :]):
        return
    row = replace(passage.statements[0], label=None, frames=passage.lead, running=[], opening=[])
    found.obstacle, found.stretch = row, last_stretch(row)
    found.named_after = True
    if found.side is not None:
        found.side = OTHER_SIDE[found.side]


def _keeps_pattern(frame: Frame) -> bool:
    """Say whether words before a shaping tell no row: "Shoulder, keeping patt: Row 1 cast off 8 sts"."""
    return frame.verb == "work" and frame.concept == "patt" and not frame.parts


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
        view = statement.sentence.view
        if is_talk(statement) or only_marks(statement) or states_rows(view) or smooths_steps(view):
            continue
        if says_which_in_work(statement) and (row := _row_in_work(passage, at, fabric)) is not None:
            return row
        if tally := whole_tally(statement.sentence.view):
            _count(found, [tally])
            continue
        if _only_counts(statement):
            read_facing_alone(statement, found)
            continue  # a stitch count, or "RS is now facing."
        if _STATES_LENGTH.fullmatch(view.text) and _tells_end(passage.before[:at]):
            continue  # "..., ending with a WS row. Work measures 40 cm."
        if ended:
            _read_rows_up_to_last(statement, found, fabric)
            break
        if is_for_some(passage.before, at):
            read_apart(passage.before, at, found, lambda one, to: _read_before(one, to, fabric))
            break
        _read_before(statement, found, fabric)
        _read_repeated(passage.before[:at], statement, found)
        if found.obstacle is statement:
            return _turned(passage, at, last_stretch(statement), found, fabric)
        if found.absorbed == [statement] and found.side is None:
            earlier = _side_before(passage, at, fabric)
            if earlier is not None:
                found.side, found.side_span = OTHER_SIDE[earlier], statement.span
        if not _tells_only_end(statement) or found.doubt or found.obstacle:
            break
        if found.side is not None or any(m.fact != "edge" for m in found.mentions):
            ended = True  # "Work 15 rows. The last row is a WS row."; not "You are at the armhole edge."
    return found


_STATES_LENGTH = regex.compile(
    r"\W*(?:the\s+)?(?:work|piece|back|front|it|knitting|armholes?|total\s+length)\s+(?:(?:should|will|now|measures?|is|be)\s+)*"
    r"(?:about\s+|approx\w*\.?\s+)?\d[^.;a-z]*(?:cms?|ins?|inches|\")[^.;]*\W*"
)


def _tells_end(before: Sequence[Statement]) -> bool:
    """Say whether the last of these sentences says with which row it ends."""
    return bool(before) and any(f.verb == "ending" for f in before[-1].frames)


def _repeats_so_often(statement: Statement, found: LeadIn) -> bool:
    """Say whether a sentence does nothing but repeat rows so many times, so that its numbers count those."""
    repeats = any(m.fact == "repeat" and m.span == statement.span for m in found.mentions)
    return repeats and all("times" in f.parts for f in statement.frames if f.verb)


def _read_repeated(before: Sequence[Statement], statement: Statement, found: LeadIn) -> None:
    """Take in the last of the rows that a sentence repeats: its side, or that it shapes the piece."""
    if not any(m.fact == "repeat" and m.span == statement.span for m in found.mentions):
        return
    row = last_repeated(before, statement)
    if row is None:
        return
    if shapes_at_end(row, statement):
        found.obstacle, found.length = statement, False
        found.mentions = [m for m in found.mentions if m.fact != "repeat"]
    alone = all(f.verb in ("repeat", "") for f in statement.frames)
    counted = side_by_numbers(before, row) if alone else label_side(row)
    if found.side is None and (side := counted) is not None:
        found.side, found.side_span = side, statement.span


def _row_in_work(passage: Passage, at: int, fabric: Fabric) -> LeadIn | None:
    """Return what stands before sentence `at`, which says what sts are in work, if a row there can turn.

    The words between stay between that row and the first bind-off.
    """
    before = _read_rows_before(replace(passage, before=passage.before[:at]), LeadIn(), fabric)
    if before.stretch is None and len(before.absorbed) == 1:
        row = before.absorbed[0]
        stretch = last_stretch(row)
        if stretch is not None:
            alone = LeadIn(obstacle=row, side=before.side, side_span=before.side_span)
            place = passage.before.index(row)
            before = _turned(passage, place, stretch, alone, fabric)
    if before.stretch is None or before.doubt is not None:
        return None
    return replace(before, named_after=True)


def _turned(
    passage: Passage, at: int, stretch: Stretch | None, found: LeadIn, fabric: Fabric
) -> LeadIn:
    """Return what stands before a passage where sentence `at` tells rows of its own."""
    found.stretch, found.earlier = stretch, _side_before(passage, at, fabric)
    if found.side is None and stretch is not None and stretch.side is not None:
        found.side, found.side_span = stretch.side, stretch.place
    if found.side is None and stretch is not None and found.earlier is not None:
        found.side, found.side_span = OTHER_SIDE[found.earlier], stretch.place
    return found


def _side_before(passage: Passage, at: int, fabric: Fabric) -> Side | None:
    """Return the side of the last row before those that sentence `at` tells."""
    before = _read_rows_before(replace(passage, before=passage.before[:at]), LeadIn(), fabric)
    return before.side if before.obstacle is None and before.doubt is None else None


def _unread(statement: Statement) -> bool:
    """Say whether a sentence that names a side or rows could not be parsed at all."""
    residue = [p for f in statement.frames for p in f.residue]
    whole = len(residue) == 1 and len(residue[0].span.of(statement.sentence.source).split()) > 3
    return whole and _TELLS_END.search(statement.sentence.view.text) is not None


def _only_counts(statement: Statement) -> bool:
    """Say whether a sentence works no row: "RS is now facing.", "With RS facing, work on 74 sts."."""
    told = [f for f in statement.frames if f.verb]
    if not told:
        tells = any(f.parts.keys() & {"rows", "measure"} for f in statement.frames)
        return not tells and not any(map(tells_rows, statement.frames))
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


def _read_rows_up_to_last(statement: Statement, found: LeadIn, fabric: Fabric) -> None:
    """Take in what a sentence says of the rows up to the one that a sentence behind it calls the last."""
    told = LeadIn()
    _read_before(statement, told, fabric)
    if told.obstacle is not None or told.absorbed:
        return  # rows of its own, and not the last of them
    if told.side is not None and found.side is not None and told.side != found.side:
        found.doubt = told.side_span  # two sides for one row
    found.mentions += [m for m in told.mentions if m.fact != "edge"]
    found.doubt = found.doubt or told.doubt


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
        if not ends_in_pattern(view) and not _repeats_so_often(statement, found):
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
# What cannot be said one row lower in the same words
_OTHERWISE = regex.compile(
    r"\brow\s+\d+\s+or\s+(?:row\s+)?\d|\bready\s+to\s+(?:knit|purl)(?!\s+(?:a|the|next|1|one)\b)"
    r"|\b(?:side|edge|end)\s+(?:where|from\s+which|at\s+which)\s+(?:you|it)\s+(?:began|started|begun)\b"
    r"|\b(?:knit|purl|smooth)\s+side\s+(?:is\s+)?(?:facing|towards)"
    r"|\brow\s+(?:\w+\s+)?from\s+(?:the\s+)?(?:armhole|neck|front|side)(?:\s+edge)?\s+to\b"
    # "10 rows in each of 4 colours", "with a complete stripe", "until the 7th pattern is completed"
    r"|\brows?\s+(?:in|of)\s+each\b|\b(?:complete|full|whole)\w*\s+(?:stripe|band)s?\b"
    r"|\bstripes?\b[^.;]{0,30}\b(?:is|are|been)?\s*complete"
    r"|\d(?:st|nd|rd|th)[)\]]?\s+(?:patt\w*|repeat|rep|stripe)\b[^.;]{0,40}\b(?:is|has\s+been)\b"
    # "ending with a knit row, then purl 1 more row"
    r"|\b(?:end|finish)\w*\b[^.;]*\brow\b[^.;]*?(?:,|\band|\bthen)\s*(?:(?:then|and)\s+)*"
    r"(?:work(?:ing)?|purl(?:ing)?|knit(?:ting)?|k|p)\s+(?:\d+|one|two|a)\s+(?:more\s+|further\s+)?rows?\b"
)
_BY_EDGE = regex.compile(r"\bend\w*\s+at\s+(?:the\s+)?(?:\w+\s+)?edge\W*\Z")
_BEFORE_END = regex.compile(r"(?<![a-z])(?:until|till|measures?|meas)(?![a-z])")


def _doubt(found: LeadIn, view: View, stop: int) -> None:
    """Doubt a lead-in whose words name a side or rows where it ends, but were not understood."""
    text = view.before(stop)
    until = _BEFORE_END.search(text)
    if otherwise := _OTHERWISE.search(text, until.end() if until else 0):
        found.doubt = view.span(*otherwise.span())
        return
    told = [m for m in found.mentions if m.fact not in ("edge", "repeat")]
    ends = any(m.fact not in ("count", "about") for m in told)
    for hit in _TELLS_END.finditer(text, until.end() if until else 0):
        if POINTED.search(text, 0, hit.start()):
            continue
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
    if frames[0].verb == "cast_on" and any(
        f.verb == "work" and f.parts.keys() & {"extent", "measure"} for f in frames[1:]
    ):
        frames = frames[1:]  # "Cast on 90 sts and knit plain until it is as long as wanted"
    view = statement.sentence.view
    if _SHAPED_LAST.search(view.text):
        found.doubt = (
            statement.span
        )  # "These decs end on row 16": that row has a decrease of its own
        return
    if statement.label is None and ends_with_row(view, found, fabric):
        return
    if statement.label is None and (named := names_last_row(view, found, fabric)):
        rows = frames[0].one("rows")
        some = frames[0].verb == "work" and rows is not None and rows.kind == "some_rows"
        if rows is not None and rows.amount is not None and some:
            found.mentions.append(Mention("rows", rows.span, values_of(rows)))
        elif counted := rows_until(view):
            found.mentions.append(counted)
        elif any(tells_rows(f) for f in frames if f.end <= named.start):
            found.doubt = statement.span
        return
    if statement.label is None and (numbered := up_to_end_of_row(view)):
        found.mentions.append(numbered)
        found.length = True
        return
    if statement.label is None and ends_in_pattern(view):
        found.mentions.append(Mention("repeat", statement.span))
        return
    if [f.verb for f in frames if f.verb != "ending"] == ["work"] and ridges()[0].search(view.text):
        # "Knit 33 ridges": a row less leaves the last half done, of which a warning tells
        read_frames(
            [f for f in frames if f.verb == "ending"], found, fabric, statement.sentence.source
        )
        return
    if counted := rows_until(view):
        found.mentions.append(counted)
    if is_one_plain_row(statement, frames):
        found.absorbed.append(statement)
        found.side = label_side(statement) or named_side(frames[0], fabric)
        found.side_span = frames[0].span if found.side else None
        return
    if any(f.verb == "ending" for f in frames):
        found.mentions += last_of_label(statement)
        read_frames(frames, found, fabric, statement.sentence.source)
        if is_one_plain_row(statement, [f for f in frames if f.verb != "ending"]):
            # "Work 1 row, ending with a WS row": the row itself becomes the first short row
            found.mentions = [m for m in found.mentions if m.fact in ("count", "about")]
            found.absorbed.append(statement)
        return
    if (row := up_to_row(statement, frames)) is not None:
        found.mentions.append(Mention("rows", row.span, row.numbers))
        found.length = True
        return
    if (edge := to_edge(statement, frames)) is not None:
        found.mentions.append(Mention("edge", edge.span))
        found.length = True
        return
    ends = any(
        f.verb == "work" and (r := f.one("rows")) is not None and r.kind == "last_rows"
        for f in frames[1:]
    )
    if not ends and (statement.label is not None or any(tells_rows(f) for f in frames)):
        rows = plain_count(frames)
        if rows is not None and statement.label is None:
            found.mentions.append(Mention("rows", rows.span, values_of(rows)))
            return
        if repeats_rows(statement, frames):
            # its last row becomes the first short row
            found.mentions.append(Mention("repeat", statement.span))
            found.length = True
            return
        by_length = any(f.verb == "measures" for f in frames)
        if not by_length or last_stretch(statement) is not None:
            found.obstacle = statement
            found.side = label_side(statement)
            found.side_span = statement.label.span if statement.label else None
            return
    read_frames(frames, found, fabric, statement.sentence.source)


_SHAPED_LAST = regex.compile(
    r"\b(?:decs?|decreas(?:es|ings?)|shapings?|incs?|increases)\s+(?:will\s+)?(?:end|finish|stop|are\s+(?:complete|finished))"
    r"s?\s+(?:on|with|in|at|after)\b[^.]*\brow\b"
)


# "Work 1 row more than before": it counts from the other side's rows, which move alike.
_RELATIVE = regex.compile(
    r"\brows?\s+(?:more|less|fewer)\s+than\s+(?:before|(?:(?:on|for|to|the)\s+)*(?:first|other|left|right)\s+side)\b"
    # "until front is 4 rows lower than back to shoulder", "1 row longer than back"
    r"|\brows?\s+(?:less|fewer|shorter|lower|longer|higher|more)\s+than\s+(?:(?:on|for|the|of)\s+)*(?:back|front)\b"
)


def _with_relatives(found: LeadIn, view: View) -> None:
    if _RELATIVE.search(view.text):
        found.mentions = [
            replace(m, fact="relative") if m.fact == "rows" else m for m in found.mentions
        ]
