"""The figures of each shoulder for a technical editor, with where each of them comes from."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from rewriter import regex
from rewriter.amounts import amount_pattern, read_amount
from rewriter.castonmodel import CastOnShaping
from rewriter.castons import CastOnPassage
from rewriter.counts import count_after, count_before, printed_wrong
from rewriter.doubt import Unread
from rewriter.halves import DividedShaping
from rewriter.places import place_of
from rewriter.reading import Draft, Finding
from rewriter.rows import Kind, Row, side_of
from rewriter.shaping import build_shaping
from rewriter.shapingmodel import Shaping
from rewriter.sheetmodel import EdgeFigures, Figures, Origin, Sum
from rewriter.spans import Span, view_of
from rewriter.twin import Steps

_FROM_BEFORE = "sts before, less what is bound off"
_LAST = "what the steps before leave"
_ROWS = "its rows follow from the sts before"


def model_of(draft: Draft, finding: Finding) -> Shaping | None:
    """Return the shaping model of a shoulder, also where nothing but its sums fails."""
    if finding.shaping is not None or finding.unread is None or finding.unread.code != "sums":
        return finding.shaping
    if isinstance(finding.passage, CastOnPassage) or finding.refers_to:
        return None
    try:
        return build_shaping(finding.passage, finding.lead_in, draft.sizes, finding.before)[0]
    except Unread:
        return None


def slope_rows(steps: Steps) -> int:
    """Return the rows over which a shoulder slopes: two for each step, where steps are two rows apart."""
    return 0 if len(steps.rows) < 2 else steps.rows[-1] - steps.rows[0] + 2


def before_figures(draft: Draft, finding: Finding, shaping: Shaping) -> Figures:
    """Return the sts on the needle where a shoulder starts."""
    told = count_before(finding.passage, len(draft.sizes))
    source = draft.document.source
    if isinstance(shaping, CastOnShaping):
        if shaping.begun is not None:
            return Figures(values=shaping.begun, origin="printed", how="cast on to begin with")
        if told is None:
            return Figures(values=shaping.stitches, origin="not known")
        return Figures(values=shaping.stitches, origin="printed", place=place_of(source, told[1]))
    if told is not None:
        one_side = shaping.two_edged and all(
            n == 2 * t for n, t in zip(shaping.stitches, told[0], strict=True)
        )
        how = "told for one side" if one_side else ""
        values = shaping.stitches if one_side else told[0]
        return Figures(values=values, origin="printed", how=how, place=place_of(source, told[1]))
    if any(n is None for n in shaping.stitches):
        return Figures(values=shaping.stitches, origin="not known")
    return Figures(
        values=shaping.stitches, origin="worked out", how="what is bound off and what is left"
    )


def edge_figures(draft: Draft, finding: Finding, shaping: Shaping, number: int) -> EdgeFigures:
    """Return the steps at one edge."""
    by_size = [edges[number] for edges in shaping.edges]
    most = max(len(s.sts) for s in by_size)
    first = min(s.rows[0] for s in by_size)
    return EdgeFigures(
        edge="unknown" if shaping.first_side is None else by_size[0].edge,
        first_side=side_of(first, shaping.first_side),
        steps=tuple(_step(draft, finding, shaping, number, j) for j in range(most)),
        total=tuple(s.total for s in by_size),
        slope_rows=tuple(slope_rows(s) for s in by_size),
    )


def _step(draft: Draft, finding: Finding, shaping: Shaping, number: int, j: int) -> Figures:
    values = tuple(
        edges[number].sts[j] if j < len(edges[number].sts) else 0 for edges in shaping.edges
    )
    source = draft.document.source
    if finding.refers_to is not None:
        return Figures(
            values=values,
            origin="worked out",
            how=f"as {finding.refers_to}",
            place=place_of(source, finding.passage.span),
        )
    size = next(i for i, n in enumerate(values) if n)
    row = _row_of_step(shaping, size, number, j)
    if row is None:
        return Figures(
            values=values, origin="printed", place=place_of(source, finding.passage.span)
        )
    place = place_of(source, row.span) if row.span is not None else None
    head = row.acts[0] if row.acts else None
    if (
        head is not None
        and head.n is None
        and row.claim is None
        and not _prints(draft, row, size, values[size])
    ):
        return Figures(values=values, origin="worked out", how=_LAST, place=place)
    if _goes_on_until(finding, row):
        told = _prints(draft, row, size, values[size])
        origin: Origin = "printed" if told else "worked out"
        return Figures(values=values, origin=origin, how=_ROWS, place=place)
    return Figures(values=values, origin="printed", place=place)


def _goes_on_until(finding: Finding, row: Row) -> bool:
    """Say whether a row is told by what is left in the end: "at beg of every row until 35 sts remain"."""
    if not 0 <= row.statement < len(finding.passage.statements):
        return False
    frames = finding.passage.statements[row.statement].frames
    extents = [extent for f in frames if (extent := f.one("extent")) is not None]
    return any(extent.kind in ("until_left", "until_none") for extent in extents)


def _row_of_step(shaping: Shaping, size: int, number: int, j: int) -> Row | None:
    """Return the row that binds a step off; None where the model keeps it in another form."""
    if isinstance(shaping, CastOnShaping):
        return None
    at = shaping.edges[size][number].rows[j] + 1
    rows = shaping.rows[size]
    if isinstance(shaping, DividedShaping):
        half = (shaping.first, shaping.second)[number]
        at, rows = half.edges[size][0].rows[j] + 1, half.rows[size]
    row = rows[at] if at < len(rows) else None
    return row if row is not None and row.has(Kind.BIND_OFF) else None


def _prints(draft: Draft, row: Row, size: int, sts: int) -> bool:
    """Say whether the words of a row print the sts that it binds off."""
    if row.span is None:
        return False
    text = view_of(draft.document.source.text, row.span).text
    for found in regex.finditer(amount_pattern(), text):
        values = read_amount(found.group(), Span(0, 0)).values
        if len(values) in (1, len(draft.sizes)) and values[size if len(values) > 1 else 0] == sts:
            return True
    return False


def neck_figures(draft: Draft, finding: Finding, shaping: Shaping) -> Figures | None:
    """Return the sts between two shoulders, or beside one; None where there are none."""
    if all(n == 0 for n in shaping.neck):
        return None
    source = draft.document.source
    if any(n is None for n in shaping.neck):
        return Figures(values=shaping.neck, origin="not known")
    told = count_before(finding.passage, len(draft.sizes))
    if isinstance(shaping, CastOnShaping):
        place = place_of(source, told[1]) if told else None
        return Figures(values=shaping.neck, origin="printed" if told else "worked out", place=place)
    if isinstance(shaping, DividedShaping):
        how = "the centre, and what is bound off and decreased at the neck edges"
        return Figures(values=shaping.neck, origin="worked out", how=how)
    ending = _ending_row(shaping)
    if ending is not None and (ending.claim is not None or ending.acts[0].n is not None):
        place = place_of(source, ending.span) if ending.span else None
        return Figures(values=shaping.neck, origin="printed", place=place)
    if shaping.two_edged and count_after(finding.passage, len(draft.sizes)) is not None:
        place = place_of(source, finding.passage.follows[0].span)
        return Figures(values=shaping.neck, origin="printed", place=place)
    last = next((r for r in reversed(shaping.rows[0]) if r.printed is not None), None)
    if last is not None and last.span is not None and _leaves(shaping):
        return Figures(values=shaping.neck, origin="printed", place=place_of(source, last.span))
    if any(row.printed is not None for rows in shaping.rows for row in rows):
        return Figures(values=shaping.neck, origin="worked out", how="from the running counts")
    how = _FROM_BEFORE
    return Figures(values=shaping.neck, origin="worked out", how=how)


def _leaves(shaping: Shaping) -> bool:
    """Say whether the last running count of every size is what the steps leave."""
    for rows, neck in zip(shaping.rows, shaping.neck, strict=True):
        printed = [row.printed for row in rows if row.printed is not None]
        if printed[-1:] != [neck]:
            return False
    return True


def _ending_row(shaping: Shaping) -> Row | None:
    """Return the row that binds off or holds what the steps leave."""
    last = shaping.rows[0][-1]
    taken = {row for steps in shaping.edges[0] for row in steps.rows}
    if not last.acts or len(shaping.rows[0]) - 2 in taken:
        return None
    return last if last.acts[0].kind in (Kind.BIND_OFF, Kind.HOLD) else None


def sums_of(
    shaping: Shaping,
    before: Figures,
    neck: Figures | None,
    edges: Sequence[EdgeFigures],
    sizes: int,
    passed: Sequence[int] | None = None,
    worked_out: Sequence[int] | None = None,
) -> tuple[Sum, ...]:
    """Do the sum of each size and compare it with what the draft prints.

    `passed` are the sts of a count after which sts are shaped; `worked_out` is what is left of them where
    that shaping is told plainly. Without it that count says nothing here.
    """
    figures = [neck, *(step for edge in edges for step in edge.steps)]
    follows = any(f.how in (_FROM_BEFORE, _LAST, _ROWS) for f in figures if f is not None)
    told = tuple(_sum(shaping, before, follows, i) for i in range(sizes))
    if before.origin == "printed" or passed is None:
        return told
    if worked_out is not None and not follows and not any(n is None for n in shaping.neck):
        return tuple(
            _beside_worked_out(one, shaping, i, (passed[i], worked_out[i]))
            for i, one in enumerate(told)
        )
    return tuple(
        one.model_copy(update={"against": f"after the {sts} printed before, more sts are shaped"})
        if one.result == "nothing to compare"
        else one
        for one, sts in zip(told, passed, strict=True)
    )


def _beside_worked_out(one: Sum, shaping: Shaping, size: int, told: tuple[int, int]) -> Sum:
    """Compare a sum with a count printed before (`told`: that, and what is left of it at the shoulder)."""
    off = sum(row.off_at_neck for row in shaping.rows[size][1:])
    whole = sum(s.total for s in shaping.edges[size]) + off + (shaping.neck[size] or 0)
    if one.result != "nothing to compare":
        return one
    result: Literal["agrees", "differs"] = "agrees" if whole == told[1] else "differs"
    against = (
        f"the {told[0]} sts printed before, less the {told[0] - told[1]} that are shaped after them"
    )
    return one.model_copy(update={"result": result, "against": against})


def _sum(shaping: Shaping, before: Figures, follows: bool, size: int) -> Sum:
    """Do the sum of one size; `follows` says that a figure in it follows from the sts before."""
    edges = shaping.edges[size]
    grows = isinstance(shaping, CastOnShaping)
    off = 0 if grows else sum(row.off_at_neck for row in shaping.rows[size][1:])
    if isinstance(shaping, DividedShaping):
        off = 0  # it is in the neck's figure
    left = shaping.neck[size]
    parts = _shoulder_sums(edges)
    totals = [s.total for s in edges]
    if left is None:
        return Sum(words="; ".join(parts), result="nothing to compare")
    whole = sum(totals) + off + left
    terms = (
        [f"2 × {totals[0]}"] if len(totals) == 2 and totals[0] == totals[1] else [*map(str, totals)]
    )
    if off:
        terms.append(f"{off} at the neck edge")
    if left:
        terms.append(str(left))
    if len(terms) > 1 or len(totals) > 1:
        parts.append(f"{' + '.join(terms)} = {whole}")
    words = "; ".join(parts)
    if grows:
        # a model whose running counts fail is not made
        told = any(row.printed is not None for row in shaping.rows[size])
        if told:
            return Sum(words=words, result="agrees", against="the count printed after it")
        return Sum(words=words, result="nothing to compare")
    if wrong := printed_wrong(shaping.rows[size][1:], whole):
        return Sum(words=words, result="differs", against=f"a running count: {wrong[0]}")
    count = before.values[size]
    if before.origin == "printed" and count is not None and (count != whole or not follows):
        result: Literal["agrees", "differs"] = "agrees" if count == whole else "differs"
        return Sum(words=words, result=result, against=f"the {count} sts printed before")
    if any(row.printed is not None for row in shaping.rows[size][1:]):
        return Sum(words=words, result="agrees", against="the running counts")
    return Sum(words=words, result="nothing to compare")


def _shoulder_sums(edges: Sequence[Steps]) -> list[str]:
    """Return the sum of each shoulder's steps; two alike are told once."""
    out: list[str] = []
    for steps in edges:
        words = " + ".join(map(str, steps.sts))
        if len(steps.sts) > 1:
            words += f" = {steps.total}"
        if words not in out:
            out.append(words)
    return [w for w in out if "=" in w] or ([] if len(edges) > 1 else out)
