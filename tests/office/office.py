"""The word processor as this project uses it: documents turned into ODT, opened, settled, printed."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

_PROCESSOR = Path(__file__).with_name("processor.py")
_RESOLUTION = "45"
"""Dots per inch of the pages compared."""
_NEAR = 1.5
"""Points: words nearer than this stand in one place."""
_EDGE = 160
"""Of 256 grey levels: less is the edge of a letter."""
_WORD = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)"[^>]*>([^<]*)</word>')


@dataclass(frozen=True)
class Job:
    """A document to open, what to do with its changes, and whether to print it."""

    file: Path
    settle: str
    printed: bool = False

    @property
    def pdf(self) -> Path:
        """Where its pages are printed to."""
        return self.file.with_name(f"{self.file.name}-{self.settle}.pdf")


@dataclass(frozen=True)
class Seen:
    """What the word processor says of a document."""

    error: str
    changes: int = 0
    comments: int = 0
    lines: tuple[str, ...] = ()


def missing_tools() -> str:
    """Return which programs the sweep needs and does not find, in words; "" where all are there."""
    packages = {
        "soffice": "libreoffice-writer", "pdftoppm": "poppler-utils", "pdftotext": "poppler-utils",
    }  # fmt: skip
    gone = [tool for tool in packages if shutil.which(tool) is None]
    wanted = sorted({packages[tool] for tool in gone})
    return f"{', '.join(gone)} not found: install {', '.join(wanted)}" if gone else ""


_ATTEMPTS = 2
"""How often a document is converted before that is given up."""


def as_odt(file: Path) -> Path:
    """Save a document as ODT with the word processor; raises SystemExit where it does not do it."""
    out = file.with_suffix(".odt")
    said = ""
    for _ in range(_ATTEMPTS):
        out.unlink(missing_ok=True)
        with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
            order = [
                "soffice", f"-env:UserInstallation=file://{profile}/profile", "--headless",
                "--convert-to", "odt", "--outdir", str(file.parent), str(file),
            ]  # fmt: skip
            try:
                run = subprocess.run(
                    order, capture_output=True, text=True, timeout=300, check=False
                )
            except subprocess.TimeoutExpired:
                said = "it did not come to an end"
                continue
        if run.returncode == 0 and out.exists():
            return out
        said = run.stderr.strip() or f"it ended with status {run.returncode}"
    raise SystemExit(f"LibreOffice does not save {file.name} as ODT: {said}")


def opened(jobs: Sequence[Job]) -> dict[tuple[Path, str], Seen]:
    """Open documents one after the other in the word processor; raises SystemExit where it does not start."""
    unique = {(j.file, j.settle): Job(j.file, j.settle, False) for j in jobs}
    unique |= {(j.file, j.settle): j for j in jobs if j.printed}
    told = "\n".join(
        json.dumps(
            {"file": str(j.file), "settle": j.settle, "pdf": str(j.pdf) if j.printed else ""}
        )
        for j in unique.values()
        if j.file.exists()
    )
    run = subprocess.run(
        [_python(), str(_PROCESSOR)], input=told, text=True, stdout=subprocess.PIPE, check=False
    )
    if run.returncode:
        raise SystemExit("the documents cannot be looked at without LibreOffice (see above)")
    out = {}
    for line in run.stdout.splitlines():
        said = json.loads(line)
        out[Path(said["file"]), said["settle"]] = Seen(
            said.get("error", ""),
            said.get("changes", 0),
            said.get("comments", 0),
            tuple(said.get("lines", ())),
        )
    gone = Seen("the word processor ended before or while it was open")
    return {key: out.get(key, gone) for key in unique}


@cache
def _python() -> str:
    """Return a Python that has the word processor's module."""
    for name in ("/usr/bin/python3", shutil.which("python3") or "python3"):
        if (
            subprocess.run([name, "-c", "import uno"], capture_output=True, check=False).returncode
            == 0
        ):
            return name
    raise SystemExit("no Python with LibreOffice's uno module is found: install python3-uno")


@dataclass(frozen=True)
class Page:
    """One page as printed: its words with their places in points, and its picture as grey levels."""

    placed: tuple[tuple[str, float, float], ...]
    picture: bytes

    @property
    def words(self) -> str:
        """Its words alone."""
        return " ".join(word for word, _, _ in self.placed)

    def looks_like(self, other: Page) -> bool:
        """Say whether words stand in the same places, and nothing else is unlike.

        Letters may move by a part of a point: that depends on how a line is cut into runs.
        """
        mine, theirs = self.picture, other.picture
        return (
            self.words == other.words
            and all(
                abs(a[1] - b[1]) < _NEAR and abs(a[2] - b[2]) < _NEAR
                for a, b in zip(self.placed, other.placed, strict=True)
            )
            and len(mine) == len(theirs)
            and (
                mine == theirs or all(abs(a - b) < _EDGE for a, b in zip(mine, theirs, strict=True))
            )
        )


@cache
def pages(pdf: Path) -> tuple[Page, ...]:
    """Return the pages of a printed document."""
    told = subprocess.run(
        ["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, text=True, check=True
    ).stdout
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run(
            ["pdftoppm", "-r", _RESOLUTION, "-gray", str(pdf), f"{folder}/page"], check=True
        )
        pictures = [p.read_bytes() for p in sorted(Path(folder).iterdir())]
    words = [
        tuple((m[3], float(m[1]), float(m[2])) for m in _WORD.finditer(page))
        for page in told.split("<page ")[1:]
    ]
    return tuple(Page(*both) for both in zip(words, pictures, strict=True))
