"""Rows of both edges in other words than "next 6 rows", each read as the same six steps."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options

DRAFT = """Size: M (L)

Back
Cast on 80 (86) sts. Work 20 cm in st st.
Shape armholes: Cast off 4 sts at beg of next 2 rows. 72 (78) sts.
Work straight until armhole measures 18 (19) cm, ending with a WS row.
{words}
"""
STEPS = ((6, 7), (6, 7), (6, 7))


@pytest.mark.parametrize(
    "words",
    [
        "at the start of each row over the next 6 rows. Place 36 sts on holder",
        "at beg of next 2 rows 3 times. BO 36 sts",
        "at beg of next two rows, three times in all. BO 36 sts",
        "at the beginning of a row six times. BO 36 sts",
        "at the beginning of rows 6 times. BO 36 sts",
        "every row x 6. BO 36 sts",
        "at beg of next 6 rows; BO 36 sts",
        "at beg of next 6 rows, then BO 36 sts straight across",
        ", finish row. Repeat last row 5x more. BO 36 sts",
        ", work to end. Next 5 rows: as last row. BO 36 sts",
        "at beg of each of next 6 rows, which leaves you with 36 sts. BO these",
    ],
)
def test_rows_of_both_edges(words: str) -> None:
    text = DRAFT.format(words=f"Shape shoulders: BO 6 (7) sts {words}.".replace(" ,", ","))
    _check(text)


@pytest.mark.parametrize(
    "words",
    [
        "(BO 6 (7) sts at beg of next 2 rows) x 3",
        "[BO 6 (7) sts, work to end, turn] six times",
        "On next 6 rows the first 6 (7) sts are bound off",
        "The first 6 (7) sts of each of the next 6 rows are bound off",
        "6 rows, BO 6 (7) sts at the beg of each",
        "Work 6 rows, binding off 6 (7) sts at beg of each",
        "Work 6 rows more, binding off 6 (7) sts at the beg of every row",
        "Next 6 rows: Work in patt, binding off 6 (7) sts at start",
    ],
)
def test_rows_told_before_the_steps(words: str) -> None:
    _check(DRAFT.format(words=f"Shape shoulders: {words}. Place 36 sts on a holder."))


def test_steps_that_leave_what_is_bound_off_are_a_shoulder_without_the_word() -> None:
    """No word but the number of sts tells that nothing is left."""
    _check(DRAFT.format(words="BO 6 (7) sts at beg of next 6 rows. BO 36 sts."))


def test_rows_of_one_side_and_then_of_the_other_are_asked_about() -> None:
    """Worked in turn, or one after the other?"""
    words = (
        "Shape shoulders: BO 6 (7) sts at the beg of next 3 RS rows and foll 3 WS rows. BO 36 sts."
    )
    report = rewrite(DRAFT.format(words=words))
    assert [p.status for p in report.passages if p.kind == "shoulder"] == ["question"]


def test_steps_that_leave_more_are_none() -> None:
    """34 sts bound off leave 2: they could be the armhole's."""
    report = rewrite(DRAFT.format(words="BO 6 (7) sts at beg of next 6 rows. BO 34 sts."))
    assert [p.status for p in report.passages if p.kind == "shoulder"] in ([], ["question"])


def _check(text: str) -> None:
    report = rewrite(text, Options(markers=False))
    (shoulder,) = (p for p in report.passages if p.kind == "shoulder")
    assert shoulder.status == "rewritten", shoulder.reason
    assert [e.steps for e in shoulder.edges] == [STEPS, STEPS]
