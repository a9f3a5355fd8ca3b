"""Run many drafts through a pool of processes, here or on a cluster, and keep what comes back."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    Executor,
    Future,
    ProcessPoolExecutor,
    wait,
)
from dataclasses import dataclass, field, replace
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from rewriter.bulk.files import jobs_of
from rewriter.bulk.manifest import Manifest
from rewriter.bulk.model import BulkError, Job, Record, Settings
from rewriter.bulk.worker import NO_ROOM, CannotWrite, lost_in_hand, work_chunk
from rewriter.processes import begin_worker

CHUNK = 16
"""Drafts handed to a process at a time."""
_IN_HAND = 3
"""Chunks that wait for each process, so that none is ever idle and the queue stays short."""
_LOOKS = 0.2
"""Seconds until it looks again whether it is to stop."""


class Stopped(Exception):
    """The run was asked to stop; what was in hand is done and kept."""


@dataclass
class Tally:
    """How far a run has got, in drafts."""

    found: int = 0
    done_before: int = 0
    done: int = 0


@dataclass
class Pool:
    """Processes that do the work: of this machine, or of a cluster that is there."""

    jobs: int
    scheduler: str | None = None
    executor: Executor | None = field(default=None, repr=False)
    _client: Any = field(default=None, repr=False)

    def open(self) -> Executor:
        """Return the executor, made when first asked for; raises BulkError for no cluster."""
        if self.executor is None:
            self.executor = self._cluster() if self.scheduler else self._processes(self.jobs)
        return self.executor

    def again(self) -> None:
        """Give up an executor that broke; the next one is new."""
        if self.executor is not None and self.scheduler is None:
            self.executor.shutdown(wait=False, cancel_futures=True)
            self.executor = None

    def alone(self) -> Executor:
        """Return a fresh process of this machine for a draft that may end it."""
        return self._processes(1)

    def close(self, now: bool = False) -> None:
        """End the processes, those in hand first unless `now`."""
        if self._client is not None:
            self._client.close()
        elif self.executor is not None:
            self.executor.shutdown(wait=not now, cancel_futures=True)
        self.executor = self._client = None

    @staticmethod
    def _processes(jobs: int) -> Executor:
        return ProcessPoolExecutor(
            jobs, mp_context=get_context("forkserver"), initializer=begin_worker
        )

    def _cluster(self) -> Executor:
        try:
            from distributed import Client
        except ImportError:
            raise BulkError(
                "--scheduler needs an addition: pip install 'slopewise[cluster]'"
            ) from None
        try:
            make: Any = Client
            self._client = make(self.scheduler, timeout=20)
        except (OSError, ValueError) as error:
            raise BulkError(
                f"--scheduler {self.scheduler}: no scheduler answers there ({error})"
            ) from None
        executor: Executor = self._client.get_executor(retries=2)
        return executor


@dataclass(frozen=True)
class _Task:
    chunk: tuple[Job, ...]


def run(
    folder: Path,
    out: Path,
    globs: Sequence[str],
    settings: Settings,
    manifest: Manifest,
    pool: Pool,
    answered: Callable[[Job], Job],
    told: Callable[[Tally], None],
    stopped: Callable[[], bool] = lambda: False,
) -> Tally:
    """Revise the drafts of a folder that are not done yet; `told` hears of each step.

    `answered` adds to a job what was answered about its draft; `stopped` says whether the run is to end,
    and then what is in hand is finished and Stopped is raised.

    Raises BulkError where nothing can be written any more; what is done stays done.
    """
    tally = Tally()
    key = settings.key()
    pending: dict[Future[list[Record]], _Task] = {}
    try:
        for chunk in _chunks(_todo(folder, out, globs, manifest, key, answered, tally, stopped)):
            _submit(pool, chunk, settings, pending)
            told(tally)
            while len(pending) >= _IN_HAND * pool.jobs:
                _await_one(pending, stopped)
                _collect(pool, pending, settings, manifest, key, out, tally)
                told(tally)
        while pending:
            _await_one(pending, stopped)
            _collect(pool, pending, settings, manifest, key, out, tally)
            told(tally)
    except Stopped:
        waiting = {future: task for future, task in pending.items() if not future.cancel()}
        while waiting:  # what is in hand is finished
            _collect(pool, waiting, settings, manifest, key, out, tally)
        raise
    except CannotWrite as error:
        pool.close(now=True)
        full = "; free some room" if error.errno in NO_ROOM else ""
        raise BulkError(
            f"{error.filename}: cannot be written ({error.strerror}){full}. {tally.done} drafts of this "
            "run are done; the same command goes on from there"
        ) from None
    manifest.forget_others()
    return tally


def _todo(
    folder: Path,
    out: Path,
    globs: Sequence[str],
    manifest: Manifest,
    key: str,
    answered: Callable[[Job], Job],
    tally: Tally,
    stopped: Callable[[], bool],
) -> Iterator[Job]:
    for job in jobs_of(folder, out, globs):
        if stopped():
            raise Stopped
        tally.found += 1
        job = answered(job)
        try:
            with open(job.source, "rb") as file:
                sha = hashlib.file_digest(file, "sha256").hexdigest()
        except OSError:
            sha = ""
        if sha and manifest.is_done(job.path, sha, key, job.told(), out):
            tally.done_before += 1
        else:
            yield job


def _chunks(jobs: Iterator[Job]) -> Iterator[tuple[Job, ...]]:
    chunk: list[Job] = []
    for job in jobs:
        chunk.append(job)
        if len(chunk) == CHUNK:
            yield tuple(chunk)
            chunk = []
    if chunk:
        yield tuple(chunk)


def _submit(
    pool: Pool,
    chunk: tuple[Job, ...],
    settings: Settings,
    pending: dict[Future[list[Record]], _Task],
) -> None:
    future = pool.open().submit(work_chunk, chunk, settings)
    pending[future] = _Task(chunk)


def _await_one(pending: dict[Future[list[Record]], _Task], stopped: Callable[[], bool]) -> None:
    """Wait until a chunk is done; raises Stopped where the run is to end first."""
    while True:
        if stopped():
            raise Stopped
        if wait(pending, timeout=_LOOKS, return_when=FIRST_COMPLETED).done:
            return


def _collect(
    pool: Pool,
    pending: dict[Future[list[Record]], _Task],
    settings: Settings,
    manifest: Manifest,
    key: str,
    out: Path,
    tally: Tally,
) -> None:
    """Keep what is ready; where a process was ended, find the draft that ended it."""
    ready, _ = wait(pending, return_when=FIRST_COMPLETED)
    lost: list[_Task] = []
    for future in ready:
        task = pending.pop(future)
        try:
            records = future.result()
        except CannotWrite:
            raise
        except Exception as error:
            if not _was_ended(error):
                raise
            lost.append(task)
            continue
        _keep(records, task.chunk, manifest, key, out, tally)
    if lost:
        if pool.scheduler is None:  # a broken pool takes all that waits with it
            lost += pending.values()
            pending.clear()
            pool.again()
        for task in lost:
            for job in task.chunk:
                _keep([_alone(pool, job, settings)], (job,), manifest, key, out, tally)


def _was_ended(error: Exception) -> bool:
    return isinstance(error, BrokenExecutor) or type(error).__name__ in (
        "KilledWorker",
        "CancelledError",
    )


def _alone(pool: Pool, job: Job, settings: Settings) -> Record:
    """Revise one draft in a process of its own, so that only that one can be lost."""
    with pool.alone() as executor:
        try:
            return executor.submit(work_chunk, (job,), settings).result()[0]
        except BrokenExecutor:
            return lost_in_hand(job)


def _keep(
    records: Sequence[Record],
    chunk: Sequence[Job],
    manifest: Manifest,
    key: str,
    out: Path,
    tally: Tally,
) -> None:
    answers = {job.path: job.told() for job in chunk}
    manifest.keep([(_below(r, out), answers[r.path]) for r in records], key)
    tally.done += len(records)


def _below(record: Record, out: Path) -> Record:
    """Return the record with its files named as they lie below the output folder."""

    def name(path: str) -> str:
        return Path(path).relative_to(out).as_posix() if path else ""

    return replace(record, out=name(record.out), redline=name(record.redline))
