"""A run over a folder that is stopped, killed, or out of room: nothing is lost, nothing half-written."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from rewriter.bulk.files import OWN, open_whole
from rewriter.bulk.manifest import Manifest
from tests.bulktools import BULK, bulk, many, tree


def test_killed_three_times_it_ends_as_if_it_had_run_through(tmp_path: Path) -> None:
    many(tmp_path / "drafts")
    whole, killed = tmp_path / "whole", tmp_path / "killed"
    words = [
        sys.executable,
        "-m",
        "rewriter",
        "bulk",
        str(tmp_path / "drafts"),
        "--jobs",
        "2",
        "--out",
    ]
    subprocess.run([*words, str(whole)], check=True, capture_output=True)
    done = 0
    for after in (4, 20, 40):
        process = subprocess.Popen(
            [*words, str(killed)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            start_new_session=True,
        )  # fmt: skip
        while process.poll() is None and done < after:
            done = len(list(killed.glob("*.txt")))
            time.sleep(0.01)
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()
    assert 0 < len(list(killed.glob("*.txt"))) <= 64
    subprocess.run([*words, str(killed)], check=True, capture_output=True)
    assert tree(killed) == tree(whole)
    assert not list(killed.rglob(".half-written-*"))


def test_its_processes_end_with_it(tmp_path: Path) -> None:
    many(tmp_path / "drafts")
    out = tmp_path / "out"
    words = [*BULK, str(tmp_path / "drafts"), "--jobs", "2", "--out", str(out)]
    process = subprocess.Popen(
        words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True
    )
    while process.poll() is None and not list(out.glob("*.txt")):
        time.sleep(0.01)
    os.kill(process.pid, signal.SIGKILL)
    process.wait()
    deadline = time.monotonic() + 30
    with pytest.raises(ProcessLookupError):
        while time.monotonic() < deadline:
            os.killpg(process.pid, 0)
            time.sleep(0.05)


@pytest.mark.parametrize("asked", [signal.SIGINT, signal.SIGTERM])
def test_when_asked_to_stop_it_keeps_what_is_done(tmp_path: Path, asked: signal.Signals) -> None:
    many(tmp_path / "drafts")
    for path in list((tmp_path / "drafts").iterdir()):
        for n in range(8):  # so many that it is still at work when it is stopped
            shutil.copy(path, path.with_stem(f"{path.stem}-{n}"))
    out = tmp_path / "out"
    process = subprocess.Popen(
        [*BULK, str(tmp_path / "drafts"), "--out", str(out)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
    )
    while process.poll() is None and len(list(out.glob("*.txt"))) < 2:
        time.sleep(0.005)
    process.send_signal(asked)
    _, told = process.communicate(timeout=60)
    assert process.returncode == 1
    assert "goes on from there" in told
    assert "Traceback" not in told
    with Manifest(out / OWN / "manifest.sqlite") as manifest:
        assert {r.out for r in manifest.records()} == {p.name for p in out.glob("*.txt")}


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    with pytest.raises(RuntimeError), open_whole(tmp_path / "a.txt") as file:
        file.write(b"half")
        raise RuntimeError
    assert not list(tmp_path.iterdir())


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of a few blocks."""
    disk = tmp_path / "disk"
    disk.mkdir()
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=400k", "tmpfs", str(disk)],
        capture_output=True,
        check=False,
    )
    if made.returncode:
        pytest.skip("a small disk can be made by root alone")
    yield disk
    subprocess.run(["umount", "-l", str(disk)], check=False)


def test_a_full_disk_is_told_and_nothing_is_half_written(
    small_disk: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    many(tmp_path / "drafts")
    for i in range(40):
        long = (
            "Shape shoulders\nBO 8 sts at beg of next 4 rows.\nBO rem 20 sts.\n"
            + "Knit on. " * 2000
        )
        (tmp_path / "drafts" / f"long-{i}.txt").write_text(long)
    assert bulk(tmp_path / "drafts", "--out", small_disk / "out") == 2
    told = capsys.readouterr().err
    assert "cannot be written" in told or "full" in told
    assert "Traceback" not in told
    for path in small_disk.rglob("long-*.txt"):
        assert path.read_text().endswith("Knit on. ")
    assert not list(small_disk.rglob(".half-written-*"))


def test_a_folder_that_may_not_be_written_is_told(
    small_disk: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    many(tmp_path / "drafts")
    before = tree(tmp_path / "drafts")
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    assert bulk(tmp_path / "drafts", "--out", small_disk / "out") == 2
    told = capsys.readouterr().err
    assert str(small_disk / "out") in told and "Traceback" not in told
    assert not list(small_disk.iterdir())
    assert tree(tmp_path / "drafts") == before
