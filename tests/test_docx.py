"""DOCX drafts: what is read of them, and that a revision is real tracked changes and nothing else."""

from __future__ import annotations

import io
from pathlib import Path

import docx
import pytest
from lxml import etree

from rewriter.cli import main
from rewriter.options import Options, Turn
from rewriter.pipeline import rewrite_bytes
from tests.booklet import booklet
from tests.docxdrafts import DATE, revised, saved, text_of
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


def test_unsettled_changes_of_others_are_told_and_contents_are_no_headings(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    draft = tmp_path / "draft.docx"
    draft.write_bytes(booklet())
    assert main(["read", str(draft)]) == 0
    assert (
        "tracked changes not settled yet: 2 by M. Larch; read as if they were accepted"
        in capsys.readouterr().err
    )
    document = docx.Document()
    document.styles.add_style("toc 1", 1)
    document.add_paragraph("Shape shoulders\t3", style="toc 1")
    document.add_paragraph("Back")
    assert text_of(saved(document)) == "Back"
