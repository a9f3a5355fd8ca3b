"""Which passage of a revised text stands in the place of which passage of the original.

Pieces are paired by name and order, passages within a piece in order, unchanged ones first. What a
person left as it was is the same by its words and is not worked again.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher

from rewriter import regex
from rewriter.dividing import is_matching, rejoins
from rewriter.document import Sentence
from rewriter.frames import Statement
from rewriter.halves import DividedShaping
from rewriter.joinwords import names_join
from rewriter.passages import Passage, without_lead
from rewriter.reading import Draft, Finding
from rewriter.rowframes import is_note
from rewriter.spans import Span
from rewriter.statements import read_statement


@dataclass
class Pair:
    """A stepped passage of the original, and what stands in its place."""

    original: Finding
    revised: Passage | None
    statements: list[Statement] = field(default_factory=list)
    """The revised sentences that tell its rows."""
    same_words: bool = False
    mirrored: bool = False
    """The original tells this side only by "complete to match": it is the other edge of `original`."""
    before: tuple[list[Statement], list[Statement]] = field(default_factory=lambda: ([], []))
    """The sentences that lead up to it in each text, from the passage before it in the piece."""

    @property
    def name(self) -> str:
        """The id of the passage; the written-out second side has the first one's with a mark."""
        return f"{self.original.id}/second-side" if self.mirrored else self.original.id

    @property
    def region(self) -> Span | None:
        """Where the revised passage stands."""
        if self.revised is None:
            return None
        if not self.statements:
            return self.revised.span
        start = min(self.revised.span.start, self.statements[0].span.start)
        if not self.revised.lead:
            return Span(start, self.statements[-1].span.end)
        return Span(self.revised.span.start, self.statements[-1].span.end)


def plain(statement: Statement) -> str:
    """Return the words of a sentence without what typography and line breaks do to them."""
    return " ".join(statement.sentence.view.text.split()).rstrip(".:;, ")


def pair_passages(original: Draft, revised: Draft) -> tuple[list[Pair], list[Passage]]:
    """Pair the passages of two texts; also return the revised ones that stand for nothing."""
    pairs: list[Pair] = []
    all_new = [*(f.passage for f in revised.findings), *revised.short_rows]
    for one, two in _pieces(original, revised):
        olds = [f for f in original.findings if f.passage.piece_at == one]
        news = sorted((p for p in all_new if p.piece_at == two), key=lambda p: p.span)
        own = _in_order(olds, news)
        for pair in own:
            if pair.revised is None and two is not None:
                pair.revised = _from_words(pair, original, revised, two)
        for pair in own:
            pair.statements = _region(pair, own, original, revised)
        _lead_up(own)
        pairs += own
    regions = [pair.region for pair in pairs]
    already = {_words(p) for p in original.short_rows}
    extra = [
        p
        for p in all_new
        if not any(r and r.start <= p.span.start < r.end for r in regions)
        and _words(p) not in already
    ]
    return sorted(pairs, key=lambda p: p.original.passage.span), extra


def changed_short_rows(original: Draft, revised: Draft) -> list[Passage]:
    """Return the short rows of the original that the revised text does not have as they are."""
    kept = {_words(p) for p in revised.short_rows}
    return [p for p in original.short_rows if _words(p) not in kept]


def _pieces(original: Draft, revised: Draft) -> list[tuple[int, int | None]]:
    """Return the numbers of the pieces of the original, each with that of the revised text."""
    wanted = {f.passage.piece_at for f in original.findings}
    olds, news = _named(original), _named(revised)
    found = {at: next((n for n in news if news[n] == olds[at]), None) for at in sorted(wanted)}
    spare = [n for n in sorted({p.piece_at for p in revised.short_rows}) if n not in found.values()]
    for at in found:
        if found[at] is None and spare:
            found[at] = spare.pop(0)
    return list(found.items())


def _named(draft: Draft) -> dict[int, tuple[str, int]]:
    """Return the name of each piece by its number, counted where several have one name."""
    names: dict[int, tuple[str, int]] = {}
    counts: Counter[str] = Counter()
    for sentence in draft.document.sentences:
        if sentence.piece_at not in names:
            counts[sentence.piece] += 1
            names[sentence.piece_at] = (sentence.piece, counts[sentence.piece])
    return names


def _words(passage: Passage) -> str:
    return ". ".join(plain(s) for s in passage.statements)


def _own_words(finding: Finding, findings: Sequence[Finding]) -> str:
    """Return the words of a passage without sentences behind it that tell another shoulder by reference."""
    told = finding.passage.statements
    apart = {s.span for f in findings if f.refers_to for s in f.passage.statements}
    own = [s for s in told if finding.refers_to or s.span not in apart]
    return ". ".join(map(plain, own or told))


