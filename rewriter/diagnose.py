"""Findings about a draft that are neither a rewriting nor a refusal."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

from rewriter import regex
from rewriter.castonmodel import CastOnShaping
from rewriter.endings import ending_place
from rewriter.glued import parted
from rewriter.letters import letters_of
from rewriter.options import Options
from rewriter.reading import Draft, Finding
from rewriter.shapingmodel import Shaping
from rewriter.spans import Span


@dataclass(frozen=True, slots=True)
class Note:
    """A diagnostic with its place in the source; `sizes` are indexes, empty for all."""

    code: str
    severity: Literal["error", "warning", "remark"]
    message: str
    span: Span
    sizes: tuple[int, ...] = ()


@dataclass
class Notes:
    """Diagnostics collected on the way, in the order they were made."""

    all: list[Note] = field(default_factory=list)

    def error(self, code: str, message: str, span: Span, sizes: tuple[int, ...] = ()) -> None:
        """Add what is wrong in the draft."""
        self.all.append(Note(code, "error", message, span, sizes))

    def warn(self, code: str, message: str, span: Span, sizes: tuple[int, ...] = ()) -> None:
        """Add what the reader must know."""
        self.all.append(Note(code, "warning", message, span, sizes))

    def remark(self, code: str, message: str, span: Span, sizes: tuple[int, ...] = ()) -> None:
        """Add what the reader may want to know."""
        self.all.append(Note(code, "remark", message, span, sizes))


# Faults of the draft itself, as against words that are merely not read yet.
_FAULTS = frozenset({"sums", "sides-contradict", "odd-rows", "list-length", "rows-out-of-order"})


def diagnose(draft: Draft, notes: Notes, options: Options) -> None:
    """Add the diagnostics that reading alone gives."""
    if draft.sizes.disagreement and draft.sizes.span:
        notes.warn("size-line", draft.sizes.disagreement, draft.sizes.span)
    if pending := draft.document.source.pending:
        notes.remark("changes-pending", pending, Span(0, 0))
    _letters_written_out(draft, notes)
    for finding in draft.findings:
        if finding.kind != "shoulder" and finding.evidence.kind is not None:
            continue
        if finding.unread is not None:
            unread = finding.unread
            add = notes.error if unread.code in _FAULTS else notes.warn
            add(unread.code, unread.message, unread.span, unread.sizes)
        _slope_remarks(draft, finding, notes, options)
        _slips(finding, draft.document.source.text, notes)
    for passage in draft.short_rows:
        notes.remark(
            "already-short-rows", "already shaped in short rows; left as it is", passage.span
        )
    compare_shoulders(draft, notes)
    in_tables = _tables_of_rows(draft, notes)
    if not draft.findings and not draft.short_rows and not in_tables:
        notes.remark("nothing-found", "no stepped bind-offs were found in this text", Span(0, 0))


_BINDS_IN_TABLE = regex.compile(r"(?i)\b(?:(?:cast|bind)\s+off|bo|c/off|b/off)\s+\d")


def _tables_of_rows(draft: Draft, notes: Notes) -> bool:
    """Name the tables that tell rows with bind-offs, and say if there are any: tables are not read."""
    found = False
    for block in draft.document.blocks:
        if block.kind != "table":
            continue
        told = [
            n
            for n in block.span.of(draft.document.source.text).splitlines()
            if _BINDS_IN_TABLE.search(n)
        ]
        if len(told) > 1:
            notes.warn(
                "rows-in-table",
                "sts are bound off row by row in this table; tables are not read: write its rows as lines",
                block.span,
            )
            found = True
    return found


def _letters_written_out(draft: Draft, notes: Notes) -> None:
    """Say in which order new rows list the sizes, where the draft has letters of a table instead."""
    letters = letters_of(draft.document.source.text)
    told = [f for f in draft.findings if f.kind == "shoulder" and f.shaping is not None]
    if letters.values and told and len(draft.sizes) > 1:
        order = f": {', '.join(letters.names)}" if letters.names else ""
        notes.remark(
            "letters-written-out",
            "letters stand for numbers of a table here; new rows give the numbers of all sizes, in the "
            f"order of its columns{order}",
            told[0].passage.span,
        )


_SLIPS = regex.compile(
    r"(?i)\b(?:(?:cast|bind)(?:ing)?\s*(?:oft|of(?=\s\d)|of\s+f(?=\s)|0ff|oif|otf|ofi|oti)|castoff|bindoff|foil|foli|heg"
    r"|(?<=beg\.? )ot)\b"
)


def _slips(finding: Finding, source: str, notes: Notes) -> None:
    """Say which words of a damaged text were read as what they must have been."""
    span = finding.passage.span
    for found in _SLIPS.finditer(source, span.start, span.end):
        notes.remark(
            "slip-read",
            f"{found.group()!r} is read as {_meant(found.group())!r}",
            Span(found.start(), found.end()),
        )
    for found in regex.finditer(r"[A-Za-z]{8,}", source, pos=span.start, endpos=span.end):
        words = parted(found.group().lower())
        if len(words) > 1:
            notes.remark(
                "slip-read",
                f"{found.group()!r} is read as {' '.join(words)!r}",
                Span(found.start(), found.end()),
            )


def _meant(slip: str) -> str:
    """Return the word that a slip of the pen or of a scanner stands for."""
    short = {"foil": "foll", "foli": "foll", "heg": "beg", "ot": "of"}.get(slip.lower())
    if short is not None:
        return short if slip.islower() else short.capitalize()
    verb = slip.split()[0] if " " in slip else slip[:4]
    return f"{verb} off"  # "Cast of", "casting oft", "bindoff"


def _slope_remarks(draft: Draft, finding: Finding, notes: Notes, options: Options) -> None:
    shaping = finding.shaping
    if shaping is None or finding.kind != "shoulder":
        return
    span = finding.passage.span
    if shaping.first_side is None:
        notes.remark(
            "side-not-told",
            "the draft does not say on which side the shaping starts; the new text is worded so "
            "that it is true either way (to have the sides named, answer first-side)",
            span,
        )
    for inference in shaping.inferred:
        notes.remark("inferred", f"{inference.what}: {inference.because}", span)
    gaps = {
        later - earlier
        for edges in shaping.edges
        for s in edges
        for earlier, later in zip(s.rows, s.rows[1:], strict=False)
    }
    if any(gap > 2 for gap in gaps) and not options.respace:
        notes.remark(
            "steps-far-apart",
            "steps are more than two rows apart; the rows between turn again at the same place "
            "(or respace spreads the sts evenly over them)",
            span,
        )
    if shaping.last_on_return_row:
        notes.warn(
            "last-step-on-return-row",
            "the last step is bound off on the row after the one before it; no short rows make it "
            "exactly: its sts gain one row, all others none, and the piece is one row longer",
            span,
        )
    if isinstance(shaping, CastOnShaping):
        if options.respace:
            notes.remark("steps-not-spread", "steps that are cast on stay as they are", span)
        if any(b - a > 2 for e in shaping.edges for s in e for a, b in pairwise(s.rows)):
            notes.remark(
                "steps-far-apart",
                "steps are more than two rows apart; the rows between turn again at the same place",
                span,
            )
        return
    begins = min(s.rows[0] for edges in shaping.edges for s in edges) == 0
    exact = [m for m in finding.lead_in.mentions if m.fact != "about"]
    told = exact or finding.lead_in.absorbed or finding.before
    # "until armhole measures same as back": the back says where its straight rows end
    as_elsewhere = any(m.fact == "relative" for m in finding.lead_in.mentions)
    if begins and not told and not as_elsewhere and shaping.steps_most > 1:
        if ending_place(draft, finding, shaping) is not None:
            return  # the new text says how those rows end
        if finding.lead_in.length:
            notes.remark(
                "length-only",
                "these words name a length and no side: the first short row begins where that length is "
                "reached",
                finding.lead_in.span or span,
            )
        else:
            notes.remark(
                "row-before",
                "the first short row takes the place of the last row before this passage",
                span,
            )


def begins_beside(shaping: Shaping) -> bool:
    """Say whether a piece of one edge is cast on beside its steps: those may be the shoulder's too."""
    return isinstance(shaping, CastOnShaping) and not shaping.two_edged and any(shaping.neck)


def compare_shoulders(draft: Draft, notes: Notes) -> None:
    """Compare the shoulders of back and fronts, for each size."""
    known = [
        f
        for f in draft.findings
        if f.kind == "shoulder" and f.shaping is not None and not begins_beside(f.shaping)
    ]
    if len(known) < 2 or known[0].shaping is None:
        return
    first = known[0]
    for other in known[1:]:
        if other.shaping is None or first.shaping is None:
            continue
        wrong = [
            i
            for i in range(len(draft.sizes))
            if first.shaping.edges[i][0].total != other.shaping.edges[i][0].total
        ]
        if wrong:
            i = wrong[0]
            one, two = first.shaping.edges[i][0], other.shaping.edges[i][0]
            where = "" if len(draft.sizes) == 1 else f" in size {draft.sizes.labels[i]}"
            notes.warn(
                "shoulders-differ",
                f"{first.passage.piece} shoulder {' + '.join(map(str, one.sts))} = {one.total}, "
                f"{other.passage.piece} shoulder {' + '.join(map(str, two.sts))} = {two.total}"
                f"{where}: they cannot be joined stitch for stitch",
                other.passage.span,
                tuple(wrong),
            )
