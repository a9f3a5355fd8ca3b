"""A technical editing sheet as plain text."""

from __future__ import annotations

from collections.abc import Iterator

from rewriter.sheetmodel import Place, Sheet, ShoulderSheet
from rewriter.sheetscope import compared, not_compared
from rewriter.sheetwords import (
    ABOUT,
    BESIDE,
    ENDINGS,
    VERDICTS,
    compared_cell,
    depth_words,
    gauge_words,
    lines_of,
    list_words,
    message,
    tally,
    term_words,
    verdict,
)


def sheet_text(sheet: Sheet, name: str) -> str:
    """Return a sheet as text: findings first, then the figures of each shoulder.

    `name` is that of the draft.
    """
    lines = [f"TECHNICAL EDITING SHEET: {name}"]
    lines.append(f"{sheet.terms} terms; sizes: {', '.join(sheet.sizes)}")
    lines += ["", f"FINDINGS: {tally(sheet)}"]
    for found in sheet.findings:
        kind = f"{found.severity}, {ABOUT[found.about]}"
        beside = found.beside
        steps = f"; {BESIDE} {beside.where}{_quoted(beside)}" if beside else ""
        lines.append(
            f"  {found.place.where}: {kind}: {message(found)}{_quoted(found.place, found.message)}{steps}"
        )
    lines += ["", "COMPARED", *(f"  {words}" for words in compared(sheet) or ["nothing"])]
    lines += ["", "NOT COMPARED", *(f"  {words}" for words in not_compared(sheet))]
    for shoulder in sheet.shoulders:
        lines += ["", *_shoulder(shoulder, sheet)]
    if sheet.comparison or sheet.not_compared:
        lines += ["", *_comparison(sheet)]
    lines += ["", "GAUGE", *(f"  {words}" for words in gauge_words(sheet))]
    lines += ["", "SIZE LISTS", f"  {list_words(sheet)}"]
    lines += ["", "ABBREVIATIONS", f"  {term_words(sheet)}"]
    if sheet.others:
        lines += ["", "NOT ON THIS SHEET"]
        lines += [f"  {o.id} ({o.place.where}): {o.decided}" for o in sheet.others]
    return "\n".join(lines) + "\n"


def _quoted(place: Place, told: str = "") -> str:
    """Return the words of a place, unless what is told of it has them already."""
    return f" “{place.words}”" if place.words and f"{place.words!r}" not in told else ""


def _shoulder(shoulder: ShoulderSheet, sheet: Sheet) -> Iterator[str]:
    yield f"SHOULDER {shoulder.id} ({shoulder.place.where})"
    yield f"  taken for a shoulder: {shoulder.decided}"
    if shoulder.unread:
        yield f"  {'amiss' if shoulder.read else 'not read'}: {shoulder.unread}"
    table = lines_of(shoulder)
    if table:
        head = max(len(line.name) for line in table)
        widths = [
            max(len(size), *(len(line.values[i]) for line in table))
            for i, size in enumerate(sheet.sizes)
        ]
        labels = zip(sheet.sizes, widths, strict=True)
        yield f"  {'':<{head}}  {'  '.join(f'{s:>{w}}' for s, w in labels)}".rstrip()
        for line in table:
            cells = "  ".join(f"{v:>{w}}" for v, w in zip(line.values, widths, strict=True))
            told = f", {line.place.where}{_quoted(line.place)}" if line.place else ""
            yield f"  {line.name:<{head}}  {cells}   {line.origin}{told}".rstrip()
    if shoulder.sums:
        yield "  sums"
        width = max(len(size) for size in sheet.sizes)
        for size, one in zip(sheet.sizes, shoulder.sums, strict=True):
            yield f"    {size:<{width}}  {one.words}: {verdict(one)}"
    if shoulder.read:
        for words in depth_words(shoulder, sheet.sizes):
            yield f"  depth of the slope: {words}"
    if shoulder.ending is not None:
        end = shoulder.ending
        yield f"  sides {ENDINGS[end.result]}: {end.words}"
        for place in (end.lead_in_place, end.label_place):
            if place is not None:
                yield f"    {place.where}{_quoted(place)}"


def _comparison(sheet: Sheet) -> Iterator[str]:
    yield "SHOULDERS COMPARED"
    width = max(len(size) for size in sheet.sizes)
    for one in sheet.comparison:
        sizes = f" ({', '.join(one.sizes)})" if one.sizes else ""
        yield f"  {one.name}: {VERDICTS[one.result]}{sizes}"
        for i, size in enumerate(sheet.sizes):
            yield f"    {size:<{width}}  {compared_cell(one.total[i], one.steps[i], one.slope_rows[i])}"
    for name in sheet.not_compared:
        yield f"  {name}: not compared"