def _in_order(olds: Sequence[Finding], news: Sequence[Passage]) -> list[Pair]:
    told = [_own_words(f, olds) for f in olds]
    matcher = SequenceMatcher(None, told, [_words(p) for p in news], autojunk=False)
    pairs: list[Pair] = []
    left: list[Passage] = []
    for what, a, b, c, d in matcher.get_opcodes():
        if what == "equal":
            pairs += [
                Pair(f, p, same_words=True) for f, p in zip(olds[a:b], news[c:d], strict=True)
            ]
            continue
        here, there = list(olds[a:b]), list(news[c:d])
        while len(here) > len(there) and (other := _not_converted(here)) is not None:
            pairs.append(Pair(other, None))
            here.remove(other)
        for finding, passage in zip(here, there, strict=False):
            pairs.append(Pair(finding, passage))
        pairs += [Pair(f, None) for f in here[len(there) :]]
        left += there[len(here) :]
    for passage in list(left):
        home = next((f for f in reversed(olds) if _tells_second_side(f)), None)
        if not _begins_anew(passage, pairs):
            continue
        if home is not None and passage.short_rows and not any(p.mirrored for p in pairs):
            pairs.append(Pair(home, passage, mirrored=True))
            left.remove(passage)
    return pairs


def _from_words(pair: Pair, original: Draft, revised: Draft, piece_at: int) -> Passage | None:
    """Return what stands in the place of a passage by its words: changed sentences that turn.

    For short rows that do not show themselves to be such ("P 14, turn. K 14.").
    """
    old = pair.original.passage
    known = {plain(s) for s in original.statements if s is not None}
    after = {plain(s) for s in old.follows}
    told = [
        s
        for s, home in zip(revised.statements, revised.document.sentences, strict=True)
        if s is not None and home.piece_at == piece_at and not home.heading
    ]
    ahead = {plain(s) for s in old.before}
    start = max((i for i, s in enumerate(told) if plain(s) in ahead), default=-1) + 1
    square = _is_square(pair.original)
    first = next(
        (
            i
            for i, s in enumerate(told)
            if plain(s) not in known
            and (any(f.verb == "turn" for f in s.frames) or (square and i >= start and _keeps(s)))
        ),
        None,
    )
    if first is None:
        return None
    while (
        square
        and first > start
        and _works_row(told[first - 1])
        and plain(told[first - 1]) not in known
    ):
        first -= 1  # "Next row (RS): K to end. Slip 34 sts for each shoulder ... onto holders."
    stop = first + 1
    while stop < len(told) and plain(told[stop]) not in after and not _tells_no_row(told[stop]):
        stop += 1
    home = told[first].sentence
    body, lead = without_lead(told[first])
    return Passage(
        [body, *told[first + 1 : stop]], told[:first], lead, old.piece, piece_at, home.topics, told[stop:],
        short_rows=True,
    )  # fmt: skip


def _is_square(finding: Finding) -> bool:
    """Say whether each shoulder is bound off in one step, so that one kept live has no turns."""
    shaping = finding.shaping
    if shaping is None or isinstance(shaping, DividedShaping):
        return False
    return all(len(s.sts) == 1 for edges in shaping.edges for s in edges)


def _keeps(statement: Statement) -> bool:
    """Say whether a sentence puts sts on a holder or ends them."""
    return any(
        f.verb == "bind_off" or (f.verb == "hold" and ("holder" in f.parts or f.amount is not None))
        for f in statement.frames
    )


def _works_row(statement: Statement) -> bool:
    """Say whether a sentence works rows and does nothing else."""
    verbs = {f.verb for f in statement.frames if f.verb}
    return bool(verbs) and verbs <= {"work", "back_row"} and statement.label is not None


def _begins_anew(passage: Passage, pairs: Sequence[Pair]) -> bool:
    """Say whether the yarn is rejoined, or another piece told, before short rows begin."""
    ends = [p.revised.span.end for p in pairs if p.revised is not None]
    done = max((e for e in ends if e <= passage.span.start), default=0)
    between = [s for s in passage.before if s.span.start >= done]
    told = {f.verb for s in between for f in s.frames} | {f.verb for f in passage.lead}
    return bool(told & {"join", "refer", "measures"})


def _not_converted(findings: Sequence[Finding]) -> Finding | None:
    """Return the passage that short rows stand for last of all: no shoulder."""
    return next((f for f in findings if f.kind != "shoulder"), None)


def _tells_second_side(finding: Finding) -> bool:
    """Say whether the other side follows as "complete to match, reversing shapings"."""
    shaping = finding.shaping
    one_edge = shaping is not None and not shaping.two_edged
    return one_edge and any(is_matching(s) for s in finding.passage.follows[:6])


