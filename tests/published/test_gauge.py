"""Row gauge and the depth of a slope, against published figures.

Knitting Robin (2013), on shoulder shaping: rows = slope × row gauge, and with 7 rows to the inch a slope of
3/4 in takes 7 × 0.75 = 5.25 rows, rounded to 6. The printed gauges and the ratios of rows to sts that follow
from them are those of published patterns (Yarnspirations, Pope Knits and others). Inches and centimetres
are compared with pint.
"""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from rewriter.document import split_document
from rewriter.gauge import Gauge, read_gauges
from rewriter.sheetdepth import depth_of
from rewriter.source import read_source


def gauge_of(words: str) -> Gauge:
    (gauge,) = read_gauges(split_document(read_source(words.encode(), "draft.txt"))).given
    return gauge


def test_three_quarters_of_an_inch_at_seven_rows_are_five_and_a_quarter() -> None:
    rate = gauge_of("Gauge: 5 sts = 1 inch; 7 rows = 1 inch.").rows
    assert rate is not None
    assert rate.per_inch * Fraction(3, 4) == Fraction(21, 4)
    assert rate.extent_inches(Fraction(21, 4)) == Fraction(3, 4)
    # the 6 rows to which it is rounded are a little deeper
    depth = depth_of(6, rate)
    assert depth.inches == round(6 / 7, 2)
    assert depth.words == "6 rows ÷ 7 = 0.86 in (2.2 cm)"


@pytest.mark.parametrize(
    ("sts", "rows", "ratio"),
    [
        (18, 24, 1.33),
        (20, 26, 1.30),
        (16, 22, 1.375),
        (15, 20, 1.33),
        (22, 28, 1.27),
        (23, 28, 1.22),
        (14, 28, 2.0),
    ],
)
def test_printed_gauges_have_their_published_ratio(sts: int, rows: int, ratio: float) -> None:
    gauge = gauge_of(f"Gauge: {sts} sts and {rows} rows = 4 ins [10 cm].")
    assert gauge.ratio is not None
    assert float(gauge.ratio) == pytest.approx(ratio, abs=0.006)


@pytest.mark.parametrize("words", ["30 rows to 10 cm", "28 rows to 4 in", "7½ rows to 1 in"])
@pytest.mark.parametrize("rows", [4, 6, 10])
def test_both_units_are_the_same_length(words: str, rows: int) -> None:
    units: pint.UnitRegistry[float] = pint.UnitRegistry()
    rate = gauge_of(f"Tension: 20 sts and {words}.").rows
    assert rate is not None
    inches = float(rate.extent_inches(rows))
    assert float(rate.extent_cm(rows)) == pytest.approx(
        units.Quantity(inches, "inch").to("cm").magnitude
    )
