"""Text boxes of a DOCX document: where one hangs in the text, and whether it grows with its words."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from rewriter.formats.wordml import W

if TYPE_CHECKING:
    from lxml.etree import _Element

CONTENT = W.txbxContent
_SHAPE = "{http://schemas.microsoft.com/office/word/2010/wordprocessingShape}"
_DRAWING = "{http://schemas.openxmlformats.org/drawingml/2006/main}"
_GROWS = "mso-fit-shape-to-text:t"
"""In the style of a text box of the older kind."""


def box_of(paragraph: _Element) -> _Element | None:
    """Return the content of the text box in which a paragraph stands, None where in none."""
    return next(paragraph.iterancestors(CONTENT), None)


def hanger_of(paragraph: _Element) -> _Element | None:
    """Return what holds a paragraph's text box in the text itself: a run, or what stands around it."""
    boxes = list(paragraph.iterancestors(CONTENT))
    if not boxes:
        return None
    around = [boxes[-1], *boxes[-1].iterancestors()]
    return next((a for a, b in pairwise(around) if b.tag == W.p), None)


def is_fixed(box: _Element) -> bool:
    """Say whether a text box keeps its size whatever stands in it, so that words can be cut off."""
    holder = box.getparent()
    if holder is None:
        return False
    shape = holder.getparent()
    body = None if shape is None else shape.find(f"{_SHAPE}bodyPr")
    if body is not None:
        return body.find(f"{_DRAWING}spAutoFit") is None
    return _GROWS not in (holder.get("style") or "").replace(" ", "")
