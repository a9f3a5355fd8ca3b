"""The command `slopewise bulk`."""

from __future__ import annotations

import argparse
import os
import signal
import sys
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from rewriter.bulk.files import OWN, check_folders, sweep
from rewriter.bulk.model import MEGABYTES, SECONDS, BulkError, Limits, Settings
from rewriter.commandfiles import author_of
from rewriter.options import CHANGES, Options

if TYPE_CHECKING:
    from types import FrameType

    from rewriter.bulk.answers import Answers
    from rewriter.bulk.manifest import Manifest
    from rewriter.bulk.run import Tally
    from rewriter.bulk.summary import Totals

DONE, OPEN, UNUSABLE = 0, 1, 2
FAIL_ON = ("question", "left")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what belongs to a bulk run alone; the options of a rewriting are added by the caller."""
    parser.add_argument("folder", metavar="FOLDER", help="folder with the drafts; never written to")
    parser.add_argument(
        "--out", required=True, metavar="FOLDER", help="folder for the revised drafts"
    )
    parser.add_argument(
        "--glob", action="append", default=[], metavar="PATTERN",
        help="only drafts whose name or path matches; may be given more than once",
    )  # fmt: skip
    parser.add_argument("--changes", choices=CHANGES, default="tracked", help="as for rewrite")
    parser.add_argument(
        "--questions",
        metavar="OUT.toml",
        help="write what must be answered, of all drafts, to one file",
    )
    parser.add_argument(
        "--answers", metavar="FILE", help="take the answers from such a file, filled in by hand"
    )
    parser.add_argument(
        "--redlines", action="store_true", help="write a page of changes for each draft"
    )
    parser.add_argument(
        "--only-changed", action="store_true", help="write no copy of a draft that stays as it is"
    )
    parser.add_argument("--dry-run", action="store_true", help="work everything out, write nothing")
    parser.add_argument(
        "--fail-on", choices=FAIL_ON, action="append", default=[],
        help="exit with status 1 where a passage has a question, or was left",
    )  # fmt: skip
    parser.add_argument(
        "--jobs", type=int, default=os.cpu_count() or 1, metavar="N",
        help="processes (default: one for each core)",
    )  # fmt: skip
    parser.add_argument(
        "--seconds", type=float, default=SECONDS, metavar="N",
        help=f"give a draft up after so long (default: {SECONDS:g})",
    )  # fmt: skip
    parser.add_argument(
        "--megabytes", type=int, default=MEGABYTES, metavar="N",
        help=f"memory for one draft (default: {MEGABYTES})",
    )  # fmt: skip
    parser.add_argument(
        "--scheduler", metavar="ADDRESS",
        help="work on a Dask cluster that is running, as tcp://host:8786; its workers must see both folders",
    )  # fmt: skip


def bulk(args: argparse.Namespace, options: Options) -> int:
    """Run the command and return its exit status; raises BulkError with what to do."""
    from rewriter.bulk.manifest import Manifest

    if args.jobs < 1 or args.seconds <= 0 or args.megabytes < 64:
        raise BulkError("--jobs and --seconds must be above 0, --megabytes at least 64")
    folder, out = Path(args.folder), Path(args.out).absolute()
    check_folders(folder, out)
    asking = _asking(args)
    now = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:00Z")
    if args.dry_run:
        with TemporaryDirectory() as aside, Manifest(Path(aside) / "manifest.sqlite") as manifest:
            return _run(args, options, folder, out, manifest, now, asking)
    with Manifest(out / OWN / "manifest.sqlite") as manifest:
        sweep(out)
        return _run(args, options, folder, out, manifest, manifest.date(now), asking)


def _run(
    args: argparse.Namespace,
    options: Options,
    folder: Path,
    out: Path,
    manifest: Manifest,
    date: str,
    asking: Answers,
) -> int:
    from rewriter.bulk.run import Pool, Stopped, run
    from rewriter.bulk.summary import Totals, write_summary

    settings = Settings(
        options=options,
        changes=args.changes,
        date=date,
        author=author_of(args.author),
        limits=Limits(args.seconds, args.megabytes),
        redlines=args.redlines,
        copy_unchanged=not args.only_changed,
        dry=args.dry_run,
    )
    pool = Pool(args.jobs, args.scheduler)
    try:
        with _StopAsked() as asked, _Progress() as progress:
            tally = run(
                folder, out, args.glob, settings, manifest, pool, asking.of, progress.tell, asked
            )
    except (Stopped, KeyboardInterrupt):
        print(
            "slopewise: stopped; what is done is kept, and the same command goes on from there",
            file=sys.stderr,
        )
        return OPEN
    finally:
        pool.close()
    if not tally.found:
        raise BulkError(
            f"{folder}: there is no draft in it" + (" that matches" if args.glob else "")
        )
    try:
        if args.dry_run:
            totals = Totals()
            for record in manifest.records():
                totals.add(record)
        else:
            totals = write_summary(out, manifest.records, folder.resolve().name)
    except OSError as error:
        raise BulkError(f"{out / OWN}: the summary cannot be written ({error.strerror})") from None
    if args.questions:
        asking.write(Path(args.questions), folder, manifest)
    _show(totals, tally, None if args.dry_run else out)
    return _status(totals, args.fail_on)


def _asking(args: argparse.Namespace) -> Answers:
    from rewriter.answers import WrongAnswer
    from rewriter.bulk.answers import Answers

    try:
        return Answers.read(args.answers, args.questions)
    except WrongAnswer as error:
        raise BulkError(str(error)) from None


def _status(totals: Totals, fail_on: list[str]) -> int:
    failed = totals.statuses["failed"] or totals.statuses["unreadable"]
    return OPEN if failed or any(totals.passages[name] for name in fail_on) else DONE


class _StopAsked:
    """Says whether Ctrl-C, or the machine as it goes down, asks the run to stop; the second time it must.

    An exception raised by a signal may come up anywhere, also where it would be lost.
    """

    _SIGNALS = (signal.SIGINT, signal.SIGTERM)

    def __enter__(self) -> _StopAsked:
        self._asked = False
        self._before = [signal.signal(number, self._hear) for number in self._SIGNALS]
        return self

    def __exit__(self, *raised: object) -> None:
        for number, handler in zip(self._SIGNALS, self._before, strict=True):
            signal.signal(number, handler)

    def __call__(self) -> bool:
        return self._asked

    def _hear(self, number: int, frame: FrameType | None) -> None:
        if self._asked:
            signal.default_int_handler(number, frame)
        self._asked = True


class _Progress:
    """A bar with rate and time left, on a terminal; else a line now and then."""

    def __init__(self) -> None:
        from rich.console import Console
        from rich.progress import (
            BarColumn,
            MofNCompleteColumn,
            Progress,
            TaskProgressColumn,
            TextColumn,
            TimeRemainingColumn,
        )

        self._bar = Progress(
            TextColumn("{task.description}"),
            BarColumn(),
            TaskProgressColumn(),
            MofNCompleteColumn(),
            TextColumn("{task.fields[rate]}"),
            TimeRemainingColumn(),
            console=Console(stderr=True),
            disable=not sys.stderr.isatty(),
        )
        self._task = self._bar.add_task("Drafts", total=None, rate="")

    def __enter__(self) -> _Progress:
        self._bar.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._bar.stop()

    def tell(self, tally: Tally) -> None:
        """Show how far the run has got; what was done before counts as done."""
        speed = self._bar.tasks[0].speed
        self._bar.update(
            self._task,
            total=tally.found,
            completed=tally.done_before + tally.done,
            rate=f"{speed:.0f}/s" if speed else "",
        )


def _show(totals: Totals, tally: Tally, out: Path | None) -> None:
    from rich import box
    from rich.console import Console
    from rich.table import Table

    from rewriter.bulk.model import MEANINGS, STATUSES
    from rewriter.bulk.summary import PAGE

    console = Console(width=None if sys.stdout.isatty() else 120, highlight=False)
    table = Table(box=box.SIMPLE, title_justify="left")
    table.add_column("Drafts", justify="right")
    table.add_column("Status")
    table.add_column("Meaning")
    for status in STATUSES:
        if totals.statuses[status]:
            table.add_row(str(totals.statuses[status]), status, MEANINGS[status])
    console.print(table)
    counts: Counter[str] = totals.passages
    console.print(
        f"Stepped passages: {counts['rewritten']} rewritten and verified, {counts['question']} with a "
        f"question, {counts['left']} left for a reason."
    )
    if tally.done_before:
        console.print(f"{tally.done_before} of these drafts were done before and are unchanged.")
    for times, kind, text, draft in totals.frequent(5):
        where = draft if times == 1 else f"first in {draft}"
        console.print(f"{times:6} × {kind}: {text} ({where})", markup=False)
    if out is not None:
        console.print(f"Summary: {out / OWN / PAGE}", markup=False, soft_wrap=True)
