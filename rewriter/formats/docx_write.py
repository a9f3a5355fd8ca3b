"""Set changes of paragraphs into a DOCX document as tracked changes, with comments; and settle them."""

from __future__ import annotations

import copy
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from rewriter import regex
from rewriter.formats.docx_boxes import hanger_of
from rewriter.formats.docx_read import Located
from rewriter.formats.flow import Change, Flow, Part, Run
from rewriter.formats.wordml import (
    Seen,
    Stamp,
    W,
    atoms,
    cut,
    delete,
    insert,
    top_of,
)
from rewriter.spans import Span

if TYPE_CHECKING:
    from lxml.etree import _Element

# What stands before `w:b` in a run's properties, in the order that the standard asks for.
_BEFORE_BOLD = (W.rStyle, W.rFonts)
_NEW_PAGE = (W.pageBreakBefore,)


class Writer:
    """Makes changes in the paragraphs of one document; later ones first, so that places stay true."""

    def __init__(self, flow: Flow, located: Sequence[Located], stamp: Stamp) -> None:
        """Take the paragraphs as they were read."""
        self._flow = flow
        self._located = located
        self._stamp = stamp
        self._seen = Seen()

    def make(self, change: Change, tracked: bool) -> None:
        """Make one change, whose marks are to stay (`tracked`) or to be settled."""
        parts, added, dropped = change.laid_out(tracked and self._is_pending(change.parts))
        for part in reversed(parts):
            one = self._located[part.paragraph]
            more = added if part is parts[-1] else ()
            for elements in (one.elements, one.twins):
                if elements:
                    self._replace(part, elements, more)
        if dropped:
            self._drop(parts, dropped)

    def _is_pending(self, parts: Sequence[Part]) -> bool:
        """Say whether somebody's change of a paragraph's end is unsettled, before the last one.

        A second mark on such an end is right by the standard, but not every word processor keeps both.
        """
        ends = [self._located[p.paragraph].elements[-1] for p in parts[:-1]]
        marks = (mark for e in ends for mark in e.iterfind(f"{W.pPr}/{W.rPr}/*"))
        return any(mark.tag in (W.ins, W.of("del"), W.moveFrom, W.moveTo) for mark in marks)

    def _replace(
        self, part: Part, elements: tuple[_Element, ...], added: Sequence[tuple[Run, ...]]
    ) -> None:
        like = self._like(part, elements)
        runs = part.runs
        if self._counts_are_bold(part, elements):
            runs = counts_bold(runs)
            added = tuple(counts_bold(own) for own in added)
        last, place = None, elements[-1]
        at = 0
        reached = 0
        for element in elements:
            length = _length(element, self._seen)
            start, end = max(part.span.start - at, 0), min(part.span.end - at, length)
            if start <= length and end >= 0 and part.span.start <= at + length:
                place, reached = element, max(end, start)
                if start < end:
                    marked = delete(element, start, end, self._stamp, self._seen)
                    last = last if marked is None else marked
            at += length
            if part.span.end <= at:
                break
        # what is deleted is no longer counted: the new words stand where it began
        begins = reached if last is None else 0
        made = insert(place, begins, last, runs, like, self._stamp, self._seen)
        if added:
            self._add(place, made, reached, added, like)

    def _add(
        self,
        paragraph: _Element,
        after: _Element | None,
        at: int,
        added: Sequence[tuple[Run, ...]],
        like: tuple[_Element | None, _Element | None],
    ) -> None:
        """Add paragraphs: the old paragraph's end becomes a new one, the last new end is the old one.

        That is the order in which a word processor marks an Enter within a paragraph; refused, it
        leaves no empty line behind.
        """
        from lxml import etree

        if after is None:
            cut(paragraph, at, self._seen)
            before = [a for a in atoms(paragraph, self._seen) if a.at < at]
            after = before[-1].run if before else paragraph.find(W.pPr)
        tail = list(paragraph) if after is None else list(top_of(after, paragraph).itersiblings())
        properties = paragraph.find(W.pPr)
        original = copy.deepcopy(properties) if properties is not None else None
        if properties is not None:
            for section in properties.findall(W.sectPr):
                properties.remove(section)
            _clear_end(properties)  # what was marked of the old end goes with it
        _mark_end(paragraph, self._stamp.mark(W.ins))
        previous = paragraph
        for number, runs in enumerate(added):
            new = etree.Element(W.p)
            final = number + 1 == len(added)
            if original is not None:
                own = copy.deepcopy(original)
                if not final:
                    for child in [c for c in own if c.tag in (W.sectPr, W.pPrChange, *_NEW_PAGE)]:
                        own.remove(child)
                    _clear_end(own)
                new.append(own)
            if not final:
                _mark_end(new, self._stamp.mark(W.ins))
            insert(new, 0, None, runs, like, self._stamp, self._seen)
            if final:
                new.extend(tail)
            previous.addnext(new)
            previous = new

    def _drop(self, parts: Sequence[Part], dropped: int) -> None:
        gone = parts[-dropped:]
        final = self._located[gone[-1].paragraph].elements[-1]
        following = final.getnext()
        whole = all(
            part.span == Span(0, len(self._flow.paragraphs[part.paragraph].text)) and not part.runs
            for part in gone
        )
        if not (whole and following is not None and following.tag == W.p):
            # the end before each goes, so that the last one's own end stays
            gone = parts[-dropped - 1 : -1]
        for part in gone:
            one = self._located[part.paragraph]
            for elements in (one.elements, one.twins):
                if elements:
                    _mark_end(elements[-1], self._stamp.mark(W.of("del")))

    def _like(
        self, part: Part, elements: tuple[_Element, ...]
    ) -> tuple[_Element | None, _Element | None]:
        """Return properties for a light and a bold run, as the words replaced have them."""
        leads = self._leads(part.paragraph)
        weights: dict[tuple[bool, bool], dict[int, tuple[int, _Element | None]]] = {}
        at = 0
        for element in elements:
            for atom in atoms(element, self._seen):
                middle = at + atom.at
                in_lead = any(s.start <= middle < s.end for s in leads)
                inside = part.span.start < middle + len(atom.text) and middle < part.span.end
                kind = weights.setdefault((in_lead, inside), {})
                count, _ = kind.get(id(atom.run), (0, None))
                kind[id(atom.run)] = (count + len(atom.text), atom.run.find(W.rPr))
            at += _length(element, self._seen)

        def heaviest(lead: bool) -> tuple[bool, _Element | None]:
            for inside in (True, False):
                if found := weights.get((lead, inside)):
                    return True, max(found.values(), key=lambda v: v[0])[1]
            return False, None

        (has_light, light), (has_bold, bold) = heaviest(False), heaviest(True)
        if not has_light and has_bold:
            light = _weighed(bold, False)
        if not has_bold:
            bold = _weighed(light, True)
        return _plain(light), _plain(bold)

    def _counts_are_bold(self, part: Part, elements: tuple[_Element, ...]) -> bool:
        """Say whether the numbers of the words replaced are bold by themselves, and the words light."""
        leads = self._leads(part.paragraph)
        weights: dict[bool, set[bool]] = {True: set(), False: set()}
        at = 0
        for element in elements:
            for atom in atoms(element, self._seen):
                bold = _is_bold(atom.run.find(W.rPr))
                for place, character in enumerate(atom.text, at + atom.at):
                    inside = part.span.start <= place < part.span.end
                    if (
                        inside
                        and character.isalnum()
                        and not any(s.start <= place < s.end for s in leads)
                    ):
                        weights[character.isdigit()].add(bold)
            at += _length(element, self._seen)
        return weights == {True: {True}, False: {False}}

    def _leads(self, paragraph: int) -> list[Span]:
        start, end = self._flow.starts[paragraph], self._flow.ends[paragraph]
        return [
            Span(self._flow.within(paragraph, s.start), self._flow.within(paragraph, s.end))
            for s in self._flow.bold
            if start <= s.start and s.end <= end
        ]

    def can_anchor(self, span: Span) -> bool:
        """Say whether a comment can stand at a span: notes below the page and numbers of items take none."""
        if not self._flow.has_own(span):
            return False
        numbers = (self._flow.paragraph_at(span.start), self._flow.paragraph_at(span.end))
        roots = [self._located[n].elements[0].getroottree().getroot().tag for n in numbers]
        return all(tag == W.document for tag in roots)

    def anchor(self, span: Span, start: _Element, end: _Element) -> None:
        """Set two elements around the words of a span, or around the text box in which they stand.

        Not every word processor takes a comment within a text box.
        """
        first, last = self._flow.paragraph_at(span.start), self._flow.paragraph_at(span.end)
        if last > first and span.end <= self._flow.starts[last]:
            last -= 1
        if (box := hanger_of(self._located[first].elements[0])) is not None:
            box.addprevious(start)
            box.addnext(end)
            return
        for number, offset, element, before in (
            (last, span.end, end, False),
            (first, span.start, start, True),
        ):
            at = self._flow.within(number, offset)
            elements = self._located[number].elements
            for place in elements:
                length = _length(place, self._seen)
                if at < length or place is elements[-1] or (at == length and not before):
                    break
                at -= length
            _set_beside(place, at, element, before, self._seen)


