"""Words that only say that work goes on before the steps, bands that go on behind them, scanned figures."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import Report

BACK = """BACK
Work straight until armholes measure 18 cm, ending with a WS row. {words} 9 sts at beg of next 6 rows.
Leave the rem 30 sts on a holder.
"""
FRONT = """LEFT FRONT
Work straight until armhole matches back, ending with a WS row. 31 sts.
Shape shoulder: Cast off 8 sts at beg of next and foll 2 alt rows. {band}
"""


def _rewritten(text: str) -> Report:
    report = rewrite(text, Options())
    assert [p.status for p in report.passages] == ["rewritten"]
    return report


@pytest.mark.parametrize(
    ("words", "stays"),
    [
        ("Continue in st st, casting off", "Continue in st st, shape the shoulders:"),
        ("Continue as before, but cast off", "Continue as before, shape the shoulders:"),
        ("Continue, shaping the shoulders by casting off", "Continue, shaping the shoulders:"),
        ("Slope each shoulder by casting off", ""),
        ("Commence to shape the shoulders, casting off", ""),
        ("Complete the shoulders by casting off", ""),
    ],
)
def test_the_side_told_before_words_that_go_on_moves(words: str, stays: str) -> None:
    output = _rewritten(BACK.format(words=words)).output
    assert "ending with a RS row." in output
    assert stays in output


@pytest.mark.parametrize(
    "band",
    [
        "Carry on over the 7 border sts until the strip reaches the middle of the back neck, then put them "
        "on a holder.",
        "Keep 7 border sts in garter st until the border is long enough to reach centre back of neck; place "
        "on a safety pin.",
        "Keep going on the 7 band sts to the centre back and put them on a thread.",
    ],
)
def test_a_band_that_goes_on_to_the_back_of_the_neck_ends_the_shoulder(band: str) -> None:
    output = _rewritten(FRONT.format(band=band)).output
    assert "Cast off 24 sts" in output
    assert band in output


def test_figures_that_a_scanner_made_letters_are_read() -> None:
    text = (
        "BACK\nShape shoulders. Cast oif l0 sts. at heg. of next 4 rows, then ll sts. at heg. of foil. 2 "
        "rows. Leave rem. 3l sts. on a spare needle.\n"
    )
    report = _rewritten(text)
    assert report.passages[0].edges[0].steps == ((10,), (10,), (11,))


def test_a_collar_told_on_the_way_keeps_the_lead_in_of_its_front() -> None:
    text = """LEFT FRONT
Armhole: Bind off 4 sts, k to end. Dec 1 st at armhole edge on next 4 RS rows.
Collar: inc 1 st inside the band every 4th row 6 times.
Work until armhole measures 8 in, ending with a WS row.
Shoulder: Bind off 8 sts at armhole edge on next 3 RS rows. Work on the 20 collar sts for 3 inches. Bind off.
"""
    report = rewrite(text, Options())
    assert "8 in, ending with a RS row." in report.output
