"""What old steps leave behind: notes and abbreviations that nothing needs, and links."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options

DRAFT = """{notes}

BACK
Work in st st until armholes measure 19 cm, ending with a WS row.
Cast off 8(8:9) sts at beg of next 4 rows, then 9(0:0) sts at beg of foll 2(0:0) rows.
Cast off rem 31(49:45) sts.{more}
"""


def _vain(notes: str, more: str = "") -> list[str]:
    report = rewrite(DRAFT.format(notes=notes, more=more))
    assert report.passages[0].status == "rewritten", report.diagnostics
    draft = DRAFT.format(notes=notes, more=more)
    found = [d for d in report.diagnostics if d.code == "explained-in-vain"]
    return [
        draft[slice(*d.span)] if "abbrev" not in d.message else d.message for d in found if d.span
    ]


@pytest.mark.parametrize(
    ("note", "named"),
    [
        ("0 = no sts or rows for this size", "0 = no sts or rows for this size"),
        ('A "0" means that there are no stitches', '"0" means that there are no stitches'),
        ("Where 0 is given, no sts are worked", "0 is given, no sts are worked"),
    ],
)
def test_what_a_0_means_is_said_in_vain_where_no_0_is_left(note: str, named: str) -> None:
    assert _vain(f"{note}.") == [named]
    assert _vain(f"{note}.", "\n\nCUFFS\nCast on 40 sts. Inc 0(2:4) sts in next row.") == []
    assert _vain("Cast on 30 sts, no sts over.") == []


def test_abbreviations_of_the_steps_alone_are_named() -> None:
    listed = (
        "ABBREVIATIONS: beg = beginning; foll = following; st(s) = stitch(es); WS = wrong side."
    )
    (found,) = _vain(listed)
    assert found.endswith("may go from the list: beg, foll")
    (found,) = _vain(listed, "\n\nCUFFS\nCast on 40 sts. Work 4 rows from beg.")
    assert found.endswith(
        "this abbreviation is used nowhere any more and may go from the list: foll"
    )


@pytest.mark.parametrize(
    ("told", "kept"),
    [
        (
            "when there will be 31 sts left for the neck; cast these off also.",
            "There will be 31 sts left for the neck; cast",
        ),
        (
            "when 31 sts will remain; leave these on a holder.",
            "31 sts will remain; leave these on a",
        ),
    ],
)
def test_a_count_behind_the_steps_begins_a_sentence(told: str, kept: str) -> None:
    draft = f"""BACK
Work in st st until armholes measure 19 cm, ending with a WS row. 79 sts.
Cast off 8 sts at beg of each of the next 6 rows, {told}
"""
    output = rewrite(draft).output
    assert f"\n{kept}" in output
    assert "When" not in output
    assert output.count("31 sts") == 1


def test_a_side_told_by_its_exchanged_words_gets_its_rows() -> None:
    draft = """LEFT FRONT
Work in st st until armhole measures 19 cm, ending with a WS row. 24 sts.
Cast off 8 sts at beg of next and foll 2 alt rows.

RIGHT FRONT
Work exactly as left front, reading p for k and k for p in the shapings.
"""
    assert "On this front, end the straight rows before the shoulder" in rewrite(draft).output


DIVIDED = """BACK
Work in st st until armholes measure 19 cm, ending with a WS row. 76 sts.
Shape shoulders and back neck
Cast off 8 sts at beg of next 2 rows.
Next row: Cast off 8 sts, K until there are 12 sts on RH needle, turn and leave rem sts on a holder.
Next row: Cast off 4 sts, P to end.
Cast off rem 8 sts.
With RS facing, rejoin yarn to rem sts, cast off centre 20 sts, K to end.
Complete to match first side, reversing shapings.
"""


def test_the_needles_are_called_as_in_the_draft() -> None:
    output = rewrite(DIVIDED, Options(turn="shadow")).output
    assert (
        "K until there are 28 sts on RH needle (the 16 unworked shoulder sts and 12 more)" in output
    )
    assert (
        "place the new loop on the left needle beside that st" in output
    )  # LH is explained nowhere
    cabled = "CABLE\nSlip 3 sts, k3 from LH needle.\n\n" + DIVIDED
    output = rewrite(cabled, Options(turn="shadow")).output
    assert "place the new loop on the LH needle beside that st" in output


def test_rows_before_the_dividing_name_no_one_edge() -> None:
    draft = DIVIDED.replace(", ending with a WS row", "").replace("With RS facing, r", "R")
    output = rewrite(draft).output
    assert "to last 8 sts (marker), turn." in output
    assert "at armhole edge (marker)" not in output
