"""Sentences of other pieces that lean on a rewritten one: they follow, or say what changed."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from rewriter import regex
from rewriter.dividing import is_dividing
from rewriter.document import Sentence
from rewriter.doubt import Unread
from rewriter.edgenames import OPPOSITE
from rewriter.edits import Edit
from rewriter.endings import with_row
from rewriter.frames import Statement
from rewriter.halves import DividedShaping
from rewriter.leadedits import changed_by, move_mention
from rewriter.leadin import read_lead_in
from rewriter.mirrored import mirrors_front, superseded
from rewriter.passages import Passage
from rewriter.phrases import finished, wording
from rewriter.reading import Draft, Finding, called
from rewriter.references import BINDS_OFF, Reference, references
from rewriter.revise import Revision
from rewriter.rows import OTHER_SIDE, Side
from rewriter.shapingmodel import Shaping
from rewriter.spans import Span
from rewriter.style import measure_style

_FEWER = regex.compile(
    r"(?i)\b(?P<rows>\d[\d\s,:;/()\[\]\u2013-]*?)\s*(?:rows?)\s+(?:less|fewer|shorter|lower)\b[^.;]*?\b(?P<piece>back|front)\b[^.;]*?\b(?P<kind>shoulder|armhole)"
)

_DIGITS = regex.compile(r"\d+")


def linked_edits(draft: Draft, revisions: Sequence[Revision], by: int = -1) -> list[Edit]:
    """Follow "N rows less than on back to beg of shoulder shaping": the shaping begins a row lower.

    The same of armholes, where these are rewritten. `by` is the number of rows it moves up."""
    source = draft.document.source.text
    moved = {
        (called(draft, r.finding), r.finding.kind): r.finding.id
        for r in revisions
        if r.plan.moves_lead_in
    }
    # "until front is 4 rows lower than back to shoulder", right before the front's own: both move
    own = {
        m.span: r.finding.id
        for r in revisions
        if r.plan.moves_lead_in
        for m in r.finding.lead_in.mentions
        if m.fact == "relative"
    }
    out: list[Edit] = []
    for found in _FEWER.finditer(source):
        told = found.group("piece").lower(), found.group("kind").lower()
        span = Span(found.start("rows"), found.end("rows"))
        mover = next((i for at, i in own.items() if at[0] < span.end and span.start < at[1]), None)
        if mover is not None:
            if told not in moved:
                out += changed_by(source, span, -by, mover, "linked")
        elif told in moved and min(map(int, _DIGITS.findall(span.of(source)))) + by > 0:
            out += changed_by(source, span, by, moved[told], "linked")
    for revision in revisions:
        if revision.plan.moves_lead_in:
            out += _instead_edits(draft, revision, by)
    return out


_ROWS = r"\d[\d\s,:;/()\[\]\u2013-]*?"
# "Rep from ** to ** working 4(4-6-6) rows in place of 3(3-5-5) rows before SHAPE SHOULDER"
_INSTEAD = regex.compile(
    rf"(?i)\b(?P<own>{_ROWS})\s*(?:more\s+|straight\s+)?rows?\s+(?:straight\s+)?"
    rf"(?:in\s+place\s+of|instead\s+of|rather\s+than|in\s+lieu\s+of|for|not)\s+(?:the\s+)?(?P<first>{_ROWS})(?=\s*(?:rows?\b|[,.;]))"
)


def _instead_edits(draft: Draft, revision: Revision, by: int) -> list[Edit]:
    """Move the rows of a second side that are told beside those of the first, which moved: both numbers."""
    source, home = draft.document.source.text, revision.finding.passage.piece_at
    rows = [m.values for m in revision.finding.lead_in.mentions if m.fact == "rows"]
    out: list[Edit] = []
    for sentence in draft.document.sentences:
        if sentence.piece_at != home or sentence.span.start < revision.finding.passage.span.end:
            continue
        for found in _INSTEAD.finditer(sentence.text):
            told = tuple(int(n) for n in regex.findall(r"\d+", found["first"]))
            if told not in rows:
                continue
            for name in ("own", "first"):
                span = Span(*(sentence.span.start + place for place in found.span(name)))
                out += changed_by(source, span, by, revision.finding.id, "linked")
    return out


def left_leaning(draft: Draft, finding: Finding) -> list[Reference]:
    """Return the shoulders beside a neck of their own that lean on those of a piece, not written out."""
    shaping = finding.shaping
    if finding.kind != "shoulder" or shaping is None or not shaping.two_edged:
        return []
    told = references(
        draft.document, draft.statements, called(draft, finding), finding.passage.piece_at
    )
    written = [f.passage.span for f in draft.findings if f.refers_to]
    return [r for r in told if (r.apart or r.at_once) and r.passage.span not in written]


def reworded_edits(draft: Draft, revisions: Sequence[Revision]) -> list[Edit]:
    """Take binding off out of "Cast off for shoulder as on back", where the back slopes now."""
    table, out = wording(), []
    written = [r.finding.passage.span for r in revisions]
    for revision in revisions:
        finding = revision.finding
        if finding.kind != "shoulder" or not revision.plan.slopes:
            continue
        for reference in references(
            draft.document, draft.statements, called(draft, finding), finding.passage.piece_at
        ):
            sentence = reference.passage.sentence
            found = BINDS_OFF.search(sentence.text)
            if reference.passage.span in written or found is None:
                continue
            what = found["what"] or table["shaped"]["shoulder"][0]
            what = regex.sub(r"(?i)\b(?:the|sloping)\s+", "", what)
            said = str(table["lead"]["opens"]).format(what=what)
            verb = str(table["lead"]["opens"]).split()[0]
            if found["ing"]:
                said = said.replace(verb, f"{verb.removesuffix('e')}ing", 1)
            said = said[0].upper() + said[1:] if found["verb"][0].isupper() else said
            span = Span(*(sentence.span.start + place for place in found.span()))
            out.append(Edit(span, said, "linked", finding.id))
    return out


_MATCHING = regex.compile(
    r"(?i)\brevers\w+[^.;]*\b(?:shap\w+|everything|all)\b|\bshap\w+[^.;]*\brevers\w+|\bmirror(?:s|ed|ing|\s+image)?\b"
    # "do this side the same, the other way about", "like the left half, but reversed"
    r"|\b(?:the\s+)?(?:other|wrong)\s+way\s+(?:about|a?round)\b|\bback\s+to\s+front\b|\bbackwards\b"
    r"|\b(?:but|only|just)\s+(?:in\s+)?reversed?\b|\bin\s+reverse\b"
    r"|\bsymmetric(?:al(?:ly)?)?\b"
    r"|\bread(?:ing)?\s+(?:k|knit|p|purl|right|left|rs|ws)\b[^;]{0,8}\bfor\b"
    r"|\bopposite\b|\bto\s+(?:match|correspond)\b(?!\s+(?:with\s+|the\s+)*back)"
)


def matching_edits(draft: Draft, revisions: Sequence[Revision]) -> list[Edit]:
    """Say of a side told by "to match, reversing shapings" which rows turn there.

    The mirror exchanges RS and WS, so its first short row falls on the other side of the work.
    """
    told: dict[tuple[Span, Side], list[Revision]] = {}
    for revision in revisions:
        first = revision.shaping.first_side
        if revision.shaping.two_edged or first is None or not revision.plan.moves_lead_in:
            continue
        sentence = matched_by(draft, revision.finding.passage)
        if sentence is not None and not _has_own_steps(draft, sentence, revision.finding):
            told.setdefault((sentence.span, first), []).append(revision)
    out: list[Edit] = []
    for sentence_span in dict.fromkeys(span for span, _ in told):
        sides = {side: rs for (span, side), rs in told.items() if span == sentence_span}
        sentence = next(s for s in draft.document.sentences if s.span == sentence_span)
        lines = [matching_line(draft, sentence, side, rs) for side, rs in sides.items()]
        first_one = next(iter(sides.values()))[0]
        end, between = told_until(draft, sentence)
        place, words = Span(end, end), between + " ".join(lines)
        if first_one.finding.kind == "shoulder" and len(sides) == 1:
            begins = next(iter(sides))
            own = superseded(draft.document, sentence, begins, first_one.finding.fabric)
            if own is not None and own.whole:
                place, words = own.span, " ".join(lines)
            elif own is not None:
                out.append(Edit(own.span, "", "matching", first_one.finding.id))
        out.append(Edit(place, words, "matching", first_one.finding.id))
    return out


@cache
def matching_words() -> regex.Pattern[str]:
    """Return what `matching_edits` writes, whatever its sides are, with the blanks before it."""
    said = (wording()["rows"][name] for name in ("matching", "matching_turned"))
    words = "|".join(regex.escape(text, special_only=True, literal_spaces=True) for text in said)
    joining = regex.escape(
        wording()["rows"]["matching_joining"], special_only=True, literal_spaces=True
    )
    pattern = words.replace(r"\{joining\}", f"(?:{joining})?")
    pattern = regex.sub(r"\\\{\w+\\\}", r"[^.;]{0,80}?", pattern).replace(" ", r"\s+")
    pattern = pattern.replace(",", ",?")
    return regex.compile(rf"(?i)\s*(?:{pattern})")


def unmatched_edits(draft: Draft, revision: Revision) -> list[Edit]:
    """Take out what `matching_edits` says of the rows that turn on the other side."""
    found = matching_words().finditer(draft.document.source.text)
    return [Edit(Span(*m.span()), "", "matching", revision.finding.id) for m in found]


def mirrors(sentence: Sentence) -> bool:
    """Say whether a sentence tells a side as the mirror image of another one."""
    return _MATCHING.search(sentence.text) is not None


def matched_by(draft: Draft, passage: Passage) -> Sentence | None:
    """Return the sentence that tells the other side of a passage by this one, if there is one."""
    for sentence in draft.document.sentences:
        own = sentence.piece_at == passage.piece_at and sentence.span.start > passage.span.end
        opposite = sentence.piece == OPPOSITE.get(passage.piece)
        if ((own or opposite) and mirrors(sentence)) or (opposite and mirrors_front(sentence.text)):
            return sentence
    return None


def refuse_other_words(draft: Draft, finding: Finding, shaping: Shaping) -> None:
    """Raise Unread where the side told by a shoulder names other rows before its own than the mirror has."""
    sentence = matched_by(draft, finding.passage)
    first = None if shaping.two_edged else shaping.first_side
    if finding.kind != "shoulder" or sentence is None or first is None:
        return
    if not _has_own_steps(draft, sentence, finding):
        superseded(draft.document, sentence, first, finding.fabric)


def _has_own_steps(draft: Draft, sentence: Sentence, told: Finding) -> bool:
    """Say whether words behind a sentence tell the same shaping for the other side."""
    return any(
        f is not told
        and f.kind == told.kind
        and f.passage.piece_at == sentence.piece_at
        and f.passage.span.start >= sentence.span.start
        for f in draft.findings
    )


def matching_line(
    draft: Draft, sentence: Sentence, first: Side, revisions: Sequence[Revision]
) -> str:
    """Return the sentence that says how the straight rows of a mirrored side end, and which rows turn."""
    one = revisions[0]
    style = measure_style(draft.document, one.finding.passage, one.shaping, draft.terms, one.full)
    rows, kinds = wording()["rows"], wording()["kinds"]
    what = " and the ".join(dict.fromkeys(kinds[r.finding.kind] for r in revisions))
    own = sentence.piece_at == one.finding.passage.piece_at
    other = "first side" if own else one.finding.passage.piece
    short = "matching_rows" if any(map(_turns_often, revisions)) else "matching_row"
    before = one.finding.before
    straight = before is None and not _right_behind_shaping(one.finding)
    text = str(rows["matching" if straight else "matching_turned"]).format(
        what=what,
        joining=rows["matching_joining"] if before and own and _divides(before.statement) else "",
        side="side" if own else sentence.piece.split()[-1],
        last=with_row(draft.document.source.text, style, OTHER_SIDE[first]),
        later=rows["matching_later"].format(first=other) if _counts_rows(draft, own, one) else "",
        turning=rows[short].format(side=style.rs if first == "RS" else style.ws),
    )
    if style.case == "lower":
        text = text[0].lower() + text[1:]
    return finished(text, style)


def _right_behind_shaping(finding: Finding) -> bool:
    """Say whether the row that becomes the first short row stands by itself behind decreases."""
    alone = finding.lead_in.absorbed
    before = [s for s in finding.passage.before if alone and s.span.start < alone[0].span.start]
    told = [f for s in before[-2:] for f in s.frames if f.verb]
    return bool(told) and told[-1].verb == "decrease"


def _divides(row: Statement | None) -> bool:
    """Say whether a row parts the two sides, so that the other one begins with yarn joined anew."""
    if row is None:
        return False
    off = any(f.verb in ("bind_off", "hold") and f.edge == "neck" for f in row.frames)
    return off or is_dividing(row)


def _turns_often(revision: Revision) -> bool:
    """Say whether an edge turns more than once in some size."""
    return any(len(edge.rows) > 2 for edges in revision.plan.steps for edge in edges)


# "After 142 rows": counted from where both fronts begin alike; the armhole is a row later on one of them.
_AFTER_ROWS = regex.compile(
    r"(?i)\bafter\s+\d[\d\s(),:;/\[\]-]*rows\b(?!\s+(?:more|straight|from\s+(?:the\s+)?(?:arm|neck)))"
)
_SAME_ROWS = regex.compile(
    r"(?i)\bsame (?:number|no\.?) of rows\b|\bas many rows\b|\brows as (?:on |for )?(?:the )?back\b"
)


def _counts_rows(draft: Draft, own: bool, revision: Revision) -> bool:
    """Say whether a number of rows before the first side cannot also be that before the second.

    Both sides of a neck go on from rows of the same side of the work, and both fronts from a cast-on, but
    their shoulders do not begin on such rows.
    """
    lead_in = revision.finding.lead_in
    if own and any(m.fact in ("rows", "count") for m in lead_in.mentions):
        return True
    told = lead_in.span.of(draft.document.source.text) if lead_in.span else ""
    sentence = revision.finding.passage.sentence.text
    return bool(_SAME_ROWS.search(told) or _AFTER_ROWS.search(sentence))


_BUTTONHOLE = regex.compile(r"(?i)\bbutton\s?-?holes?\b")


# "On next row cast on 2 sts over those bound off.": it tells on what the sentence before began
_GOES_ON = regex.compile(
    r"(?i)\W*(?:(?:then|and)\W+)?(?:(?:on|in)\s+)?(?:the\s+)?(?:next|foll(?:owing)?|return)\s+rows?\b"
    r"|[^.;]*\b(?:over|above)\s+(?:the\s+|those\s+|these\s+)?(?:(?:sts|stitches|loops|ones)\s+)?(?:bound|cast)[\s-]off\b"
)


def told_until(draft: Draft, sentence: Sentence) -> tuple[int, str]:
    """Return where a side told by another ends, and what parts its words from those behind them.

    It ends behind the rows that its sentence announces, "..., making 3 buttonholes, thus:", and a
    sentence goes on a line of its own behind a row that stands on one.
    """
    sentences, source = draft.document.sentences, draft.document.source.text
    at, between = sentences.index(sentence), " "
    if _LINE_WITHOUT_STOP.match(source, sentence.span.end - 1):
        between = draft.document.source.newline()
    while at + 1 < len(sentences):
        after = sentences[at + 1]
        announced = sentences[at].text.rstrip(" *_").endswith(":")
        both = _BUTTONHOLE.search(sentences[at].text) and _BUTTONHOLE.search(after.text)
        goes_on = after.block == sentences[at].block and _GOES_ON.match(after.text)
        if after.heading or after.piece_at != sentence.piece_at:
            break
        if not (announced or both or goes_on):
            break
        gap = source[sentences[at].span.end : after.span.start]
        own_line = draft.document.width is None and "\n" in gap and not gap.strip()
        between = gap if own_line else between
        at += 1
    return sentences[at].span.end, between


# The last letter of a line that ends without a full stop: what comes next stands on a line of its own.
_LINE_WITHOUT_STOP = regex.compile(r"\w[ \t]*(?:[\r\n]|\Z)")


def _holds_neck(shaping: Shaping, draft: Draft) -> bool:
    """Say whether the rows of a shoulder were spelled out together with a neck told apart from them."""
    told = shaping.parts.dividing.sentence if isinstance(shaping, DividedShaping) else None
    return told is not None and told.source is not draft.document.source.text


def leaning_edits(draft: Draft, finding: Finding, shaping: Shaping, by: int = -1) -> list[Edit]:
    """Move the lead-ins of pieces whose shaping is "as for back" and alike; the words stay true.

    `by` is the number of rows by which the shaping moves up.

    Raises Unread where the row before has words of its own.
    """
    out: list[Edit] = []
    for reference in references(
        draft.document,
        draft.statements,
        called(draft, finding),
        finding.passage.piece_at,
        finding.kind,
    ):
        written = any(
            f.refers_to and f.passage.span == reference.passage.span for f in draft.findings
        )
        if written:
            continue  # written out: see rewriter/references.py
        if reference.at_once and _holds_neck(shaping, draft):
            raise Unread(
                "told-elsewhere",
                "another piece tells its shoulders by these words, which now tell the neck of this one "
                "too, and works both its sides at once; write its shoulders out there",
                reference.passage.span,
            )
        if reference.one_edge and shaping.two_edged and reference.sure:
            raise Unread(
                "told-elsewhere",
                "another piece tells its shaping only by referring to this, but is worked one side "
                "at a time; write it out there",
                reference.passage.span,
            )
        lead_in = read_lead_in(reference.passage, finding.fabric)
        if lead_in.absorbed:
            raise Unread(
                "told-elsewhere",
                "another piece tells its shaping only by referring to this, and the row before has "
                "words of its own; write it out there",
                reference.passage.span,
            )
        for mention in lead_in.mentions:
            out += move_mention(draft, finding, mention, shaping, by)
    return out
