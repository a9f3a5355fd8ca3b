"""A practice swatch: the shoulders of a garment in small, for learning the turns before they matter.

The swatch is a draft of its own, in the garment's words, rewritten and proven like any other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter.labels import Labels
from rewriter.needlemodel import Shoulder
from rewriter.needlerows import shoulders
from rewriter.options import Options
from rewriter.phrases import finished, wording
from rewriter.pipeline import Rework, rework
from rewriter.revise import Revision
from rewriter.rows import OTHER_SIDE, Side
from rewriter.source import read_source
from rewriter.stitchwork import Fabric
from rewriter.style import Style, measure_style
from rewriter.titles import title_of
from rewriter.worksheet import needle, worksheet
from rewriter.worksheethead import usual_meanings
from rewriter.worksheetmodel import NoSheet, Worksheet, words

FEWEST, MOST = 30, 40
"""Stitches of a swatch."""
_MOST_STEPS = 8
_LEAST_NECK = 6


@dataclass(frozen=True)
class Swatch:
    """The stitches of a practice swatch."""

    steps: tuple[int, ...]
    """At each edge, from the armhole inward."""
    neck: int

    @property
    def stitches(self) -> int:
        """Stitches to cast on."""
        return 2 * sum(self.steps) + self.neck


def scaled(steps: Sequence[int], neck: int | None) -> Swatch:
    """Return the steps of one shoulder and the neck in small, 30 to 40 sts in all.

    No step becomes larger, none that was the larger of two becomes the smaller, and none has fewer
    than 2 sts that had as many. Of more than 8 steps the first 8 are kept.
    """
    kept = list(steps[:_MOST_STEPS])
    beside = neck if neck is not None else sum(kept)
    share = min(1.0, (MOST - 4) / (2 * sum(kept) + beside))
    small = [max(min(2, n), round(n * share)) for n in kept]
    while 2 * sum(small) + _LEAST_NECK > MOST:
        small = [min(n, max(small) - 1) for n in small]
    room = MOST - 2 * sum(small)
    across = min(room, max(_LEAST_NECK, round(beside * share), FEWEST - 2 * sum(small)))
    return Swatch(tuple(small), across)


def practice_sheet(work: Rework, size: int, options: Options) -> Worksheet:
    """Return the worksheet of a swatch for one size of a rewritten draft; raises NoSheet without one."""
    told = [s for s in shoulders(work, size) if any(len(e.sts) > 1 for e in s.edges)]
    if not told:
        worksheet(work, size, options)  # says why nothing was rewritten
        raise NoSheet("this size has no slope to practise: its shoulders have a single step")
    garment = next((s for s in told if len(s.edges) == 2), told[0])
    revision = next(r for r in work.revisions if r.finding.id == garment.name)
    steps = garment.edges[0].sts
    other = _other_side(garment, work, size)
    whole = garment.whole if other or len(garment.edges) == 2 else None
    shoulder_sts = sum(garment.together) + (sum(other.together) if other else 0)
    swatch = scaled(steps, whole - shoulder_sts if whole else None)
    join = revision.plan.join  # what could be had, whatever was asked for
    own = replace(
        options,
        shoulders=join,
        exact_live=options.exact_live and join != "sewn",
        kinds=("shoulder",),
        respace=False,
        assume={},
    )
    draft = swatch_text(work, revision, garment, swatch, own)
    small = rework(read_source(draft.encode("utf-8"), "swatch.md"), own)
    if not small.revisions or any(
        p.verification.result != "same" for p in small.report.passages if p.status == "rewritten"
    ):
        raise NoSheet("a practice swatch could not be made and proven for this draft")
    sheet = worksheet(small, 0, own)
    return _described(sheet, work, garment, swatch, size, options)


def _described(
    sheet: Worksheet,
    work: Rework,
    garment: Shoulder,
    swatch: Swatch,
    size: int,
    options: Options,
) -> Worksheet:
    says = words()["practice"]
    steps = len(garment.edges[0].sts)
    same = len(swatch.steps) == steps
    how = says["same_steps"] if same else says["fewer_steps"].format(n=len(swatch.steps), m=steps)
    about = [f"{says['why'].format(steps=how)} {says['sides']}"]
    if [r.does for r in sheet_shoulder(sheet).rows] == [r.does for r in garment.rows]:
        about.append(says["rows"].format(piece=garment.piece))
    other = _other_side(garment, work, size)
    if any(s.half for s in shoulders(work, size)):
        about.append(says["divided"])
    fabric = _fabric(work, garment)
    revision = next(r for r in work.revisions if r.finding.id == garment.name)
    if revision.finding.fabric in ("patterned", "mixed"):
        about.append(says["patterned"].format(fabric=_named(fabric, work.report.terms)))
    label = work.draft.sizes.labels[size]
    of_size = f", size {label}" if len(work.draft.sizes) > 1 else ""
    live = any(len(p.ticks) == 2 for p in sheet.pieces)
    cast_on = says["cast_on"].format(n=swatch.stitches)
    told = [line.words for p in sheet.pieces for line in p.lines]
    told += [n for p in sheet.pieces for n in (*p.notes, p.lead_in)]
    return replace(
        sheet,
        title=f"{says['title']}: {title_of(work.draft.document)}",
        size=label if len(work.draft.sizes) > 1 else "",
        abbreviations=usual_meanings(work, [*told, *sheet.finish], options),
        pieces=tuple(
            replace(
                p,
                title=says["piece"] if live else says["piece_one"],
                lead_in=f"{cast_on} {p.lead_in[1:-1]}",
                begins=p.begins.replace(words()["says"]["both"], says["both"]),
                ticks=("1st", "2nd") if live else p.ticks,
            )
            for p in sheet.pieces
        ),
        finish=sheet.finish if live else (says["sewn"],),
        compared=(
            ("The swatch", needle(sheet_shoulder(sheet))),
            (f"{garment.piece.capitalize()}{of_size}", needle(garment, other=other)),
        ),
        about=tuple(about),
    )


def _other_side(garment: Shoulder, work: Rework, size: int) -> Shoulder | None:
    """Return the other side of a neck that is divided in the shoulder's rows."""
    sides = (s for s in shoulders(work, size) if s.name == garment.name)
    return next((s for s in sides if s.half != garment.half), None)


