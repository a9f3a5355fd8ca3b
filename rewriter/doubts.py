"""Doubts about shoulders by what stands beside their words: each becomes a question, never a guess."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

from rewriter import regex
from rewriter.dividing import is_dividing
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.othersides import doubt_second_sides
from rewriter.passages import Passage, leaves_nothing
from rewriter.runs import counted_from_below

if TYPE_CHECKING:
    from rewriter.reading import Draft, Finding
    from rewriter.spans import Span


def doubt_what_stands_beside(draft: Draft) -> None:
    """Take its shaping from each finding whose neighbours may belong to it."""
    _doubt_words_that_break_off(draft)
    _doubt_sts_before_the_verb(draft)
    _doubt_steps_in_dividing_rows(draft)
    _doubt_broken_shoulders(draft)
    _doubt_rows_that_follow(draft)
    _doubt_step_that_follows(draft)
    _doubt_step_before(draft)
    _doubt_neck_meanwhile(draft)
    _doubt_steps_before_the_shoulder(draft)
    doubt_second_sides(draft)


def _doubt(finding: Finding, code: str, message: str, span: Span) -> None:
    finding.shaping, finding.unread = None, Unread(code, message, span)


# "Cast off 7 sts at beg of next 4 rows and": the page ends here, and what follows stands elsewhere
_BREAKS_OFF = regex.compile(r"(?:\b(?:and|then|or|at|of|the|next|following|foll)|[,(\[&+-])\s*$")


def _doubt_words_that_break_off(draft: Draft) -> None:
    for finding in draft.findings:
        last = finding.passage.statements[-1].sentence
        if finding.shaping is None or last.span.end > finding.passage.span.end:
            continue
        if broken := _BREAKS_OFF.search(last.view.text):
            _doubt(
                finding,
                "broken-off",
                f"the sentence breaks off here ({broken.group().strip()!r}): what belongs to it stands "
                "further on; bring its words together",
                last.span,
            )


_ROWS_FOLLOW = regex.compile(
    r"\W*(?:\d{1,2}(?:st|nd|rd|th)\b|rows?\s+\d|rep(?:eat)?\b|next\b(?=.*\b(?:bind|cast)\s+off))[^.]*\brows?\b"
    # "Work as step 10 once more"
    r"|\W*(?:rep(?:eat)?|work|do)\b[^.]*\b(?:once|twice|again|times?)\b"
)


# "At the same time, when armhole measures 20 cm, bind off centre 30 sts for neck", "For the neck at the same
# time leave the middle 14 sts on a holder"
_MEANWHILE = regex.compile(
    r"\W*(?:and\s+)?(?=(?:while|when|as|after)\b[^.]{0,60}\bshoulder|together with\b"
    r"|(?:[^.]|\.\d)*\b(?:(?:at|on|in) (?:the )?same (?:time|row|height)|simultaneously|meanwhile"
    r"|in the meantime)\b)"
    r"(?:[^.]|\.\d)*\b(?:neck|neckline|cent(?:re|er|ral)|middle|front)\b"
)
_TAKEN_AWAY = regex.compile(
    r"\b(?:bind|cast|close|leave|put|place|slip|binding|casting|closing|leaving|putting|placing|slipping)\b"
)


def _doubt_neck_meanwhile(draft: Draft) -> None:
    """Ask where the words right behind a shoulder shape the neck in the same rows, which are not told."""
    for finding in draft.findings:
        passage = finding.passage
        if finding.shaping is None or finding.kind != "shoulder":
            continue
        behind = (
            s
            for s in draft.document.sentences
            if s.span.start >= passage.span.end and s.piece_at == passage.piece_at and not s.heading
        )
        told = next((s for s in behind if regex.search(r"[a-z]{2}", s.view.text)), None)
        if told is None or not _MEANWHILE.match(told.view.text):
            continue
        # decreases at the inner edge of one side go on beside its short rows
        if finding.shaping.two_edged or _TAKEN_AWAY.search(told.view.text):
            _doubt(
                finding,
                "neck-with-step",
                "the neck is told for the rows of this shoulder: in which of them does it begin? (write the "
                "rows of both sides out)",
                told.span,
            )


def _doubt_rows_that_follow(draft: Draft) -> None:
    """Doubt a shoulder right behind which more rows stand that are not understood."""
    for finding in draft.findings:
        passage = finding.passage
        if finding.shaping is None or leaves_nothing(passage):
            continue
        after = next(
            (s for s in draft.document.sentences if s.span.start >= passage.span.end), None
        )
        if after is None or after.heading or after.piece_at != passage.piece_at:
            continue
        if _ROWS_FOLLOW.match(after.view.text):
            _doubt(
                finding,
                "broken-off",
                "more rows follow here that are not understood and may belong to this shaping",
                after.span,
            )


_ONE_ROW = regex.compile(r"\b(?:rows?|needle|across|back|to (?:the )?end)\b")
_STRAIGHT = regex.compile(
    r"\b(?:until|till|measures?|holder|join|rejoin|seams?|band|collar)\b|\d\s*(?:cm|ins?\b|inch|\")"
)
_LONGEST_ROW = 60
"""Characters of a sentence that tells a plain row between two steps."""


def _doubt_step_that_follows(draft: Draft) -> None:
    """Doubt steps at one edge behind which one row stands, and then a bind-off like the last of them."""
    sentences = draft.document.sentences
    for finding in draft.findings:
        passage, shaping = finding.passage, finding.shaping
        if shaping is None or shaping.two_edged or leaves_nothing(passage):
            continue
        after = [i for i, s in enumerate(sentences) if s.span.start >= passage.span.end][:2]
        if len(after) < 2 or any(
            sentences[i].heading or sentences[i].piece_at != passage.piece_at for i in after
        ):
            continue
        words, last = sentences[after[0]].view.text, draft.statements[after[1]]
        one_row = _ONE_ROW.search(words) and not _STRAIGHT.search(words)
        if not one_row or len(words) > _LONGEST_ROW or last is None:
            continue
        bound = [f for f in last.frames if f.verb == "bind_off" and f.takes_all and f.amount]
        most = max(n for edges in shaping.edges for steps in edges for n in steps.sts)
        if bound and max(v or 0 for f in bound if f.amount for v in f.amount.values) <= 2 * most:
            _doubt(
                finding,
                "broken-off",
                "a bind-off that may be the last of these steps follows, but the words between are not "
                "understood",
                sentences[after[0]].span,
            )


_LONGEST_BETWEEN = 2
"""Sentences between a row that binds off and the steps that may go on with it."""


def _doubt_step_before(draft: Draft) -> None:
    """Doubt steps of a shoulder before which a row like their first stands by itself.

    The words between them are not understood as a row: "Cast off 8 sts, work to end. Return to the armhole
    side. Cast off 8 sts, ...".
    """
    sentences = draft.document.sentences
    starts = [s.span.start for s in sentences]
    for finding in draft.findings:
        passage, shaping = finding.passage, finding.shaping
        if shaping is None or finding.kind != "shoulder" or passage.lead:
            continue
        at = bisect_left(starts, passage.sentence.span.start)
        for i in range(at - 1, max(at - 2 - _LONGEST_BETWEEN, -1), -1):
            told = draft.statements[i]
            if sentences[i].heading or sentences[i].piece_at != passage.piece_at:
                break
            if told is None:
                continue
            if _is_lone_step(told) and not _in_a_passage(draft, told):
                _doubt(
                    finding,
                    "broken-off",
                    "a bind-off that may be the first of these steps stands before them, but the words "
                    "between are not understood",
                    told.span,
                )
            if not _may_be_a_row(told):
                break


def _may_be_a_row(statement: Statement) -> bool:
    """Say whether a short sentence may stand for a plain row: "Return to the armhole side."."""
    words = statement.sentence.view.text
    shapes = any(f.verb not in ("", "work", "back_row", "turn") for f in statement.frames)
    return len(words) <= _LONGEST_ROW and not shapes and _STRAIGHT.search(words) is None


def _is_lone_step(statement: Statement) -> bool:
    """Say whether a sentence tells one row that begins with a counted bind-off and goes to its end."""
    told = [f for f in statement.frames if f.verb]
    if [f.verb for f in told] != ["bind_off", "work"]:
        return False
    step = told[0]
    named = step.edge == "neck" or any(n.concept == "neck" for n in step.notes)
    return step.amount is not None and not step.takes_all and not named


def _in_a_passage(draft: Draft, statement: Statement) -> bool:
    at = statement.span.start
    return any(f.passage.span.start <= at < f.passage.span.end for f in draft.findings)


def _doubt_sts_before_the_verb(draft: Draft) -> None:
    """Ask about "at the right edge 1 x 6 sts, in every 2nd row bind off 2 x 6 sts": a step without a verb."""
    for finding in draft.findings:
        lead = finding.passage.lead
        told = [
            f
            for f in lead
            if f.verb in ("", "refer", "measures") and {"count", "times"} <= f.parts.keys()
        ]
        if finding.shaping is not None and told:
            _doubt(
                finding,
                "verb-missing",
                "sts are named before these steps without a word of what is done with them: are they "
                "the first step?",
                told[0].span,
            )


def _doubt_steps_in_dividing_rows(draft: Draft) -> None:
    """Doubt a shoulder before which a step stands in a dividing row that no passage has taken in."""
    spans = [f.passage.span for f in draft.findings]
    for finding in draft.findings:
        for statement in finding.passage.before[-3:]:
            bound = any(f.verb == "bind_off" and not f.takes_all for f in statement.frames)
            taken = any(
                s.start < statement.span.end and statement.span.start < s.end for s in spans
            )
            if not bound or taken or not is_dividing(statement) or finding.kind != "shoulder":
                continue
            if _armhole_between(finding, statement):
                continue
            _doubt(
                finding,
                "broken-off",
                "sts are bound off in the row that divides the work, and the words between that row and "
                "these steps are not understood",
                statement.span,
            )


def _armhole_between(finding: Finding, dividing: Statement) -> bool:
    """Say whether the armhole is decreased, or straight rows are worked to a length, behind a dividing row.

    The sts bound off in that row are the armhole's then.
    """
    between = [s for s in finding.passage.before if s.span.start > dividing.span.start]
    return any(
        (f.verb == "decrease" and f.edge in ("armhole", "side")) or f.verb == "measures"
        for s in between
        for f in s.frames
    )


def _doubt_steps_before_the_shoulder(draft: Draft) -> None:
    """Ask about steps behind which straight rows and then a shoulder with a heading of its own stand."""
    for one, two in zip(draft.findings, draft.findings[1:], strict=False):
        first, second = one.passage, two.passage
        headed = second.headed and second.topics[-1:] == ("shoulder",) and not first.headed
        if not headed or one.kind != "shoulder" or first.piece_at != second.piece_at:
            continue
        between = [
            f
            for st in draft.statements
            if st is not None and first.span.end <= st.span.start < second.span.start
            for f in st.frames
        ]
        goes_on = not any(f.verb in ("join", "hold", "cast_on") for f in between)
        if goes_on and any(_works_many(f) for f in between):
            _doubt(
                one,
                "kind-unknown",
                "straight rows and the shoulder follow these steps: are they the neck's?",
                first.span,
            )


def _works_many(frame: Frame) -> bool:
    """Say whether more rows are worked than lie between two steps: "Work 30 rows more in st st"."""
    rows = frame.one("rows")
    counted = rows.amount.values if rows is not None and rows.amount is not None else ()
    plain = frame.verb == "work" and rows is not None and rows.kind == "some_rows"
    return plain and min((n or 0 for n in counted), default=0) > _MOST_BETWEEN


def _at_outer_edge(passage: Passage) -> bool:
    """Say whether the words of a passage put its steps at the armhole or shoulder edge."""
    edges = {f.edge for s in passage.statements for f in s.frames if f.verb == "bind_off"}
    return bool(edges & {"armhole", "shoulder"}) and "neck" not in edges


def _at_height(passage: Passage) -> bool:
    """Say whether the words of the first step say at which height it stands."""
    return any("measure" in f.parts for f in passage.statements[0].frames[:1])


def _straight(statement: Statement | None) -> bool:
    """Say whether a sentence works a number of rows and tells nothing else."""
    told = [f for f in statement.frames if f.verb or f.parts] if statement else []
    return len(told) == 1 and told[0].verb == "work" and told[0].parts.keys() == {"rows"}


_MOST_BETWEEN = 5
_IN_BRACKETS = regex.compile(r"\s*[(\[].*[)\]]\W*", regex.S)


def _doubt_broken_shoulders(draft: Draft) -> None:
    """Doubt two runs of steps under one heading: the words between them may belong to the shaping."""
    starts = [s.span.start for s in draft.document.sentences]
    for one, two in zip(draft.findings, draft.findings[1:], strict=False):
        first, second = one.passage, two.passage
        inside = slice(
            *(bisect_left(starts, place) for place in (first.span.end, second.sentence.span.start))
        )
        between = list(zip(draft.document.sentences[inside], draft.statements[inside], strict=True))
        if first.piece_at != second.piece_at or any(s.heading for s, _ in between):
            continue
        if any(
            not p.followed and _IN_BRACKETS.fullmatch(p.sentence.view.text) for p in (first, second)
        ):
            continue  # "(If you would sooner have a slope, cast off in two goes.)" goes on with nothing
        if not between and one.kind == "neck" and two.kind == "shoulder":
            continue  # the neck's steps, then the shoulder's, each with a name
        apart = {"join", "hold", "decrease", "ending", "cast_on", "increase", "measures"}
        if is_dividing(first.statements[-1]):
            apart -= {"hold"}  # what is held is the other side: these steps go on with this one
        if leaves_nothing(first) or len(between) > 3:
            continue
        if any(regex.search(r"\buntil\b", s.view.text) for s, _ in between):
            continue
        if (
            one.kind == "neck"
            and _at_outer_edge(second)
            and all(_straight(st) for _, st in between)
        ):
            continue  # each names its edge, and straight rows lie between
        many = any(
            _works_many(f) or (f.verb == "work" and "measure" in f.parts)
            for _, st in between
            if st
            for f in st.frames
        )
        if many and one.kind == "armhole" and two.kind == "shoulder":
            continue  # each is known by its own words, and straight rows lie between
        far_up = counted_from_below(first.statements, second.statements[0])
        if one.kind == "armhole" and (_at_height(second) or far_up):
            continue  # "For the shoulders bind off after 142 rows 8 sts": it says where it begins
        if any(f.verb in apart for _, st in between if st for f in st.frames) or second.lead:
            continue
        if any(f.concept == "height" for _, st in between if st for f in st.frames):
            continue  # "Knit up to the same height as the back."
        if any(
            f.parts.keys() == {"measure"} and not f.verb
            for _, st in between
            if st
            for f in st.frames
        ):
            continue  # "At a height of 55 cm begin the shoulders."
        for finding in (one, two):
            finding.shaping = None
            if finding.unread is not None and not finding.unread.ask:
                continue
            # an answer about one half of a shoulder would leave the other half in steps
            finding.unread = Unread(
                "broken-off",
                "these steps and those next to them belong together, but the words between them "
                "are not understood",
                between[0][0].span if between else second.span,
            )
