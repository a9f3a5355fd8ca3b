"""The measure over the corpus: nothing wrong, and a snapshot so that a change shows its effect."""

from __future__ import annotations

import measure
from syrupy.assertion import SnapshotAssertion


def test_the_measure(snapshot: SnapshotAssertion) -> None:
    verdicts = list(measure.judged())
    wrong = [
        (case.path.name, expected or passage)
        for case, judged in verdicts
        for expected, passage, verdict in judged
        if verdict == "wrong"
    ]
    assert not wrong
    assert measure.table(verdicts) == snapshot
