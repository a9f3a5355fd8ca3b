"""The order of the tests: those of one draft stand together, so that it is read and rewritten once."""

from __future__ import annotations

import gc
from pathlib import Path

import pytest

from tests.drafts import CORPUS


def _draft_of(item: pytest.Item) -> str:
    """Return the draft of the corpus that a test is given, or nothing."""
    callspec = getattr(item, "callspec", None)
    for value in callspec.params.values() if callspec is not None else ():
        path = getattr(value, "path", value)
        if isinstance(path, Path) and CORPUS in path.parents:
            return str(path)
    return ""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the tests of drafts behind the others, draft by draft; then those that are marked `last`.

    They are many and short: where several processes work, they end at about the same time.
    """
    items.sort(key=lambda item: (item.get_closest_marker("last") is not None, _draft_of(item)))


def pytest_collection_finish() -> None:
    """Let the collector of garbage pass over the thousands of tests, which stay to the end."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(10_000, 20, 20)
