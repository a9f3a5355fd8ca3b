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
from rewriter.joinwords import LIVE, names_join
from rewriter.listform import listed
from rewriter.options import Shoulders
from rewriter.outcome import Outcome
from rewriter.phrases import finished, wording
from rewriter.planner import why_not_exact, why_not_live
from rewriter.pressing import pressing_edits
from rewriter.reading import Draft, Finding, piece_named
from rewriter.revise import Revision, edge_word
from rewriter.spans import Span
from rewriter.style import Style, measure_style
from rewriter.yarnends import ends_left

_VERBS = (
    r"(?:join|sew(?:\s+up)?|seam|weave|(?:back|mattress|whip|ladder)[-\s]?stitch|over(?:sew|cast)"
    r"|stitch(?:\s+up)?|close|make)"
)
# "Join shoulder seams.", for both shoulders or one of them, and what is sewn in the same sentence.
_SEAM = regex.compile(
    rf"(?i)(?:^|(?<=[.;:]\s)|(?<=\n))\s*(?P<lead>(?:using|with)\s[a-z\s-]{{4,24}},\s+)?(?P<verb>{_VERBS})\s+"
    r"(?:(?:both|the|up)\s+)*(?:(?P<one>right|left)\s+)?shoulders?(?:\s+seams?)?"
    r"(?:\s+(?:together|(?:with|using|in|by)\s+[a-z\s-]{4,20}?))?"
    r"(?:(?:,|\s+and)(?:\s+and)?(?:\s+then)?\s+(?P<more>[^.;]+?))?\s*(?:\.|(?=;))"
)
# How the shoulders are sewn, which falls away when they are joined live: "..., aligning the slopes".
_MANNER = regex.compile(r"(?i)(?:taking|aligning|matching|easing|keeping)\b")
_PARTLY = regex.compile(r"(?i)(?:leaving|from|for|to)\b")
_DOING = regex.compile(rf"(?i)(?:{_VERBS}|set|press|block|pick|work|fold|turn|run|attach)\b")
_SEW_SHOULDERS = regex.compile(
    r"(?i)\b(?P<sew>sew(?:n|ing)?)\b(?=(?:\s+(?:up|the|both|right|left|one|first|second|other|back|front|and|to)\b,?)*\s+shoulders?\b)"
)
# Any sentence that sews shoulders, in whatever words.
_SEWS = regex.compile(
    rf"(?i)\b{_VERBS}\b(?:\s+(?:up|the|both|right|left|one|second|other|back|and|side|sleeve|underarm)\b,?)*"
    r"\s+shoulders?\b"
)


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


def unclear_seam(draft: Draft) -> Span | None:
    """Return a sentence that sews shoulders in words for which no live join can stand, if there is one."""
    for sentence in draft.document.sentences:
        text = sentence.text
        if sentence.heading or not _SEWS.search(text) or _LIVE_JOIN.search(text):
            continue
        hits = list(_SEAM.finditer(text))
        if not hits or any(_PARTLY.match(h.group("more") or "") for h in hits):
            return sentence.span
    return None


def seam_sentences(document: Document) -> list[Sentence]:
    """Return the sentences that sew or join shoulders, those of a list left out."""
    return [
        s
        for s in document.sentences
        if not s.heading
        and s.piece != "list"
        and (_SEWS.search(s.text) or (_LIVE_JOIN.search(s.text) and "shoulder" in s.text.lower()))
    ]


def note_held(draft: Draft, notes: Notes) -> None:
    """Warn of sentences that sew or join shoulders which are held now."""
    for sentence in draft.document.sentences:
        if not sentence.heading and _SEWS.search(sentence.text):
            notes.warn(
                "sewn-though-held",
                "the shoulders are held now, with no joining told: say here how they are joined",
                sentence.span,
            )


