"""Labels, headings, lists and counts in further shapes: read right, or asked about where words break off."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.emitter import wrap
from rewriter.options import Options
from rewriter.report import PassageReport
from tests.onepassage import revised

HEAD = "Back\n\nWork even until armholes measure 7 in, end with a WS row. 60 sts.\n"


def shoulder(text: str) -> PassageReport:
    (found,) = [p for p in rewrite(text, name="draft.md").passages if p.kind == "shoulder"]
    return found


def per_size(text: str) -> list[list[int]]:
    """Return the steps of one edge for each size, zeros left out."""
    passage = shoulder(text)
    assert passage.status == "rewritten", passage.reason
    return [[n for n in size if n] for size in zip(*passage.edges[0].steps, strict=True)]


@pytest.mark.parametrize(
    "told",
    [
        "R1 (RS): BO 8 sts, k to end.\nR2: BO 8 sts, p to end.\nR3-R4: rep R1-R2.\nBO rem sts.",
        "R1: BO 8 sts, k to end.\nR2: BO 8 sts, p to end.\nRep R1 and R2 once more.\nBO rem sts.",
        "Shape shoulders: next 2 rows: BO 8 sts at beg of each row. (44 sts) foll 2 rows: BO 8 sts "
        "at beg of each row. (28 sts) BO.",
        "**Shoulders.** BO 8 sts at beg of next 4 rows. BO rem sts.",
        "\u25b8 *shoulders* BO 8 sts at beg of next 4 rows. Place rem 28 sts on a holder.",
        "8 sts. are to be bound off at the beginning of each of the four rows next following.\nBO rem sts.",
        "Bind off 8 sts at each shoulder strap on the next 4 rows.\nBO rem sts.",
    ],
)
def test_each_shape_is_two_steps_of_eight(told: str) -> None:
    assert per_size(f"{HEAD}{told}\n") == [[8, 8]]


def test_rows_labelled_by_a_letter_stay_so() -> None:
    output = rewrite(
        f"{HEAD}R1 (RS): BO 8 sts, k to end.\nR2: BO 8 sts, p to end.\nR3: BO 8 sts, k to end.\n"
        "R4: BO 8 sts, p to end.\nBO rem sts.\n"
    ).output
    assert "R1 (WS): P to last 8 sts (marker), turn." in output
    assert "Row 1" not in output


def test_an_italic_heading_and_every_bullet_stay() -> None:
    output = rewrite(
        f"{HEAD}\u25b8 *shoulders* BO 8 sts at beg of next 4 rows. BO rem sts.\n"
    ).output
    assert "\u25b8 *shoulders* Counting from each armhole edge" in output
    assert "\u25b8 Next row" in output


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        (
            "4 x 7 sts (1 x 7 and 3 x 8 sts/2 x 8 and 2 x 9 sts)",
            [[7] * 4, [7, 8, 8, 8], [8, 8, 9, 9]],
        ),
        ("3x7 (2x8 + 1x7) 3x8 sts", [[7] * 3, [8, 8, 7], [8] * 3]),
        ("2x 5 (6) 7 and 1x 6 (6) 6 sts", [[5, 5, 6], [6, 6, 6], [7, 7, 6]]),
    ],
)
def test_steps_a_size(told: str, expected: list[list[int]]) -> None:
    text = (
        "Sizes: S (M) L\n\nBack\nCast on 70 (80) 90 sts. Work until armholes measure 18 (19) 20 cm.\n"
        f"Cast off for the shoulders at both sides in every 2nd row {told}.\n"
        "Cast off the remaining sts.\n"
    )
    assert per_size(text) == expected


def test_a_list_may_begin_in_brackets() -> None:
    text = (
        "Sizes: (2) 4 (6) 8 (10) years\n\nBack\nCast off 2 sts at the beg of the next 2 rows "
        "= (56) 60 (64) 66 (70) sts.\nWhen the armhole measures (13) 14 (15) 16 (17) cm cast off for "
        "the shoulders on every 2nd row in both sides: (8) 8 (9) 9 (9) and (7) 8 (8) 9 (10) sts.\n"
        "Put the last (26) 28 (30) 30 (32) sts on a thread.\n"
    )
    assert per_size(text) == [[8, 7], [8, 8], [9, 8], [9, 9], [9, 10]]


@pytest.mark.parametrize(
    "told",
    [
        "starting with a row on the right side, cast off at both sides on every 2nd row 2x 7 sts",
        "begin, in a RS row, with the shoulder slopes: cast off at both sides in every 2nd row 2 x 7 sts",
    ],
)
def test_the_side_of_the_first_row_is_told_where_the_steps_start(told: str) -> None:
    passage = shoulder(
        f"Back\nWork 40 cm in all. 60 sts. Shape shoulders\nAt 55 cm {told}. Cast off the remaining 32 sts.\n"
    )
    assert passage.status == "rewritten", passage.reason
    assert passage.edges[0].first_bind_off_side == "RS"


def test_a_row_told_no_times_is_no_row() -> None:
    text = (
        "Sizes A (B, C)\n\nLEFT FRONT\n26 (27, 31) sts. Work until armhole measures 20 cm, ending with a "
        "WS row.\nSHAPE SHOULDER\nCast off 9 (9, 7) sts at beg of next row, then same number at beg of "
        "foll alt row 1 (1, 0) times, then 0 (0, 8) sts at beg of foll alt row 0 (0, 2) times.\n"
        "Work 1 row. Cast off rem 8 (9, 8) sts.\n"
    )
    assert per_size(text) == [[9, 9, 8], [9, 9, 9], [7, 8, 8, 8]]


@pytest.mark.parametrize("end", ["and", "then", ","])
def test_words_that_break_off_are_asked_about(end: str) -> None:
    text = (
        f"{HEAD}Shape shoulders\nCast off 7 sts at beg of next 4 rows {end}\n\nPage 2 of 4\n\n"
        "6 sts at beg of foll 2 rows. Leave rem 20 sts on a holder.\n"
    )
    passage = shoulder(text)
    assert passage.status == "question"
    assert passage.reason is not None and "breaks off" in passage.reason


@pytest.mark.parametrize(
    "rest",
    ["and then the 7 sts that remain", "and at last the 7 sts you have left", "then the 7 rem sts"],
)
def test_the_sts_that_remain_end_a_list_of_steps(rest: str) -> None:
    text = (
        "LEFT FRONT\n28 sts. Work until armhole measures 20 cm, ending with a WS row.\nShape shoulder\n"
        f"At armhole edge on every RS row BO 7 sts two times, then 7 sts once, {rest}.\n"
    )
    assert per_size(text) == [[7, 7, 7, 7]]


def test_sts_that_remain_and_are_held_are_never_bound_off() -> None:
    text = (
        f"{HEAD}Shape shoulders\nBO 8 sts at beg of next 4 rows, and the 28 sts that remain are left on "
        "a holder.\n"
    )
    passage = shoulder(text)
    assert passage.status == "question"
    assert rewrite(text).output == text


def test_sts_before_the_verb_are_asked_about() -> None:
    text = (
        "Sizes S (M - L)\n\nLEFT FRONT\nCast on 49 (54 - 59) sts. 18 (21 - 24) sts.\nShoulder: At the right "
        "edge in the same height as on the back, 1 x 6 (7 - 8) sts and in every 2nd row bind off 2 x 6 "
        "(7 - 8) sts.\n"
    )
    assert shoulder(text).status == "question"


def test_rows_counted_before_a_sentence_that_names_the_last_are_one_fewer() -> None:
    text = (
        "BACK\n60 sts. Work 15 rows. The last row is a p row.\nShape shoulders\n"
        "Cast off 8 sts at beg of next 4 rows. Cast off rem 28 sts.\n"
    )
    assert "Work 14 rows. The last row is a k row." in rewrite(text).output


@pytest.mark.parametrize(
    "neck", ["BO all 38 sts.", "BO 38 sts.", "BO the whole 38 sts.", "BO 38 neck sts."]
)
def test_the_last_labelled_row_may_bind_off_the_neck(neck: str) -> None:
    found = shoulder(
        "BACK\nWork in st st until armhole measures 18 cm, ending with a WS row.\nShoulders & neck\n"
        "Row 1 (RS): BO 6 sts, knit to end.\nRow 2 (WS): BO 6 sts, purl to end.\n"
        "Rows 3 and 4: work Rows 1 and 2 again.\nRow 5: BO 5 sts, knit to end.\n"
        f"Row 6: BO 5 sts, purl to end.\nRow 7: {neck}"
    )
    assert found.status == "rewritten", found.reason
    assert (found.edges[0].steps, found.neck) == (((6,), (6,), (5,)), (38,))


SHAPING = (
    "ending with a WS row.\n{head}Cast off 8 sts at beg of next 4 rows. Cast off the rem 40 sts."
)


@pytest.mark.parametrize(
    ("front", "head"),
    [
        ("BACK...Work until armhole measures 20 cm, ", "Shoulders..."),
        ("BACK\u2026Work until armhole measures 20 cm, ", "Shoulders\u2026"),
    ],
)
def test_a_heading_may_end_in_dots(front: str, head: str) -> None:
    report = revised(front + SHAPING.format(head=head))
    (found,) = report.passages
    assert (found.piece, found.kind, found.status) == ("back", "shoulder", "rewritten")


def test_an_underlined_heading_of_any_words_begins_a_piece() -> None:
    text = (
        "Back\n----\n\nWork until armhole measures 20 cm, ending with a WS row. Cast off 8 sts at beg of "
        "next 4 rows. Cast off the rem 40 sts.\n\n"
        "Sleeves and saddles\n-------------------\n\nCast on 60 sts. Work 40 cm. "
        "Cast off 4 sts at the start of the next 8 rows."
    )
    report = rewrite(text, Options(markers=False), name="draft.md")
    assert [(p.piece, p.status) for p in report.passages] == [
        ("back", "rewritten"),
        ("sleeve", "left"),
    ]


def test_markers_hung_before_the_rows_are_no_lead_in() -> None:
    text = (
        "BACK\nK every row until work measures 52 cm, ending with RS facing for next row. {aside}\n"
        "Shape shoulders\nCast off 8 sts at beg of next 4 rows. Cast off rem 40 sts."
    )
    for aside in (
        "On the way, hang a marker at each side at 30 cm.",
        "Place a marker at each end of last row.",
        "Mark each end of last row with a coloured thread.",
    ):
        assert "ending with WS facing" in revised(text.format(aside=aside)).output


def test_a_list_hangs_under_its_bullet() -> None:
    told = "Counting from armhole edge, hang a removable marker after 8 sts and after 16 sts."
    one, two = wrap([told, told], 50, "- ", "\n", 2)
    assert [line[:2] for line in one.splitlines()] == ["Co", "  "]
    assert [line[:2] for line in two.splitlines()] == ["- ", "  "]
