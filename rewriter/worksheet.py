"""A worksheet for one size: what lies beside the knitting, row by row, with its counts.

The rows are those of `needlerows`, read from the revised text; a side or piece that the draft tells
only by another is worked out from that one (`mirror.py`), or printed again where it is alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.document import Sentence, split_document
from rewriter.edgenames import OPPOSITE
from rewriter.labels import without_label
from rewriter.leadin import read_lead_in
from rewriter.linked import matched_by
from rewriter.mirror import mirrored
from rewriter.needlehalves import in_one
from rewriter.needlemodel import NeedleRow, Shoulder
from rewriter.needlerows import shoulders
from rewriter.options import Options
from rewriter.phrases import wording
from rewriter.pipeline import Rework
from rewriter.reading import called
from rewriter.references import references
from rewriter.revise import Revision
from rewriter.rows import side_of
from rewriter.spans import line_starts
from rewriter.titles import title_of
from rewriter.worksheethead import (
    cautions_told,
    finish,
    joins_of,
    method,
    needs,
    options_told,
    usual_meanings,
)
from rewriter.worksheetmissing import missing, why_none
from rewriter.worksheetmodel import Line, Needle, NoSheet, PieceSheet, Worksheet, words
from rewriter.worksheetwords import DraftWords


def worksheet(work: Rework, size: int, options: Options, piece: str | None = None) -> Worksheet:
    """Return the worksheet of one size (counted from 0); `piece` keeps the pieces of that name.

    Raises NoSheet where there is nothing to knit by.
    """
    return _Maker(work, size, options).sheet(piece)


class _Maker:
    def __init__(self, work: Rework, size: int, options: Options) -> None:
        self.work, self.size, self.options = work, size, options
        self.draft, self.sizes = work.draft, len(work.draft.sizes)
        self.words = DraftWords(work, size)
        output = work.report.output
        source = replace(self.draft.document.source, text=output, line_starts=line_starts(output))
        self.revised = split_document(source)
        self.revisions = {r.finding.id: r for r in work.revisions}

    def sheet(self, piece: str | None) -> Worksheet:
        found = shoulders(self.work, self.size)
        pieces = list(self._pieces(found))
        if not pieces:
            raise NoSheet(
                f"there is nothing to make a worksheet of: {why_none(self.work, self.options)}"
            )
        if piece is not None:
            known = [p.title for p in pieces]
            wanted = piece.casefold().replace("-", " ")
            pieces = [p for p in pieces if p.title.casefold().startswith(wanted)]
            if not pieces:
                raise NoSheet(
                    f"--piece {piece}: no such piece was rewritten; there are {'; '.join(known)}"
                )
        told = [line.words for p in pieces for line in p.lines]
        told += [n for p in pieces for n in (*p.notes, p.lead_in)]
        ending = finish(self.work, self.revised, self.size)
        label = self.draft.sizes.labels[self.size]
        return Worksheet(
            title=title_of(self.draft.document),
            size=label if self.sizes > 1 else "",
            terms=self.draft.terms,
            options=options_told(self.work, self.options),
            needs=needs(
                _on_sheet(pieces), self.options.turn, joins_of(self.work), self.draft.terms, told
            ),
            abbreviations=usual_meanings(self.work, [*told, *ending], self.options),
            method=method(self.work, self.options),
            pieces=tuple(pieces),
            finish=tuple(ending),
            cautions=tuple(cautions_told(self.work, self.options)),
            missing=tuple(missing(self.work, self.options)),
        )

    # --- pieces -----------------------------------------------------------------------------------

    def _pieces(self, found: Sequence[Shoulder]) -> Iterator[PieceSheet]:
        several: dict[tuple[str, str], int] = {}
        for shoulder in found:
            key = (shoulder.piece, self._kind(shoulder))
            several[key] = several.get(key, 0) + (shoulder.half != "second side")
        seen: dict[tuple[str, str], int] = {}
        for shoulder in found:
            if shoulder.at_once and shoulder.half == "second side":
                continue  # told with the first
            revision = self.revisions[shoulder.name]
            key = (shoulder.piece, self._kind(shoulder))
            seen[key] = seen.get(key, 0) + (shoulder.half != "second side")
            title = _piece_title(shoulder, key[1], seen[key] if several[key] > 1 else 0)
            second = self._second_side(revision, shoulder)
            if second is not None and shoulder.piece not in OPPOSITE:
                title = f"{title}, first side"
            lead = "" if shoulder.half == "second side" else self.words.lead_in(revision)
            lead = f"\u201c{lead}\u201d" if lead else ""
            sides = [s for s in found if s.name == shoulder.name and s.half == "second side"]
            other = sides[0] if sides and sides[0] is not shoulder else None
            yield self._piece(title, shoulder, lead, "", other)
            if second is not None:
                yield self._mirror(revision, shoulder, second, title)
            elif (untold := self._untold(shoulder, found, title)) is not None:
                yield untold
            yield from self._alike(revision, shoulder)

    def _piece(
        self,
        title: str,
        shoulder: Shoulder,
        lead_in: str,
        about: str,
        other: Shoulder | None = None,
    ) -> PieceSheet:
        """Return the sheet of a needle; `other` is the side of its neck told later or at once."""
        at_once = other is not None and other.at_once
        rows = in_one(shoulder, other) if other is not None and at_once else shoulder.rows
        lines = _lines(rows)
        both = shoulder.piece == "back and front"
        left = rows[-1].on_needle if rows else None
        says = words()["says"]
        begins = [*_begins(shoulder), *([says["both"]] if both else [])]
        told = (_without_lead(n, lead_in.strip("\u201c\u201d")) for n in shoulder.notes)
        notes = [n for n in told if n and not _is_method(n, self.options)]
        if shoulder.divides and shoulder.half == "first side" and not at_once:
            first, last = shoulder.label, shoulder.label + shoulder.divides - 1
            told_rows = f"Row {first} is" if first == last else f"Rows {first} to {last} are"
            notes.append(says["shared"].format(rows=told_rows))
        return PieceSheet(
            title=title,
            about=about,
            lead_in=lead_in,
            begins=" ".join(begins),
            needle=needle(shoulder, self._kind(shoulder), other),
            notes=tuple(notes),
            lines=lines,
            after=says["go_on"].format(n=left) if left else "",
            ticks=("Back", "Front") if both else ("Done",),
            shoulder=shoulder,
            other=other if at_once else None,
        )

    def _kind(self, shoulder: Shoulder) -> str:
        return self.revisions[shoulder.name].finding.kind

    # --- sides and pieces told by others ----------------------------------------------------------

    def _second_side(self, revision: Revision, shoulder: Shoulder) -> Sentence | None:
        """Return the sentence that tells the other side of a shoulder at one edge by this one."""
        passage = revision.finding.passage
        if len(shoulder.edges) != 1 or shoulder.half:
            return None
        other = OPPOSITE.get(passage.piece)
        for finding in self.draft.findings:
            same = finding is not revision.finding and finding.kind == revision.finding.kind
            after = finding.passage.span.start > passage.span.start
            here = finding.passage.piece_at == passage.piece_at and after
            if same and (here or (other is not None and finding.passage.piece == other)):
                return None
        earlier = [
            r
            for r in self.work.revisions
            if r.finding.passage.piece_at == passage.piece_at
            and r.finding.kind == revision.finding.kind
            and r.finding.passage.span.start < passage.span.start
        ]
        return None if earlier else matched_by(self.draft, passage)

    def _mirror(
        self, revision: Revision, first: Shoulder, sentence: Sentence, title: str
    ) -> PieceSheet:
        passage = revision.finding.passage
        opposite = OPPOSITE.get(passage.piece)
        name = (
            f"{opposite.capitalize()}" if opposite else title.replace("first side", "second side")
        )
        told = self.words.now(sentence.span)
        second = mirrored(first, revision.finding.fabric != "garter")
        if second is None:
            about = words()["says"]["not_mirrored"].format(words=told)
            return PieceSheet(name, about, "", "", None, (), (), "")
        about = words()["says"]["mirrored"].format(words=told)
        sheet = self._piece(f"{name} (mirrored)", second, "", about)
        # the rows of a mirror image meet the same sts in the same order
        return replace(sheet, mirrored=True, needle=needle(first, self._kind(first)))

    def _alike(self, revision: Revision, shoulder: Shoulder) -> Iterator[PieceSheet]:
        """Yield the pieces that are shaped "as for back" at both edges: the same rows again."""
        finding = revision.finding
        if shoulder.half == "first side" or not revision.shaping.two_edged:
            return
        done = {r.finding.passage.piece_at for r in self.work.revisions}
        for told in references(
            self.draft.document,
            self.draft.statements,
            called(self.draft, finding),
            finding.passage.piece_at,
            finding.kind,
        ):
            if (told.one_edge and told.sure) or told.passage.piece_at in done:
                continue
            said = self.words.now(told.passage.sentence.span)
            if shoulder.half:
                about = words()["says"]["alike_divided"].format(words=said)
                yield PieceSheet(
                    told.passage.piece.capitalize(), about, "", "", None, (), (), "", untold=True
                )
                continue
            lead = self.words.lead_words(told.passage, read_lead_in(told.passage, finding.fabric))
            lead = f"\u201c{lead}\u201d" if lead else ""
            about = words()["says"]["alike"].format(words=said)
            title = f"{told.passage.piece.capitalize()} (as the {called(self.draft, finding)})"
            sheet = self._piece(title, shoulder, lead, about)
            yield replace(sheet, shoulder=None)

    def _untold(
        self, shoulder: Shoulder, found: Sequence[Shoulder], title: str
    ) -> PieceSheet | None:
        """Say plainly where a side that must be worked is told by no words that can be followed."""
        kind = self._kind(shoulder)
        if len(shoulder.edges) != 1 or shoulder.half or kind != "shoulder":
            return None
        opposite = OPPOSITE.get(shoulder.piece)
        wanted = opposite or shoulder.piece
        others = [p for p in self.work.report.passages if p.kind == kind and p.piece == wanted]
        if any(p.id != shoulder.name for p in others):
            return None
        name = opposite.capitalize() if opposite else f"{title}, second side"
        return PieceSheet(name, words()["says"]["untold"], "", "", None, (), (), "", untold=True)


def _begins(shoulder: Shoulder) -> Iterator[str]:
    """Say where the rows begin: side and sts, or where they stand to those of the side told first."""
    says = words()["says"]
    numbered = [row for row in shoulder.rows if row.label is not None]
    first = numbered[0]
    if shoulder.half != "second side":
        yield says["begin" if first.side else "no_side"].format(row=first.label, side=first.side)
        each = set(shoulder.together) if shoulder.apart else set()
        if shoulder.whole is not None and len(each) == 1:
            yield says["stitches_apart"].format(n=shoulder.whole, each=each.pop())
        elif shoulder.whole is not None:
            yield says["stitches"].format(n=shoulder.whole)
    elif shoulder.divides:
        divides = first.label == shoulder.label + shoulder.divides
        name = "second" if divides else "second_shared"
        yield says[name].format(first=first.label, before=(first.label or 1) - 1)
    own = ((r.label, without_label(r.words.replace("**", ""))[1]) for r in numbered)
    label, text = next(((n, t) for n, t in own if t is not None), (None, None))
    if text != label:
        yield says["renumbered"].format(row=label, own=text)


def _on_sheet(pieces: Sequence[PieceSheet]) -> list[Shoulder]:
    """Return the shoulders whose rows are told, mirror images left out."""
    told = [s for p in pieces if not p.mirrored for s in (p.shoulder, p.other)]
    return [s for s in told if s is not None]


def _lines(rows: Sequence[NeedleRow]) -> tuple[Line, ...]:
    out: list[Line] = []
    for row in rows:
        passes = row.label is not None
        said, _ = without_label(row.words.replace("**", "").replace("__", ""))
        out.append(
            Line(
                number=row.label,
                side=row.side if passes else None,
                words=said,
                worked=row.worked if passes else None,
                waiting=(row.behind, row.unworked),
                off=row.off,
                on_needle=row.on_needle if passes or row.off else None,
            )
        )
    return tuple(out)


_OPENS = regex.compile(r"[^:.]{0,60}:\s*|[\s,;:]+")


def _without_lead(note: str, lead: str) -> str:
    """Return a note without the lead-in in whose sentence it stands, and "shape the shoulders:"."""
    if not lead or not note.startswith(lead):
        return note
    rest = note[len(lead) :]
    opens = _OPENS.match(rest)
    return rest[opens.end() :] if opens else rest


def needle(shoulder: Shoulder, kind: str = "shoulder", other: Shoulder | None = None) -> Needle:
    """Return the sts in the order in which the first row meets them.

    `other` is the second side of a neck that is not yet divided.
    """
    outer, inner = ("neck", "armhole") if kind == "neck" else ("armhole", "neck")
    edges = {s.edge: list(s.sts) for s in (*shoulder.edges, *(other.edges if other else ()))}
    whole = shoulder.whole if other else shoulder.stitches
    right, left = edges.get("right", []), edges.get("left", [])[::-1]
    beside = None if whole is None else whole - sum(right) - sum(left)
    lots: list[list[int | str]] = [[*right], [] if beside is None else [beside], [*left]]
    if shoulder.apart:  # nothing hangs there, but the neck parts the two sides
        lots[1] = [words()["says"]["gap"]]
    ends = [outer if right else inner, outer if left else inner]
    row = next((r for r in shoulder.rows if r.label is not None), None)
    if row is not None and side_of(row.number, shoulder.first_side or "RS") == "WS":
        lots, ends = [lot[::-1] for lot in lots[::-1]], ends[::-1]
    unknown = beside is None and len(edges) == 2
    told = [
        " \u00b7 ".join(map(str, lot)) or "?"
        for lot in lots
        if lot not in ([], [0]) or (unknown and not lot)
    ]
    return Needle(" \u2016 ".join(told), *ends)


def _piece_title(shoulder: Shoulder, kind: str, number: int) -> str:
    name = shoulder.piece.capitalize() if shoulder.piece != "unknown" else "The piece"
    parts = [name if kind == "shoulder" else f"{name}: {wording()['kinds'][kind]}"]
    ordinals = ("first", "second", "third", "fourth")
    if number:
        parts.append(f"{ordinals[min(number, 4) - 1]} shoulder")
    if shoulder.half and not shoulder.at_once:
        parts.append(shoulder.half)
    return ", ".join(parts)


def _is_method(note: str, options: Options) -> bool:
    """Say whether a note explains the turning method, which the sheet does by itself."""
    table = wording()[options.turn]
    for which in {"named", "named_full"} & table.keys():
        told = regex.escape(table[which], literal_spaces=True).replace(r"\{st\}", r"st(?:itch)?\.?")
        if regex.compile_new(rf"(?i)(?:note on\s+)?{told}:").match(note):
            return True
    return False
