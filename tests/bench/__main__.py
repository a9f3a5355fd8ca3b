"""Measure speed as ratios to yardsticks of the same run: `make bench` (`--check` for a guard).

Y1 is one LALR parse of a fixed clause by a bare grammar, Y2 is Markdown's parse of the same draft by
markdown-it-py. All that is compared is measured in one run, interleaved, and its medians divided. What is
measured is the time of the processor, of this process and of those it starts, so that other work on the
machine disturbs little. `docs/performance.md` holds the figures.
"""

from __future__ import annotations

import argparse
import gc
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from lark import Lark
from markdown_it import MarkdownIt

from rewriter import parsing
from rewriter.options import Options
from rewriter.pipeline import rewrite_bytes
from rewriter.reading import forget_drafts
from tests.bench import drafts

ROUNDS = 15
_CLAUSE = "bind off 8 sts at beg of next 6 rows"
_BARE = r"""
start: verb count place rows
verb: "bind" "off"
count: INT "sts"
place: "at" "beg" "of"
rows: "next" INT "rows"
INT: /[0-9]+/
%ignore " "
"""


@dataclass(frozen=True)
class Goal:
    """A ratio with what is wished for, what is the most, and what a guard lets pass."""

    work: str
    of: str
    to: str
    wished: float
    most: float
    guard: float
    """Some twice what is measured on a quiet machine; 0 for no guard."""
    long: bool = False
    """It takes too long for `--quick`."""


GOALS = (
    Goal("whole verified rewrite, 10 KB, 9 sizes / Y2", "rewrite", "Y2", 4, 8, 160),
    Goal("the same / Y1", "rewrite", "Y1", 0, 0, 0),
    Goal("a draft with nothing to convert / Y2", "nothing", "Y2", 1.2, 2, 30),
    Goal("growth 10 KB to 100 KB", "ten times", "rewrite", 10.5, 12, 16, long=True),
    Goal("10 sizes against 1", "ten sizes", "one size", 1.5, 2, 4),
    Goal("400 sts against 40", "400 sts", "40 sts", 1.1, 1.3, 1.5),
    Goal("--help against python -c pass", "help", "python", 3, 4, 7),
    Goal("first rewrite from the shell against python -c pass", "shell", "python", 14, 20, 70),
)


def works() -> dict[str, Callable[[], object]]:
    """Return everything that is measured, by name."""
    ten = drafts.of_bytes(10_240)
    nothing = drafts.without_shoulders(10_240)
    text = drafts.NINE_SIZES.read_text(encoding="utf-8")
    bare = Lark(_BARE, parser="lalr")
    folder = Path(tempfile.mkdtemp())
    sample = folder / "draft.md"
    sample.write_text(text, encoding="utf-8")

    def rewriting(draft: str) -> Callable[[], object]:
        data = draft.encode()

        def work() -> object:
            parsing.forget()
            forget_drafts()
            return rewrite_bytes(data, "draft.md", Options())

        return work

    # as it is installed: with the byte code that Python keeps
    kept = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}

    def shell(*words: str) -> Callable[[], object]:
        command = [sys.executable, *words]
        return lambda: subprocess.run(command, check=True, capture_output=True, env=kept)

    return {
        "Y1": lambda: bare.parse(_CLAUSE),
        "Y2": lambda: MarkdownIt().parse(ten),
        "rewrite": rewriting(ten),
        "nothing": rewriting(nothing),
        "ten times": rewriting(drafts.repeated(ten, 10)),
        "ten sizes": rewriting(text),
        "one size": rewriting(drafts.of_one_size(text, 9)),
        "400 sts": rewriting(drafts.of_stitches(400)),
        "40 sts": rewriting(drafts.of_stitches(40)),
        "python": shell("-c", "pass"),
        "help": shell("-m", "rewriter", "--help"),
        "shell": shell("-m", "rewriter", "rewrite", str(sample), "-o", str(folder / "out.md")),
    }


def spent() -> float:
    """Return the seconds of processor time that this process and those it started have had."""
    children = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.process_time() + children.ru_utime + children.ru_stime


_SHORTEST = 0.03
"""Seconds; what takes less is done several times over."""


def measure(rounds: int, names: set[str]) -> dict[str, float]:
    """Return the median seconds of the works that are named, measured in turn."""
    todo = {name: work for name, work in works().items() if name in names}
    times: dict[str, int] = {}
    for name, work in todo.items():
        work()
        begun = spent()
        work()
        times[name] = 1 + int(_SHORTEST / max(spent() - begun, 1e-6))
    taken: dict[str, list[float]] = {name: [] for name in todo}
    gc.disable()
    for _ in range(rounds):
        for name, work in todo.items():
            begun = spent()
            for _ in range(times[name]):
                work()
            taken[name].append((spent() - begun) / times[name])
            gc.collect()
    return {name: statistics.median(seconds) for name, seconds in taken.items()}


def main() -> int:
    """Print the table; with --check, exit with 1 where a ratio is beyond its guard."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench")
    parser.add_argument("--check", action="store_true")
    parser.add_argument("--rounds", type=int, default=ROUNDS)
    parser.add_argument("--quick", action="store_true", help="leave out what takes long")
    args = parser.parse_args()
    goals = [goal for goal in GOALS if not (args.quick and goal.long)]
    seconds = measure(args.rounds, {name for goal in goals for name in (goal.of, goal.to)})
    print(f"{'work':54}{'ratio':>8}{'goal':>8}{'at most':>9}")
    slow = []
    for goal in goals:
        ratio = seconds[goal.of] / seconds[goal.to]
        wished = f"{goal.wished:8g}{goal.most:9g}" if goal.most else ""
        print(f"{goal.work:54}{ratio:8.1f}{wished}")
        if goal.guard and ratio > goal.guard:
            slow.append(goal.work)
    for name in slow:
        print(f"slower than the guard allows: {name}", file=sys.stderr)
    return 1 if args.check and slow else 0


if __name__ == "__main__":
    sys.exit(main())
