"""What a check says in words: every size's own figures, all words not understood, which marker is meant."""

from __future__ import annotations

import pytest

from rewriter import check, read
from rewriter.checkwords import comparison_text
from rewriter.comparison import Comparison
from rewriter.source import read_source
from tests.checktools import errors

LEAD = (
    "BACK\nSizes S (M, L)\nWork even in st st until armhole measures 8 in, ending with a {} row. "
)
STEPS = (
    "88 (90, 92) sts.\nShape shoulders\nBO 7 (7, 8) sts at beg of next 4 rows, then 8 sts at beg of next 2 "
    "rows. BO rem 44 (46, 44) sts.\nSew shoulder seams.\n"
)
TURNS = "Row 1 (WS): P to last 7 (7, 8) sts, w&t. Row 2: K to last 7 (7, 8) sts, w&t.\n"
SECOND = "Row 3: P to last 14 (14, 16) sts, w&t. Row 4: K to last 14 (14, 16) sts, w&t.\n"
END = (
    "Row 5: P to end, {closing}.\nRow 6: BO 22 (22, 24) sts, k to end, {closing}.\n"
    "Row 7: BO 22 (22, 24) sts, p to end.\nBO rem 44 (46, 44) sts.\nSew shoulder seams.\n"
)


def _check(turns: str = TURNS + SECOND, closing: str = "picking up wraps") -> Comparison:
    rows = "88 (90, 92) sts.\nShape shoulders\n" + turns + END.format(closing=closing)
    return check(LEAD.format("WS") + STEPS, LEAD.format("RS") + rows)


def test_each_size_has_its_own_figures() -> None:
    found = _check(TURNS + SECOND.replace("14 (14, 16)", "15 (13, 17)"))
    said = [f.message for f in found.findings if f.code == "turn-misplaced"]
    assert said[0].endswith(
        "this turn leaves 15 (13, 17) sts unworked, the steps give 7 (7, 8) + 7 (7, 8) = 14 (14, 16)"
    )


@pytest.mark.parametrize(
    "closing",
    [
        "picking up the rem wraps in the same way",
        "lifting the wraps and working them together with their sts",
        "working each wrap tog with the st it wraps",
        "picking up wraps and removing markers as you come to them",
        "hiding all the rem wraps as before and taking out the markers",
    ],
)
def test_words_that_close_turns(closing: str) -> None:
    assert _check(closing=closing).result == "same", errors(_check(closing=closing))


@pytest.mark.parametrize(
    "closing",
    [
        "treating each DS as 1 st",
        "working rem DS as 1 st",
        "working DSs as 1 st",
        "processing all DS as single sts",
        "working the two legs of each DS together",
        "resolving all the rem DSs as you go",
    ],
)
def test_words_that_close_double_sts(closing: str) -> None:
    turns = (
        (TURNS + SECOND)
        .replace("w&t", "turn")
        .replace(": K", ": DS, k")
        .replace("3: P", "3: DS, p")
    )
    end = END.format(closing=closing).replace("5: P", "5: DS, p")
    rows = "88 (90, 92) sts.\nShape shoulders\n" + turns + end
    found = check(LEAD.format("WS") + STEPS, LEAD.format("RS") + rows)
    assert found.result == "same", errors(found)


def test_all_words_not_understood_are_named() -> None:
    (said,) = errors(_check(closing="wibbling wraps and wobbling markers"))
    assert "'wibbling wraps' and 'wobbling' in “wobbling markers” are not understood" in said


def test_turns_in_another_order_are_remarked() -> None:
    found = _check(SECOND.replace("Row 3:", "Row 1 (WS):").replace("Row 4", "Row 2")
                   + TURNS.replace("Row 1 (WS)", "Row 3").replace("Row 2", "Row 4"))  # fmt: skip
    assert found.result == "same"
    assert [f.code for f in found.findings].count("turns-in-other-order") == 2
    assert not any(f.code == "turns-in-other-order" for f in _check().findings)


MARKED = (
    "{hang}\nRow 1 (WS): P to {a}, w&t. Row 2: K to {a}, w&t.\n"
    "Row 3: P to {b}, w&t. Row 4: K to {b}, w&t.\n"
)
HANG = "Place 4 markers: 7 (7, 8) sts and 14 (14, 16) sts in from each armhole edge."


