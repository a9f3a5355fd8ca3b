"""The command as its users meet it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from rewriter import rewrite
from rewriter.cli import main
from rewriter.report import Report
from tests.drafts import SWEEP, SyntheticDraft, all_drafts

DRAFT = """BACK
Work in st st until armholes measure 20 cm, ending with a WS row.
Shape shoulders
Cast off 8 sts at beg of next 6 rows. Cast off rem 28 sts.
"""


@pytest.fixture
def draft(tmp_path: Path) -> Path:
    path = tmp_path / "draft.txt"
    path.write_bytes(DRAFT.encode())
    return path


def run(*arguments: str, data: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "rewriter", *arguments], input=data, capture_output=True, check=False
    )


def test_rewrite_writes_the_revised_draft_to_standard_output(draft: Path) -> None:
    done = run("rewrite", str(draft))
    assert done.returncode == 0
    assert b"ending with a RS row" in done.stdout
    assert b"rewritten and verified" in done.stderr
    assert draft.read_bytes() == DRAFT.encode()


def test_a_dash_reads_standard_input() -> None:
    assert b"to last 8 sts" in run("rewrite", "-", data=DRAFT.encode()).stdout


def test_output_goes_to_the_file_named_and_never_over_the_draft(
    draft: Path, tmp_path: Path
) -> None:
    out = tmp_path / "new.txt"
    assert main(["rewrite", str(draft), "-o", str(out)]) == 0
    assert "ending with a RS row" in out.read_text()
    assert main(["rewrite", str(draft), "-o", str(draft)]) == 2
    assert draft.read_bytes() == DRAFT.encode()


def test_the_json_report_is_the_model(draft: Path) -> None:
    data = json.loads(run("rewrite", str(draft), "--report", "json").stdout)
    assert data["schema"] == "slopewise/report/1"
    report = Report.model_validate(data)
    assert report.passages[0].verification.result == "same"
    turns = report.passages[0].edges[0].turns[0]
    assert [(t.row, t.side, t.unworked) for t in turns] == [(-1, "WS", 8), (1, "WS", 16)]
    for edit in report.edits:
        assert edit.span[0] <= edit.span[1] <= len(DRAFT)


def test_the_schema_is_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == 0
    assert json.loads(capsys.readouterr().out)["title"] == "Report"


def test_the_diff_shows_the_lead_in(draft: Path) -> None:
    out = run("rewrite", str(draft), "--diff").stdout.decode()
    assert "-Work in st st until armholes measure 20 cm, ending with a WS row." in out
    assert "+Work in st st until armholes measure 20 cm, ending with a RS row." in out


def test_read_says_what_is_understood(draft: Path) -> None:
    done = run("read", str(draft))
    text = done.stdout.decode()
    assert done.returncode == 0
    assert "8 · 8 · 8 ‖ 28 ‖ 8 · 8 · 8" in text
    assert "use rewrite" in text
    reading = json.loads(run("read", str(draft), "--report", "json").stdout)
    assert reading["edits"] == []
    assert reading["output"] == DRAFT


def test_an_open_question_has_status_1(tmp_path: Path) -> None:
    path = tmp_path / "odd.txt"
    path.write_text(DRAFT.replace("6 rows", "5 rows"))
    assert main(["rewrite", str(path), "-o", str(tmp_path / "out.txt")]) == 1


def test_an_answer_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "open.txt"
    path.write_text(DRAFT.replace(", ending with a WS row", ""))
    done = run("rewrite", str(path), "--assume", "first-side=WS")
    assert b"Next row (right side): Knit to last 8 sts" in done.stdout


def test_armholes_left_as_they_should_be_do_not_count(tmp_path: Path) -> None:
    path = tmp_path / "armhole.txt"
    path.write_text(
        "BACK\nShape armholes\nCast off 5 sts at beg of next 2 rows. 76 sts.\n" + DRAFT[5:]
    )
    assert main(["rewrite", str(path), "-o", str(tmp_path / "out.txt")]) == 0


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
def test_encoding_and_line_ends_are_kept(tmp_path: Path, encoding: str, newline: str) -> None:
    text = DRAFT.replace("20 cm", "20½ cm – or “more”").replace("\n", newline)
    path = tmp_path / "draft.txt"
    path.write_bytes(text.encode(encoding))
    out = tmp_path / "out.txt"
    assert main(["rewrite", str(path), "-o", str(out)]) == 0
    revised = out.read_bytes().decode(encoding)
    assert "ending with a RS row" in revised
    assert revised.replace(newline, "").count("\n") == 0
    assert revised.replace(newline, "").count("\r") == 0


def test_importing_the_package_and_asking_for_help_imports_nothing_heavy() -> None:
    heavy = ("lark", "pydantic", "rich", "regex")
    code = f"import rewriter, rewriter.cli, sys; print([m for m in {heavy} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize(
    ("number", "draft"), list(enumerate(all_drafts())), ids=[d.name for d in all_drafts()]
)
def test_cut_doubled_and_shuffled_drafts_never_raise(number: int, draft: SyntheticDraft) -> None:
    """Two kinds of damage a draft, in turn."""
    text = draft.data.decode("utf-8")
    third = len(text) // 3 + number % 7
    kinds = (text[third:], text[:third], text[third : 2 * third] * 2, text[::-1][:400] + text)
    for damaged in kinds if SWEEP else kinds[number % 2 :: 2]:
        report = rewrite(damaged)
        for passage in report.passages:
            if passage.status == "rewritten":
                assert passage.verification.result in ("same", "within-one-row")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="a system without named pipes")
def test_a_pipe_or_device_is_written_to_not_replaced(draft: Path, tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with ThreadPoolExecutor(1) as reader:
        told = reader.submit(pipe.read_text)
        assert main(["rewrite", str(draft), "-o", str(pipe)]) == 0
        assert "ending with a RS row" in told.result(timeout=20)
    assert pipe.is_fifo()
