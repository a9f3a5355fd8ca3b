"""The page of a check: what changed from one text to the other, with the findings beside their places."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterator, Sequence
from html import escape

from rewriter.blocks import wrap_width
from rewriter.checkwords import edge_words, headline, looked_at, passage_result
from rewriter.comparison import CheckFinding, Comparison, PassageComparison
from rewriter.document import split_document
from rewriter.pagelines import Part, unwrapped
from rewriter.redline import page
from rewriter.redlineblocks import Note, blocks_of, end_of_words, headings_of, sentence
from rewriter.spans import SourceText
from rewriter.worddiff import compare

_LABELS = {"error": "Error", "warning": "Warning", "remark": "Remark"}


def redline_of_check(found: Comparison, original: SourceText, revised: SourceText) -> str:
    """Return the page: the original's words struck out, the revised ones marked, findings in the margin."""
    found = found.model_copy(update={"findings": _in_text_order(found, original, revised)})
    notes = [
        Note(
            number,
            "Follows from it" if f.consequence else _LABELS[f.severity],
            sentence(f.message + _sizes(f, found)),
            _where(f, original, revised),
            f.severity == "error" and not f.consequence,
        )
        for number, f in enumerate(found.findings, 1)
    ]
    places = _places(found, original, revised)
    parts = unwrapped(_parts(original.text, revised.text, places), wrap_width(original.text))
    markdown = "markdown" in (original.format, revised.format)
    told = [] if markdown else [headings_of(split_document(s)) for s in (original, revised)]
    blocks = list(blocks_of(parts, notes, ChainMap(*told)))
    grave = sum(f.severity == "error" and not f.consequence for f in found.findings)
    errors = f"{grave or 'no'} error{'' if grave == 1 else 's'}"
    said = sentence(headline(found)).rstrip(".")
    lead = f"{said}: {errors}, {len(notes) - grave} other notes."
    if found.swapped:
        lead += f" {original.name} has the steps and was taken as the original."
    title = f"{original.name} and {revised.name}"
    return page(title, lead, blocks, _tail(found, original), markdown, step="error")


def _in_text_order(
    found: Comparison, original: SourceText, revised: SourceText
) -> tuple[CheckFinding, ...]:
    """Return the findings in the order in which their numbers stand on the page."""
    shown = _parts(original.text, revised.text, _places(found, original, revised))
    return tuple(found.findings[part - 1] for part in shown if isinstance(part, int))


def _places(
    found: Comparison, original: SourceText, revised: SourceText
) -> list[tuple[bool, int, int]]:
    """Return for each finding if its place is in the original, the offset there, and its number.

    What follows from a finding stands with it, in the order of the report.
    """
    out: list[tuple[bool, int, int]] = []
    for number, f in enumerate(found.findings, 1):
        if f.consequence and out:
            out.append((out[-1][0], out[-1][1], number))
        elif f.revised_span is not None:
            out.append((False, end_of_words(revised.text, *f.revised_span), number))
        elif f.original_span is not None:
            out.append((True, end_of_words(original.text, *f.original_span), number))
        else:
            out.append((False, 0, number))
    return sorted(out)


def _parts(old: str, new: str, places: Sequence[tuple[bool, int, int]]) -> Iterator[Part]:
    """Yield both texts as one, with the number of each finding behind its words."""
    waiting = {
        side: [(at, number) for in_old, at, number in places if in_old == side]
        for side in (True, False)
    }
    at_old = at_new = 0
    for piece in compare(old, new):
        length = len(piece.text)
        in_old = piece.kind == "deleted"
        start = at_old if in_old else at_new
        own = waiting[in_old]
        done = 0
        while own and own[0][0] <= start + length:
            offset, number = own.pop(0)
            cut = max(offset - start, done)
            if cut > done:
                yield piece.kind, piece.text[done:cut]
                done = cut
            yield number
        if done < length:
            yield piece.kind, piece.text[done:]
        at_old += length if piece.kind != "inserted" else 0
        at_new += length if piece.kind != "deleted" else 0
        if piece.kind == "same":
            # what is said of the original's words alone, where both texts have them
            while waiting[True] and waiting[True][0][0] <= at_old:
                yield waiting[True].pop(0)[1]
    for side in (True, False):
        yield from (number for _, number in waiting[side])


def _sizes(f: CheckFinding, whole: Comparison) -> str:
    if not f.sizes:
        return ""
    if len(f.sizes) == len(whole.sizes):
        return " (all sizes)"
    return f" (size{'s' if len(f.sizes) > 1 else ''} {', '.join(f.sizes)})"


def _where(f: CheckFinding, original: SourceText, revised: SourceText) -> str:
    if f.consequence:
        return ""
    if f.revised_span is not None:
        return revised.named_place(f.revised_span[0])
    if f.original_span is not None:
        return f"original, {original.named_place(f.original_span[0])}"
    return ""


def _tail(found: Comparison, original: SourceText) -> str:
    tables = "".join(_table(p, found, original) for p in found.passages)
    said = " ".join(looked_at(found))
    return (
        '<section aria-labelledby="fabric"><h2 id="fabric">The fabric, size by size</h2>'
        f"{tables}<p>{escape(said)}</p></section>"
    )


def _table(passage: PassageComparison, found: Comparison, original: SourceText) -> str:
    place = original.named_place(passage.original_span[0])
    title = f"{passage.id} ({place}): {passage_result(passage, found)}"
    if not passage.edges:
        return f"<p>{escape(title)}{'' if passage.changed else ', unchanged'}</p>"
    rows = "".join(
        f'<tr><th scope="row">{escape(size)}</th>'
        + "".join(f"<td>{escape(edge_words(e, i, passage))}</td>" for e in passage.edges)
        + "</tr>"
        for i, size in enumerate(found.sizes)
    )
    heads = "".join(f'<th scope="col">Edge {n}</th>' for n in range(1, len(passage.edges) + 1))
    return (
        f'<div class="wide" tabindex="0" role="region" aria-label="{escape(title)}"><table>'
        f"<caption>{escape(title)}</caption><thead><tr>"
        f'<th scope="col">Size</th>{heads}</tr></thead><tbody>{rows}</tbody></table></div>'
    )