def _held_edits(draft: Draft, name: str) -> list[Edit]:
    """Reword "Sew shoulder seams" to "Join shoulder seams" where held sts wait for their join."""
    out = []
    for sentence in draft.document.sentences:
        if sentence.heading or sentence.piece == "list" or not names_join(sentence.view.text):
            continue
        if LIVE.search(sentence.view.text) or not (found := _SEW_SHOULDERS.search(sentence.text)):
            continue
        verb, start = found.group("sew"), sentence.span.start + found.start("sew")
        word = {"sew": "join", "sewn": "joined", "sewing": "joining"}[verb.lower()]
        word = word.upper() if verb.isupper() else word.capitalize() if verb[0].isupper() else word
        out.append(Edit(Span(start, start + len(verb)), word, "joining", name))
    return out


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
    live = [r for r in revisions if r.finding.kind == "shoulder" and r.plan.join == "held"]
    if join == "held" and live:
        return _held_edits(draft, live[0].finding.id)
    if join not in ("three-needle", "graft") or not revisions:
        return []
    first = revisions[0]
    totals = [steps[0].total for steps in first.plan.steps]
    ends = ends_left(revisions)
    out: list[Edit] = []
    for sentence in draft.document.sentences:
        if sentence.heading:
            continue
        for found in _SEAM.finditer(sentence.text):
            start = (
                sentence.span.start
                + found.start()
                + len(found.group())
                - len(found.group().lstrip())
            )
            span = Span(start, sentence.span.start + found.end())
            text = _joining(
                first, join, totals, draft, found.group("one"), ends, explained=bool(out)
            )
            text += _sewn_beside(found)
            if sentence.text[found.end() : found.end() + 1] == ";":
                text = text.removesuffix(".")
            out.append(Edit(span, text, "joining", first.finding.id))
    return [*out, *pressing_edits(draft, first, _style_at(first, draft), out)]


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


def _sewn_beside(found: regex.Match[str]) -> str:
    """Return the sentence for what was sewn together with the shoulders: " Join neckband seam."."""
    more = found.group("more")
    if more is None or _MANNER.match(more):
        return ""
    if _DOING.match(more):
        return f" {more[0].upper()}{more[1:]}."
    return f" {found.group('lead') or ''}{found.group('verb')} {more}."


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


def _joining(
    revision: Revision,
    join: Shoulders,
    totals: Sequence[int],
    draft: Draft,
    one: str | None,
    ends: str,
    *,
    explained: bool,
) -> str:
    """Return the sentence that joins live shoulders, with how it is done unless that is told already.

    `ends` names the phrase for the yarn: left at the armhole edge, or joined there.
    """
    style = _style_at(revision, draft)
    joins = wording(style.voice)["joins"]
    source = draft.document.source.text
    edge = edge_word(revision.finding.passage, source)
    how = ""
    if not explained and not _OWN_JOIN.search(source):
        in_garter = join == "graft" and revision.finding.fabric == "garter"
        how = joins["how"]["graft-garter" if in_garter else join]
        rep = "rep" if regex.search(r"\brep\b\.?\s+from\b", source) else "repeat"
        how = how.format(rep=rep, k=style.knit, st=style.st, sts=style.unit, edge=edge)
    text: str = joins[f"{join}-one" if one else join]
    text = text.format(
        side=(one or "").lower(),
        rs=style.sides.together[0],
        ws=style.sides.together[1],
        bo_noun="cast-off" if draft.terms == "UK" else "bind-off",
        n=f"{listed(totals, style.list_form)} {style.unit}",
        ends=joins["ends"][ends].format(edge=edge),
        how=how,
    )
    return finished(text, style)


def warn_of_other_edges(
    draft: Draft, revisions: Sequence[Revision], outcomes: Mapping[str, Outcome], notes: Notes
) -> None:
    """Warn where one piece has sloped shoulders now and a piece that meets it keeps its steps."""
    sloped = [r.finding for r in revisions if r.finding.kind == "shoulder" and r.plan.slopes]
    told = {f.passage.piece_at for f in sloped}
    for kept in draft.findings if sloped else ():
        outcome = outcomes.get(kept.id)
        if kept.kind != "shoulder" or kept.passage.piece_at in told or outcome is None:
            continue
        if outcome.status == "rewritten":
            continue
        told.add(kept.passage.piece_at)
        notes.warn(
            "edges-no-longer-match",
            f"{kept.id} keeps its steps, but {sloped[0].id} is sloped now: edges that are joined no "
            f"longer match (put {kept.id} right too, or leave both as they were)",
            kept.passage.span,
        )
