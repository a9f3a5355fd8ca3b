"""The `slopewise` command. Heavy modules are imported inside the commands that need them."""

from __future__ import annotations

import argparse
import os
import sys
from datetime import UTC
from pathlib import Path
from typing import TYPE_CHECKING

from rewriter.bulk.command import bulk
from rewriter.commandfiles import Usage, author_of, bytes_of, write_file
from rewriter.commandline import command_line
from rewriter.options import KINDS, Options
from rewriter.web.command import run as serve

if TYPE_CHECKING:
    from rewriter.formats.carrier import DraftFile
    from rewriter.report import Report

DONE, OPEN, UNUSABLE = 0, 1, 2
"""Exit status: all rewritten or nothing to do; something left or asked; input or usage unusable."""


def main(arguments: list[str] | None = None) -> int:
    """Run the command and return its exit status."""
    args = command_line().parse_args(arguments)
    try:
        if args.command == "schema":
            return _schema(args.model)
        if args.command == "check":
            return _check(args)
        if args.command == "serve":
            return _serve(args)
        if args.command == "read":
            return _read(args)
        if args.command == "bulk":
            return _bulk(args)
        if args.command == "chart":
            return _chart(args)
        if args.command == "worksheet":
            return _worksheet(args)
        return _rewrite(args)
    except Usage as error:
        print(f"slopewise: {error}", file=sys.stderr)
        return UNUSABLE
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except Exception as fault:  # a fault of the program's own must not bury the user in its inside
        from rewriter.source import UnreadableDraft

        if isinstance(fault, UnreadableDraft):
            print(f"slopewise: {fault}", file=sys.stderr)
            return UNUSABLE
        print(
            f"slopewise: a fault of its own stopped it ({type(fault).__name__}: {fault}); nothing was "
            "written. Please report it with the draft, or the paragraph it happens with.",
            file=sys.stderr,
        )
        return UNUSABLE


def _assumed(pairs: list[str]) -> dict[str, str]:
    from rewriter.asks import ASKS, parsed_counts

    out: dict[str, str] = {}
    for pair in pairs:
        name, equals, answer = pair.partition("=")
        asked = ASKS.get(name.rpartition(":")[2])
        if asked is None or not equals or (asked.choices and answer not in asked.choices):
            known = "; ".join(f"{n}={'|'.join(a.choices) or '81(87:93)'}" for n, a in ASKS.items())
            raise Usage(f"--assume {pair}: not an answer known here ({known})")
        if asked.form and parsed_counts(answer) is None:
            raise Usage(f"--assume {pair}: not {asked.form}")
        out[name] = answer
    return out


