"""Joining the shoulders: when live shoulders have partners, and the making-up sentence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rewriter import regex
from rewriter.bullets import BULLETS
from rewriter.castonmodel import CastOnShaping
from rewriter.diagnose import Notes
from rewriter.document import Document, Sentence
from rewriter.doubt import Unread
from rewriter.edits import Edit
from rewriter.frames import Statement
from rewriter.halves import DividedShaping
from rewriter.listform import listed
from rewriter.options import Shoulders
from rewriter.outcome import Outcome
from rewriter.phrases import finished, wording
from rewriter.planner import why_not_exact, why_not_live
from rewriter.pressing import pressing_edits
from rewriter.reading import Draft, Finding, piece_named
from rewriter.revise import Revision, edge_word
from rewriter.seams import (
    Seam,
    all_seams,
    parted_by,
    partly_open,
    seams_of,
    sews,
    shoulder_seams,
    with_sleeves,
)
from rewriter.spans import Span
from rewriter.style import Style, measure_style
from rewriter.yarnends import ends_left


def why_sewn(findings: Sequence[Finding], exact: bool) -> tuple[str, Span] | None:
    """Return why live shoulders would be left without a partner, and where; None if they are not.

    Back and front shoulders are joined stitch for stitch: every shoulder of the draft must be
    converted, and all must have the same number of sts for each size. `exact` says that no row is to
    be gained where that can be had.
    """
    for finding in findings:
        if finding.evidence.kind is None or finding.unread is not None or finding.shaping is None:
            return f"{finding.id} is not converted", finding.passage.span
        if isinstance(finding.shaping, CastOnShaping):
            return f"{finding.id} is cast on, so it has no sts to keep", finding.passage.span
        reason = why_not_live(finding.shaping, exact)
        if reason is not None:
            return f"{finding.id}: {reason}", finding.passage.span
    totals = {}
    for finding in findings:
        shaping = finding.shaping
        if shaping is None:
            continue
        for edges in zip(*shaping.edges, strict=True):
            totals[tuple(s.total for s in edges)] = finding
    if len(totals) > 1:
        (one, first), (two, second) = list(totals.items())[:2]
        return (
            f"the shoulders have different numbers of sts: {_list(one)} in {first.id}, "
            f"{_list(two)} in {second.id}",
            second.passage.span,
        )
    return None


_FRONTS = frozenset({"front", "left front", "right front"})


def bound_off_front(draft: Draft, findings: Sequence[Finding]) -> Span | None:
    """Return where a front is bound off whose shoulder is not among those found, if one is.

    "Work straight until front matches back. Cast off." leaves nothing that live sts could be joined to.
    """
    told = {f.passage.piece_at for f in findings}
    pieces = {f.passage.piece for f in findings}
    if not pieces & {"back", "unknown"} or pieces & _FRONTS:
        return None
    last: dict[int, Statement] = {}
    silent: set[int] = set()
    for sentence, statement in zip(draft.document.sentences, draft.statements, strict=True):
        if sentence.piece not in _FRONTS or sentence.piece_at in told:
            continue
        silent.add(sentence.piece_at)
        if "shoulder" in sentence.view.text:
            told.add(sentence.piece_at)
        if statement is not None and any(f.verb for f in statement.frames):
            last[sentence.piece_at] = statement
    for piece in sorted(silent - told):
        end = last.get(piece)
        if end is not None and end.frames[-1].verb == "bind_off":
            return end.span
    return None


def why_no_live_seam(
    draft: Draft, findings: Sequence[Finding], *, told: bool
) -> tuple[str, Span] | None:
    """Return why the words that sew the shoulders rule live ones out, and where; None if they do not.

    `told` says that the join is to be told there; sts that are only held are joined in any words, but
    not where a part of the shoulder stays open or something is sewn in between.
    """
    document = draft.document
    if saddle := parted_by(document):
        return "what is sewn between the shoulders keeps them from meeting", saddle.span
    sleeved = with_sleeves(document, [f.passage.span for f in findings])
    seams = shoulder_seams(document)
    for sentence in seams:
        if _LIVE_JOIN.search(sentence.text):
            continue
        if partly_open(sentence.text):
            return "a part of the shoulder stays open, by the words that join it", sentence.span
        if told and seams_of(sentence, sleeved) is None:
            return "a sentence sews them in words for which no live join can stand", sentence.span
    every = None if seams else all_seams(document)
    if every is not None and every.partly:
        return "a part of the shoulder stays open, by the words that sew the seams", every.seams
    return None


def seam_sentences(document: Document) -> list[Sentence]:
    """Return the sentences that sew or join shoulders, those of a list left out."""
    return [
        s
        for s in document.sentences
        if not s.heading
        and s.piece != "list"
        and (sews(s.text) or (_LIVE_JOIN.search(s.text) and "shoulder" in s.text.lower()))
    ]


def note_held(draft: Draft, notes: Notes) -> None:
    """Warn of sentences that sew or join shoulders which are held now."""
    document = draft.document
    told = [s.span for s in shoulder_seams(document) if not _LIVE_JOIN.search(s.text)]
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
        if isinstance(shaping, DividedShaping):
            continue  # two shoulders at one edge each gain none
        notes.warn(
            "not-exact",
            f"{piece_named(revision.finding)} is kept live the usual way, with a row more or less: "
            f"{why_not_exact(shaping)}",
            revision.finding.passage.span,
        )


def _list(values: Sequence[int]) -> str:
    return ", ".join(map(str, values))


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
        if _LIVE_JOIN.search(sentence.text):
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


def note_join_not_told(draft: Draft, revisions: Sequence[Revision], notes: Notes) -> None:
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
    r"\s+(?:up\s+)?(?:\w+\s+){0,3}steps\b(?:\s+(?:of|at|on|in)\s+[^,.;]*)?"
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


_LIVE_JOIN = regex.compile(r"(?i)\b(?:three|3)[\s-]*needle\b|\b3nbo\b|\bgraft|\bkitchener\b")
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
        if not _LIVE_JOIN.search(sentence.text) or "=" in sentence.text:
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
            n=f"{listed(self._totals, style.list_form)} {style.unit}",
            ends=joins["ends"][self._ends].format(edge=self._edge),
            how=how,
        )
        return finished(text, style)


def warn_of_other_edges(
    draft: Draft, revisions: Sequence[Revision], outcomes: Mapping[str, Outcome], notes: Notes
) -> None:
    """Warn where one shoulder is sloped now and one that meets it, or the other side, keeps its steps."""
    sloped = [r.finding for r in revisions if r.finding.kind == "shoulder" and r.plan.slopes]
    told: set[int] = set()
    for kept in draft.findings if sloped else ():
        outcome = outcomes.get(kept.id)
        perhaps = kept.evidence.kind is None  # it is asked whether it shapes a shoulder
        if (kept.kind != "shoulder" and not perhaps) or kept.passage.piece_at in told:
            continue
        if outcome is None or outcome.status == "rewritten":
            continue
        told.add(kept.passage.piece_at)
        other = next((f for f in sloped if f.passage.piece_at != kept.passage.piece_at), sloped[0])
        where = "" if other.passage.piece_at != kept.passage.piece_at else " in the same piece"
        notes.warn(
            "edges-no-longer-match",
            f"{kept.id} keeps its steps, but {other.id}{where} is sloped now: "
            f"{'if it shapes a shoulder, ' if perhaps else ''}edges that are joined no "
            f"longer match (put {kept.id} right too, or leave both as they were)",
            kept.passage.span,
        )
