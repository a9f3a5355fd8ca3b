"""Paragraphs and lists of an ODT document taken out, set in, and held in the record of a deletion."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from rewriter.formats.odf import TEXT

if TYPE_CHECKING:
    from lxml.etree import _Element

ITEM = f"{TEXT}list-item"


def lists_around(paragraph: _Element) -> tuple[_Element, ...]:
    """Return the lists that a paragraph is an item of, the outermost first."""
    return tuple(paragraph.iterancestors(f"{TEXT}list"))[::-1]


def in_lists(
    paragraphs: Sequence[_Element], lists: Sequence[tuple[_Element, ...]]
) -> list[_Element]:
    """Return deleted paragraphs as items of lists like those they stood in, to come back as items."""
    from lxml import etree

    if len(paragraphs) == 1:
        return [*paragraphs]
    out: list[_Element] = []
    for paragraph, around in zip(paragraphs, lists, strict=True):
        element = paragraph
        for original in reversed(around):
            holder = etree.Element(original.tag)
            if style := original.get(f"{TEXT}style-name"):
                holder.set(f"{TEXT}style-name", style)
            etree.SubElement(holder, ITEM).append(element)
            element = holder
        if around and out and out[-1].tag == element.tag and element is not paragraph:
            out[-1].extend(list(element))
        else:
            out.append(element)
    return out


def out_of_lists(elements: Iterable[_Element]) -> Iterator[_Element]:
    """Yield paragraphs without the lists around them."""
    for element in elements:
        if element.tag in (f"{TEXT}list", ITEM):
            yield from out_of_lists(list(element))
        else:
            yield element


def take_out(element: _Element) -> None:
    """Take a paragraph out, and the list item and list that it leaves empty."""
    parent = element.getparent()
    assert parent is not None
    parent.remove(element)
    while parent is not None and parent.tag in (ITEM, f"{TEXT}list") and len(parent) == 0:
        above = parent.getparent()
        assert above is not None
        above.remove(parent)
        parent = above


def set_after(place: _Element, new: _Element) -> None:
    """Set a paragraph behind another one, in an item of its own where that one is in an item."""
    from lxml import etree

    parent = place.getparent()
    if parent is not None and parent.tag == ITEM and parent[0] is place:
        item = etree.Element(ITEM)
        item.append(new)
        parent.addnext(item)
    else:
        place.addnext(new)


def remove(element: _Element) -> None:
    """Take an element out and leave the characters behind it where they are."""
    parent, before = element.getparent(), element.getprevious()
    assert parent is not None
    if element.tail:
        if before is not None:
            before.tail = (before.tail or "") + element.tail
        else:
            parent.text = (parent.text or "") + element.tail
    element.tail = None
    parent.remove(element)
