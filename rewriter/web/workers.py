"""Work done apart from the server, in processes that can be stopped when it takes too long."""

from __future__ import annotations

import asyncio
import gc
import multiprocessing
import signal
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from importlib.resources import files
from typing import Any, ParamSpec, Protocol, TypeVar

from rewriter.processes import begin_worker
from rewriter.web.problems import Refused

P = ParamSpec("P")
T = TypeVar("T")

SECONDS = 20.0
"""The longest that one request may take; a pattern of fifty pages takes about one second."""
_PROCESSES = 2
_SELDOM = 100_000
"""New objects after which those no longer used are looked for: fewer than twice for a usual draft."""


class Run(Protocol):
    """How the server has work done."""

    async def __call__(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Do it and return its result, or raise what it raises; Refused where it takes too long."""
        ...


class Workers:
    """A few processes that do the work; one that is too slow is stopped and started anew.

    Work goes to the process that did some last, if it has nothing to do: it knows the words of the draft,
    most of which stand in the next request once more.
    """

    def __init__(self, seconds: float = SECONDS) -> None:
        """Start the processes with the first work."""
        self.seconds = seconds
        self._lanes = [_Lane() for _ in range(_PROCESSES)]
        """The one that did some work last stands first."""

    def start(self) -> None:
        """Start the processes now and have them load what they need, so that no reader waits."""
        for lane in self._lanes:
            lane.submit(_warm)

    async def __call__(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Do it in a process; see `Run`."""
        for _ in range(2):
            lane = min(self._lanes, key=_Lane.waiting)
            self._lanes.remove(lane)
            self._lanes.insert(0, lane)
            pool = lane.running()
            try:
                done = asyncio.wrap_future(lane.submit(work, *args, **kwargs))
                return await asyncio.wait_for(done, self.seconds)
            except TimeoutError:
                lane.stop(pool)
                raise Refused(
                    "too-long",
                    f"it was stopped after {self.seconds:g} seconds; give the part of the pattern that "
                    "shapes the shoulders, with what leads up to it",
                ) from None
            except BrokenProcessPool:
                # the process was stopped because of another request, or memory ran out
                lane.stop(pool)
            except asyncio.CancelledError:
                # so is work that was still waiting for that process
                task = asyncio.current_task()
                if task is None or task.cancelling():
                    raise
        raise Refused("too-long", "it was interrupted twice; try a shorter part of the pattern")

    def stop(self) -> None:
        """End all processes."""
        for lane in self._lanes:
            lane.stop(lane.running())


class _Lane:
    """One process with the work that waits for it."""

    def __init__(self) -> None:
        self._pool: ProcessPoolExecutor | None = None
        self._given: list[Future[Any]] = []

    def waiting(self) -> int:
        """Return how many pieces of work are not done."""
        self._given = [future for future in self._given if not future.done()]
        return len(self._given)

    def running(self) -> ProcessPoolExecutor:
        """Return the pool of the one process, which starts with its first work."""
        if self._pool is None:
            # spawn: the server has threads, which a forked process would inherit half
            context = multiprocessing.get_context("spawn")
            self._pool = ProcessPoolExecutor(1, context, begin_worker)
        return self._pool

    def submit(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Give the process some work."""
        with _not_interrupted():
            future = self.running().submit(work, *args, **kwargs)
        self._given.append(future)
        return future

    def stop(self, pool: ProcessPoolExecutor) -> None:
        """End the process of a pool, where it is still this one; what waits for it is broken off."""
        if self._pool is pool:
            self._pool = None
        processes = list((pool._processes or {}).values())
        for process in processes:
            process.kill()
        pool.shutdown(wait=True, cancel_futures=True)


@contextmanager
def _not_interrupted() -> Iterator[None]:
    """Have processes that start meanwhile leave Ctrl-C to the server, from their first moment."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    handler = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, handler)


def _warm() -> None:
    from rewriter import regex
    from rewriter.samples import SAMPLE
    from rewriter.web.bodies import text_file
    from rewriter.web.choices import Choices
    from rewriter.web.result import result_of

    regex.load_all()
    # a whole draft as the page shows it: most words that any draft has are known after it
    sample = (files("rewriter.samples") / SAMPLE).read_text(encoding="utf-8")
    result_of(text_file(sample, SAMPLE), Choices())
    # what is there now stays, and need not be looked through again and again for what is no longer used
    gc.collect()
    gc.freeze()
    gc.set_threshold(_SELDOM)


async def here(work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
    """Do work at once in the server itself, without a limit of time (for tests)."""
    return work(*args, **kwargs)
