"""Worksheets of drafts, for tests."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from rewriter.cli import main
from rewriter.options import Options, Shoulders, Turn
from rewriter.pipeline import Rework
from rewriter.worksheet import worksheet
from rewriter.worksheetmodel import Worksheet
from tests.drafts import CORPUS, reworked

SAMPLE = Path(str(files("rewriter.samples") / "tarn-pullover.md"))
DRAFTS = [
    SAMPLE,
    *(
        CORPUS / name
        for name in (
            "drafts/uk-lonning-cable-sweater.md",  # sizes with different numbers of steps
            "drafts/us-depot-street-jacket.txt",  # no side told for the back
            "drafts/us-plum-jacket.md",  # garter stitch
            "drafts/uk-first-cardigan.md",  # both fronts in words of their own
            "forms/64-moss-edge-cardigan.md",  # divided back
        )
    ),
]
PLAIN = Options()
WAYS: list[tuple[Turn, Shoulders]] = [
    ("german", "sewn"),
    ("wrap", "three-needle"),
    ("japanese", "graft"),
    ("shadow", "held"),
    ("yarn-over", "sewn"),
]


def work_of(path: Path, options: Options) -> Rework:
    return reworked(path, options)


def sheet_of(path: Path, options: Options = PLAIN, size: int = -1) -> Worksheet:
    work = work_of(path, options)
    return worksheet(work, size % len(work.draft.sizes), options)


def run(*arguments: str) -> int:
    """Run the command and return its exit status."""
    return main(["worksheet", *arguments])
