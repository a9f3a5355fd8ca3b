"""Ways in which people write short rows: rows told by others, sts counted before a turn, tables."""

from __future__ import annotations

import pytest

from rewriter import check
from rewriter.comparison import Comparison
from rewriter.rowtables import lay_out
from rewriter.source import read_source
from rewriter.spans import Span
from tests.checktools import errors

LEAD = (
    "BACK\nSizes S (M, L)\nWork even in st st until armhole measures 8 in, ending with a {} row. "
    "88 (90, 92) sts.\nShape shoulders\n"
)
STEPS = "BO 7 (7, 8) sts at beg of next 4 rows, then 8 sts at beg of next 2 rows. BO rem 44 (46, 44) sts.\n"
END = (
    "Next row: P to end.\nNext row: BO 22 (22, 24) sts, k to end.\nNext row: BO 22 (22, 24) sts, p to end.\n"
    "BO rem 44 (46, 44) sts.\n"
)


def _check(rows: str, end: str = END) -> Comparison:
    return check(LEAD.format("WS") + STEPS, LEAD.format("RS") + rows + end)


FIRST = "Row 1 (WS): P to last 7 (7, 8) sts, turn.\n"
WAYS = [
    # rows told by others
    FIRST + "Row 2: As row 1, but knitting.\nRow 3: As row 1, but to last 14 (14, 16) sts.\n"
    "Row 4: As row 2, but until 14 (14, 16) sts remain on the needle.\n",
    FIRST + "Row 2: Like row 1, but on the right side.\nRow 3: P to last 14 (14, 16) sts, turn.\n"
    "Row 4: Same as row 3, but k instead of p.\n",
    FIRST + "Row 2: K to last 7 (7, 8) sts, turn.\nRow 3: Work as row 1, leaving 14 (14, 16) sts unworked.\n"
    "Row 4: Work as row 2, but leaving 14 (14, 16) sts unworked.\n",
    # sts counted before the turn: those of the row, and those of the whole needle
    "Turn after 81 (83, 84) sts on the next row, after 74 (76, 76) sts on the row after that; on the third "
    "row, turn after 67 (69, 68) sts, and on the fourth, turn after 60 (62, 60) sts.\n",
    "Turn after 81 (83, 84) sts on the next 2 rows, and after 74 (76, 76) sts on the foll 2 rows.\n",
    "Row 1 (WS): P, turn after 81 (83, 84) sts.\nRow 2: K, turn after 74 (76, 76) sts.\n"
    "Row 3: P, turn after 67 (69, 68) sts.\nRow 4: K, turn after 60 (62, 60) sts.\n",
    # what is left told from the end, with what was left before
    FIRST + "Row 2: K to last 7 (7, 8) sts, turn.\n"
    "Row 3: P to last 14 (14, 16) sts, leaving also the last 7 (7, 8) sts, turn.\n"
    "Row 4: K to last 14 (14, 16) sts, leaving also the last 14 (14, 16) sts unworked, turn.\n",
    "Do not work the last 7 (7, 8) sts of the next 2 rows, nor the last 14 (14, 16) sts of the foll 2 "
    "rows.\n",
    "Work 2 rows, not working the last 7 (7, 8) sts, then 2 rows, not working the last 14 (14, 16) sts "
    "either, turning each time.\n",
    "Leaving 7 (7, 8) sts more unworked at each end on each row, work 4 rows.\n",
    "Next row: P, turn, leaving 7 (7, 8) sts unworked.\nNext row: K, turn, leaving 7 (7, 8) sts unworked.\n"
    "Next row: P, turn, leaving 14 (14, 16) sts unworked.\n"
    "Next row: K, turn, leaving 14 (14, 16) sts unworked.\n",
    "Work the next 2 rows to 7 (7, 8) sts from the end and turn. Work the 2 rows after that to 7 (7, 8) sts "
    "before the last turn at that end and turn.\n",
]  # fmt: skip


@pytest.mark.parametrize("rows", WAYS)
def test_the_way_is_read_and_is_the_same_fabric(rows: str) -> None:
    end = END if "Row 1" not in rows else END.replace("Next row: P", "Row 5: P", 1)
    found = _check(rows, end)
    assert found.result == "same", errors(found)


