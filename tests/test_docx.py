"""DOCX drafts: what is read of them, and that a revision is real tracked changes and nothing else."""

from __future__ import annotations

import io
import re
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import Literal

import docx
import pytest
from hypothesis import Phase, event, given, settings
from hypothesis import strategies as st
from lxml import etree

from rewriter.cli import main
from rewriter.edits import Edit, apply
from rewriter.formats.carrier import NotWritable
from rewriter.formats.docx import DocxDraft
from rewriter.options import Options, Turn
from rewriter.pipeline import rewrite_bytes
from rewriter.report import Report
from rewriter.spans import Span
from tests.booklet import booklet
from tests.docxtools import (
    MAIN,
    comments,
    letters,
    parts,
    settled,
    settled_elsewhere,
    with_part,
    words,
)
from tests.drafts import SyntheticDraft, all_drafts
from tests.office.returned import returned

DATE = "2026-01-06T09:00:00Z"


@cache
def revised(data: bytes, changes: str = "tracked", turn: Turn = "german") -> tuple[Report, bytes]:
    return rewrite_bytes(
        data,
        "draft.docx",
        Options(turn=turn),
        changes="applied" if changes == "applied" else "tracked",
        date=DATE,
    )


def text_of(data: bytes) -> str:
    return DocxDraft(data, "draft.docx").source.text


def test_a_booklet_is_read_in_order_with_headings_lists_tables_boxes_and_notes() -> None:
    text = text_of(booklet())
    for stretch in (
        "# Kittiwake\n\nA plain round-necked pullover",
        "Questions are answered on the help page.",
        "| To fit bust (cm) | 81 | 86 |",
        "- 1 pair each 3¼ mm and 4 mm needles\n- 2 stitch holders",
        "30 rows to 10 cm, measured",
        "### Shape shoulders\n\n**Next row (RS):** Cast off 7(8:8:8:8) sts, K to end.\n**Next row",
        "ending with a WS row.\n\n**Shape top**\n\nCast off 5",
        "side and sleeve seams.[^1]",
        "Care: wash by hand in cool water and dry the pullover flat.\n\n[^1]: Blocking first",
    ):
        assert stretch in text, stretch
    assert text.count("Care:") == 1, "the text box is read once, not its copy for older readers"


@pytest.mark.parametrize("turn", ["german", "yarn-over"])
def test_accepting_gives_the_revision_and_refusing_the_draft(turn: Turn) -> None:
    report, out = revised(booklet(), turn=turn)
    assert [p.status for p in report.passages].count("rewritten") == 2
    accepted, refused = settled(out, True), settled(out, False)
    assert text_of(accepted) == report.output != text_of(booklet())
    assert text_of(refused) == text_of(booklet())
    assert words(accepted) == words(settled_elsewhere(out, True))
    assert [c for c, _, _ in letters(refused)] == [c for c, _, _ in letters(booklet())]
    assert letters(refused) == letters(booklet()), "refused, every letter has its old format"


def test_another_resolver_refuses_to_the_draft_too() -> None:
    _, out = revised(booklet())
    assert words(settled_elsewhere(out, False)) == words(settled_elsewhere(booklet(), False))


def test_changes_made_in_earnest_are_the_accepted_ones() -> None:
    report, tracked = revised(booklet())
    _, applied = revised(booklet(), "applied")
    assert b"Slopewise" not in parts(applied)[MAIN]
    assert text_of(applied) == report.output
    assert letters(applied) == letters(settled(tracked, True))


def test_labels_stay_bold_and_rows_light() -> None:
    _, applied = revised(booklet(), "applied")
    document = docx.Document(io.BytesIO(applied))
    new = [p for p in document.paragraphs if "DS, " in p.text and p.text.startswith("Next row")]
    assert len(new) >= 6
    for paragraph in new:
        bold = "".join(r.text for r in paragraph.runs if r.bold)
        assert bold.startswith("Next row") and bold.endswith(":")
        assert paragraph.style is not None


def test_all_other_parts_keep_their_bytes() -> None:
    _, out = revised(booklet())
    before, after = parts(booklet()), parts(out)
    changed = {name for name in after if before.get(name) != after[name]}
    assert changed == {MAIN, "word/comments.xml"}
    assert list(after) == list(before)


def test_only_the_changed_paragraphs_differ() -> None:

    _, out = revised(booklet())
    name = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}p"
    old = [etree.tostring(p) for p in etree.fromstring(parts(booklet())[MAIN]).iter(name)]
    new = {etree.tostring(p) for p in etree.fromstring(parts(out)[MAIN]).iter(name)}
    assert sum(p not in new for p in old) <= 16


def test_comments_give_the_reasons_beside_the_words() -> None:
    _, out = revised(booklet())
    told = comments(out)
    assert told[0][0] == "M. Larch"
    own = [(text, anchored) for author, text, anchored in told if author == "Slopewise"]
    assert any("takes the place of the last row" in t and a == "WSRS" for t, a in own), own
    assert any("Steps turned into short rows" in t and "turn." in a for t, a in own)
    assert any("finish it loosely" in t for t, _ in own)


def test_a_question_is_asked_in_a_comment_once() -> None:
    document = docx.Document()
    for words_ in (
        "BACK",
        "Work until armholes measure 20 cm, ending with a WS row.",
        "Shape shoulders",
        "Cast off 8 sts at beg of next 5 rows. Cast off rem 28 sts.",
    ):
        document.add_paragraph(words_)
    data = saved(document)
    report, out = revised(data)
    assert [p.status for p in report.passages] == ["question"]
    ((author, text, anchored),) = comments(out)
    assert (author, text[:10], anchored[:8]) == ("Slopewise", "Question: ", "Cast off")
    assert text_of(out) == text_of(data)
    assert revised(out)[1] == out


