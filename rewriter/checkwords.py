"""Say a comparison in plain words, for a terminal or a pipe."""

from __future__ import annotations

from collections.abc import Iterator

from rewriter.comparison import CheckFinding, Comparison, EdgeComparison, PassageComparison
from rewriter.spans import SourceText, quote

_RESULTS = {
    "same": "same fabric",
    "within-one-row": "same fabric but for one row",
    "differs": "differs",
    "not-compared": "not compared",
}


def comparison_text(found: Comparison, original: SourceText, revised: SourceText) -> str:
    """Return a comparison as text: the result, the findings, then each passage with its sizes."""
    lines = [f"{original.name} and {revised.name}: {_RESULTS[found.result]}"]
    if not found.passages:
        lines.append("No stepped bind-offs were found in the original.")
    if found.findings:
        lines.append("")
    lines += [_finding(f, found, original, revised) for f in found.findings]
    for passage in found.passages:
        lines += ["", *_passage(passage, found, original, revised)]
    return "\n".join(lines).rstrip() + "\n"


def _finding(
    found: CheckFinding, whole: Comparison, original: SourceText, revised: SourceText
) -> str:
    places = []
    if found.revised_line is not None:
        places.append(f"{revised.name} line {found.revised_line}")
    if found.original_line is not None:
        places.append(f"{original.name} line {found.original_line}")
    sizes = ""
    if found.sizes and len(found.sizes) < len(whole.sizes):
        sizes = f" (size{'s' if len(found.sizes) > 1 else ''} {', '.join(found.sizes)})"
    elif found.sizes:
        sizes = " (all sizes)"
    quoted = ""
    if found.revised_span is not None:
        words = revised.text[found.revised_span[0] : found.revised_span[1]]
        quoted = f" “{quote(words)}”" if words.strip() else ""
    elif found.original_span is not None:
        quoted = f" “{quote(original.text[found.original_span[0] : found.original_span[1]])}”"
    about = f"{found.passage}: " if found.passage else ""
    place = f"{', '.join(places)}: " if places else ""
    return f"{place}{found.severity}: {about}{found.message}{sizes}{quoted}"


def _passage(
    passage: PassageComparison, whole: Comparison, original: SourceText, revised: SourceText
) -> Iterator[str]:
    places = f"{original.name} line {original.place(passage.original_span[0])[0]}"
    if passage.revised_span is not None:
        places += f", {revised.name} line {revised.place(passage.revised_span[0])[0]}"
    unchanged = "" if passage.changed else ", unchanged"
    yield f"{passage.id} ({places}): {_RESULTS[passage.result]}{unchanged}"
    if not passage.edges:
        return
    width = max(len(s) for s in whole.sizes)
    for i, size in enumerate(whole.sizes):
        told = [_edge(edge, i, passage) for edge in passage.edges]
        neck = passage.neck_gained[i] if passage.neck_gained else None
        if neck is not None and len(passage.edges) == 2:
            told.append(f"neck {neck:+d}" if neck else "neck 0")
        yield f"  {size:<{width}}  {'; '.join(told)}"


def _edge(edge: EdgeComparison, size: int, passage: PassageComparison) -> str:
    name = f"{edge.edge} edge" if len(passage.edges) > 1 and edge.edge != "unknown" else "edge"
    steps = " + ".join(map(str, edge.steps[size]))
    turns = ", ".join(f"{t.unworked} on row {t.row}" for t in edge.turns[size]) or "none"
    gained = edge.gained[size]
    rows = "not worked" if not gained else ", ".join(f"{c.sts} sts {c.rows:+d}" for c in gained)
    if gained and all(c.rows == 0 for c in gained):
        rows = "0"
    return f"{name} {steps}: turns {turns}; rows gained {rows}"
