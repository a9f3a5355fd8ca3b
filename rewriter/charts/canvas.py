"""A small SVG canvas: shapes with classes, text whose room is known, labels moved apart, hatching."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import ceil, floor

Polygon = Sequence[tuple[float, float]]
SVG = "http://www.w3.org/2000/svg"


@dataclass(frozen=True, slots=True)
class Box:
    """The room a piece of text takes at most, in units of the picture."""

    left: float
    top: float
    right: float
    bottom: float
    text: str

    def overlaps(self, other: Box) -> bool:
        """Say whether two pieces of text would touch."""
        apart = (
            self.right <= other.left
            or other.right <= self.left
            or self.bottom <= other.top
            or other.bottom <= self.top
        )
        return not apart


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Return the most that a line of text takes in a usual sans-serif face, in units."""
    return sum(_WIDTHS.get(c, 0.64) for c in text) * size * (1.2 if bold else 1)


# Widths in ems of a wide face (DejaVu Sans); the faces a browser may take instead are narrower.
_WIDTHS = {
    **dict.fromkeys("ijl'|", 0.28),
    **dict.fromkeys(" ,.;:·()[]ft-I", 0.4),
    **dict.fromkeys("rsckzJ", 0.56),
    **dict.fromkeys("mwMW%½¼¾→←–", 0.98),
    **dict.fromkeys("ABCDEFGHKLNOPQRSTUVXYZ", 0.73),
}


def wrapped(text: str, width: float, size: float) -> list[str]:
    """Break a text into lines that fit into a width."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width(longer, size) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def spread(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float]:
    """Return centres near the wanted ones, in their order, at which labels do not overlap.

    `sizes` are the lengths of the labels, gaps included; they stay between `low` and `high` as long
    as there is room. `wanted` must not fall.
    """
    offsets, at = [], 0.0
    for size in sizes:
        offsets.append(at + size / 2)
        at += size
    groups: list[tuple[float, int]] = []  # mean of what is wanted, and of how many labels
    for want, offset in zip(wanted, offsets, strict=True):
        groups.append((want - offset, 1))
        while len(groups) > 1 and groups[-2][0] > groups[-1][0]:
            (a, m), (b, n) = groups[-2:]
            groups[-2:] = [((a * m + b * n) / (m + n), m + n)]
    starts = [mean for mean, count in groups for _ in range(count)]
    most = max(low, high - at)
    return [min(max(s, low), most) + o for s, o in zip(starts, offsets, strict=True)]


def hatching(polygons: Sequence[Polygon], gap: float) -> list[tuple[float, float, float, float]]:
    """Return slanted lines over what lies in an odd number of polygons, as x1, y1, x2, y2."""
    edges = [(a, b) for p in polygons for a, b in pairwise([*p, p[0]])]
    sums = [x + y for p in polygons for x, y in p]
    if not sums:
        return []
    out = []
    for n in range(ceil(min(sums) / gap), floor(max(sums) / gap) + 1):
        # half a thousandth beside the even places, where corners may lie
        line = n * gap + 0.0005
        hits = sorted(_crossings(edges, line))
        for left, right in zip(hits[::2], hits[1::2], strict=True):
            if right - left > 0.3:
                out.append((left, line - left, right, line - right))
    return out


def _crossings(
    edges: Sequence[tuple[tuple[float, float], tuple[float, float]]], line: float
) -> list[float]:
    """Return the x at which edges cross the line x + y."""
    out = []
    for (ax, ay), (bx, by) in edges:
        a, b = ax + ay - line, bx + by - line
        if (a < 0) != (b < 0):
            out.append(ax + (bx - ax) * a / (a - b))
    return out


def number(value: float) -> str:
    """Write a coordinate with at most one decimal."""
    return f"{round(value, 1) + 0.0:g}"


@dataclass
class Canvas:
    """Shapes in the order they are drawn."""

    root: ET.Element = field(default_factory=lambda: ET.Element("g"))
    boxes: list[Box] = field(default_factory=list)

    def add(self, tag: str, kind: str, **attributes: str | float) -> ET.Element:
        """Add an element of a class; underscores in names stand for hyphens."""
        told = {
            name.replace("_", "-"): value if isinstance(value, str) else number(value)
            for name, value in attributes.items()
        }
        return ET.SubElement(self.root, tag, {"class": kind, **told})

    def line(self, kind: str, x1: float, y1: float, x2: float, y2: float) -> None:
        """Draw a straight line."""
        self.add("line", kind, x1=x1, y1=y1, x2=x2, y2=y2)

    def lines(self, kind: str, told: Sequence[tuple[float, float, float, float]]) -> None:
        """Draw many lines as one shape."""
        if told:
            path = "".join(
                f"M{number(a)} {number(b)}L{number(c)} {number(d)}" for a, b, c, d in told
            )
            self.add("path", kind, d=path)

    def path(self, kind: str, points: Polygon, closed: bool = False) -> None:
        """Draw a line through points."""
        told = "L".join(f"{number(x)} {number(y)}" for x, y in points)
        self.add("path", kind, d=f"M{told}{'Z' if closed else ''}")

    def rect(self, kind: str, x: float, y: float, width: float, height: float) -> None:
        """Draw a rectangle."""
        self.add("rect", kind, x=x, y=y, width=width, height=height)

    def circle(self, kind: str, x: float, y: float, radius: float) -> None:
        """Draw a circle."""
        self.add("circle", kind, cx=x, cy=y, r=radius)

    def text(
        self, kind: str, x: float, y: float, words: str, size: float, anchor: str = "start"
    ) -> None:
        """Write a line; `y` is its baseline, `anchor` start, middle or end."""
        width = text_width(words, size, kind == "title")
        left = x - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
        self.boxes.append(Box(left, y - 0.78 * size, left + width, y + 0.22 * size, words))
        told = {} if anchor == "start" else {"text_anchor": anchor}
        self.add("text", kind, x=x, y=y, font_size=size, **told).text = words
