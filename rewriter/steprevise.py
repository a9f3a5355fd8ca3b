"""From a shoulder in short rows to the edits that put steps in its place."""

from __future__ import annotations

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.dividedplan import DividedPlan
from rewriter.doubt import Unread
from rewriter.edgenames import ARMHOLE_SIDE
from rewriter.edgewords import edge_word, inner_edge, neck_of
from rewriter.edits import Edit
from rewriter.emitter import wrap
from rewriter.frames import Statement
from rewriter.laststatement import last_statement
from rewriter.leadedits import added_words, kept_words, move_mention
from rewriter.leadmodel import LeadIn
from rewriter.linked import leaning_edits
from rewriter.options import Options
from rewriter.passages import Passage
from rewriter.phrases import Job, ordinals, wording
from rewriter.placing import between_lines, with_gap
from rewriter.planner import Plan, align
from rewriter.reading import Draft, Finding
from rewriter.revise import (
    Revision,
)
from rewriter.rowframes import is_note
from rewriter.rownumbers import number_after
from rewriter.rows import Kind
from rewriter.shapingmodel import Shaping
from rewriter.sloped import SlopedShaping
from rewriter.slopedhalves import SlopedDivided
from rewriter.spans import Span
from rewriter.stephalves import plan_step_halves, write_step_halves
from rewriter.stepnumbers import moved_on, steps_replaced, with_numbers
from rewriter.steptext import StepWriter
from rewriter.style import measure_style
from rewriter.voice import YARNS

_EXPLAINS = regex.compile(
    r"\W*(?:note on\s(?:[^.:=]|\.(?=[):])){1,40}:|(?:note:?\s*)?[^.:=]{1,40}=)"
)

# A method whose note tells how its stitch is made, and names no turn.
_ON_METHOD = regex.compile(r"\W*note\s+on\s+(?:twin|tw|shadow)\b")


def is_turning_note(statement: Statement) -> bool:
    """Say whether a sentence places markers for the turns, or explains the turning method."""
    if not is_note(statement):
        return False
    verbs = {f.verb for f in statement.frames}
    text = statement.sentence.view.text
    if _ON_METHOD.match(text):
        return True
    explains = bool(_EXPLAINS.match(text))
    return "mark" in verbs or (explains and bool(verbs & {"turn", "aid", "closing"}))


def revise_to_steps(draft: Draft, finding: Finding, options: Options, row_by_row: bool) -> Revision:
    """Plan and write the steps of one passage; raises Unread where it must be left as it is.

    `row_by_row` tells every row with its label, even where the steps could be counted.
    """
    shaping = finding.shaping
    if not isinstance(shaping, SlopedShaping | SlopedDivided):
        raise finding.unread or Unread("unread", "this passage is not understood", Span(0, 0))
    lead_in, source = finding.lead_in, draft.document.source.text
    whole = _row_before(lead_in, shaping, source)
    if lead_in.doubt is not None and not whole:
        raise Unread(
            "lead-in-unclear",
            "the words before it say something of the last row that is not understood",
            lead_in.doubt,
        )
    if isinstance(shaping, SlopedShaping) and shaping.begins_with_turn:
        _refuse_later_start(shaping, finding.passage)
    edits: list[Edit] = []
    if not whole:
        for mention in lead_in.mentions:
            edits += move_mention(draft, finding, mention, shaping, 1)
        edits += leaning_edits(draft, finding, shaping, 1)
    if isinstance(shaping, SlopedDivided) and (headed := [h for h in shaping.parts.headings if h]):
        raise Unread(
            "heading-inside",
            "headings stand among these rows, and steps are not told there",
            headed[0],
        )
    if isinstance(shaping, SlopedDivided):
        plan: Plan = plan_step_halves(shaping, not whole)
    else:
        plan = _plan(shaping, finding.passage, not whole)
    region, text, more = _paragraph(draft, finding, shaping, plan, options, whole, row_by_row)
    edits += [Edit(region, text, "steps", finding.id), *more]
    return Revision(finding, shaping, plan, edits, region, options.spelling == "full")


def _refuse_later_start(shaping: SlopedShaping, passage: Passage) -> None:
    """Refuse short rows whose steps would not begin on the row after the first of them."""
    for size, edges in enumerate(shaping.edges):
        late = min(steps.rows[0] for steps in edges)
        if late:
            rows = "1 row" if late == 1 else f"{late} rows"
            raise Unread(
                "no-exact-steps",
                f"the steps would begin {rows} later than on the row after the first short row: the "
                f"short rows begin {rows} too early for them, or are closed {rows} too late",
                passage.span,
                (size,),
            )


def _row_before(lead_in: LeadIn, shaping: SlopedShaping | SlopedDivided, source: str) -> bool:
    """Say whether the row before the first bind-off must be written out: no words before tell it."""
    if lead_in.obstacle is not None or lead_in.absorbed:
        return True
    if any(rows[0].dec or rows[0].has(Kind.BIND_OFF) for rows in shaping.rows):
        return True
    if isinstance(shaping, SlopedShaping) and not shaping.begins_with_turn:
        return True  # the passage begins with rows that go to the end
    return any(
        m.fact in ("repeat", "row of pattern") and added_words(source, m) is None
        for m in lead_in.mentions
    )


def _plan(shaping: SlopedShaping, passage: Passage, moves: bool) -> Plan:
    lines = align(shaping.rows)
    if lines is None:
        raise Unread(
            "sizes-differ",
            "the rows of the sizes differ too much to be written as one text",
            passage.span,
        )
    return Plan(
        join="sewn",
        rows=shaping.rows,
        steps=shaping.edges,
        lines=lines,
        moves_lead_in=moves,
        slopes=False,
        within_one_row=False,
        takes_ending=shaping.live and shaping.two_edged and not shaping.on_two_balls,
    )


