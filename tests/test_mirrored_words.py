"""What a draft says of the row before a shoulder by its pattern, and in the piece that mirrors it."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from tests.onepassage import revised

PATTERN = "Rib patt: 1st row (RS): knit. 2nd row: * P1, K1, rep from * to end.\n\n"
FRONT = (
    "LEFT FRONT\nWork in st st until front measures 40 cm, ending with a WS row.\nShape shoulder\n"
    "Cast off 9 sts at beg of next and foll alt row. Work 1 row. Cast off rem 9 sts.\n\nRIGHT FRONT\n"
)
MATCH = "Work to match left front, reversing all shapings"
SAID = "On this front, end the straight rows before the shoulder with a WS row; the short rows are RS rows."


@pytest.mark.parametrize(
    ("told", "becomes"),
    [
        ("a 2nd patt row", "a 1st patt row"),
        ("the 2nd pattern row", "the 1st pattern row"),
        ("row 2 of patt", "row 1 of patt"),
        ("an 8th patt row", "a 7th patt row"),
        ("a 12th patt row", "an 11th patt row"),
    ],
)
def test_the_side_of_a_row_of_the_pattern(told: str, becomes: str) -> None:
    text = f"{PATTERN}BACK\nWork in rib patt to 40 cm, ending with {told}.\nShape shoulders\n"
    report = revised(f"{text}Cast off 9 sts at beg of next 6 rows. Cast off rem 30 sts.")
    assert [e.first_bind_off_side for p in report.passages for e in p.edges] == ["RS", "WS"]
    assert f"ending with {becomes}." in report.output


def test_patterns_that_begin_on_different_sides_tell_no_side() -> None:
    other = "Edging: 1st row (WS): knit. 2nd row: purl.\n\n"
    text = f"{PATTERN}{other}BACK\nWork in patt to 40 cm, ending with a 2nd patt row.\nShape shoulders\n"
    report = revised(f"{text}Cast off 9 sts at beg of next 6 rows. Cast off rem 30 sts.")
    assert {e.first_bind_off_side for p in report.passages for e in p.edges} == {None}


@pytest.mark.parametrize(
    ("told", "becomes"),
    [
        (". End with a RS row before the shoulder.", f". {SAID}"),
        (
            ". End after a knit row before shoulder and cast off at beg of purl rows for it.",
            f". {SAID}",
        ),
        (", ending with WS facing before shaping shoulder.", f". {SAID}"),
        (
            ", and end with a RS row before armhole and before shoulder.",
            f", and end with a RS row before armhole. {SAID}",
        ),
    ],
)
def test_words_of_the_mirrored_piece_give_way(told: str, becomes: str) -> None:
    report = revised(f"{FRONT}{MATCH}{told}")
    assert report.passages[0].status == "rewritten"
    assert f"{MATCH}{becomes}" in report.output


@pytest.mark.parametrize(
    "told",
    [
        ". End with a WS row before the shoulder.",
        ", ending with RS facing before shoulder.",
        ". End after a purl row before the shoulder.",
    ],
)
def test_words_that_are_not_the_mirror_image_are_asked_about(told: str) -> None:
    assert revised(f"{FRONT}{MATCH}{told}").passages[0].status == "question"


@pytest.mark.parametrize(
    "told",
    [
        "Leave this yarn on: 14 sts remain for collar. Cont on these in moss st for 10 cm.",
        "14 sts remain for the shawl collar. Cont on these in moss st for 10 cm.",
        "Cont on rem 14 sts for collar for a further 10 cm.",
    ],
)
def test_sts_kept_for_a_collar_are_worked_on_behind_the_shoulder(told: str) -> None:
    text = (
        "LEFT FRONT\nWork in st st until front measures 40 cm, ending with a WS row.\nShape shoulder\n"
        f"Cast off 9 sts at beg of next row and at same edge on foll 2 alt rows. {told} Cast off."
    )
    output = revised(text).output
    assert "cast off 27 sts, work to end." in output.lower().replace(", k to", ", knit to")
    assert "all 27" not in output


FRONTS = """\
LEFT FRONT
Cast on 40 sts. Work 20 cm in st st, ending with a WS row.
Dec 1 st at neck edge on every RS row until 18 sts remain.
Work straight until armhole measures 18 cm, ending with a WS row.
Shape shoulder: Cast off 6 sts on next 3 RS rows.

RIGHT FRONT
{told}
"""


@pytest.mark.parametrize(
    "told",
    [
        "Work as left front.",
        "Work as left front, ending with a RS row before shaping shoulder.",
        "Work as left front, but begin shoulder shaping on a WS row.",
    ],
)
def test_a_front_told_by_the_other_one_is_its_mirror_image(told: str) -> None:
    output = rewrite(FRONTS.format(told=told)).output
    assert output.endswith(
        "Work as left front. On this front, end the straight rows before the shoulder with a WS row; "
        "the short rows are RS rows.\n"
    )


def test_rows_of_a_mirrored_shoulder_told_with_those_of_the_armhole_are_refused() -> None:
    told = "Work as left front, working armhole and shoulder shapings on WS rows."
    report = rewrite(FRONTS.format(told=told))
    assert not report.edits
    assert any("take the shoulder out of them" in (p.reason or "") for p in report.passages)


def test_a_last_row_told_from_edge_to_edge_is_asked_about() -> None:
    text = FRONTS.format(told="Work as left front.").replace(
        "ending with a WS row.\nShape", "ending after a row worked from armhole to neck.\nShape"
    )
    report = rewrite(text)
    assert report.passages[-1].status == "question"
    assert not report.edits
