"""How deep the slope of a shoulder is, by the draft's own gauge."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from rewriter import regex
from rewriter.gauge import Gauge, Gauges, Rate, in_figures
from rewriter.places import place_of
from rewriter.reading import Draft, Finding
from rewriter.sheetmodel import Depth, GaugeInfo, SheetFinding
from rewriter.spans import SourceText, Span
from rewriter.stitchwork import patterns_of

Wearer = Literal["adult", "child", "unknown"]

USUAL_CM: dict[Wearer, tuple[float, float]] = {
    "adult": (1, 5),
    "child": (0.5, 3),
    "unknown": (0.5, 5),
}
"""Depths of a shoulder's slope outside which an editor looks twice (common practice)."""

_CHILD = regex.compile(
    r"\b(?:bab(?:y|ies)|infants?|toddlers?|child(?:ren)?(?:'s)?|kids?|girls?|boys?|months?|mths?|years?|yrs?)\b"
)
_ADULT = regex.compile(
    r"\b(?:wom[ae]n(?:'?s)?|lad(?:y|ies)(?:'?s)?|m[ae]n(?:'?s)?|adults?|gentlem[ae]n(?:'?s)?)\b"
)


def wearer_of(draft: Draft) -> Wearer:
    """Say for whom a garment is, as the title and the size line tell; "unknown" where they do not."""
    head = [s.view.text for s in draft.document.sentences[:4]]
    place = draft.sizes.span
    if place is not None:
        head += [
            s.view.text
            for s in draft.document.sentences
            if s.span.start <= place.start < s.span.end
        ]
    words = " ".join(head)
    child, adult = bool(_CHILD.search(words)), bool(_ADULT.search(words))
    return "unknown" if child == adult else "child" if child else "adult"


def depth_of(rows: int, rate: Rate) -> Depth:
    """Return the length of so many rows by a gauge of rows, with the arithmetic written out."""
    cm, inches = rate.extent_cm(rows), rate.extent_inches(rows)
    times = "" if rate.length == 1 else f" × {in_figures(rate.length)}"
    own = cm if rate.unit == "cm" else inches
    sum_words = (
        f"{rows} rows ÷ {in_figures(rate.count)}{times} = {_rounded(own, rate.unit)} {rate.unit}"
    )
    other = f"{eighths(inches)} in" if rate.unit == "cm" else f"{_rounded(cm, 'cm')} cm"
    return Depth(
        rows=rows,
        cm=round(float(cm), 2),
        inches=round(float(inches), 2),
        words=f"{sum_words} ({other})",
    )


def _rounded(length: Fraction, unit: str) -> str:
    return f"{float(length):.{1 if unit == 'cm' else 2}f}".rstrip("0").rstrip(".")


def eighths(length: Fraction) -> str:
    """Return a length to the nearest eighth, as tape measures have them: "¾"."""
    return in_figures(Fraction(round(length * 8), 8))


def gauge_info(gauge: Gauge, source: SourceText) -> GaugeInfo:
    """Return a gauge for the public model."""

    def per_10_cm(rate: Rate | None) -> float | None:
        return None if rate is None else round(float(rate.per_cm * 10), 2)

    told = [rate.words(what) for rate, what in ((gauge.sts, "sts"), (gauge.rows, "rows")) if rate]
    return GaugeInfo(
        sts_per_10_cm=per_10_cm(gauge.sts),
        rows_per_10_cm=per_10_cm(gauge.rows),
        ratio=None if gauge.ratio is None else round(float(gauge.ratio), 3),
        words=", ".join(told),
        fabric=gauge.fabric,
        place=place_of(source, gauge.span),
    )


