"""A page that shows every change of a text with the reason beside it, to read on a screen or to print.

The page holds all it needs: no script, no picture, nothing from elsewhere.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from html import escape
from itertools import pairwise

from rewriter import regex
from rewriter.annotations import LEFT_AS_IT_IS, Annotation, annotations_of
from rewriter.blocks import wrap_width
from rewriter.document import split_document
from rewriter.pagelines import Part, unwrapped
from rewriter.pagetables import table_of
from rewriter.render import COURTESY, MARKERS, SWATCH, needle_map, verdict
from rewriter.report import PassageReport, Report
from rewriter.spans import SourceText
from rewriter.titles import title_of
from rewriter.webpage import web_page
from rewriter.worddiff import Kind, compare, replaced
from rewriter.worksheetmodel import words as sheet_words

_LABELS = {
    "reason": "Reason",
    "question": "Question",
    "error": "Error in the draft",
    "warning": "Warning",
    "remark": "Remark",
}


@dataclass(frozen=True, slots=True)
class Note:
    """Words in the margin, and the number that joins them to their place in the text."""

    number: int
    label: str
    text: str
    place: str
    change: bool
    """Whether they are about a change of the text."""


@dataclass
class Block:
    """A paragraph of the page: what became of its words, and its notes."""

    parts: list[Part] = field(default_factory=list)
    """Stretches of text, and numbers of notes where these are about the words before them."""
    notes: list[Note] = field(default_factory=list)

    @property
    def changed(self) -> bool:
        """Say whether any of its words changed."""
        return any(not isinstance(p, int) and p[0] != "same" for p in self.parts)


def redline_of(report: Report, source: SourceText) -> str:
    """Return the page for a rewriting: changes, reasons, questions, findings, and the proof."""
    blocks = _numbered_blocks(report, source, list(annotations_of(report)))
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
        title_of(split_document(source)),
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
    blocks = [b for b in _numbered_blocks(report, source, notes, shown) if b.parts]
    following = dict(pairwise(n.number for b in blocks for n in b.notes if n.change))
    markdown = source.format == "markdown"
    leading = _leading(blocks) if markdown else set()
    return "\n".join(
        _row(block, following, markdown, "change", number in leading)
        for number, block in enumerate(blocks)
    )


def _numbered_blocks(
    report: Report,
    source: SourceText,
    notes: Sequence[Annotation],
    shown: Callable[[str], str] = str,
) -> list[Block]:
    numbered = [
        Note(n, _LABELS[a.kind], sentence(a.text), source.where(a.span.start), a.kind == "reason")
        for n, a in enumerate(notes, 1)
    ]
    parts = unwrapped(_parts_of(report, source, notes, shown), wrap_width(source.text))
    return list(blocks_of(parts, numbered))


def _leading(blocks: Sequence[Block]) -> set[int]:
    """Return the headings under which something changes or is noted, whatever their level."""
    out: set[int] = set()
    above: dict[int, int] = {}
    for number, block in enumerate(blocks):
        opening = next((p for p in block.parts if not isinstance(p, int)), None)
        if opening and (hashes := _HASHES.match(opening[1])):
            level = len(hashes.group(1))
            above = {k: v for k, v in above.items() if k < level} | {level: number}
        elif block.changed or block.notes:
            out |= set(above.values())
    return out


def redline_of_texts(old: str, new: str, title: str, lead: str = "") -> str:
    """Return the page for two texts compared word by word, without reasons."""
    parts: list[Part] = [(p.kind, p.text) for p in compare(old, new)]
    changes = sum(
        not isinstance(b, int) and b[0] != "same" and (isinstance(a, int) or a[0] == "same")
        for a, b in pairwise([("same", ""), *parts])
    )
    words = f"{changes} change{'' if changes == 1 else 's'}." if changes else "No change."
    shown = list(blocks_of(unwrapped(parts, wrap_width(old)), []))
    return page(title, f"{lead} {words}".strip(), shown, "", False)


def sentence(text: str) -> str:
    """Return words as a sentence, with a capital and a full stop."""
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!", ".”", "?”")) else f"{text}."


# --- from a report to blocks ------------------------------------------------------------------------


def _parts_of(
    report: Report,
    source: SourceText,
    notes: Sequence[Annotation],
    shown: Callable[[str], str] = str,
) -> Iterator[Part]:
    """Yield the text in order with its changes, and the number of each note behind its words."""
    text = source.text
    at = 0
    waiting = sorted(
        (end_of_words(text, a.span.start, a.span.end), n) for n, a in enumerate(notes, 1)
    )
    for edit in report.edits:
        start, end = edit.span
        yield from _same(text, at, start, waiting, shown)
        for piece in replaced(shown(text[start:end]), shown(edit.replacement)):
            yield piece.kind, piece.text
        at = end
        while waiting and waiting[0][0] <= end:
            yield waiting.pop(0)[1]
    yield from _same(text, at, len(text), waiting, shown)
    yield from (number for _, number in waiting)


def _same(
    text: str, start: int, end: int, waiting: list[tuple[int, int]], shown: Callable[[str], str]
) -> Iterator[Part]:
    while waiting and waiting[0][0] < end:
        place, number = waiting.pop(0)
        if place > start:
            yield "same", shown(text[start:place])
            start = place
        yield number
    if end > start:
        yield "same", shown(text[start:end])


def end_of_words(text: str, start: int, end: int) -> int:
    """Return where a note's number goes: behind the last word of its first paragraph."""
    words = text[start:end]
    first = re.split(r"\r?\n[ \t]*\r?\n", words.lstrip("\r\n"), maxsplit=1)[0]
    return start + len(words) - len(words.lstrip("\r\n")) + len(first.rstrip())