def _options(args: argparse.Namespace) -> Options:
    kinds = tuple(k.strip() for k in args.kinds.split(",") if k.strip())
    unknown = [k for k in kinds if k not in KINDS]
    if unknown or not kinds:
        raise Usage(f"--kinds {args.kinds}: the kinds are {', '.join(KINDS)}")
    if args.to == "steps" and kinds != ("shoulder",):
        raise Usage(f"--kinds {args.kinds}: only shoulders are turned back into steps")
    if args.to == "steps" and (args.shoulders != "sewn" or args.exact_live or args.respace):
        raise Usage(
            "--to steps binds the shoulders off in the rows they have: leave out --shoulders, "
            "--exact-live and --respace"
        )
    if args.exact_live and args.shoulders == "sewn":
        raise Usage(
            "--exact-live is for shoulders kept live: add --shoulders three-needle, graft or held"
        )
    return Options(
        to=args.to,
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
    from rewriter.publicmodel import Model
    from rewriter.report import Report
    from rewriter.sheetmodel import Sheet

    models: dict[str, type[Model]] = {"report": Report, "comparison": Comparison, "sheet": Sheet}
    chosen = models[model]
    print(json.dumps(chosen.model_json_schema(by_alias=True), indent=2))
    return DONE


def _open(draft: str) -> DraftFile:
    from rewriter.formats import open_draft
    from rewriter.source import UnreadableDraft

    try:
        opened = open_draft(*bytes_of(draft))
    except UnreadableDraft as error:
        raise Usage(str(error)) from None
    if opened.notice:
        print(f"{draft}: {opened.notice}", file=sys.stderr)
    return opened


def _check(args: argparse.Namespace) -> int:
    from rewriter.checking import check_texts
    from rewriter.checkwords import RESULTS, comparison_text, finding_line

    if args.original == args.revised == "-":
        raise Usage("only one of the two texts can come from standard input")
    original, revised = (_open(d).source for d in (args.original, args.revised))
    found = check_texts(original, revised)
    texts = (revised, original) if found.swapped else (original, revised)
    if args.redline:
        from rewriter.checkredline import redline_of_check

        page = redline_of_check(found, *texts)
        out = Path(args.redline)
        if args.revised != "-" and out.exists() and out.samefile(args.revised):
            raise Usage(f"{out}: this is the revised text itself; name another file to write")
        write_file(out, Path(args.original), page.encode("utf-8"))
    if args.report == "json":
        _write(found.to_json() + "\n")
    elif args.report == "text" or not (args.redline or args.diff):
        _write(comparison_text(found, *texts))
    else:
        if args.diff:
            _write_diff(texts[0].text, texts[1].text, texts[0].name, texts[1].name)
        print(f"{args.redline or texts[1].name}: {RESULTS[found.result]}", file=sys.stderr)
        for finding in found.findings:
            if finding.severity != "remark":
                print(finding_line(finding, found, *texts), file=sys.stderr)
    return DONE if found.faultless and found.result != "not-compared" else OPEN


def _bulk(args: argparse.Namespace) -> int:
    from rewriter.bulk.model import BulkError

    args.to = "short-rows"
    try:
        return bulk(args, _options(args))
    except BulkError as error:
        raise Usage(str(error)) from None


def _chart(args: argparse.Namespace) -> int:
    from rewriter.charts.command import chart
    from rewriter.charts.file import NotDrawn

    try:
        picture = chart(args, _open(args.draft).source, _options(args))
    except NotDrawn as error:
        raise Usage(str(error)) from None
    if args.output:
        write_file(Path(args.output), Path(args.draft), picture.data)
    else:
        sys.stdout.buffer.write(picture.data)
        sys.stdout.buffer.flush()
    if picture.said:
        print(picture.said, file=sys.stderr)
    return status_of(picture.report)


def _serve(args: argparse.Namespace) -> int:
    serve(args)
    return DONE


def _worksheet(args: argparse.Namespace) -> int:
    from rewriter.worksheetcommand import make
    from rewriter.worksheetmodel import NoSheet

    options = _options(args)
    try:
        sheet = make(args, _open(args.draft).source, options)
    except NoSheet as error:
        raise Usage(str(error)) from None
    write_file(Path(args.output), Path(args.draft), sheet.data)
    for told in sheet.missing:
        print(told, file=sys.stderr)
    return status_of(sheet.report)


def _read(args: argparse.Namespace) -> int:
    from rewriter.asking import Asking
    from rewriter.pipeline import read_text
    from rewriter.render import reading_text, show_reading

    source = _open(args.draft).source
    asking = Asking(args, source)
    report = asking.run(read_text, Options(assume=_assumed(args.assume)))
    asking.write(report)
    sheet = report.sheet
    if args.report is None and not args.output:
        show_reading(report, source)
        return status_of(report)
    if args.report == "json":
        told = report.to_json() + "\n"
    elif args.report == "html" and sheet is not None:
        from rewriter.sheetpage import sheet_page

        told = sheet_page(sheet, source.name)
    elif args.report == "text" and sheet is not None:
        from rewriter.sheettext import sheet_text

        told = sheet_text(sheet, source.name)
    else:
        told = reading_text(report, source)
    if args.output:
        write_file(Path(args.output), Path(args.draft), told.encode("utf-8"))
    else:
        _write(told)
    return status_of(report)


def _rewrite(args: argparse.Namespace) -> int:
    from rewriter.asking import Asking
    from rewriter.formats.carrier import NotWritable
    from rewriter.formats.outcome import draft_for, write_revised
    from rewriter.pipeline import rewrite_text
    from rewriter.render import describe
    from rewriter.source import UnreadableDraft

    options = _options(args)
    draft = _open(args.draft)
    elsewhere = args.report or args.diff or args.redline or args.questions
    if draft.binary and not args.output and not elsewhere:
        raise Usage(
            f"{args.draft}: not a text file, so the revised draft needs a name: "
            f"-o NAME{(*draft.suffixes, '.docx')[0]}, or -o NAME.md for its text alone"
        )
    try:
        draft = draft_for(draft, args.output)
        asking = Asking(args, draft.source)
        report = asking.run(rewrite_text, options)
        if args.output or not elsewhere:
            revised = write_revised(
                draft, report, args.output, args.changes, _now(), author_of(args.author)
            )
    except UnreadableDraft as error:
        raise Usage(str(error)) from None
    except NotWritable as error:
        raise Usage(f"{error}; or write the text alone with -o NAME.md") from None
    if args.output:
        write_file(Path(args.output), Path(args.draft), revised)
    if args.redline:
        from rewriter.redline import redline_of

        page = redline_of(report, draft.source)
        write_file(Path(args.redline), Path(args.draft), page.encode("utf-8"))
    if args.report == "json":
        _write(report.to_json() + "\n")
    elif args.report == "text":
        _write(describe(report, draft.source))
    elif args.diff:
        _write_diff(draft.source.text, report.output, draft.source.name)
    elif not args.output and not elsewhere:
        sys.stdout.buffer.write(revised)
        sys.stdout.buffer.flush()
    if args.report != "text":
        print(describe(report, draft.source, brief=True), file=sys.stderr, end="")
    asking.write(report)
    return status_of(report)


def _now() -> str:
    """Return the time for the marks of changes, to the minute."""
    from datetime import datetime

    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:00Z")


def _write_diff(old: str, new: str, name: str, renamed: str = "") -> None:
    from rewriter.edits import unified
    from rewriter.worddiff import coloured_diff

    if sys.stdout.isatty() and "NO_COLOR" not in os.environ:
        _write(coloured_diff(old, new, name, renamed))
    else:
        _write(unified(old, new, name, renamed))


def _write(text: str) -> None:
    """Write text with its own line ends."""
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


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
