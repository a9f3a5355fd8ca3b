"""Which pieces can be kept live: where nothing is left beside the shoulder, and where something is."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import Report

DRAFT = """BACK
Work in st st until armholes measure 19 cm, ending with a WS row. 81 sts.
Shape shoulders
Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of foll 2 rows.
Leave rem 31 sts on a holder.

LEFT FRONT
Work in st st until armhole matches back, ending with a WS row.
Shape shoulder
Cast off 8 sts at beg of next and foll alt row, then 9 sts at beg of foll alt row.{more}

MAKING UP
Join shoulder seams.
"""


def _kept(more: str) -> tuple[list[str], str, Report]:
    report = rewrite(DRAFT.format(more=more), Options(shoulders="three-needle"))
    told = [d.message for d in report.diagnostics if d.code == "bound-off-instead"]
    return [p.status for p in report.passages], " ".join(told), report


@pytest.mark.parametrize(
    "more",
    [
        "",
        " Slip rem 25 sts of other side to needle, rejoin yarn at neck edge and work to match.",
        "\nPick up and knit 1 st in every cast-off st around the armhole.",
    ],
)
def test_words_about_other_sts_leave_none_beside_the_shoulder(more: str) -> None:
    statuses, told, report = _kept(more)
    assert set(statuses) == {"rewritten"}
    assert told == ""
    assert "Leave 25 sts on a holder." in report.output


def test_sts_of_a_band_are_named_as_the_reason() -> None:
    statuses, told, report = _kept(" Continue in g st on the 10 border sts for 9 cm. Cast off.")
    assert set(statuses) == {"rewritten"}
    assert told.endswith("left-front/shoulder/1: sts are kept beside the shoulder")
    assert "holder" not in report.output.split("LEFT FRONT")[1]


def test_rows_are_numbered_on_over_a_side_that_is_held() -> None:
    draft = (
        "FRONT\nNext row (RS): K 25, join a second ball of yarn and cast off centre 12 sts, k to end.\n"
        "25 sts each side. Work even until armholes measure 19 cm, ending with a WS row.\nShape shoulders\n"
        "Row 1: Working each side with its own yarn, cast off 8 sts, k to end of both sides.\n"
        "Row 2: Cast off 8 sts, p to end of both sides.\nRows 3 and 4: Rep Rows 1 and 2.\n"
        "Row 5: Cast off 9 sts, k across other side.\nRow 6: Cast off rem 9 sts.\n"
    )
    report = rewrite(draft, Options(shoulders="held"))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert "Slip 25 sts of the side just worked onto a holder" in report.output
    assert "Row 6 (RS): On other side" in report.output


@pytest.mark.parametrize(
    "heading", ["SHOULDERS - ", "Shape shoulders.-", "*Shoulders* \u2014 ", "Shape shoulders: "]
)
@pytest.mark.parametrize("sts", ["sts", "sts."])
def test_a_note_stands_on_a_line_of_its_own(heading: str, sts: str) -> None:
    draft = (
        f"BACK\nWork straight until armholes measure 19 cm, ending with a WS row. 81 {sts}\n"
        f"{heading}Cast off 8 {sts} at beg of next 4 rows, then 9 {sts} at beg of foll 2 rows. "
        f"Leave rem 31 {sts} on a holder.\n"
    )
    report = rewrite(draft, Options(markers=False))
    assert [p.status for p in report.passages] == ["rewritten"], report.diagnostics
    assert f"{heading.rstrip()}\nNote on DS (double st" in report.output


def test_a_graft_names_its_needles_by_what_they_hold() -> None:
    report = rewrite(DRAFT.format(more=""), Options(shoulders="graft"))
    assert "with the wrong sides together and the points to the right" in report.output
    assert "front needle" not in report.output
    assert "back needle" not in report.output