def _set_beside(paragraph: _Element, at: int, element: _Element, before: bool, seen: Seen) -> None:
    cut(paragraph, at, seen)
    found = atoms(paragraph, seen)
    if before:
        after = [a for a in found if a.at >= at]
        if after:
            top_of(after[0].run, paragraph).addprevious(element)
            return
    else:
        ahead = [a for a in found if a.at < at]
        if ahead:
            top_of(ahead[-1].run, paragraph).addnext(element)
            return
    properties = paragraph.find(W.pPr)
    if before and not found:
        paragraph.insert(0 if properties is None else 1, element)
    elif before:
        paragraph.append(element)
    else:
        paragraph.insert(0 if properties is None else 1, element)


def _length(paragraph: _Element, seen: Seen) -> int:
    return sum(len(a.text) for a in atoms(paragraph, seen))


def _mark_end(paragraph: _Element, mark: _Element) -> None:
    """Put a change mark on a paragraph's end."""
    from lxml import etree

    properties = paragraph.find(W.pPr)
    if properties is None:
        properties = etree.Element(W.pPr)
        paragraph.insert(0, properties)
    of_end = properties.find(W.rPr)
    if of_end is None:
        of_end = etree.Element(W.rPr)
        late = [c for c in properties if c.tag in (W.sectPr, W.pPrChange)]
        if late:
            late[0].addprevious(of_end)
        else:
            properties.append(of_end)
    inserted = of_end.find(W.ins)
    if inserted is not None and mark.tag != W.ins:
        inserted.addnext(mark)
    else:
        of_end.insert(0, mark)


