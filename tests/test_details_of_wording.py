"""Small things that technical editors mark: words divided at a line end, sizes in their own brackets."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.materials import several_sizes
from rewriter.options import Options
from rewriter.report import Report

FRONT = """LEFT FRONT
Work in st st until armhole measures 19 cm. 25 sts.{lead}
Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 9 sts.
"""
BACK = """BACK
Work in st st until armholes measure 19 cm, ending with a WS row. {sts} sts.
Shape shoulders
{steps}
{neck}
"""
THREE = "Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of next 2 rows."
TWO = "Cast off 8 sts at beg of next 4 rows."
BOUND = "Cast off rem 31 sts."
HELD = "Leave rem 31 sts on a holder."
SEAM = "\nMAKING UP\nJoin shoulder seams.\n"


def _back(sts: int = 81, steps: str = THREE, neck: str = BOUND) -> str:
    return BACK.format(sts=sts, steps=steps, neck=neck)


def _codes(report: Report) -> set[str]:
    return {d.code for d in report.diagnostics}


@pytest.mark.parametrize(
    ("lead", "becomes"),
    [
        (" Cont to match back, end at arm-\nhole edge.", "end at neck edge."),
        (" Cont to match back, end at armhole edge.", "end at neck edge."),
        (" Cont to match back, ending with a pur-\nl row.", "ending with a knit row."),
    ],
)
def test_a_word_divided_at_a_line_end_is_replaced_whole(lead: str, becomes: str) -> None:
    assert becomes in rewrite(FRONT.format(lead=lead)).output


def test_one_turn_is_closed_as_the_one_there_is() -> None:
    output = rewrite(_back(63, TWO)).output
    assert "DS, p" in output.replace("DS, P", "DS, p").replace("DS, purl", "DS, p")
    assert "each DS" not in output
    assert output.count("working the DS as one st") == 2
    assert "working each DS" in rewrite(_back()).output


def test_a_marker_where_nobody_turns_comes_off_at_the_end() -> None:
    front = _back().replace("BACK", "FRONT")
    output = rewrite(f"{_back()}\n{front}").output
    assert "at it, and those in the second colour when the shoulder is finished." in output
    assert "at them, and those in the second colour when the shoulder is finished." in output
    held = rewrite(f"{_back(neck=HELD)}{SEAM}", Options(shoulders="held")).output
    assert "part shoulders and neck, when the shoulder sts are held." in held


def test_a_heading_run_into_its_sentence_stays_on_its_line() -> None:
    output = rewrite(_back().replace("shoulders\nCast", "shouldersCast")).output
    assert "\nShape shoulders\nCounting from" in output


def test_what_a_heading_names_is_not_said_again() -> None:
    text = _back().replace("Shape shoulders\nC", "Shape Shoulders: Working both sides, c")
    assert "Working both sides:\nCounting" in rewrite(text).output


SIZES = """Sizes: XS (S, M, L) [XL, 2XL, 3XL, 4XL]
BACK
Work until armholes measure 7", ending with a WS row. 70 (74, 78, 82) [90, 96, 102, 106] sts.
Shape shoulders
Bind off 7 (7, 8, 8) [6, 7, 7, 8] sts at beg of next 4 (4, 4, 4) [6, 6, 6, 6] rows.
Bind off rem 42 (46, 46, 50) [54, 54, 60, 58] sts.
"""


def test_sizes_in_brackets_of_their_own_keep_them() -> None:
    output = rewrite(SIZES).output
    assert "izes XL to 4XL only\n" in output
    assert "to last [12, 14, 14, 16] sts" in output
    assert "to last 7 (7, 8, 8) [6, 7, 7, 8] sts" in output


@pytest.mark.parametrize(
    ("words", "several"),
    [
        ("1 pair each 4.00mm (no. 8) and 3.25mm (no. 10) needles; 2 stitch holders", True),
        ("straight knitting needles no. 4; circular knitting needles no. 3.5", True),
        ("knitting needles no. 3,5 and 4.", True),
        ("needles size 8; crochet hook size g", False),
        ("4mm (no. 8) needles; 4mm double-pointed needles", False),
        ("4mm needles; 3mm hook; 15mm buttons", False),
    ],
)
def test_needles_of_several_sizes(words: str, several: bool) -> None:
    assert several_sizes(words) is several


@pytest.mark.parametrize(
    ("materials", "wanted"),
    [
        ("Needles: nos. 5 and 8.", "Four removable markers in one colour and two in another."),
        ("Materials: wool; needles; stitch markers.", "two in another for the shoulders."),
        ("NEEDED - 8 balls; 4 mm needles.", "; 4 removable markers in one colour"),
        ("Yarn: 6 ozs. Needles: No. 6 and a cable needle, long.", "long. 4 removable markers"),
        (
            "A JACKET\n\n8 balls DK. 4 mm needles. Zip.\n22 sts and 30 rows to 10 cm.",
            "Zip. 4 removable mark",
        ),
    ],
)
def test_what_is_hung_stands_in_the_materials(materials: str, wanted: str) -> None:
    output = rewrite(f"{materials}\n\n{_back()}").output
    figures = wanted.replace("two in another for", "2 in another for")
    assert wanted in output or figures in output


FRONTS = """Materials: wool; 4 mm needles; 2 stitch holders.

