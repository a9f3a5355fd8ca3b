"""Checking square shoulders kept live: no row turns, so they are known by what becomes of their sts."""

from __future__ import annotations

import pytest
from measure_checks import PAIRS, alarms, drafts

from rewriter import check
from rewriter.comparison import Comparison
from tests.checktools import errors

LEAD = (
    "BACK\nWork straight in st st until armholes measure 24 cm, ending with a WS row. 106 sts.\n"
    "Shape shoulders\n"
)
REST = "\n\nFRONT\nWork as for back.\n\nMAKING UP\nJoin shoulders{}.\n"
STEPS = "Cast off 34 sts at beg of next 2 rows.\nLeave rem 38 sts on a holder."
HELD = "Slip 34 sts for each shoulder and 38 sts for the neck onto holders."


def _check(rows: str) -> Comparison:
    original = LEAD + STEPS + REST.format("")
    return check(original, LEAD + rows + REST.format(" with a three-needle cast-off"))


@pytest.mark.parametrize(
    "rows",
    [
        f"Next row (RS): K to end.\n{HELD}",
        f"K 1 row. {HELD}",
        f"Work 1 row.\n{HELD}",
        "Next row (RS): K to end.\nPlace first 34 sts on a holder, next 38 sts on a second holder and "
        "last 34 sts on a third holder.",
    ],
)
def test_the_sts_are_live_and_within_a_row(rows: str) -> None:
    found = _check(rows)
    assert errors(found) == []
    assert found.result == "same"
    (passage,) = [p for p in found.passages if p.changed]
    assert {e.ending for e in passage.edges} == {"live"}
    assert sorted(c.rows for e in passage.edges for c in e.gained[0]) == [0, 1]


@pytest.mark.parametrize(
    ("rows", "code"),
    [
        (f"Next row (RS): K to end.\n{HELD.replace('34', '33')}", "sts-do-not-add-up"),
        (f"Work 3 rows.\n{HELD}", "rows-differ"),
        (
            "Next row (RS): K to last 10 sts, w&t. Next row: P to last 10 sts, w&t. Next row: K to end, "
            f"picking up wraps. {HELD}",
            "turn-too-many",
        ),
    ],
)
def test_what_differs_is_named(rows: str, code: str) -> None:
    found = _check(rows)
    assert found.result == "differs"
    assert code in {f.code for f in found.findings if f.severity == "error"}


@pytest.mark.parametrize("part", ["213-", "247-", "276-"])
def test_no_false_alarm_over_square_shoulders_kept_live(part: str) -> None:
    (draft,) = [d for d in drafts() if d.name.startswith(part)]
    assert [told for pair in PAIRS for told in alarms(draft, pair)] == []
