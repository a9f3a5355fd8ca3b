"""Measure folders of drafts: `python -m tests.bench.folders` (minutes; `--memory` for the long one).

Two processes against one, as wall time of `slopewise bulk`; with `--memory`, the memory of the largest
process of a run over many drafts against that of a run over a hundred.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.drafts import CORPUS

FEW = 100


def generated(folder: Path, count: int) -> Path:
    """Write so many drafts of the generator into a folder."""
    command = [
        sys.executable,
        str(CORPUS / "generate.py"),
        "--out",
        str(folder),
        "--count",
        str(count),
    ]
    subprocess.run(command, check=True, capture_output=True)
    return folder


def run(drafts: Path, out: Path, jobs: int) -> tuple[float, float]:
    """Rewrite a folder; return the seconds it took and the megabytes of its largest process."""
    words = ["-m", "rewriter", "bulk", str(drafts), "--out", str(out), "--jobs", str(jobs)]
    begun = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, *words], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode > 1:
        raise RuntimeError(f"bulk ended with {process.returncode}")
    return time.perf_counter() - begun, used.ru_maxrss / 1024


def main() -> None:
    """Print the ratios."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.folders")
    parser.add_argument("--count", type=int, default=2000, help="drafts for one and two processes")
    parser.add_argument("--memory", action="store_true", help="measure memory instead")
    parser.add_argument("--many", type=int, default=10_000, help="drafts of the long run")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        place = Path(name)
        if args.memory:
            _, few = run(generated(place / "few", FEW), place / "few-out", 2)
            _, many = run(generated(place / "many", args.many), place / "many-out", 2)
            print(f"memory, {args.many} drafts against {FEW}: {many / few:.2f} ({many:.0f} MB)")
            return
        drafts = generated(place / "drafts", args.count)
        one, _ = run(drafts, place / "one", 1)
        two, _ = run(drafts, place / "two", 2)
        print(f"{args.count} drafts, two processes against one: {one / two:.2f} times as fast")


if __name__ == "__main__":
    main()
