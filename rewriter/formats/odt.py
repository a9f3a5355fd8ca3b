"""ODT drafts: read, and revised by tracked changes with comments; all other parts stay as they are.

Change marks follow OpenDocument 1.2, part 1, section 5.5: what is deleted moves into a changed region,
what is new stands between two marks.
"""

from __future__ import annotations

import copy
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rewriter.annotations import Annotation
from rewriter.edits import Edit
from rewriter.formats.archive import Package, dump_xml
from rewriter.formats.carrier import AUTHOR, NotWritable, place_edits, source_of, unsettled
from rewriter.formats.flow import Change, Flow, NotPlaced
from rewriter.formats.odf import (
    DC,
    FO,
    OFFICE,
    STYLE,
    TEXT,
    XML_ID,
    H,
    P,
    append_content,
    append_runs,
    collapse,
    leaves,
    length,
    split,
)
from rewriter.formats.odt_blocks import (
    in_lists,
    lists_around,
    out_of_lists,
    remove,
    set_after,
    take_out,
)
from rewriter.formats.odt_read import OdtParagraph, OdtReader, OdtStyles
from rewriter.options import Changes
from rewriter.source import UnreadableDraft

if TYPE_CHECKING:
    from lxml.etree import _Element

_BOLD = "SlopewiseBold"
_CONTINUED = f"{TEXT}continue-list"
_NOTE_SIGN = re.compile(r"\[\^(?P<name>[^\]\s]+)\](?!:)")
"""The sign of a footnote or endnote in the text."""
_WORDS_SHOWN = 8
_INSERTION = (f"{TEXT}change-start", f"{TEXT}change-end")


class OdtDraft:
    """A draft in ODT."""

    suffixes: tuple[str, ...] = (".odt",)
    binary = True

    def __init__(self, data: bytes, name: str) -> None:
        """Read a document; raises UnreadableDraft where it is damaged, locked or far too large."""
        self._data, self._name = data, name
        self._package = Package(data, name)
        if b"encryption-data" in self._package.read("META-INF/manifest.xml"):
            raise UnreadableDraft(f"{name}: it is locked by a password; save it without one")
        self._outer = self._package.xml("styles.xml") if "styles.xml" in self._package else None
        content = self._content()
        regions = content.iter(f"{TEXT}changed-region")
        self.notice = unsettled(
            c.text or "somebody" for r in regions for c in r.iter(f"{DC}creator")
        )
        flow, _ = self._read(content)
        if not flow.text.strip():
            raise UnreadableDraft(f"{name}: the document has no text; give the text of a pattern")
        self.source = source_of(flow, data, name, "odt", self.notice)

    def _content(self) -> _Element:
        content = self._package.xml("content.xml")
        for paragraph in content.iter(P, H):
            collapse(paragraph)
        return content

    def _read(self, content: _Element) -> tuple[Flow, list[OdtParagraph]]:
        return OdtReader(content, OdtStyles([content, self._outer]), self._name).read()

    def revised(
        self,
        edits: Sequence[Edit],
        annotations: Iterable[Annotation],
        changes: Changes,
        date: str,
        output: str,
        author: str = AUTHOR,
    ) -> bytes:
        """Return the document with edits of its text set in; raises NotWritable where one has no place.

        The result is read again, once with all changes taken and once with all refused.
        """
        if not edits:
            return self._data
        self._refuse_lost_notes(edits)
        content = self._content()
        flow, located = self._read(content)
        planned = place_edits(flow, edits, self.source)
        marker = _Marker(content, date, author)
        if changes == "tracked":
            for note in sorted(annotations, key=lambda a: -a.span.start):
                if note.span.start < note.span.end and not flow.has_own(note.span):
                    continue  # the number of an item, which counts by itself
                number = flow.paragraph_at(note.span.start)
                marker.comment(located[number].element, flow.within(number, note.span.start), note)
        for number, change in reversed(planned):
            try:
                marker.make(change, flow, located, changes)
            except NotPlaced as reason:
                place = self.source.where(edits[number].span.start)
                raise NotWritable(f"{self._name}: {place}: {reason}") from None
        self._check(content, output)
        refused = copy.deepcopy(content)
        for made in marker.made:  # later ones first, as they were made
            _refuse(refused, made)
        self._check(refused, self.source.text)
        if changes == "applied":
            marker.settle()
            self._check(content, output)
        return self._package.with_parts({"content.xml": dump_xml(content)})

    def _refuse_lost_notes(self, edits: Sequence[Edit]) -> None:
        """Raise NotWritable where a note hangs on words that go, and would be lost with them."""
        for change in edits:
            for sign in _NOTE_SIGN.finditer(self.source.text, change.span.start, change.span.end):
                if sign[0] in change.replacement:
                    continue
                line = self.source.text[: sign.start()].rpartition("\n")[2].replace("**", "")
                behind = " ".join(line.split()[-_WORDS_SHOWN:])
                place = self.source.named_place(sign.start())
                raise NotWritable(
                    f"{self._name}: {place}: footnote {sign['name']}, behind “{behind}”, stands in words "
                    "that change and would be lost with them; move its sign to a sentence that stays (or "
                    "put its words into the text), and revise the document again"
                )

    def _check(self, content: _Element, expected: str) -> None:
        flow, _ = self._read(content)
        if flow.text != expected:
            raise NotWritable(f"{self._name}: the new words do not go into the document as built")


