"""Joining the shoulders: when live shoulders have partners, and the making-up sentence."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.diagnose import Notes
from rewriter.document import Document, Sentence
from rewriter.doubt import Unread
from rewriter.edgewords import edge_word
from rewriter.edits import Edit
from rewriter.halves import DividedShaping
from rewriter.listform import listed
from rewriter.numberwords import in_words
from rewriter.options import Shoulders
from rewriter.phrases import finished, wording
from rewriter.planner import why_not_exact
from rewriter.pressing import pressing_edits
from rewriter.reading import Draft, Finding, piece_named
from rewriter.revise import Revision
from rewriter.seamhints import note_seam_hints
from rewriter.seams import (
    LIVE_JOIN,
    Seam,
    all_seams,
    seams_of,
    sews,
    shoulder_seams,
    with_sleeves,
)
from rewriter.spans import Span
from rewriter.style import Style, measure_style
from rewriter.yarnends import ends_left


def seam_sentences(document: Document) -> list[Sentence]:
    """Return the sentences that sew or join shoulders, those of a list left out."""
    return [
        s
        for s in document.sentences
        if not s.heading
        and s.piece != "list"
        and (sews(s.text) or (LIVE_JOIN.search(s.text) and "shoulder" in s.text.lower()))
    ]


def note_held(draft: Draft, notes: Notes) -> None:
    """Warn of sentences that sew or join shoulders which are held now."""
    document = draft.document
    told = [s.span for s in shoulder_seams(document) if not LIVE_JOIN.search(s.text)]
    every = None if shoulder_seams(document) else all_seams(document)
    for place in told or ([every.seams] if every is not None else []):
        notes.warn(
            "sewn-though-held",
            "the shoulders are held now, with no joining told: say here how they are joined",
            place,
        )


def note_gained_rows(revisions: Sequence[Revision], notes: Notes) -> None:
    """Warn where shoulders that were to gain no row gain one all the same."""
    for revision in revisions:
        plan, shaping = revision.plan, revision.shaping
        if plan.join == "sewn" or plan.exact or not any(len(edges) == 2 for edges in plan.steps):
            continue
        if isinstance(shaping, DividedShaping) or shaping.on_two_balls:
            continue  # two shoulders at one edge each gain none
        notes.warn(
            "not-exact",
            f"{piece_named(revision.finding)} is kept live the usual way, with a row more or less: "
            f"{why_not_exact(shaping)}",
            revision.finding.passage.span,
        )


def seam_edits(draft: Draft, revisions: Sequence[Revision], join: Shoulders) -> list[Edit]:
    """Reword "Join shoulder seams." where the shoulders are joined live, or are to be."""
    if join not in ("three-needle", "graft", "held") or not revisions:
        return []
    first = revisions[0]
    words = _JoinWords(draft, revisions, join)
    document, name = draft.document, first.finding.id
    out: list[Edit] = []
    seams = shoulder_seams(document)
    for sentence in seams:
        if LIVE_JOIN.search(sentence.text):
            continue
        for seam in seams_of(sentence, words.sleeved) or ():
            if join == "held" and seam.told_plainly:
                continue
            text = words.sentence(seam, explained=bool(out)) + seam.beside
            if not seam.stopped:
                text = text.removesuffix(".")
            if seam.goes_on:
                text = f". {text}"
            elif seam.small:
                text = text[0].lower() + text[1:]
            out.append(Edit(seam.span, text, "joining", name))
    every = None if seams or join == "held" or seam_sentences(document) else all_seams(document)
    if every is not None:
        out.append(
            Edit(Span(every.at, every.at), f"{words.both(explained=False)} ", "joining", name)
        )
        other = wording(words.style.voice)["joins"]["others"]
        out.append(Edit(every.seams, other, "joining", name))
    joined = [s.span.start for s in seams] or ([every.at] if every is not None else [])
    return [*out, *pressing_edits(draft, first, words.style, joined)]


def note_joins(draft: Draft, revisions: Sequence[Revision], notes: Notes) -> None:
    """Warn where words about the seams of the shoulders are missing, or stay, beside live ones."""
    _note_join_not_told(draft, revisions, notes)
    note_seam_hints(draft.document, revisions, notes)


def _note_join_not_told(draft: Draft, revisions: Sequence[Revision], notes: Notes) -> None:
    """Warn where no sentence of a draft joins the shoulders that are to be joined live."""
    live = [r for r in revisions if r.finding.kind == "shoulder"]
    joins = {r.plan.join for r in live}
    if not live or not joins <= {"three-needle", "graft"}:
        return
    document = draft.document
    if shoulder_seams(document) or seam_sentences(document) or all_seams(document):
        return
    how = {"three-needle": "a three-needle join", "graft": "a graft"}[min(joins)]
    notes.warn(
        "join-not-told",
        f"no sentence that joins the shoulders was found: say in the making up that {how} joins the held sts",
        live[-1].finding.passage.span,
    )


# What a draft says of the steps when it sews them up, and of their number: "..., matching the steps".
_OF_STEPS = regex.compile(
    r"(?i)\s*(?:,\s*|\band\s+|\bwhile\s+|\bby\s+)?(?:carefully\s+)?"
    r"(?:matching|easing(?:\s+in)?|aligning|evening\s+out|smoothing(?:\s+out)?|taking\s+in)"
    r"\s+(?:up\s+)?(?:\w+\s+){0,3}(?:steps|stairs?(?:\s+to\s+stair)?|stepped\s+edges)\b(?:\s+(?:of|at|on|in)\s+[^,.;]*)?"
    r"|,\s+so\s+ease\s+(?:in\s+)?(?:the\s+)?(?:seams?|steps)(?=\.)"
)
_IN_STEPS = regex.compile(r"(?i)\b(?:cast|bound)\s+off\s+in\s+(?:\w+\s+)?steps\b")


def steps_edits(draft: Draft, revisions: Sequence[Revision], others: Sequence[Edit]) -> list[Edit]:
    """Take the words about steps out of sentences about shoulders and their seams, where no step is left."""
    shoulders = [f for f in draft.findings if f.kind == "shoulder" or f.evidence.kind is None]
    done = {r.finding.id for r in revisions if r.plan.slopes}
    if not done or any(f.id not in done for f in shoulders):
        return []
    name = shoulders[0].id
    out: list[Edit] = []
    for sentence in draft.document.sentences:
        if any(
            e.span.start < sentence.span.end and sentence.span.start < e.span.end for e in others
        ):
            continue
        if sentence.heading or not regex.search(r"(?i)\b(?:shoulders?|seams?)\b", sentence.text):
            continue
        for pattern, words in ((_OF_STEPS, ""), (_IN_STEPS, wording()["seams"]["shaped"])):
            for found in pattern.finditer(sentence.text):
                start = sentence.span.start
                out.append(
                    Edit(Span(start + found.start(), start + found.end()), words, "joining", name)
                )
    return out


_MORE = regex.compile(
    r"(?i)\b(?:sleeves?|sides?\s+seams?|neckbands?|collars?|hoods?|cuffs?|pick|knit up|pockets?)\b"
)


def sewn_edits(draft: Draft, live: Sequence[Finding], notes: Notes) -> list[Edit]:
    """Reword the sentences that join live shoulders: they are bound off now, and seamed.

    Raises Unread where such a sentence says more than that.
    """
    table = wording()["seams"]
    out: list[Edit] = []
    told = False
    within = [f.passage.span for f in live]
    for sentence in draft.document.sentences:
        inside = any(w.start <= sentence.span.start < w.end for w in within)
        if sentence.heading or inside or sentence.piece == "list":
            continue
        if not LIVE_JOIN.search(sentence.text) or "=" in sentence.text:
            continue
        if not regex.search(r"(?i)\bshoulders?\b", sentence.text):
            notes.warn(
                "join-words",
                "this joins live sts, but the shoulders are bound off now",
                sentence.span,
            )
            continue
        if _MORE.search(sentence.text):
            raise Unread(
                "join-unclear",
                "this sentence joins the live shoulders and says more; write the seam out there",
                sentence.span,
            )
        sides = {
            m.lower()
            for m in regex.findall(r"(?i)\b(right|left)(?=\s[^.]{0,20}shoulder)", sentence.text)
        }
        text = table["one"].format(side=sides.pop()) if len(sides) == 1 else table["both"]
        bare = sentence.text.strip(f" \t\r\n*_{BULLETS}-")
        start = sentence.span.start + sentence.text.find(bare)
        told = True
        if not any(c.islower() for c in bare):
            text = text.upper()
        out.append(Edit(Span(start, start + len(bare)), text, "joining", live[0].id))
    if live and not told:
        notes.remark(
            "seam-not-told",
            "the shoulders were kept live and are bound off now: sew the shoulder seams",
            live[0].passage.span,
        )
    return out


def _style_at(revision: Revision, draft: Draft) -> Style:
    """Return the style of a draft at a passage."""
    return measure_style(
        draft.document, revision.finding.passage, revision.shaping, draft.terms, False
    )


# The draft's own list or notes: "three-needle bind-off: ..." with more than its name behind it
_OWN_JOIN = regex.compile(
    r"(?i)(?:(?:three|3)[\s-]*needle\s+(?:bind|cast)[\s-]*off|kitchener(?:\s+st(?:itch)?)?|grafting)[*_]*\s*"
    r"(?:[:=(\u2013\u2014]|-\s)"
)


class _JoinWords:
    """Says how live shoulders are joined, in the words of a draft."""

    def __init__(self, draft: Draft, revisions: Sequence[Revision], join: Shoulders) -> None:
        first = revisions[0]
        self.style = _style_at(first, draft)
        self.sleeved = with_sleeves(draft.document, [r.finding.passage.span for r in revisions])
        self._join = join
        self._source = draft.document.source.text
        self._terms = draft.terms
        self._edge = edge_word(first.finding.passage, self._source)
        self._garter = first.finding.fabric == "garter"
        self._totals = [steps[0].total for steps in first.plan.steps]
        self._ends = ends_left(revisions)

    def both(self, *, explained: bool) -> str:
        """Return the sentence for both shoulders where the draft has none of its own."""
        return self._of("", "", None, explained=explained)

    def sentence(self, seam: Seam, *, explained: bool) -> str:
        """Return the sentence that joins the shoulders of a seam, with how it is done unless that is told."""
        return self._of(seam.which, seam.sleeve, seam.the, explained=explained)

    def _of(self, which: str, sleeve: str, the: str | None, *, explained: bool) -> str:
        """Say it; `the` is the article that the draft has here, None where it has no such sentence."""
        style = self.style
        joins = wording(style.voice)["joins"]
        how = ""
        if self._join != "held" and not explained and not _OWN_JOIN.search(self._source):
            in_garter = self._join == "graft" and self._garter
            how = joins["how"]["graft-garter" if in_garter else self._join]
            rep = "rep" if regex.search(r"\brep\b\.?\s+from\b", self._source) else "repeat"
            how = how.format(rep=rep, k=style.knit, st=style.st, sts=style.unit, edge=self._edge)
        side = which if which in ("right", "left") else ""
        over = joins["over"][
            ("side" if side else "any" if which else "each") + ("-sleeve" if sleeve else "")
        ]
        what = "shoulder" if which else "shoulders"
        if sleeve:
            sleeve = sleeve if which or sleeve.endswith("s") else f"{sleeve}s"
            what = f"{what} and {sleeve}"
        what = f"{which} {what}".strip()
        again = explained and which in ("other", "second", "opposite", "remaining")
        text: str = joins["again" if again and self._join != "held" else self._join]
        text = text.format(
            what=f"{style.voice.the if the is None else the}{what}",
            over=over.format(side=side, meets=joins["meets"][self._join]),
            rs=style.sides.together[0],
            ws=style.sides.together[1],
            bo_noun="cast-off" if self._terms == "UK" else "bind-off",
            n=f"{self._counted()} {style.unit}",
            ends=joins["ends"][self._ends].format(edge=self._edge),
            how=how,
        )
        return finished(text, style)

    def _counted(self) -> str:
        """Return the sts of a shoulder, in words where the draft counts in words."""
        first = self._totals[0]
        if len(set(self._totals)) == 1 and 1 < first <= self.style.words_up_to:
            return in_words(first)
        return listed(self._totals, self.style.list_form)
