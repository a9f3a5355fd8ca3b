"""What stands in brackets: counts, sides, rows, a phrase a size, and notes by the way."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import replace

from rewriter.frames import Frame
from rewriter.framestate import FrameState
from rewriter.parsing import Part
from rewriter.sizephrases import with_next_sizes
from rewriter.slots import LEADING, ROWS, SLOTS
from rewriter.spans import Span


class BracketReader(FrameState):
    """Takes what stands in brackets into the frame before them."""

    @abstractmethod
    def add(self, part: Part) -> None:
        """Take in the next part of a sentence."""

    @abstractmethod
    def _slot(self, slot: str, part: Part) -> None:
        """Put a part into a slot of the frame, or begin another frame with it."""

    def _paren(self, part: Part) -> None:
        inner = [p for p in part.inner if p.kind not in ("link", "colon", "stop", "dash", "filler")]
        if self._is_for_next_sizes(part.inner):
            return
        if any(p.concept == "unworked" for p in part.inner):
            self.current.notes.append(part)  # "(the 16 unworked shoulder sts and 12 more)"
            self._stretch(self.current, part)
        elif (
            [p.kind for p in inner] == ["count"]
            and any(p.concept == "each" for p in part.inner)
            and self._is_sum_of_steps(inner[0])
        ):
            self.current.notes.append(part)  # "2-6-2, 2-7-1 (19 sts each)"
            self._stretch(self.current, part)
        elif len(inner) == 1 and inner[0].kind in (
            "count",
            "bare_count",
            "left_count",
            "rem_count",
        ):
            self._total(inner[0])
        elif (
            inner
            and all(SLOTS.get(p.kind) in LEADING for p in inner)
            and any(p.kind in ROWS or p.kind == "at_beg" for p in inner)
        ):
            for p in inner:  # "(every 2 rows)", "(at the start of the wrong-side rows)"
                self.add(p)
        elif len(inner) > 1 and self._restates(inner):
            self.current.notes.append(part)
            self._stretch(self.current, part)
        elif [p.kind for p in inner] == ["closing"]:
            self.add(inner[0])  # "(counting the DS as 1 st)"
        elif inner and all(p.kind in ("some_rows", "more", "total", "filler") for p in part.inner):
            self.current.notes.append(part)  # "(six rows in all)"
            self._stretch(self.current, part)
        elif [p.kind for p in inner] == ["times"] and "times" not in self.current.parts:
            self._slot("times", inner[0])  # "at beg of every RS row (3 times)"
        elif inner and inner[0].kind == "ending":
            for p in part.inner:  # "(work the last row on RS)"
                self.add(p)
        elif [p.kind for p in inner] == ["count", "on_needle"] and self.current.verb == "work":
            # "k 17 (18 sts on right needle)"
            told = self.current.parts.pop("count", [part])
            span = Span(told[0].span.start, part.span.end)
            self._fill("extent", replace(inner[0], kind="until_count", span=span))
        elif len(inner) == 1 and inner[0].kind in ("side", "side_row", "side_facing"):
            begun = [n.concept for n in self.current.notes][-1:] == ["beginning"]
            starts = replace(inner[0], kind="side_facing", concept="starting")
            self._slot("side", starts if begun else inner[0])  # "beginning on the next row (WS)"
        elif (
            inner
            and inner[0].kind == "excepting"
            and all(p.kind in ("ordinal", "size") for p in inner[1:])
        ):
            self.current.excepts += tuple(n for p in inner for n in p.numbers)
        elif [p.kind for p in inner] == ["work_row"] and self.current.verb in ("", "bind_off"):
            self.current.notes.append(part)  # "starting at arm edge (p row), bind off ..."
            self._stretch(self.current, part)
        elif [p.kind for p in inner] == ["edge"] and self._without_edge():
            self._fill("edge", inner[0])  # "bind off 10 sts (neck edge)"
            self._stretch(self.current, part)
        elif [p.kind for p in inner][:3] == ["work", "to_end", "each_side"]:
            self.current.notes.append(part)  # "(working across both sides on every row)"
            self._stretch(self.current, part)
        elif sorted(p.kind for p in inner) == ["count", "each_side"] and self._is_sum_of_steps(
            next(p for p in inner if p.amount)
        ):
            self.current.notes.append(part)  # "2 x 6, 1 x 7 sts (each side 19 sts)"
            self._stretch(self.current, part)
        elif all(p.kind in ("marker", "edge", "each_side", "all_sizes", "rem_all") for p in inner):
            self.current.notes.append(part)
            self._stretch(self.current, part)
        else:
            self.current.residue.append(part)
            self._stretch(self.current, part)

    def _is_sum_of_steps(self, total: Part) -> bool:
        return is_sum_of_steps([*self.frames, self.current], total)

    def _restates(self, inner: Sequence[Part]) -> bool:
        """Say whether brackets tell the steps again: "2-7-2, 2-8-1 (7 sts twice and 8 sts once)"."""
        told = [p for p in inner if p.kind not in ROWS and p.kind != "at_beg"]
        counts = [p for p in told if p.kind in ("count", "bare_count")]
        times = [p for p in told if p.kind in ("times", "once")]
        steps = [f for f in [*self.frames, self.current] if f.verb == "bind_off" and f.amount]
        if not len(counts) == len(times) == len(steps) or len(told) != 2 * len(counts):
            return False
        return all(
            count.amount is not None
            and frame.amount is not None
            and count.amount.values == frame.amount.values
            and (often := frame.one("times")) is not None
            and _often(often) == _often(again)
            for frame, count, again in zip(steps, counts, times, strict=True)
        )

    def _is_for_next_sizes(self, inner: Sequence[Part]) -> bool:
        """Take "(3 times)" after "twice", "(twelve for the larger size)": a phrase a size."""
        found = with_next_sizes(self.since_link, inner, self.phrases, self.sizes)
        if found is None:
            return self._is_total_of_next_sizes(inner)
        slot, last, merged = found
        self.current.parts[slot][-1] = merged
        self.since_link[self.since_link.index((slot, last))] = (slot, merged)
        self.phrases = True
        return True

    def _is_total_of_next_sizes(self, inner: Sequence[Part]) -> bool:
        """Take "(eighty-eight for the large)" right behind the sts on the needle of the first size."""
        counts = self.running or self.opening
        if not counts or not 0 <= inner[0].span.start - counts[-1].span.end <= _JOINT:
            return False
        found = with_next_sizes([("count", counts[-1])], inner, self.phrases, self.sizes)
        if found is not None:
            counts[-1] = found[2]
        return found is not None


def is_sum_of_steps(frames: Sequence[Frame], total: Part) -> bool:
    """Say whether a count is what the steps of a sentence, each told so many times, take in all."""
    sums = [0] * len(total.amount.values if total.amount else ())
    for frame in frames:
        count, times = frame.amount, frame.one("times")
        if frame.verb not in ("", "bind_off") or count is None or times is None:
            return False
        for values in (count.values, often := _often(times)):
            if len(values) not in (1, len(sums)):
                return False
        sums = [s + (_entry(count.values, i) * _entry(often, i)) for i, s in enumerate(sums)]
    return total.amount is not None and tuple(sums) == total.amount.values


def _often(times: Part) -> tuple[int | None, ...]:
    """Return how many times, for all sizes or for each."""
    return times.amount.values if times.amount else (int(times.concept),)


_JOINT = 2
"""A blank and the bracket stand between a count and that of the next size."""


def _entry(values: Sequence[int | None], size: int) -> int:
    """Return the number of a size in a list, or the one number that is for all."""
    return values[size if len(values) > 1 else 0] or 0
