"""Compiled expressions are kept between runs; a file that is damaged or absent changes nothing."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
import regex as package

from rewriter import regex

CODE = """
import sys
import regex as package

from rewriter import regex
print(regex._PLACE is not None, len(regex._kept), bool(regex.compile("a(?:b|c)+d").fullmatch("abcbd")))
"""


def run(tmp_path: Path, **more: str) -> list[str]:
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    env |= {"PYTHONPYCACHEPREFIX": str(tmp_path), **more}
    done = subprocess.run(
        [sys.executable, "-c", CODE], env=env, capture_output=True, text=True, check=True
    )
    assert not done.stderr
    return done.stdout.split()


def test_expressions_are_kept_and_damage_is_no_fault(tmp_path: Path) -> None:
    assert run(tmp_path) == ["True", "0", "True"]
    assert run(tmp_path)[1:] != ["0", "True"]
    (kept,) = tmp_path.rglob("expressions-*.kept")
    kept.write_bytes(kept.read_bytes()[:20])
    assert run(tmp_path) == ["True", "0", "True"]


def test_nothing_is_kept_where_python_writes_no_byte_code(tmp_path: Path) -> None:
    assert run(tmp_path, PYTHONDONTWRITEBYTECODE="1") == ["False", "0", "True"]
    assert not [p for p in tmp_path.rglob("*") if p.is_file()]


@pytest.mark.parametrize("function", ["search", "match", "fullmatch"])
def test_functions_are_those_of_the_package(function: str) -> None:
    for text in ("ab", "xab", "abx"):
        ours = getattr(regex, function)("a(b)", text)
        theirs = getattr(package, function)("a(b)", text)
        assert (ours and ours.span(1)) == (theirs and theirs.span(1))


def test_words_of_a_draft_are_not_kept() -> None:
    before = len(regex._made)
    assert regex.compile_new("a word of a draft").search("a word of a draft")
    assert len(regex._made) == before
