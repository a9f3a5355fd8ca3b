"""From findings to edits: the new paragraphs, the lead-ins, and the sentences that lean on them."""

from __future__ import annotations

from dataclasses import dataclass

from rewriter import regex
from rewriter.afterlast import end_of_stale
from rewriter.announced import NAMED, announced, headed, held_opening, link_before, tells_both
from rewriter.castonmodel import CastOnShaping
from rewriter.castonplan import CastOnPlan, plan_cast_on
from rewriter.castons import CastOnPassage
from rewriter.castontext import begun_edits, write_cast_on
from rewriter.dividedplan import DividedPlan, plan_divided
from rewriter.dividedtext import HEADING, write_divided
from rewriter.dividing import second_told_again
from rewriter.doubt import Unread
from rewriter.edgewords import edge_word, inner_of, neck_of
from rewriter.edits import Edit
from rewriter.emitter import IN_PLACE, wrap, write
from rewriter.endings import ending_edits, ending_said
from rewriter.endoutside import end_outside, told_alike
from rewriter.explain import abbreviation_edits, is_listed
from rewriter.ground import ground_of
from rewriter.halves import DividedShaping
from rewriter.laststatement import last_statement
from rewriter.leadedits import adjoin, kept_words, lead_edits
from rewriter.markercount import markers_untold
from rewriter.oneside import OneSideShaping
from rewriter.onesidetext import write_one_side
from rewriter.options import Options, Shoulders
from rewriter.phrases import Job, ordinals, own_names, wording
from rewriter.placing import (
    between_lines,
    length_inside,
    row_inside,
    with_gap,
)
from rewriter.planner import Plan, plan_passage, why_not_exact
from rewriter.reading import Draft, Finding
from rewriter.references import BINDS_OFF
from rewriter.respace import Moved, spaced
from rewriter.rownumbers import first_number, number_after, rows_moved
from rewriter.shapingmodel import Shaping
from rewriter.signs import between_signs, repeated_stretch
from rewriter.spans import Span
from rewriter.standingrow import (
    begins_after_row,
    heading_between,
    standing,
    standing_edits,
    words_before,
)
from rewriter.stepnumbers import moved_on, steps_replaced, with_numbers
from rewriter.stitchwork import edges_knit
from rewriter.style import Style, measure_style


@dataclass
class Revision:
    """A passage with its plan and the edits it needs."""

    finding: Finding
    shaping: Shaping
    plan: Plan
    edits: list[Edit]
    region: Span
    """What the new paragraph replaces, in the source."""
    full: bool
    """Written out in full words."""
    moved: tuple[list[list[Moved]], ...] = ()
    """Per size, what even steps change in each shoulder; empty where nothing was spread."""

    @property
    def respaced(self) -> bool:
        """Whether the shoulders have even steps instead of the draft's own, in some size."""
        return any(any(edges) for edges in self.moved)


