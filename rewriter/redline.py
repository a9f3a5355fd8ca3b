"""A page that shows every change of a text with the reason beside it, to read on a screen or to print.

The page holds all it needs: no script, no picture, nothing from elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from html import escape
from itertools import pairwise

from rewriter.annotations import LEFT_AS_IT_IS, Annotation, annotations_of
from rewriter.blocks import wrap_width
from rewriter.document import Document, split_document
from rewriter.pagelines import Part, unwrapped
from rewriter.pagetables import table_of
from rewriter.redlineblocks import (
    HASHES,
    Block,
    Note,
    blocks_of,
    end_of_words,
    headings_of,
    leading,
    parts_of,
    sentence,
)
from rewriter.redlinewords import note_of, words_of
from rewriter.render import COURTESY, MARKERS, SWATCH, needle_map, verdict
from rewriter.report import PassageReport, Report
from rewriter.spans import SourceText
from rewriter.titles import title_of
from rewriter.webpage import web_page
from rewriter.worddiff import compare
from rewriter.worksheetmodel import words as sheet_words

_LABELS = {
    "reason": "Reason",
    "question": "Question",
    "error": "Error in the draft",
    "warning": "Warning",
    "remark": "Remark",
}


def redline_of(report: Report, source: SourceText) -> str:
    """Return the page for a rewriting: changes, reasons, questions, findings, and the proof."""
    document = split_document(source)
    blocks = _numbered_blocks(report, document, list(annotations_of(report)))
    counts = [
        (sum(p.status == "rewritten" for p in report.passages), "rewritten and verified"),
        (sum(p.status == "question" for p in report.passages), "with a question"),
        (sum(p.status == "left" for p in report.passages), "left as they are"),
    ]
    told = ", ".join(f"{n} {words}" for n, words in counts if n) or "none"
    lead = f"Stepped passages: {told}."
    if report.options.to == "short-rows":
        lead += f" Turning method: {sheet_words()['turn'][report.options.turn]['name']}."
    return page(
        title_of(document),
        lead,
        blocks,
        _proof(report, source),
        source.format == "markdown",
    )


def changes_of(report: Report, source: SourceText, shown: Callable[[str], str] = str) -> str:
    """Return the text of a rewriting as HTML, its changes marked and their reasons beside them.

    `shown` is what becomes of each stretch of text (its numbers for one size). Questions and what was
    left are not among the notes. Headings above a change have the class "leads".
    """
    notes = [
        a
        for a in annotations_of(report)
        if a.kind != "question" and not a.text.startswith(LEFT_AS_IT_IS)
    ]
    blocks = _numbered_blocks(report, split_document(source), notes, shown)
    return "\n".join(_rows(blocks, source.format == "markdown", "change"))


def _numbered_blocks(
    report: Report,
    document: Document,
    notes: Sequence[Annotation],
    shown: Callable[[str], str] = str,
) -> list[Block]:
    """Return the blocks of a text, its notes numbered as they stand in it."""
    source = document.source
    notes = sorted(notes, key=lambda a: end_of_words(source.text, *a.span))
    numbered = [
        Note(n, _LABELS[a.kind], sentence(a.text), source.where(a.span.start), a.kind == "reason")
        for n, a in enumerate(notes, 1)
    ]
    parts = unwrapped(parts_of(report, source, notes, shown), wrap_width(source.text))
    headings = headings_of(document) if source.format != "markdown" else {}
    return list(blocks_of(parts, numbered, {shown(h): level for h, level in headings.items()}))


def _rows(blocks: Sequence[Block], markdown: bool, step: str) -> Iterator[str]:
    """Yield each block as HTML; a heading above a change has the class "leads"."""
    told = [b for b in blocks if b.parts]
    following = dict(pairwise(n.number for b in told for n in b.notes if n.change))
    above = leading(told)
    for number, block in enumerate(told):
        yield _row(block, following, markdown, step, number in above)


def redline_of_texts(old: str, new: str, title: str, lead: str = "", markdown: bool = False) -> str:
    """Return the page for two texts compared word by word, without reasons."""
    parts: list[Part] = [(p.kind, p.text) for p in compare(old, new)]
    changes = sum(
        not isinstance(b, int) and b[0] != "same" and (isinstance(a, int) or a[0] == "same")
        for a, b in pairwise([("same", ""), *parts])
    )
    words = f"{changes} change{'' if changes == 1 else 's'}." if changes else "No change."
    shown = list(blocks_of(unwrapped(parts, wrap_width(old)), []))
    return page(title, f"{lead} {words}".strip(), shown, "", markdown)


def _proof(report: Report, source: SourceText) -> str:
    done = [p for p in report.passages if p.status == "rewritten"]
    if not done:
        return ""
    tables = "".join(_table(p, report, source) for p in done)
    return (
        '<section aria-labelledby="proof"><h2 id="proof">Proof</h2>'
        "<p>Worked stitch by stitch from the new words, for every size. Stitches on the needle stand in "
        "working order of the first short row: steps parted by a dot, shoulder and neck by a double "
        f"bar.</p>{tables}<p>{escape(MARKERS)} {escape(SWATCH)} {escape(COURTESY)}</p></section>"
    )


def _table(passage: PassageReport, report: Report, source: SourceText) -> str:
    rows = "".join(
        f'<tr><th scope="row">{escape(size)}</th><td>{escape(needle_map(passage, i))}</td>'
        f"<td>{escape(verdict(passage, i))}</td></tr>"
        for i, size in enumerate(report.sizes)
    )
    title = f"{passage.piece}, {passage.kind} ({source.where(passage.span[0])})"
    return (
        f'<div class="wide" tabindex="0" role="region" aria-label="{escape(title)}"><table>'
        f"<caption>{escape(title)}</caption><thead><tr>"
        '<th scope="col">Size</th><th scope="col">Stitches on the needle</th>'
        f'<th scope="col">Fabric</th></tr></thead><tbody>{rows}</tbody></table></div>'
    )


# --- the page ---------------------------------------------------------------------------------------

_VIEWS = (
    ("all", "whole text, changes marked"),
    ("changed", "changes only"),
    ("new", "new text"),
    ("old", "draft as it was"),
)


def page(
    title: str,
    lead: str,
    blocks: Sequence[Block],
    tail: str,
    markdown: bool,
    step: str = "change",
) -> str:
    """Return a redline as one HTML page; `tail` is HTML that follows the text.

    Links lead from one note about a change to the next; `step` is what they call it.
    """
    changes = [n.number for b in blocks for n in b.notes if n.change]
    body = "\n".join(_rows(blocks, markdown, step))
    views = "".join(
        f'<label><input type="radio" name="view" id="view-{key}"{" checked" if not i else ""}>'
        f"<span>{words}</span></label>"
        for i, (key, words) in enumerate(_VIEWS)
    )
    first = f'<a class="skip" href="#n{changes[0]}">Go to the first {step}</a>' if changes else ""
    shown = f"""{first}
