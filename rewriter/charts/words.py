"""What a chart says in words: its headings, its notes, and the whole of it for those who do not see it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from rewriter.charts.model import Chart
from rewriter.charts.passes import Pass, Stretch
from rewriter.fabric import Fate
from rewriter.rows import Edge

Terms = Literal["UK", "US"]


@dataclass(frozen=True, slots=True)
class Words:
    """The trade's words on one side of the ocean."""

    bind: str
    bound: str
    gauge: str
    colour: str


WORDS: dict[Terms, Words] = {
    "UK": Words("cast off", "cast off", "tension", "colour"),
    "US": Words("bind off", "bound off", "gauge", "color"),
}


def sts(count: int) -> str:
    """Return "1 st" or "8 sts"."""
    return f"{count} st" if count == 1 else f"{count} sts"


def listed(items: Sequence[object]) -> str:
    """Return "7, 7 and 8"."""
    told = [str(i) for i in items]
    return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"


def headings(charts: Sequence[Chart], size: str) -> list[str]:
    """Return the titles of charts, told apart where they would be the same."""
    plain = [heading(c, size) for c in charts]
    out = []
    for index, (chart, title) in enumerate(zip(charts, plain, strict=True)):
        which = f", {plain[: index + 1].count(title)} of {plain.count(title)}"
        out.append(heading(chart, size, which) if plain.count(title) > 1 else title)
    return out


def heading(chart: Chart, size: str, which: str = "") -> str:
    """Return the title of a chart: piece, half or `which` of several, size."""
    half = f", {chart.half}" if chart.half else which
    told = "" if size == "one size" else f", size {size}"
    named = chart.piece not in ("unknown", "other")
    kind = "" if chart.kind == "shoulder" else f", {chart.kind}"
    name = f"{chart.piece}{kind}" if named else chart.kind
    return f"{name[0].upper()}{name[1:]}{half}{told}"


def scale(chart: Chart, terms: Terms) -> str:
    """Return what the heights are drawn to."""
    if chart.ratio.assumed:
        return f"The scale is assumed: {chart.ratio.words}."
    return f"Drawn to the draft’s {WORDS[terms].gauge}, {chart.ratio.words}."


def notes(chart: Chart) -> list[str]:
    """Return what must be known to read the chart, beside its legend."""
    out = []
    if chart.first_side is None:
        out.append(
            "The draft does not say on which side its shaping begins: drawn as if on a RS row."
        )
    if chart.gap is not None:
        out.append(
            "Both sides of the neck are in work at once, each with its own ball of yarn; the neck was "
            "taken off before, and the gap is not to scale."
        )
    if chart.stitches is None:
        what = "the neck" if chart.beside_is_neck else "the rest"
        out.append(f"The draft does not tell the sts of {what}: its width is not to scale.")
    out += _gained(chart)
    if chart.shared:
        first = chart.passes[0].row or 1
        rows = f"Row {first} is" if chart.shared == first else f"Rows {first} to {chart.shared} are"
        out.append(f"{rows} worked over both sides of the neck; only this side is drawn.")
    return out


def fate_words(fate: Fate, terms: Terms) -> str:
    """Return what is done to sts that leave the needle."""
    if fate == "held":
        return "hold"
    if fate == "decreased":
        return "decrease"
    return WORDS[terms].bind


def _gained(chart: Chart) -> list[str]:
    """Say where columns have more or fewer rows than in the draft."""
    if chart.respaced:
        return ["The sts are spread evenly, so some columns differ from the draft by some rows."]
    out = []
    for edge, rows in chart.gained:
        part = f"{part_words(chart, edge)}" if edge else beside_words(chart)
        for gain in sorted({r for r in rows if r}):
            some = "" if len(set(rows)) == 1 else f"{sts(rows.count(gain))} of the "
            more = f"{abs(gain)} {'row' if abs(gain) == 1 else 'rows'} {'more' if gain > 0 else 'fewer'}"
            out.append(f"{some}{part} {more}")
    return [f"Against the draft: {'; '.join(out)}."] if out else []


