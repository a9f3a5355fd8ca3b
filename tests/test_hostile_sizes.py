"""Texts far beyond any pattern: read in time that grows with their length, or refused with what to do."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from rewriter.cli import main
from rewriter.options import Options
from rewriter.pipeline import rewrite_bytes
from rewriter.reading import MOST_PASSAGES
from rewriter.source import UnreadableDraft

_BACK = "Shape shoulders\n\nBind off 8 sts at beg of next 4 rows. Bind off rem 20 sts.\n\n"


def _list(entries: int) -> str:
    sizes, counts = (f"1 ({', '.join(['9'] * (entries - 1))})" for _ in "ab")
    return (
        f"Sizes: {sizes}\n\nBack\nShape shoulders\nCast off {counts} sts at beg of next 4 rows.\n"
    )


def _seconds(text: str) -> float:
    begun = time.perf_counter()
    rewrite_bytes(text.encode(), "long.md", Options())
    return time.perf_counter() - begun


@pytest.mark.parametrize(
    "of",
    [
        pytest.param(lambda n: "Cast off 8 sts at beg of next 4 rows and knit " * n, id="one line"),
        pytest.param(lambda n: "( 8 9 [ 7-" * 5 * n, id="one line of brackets"),
        pytest.param(lambda n: "Knit on until the work is long enough.\n\n" * n, id="prose"),
        pytest.param(_list, id="a list of sizes"),
    ],
)
def test_the_time_grows_with_the_length(of: Callable[[int], str]) -> None:
    """Ten times the length is far from a hundred times the time; a tenth of a second is noise."""
    _seconds(of(100))
    assert _seconds(of(2000)) < 30 * (_seconds(of(200)) + 0.1)


def test_a_text_of_far_too_many_shapings_is_refused() -> None:
    text = "".join(f"## Back {n}\n\n{_BACK}" for n in range(MOST_PASSAGES + 1))
    with pytest.raises(UnreadableDraft, match="split it into its patterns"):
        rewrite_bytes(text.encode(), "all.md", Options())


def test_the_command_refuses_it_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "all.md"
    path.write_text("".join(f"## Back {n}\n\n{_BACK}" for n in range(MOST_PASSAGES + 1)))
    assert main(["rewrite", str(path)]) == 2
    assert main(["read", str(path)]) == 2
    assert "split it into its patterns" in capsys.readouterr().err
