"""Words that only the old steps needed: abbreviations, and what explains a 0 or a dash in a list of sizes."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.diagnose import Notes
from rewriter.edits import Edit, moved
from rewriter.reading import Draft
from rewriter.smoothsteps import smooths_steps
from rewriter.spans import Span

# 'A "0" means that there are no sts', "where 0 is given, no sts ... are worked", "0 - no sts or rows"
_EXPLAINED = regex.compile(
    r"(?i)(?<![\d.,/])[\"'\u201c\u2018]?(?P<sign>0|[-\u2013\u2014])[\"'\u201d\u2019]?\s*"
    r"(?:=|:|[\u2013\u2014-]|,|is\s+given,?|stands,?|appears,?|means?)?\s*(?:(?:means?|that|there|are|to|work|is)\s+)*"
    r"(?:no(?:ne)?\s+(?:sts?|stitches|rows|times)|not\s+worked|nothing\s+is\s+worked|\W?skip)\b[^.;|\n]*"
)
# A list of sizes with a 0 or a dash in it: "0 (0, 4)", "6(6:0:0)", "- (-, M, L)", "(0) 4 (4)"
_SIGN = {"0": r"0(?![\d.])", "-": r"[-\u2013\u2014]"}


def note_leftovers(draft: Draft, edits: Sequence[Edit], output: str, notes: Notes) -> None:
    """Name what the draft explains and the revised text has no longer, where the draft had it."""
    if not edits:
        return
    source = draft.document.source.text
    for found in _EXPLAINED.finditer(source):
        span = Span(*found.span())
        sign = "0" if found["sign"] == "0" else "-"
        lists = _with_sign(sign)
        if _used(lists, source, span) and not _used(lists, output, moved(edits, span)):
            what = "0" if sign == "0" else "dash"
            notes.remark(
                "explained-in-vain",
                f"no list of sizes has a {what} any more: what is said of it here may go",
                span,
            )
    _note_smooth_steps(draft, edits, notes)
    _note_steps_named(draft, edits, notes)
    _note_abbreviations(draft, edits, output, notes)


def _note_smooth_steps(draft: Draft, edits: Sequence[Edit], notes: Notes) -> None:
    """Name what is said of the first st of each bind-off in a piece whose steps are short rows now."""
    changed = {e.passage for e in edits if e.why == "shaping"}
    pieces = {
        f.passage.piece_at for f in draft.findings if f.id in changed and f.kind == "shoulder"
    }
    for sentence in draft.document.sentences:
        if sentence.piece_at in pieces and smooths_steps(sentence.view):
            notes.remark(
                "explained-in-vain",
                "the shoulder is one slope now, with no steps to smooth: what is said of them here may go",
                sentence.span,
            )


# "Sew the shoulders, matching stair to stair", "taking care to join the stepped edges smoothly"
_STEPS_NAMED = regex.compile(
    r"(?i)\b(?:stepped|stairs?(?:-?\s?step(?:s|ped)?)?)\b(?=[^.;]*\b(?:edges?|seams?|shoulders?|seam)\b)"
    r"|\b(?:edges?|seams?|shoulders?|sew|join)\b[^.;]*\b(?:stepped|stairs?(?:-?\s?steps?)?)\b"
    r"|\b(?:shoulder\s+seams?|sew|join)\b[^.;]*\b(?:the|these|those)\s+(?:small\s+|little\s+)?steps\b"
)


def _note_steps_named(draft: Draft, edits: Sequence[Edit], notes: Notes) -> None:
    """Name what is said of the steps of shoulders elsewhere, where all of them are slopes now."""
    changed = {e.passage for e in edits if e.why == "shaping"}
    shoulders = [f for f in draft.findings if f.kind == "shoulder" or f.evidence.kind is None]
    if any(f.id not in changed for f in shoulders):
        return
    within = [f.passage.span for f in draft.findings]
    for sentence in draft.document.sentences:
        own = any(w.start <= sentence.span.start < w.end for w in within)
        span = sentence.span
        edited = any(e.span.start < span.end and span.start < e.span.end for e in edits)
        if not (own or edited or sentence.heading) and _STEPS_NAMED.search(sentence.text):
            notes.remark(
                "explained-in-vain",
                "the shoulders are slopes now, with no steps: what is said of them here may go",
                span,
            )


def _with_sign(sign: str) -> regex.Pattern[str]:
    """Return what finds a list of sizes with that sign for one of them."""
    one = _SIGN[sign]
    item = rf"(?:\d+|{one})"
    gap = r"\s*[,:;/\s-]\s*"
    first = rf"{one}\s?[(\[]\s?{item}"
    later = rf"[(\[](?:\s*{item}{gap})*\s*{one}\s*(?:[,:;/\-]\s*{item}|[)\]])"
    return regex.compile_new(rf"(?<![\d.,]){first}|{later}")


def _note_abbreviations(draft: Draft, edits: Sequence[Edit], output: str, notes: Notes) -> None:
    """Name the abbreviations of the draft's list that the steps alone had."""
    listed, source = draft.abbreviations, draft.document.source.text
    if listed is None:
        return
    place = moved(edits, listed.span)
    unused = []
    for entry in listed.entries:
        key = regex.sub(r"\(.*?\)|\.$", "", entry.key).strip()
        if len(key) < 2:
            continue
        word = regex.compile_new(rf"(?i)(?<![\w&]){regex.escape(key)}(?:s|\b(?=\.)|(?![\w&]))")
        if _used(word, source, listed.span) and not _used(word, output, place):
            unused.append(entry)
    if unused:
        names = ", ".join(entry.key for entry in unused)
        they = "this abbreviation is" if len(unused) == 1 else "these abbreviations are"
        notes.remark(
            "explained-in-vain",
            f"{they} used nowhere any more and may go from the list: {names}",
            unused[0].span,
        )


def _used(pattern: regex.Pattern[str], text: str, outside: Span) -> bool:
    """Say whether a text has something outside one place of it."""
    return any(m.end() <= outside.start or m.start() >= outside.end for m in pattern.finditer(text))
