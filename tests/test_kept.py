"""What is kept from one reading to the next, and made ready ahead, changes nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rewriter import regex
from rewriter.amounts import BEGINS_STEPS, step_list_pattern
from rewriter.document import forget_document, split_document
from rewriter.onesize import in_one_size
from rewriter.rows import Act, Kind
from rewriter.spans import line_starts
from tests.drafts import SyntheticDraft, all_drafts, reworked


@pytest.mark.parametrize("draft", all_drafts()[::8], ids=lambda d: d.name)
def test_blocks_that_are_kept_are_cut_as_if_they_were_new(draft: SyntheticDraft) -> None:
    work = reworked(draft.path)
    source, output = work.draft.document.source, work.report.output
    revised = replace(source, text=output, line_starts=line_starts(output))
    forget_document()
    split_document(source)
    behind_another = split_document(revised)
    forget_document()
    assert split_document(revised) == behind_another


def test_one_size_after_the_other_is_told_from_the_same_words() -> None:
    text = "Bind off 6 (7, 8) sts at beg of next 2 (2, 4) rows."
    told = [in_one_size(text, size, 3) for size in (0, 1, 2, 0)]
    assert told[0] == told[3] == "Bind off 6 sts at beg of next 2 rows."
    assert told[2] == "Bind off 8 sts at beg of next 4 rows."


def test_values_are_told_apart_by_their_fields() -> None:
    assert Act(Kind.WORK, 3) == Act(Kind.WORK, 3) != Act(Kind.LEAVE, 3)
    assert len({Act(Kind.WORK, 3), Act(Kind.WORK, 3), Act(Kind.WORK)}) == 2


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("6 (7, 8) (9, 9, 10) sts", ""),
        ("6 sts (7, 8½, 9) cm", ""),
        ("(6, 6, 5) 7, 6, 6 (7, 7, 7) sts", "(6, 6, 5) 7, 6, 6 (7, 7, 7)"),
        ("8,8,9 (9,9,9 - 10,10,9) sts", "8,8,9 (9,9,9 - 10,10,9)"),
        ("2x6 and 1x7 (3x7) 2x8", "2x6 and 1x7 (3x7) 2x8"),
    ],
)
def test_steps_begin_within_no_list_for_the_sizes(text: str, found: str) -> None:
    steps = regex.search(step_list_pattern(), text)
    assert (steps.group() if steps else "") == found
    assert steps is None or regex.match(BEGINS_STEPS, text[steps.start() :])