<header>
<h1>{escape(title)}</h1>
<p>{escape(lead)}</p>
<p class="key"><del>Struck out</del> is the draft’s, <ins>underlined</ins> or marked with a plus is new.</p>
<fieldset><legend>Show</legend>{views}</fieldset>
</header>
<main>
{body}
</main>
{tail}"""
    return web_page(f"{title}: changes", "redline.css", shown)


def _row(block: Block, following: dict[int, int], markdown: bool, step: str, leads: bool) -> str:
    parts = list(block.parts)
    kind, level = "heading" if block.level else "text", block.level and block.level + 1
    opening = next((p for p in parts if not isinstance(p, int)), None)
    if markdown and opening and (hashes := HASHES.match(opening[1])):
        kind, level = "heading", min(len(hashes.group(1)) + 1, 4)
        place = parts.index(opening)
        parts[place] = (opening[0], opening[1][hashes.end() :])
    elif opening and opening[1].lstrip().startswith("|"):
        kind = "table"
    own = {n.number: n for n in block.notes}
    words = table_of(parts, own) if kind == "table" and markdown else ""
    words = words or words_of(parts, markdown, own)
    notes = "".join(note_of(n, following, step) for n in block.notes)
    aside = f'<ol class="notes" role="list">{notes}</ol>' if notes else ""
    classes = f"row{' changed' if block.changed else ''}{' noted' if notes else ''}"
    classes += " leads" if leads else ""
    tag = f"h{max(level, 2)}" if level else "div"
    return f'<section class="{classes}"><{tag} class="{kind}">{words}</{tag}>{aside}</section>'