_END = r"(?:\r\n|\r|\n)"
_PARTING = regex.compile(
    rf"(?m)({_END}[ \t]*{_END}\s*|(?<=^#{{1,6}}[ \t][^\r\n]*){_END}|{_END}(?=#{{1,6}}[ \t]))"
)
_BLANK_LAST = regex.compile(rf"{_END}[ \t]*{_END}\s*\Z")


def blocks_of(parts: Iterable[Part], notes: Sequence[Note]) -> Iterator[Block]:
    """Cut a text at its blank lines, with its notes; a change that holds some stays in one block."""
    block = Block()
    ended = False
    for part in parts:
        if isinstance(part, int):
            block.parts.append(part)
            block.notes.append(notes[part - 1])
            continue
        kind, text = part
        if kind != "same":
            block.parts.append(part)
            ended = _BLANK_LAST.search(text) is not None
            continue
        if ended:  # the change went up to a blank line
            yield block
            block, ended = Block(), False
        for count, stretch in enumerate(_PARTING.split(text)):
            if count % 2:
                yield block
                block = Block()
            elif stretch:
                block.parts.append(("same", stretch))
    yield block


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
    following = dict(pairwise(changes))
    body = "\n".join(_row(b, following, markdown, step) for b in blocks if b.parts)
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


_HASHES = re.compile(r"(#{1,6})\s+")


def _row(
    block: Block, following: dict[int, int], markdown: bool, step: str, leads: bool = False
) -> str:
    parts = list(block.parts)
    kind, level = "text", 0
    opening = next((p for p in parts if not isinstance(p, int)), None)
    if markdown and opening and (hashes := _HASHES.match(opening[1])):
        kind, level = "heading", min(len(hashes.group(1)) + 1, 4)
        place = parts.index(opening)
        parts[place] = (opening[0], opening[1][hashes.end() :])
    elif opening and opening[1].lstrip().startswith("|"):
        kind = "table"
    words = table_of(parts) if kind == "table" and markdown else ""
    words = words or _words(parts, markdown, {n.number: n for n in block.notes})
    notes = "".join(_note(n, following, step) for n in block.notes)
    aside = f'<ol class="notes" role="list">{notes}</ol>' if notes else ""
    classes = f"row{' changed' if block.changed else ''}{' noted' if notes else ''}"
    classes += " leads" if leads else ""
    tag = f"h{max(level, 2)}" if level else "div"
    return f'<section class="{classes}"><{tag} class="{kind}">{words}</{tag}>{aside}</section>'


