"""What the tests of folders share: the command, a folder of drafts, and what a folder holds."""

from __future__ import annotations

import hashlib
import shutil
import sys
from pathlib import Path

from rewriter.cli import main
from tests.drafts import CORPUS

Tree = dict[str, str]
BULK = (sys.executable, "-m", "rewriter", "bulk", "--jobs", "2")


def tree(folder: Path) -> Tree:
    """Return the contents of a folder, by name; the manifest, which keeps times, is left out."""
    return {
        p.relative_to(folder).as_posix(): hashlib.sha256(p.read_bytes()).hexdigest()
        for p in sorted(folder.rglob("*"))
        if p.is_file() and "manifest.sqlite" not in p.name
    }


def many(folder: Path) -> None:
    """Write 64 short drafts into a folder."""
    folder.mkdir()
    for path in sorted((CORPUS / "cuttings").glob("*.txt"))[:64]:
        shutil.copy(path, folder)


def bulk(*words: object) -> int:
    """Run the command in this process; return its exit status."""
    return main(["bulk", *map(str, words), "--jobs", "2"])
