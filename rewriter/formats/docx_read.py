"""From a DOCX package to paragraphs: body, tables, text boxes, footnotes, in reading order."""

from __future__ import annotations

import posixpath
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby
from typing import TYPE_CHECKING

from rewriter.formats.archive import Package
from rewriter.formats.docx_styles import Lists, Look, Styles
from rewriter.formats.flow import Flow, Paragraph, Run, assemble
from rewriter.formats.wordml import Atom, Seen, W, atoms, is_inside
from rewriter.source import UnreadableDraft

if TYPE_CHECKING:
    from lxml.etree import _Element

MOST_PARAGRAPHS = 50_000
LONGEST_TEXT = 4_000_000
"""Characters; a pattern has some ten thousand, a book of them a million."""

_RELATED = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_CONTENT = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}txbxContent"
_FALLBACK = "{http://schemas.openxmlformats.org/markup-compatibility/2006}Fallback"
_ALTERNATE = "{http://schemas.openxmlformats.org/markup-compatibility/2006}AlternateContent"
_BLOCK_HOLDERS = frozenset({W.sdt, W.sdtContent, W.customXml, W.ins, W.moveTo})
_LONG_CELL = 150
"""Characters; a cell with more holds prose, so that its table only lays out the page."""


@dataclass(frozen=True)
class Located:
    """A paragraph as read, and the elements that hold its words."""

    paragraph: Paragraph
    elements: tuple[_Element, ...]
    """One, or several where the ends of the first ones are deleted."""
    twins: tuple[_Element, ...] = ()
    """The same words kept again for older readers (of a text box)."""


@dataclass
class Parts:
    """The parts of a package that hold words, parsed."""

    package: Package
    main: str
    roots: dict[str, _Element] = field(default_factory=dict)
    related: dict[str, str] = field(default_factory=dict)
    """Name of the part for each kind of relation of the main part."""


def open_parts(package: Package) -> Parts:
    """Find and parse the main part and its notes; raises UnreadableDraft where there is none."""
    main = next(
        (
            t
            for kind, t in _relations(package, "_rels/.rels", "")
            if kind.endswith("/officeDocument")
        ),
        "",
    )
    if not main:
        raise UnreadableDraft(f"{package.name}: this is not a text document; save it as .docx")
    parts = Parts(package, main)
    root = package.xml(main)
    if root.tag != W.document:
        raise UnreadableDraft(
            f"{package.name}: saved in the strict form of the format; save it as an ordinary .docx"
        )
    parts.roots[main] = root
    folder, file = posixpath.split(main)
    rels = f"{folder}/_rels/{file}.rels" if folder else f"_rels/{file}.rels"
    for kind, target in _relations(package, rels, folder):
        if kind.startswith(_OFFICE):
            parts.related.setdefault(kind[len(_OFFICE) + 1 :], target)
    for kind in ("footnotes", "endnotes"):
        if (part := parts.related.get(kind)) and part in package:
            parts.roots[part] = package.xml(part)
    return parts


def _relations(package: Package, part: str, folder: str) -> Iterator[tuple[str, str]]:
    if part not in package:
        return
    for relation in package.xml(part).iter(_RELATED):
        target = relation.get("Target", "")
        if relation.get("TargetMode") == "External" or not target:
            continue
        path = target[1:] if target.startswith("/") else posixpath.join(folder, target)
        yield relation.get("Type", ""), posixpath.normpath(path)


