"""The command `slopewise worksheet`."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from rewriter.options import Options

if TYPE_CHECKING:
    from rewriter.report import Report
    from rewriter.spans import SourceText


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what belongs to a worksheet alone; the options of a rewriting are added by the caller."""
    parser.add_argument("--size", metavar="SIZE", help="the size to knit, as the draft names it")
    parser.add_argument(
        "-o", "--output", required=True, metavar="OUT", help="file to write: .html or .pdf"
    )
    parser.add_argument(
        "--paper", choices=("a4", "letter"), default="a4", help="paper to print on (default: a4)"
    )
    parser.add_argument(
        "--piece", metavar="PIECE", help="back, left-front …: only that piece (default: all)"
    )
    parser.add_argument(
        "--practice",
        action="store_true",
        help="a swatch of 30 to 40 sts with the same steps in small, for learning the turns",
    )
    parser.set_defaults(to="short-rows")


@dataclass(frozen=True)
class Sheet:
    """A worksheet as the bytes of a file, with the report it rests on."""

    data: bytes
    report: Report
    missing: tuple[str, ...]
    """What has no rows on it, with the reasons."""


def make(args: argparse.Namespace, source: SourceText, options: Options) -> Sheet:
    """Return the worksheet that is asked for; raises NoSheet where it cannot be made."""
    from rewriter.pipeline import rework
    from rewriter.practice import practice_sheet
    from rewriter.sizes import UnknownSize
    from rewriter.worksheet import worksheet
    from rewriter.worksheetcharts import charts_of
    from rewriter.worksheetmodel import NoSheet
    from rewriter.worksheetpage import worksheet_page, worksheet_pdf

    ending = Path(args.output).suffix.casefold()
    if ending not in (".html", ".htm", ".pdf"):
        raise NoSheet(
            f"{args.output}: a worksheet is written as .html or .pdf; let the name end so"
        )
    if args.practice and args.piece:
        raise NoSheet("--practice is one swatch for all pieces: leave out --piece")
    work = rework(source, options)
    try:
        size = work.draft.sizes.index_of(args.size)
    except UnknownSize as error:
        raise NoSheet(str(error)) from None
    if args.practice:
        sheet = practice_sheet(work, size, options)
    else:
        sheet = worksheet(work, size, options, args.piece)
    page = worksheet_page(sheet, args.paper, charts_of(sheet, work))
    data = worksheet_pdf(page) if ending == ".pdf" else page.encode("utf-8")
    untold = (f"{p.title}: {p.about}" for p in sheet.pieces if p.untold)
    return Sheet(data, work.report, (*sheet.missing, *untold))
