"""The drafts of a folder and their mirror; files written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from fnmatch import fnmatch
from pathlib import Path
from typing import BinaryIO

from rewriter.bulk.model import BulkError, Job

KINDS = (
    ".txt",
    ".text",
    ".md",
    ".markdown",
    ".docx",
    ".docm",
    ".odt",
    ".html",
    ".htm",
    ".xhtml",
    ".pdf",
)
_HALF = ".half-written-"
OWN = "_slopewise"
"""Folder within the output that holds manifest, summary and redlines."""


def check_folders(folder: Path, out: Path) -> None:
    """Refuse what would harm a source or files of somebody else; raises BulkError."""
    if not folder.is_dir():
        raise BulkError(f"{folder}: there is no such folder")
    source, target = folder.resolve(), out.resolve()
    if source == target or source in target.parents or target in source.parents:
        raise BulkError(
            f"{out}: the output must lie outside the folder of the drafts (and not around it), so that "
            "no source can be overwritten"
        )
    if out.exists() and not out.is_dir():
        raise BulkError(f"{out}: this is a file; name a folder for the output")
    if out.is_dir() and any(out.iterdir()) and not (out / OWN).is_dir():
        raise BulkError(
            f"{out}: this folder has files that no run made; name an empty folder, or a new one"
        )


def jobs_of(folder: Path, out: Path, globs: Sequence[str]) -> Iterator[Job]:
    """Yield the drafts below a folder in order, those that match one of `globs` if there are any."""
    for path in _walk(folder):
        below = path.relative_to(folder).as_posix()
        if path.suffix.lower() not in KINDS or path.name.startswith(("~$", ".")):
            continue
        if globs and not any(fnmatch(below, g) or fnmatch(path.name, g) for g in globs):
            continue
        # a PDF is read only: its revised text is Markdown
        named = f"{below}.md" if path.suffix.lower() == ".pdf" else below
        yield Job(
            below,
            str(path.resolve()),
            str(out / named),
            str(out / OWN / "redlines" / f"{below}.html"),
        )


def _walk(folder: Path) -> Iterator[Path]:
    try:
        entries = sorted(os.scandir(folder), key=lambda e: e.name)
    except OSError as error:
        raise BulkError(f"{folder}: cannot be read ({error.strerror})") from None
    for entry in entries:
        if entry.is_dir(follow_symlinks=False):
            yield from _walk(Path(entry.path))
        elif entry.is_file():
            yield Path(entry.path)


def write_whole(path: Path, data: bytes) -> None:
    """Write a file whole or not at all; raises OSError."""
    with open_whole(path) as file:
        file.write(data)


@contextmanager
def open_whole(path: Path) -> Iterator[BinaryIO]:
    """Open a file to be written beside its place, put on the disk for certain, and moved there.

    Raises OSError; whatever is raised meanwhile leaves nothing behind.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    descriptor, name = tempfile.mkstemp(dir=path.parent, prefix=_HALF)
    temporary = Path(name)
    try:
        with os.fdopen(descriptor, "wb") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(0o644)
        temporary.replace(path)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)


def sweep(out: Path) -> None:
    """Remove what a run that was killed left half written."""
    for path in out.rglob(f"{_HALF}*"):
        path.unlink(missing_ok=True)
