"""On which row of the original the first row of a revised passage stands.

Both texts are the same up to some sentence; from there the rows that each tells are counted. A lead-in by
length tells no number: where its side changes, it ends a row earlier, and where neither text fixes a side
the first short row takes the place of the last row before the first bind-off (common practice).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher

from rewriter import regex
from rewriter.doubt import Unread
from rewriter.frames import Frame, Statement
from rewriter.interpret import read_rows
from rewriter.leadin import read_lead_in
from rewriter.leadmodel import LeadIn
from rewriter.pairing import Pair, plain
from rewriter.passages import Passage
from rewriter.rowframes import is_note
from rewriter.rows import OTHER_SIDE, Kind, Row, Side, side_of
from rewriter.shapingmodel import Shaping
from rewriter.shortframes import hangs_in_row
from rewriter.spans import Span


@dataclass(frozen=True)
class Start:
    """Where the first revised row stands, for each size."""

    rows: tuple[int, ...]
    lead_side: Side | None
    """The side of the last row before it, as the revised lead-in names it."""
    lead_span: Span | None
    labelled: Side | None
    """The side of its first row, as its label, or knit and purl in stocking stitch, tell it."""
    contradiction: bool
    """Lead-in and labels do not agree; the labels are followed."""
    assumed: str = ""
    """Why the row is taken to be the one it is, where the words do not fix it."""


def find_start(pair: Pair, shaping: Shaping, rows: Sequence[Sequence[Row]]) -> Start:
    """Return the row of the original on which the revised passage begins; `rows` are its rows a size."""
    sizes = len(rows)
    assert pair.revised is not None
    own = {s.span for s in pair.statements}  # rows that were found to belong to it
    revised = replace(pair.revised, before=[s for s in pair.revised.before if s.span not in own])
    lead = read_lead_in(_led(revised), pair.original.fabric)
    told = pair.original.lead_in
    # the first row of a passage may stand before its first bind-off, in its own words
    before = pair.original.before
    kept = _kept_row(pair)
    inside = before is not None and (before.inside or _shares_sentence(pair))
    base = -1 if inside or kept is not None else 0
    counted = [_counted(pair, i, sizes, kept) for i in range(sizes)]
    labelled, index = _labelled(pair, rows)
    lead_side = _lead_side(lead)
    led = (lead.side_span or lead.span or Span(0, 0)).start
    behind = [hanging for hanging, _ in hung_before(pair) if hanging.span.start > led]
    if lead_side is not None and len(behind) % 2:
        lead_side = OTHER_SIDE[lead_side]  # of the row that hangs markers behind it
    assumed = ""
    if all(n is not None for n in counted):
        start = [base + (n or 0) for n in counted]
        first_turns = any(own and own[0].has(Kind.TURN) for own in rows) and all(
            min(s.rows[0] for s in edges) == 0 for edges in shaping.edges
        )
        # a row that hangs markers, on its own, stands on the last rows of a length that leads up
        told_on_way = len(hung_before(pair)) if pair.original.before is None else 0
        if set(start) <= {0, told_on_way} and first_turns and not _fixes_row(told, lead, pair):
            start = [-1] * sizes
            assumed = "neither text fixes the side"
    elif (flipped := _flips(told, lead)) is not None:
        start = [-1 if flipped else 0] * sizes
    else:
        start = [-1] * sizes
        assumed = "the words before it do not tell the row"
    source = pair.revised.sentence.source
    start = [_at_edge(n, shaping, own, source) for n, own in zip(start, rows, strict=True)]
    first = shaping.first_side
    contradiction = False
    if labelled is not None:
        first_label = side_of(index, labelled)
        if lead_side is not None and first_label == lead_side:
            contradiction = True
        if first is not None and any(side_of(n, first) != first_label for n in start):
            moved = [n if side_of(n, first) == first_label else _next_to(n) for n in start]
            contradiction = contradiction or (not assumed and lead_side is None)
            start = moved
    return Start(
        tuple(start), lead_side, lead.side_span or lead.span, labelled, contradiction, assumed
    )


def _shares_sentence(pair: Pair) -> bool:
    """Say whether the row before the first bind-off is told in the sentence of the steps."""
    row = pair.original.before.stretch if pair.original.before is not None else None
    return row is not None and row.place.start >= pair.original.passage.sentence.span.start


def _kept_row(pair: Pair) -> Span | None:
    """Return the original sentence of the row before the first bind-off, if the revised rows begin with it.

    Its words are those of the original up to the stretch that turns now.
    """
    row = pair.original.before
    if row is None or row.stretch is None or row.statement is None or not pair.statements:
        return None
    told = row.statement.sentence
    words = _squeezed(told.source[told.span.start : row.stretch.place.start])
    same = words and _squeezed(pair.statements[0].sentence.text).startswith(words)
    return told.span if same else None


def _squeezed(words: str) -> str:
    return "".join(words.split()).lower()


_BEGINS_THERE = regex.compile(
    r"(?i)\b(?:starting|beginning|commencing)\s+(?:at|from)\s+(?:the\s+)?(?:arm|armhole|shoulder|outer|side)\b"
)


_WORD = 14
"""Characters before a row in which "starting" may stand."""


def _at_edge(start: int, shaping: Shaping, rows: Sequence[Row], source: str) -> int:
    """Return the row on which short rows begin whose first turn names the armhole edge it stands at.

    A row that is told to begin there turns at the other edge.
    """
    first = next((i for i, row in enumerate(rows) if row.has(Kind.TURN)), None)
    if not shaping.two_edged and first is not None and (place := rows[first].span) is not None:
        words = source[max(0, place.start - _WORD) : place.end]
        if _BEGINS_THERE.search(words) and (start + first) % 2:
            return _next_to(start)
    if shaping.first_side is not None or shaping.two_edged or first is None:
        return start
    if rows[first].edge in ("", "neck") or (start + first) % 2:
        return start
    return _next_to(start)


def _led(passage: Passage) -> Passage:
    """Return a passage whose lead-in is heard as it is told, without notes and what opens the rows.

    The lead-in may stand before markers, in their sentence: "At 56 cm, ending with a RS row: Hang ...".
    """
    before: list[Statement] = []
    lead = passage.lead
    for statement in passage.before:
        verbs = [f.verb for f in statement.frames]
        own = statement.frames[: verbs.index("mark")] if "mark" in verbs else []
        if any(f.verb in ("ending", "measures") or "measure" in f.parts for f in own):
            lead = own
        elif hangs_in_row(statement.frames) is not None:
            continue  # a row on the way, which is counted
        elif not is_note(statement) and not _introduces(statement):
            before.append(statement)
    return replace(passage, before=before, lead=lead)


def _next_to(row: int) -> int:
    """Return the neighbouring row that the labels mean: the one before, as the rule has it."""
    return row - 1 if row >= 0 else row + 1


def _lead_side(lead: LeadIn) -> Side | None:
    return lead.side if lead.obstacle is None else None


def _fixes_row(told: LeadIn, lead: LeadIn, pair: Pair) -> bool:
    """Say whether the words that lead up to a passage fix its first row, alike in both texts."""
    if not pair.before[0] or not pair.before[1]:
        return False
    facts = ("rows", "row of pattern", "edge")
    rows = any(m.fact in facts for m in [*told.mentions, *lead.mentions])
    return rows or told.side is not None or bool(told.absorbed) or _has_obstacle(told, lead, pair)


def _has_obstacle(told: LeadIn, lead: LeadIn, pair: Pair) -> bool:
    """Say whether a row with words of its own stands right before the revised passage.

    One that the original has too, with other words behind it, does not: those are told together with
    markers, and not read as leading up.
    """
    if lead.obstacle is None or told.obstacle is not None:
        return lead.obstacle is not None
    return plain(lead.obstacle) not in {plain(s) for s in pair.original.passage.before}


def _flips(told: LeadIn, lead: LeadIn) -> bool | None:
    if told.side is None or lead.side is None:
        return None
    return told.side != lead.side


def _counted(pair: Pair, size: int, sizes: int, kept: Span | None) -> int | None:
    """Return by how many rows the revised text leads further than the original; None if not told.

    `kept` is the original sentence with which the revised rows begin, and up to which both are counted.
    """
    one, two = pair.before
    if kept is not None:
        one = [s for s in one if s.sentence.span.start < kept.start]
    matcher = SequenceMatcher(
        None, [plain(s) for s in one], [plain(s) for s in two], autojunk=False
    )
    further = 0
    for what, a, b, c, d in matcher.get_opcodes():
        if what == "equal":
            continue
        if (numbered := _further_row(one[a:b], two[c:d], size)) is not None:
            further += numbered
            continue
        old, unknown = _rows_of(one[a:b], size, sizes)
        new, unknown_too = _rows_of(two[c:d], size, sizes)
        further += new - old
        for before, after in zip(unknown, unknown_too, strict=False):
            moved = _moved(before, after, pair)
            if moved is None:
                return None
            further += moved
        if len(unknown) != len(unknown_too):
            return None
    return further


_TO_ROW = regex.compile(
    r"\b(?:to|until|through)\s+(?:the\s+)?(?:end\s+of\s+)?row\s+(?P<rows>\d[\d\s(),:;/\[\]-]*)"
)


def _further_row(one: Sequence[Statement], two: Sequence[Statement], size: int) -> int | None:
    """Return by how many rows "to end of row 137" ends later than "to end of row 138"; None for others."""
    if len(one) != 1 or not two:
        return None
    was, now = (_TO_ROW.search(told[0].sentence.view.text) for told in (one, two))
    if was is None or now is None or _rows_of(two[1:], size, size + 1) != (0, []):
        return None
    old, new = (regex.findall(r"\d+", told["rows"]) for told in (was, now))
    at = size if len(old) > 1 else 0
    return int(new[at]) - int(old[at]) if len(old) == len(new) > at else None


def _rows_of(statements: Sequence[Statement], size: int, sizes: int) -> tuple[int, list[Statement]]:
    """Return how many rows sentences tell, and those whose rows are not counted."""
    rows, unknown = 0, []
    for statement in statements:
        if is_note(statement) or _introduces(statement):
            continue
        told = statement
        if hangs_in_row(statement.frames) is None:
            told = replace(statement, frames=[f for f in statement.frames if not _tells_no_row(f)])
        if not any(f.verb or f.parts for f in told.frames):
            if any(f.verb == "ending" for f in statement.frames):
                unknown.append(statement)
            continue
        by_length = any("measure" in f.parts and "rows" not in f.parts for f in told.frames[:1])
        if by_length and any(f.verb == "ending" for f in statement.frames):
            unknown.append(statement)  # "Work 22 cm more, ending with a WS row"
            continue
        try:
            worked = read_rows([told], size, sizes, dividing=True)
        except Unread:
            unknown.append(statement)
            continue
        rows += sum(any(a.kind in _WORKED for a in row.acts) for row in worked)
    return rows, unknown


def _tells_no_row(frame: Frame) -> bool:
    """Say whether a frame only leads up: "At 20 cm work the shoulders in short rows: ..."."""
    named = any(n.concept in ("shoulder", "short_rows") for n in frame.notes)
    leads = frame.verb == "work" and named and frame.parts.keys() <= {"measure"}
    return leads or frame.verb in ("ending", "mark")


def hung_before(pair: Pair) -> list[tuple[Statement, int]]:
    """Return the sentences before a revised passage that hang markers within a row, with its number.

    The row before the first of the passage has the number -1.
    """
    out: list[tuple[Statement, int]] = []
    ahead = 1
    for statement in reversed(pair.before[1]):
        if hangs_in_row(statement.frames) is not None:
            out.append((statement, -ahead))
        ahead += _rows_of([statement], 0, 1)[0]
    return out[::-1]


def counted_before(pair: Pair) -> list[Span]:
    """Return the revised sentences before a passage that tell plain rows alone, which were counted.

    So are those that hang markers on their way.
    """
    known = {plain(s) for s in pair.before[0]}
    shaping = pair.original.shaping
    sizes = len(shaping.rows) if shaping is not None else 1
    out = [s.sentence.span for s, _ in hung_before(pair)]
    for statement in pair.before[1]:
        new = plain(statement) not in known and not is_note(statement)
        alone = all(f.verb in ("work", "back_row") for f in statement.frames if f.verb)
        if new and alone and len(statement.frames) == 1 and "rows" in statement.frames[0].parts:
            rows, unknown = _rows_of([statement], 0, sizes)
            out += [statement.sentence.span] if rows and not unknown else []
    return out


def _introduces(statement: Statement) -> bool:
    """Say whether a sentence only opens what follows: "Work short rows as follows:"."""
    told = any(n.concept == "follows" for f in statement.frames for n in f.notes)
    ends = any(f.verb == "ending" for f in statement.frames)
    for frame in statement.frames:
        rows = frame.one("rows")
        if ends and rows is not None and rows.amount is not None:
            return False  # "Work 5 rows, thus ending with a p row"
    return told and not any("count" in f.parts or "extent" in f.parts for f in statement.frames)


_WORKED = (Kind.WORK, Kind.LEAVE, Kind.BIND_OFF)


def _moved(before: Statement, after: Statement, pair: Pair) -> int | None:
    """Return by how many rows a lead-in by length ends later in the revised text."""
    was, now = (_LESS.search(told.sentence.view.text) for told in (before, after))
    if was and now:
        olds, news = (regex.findall(r"\d+", told["rows"]) for told in (was, now))
        further = {int(new) - int(old) for old, new in zip(olds, news, strict=False)}
        # counted from a shaping that begins a row earlier itself
        return -1 - further.pop() if len(olds) == len(news) and len(further) == 1 else None
    one, two = _read(before, pair), _read(after, pair)
    counts = [[m.values for m in lead.mentions if m.fact == "rows"] for lead in (one, two)]
    if counts[0] and counts[1] and len(counts[0][0]) == len(counts[1][0]) == 1:
        return counts[1][0][0] - counts[0][0][0]
    if one.side is not None and two.side is not None:
        return -1 if one.side != two.side else 0
    if one.side is None and two.side is None and plain(before) == plain(after):
        return 0
    return None


_LESS = regex.compile(r"(?P<rows>\d[\d\s(),:;/\[\]-]*)\brows?\s+(?:less|fewer|shorter)\b")


def _read(statement: Statement, pair: Pair) -> LeadIn:
    passage = replace(pair.original.passage, before=[statement], lead=[])
    return read_lead_in(passage, pair.original.fabric)


def _labelled(pair: Pair, rows: Sequence[Sequence[Row]]) -> tuple[Side | None, int]:
    """Return the first side that the labels of the revised rows tell, and the number of its row."""
    for own in rows:
        number = 0
        for row in own:
            if row.side is not None:
                return row.side, number
            number += any(a.kind in _WORKED for a in row.acts)
    if pair.original.fabric == "stocking":
        for own in rows:
            words = [row.word for row in own[:2]]
            if words in (["knit", "purl"], ["purl", "knit"]):
                return ("RS" if words[0] == "knit" else "WS"), 0
    return None, 0


def side_conflicts(rows: Sequence[Row], start: int, first: Side | None) -> list[Row]:
    """Return the rows whose label names another side than their place and the first label give."""
    number = start
    out = []
    stand = first
    for row in rows:
        if row.side is not None:
            here = side_of(number, stand) if stand is not None else None
            if here is None:
                stand = row.side if number % 2 == 0 else OTHER_SIDE[row.side]
            elif here != row.side:
                out.append(row)
        number += any(a.kind in _WORKED for a in row.acts)
    return out
