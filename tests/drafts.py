"""The synthetic drafts with the truth they were made from."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass, field
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from rewriter.formats import open_draft
from rewriter.formats.outcome import write_revised
from rewriter.options import JOINS, TURNS, Options, Shoulders, Turn
from rewriter.pipeline import Rework, rework, rewrite_text
from rewriter.report import Report

CORPUS = Path(__file__).parent.parent / "corpus_synthetic"


@dataclass(frozen=True)
class SyntheticDraft:
    """A draft of the corpus."""

    path: Path
    truth: dict[str, Any]

    @property
    def name(self) -> str:
        """File name without ending: the id of its tests."""
        return self.path.stem

    @property
    def data(self) -> bytes:
        """The draft as bytes."""
        return self.path.read_bytes()


@cache
def all_drafts() -> tuple[SyntheticDraft, ...]:
    """Return every draft of the corpus, sorted by name; never an empty tuple."""
    out = []
    for truth in sorted(CORPUS.glob("*/*.truth.json")):
        stem = truth.name.removesuffix(".truth.json")
        (path,) = [p for p in truth.parent.glob(f"{stem}.*") if p.suffix in (".md", ".txt")]
        out.append(SyntheticDraft(path, json.loads(truth.read_text(encoding="utf-8"))))
    assert len(out) >= 84, "the corpus is not complete"
    return tuple(out)


SWEEP = bool(os.environ.get("SWEEP"))
"""Every draft has every turning method with every join, which else come in turn (`make sweep`)."""


@cache
def _numbers() -> dict[Path, int]:
    """Return the number of each draft in its folder: drafts that stand together take options in turn."""
    folders: dict[Path, list[Path]] = {}
    for path in sorted(CORPUS.glob("*/*")):
        if path.suffix in (".md", ".txt"):
            folders.setdefault(path.parent, []).append(path)
    return {path: number for paths in folders.values() for number, path in enumerate(paths)}


def joins_with(path: Path, turn: Turn) -> tuple[Shoulders, ...]:
    """Return the joins that a draft is rewritten with beside a turning method.

    It is one, in turn: a draft with its five turning methods has every join, and of four drafts that
    stand together each turning method has every join. In a sweep it is all of them.
    """
    if SWEEP:
        return JOINS
    return (JOINS[(TURNS.index(turn) + _numbers()[path]) % len(JOINS)],)


def other_options(path: Path) -> tuple[Options, ...]:
    """Return the options beside the usual ones: a turning method with a join, a pair a draft in turn.

    Nineteen drafts that stand together have all pairs. In a sweep a draft has all of them by itself.
    """
    usual = Options()
    pairs = [Options(turn=t, shoulders=j) for t in TURNS for j in JOINS]
    others = [p for p in pairs if (p.turn, p.shoulders) != (usual.turn, usual.shoulders)]
    return tuple(others) if SWEEP else (others[_numbers()[path] * 4 % len(others)],)


@dataclass(frozen=True)
class _Wish:
    """A draft and the options it is rewritten with, told apart by their words."""

    path: Path
    options: Options = field(compare=False)
    told: str


def rewritten(path: Path, options: Options | None = None) -> tuple[Report, bytes]:
    """Return a draft of the corpus rewritten; what was made last is kept for the tests that follow."""
    return _rewritten(_wish(path, options))


def reworked(path: Path, options: Options | None = None) -> Rework:
    """Return a rewriting of a draft into short rows with all that it was made from, likewise kept."""
    return _reworked(_wish(path, options))


def _wish(path: Path, options: Options | None) -> _Wish:
    options = options or Options()
    return _Wish(path, options, repr(options))


@lru_cache(maxsize=64)
def _rewritten(wish: _Wish) -> tuple[Report, bytes]:
    draft = open_draft(wish.path.read_bytes(), wish.path.name)
    if wish.options.to == "steps":
        report = rewrite_text(draft.source, wish.options)
    else:
        report = _reworked(wish).report
    return report, write_revised(draft, report, None, "tracked", "")


@lru_cache(maxsize=64)
def _reworked(wish: _Wish) -> Rework:
    return rework(open_draft(wish.path.read_bytes(), wish.path.name).source, wish.options)