{back}
LEFT FRONT
Work in st st until armhole measures 15 cm, ending with a WS row. 35 sts.
Shape neck: Next row (RS): K to last 10 sts and sl these sts to a holder. 25 sts.
Work until armhole measures 19 cm, ending with a WS row.
Shape shoulder
Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 9 sts.

RIGHT FRONT
Work to match left front, reversing shapings.
{seam}"""


def test_holders_are_counted_for_a_front_that_mirrors_another() -> None:
    text = FRONTS.format(back=_back(neck=HELD), seam=SEAM)
    output = rewrite(text, Options(shoulders="three-needle")).output
    assert "; 7 stitch holders" in output


def test_an_item_is_not_broken_behind_its_number() -> None:
    text = (
        "Materials: six balls of wool for all sizes; needles; hook size G;\nbuttons; a zip; two darts"
        " and a long hook.\n\nBACK\nWork in stocking stitch until the armholes measure 19 cm, ending\n"
        "with a WS row. There are 81 sts now on the needle for all the sizes.\nShape shoulders\n"
        "Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of next 2 rows.\nCast off rem 31 sts.\n"
    )
    assert "4\nremovable" not in rewrite(text).output


BAND = """LEFT FRONT
Work in st st, keeping 8 band sts in garter st, until armhole measures 19 cm, ending with a WS row. 25 sts.
Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 9 sts.
"""


def test_a_band_at_the_front_edge_lies_beyond_the_turns() -> None:
    report = rewrite(BAND)
    assert report.edits
    assert "as the pattern requires" not in report.output
    assert "in-pattern" not in _codes(report)
    both = rewrite(
        BAND.replace("keeping 8 band sts", "keeping 8 sts at armhole edge and 8 band sts")
    )
    assert "as the pattern requires" in both.output


def test_a_sleeve_in_rib_makes_no_pattern_of_the_shoulders() -> None:
    sleeve = "\nSLEEVES\nWork 6 cm rib, then work in rib. Cast off 5 sts at beg of next 6 rows.\n"
    assert "as the pattern requires" not in rewrite(_back() + sleeve).output


def test_sl_is_spelled_where_a_list_has_it_not() -> None:
    listed = "ABBREVIATIONS\nk, knit; p, purl; rem, remaining; beg, beginning.\n\n"
    assert "pin yarn, slip 1" in rewrite(listed + _back(), Options(turn="japanese")).output.lower()
    other = listed.replace("rem,", "sl, slip; rem,")
    assert "pin yarn, sl 1" in rewrite(other + _back(), Options(turn="japanese")).output.lower()


def test_sts_wait_on_what_the_draft_has() -> None:
    text = _back(neck="Leave rem 31 sts on waste yarn.") + SEAM
    output = rewrite(text, Options(shoulders="held")).output
    assert "for the neck onto waste yarn." in output
    assert "holder" not in output


def test_a_graft_repeats_in_the_word_of_the_draft() -> None:
    rib = "Rib: * K1, p1; rep from * to end.\n\n"
    front = _back().replace("BACK", "FRONT")
    text = f"{rib}{_back()}\n{front}{SEAM}"
    assert "; rep from * to the neck" in rewrite(text, Options(shoulders="graft")).output
    text = text.replace(rib, "")
    assert "; repeat from * to the neck" in rewrite(text, Options(shoulders="graft")).output


def test_a_pick_up_behind_the_join_needs_no_remark() -> None:
    band = "With RS facing pick up 80 sts round neck.\n"
    live = Options(shoulders="three-needle")
    assert "neck-pick-up" not in _codes(rewrite(_back() + SEAM + band, live))
    text = f"{_back()}\nMAKING UP\n{band}Join shoulder seams.\n"
    assert "neck-pick-up" in _codes(rewrite(text, live))


def test_a_list_before_times_tells_no_shares() -> None:
    front = """LEFT FRONT
