"""PDF drafts: the order of columns, paragraphs joined again, words made whole, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from rewriter.cli import main
from rewriter.formats import open_draft
from rewriter.formats.docx import DocxDraft
from rewriter.source import UnreadableDraft
from tests.docxtools import settled
from tests.pdfmaker import Words, pdf

LEFT = (
    (True, "BACK"),
    (False, "Using 4 mm needles cast on 88(94) sts and"),
    (False, "work in st st until piece measures 30 cm, be-"),
    (False, "ing careful with the fit of the first rows,"),
    (False, "then cont until armholes measure 20 cm,"),
    (False, "ending with a WS row."),
)
RIGHT = (
    (True, "Shape shoulders"),
    (False, "Cast off 8(9) sts at beg of next 4 rows,"),
    (False, "then 9(9) sts at beg of foll 2 rows."),
    (False, "Cast off rem 38(40) sts."),
)


def column(x: float, lines: tuple[tuple[bool, str], ...]) -> list[Words]:
    return [(x, 700 - 14 * n, 11, bold, text) for n, (bold, text) in enumerate(lines)]


def page(number: int = 1) -> list[Words]:
    left, right = column(50, LEFT), column(320, RIGHT)
    # drawn line by line across both columns, as some programs do
    woven = [w for pair in zip(left, right, strict=False) for w in pair] + left[len(right) :]
    return [
        (50, 800, 8, False, "Larkspur Quay patterns, all rights kept by the designer"),
        (50, 750, 22, True, "Kittiwake"),
        *woven,
        (290, 40, 8, False, str(number)),
    ]


def test_columns_are_read_one_after_the_other_and_lines_joined() -> None:
    text = open_draft(pdf([page()]), "draft.pdf").source.text
    assert "# Kittiwake\n" in text
    assert (
        "until piece measures 30 cm, being careful with the fit of the first rows, then cont"
        in text
    )
    assert text.index("ending with a WS row.") < text.index("**Shape shoulders**")
    assert "beg of next 4 rows, then 9(9) sts at beg of foll 2 rows." in text


def test_headers_footers_and_page_numbers_are_left_out() -> None:
    source = open_draft(pdf([page(n) for n in range(1, 5)]), "draft.pdf").source
    assert "all rights kept" not in source.text
    assert not [line for line in source.text.splitlines() if line.strip().isdigit()]
    assert source.where(source.text.rindex("Shape shoulders")) == "page 4"


def test_a_raised_figure_is_a_note_and_no_number_of_the_text() -> None:
    words = [
        (50, 700, 11, False, "Cast off 8 sts at beg of next 4 rows"),
        (220, 704, 6, False, "1"),
        (50, 600, 11, False, "Here is more text, so that the page has a usual size of letters."),
    ]
    text = open_draft(pdf([words]), "draft.pdf").source.text
    assert "rows[^1]" in text


def test_the_revision_goes_into_markdown_or_a_tracked_document(tmp_path: Path) -> None:
    draft = tmp_path / "draft.pdf"
    draft.write_bytes(pdf([page()]))
    assert main(["rewrite", str(draft), "-o", str(tmp_path / "out.md")]) == 0
    revised = (tmp_path / "out.md").read_text(encoding="utf-8")
    assert "ending with a RS row." in revised and "turn." in revised
    assert main(["rewrite", str(draft), "-o", str(tmp_path / "out.docx")]) == 0
    out = (tmp_path / "out.docx").read_bytes()
    assert DocxDraft(settled(out, True), "x").source.text == revised
    assert main(["rewrite", str(draft), "-o", str(tmp_path / "out.pdf")]) == 2
    assert main(["rewrite", str(draft)]) == 2


def test_a_scan_is_refused_with_what_to_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    draft = tmp_path / "scan.pdf"
    draft.write_bytes(pdf([[], []]))
    assert main(["read", str(draft)]) == 2
    assert "pictures without text (a scan)" in capsys.readouterr().err


@pytest.mark.parametrize("cut", [20, 200, 600, 900])
def test_a_damaged_file_is_refused_or_read(cut: int) -> None:
    data = pdf([page()])
    for damaged in (
        data[:cut],
        data[:cut] + data[cut + 40 :],
        data[:cut] + b"\0" * 40 + data[cut:],
    ):
        try:
            open_draft(damaged, "draft.pdf")
        except UnreadableDraft as reason:
            assert str(reason).startswith("draft.pdf: ")