class Reader:
    """Reads the paragraphs of a document, with the changes of some numbers refused."""

    def __init__(self, parts: Parts, seen: Seen | None = None) -> None:
        """Take the parsed parts; `seen` says which pending changes are taken as refused."""
        self._parts = parts
        self._seen = seen or Seen()
        related, package = parts.related, parts.package
        self._styles = Styles(_optional(package, related.get("styles")))
        self._lists = Lists(_optional(package, related.get("numbering")))
        self._area = 0
        self._count = 0
        self._length = 0

    def read(self) -> tuple[Flow, list[Located]]:
        """Return the text of the document, and its paragraphs with their elements."""
        root = self._parts.roots[self._parts.main]
        body = root.find(W.body)
        if body is None:
            raise UnreadableDraft(f"{self._parts.package.name}: the document has no body")
        located = list(self._blocks(body, 0))
        located += [p for box in _text_boxes(body) for p in self._text_box(*box)]
        for part, root in self._parts.roots.items():
            if part != self._parts.main:
                located += self._notes(root)
        return assemble(p.paragraph for p in located), located

    def _blocks(self, container: _Element, area: int) -> Iterator[Located]:
        chain: list[_Element] = []
        for child in _flat(container, self._seen):
            if child.tag == W.p:
                chain.append(child)
                if not self._seen.joins_next(child):
                    yield from self._paragraphs(tuple(chain), area)
                    chain = []
            elif child.tag == W.tbl:
                if chain:
                    yield from self._paragraphs(tuple(chain), area)
                    chain = []
                yield from self._table(child)
        if chain:
            yield from self._paragraphs(tuple(chain), area)

    def _paragraphs(self, chain: tuple[_Element, ...], area: int) -> Iterator[Located]:
        look = self._styles.look(chain[-1])
        if not look.is_contents:
            yield self._paragraph(chain, look, area)

    def _paragraph(self, chain: tuple[_Element, ...], look: Look, area: int) -> Located:
        runs = self._runs(chain, look.bold)
        words = "".join(run.text for run in runs).strip()
        self._count += 1
        self._length += len(words)
        if self._count > MOST_PARAGRAPHS or self._length > LONGEST_TEXT:
            raise UnreadableDraft(
                f"{self._parts.package.name}: longer than a book of patterns (at paragraph "
                f"{self._count}); split it"
            )
        paragraph = Paragraph(
            runs,
            family=look.family,
            space_before=look.space_before,
            space_after=look.space_after,
            contextual=look.contextual,
            area=area,
        )
        if look.heading and words and len(words) < _LONG_CELL:
            paragraph = replace(paragraph, role="heading", prefix="#" * look.heading + " ")
        elif look.list_id and words:
            paragraph = replace(paragraph, role="item", prefix=self._lists.sign(look))
        return Located(paragraph, chain)

    def _runs(self, chain: Sequence[_Element], bold: bool) -> tuple[Run, ...]:
        weighed = [
            (atom.text, self._styles.is_bold(atom.run, bold))
            for element in chain
            for atom in atoms(element, self._seen)
        ]
        return tuple(
            Run("".join(text for text, _ in group), weight)
            for weight, group in groupby(weighed, key=lambda w: w[1])
        )

    def _table(self, table: _Element) -> Iterator[Located]:
        rows = [list(_cells(row)) for row in table.iter(W.tr) if _table_of(row) is table]
        if _lays_out(table, rows, self._seen):
            for row in rows:
                for cell in row:
                    self._area += 1
                    yield from self._blocks(cell, self._area)
            return
        self._area += 1
        width = max((len(row) for row in rows), default=0)
        for number, row in enumerate(rows):
            below = " |\n| " if number else f" |\n|{' --- |' * width}\n| "
            for column, cell in enumerate(row):
                last = column + 1 == len(row)
                gap = " | " if not last else below if number + 1 < len(rows) else " |\n\n"
                paragraphs = tuple(cell.iter(W.p))
                self._count += 1
                if self._count > MOST_PARAGRAPHS:
                    raise UnreadableDraft(
                        f"{self._parts.package.name}: a table has more than {MOST_PARAGRAPHS} cells; "
                        "copy the text of the pattern into a new document"
                    )
                runs = [r for p in paragraphs for r in (*self._runs((p,), False), Run("\n"))][:-1]
                yield Located(
                    Paragraph(
                        tuple(runs),
                        role="cell",
                        prefix="| " if number == column == 0 else "",
                        area=self._area,
                        gap=gap,
                    ),
                    paragraphs,
                )

    def _text_box(self, box: _Element, twin: _Element | None) -> Iterator[Located]:
        self._area += 1
        found = list(self._blocks(box, self._area))
        again = list(self._blocks(twin, self._area)) if twin is not None else []
        same = len(found) == len(again) and all(
            a.paragraph.text == b.paragraph.text for a, b in zip(found, again, strict=True)
        )
        for number, one in enumerate(found):
            yield replace(one, twins=again[number].elements) if same else one

    def _notes(self, root: _Element) -> Iterator[Located]:
        for note in (*root.iter(W.footnote), *root.iter(W.endnote)):
            if note.get(W.type) in (None, "normal"):
                self._area += 1
                for number, one in enumerate(self._blocks(note, self._area)):
                    prefix = f"[^{note.get(W.id)}]: " if number == 0 else ""
                    yield replace(one, paragraph=replace(one.paragraph, prefix=prefix, role="text"))


def _optional(package: Package, part: str | None) -> _Element | None:
    return package.xml(part) if part and part in package else None


def _flat(container: _Element, seen: Seen) -> Iterator[_Element]:
    """Yield the paragraphs and tables of a container, through content controls and the like."""
    for child in container:
        if child.tag in (W.p, W.tbl):
            yield child
        elif child.tag in _BLOCK_HOLDERS and not seen.hides(child):
            yield from _flat(child, seen)


def _cells(row: _Element) -> Iterator[_Element]:
    for child in row:
        if child.tag == W.tc:
            yield child
        elif child.tag in _BLOCK_HOLDERS:
            yield from _cells(child)


def _table_of(row: _Element) -> _Element | None:
    parent = row.getparent()
    while parent is not None and parent.tag != W.tbl:
        parent = parent.getparent()
    return parent


def _lays_out(table: _Element, rows: Sequence[Sequence[_Element]], seen: Seen) -> bool:
    """Say whether a table only lays out the page: its cells hold prose."""
    if sum(len(row) for row in rows) <= 1 or table.find(f".//{W.tc}//{W.tbl}") is not None:
        return True
    for row in rows:
        for cell in row:
            lengths = [_length(p, seen) for p in cell.iter(W.p)]
            if max(lengths, default=0) > _LONG_CELL or sum(n > 40 for n in lengths) > 2:
                return True
    return False


def _length(paragraph: _Element, seen: Seen) -> int:
    found: list[Atom] = atoms(paragraph, seen)
    return sum(len(atom.text) for atom in found)


def _text_boxes(body: _Element) -> Iterator[tuple[_Element, _Element | None]]:
    """Yield each text box, and its copy for older readers."""
    for box in body.iter(_CONTENT):
        if is_inside(box, (_FALLBACK,), body):
            continue
        holder = box.getparent()
        while holder is not None and holder is not body and holder.tag != _ALTERNATE:
            holder = holder.getparent()
        if holder is None or holder is body:
            yield box, None
            continue
        firsts = [b for b in holder.iter(_CONTENT) if not is_inside(b, (_FALLBACK,), holder)]
        copies = [b for b in holder.iter(_CONTENT) if is_inside(b, (_FALLBACK,), holder)]
        number = firsts.index(box)
        yield box, copies[number] if number < len(copies) else None
