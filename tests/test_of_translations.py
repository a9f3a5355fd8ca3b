"""Forms of translated and older drafts: sums behind steps, verbs told elsewhere, parts of their own."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import PassageReport, Report

QUIET = Options(markers=False)


def shoulders(text: str) -> list[PassageReport]:
    """Return the shoulders that were rewritten in a draft."""
    found = rewrite(text, QUIET).passages
    return [p for p in found if p.kind == "shoulder" and p.status == "rewritten"]


def steps(passage: PassageReport) -> list[tuple[int, ...]]:
    """Return the steps of the first edge of a passage, for each size, zeros left out."""
    return [tuple(n for n in size if n) for size in zip(*passage.edges[0].steps, strict=True)]


BACK = (
    "Sizes S (M)\n\nBACK\nWork straight on {sts} sts until armhole measures 20 cm, ending with a WS row.\n"
    "Shape shoulders\n{steps} Leave rem {neck} sts on a holder.\n"
)


@pytest.mark.parametrize(
    "told",
    [
        "Bind off at each side, on every other row, 7-7-6 sts (8-7-7 sts).",
        "Bind off at each side, on every other row, 7, 7 and 6 sts (8, 7 and 7 sts).",
        "Bind off each side, every 2 rows: a) 2 times 7 sts and once 6 sts b) once 8 sts and 2 times 7 sts.",
        "In every 2nd row bind off on both sides 2 x 7 and 1 x 6 sts / 1 x 8 and 2 x 7 sts.",
    ],
)
def test_the_steps_of_two_sizes_in_many_notations(told: str) -> None:
    (found,) = shoulders(BACK.format(sts="80 (84)", steps=told, neck="40"))
    assert steps(found) == [(7, 7, 6), (8, 7, 7)]


@pytest.mark.parametrize(
    "told",
    [
        "Bind off 2 x 7 and 1 x 8 sts in every 2nd row, 22 sts at each edge.",
        "On the next 6 rows bind off 8 sts at the beginning of each row.",
        "8 sts off at the beginning of each of the next 6 rows.",
        "Bind off 8 sts at start of each of next four rows, and 8 at start of each of the two after that.",
    ],
)
def test_sums_and_rows_told_in_other_words(told: str) -> None:
    total = 22 if "22" in told else 24
    (found,) = shoulders(BACK.format(sts=f"{2 * total + 40}", steps=told, neck="40"))
    assert {sum(size) for size in steps(found)} == {total}


FRONT = """Sizes S (M)

Back. Cast on 90 (96) sts, knit 40 cm. For armholes bind off 5 (6) sts at both sides = 80 (84) sts.
At 20 cm armhole height bind off for shoulder bevels from both sides in every 2nd row 2 x 8 and 1 x 7 sts
(2 x 9 and 1 x 8 sts) and the remaining 34 (32) sts.

Front. As back, but for the neck bind off at 12 cm the middle 20 (18) sts and finish both sides separately.
Along the inner edge bind off in every 2nd row 1 x 3, 1 x 2 and 2 x 1 st.
"""


def test_steps_without_a_verb_take_that_of_another_shoulder() -> None:
    told = "Make the shoulder slope at the height of the back: 2 x 8 and 1 x 7 sts (2 x 9 and 1 x 8 sts)"
    back, front = shoulders(FRONT + told + " in every 2nd row along the outer edge.\n")
    assert steps(back) == steps(front) == [(8, 8, 7), (9, 9, 8)]


@pytest.mark.parametrize(
    "opening", ["A winter coat for a terrier", "For a small dog (medium dog)", "DOG COAT"]
)
def test_clothes_for_animals_are_left(opening: str) -> None:
    text = (
        f"{opening}\nBACK\nWork straight on 60 sts until it measures 30 cm, ending with a WS row.\n"
        "Shape shoulders\nCast off 5 sts at beg of next 6 rows. Leave rem 30 sts on a holder.\n"
    )
    assert not shoulders(text)
    assert shoulders(text.partition("\n")[2])


def _warnings(report: Report) -> set[str]:
    return {d.code for d in report.diagnostics}


def test_a_table_of_rows_is_named_and_a_list_with_strokes_is_none() -> None:
    rows = "\n".join(
        f"B{n} | {side} | bind off 6, {work} to end | {left} |"
        for n, side, work, left in [
            (1, "RS", "k", 54),
            (2, "WS", "p", 48),
            (3, "RS", "k", 42),
            (4, "WS", "p", 36),
        ]
    )
    assert "rows-in-table" in _warnings(rewrite(f"BACK\nCast on 60 sts.\n\n{rows}\n", QUIET))
    listed = "BACK\nCast on 60 | 64 sts.\nCast off 5 | 6 sts at beg of next 2 rows.\n"
    assert "rows-in-table" not in _warnings(rewrite(listed, QUIET))


@pytest.mark.parametrize(("rest", "asked"), [(20, False), (21, True)])
def test_a_few_sts_left_beside_a_front_are_asked_about(rest: int, asked: bool) -> None:
    text = (
        f"LEFT FRONT\n{rest} sts remain. Work straight until armhole measures 20 cm, ending with a WS row.\n"
        "Shape shoulder\nCast off 7 sts at beg of next row and foll alt row, "
        "then 6 sts at beg of foll alt row.\n"
    )
    report = rewrite(text, QUIET)
    assert ("sums" in _warnings(report)) == asked
    assert bool(shoulders(text)) != asked


def test_a_part_by_any_name_has_no_shoulder_of_the_piece_before() -> None:
    text = (
        "FRONT\u2014Work even on 60 sts until armhole measures 20 cm. "
        "Bind off 10 sts at beg of next 4 rows. Bind off.\n\n"
        "PEPLUM FLAP\u2014Cast on 26 sts. Work even for 3 inches. "
        "Bind off 4 sts at beg of next 4 rows. Bind off.\n"
    )
    assert [steps(p) for p in shoulders(text)] == [[(10, 10)]]


def test_a_line_of_sizes_in_a_piece_opens_no_list() -> None:
    text = BACK.format(sts="80", steps="Cast off 10 sts at beg of next 4 rows.", neck="40")
    told = text.replace("BACK\n", "BACK\nSizes: S (M)\n")
    assert steps(shoulders(told)[0]) == [(10, 10)]
    assert shoulders(told)[0].edges[0].first_bind_off_side == "RS"
