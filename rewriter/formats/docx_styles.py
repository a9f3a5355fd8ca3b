"""What the styles and lists of a DOCX document say of a paragraph: heading, spaces, weight, number."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rewriter.formats.wordml import W, val

if TYPE_CHECKING:
    from lxml.etree import _Element

_TIGHT = 80
"""Twentieths of a point: less space than this between paragraphs is not seen as a gap."""
_HEADING = re.compile(r"(?i)\b(?:heading|überschrift|titre|titolo|título|kop)\s*(\d)\b")
_TITLE = re.compile(r"(?i)^(?:title|titel|titre|titolo|título)$")


@dataclass(frozen=True)
class Look:
    """How a paragraph is set."""

    heading: int
    """Level of a heading from 1, or 0."""
    family: str
    space_before: bool
    space_after: bool
    contextual: bool
    bold: bool
    list_id: str
    """Number of its list, empty where it is no item."""
    level: int
    is_contents: bool
    """Whether it is a line of a table of contents, which repeats the headings."""


class Styles:
    """Paragraph and character styles, with what each takes over from the one it is based on."""

    def __init__(self, root: _Element | None) -> None:
        """Index a styles part (None where the document has none)."""
        found = root.iter(W.style) if root is not None else iter(())
        self._styles = {s.get(W.styleId, ""): s for s in found}
        self._defaults = (
            root.find(f"{W.docDefaults}/{W.pPrDefault}/{W.pPr}") if root is not None else None
        )
        self._normal = next(
            (
                key
                for key, s in self._styles.items()
                if s.get(W.default) in ("1", "true") and s.get(W.type) == "paragraph"
            ),
            "",
        )

    def look(self, paragraph: _Element) -> Look:
        """Return how a paragraph is set, by its own properties, its styles and the defaults."""
        own = paragraph.find(W.pPr)
        family = val(own.find(W.pStyle)) if own is not None else ""
        family = family or self._normal
        chain = list(self._chain(family))
        layers = [
            *([own] if own is not None else []),
            *(p for s in chain if (p := s.find(W.pPr)) is not None),
        ]
        spaces = [*layers, *([self._defaults] if self._defaults is not None else [])]
        level = _first_value(layers, f"{W.numPr}/{W.ilvl}")
        list_id = _first_value(layers, f"{W.numPr}/{W.numId}")
        return Look(
            heading=self._heading(layers, chain),
            family=family,
            space_before=_space(spaces, "before"),
            space_after=_space(spaces, "after"),
            contextual=_first_flag(spaces, W.contextualSpacing),
            bold=any(flag(r.find(W.b)) for s in chain[:1] if (r := s.find(W.rPr)) is not None),
            list_id="" if list_id == "0" else list_id,
            level=min(int(level), 8) if level.isdigit() else 0,
            is_contents=any(val(s.find(W.name)).lower().startswith("toc ") for s in chain),
        )

    def is_bold(self, run: _Element, paragraph_bold: bool) -> bool:
        """Say whether a run is bold, by its own properties, its character style or its paragraph's."""
        own = run.find(W.rPr)
        if own is None:
            return paragraph_bold
        if (told := own.find(W.b)) is not None:
            return flag(told)
        for style in self._chain(val(own.find(W.rStyle))):
            properties = style.find(W.rPr)
            if properties is not None and (told := properties.find(W.b)) is not None:
                return flag(told)
        return paragraph_bold

    def _chain(self, key: str) -> Iterator[_Element]:
        seen: set[str] = set()
        while key in self._styles and key not in seen:
            seen.add(key)
            style = self._styles[key]
            yield style
            key = val(style.find(W.basedOn))

    def _heading(self, layers: list[_Element], chain: list[_Element]) -> int:
        for style in chain:
            name = val(style.find(W.name))
            if _TITLE.match(name):
                return 1
            if found := _HEADING.search(name):
                return min(int(found.group(1)) + 1, 6)
        outline = _first_value(layers, W.outlineLvl)
        return min(int(outline) + 2, 6) if outline.isdigit() and int(outline) < 9 else 0


def flag(element: _Element | None) -> bool:
    """Say whether a property is there and not switched off."""
    return element is not None and element.get(W.val, "1") not in ("0", "false", "off", "none")


def _first_value(layers: list[_Element], path: str) -> str:
    return next((val(found) for layer in layers if (found := layer.find(path)) is not None), "")


def _first_flag(layers: list[_Element], tag: str) -> bool:
    return next((flag(found) for layer in layers if (found := layer.find(tag)) is not None), False)


def _space(layers: list[_Element], where: str) -> bool:
    """Say whether space is seen before or after a paragraph."""
    for layer in layers:
        spacing = layer.find(W.spacing)
        if spacing is None:
            continue
        if spacing.get(W.of(f"{where}Autospacing")) in ("1", "true", "on"):
            return True
        lines = spacing.get(W.of(f"{where}Lines"))
        told = spacing.get(W.of(where))
        if lines and lines.isdigit() and int(lines):
            return int(lines) * 2.4 >= _TIGHT
        if told is not None:
            return told.lstrip("-").isdigit() and int(told) >= _TIGHT
    return False


class Lists:
    """The numbers that lists give their items; a word processor counts them itself."""

    def __init__(self, root: _Element | None) -> None:
        """Index a numbering part (None where the document has none)."""
        self._abstract = {}
        self._of: dict[str, tuple[str, _Element]] = {}
        self._counts: dict[tuple[str, int], int] = {}
        if root is None:
            return
        self._abstract = {a.get(W.abstractNumId, ""): a for a in root.iter(W.abstractNum)}
        for num in root.iter(W.num):
            self._of[num.get(W.numId, "")] = (val(num.find(W.abstractNumId)), num)

    def sign(self, look: Look) -> str:
        """Return the sign before the next item of a list, and count it."""
        key, num = self._of.get(look.list_id, ("", None))
        indent = "   " * look.level
        level = self._level(key, look.level)
        if num is None or level is None or val(level.find(W.numFmt)) != "decimal":
            return f"{indent}- "
        place = (key, look.level)
        start = val(level.find(W.start)) or "1"
        self._counts[place] = self._counts.get(place, int(start if start.isdigit() else 1) - 1) + 1
        for deeper in [p for p in self._counts if p[0] == key and p[1] > look.level]:
            del self._counts[deeper]
        return f"{indent}{self._counts[place]}. "

    def _level(self, key: str, number: int) -> _Element | None:
        abstract = self._abstract.get(key)
        if abstract is None:
            return None
        return next(
            (v for v in abstract.findall(W.lvl) if v.get(W.ilvl) == str(number)),
            None,
        )
