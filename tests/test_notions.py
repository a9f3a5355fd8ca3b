"""Abbreviations and materials: added in the list's own form and order, and only where missing."""

from __future__ import annotations

import pytest
import regex

from rewriter import rewrite
from rewriter.notions import entry_text, find_abbreviations
from rewriter.options import Options, Turn

BACK = """
BACK
Work in st st until armholes measure 19 cm, ending with a WS row. 81 sts.
Shape shoulders
Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of next 2 rows.
Leave rem 31 sts on a holder.
"""
LISTS = [
    (
        "ABBREVIATIONS\nk, knit; p, purl; rem, remaining; beg, beginning.\n",
        "beg, beginning; DS, double st (",
    ),
    ("Abbreviations: beg = beginning; k = knit; p = purl.\n", "beg = beginning; DS = double st ("),
    ("Abbreviations\nbeg - beginning\nk - knit\np - purl\n", "beg - beginning\nDS - double st ("),
    (
        "Abbreviations\n- k: knit\n- p: purl\n- beg: beginning\n",
        "- beg: beginning\n- DS: double st (",
    ),
    (
        "ABBREVIATIONS.\u2014p.\u2014purl; k.\u2014knit; st.\u2014stitch.\n",
        "st.\u2014stitch; DS\u2014double st (",
    ),
    (
        "Abbreviations k knit, p purl, beg beginning, rem remaining.\n",
        "rem remaining, DS double st (after turning, bring yarn to front,",
    ),
    ("Abbreviations beg = beginning, k = knit, p = purl\n", "beg = beginning, DS = double st ("),
]


@pytest.mark.parametrize(("given", "wanted"), LISTS)
def test_the_turning_method_joins_the_list(given: str, wanted: str) -> None:
    report = rewrite(given + BACK)
    assert wanted in report.output
    assert "Note:" not in report.output
    assert rewrite(report.output).output == report.output


def test_an_entry_of_a_list_by_lines_is_broken_like_the_draft() -> None:
    prose = "Work as many rows as are told here and press all\n"
    prose += "pieces well before you sew them up together in\n"
    given = f"Abbreviations\n  beg - beginning\n  k - knit\n  p - purl\n\n{prose * 4}this order.\n"
    report = rewrite(given + BACK)
    assert "\n  DS - double st (after turning, bring yarn to\n    front, slip" in report.output
    found = find_abbreviations(report.output)
    assert found is not None
    assert [e.key for e in found.entries] == ["beg", "DS", "k", "p"]


def test_a_method_already_defined_is_not_defined_again() -> None:
    given = "Abbreviations: beg = beginning; DS = double stitch; k = knit; p = purl.\n"
    report = rewrite(given + BACK)
    assert report.output.startswith(given)
    assert "Note:" not in report.output


@pytest.mark.parametrize(
    "given",
    [
        "",
        "Abbreviations: the usual ones, such as k and p.\n",
        "Abbreviations: see page 4.\n",
    ],
)
def test_without_a_list_in_a_known_form_a_note_explains(given: str) -> None:
    report = rewrite(given + BACK)
    assert report.output.startswith(given)
    assert "\nNote on DS (double st): after turning," in report.output


def test_a_list_ends_where_its_paragraph_does() -> None:
    found = find_abbreviations("Abbreviations: k = knit; p = purl; st = stitch.\nBACK: Cast on.\n")
    assert found is not None
    assert [entry.key for entry in found.entries] == ["k", "p", "st"]


@pytest.mark.parametrize(
    ("given", "wanted"),
    [
        (
            "Materials: 8 balls; 1 pair 4 mm needles; 2 holders.\n",
            "2 holders; 4 removable markers in one colour and 2 in another.\n",
        ),
        (
            "MATERIALS\n8 balls\n1 pair 4 mm needles\n2 holders\n",
            "2 holders\n4 removable markers in one colour and 2 in another\n",
        ),
        (
            "Materials. 8 balls. 1 pair 4 mm needles. 2 holders.\n",
            "2 holders. 4 removable markers in one colour and 2 in another.\n",
        ),
        # lines that tell of stitches and tension are no longer things to have at hand
        (
            "NEEDLES: no. 3.5 and 4\nStitches used\n2/2 rib, needles no. 3.5\n",
            "no. 3.5 and 4, 4 removable markers in one colour and 2 in another\nStitches used\n",
        ),
        (
            "Materials: 8 balls; 4 mm needles; 2 holders\nMoss stitch: Row 1: * k1, p1 *, rep *-*.\n",
            "2 holders; 4 removable markers in one colour and 2 in another\nMoss stitch",
        ),
        (
            "Material: 450 g wool, needles no. 4.\nRib: k 1, p 1 alternately.\nSample: 20 sts = 10 cm.\n",
            "needles no. 4. Four removable markers in one colour and two in another.\nRib:",
        ),
        (
            "Materials\n8 balls\nSt. holder\nStitch marker ring\n",
            "Stitch marker ring\n",
        ),
    ],
)
def test_markers_join_the_materials(given: str, wanted: str) -> None:
    assert wanted in rewrite(given + BACK).output