@pytest.mark.parametrize(
    ("a", "b"),
    [
        ("last marker", "next-to-last marker"),
        ("last marker", "2nd to last marker"),
        ("the outer marker", "the inner marker"),
        ("last marker", "marker before the gap"),
        ("marker 1", "marker 2"),
        ("the first marker", "the second marker"),
    ],
)
def test_markers_told_from_the_end_of_the_row(a: str, b: str) -> None:
    found = _check(MARKED.format(hang=HANG, a=a, b=b))
    assert found.result == "same", errors(found)
    taken = [f.message for f in found.findings if f.code == "marker-taken"]
    assert bool(taken) == (a in ("marker 1", "the first marker"))
    wrong = _check(MARKED.format(hang=HANG.replace("14 (14, 16)", "14 (14, 15)"), a=a, b=b))
    assert any("leaves 15 sts" in e for e in errors(wrong)), errors(wrong)


@pytest.mark.parametrize(
    ("a", "b", "why"),
    [("marker 4", "marker 3", "2 hang at each edge"), ("marker A", "marker B", "cannot be told")],
)
def test_a_marker_that_is_not_known_is_said_to_be_so(a: str, b: str, why: str) -> None:
    found = _check(MARKED.format(hang=HANG, a=a, b=b))
    assert found.result == "not-compared"
    assert why in " ".join(errors(found))


def test_a_seam_that_does_not_go_with_the_fabric_is_named_as_such() -> None:
    old = LEAD.format("WS") + STEPS
    rows = "88 (90, 92) sts.\nShape shoulders\n" + TURNS + SECOND
    rows += (
        "Row 5: P to end, picking up wraps.\nRow 6: K to end, picking up wraps.\nPlace all sts on holders: "
        "22 (22, 24) for each shoulder, 44 (46, 44) for the neck.\nSew shoulder seams.\n"
    )
    new = LEAD.format("RS") + rows
    found = check(old, new)
    assert found.result == "differs"
    text = comparison_text(found, read_source(old.encode()), read_source(new.encode()))
    assert "same fabric, but the seam does not go with it" in text


def test_an_abbreviation_that_is_missing_is_no_difference_of_the_fabric() -> None:
    listed = (
        "Abbreviations\nbeg = beginning; BO = bind off; k = knit; p = purl; rem = remain(ing).\n\n"
    )
    new = LEAD.format("RS") + "88 (90, 92) sts.\nShape shoulders\n" + TURNS + SECOND
    new = listed + new + END.format(closing="picking up wraps")
    old = listed + LEAD.format("WS") + STEPS
    found = check(old, new)
    assert found.result == "same" and not found.faultless
    text = comparison_text(found, read_source(old.encode()), read_source(new.encode()))
    assert "same fabric, but an abbreviation is missing from the list" in text.splitlines()[0]


def test_reading_alone_names_no_abbreviation_that_may_go() -> None:
    listed = (
        "Abbreviations\nbeg = beginning; BO = bind off; foll = following; rem = remain(ing).\n\n"
    )
    draft = (
        listed
        + LEAD.format("WS")
        + STEPS.replace("then 8 sts at beg of next", "8 sts at beg of foll")
    )
    assert not any(d.code == "explained-in-vain" for d in read(draft).diagnostics)


TAPED = "Place marker A 7 (7, 8) sts in from each edge and marker B 14 (14, 16) sts in.\n"
LETTERED = (
    TAPED
    + "Row 1 (WS): P to marker A, w&t. Row 2: K to marker A, w&t.\n"
    + "Row 3: P to marker B, w&t. Row 4: K to marker B, w&t.\n"
)


def test_markers_are_called_by_letters() -> None:
    assert _check(LETTERED).result == "same"
    found = _check(LETTERED.replace("14 (14, 16)", "14 (13, 16)"))
    told = [f for f in found.findings if f.code == "turn-misplaced"]
    assert {f.sizes for f in told} == {("M",)}
    found = _check(LETTERED.replace("P to marker B", "P to marker C"))
    assert found.result == "not-compared"


YARN_OVERS = TURNS.replace("w&t", "turn, yo") + SECOND.replace("w&t", "turn, yo")


def test_sts_taken_together_at_gaps_need_something_made_there() -> None:
    assert _check(YARN_OVERS, "k2tog across each gap").result == "same"
    found = _check(YARN_OVERS.replace(", yo", ""), "k2tog across each gap")
    assert found.result == "not-compared"
    assert "no yarn-over is made at the turns" in " ".join(errors(found))


def test_a_row_that_turns_twice_is_not_judged() -> None:
    found = _check(TURNS + "Row 3: P to last 14 (14, 16) sts, w&t; then to last 16 sts, w&t.\n")
    assert found.result == "not-compared"


