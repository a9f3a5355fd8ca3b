"""Words beside the steps that still hold are kept: a last row's stitch, how sts are bound off, a band."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options

BACK = """BACK
Work in st st until armholes measure 19 cm, {lead}. 81 sts.
{head}Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of foll 2 rows.
Leave rem 31 sts on a holder.
"""


@pytest.mark.parametrize(
    ("lead", "after"),
    [
        (
            "ending on the right side, that is with a K row",
            "ending on the wrong side, that is with a P row",
        ),
        ("ending with a WS row (a purl row)", "ending with a RS row (a knit row)"),
        ("ending on the wrong side (p row)", "ending on the right side (k row)"),
        ("ending with a WS row, i.e. a purl row", "ending with a RS row, i.e. a knit row"),
    ],
)
def test_a_stitch_told_beside_the_side_turns_with_it(lead: str, after: str) -> None:
    report = rewrite(BACK.format(lead=lead, head="Shape shoulders\n"))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert f"measure 19 cm, {after}." in report.output


def test_in_garter_stitch_every_row_is_a_knit_row() -> None:
    draft = BACK.format(lead="ending with a WS row (a knit row)", head="Shape shoulders\n")
    output = rewrite(draft.replace("st st", "garter st")).output
    assert "ending with a RS row (a knit row)." in output


@pytest.mark.parametrize("markers", [True, False])
def test_a_note_behind_a_heading_begins_with_a_capital(markers: bool) -> None:
    draft = BACK.format(lead="ending with a WS row", head="Shoulders: c").replace("cCast", "cast")
    output = rewrite(draft, Options(markers=markers)).output
    assert "note on" not in output
    assert "Note on DS" in output


FRONT = """LEFT FRONT
Work in st st until armhole measures 19 cm, ending with a WS row. {sts} sts.
Shape shoulder
{told}
"""


@pytest.mark.parametrize(
    ("told", "sweep"),
    [
        (
            "Cast off 6 purlwise at beg of next row and 6 at beg of foll alt row. Work 1 row. "
            "Cast off rem 5.",
            "Cast off all 17 sts purlwise.",
        ),
        (
            "Cast off 6 sts, k to end. Purl 1 row. Cast off 6 sts, k to end. Cast off rem 5 sts purlwise.",
            "Cast off all 17 sts.",  # a row later, and so on the other side
        ),
    ],
)
def test_sts_bound_off_purlwise_stay_so_on_their_side(told: str, sweep: str) -> None:
    report = rewrite(FRONT.format(sts=17, told=told))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert report.output.rstrip().endswith(sweep)


@pytest.mark.parametrize(
    "more",
    [
        ", and keep ribbing the 8 band sts. Work the band alone for 9 cm.",
        ". Leave 8 sts for the band.",
    ],
)
def test_rows_over_a_band_name_no_stitch(more: str) -> None:
    told = f"Cast off 8 sts at beg of next RS row, then 9 sts at beg of foll RS row{more}"
    report = rewrite(FRONT.format(sts=25, told=told), Options(markers=False))
    assert [p.status for p in report.passages] == ["rewritten"], report.diagnostics
    assert "Next row (WS): Work to last 8 sts, turn." in report.output
    assert "DS, work to end." in report.output


def test_a_band_that_the_draft_tells_keeps_its_words() -> None:
    told = (
        "Row 1: Cast off 8 sts, k to end. Row 2: K8, p to end. Row 3: Cast off 9 sts, k to end. "
        "8 band sts rem."
    )
    report = rewrite(FRONT.format(sts=25, told=told), Options(markers=False))
    assert "K8, p to last 8 sts, turn." in report.output


def test_rows_over_the_neck_behind_the_steps_stay() -> None:
    text = (
        "Back\nCast on 72 sts. Work straight until armhole measures 18 cm, ending with a WS row.\n"
        "Shape shoulders: Cast off 6 sts at beg of next 6 rows. Work 1 row. Cast off rem 36 sts.\n"
    )
    report = rewrite(text, Options(markers=False))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert report.output.endswith("work to end.\nWork 1 row. Cast off rem 36 sts.\n")
