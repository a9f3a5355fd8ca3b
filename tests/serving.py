"""`slopewise serve` run as a process of its own, for tests that ask it over the network."""

from __future__ import annotations

import contextlib
import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator


@contextlib.contextmanager
def served(*arguments: str) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """Run the command in a process group of its own; yield its process and its address."""
    process = subprocess.Popen(
        [sys.executable, "-c", _COMMAND, "serve", "--no-browser", *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        start_new_session=True,
    )
    assert process.stdout is not None
    try:
        found = re.search(r"http://127\.0\.0\.1:\d+/", process.stdout.readline())
        assert found
        yield process, found[0]
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()
        process.stdout.close()


# Ctrl-C as in a terminal, even where the tests run as a job that ignores it.
_COMMAND = """
import signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)
if __name__ == "__main__":
    from rewriter.cli import main
    sys.exit(main(sys.argv[1:]))
"""
