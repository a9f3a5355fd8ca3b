"""Gauges (tensions) as drafts word them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from rewriter.document import split_document
from rewriter.gauge import Gauge, Gauges, Rate, in_figures, read_gauges
from rewriter.source import read_source
from rewriter.spans import Span
from rewriter.stitchwork import Fabric
from tests.drafts import SyntheticDraft, all_drafts

HALF = Fraction(1, 2)


def gauges(text: str, name: str = "draft.txt") -> Gauges:
    return read_gauges(split_document(read_source(text.encode(), name)))


def only(text: str) -> Gauge:
    (gauge,) = gauges(text).given
    return gauge


@pytest.mark.parametrize(
    ("words", "sts", "rows", "length", "unit"),
    [
        ("Tension: 22 sts and 30 rows = 10 cm/4in over st st.", 22, 30, 10, "cm"),
        ("Tension: 22 sts and 28 rows to 4 in.", 22, 28, 4, "in"),
        ("Gauge: 20 sts / 28 rows = 4\" in St st", 20, 28, 4, "in"),
        ("GAUGE: 5½ sts. and 7½ rows = 1 inch on No. 8 needles.", 5 + HALF, 7 + HALF, 1, "in"),
        ("TENSION: 6 sts. and 71/2 rows to 1 inch", 6, 7 + HALF, 1, "in"),
        ("Tension 7 1/2 sts. and 9 1/2 rows to 1 in.", 7 + HALF, 9 + HALF, 1, "in"),
        ("Gauge: 7 sts make 1 inch, 9 rows make 1 inch", 7, 9, 1, "in"),
        ("GAUGE—5½ stitches to the inch; 7 rows to the inch.", 5 + HALF, 7, 1, "in"),
        ("STITCH GAUGE: 5 sts equal 1 inch. ROW GAUGE: 7 rows equal 1 inch.", 5, 7, 1, "in"),
        ("GAUGE: 11 sts=2\"; 15 rows=2\".", 11, 15, 2, "in"),
        ("GAUGE: 10 x 10 cm = 15 sts and 22 rows in stocking st", 15, 22, 10, "cm"),
        ("TENSION: 22 sts x 30 rows in stocking st on needles No. 3½ = 10 x 10 cm", 22, 30, 10, "cm"),
        ("Tension: 22.5 sts and 30 rows to 10cm.", 22 + HALF, 30, 10, "cm"),
        ("Twenty-two stitches and twenty-eight rows should measure ten centimetres.", 22, 28, 10, "cm"),
        ("22 sts and 30 rows to 10 cm over st st.", 22, 30, 10, "cm"),
        ("Tension\n22 sts and 28 rows, 10 cm, st st, 4 mm", 22, 28, 10, "cm"),
        ("GAUGE: 61/2 sts = l in.; 9 rows = l in.", 6 + HALF, 9, 1, "in"),
    ],
)  # fmt: skip
def test_a_gauge_is_read_in_any_wording(
    words: str, sts: Fraction, rows: Fraction, length: int, unit: str
) -> None:
    gauge = only(words)
    assert gauge.sts == Rate(Fraction(sts), Fraction(length), unit)  # type: ignore[arg-type]
    assert gauge.rows == Rate(Fraction(rows), Fraction(length), unit)  # type: ignore[arg-type]


def test_sts_alone_give_no_rows() -> None:
    gauge = only("Tension: 26 sts to 10 cm over st st, 3.75 mm needles.")
    assert gauge.sts == Rate(Fraction(26), Fraction(10), "cm")
    assert gauge.rows is None
    assert gauge.ratio is None


@pytest.mark.parametrize(
    "words",
    [
        "BACK\nCast on 22 sts and work 30 rows. Continue to 10 cm.",
        "BACK\nCast on 98 sts. Work in rib for 4 ins, then 30 rows in st st.",
        "Cable panel of 24 sts measures 8 cm.",
        "BACK\nWork 22 sts and 30 rows to marker.",
        "Check your tension. If there are too many sts to 10 cm use larger needles.",
    ],
)
def test_no_gauge_where_none_is_told(words: str) -> None:
    assert gauges(words).given == ()


def test_the_panel_beside_a_gauge_is_no_other_gauge() -> None:
    told = "Tension: 20 sts and 28 rows to 10 cm over moss st; cable panel of 24 sts measures 8 cm."
    assert only(told).sts == Rate(Fraction(20), Fraction(10), "cm")


def test_counts_without_a_length_are_named_and_not_used() -> None:
    text = "Tension 14.5 sts and 20 rows.\n\nBACK\nCast on 71 sts."
    found = gauges(text)
    assert found.given == ()
    assert found.no_length is not None
    assert found.no_length.of(text) == "14.5 sts and 20 rows"


def test_a_damaged_number_is_not_guessed() -> None:
    found = gauges("TENSION.—5£ sts. to the inch.\n\nBACK\nCast on 71 sts.")
    assert found.given == ()
    assert found.cue is not None


def test_a_gauge_ends_at_the_next_heading() -> None:
    found = gauges(
        "## Tension\n\nSee the label.\n\n## Back\n\nCast on 30 sts, rib to 10 cm.", "d.md"
    )
    assert found.given == ()


def _gauge(rows: int, fabric: Fabric) -> Gauge:
    return Gauge(None, Rate(Fraction(rows), Fraction(10), "cm"), Span(0, 0), fabric)


def test_of_several_gauges_that_of_the_fabric_holds() -> None:
    told = Gauges((_gauge(30, "stocking"), _gauge(44, "garter")), None)
    assert told.for_fabric("garter") == told.given[1]
    assert told.for_fabric("patterned") is None
    assert told.for_fabric("unknown") is None
    alike = Gauges((_gauge(30, "stocking"), _gauge(30, "patterned")), None)
    assert alike.for_fabric("unknown") == alike.given[0]


@pytest.mark.parametrize("draft", all_drafts()[::3], ids=lambda d: d.name)
def test_the_words_of_a_gauge_stand_where_it_says(draft: SyntheticDraft) -> None:
    source = read_source(draft.data, draft.path.name)
    for gauge in read_gauges(split_document(source)).given:
        words = gauge.span.of(source.text)
        assert words[0].isalnum() and words == words.strip()
        for rate in (gauge.sts, gauge.rows):
            # counts in figures stand in those very words; the view has "½" for "1/2" nowhere
            if rate is not None and rate.count.denominator == 1 and words[0].isdigit():
                assert in_figures(rate.count) in words
        assert gauge.ratio is None or 1 <= gauge.ratio <= Fraction(11, 5)
