"""Checking shoulders that are cast on: the tool's own short rows, people's, and faults in both."""

from __future__ import annotations

from pathlib import Path

import pytest
from measure_checks import PAIRS, alarms

from rewriter import check, rewrite
from rewriter.comparison import Comparison
from rewriter.options import Options
from rewriter.source import read_source
from tests.checktools import errors
from tests.drafts import CORPUS

CAST_ON = sorted(p for p in (CORPUS / "topdown").iterdir() if p.suffix in (".md", ".txt"))


@pytest.mark.parametrize("draft", CAST_ON, ids=lambda p: p.stem)
def test_no_rewriting_of_cast_ons_gets_an_alarm(draft: Path) -> None:
    assert list(alarms(draft, PAIRS[CAST_ON.index(draft) % len(PAIRS)])) == []


BACK = (
    "Worked from the top down in stocking stitch.\nSizes S (M, L)\n\nBACK\nUsing 4 mm needles, cast on 33 "
    "(35, 37) sts for back neck. P 1 row.\nShape shoulders\n"
)
STEPS = (
    "Cast on 7 (8, 8) sts at beg of next 4 rows, then 8 (8, 9) sts at beg of foll 2 rows. "
    "77 (83, 87) sts.\n"
)
BEHIND = "Work straight until armholes measure 21 cm, ending with a WS row.\nCast off.\n"
GROWN = (
    "Row 1 (RS): Cast on 22 (24, 25) sts, k to end.\n"
    "Row 2 (WS): Cast on 22 (24, 25) sts, p to last 15 (16, 17) sts, w&t.\n"
    "Row 3: K to last 15 (16, 17) sts, w&t.\n"
    "Row 4: P to last 8 (8, 9) sts, picking up the wrap, w&t.\n"
    "Row 5: K to last 8 (8, 9) sts, picking up the wrap, w&t.\n"
    "Row 6: P to end, picking up wraps.\n"
    "Row 7: K to end, picking up the rem wrap.\n"
)


def _check(grown: str) -> Comparison:
    return check(BACK + STEPS + BEHIND, BACK + grown + BEHIND)


def test_rows_that_grow_are_the_same_fabric() -> None:
    found = _check(GROWN)
    assert found.result == "same", errors(found)
    assert [p.result for p in found.passages if p.changed] == ["same"]


@pytest.mark.parametrize(
    ("old", "new", "code", "row", "sizes"),
    [
        ("Row 4: P to last 8 (8, 9)", "Row 4: P to last 8 (9, 9)", "turn-misplaced", 4, {"M"}),
        ("Row 3: K to last 15 (16, 17)", "Row 3: K to last 16 (16, 17)", "turn-misplaced", 3, {"S"}),
        (
            "Row 2 (WS): Cast on 22 (24, 25)", "Row 2 (WS): Cast on 22 (24, 24)",
            "sts-do-not-add-up", 2, {"L"},
        ),
        ("w&t.\nRow 6", "work to end.\nRow 6", "turn-missing", 5, {"S", "M", "L"}),
        ("Row 6: P to end,", "Row 6: P to last 2 sts, w&t,", "turn-too-many", 6, {"S", "M", "L"}),
        ("Row 2 (WS)", "Row 2 (RS)", "sides-contradict", 2, {"S", "M", "L"}),
    ],
)  # fmt: skip
def test_a_fault_is_found_at_its_row_and_size(
    old: str, new: str, code: str, row: int, sizes: set[str]
) -> None:
    text = GROWN.replace(old, new)
    if code == "turn-missing":
        text = GROWN.replace(
            "Row 5: K to last 8 (8, 9) sts, picking up the wrap, w&t.", "Row 5: K to end."
        )
    assert text != GROWN
    found = _check(text)
    line = (BACK + text).count("\n", 0, (BACK + text).index(f"Row {row}")) + 1
    told = [f for f in found.findings if f.severity == "error" and f.code == code]
    assert [f for f in told if f.revised_line == line and set(f.sizes) == sizes], errors(found)
    assert found.result == "differs"


def test_a_front_that_begins_with_its_shoulder() -> None:
    """The sts that it is cast on with are the first step, told before its plain row."""
    draft = CORPUS / "topdown" / "uk-alder-slipover.md"
    text = read_source(draft.read_bytes(), draft.name).text
    out = rewrite(text, Options(turn="wrap"), name=draft.name).output
    assert check(text, out).result == "same"
    wrong = out.replace(
        "Cast on 22(24:25) sts for left shoulder", "Cast on 22(24:24) sts for left shoulder"
    )
    found = check(text, wrong)
    told = [f for f in found.findings if f.severity == "error" and f.sizes == ("97",)]
    assert told and found.result == "differs", errors(found)
    assert "24 sts are cast on here, the steps give 8 + 8 + 9 = 25" in told[0].message