def test_rows_that_go_on_in_words_not_read_are_not_judged() -> None:
    found = _check(TURNS + "Increase 1 st at each end of next row.\n" + SECOND)
    assert found.result == "not-compared"
    assert "how the rows before this go on" in " ".join(errors(found))
    assert "nothing-to-compare" not in {f.code for f in found.findings}


def test_sentences_that_are_passed_over_among_the_rows_are_named() -> None:
    found = _check(TURNS + "Work as for the sleeve.\n" + SECOND)
    (told,) = [f for f in found.findings if f.code == "words-passed-over"]
    assert told.severity == "warning"
    assert found.result == "same"
    assert not [f for f in _check().findings if f.code == "words-passed-over"]


def test_a_missing_row_before_the_sweep_is_named_at_the_sweep() -> None:
    end = END.format(closing="picking up wraps").replace("Row 6", "Row 5").replace("Row 7", "Row 6")
    lead = LEAD.format("RS") + "88 (90, 92) sts.\nShape shoulders\n"
    new = lead + TURNS + SECOND + end.partition("\n")[2]
    found = check(LEAD.format("WS") + STEPS, new)
    (told,) = [f for f in found.findings if f.code == "row-missing"]
    assert told.sizes == ("S", "M", "L")
    assert new.splitlines()[(told.revised_line or 0) - 1].startswith("Row 5: BO 22")


def test_straight_rows_that_end_at_the_same_edge_begin_the_short_rows_there() -> None:
    front = (
        "LEFT FRONT\nSizes S (M, L)\nWork in st st to match back, ending at {} edge. 22 sts.\n"
        "Shape shoulder\n"
    )
    steps = "BO 7 sts at beg of next row and foll alt row. Work 1 row. BO rem 8 sts.\n"
    rows = (
        "Next row: Work to last 7 sts, w&t. Next row: Work to end. Next row: Work to last 14 sts, w&t. "
        "Next row: Work to end. Next row: Work to end, picking up wraps. BO all sts.\n"
    )
    assert check(front.format("armhole") + steps, front.format("neck") + rows).result == "same"
    found = check(front.format("armhole") + steps, front.format("armhole") + rows)
    assert "turn-at-wrong-edge" in {f.code for f in found.findings}


@pytest.mark.parametrize(
    "words", ["Sl 1, gribble 3 sts, k", "K, leaving 0 sts unworked, gribble 3 sts, then k"]
)
def test_words_behind_a_slipped_st_are_not_passed_over(words: str) -> None:
    found = _check((TURNS + SECOND).replace("Row 2: K", f"Row 2: {words}"))
    assert found.result == "not-compared"
    assert "gribble" in " ".join(errors(found))


HUNG = (
    "Next row (RS): K7 (7, 8), pm, k7 (7, 8), pm, k to last 14 (14, 16) sts, pm, k7 (7, 8), pm, "
    "k to end.\n"
)
TO_HUNG = (
    "Next row (WS): P to last marker, w&t. Next row: K to last marker, w&t.\n"
    "Next row: P to next-to-last marker, w&t. Next row: K to next-to-last marker, w&t.\n"
)


def _hung(marked: str, rows: str = TO_HUNG) -> Comparison:
    old = LEAD.format("WS").replace("until armhole measures 8 in", "for 20 rows")
    new = LEAD.format("WS").replace("until armhole measures 8 in", "for 18 rows")
    end = (
        END.format(closing="picking up wraps")
        .replace("Row 5", "Next row")
        .replace("Row 6", "Next row")
    )
    told = "88 (90, 92) sts.\nShape shoulders\n" + marked + rows + end.replace("Row 7", "Next row")
    return check(old + STEPS, new + told)


def test_markers_are_hung_within_a_row() -> None:
    found = _hung(HUNG)
    assert found.result == "same", errors(found)
    wrong = _hung(HUNG.replace("pm, k7 (7, 8), pm, k to end", "pm, k7 (6, 8), pm, k to end"))
    told = [f for f in wrong.findings if f.code == "turn-misplaced"]
    assert {f.sizes for f in told} == {("M",)}
    assert all("leaves 8 sts" in f.message for f in told)  # at one edge alone


def test_more_sts_than_there_are_cannot_be_worked_around_a_marker() -> None:
    found = _hung(HUNG.replace("pm, k7 (7, 8), pm, k to end", "pm, k17, pm, k to end"))
    assert found.result == "differs"
    assert "more are worked here than are left" in " ".join(errors(found))


SIDES = (
    "On the next WS row p to last 7 (7, 8) sts, w&t; on the foll RS row k to last 7 (7, 8) sts, w&t. "
    "On the foll WS row p to last 14 (14, 16) sts, w&t; on the foll RS row k to last 14 (14, 16) sts, w&t.\n"
)


