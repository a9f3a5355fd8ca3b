"""DOCX drafts: where they keep their words, and what a word processor showed of revisions."""

from __future__ import annotations

import io
from typing import Literal

import docx
import pytest
from lxml import etree

from rewriter.options import Options
from rewriter.pipeline import rewrite_bytes
from tests.booklet import booklet
from tests.docxdrafts import DATE, revised, saved, text_of
from tests.docxtools import MAIN, comments, letters, parts, settled, with_part, words
from tests.office.returned import returned

# --- where drafts keep their words ------------------------------------------------------------------

PIECE = (
    "Back",
    "Cast on 44 sts. Work until armholes measure 20 cm, ending with a WS row.",
    "Shape shoulders",
    "Cast off 8 sts at beg of next 2 rows, then 9 sts at beg of foll 2 rows.",
    "Cast off rem 10 sts.",
)


def test_a_shoulder_in_a_cell_that_lays_out_the_page_is_rewritten_there() -> None:
    document = docx.Document()
    left, right = document.add_table(1, 2).rows[0].cells
    left.text = "Notes " * 40
    for words_ in PIECE:
        right.add_paragraph(words_)
    data = saved(document)
    report, out = revised(data)
    assert [p.status for p in report.passages] == ["rewritten"]
    assert letters(settled(out, False)) == letters(data)
    cell = docx.Document(io.BytesIO(settled(out, True))).tables[0].rows[0].cells[1]
    assert any("turn." in p.text for p in cell.paragraphs)


def test_a_shoulder_in_a_text_box_is_rewritten_in_both_copies() -> None:
    inner = "".join(f"<w:p><w:r><w:t>{words_}</w:t></w:r></w:p>" for words_ in PIECE)
    box = "<w:p><w:r><w:t>Care: wash by hand in cool water and dry the pullover flat.</w:t></w:r></w:p>"
    main = parts(booklet())[MAIN].decode()
    assert main.count(box) == 2
    start, end = main.index("<w:body>"), main.index("<w:sectPr")
    frame = main[main.rindex("<w:r", 0, main.index("<mc:AlternateContent")) :]
    frame = frame[
        : frame.index("</mc:AlternateContent></w:r>") + len("</mc:AlternateContent></w:r>")
    ]
    body = f"<w:p>{frame.replace(box, inner)}</w:p>"
    data = with_part(booklet(), MAIN, (main[: start + 8] + body + main[end:]).encode())
    report, out = revised(data)
    assert [p.status for p in report.passages] == ["rewritten"]
    assert parts(settled(out, True))[MAIN].count(b"to last 8 sts") % 2 == 0
    assert letters(settled(out, False)) == letters(data)
    twice = words(settled(out, True))[1:]  # the first is the paragraph that holds the box
    assert [line for line in twice if twice.count(line) % 2] == []


def test_a_footnote_within_the_steps_is_asked_about() -> None:
    main = parts(booklet())[MAIN].decode()
    mark = '<w:r><w:footnoteReference w:id="1"/></w:r>'
    steps = "<w:t>Cast off 7(8:8:8:8) sts at beg of next and foll alt row.</w:t></w:r>"
    assert steps in main
    data = with_part(booklet(), MAIN, main.replace(steps, steps + mark).encode())
    report, _ = revised(data)
    front = next(p for p in report.passages if p.id == "front/shoulder/1")
    assert front.status != "rewritten"


def test_somebody_elses_change_under_an_edit_stays_theirs() -> None:
    who = 'w:author="M. Larch" w:date="2026-01-05T10:00:00Z"'
    old = "<w:t>Cast off 7(8:8:8:8) sts at beg of next and foll alt row.</w:t></w:r>"
    new = (
        '<w:t xml:space="preserve">Cast off </w:t></w:r>'
        f'<w:del w:id="910" {who}><w:r><w:delText>6(8:8:8:8)</w:delText></w:r></w:del>'
        f'<w:ins w:id="911" {who}><w:r><w:t>7(8:8:8:8)</w:t></w:r></w:ins>'
        '<w:r><w:t xml:space="preserve"> sts at beg of next and foll alt row.</w:t></w:r>'
    )
    main = parts(booklet())[MAIN].decode()
    assert old in main
    data = with_part(booklet(), MAIN, main.replace(old, new).encode())
    report, out = revised(data)
    assert {p.status for p in report.passages if p.kind == "shoulder"} == {"rewritten"}
    assert text_of(settled(out, False)) == text_of(data)
    assert parts(settled(out, False))[MAIN].count(b"M. Larch") == parts(data)[MAIN].count(
        b"M. Larch"
    )


def test_steps_numbered_by_the_word_processor_get_no_second_number() -> None:
    document = docx.Document()
    for words_ in PIECE[:3]:
        document.add_paragraph(words_)
    for words_ in (
        "Cast off 8 sts, K to end.", "Cast off 8 sts, P to end.", "Cast off 9 sts, K to end.",
        "Cast off 9 sts, P to end.", "Cast off rem 10 sts.",
    ):  # fmt: skip
        document.add_paragraph(words_, style="List Number")
    report, out = revised(saved(document), "applied")
    assert [p.status for p in report.passages] == ["rewritten"]
    own = [p.text for p in docx.Document(io.BytesIO(out)).paragraphs]
    assert not [text for text in own if text[:1].isdigit()]
    assert "\n4. " in report.output


