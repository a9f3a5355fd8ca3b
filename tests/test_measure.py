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

from tests.drafts import CORPUS, rewritten

CASES = [pytest.param(c, id=c.path.relative_to(CORPUS).as_posix()) for c in measure.cases()]


@pytest.fixture(scope="session")
def counted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder in which all processes of a run keep what they counted, draft by draft."""
    own = tmp_path_factory.getbasetemp()
    folder = (own.parent if "PYTEST_XDIST_WORKER" in os.environ else own) / "counted"
    folder.mkdir(exist_ok=True)
    return folder


def _place(folder: Path, case: Case) -> Path:
    return folder / f"{case.path.parent.name} {case.path.name}.json"


@pytest.mark.parametrize("case", CASES)
def test_nothing_is_wrong(case: Case, counted: Path) -> None:
    verdicts = list(measure.judge(case, rewritten(case.path)[0]))
    assert [(e, p) for e, p, verdict in verdicts if verdict == "wrong"] == []
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

    assert measure.table((case, row(case)) for case in measure.cases()) == snapshot