@pytest.mark.parametrize("rows", WAYS)
def test_a_wrong_number_for_one_size_is_found(rows: str) -> None:
    told = {
        "14 (14, 16)": "14 (13, 16)", "74 (76, 76)": "74 (77, 76)", "7 (7, 8)": "7 (6, 8)",
    }  # fmt: skip
    old, new = next((old, new) for old, new in told.items() if old in rows)
    at = rows.rindex(old)  # one place alone
    wrong = rows[:at] + new + rows[at + len(old) :]
    found = _check(wrong)
    assert found.result == "differs", errors(found)
    assert {f.sizes for f in found.findings if f.severity == "error" and not f.consequence} == {
        ("M",)
    }


def test_more_sts_than_there_are_before_a_turn() -> None:
    found = _check(
        "Turn after 81 (83, 84) sts on the next row, and after 88 (76, 76) sts on the row after that.\n"
    )
    assert "88 sts are to be worked before this turn, but 81 are there" in " ".join(errors(found))


def test_how_sts_before_a_turn_were_counted_is_said_where_both_ways_can_be_worked() -> None:
    rows = WAYS[3]
    codes = [f.code for f in _check(rows).findings]
    assert codes.count("turn-count-taken") == 1
    told = rows.replace("60 (62, 60) sts.", "60 (62, 60) sts, not counting the unworked sts.")
    assert "turn-count-taken" not in [f.code for f in _check(told).findings]
    assert "turn-count-taken" not in [f.code for f in _check(WAYS[4]).findings]


WORKED = (
    "Row 1 (WS): Work 81 (83, 84) sts, turn.\nRow 2: Work 81 (83, 84) sts, turn.\n"
    "Row 3: Work 74 (76, 76) sts, turn.\nRow 4: Work 74 (76, 76) sts, turn.\n"
)


def test_sts_that_reach_to_the_end_of_the_row_are_those_of_the_whole_needle() -> None:
    end = END.replace("Next row: P", "Row 5: P", 1)
    found = _check(WORKED, end)
    assert found.result == "same", errors(found)
    (told,) = [f for f in found.findings if f.code == "turn-count-taken"]
    assert told.severity == "warning"
    in_row = WORKED.replace("Row 2: Work 81 (83, 84)", "Row 2: Work 74 (76, 76)")
    in_row = in_row.replace("Row 3: Work 74 (76, 76)", "Row 3: Work 67 (69, 68)")
    found = _check(in_row.replace("Row 4: Work 74 (76, 76)", "Row 4: Work 60 (62, 60)"), end)
    assert found.result == "same", errors(found)
    assert "turn-count-taken" not in {f.code for f in found.findings}
    found = _check(WORKED.replace("Row 4: Work 74 (76, 76)", "Row 4: Work 74 (75, 76)"), end)
    assert found.result == "differs"


def test_sts_left_told_twice_and_not_alike() -> None:
    rows = WAYS[6].replace("leaving also the last 7 (7, 8)", "leaving also the last 7 (5, 8)")
    (told,) = [f for f in _check(rows).findings if f.severity == "error"]
    assert told.sizes == ("M",)
    assert "stops 14 sts before its end, but 5 sts are told to be left there" in told.message


@pytest.mark.parametrize(
    "rows",
    [
        FIRST
        + "Row 2: K to last 7 (7, 8) sts, turn.\nRow 3: Work as row 1, leaving 7 (7, 8) sts unworked.\n",
        FIRST + "Row 2: As row 1, but knit to last 3 sts, k2tog, k1.\n",
        FIRST + "Row 2: As row 1, but wibbling.\n",
        "Work 1 row.\nNext row: As row 1, but to last 7 (7, 8) sts.\n",
    ],
)
def test_a_row_told_by_another_in_words_that_leave_it_open_is_not_judged(rows: str) -> None:
    assert _check(rows).result == "not-compared"


TABLE = (
    "| Row | Side | Instruction |\n| --- | :-: | --- |\n| 1 | WS | P to last 7 (7, 8) sts, turn |\n"
    "| 2 | RS | K to last 7 (7, 8) sts, turn |\n| 3 | WS | P to last 14 (14, 16) sts, turn |\n"
    "| 4 | RS | K to last 14 (14, 16) sts, turn |\n| 5 | WS | P to end |\n"
    "| 6 | RS | BO 22 (22, 24) sts, k to end |\n| 7 | WS | BO 22 (22, 24) sts, p to end |\n\n"
    "BO rem 44 (46, 44) sts.\n"
)