def revise(
    draft: Draft, finding: Finding, join: Shoulders, options: Options, with_note: bool
) -> Revision:
    """Plan and write one passage; raises Unread where it must be left as it is."""
    drafted = finding.shaping
    if drafted is None:
        raise finding.unread or Unread("unread", "this passage is not understood", Span(0, 0))
    casts = isinstance(drafted, CastOnShaping)
    spread = options.respace and finding.kind == "shoulder" and not casts
    shaping, moves = spaced(draft.findings, finding, drafted) if spread else (drafted, ())
    try:
        plan = _plan(finding, shaping, join, options)
    except Unread as unread:
        if shaping == drafted:
            raise
        message = f"with the steps spread evenly, {unread.message}"
        raise Unread(unread.code, message, unread.span, unread.sizes) from None
    if not plan.lines:
        raise Unread("nothing-to-do", "nothing changes here", finding.passage.span)
    edits: list[Edit] = []
    full = options.spelling == "full"
    style = measure_style(draft.document, finding.passage, shaping, draft.terms, full)
    if plan.moves_lead_in:
        inner = inner_of(finding, draft.document.source.text)
        edits += lead_edits(draft, finding, shaping)
        edits += ending_edits(draft, finding, shaping, style, inner)
    outside = end_outside(finding.passage, finding.lead_in, draft.statements, len(draft.sizes))
    repeated = repeated_stretch(draft.document.source.text, finding.passage.span)
    if outside is not None:
        repeated = outside.stretch
        edits.append(Edit(outside.told, "", "matching", finding.id))
    if repeated is not None:
        stretch = standing(finding, plan)
        led = stretch is not None and stretch.place.start < repeated.start
        before = led or any(edit.span.start < repeated.start for edit in edits)
        if before and not told_alike(draft.document.source.text, finding.lead_in):
            raise Unread(
                "repeated-rows",
                "other words repeat these rows from sign to sign, but not the words before them, which "
                "would have to change too",
                finding.passage.span,
            )
        if not shaping.two_edged:
            # the other side is worked by the same words, on the other side of the work
            shaping = shaping.model_copy(update={"first_side": None})
    sign = outside.sign if outside is not None else ""
    region, text, more = _paragraph(draft, finding, shaping, plan, style, options, with_note, sign)
    edits += [Edit(region, text, "shaping", finding.id), *more]
    if with_note and plan.slopes and is_listed(draft, options):
        edits += abbreviation_edits(draft, finding, options)
    return Revision(finding, shaping, plan, edits, region, options.spelling == "full", moves)


def _plan(finding: Finding, shaping: Shaping, join: Shoulders, options: Options) -> Plan:
    if isinstance(shaping, CastOnShaping):
        assert isinstance(finding.passage, CastOnPassage)
        return plan_cast_on(finding.passage, shaping)
    if isinstance(shaping, DividedShaping):
        return plan_divided(finding.passage, shaping, finding.lead_in, join)
    live = options.exact_live and join != "sewn" and shaping.two_edged
    exact = live and why_not_exact(shaping) is None
    return plan_passage(finding.passage, shaping, finding.lead_in, join, exact)


# "To shape shoulder cast off ...": no sign parts what is shaped from the rows
_UNSIGNED = regex.compile(r"(?i)[\W_]*to\s[a-z\s]*[a-z]\s+")


# Signs that part a heading from its words; some drafts set no blank behind them.
_DASHES = ("-", "\u2013", "\u2014")


def _after_blanks(source: str, place: int) -> int:
    """Return the place of the first character from `place` on that is no blank."""
    return place + len(source[place:]) - len(source[place:].lstrip(" \t"))


# --- the paragraph --------------------------------------------------------------------------------