def _clear_end(properties: _Element) -> None:
    for of_end in properties.findall(W.rPr):
        for mark in of_end.findall(W.ins) + of_end.findall(W.of("del")):
            of_end.remove(mark)


# A count with its sizes, "8(9:10)" or "8 (9, 10)"; those that begin a paragraph stay as they are, for
# bold words there are a heading of what follows.
_COUNT = regex.compile(r"(?<=\S\s*)\d+(?:\s?[(\[][\d\s:,;/()\[\]–-]*[)\]])?")


def counts_bold(runs: tuple[Run, ...]) -> tuple[Run, ...]:
    """Return light runs with their counts bold.

    >>> [r.text for r in counts_bold((Run("P to last 8(9:9) sts, turn."),)) if r.bold]
    ['8(9:9)']
    """
    out: list[Run] = []
    for run in runs:
        at = 0
        for found in _COUNT.finditer(run.text) if not run.bold else ():
            out += [Run(run.text[at : found.start()]), Run(found.group(), bold=True)]
            at = found.end()
        out.append(Run(run.text[at:], run.bold))
    return tuple(r for r in out if r.text)


def _is_bold(properties: _Element | None) -> bool:
    """Say whether a run is bold by its own properties."""
    sign = None if properties is None else properties.find(W.b)
    return sign is not None and sign.get(W.val) not in ("0", "false", "off", "none")


def _weighed(properties: _Element | None, bold: bool) -> _Element:
    """Return a copy of run properties made bold or light."""
    from lxml import etree

    own = copy.deepcopy(properties) if properties is not None else etree.Element(W.rPr)
    for child in own.findall(W.b):
        own.remove(child)
    sign = etree.Element(W.b)
    if not bold:
        sign.set(W.val, "0")
    own.insert(sum(child.tag in _BEFORE_BOLD for child in own), sign)
    return own


def _plain(properties: _Element | None) -> _Element | None:
    """Leave pending changes of the format itself out of what is copied."""
    if properties is None or properties.find(W.rPrChange) is None:
        return properties
    own = copy.deepcopy(properties)
    for change in own.findall(W.rPrChange):
        own.remove(change)
    return own


def settle(root: _Element, numbers: frozenset[str], remove: Callable[[_Element], None]) -> None:
    """Make the tracked changes of some numbers in earnest: insertions stay, deletions go."""
    for mark in [m for m in root.iter(W.ins, W.of("del")) if m.get(W.id) in numbers]:
        parent = mark.getparent()
        if parent is None:
            continue
        if parent.tag == W.rPr:
            paragraph = next(p for p in mark.iterancestors(W.p))
            parent.remove(mark)
            if len(parent) == 0:
                remove(parent)
            if mark.tag == W.ins:
                continue
            following = paragraph.getnext()
            if following is not None and following.tag == W.p:
                properties = following.find(W.pPr)
                place = 0 if properties is None else 1
                for child in reversed([c for c in paragraph if c.tag != W.pPr]):
                    following.insert(place, child)
                remove(paragraph)
        elif mark.tag == W.ins:
            for child in list(mark):
                mark.addprevious(child)
            remove(mark)
        else:
            remove(mark)
