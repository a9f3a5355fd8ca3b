# ruff: noqa: E501 - the lines of drafts are as long as houses write them
"""Forms of single paragraphs cut from drafts: rows and edges named in further ways, sizes told apart."""

from __future__ import annotations

import pytest

from tests.onepassage import passage, revised, steps


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("Slope the shoulder: on the next row, which starts at the armhole, cast off 7 sts and finish row. Work back. Cast off 7 sts and finish row. Work back. Cast off the 6 sts which are left.", [7, 7, 6]),
        ("Shape shoulder. Cast off 6 sts at beg of next armhole-edge row, and at the same edge 6 sts 2 rows later, then 5 sts 2 rows after that.", [6, 6, 5]),
        ("Shoulder: Cast off 9 sts at beg of next row, then 8 and 7 sts on the 2 foll alt rows.", [9, 8, 7]),
        ("At the armhole edge bind off 6 sts in four consecutive right-side rows for the shoulder.", [6, 6, 6, 6]),
        ("Shape the shoulder by binding off 4 sts at the beg of the 11th, 13th and 15th rows, and the 5 sts remaining on the 17th row.", [4, 4, 4, 5]),
        ("For the shoulder cast off 7 sts at the armhole side, then, every two rows, 6 sts, 6 sts and 5 sts.", [7, 6, 6, 5]),
        ("Left shoulder. On the right-hand edge, every 2 rows: 7 sts, 7 sts, 6 sts to cast off.", [7, 7, 6]),
        ("2nd Shoulder: Bind off at beg. of rows at armhole edge: 7 sts. twice, 6 sts. once. Fasten off.", [7, 7, 6]),
        ("K 24, slip rem sts on a holder. Dec 1 st at neck edge on the next 3 rows. Work straight until armhole measures 7 ins, ending at armhole edge. Next row: Bind off 7, k to end. Next row: P. Repeat these 2 rows once more, then bind off.", [7, 7, 7]),
        ("Work 1 row, dec 1 st at neck edge: 18 sts left. Bind off from armhole edge 6 sts on each of the next 3 alternate rows.", [6, 6, 6]),
        ("LEFT FRONT. Continue until there are 21 sts and armhole matches back, ending after a wrong-side row. Bind off 7 sts, knit to end; turn and knit back. Repeat from last bind-off twice.", [7, 7, 7]),
        ("LEFT FRONT. To match the right front, shape the shoulder at the beg of every RS row, binding off 5, 6, 6 sts in that order.", [5, 6, 6]),
        ("With RS facing, bind off 5 sts for shoulder, work to end. Rep the RS row twice, purling back between. Fasten off.", [5, 5, 5]),
    ],
)  # fmt: skip
def test_steps_at_one_edge(words: str, expected: list[int]) -> None:
    assert steps(words) == expected


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("Shoulders. Row 1 (WS) through Row 4: bind off 5 sts at the start. Row 5 and Row 6: bind off 6 sts at the start. Row 7: bind off the remaining 30 sts.", [5, 5, 6]),
        ("Both shoulders are now shaped at the same time, each with its own ball of yarn.\nNext row (RS): BO 6 sts, k to neck edge; with second ball, k to end.\nNext row (WS): BO 6 sts, p to neck edge; with second ball, p to end.\nRep these two rows once more: no sts remain.", [6, 6]),
        ("The back piece's shoulder: Bind off, at the start of the rows, 2 times 6 loops and 1 time 7 loops to each side. Then the neck's 28 loops are bound off together.", [6, 6, 7]),
        ("Join another ball. Working both sides with separate balls, bind off 8 sts at each armhole edge on the next 2 rows and again on the following 2. No sts remain.", [8, 8]),
        ("Shape the shoulders: bind off 4 sts at the beg of every row until 30 sts remain (six rows in all). Leave them on a holder.", [4, 4, 4]),
        ("Back (78 sts): Shape the shoulders: bind off 8 sts at the beg of the next 6 rows; this should leave you with 30 sts for the neck.", [8, 8, 8]),
        ("At 45 cm, shape the shoulders: bind off at each end every 2 rows 3 times 7 sts. Bind off the 24 centre sts.", [7, 7, 7]),
    ],
)  # fmt: skip
def test_steps_at_both_edges(words: str, expected: list[int]) -> None:
    assert steps(words) == expected
    assert len(passage(words).edges) == 2


