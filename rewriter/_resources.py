"""Find the grammar data, in an installed package as well as in a plain checkout."""

from __future__ import annotations

import sys
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


def beside_byte_code(name: str) -> Path | None:
    """Return where something that takes long to make is kept for the next run; None where nothing is.

    That is where Python keeps the byte code of this package, for the same version of it. As with byte
    code, what is there is read even where Python is told to write none.
    """
    code = __spec__.cached if __spec__ is not None else None
    if code is None:
        return None
    place = Path(code).with_name(f"{name}.{sys.implementation.cache_tag}.kept")
    return None if sys.dont_write_bytecode and not place.is_file() else place
