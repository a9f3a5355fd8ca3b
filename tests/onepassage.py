"""A text with one stepped passage, rewritten without markers."""

from __future__ import annotations

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import PassageReport, Report


def revised(text: str) -> Report:
    return rewrite(text + "\n", Options(markers=False))


def passage(text: str) -> PassageReport:
    (found,) = revised(text).passages
    return found


def steps(text: str) -> list[int]:
    """Return the steps of the first edge of the only shoulder, in one size."""
    found = passage(text)
    assert found.status == "rewritten", found.reason
    return [n for row in found.edges[0].steps for n in row]
