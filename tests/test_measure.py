"""The measure over the corpus: nothing wrong, and a snapshot so that a change shows its effect."""

from __future__ import annotations

import measure
import pytest
from syrupy.assertion import SnapshotAssertion


@pytest.mark.parametrize("case", list(measure.cases()), ids=lambda c: c.path.stem)
def test_nothing_is_rewritten_wrongly(case: measure.Case) -> None:
    wrong = [(e, p) for e, p, verdict in measure.judge(case) if verdict == "wrong"]
    assert not wrong


def test_the_measure(snapshot: SnapshotAssertion) -> None:
    assert measure.table() == snapshot
