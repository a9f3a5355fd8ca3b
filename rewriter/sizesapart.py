"""What of a sentence is for which sizes: named at its front, one by one, or behind what is told."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.parsing import Part
from rewriter.sizecues import may_name
from rewriter.sizeheads import OTHERS, SizeHead, may_be_head, size_head, size_tail, size_tails
from rewriter.sizewords import sizes_named
from rewriter.slots import VERBS
from rewriter.spans import Span, View
from rewriter.values import value

Sized = tuple[tuple[int, ...], Sequence[Part]]
"""Ordinals of sizes, () for all of them, and the parts told for them."""


@value
class SizeReader:
    """Reads what the parts of one sentence are for, in a draft whose sizes have these names."""

    source: str
    view: View
    labels: tuple[str, ...]

    def names_sizes(self, parts: Sequence[Part]) -> bool:
        """Say whether the words of the sentence can name sizes; most cannot, and are for all of them."""
        return may_name(self.view.text, self.labels) or _speaks_of_sizes(parts)

    def restricted(self, parts: Sequence[Part]) -> tuple[tuple[int, ...] | None, Sequence[Part]]:
        """Take a restriction to some sizes off the front: "3rd and 4th sizes only", "Sizes S (M, -) only"."""
        found = self._headed(parts, 0) or self._labelled(parts)
        return found or self._only(parts)

    def _headed(self, parts: Sequence[Part], at: int) -> Sized | None:
        """Take words that name sizes off the parts from `at`."""
        if at >= len(parts):
            return None
        head = size_head(self.view.text, self.labels, len(self.view.before(parts[at].span.start)))
        if head is None:
            start = next(
                (i for i, p in enumerate(parts[at:], at) if p.kind not in ("star", "link")), 0
            )
            if start < len(parts) and parts[start].kind == "all_sizes":
                return (), _after_colon(parts[start + 1 :])
            return None
        end = self._place(head).end
        return head.sizes, _told([p for p in parts[at:] if p.span.start >= end])

    def _place(self, head: SizeHead) -> Span:
        return self.view.span(head.start, head.end)

    def _only(self, parts: Sequence[Part]) -> tuple[tuple[int, ...] | None, Sequence[Part]]:
        start = next((i for i, p in enumerate(parts) if p.kind not in ("star", "link")), 0)
        for i, part in enumerate(parts[start : start + 60], start):
            if part.kind == "sizes_only":
                named = self._ordinals(parts[start:i]) or sizes_named(
                    Span(parts[start].span.start, part.span.start).of(self.source), self.labels
                )
                if named:
                    return tuple(named), _after_colon(parts[i + 1 :])
                return (None, _after_colon(parts[i + 1 :]) if _dashed(parts[i + 1 :]) else parts)
            if part.kind in VERBS - {"work"}:
                break
        return None, parts

    def _ordinals(self, parts: Sequence[Part]) -> list[int]:
        """Return the sizes that ordinals name: "3rd and 4th", "6th to 9th"."""
        out: list[int] = []
        before = 0
        for part in parts:
            if part.kind != "ordinal":
                continue
            between = self.source[before : part.span.start].strip().lower()
            run = len(part.numbers) == 1 and out and between in ("to", "-", "\u2013")
            out += range(out[-1] + 1, part.numbers[0] + 1) if run else part.numbers
            before = part.span.end
        return out

    def _labelled(self, parts: Sequence[Part]) -> Sized | None:
        """Take "Shape shoulders, 2nd size:" off the front, or a list with dashes: "Size S (-, L):"."""
        start = next(
            (i for i, p in enumerate(parts) if p.kind not in ("star", "filler", "link")), 0
        )
        colon = next((i for i, p in enumerate(parts[: start + 8]) if p.kind == "colon"), 0)
        head = parts[start:colon]
        size = next((i for i, p in enumerate(head) if p.kind == "size"), -1)
        if size < 0 or any(p.kind in VERBS for p in head):
            return None
        ordinals = self._ordinals(head[:size])
        if size and not ordinals:
            return None
        text = Span(head[0].span.start, parts[colon].span.start).of(self.source)
        named = [n for n in ordinals if n <= len(self.labels)] or sizes_named(text, self.labels)
        return (tuple(named), _after_colon(parts[colon + 1 :])) if named else None

    def one_by_one(self, parts: Sequence[Part]) -> list[Sized]:
        """Part a sentence that tells its sizes apart: "every 2 rows: size S: twice 7 sts; size M: ...".

        What stands before the first size is told for each, and so is what is told for all sizes behind
        the last. None of the sizes may be missing, or named twice.
        """
        if len(self.labels) < 2:
            return []
        if told := self._apart(parts):
            return told
        if not any(p.kind in VERBS for p in parts):
            return []
        return self._each_behind(parts) or self._behind(parts) or self._in_between(parts)

    def _apart(self, parts: Sequence[Part]) -> list[Sized]:
        places = self._places_apart(parts)
        if len(places) < 2:
            return []
        starts: list[tuple[int, tuple[int, ...], Sequence[Part]]] = []
        told_from = 0
        for i in places:
            if i < told_from:
                continue  # the sign of an item, and the size behind it, are one
            found = self._headed(parts, i) or self._named_at(parts, i)
            if found:
                starts.append((i, *found))
                told_from = len(parts) - len(found[1])
        if len(starts) < 2 or not all(sizes for _, sizes, _ in starts[:-1]):
            return []
        told = sorted(n for _, sizes, _ in starts for n in sizes if sizes != OTHERS)
        everyone = range(1, len(self.labels) + 1)
        left = tuple(n for n in everyone if n not in told)
        starts = [(i, left if sizes == OTHERS else sizes, rest) for i, sizes, rest in starts]
        if sorted(n for _, sizes, _ in starts for n in sizes) != list(everyone):
            return []
        head = parts[: starts[0][0]]
        stops = [i for i, _, _ in starts[1:]] + [len(parts)]
        own = [
            (sizes, rest[: len(rest) - (len(parts) - stop)])
            for (_, sizes, rest), stop in zip(starts, stops, strict=True)
        ]
        of_all = own.pop()[1] if not own[-1][0] else []
        return [(sizes, [*head, *told, *of_all]) for sizes, told in own]

    def _places_apart(self, parts: Sequence[Part]) -> list[int]:
        """Return the parts, set apart from those before them, at which words can stand that name sizes."""
        for_all = any(p.kind == "all_sizes" for p in parts)
        out: list[int] = []
        solid: Part | None = None
        for i, part in enumerate(parts):
            if (solid is None or _sets_apart(solid) or self._begins_line(parts, i)) and (
                for_all or part.kind in _NAMING or self._may_be_headed(part)
            ):
                out.append(i)
            solid = solid if part.kind == "filler" else part
        return out

    def _may_be_headed(self, part: Part) -> bool:
        return may_be_head(self.view.text, self.labels, len(self.view.before(part.span.start)))

    def _begins_line(self, parts: Sequence[Part], at: int) -> bool:
        """Say whether a part is the first of its line, as the items of a list are without a mark."""
        return "\n" in self.source[parts[at - 1].span.end : parts[at].span.start]

    def _named_at(self, parts: Sequence[Part], at: int) -> Sized | None:
        if parts[at].kind not in _NAMING:
            return None
        sizes, rest = self.restricted(parts[at:])
        return (sizes, rest) if sizes else None

    def _behind(self, parts: Sequence[Part]) -> list[Sized]:
        """Read "... (sizes S and M)", "... for sizes L and XL only": nothing is told for the others."""
        tail = size_tail(self.view.text, self.labels)
        if tail is None:
            return []
        place = self._place(tail)
        told = [p for p in parts if p.span.start < place.start or p.span.start >= place.end]
        sizes = tail.sizes or tuple(range(1, len(self.labels) + 1))
        return [(sizes, told)] if any(p.kind in VERBS for p in told) else []

    def _each_behind(self, parts: Sequence[Part]) -> list[Sized]:
        """Read "6 sts at beg of next 4 rows for sizes S and M, and at beg of next 6 rows for L and XL"."""
        tails = size_tails(self.view.text, self.labels)
        named = sorted(n for tail in tails for n in tail.sizes)
        if named != list(range(1, len(self.labels) + 1)):
            return []
        out: list[Sized] = []
        first, start = next((p for p in parts if p.kind in VERBS), None), 0
        for tail in tails:
            place = self._place(tail)
            own = _after_colon([p for p in parts if start <= p.span.start < place.start])
            if first is not None and not any(p.kind in VERBS for p in own):
                own = [first, *own]
            out.append((tail.sizes, own))
            start = place.end
        return out

    def _adds(self, inner: Sequence[Part], told: Sequence[Part]) -> bool:
        """Say whether what is told behind a size in brackets comes after what stands before them."""
        links = [p for p in inner if p.kind == "link" and told and p.span.end <= told[0].span.start]
        return bool(links) and _ADDS.match(links[-1].span.of(self.source)) is not None

    def _in_between(self, parts: Sequence[Part]) -> list[Sized]:
        """Read "... next 4 rows, then for sizes L and XL only, 7 (8) sts at beg of next 2 rows"."""
        for i in range(1, len(parts)):
            before = parts[i - 1]
            if not any(p.kind in VERBS for p in parts[:i]):
                continue
            if before.kind == "link" and _THEN.search(before.span.of(self.source)):
                found = self._headed(parts, i)
            elif parts[i].kind == "paren" and all(p.kind == "stop" for p in parts[i + 1 :]):
                inner = parts[i].inner
                found = self._headed(inner, 0)
                if found is None or not self._adds(inner, found[1]):
                    continue  # is it instead of what is told before, or behind it?
            else:
                continue
            if found is None or not found[0] or found[0] == OTHERS:
                continue
            sizes, rest = found
            others = tuple(n for n in range(1, len(self.labels) + 1) if n not in sizes)
            return [(others, parts[:i]), (sizes, [*parts[:i], *rest])]
        return []


_NAMING = frozenset({"size", "ordinal", "sizes_only"})
_OF_SIZES = frozenset({"size", "ordinal", "sizes_only", "all_sizes"})


def _speaks_of_sizes(parts: Sequence[Part]) -> bool:
    return any(p.kind in _OF_SIZES or (p.inner and _speaks_of_sizes(p.inner)) for p in parts)


_THEN = regex.compile(r"(?i)\b(?:then|also|plus)\b")
_ADDS = regex.compile(r"(?i)\W*(?:and|then|also|plus)\b")


def _told(parts: Sequence[Part]) -> Sequence[Part]:
    """Return what is told behind a size: "...: work as follows: cast off ..."."""
    parts = _after_colon(parts)
    if [p.kind for p in parts[:2]] == ["work", "filler"] and parts[1].concept == "follows":
        return _after_colon(parts[2:])
    return parts


def _sets_apart(part: Part) -> bool:
    """Say whether a part is a mark that sets apart the size named behind it: "...: for size S: ..."."""
    return part.kind in ("colon", "stop", "dash", "star") or _is_semicolon(part)


def _is_semicolon(part: Part) -> bool:
    return part.kind == "link" and part.concept == "semicolon"


def _dashed(parts: Sequence[Part]) -> bool:
    """Say whether dashes in a list leave out sizes: they say for which sizes a sentence is."""
    amounts = [p.amount.values for p in parts if p.amount is not None]
    return any(None in values for values in amounts)


def _after_colon(parts: Sequence[Part]) -> Sequence[Part]:
    at = 0
    while at < len(parts) and parts[at].kind in ("colon", "link", "stop", "star", "dash"):
        at += 1
    return parts[at:]
