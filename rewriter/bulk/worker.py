"""Revise one draft after another in a process of its own; whatever a draft does, the next one is done."""

from __future__ import annotations

import hashlib
import os
import signal
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from errno import EDQUOT, ENOSPC, EROFS
from pathlib import Path
from types import FrameType

from rewriter.bulk.files import write_whole
from rewriter.bulk.model import Finding, Job, Limits, Record, Settings, Status
from rewriter.report import Report
from rewriter.spans import SourceText

try:
    import resource
except ImportError:  # not on every system
    resource = None  # type: ignore[assignment]


class CannotWrite(OSError):
    """The disk is full or cannot be written to: no draft after this one would fare better."""


class _TooLong(Exception):
    """A draft took longer than its limit."""


def work_chunk(jobs: Sequence[Job], settings: Settings) -> list[Record]:
    """Revise drafts in order; raises CannotWrite where the output cannot be written."""
    return [work_one(job, settings) for job in jobs]


def work_one(job: Job, settings: Settings) -> Record:
    """Revise one draft within its limits and write the result; raises CannotWrite."""
    begun = time.monotonic()
    sha = ""
    try:
        with _limited(settings.limits):
            data = Path(job.source).read_bytes()
            sha = hashlib.sha256(data).hexdigest()
            record = _revised(job, settings, data, sha)
    except CannotWrite:
        raise
    except _TooLong:
        record = _lost(job, sha, f"given up after {settings.limits.seconds:g} seconds")
    except MemoryError:
        record = _lost(job, sha, f"needs more than {settings.limits.megabytes} MB of memory")
    except OSError as error:
        record = _lost(job, sha, f"cannot be read ({error.strerror})", "unreadable")
    except Exception as fault:
        told = f"a fault of the program's own ({type(fault).__name__}: {fault}); please report it"
        record = _lost(job, sha, told)
    return replace(record, seconds=round(time.monotonic() - begun, 3))


def lost_in_hand(job: Job) -> Record:
    """Return the record of a draft whose process was ended while it had the draft in hand."""
    try:
        sha = hashlib.sha256(Path(job.source).read_bytes()).hexdigest()
    except OSError:
        sha = ""
    return _lost(job, sha, "its process was ended by the system (too much memory, or too long)")


def _lost(job: Job, sha: str, why: str, status: Status = "failed") -> Record:
    finding = Finding("error", status, "the whole file", f"{job.path}: {why}")
    return Record(job.path, sha, status, (0, 0, 0), (finding,), "")


@contextmanager
def _limited(limits: Limits) -> Iterator[None]:
    """Hold a draft to its time and memory; where the system has no such limits, to none."""

    def stop(number: int, frame: FrameType | None) -> None:
        raise _TooLong

    timed = hasattr(signal, "setitimer") and threading.current_thread() is threading.main_thread()
    before = signal.signal(signal.SIGALRM, stop) if timed else None
    kept = {n: resource.getrlimit(n) for n in _RESOURCES} if resource else {}
    try:
        if timed:
            signal.setitimer(signal.ITIMER_REAL, limits.seconds)
        if resource:
            _lower(resource.RLIMIT_AS, limits.megabytes << 20)
            # what the alarm cannot reach, within one long match, the system ends a little later
            used = resource.getrusage(resource.RUSAGE_SELF)
            _lower(resource.RLIMIT_CPU, int(used.ru_utime + used.ru_stime + limits.seconds) + 5)
        yield
    finally:
        if timed:
            signal.setitimer(signal.ITIMER_REAL, 0)
            signal.signal(signal.SIGALRM, before)
        for what, ceiling in kept.items():
            resource.setrlimit(what, ceiling)


_RESOURCES = (resource.RLIMIT_AS, resource.RLIMIT_CPU) if resource else ()


def _lower(what: int, most: int) -> None:
    _, hard = resource.getrlimit(what)
    resource.setrlimit(what, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard))