@dataclass(frozen=True)
class _Made:
    """The marks of one change: of its deletion and its insertion, empty where there is none."""

    deletion: str
    insertion: str


class _Marker:
    """Makes changes in one document's content, later ones first."""

    def __init__(self, content: _Element, date: str, author: str) -> None:
        self._content, self._date, self._author = content, date, author
        self._used = {e.get(XML_ID) for e in content.iter()} | {
            e.get(f"{TEXT}id") for e in content.iter(f"{TEXT}changed-region")
        }
        self.made: list[_Made] = []
        self._regions: list[_Element] = []
        self._lists: dict[_Element, str | None] = {}
        """Lists that continue deleted items, with what they continued before."""

    def make(
        self, change: Change, flow: Flow, located: Sequence[OdtParagraph], changes: Changes
    ) -> None:
        """Make one change; raises NotPlaced where somebody's pending insertion would be lost or torn."""
        from lxml import etree

        elements = [located[p.paragraph].element for p in change.parts]
        first, last = elements[0], elements[-1]
        styles = self._styles_for(change, flow, located)
        tail = split(last, change.parts[-1].span.end)
        self._leave_own(last, tail)
        gone = split(first, change.parts[0].span.start)
        deleted = [gone, *elements[1:]]
        lists = [lists_around(element) for element in elements]
        # a deletion in earnest may take a whole insertion with it
        held = Counter(m.get(f"{TEXT}change-id") for e in deleted for m in e.iter(*_INSERTION))
        if any(count < 2 or changes == "tracked" for count in held.values()):
            raise NotPlaced(
                "somebody's tracked insertion stands in the words to change, and this format keeps no "
                "change within another; accept or refuse it first"
            )
        for element in elements[1:]:
            take_out(element)
        made = _Made(
            self._region("deletion", self._numbered_on(in_lists(deleted, lists), lists))
            if len(deleted) > 1 or length(gone)
            else "",
            self._region("insertion", []) if len(change.new) > 1 or any(change.new) else "",
        )
        self.made.append(made)
        if made.deletion:
            etree.SubElement(first, f"{TEXT}change", {f"{TEXT}change-id": made.deletion})
        else:
            append_content(first, gone)
        place = first
        if made.insertion:
            etree.SubElement(first, f"{TEXT}change-start", {f"{TEXT}change-id": made.insertion})
        append_runs(first, change.new[0], styles)
        for runs in change.new[1:]:
            new = etree.Element(tail.tag)
            for name, value in tail.attrib.items():
                new.set(name, value)
            append_runs(new, runs, styles)
            set_after(place, new)
            place = new
        if made.insertion:
            etree.SubElement(place, f"{TEXT}change-end", {f"{TEXT}change-id": made.insertion})
        append_content(place, tail)

    def _leave_own(self, last: _Element, tail: _Element) -> None:
        """Move where a change made behind the words to change begins out of them."""
        own = {made.insertion for made in self.made}
        while len(last) and not last[-1].tail and last[-1].tag == _INSERTION[0]:
            mark = last[-1]
            if mark.get(f"{TEXT}change-id") not in own:
                return
            mark.tail, tail.text = tail.text, None
            tail.insert(0, mark)

    def _numbered_on(
        self, deleted: list[_Element], lists: Sequence[tuple[_Element, ...]]
    ) -> list[_Element]:
        """Let a list continue its deleted items, so that they are counted as its own when they come back."""
        if len(deleted) == 1 and deleted[0].tag == f"{TEXT}list":
            held, own = deleted[0], lists[0][0]
            if before := own.get(_CONTINUED):
                held.set(_CONTINUED, before)
            self._lists.setdefault(own, before)
            name = self._free_name("swl")
            held.set(XML_ID, name)
            own.set(_CONTINUED, name)
        return deleted

    def _free_name(self, stem: str) -> str:
        count = 1
        while (name := f"{stem}{count}") in self._used:
            count += 1
        self._used.add(name)
        return name

    def _region(self, kind: str, deleted: Sequence[_Element]) -> str:
        from lxml import etree

        name = self._free_name("sw")
        region = etree.SubElement(
            self._tracked(), f"{TEXT}changed-region", {XML_ID: name, f"{TEXT}id": name}
        )
        told = etree.SubElement(region, f"{TEXT}{kind}")
        info = etree.SubElement(told, f"{OFFICE}change-info")
        etree.SubElement(info, f"{DC}creator").text = self._author
        etree.SubElement(info, f"{DC}date").text = self._date.rstrip("Z")
        told.extend(deleted)
        self._regions.append(region)
        return name

    def _tracked(self) -> _Element:
        from lxml import etree

        body = self._content.find(f"{OFFICE}body/{OFFICE}text")
        assert body is not None, "the reader has found it"
        tracked = body.find(f"{TEXT}tracked-changes")
        if tracked is None:
            tracked = etree.Element(f"{TEXT}tracked-changes")
            forms = body.find(f"{OFFICE}forms")
            body.insert(0 if forms is None else 1, tracked)
        return tracked

    def _styles_for(
        self, change: Change, flow: Flow, located: Sequence[OdtParagraph]
    ) -> tuple[str, str]:
        """Return the styles of light and bold words: the ones most letters replaced have."""
        part = change.parts[-1]
        element = located[part.paragraph].element
        start, end = flow.starts[part.paragraph], flow.ends[part.paragraph]
        leads = [
            (flow.within(part.paragraph, s.start), flow.within(part.paragraph, s.end))
            for s in flow.bold
            if start <= s.start and s.end <= end
        ]
        weights: dict[bool, dict[str, int]] = {False: {}, True: {}}
        at = 0
        for leaf in leaves(element):
            lead = any(a <= at < b for a, b in leads)
            style = leaf.holder.get(f"{TEXT}style-name", "") if leaf.holder is not element else ""
            weights[lead][style] = weights[lead].get(style, 0) + len(leaf.text)
            at += len(leaf.text)
        light, bold = (max(w, key=lambda s: w[s]) if w else "" for w in weights.values())
        needs = any(run.bold for runs in change.new for run in runs)
        return light, bold or (self._bold_style() if needs else "")

    def _bold_style(self) -> str:
        from lxml import etree

        automatic = self._content.find(f"{OFFICE}automatic-styles")
        if automatic is None:
            automatic = etree.Element(f"{OFFICE}automatic-styles")
            body = self._content.find(f"{OFFICE}body")
            assert body is not None, "the reader has found it"
            body.addprevious(automatic)
        if not any(s.get(f"{STYLE}name") == _BOLD for s in automatic):
            style = etree.SubElement(
                automatic, f"{STYLE}style", {f"{STYLE}name": _BOLD, f"{STYLE}family": "text"}
            )
            etree.SubElement(style, f"{STYLE}text-properties", {f"{FO}font-weight": "bold"})
        return _BOLD

    def comment(self, element: _Element, at: int, note: Annotation) -> None:
        """Set a comment at a place of a paragraph."""
        from lxml import etree

        tail = split(element, at)
        told = etree.SubElement(element, f"{OFFICE}annotation")
        etree.SubElement(told, f"{DC}creator").text = self._author
        etree.SubElement(told, f"{DC}date").text = self._date.rstrip("Z")
        etree.SubElement(told, P).text = note.text
        append_content(element, tail)

    def settle(self) -> None:
        """Make the changes in earnest: their marks and regions go."""
        names = {m.deletion for m in self.made} | {m.insertion for m in self.made}
        for mark in _marks(self._content, names):
            remove(mark)
        for own, before in self._lists.items():
            own.attrib.pop(_CONTINUED)
            if before:
                own.set(_CONTINUED, before)
        tracked = self._tracked()
        for region in self._regions:
            tracked.remove(region)
        marked = {
            m.get(f"{TEXT}change-id") for m in self._content.iter(*_INSERTION, f"{TEXT}change")
        }
        for region in list(tracked):  # of insertions that went with what was deleted
            if region.get(XML_ID, region.get(f"{TEXT}id")) not in marked:
                tracked.remove(region)
        if len(tracked) == 0:
            remove(tracked)