def test_a_second_revision_changes_nothing() -> None:
    _, out = revised(booklet())
    assert revised(out)[1] == out
    _, applied = revised(booklet(), "applied")
    assert revised(applied, "applied")[1] == applied


def test_a_document_with_macros_keeps_them_and_its_kind(tmp_path: Path) -> None:
    types = parts(booklet())["[Content_Types].xml"].replace(
        b"application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml",
        b"application/vnd.ms-word.document.macroEnabled.main+xml",
    )
    data = with_part(
        with_part(booklet(), "[Content_Types].xml", types), "word/vbaProject.bin", b"\x01V"
    )
    draft = tmp_path / "draft.docm"
    draft.write_bytes(data)
    assert main(["rewrite", str(draft), "-o", str(tmp_path / "out.docx")]) == 2
    assert main(["rewrite", str(draft), "-o", str(tmp_path / "out.docm")]) == 0
    assert parts((tmp_path / "out.docm").read_bytes())["word/vbaProject.bin"] == b"\x01V"


SOME = [d for d in all_drafts() if d.path.parent.name == "drafts"][1::7]


@pytest.mark.parametrize("draft", SOME, ids=lambda d: d.name)
def test_a_text_becomes_a_tracked_document(draft: SyntheticDraft) -> None:
    plain, _ = rewrite_bytes(draft.data, draft.path.name, Options())
    report, out = rewrite_bytes(draft.data, draft.path.name, Options(), out="x.docx", date=DATE)
    assert {p.id: p.status for p in report.passages} == {p.id: p.status for p in plain.passages}
    assert text_of(settled(out, True)) == report.output


# --- any edit of any document -----------------------------------------------------------------------


def saved(document: docx.document.Document) -> bytes:
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


WORDS = st.lists(
    st.sampled_from(["K2,", "p to end.", "8(9:10)", "½", "sts", "Row 1:", "\t", "*", "turn."]),
    min_size=1,
    max_size=6,
).map(" ".join)
STYLES = st.sampled_from(["Normal", "No Spacing", "List Bullet", "Heading 2"])


@st.composite
def documents(draw: st.DrawFn) -> bytes:
    document = docx.Document()
    for _ in range(draw(st.integers(1, 6))):
        paragraph = document.add_paragraph(style=draw(STYLES))
        for _ in range(draw(st.integers(0, 3))):
            run = paragraph.add_run(draw(WORDS) + draw(st.sampled_from(["", " ", "\n"])))
            run.bold = draw(st.sampled_from([None, True]))
    if draw(st.booleans()):
        table = document.add_table(2, 2)
        table.rows[0].cells[1].text = draw(WORDS)
        document.add_paragraph(draw(WORDS))
    document.add_paragraph("The end.")
    return saved(document)


def places(text: str) -> list[list[int]]:
    """Return the ends of words, stretch by stretch of plain paragraphs."""
    out: list[list[int]] = []
    at = 0
    for plain, lines in groupby(text.splitlines(keepends=True), lambda x: x[:2] not in NO_TEXT):
        stretch = "".join(lines)
        if plain:
            found = [at + m.start() for m in re.finditer(r"(?<=\S)(?= |\n|\Z)", stretch)]
            out += [found] if found else []
        at += len(stretch)
    return out


NO_TEXT = ("- ", "##", "| ", "  ")


@given(data=documents(), draw=st.data())
@settings(max_examples=25, deadline=None, phases=[Phase.explicit, Phase.generate])
def test_any_edit_is_accepted_and_refused_exactly_or_not_made(
    data: bytes, draw: st.DataObject
) -> None:
    source = DocxDraft(data, "x").source
    edits = []
    for stretch in places(source.text):
        start = draw.draw(st.sampled_from(stretch))
        end = draw.draw(st.sampled_from([p for p in stretch if p >= start][:8]))
        new = draw.draw(st.sampled_from([" ", "", "\n\n"])) + draw.draw(WORDS)
        new += draw.draw(st.sampled_from(["", "\n\nRow 2.", "\n\nRow 2.\n\nRow 3."]))
        edits.append(Edit(Span(start, end), new, "shaping"))
    output = apply(source.text, edits)
    try:
        out = DocxDraft(data, "x").revised(edits, [], "tracked", DATE, output)
    except NotWritable:
        event("not made")
        return
    event("made")
    assert text_of(settled(out, True)) == output
    assert letters(settled(out, False)) == letters(data)
    applied = DocxDraft(data, "x").revised(edits, [], "applied", DATE, output)
    assert letters(applied) == letters(settled(out, True))


def test_unsettled_changes_of_others_are_told_and_contents_are_no_headings(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    draft = tmp_path / "draft.docx"
    draft.write_bytes(booklet())
    assert main(["read", str(draft)]) == 0
    assert (
        "tracked changes of M. Larch are read as if they were accepted" in capsys.readouterr().err
    )
    document = docx.Document()
    document.styles.add_style("toc 1", 1)
    document.add_paragraph("Shape shoulders\t3", style="toc 1")
    document.add_paragraph("Back")
    assert text_of(saved(document)) == "Back"


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