def depths(
    draft: Draft, finding: Finding, rows: Sequence[int], gauges: Gauges
) -> tuple[tuple[Depth | None, ...], str]:
    """Return the depth of a shoulder for each size, and what that rests on or why there is none."""
    none = (None,) * len(rows)
    gauge = gauges.for_fabric(finding.fabric)
    if gauge is None or gauge.rows is None:
        if any(g.rows for g in gauges.given):
            return (
                none,
                "the draft has several gauges; none of them is plainly that of this shoulder",
            )
        if gauges.given:
            return none, "the draft’s gauge tells sts, but no rows"
        return (
            none,
            "no gauge of the draft could be read" if gauges.cue else "the draft gives no gauge",
        )
    rate = gauge.rows
    found = tuple(depth_of(n, rate) if n else None for n in rows)
    note = f"rows ÷ row gauge ({rate.words('rows')})"
    if "unknown" not in (gauge.fabric, finding.fabric) and gauge.fabric != finding.fabric:
        note += f"; that gauge is over {_FABRICS[gauge.fabric]}, "
        note += f"the shoulder is in {_FABRICS[finding.fabric]}"
    elif gauge.fabric == finding.fabric == "patterned" and gauge.patterns:
        here = patterns_of(draft.document, finding.passage)
        if here != gauge.patterns:
            over = " and ".join(sorted(gauge.patterns))
            note += f"; that gauge is over {over}, the shoulder is in "
            note += " and ".join(sorted(here)) or _FABRICS["patterned"]
    return found, note


_FABRICS = {
    "stocking": "stocking stitch",
    "garter": "garter stitch",
    "reverse": "reverse stocking stitch",
    "patterned": "a stitch pattern",
    "mixed": "more than one stitch",
    "unknown": "no stitch that is named",
}


def slope_findings(
    draft: Draft, finding: Finding, found: Sequence[Depth | None]
) -> list[SheetFinding]:
    """Return a remark on slopes that are flatter or steeper than shoulders usually are."""
    low, high = USUAL_CM[wearer_of(draft)]
    out = []
    for words, odd in (
        ("flatter", [i for i, d in enumerate(found) if d and d.cm < low]),
        ("steeper", [i for i, d in enumerate(found) if d and d.cm > high]),
    ):
        if not odd:
            continue
        depth = found[odd[0]]
        out.append(
            SheetFinding(
                code="slope-unusual",
                about="slope",
                severity="remark",
                message=f"{words} than shoulders usually are: {depth.words if depth else ''}",
                place=place_of(draft.document.source, finding.passage.span),
                sizes=tuple(draft.sizes.labels[i] for i in odd),
            )
        )
    return out


# Rows to sts on one length: stocking stitch 1.2 to 1.5, garter stitch 2, patterns between (common practice).
_USUAL_RATIO = (Fraction(1), Fraction(11, 5))


def gauge_findings(draft: Draft, gauges: Gauges) -> list[SheetFinding]:
    """Return what an editor must know of the draft's gauge itself."""
    source = draft.document.source

    def finding(
        code: str, severity: Literal["warning", "remark"], message: str, span: Span
    ) -> SheetFinding:
        return SheetFinding(
            code=code,
            about="gauge",
            severity=severity,
            message=message,
            place=place_of(source, span),
        )

    out = []
    if gauges.no_length is not None:
        out.append(
            finding("gauge-no-length", "warning", "sts and rows, but no length", gauges.no_length)
        )
    elif not gauges.given and gauges.cue is not None:
        out.append(finding("gauge-not-read", "remark", "no gauge could be read here", gauges.cue))
    if gauges.given and not any(g.rows for g in gauges.given):
        message = "the gauge tells no rows, so the depth of a slope cannot be worked out"
        out.append(finding("gauge-no-rows", "remark", message, gauges.given[0].span))
    for gauge in gauges.given:
        ratio = gauge.ratio
        if ratio is not None and not _USUAL_RATIO[0] <= ratio <= _USUAL_RATIO[1]:
            message = f"{float(ratio):.2f} rows to a st: unusual; a misprint?"
            out.append(finding("gauge-unusual", "warning", message, gauge.span))
    return out