def _revised(job: Job, settings: Settings, data: bytes, sha: str) -> Record:
    from rewriter.answers import WrongAnswer
    from rewriter.formats import open_draft
    from rewriter.formats.carrier import NotWritable
    from rewriter.formats.outcome import draft_for, write_revised
    from rewriter.pipeline import rewrite_text
    from rewriter.questionfile import section
    from rewriter.redline import redline_of
    from rewriter.source import UnreadableDraft

    try:
        draft = draft_for(open_draft(data, Path(job.source).name), job.out)
    except UnreadableDraft as error:
        return _lost(job, sha, _without_name(str(error), job.source), "unreadable")
    try:
        report = rewrite_text(draft.source, replace(settings.options, answers=job.answers))
    except UnreadableDraft as error:
        return _lost(job, sha, _without_name(str(error), job.source), "unreadable")
    except WrongAnswer as error:
        return _lost(job, sha, str(error))
    out = redline = ""
    try:
        if report.edits:
            revised = write_revised(
                draft, report, job.out, settings.changes, settings.date, settings.author
            )
            out = _written(job.out, revised, settings.dry)
            if settings.redlines:
                page = redline_of(report, draft.source).encode("utf-8")
                redline = _written(job.redline, page, settings.dry)
        elif settings.copy_unchanged:
            same = draft.source.text.encode() if draft.source.carrier == "pdf" else data
            out = _written(job.out, same, settings.dry)
    except NotWritable as error:
        return _lost(job, sha, _without_name(str(error), job.source))
    counts = _counts(report)
    return Record(
        path=job.path,
        sha256=sha,
        status=_status(counts),
        passages=counts,
        findings=tuple(_findings(report, draft.source)),
        out=out,
        redline=redline,
        questions=section(report.questions, draft.source, job.path, job.entries)
        if report.questions or job.entries
        else "",
    )


def _without_name(message: str, source: str) -> str:
    return message.removeprefix(f"{Path(source).name}: ")


def _written(path: str, data: bytes, dry: bool) -> str:
    """Write a result and return its name; raises CannotWrite where nothing more can be written."""
    if dry:
        return path
    try:
        write_whole(Path(path), data)
    except OSError as error:
        raise CannotWrite(
            error.errno, error.strerror or os.strerror(error.errno or 0), path
        ) from None
    return path


NO_ROOM = (ENOSPC, EDQUOT, EROFS)
"""Errors after which nothing more can be written anywhere in the output."""


def _counts(report: Report) -> tuple[int, int, int]:
    """Return how many passages were rewritten, asked about, and left.

    Armholes and the like, that are left as they should be, do not count.
    """
    kinds = set(report.options.kinds)
    return (
        sum(p.status == "rewritten" for p in report.passages),
        sum(p.status == "question" for p in report.passages),
        sum(p.status == "left" and p.kind in kinds for p in report.passages),
    )


def _status(counts: tuple[int, int, int]) -> Status:
    done, asked, left = counts
    if done:
        return "partly" if asked or left else "rewritten"
    return "question" if asked else "left" if left else "unchanged"


def _findings(report: Report, source: SourceText) -> Iterator[Finding]:
    kinds = set(report.options.kinds)
    answerable = {q.passage for q in report.questions if q.ask}
    for passage in report.passages:
        where = source.where(passage.span[0])
        if passage.status == "question":
            yield Finding(
                "question" if passage.id in answerable else "to put right",
                passage.id,
                where,
                passage.reason or "",
            )
        elif passage.status == "left" and passage.kind in kinds:
            yield Finding("left", passage.id, where, passage.reason or "")
    for unused in report.unused_answers:
        told = f"the answer {unused.answer!r} is not used: no passage has its words any more"
        yield Finding("warning", "answer", unused.place, f"{told} (“{unused.passage}”)")
    asked = {p.reason for p in report.passages}
    for found in report.diagnostics:
        if found.message in asked:
            continue  # the question says it
        yield Finding(found.severity, found.code, source.where(found.span[0]), found.message)