def _paragraph(
    draft: Draft,
    finding: Finding,
    shaping: SlopedShaping | SlopedDivided,
    plan: Plan,
    options: Options,
    whole: bool,
    row_by_row: bool,
) -> tuple[Span, str, list[Edit]]:
    """Return what the steps replace, their text, and the edits that go with their place."""
    passage, source = finding.passage, draft.document.source.text
    verb = measure_style(
        draft.document, passage, shaping, draft.terms, options.spelling == "full"
    ).bind_off
    last, rest = last_statement(passage, shaping, plan, source, verb)
    first_row = -1 if whole else 0
    job = _job(draft, finding, shaping, plan, options, last, first_row)
    writer = StepWriter(job, source, first_row)
    if isinstance(shaping, SlopedDivided) and isinstance(plan, DividedPlan):
        joined = False
        lines = write_step_halves(job, shaping, plan, source, first_row, row_by_row)
    else:
        counted = None if row_by_row or _side_lost(finding, shaping) else writer.counted()
        joined = counted is not None
        lines = writer.rows() if counted is None else counted
    if joined:
        lines = [" ".join(lines)]
    if plan.takes_ending:
        lines.append(writer.ending())
    lines = [writer.finish(line) for line in lines]
    if rest:
        lines.append(rest[0].upper() + rest[1:] if writer.style.case == "sentence" else rest)
    start = passage.span.start if kept_words(passage, source) else passage.opening_words.start
    region = Span(_with_notes(draft, start), _with_yarn(source, last.span.end))
    region, tail = with_gap(draft, region, last)
    separator, indent = between_lines(draft, passage)
    newline = draft.document.source.newline()
    column = draft.document.source.place(region.start)[1] - 1
    steps = steps_replaced(source, region)
    indent = " " * len(indent) if steps else indent
    rows = wrap(lines, draft.document.width, indent, newline, column)
    more: list[Edit] = []
    if steps:
        rows, number = with_numbers(rows, steps, indent)
        more = moved_on(source, region.end, steps, number - steps.last, finding.id)
    text = separator.join(rows)
    text += separator + indent if tail else ""
    return region, text, more


def _job(
    draft: Draft,
    finding: Finding,
    shaping: SlopedShaping | SlopedDivided,
    plan: Plan,
    options: Options,
    last: Statement,
    first_row: int,
) -> Job:
    passage, source = finding.passage, draft.document.source.text
    full = options.spelling == "full"
    return Job(
        plan=plan,
        shaping=shaping,
        style=measure_style(draft.document, passage, shaping, draft.terms, full),
        fabric=finding.fabric,
        options=options,
        edge=edge_word(passage, source),
        inner=inner_edge(passage, source),
        neck=neck_of(draft, finding),
        numbered_from=_first_number(passage, shaping, plan, last, first_row),
        first_has_number=True,
        with_note=False,
        listed=True,
        ordinals=ordinals(len(draft.sizes)),
    )


def _first_number(
    passage: Passage,
    shaping: SlopedShaping | SlopedDivided,
    plan: Plan,
    last: Statement,
    first_row: int,
) -> int | None:
    """Return the number of the first row written; where numbers go on, each row keeps its own."""
    sloped = (shaping.first if isinstance(shaping, SlopedDivided) else shaping).sloped[0]
    for place, statement in enumerate(passage.statements):
        if statement.label is None or not statement.label.numbers:
            continue
        told = [i for i, row in enumerate(sloped) if row.statement == place]
        if not told:
            continue
        minus_one = statement.label.numbers[0] - told[0]
        after = number_after(passage, last)
        rows = len([line for line in plan.lines if line.number >= first_row])
        own = minus_one + 1 + first_row
        if after is not None:
            return own if own > 0 and own + rows <= after else None
        return max(minus_one, 1)
    return None


def _side_lost(finding: Finding, shaping: Shaping) -> bool:
    """Say whether only the row labels tell on which side the shaping starts."""
    if shaping.first_side is None or finding.lead_in.side is not None:
        return False
    return shaping.two_edged or finding.passage.piece not in ARMHOLE_SIDE


def _with_notes(draft: Draft, start: int) -> int:
    """Take in the sentences right before a place that are about its turns."""
    document = draft.document
    below: Statement | None = None
    for sentence, statement in zip(
        reversed(document.sentences), reversed(draft.statements), strict=True
    ):
        if sentence.span.end > start:
            continue
        if document.source.text[sentence.span.end : start].strip(f" \t\r\n*_-{BULLETS}"):
            break
        note = sentence.heading and _NOTE.fullmatch(sentence.text) and below is not None
        if not note and (statement is None or not is_turning_note(statement)):
            break
        below = statement
        start = sentence.span.start
    return start


def _with_yarn(source: str, end: int) -> int:
    """Take in what live sts say of their yarn ("Cut yarn, leaving an end ..."): no seam needs it there."""
    rows = wording()["rows"]
    cut = rf"(?:cut|break) (?:the )?(?:{YARNS})(?:{regex.escape(rows['tail'], literal_spaces=True)})?\."
    found = regex.compile_new(rf"(?i)\s*{cut}".replace(" ", r"\s+")).match(source, end)
    return found.end() if found else end


_NOTE = regex.compile(r"(?i)\W*note(?: on [^:]{1,40})?\W*")
