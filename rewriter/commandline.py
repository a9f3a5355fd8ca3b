"""What the `slopewise` command takes: its commands, options and their help."""

from __future__ import annotations

import argparse

from rewriter._version import __version__
from rewriter.bulk.command import add_arguments as add_bulk
from rewriter.charts.command import add_arguments as add_chart
from rewriter.options import JOINS, KINDS, TARGETS, TURNS
from rewriter.web.command import add_arguments as add_serve
from rewriter.worksheetcommand import add_arguments as add_worksheet


def command_line() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="slopewise",
        description="Turn stepped shoulder bind-offs of a knitting pattern into short rows, "
        "without changing the fabric.",
        epilog="Exit status: 0 everything rewritten and verified, or nothing to do; 1 a passage was "
        "left or needs an answer; 2 the input cannot be read, or wrong usage.",
    )
    parser.add_argument("--version", action="version", version=f"slopewise {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    read = commands.add_parser(
        "read",
        help="say what is understood of a draft",
        epilog="On the sheet, the rows of a slope are counted from the first row that binds off to the "
        "last, and the row after it: two for each step, where steps are two rows apart. Its depth is that "
        "number of rows by the draft's own gauge. Behind its findings the sheet says what was compared "
        "and what was not.",
    )
    _add_draft(read)
    _add_assume(read)
    _add_questions(read)
    read.add_argument(
        "--report",
        choices=("text", "json", "html"),
        help="a technical editing sheet instead: stitch counts, sums, sides, slopes, lists, abbreviations "
        "for every size, as text, in the report as JSON, or as a page to print",
    )
    read.add_argument("-o", "--output", metavar="OUT", help="file to write (default: screen)")

    rewrite = commands.add_parser("rewrite", help="write the revised draft")
    _add_draft(rewrite)
    rewrite.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        help="file to write (default: screen); .md or .docx at its end asks for that format",
    )
    rewrite.add_argument(
        "--to",
        choices=TARGETS,
        default="short-rows",
        help="turn steps into short rows (default), or shoulders in short rows back into steps",
    )
    _add_options(rewrite)
    _add_assume(rewrite)
    _add_questions(rewrite)
    rewrite.add_argument(
        "--report", choices=("text", "json"), help="write a report instead of the revised draft"
    )
    rewrite.add_argument(
        "--diff",
        action="store_true",
        help="print the changes as a unified diff (on a terminal in colour, word by word); -o takes the text",
    )
    rewrite.add_argument(
        "--redline",
        metavar="OUT.html",
        help="write a page with every change and the reason beside it, to read or print",
    )
    rewrite.add_argument(
        "--changes",
        choices=("tracked", "applied"),
        default="tracked",
        help="in a document, mark the changes to be accepted or refused, with comments (default), or "
        "make them in earnest",
    )

    _add_author(rewrite)

    check = commands.add_parser(
        "check",
        help="compare a revised text with its original, stitch by stitch",
        epilog="Exit status: 0 same fabric; 1 it differs, or something cannot be compared; 2 an input "
        "cannot be read, or wrong usage.",
    )
    check.add_argument("original", metavar="ORIGINAL", help="the text with the stepped bind-offs")
    check.add_argument(
        "revised", metavar="REVISED", help="the text with the short rows; - for one of the two is "
        "standard input",
    )  # fmt: skip
    check.add_argument(
        "--report", choices=("text", "json"), help="form of the report (default: text)"
    )
    check.add_argument(
        "--diff",
        action="store_true",
        help="print what differs between the two texts as a unified diff (on a terminal in colour, word by "
        "word); what is amiss goes to standard error",
    )
    check.add_argument(
        "--redline",
        metavar="OUT.html",
        help="write a page with both texts as one, every change marked and the findings beside it",
    )

    many = commands.add_parser(
        "bulk",
        help="revise a folder of drafts into another folder",
        epilog="Exit status: 0 done; 1 a draft could not be read or worked on, or what --fail-on names "
        "was found; 2 the run cannot start or go on. A run that was stopped goes on where it was.",
    )
    add_bulk(many)
    _add_author(many)
    _add_options(many)
    _add_assume(many)

    drawn = commands.add_parser(
        "chart", help="draw the stepped edge and the sloped one of one size, with turns and markers"
    )
    _add_draft(drawn)
    add_chart(drawn)
    _add_options(drawn)
    _add_assume(drawn)

    page = commands.add_parser(
        "serve",
        help="open a page on this computer: paste a pattern, choose, read the changes, take them along",
        epilog="The page is for this computer alone; nothing is stored or sent anywhere. Ctrl-C stops it.",
    )
    add_serve(page)

    sheet = commands.add_parser(
        "worksheet",
        help="write one size row by row, with boxes to tick, to lie beside the knitting",
    )
    _add_draft(sheet)
    add_worksheet(sheet)
    _add_options(sheet)
    _add_assume(sheet)

    schema = commands.add_parser("schema", help="write the JSON Schema of a report")
    schema.add_argument(
        "model",
        nargs="?",
        choices=("report", "comparison", "sheet"),
        default="report",
        help="of a reading or rewriting (default), of a check, or of a technical editing sheet",
    )
    return parser


def _add_draft(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "draft",
        metavar="DRAFT",
        help="a text, Markdown, DOCX, ODT, HTML or PDF file; - for standard input",
    )


def _add_options(rewrite: argparse.ArgumentParser) -> None:
    """Add the options of every command that rewrites."""
    rewrite.add_argument(
        "--turn", choices=TURNS, default="german", help="turning method (default: german)"
    )
    rewrite.add_argument(
        "--shoulders",
        choices=JOINS,
        default="sewn",
        help="how the shoulders are finished (default: sewn, which changes least)",
    )
    rewrite.add_argument(
        "--kinds",
        default="shoulder",
        metavar="KIND[,KIND]",
        help=f"steps to convert: {', '.join(KINDS)} (default: shoulder)",
    )
    rewrite.add_argument(
        "--spelling",
        choices=("draft", "full"),
        default="draft",
        help="keep the draft's abbreviations, or spell every row out",
    )
    rewrite.add_argument("--no-markers", action="store_true", help="name no markers")
    rewrite.add_argument(
        "--respace",
        action="store_true",
        help="spread the sts of each shoulder evenly over the rows there are (changes the fabric; the "
        "report says by how much)",
    )
    rewrite.add_argument(
        "--exact-live",
        action="store_true",
        help="keep live shoulders of a piece with two edges at exactly the draft's rows; the yarn is cut "
        "between them (only with --shoulders three-needle, graft or held)",
    )


def _add_author(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--author",
        metavar="NAME",
        help="who signs tracked changes and comments in DOCX and ODT documents (default: Slopewise); "
        "comments in DOCX have the initials too",
    )


def _add_assume(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--assume",
        action="append",
        default=[],
        metavar="NAME=ANSWER",
        help="answer a question: first-side=RS, kind=shoulder, or for one passage "
        "back/shoulder/1:first-side=WS (all questions: --questions)",
    )


def _add_questions(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--questions",
        metavar="OUT.toml",
        help="write what must be answered to a file, each question with its place and choices",
    )
    parser.add_argument(
        "--answers",
        metavar="FILE",
        help="take the answers from such a file, filled in; they are matched by the words of each "
        "passage, so they serve a revised draft too",
    )