def test_materials_that_name_markers_and_drafts_without_them_stay() -> None:
    given = "Materials: 8 balls; 6 locking markers in two colours; 2 holders.\n"
    assert rewrite(given + BACK).output.startswith(given)
    given = "Materials: 8 balls; 4 mm needles; 2 holders.\n"
    assert rewrite(given + BACK, Options(markers=False)).output.startswith(given)


def test_a_joined_shoulder_asks_for_holders_and_a_needle() -> None:
    given = "Materials: 8 balls; 4 mm needles; 3 buttons.\n"
    output = rewrite(given + BACK, Options(shoulders="three-needle", markers=False)).output
    assert "3 buttons; 3 stitch holders; spare needle of the same size for joining." in output


@pytest.mark.parametrize(
    ("given", "wanted"),
    [
        ("Also needed: 7 buttons, 2 stitch holders\n", "7 buttons, 3 stitch holders, spare needle"),
        (
            "You will need\n- 8 balls\n- Three buttons\n- Two stitch holders\n",
            "- Three stitch holders\n- Spare needle",
        ),
        ("## Yarn and tools\n\nWool, 3 balls.\n\nNeedles, US 3. Two holders.\n", "Three holders."),
        ("Materials: 8 balls; a stitch holder.\n", "; three stitch holders; spare needle"),
        ("Materials: 8 balls; stitch holders (2).\n", "; stitch holders (3); spare needle"),
        (
            "Materials: 8 balls; 2 stitch holders or waste yarn.\n",
            "; 2 stitch holders or waste yarn; ",
        ),
    ],
)
def test_holders_are_counted_in_one_line_of_the_lists_own(given: str, wanted: str) -> None:
    output = rewrite(given + BACK, Options(shoulders="three-needle", markers=False)).output
    assert wanted in output
    assert output.split("BACK")[0].lower().count("holder") == 1


GARTER = BACK.replace("st st", "garter st")


@pytest.mark.parametrize("turn", ["german", "wrap", "japanese", "yarn-over"])
def test_a_note_speaks_of_purl_only_where_rows_are_purled(turn: Turn) -> None:
    for text, purled in ((BACK, True), (GARTER, False)):
        output = rewrite(text, Options(turn=turn)).output
        note = next(line for line in output.splitlines() if line.startswith("Note on "))
        assert bool(regex.search(r"\bpurl\b", note)) is purled


def test_a_cable_that_a_turn_cuts_is_named_once() -> None:
    output = rewrite("Notions: cable needle.\n" + BACK.replace("st st", "cable patt")).output
    assert output.count("do not cross a cable that a turn cuts") == 1
    assert "cross" not in rewrite(BACK).output


def test_a_three_needle_join_is_explained_once() -> None:
    front = BACK.replace("BACK", "FRONT")
    seams = "\nMAKING UP\nBlock pieces.\nSew right shoulder.\nSew left shoulder.\n"
    output = rewrite(BACK + front + seams, Options(shoulders="three-needle")).output
    assert output.count("with a third needle") == 1
    assert "Block pieces. Leave the shoulder sts on waste yarn or holders meanwhile." in output


def test_a_piece_right_behind_the_materials_is_no_part_of_them() -> None:
    text = (
        "MATERIALS\n5 balls double knitting yarn\n1 pair of 4 mm needles\nBACK\n"
        "Work in st st until armholes measure 20 cm, ending with a WS row.\n"
        "Shape shoulders\nCast off 8 sts at beg of next 4 rows.\nCast off rem 20 sts.\n"
    )
    output = rewrite(text).output
    assert (
        "1 pair of 4 mm needles\n2 removable markers in one colour and 2 in another\nBACK" in output
    )


