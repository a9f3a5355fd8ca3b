"""Work done apart from the server, in processes that can be stopped when it takes too long."""

from __future__ import annotations

import asyncio
import gc
import multiprocessing
import signal
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from importlib.resources import files
from typing import ParamSpec, Protocol, TypeVar

from rewriter.processes import begin_worker
from rewriter.web.problems import Refused

P = ParamSpec("P")
T = TypeVar("T")

SECONDS = 20.0
"""The longest that one request may take; a pattern of fifty pages takes about one second."""
_PROCESSES = 2


class Run(Protocol):
    """How the server has work done."""

    async def __call__(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Do it and return its result, or raise what it raises; Refused where it takes too long."""
        ...


class Workers:
    """A few processes that do the work; all are stopped and started anew when one is too slow."""

    def __init__(self, seconds: float = SECONDS) -> None:
        """Start the processes with the first work."""
        self.seconds = seconds
        self._pool: ProcessPoolExecutor | None = None

    def start(self) -> None:
        """Start the processes now and have them load what they need, so that no reader waits."""
        pool = self._running()
        with _not_interrupted():
            for _ in range(_PROCESSES):
                pool.submit(_warm)

    async def __call__(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Do it in a process; see `Run`."""
        for _ in range(2):
            pool = self._running()
            try:
                with _not_interrupted():
                    done = asyncio.wrap_future(pool.submit(work, *args, **kwargs))
                return await asyncio.wait_for(done, self.seconds)
            except TimeoutError:
                self._stop(pool)
                raise Refused(
                    "too-long",
                    f"it was stopped after {self.seconds:g} seconds; give the part of the pattern that "
                    "shapes the shoulders, with what leads up to it",
                ) from None
            except BrokenProcessPool:
                # the processes were stopped because of another request, or memory ran out
                self._stop(pool)
        raise Refused("too-long", "it was interrupted twice; try a shorter part of the pattern")

    def stop(self) -> None:
        """End all processes."""
        if self._pool is not None:
            self._stop(self._pool)

    def _running(self) -> ProcessPoolExecutor:
        if self._pool is None:
            # spawn: the server has threads, which a forked process would inherit half
            context = multiprocessing.get_context("spawn")
            self._pool = ProcessPoolExecutor(_PROCESSES, context, begin_worker)
        return self._pool

    def _stop(self, pool: ProcessPoolExecutor) -> None:
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


async def here(work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
    """Do work at once in the server itself, without a limit of time (for tests)."""
    return work(*args, **kwargs)
