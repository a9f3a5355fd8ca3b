"""What the processes that do the work owe the one that started them."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading


def begin_worker() -> None:
    """Leave Ctrl-C to the parent, which ends what is in hand, and end when the parent is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """End this process with its parent: one that was killed cannot say that it goes."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(0)