@pytest.mark.parametrize(
    ("hand", "side"), [("left-hand edge", "WS"), ("right-hand edge", "RS"), ("right hand side", "RS")]
)  # fmt: skip
def test_the_hand_of_an_edge_tells_the_side(hand: str, side: str) -> None:
    found = passage(f"For the shoulder, bind off at the {hand} in every 2nd row 3 times 6 sts.")
    assert found.status == "rewritten"
    assert found.edges[0].first_bind_off_side == side


def test_two_hands_tell_no_outer_edge() -> None:
    words = (
        "For the shoulder, bind off at the left-hand edge in every 2nd row 3 times 6 sts. At the "
        "right-hand edge bind off 3 sts at the beginning of the next row."
    )
    assert "rewritten" not in [p.status for p in revised(words).passages]


@pytest.mark.parametrize("name", ["Size {}", "size {}"])
def test_sizes_that_are_named_where_they_are_told_apart(name: str) -> None:
    told = ("BO 6 sts at beg of next 6 rows", "BO 7 sts at beg of next 6 rows")
    items = ". ".join(f"{name.format(s)}: {words}" for s, words in zip("SM", told, strict=True))
    found = passage(f"Shape Shoulders. {items}. In each size there are 30 sts left for the neck.")
    assert found.status == "rewritten"
    assert [list(size) for size in zip(*found.edges[0].steps, strict=True)] == [[6] * 3, [7] * 3]


def test_a_count_holds_before_the_first_row_of_the_steps() -> None:
    words = (
        "Shape Neck and Shoulder\nNext row: Patt {}, turn, leave rem sts on a thread.\nWork on this side only, dec 1 "
        "st at neck edge on next 3 rows, at the same time casting off 5 sts at beg of 2nd row, then 5 sts at beg of "
        "foll alt row. Work 1 row. Cast off rem 6 sts."
    )
    assert passage(words.format(19)).status == "rewritten"
    assert passage(words.format(21)).status == "question"


def test_sts_of_a_border_are_not_all_sts() -> None:
    words = (
        "Keep the 6 border sts in garter st. Work on these 21 sts, keeping 6 border sts in garter st, until armhole "
        "measures 7 ins. Bind off at armhole edge 5 sts 3 times on alternate rows. Work on the remaining 6 sts."
    )
    assert steps(words) == [5, 5, 5]


def test_words_of_a_length_stay_together() -> None:
    out = revised(
        "For the shoulder, bind off at the armhole edge, when 18 cm above the armhole marking are reached, 6 sts, "
        "then in every 2nd row another 2 x 6 sts."
    ).output
    assert "For the shoulder, when 18 cm above the armhole marking are reached:\n" in out


def test_the_other_half_is_no_repeat_of_the_steps() -> None:
    words = "For the shoulder bind off at the armhole edge 6 sts every 2nd row 3 times. For the other half repeat in the opposite sense."
    assert steps(words) == [6, 6, 6]


def test_steps_behind_those_of_the_neck() -> None:
    found = revised(
        "FRONT, left side of the neckline: with the wrong side facing purl 30 sts and turn. Bind off at the neck, at "
        "the beginning of the 2 following right-side rows, 3 sts and 2 sts. Purl 2 rows. At the armhole side bind off "
        "5 sts in five consecutive wrong-side rows."
    ).passages
    assert [(p.kind, p.status) for p in found] == [("neck", "left"), ("shoulder", "rewritten")]
