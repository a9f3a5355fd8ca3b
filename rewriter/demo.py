"""Show the main job on a sample draft: before, after, and the proof (`make demo`)."""

from __future__ import annotations

import argparse
import difflib
from importlib.resources import files

from rewriter.options import JOINS, TURNS, Options
from rewriter.pipeline import rewrite_text
from rewriter.render import COURTESY, MARKERS, SWATCH, needle_map, verdict
from rewriter.samples import SAMPLE
from rewriter.source import read_source


def main(arguments: list[str] | None = None) -> None:
    """Print the changed paragraphs of the sample before and after, and the proof for each size."""
    parser = argparse.ArgumentParser(prog="rewriter.demo", description=__doc__)
    parser.add_argument("--turn", choices=TURNS, default="german")
    parser.add_argument("--shoulders", choices=JOINS, default="sewn")
    args = parser.parse_args(arguments)
    data = (files("rewriter.samples") / SAMPLE).read_bytes()
    source = read_source(data, SAMPLE)
    report = rewrite_text(source, Options(turn=args.turn, shoulders=args.shoulders))
    before, after = _paragraphs(source.text), _paragraphs(report.output)
    print(f"A draft of {len(before)} paragraphs; turning method: {args.turn}; {args.shoulders}.")
    for op, a, b, c, d in difflib.SequenceMatcher(None, before, after).get_opcodes():
        if op == "equal":
            continue
        _show("before", before[a:b])
        _show("after", after[c:d])
    for passage in report.passages:
        if passage.status != "rewritten":
            continue
        print(
            f"\n--- {passage.piece}: needle in working order of the first short row, and proof ---"
        )
        for i, size in enumerate(report.sizes):
            print(f"  size {size}:  {needle_map(passage, i)}   {verdict(passage, i)}")
    print(f"\n{MARKERS}\n{SWATCH}\n{COURTESY}")


def _paragraphs(text: str) -> list[str]:
    return [p for p in text.split("\n\n") if p.strip()]


def _show(title: str, paragraphs: list[str]) -> None:
    print(f"\n--- {title} ---")
    print("\n".join(paragraphs))


if __name__ == "__main__":
    main()