def _bare(table: str) -> str:
    """Return a table without the lines at its two sides."""
    return "\n".join(
        line.strip("| ") if line.startswith("|") else line for line in table.split("\n")
    )


TABLES = [
    TABLE,
    _bare(TABLE),
    TABLE.replace("| Row | Side | Instruction |", "| **Row no.** | RS/WS | What to do |"),
    TABLE.replace("| Row | Side | Instruction |\n| --- | :-: | --- |", "| | Row | |\n| --- | --- | --- |")
    .replace("| 1 | WS", "| WS | 1").replace("| 2 | RS", "| RS | 2").replace("| 3 | WS", "| WS | 3")
    .replace("| 4 | RS", "| RS | 4").replace("| 5 | WS", "| WS | 5").replace("| 6 | RS", "| RS | 6")
    .replace("| 7 | WS", "| WS | 7"),
]  # fmt: skip


@pytest.mark.parametrize("table", TABLES)
@pytest.mark.parametrize("lines", ["\n", "\r\n"])
def test_rows_in_a_table_are_compared_at_their_place(table: str, lines: str) -> None:
    old, new = LEAD.format("WS") + STEPS, LEAD.format("RS") + "\n" + table
    assert check(old, new.replace("\n", lines)).result == "same"
    wrong = new.replace("K to last 14 (14, 16)", "K to last 14 (14, 15)")
    found = check(old, wrong.replace("\n", lines))
    told = [f for f in found.findings if f.code == "turn-misplaced"]
    line = wrong[: wrong.index("K to last 14 (14, 15)")].count("\n") + 1
    assert [(f.revised_line, f.sizes) for f in told] == [(line, ("L",))], errors(found)
    assert told[0].revised_span is not None
    shown = wrong.replace("\n", lines)[slice(*told[0].revised_span)]
    assert "K to last 14 (14, 15) sts, turn" in shown


def test_a_table_with_the_sts_that_are_left_and_those_on_the_needle() -> None:
    rows = (
        "| Row | Work | Sts unworked | Sts |\n| - | - | - | - |\n".replace("| - ", "| --- ")
        + "| 1 (WS) | purl, turn | 7 (7, 8) | |\n| 2 (RS) | knit, turn | 7 (7, 8) | 88 (90, 92) |\n"
        "| 3 | purl, turn | 14 (14, 16) | |\n| 4 | knit, turn | 14 (14, 16) | 88 (90, 92) |\n"
        "| 5 | purl to end | - | |\n| 6 | BO 22 (22, 24) sts, k to end | 0 | 66 (68, 68) |\n"
        "| 7 | BO 22 (22, 24) sts, p to end | | 44 (46, 44) |\n\nBO rem 44 (46, 44) sts.\n"
    )
    assert _check("\n" + rows, "").result == "same"
    found = _check("\n" + rows.replace("66 (68, 68)", "66 (68, 69)"), "")
    assert [f.sizes for f in found.findings if f.code == "sts-do-not-add-up"] == [("L",)]


@pytest.mark.parametrize(
    "head",
    ["| Row | Stage | Notes |", "| Size | Side | Instruction |", "| Row | Row | Instruction |"],
)
def test_a_table_whose_columns_are_not_known_is_not_read(head: str) -> None:
    found = _check("\n" + TABLE.replace("| Row | Side | Instruction |", head), "")
    assert found.result == "not-compared"
    assert "where its columns are called row, side and instruction" in " ".join(errors(found))


def test_words_of_a_table_keep_their_places() -> None:
    source = read_source((LEAD.format("RS") + "\n" + TABLE).encode(), "revised.md")
    laid = lay_out(source)
    for words in ("P to last 14 (14, 16) sts, turn", "BO rem 44", "Shape shoulders", "K to last 7"):
        at = laid.source.text.index(words)
        back = laid.back(Span(at, at + len(words)))
        assert back.of(source.text) == words
