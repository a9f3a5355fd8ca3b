"""The command `slopewise chart`."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from rewriter.options import Options

if TYPE_CHECKING:
    from rewriter.charts.file import Format
    from rewriter.report import Report
    from rewriter.spans import SourceText


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what belongs to a chart alone; the options of a rewriting are added by the caller."""
    parser.add_argument("--size", metavar="SIZE", help="the size to draw, as the draft names it")
    parser.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        help="file to write: .svg, .png or .pdf (default: SVG on the screen)",
    )
    parser.add_argument(
        "--piece",
        metavar="PIECE",
        help="back, left-front …, or all, below one another (default: the first that was rewritten)",
    )
    parser.add_argument(
        "--order", action="store_true", help="draw the order of working too, row by row"
    )
    parser.set_defaults(to="short-rows")


@dataclass(frozen=True)
class Picture:
    """A chart as the bytes of a file, with the report it rests on."""

    data: bytes
    report: Report
    said: str
    """What is not drawn, or nothing."""


def chart(args: argparse.Namespace, source: SourceText, options: Options) -> Picture:
    """Return the chart that is asked for; raises NotDrawn where it cannot be made."""
    from rewriter.castonmodel import CastOnShaping
    from rewriter.charts.draw import draw
    from rewriter.charts.file import NotDrawn, charts_of, chosen, file_of, pieces
    from rewriter.pipeline import rework
    from rewriter.sizes import UnknownSize

    kind = _format(args.output)
    work = rework(source, options)
    if all(isinstance(r.shaping, CastOnShaping) for r in work.revisions):
        raise NotDrawn(f"there is nothing to draw: {_why_none(work.report, options)}")
    try:
        size = work.draft.sizes.index_of(args.size)
    except UnknownSize as error:
        raise NotDrawn(str(error)) from None
    charts = charts_of(work, size)
    drawn = chosen(charts, args.piece, _why_none(work.report, options))
    picture = draw(drawn, work.draft.sizes.labels[size], work.report.terms, order=args.order)
    others = [p for p in pieces(charts) if p not in pieces(drawn)]
    said = [f"--piece {p} draws that piece, --piece all every one" for p in others[:1]]
    said += [d.message for d in work.report.diagnostics if d.code == "bound-off-instead"]
    said += [f"not rewritten, so not drawn: {told}" for told in _open_ones(work.report, options)]
    return Picture(file_of(picture, kind), work.report, "\n".join(said))


def _format(output: str | None) -> Format:
    from rewriter.charts.file import FORMATS, NotDrawn

    if output is None:
        return "svg"
    ending = Path(output).suffix.casefold().removeprefix(".")
    for kind in FORMATS:
        if kind == ending:
            return kind
    raise NotDrawn(f"{output}: a chart is written as .svg, .png or .pdf; let the name end so")


def _open_ones(report: Report, options: Options) -> list[str]:
    """Return the passages of the kinds asked for that were not rewritten, with the reasons."""
    return [
        f"{p.id}: {p.reason}"
        for p in report.passages
        if p.status == "question" or (p.status == "left" and p.kind in options.kinds)
    ]


def _why_none(report: Report, options: Options) -> str:
    """Say why no passage of the kinds asked for can be drawn."""
    if any(p.status == "rewritten" for p in report.passages):
        return "the shoulders that were rewritten are cast on, and these are not drawn yet"
    told = _open_ones(report, options)
    if told:
        return "; ".join(told)
    return f"no steps of the kinds asked for ({', '.join(options.kinds)}) were found in the draft"