Work in st st. At 36 cm cast off for armhole 5 - 6 - 6 - 7 sts, then dec 1 st every 2 rows 5 - 5 - 7 - 8
times.
"""
    sizes = "Sizes: 36 - 38 - 40 - 42\n"
    assert "steps-unclear" not in _codes(rewrite(sizes + front))


def test_rows_behind_the_shoulder_move_on_where_they_end_the_piece() -> None:
    rows = "".join(
        f"Row {n}{side}: BO {sts} sts, {knit} to end.\n"
        for n, side, sts, knit in (
            (1, " (RS)", 8, "k"),
            (2, " (WS)", 8, "p"),
            (3, "", 9, "k"),
            (4, "", 9, "p"),
        )
    )
    text = f"BACK\nWork in st st until armholes measure 19 cm, ending with a WS row.\n{rows}"
    output = rewrite(f"{text}Row 5: BO all.\n").output
    told = [w.split(":")[0] for w in output.splitlines() if w.startswith(("Next", "Row"))]
    assert [w.split(" (")[0] for w in told] == [f"Row {n}" for n in range(1, 7)]
    assert output.endswith("Row 6: BO all.\n")
    # rows that are named by their numbers keep them, and so do those that go on
    for more in ("Rep Rows 1-5 for the other back.", "Row 6: knit.\nRows 7-9: purl."):
        output = rewrite(f"{text}Row 5: BO all.\n{more}\n").output
        assert "\nRow 5: BO all.\n" in output
        assert "\nNext row (WS): " in output


def test_rows_behind_one_without_a_number_all_name_their_side() -> None:
    text = """BACK
Work in st st until armholes measure 19 cm, ending with a WS row. 81 sts.
Row 1 (RS): BO 8 sts, k to end.
Row 2 (WS): BO 8 sts, p to end.
Rows 3-4: Same as Rows 1-2.
Row 5: BO 9 sts, k to end.
Row 6: BO 9 sts, p to end.
Row 7: BO all.
Rep Rows 1-7 for the second back.
"""
    rows = [w for w in rewrite(text).output.splitlines() if w.startswith(("Next row", "Row"))]
    assert len(rows) == 8
    assert all(" (RS): " in row or " (WS): " in row for row in rows[:7])


@pytest.mark.parametrize(
    ("words", "opening"),
    [
        (
            "Now shape the shoulders: *BO 5 sts at beg of row, work to end; rep from * 5 more times.",
            "Now shape the shoulders:",
        ),
        (
            "To shape the shoulders bind off 5 sts at beg of next 6 rows.",
            "To shape the shoulders:",
        ),
        (
            "SHAPE SHOULDERS BO 5 sts at beg of next 6 rows.",
            "SHAPE SHOULDERS",
        ),
    ],
)
def test_words_that_announce_the_shoulders_stay_before_the_rows(words: str, opening: str) -> None:
    """A repeat sign behind them goes, for the rows that it repeated are told one by one."""
    draft = (
        "BACK\nCast on 58 sts. Work until armholes measure 8 ins, ending with a WS row. 58 sts.\n"
        f"{words} Put the rem 28 sts on a holder.\n"
    )
    output = rewrite(draft, Options(markers=False)).output
    assert f"{opening}\nNote on DS" in output
    assert "\nNext row (WS): Work to last 5 sts, turn.\n" in output