def _region(pair: Pair, own: Sequence[Pair], original: Draft, revised: Draft) -> list[Statement]:
    """Return the sentences that tell the revised passage, to the next sentence of the original."""
    passage = pair.revised
    if passage is None:
        return []
    if pair.same_words:
        return list(passage.statements)
    last = passage.statements[-1].span.end
    known = {
        plain(s)
        for s, home in zip(original.statements, original.document.sentences, strict=True)
        if s is not None
        and home.piece_at == pair.original.passage.piece_at
        and s.span.start >= pair.original.passage.span.end
    }
    divided = isinstance(pair.original.shaping, DividedShaping)
    shaping = pair.original.shaping
    plain_ending = not divided and shaping is not None and shaping.two_edged
    starts = [p.revised.span.start for p in own if p.revised is not None]
    done = [p.revised.span.end for p in own if p.revised is not None]
    told = [
        *_opening_rows(pair, passage, max((e for e in done if e <= passage.span.start), default=0)),
        *passage.statements,
    ]
    out = told[:1]
    own_ones = {s.span.start: s for s in told}
    for sentence, statement in zip(revised.document.sentences, revised.statements, strict=True):
        if sentence.span.start <= told[0].span.start:
            continue
        if sentence.span.start in own_ones:
            out.append(own_ones[sentence.span.start])
            continue
        outside = sentence.span.start >= last
        if outside and (sentence.piece_at != passage.piece_at or sentence.heading):
            break
        if statement is None:
            if not sentence.heading and (bare := _bare_row(sentence)) is not None:
                out.append(bare)
            continue
        if not outside:
            continue
        ahead = any(last < start <= statement.span.start for start in starts)
        if ahead or plain(statement) in known or statement.span.start in starts:
            break
        # both sides of a divided shoulder belong to one passage, also where the yarn is cut between them
        goes_on = divided and rejoins(statement)
        ends = plain_ending and _ends_sts(statement)
        if (_tells_no_row(statement) and not (goes_on or ends)) or names_join(sentence.view.text):
            break
        out.append(statement)
    return out if divided else _up_to_end(out)


def _ends_sts(statement: Statement) -> bool:
    """Say whether a sentence rejoins the yarn for no row, only to end what is on the needle."""
    verbs = {f.verb for f in statement.frames if f.verb}
    counted = [f for f in statement.frames if f.verb in ("bind_off", "hold") and f.amount]
    return verbs <= {"join", "hold", "bind_off", "fasten_off"} and bool(counted)


def _up_to_end(statements: list[Statement]) -> list[Statement]:
    """Leave out what is told of other sts once all of a side are bound off."""
    ends = [i for i, s in enumerate(statements) if _binds_off_all(s)]
    if not ends:
        return statements
    rest = statements[ends[-1] + 1 :]
    others = all({f.verb for f in s.frames if f.verb} <= {"hold", "join"} for s in rest)
    return statements[: ends[-1] + 1] if others else statements


def _binds_off_all(statement: Statement) -> bool:
    return any(
        f.verb == "bind_off" and (f.takes_all or any(n.concept == "all" for n in f.notes))
        for f in statement.frames
    )


_BARE = regex.compile(r"\W*(?:\*\s*)?(?:k|p|knit|purl|work)\b\s*\d*\W*", regex.I)


def _bare_row(sentence: Sentence) -> Statement | None:
    """Read "K14.", which gives no cue by itself, as the row that it is among short rows."""
    if not _BARE.fullmatch(sentence.view.text) and not _COUNTED.match(sentence.view.text):
        return None
    return read_statement(sentence)


_COUNTED = regex.compile(r"\W*(?:k|p|knit|purl|work)\s?\d+\b")


def _opening_rows(pair: Pair, passage: Passage, done: int) -> list[Statement]:
    """Return the rows before a passage that turn in plain words: "P 81 sts, turn. DS, k 73, turn.".

    The passage before it ends at `done`.
    """
    known = {plain(s) for s in pair.original.passage.before}
    before: list[Statement] = []
    for statement in reversed(passage.before):
        if statement.span.start < done or plain(statement) in known or _tells_no_row(statement):
            break
        before.insert(0, statement)
    first = next(
        (
            i
            for i, s in enumerate(before)
            if not is_note(s) and {"turn", "work"} <= {f.verb for f in s.frames}
        ),
        len(before),
    )
    return before[first:]


def _tells_no_row(statement: Statement) -> bool:
    verbs = {f.verb for f in statement.frames if f.verb}
    return bool(verbs & {"join", "refer", "cast_on", "measures", "increase"})


def _lead_up(pairs: Sequence[Pair]) -> None:
    """Give each pair the sentences that lead up to it, from the passage before it."""
    done = (0, 0)
    for pair in pairs:
        if pair.revised is None:
            continue
        one, two = pair.original.passage, pair.revised
        pair.before = (
            [s for s in one.before if s.span.start >= done[0]] + _own_lead(one),
            [s for s in two.before if s.span.start >= done[1] and s not in pair.statements]
            + _own_lead(two),
        )
        region = pair.region
        done = (one.span.end, region.end if region else done[1])


def _own_lead(passage: Passage) -> list[Statement]:
    """Return the lead-in that stands in the first sentence of the passage, as a sentence."""
    if not passage.lead:
        return []
    return [Statement(passage.sentence, None, passage.lead, [])]
