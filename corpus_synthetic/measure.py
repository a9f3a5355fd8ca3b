"""Count, over the whole corpus, what is found, read right, rewritten, asked, left or wrong.

    python corpus_synthetic/measure.py

Rows are the sets of drafts and their houses. A shoulder is read right when the steps of its
first-worked edge are those of the truth in every size, no edge is lost, and its side, if one is given, is the
truth's; one that nobody could convert without asking is read right where it is asked about ("rightly").
Wrong is what must never be: a rewriting of anything else, or with other steps.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from rewriter.options import Options
from rewriter.pipeline import rewrite_bytes
from rewriter.report import PassageReport, Report
from rewriter.source import read_source

HERE = Path(__file__).parent
COLUMNS = ("shoulders", "found", "read right", "rewritten", "rightly", "asked", "left", "wrong")


@dataclass(frozen=True)
class Expected:
    """One stepped passage of a draft, as its truth tells it."""

    starts_with: str
    convert: bool
    steps: tuple[tuple[int, ...], ...]
    """Per size, the steps of the first-worked edge."""
    side: str | None
    ask: bool = False
    """It is a shoulder, but its words leave something open that only its knitter can say."""
    edges: int = 1
    """How many edges its rows shape; a neck that divides them may be told as one edge and then the other."""


@dataclass(frozen=True)
class Case:
    """A draft with what is expected of it."""

    path: Path
    house: str
    expected: tuple[Expected, ...]
    forms: tuple[str, ...] = ()
    """Letters of the kinds of forms it shows."""


def cases() -> Iterator[Case]:
    """Yield every draft of the corpus, in order."""
    for truth in sorted(HERE.glob("*/*.truth.json")):
        data = json.loads(truth.read_text(encoding="utf-8"))
        folder = truth.parent.name
        house = str(data["house"]) if folder == "generated" else folder
        yield Case(_draft(truth, ".truth.json"), house, tuple(map(_from_truth, data["passages"])))
    for expect in sorted(HERE.glob("*/*.expect.json")):
        data = json.loads(expect.read_text(encoding="utf-8"))
        expected = tuple(map(_from_expect, data["passages"]))
        yield Case(_draft(expect, ".expect.json"), expect.parent.name, expected)

    for folder in ("passages", "cuttings"):
        truths = HERE / folder / "truth.json"
        for name, truth in json.loads(truths.read_text(encoding="utf-8")).items():
            forms = sorted(set(_FORM.findall(truth["note"])))
            shoulders = tuple(map(_from_expect, truth["shoulders"]))
            yield Case(truths.with_name(f"{name}.txt"), folder, shoulders, tuple(forms))


_FORM = re.compile(r"(?:^|; )([a-k]) ")
"""A kind of form in a passage's note: "a" size lists, "b" verbs, "c" rows, ... (see the README)."""


def _draft(side_file: Path, ending: str) -> Path:
    stem = side_file.name.removesuffix(ending)
    (path,) = [p for p in side_file.parent.glob(f"{stem}.*") if p.suffix in (".md", ".txt")]
    return path


def _from_truth(passage: dict[str, Any]) -> Expected:
    edges = passage.get("edges") or [{"steps": [], "first_bind_off_side": None}]
    steps = tuple(tuple(n for n in size if n) for size in zip(*edges[0]["steps"], strict=True))
    side = edges[0]["first_bind_off_side"]
    return Expected(passage["starts_with"], passage["convertible"], steps, side, edges=len(edges))


def _from_expect(passage: dict[str, Any]) -> Expected:
    return Expected(
        passage["starts_with"],
        passage["should"] == "convert",
        tuple(tuple(size) for size in passage["steps_per_size"] or ()),
        passage["first_bind_off_side"],
        passage["should"] == "ask",
        int(passage.get("edges") or 1),
    )


Verdict = tuple[Expected | None, PassageReport | None, str]
"""An expected passage, what was found for it, and what is to be said of that."""


def judge(case: Case, report: Report | None = None) -> Iterator[Verdict]:
    """Yield each expected passage with what was found for it and the verdict, then the extra ones.

    `report` is that of the draft with the usual options, where it has been made already.
    """
    data = case.path.read_bytes()
    report = report or rewrite_bytes(data, case.path.name, Options())[0]
    text = read_source(data, case.path.name).text
    used: set[str] = set()
    for expected in _told_apart_joined(case.expected):
        passage = found(expected.starts_with, report, text, used)
        yield expected, passage, _verdict(expected, passage)
    for passage in report.passages:
        told_elsewhere = _told_elsewhere(passage, report, text)
        if passage.id not in used and passage.status == "rewritten" and not told_elsewhere:
            yield None, passage, "wrong"


