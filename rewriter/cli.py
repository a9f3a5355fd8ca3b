"""The `slopewise` command. Heavy modules are imported inside the commands that need them."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from rewriter._version import __version__
from rewriter.options import JOINS, KINDS, TURNS, Options

if TYPE_CHECKING:
    from rewriter.report import Report

DONE, OPEN, UNUSABLE = 0, 1, 2
"""Exit status: all rewritten or nothing to do; something left or asked; input or usage unusable."""


class _Usage(Exception):
    """What was asked cannot be done; the message says what to do instead."""


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="slopewise",
        description="Turn stepped shoulder bind-offs of a knitting pattern into short rows, "
        "without changing the fabric.",
        epilog="Exit status: 0 everything rewritten and verified, or nothing to do; 1 a passage was "
        "left or needs an answer; 2 the input cannot be read, or wrong usage.",
    )
    parser.add_argument("--version", action="version", version=f"slopewise {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    read = commands.add_parser("read", help="say what is understood of a draft")
    _add_draft(read)
    _add_assume(read)
    read.add_argument(
        "--report", choices=("text", "json"), default="text", help="form of the report"
    )

    rewrite = commands.add_parser("rewrite", help="write the revised draft")
    _add_draft(rewrite)
    rewrite.add_argument("-o", "--output", metavar="OUT", help="file to write (default: screen)")
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
    _add_assume(rewrite)
    rewrite.add_argument(
        "--report", choices=("text", "json"), help="write a report instead of the revised draft"
    )
    rewrite.add_argument("--diff", action="store_true", help="write the changes as a unified diff")

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
        "--report", choices=("text", "json"), default="text", help="form of the report"
    )

    schema = commands.add_parser("schema", help="write the JSON Schema of a report")
    schema.add_argument(
        "model",
        nargs="?",
        choices=("report", "comparison"),
        default="report",
        help="of a reading or rewriting (default), or of a check",
    )
    return parser


def _add_draft(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "draft", metavar="DRAFT", help="a text or Markdown file; - for standard input"
    )


def _add_assume(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--assume",
        action="append",
        default=[],
        metavar="NAME=ANSWER",
        help="answer a question: first-side=RS, kind=shoulder, or for one passage "
        "back/shoulder/1:first-side=WS",
    )


def main(arguments: list[str] | None = None) -> int:
    """Run the command and return its exit status."""
    args = _parser().parse_args(arguments)
    try:
        if args.command == "schema":
            return _schema(args.model)
        if args.command == "check":
            return _check(args)
        if args.command == "read":
            return _read(args)
        return _rewrite(args)
    except _Usage as error:
        print(f"slopewise: {error}", file=sys.stderr)
        return UNUSABLE
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except Exception as fault:  # a fault of the program's own must not bury the user in its inside
        print(
            f"slopewise: a fault of its own stopped it ({type(fault).__name__}: {fault}); nothing was "
            "written. Please report it with the draft, or the paragraph it happens with.",
            file=sys.stderr,
        )
        return UNUSABLE


def _bytes_of(draft: str) -> tuple[bytes, str]:
    if draft == "-":
        return sys.stdin.buffer.read(), "-"
    path = Path(draft)
    try:
        return path.read_bytes(), path.name
    except FileNotFoundError:
        raise _Usage(f"{draft}: there is no such file") from None
    except IsADirectoryError:
        raise _Usage(f"{draft}: this is a folder; name one draft") from None
    except OSError as error:
        raise _Usage(f"{draft}: cannot be read ({error.strerror})") from None


_ANSWERS = {"first-side": ("RS", "WS"), "kind": ("shoulder", "other")}


def _assumed(pairs: list[str]) -> dict[str, str]:
    out: dict[str, str] = {}
    for pair in pairs:
        name, equals, answer = pair.partition("=")
        choices = _ANSWERS.get(name.rpartition(":")[2])
        if not equals or choices is None or answer not in choices:
            known = "; ".join(f"{n}={'|'.join(a)}" for n, a in _ANSWERS.items())
            raise _Usage(f"--assume {pair}: not an answer known here ({known})")
        out[name] = answer
    return out


def _options(args: argparse.Namespace) -> Options:
    kinds = tuple(k.strip() for k in args.kinds.split(",") if k.strip())
    unknown = [k for k in kinds if k not in KINDS]
    if unknown or not kinds:
        raise _Usage(f"--kinds {args.kinds}: the kinds are {', '.join(KINDS)}")
    if args.exact_live and args.shoulders == "sewn":
        raise _Usage(
            "--exact-live is for shoulders kept live: add --shoulders three-needle, graft or held"
        )
    return Options(
        turn=args.turn,
        shoulders=args.shoulders,
        kinds=kinds,
        spelling=args.spelling,
        markers=not args.no_markers,
        respace=args.respace,
        exact_live=args.exact_live,
        assume=_assumed(args.assume),
    )


def _schema(model: str) -> int:
    import json

    from rewriter.comparison import Comparison
    from rewriter.report import Report

    chosen = Comparison if model == "comparison" else Report
    print(json.dumps(chosen.model_json_schema(by_alias=True), indent=2))
    return DONE


def _check(args: argparse.Namespace) -> int:
    from rewriter.checking import check_texts
    from rewriter.checkwords import comparison_text
    from rewriter.source import UnreadableDraft, read_source

    if args.original == args.revised == "-":
        raise _Usage("only one of the two texts can come from standard input")
    try:
        original, revised = (read_source(*_bytes_of(d)) for d in (args.original, args.revised))
    except UnreadableDraft as error:
        raise _Usage(str(error)) from None
    found = check_texts(original, revised)
    if args.report == "json":
        _write(found.to_json() + "\n")
    else:
        _write(comparison_text(found, original, revised))
    return OPEN if found.result == "differs" else DONE


def _read(args: argparse.Namespace) -> int:
    from rewriter.pipeline import read_text
    from rewriter.render import show_reading
    from rewriter.source import UnreadableDraft, read_source

    data, name = _bytes_of(args.draft)
    try:
        source = read_source(data, name)
    except UnreadableDraft as error:
        raise _Usage(str(error)) from None
    report = read_text(source, Options(assume=_assumed(args.assume)))
    if args.report == "json":
        _write(report.to_json() + "\n")
    else:
        show_reading(report, source)
    return status_of(report)


def _rewrite(args: argparse.Namespace) -> int:
    from rewriter.edits import unified
    from rewriter.pipeline import rewrite_bytes
    from rewriter.render import describe
    from rewriter.source import UnreadableDraft, read_source

    options = _options(args)
    data, name = _bytes_of(args.draft)
    try:
        report, revised = rewrite_bytes(data, name, options)
        source = read_source(data, name)
    except UnreadableDraft as error:
        raise _Usage(str(error)) from None
    if args.output:
        _write_file(Path(args.output), Path(args.draft), revised)
    if args.report == "json":
        _write(report.to_json() + "\n")
    elif args.report == "text":
        _write(describe(report, source))
    elif args.diff:
        _write(unified(source.text, report.output, name))
    elif not args.output:
        sys.stdout.buffer.write(revised)
        sys.stdout.buffer.flush()
    if args.report != "text":
        print(describe(report, source, brief=True), file=sys.stderr, end="")
    return status_of(report)


def _write(text: str) -> None:
    """Write text with its own line ends."""
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def _write_file(out: Path, draft: Path, revised: bytes) -> None:
    """Write the revised draft beside its place and move it there; the draft is never overwritten."""
    import tempfile

    if str(draft) != "-" and out.exists() and out.samefile(draft):
        raise _Usage(f"{out}: this is the draft itself; name another file to write")
    temporary = None
    try:
        with tempfile.NamedTemporaryFile(dir=out.parent, delete=False) as file:
            temporary = Path(file.name)
            file.write(revised)
        mask = os.umask(0)
        os.umask(mask)
        temporary.chmod(0o666 & ~mask)
        temporary.replace(out)
    except OSError as error:
        if temporary is not None:
            temporary.unlink(missing_ok=True)
        raise _Usage(f"{out}: cannot be written ({error.strerror})") from None


def status_of(report: Report) -> int:
    """Return the exit status a report stands for."""
    from rewriter.pipeline import CONVERTIBLE

    kinds = set(report.options.kinds)
    open_ones = [
        p
        for p in report.passages
        if p.status == "question"
        or (p.status == "left" and p.kind in kinds and p.reason != CONVERTIBLE)
    ]
    return OPEN if open_ones else DONE
