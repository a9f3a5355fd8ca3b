"""Further steps told by how many rows they come later, and the plain rows between them."""

from __future__ import annotations

import pytest

from rewriter.options import Options
from rewriter.reading import read_draft
from rewriter.source import read_source
from tests.onepassage import passage, revised

FRONT = "LEFT FRONT\nWork in st st until armhole measures 20 cm, ending with a WS row.\nShape shoulder\n"
BACK = "BACK\nWork in st st until armhole measures 20 cm, ending with a WS row.\nShape shoulders\n"


def rows_of(text: str) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return the steps of the first edge of the only shoulder and the rows they stand on."""
    (finding,) = read_draft(read_source(f"{text}\n".encode()), Options()).findings
    assert finding.shaping is not None, finding.unread
    assert passage(text).status == "rewritten"
    edge = finding.shaping.edges[0][0]
    return edge.sts, edge.rows


@pytest.mark.parametrize(
    "told",
    [
        "BO 6 sts on the next row and once more on the 2nd row after it, k 1 row back, BO the last 5 sts.",
        "BO 6 sts on the next row, and again 2 rows later. Work 1 row. BO the last 5 sts.",
        "BO 6 sts on the next row and again on the second row following it. Work back. BO the last 5 sts.",
        "BO 6 sts on the next row and the same again on the 2nd row after. P back. BO the last 5 sts.",
        "BO 6 sts at beg of next row, again at beg of the 2nd row from it, and the last 5 sts at beg of "
        "the 2nd row after that.",
        "BO 6 sts at beg of next row and a second time two rows on, then the last 5 sts two rows on.",
        "BO 6 sts on next row, do the same 2 rows later, and 2 rows after that BO the last 5 sts.",
        "BO 6 sts at beg of next row and repeat this 2 rows later. Purl back. BO the last 5 sts.",
        "BO 6 sts at beg of next row, repeat this on the foll alt row. Work 1 row. BO the last 5 sts.",
        "BO 6 sts at beg of next row, then 6 sts two rows later at the same edge, then the last 5 sts two "
        "rows later.",
    ],
)
def test_a_step_comes_so_many_rows_after_the_one_before(told: str) -> None:
    assert rows_of(FRONT + told) == ((6, 6, 5), (0, 2, 4))


@pytest.mark.parametrize(
    "told",
    [
        "BO 6 sts on the next row at the armhole edge and twice more, each time 2 rows later.",
        "At armhole edge BO 6 sts, and twice more, each time 2 rows later.",
        "At armhole edge BO 6 sts, then 2 rows later 6 sts, then 2 rows later the last 6 sts.",
        "BO 6 sts at armhole edge on next row, and twice more at intervals of 2 rows.",
        "BO 6 sts at armhole edge on next row and twice more on foll alt rows.",
        "BO 6 sts at armhole edge 3 times, with one row between.",
        "BO 6 sts at beg of next row and twice more, always on the second row after.",
    ],
)
def test_how_often_more_a_step_is_worked(told: str) -> None:
    assert rows_of(f"{FRONT}{told} Fasten off.") == ((6, 6, 6), (0, 2, 4))


@pytest.mark.parametrize(
    "told",
    [
        "BO 6 sts at beg of next 2 rows, again at beg of the 2 rows after that, and 6 sts at beg of the 2 "
        "rows after those.",
        "At both edges BO 6 sts, and twice more, each time 2 rows later.",
        "BO 6 sts at beg of next 4 rows, then rem 6 sts at beg of the 2 rows after that.",
    ],
)
def test_steps_at_both_edges_that_come_later(told: str) -> None:
    assert rows_of(f"{BACK}{told} Hold 30 sts for neck.") == ((6, 6, 6), (0, 2, 4))


def test_times_without_rows_of_their_own_are_asked_about() -> None:
    told = "BO 6 sts at beg of next 2 rows, and again twice more on the next 2 rows. BO rem 30 sts."
    assert passage(BACK + told).status == "question"


@pytest.mark.parametrize(
    "back",
    [
        "knit 1 row back", "work one plain row", "go back in purl", "return in purl", "work the row back",
        "purl the next row back", "knit back to the side", "p back to the edge", "purl a plain row",
        "work a row without binding off", "knit back to the outer edge", "come back in purl",
    ],
)  # fmt: skip
def test_the_row_between_two_steps_in_the_words_of_many_houses(back: str) -> None:
    told = "BO 6 sts at beg of next and foll alt row"
    assert rows_of(f"{FRONT}{told}, {back}. BO the last 5 sts.") == ((6, 6, 5), (0, 2, 4))
    assert rows_of(f"{FRONT}{told}. {back.capitalize()}. BO the last 5 sts.") == (
        (6, 6, 5),
        (0, 2, 4),
    )


@pytest.mark.parametrize(
    "told",
    [
        "Do those 2 rows twice more.",
        "Do the last 2 rows 2 more times.",
        "Do these two rows 3 times in all.",
    ],
)
def test_rows_that_are_done_again(told: str) -> None:
    text = f"{FRONT}Bind off 6 sts, k to end, p back. {told} BO the last 5 sts."
    assert rows_of(text) == ((6, 6, 6, 5), (0, 2, 4, 6))


@pytest.mark.parametrize(
    ("told", "becomes"),
    [
        ("and you've just purled one", "and you've just knitted one"),
        ("and you have just knitted a row", "and you have just purled a row"),
        ("having just purled a row", "having just knitted a row"),
    ],
)
def test_the_row_that_was_just_worked_is_the_last_of_the_lead_in(told: str, becomes: str) -> None:
    back = "knit to end, purl back" if "purled" in told else "purl to end, knit back"
    text = (
        "FRONT\nWork in stocking st.\nDec 1 at neck edge every 3rd row 17 times. 20 sts.\nWhen it is as long "
        f"as the back {told}, cast off 7, {back}. Do those 2 rows once more. Cast off the last 6."
    )
    report = revised(text)
    assert report.passages[0].status == "rewritten", report.passages[0].reason
    assert becomes in report.output


@pytest.mark.parametrize(
    "row", ["P across.", "Trundle back to the other edge.", "Go all the way back."]
)
def test_a_last_step_behind_words_not_understood_is_not_lost(row: str) -> None:
    told = f"BO 6 sts at beg of next and foll alt row. {row} BO the last 5 sts."
    assert passage(FRONT + told).status == "question"
