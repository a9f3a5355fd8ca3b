"""Take documents through the options of `slopewise rewrite`, and look at the results in a word processor.

    python -m tests.office [--out FOLDER] [--only WORD] [--every N] [--pages N]

Every result is opened in LibreOffice (a process of its own, one at a time, started anew where it ends), its
changes are accepted and refused there, and its pages printed. Held are:

- refused, the words and every page are those of the draft;
- accepted, the words are the program's own revised text, and words and pages those of the changes made
  in earnest;
- of the changes made in earnest, a page whose words are the draft's looks as it did;
- somebody else's comments and pending changes are there as they were.

Needs `soffice`, `pdftoppm`, `pdftotext`, and a Python with LibreOffice's `uno` (packages
libreoffice-writer, python3-uno, poppler-utils).
"""

from __future__ import annotations

import argparse
import contextlib
import io
import sys
import tempfile
from pathlib import Path

from rewriter.cli import main as slopewise
from tests.booklet import booklet
from tests.office.combinations import AXES, TO_STEPS, arguments, pairwise
from tests.office.judging import Case, judge
from tests.office.office import as_odt, missing_tools, opened
from tests.office.returned import returned


def main() -> int:
    """Run the sweep; the exit status is 1 where a document is not as it should be."""
    parser = argparse.ArgumentParser(prog="python -m tests.office")
    parser.add_argument("--out", type=Path, help="folder to keep the documents and pages in")
    parser.add_argument("--only", default="", help="only documents whose name holds this word")
    parser.add_argument("--every", type=int, default=1, help="every so many of the combinations")
    parser.add_argument("--pages", type=int, default=6, help="look at the pages of every so many")
    asked = parser.parse_args()
    if why := missing_tools():
        raise SystemExit(why)
    with contextlib.ExitStack() as stack:
        kept = asked.out or Path(stack.enter_context(tempfile.TemporaryDirectory()))
        kept.mkdir(parents=True, exist_ok=True)
        faults = 0
        for draft in _drafts(kept, asked.only):
            cases = [*_forward(draft, asked.every), *_back(draft, asked.every)]
            for number, case in enumerate(cases):
                case.pages = number % asked.pages == 0
            found = [f for case in cases for f in case.faults]
            found += judge(cases, opened([job for case in cases for job in case.jobs()]))
            print(f"{draft.name}: {len(cases)} combinations, {len(found)} faults", flush=True)
            for fault in found:
                print(f"  {fault}", flush=True)
            faults += len(found)
    return int(faults > 0)


def _drafts(folder: Path, only: str) -> list[Path]:
    out = []
    for name, data in (
        ("booklet.odt", booklet()),
        ("booklet.docx", booklet()),
        ("returned.odt", returned(pending_rows=False)),  # ODT keeps no change within another
        ("returned.docx", returned()),
    ):
        draft = (folder / name).with_suffix(".docx")
        draft.write_bytes(data)
        out.append(as_odt(draft) if name.endswith(".odt") else draft)
    return [d for d in out if only in d.name]


def _forward(draft: Path, every: int) -> list[Case]:
    out = []
    for number, one in enumerate(pairwise(AXES)[::every]):
        stem = f"{draft.stem}-{draft.suffix[1:]}-{number:02}"
        out.append(_written(draft, stem, arguments(one)))
    return out


def _back(draft: Path, every: int) -> list[Case]:
    """Turn short rows back into steps, in a document that has somebody's changes pending still."""
    out = []
    for number, one in enumerate(pairwise(TO_STEPS)[::every]):
        stem = f"{draft.stem}-{draft.suffix[1:]}-back-{number:02}"
        sloped = draft.with_name(f"{stem}-source{draft.suffix}")
        _run(draft, sloped, [*arguments(one), "--changes=applied"])
        out.append(_written(sloped, stem, ["--to=steps", *arguments(one)[2:3]]))
    return out


def _written(draft: Path, stem: str, options: list[str]) -> Case:
    case = Case(
        " ".join((stem, *options)),
        draft,
        draft.with_name(f"{stem}-tracked{draft.suffix}"),
        draft.with_name(f"{stem}-applied{draft.suffix}"),
        draft.with_name(f"{stem}.md"),
    )
    for out, more in (
        (case.tracked, ["--changes=tracked"]), (case.applied, ["--changes=applied"]), (case.text, []),
    ):  # fmt: skip
        if said := _run(draft, out, [*options, *more]):
            case.faults.append(f"{case.name}: {said}")
    return case


def _run(draft: Path, out: Path, options: list[str]) -> str:
    """Run the command; return what it said where it wrote nothing."""
    said = io.StringIO()
    with contextlib.redirect_stderr(said):
        status = slopewise(["rewrite", str(draft), "-o", str(out), *options])
    return said.getvalue() if status == 2 or not out.exists() else ""


if __name__ == "__main__":
    sys.exit(main())
