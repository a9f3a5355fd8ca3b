"""The measure over the corpus: nothing wrong, and a snapshot so that a change shows its effect."""

from __future__ import annotations

import json
import os
from collections import Counter
from pathlib import Path

import measure
import pytest
from measure import Case
from syrupy.assertion import SnapshotAssertion

from tests.drafts import rewritten
from tests.test_follow import PATHS as FOLLOWED
from tests.test_style import PATHS as STYLED

CASES = list(measure.cases())
SHARED = {path.parent.name for path in (*STYLED, *FOLLOWED)}
"""Folders whose drafts other tests rewrite too."""
ALONE = [case for case in CASES if case.path.parent.name not in SHARED]
TOGETHER = 20


@pytest.fixture(scope="session")
def counted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder in which all processes of a run keep what they counted, draft by draft."""
    own = tmp_path_factory.getbasetemp()
    folder = (own.parent if "PYTEST_XDIST_WORKER" in os.environ else own) / "counted"
    folder.mkdir(exist_ok=True)
    return folder


def _place(folder: Path, case: Case) -> Path:
    return folder / f"{case.path.parent.name} {case.path.name}.json"


@pytest.mark.parametrize(
    "case", [c for c in CASES if c.path.parent.name in SHARED], ids=lambda c: c.path.stem
)
def test_nothing_is_wrong(case: Case, counted: Path) -> None:
    _count(case, counted)


@pytest.mark.parametrize("first", range(0, len(ALONE), TOGETHER))
def test_nothing_is_wrong_in_what_no_other_test_rewrites(first: int, counted: Path) -> None:
    for case in ALONE[first : first + TOGETHER]:
        _count(case, counted)


def _count(case: Case, counted: Path) -> None:
    """Count what became of a draft, of which nothing may be wrong."""
    verdicts = list(measure.judge(case, rewritten(case.path)[0]))
    wrong = [(case.path.name, e or p) for e, p, verdict in verdicts if verdict == "wrong"]
    assert wrong == []
    place = _place(counted, case)
    draft = place.with_suffix(f".{os.getpid()}")
    draft.write_text(json.dumps(measure.count(verdicts)), encoding="utf-8")
    draft.replace(place)


@pytest.mark.last
def test_the_measure(counted: Path, snapshot: SnapshotAssertion) -> None:
    """What the tests of the drafts counted; a draft whose test did not run is counted here."""

    def row(case: Case) -> Counter[str]:
        place = _place(counted, case)
        if place.exists():
            return Counter(json.loads(place.read_text(encoding="utf-8")))
        return measure.count(measure.judge(case, rewritten(case.path)[0]))

    assert measure.table((case, row(case)) for case in CASES) == snapshot
