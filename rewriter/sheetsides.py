"""Right side or wrong side: how the lead-in of a shoulder goes with its first bind-off."""

from __future__ import annotations

from rewriter import regex
from rewriter.edgenames import ARMHOLE_SIDE, is_upright
from rewriter.places import place_of
from rewriter.reading import Draft, Finding
from rewriter.rows import OTHER_SIDE, Side, side_of
from rewriter.shapingmodel import Shaping
from rewriter.sheetmodel import Ending, OtherPassage
from rewriter.spans import Span


def ending_of(draft: Draft, finding: Finding, shaping: Shaping | None) -> Ending:
    """Return what a draft tells of the side on which a shoulder starts, and whether it agrees."""
    source = draft.document.source
    lead_in = finding.lead_in.side
    label, label_span = _label(finding, shaping)
    by_edge = _by_edge(draft, finding, shaping)
    told = [
        *([f"the lead-in ends with a {lead_in} row"] if lead_in else []),
        *([f"its words make the first row a {label} row"] if label else []),
        *(
            [f"a {finding.passage.piece} is bound off at its armhole edge on {by_edge} rows"]
            if by_edge
            else []
        ),
    ]
    first = None if shaping is None else shaping.first_side
    unread = finding.unread
    if unread is not None and unread.code == "sides-contradict":
        result, words = "contradicts", unread.message
    elif not told:
        result = "not told"
        words = "no words tell a side"
        if first is not None:
            words += f"; taken for a {first} row, inferred or answered"
    else:
        result = "agrees" if len(told) > 1 else "told once"
        words = "; ".join(told)
        if first is not None:
            words += f": the shaping starts on a {first} row"
    lead_span = finding.lead_in.side_span
    return Ending.model_validate(
        {
            "lead_in": lead_in,
            "lead_in_place": place_of(source, lead_span) if lead_in and lead_span else None,
            "label": label,
            "label_place": place_of(source, label_span) if label_span else None,
            "by_edge": by_edge,
            "first_bind_off": first,
            "result": result,
            "words": words,
        }
    )


def _label(finding: Finding, shaping: Shaping | None) -> tuple[Side | None, Span | None]:
    """Return the side that row labels give row 0, and where the first of them stands."""
    if finding.refers_to is not None:
        return None, None  # its rows are those of another shoulder
    if shaping is not None:
        for number, row in enumerate(shaping.rows[0][1:]):
            if row.side is not None:
                return side_of(number, row.side), row.span
        return None, None
    label = finding.passage.statements[0].label
    if label is None or not label.side:
        return None, None
    return ("RS" if label.side == "RS" else "WS"), label.span


def _by_edge(draft: Draft, finding: Finding, shaping: Shaping | None) -> Side | None:
    """Return the side of row 0 that follows from the armhole edge of a front or half back."""
    side = ARMHOLE_SIDE.get(finding.passage.piece)
    if side is None or not is_upright(draft.document.source.text):
        return None
    if shaping is None or shaping.two_edged:
        return None
    first = min(edges[0].rows[0] for edges in shaping.edges)
    return side if first % 2 == 0 else OTHER_SIDE[side]


_SIDE = regex.compile(r"\b(left|right)\b")


def side_headed(draft: Draft, finding: Finding) -> str | None:
    """Return the side that the nearest heading of a piece before a shoulder names, as "left" or "right"."""
    passage = finding.passage
    for sentence in reversed(draft.document.sentences):
        before = sentence.span.start <= passage.span.start and sentence.piece_at == passage.piece_at
        if before and sentence.heading and (found := _SIDE.findall(sentence.view.text)):
            return found[0] if len(set(found)) == 1 else None
    return None


_AS_ANOTHER = regex.compile(r"\b(?:as|like|same|match|matching|correspond|corresponding)\b")


def pieces_without(draft: Draft) -> tuple[OtherPassage, ...]:
    """Return the fronts and backs that are told as another piece is, with no steps of their own."""
    told = {f.passage.piece_at for f in draft.findings}
    told |= {passage.piece_at for passage in draft.short_rows}
    out: dict[int, OtherPassage] = {}
    for sentence in draft.document.sentences:
        at, piece = sentence.piece_at, sentence.piece
        if sentence.heading or at in told or at in out or not piece.endswith(("front", "back")):
            continue
        if _AS_ANOTHER.search(sentence.view.text):
            out[at] = OtherPassage(
                id=piece.replace(" ", "-"),
                kind="told as another piece",
                place=place_of(draft.document.source, sentence.span),
                decided="it is told as another piece, with no steps of its own; the two are not compared",
            )
    return tuple(out.values())