def part_words(chart: Chart, edge: Edge) -> str:
    """Return the name of what an edge shapes; left and right are those of the drawing."""
    return f"{chart.kind} at the {edge}-hand edge" if len(chart.edges) > 1 else chart.kind


def off_words(chart: Chart, columns: Stretch, fate: Fate, terms: Terms) -> str:
    """Return "bind off 22", without the number where it is not known."""
    count = chart.counted(columns)
    return fate_words(fate, terms) + (f" {count}" if count is not None else "")


def beside_words(chart: Chart) -> str:
    """Return the name of the sts beside the steps."""
    return "neck" if chart.beside_is_neck else "kept"


def ends(chart: Chart, terms: Terms) -> str:
    """Return what becomes of the sts of a shoulder: in one sweep, or kept live."""
    columns = range(chart.steps[0].columns[0], sum(chart.steps[0].columns))
    for row in chart.passes:
        for (first, count), fate in row.off:
            if first <= columns[0] < first + count:
                return f"{WORDS[terms].bound} in one sweep" if fate == "bound off" else "kept live"
    return "kept on the needle"


def description(chart: Chart, title: str, terms: Terms) -> str:
    """Return all that a chart of this title shows, in sentences."""
    out = [f"{title}, right side facing.", *notes(chart)]
    if chart.stitches is not None:
        verb = "is" if chart.stitches == 1 else "are"
        out.append(f"{sts(chart.stitches)} {verb} {_where(chart)} before the first row.")
    for edge in chart.edges:
        own = chart.sts_of(edge)
        told = f"{len(own)} steps of {listed(own)}" if len(own) > 1 else "a single step"
        out.append(
            f"{edge.capitalize()}-hand edge: {sts(sum(own))} in {told}, counted from the outer edge inward."
        )
    if chart.beside is not None and chart.stitches is not None:
        out.append(f"{beside_words(chart).capitalize()}: {sts(chart.beside[1])}.")
    for steps in chart.own_steps:
        rows = [r - chart.first_row + 1 for r in steps.rows]
        word = "row" if len(rows) == 1 else "rows"
        out.append(
            f"In the draft the {steps.edge}-hand edge is in stairs: {listed(steps.sts)} sts "
            f"{WORDS[terms].bound} on {word} {listed(rows)} of this chart."
        )
    out.append(f"In short rows it is one slope, {ends(chart, terms)}. The rows in order:")
    out += [row_words(chart, told, terms) for told in chart.passes]
    places = sorted({m.place for m in chart.markers})
    if places:
        out.append(f"Markers hang before the first row at {len(places)} places: where steps end.")
    return " ".join(out)


def on_needle(chart: Chart) -> list[str]:
    """Return the line under the heading: the sts before the first row, and the edge of a single slope."""
    edge = chart.edges[0] if chart.first_side and len(chart.edges) == 1 else None
    shaped = [f"shaped at the {edge}-hand edge"] if edge else []
    told = [f"{sts(chart.stitches)} {_where(chart)}"] if chart.stitches is not None else []
    line = ", ".join([*told, *shaped])
    return [f"{line[0].upper()}{line[1:]}."] if line else []


def _where(chart: Chart) -> str:
    return "on this side" if chart.half else "on the needle"


def row_words(chart: Chart, told: Pass, terms: Terms) -> str:
    """Return one row in a sentence."""
    joins = ["go on with the other ball"] if chart.two_balls else ["rejoin the yarn"]
    does = joins if told.rejoins else []
    does += [f"{fate_words(fate, terms)} {_counted(chart, columns)}" for columns, fate in told.off]
    if told.worked is not None:
        worked = chart.worked(told)
        count = "the sts there" if worked is None else sts(worked)
        does.append(f"work {count} toward the {told.toward}")
    if told.unworked is not None:
        does.append(f"turn with {_counted(chart, told.unworked)} unworked")
    if told.cut:
        does.append("cut the yarn")
    if told.row is None:
        return f"{', '.join(does).capitalize()}."
    label = f"Row {told.row}" + (f" ({told.side})" if told.side else "")
    return f"{label}: {', '.join(does)}."


def _counted(chart: Chart, columns: Stretch) -> str:
    count = chart.counted(columns)
    return "the sts there" if count is None else sts(count)
