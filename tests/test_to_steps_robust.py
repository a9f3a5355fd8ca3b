"""Damaged short rows are turned back and proven, or left; never a fault, and nothing else changes."""

from __future__ import annotations

import random

import pytest

from rewriter import rewrite
from rewriter.edits import Edit, untouched_outside
from rewriter.options import Options
from rewriter.spans import Span
from tests.test_divided import BACK
from tests.test_to_steps import FRONT, NUMBERED, UK


@pytest.mark.parametrize("text", [UK, FRONT, NUMBERED, BACK])
@pytest.mark.parametrize("shoulders", ["sewn", "three-needle"])
def test_every_line_may_be_missing_doubled_or_cut(text: str, shoulders: str) -> None:
    options = Options(turn="wrap", shoulders="sewn" if shoulders == "sewn" else "three-needle")
    lines = rewrite(text, options).output.splitlines(keepends=True)
    draw = random.Random(f"{shoulders}{text}")
    for at in draw.sample(range(len(lines)), min(6, len(lines))):
        cut = draw.randrange(len(lines[at]) + 1)
        for damaged in (
            [*lines[:at], *lines[at + 1 :]],
            [*lines[: at + 1], *lines[at:]],
            [*lines[:at], lines[at][:cut], *lines[at + 1 :]],
        ):
            source = "".join(damaged)
            report = rewrite(source, Options(to="steps"))
            edits = [Edit(Span(*e.span), e.replacement, e.why) for e in report.edits]
            assert untouched_outside(source, report.output, edits)
            for passage in report.passages:
                assert (passage.status == "rewritten") == (passage.verification.result == "same")
                assert passage.status == "rewritten" or passage.reason