def _told_elsewhere(passage: PassageReport, report: Report, text: str) -> bool:
    """Say whether a shoulder has no steps in its own words, and those of the one that it names."""
    if _REFERS.match(text, *passage.span):
        return True
    steps = [edge.steps for edge in passage.edges[:1]]
    others = [p for p in report.passages if p is not passage and p.status == "rewritten"]
    alike = any([edge.steps for edge in p.edges[:1]] == steps for p in others)
    return alike and _NAMES_OTHER.search(text, *passage.span) is not None


def _told_apart_joined(expected: Iterable[Expected]) -> Iterator[Expected]:
    """Yield what is expected, one shoulder whose sizes a truth tells one after the other as one.

    "Sizes 2 and 4: bind off ..." and "Sizes 6 and 8: bind off ..." are one passage.
    """
    held: Expected | None = None
    for one in expected:
        apart = held is not None and held.convert and one.convert and held.side == one.side
        if held is not None and apart and _complement(held.steps, one.steps):
            steps = tuple(a or b for a, b in zip(held.steps, one.steps, strict=True))
            held = replace(held, steps=steps)
            continue
        if held is not None:
            yield held
        held = one
    if held is not None:
        yield held


def _complement(some: tuple[tuple[int, ...], ...], others: tuple[tuple[int, ...], ...]) -> bool:
    """Say whether steps are told for some of the sizes, and for no size twice."""
    gap = any(not steps for steps in some) and any(not steps for steps in others)
    return (
        gap
        and len(some) == len(others)
        and not any(a and b for a, b in zip(some, others, strict=True))
    )


_REFERS = re.compile(
    r"(?i)\W*(?:at the same (?:height|length)[^.]{0,40}\s)?(?:as|same as)\s+(?:for|on|given for)?\s*"
    r"(?:the\s+)?(?:back|front)\b"
)


_NAMES_OTHER = re.compile(r"(?i)\b(?:as|like|same)\b[^.;]{0,40}\b(?:back|front)\b")


def found(starts_with: str, report: Report, text: str, used: set[str]) -> PassageReport | None:
    """Return the first passage not yet `used` that begins about where the truth says."""
    words = " ".join(starts_with.split())
    for key in dict.fromkeys((words[:40], words[:20])):
        for passage in report.passages:
            start, end = passage.span
            near = " ".join(text[max(0, start - 100) : max(start + 120, end)].split())
            if passage.id not in used and key in near:
                used.add(passage.id)
                return passage
    return None


def _verdict(expected: Expected, passage: PassageReport | None) -> str:
    rewritten = passage is not None and passage.status == "rewritten"
    if expected.ask and not rewritten:
        asked = passage is not None and passage.status == "question"
        return "rightly" if asked else "left" if passage is not None else "missed"
    if not expected.convert:
        return "wrong" if rewritten else "not a shoulder"
    if passage is None:
        return "missed"
    if not rewritten:
        return "asked" if passage.status == "question" else "left"
    return "rewritten" if read_right(expected, passage) else "wrong"


def read_right(expected: Expected, passage: PassageReport) -> bool:
    """Say whether the first edge of a passage has the steps and the side of the truth, and no edge lost."""
    if len(passage.edges) < expected.edges:
        return False
    edge = passage.edges[0]
    steps = tuple(tuple(n for n in size if n) for size in zip(*edge.steps, strict=True))
    return steps == expected.steps and edge.first_bind_off_side in (None, expected.side)


def count(verdicts: Iterable[Verdict]) -> Counter[str]:
    """Return how many of the passages of a draft there are in each column."""
    row: Counter[str] = Counter()
    for expected, passage, verdict in verdicts:
        if verdict == "wrong":
            row["wrong"] += 1
        if expected is None or not (expected.convert or expected.ask):
            continue
        row["shoulders"] += 1
        row["found"] += passage is not None
        row["read right"] += verdict == "rightly" or (
            passage is not None and expected.convert and read_right(expected, passage)
        )
        if verdict in COLUMNS and verdict != "wrong":
            row[verdict] += 1
    return row


def table(drafts: Iterable[tuple[Case, Counter[str]]]) -> str:
    """Return the counts of drafts as a table of plain text."""
    houses: dict[str, Counter[str]] = {}
    forms: dict[str, Counter[str]] = {}
    for case, row in drafts:
        houses.setdefault(case.house, Counter()).update(row)
        for form in case.forms:
            forms.setdefault(f"form {form}", Counter()).update(row)
    total: Counter[str] = Counter()
    for row in houses.values():
        total.update(row)
    lines = ["house".ljust(14) + "".join(c.rjust(12) for c in COLUMNS)]
    for house, row in [*houses.items(), *sorted(forms.items()), ("all", total)]:
        lines.append(house.ljust(14) + "".join(str(row[c]).rjust(12) for c in COLUMNS))
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    print(table((case, count(judge(case))) for case in cases()), end="")
