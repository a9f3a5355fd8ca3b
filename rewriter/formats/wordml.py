"""The words of one DOCX paragraph and their runs: read, cut, delete and insert with change marks.

Element names and the order of elements follow the open standard ECMA-376 (Office Open XML), part 1,
section 17.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rewriter.formats.flow import Run

if TYPE_CHECKING:
    from lxml.etree import _Element

NAMESPACE = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
XML_SPACE = "{http://www.w3.org/XML/1998/namespace}space"


class _Names:
    """Qualified names: `W.pPr` is the name of a paragraph's properties."""

    def of(self, local: str) -> str:
        return f"{{{NAMESPACE}}}{local}"

    def __getattr__(self, local: str) -> str:
        return self.of(local)


W = _Names()


def val(element: _Element | None) -> str:
    """Return an element's value, empty where there is none."""
    return (element.get(W.val) or "") if element is not None else ""


@dataclass(frozen=True)
class Stamp:
    """Who changes the document, and when; and the marks made so far."""

    author: str
    date: str
    first: int
    """Number of the first change mark."""
    made: list[str] = field(default_factory=list)

    def mark(self, tag: str) -> _Element:
        """Return a new change mark with a number of its own."""
        from lxml import etree

        number = str(self.first + len(self.made))
        self.made.append(number)
        element = etree.Element(tag)
        element.set(W.id, number)
        element.set(W.author, self.author)
        element.set(W.date, self.date)
        return element


@dataclass(frozen=True)
class Seen:
    """Which changes are seen as made: all of them, but for the ones refused (by number)."""

    refused: frozenset[str] = frozenset()

    def hides(self, element: _Element) -> bool:
        """Say whether what stands under a change mark is not seen."""
        if element.tag in _DELETED:
            return element.get(W.id) not in self.refused
        return element.tag in _INSERTED and element.get(W.id) in self.refused

    def joins_next(self, paragraph: _Element) -> bool:
        """Say whether a paragraph's end is not seen, so that the next paragraph goes on in it."""
        marks = paragraph.find(f"{W.pPr}/{W.rPr}")
        return marks is not None and any(self.hides(mark) for mark in marks)


_DELETED = (W.of("del"), W.moveFrom)
_INSERTED = (W.ins, W.moveTo)
# Parts of a paragraph whose characters are not words of it.
_NOT_WORDS = frozenset(
    {
        W.pPr, W.rPr, W.sdtPr, W.sdtEndPr, W.smartTagPr, W.customXmlPr, W.instrText, W.delInstrText,
        W.rt, W.object, W.pict, W.drawing, W.p, W.tbl,
    }
)  # fmt: skip
_ATOMS = {
    W.tab: "\t",
    W.ptab: "\t",
    W.br: "\n",
    W.cr: "\n",
    W.noBreakHyphen: "\u2011",
    W.sym: "\ufffd",  # a sign of a symbol font: it must not be passed over
}
_FORMULA = "{http://schemas.openxmlformats.org/officeDocument/2006/math}oMath"
_ALTERNATE = "{http://schemas.openxmlformats.org/markup-compatibility/2006}AlternateContent"
_NOTES = (W.footnoteReference, W.endnoteReference)


@dataclass(frozen=True, slots=True)
class Atom:
    """A piece of a paragraph's words: its text, the element that holds it, and that one's run."""

    at: int
    text: str
    element: _Element
    run: _Element


def atoms(paragraph: _Element, seen: Seen) -> list[Atom]:
    """Return the words of a paragraph in order; insertions are seen, deletions are not."""
    out: list[Atom] = []
    at = 0
    for element, run in _leaves(paragraph, seen):
        text = _text_of(element)
        if text:
            out.append(Atom(at, text, element, run))
            at += len(text)
    return out


def _leaves(parent: _Element, seen: Seen) -> Iterator[tuple[_Element, _Element]]:
    for child in parent:
        if child.tag in _NOT_WORDS or child.tag == _ALTERNATE or seen.hides(child):
            continue
        if child.tag == _FORMULA:
            yield child, child
        elif parent.tag == W.r:
            yield child, parent
        elif child.tag != W.r or not _hidden(child):
            yield from _leaves(child, seen)


def _hidden(run: _Element) -> bool:
    found = run.find(f"{W.rPr}/{W.vanish}")
    return found is not None and found.get(W.val, "1") not in ("0", "false", "off")