def _paragraph(
    draft: Draft,
    finding: Finding,
    shaping: Shaping,
    plan: Plan,
    style: Style,
    options: Options,
    with_note: bool,
    sign: str = "",
) -> tuple[Span, str, list[Edit]]:
    """Return what the new paragraph replaces, the paragraph, and the edits that go with its place.

    `sign` is the repeat sign that stood in the midst of the steps and now stands behind the new rows.
    """
    passage, source = finding.passage, draft.document.source.text
    last, rest = last_statement(passage, shaping, plan, source, style.bind_off)
    moved = rows_moved(passage, finding.lead_in, last, plan)
    row = standing(finding, plan)
    stays = row is not None
    job = Job(
        plan=plan,
        shaping=shaping,
        style=style,
        fabric="mixed"
        if finding.fabric == "stocking" and edges_knit(draft.document)
        else finding.fabric,
        options=options,
        edge="neck" if finding.kind == "neck" else edge_word(passage, source),
        inner=inner_of(finding, source),
        neck=neck_of(draft, finding),
        numbered_from=1 if moved else first_number(passage, finding.lead_in, last, plan, stays),
        first_has_number=bool(moved) or stays or number_after(passage, last) is None,
        with_note=with_note,
        listed=is_listed(draft, options),
        ordinals=ordinals(len(draft.sizes)),
        names=_names(draft, plan),
        before=words_before(finding, source, style.work) if plan.moves_lead_in else None,
        stays=stays,
        divides=row is not None and row.divides,
        joins=row is not None and row.joins,
        ground=ground_of(draft, options),
        yarn_told=_CUTS_YARN.match(source, last.span.end) is not None,
        opening=held_opening(passage.opening_words.of(source)),
        both_told=tells_both(passage, source),
        to_have=markers_untold(draft, options) if with_note else (0, 0),
    )
    more = [Edit(place, str(number), "numbering", finding.id) for place, number in moved]
    if isinstance(shaping, CastOnShaping) and isinstance(plan, CastOnPlan):
        assert isinstance(passage, CastOnPassage)
        lines = write_cast_on(job, shaping, plan, passage, source)
        more += begun_edits(shaping, passage, style, finding.id)
    elif isinstance(shaping, DividedShaping) and isinstance(plan, DividedPlan):
        lines = write_divided(job, shaping, plan)
        again = second_told_again(shaping.parts, passage.follows, source)
        if again is not None:
            gap = source[last.span.end : again.span.start]
            start = again.span.start if gap.strip() else last.span.end
            more.append(Edit(Span(start, again.span.end), "", "matching", finding.id))
    elif isinstance(shaping, OneSideShaping):
        lines = write_one_side(job, shaping, plan, source)
    else:
        lines = write(job)
    in_place: list[str] = []
    if IN_PLACE in lines:
        in_place = lines[: lines.index(IN_PLACE)]
        lines = lines[lines.index(IN_PLACE) + 1 :]
    if rest:
        rest = _WHEN.sub("", rest)
        if _TOLD_LEFT.match(rest):
            lines[-1] = _TOTAL.sub(".", lines[-1])  # "33 sts left for neck, bind off" says it
        lines.append(rest[0].upper() + rest[1:] if style.case == "sentence" else rest)
    if sign:
        lines[-1] += f" {sign}"
    kept = kept_words(passage, source)
    said = announced(passage, source, shaping.two_edged) if finding.kind == "shoulder" else None
    first = min((line.number for line in plan.lines), default=0)
    height = length_inside(passage, source, first)
    height = " ".join((height or row_inside(passage, finding.lead_in, source, first)).split())
    if finding.refers_to is not None or (height and said is not None and said.asks):
        said = None  # "In the 10th row, shape the shoulder:" says it in that order
    absorbed = finding.lead_in.absorbed[-1:] if plan.moves_lead_in else []
    told_here = finding.refers_to is None and not passage.statements[0].opening and not absorbed
    if said is not None and said.sign and told_here:
        # "To shape the shoulders bind off ..."
        kept = kept and passage.opening_words.of(source).isupper()
    region = Span(passage.span.start if kept else passage.opening_words.start, last.span.end)
    if absorbed and adjoin(source, absorbed[0].span.end, region.start):
        region = Span(absorbed[0].span.start, region.end)
    if said is not None and not kept and region.start == passage.opening_words.start:
        region = Span(said.end, region.end)
    else:
        said = None
    region = Span(region.start, end_of_stale(source, region.end, live=plan.join != "sewn"))
    if source[region.start - 1 : region.start] in _DASHES:  # "*Shoulders* \u2014 Cast off"
        region = Span(_after_blanks(source, region.start), region.end)
    whole = between_signs(source, region, draft.document.source.format == "markdown", sign)
    region, tail = with_gap(draft, whole, last) if whole.end == region.end else (whole, False)
    separator, indent = between_lines(draft, passage)
    newline = draft.document.source.newline()
    column = draft.document.source.place(region.start)[1] - 1
    width, opening = draft.document.width, ""
    goes_on = source[region.start - 1 : region.start] in (" ", "\t")
    fits = width is None or column + len(lines[0].split(maxsplit=1)[0]) <= width
    steps = steps_replaced(source, region)
    note = bool(passage.lead) and lines[0].startswith("Note on ")  # it gets a line of its own
    lower = not note and _RUN_IN_LOWER.search(source, 0, region.start + 1) is not None
    ahead = source[: region.start].rstrip(" \t*_" if said is not None else None)
    heads_note = lines[0].lower().startswith("note on ") and ahead.endswith((":", *_DASHES))
    bare = kept and told_here and regex.search(r"\pL\s*\Z", passage.opening_words.of(source))
    heads_note = heads_note and (bool(passage.lead) or not steps)  # a step's number heads the note
    # rows that stand for a reference begin on lines of their own too
    lowered = goes_on and lower and not heads_note and finding.refers_to is None
    if lowered and lines[0][1:2].islower():
        lines[0] = lines[0][0].lower() + lines[0][1:]  # "*To shape neck:* next row ..."
    by = (
        regex.compile(r"(?i)\s*\bby\s").match(source, region.start - 1)
        if goes_on and kept
        else None
    )
    if said is not None and said.line:
        # "For the shoulders, cast off ..."
        column, opening = len(indent), f"{said.sign}{separator}{indent}"
    elif source[region.start - 1 : region.start].isalpha():
        # a heading that a scanner ran together with its first sentence
        column, opening = len(indent), newline + indent
    elif by is not None or (
        goes_on and kept and _UNSIGNED.fullmatch(source, *passage.opening_words)
    ):
        # "Shape the shoulders by casting off ...": the words kept now open a list of rows
        region, column = Span(region.start - 1, region.end), len(indent)
        opening = ":" + newline + indent
    elif heads_note and source[region.start - 1] in _DASHES:
        # "Shape shoulders.-Cast off ...": no blank parts the heading from its words
        column, opening = len(indent), newline + indent
    elif goes_on and (not fits or heads_note or bare or stays):
        # not one word fits the line; a note would be read on from "... the shoulders:", or from
        # "SHAPE SHOULDERS" without a sign
        region, column = Span(region.start - 1, region.end), len(indent)
        opening = newline + indent
    if not steps and regex.search(r"\d", indent):
        separator = newline * 2  # in the midst of an item: each row is a paragraph of it
    indent = " " * len(indent) if regex.search(r"\d", indent) else indent
    follows = finding.refers_to is not None or by is not None or said is not None
    ends = ""
    if plan.moves_lead_in:
        ends = ending_said(draft, finding, shaping, style, job.inner)
    link = None if follows else link_before(passage, source, region.start)
    if (begins := begins_after_row(finding, plan, source, region.start)) is not None:
        # "..., p to last 8 sts, turn, then cast off": the rows behind that one begin on a new line
        region, link = Span(begins, region.end), None
        column, opening = len(indent), f".{separator}{indent}"
    if link is not None:
        # "When the armhole measures 20 cm, cast off ...": the lead-in now opens a list of rows
        region, column = Span(link.start, region.end), len(indent)
        shaped = wording()["shaped"][finding.kind][1 if shaping.two_edged else 0]
        opens = wording()["lead"]["opens"].format(what=shaped)
        # "..., for the shoulder": what is said of the rows before would stand behind it
        named = not passage.lead or NAMED.search(source, passage.lead[-1].start, link.start)
        # "SHOULDER SLOPE: At the same height as on the back, ending at neck edge:"
        opens = "" if named or headed(source, passage.lead[0].start) else f", {opens}"
        opening = f"{'' if named else ends}{opens}:{separator}{indent}"
    if in_place:
        head = (
            None if follows or link is not None else heading_between(draft, finding, region.start)
        )
        if head is not None:
            # the row that takes the first turn stands under the heading of the shoulder
            region, column, opening = Span(head[0].start, region.end), len(indent), ""
        more += standing_edits(draft, finding, in_place, head[1] if head is not None else "")
    if finding.refers_to is not None or height:
        column = len(indent)  # the rows stand on lines of their own
    if steps or separator != newline:
        lines = [line for line in lines if line]  # a blank line parts all rows, or none
    lines, behind = _parted_by_headings(shaping, lines)
    rows = wrap(lines, width, indent, newline, column)
    for place, of_side in behind:
        # each side keeps its heading: what stands behind it is an edit of its own
        own_rows = wrap(of_side, width, indent, newline, len(indent))
        side = Span(place.end, region.end)
        more.append(Edit(side, separator.join(own_rows), "shaping", finding.id))
        region = Span(region.start, place.start)
    if steps:
        rows, number = with_numbers(rows, steps, indent)
        more += moved_on(source, region.end, steps, number - steps.last, finding.id)
    text = opening + separator.join(rows)
    text += separator + indent if tail else ""
    shaped = wording()["shaped"].get(finding.kind, ("", ""))[1 if shaping.two_edged else 0]
    opens = wording()["lead"]["opens"].format(what=shaped)
    opens = f"{height}{ends}, {opens}:" if height else f"{opens}:"
    opens = opens[:1].upper() + opens[1:]
    if finding.refers_to is not None:
        lead = source[passage.sentence.span.start : region.start].rstrip()
        begin = region.start - len(source[: region.start]) + len(source[: region.start].rstrip())
        gap = source[begin : region.start]
        if height and lead:
            lead = f" {height}:"
        elif height or BINDS_OFF.match(source, region.start):
            same_line = newline not in gap and bool(source[:begin].strip())
            at = draft.document.source.place(begin)[1] if same_line else len(indent)
            opens = wrap([opens], width, indent, newline, at)[0].lstrip()
            lead = f"{' ' if same_line else gap}{opens}" if source[:begin].strip() else opens
        elif lead:
            lead = ":"
        elif source[:begin].endswith(","):
            lead = f" {opens[:1].lower()}{opens[1:]}"  # "Even to row 57, shape the shoulder:"
        return Span(begin, region.end), f"{lead}{separator}{indent}{text}", more
    if height:
        told = text.removeprefix(opening)
        if said is not None and said.line and said.sign == ":":
            # "For the shoulder slope, after 141 rows from the ribbing:" announces the rows once
            at = draft.document.source.place(said.end)[1] - 1
            (led,) = wrap([f", {height}{ends}:"], width, indent, newline, at)
            return region, f"{led}{separator}{indent}{told}", more
        return region, f"{opening}{opens}{separator}{indent}{told}", more
    return region, text, more


