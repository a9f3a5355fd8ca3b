"""`slopewise serve` as a process: where it listens, how it stops, what it does with slow work."""

from __future__ import annotations

import asyncio
import os
import signal
import socket
import time
import urllib.request

import pytest

from rewriter.cli import main
from rewriter.web.problems import Refused
from rewriter.web.server import listening
from rewriter.web.workers import Workers
from tests.serving import served


def _all_ended(group: int) -> bool:
    """Wait until no process of a group runs."""
    for _ in range(100):
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.1)
    return False


def test_it_listens_here_alone_and_stops_at_ctrl_c_with_its_workers() -> None:
    with served() as (process, url):
        with urllib.request.urlopen(url, timeout=10) as answer:
            assert b"<h1>Slopewise</h1>" in answer.read()
        port = int(url.rstrip("/").rpartition(":")[2])
        others = {i[4][0] for i in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)}
        for address in others - {"127.0.0.1"}:
            with pytest.raises(OSError), socket.create_connection((str(address), port), 1):
                pass
        os.killpg(process.pid, signal.SIGINT)  # a terminal sends it to the workers too
        assert process.wait(10) == 0
        assert process.stdout is not None
        told = process.stdout.read()
        assert told.endswith("Stopped.\n") and "Traceback" not in told
        assert _all_ended(process.pid)


def test_workers_end_when_the_server_is_killed() -> None:
    with served() as (process, url):
        urllib.request.urlopen(url, timeout=10).close()
        time.sleep(1)  # the workers have started
        process.kill()
        process.wait()
        assert _all_ended(process.pid)


def test_a_port_that_is_taken_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    with listening(0) as sock:
        # else each answer waits for the browser's acknowledgement
        assert sock.proto == socket.IPPROTO_TCP
        port = str(sock.getsockname()[1])
        assert main(["serve", "--no-browser", "--port", port]) == 2
    assert "leave out --port" in capsys.readouterr().err
    assert main(["serve", "--no-browser", "--port", "70000"]) == 2


def test_work_that_takes_too_long_is_stopped_and_the_next_is_done() -> None:
    async def run() -> int:
        workers = Workers(seconds=20)
        try:
            assert await workers(abs, -1) == 1
            workers.seconds = 0.5
            begun = time.monotonic()
            with pytest.raises(Refused) as refused:
                await workers(time.sleep, 60)
            assert refused.value.problem.status == 503
            assert "0.5 seconds" in refused.value.problem.detail
            assert time.monotonic() - begun < 10
            workers.seconds = 20
            return await workers(abs, -2)
        finally:
            workers.stop()

    assert asyncio.run(run()) == 2


def test_work_goes_to_the_process_that_did_some_last_unless_it_is_busy() -> None:
    async def run() -> tuple[set[int], set[int]]:
        workers = Workers()
        try:
            alone = {await workers(os.getpid) for _ in range(4)}
            slow = asyncio.create_task(workers(time.sleep, 1))
            await asyncio.sleep(0.1)
            beside = {await workers(os.getpid)}
            await slow
            return alone, beside
        finally:
            workers.stop()

    alone, beside = asyncio.run(run())
    assert len(alone) == 1
    assert not alone & beside


def test_work_that_waits_for_a_process_that_is_stopped_is_done_by_another() -> None:
    async def run() -> list[object]:
        workers = Workers(seconds=30)
        try:
            await asyncio.gather(*(workers(time.sleep, 0) for _ in range(2)))
            workers.seconds = 1.5
            slow = [asyncio.create_task(workers(time.sleep, 60)) for _ in range(2)]
            await asyncio.sleep(0.1)
            workers.seconds = 30
            waiting = [asyncio.create_task(workers(abs, -n)) for n in range(1, 4)]
            return await asyncio.gather(*slow, *waiting, return_exceptions=True)
        finally:
            workers.stop()

    *slow, one, two, three = asyncio.run(run())
    assert all(isinstance(refused, Refused) for refused in slow)
    assert [one, two, three] == [1, 2, 3]


def test_what_work_refuses_comes_back_whole() -> None:
    async def run() -> Refused:
        workers = Workers()
        try:
            await workers(_refuses)
        except Refused as refused:
            return refused
        finally:
            workers.stop()
        raise AssertionError

    assert asyncio.run(run()).problem.detail == "because"


def _refuses() -> None:
    raise Refused("unreadable", "because")
