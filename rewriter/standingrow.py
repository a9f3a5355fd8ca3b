"""The words of the row before the first bind-off in the new text, moved to the others or in their place."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.edits import Edit
from rewriter.emitter import wrap
from rewriter.placing import between_lines
from rewriter.planner import Plan
from rewriter.reading import Draft, Finding
from rewriter.rowturned import Stretch
from rewriter.spans import Span


def standing(finding: Finding, plan: Plan) -> Stretch | None:
    """Return the last stretch of the row that takes the first turn where it stands, if there is one."""
    before = finding.before if plan.moves_lead_in else None
    return before.stretch if before is not None else None


_SHOULDERS = (
    r"(?:(?:to\s+)?(?:shape|slope|slant|form)\s+(?:the\s+)?(?:neck\s+and\s+)?shoulders?"
    r"|shoulders?(?:\s+(?:shapings?|slopes?))?)"
)
# "20 sts." and the heading of the shoulder, on a line of its own or before the first bind-off
_HEADING = regex.compile(
    r"(?i)[^\pL]*(?:(?:sts?|stitches|loops)\b[^\pL]*)?[\r\n][ \t]*"
    rf"(?P<head>[#*_]*[ \t]*{_SHOULDERS}[ \t.:*_]*)(?P<gap>\s*)"
)


def heading_between(draft: Draft, finding: Finding, start: int) -> tuple[Span, str] | None:
    """Return where the heading of the shoulder stands between the row that turns and the rows at `start`.

    The row begins the shoulder now, so its heading goes before it: the words come with what parts them from
    the rows. None where no such heading stands there alone, or the row has no line of its own.
    """
    row, source = finding.before, draft.document.source
    if row is None or row.statement is None or row.stretch is None or source.carrier:
        return None
    begin = row.statement.span.start
    line = source.text[source.line_starts[source.place(begin)[0] - 1] : begin]
    found = _HEADING.fullmatch(source.text, row.statement.span.end, start)
    if found is None or row.stretch.divides or line.strip(" \t*_"):
        return None
    gap = found["gap"] if regex.search(r"[\r\n]", found["gap"]) else ""
    return Span(found.start("head"), start), f"{found['head'].strip()}{gap}"


def standing_edits(
    draft: Draft, finding: Finding, lines: Sequence[str], heading: str = ""
) -> list[Edit]:
    """Return the edits of a row that turns where it stands.

    `lines` are what stands before it (markers, a note) and, last, the new words of its last stretch. A
    `heading` goes before them, with what parts it from them.
    """
    row, source = finding.before, draft.document.source
    assert row is not None and row.statement is not None and row.stretch is not None
    *head, turned = lines
    out = [Edit(row.stretch.place, turned, "shaping", finding.id)]
    if head or heading:
        separator, indent = between_lines(draft, finding.passage)
        start = row.statement.span.start
        column = source.place(start)[1] - 1
        rows = wrap(head, draft.document.width, indent, source.newline(), column)
        text = "".join(f"{line}{separator}{indent}" for line in rows)
        if heading:
            start, parted = source.line_starts[source.place(start)[0] - 1], heading.endswith("\n")
            text = f"{indent}{heading}{'' if parted else source.newline()}{indent}{text}"
        out.insert(0, Edit(Span(start, start), text, "shaping", finding.id))
    return out


_THEN = regex.compile(r"(?i)(?:\s*[,;:.]|\s+(?:and|then)\b)*\s*\Z")


def begins_after_row(finding: Finding, plan: Plan, source: str, start: int) -> int | None:
    """Return where the words begin that lead on from a row to the steps in its own sentence, at `start`.

    None where the row has a sentence of its own.
    """
    stretch = standing(finding, plan)
    if stretch is None or stretch.place.start < finding.passage.sentence.span.start:
        return None
    link = _THEN.search(source, stretch.place.end, start)
    return link.start() if link is not None else start


def words_before(finding: Finding, source: str, work: str) -> tuple[str, str, str] | None:
    """Return the words of the row before the first bind-off, cut where it goes to its end."""
    statement = finding.before.statement if finding.before else None
    if finding.before is not None and finding.before.stretch is not None:
        return "", finding.before.stretch.word.of(source), ""
    if statement is None or (finding.before is not None and finding.before.reworded):
        return None
    told = [f for f in statement.frames if f.verb]
    last = told[-1]
    extent = last.one("extent")
    end = statement.span.end
    if last.verb == "work" and extent is not None:
        word = source[last.start : extent.span.start].strip()
        return source[statement.span.start : last.start], word, source[extent.span.end : end]
    stop = _UP_TO_STOP.match(source, last.end, end)
    cut = stop.end() if stop else last.end
    if last.verb == "back_row" and "count" in last.parts:
        # "K back on the 30 sts to last 10 sts, turn"
        return source[statement.span.start : cut], "", source[cut:end]
    return f"{source[statement.span.start : cut]}, ", work, source[cut:end]


# "K back on the 30 sts. of right shoulder.": the point of an abbreviation ends nothing
_UP_TO_STOP = regex.compile(
    r"(?:[^=().\u2013\u2014-]|\.(?=\s+[a-z]))*?(?=\s*(?:[=()\u2013\u2014]|\.(?!\s+[a-z])|\Z))"
)