def sheet_shoulder(sheet: Worksheet) -> Shoulder:
    """Return the shoulders of a swatch."""
    found = sheet.pieces[0].shoulder
    assert found is not None
    return found


def _fabric(work: Rework, garment: Shoulder) -> Fabric:
    fabric = next(r for r in work.revisions if r.finding.id == garment.name).finding.fabric
    return fabric if fabric in ("garter", "reverse") else "stocking"


_FABRICS = {
    ("stocking", "UK"): "stocking stitch",
    ("stocking", "US"): "stockinette stitch",
    ("reverse", "UK"): "reverse stocking stitch",
    ("reverse", "US"): "reverse stockinette stitch",
}


def _named(fabric: Fabric, terms: str) -> str:
    return _FABRICS.get((fabric, terms), "garter stitch")


def swatch_text(
    work: Rework, revision: Revision, garment: Shoulder, swatch: Swatch, options: Options
) -> str:
    """Return the swatch as a stepped draft in Markdown, in the words of the garment's draft."""
    draft = work.draft
    style = measure_style(
        draft.document,
        revision.finding.passage,
        revision.shaping,
        draft.terms,
        options.spelling == "full",
    )
    first: Side = (garment.first_side or "RS") if garment.half or len(garment.edges) == 2 else "RS"
    fabric = _fabric(work, garment)
    side = {"RS": style.rs, "WS": style.ws}
    to_end = style.to_end
    faces = {"RS": style.knit, "WS": style.purl}
    if fabric == "garter":
        faces = {"RS": style.knit, "WS": style.knit}
    elif fabric == "reverse":
        faces = {"RS": style.purl, "WS": style.knit}
    labels = replace(style.labels, front="", mark=": ") if style.labels.front else style.labels
    rows = [_row(labels, side[s], f"{faces[s]} {to_end}") for s in ("RS", "WS")]
    length = "3 cm" if draft.terms == "UK" else "1 inch"
    live = options.shoulders != "sewn"
    lines = [
        "# Swatch",
        "## Back and front" if live else "## Back",
        f"Cast on {swatch.stitches} {style.unit}.",
        *rows,
        f"Work straight in {_named(fabric, draft.terms)} until work measures {length}, ending with a "
        f"{side[OTHER_SIDE[first]]} row.",
        "### Shape shoulders",
        _steps(swatch.steps, style),
        _neck(swatch.neck, style, revision),
        "## Making up",
        "Join shoulder seams.",
    ]
    return "\n\n".join(finished(line, style) if line[0] != "#" else line for line in lines) + "\n"


def _row(labels: Labels, side: str, text: str) -> str:
    first = text if labels.capital is False else text[0].upper() + text[1:]
    return labels.write(None, side) + first + "."


def _steps(steps: Sequence[int], style: Style) -> str:
    """Return the steps in one sentence: "Cast off 3 sts at beginning of next 4 rows, then 4 sts ..."."""
    table = wording()["steps"]
    runs: list[tuple[int, int]] = []
    for n in steps:
        if runs and runs[-1][0] == n:
            runs[-1] = (n, runs[-1][1] + 2)
        else:
            runs.append((n, 2))
    long = table["words"]
    out = []
    for i, (n, m) in enumerate(runs):
        template = table["both_then" if i else "both"]
        out.append(
            template.format(
                bo=style.bind_off,
                n=f"{n} {style.unit}",
                m=m,
                manner="",
                the="",
                beg=long["beg"],
                foll=long["foll"],
            )
        )
    text = table["then"].join(out)
    return f"{text[0].upper()}{text[1:]}."


def _neck(neck: int, style: Style, revision: Revision) -> str:
    n = f"{neck} {style.unit}"
    if revision.shaping.ending == "held":
        return f"Leave remaining {n} on a holder."
    return f"{style.bind_off[0].upper()}{style.bind_off[1:]} remaining {n}."
