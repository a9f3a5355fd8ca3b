"""Check a revised text against its original: the one place that knows the order."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.castonmodel import CastOnShaping
from rewriter.checkcastons import compare_cast_ons
from rewriter.checkdivided import divided_counts, one_side_compared, sides_told
from rewriter.checkedges import edges_of, mirrored
from rewriter.checkelsewhere import list_changes_elsewhere
from rewriter.checkjoins import check_joins, joins_of
from rewriter.checklinked import check_linked, leaning_sentence
from rewriter.checknotes import CheckNote, CheckNotes
from rewriter.checksides import check_sides
from rewriter.checktext import check_abbreviations, check_lists
from rewriter.comparison import (
    Comparison,
    EdgeComparison,
    PassageComparison,
    Result,
)
from rewriter.doubt import Unread
from rewriter.fabric import FabricError
from rewriter.frames import Statement
from rewriter.halfrows import half_rows
from rewriter.halves import DividedShaping
from rewriter.interpret import read_rows
from rewriter.inwork import goes_on_with_some
from rewriter.judge import Judge
from rewriter.oneside import OneSideShaping
from rewriter.options import Options
from rewriter.pairing import Pair, changed_short_rows, pair_passages, plain
from rewriter.parked import park
from rewriter.passages import Passage
from rewriter.reading import Draft, read_draft
from rewriter.report import SourceInfo
from rewriter.rows import Row
from rewriter.rowtables import LaidOut, lay_out
from rewriter.rowturned import from_turned_stretch
from rewriter.shapingmodel import Shaping
from rewriter.spans import SourceText, Span
from rewriter.startrow import find_start, hung_before
from rewriter.untold import (
    counted_in_all,
    cut_off,
    goes_on_to_band,
    note_counts_taken,
    note_markers_taken,
    note_words_passed_over,
    only_marks_of,
    refuse_cut_off,
    refuse_turns_at_both_edges,
    refuse_untold_turns,
    rows_in_table,
    words_not_understood,
)
from rewriter.working import work_both


def check_texts(original: SourceText, revised: SourceText) -> Comparison:
    """Work both texts stitch by stitch and say where they differ.

    Given the other way round, short rows first, the one with the steps is taken as the original.
    """
    told = lay_out(original), lay_out(revised)
    old = read_draft(told[0].source, Options())
    new = read_draft(told[1].source, Options(), old.sizes)
    if swapped := _are_swapped(old, new):
        original, revised, told = revised, original, told[::-1]
        old = read_draft(told[0].source, Options())
        new = read_draft(told[1].source, Options(), old.sizes)
    notes = CheckNotes()
    for source, place in ((original, "original"), (revised, "revised")):
        if source.pending:
            note = CheckNote("changes-pending", "remark", f"in the {place}, {source.pending}")
            notes.add(note)
    pairs, extra = pair_passages(old, new)
    joins = joins_of(new)
    behind = {pair.name: cut_off(pair, extra) for pair in pairs}
    passages = [_passage(pair, old, new, notes, joins.live, behind[pair.name]) for pair in pairs]
    for passage in changed_short_rows(old, new):
        notes.add(
            CheckNote(
                "original-in-short-rows",
                "error",
                "the original itself has short rows here, and they are not in the revised text as they "
                "are; only stepped bind-offs can be compared (are the two texts in the right order?)",
                original=passage.span,
            )
        )
    for passage in [p for p in extra if p not in behind.values()]:
        notes.add(
            CheckNote(
                "nothing-to-compare",
                "error",
                f"{'short rows' if passage.short_rows else 'bind-offs'} stand here, but the original has "
                "no stepped bind-offs in their place",
                revised=passage.span,
            )
        )
    check_lists(old, new, notes, [p.revised_span for p in passages])
    check_abbreviations(old, new, notes)
    check_linked(passages, pairs, new, notes)
    check_joins(passages, pairs, joins, notes)
    list_changes_elsewhere(old, new, pairs, notes)
    passages = [_placed(_with_errors(p, notes), *told) for p in passages]
    notes.settle()
    for note in notes.all:
        note.original = note.original and told[0].back(note.original)
        note.revised = note.revised and told[1].back(note.revised)
    return Comparison(
        schema="slopewise/comparison/1",
        original=_info(original),
        revised=_info(revised),
        sizes=old.sizes.labels,
        swapped=swapped,
        result=_result(passages, notes),
        passages=tuple(passages),
        findings=notes.public(old.sizes.labels, original, revised),
    )


def _placed(passage: PassageComparison, original: LaidOut, revised: LaidOut) -> PassageComparison:
    """Return a passage with its places in the texts as they are, tables and all."""
    one, two = Span(*passage.original_span), passage.revised_span
    update = {
        "original_span": tuple(original.back(one)),
        "revised_span": two and tuple(revised.back(Span(*two))),
    }
    return passage.model_copy(update=update)


def _result(passages: Sequence[PassageComparison], notes: CheckNotes) -> Result:
    """Return the result over all passages; what was merely not understood is no difference."""
    # a list of abbreviations is no fabric: what it lacks is a finding, and no other result
    codes = {n.code for n in notes.all if n.severity == "error"} - {"abbreviation-missing"}
    if codes and codes <= {"not-understood", "original-not-understood"}:
        return "not-compared"
    if codes:
        return "differs"
    return "within-one-row" if any(p.result == "within-one-row" for p in passages) else "same"


def _are_swapped(first: Draft, second: Draft) -> bool:
    """Say whether the first text has short rows where the second has steps, and nowhere the reverse."""
    steps = [sum(f.kind == "shoulder" for f in d.findings) for d in (first, second)]
    slopes = [len(d.short_rows) for d in (first, second)]
    return slopes[0] > slopes[1] and steps[0] < steps[1]


def _info(source: SourceText) -> SourceInfo:
    return SourceInfo(
        name=source.name,
        format="markdown" if source.format == "markdown" else "text",
        sha256=source.sha256,
    )


def _with_errors(passage: PassageComparison, notes: CheckNotes) -> PassageComparison:
    if passage.result in ("same", "within-one-row") and notes.errors(passage.id):
        return passage.model_copy(update={"result": "differs"})
    return passage


def _passage(
    pair: Pair,
    old: Draft,
    new: Draft,
    notes: CheckNotes,
    joined_live: bool,
    behind: Passage | None,
) -> PassageComparison:
    finding, region = pair.original, pair.region
    span = finding.passage.span
    plain_result = PassageComparison(
        id=pair.name,
        piece=finding.passage.piece,
        kind=finding.evidence.kind or "other",
        original_span=(span.start, span.end),
        revised_span=None if region is None else (region.start, region.end),
        changed=not pair.same_words,
        result="same",
    )
    if region is None:
        if leaning_sentence(pair, new) is not None:
            return plain_result
        table = rows_in_table(new)
        why = "nothing stands in the place of these bind-offs, or it is not understood"
        if table is not None:
            why = (
                "rows told in a table are read where its columns are called row, side and instruction: call "
                "them so, or write each row on a line of its own"
            )
        code = "passage-missing" if table is None else "not-understood"
        notes.add(CheckNote(code, "error", why, pair.name, span, table))
        return plain_result.model_copy(update={"result": "not-compared"})
    try:
        if pair.same_words and not _leads_elsewhere(pair, len(old.sizes)):
            return plain_result
        refuse_cut_off(pair, behind)
        note_words_passed_over(pair, old, new, notes)
        return _compared(pair, plain_result, region, old, notes, joined_live)
    except Unread as unread:
        _not_read(unread, pair, region, len(old.sizes), notes)
    except FabricError as error:
        notes.add(
            CheckNote("not-understood", "error", f"the original: {error}", pair.name, span, region)
        )
    return plain_result.model_copy(update={"result": "not-compared"})


def _leads_elsewhere(pair: Pair, sizes: int) -> bool:
    """Say whether the words that lead up to an unchanged passage end on another row."""
    shaping = pair.original.shaping
    one, two = pair.before
    if shaping is None or pair.revised is None or [*map(plain, one)] == [*map(plain, two)]:
        return False
    rows = [list(r[1:]) for r in shaping.rows]
    start = find_start(pair, shaping, rows)
    return not start.assumed and any(n != 0 for n in start.rows)


def _not_read(unread: Unread, pair: Pair, region: Span, sizes: int, notes: CheckNotes) -> None:
    own = pair.original.unread
    if own is not None and own is unread:
        why = (
            "the sts of the original do not add up"
            if unread.code == "sums"
            else "the original is not understood"
        )
        notes.add(
            CheckNote(
                "original-not-understood",
                "error",
                f"{why}, so nothing can be compared: {unread.message}",
                pair.name,
                unread.span,
                region,
                list(unread.sizes),
            )
        )
        return
    code = unread.code if unread.code in ("list-length", "sums") else "not-understood"
    wrong = list(unread.sizes) or (
        _meant(pair, unread.span, sizes) if code == "list-length" else []
    )
    place = pair.original.passage.span
    message = unread.message
    if unread.code == "words-not-understood":
        message = words_not_understood(pair) or message
    notes.add(CheckNote(code, "error", message, pair.name, place, unread.span, wrong))


def _meant(pair: Pair, place: Span, sizes: int) -> list[int]:
    """Return the indexes of the sizes that the words at a place are for."""
    told: tuple[int, ...] = ()
    for statement in pair.statements:
        if statement.span.start > place.start:
            break
        if statement.sizes is not None:
            told = statement.sizes
    return [n - 1 for n in told] or list(range(sizes))


def _compared(
    pair: Pair,
    result: PassageComparison,
    region: Span,
    old: Draft,
    notes: CheckNotes,
    joined_live: bool,
) -> PassageComparison:
    finding = pair.original
    shaping = finding.shaping
    if shaping is None:
        raise finding.unread or Unread(
            "not-understood", "this is not understood", finding.passage.span
        )
    if pair.mirrored:
        shaping = mirrored(shaping)
    parts: list[tuple[Shaping, list[list[Row]]]]
    refuse_untold_turns(pair)
    if isinstance(shaping, CastOnShaping):
        return compare_cast_ons(pair, shaping, result, len(old.sizes), notes)
    hung = hung_before(pair)
    within = [s for s, _ in hung]
    marks = [
        only_marks_of(s)
        for s in pair.before[1]
        if any(f.verb == "mark" for f in s.frames) and s not in within
    ]
    statements = [*marks, *(s for s in _from_turn(pair) if not goes_on_with_some(s))]
    sizes = len(old.sizes)
    if isinstance(shaping, DividedShaping):
        told = sides_told(pair.statements)
        if told is None:
            raise Unread("not-understood", "the two sides of the neck are not told apart", region)
        first = [half_rows(told, i, sizes, -1, True)[0] for i in range(sizes)]
        start = find_start(pair, shaping, first)
        halves = [half_rows(told, i, sizes, start.rows[i], True) for i in range(sizes)]
        divided_counts(shaping, told, [h[2] for h in halves], pair, notes)
        statements = []
        parts = [(shaping.first, [h[0] for h in halves]), (shaping.second, [h[1] for h in halves])]
    elif isinstance(shaping, OneSideShaping):
        rows = one_side_compared(shaping, pair, sizes, notes)
        start = find_start(pair, shaping, rows)
        statements, parts = [], [(shaping, rows)]
    else:
        rows = [
            goes_on_to_band(
                park(_rows_read(statements, shaping, i, sizes, hung), statements, i, sizes),
                shaping,
                i,
            )
            for i in range(sizes)
        ]
        if not shaping.two_edged:
            refuse_turns_at_both_edges(rows, region)
        start = find_start(pair, shaping, rows)
        parts = [(shaping, rows)]
    note_markers_taken(pair, notes)
    note_counts_taken([own for _, sized in parts for own in sized], pair, notes)
    check_sides(pair, parts, start, shaping, notes)
    edges: list[EdgeComparison] = []
    outcome = set()
    neck: list[int | None] = [None] * sizes
    for name, (part, part_rows) in zip(("first", "second"), parts, strict=False):
        judge = Judge(
            notes, pair.name, "shoulder" if finding.kind == "shoulder" else "edge",
            finding.passage.span, region, part, start.rows, old.sizes.labels, joined_live,
            statements, name if len(parts) == 2 else "", finding.fabric == "stocking",
        )  # fmt: skip
        works = []
        for i in range(sizes):
            worked = work_both(part, i, part_rows[i], start.rows[i])
            works.append(worked)
            outcome.add(judge.judge(i, part_rows[i], worked))
            if len(worked.neck) == 1 and not isinstance(shaping, DividedShaping):
                neck[i] = worked.neck[0]
        edges += edges_of(part, works)
    verdict: Result = (
        "differs"
        if "differs" in outcome
        else "within-one-row"
        if "within-one-row" in outcome
        else "same"
    )
    return result.model_copy(
        update={
            "result": verdict,
            "first_row": start.rows,
            "edges": tuple(edges),
            "neck_gained": tuple(neck),
            "changed": True,
        }
    )


def _rows_read(
    statements: Sequence[Statement],
    shaping: Shaping,
    size: int,
    sizes: int,
    hung: Sequence[tuple[Statement, int]],
) -> list[Row]:
    rows = read_rows(statements, size, sizes, shaping.stitches[size], hung=hung)
    return counted_in_all(rows, shaping, size)


def _from_turn(pair: Pair) -> list[Statement]:
    """Return the revised sentences of a pair, the first without what the row does before its last stretch.

    Where the original tells the row before the first bind-off in words of its own, both texts do that alike.
    """
    before = pair.original.before
    if before is None or before.stretch is None or not pair.statements:
        return pair.statements
    turned = from_turned_stretch(pair.statements[0])
    return [turned or pair.statements[0], *pair.statements[1:]]
