"""Find the grammar data, in an installed package as well as in a plain checkout."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path


def grammar_file(name: str) -> str:
    """Return the text of a file of the grammar folder; raises FileNotFoundError if it is absent."""
    for folder in (files("rewriter") / "grammar", Path(__file__).parent.parent / "grammar"):
        found: Traversable = folder / name
        if found.is_file():
            return found.read_text(encoding="utf-8")
    raise FileNotFoundError(f"the grammar data of Slopewise ({name}) are missing; reinstall it")
