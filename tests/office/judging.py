"""What a revised document must be when a word processor has opened, settled and printed it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from pathlib import Path

from tests.office.office import Job, Seen, pages

Found = Mapping[tuple[Path, str], Seen]


@dataclass
class Case:
    """One draft rewritten with one combination of options."""

    name: str
    draft: Path
    tracked: Path
    applied: Path
    text: Path
    """The program's own revised text."""
    pages: bool = False
    """Whether its pages are looked at."""
    faults: list[str] = field(default_factory=list)

    def jobs(self) -> list[Job]:
        """Return what the word processor is asked to do."""
        return [
            Job(file, settle, self.pages)
            for file in (self.draft, self.tracked, self.applied)
            for settle in ("accept", "refuse")
        ]


def judge(cases: Sequence[Case], found: Found) -> list[str]:
    """Return what is not as it should be."""
    return [f"{case.name}: {fault}" for case in cases for fault in _faults(case, found)]


def _faults(case: Case, found: Found) -> Iterator[str]:
    seen = {(job.file, job.settle): found[job.file, job.settle] for job in case.jobs()}
    errors = [f"{f.name} ({s}): {one.error}" for (f, s), one in seen.items() if one.error]
    if errors:
        yield from errors
        return
    draft, tracked = seen[case.draft, "accept"], seen[case.tracked, "accept"]
    applied = seen[case.applied, "accept"]
    yield from _same(
        "refused, its words are not the draft's",
        seen[case.draft, "refuse"].lines,
        seen[case.tracked, "refuse"].lines,
    )
    yield from _same("accepted and made in earnest differ", applied.lines, tracked.lines)
    text = case.text.read_text(encoding="utf-8")
    yield from _same("accepted, it is not the revised text", words_of(text), _words(tracked.lines))
    if applied.comments != draft.comments:
        yield f"made in earnest, it has {applied.comments} comments instead of {draft.comments}"
    if tracked.lines != draft.lines and not (
        tracked.changes > draft.changes and tracked.comments > draft.comments
    ):
        yield "its changes have no marks, or no comment beside them"
    if case.pages:
        yield from _pages(case)


def _same(what: str, right: Sequence[str], got: Sequence[str]) -> Iterator[str]:
    if list(right) != list(got):
        match = SequenceMatcher(None, right, got, autojunk=False)
        for kind, a, b, c, d in [o for o in match.get_opcodes() if o[0] != "equal"][:3]:
            yield f"{what} ({kind}): {list(right[a:b])} → {list(got[c:d])}"


def _pages(case: Case) -> Iterator[str]:
    def of(file: Path, settle: str) -> Path:
        return Job(file, settle).pdf

    for what, one, two in (
        ("refused, pages do not look like the draft's",
         of(case.draft, "refuse"), of(case.tracked, "refuse")),
        ("accepted and made in earnest look unlike",
         of(case.applied, "accept"), of(case.tracked, "accept")),
    ):  # fmt: skip
        old, new = pages(one), pages(two)
        unlike = [
            n for n, (a, b) in enumerate(zip(old, new, strict=False), 1) if not a.looks_like(b)
        ]
        if unlike or len(old) != len(new):
            yield f"{what}: {len(old)} and {len(new)} pages, unlike {unlike}"
    old, new = pages(of(case.draft, "accept")), pages(of(case.applied, "accept"))
    before = {page.words: page for page in old}
    for number, page in enumerate(new, 1):
        if page.words in before and not page.looks_like(before[page.words]):
            yield f"page {number} has the draft's words and looks unlike"


# --- the program's text as plain words --------------------------------------------------------------

_RULE = re.compile(r"^\|(?: --- \|)+$", re.MULTILINE)
_SIGNS = re.compile(r"^(?:#{1,6} |- |\d{1,3}\. |\[\^\w+\]: )", re.MULTILINE)


def words_of(text: str) -> list[str]:
    """Return the words of a text in the program's block form, without the signs of its form.

    >>> words_of("## Back\\n\\n- **Row 1:** K.[^1]\\n\\n| a | b |\\n| --- | --- |")
    ['Back', 'Row', '1:', 'K.', 'a', 'b']
    """
    text = _SIGNS.sub("", _RULE.sub("", text)).replace("**", "")
    text = re.sub(r"\[\^\w+\]", "", text).replace("|", " ")
    return re.sub(r"^\\", "", text, flags=re.MULTILINE).split()


def _words(lines: Sequence[str]) -> list[str]:
    return " ".join(lines).split()
