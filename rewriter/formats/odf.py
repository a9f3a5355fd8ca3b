"""The words of one ODT paragraph: read, cut, and written, with the names of the open standard.

Names are those of OpenDocument 1.2 (ISO/IEC 26300), part 1.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rewriter.formats.flow import Run

if TYPE_CHECKING:
    from lxml.etree import _Element

_URI = "urn:oasis:names:tc:opendocument:xmlns"
OFFICE, TEXT, TABLE, STYLE = (f"{{{_URI}:{n}:1.0}}" for n in ("office", "text", "table", "style"))
FO = f"{{{_URI}:xsl-fo-compatible:1.0}}"
DC = "{http://purl.org/dc/elements/1.1/}"
XML_ID = "{http://www.w3.org/XML/1998/namespace}id"

P, H, SPAN = f"{TEXT}p", f"{TEXT}h", f"{TEXT}span"
_BLANK, _TAB, _BREAK, _NOTE = f"{TEXT}s", f"{TEXT}tab", f"{TEXT}line-break", f"{TEXT}note"
# What stands in a paragraph and is no part of its words.
_NO_WORDS = frozenset(
    {
        f"{OFFICE}annotation",
        f"{TEXT}tracked-changes",
        f"{TEXT}ruby-text",
        f"{TEXT}list",
        f"{TABLE}table",
    }
)
_DRAWING = "{urn:oasis:names:tc:opendocument:xmlns:drawing:1.0}"
_WHITE = re.compile(r"[ \t\r\n]+")


@dataclass(frozen=True, slots=True)
class Leaf:
    """A piece of a paragraph's words, and the span it stands in (the paragraph, where in none)."""

    text: str
    holder: _Element


def leaves(element: _Element) -> Iterator[Leaf]:
    """Yield the words of a paragraph in order."""
    if element.text:
        yield Leaf(element.text, element)
    for child in element:
        own = atom(child)
        if own is not None:
            if own:
                yield Leaf(own, element)
        elif not _is_silent(child):
            yield from leaves(child)
        if child.tail:
            yield Leaf(child.tail, element)


def _is_silent(element: _Element) -> bool:
    tag = element.tag
    return not isinstance(tag, str) or tag in _NO_WORDS or tag.startswith(_DRAWING)


def atom(element: _Element) -> str | None:
    """Return what an element that stands for characters shows; None for any other."""
    if element.tag == _BLANK:
        count = element.get(f"{TEXT}c", "1")
        return " " * min(int(count) if count.isdigit() else 1, 1000)
    if element.tag == _NOTE:
        return f"[^{element.findtext(f'{TEXT}note-citation', '').strip()}]"
    return {_TAB: "\t", _BREAK: "\n"}.get(str(element.tag))


def length(element: _Element) -> int:
    """Return how many characters an element shows."""
    own = atom(element)
    if own is not None:
        return len(own)
    return 0 if _is_silent(element) else sum(len(leaf.text) for leaf in leaves(element))


def collapse(element: _Element) -> None:
    """Make white space what it is shown as: one blank (section 6.1.2 of the standard)."""
    for node in element.iter():
        if node.text:
            node.text = _WHITE.sub(" ", node.text)
        if node.tail and node is not element:
            node.tail = _WHITE.sub(" ", node.tail)


def split(element: _Element, at: int) -> _Element:
    """Cut an element behind a number of its characters; return the right part, a new element."""
    from lxml import etree

    right = etree.Element(element.tag)
    for name, value in element.attrib.items():
        if name != XML_ID:
            right.set(name, value)
    text = element.text or ""
    children = list(element)
    if at < len(text):
        right.text, element.text = text[at:], text[:at]
        right.extend(children)
        return right
    at -= len(text)
    for number, child in enumerate(children):
        size = length(child)
        if at < size:
            if at == 0 or atom(child) is not None:
                right.extend(children[number:])
            else:
                part = split(child, at)
                part.tail, child.tail = child.tail, None
                right.append(part)
                right.extend(children[number + 1 :])
            return right
        at -= size
        tail = child.tail or ""
        if at < len(tail):
            right.text, child.tail = tail[at:], tail[:at]
            right.extend(children[number + 1 :])
            return right
        at -= len(tail)
    return right


def append_text(element: _Element, text: str) -> None:
    """Add bare characters to the end of an element."""
    if len(element):
        element[-1].tail = (element[-1].tail or "") + text
    else:
        element.text = (element.text or "") + text


def append_content(element: _Element, other: _Element) -> None:
    """Move the content of another element to the end of this one."""
    append_text(element, other.text or "")
    element.extend(list(other))


def append_runs(element: _Element, runs: Sequence[Run], styles: tuple[str, str]) -> None:
    """Add runs to the end of a paragraph; `styles` names the ones of light and of bold words."""
    from lxml import etree

    for run in runs:
        style = styles[run.bold]
        holder = etree.SubElement(element, SPAN, {f"{TEXT}style-name": style}) if style else element
        for piece in re.findall(r"\t|\n| {2,}|^ |[^\t\n ]+(?: [^\t\n ]+)*| ", run.text):
            if piece == "\t":
                etree.SubElement(holder, _TAB)
            elif piece == "\n":
                etree.SubElement(holder, _BREAK)
            elif not piece.strip(" "):
                etree.SubElement(holder, _BLANK, {f"{TEXT}c": str(len(piece))})
            else:
                append_text(holder, piece)
