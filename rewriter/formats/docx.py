"""DOCX drafts: read, and revised by tracked changes with comments; all other parts stay as they are."""

from __future__ import annotations

import posixpath
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from rewriter.annotations import Annotation
from rewriter.edits import Edit
from rewriter.formats.archive import Package, dump_xml, parse_xml
from rewriter.formats.carrier import AUTHOR, NotWritable, place_edits, source_of, unsettled
from rewriter.formats.docx_boxes import box_of, is_fixed
from rewriter.formats.docx_read import Located, Parts, Reader, open_parts
from rewriter.formats.docx_write import Writer, settle
from rewriter.formats.flow import Change
from rewriter.formats.wordml import NAMESPACE, Seen, Stamp, W
from rewriter.options import Changes
from rewriter.source import UnreadableDraft
from rewriter.spans import Span

if TYPE_CHECKING:
    from lxml.etree import _Element

_COMMENTS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/comments"
_COMMENTS_TYPE = "application/vnd.openxmlformats-officedocument.wordprocessingml.comments+xml"
_RELATIONSHIPS = "http://schemas.openxmlformats.org/package/2006/relationships"
_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
_TYPES_PART = "[Content_Types].xml"
_FIXED = "This text box keeps its size: make it larger if the end of the new words does not show."
_KIND_WORDS = {
    "reason": "",
    "question": "Question: ",
    "error": "Error: ",
    "warning": "Warning: ",
    "remark": "",
}


class DocxDraft:
    """A draft in DOCX: its text for the pipeline, and the way back into the document."""

    binary = True

    def __init__(self, data: bytes, name: str) -> None:
        """Read a document; raises UnreadableDraft where it is damaged, locked or far too large."""
        self._data, self._name = data, name
        self._package = Package(data, name)
        parts = open_parts(self._package)
        flow, _ = Reader(parts).read()
        self.notice = pending = unsettled(_authors(parts.roots.values()))
        if "_xmlsignatures/origin.sigs" in self._package:
            signed = "its digital signature will not hold for the revised document"
            self.notice = "; ".join(n for n in (self.notice, signed) if n)
        if not flow.text.strip():
            raise UnreadableDraft(f"{name}: the document has no text; give the text of a pattern")
        macros = b"macroEnabled" in self._package.read(_TYPES_PART)
        self.suffixes: tuple[str, ...] = (".docm",) if macros else (".docx",)
        self.source = source_of(flow, data, name, "docx", pending)

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
        parts = open_parts(self._package)
        flow, located = Reader(parts).read()
        stamp = Stamp(author, date, _first_free(parts.roots.values()))
        writer = Writer(flow, located, stamp)
        planned = place_edits(flow, edits, self.source)
        notes = list(annotations) if changes == "tracked" else []
        if not edits:  # nothing was changed: only what must be answered is said
            notes = [n for n in notes if n.kind in ("question", "error")]
        notes += _cut_off(planned, edits, located) if changes == "tracked" else []
        more = _comment(parts, writer, notes, flow.text, stamp) if notes else {}
        if not edits and not more:
            return self._data
        for _, change in reversed(planned):
            writer.make(change, changes == "tracked")
        numbers = frozenset(stamp.made)
        self._check(parts, Seen(), output)
        self._check(parts, Seen(numbers), self.source.text)
        if changes == "applied":
            for root in parts.roots.values():
                settle(root, numbers, _remove)
            self._check(parts, Seen(), output)
        written = {
            part: dump_xml(root) for part, root in parts.roots.items() if _has(root, numbers)
        }
        written[parts.main] = dump_xml(parts.roots[parts.main])
        return self._package.with_parts({**written, **more})

    def _check(self, parts: Parts, seen: Seen, expected: str) -> None:
        flow, _ = Reader(parts, seen).read()
        if flow.text == expected:
            return
        same = next(
            (i for i, (a, b) in enumerate(zip(flow.text, expected, strict=False)) if a != b),
            min(len(flow.text), len(expected)),
        )
        place = self.source.where(min(same, len(self.source.text) - 1))
        raise NotWritable(
            f"{self._name}: {place}: the new words do not go into the document as built"
        )


def _cut_off(
    planned: Sequence[tuple[int, Change]], edits: Sequence[Edit], located: Sequence[Located]
) -> list[Annotation]:
    """Return a remark for each text box of a fixed size whose words become more."""
    grown: dict[_Element, int] = {}
    spans: dict[_Element, Span] = {}
    for number in sorted({number for number, _ in planned}):
        change = next(c for n, c in planned if n == number)
        box = box_of(located[change.parts[0].paragraph].elements[0])
        if box is not None and is_fixed(box):
            edit = edits[number]
            more = len(edit.replacement) - (edit.span.end - edit.span.start)
            grown[box] = grown.get(box, 0) + more
            spans[box] = Span(*edit.span)
    return [Annotation(spans[box], "remark", _FIXED) for box, more in grown.items() if more > 0]


def _authors(roots: Iterable[_Element]) -> Iterator[str]:
    """Yield the author of each change that a reader of the document sees as one.

    What is moved counts where it comes from. Stretches that stand beside each other are one change, and the
    end of a paragraph is one with the words before it.
    """
    kinds = (W.ins, W.of("del"), W.moveFrom)
    for root in roots:
        before: _Element | None = None
        for mark in root.iter(*kinds):
            holder = mark.getparent()
            of_end = holder is not None and holder.tag == W.rPr
            if of_end and any(_alike(other, mark) for other in _paragraph_of(mark).iter(mark.tag)):
                continue
            beside = before is not None and mark.getprevious() is before and _alike(before, mark)
            before = mark
            if not beside:
                yield mark.get(W.author) or "somebody"


