"""Worksheets: the page, the PDF and the command."""

from __future__ import annotations

import sys
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

import pytest

from rewriter.options import Options
from rewriter.pipeline import rework
from rewriter.source import read_source
from rewriter.worksheet import worksheet
from rewriter.worksheetcharts import charts_of
from rewriter.worksheetpage import worksheet_page, worksheet_pdf
from tests.drafts import CORPUS
from tests.sheettools import DRAFTS, SAMPLE, run, sheet_of, work_of

# --- the page ---------------------------------------------------------------------------------------


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.labels: set[str] = set()
        self.boxes: list[str] = []
        self.tags: Counter[str] = Counter()
        self.open: list[str] = []
        self.scopes: list[str | None] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        self.tags[tag] += 1
        if told.get("id"):
            self.ids.append(str(told["id"]))
        if tag == "label":
            self.labels.add(str(told["for"]))
        if tag == "input":
            assert told["type"] == "checkbox"
            self.boxes.append(str(told["id"]))
        if tag == "th":
            self.scopes.append(told.get("scope"))
        if tag not in ("input", "meta"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


@pytest.mark.parametrize("path", DRAFTS, ids=lambda p: p.stem)
def test_a_page_is_whole_and_every_box_has_a_name(path: Path) -> None:
    options = Options()
    work = work_of(path, options)
    sheet = worksheet(work, 0, options)
    html = worksheet_page(sheet, "letter", charts_of(sheet, work))
    page = _Page()
    page.feed(html)
    assert page.open == []
    assert len(page.ids) == len(set(page.ids))
    assert page.tags["script"] == 0 and "http-equiv" in html
    assert len(page.boxes) == sum(len(p.lines) * len(p.ticks) for p in sheet.pieces)
    assert set(page.boxes) == page.labels
    assert page.scopes and set(page.scopes) == {"row", "col", "colgroup"}
    assert page.tags["caption"] == page.tags["table"] == len(sheet.pieces)
    assert page.tags["svg"] > 0 and "size: letter" in html
    assert "src=" not in html and "url(" not in html


def test_words_of_a_draft_stay_words() -> None:
    text = SAMPLE.read_text(encoding="utf-8").replace("# Tarn", "# Tarn <script>x</script> & co")
    work = rework(read_source(text.encode("utf-8"), "draft.md"), Options())
    html = worksheet_page(worksheet(work, 0, Options()))
    assert "<script" not in html and "&amp; co" in html


@pytest.mark.parametrize(("paper", "points"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_a_pdf_of_either_paper_has_every_row(paper: str, points: tuple[int, int]) -> None:
    pdfium = pytest.importorskip("pypdfium2")
    sheet = sheet_of(SAMPLE, Options(), 2)
    document = pdfium.PdfDocument(worksheet_pdf(worksheet_page(sheet, paper)))
    width, height = document[0].get_size()
    assert (round(width), round(height)) == points
    text = " ".join(" ".join(p.get_textpage().get_text_range().split()) for p in document)
    for piece in sheet.pieces:
        for line in piece.lines:
            row = f"{line.number} {line.side}" if line.number else "then"
            told = f"{row} {line.words} "  # read aloud in the order of the page
            assert told in text
            text = text[text.index(told) :]
    document.close()


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_no_type_is_too_small_on_paper(paper: str) -> None:
    pdfium = pytest.importorskip("pypdfium2")
    steps = "Cast off 3 sts at beg of next 24 rows, then 4 sts at beg of next 4 rows. Cast off rem 42 sts.\n"
    lead = "Work in stocking stitch until armhole measures 22 cm, ending with a WS row.\nShape shoulders\n"
    work = rework(read_source(f"BACK\n{lead}{steps}".encode(), "draft.txt"), Options())
    sheet = worksheet(work, 0, Options())
    document = pdfium.PdfDocument(
        worksheet_pdf(worksheet_page(sheet, paper, charts_of(sheet, work)))
    )
    assert len(document) <= 5
    for page in document:
        text, (width, _) = page.get_textpage(), page.get_size()
        boxes = [text.get_charbox(n, loose=True) for n in range(text.count_chars())]
        seen = [(a, b, c, d) for a, b, c, d in boxes if d - b > 1]  # names of boxes have no height
        # a line of this type is a sixth higher than its size
        assert min(d - b for _, b, _, d in seen) >= 8 * 7 / 6
        assert min(a for a, _, _, _ in seen) > 0 and max(c for _, _, c, _ in seen) < width
    document.close()


# --- the command ------------------------------------------------------------------------------------


def test_the_command_writes_a_page(tmp_path: Path) -> None:
    out = tmp_path / "sheet.html"
    assert run(str(SAMPLE), "--size", "106", "-o", str(out), "--piece", "front") == 0
    html = out.read_text(encoding="utf-8")
    assert "Front, second side" in html and ">Back<" not in html


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["-o", "x.html"], "add --size with one of 86, 96, 106, 116"),
        (
            ["--size", "99", "-o", "x.html"],
            "--size 99: no such size; the sizes are 86, 96, 106, 116",
        ),
        (["--size", "86", "-o", "x.doc"], "x.doc: a worksheet is written as .html or .pdf"),
        (
            ["--size", "86", "--piece", "sleeve", "-o", "x.html"],
            "no such piece was rewritten; there are Back",
        ),
        (["--size", "86", "--piece", "back", "--practice", "-o", "x.html"], "leave out --piece"),
    ],
)
def test_what_cannot_be_made_is_said(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(str(SAMPLE), *arguments) == 2
    told = capsys.readouterr().err
    assert said in told and "fault" not in told


def test_a_draft_with_nothing_rewritten_has_no_sheet(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "sheet.html"
    draft = CORPUS / "drafts/us-lantern-wrap.md"
    for more in ([], ["--practice"]):
        assert run(str(draft), "-o", str(out), *more) == 2
        assert "nothing to make a worksheet of" in capsys.readouterr().err
    assert not out.exists()


def test_the_draft_is_never_written_over(tmp_path: Path) -> None:
    draft = tmp_path / "draft.html"
    draft.write_bytes(
        b"<h1>Tarn</h1>"
        + b"".join(
            b"<p>" + line.lstrip("# ").encode("utf-8") + b"</p>"
            for line in SAMPLE.read_text(encoding="utf-8").splitlines()
            if line
        )
    )
    before = draft.read_bytes()
    assert run(str(draft), "--size", "106", "-o", str(draft)) == 2
    assert draft.read_bytes() == before


def test_a_pdf_without_what_it_takes(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    out = tmp_path / "sheet.pdf"
    assert run(str(SAMPLE), "--size", "106", "-o", str(out)) == 2
    assert "slopewise[worksheet]" in capsys.readouterr().err
    assert not out.exists()


def test_a_lead_in_that_is_cut_short_ends_as_a_sentence() -> None:
    sheet = sheet_of(CORPUS / "newest/633-debardeur-bleu.txt", size=1)
    page = worksheet_page(sheet)
    assert "total height\u201d. The draft does not say" in page
    assert ".\u201d." not in worksheet_page(sheet_of(SAMPLE))
