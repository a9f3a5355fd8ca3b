"""Write one side of a neck that is told by itself: the row before, the dividing row, the side's rows."""

from __future__ import annotations

from dataclasses import replace

from rewriter.dividedtext import asides, dividing_words
from rewriter.emitter import Writer
from rewriter.oneside import OneSideShaping
from rewriter.phrases import Job
from rewriter.planner import Plan


def write_one_side(job: Job, shaping: OneSideShaping, plan: Plan, told: str) -> list[str]:
    """Return the lines of the new text; `told` is the text of the draft.

    No markers are named: up to the dividing row the needle has two armhole edges.
    """
    writer = Writer(replace(job, numbered_from=None))
    writer.marked = False
    out = [writer.case(writer.note())] if writer.explains() else []
    for line in plan.lines:
        if line.number != 0:
            writer.names_edge = line.number > 0
            out.append(writer.row_line(line))
            continue
        dividing, sizes = shaping.dividing, range(len(shaping.rows))
        unworked = [shaping.edges[i][0].unworked(-1) for i in sizes]
        beyond = [
            shaping.total(i) - n + shaping.off_at_neck(i)
            for i, n in zip(sizes, unworked, strict=True)
        ]
        in_work = writer.listed([a + b for a, b in zip(unworked, beyond, strict=True)])
        words = dividing_words(writer, line, dividing, unworked, beyond, told, dividing.span.end)
        out += [words, *asides(shaping.told, told, in_work)]
    return [writer.finish(line) for line in out]