def _alike(one: _Element, other: _Element) -> bool:
    """Say whether two marks are of the same kind and by the same author, and are not the same."""
    same = one.tag == other.tag and one.get(W.author) == other.get(W.author)
    return same and one is not other


def _paragraph_of(mark: _Element) -> _Element:
    """Return the paragraph whose end a mark is about; the mark itself where it stands in none."""
    return next(mark.iterancestors(W.p), mark)


def _has(root: _Element, numbers: frozenset[str]) -> bool:
    return any(m.get(W.id) in numbers for m in root.iter(W.ins, W.of("del")))


def _remove(element: _Element) -> None:
    parent = element.getparent()
    if parent is not None:
        parent.remove(element)


def _first_free(roots: Iterable[_Element]) -> int:
    """Return a number above those of all change marks, which must not be used twice."""
    used = [
        int(number)
        for root in roots
        for element in root.iter()
        if (number := element.get(W.id)) and number.isdigit()
    ]
    return max(used, default=0) + 1


# --- comments ---------------------------------------------------------------------------------------


def _comment(
    parts: Parts, writer: Writer, notes: Sequence[Annotation], text: str, stamp: Stamp
) -> dict[str, bytes]:
    """Anchor comments in the document and return the parts that hold them."""
    from lxml import etree

    part = parts.related.get("comments", "")
    known = bool(part) and part in parts.package
    if known:
        root = parts.package.xml(part)
    else:
        part = posixpath.join(posixpath.dirname(parts.main), "comments.xml")
        if part in parts.package:
            return {}  # a part of that name which the document does not own: left alone
        root = etree.Element(W.comments, nsmap={"w": NAMESPACE})
    told = Counter(_words(c) for c in root.iter(W.comment) if c.get(W.author) == stamp.author)
    number = first = max((int(c.get(W.id, "0")) for c in root.iter(W.comment)), default=-1) + 1
    for note in notes:
        words = f"{_KIND_WORDS[note.kind]}{_capital(note.text)}"
        told.subtract([words])
        if told[words] >= 0 or not _anchor(writer, _widened(note.span, text), number):
            continue  # an earlier revision has said so already, or a note below the page
        root.append(_comment_of(number, words, stamp))
        number += 1
    if number == first:
        return {}
    out = {part: dump_xml(root)}
    return out if known else {**out, **_announced(parts, part)}


def _words(comment: _Element) -> str:
    return "".join(t.text or "" for t in comment.iter(W.t))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _anchor(writer: Writer, span: Span, number: int) -> bool:
    from lxml import etree

    start, end = etree.Element(W.commentRangeStart), etree.Element(W.commentRangeEnd)
    for element in (start, end):
        element.set(W.id, str(number))
    if not writer.can_anchor(span):
        return False
    writer.anchor(span, start, end)
    run = etree.Element(W.r)
    etree.SubElement(run, W.commentReference).set(W.id, str(number))
    end.addnext(run)
    return True


def _widened(span: Span, text: str) -> Span:
    """Return a span that has words: the last ones before it, where it is a mere place."""
    if text[span.start : span.end].strip():
        return span
    before = text[: span.start].rstrip()
    start = max(before.rfind(" "), before.rfind("\n")) + 1
    return Span(start, len(before)) if before else Span(0, min(1, len(text)))


def _comment_of(number: int, text: str, stamp: Stamp) -> _Element:
    from lxml import etree

    comment = etree.Element(W.comment)
    comment.set(W.id, str(number))
    comment.set(W.author, stamp.author)
    comment.set(W.date, stamp.date)
    comment.set(W.initials, _initials(stamp.author))
    run = etree.SubElement(etree.SubElement(comment, W.p), W.r)
    etree.SubElement(run, W.t).text = text
    return comment


def _initials(author: str) -> str:
    """Return the first letters of a name, as comments show them: "AL" of "Ada Lind"."""
    return "".join(word[0] for word in author.split()).upper()


def _announced(parts: Parts, part: str) -> dict[str, bytes]:
    """Return the parts that name a new comments part: its content type, its relation."""
    from lxml import etree

    package = parts.package
    types = package.xml(_TYPES_PART)
    override = etree.SubElement(types, f"{{{_TYPES}}}Override")
    override.set("PartName", f"/{part}")
    override.set("ContentType", _COMMENTS_TYPE)
    folder, file = posixpath.split(parts.main)
    rels_part = posixpath.join(folder, "_rels", f"{file}.rels")
    rels = (
        package.xml(rels_part)
        if rels_part in package
        else parse_xml(
            f'<Relationships xmlns="{_RELATIONSHIPS}"/>'.encode(), package.name, rels_part
        )
    )
    used = set(_ids(rels))
    relation = etree.SubElement(rels, f"{{{_RELATIONSHIPS}}}Relationship")
    relation.set("Id", next(i for n in range(1, len(used) + 2) if (i := f"rIdC{n}") not in used))
    relation.set("Type", _COMMENTS)
    relation.set("Target", posixpath.relpath(part, folder or "."))
    return {_TYPES_PART: dump_xml(types), rels_part: dump_xml(rels)}


def _ids(rels: _Element) -> Iterator[str]:
    for relation in rels:
        yield relation.get("Id", "")