def _text_of(element: _Element) -> str:
    if element.tag in (W.t, W.delText):
        return element.text or ""
    if element.tag == _FORMULA:
        return "\ufffd"
    if element.tag in _NOTES:
        return f"[^{element.get(W.id)}]"
    if element.tag == W.br and element.get(W.type) in ("page", "column"):
        return ""
    return _ATOMS.get(str(element.tag), "")


# --- cutting ----------------------------------------------------------------------------------------


def cut(paragraph: _Element, at: int, seen: Seen) -> None:
    """Make a place between two characters a place between two runs."""
    for atom in atoms(paragraph, seen):
        if atom.at == at:
            first = next(c for c in atom.run if c.tag != W.rPr) if atom.run.tag == W.r else None
            if first is not None and first is not atom.element:
                _split(atom.run, atom.element, 0)
            return
        if atom.at < at < atom.at + len(atom.text):
            if atom.element.tag not in (W.t, W.delText):
                return  # a note's sign is one character to the reader: taken whole
            _split(atom.run, atom.element, at - atom.at)
            return


def _split(run: _Element, element: _Element, at: int) -> None:
    right = copy.deepcopy(run)
    index = list(run).index(element)
    for child in list(right)[:index]:
        if child.tag != W.rPr:
            right.remove(child)
    for child in list(run)[index + 1 :]:
        run.remove(child)
    twin = next(c for c in right if c.tag != W.rPr)
    if at == 0:
        run.remove(element)
    else:
        _set_text(twin, (element.text or "")[at:])
        _set_text(element, (element.text or "")[:at])
    run.addnext(right)


def _set_text(element: _Element, text: str) -> None:
    element.text = text
    element.set(XML_SPACE, "preserve")


# --- replacing --------------------------------------------------------------------------------------


def delete(paragraph: _Element, start: int, end: int, stamp: Stamp, seen: Seen) -> _Element | None:
    """Mark characters as deleted; return the last element marked, None where there were none."""
    cut(paragraph, end, seen)
    cut(paragraph, start, seen)
    last = None
    done: set[int] = set()
    for atom in atoms(paragraph, seen):
        if not start <= atom.at < end or id(atom.run) in done:
            continue
        done.add(id(atom.run))
        for text in atom.run.findall(W.t):
            text.tag = W.delText
            text.set(XML_SPACE, "preserve")
        mark = stamp.mark(W.of("del"))
        atom.run.addprevious(mark)
        mark.append(atom.run)
        last = mark
    return last


def insert(
    paragraph: _Element,
    at: int,
    after: _Element | None,
    runs: Sequence[Run],
    like: tuple[_Element | None, _Element | None],
    stamp: Stamp,
    seen: Seen,
) -> _Element | None:
    """Insert runs with an insertion mark, after an element or before the character at a place.

    `like` gives the properties of a light and of a bold run. Returns the mark, None for no runs.
    """
    if not runs:
        return after
    mark = stamp.mark(W.ins)
    for run in runs:
        mark.append(new_run(run.text, like[run.bold]))
    if after is None:
        cut(paragraph, at, seen)
        before = [a for a in atoms(paragraph, seen) if a.at < at]
        after = before[-1].run if before else None
    if after is None:
        properties = paragraph.find(W.pPr)
        paragraph.insert(0 if properties is None else 1, mark)
        return mark
    parent = after.getparent()
    while parent is not None and parent.tag in (*_INSERTED, *_DELETED):
        after, parent = parent, parent.getparent()
    after.addnext(mark)
    return mark


def new_run(text: str, properties: _Element | None) -> _Element:
    """Return a run of text with a copy of properties; tabs and line breaks as their elements."""
    from lxml import etree

    run = etree.Element(W.r)
    if properties is not None:
        run.append(copy.deepcopy(properties))
    for count, line in enumerate(text.split("\n")):
        if count:
            etree.SubElement(run, W.br)
        for tabs, piece in enumerate(line.split("\t")):
            if tabs:
                etree.SubElement(run, W.tab)
            if piece:
                _set_text(etree.SubElement(run, W.t), piece)
    return run


def is_inside(element: _Element, tags: Sequence[str], within: _Element) -> bool:
    """Say whether an element stands under one of some elements, up to a paragraph."""
    parent = element.getparent()
    while parent is not None and parent is not within:
        if parent.tag in tags:
            return True
        parent = parent.getparent()
    return False


def top_of(element: _Element, paragraph: _Element) -> _Element:
    """Return the direct child of a paragraph in which an element stands."""
    parent = element.getparent()
    while parent is not None and parent is not paragraph:
        element, parent = parent, parent.getparent()
    return element
