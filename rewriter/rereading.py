"""A revised passage read again, from the text and not from the plan, and proven."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import dropwhile

from rewriter import edits as editing
from rewriter.castonmodel import CastOnShaping
from rewriter.castonplan import prove_cast_on
from rewriter.castons import CastOnPassage
from rewriter.dividedplan import DividedPlan, prove_divided
from rewriter.edits import Edit
from rewriter.frames import Frame, Statement
from rewriter.halves import DividedShaping
from rewriter.harmless import without_harmless
from rewriter.interpret import read_rows
from rewriter.leadin import read_lead_in
from rewriter.oneside import OneSideShaping, one_side_rows
from rewriter.passages import Passage
from rewriter.reading import Draft
from rewriter.revise import Revision
from rewriter.rows import Row
from rewriter.rowturned import Stretch
from rewriter.sizes import Sizes
from rewriter.spans import Span
from rewriter.standingrow import standing
from rewriter.verify import NotProven, Proof, lead_in_agrees, prove


def prove_revision(
    draft: Draft,
    revision: Revision,
    edits: Sequence[Edit],
    statements: Sequence[Statement | None],
    passages: Sequence[Passage],
) -> list[Proof]:
    """Prove one passage by its revised text; raises NotProven or Unread where that does not hold.

    `statements` and `passages` are those of the revised draft. Returns a proof for each size.
    """
    finding = revision.finding
    place, inside = reread(revision, edits, statements, draft.sizes)
    sizes = len(draft.sizes)
    shaping, plan = revision.shaping, revision.plan
    if isinstance(shaping, CastOnShaping):
        begun = _begun_again(finding.passage, edits, statements)
        return prove_cast_on(shaping, inside, begun if shaping.begun else None, sizes)
    if isinstance(shaping, DividedShaping) and isinstance(plan, DividedPlan):
        proofs = prove_divided(shaping, plan, inside, sizes)
    elif isinstance(shaping, OneSideShaping):
        proofs = prove(shaping, plan, rows_of_one_side(shaping, inside, sizes))
    else:
        proofs = prove(shaping, plan, [read_rows(inside, i, sizes) for i in range(sizes)])
    for passage in passages:
        if passage.short_rows and place.start <= passage.span.start < place.end:
            fabric = finding.fabric
            lead_in = read_lead_in(passage, fabric)
            if not lead_in_agrees(lead_in.side, revision.shaping, revision.plan):
                raise NotProven("the lead-in does not go with the first short row")
            break
    return proofs


def rows_of_one_side(
    shaping: OneSideShaping, inside: Sequence[Statement], sizes: int
) -> list[list[Row]]:
    """Return the rows of one side of a neck in each size; raises NotProven for a wrong count."""
    out = []
    for i in range(sizes):
        rows, until = one_side_rows(inside, i, sizes)
        wanted = shaping.total(i) + shaping.off_at_neck(i)
        if until not in (wanted, shaping.until[i]):
            raise NotProven(f"the dividing row counts {until} sts, {wanted} were planned")
        out.append(rows)
    return out


def reread(
    revision: Revision,
    edits: Sequence[Edit],
    statements: Sequence[Statement | None],
    sizes: Sizes,
) -> tuple[Span, list[Statement]]:
    """Return where a passage stands in the revised text, and its sentences there."""
    passage = revision.finding.passage
    whole = Span(
        min(revision.region.start, passage.span.start), max(revision.region.end, passage.span.end)
    )
    place = editing.moved(edits, whole)
    inside = [
        s
        for s in statements
        if s is not None and s.span.start < place.end and s.span.end > place.start
    ]
    inside = _without_lead(inside, place, revision.finding.refers_to is not None)
    row = standing(revision.finding, revision.plan)
    if row is not None:
        turned = _turned_row(row, edits, statements)
        inside = [*turned, *inside]
        place = Span(min([place.start, *(s.span.start for s in turned)]), place.end)
    if passage.decisions:
        # words of the draft that stay mean what the reader said of them
        inside, _ = without_harmless(inside, passage.decisions, sizes, led=False)
    return place, inside


def _turned_row(
    row: Stretch, edits: Sequence[Edit], statements: Sequence[Statement | None]
) -> list[Statement]:
    """Return the revised sentence of a row that turns where it stands, from its last stretch on.

    What the row does before that is word for word the draft's, and so does not come into the proof.
    """
    place = editing.moved(edits, row.place)
    told = [s for s in statements if s is not None and s.span.start <= place.start < s.span.end]
    return [replace(s, frames=_up_to_turn(s, place), running=[], opening=[]) for s in told]


def _up_to_turn(statement: Statement, place: Span) -> list[Frame]:
    """Return the frames of a row from a place to its turn."""
    frames = [f for f in statement.frames if f.verb and f.start >= place.start]
    turns = [i for i, f in enumerate(frames) if f.verb == "turn"]
    return frames[: turns[0] + 1] if turns else frames


def _begun_again(
    passage: Passage, edits: Sequence[Edit], statements: Sequence[Statement | None]
) -> Statement | None:
    """Return the revised sentence that tells the cast-on with which a piece begins."""
    if not isinstance(passage, CastOnPassage) or passage.begun is None:
        return None
    place = editing.moved(edits, passage.begun.count.span)
    return next((s for s in statements if s and s.span.start <= place.start < s.span.end), None)


def _without_lead(inside: list[Statement], place: Span, referred: bool) -> list[Statement]:
    """Leave out what stands before the passage in its first sentence (a lead-in).

    Where a shoulder `referred` to another one, that sentence is "At the same height as on the back,
    ending at neck edge, shape the shoulder:", and part of the passage.
    """
    if not inside or (inside[0].span.start >= place.start and not referred):
        return inside
    first = inside[0]
    frames = [f for f in first.frames if f.start >= place.start]
    # ", ending at neck edge, shape the shoulder:" goes on with the words of the lead-in
    leads = ("ending", "refer") if referred and first.sentence.text.endswith(":") else ("ending",)
    frames = list(dropwhile(lambda f: f.verb in leads, frames))
    return [replace(first, frames=frames), *inside[1:]]