def _marks(content: _Element, names: set[str]) -> list[_Element]:
    tags = (f"{TEXT}change", f"{TEXT}change-start", f"{TEXT}change-end")
    return [m for m in content.iter(*tags) if m.get(f"{TEXT}change-id") in names - {""}]


def _refuse(content: _Element, made: _Made) -> None:
    """Undo one change by its marks, as a word processor does that refuses it."""
    marks = {
        str(m.tag).rpartition("}")[2]: m for m in _marks(content, {made.deletion, made.insertion})
    }
    opening = marks.get("change", marks.get("change-start"))
    assert opening is not None, "each change has a mark"
    first = next(e for e in opening.iterancestors(P, H))
    start = _before(first, opening)
    end_mark = marks.get("change-end")
    last = first if end_mark is None else next(e for e in end_mark.iterancestors(P, H))
    end = start if end_mark is None else _before(last, end_mark)
    for mark in marks.values():
        remove(mark)
    tail = split(last, end)
    split(first, start)
    between: list[_Element] = []
    for element in content.iter(P, H):
        if element is first or between:
            between.append(element)
        if element is last:
            break
    for element in between[1:]:
        take_out(element)
    region = next(
        (r for r in content.iter(f"{TEXT}changed-region") if r.get(XML_ID) == made.deletion), None
    )
    place = first
    if region is not None and made.deletion:
        deleted = list(out_of_lists(list(region[0])[1:]))
        append_content(first, deleted[0])
        for element in deleted[1:]:
            set_after(place, element)
            place = element
    append_content(place, tail)


def _before(paragraph: _Element, mark: _Element) -> int:
    """Return how many characters of a paragraph stand before a mark in it."""
    probe = copy.deepcopy(paragraph)
    path = list(paragraph.iter()).index(mark)
    found = list(probe.iter())[path]
    while found is not probe:
        above = found.getparent()
        assert above is not None
        for later in list(found.itersiblings()):
            above.remove(later)
        found.tail = None
        found = above
    return length(probe)
