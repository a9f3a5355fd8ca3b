"""The words and rows that all forms of a technical editing sheet share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rewriter.sheetmodel import Figures, Place, Sheet, SheetFinding, ShoulderSheet, Sum

ABOUT = {
    "reading": "reading",
    "sums": "sums",
    "sides": "sides",
    "joining": "joining",
    "slope": "slope",
    "gauge": "gauge",
    "lists": "size lists",
    "abbreviations": "abbreviations",
    "other": "other",
}
BESIDE = "the steps:"
"""What leads to the other place that a finding about a sum has."""

SLOPE_ROWS = "from the first row that binds off to the last, and the row after it"
"""How the rows of a slope are counted (common practice); two for each step, two rows apart."""
_SLOPE = f"worked out: {SLOPE_ROWS} (two for each step two rows apart)"


@dataclass(frozen=True, slots=True)
class Line:
    """One figure of a shoulder with a value for each size, and where it comes from."""

    name: str
    values: tuple[str, ...]
    origin: str = ""
    place: Place | None = None


def lines_of(shoulder: ShoulderSheet) -> list[Line]:
    """Return the figures of a shoulder in the order in which an editor adds them up."""
    out: list[Line] = []
    before = "begins with" if shoulder.cast_on else "sts before"
    if shoulder.before is not None:
        out.append(_line(before, shoulder.before))
    edges = shoulder.edges
    alike = len(edges) == 2 and _values(edges[0].steps) == _values(edges[1].steps)
    for number, edge in enumerate(edges[:1] if alike else edges):
        name = ""
        if len(edges) == 2:
            told = ("first", "second")[number] if edge.edge == "unknown" else edge.edge
            name = ", each edge" if alike else f", {told} edge"
        for n, step in enumerate(edge.steps, 1):
            out.append(_line(f"step {n}{name}", step))
        out.append(
            Line(f"shoulder{name}", tuple(map(str, edge.total)), "worked out: its steps together")
        )
    if shoulder.neck is not None:
        one = "beside the shoulder" if len(edges) == 1 else "neck"
        out.append(_line(one, shoulder.neck))
    if edges:
        rows = [max(n) for n in zip(*(e.slope_rows for e in edges), strict=True)]
        out.append(Line("rows of the slope", tuple(str(n) if n else "–" for n in rows), _SLOPE))
    if any(shoulder.depth):
        cm = tuple(f"{d.cm:.1f}" if d else "–" for d in shoulder.depth)
        inches = tuple(f"{d.inches:.2f}" if d else "–" for d in shoulder.depth)
        note = f"worked out: {shoulder.depth_note}"
        out += [Line("depth, cm", cm, note), Line("depth, in", inches, "the same")]
    return out


def _values(steps: Sequence[Figures]) -> list[tuple[int | None, ...]]:
    return [step.values for step in steps]


def _line(name: str, figures: Figures) -> Line:
    values = tuple("?" if n is None else str(n) for n in figures.values)
    origin = figures.origin + (f": {figures.how}" if figures.how else "")
    return Line(name, values, origin, figures.place)


def verdict(one: Sum) -> str:
    """Return what became of a sum, in words."""
    if one.result == "nothing to compare":
        return "no other count to compare" + (f" ({one.against})" if one.against else "")
    if one.result == "agrees":
        return f"agrees with {one.against}"
    return f"DIFFERS from {one.against}"


def depth_words(shoulder: ShoulderSheet, sizes: Sequence[str]) -> Iterator[str]:
    """Yield the arithmetic of the depths, sizes alike together; why there is none where there is none."""
    groups: dict[str, list[str]] = {}
    for size, depth in zip(sizes, shoulder.depth, strict=True):
        words = "a single step, so no slope" if depth is None else depth.words
        groups.setdefault(words, []).append(size)
    if not any(shoulder.depth):
        square = all(n == 0 for e in shoulder.edges for n in e.slope_rows)
        yield "a single step, so no slope" if square else shoulder.depth_note
        return
    for words, own in groups.items():
        yield words if len(groups) == 1 else f"{_sizes(own)}: {words}"
    yield f"its rows are counted {SLOPE_ROWS}"


def _sizes(labels: Sequence[str]) -> str:
    return f"size{'' if len(labels) == 1 else 's'} {', '.join(labels)}"


def tally(sheet: Sheet) -> str:
    """Return how many findings there are of each severity: "1 error, 3 remarks"."""
    out = []
    for severity in ("error", "warning", "remark"):
        n = sum(f.severity == severity for f in sheet.findings)
        if n:
            out.append(f"{n} {severity}{'' if n == 1 else 's'}")
    return ", ".join(out) or "none in what was compared"


def message(found: SheetFinding) -> str:
    """Return the words of a finding with the sizes that it is about."""
    told = len(found.sizes) == 1 and found.message.endswith(f"size {found.sizes[0]}")
    return f"{found.message} ({_sizes(found.sizes)})" if found.sizes and not told else found.message


VERDICTS = {
    "first": "the others are compared with it",
    "same": "same sts, same steps",
    "other steps": "same sts, other steps",
    "other sts": "OTHER STS: cannot be joined stitch for stitch",
}

ENDINGS = {
    "agrees": "agree",
    "contradicts": "CONTRADICT",
    "told once": "told once",
    "not told": "not told",
}


def list_words(sheet: Sheet) -> str:
    """Return what the lists for the sizes are like, in words."""
    told = sheet.lists
    if told.sizes == 1:
        return "one size, so no lists"
    wrong = sum(f.code == "list-length" for f in sheet.findings)
    words = f"{told.counted} lists with {told.sizes} entries, most written {told.notation}"
    return (
        f"{words}; of another length: {wrong}"
        if told.counted
        else f"{told.sizes} sizes; no list was read"
    )


def term_words(sheet: Sheet) -> str:
    """Return what the draft's list of abbreviations is like, in words."""
    told = sheet.abbreviations
    if told.found == "none":
        return "the draft has no list of abbreviations, so nothing was compared"
    if told.found == "not read":
        where = told.place.where if told.place else ""
        return f"the list ({where}) is in a form that is not read, so nothing was compared"
    count = {
        code: sum(f.code == f"abbreviation-{code}" for f in sheet.findings)
        for code in ("undefined", "unused", "twice")
    }
    return (
        f"{len(told.defined)} defined; used but not defined: {count['undefined']}; defined but not used: "
        f"{count['unused']}; defined twice: {count['twice']}"
    )


def gauge_words(sheet: Sheet) -> list[str]:
    """Return the draft's gauges in words, each with its place."""
    if not sheet.gauges:
        return ["none that could be read"]
    out = []
    for gauge in sheet.gauges:
        ratio = f"; {gauge.ratio:.2f} rows to a st" if gauge.ratio else ""
        out.append(f"{gauge.words}{ratio} ({gauge.place.where}: “{gauge.place.words}”)")
    return out


def compared_cell(total: int, steps: Sequence[int], rows: int) -> str:
    """Return the shoulder of one size for comparison: "7 + 7 + 8 = 22 over 6 rows"."""
    if len(steps) == 1:
        return str(total)
    return f"{' + '.join(map(str, steps))} = {total} over {rows} rows"
