"""What a technical editor meets at the desk: reports, sheets, checks and documents, in whole sentences."""

from __future__ import annotations

from pathlib import Path

import pytest

from rewriter.cli import main
from rewriter.options import Options
from rewriter.pipeline import rework
from rewriter.source import read_source
from rewriter.web.proofwords import proof_sentences

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
