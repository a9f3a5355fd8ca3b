"""What a technical editor meets at the desk: reports, sheets, checks and documents, in whole sentences."""

from __future__ import annotations

import io
import json
import re
import zipfile
from pathlib import Path

import pytest

from rewriter import check
from rewriter.cli import main
from rewriter.document import split_document
from rewriter.formats.carrier import unsettled
from rewriter.formats.docx_new import document_of
from rewriter.options import Options
from rewriter.pipeline import rework, rewrite_bytes
from rewriter.source import read_source
from rewriter.web.proofwords import proof_sentences
from tests.docxdrafts import DATE
from tests.docxtools import settled
from tests.odttools import odt

HELD_NECK = """Sizes 8 (10)

BACK
Work until armhole measures 20 cm, ending with a WS row. [75 (81) sts.]
Shape shoulders
Cast off 8 sts at beg of next 4 rows, then 8 (9) sts at beg of foll 2 rows.
Leave rem 27 (31) sts on a holder.
"""


def _written(folder: Path, text: str, name: str = "draft.txt") -> str:
    path = folder / name
    path.write_bytes(text.encode())
    return str(path)


BACK = """Sizes 8 (10)

BACK
Work until armhole measures 20 cm, ending with a {side} row. [75 (81) sts.]
Shape shoulders
"""
STEPPED = """Cast off 8 sts at beg of next 4 rows, then 8 (9) sts at beg of foll 2 rows.
Cast off rem 27 (31) sts.
"""


# --- the report of a rewriting ----------------------------------------------------------------------


def test_the_report_says_what_the_neck_loses_as_the_page_does(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    draft = _written(tmp_path, HELD_NECK)
    assert main(["rewrite", draft, "--shoulders", "held", "--report", "text"]) == 0
    told = capsys.readouterr().out
    (passage,) = rework(read_source(HELD_NECK.encode()), Options(shoulders="held")).report.passages
    assert passage.verification.neck_rows_gained == (-1, -1)
    clause = "the neck has 1 row fewer"
    assert told.count(f"; {clause}") == 2
    assert f"{clause[:1].upper()}{clause[1:]}." in proof_sentences(passage, ("8", "10"))[0]


def test_a_neck_that_keeps_its_rows_is_not_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["rewrite", _written(tmp_path, HELD_NECK), "--report", "text"])
    assert "the neck has" not in capsys.readouterr().out


# --- words that are not understood -------------------------------------------------------------------


