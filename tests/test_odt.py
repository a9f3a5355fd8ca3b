"""ODT drafts: what is read of them, and that a revision is tracked changes of the open standard."""

from __future__ import annotations

import io
import re
import zipfile
from functools import cache
from pathlib import Path

import pytest

from rewriter.cli import main
from rewriter.formats import open_draft
from rewriter.formats.carrier import NotWritable
from rewriter.options import Changes, Options
from rewriter.pipeline import rewrite_bytes
from rewriter.report import Report
from rewriter.source import UnreadableDraft
from tests.odttools import BODY, OFFICE, TEXT, content, lines, odt

DATE = "2026-01-06T09:00:00Z"
CHANGES: tuple[Changes, ...] = ("tracked", "applied")


@cache
def revised(data: bytes, changes: str = "tracked") -> tuple[Report, bytes]:
    return rewrite_bytes(
        data,
        "draft.odt",
        Options(),
        changes="applied" if changes == "applied" else "tracked",
        date=DATE,
    )


def text_of(data: bytes) -> str:
    return open_draft(data, "draft.odt").source.text


def test_a_document_is_read_with_headings_lists_bold_labels_and_notes() -> None:
    text = text_of(odt())
    for stretch in (
        "## Materials\n\n- 2 stitch holders\n- Yarn needle\n\n## Back\n\nWork until armholes",
        "measure  20 cm, ending with a WS row.",
        "### Shape shoulders\n\n**Next row (RS):** Cast off 8(9) sts, K to end.\n\n**Next row (WS):**",
        "sts.[^1]",
        "| Size | S",
        "[^1]: Loosely.",
    ):
        assert stretch in text, stretch


def test_accepting_gives_the_revision_and_refusing_the_draft() -> None:
    report, out = revised(odt())
    assert [p.status for p in report.passages] == ["rewritten"]
    _, applied = revised(odt(), "applied")
    assert lines(out, accept=True) == lines(applied, accept=True) != lines(odt(), accept=True)
    assert lines(out, accept=False) == lines(odt(), accept=True)
    assert text_of(applied) == text_of(out) == report.output


NOTE = (
    "<text:note><text:note-citation>1</text:note-citation><text:note-body>"
    "<text:p>With the larger needle.</text:p></text:note-body></text:note>"
)


def test_a_footnote_in_words_that_change_is_named_with_its_place_and_what_to_do() -> None:
    row = "Cast off 9(9) sts, K to end."
    body = re.sub(r"<text:note>.*</text:note>", "", BODY, flags=re.DOTALL).replace(row, row + NOTE)
    report, _ = revised(odt(body))
    assert [p.status for p in report.passages] == ["question"]
    assert "a footnote hangs here ([^1])" in (report.passages[0].reason or "")
    harmless = Options(assume={"words": "harmless"})
    with pytest.raises(NotWritable) as refused:
        rewrite_bytes(odt(body), "draft.odt", harmless, date=DATE)
    told = str(refused.value)
    assert "footnote 1, behind “(RS): Cast off 9(9) sts, K to end.”" in told
    assert "paragraph 9" in told and "move its sign to a sentence that stays" in told


def test_an_item_that_changes_and_has_others_put_in_behind_it_keeps_both() -> None:
    body = re.sub(r"<text:note>.*</text:note>", "", BODY, flags=re.DOTALL)
    body = body.replace("2 stitch holders", "|").replace("Yarn needle", "1 stitch holder")
    body = body.replace("|", "Yarn needle")
    found = []
    for changes in CHANGES:
        report, out = rewrite_bytes(
            odt(body), "draft.odt", Options(shoulders="three-needle"), changes=changes, date=DATE
        )
        assert "- 2 stitch holders\n- " in report.output
        found.append(lines(out, accept=True))
        if changes == "tracked":
            assert lines(out, accept=False) == lines(odt(body), accept=True)
    assert found[0] == found[1]
    assert found[0][2].strip() == "2 stitch holders"


def test_marks_name_author_and_date_and_comments_give_reasons() -> None:
    _, out = revised(odt())
    root = content(out)
    creator = "{http://purl.org/dc/elements/1.1/}creator"
    regions = list(root.iter(f"{TEXT}changed-region"))
    assert regions
    for region in regions:
        assert [e.text for e in region.iter(creator)] == ["Slopewise"]
        assert region.get(f"{TEXT}id") in {
            e.get(f"{TEXT}change-id") for e in root.iter() if e.get(f"{TEXT}change-id")
        }
    told = [e.findtext(f"{TEXT}p", "") for e in root.iter(f"{OFFICE}annotation")]
    assert any("takes the place of the last row" in t for t in told)


def test_all_other_parts_keep_their_bytes_and_order() -> None:
    _, out = revised(odt())
    with zipfile.ZipFile(io.BytesIO(odt())) as old, zipfile.ZipFile(io.BytesIO(out)) as new:
        assert old.namelist() == new.namelist()
        assert new.infolist()[0].compress_type == zipfile.ZIP_STORED
        assert [n for n in old.namelist() if old.read(n) != new.read(n)] == ["content.xml"]


