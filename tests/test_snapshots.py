"""Snapshots of what changes in every draft of the corpus; byte-exact, line ends kept."""

from __future__ import annotations

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension

from rewriter.edits import unified
from rewriter.options import JOINS, TURNS, Options
from rewriter.render import describe
from rewriter.source import read_source
from tests.drafts import SyntheticDraft, all_drafts, rewritten


class Exact(SingleFileSnapshotExtension):
    """One file a snapshot, bytes as they are (text snapshots cannot tell CRLF from LF)."""

    file_extension = "txt"


@pytest.mark.parametrize(
    ("number", "draft"), list(enumerate(all_drafts())), ids=[d.name for d in all_drafts()]
)
def test_what_changes(number: int, draft: SyntheticDraft, snapshot: SnapshotAssertion) -> None:
    """The default options, and one other pair of turn and join for each draft in turn."""
    source = read_source(draft.data, draft.path.name)
    parts = []
    other = Options(turn=TURNS[number % 5], shoulders=JOINS[1 + number % 3])
    for options in (Options(), other):
        report, _ = rewritten(draft.path, options)
        parts.append(f"== {options.turn}, {options.shoulders}\n")
        parts.append(describe(report, source, brief=True))
        parts.append(unified(source.text, report.output, Path(draft.path).name))
    assert "\n".join(parts).encode() == snapshot(extension_class=Exact)