def test_a_single_word_is_shown_in_its_clause(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    odd = STEPPED.replace("at beg of next 4", "gnarling the fringe at beg of next 4")
    assert (
        main(["rewrite", _written(tmp_path, BACK.format(side="WS") + odd), "--report", "text"]) == 1
    )
    told = capsys.readouterr().out
    assert "'gnarling' in “Cast off 8 sts gnarling the fringe at beg of next 4 rows”" in told
    # where the words stand by themselves, no more than they is shown
    alone = STEPPED.replace("rows, then", "rows, gnarling the fringe, then")
    main(
        ["rewrite", _written(tmp_path, BACK.format(side="WS") + alone, "b.txt"), "--report", "text"]
    )
    assert "the words 'gnarling the fringe' are not understood" in capsys.readouterr().out


def test_all_words_of_a_revised_row_stand_in_their_clauses() -> None:
    rows = (
        "Next row (WS): P to 8 sts fro end, turn.\nNext row: K to last 8 sts, turn.\n"
        "Next row: P to 16 sts befoer end, turn.\nNext row: K to last 16 sts, turn.\n"
        "Next row: P to end.\nNext row: Cast off 24 (25) sts, k to end.\n"
        "Next row: Cast off 24 (25) sts, p to end. Cast off rem 27 (31) sts.\n"
    )
    found = check(BACK.format(side="WS") + STEPPED, BACK.format(side="RS") + rows)
    (error,) = [f for f in found.findings if f.severity == "error"]
    assert "'to' and 'fro' in “P to 8 sts fro end”" in error.message
    assert "'befoer' in “P to 16 sts befoer end”" in error.message


# --- a text as a tracked document --------------------------------------------------------------------

ROWS = """BACK
Work in st st for 20 cm, ending with a WS row.

Shape shoulders
Row 1 (RS): Cast off 8 sts, k to end.
Row 2: Cast off 8 sts, p to end.
Row 3: Cast off 9 sts, k to end.
Row 4: Cast off 9 sts, p to end.
Cast off rem 27 sts.
"""


def _paragraphs(document: bytes) -> list[str]:
    docx = pytest.importorskip("docx")
    return [p.text for p in docx.Document(io.BytesIO(document)).paragraphs]


def test_rows_of_a_text_become_a_paragraph_each() -> None:
    told = _paragraphs(document_of(read_source(ROWS.encode())))
    assert told[1] == "Shape shoulders"
    assert [p[:5] for p in told[2:6]] == ["Row 1", "Row 2", "Row 3", "Row 4"]
    assert told[6] == "Cast off rem 27 sts."
    markdown = (
        ROWS.replace("Shape shoulders", "## Shape shoulders")
        .replace("Row", "**Row")
        .replace(":", ":**")
    )
    told = _paragraphs(document_of(read_source(markdown.encode(), "draft.md")))
    assert [p[:5] for p in told if p.startswith("Row")] == ["Row 1", "Row 2", "Row 3", "Row 4"]


@pytest.mark.parametrize(
    "block",
    [
        # lines that run on, and rows of a numbered step, stay together
        "Cast off 8 sts at beg of every\nRow 2: so it goes on for 4 rows.",
        "5.  Shoulders.\n    Row 1 (RS): Cast off 8 sts, k to end.\n    Row 2: Cast off 8 sts, p to end.",
        "Work in st st until armhole measures 20 cm, ending with a WS\nrow. Then shape the shoulders.",
    ],
)
def test_lines_that_are_no_rows_for_themselves_stay_in_their_paragraph(block: str) -> None:
    assert _paragraphs(document_of(read_source(block.encode()))) == [block]


def test_a_tracked_document_of_a_text_is_read_row_by_row() -> None:
    report, out = rewrite_bytes(
        ROWS.encode(), "draft.txt", Options(markers=False), out="x.docx", date=DATE
    )
    assert [p.status for p in report.passages] == ["rewritten"]
    refused, accepted = settled(out, accept=False), settled(out, accept=True)
    assert _paragraphs(refused) == _paragraphs(document_of(read_source(ROWS.encode())))
    assert "Row 1 (WS): P to last 8 sts, turn." in _paragraphs(accepted)


# --- who signs, and whose changes are pending ---------------------------------------------------------


def _xml(document: bytes, part: str) -> str:
    with zipfile.ZipFile(io.BytesIO(document)) as package:
        return package.read(part).decode()


def test_changes_and_comments_of_a_document_have_the_author_that_is_named(tmp_path: Path) -> None:
    out = tmp_path / "out.docx"
    draft = _written(tmp_path, ROWS)
    assert main(["rewrite", draft, "-o", str(out), "--author", "Ada  Lind"]) == 0
    main_part = _xml(out.read_bytes(), "word/document.xml")
    assert set(re.findall(r'w:author="([^"]*)"', main_part)) == {"Ada Lind"}
    comments = _xml(out.read_bytes(), "word/comments.xml")
    assert set(re.findall(r'w:author="([^"]*)"', comments)) == {"Ada Lind"}
    assert set(re.findall(r'w:initials="([^"]*)"', comments)) == {"AL"}
    plain = tmp_path / "plain.docx"
    main(["rewrite", draft, "-o", str(plain)])
    assert set(
        re.findall(r'w:author="([^"]*)"', _xml(plain.read_bytes(), "word/document.xml"))
    ) == {"Slopewise"}


def test_changes_of_an_odt_document_have_the_author_that_is_named() -> None:
    _, out = rewrite_bytes(odt(), "x.odt", Options(), date=DATE, author="Ada Lind")
    content = _xml(out, "content.xml")
    assert set(re.findall(r"<dc:creator>([^<]*)<", content)) == {"Ada Lind"}


@pytest.mark.parametrize("name", ["", "  ", "Ada\x07Lind"])
def test_a_name_that_no_document_can_hold_is_refused(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out.docx"
    assert main(["rewrite", _written(tmp_path, ROWS), "-o", str(out), "--author", name]) == 2
    assert "--author" in capsys.readouterr().err
    assert not out.exists()


def test_changes_that_somebody_left_are_counted_and_stand_in_the_report(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The program's own changes, opened again, are three of another author."""
    _, once = rewrite_bytes(
        ROWS.replace("BACK\n", "BACK\nSizes: one.\n").encode(),
        "draft.txt",
        Options(markers=False),
        out="x.docx",
        date=DATE,
        author="Ada Lind",
    )
    path = tmp_path / "edited.docx"
    path.write_bytes(once)
    assert main(["read", str(path), "--report", "json"]) in (0, 1)
    captured = capsys.readouterr()
    (told,) = [d for d in json.loads(captured.out)["diagnostics"] if d["code"] == "changes-pending"]
    count = re.fullmatch(
        r"tracked changes not settled yet: (\d+) by Ada Lind; read as if they were accepted",
        told["message"],
    )
    assert count is not None and int(count[1]) >= 2
    assert told["severity"] == "remark"
    assert told["message"] in captured.err
    assert main(["check", _written(tmp_path, ROWS), str(path)]) == 0
    assert "in the revised, tracked changes not settled yet" in capsys.readouterr().out


def test_one_change_that_is_pending_is_one() -> None:
    assert (
        unsettled(["Bo"]) == "tracked change not settled yet: 1 by Bo; read as if it was accepted"
    )
    assert unsettled(["Bo", "Ada", "Bo"]).startswith(
        "tracked changes not settled yet: 1 by Ada and 2 by Bo;"
    )
    assert unsettled([]) == ""


# --- two texts beside each other ----------------------------------------------------------------------


def test_a_check_can_show_what_differs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    report = rework(read_source(ROWS.encode()), Options(markers=False)).report
    wrong = report.output.replace("to last 8 sts", "to last 7 sts", 1)
    one, two = _written(tmp_path, ROWS, "old.txt"), _written(tmp_path, wrong, "new.txt")
    assert main(["check", one, two, "--diff"]) == 1
    captured = capsys.readouterr()
    assert captured.out.startswith("--- a/old.txt\n+++ b/new.txt\n")
    assert "\n-Row 1 (RS): Cast off 8 sts, k to end.\n" in captured.out
    assert "error" in captured.err and "new.txt: " in captured.err
    # the report that is asked for stands instead of the diff
    assert main(["check", one, two, "--diff", "--report", "json"]) == 1
    assert json.loads(capsys.readouterr().out)["result"] == "differs"


# --- a check of the program's own rewriting -----------------------------------------------------------

ONE_SIDE = """LEFT FRONT
Work till armhole = 7{inch}, end WS. 17 sts.
Shape shoulder:
Row 1 (RS): BO 6 sts, k to end.
Row 2 (WS): P.
Row 3 (RS): BO 6 sts, k to end.
Row 4 (WS): P.
Row 5 (RS): BO rem 5 sts.
"""


def test_a_length_behind_an_equals_sign_leads_in_and_explains_nothing() -> None:
    draft = ONE_SIDE.format(inch='"')
    (passage,) = (report := rework(read_source(draft.encode()), Options()).report).passages
    assert passage.status == "rewritten" and 'armhole = 7", end RS' in report.output
    found = check(draft, report.output)
    assert found.result == "same", [f.message for f in found.findings]
    wrong = check(draft, report.output.replace("end RS", "end WS"))
    assert "sides-contradict" in {f.code for f in wrong.findings if f.severity == "error"}


LABELS = """FRONT
Work to 20 cm, ending with a right side row. 18 sts.
Shape shoulder
1st row (wrong side). Cast off 6 sts, P. to end.
2nd row (right side). K. to end.
3rd row (wrong side). Cast off 6 sts, P. to end.
4th row (right side). K. to end.
5th row (wrong side). Cast off rem 6 sts.
"""


def test_a_label_with_its_side_in_words_is_one_with_its_row() -> None:
    report = rework(read_source(LABELS.encode()), Options()).report
    assert [p.status for p in report.passages] == ["rewritten"]
    assert check(LABELS, report.output).result == "same"
    told = split_document(
        read_source(b"BACK\n2nd row (right side). DS, K. to end. Cast off rem 6 sts.")
    )
    assert [s.text.strip() for s in told.sentences][-2:] == [
        "2nd row (right side). DS, K. to end.",
        "Cast off rem 6 sts.",
    ]
