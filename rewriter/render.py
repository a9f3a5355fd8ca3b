"""Say a report in plain words, for a terminal or a pipe."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence

from rewriter.report import Diagnostic, EdgeReport, PassageReport, Report
from rewriter.rowsgained import beside_the_shoulders
from rewriter.spans import SourceText, quote

COURTESY = (
    "A pattern's text is usually someone's copyright: revise it for your own use, or with the "
    "designer's leave."
)
SWATCH = "Short rows can break a stitch pattern: try them in a swatch first."
MARKERS = "Take out all markers and pins before the garment is worn, above all a baby's."


def needle_map(passage: PassageReport, size: int) -> str:
    """Return the sts of one size in working order of the first short row.

    Steps of a shoulder are parted by a dot, shoulder and neck by a double bar; "?" stands for a
    number that is not known.
    """
    edges = passage.edges
    if not edges:
        return ""
    steps = [_steps(edge, size) for edge in edges]
    if passage.cast_on:  # these are told from the neck outward
        steps = [sts[::-1] for sts in steps]
    first = steps[0]
    if len(edges) == 1:
        return " · ".join(map(str, reversed(first)))
    second = steps[1]
    neck = str(passage.neck[size]) if passage.neck else "?"
    return f"{' · '.join(map(str, second))} ‖ {neck} ‖ {' · '.join(map(str, reversed(first)))}"


def _steps(edge: EdgeReport, size: int) -> list[int]:
    return [step[size] for step in edge.even_steps or edge.steps if step[size]]


_VERDICTS = {
    "same": "same fabric",
    "within-one-row": "same fabric but for one row",
    "differs": "the fabric differs",
    "not-run": "not worked",
}


def verdict(passage: PassageReport, size: int) -> str:
    """Return what the proof showed for one size, in words."""
    proof = passage.verification
    words = _VERDICTS[proof.result]
    if proof.against == "even steps":
        most = proof.most_rows_moved[size]
        rows = "row" if most == 1 else "rows"
        words += f" as with even steps, up to {most} {rows} from the draft's" if most else ""
    gained = [e.rows_gained[size] for e in passage.edges]
    if passage.status == "rewritten" and any(gained):
        each = f"{gained[0]:+d}" if len(set(gained)) == 1 else ", ".join(f"{g:+d}" for g in gained)
        words += f"; shoulders {each} row"
    beside = beside_the_shoulders(proof, size) if passage.status == "rewritten" else []
    return "; ".join([words, *beside])


def _place(source: SourceText, span: Sequence[int]) -> str:
    return source.where(span[0])


def _diagnostic(found: Diagnostic, source: SourceText) -> str:
    words = source.text[found.span[0] : found.span[1]]
    named = repr(quote(words)) in found.message
    quoted = f" “{quote(words)}”" if words.strip() and not named else ""
    sizes = f" (size {', '.join(found.sizes)})" if found.sizes else ""
    return f"{_place(source, found.span)}: {found.severity}: {found.message}{sizes}{quoted}"


def _can_be_answered(passage: PassageReport, report: Report) -> bool:
    """Say whether an answer settles what is asked of a passage; otherwise its words must change."""
    return any(q.passage == passage.id and q.ask for q in report.questions)


def _status_line(passage: PassageReport, report: Report, source: SourceText) -> str:
    done = {
        "rewritten": "rewritten and verified",
        "left": "left as it is",
        "question": "needs an answer",
    }[passage.status]
    if passage.status == "question" and not _can_be_answered(passage, report):
        done = "must be put right in the draft"
    reason = f": {passage.reason}" if passage.reason else ""
    return f"{source.named_place(passage.span[0])}: {passage.id}: {done}{reason}"


def describe(report: Report, source: SourceText, brief: bool = False) -> str:
    """Return the report as text: passages, proofs and diagnostics; only what matters when brief."""
    lines = [
        _status_line(p, report, source) for p in report.passages if not brief or _matters(p, report)
    ]
    if not brief:
        for passage in report.passages:
            if passage.status == "rewritten":
                lines += ["", *_proof_lines(passage, report)]
        lines.append("")
    lines += [_diagnostic(d, source) for d in report.diagnostics if not brief or _tell(d, report)]
    if any(p.status == "rewritten" for p in report.passages):
        sloped = report.options.to == "short-rows" and not brief
        lines += [MARKERS, SWATCH, COURTESY] if sloped else [COURTESY]
    return "\n".join(lines).strip("\n") + "\n" if lines else ""


def _matters(passage: PassageReport, report: Report) -> bool:
    return passage.kind in report.options.kinds or passage.status == "question"


def _tell(found: Diagnostic, report: Report) -> bool:
    return found.severity != "remark" or found.code in (
        "nothing-found", "already-short-rows", "side-not-told", "row-before",
        "already-steps", "seam-not-told", "abbreviation-unused", "markers-unused",
    )  # fmt: skip


def _proof_lines(passage: PassageReport, report: Report) -> Iterator[str]:
    yield f"{passage.id}:"
    width = max(len(s) for s in report.sizes)
    for i, size in enumerate(report.sizes):
        yield f"  {size:<{width}}  {needle_map(passage, i)}  {verdict(passage, i)}"


def show_reading(report: Report, source: SourceText) -> None:
    """Write a reading to standard output: tables on a terminal, plain lines in a pipe."""
    if sys.stdout.isatty():
        _show_tables(report, source)
        return
    sys.stdout.write(reading_text(report, source))


def reading_text(report: Report, source: SourceText) -> str:
    """Return a reading as plain text."""
    lines = [f"{report.terms} terms; sizes: {', '.join(report.sizes)}"]
    for passage in report.passages:
        lines += ["", f"{_place(source, passage.span)}: {passage.piece}, {passage.kind}"]
        lines.append(f"  {_outcome(passage, report)}")
        lines += [f"  {text}" for text in _edge_lines(passage)]
        for i, size in enumerate(report.sizes):
            if passage.edges:
                before = passage.stitches_before[i] if passage.stitches_before else "?"
                lines.append(f"  size {size}: {before} sts: {needle_map(passage, i)}")
    lines += ["", *(_diagnostic(d, source) for d in report.diagnostics)]
    return "\n".join(lines).rstrip() + "\n"


def _outcome(passage: PassageReport, report: Report) -> str:
    if passage.status == "question":
        asked = _can_be_answered(passage, report)
        return f"{'question' if asked else 'to be put right in the draft'}: {passage.reason}"
    return passage.reason or passage.status


def _edge_lines(passage: PassageReport) -> Iterator[str]:
    for edge in passage.edges:
        side = f"a {edge.first_bind_off_side} row" if edge.first_bind_off_side else "side not told"
        turns = max((len(t) for t in edge.turns), default=0)
        done = "cast-on" if passage.cast_on else "bind-off"
        yield f"{edge.edge} edge: first {done} on {side}; {turns} turns"


def _show_tables(report: Report, source: SourceText) -> None:
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False)
    console.print(Text(f"{report.terms} terms; sizes: {', '.join(report.sizes)}"))
    for passage in report.passages:
        title = f"{passage.piece}, {passage.kind} ({_place(source, passage.span)})"
        console.print()
        console.print(Text(title, style="bold"))
        console.print(Text(_outcome(passage, report)))
        for text in _edge_lines(passage):
            console.print(Text(text))
        if not passage.edges:
            continue
        table = Table("size", "sts before", "needle, in working order of the first short row")
        for i, size in enumerate(report.sizes):
            before = str(passage.stitches_before[i]) if passage.stitches_before else "?"
            table.add_row(Text(size), Text(before), Text(needle_map(passage, i)))
        console.print(table)
    console.print()
    for found in report.diagnostics:
        console.print(Text(_diagnostic(found, source)))