@pytest.mark.parametrize(
    "rows",
    [
        SIDES,
        SIDES.replace("foll", "next"),
        "Turn 7 (7, 8) sts before the end of the next 2 rows, and 14 (14, 16) sts before the end of the foll "
        "2 rows.\n",
        "Work to 7 (7, 8) sts before the end of the next 2 rows, turn. Work to 14 (14, 16) sts before the "
        "end of the foll 2 rows, turn.\n",
        "At end of next 2 rows, leave 7 (7, 8) sts unworked and turn; at end of next 2 rows, leave "
        "14 (14, 16) sts unworked and turn.\n",
        "Work to last 7 (7, 8) sts, w&t; repeat at the other end. Work to last 14 (14, 16) sts, w&t; repeat "
        "at the other end.\n",
    ],
)
def test_rows_told_by_their_side_or_their_end(rows: str) -> None:
    end = END.format(closing="picking up wraps")
    end = end.replace("Row 5", "Next row").replace("Row 6", "Next row").replace("Row 7", "Next row")
    lead = LEAD.format("RS") + "88 (90, 92) sts.\nShape shoulders\n"
    found = check(LEAD.format("WS") + STEPS, lead + rows + end)
    assert found.result == "same", errors(found)
    found = check(
        LEAD.format("WS") + STEPS, lead + rows.replace("14 (14, 16)", "14 (15, 16)") + end
    )
    assert {f.sizes for f in found.findings if f.code == "turn-misplaced"} == {("M",)}


def test_how_many_more_sts_are_left_at_the_end_of_four_rows_is_not_guessed() -> None:
    rows = "Turn 7 (7, 8) sts before the end of the next 4 rows.\n"
    assert _check(rows).result == "not-compared"


NAMED = (
    "BACK\nSizes: {}\nWork even in st st until armhole measures 8 in, ending with a {} row. "
    "80 (84, 92) sts.\nShape shoulders\n"
)
UNEVEN = (
    "BO 7 sts at beg of next 4 rows, then 6 (8, 6) sts at beg of next 2 (2, 4) rows. "
    "BO rem 40 (40, 40) sts.\n"
)


@pytest.mark.parametrize(
    ("sizes", "only"),
    [
        ("Small (Medium, Large)", "Size L only"),
        ("S (M, L)", "Large only"),
        ("X-Small (Small, Medium)", "M only"),
        ("XL (XX-Large, 3X-Large)", "Size XXXL only"),
        ("L (XL, 2X)", "2XL only"),
        ("6 (8: 10) years", "Age 10 only"),
        ("6 (8: 10) years", "10 yrs only"),
    ],
)
def test_a_size_is_known_by_its_other_names(sizes: str, only: str) -> None:
    rows = (
        "Next row: P to last 7 sts, w&t.\nNext row: K to last 7 sts, w&t.\nNext row: P to last 14 sts, w&t.\n"
        f"Next row: K to last 14 sts, w&t.\n{only}:\nNext row: P to last 20 sts, w&t.\n"
        "Next row: K to last 20 sts, w&t.\nAll sizes:\nNext row: P to end, picking up wraps.\n"
        "Next row: BO 20 (22, 26) sts, k to end, picking up wraps.\nNext row: BO 20 (22, 26) sts, p to end.\n"
        "BO rem 40 (40, 40) sts.\n"
    )
    old, new = NAMED.format(sizes, "WS") + UNEVEN, NAMED.format(sizes, "RS") + rows
    found = check(old, new)
    assert found.result == "same", errors(found)
    found = check(old, new.replace("K to last 20", "K to last 21"))
    assert {len(f.sizes) for f in found.findings if f.severity == "error"} == {1}


def test_a_wrong_count_before_a_wrong_turn_does_not_follow_from_it() -> None:
    wrong = TURNS.replace("Row 1 (WS): P to last 7 (7, 8)", "Row 1 (WS): P to last 7 (7, 9)")
    found = _check(wrong + SECOND.replace("Row 4: K", "Row 4 (WS): K"))
    counts = [f for f in found.findings if f.code == "turn-misplaced"]
    assert [(f.sizes, f.consequence) for f in counts] == [(("L",), False)]


def test_words_that_are_only_cut_into_other_sentences_are_not_remarked() -> None:
    text = "Pebble\nA jacket with borders\n\n" + LEAD.format("RS") + STEPS
    other = text.replace("Pebble\nA jacket", "Pebble A jacket")
    assert not [f for f in check(text, other).findings if f.code == "changed-elsewhere"]