_TAGS = {"deleted": "del", "inserted": "ins"}
_SIGNS = {"deleted": "−", "inserted": "+"}


def _words(parts: Sequence[Part], markdown: bool, notes: dict[int, Note]) -> str:
    """Return a block's words as HTML; a note's number stands within the change it is about."""
    out: list[str] = []
    bold: dict[Kind, bool] = {"same": False, "deleted": False, "inserted": False}
    previous: Kind = "same"
    at_line, broken = True, False
    for place, part in enumerate(parts):
        if isinstance(part, int):
            closing = next((t for t in _TAGS.values() if out and out[-1].endswith(f"</{t}>")), "")
            end = f"</{closing}>" if closing else ""
            out[-1:] = [f"{(out or [''])[-1].removesuffix(end)}{_reference(notes[part])}{end}"]
            continue
        kind, text = part
        if previous == "same" or kind == "same":
            bold["deleted"] = bold["inserted"] = bold["same"]
        lines = kind != "same" and at_line and _fills_lines(parts, place)
        if broken and kind == "same":
            text = text.removeprefix("\r").removeprefix("\n")  # whole lines end by themselves
        shown, bold[kind] = _weighed(text.strip("\n") if lines else text, bold[kind], markdown)
        if kind == "same":
            out.append(shown)
        else:
            sign = f'<i aria-hidden="true">{_SIGNS[kind]}</i>' if lines else ""
            shown = _SPACED.sub('<span class="gap"></span>', shown) if lines else shown
            out.append(
                f"<{_TAGS[kind]}{' class=lines' if lines else ''}>{sign}{shown}</{_TAGS[kind]}>"
            )
            bold["same"] = bold[kind]
        at_line = lines or text.endswith("\n")
        broken, previous = lines, kind
    return "".join(out)


def _fills_lines(parts: Sequence[tuple[Kind, str] | int], place: int) -> bool:
    """Say whether a change is of several lines, or stands for one that is."""
    following = [p for p in parts[place:] if not isinstance(p, int)]
    (kind, text), *rest = following[:2]
    if kind == "deleted" and rest and rest[0][0] == "inserted":
        text = f"{text}\n{rest[0][1]}" if "\n" in rest[0][1].strip() else text
    return "\n" in text.strip()


_SPACED = re.compile(r"\n[ \t]*\n\s*")


def _reference(note: Note) -> str:
    return (
        f'<a class="ref" id="r{note.number}" href="#n{note.number}" '
        f'aria-label="{escape(note.label)} {note.number}">{note.number}</a>'
    )


# A label or a whole line: stars elsewhere are those between which a row repeats.
_EMPHASIS = regex.compile(
    r"(?m)(?<![*\w])\*(?![\s*])([^*\n]{1,60}?:|(?<=^\*)[^*\n]*[^*\s])\*(?=\s|\Z)(?:(?<=:\*)|(?=\s*$))"
)


def _weighed(text: str, bold: bool, markdown: bool) -> tuple[str, bool]:
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if not markdown:
        return escape(text), bold
    out: list[str] = []
    for count, words in enumerate(text.split("**")):
        bold = bold != (count > 0)
        shown = _EMPHASIS.sub(r"<em>\1</em>", escape(words))
        out.append(f"<b>{shown}</b>" if bold and words else shown)
    return "".join(out), bold


def _note(note: Note, following: dict[int, int], step: str) -> str:
    more = following.get(note.number)
    go_on = f' <a class="next" href="#n{more}">Next {step}</a>' if more else ""
    return (
        f'<li id="n{note.number}" class="{note.label.split()[0].lower()}">'
        f'<p><a class="back" href="#r{note.number}" aria-label="Back to the place">{note.number}</a> '
        f"<strong>{escape(note.label)}</strong> <span>{escape(note.place)}</span></p>"
        f"<p>{escape(note.text)}{go_on}</p></li>"
    )
