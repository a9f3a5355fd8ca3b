"""Notations of a draft's own: letters of a table, strokes between two sizes, figures in columns."""

from __future__ import annotations

from pathlib import Path

import pytest

from rewriter import rewrite
from rewriter.figures import column_names, columns_of
from rewriter.letters import letters_of
from rewriter.options import Options
from rewriter.report import Report
from rewriter.slashes import pairs_with_slash

FOLDER = Path("corpus_synthetic/notation")

TABLE = """\
| | | S | M |
|---|---|---|---|
| **A** | cast on | 70 | 80 |
| **B** | shoulder, 1st and 2nd bind-off | 7 | 8 |
| **C** | shoulder, 3rd bind-off | 6 | 8 |
| **D** | back neck | 30 | 32 |
"""
LETTERS = f"""\
# Shell

{TABLE}
## Back

CO (A) sts. Work even until armholes measure 8 in, ending with a WS row.

Shape shoulders: BO (B) sts at beg of next 4 rows, then (C) sts at beg of next 2 rows. BO rem (D) sts.
"""


def _steps(report: Report) -> tuple[tuple[int, ...], ...]:
    (found,) = [p for p in report.passages if p.kind == "shoulder"]
    assert found.status == "rewritten", found.reason
    return found.edges[0].steps


@pytest.mark.parametrize("signs", ["()", "{}", "[]", "<>"])
def test_letters_stand_for_the_columns_of_a_table(signs: str) -> None:
    text = LETTERS
    for letter in "ABCD":
        text = text.replace(f"({letter})", f"{signs[0]}{letter}{signs[1]}")
    report = rewrite(text, Options(markers=False))
    assert _steps(report) == ((7, 8), (7, 8), (6, 8))
    assert report.sizes == ("S", "M")
    assert "Work to last 7 (8) sts, turn." in report.output
    assert f"BO rem {signs[0]}D{signs[1]} sts." in report.output
    assert "letters-written-out" in [d.code for d in report.diagnostics]


def test_a_bare_letter_counts_before_a_unit_only() -> None:
    text = LETTERS.replace("(B) sts", "B sts").replace("(C) sts", "C sts").replace("(D)", "D")
    text = text.replace("(A)", "A")
    assert _steps(rewrite(text, Options())) == ((7, 8), (7, 8), (6, 8))


def test_a_letter_that_the_table_has_not_is_asked_about() -> None:
    report = rewrite(LETTERS.replace("(C) sts", "(Q) sts"), Options())
    assert [p.status for p in report.passages] == ["question"]


@pytest.mark.parametrize(
    "table",
    [
        TABLE.replace("**C**", "**B**"),  # a letter twice
        "\n".join(TABLE.splitlines()[:4]),  # two letters are no key
        TABLE.replace("| 7 | 8 |", "| 7 |"),  # one number for two sizes
    ],
)
def test_a_table_that_leaves_letters_open_explains_none(table: str) -> None:
    text = LETTERS.replace(TABLE, table + "\n")
    assert not {"B"} & set(dict(letters_of(text).values))
    assert rewrite(text, Options()).passages[0].status == "question"


def test_sizes_called_by_letters_are_no_key() -> None:
    rows = "".join(f"| {s} | {n} | {n - 30} |\n" for s, n in zip("ABC", (90, 95, 100), strict=True))
    table = f"| Size | Bust | Length |\n|---|---|---|\n{rows}\n"
    assert letters_of(f"{table}Cast on A (B) C 100 (110) 120 sts.").values == ()


def test_a_table_in_plain_text_is_no_instruction() -> None:
    text = (FOLDER / "letters-plain.txt").read_text(encoding="utf-8")
    output = rewrite(text, Options()).output
    assert text[: text.index("BACK")] == output[: output.index("BACK")]


STROKES = """\
BACK
Cast on 114/124 sts and rib 8 cm, then work straight to 40/42 cm. {armholes}
Work until armholes measure 24/25 cm, ending with a WS row.
Shape shoulders: Cast off 9/10 sts at beg of next 4 rows, then 10/9 sts at beg of next 2 rows.
Cast off rem 34/36 sts.
"""


def test_two_sizes_with_a_stroke() -> None:
    report = rewrite(STROKES.format(armholes="There are 90/94 sts."), Options(markers=False))
    assert _steps(report) == ((9, 10), (9, 10), (10, 9))
    assert "work to last 18/20 sts, turn." in report.output


def test_few_strokes_are_no_lists() -> None:
    assert not pairs_with_slash("Cast on 90/94 sts. Rib 2/2 for 3/4 in. Work 4/5 rows.")
    assert not pairs_with_slash(
        STROKES.format(armholes="90 (94) sts")
    )  # both notations: which holds?


@pytest.mark.parametrize("leader", [" ..... ", " . . . ", " \u2026\u2026 ", " ____ ", " . "])
def test_figures_in_columns(leader: str) -> None:
    text = (FOLDER / "columns-of-dots.txt").read_text(encoding="utf-8")
    lines = [line.replace(" . . . . . ", leader) for line in text.splitlines(keepends=True)]
    report = rewrite("".join(lines), Options(markers=False))
    assert _steps(report) == ((7, 8, 8), (7, 8, 8), (8, 7, 9))
    assert report.sizes == ("36", "40", "44")


def test_columns_of_another_length_are_not_read() -> None:
    text = (FOLDER / "columns-of-dots.txt").read_text(encoding="utf-8")
    text = text.replace("sts.     7       8       8", "sts.     7       8")
    assert "rewritten" not in [p.status for p in rewrite(text, Options()).passages]


def test_a_row_of_points_is_no_column() -> None:
    assert columns_of("Contents ..... 4\nNotes ..... 5\nBack ..... 6\nFront ..... 7\n") == 0
    assert column_names("Contents ..... 4\n") is None