@pytest.mark.parametrize(
    ("text", "keys", "more"),
    [
        (
            "## Abbreviations\n\n- **BO** – bind off\n- **CO** – cast on\n- **dec(s)** – decrease(s)\n",
            ["BO", "CO", "dec(s)"],
            "\n- **DS** – ",
        ),
        (
            "Abbreviations\n\n**BO:** bind off\n**CO:** cast on\n**dec:** decrease\n\nBACK\n",
            ["BO", "CO", "dec"],
            "\n**DS:** ",
        ),
        (
            "ABBREVIATIONS: k - knit, p - purl, st - stitch, C4F - slip next 2\nsts to front, k2, then k2 "
            "from needle, alt - alternate.\n\nBACK\n",
            ["k", "p", "st", "C4F", "alt"],
            ", DS - ",
        ),
    ],
)
def test_lists_with_bold_words_or_commas_in_a_meaning(
    text: str, keys: list[str], more: str
) -> None:
    found = find_abbreviations(text)
    assert found is not None
    assert [entry.key for entry in found.entries] == keys
    at, added = entry_text(found, "DS", "double st", text)
    assert added.startswith(more)
    assert at == found.entries[-1].span.end


def test_a_list_that_is_prose_is_not_read() -> None:
    prose = "Abbreviations: see the inside of the cover - k, p and so on, then turn to page 2, and begin.\n"
    assert find_abbreviations(prose) is None


def test_markers_of_one_colour_are_counted_in_words() -> None:
    given = "MATERIALS\nFive balls of wool\nOne pair of needles\nTwo buttons\n"
    front = (
        "\nLEFT FRONT\nWork in st st until armhole measures 20 cm, ending with a WS row.\nShape shoulder\n"
        "Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 8 sts.\n"
    )
    assert f"{given}Two removable markers\n" in rewrite(given + front).output


@pytest.mark.parametrize("front", ["FRONT\nWork as given for back.\n", "LEFT FRONT\nAs back.\n"])
def test_a_front_told_by_the_back_needs_holders_too(front: str) -> None:
    given = "Materials: 8 balls; 4 mm needles.\n"
    back = BACK.replace("Leave rem 31 sts on a holder.", "Cast off rem 31 sts.")
    live = Options(shoulders="held")
    assert "4 stitch holders" in rewrite(f"{given}{back}{front}", live).output
    assert "2 stitch holders" in rewrite(f"{given}{back}", live).output


@pytest.mark.parametrize("turn", ["german", "yarn-over"])
def test_a_list_that_has_one_side_gets_the_other(turn: Turn) -> None:
    """The new rows name both sides: the list explained the right side alone, and the text had no other."""
    given = "Abbreviations: k = knit; p = purl; RS = right side.\n"
    text = given + (
        "BACK\nWork until armholes measure 19 cm. 81 sts.\nShape shoulders\n"
        "Next row (RS): Cast off 8 sts, k to end.\n"
        "Next row: Cast off 8 sts, p to end.\nRep last 2 rows once more.\nCast off rem 49 sts.\n"
    )
    listed, _, _ = rewrite(text, Options(turn=turn)).output.partition("BACK")
    assert listed.count("WS = wrong side") == 1
    assert "WS = " not in rewrite(text.replace("; RS = right side", ""), Options(turn=turn)).output
    known = text.replace("p = purl;", "p = purl; WS = wrong side;")
    assert rewrite(known, Options(turn=turn)).output.count("WS = wrong side") == 1


def test_a_list_that_has_k_alone_gets_p() -> None:
    given = "Abbreviations: beg = beginning; k = knit; st st = stocking stitch; WS = wrong side.\n"
    text = given + (
        "BACK\nWork in st st until armholes measure 19 cm, ending with a WS row. 81 sts.\n"
        "Cast off 8 sts at beg of next 4 rows, k to end. Cast off rem 49 sts.\n"
    )
    output = rewrite(text.replace(", k to end", "")).output
    listed, _, _ = output.partition("BACK")
    assert "p = purl" not in listed  # the rows say knit and purl in words
    text = text.replace(", k to end", "") + "BORDER\nCast on 81 sts, k to end.\n"
    listed, _, _ = rewrite(text).output.partition("BACK")
    assert listed.count("p = purl") == 1