def test_new_rows_keep_style_and_bold_labels() -> None:
    _, applied = revised(odt(), "applied")
    rows = [
        p for p in content(applied).iter(f"{TEXT}p") if "turn." in "".join(map(str, p.itertext()))
    ]
    assert rows
    for row in rows:
        assert row.get(f"{TEXT}style-name") == "Body"
        assert row[0].get(f"{TEXT}style-name") == "Fat" and str(row[0].text).startswith("Next row")
    assert not list(content(applied).iter(f"{TEXT}tracked-changes"))


def test_a_second_revision_changes_nothing() -> None:
    for changes in ("tracked", "applied"):
        _, out = revised(odt(), changes)
        assert revised(out, changes)[1] == out


def test_locked_and_hostile_documents_are_refused() -> None:
    bomb = BODY.replace("<text:h", "<text:p>&x;</text:p><text:h", 1)
    locked = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(odt())) as old, zipfile.ZipFile(locked, "w") as new:
        for name in old.namelist():
            extra = b"<manifest:encryption-data/>" if name.startswith("META") else b""
            new.writestr(name, old.read(name) + extra)
    for data, told in (
        (odt(bomb), "content.xml is damaged"),
        (odt("<text:p/>"), "no text"),
        (locked.getvalue(), "locked by a password"),
        (odt("<text:section>" * 250 + "</text:section>" * 250), "within one another"),
    ):
        with pytest.raises(UnreadableDraft, match=told):
            open_draft(data, "draft.odt")


def test_a_document_goes_to_its_own_format_to_docx_or_to_text(tmp_path: Path) -> None:
    draft = tmp_path / "draft.odt"
    draft.write_bytes(odt())
    for name in ("out.odt", "out.docx", "out.md"):
        assert main(["rewrite", str(draft), "-o", str(tmp_path / name)]) == 0
    assert main(["rewrite", str(draft)]) == 2
    assert main(["rewrite", str(draft), "-o", str(tmp_path / "out.html")]) == 2


def test_words_in_any_drawn_shape_are_read_and_rewritten() -> None:
    title = '<text:h text:outline-level="1">Back</text:h>'
    before, _, rows = BODY.partition(title)
    rows, _, after = rows.partition("<table:table>")
    for shape in ("draw:custom-shape", "draw:rect"):
        body = f"{before}<text:p><{shape}>{title}{rows}</{shape}></text:p><table:table>{after}"
        report, out = revised(odt(body))
        assert [p.status for p in report.passages] == ["rewritten"]
        assert lines(out, accept=False) == lines(odt(body), accept=True)


def test_live_shoulders_keep_the_style_of_the_sentence_that_closes_the_rows() -> None:
    body = BODY.replace(
        '<text:p text:style-name="Body">Cast off rem 38(40) sts.', "<text:p>Leave rem 38(40) sts."
    )
    report, out = rewrite_bytes(odt(body), "draft.odt", Options(shoulders="held"), date=DATE)
    assert [p.status for p in report.passages] == ["rewritten"]
    assert lines(out, accept=False) == lines(odt(body), accept=True)


def test_somebodys_insertion_under_the_words_to_change_is_asked_to_be_settled() -> None:
    row = "Cast off 9(9) sts, K to end."
    assert row in BODY
    marks = [f'<text:change-{end} text:change-id="c1"/>' for end in ("start", "end")]
    region = (
        '<text:tracked-changes><text:changed-region xml:id="c1" text:id="c1"><text:insertion>'
        "<office:change-info><dc:creator>M. Larch</dc:creator><dc:date>2026-01-05T10:00:00</dc:date>"
        "</office:change-info></text:insertion></text:changed-region></text:tracked-changes>"
    )
    data = odt(region + BODY.replace(row, f"{marks[0]}{row}{marks[1]}"))
    with pytest.raises(NotWritable, match="paragraph 7: somebody's tracked insertion"):
        revised(data)
    report, applied = revised(data, "applied")
    assert text_of(applied) == report.output
    assert not list(content(applied).iter(f"{TEXT}changed-region"))


def test_items_of_a_list_come_back_as_items_that_are_counted_on() -> None:
    rows = (
        "Cast off 8(9) sts, K to end.", "Cast off 8(9) sts, P to end.", "Cast off 9(9) sts, K to end.",
        "Cast off 9(9) sts, P to end.", "Cast off rem 38(40) sts.",
    )  # fmt: skip
    items = "".join(f"<text:list-item><text:p>{row}</text:p></text:list-item>" for row in rows)
    head, _, _ = BODY.partition('<text:p text:style-name="Body"><text:span text:style-name="Fat">')
    data = odt(f'{head}<text:list xml:id="l9" text:style-name="L2">{items}</text:list>')
    report, out = revised(data)
    assert [p.status for p in report.passages] == ["rewritten"]
    assert lines(out, accept=False) == lines(data, accept=True)
    root = content(out)
    (deletion,) = [d for d in root.iter(f"{TEXT}deletion") if len(list(d.iter(f"{TEXT}p"))) > 1]
    (held,) = deletion.findall(f"{TEXT}list")
    assert len(held) == 4 and held.get(f"{TEXT}style-name") == "L2"
    name = held.get("{http://www.w3.org/XML/1998/namespace}id")
    continued = [e.get(f"{TEXT}continue-list") for e in root.iter(f"{TEXT}list")]
    assert continued.count(name) == 1
    _, applied = revised(data, "applied")
    assert not [e for e in content(applied).iter() if e.get(f"{TEXT}continue-list")]