def test_counts_that_are_bold_by_themselves_stay_bold() -> None:
    document = docx.Document()
    document.add_heading("Back", 2)
    document.add_paragraph("Work until armholes measure 20(21:22) cm, ending with a WS row.")
    document.add_heading("Shape shoulders", 3)
    paragraph = document.add_paragraph("Cast off ")
    paragraph.add_run("8(9:9)").bold = True
    paragraph.add_run(" sts at beg of next ")
    paragraph.add_run("4").bold = True
    paragraph.add_run(" rows.")
    document.add_paragraph("Cast off rem 31(33:37) sts.")
    kept = io.BytesIO()
    document.save(kept)
    report, data = revised(kept.getvalue(), "applied")
    assert report.passages[0].status == "rewritten"
    new = docx.Document(io.BytesIO(data))
    (turning,) = [p for p in new.paragraphs if "P to last" in p.text or "ork to last" in p.text][:1]
    assert [r.text for r in turning.runs if r.bold] == ["8(9:9)"]
    tracked = revised(kept.getvalue())[1]
    assert text_of(tracked) == report.output


# --- what a word processor showed -------------------------------------------------------------------


@pytest.mark.parametrize("shoulders", ["three-needle", "graft", "held"])
@pytest.mark.parametrize("exact", [False, True])
def test_rows_and_the_sentence_that_closes_them_keep_their_styles(
    shoulders: Literal["three-needle", "graft", "held"], exact: bool
) -> None:
    options = Options(shoulders=shoulders, exact_live=exact)
    report, out = rewrite_bytes(booklet(), "draft.docx", options, date=DATE)
    assert text_of(settled(out, True)) == report.output
    assert letters(settled(out, False)) == letters(booklet())
    _, applied = rewrite_bytes(booklet(), "draft.docx", options, changes="applied", date=DATE)
    back = docx.Document(io.BytesIO(applied)).paragraphs
    titles = [p.text for p in back]
    rows = back[titles.index("Shape shoulders") + 1 : titles.index("Front")]
    styles = [p.style.name for p in rows if p.text and p.style is not None]
    assert len(styles) > 7 and styles[-1] == "Normal" and set(styles[:-1]) == {"Pattern Rows"}


def test_a_number_that_counts_by_itself_gets_no_comment_and_comments_are_the_right_way_round() -> (
    None
):
    _, out = revised(returned())
    root = etree.fromstring(parts(out)[MAIN])
    place = {e: n for n, e in enumerate(root.iter())}
    name = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
    ends = {e.get(f"{name}id"): e for e in root.iter(f"{name}commentRangeEnd")}
    starts = {e.get(f"{name}id"): e for e in root.iter(f"{name}commentRangeStart")}
    assert starts.keys() == ends.keys() and len(starts) > 5
    assert all(place[start] < place[ends[number]] for number, start in starts.items())
    assert not any("new numbers" in text for _, text, _ in comments(out))


def test_ends_of_rows_that_somebody_put_in_get_no_second_mark() -> None:
    report, out = revised(returned())
    assert [p.status for p in report.passages if p.kind == "shoulder"] == ["rewritten"] * 3
    root = etree.fromstring(parts(out)[MAIN])
    name = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
    ends = [mark for p in root.iter(f"{name}rPr") for mark in p.iterfind(f"{name}ins")]
    assert sum(mark.get(f"{name}author") == "M. Larch" for mark in ends) == 2
    assert all(mark.getnext() is None for mark in ends), "no deletion stands beside it"
    assert text_of(settled(out, True)) == report.output
    assert text_of(settled(out, False)) == text_of(returned())
    _, applied = revised(returned(), "applied")
    assert text_of(applied) == report.output
    ends = list(etree.fromstring(parts(applied)[MAIN]).iterfind(f".//{name}pPr/{name}rPr/*"))
    assert [etree.QName(mark).localname for mark in ends] == ["del"], (
        "rows of a new text are nobody's"
    )


def test_comments_stand_around_a_text_box_and_tell_of_a_fixed_size() -> None:
    _, out = revised(returned())
    told = [text for _, text, _ in comments(out)]
    assert len([t for t in told if "text box keeps its size" in t]) == 1
    root = etree.fromstring(parts(out)[MAIN])
    name = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
    for box in root.iter(f"{name}txbxContent"):
        assert not list(box.iter(f"{name}commentRangeStart", f"{name}commentReference"))
    grows = parts(returned())[MAIN].replace(
        b"<wps:bodyPr/>", b"<wps:bodyPr><a:spAutoFit/></wps:bodyPr>"
    )
    _, out = revised(with_part(returned(), MAIN, grows))
    assert not [t for _, t, _ in comments(out) if "text box keeps its size" in t]


def test_a_page_pasted_line_by_line_is_read_as_its_lines() -> None:
    page = """BACK
Using No. 8 needles work in st. st. until armholes measure 5 ins. from
the beginning of the armholes, ending with a
P. row.
Shoulders: Cast off 7 sts. at beg. of next 2 rows and 8 sts. at
beg. of following 2 rows. Leave rem. 20 sts. on
a holder.
LEFT FRONT
Cont. straight until armhole measures same as back, ending with a
P. row.
Shoulder: Cast off 7 sts. at beg. of next row. P. 1 row. Cast
off rem. 8 sts."""
    document = docx.Document()
    for line in page.split("\n"):
        document.add_paragraph(line)
    report, data = revised(saved(document))
    assert [(p.id, p.status) for p in report.passages] == [
        ("back/shoulder/1", "rewritten"),
        ("left-front/shoulder/1", "rewritten"),
    ]
    assert "ending with a\nK. row." in text_of(settled(data, accept=True))
    assert words(settled(data, accept=False)) == words(saved(document))
