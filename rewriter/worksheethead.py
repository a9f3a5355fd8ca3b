"""What stands around the rows of a worksheet: title, options, notions, turning method, joins, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rewriter import regex
from rewriter.cautions import cautions
from rewriter.document import Document
from rewriter.joins import seam_sentences
from rewriter.meanings import meanings
from rewriter.needlemodel import Shoulder
from rewriter.onesize import in_one_size
from rewriter.options import Options
from rewriter.phrases import wording
from rewriter.pipeline import Rework
from rewriter.render import COURTESY, MARKERS, SWATCH
from rewriter.spoken import spoken
from rewriter.style import Terms
from rewriter.titles import plain
from rewriter.worksheetmodel import words


def usual_meanings(
    work: Rework, texts: Sequence[str], options: Options
) -> tuple[tuple[str, str], ...]:
    """Return the abbreviations that some words of a sheet use, and those of its columns."""
    out = dict(meanings(work.draft.document, [*texts, "RS, WS, sts"], options))
    for key, means in words()["turn"][options.turn].get("keys", {}).items():
        if any(
            regex.compile_new(rf"(?i)(?<!\w){regex.escape(key)}(?!\w)").search(text)
            for text in texts
        ):
            out[key] = f"{means} (see how to turn)"
    return tuple(sorted(out.items(), key=lambda item: item[0].lower()))


def joins_of(work: Rework) -> set[str]:
    """Return how the shoulders are finished in the end: one way, or none."""
    return {r.plan.join for r in work.revisions if r.finding.kind == "shoulder"}


def finish(work: Rework, revised: Document, size: int) -> list[str]:
    """Return what the revised draft says of joining the shoulders, and how that goes."""
    sizes, uk = len(work.draft.sizes), work.draft.terms == "UK"
    joins, table = joins_of(work), words()["join"]
    seams = [
        without_heading(plain(in_one_size(s.text, size, sizes))) for s in seam_sentences(revised)
    ]
    if joins == {"held"}:
        seams = [words()["says"]["held"].format(words=s) for s in seams]
    explained = [table.get(f"{j}_uk", table[j]) if uk else table[j] for j in sorted(joins)]
    return list(dict.fromkeys([*seams, *explained]))


# "ARMBANDS: Join ...", "TO MAKE UP Join ...", "Finishing: Sew ...", "FINISHlNG—Sew ..." from a scan
_HEADING = regex.compile(
    r"(?:[A-Z][\w &/'-]{2,40}?:\s*|[A-Z][A-Zl &/'-]{3,40}?(?:\s*[\u2013\u2014-]+\s*|[.:]?\s+))(?=[A-Z][a-z])"
)


def without_heading(text: str) -> str:
    """Return a sentence without the heading that runs into it, which names a part of the draft."""
    found = _HEADING.match(text)
    return text[found.end() :] if found else text


def options_told(work: Rework, options: Options) -> tuple[tuple[str, str], ...]:
    """Return the options in words, as the rows follow them."""
    uk = work.draft.terms == "UK"
    table = words()["options"]
    joins = sorted({r.plan.join for r in work.revisions})
    told = [table.get(f"{j}_uk", table[j]) if uk else table[j] for j in joins]
    out = [
        ("Turning method", words()["turn"][options.turn]["name"]),
        ("Shoulders", "; ".join(told)),
    ]
    if options.respace:
        out.append(("Steps", "spread evenly over the rows there are"))
    return tuple(out)


def method(work: Rework, options: Options) -> tuple[tuple[str, str], ...]:
    """Return how the turning method goes: the turn, what follows it, and how it is closed."""
    table = words()["turn"][options.turn]
    garter = all(r.finding.fabric == "garter" for r in work.revisions)
    closing = [("To close it, RS row", table["right"]), ("To close it, WS row", table["wrong"])]
    if garter:
        closing = [("To close it", f"{words()['says']['garter']} {table['right']}")]
    return (("At the turn", table["at_turn"]), ("After it", table["after"]), *closing)


def cautions_told(work: Rework, options: Options) -> Iterator[str]:
    """Yield the cautions that this draft calls for, and those for all."""
    codes = {c.code for c in cautions()}
    told = {
        f"{said[:1].upper()}{said[1:].rstrip('.')}.": d.code
        for d in work.report.diagnostics
        for said in (spoken(d.message),)
        if (d.severity == "warning" or d.code in codes) and d.code != "sewn-though-held"
    }
    yield from told
    if "in-pattern" not in told.values():
        yield SWATCH
    yield words()["says"]["methods"]
    pinned = options.markers or options.turn == "japanese"
    if pinned and "markers-off" not in told.values():
        yield MARKERS
    yield COURTESY


# What sts are put on, in the words of drafts; "holder" is the usual one where nothing else is named.
_PUT_ON = (
    ("spare_needle", r"spare\s+(?:\w+\s+)?needle"),
    (
        "waste_yarn",
        r"(?:waste|scrap|contrast(?:ing)?)\s+yarn|(?:length|strand|piece)\s+of\s+(?:\w+\s+)?(?:yarn|wool|thread)",
    ),
    ("pin", r"safety[\s-]pin"),
    ("holders", r"holder"),
)
_BALL = r"(?:second|another|new|separate)\s+balls?|own\s+ball"


def needs(
    found: Sequence[Shoulder], turn: str, joins: set[str], terms: Terms, told: Sequence[str]
) -> tuple[str, ...]:
    """Return the notions that the rows of the sheet ask for; `told` are all their words."""
    table = wording()["notions"]
    says = words()["needs"]
    steps: dict[str, int] = {}
    edges: dict[str, int] = {}
    for s in found:
        steps[s.name] = steps.get(s.name, 0) + sum(len(e.sts) - 1 for e in s.edges)
        if any("second colo" in n for n in s.notes):
            edges[s.name] = edges.get(s.name, 0) + len(s.edges)
    out = []
    named = any("(marker)" in r.words for s in found for r in s.rows)
    n, m = max(steps.values(), default=0), max(edges.values(), default=0)
    if named and m:
        out.append(
            table["markers_two"].format(n=n, m=m, colour="colour" if terms == "UK" else "color")
        )
    elif named and n:
        out.append(table["marker" if n == 1 else "markers"].format(n=n))
    if turn == "japanese" and n:
        out.append(
            f"{n} more removable markers to pin the yarn" if named else table["markers"].format(n=n)
        )
    text = " ".join(told)
    kept = [name for name, pattern in _PUT_ON if regex.search(rf"(?i)\b{pattern}", text)]
    out += [says[name] for name in kept]
    if not kept and any(r.does == "hold" for s in found for r in s.rows):
        out.append(says["holders"])
    if regex.search(rf"(?i)\b(?:{_BALL})", text):
        out.append(says["ball"])
    if "three-needle" in joins:
        out.append(says["needle"])
    if joins & {"sewn", "graft"}:
        out.append(says["sewing"])
    return tuple(out)
