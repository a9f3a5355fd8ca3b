"""Damaged instructions are read or refused; they never stop the program."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from rewriter import cli, rewrite
from tests.drafts import CORPUS

PASSAGES = sorted((CORPUS / "passages").glob("*.txt"))


def damaged(text: str, seed: int) -> str:
    """Drop, double and swap words of a text, the same for each seed."""
    chance = random.Random(seed)
    words = text.split(" ")
    for _ in range(max(2, len(words) // 8)):
        at = chance.randrange(len(words))
        kind = chance.randrange(3)
        if kind == 0:
            words[at] = ""
        elif kind == 1:
            words.insert(at, words[at])
        else:
            other = chance.randrange(len(words))
            words[at], words[other] = words[other], words[at]
    return " ".join(words)


@pytest.mark.parametrize("path", PASSAGES, ids=lambda p: p.stem)
def test_damage_never_raises_and_what_is_not_rewritten_stays(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    for seed in range(3):
        broken = damaged(text, seed)
        report = rewrite(broken)
        if not report.edits:
            assert report.output == broken


def test_a_fault_of_its_own_ends_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    def fail(*_: object) -> None:
        raise IndexError("far away")

    draft = tmp_path / "draft.txt"
    draft.write_text("BACK\n", encoding="utf-8")
    monkeypatch.setattr("rewriter.pipeline.rewrite_text", fail)
    assert cli.main(["rewrite", str(draft)]) == 2
    assert capsys.readouterr().err.startswith(
        "slopewise: a fault of its own stopped it (IndexError"
    )
