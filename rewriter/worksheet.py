"""A worksheet for one size: what lies beside the knitting, row by row, with its counts.

The rows are those of `needlerows`, read from the revised text; a side or piece that the draft tells
only by another is worked out from that one (`mirror.py`), or printed again where it is alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rewriter import edits as editing
from rewriter import regex
from rewriter.document import Sentence, split_document
from rewriter.labels import without_label
from rewriter.leadin import LeadIn, read_lead_in
from rewriter.linked import OPPOSITE, matched_by
from rewriter.mirror import mirrored
from rewriter.needlerows import NeedleRow, Shoulder, shoulders
from rewriter.onesize import in_one_size
from rewriter.options import Options
from rewriter.passages import Passage
from rewriter.phrases import wording
from rewriter.pipeline import Rework
from rewriter.reading import called
from rewriter.references import references
from rewriter.revise import Revision
from rewriter.spans import Span, line_starts
from rewriter.titles import plain, title_of
from rewriter.worksheethead import (
    cautions_told,
    finish,
    joins_of,
    method,
    needs,
    options_told,
    usual_meanings,
)
from rewriter.worksheetmodel import Line, Needle, NoSheet, PieceSheet, Worksheet, words


def worksheet(work: Rework, size: int, options: Options, piece: str | None = None) -> Worksheet:
    """Return the worksheet of one size (counted from 0); `piece` keeps the pieces of that name.

    Raises NoSheet where there is nothing to knit by.
    """
    return _Maker(work, size, options).sheet(piece)


class _Maker:
    def __init__(self, work: Rework, size: int, options: Options) -> None:
        self.work, self.size, self.options = work, size, options
        self.draft, self.sizes = work.draft, len(work.draft.sizes)
        output = work.report.output
        source = replace(self.draft.document.source, text=output, line_starts=line_starts(output))
        self.output, self.revised = output, split_document(source)
        self.revisions = {r.finding.id: r for r in work.revisions}

    def sheet(self, piece: str | None) -> Worksheet:
        found = shoulders(self.work, self.size)
        pieces = list(self._pieces(found))
        if not pieces:
            raise NoSheet(f"there is nothing to make a worksheet of: {self._why_none()}")
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
            needs=needs(found, self.options.turn, joins_of(self.work), self.draft.terms),
            abbreviations=usual_meanings(self.work, [*told, *ending], self.options),
            method=method(self.work, self.options),
            pieces=tuple(pieces),
            finish=tuple(ending),
            cautions=tuple(cautions_told(self.work, self.options)),
            missing=tuple(self._missing()),
        )

    # --- pieces -----------------------------------------------------------------------------------

    def _pieces(self, found: Sequence[Shoulder]) -> Iterator[PieceSheet]:
        several: dict[tuple[str, str], int] = {}
        for shoulder in found:
            key = (shoulder.piece, self._kind(shoulder))
            several[key] = several.get(key, 0) + (shoulder.half != "second side")
        seen: dict[tuple[str, str], int] = {}
        for shoulder in found:
            revision = self.revisions[shoulder.name]
            key = (shoulder.piece, self._kind(shoulder))
            seen[key] = seen.get(key, 0) + (shoulder.half != "second side")
            title = _piece_title(shoulder, key[1], seen[key] if several[key] > 1 else 0)
            second = self._second_side(revision, shoulder)
            if second is not None and shoulder.piece not in OPPOSITE:
                title = f"{title}, first side"
            lead = "" if shoulder.half == "second side" else self._lead_in(revision)
            lead = f"\u201c{lead}\u201d" if lead else ""
            yield self._piece(title, shoulder, lead, "")
            if second is not None:
                yield self._mirror(revision, shoulder, second, title)
            yield from self._alike(revision, shoulder)

    def _piece(self, title: str, shoulder: Shoulder, lead_in: str, about: str) -> PieceSheet:
        lines = self._lines(shoulder)
        both = shoulder.piece == "back and front"
        left = shoulder.rows[-1].on_needle if shoulder.rows else None
        begins = []
        says = words()["says"]
        if shoulder.half != "second side":
            side = shoulder.rows[0].side
            begins.append(says["begin"].format(side=side) if side else says["no_side"])
            stitches = shoulder.stitches if not shoulder.half else self._whole(shoulder)
            if stitches is not None:
                begins.append(says["stitches"].format(n=stitches))
        if both:
            begins.append(says["both"])
        told = (_without_lead(n, lead_in.strip("\u201c\u201d")) for n in shoulder.notes)
        notes = [n for n in told if n and not _is_method(n, self.options)]
        shared = sum(shoulder.half == "first side" and _is_shared(row) for row in shoulder.rows)
        if shared:
            rows = "Row 1 is" if shared == 1 else f"Rows 1 to {shared} are"
            notes.append(says["shared"].format(rows=rows))
        return PieceSheet(
            title=title,
            about=about,
            lead_in=lead_in,
            begins=" ".join(begins),
            needle=needle(shoulder, self._kind(shoulder)),
            notes=tuple(notes),
            lines=lines,
            after=says["go_on"].format(n=left) if left else "",
            ticks=("Back", "Front") if both else ("Done",),
            shoulder=shoulder,
        )

    def _whole(self, shoulder: Shoulder) -> int | None:
        """Return the sts of a divided piece before it is divided."""
        passage = next(p for p in self.work.report.passages if p.id == shoulder.name)
        return passage.stitches_before[self.size] if passage.stitches_before else None

    def _lines(self, shoulder: Shoulder) -> tuple[Line, ...]:
        whole = self._whole(shoulder) if shoulder.half else None
        out: list[Line] = []
        number, live, behind = 0, shoulder.stitches, 0
        for row in shoulder.rows:
            passes = row.does != "hold"
            said, own = without_label(row.words.replace("**", "").replace("__", ""))
            number = (own or number + 1) if passes else number
            shared = bool(shoulder.half) and _is_shared(row)
            worked, on_needle, begin = row.worked, row.on_needle, 0
            if shared and whole is not None and not row.off:
                worked, on_needle = whole - behind - row.unworked, whole
                begin = behind
            elif worked is not None and live is not None and not shared:
                begin = max(0, live - row.off - worked - row.unworked)
            out.append(
                Line(
                    number=number if passes else None,
                    side=row.side if passes else None,
                    words=said,
                    worked=worked if passes else None,
                    waiting=(begin, row.unworked),
                    off=row.off,
                    on_needle=on_needle,
                )
            )
            behind = row.unworked
            live = row.on_needle if row.on_needle is not None else live
        return tuple(out)

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
        told = self._now(sentence.span)
        second = mirrored(first, revision.finding.fabric != "garter")
        if second is None:
            about = words()["says"]["not_mirrored"].format(words=told)
            return PieceSheet(name, about, "", "", None, (), (), "")
        about = words()["says"]["mirrored"].format(words=told)
        sheet = self._piece(f"{name} (mirrored)", second, "", about)
        return replace(sheet, mirrored=True)

    def _alike(self, revision: Revision, shoulder: Shoulder) -> Iterator[PieceSheet]:
        """Yield the pieces that are shaped "as for back" at both edges: the same rows again."""
        finding = revision.finding
        if shoulder.half == "second side" or not revision.shaping.two_edged:
            return
        done = {r.finding.passage.piece_at for r in self.work.revisions}
        for told in references(
            self.draft.document,
            self.draft.statements,
            called(self.draft, finding),
            finding.passage.piece_at,
            finding.kind,
        ):
            if told.one_edge or told.passage.piece_at in done:
                continue
            said = self._now(told.passage.sentence.span)
            lead = self._lead_words(told.passage, read_lead_in(told.passage, finding.fabric))
            lead = f"\u201c{lead}\u201d" if lead else ""
            about = words()["says"]["alike"].format(words=said)
            title = f"{told.passage.piece.capitalize()} (as the {called(self.draft, finding)})"
            sheet = self._piece(title, shoulder, lead, about)
            yield replace(sheet, shoulder=None)

    # --- words of the revised draft ---------------------------------------------------------------

    def _lead_in(self, revision: Revision) -> str:
        return self._lead_words(revision.finding.passage, revision.finding.lead_in)

    def _lead_words(self, passage: Passage, lead: LeadIn) -> str:
        if passage.lead:
            return self._before(Span(passage.sentence.span.start, passage.span.start))
        spots = [m.span.start for m in lead.mentions]
        before = [
            s.sentence.span for s in passage.before if s.sentence.span.start < passage.span.start
        ]
        if spots:
            held = [s for s in before if any(s.start <= at < s.end for at in spots)]
        else:
            gone = {s.sentence.span for s in lead.absorbed}
            held = [
                s.sentence.span
                for s in passage.before
                if s.sentence.span not in gone and any(f.verb for f in s.frames)
            ]
        return self._now(held[-1]) if held else ""

    def _before(self, span: Span) -> str:
        """Return the words with which a sentence leads to the shaping, as the revised draft has them."""
        own = [e for e in self.work.edits if e.span.start < span.end and span.start < e.span.end]
        end = min([span.end, *(e.span.start for e in own if e.why == "shaping")])
        span = Span(span.start, max(span.start, end))
        own = [e for e in own if span.start <= e.span.start and e.span.end <= span.end]
        shifted = [
            replace(e, span=Span(e.span.start - span.start, e.span.end - span.start)) for e in own
        ]
        text = editing.apply(span.of(self.draft.document.source.text), shifted)
        return plain(in_one_size(text, self.size, self.sizes)).rstrip(" ,;:")

    def _now(self, span: Span) -> str:
        """Return words of the draft as the revised one has them, for this size, on one line."""
        place = editing.moved(self.work.edits, span)
        text = in_one_size(place.of(self.output), self.size, self.sizes)
        return plain(text)

    def _missing(self) -> Iterator[str]:
        says = words()["says"]["unread"]
        for passage in self.work.report.passages:
            asked = passage.kind in self.options.kinds
            if passage.status == "question" or (passage.status == "left" and asked):
                yield says.format(what=passage.id, why=passage.reason)
            elif passage.status == "rewritten" and passage.cast_on:
                yield says.format(
                    what=passage.id, why="shoulders that are cast on have no rows here"
                )

    def _why_none(self) -> str:
        told = list(self._missing())
        if told:
            return "; ".join(told)
        return f"no steps of the kinds asked for ({', '.join(self.options.kinds)}) were found in the draft"


_OPENS = regex.compile(r"[^:.]{0,60}:\s*|[\s,;:]+")


def _without_lead(note: str, lead: str) -> str:
    """Return a note without the lead-in in whose sentence it stands, and "shape the shoulders:"."""
    if not lead or not note.startswith(lead):
        return note
    rest = note[len(lead) :]
    opens = _OPENS.match(rest)
    return rest[opens.end() :] if opens else rest


def _is_shared(row: NeedleRow) -> bool:
    """Say whether both sides of a divided neck are still on the needle in a row."""
    return row.on_needle is None and row.does != "hold"


def needle(shoulder: Shoulder, kind: str = "shoulder") -> Needle:
    """Return the sts in the order in which the first row meets them.

    A row that turns comes towards the edge bound off first; where none does, it begins there.
    """
    outer, inner = ("neck", "armhole") if kind == "neck" else ("armhole", "neck")
    lots = [list(reversed(shoulder.edges[0].sts))]
    beside = None if shoulder.stitches is None else shoulder.stitches - sum(shoulder.together)
    two = len(shoulder.edges) == 2
    if two:
        lots = [list(shoulder.edges[1].sts), [] if beside is None else [beside], *lots]
    elif beside:
        lots.insert(0, [beside])
    if shoulder.rows and shoulder.rows[0].number != -1:
        lots = [list(reversed(lot)) for lot in reversed(lots)]
        outer, inner = (outer, inner) if two else (inner, outer)
    told = " \u2016 ".join(" \u00b7 ".join(map(str, lot)) or "?" for lot in lots)
    return Needle(told, outer if two else inner, outer)


def _piece_title(shoulder: Shoulder, kind: str, number: int) -> str:
    name = shoulder.piece.capitalize() if shoulder.piece != "unknown" else "The piece"
    parts = [name if kind == "shoulder" else f"{name}: {wording()['kinds'][kind]}"]
    ordinals = ("first", "second", "third", "fourth")
    if number:
        parts.append(f"{ordinals[min(number, 4) - 1]} shoulder")
    if shoulder.half:
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