def _parted_by_headings(
    shaping: Shaping, lines: list[str]
) -> tuple[list[str], list[tuple[Span, list[str]]]]:
    """Part the lines of a divided shoulder at the headings of its sides, the last heading first."""
    if HEADING not in lines or not isinstance(shaping, DividedShaping):
        return lines, []
    stretches: list[list[str]] = [[]]
    for line in lines:
        if line == HEADING:
            stretches.append([])
        else:
            stretches[-1].append(line)
    places = [place for place in shaping.parts.headings if place is not None]
    behind = list(zip(places, stretches[1:], strict=True))
    return stretches[0], behind[::-1]


# The yarn may be broken there in the draft's own words.
_CUTS_YARN = regex.compile(
    r"(?i)\s*(?:then\s+)?(?:break|cut)\s+(?:off\s+)?(?:the\s+)?(?:yarn|wool|thread)\b"
)
_RUN_IN_LOWER = regex.compile(r":[*_]{0,3}[ \t]+[a-z]\Z")
# "..., when there will be 34 sts left": the link to the steps, and the count that the last row says too
_WHEN = regex.compile(r"(?i)^(?:when|until|whereupon|so\s+that|after\s+which)\s+(?=\d|there\b)")
_TOLD_LEFT = regex.compile(r"(?i)(?:there\s+(?:will\s+be|are|remain)\s+)?\d")
_TOTAL = regex.compile(r"(?:\. |\s?[\u2013\u2014]\s?| - )\d[^.]*\.$")


def _names(draft: Draft, plan: Plan) -> tuple[str, ...]:
    """Return the draft's names of its sizes; where a row leaves out a size in brackets it counts them."""
    sloped = all(len(s.rows) > 1 for edges in plan.steps for s in edges)
    return own_names(draft.sizes.labels, draft.document.source.text) if sloped else ()
