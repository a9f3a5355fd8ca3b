"""Lead-ins that end with a row by its number, and rows told by the sts they work."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options

FRONT = """LEFT FRONT
Work in stockinette until there are 14 stitches.
{before}
Shoulder
Row 45: Bind off 5, knit 9.
Row 46: Purl 9.
Row 47: Bind off 5, knit 4.
Row 48: Purl 4.
Row 49: Bind off these 4.
"""


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (
            "Continue until row 44, a purl row, has been worked.",
            "Continue until row 43, a knit row, has been worked.",
        ),
        (
            "Work straight until row 44 (a WS row) is completed.",
            "Work straight until row 43 (a RS row) is completed.",
        ),
        (
            "Knit on through row 44, which is a purl row.",
            "Knit on through row 43, which is a knit row.",
        ),
        (
            "Rows 7 to 44: Work in stockinette, beginning with a knit row and ending with a purl row.",
            "Rows 7 to 43: Work in stockinette, beginning with a knit row and ending with a knit row.",
        ),
        (
            "Rows 6 to 44: Work in stockinette, beginning and ending with a purl row.",
            "Rows 6 to 43: Work in stockinette, beginning with a purl row and ending with a knit row.",
        ),
    ],
)
def test_the_number_and_the_kind_of_the_last_row_move(before: str, after: str) -> None:
    report = rewrite(FRONT.format(before=before), Options(markers=False))
    (found,) = report.passages
    assert found.status == "rewritten", found.reason
    assert found.edges[0].steps == ((5,), (5,), (4,))
    assert after in report.output
    assert "Row 44 (" in report.output


def test_a_row_that_works_other_sts_than_are_left_is_not_taken_to_its_end() -> None:
    draft = FRONT.format(before="Continue until row 44, a purl row, has been worked.")
    report = rewrite(draft.replace("Purl 9", "Purl 8"), Options(markers=False))
    assert [p.status for p in report.passages] != ["rewritten"]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (
            "Work 15 rows, so that a purl row is the last one worked.",
            "Work 14 rows, so that a knit row is the last one worked.",
        ),
        (
            "Work 15 rows. A purl row is the last one this time.",
            "Work 14 rows. A knit row is the last one this time.",
        ),
    ],
)
def test_the_kind_of_the_last_row_moves_with_their_number(before: str, after: str) -> None:
    draft = FRONT.format(before=before)
    for number in range(45, 50):
        draft = draft.replace(f"Row {number}:", f"Row {number - 44}:")
    report = rewrite(draft, Options(markers=False))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert after in report.output


NECK = """FRONT
Work in stockinette.
Right-hand side of neck
RS facing, join yarn and cast off 10 sts, k to end. 19 sts.
P 1 row.
Cast off 4 sts, k to end. P 1 row. Cast off 3 sts, k to end.
Work 16 rows.
Shoulder: cast off 4 sts, p to end. K 1 row. Cast off 4 sts, p to end. K 1 row. Cast off rem 4 sts.
"""


def test_steps_before_straight_rows_and_a_headed_shoulder_are_not_taken_for_it() -> None:
    first = rewrite(NECK, Options(markers=False)).passages[0]
    assert first.status != "rewritten"
