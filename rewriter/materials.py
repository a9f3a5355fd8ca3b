"""What the new text needs beyond the draft's list of materials: markers, holders, a needle.

An item is added at the end of the list in the list's own form: a line, or behind the last semicolon, comma or
full stop. A number of holders that is too small is raised where it stands. Where the list names such things
already it stays, and a list in no known form stays too.
"""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.amounts import number_words
from rewriter.document import Sentence
from rewriter.edits import Edit
from rewriter.evidencewords import BODIES
from rewriter.halves import DividedShaping
from rewriter.materialslist import MaterialsList, find_materials
from rewriter.numberwords import in_words, read_words
from rewriter.phrases import wording
from rewriter.reading import Draft
from rewriter.revise import Revision
from rewriter.spans import Span
from rewriter.style import colour_word
from rewriter.voice import measure_voice


def notion_edits(draft: Draft, revisions: Sequence[Revision]) -> list[Edit]:
    """Add what the rewritten shoulders need to the draft's materials."""
    told = [r for r in revisions if r.plan.slopes or r.plan.join != "sewn"]
    found = find_materials(draft.document)
    if not told or found is None:
        return []
    name = told[0].finding.id
    items = _markers(draft, [r for r in told if r.plan.slopes], found)
    edits = []
    if {r.plan.join for r in revisions} - {"sewn"}:
        held = _held(draft, revisions)
        raised = _raised(found, held)
        if raised is not None:
            edits.append(Edit(*raised, "notions", name))
        elif _HOLDING.search(found.words) is None:
            items.append(_item("holders", found, n=held))
    elif _holds_a_half(told) and _HOLDING.search(draft_words(draft)) is None:
        items.append(_item("holder", found, n=1))
    joins = {r.plan.join for r in revisions}
    if "three-needle" in joins and "spare needle" not in found.words:
        larger = _LARGER.search(draft_words(draft)) or several_sizes(found.words)
        items.append(_item("needle_larger" if larger else "needle", found))
    if "graft" in joins and _SEWING_NEEDLE.search(found.words) is None:
        items.append(measure_voice(draft.document.source.text).needle)
    if items:
        text = "".join(f"{found.before}{found.case(item)}{found.after}" for item in items)
        if not any(c.islower() for c in draft.document.source.text):
            text = text.upper()
        edits.append(Edit(Span(found.end, found.end), text, "notions", name))
    return edits


def draft_words(draft: Draft) -> str:
    """Return the whole draft in lower case."""
    return draft.document.source.text.lower()


def _item(key: str, found: MaterialsList, colour: str = "", **counts: int) -> str:
    """Return an item, its counts in words where the list has them so."""
    table = wording()["notions"]
    said = {name: in_words(n) if found.in_words and n else str(n) for name, n in counts.items()}
    return str(table[key]).format(colour=colour, **said)


def _markers(draft: Draft, revisions: Sequence[Revision], found: MaterialsList) -> list[str]:
    first = second = 0
    for revision in revisions:
        words = _new_words(revision)
        if "marker" not in words:
            continue
        edges = [max(len(e.rows) for e in same) for same in zip(*revision.plan.steps, strict=True)]
        first = max(first, sum(k - 1 for k in edges))
        second = max(second, len(edges) if " in a second " in words else 0)
    if not first:
        return []
    key = "markers_two" if second else "markers" if first > 1 else "marker"
    colour = colour_word(draft.document.source.text, draft.terms)
    item = _item(key, found, colour, n=first, m=second)
    told = _MARKERS.search(found.words)
    if told is None:
        return [item]
    enough = told["n"] is None or read_count(told["n"]) >= first + second
    if enough and _REMOVABLE.search(told["kind"]) and (not second or _COLOURS.search(found.words)):
        return []
    more: str = wording()["notions"]["for_shoulders"]
    return [item + more]  # the draft's own may hang elsewhere by then, or be closed rings


def _new_words(revision: Revision) -> str:
    """Return the new words of a shoulder, in lower case and on one line."""
    words = " ".join(e.replacement for e in revision.edits if e.why == "shaping")
    return " ".join(words.lower().split())


def _holds_a_half(revisions: Sequence[Revision]) -> bool:
    """Say whether one side of a neck waits on a holder while the other is worked."""
    return any(_HALF_HELD.search(_new_words(r)) for r in revisions)


_NUMBER = rf"(?:\d+|{number_words()}|an?)"
_MARKERS = regex.compile(
    rf"\b(?:(?P<n>{_NUMBER})\s+)?(?P<kind>(?:[a-z-]+\s+){{0,2}}?(?:[a-z]+-)?)markers?\b"
)
_REMOVABLE = regex.compile(r"remov|lock|split|clip|open|coil-?less|detach")
_COLOURS = regex.compile(r"\bcolou?rs\b|\b(?:one|another|second|contrast(?:ing)?)\s+colou?r\b")
_HALF_HELD = regex.compile(r"\b(?:these|rem(?:aining)?|other)\b[^.;]*\bon an? holder\b")
_SEWING_NEEDLE = regex.compile(
    r"\b(?:tapestry|yarn|wool|darning|sewing|blunt|bodkin|grafting)\b[\s-]*(?:pointed\s+)?needle|\bbodkin\b"
)
# "2 stitch holders", "Two st. holders", "a stitch-holder", "stitch holder"; "stitch holders (2)"
_HOLDERS = regex.compile(
    rf"\b(?:(?P<n>{_NUMBER})\s+)?(?P<kind>(?:[a-z-]*(?:stitch|st\.?|large|small)[\s-]+){{0,2}})"
    r"(?P<noun>holder(?P<s>s?))\b(?:\s*\((?P<behind>\d+)\))?(?P<or>\s+(?:or|and)\s+(?:waste|scrap)\b)?"
)
_HOLDING = regex.compile(r"holder|(?:waste|scrap)\s+yarn|spare\s+needle|for\s+holding")
_LARGER = regex.compile(
    r"\b(?:larger?|bigger)\s+(?:size\s+)?needles?\b|needles?[^.;\n]{0,40}\b(?:and|&)\b"
    r"|\b(?:mm|\d)\s+(?:and|&)\s[^.;\n]{0,20}\bneedles\b"
)


_ITEM_END = regex.compile(r"[;\n]|\.(?=\s|\Z)(?<!\b(?:no|nos|n|nr|size|us|mm)\.)")
_SIZE = r"\d+(?:[.,]\d+)?[\u00bc-\u00be]?"
_IN_MM = regex.compile(rf"({_SIZE})\s*mm\b")
_BY_NUMBER = regex.compile(
    rf"\b(?:nos?\b\.?|n\u00b0|nr\b\.?|sizes?|us)\s*({_SIZE})(?:\s*(?:and|&)\s*({_SIZE}))?"
)


def several_sizes(words: str) -> bool:
    """Say whether a list of materials, in lower case, has needles of more than one size."""
    needles = "\n".join(item for item in _ITEM_END.split(words) if "needle" in item)
    for pattern in (_IN_MM, _BY_NUMBER):
        sizes = {size for found in pattern.finditer(needles) for size in found.groups() if size}
        if len(sizes) > 1:
            return True
    return False


def read_count(words: str) -> int:
    """Return the number with which the name of a thing begins; "a" is one."""
    number = words.split()[0]
    if number.isdigit():
        return int(number)
    return 1 if number in ("a", "an") else read_words(number)


def _raised(found: MaterialsList, held: int) -> tuple[Span, str] | None:
    """Return the name of the holders in the list and what it becomes, where there are too few."""
    told = _HOLDERS.search(found.words)
    if (
        told is None
        or told["or"]
        or regex.search(r"(?:waste|scrap)\s+yarn\s+or\s+$", found.words[: told.start()])
    ):
        return None
    number = told["behind"] or told["n"]
    if (number is None and told["s"]) or (number and read_count(number) >= held):
        return None
    source = found.text[told.start() : told.end()]
    if told["behind"]:
        text = f"{source[: source.rindex('(')]}({held})"
        return Span(found.start + told.start(), found.start + told.end()), text
    words = found.in_words if number is None else not number.isdigit()
    count = in_words(held) if words else str(held)
    rest = source[told.start("kind") - told.start() :]
    if not any(c.islower() for c in source):
        count, rest = count.upper(), rest if told["s"] else f"{rest}S"
        return Span(found.start + told.start(), found.start + told.end()), f"{count} {rest}"
    if number is None or source[0].isupper():
        rest = rest if number else rest[0].lower() + rest[1:]
        count = count.capitalize() if source[0].isupper() else count
    plural = "" if told["s"] else "s"
    return Span(found.start + told.start(), found.start + told.end()), f"{count} {rest}{plural}"


# Sts of a neck that wait for the neckband: "slip centre 20 sts onto a holder"
_NECK_HELD = regex.compile(
    r"(?:\b(?:cent(?:re|er)|middle|next)\b[^.;]*\bholder|\bholder\b[^.;]*\bneck)"
)


# "Neck: work 8 sts and sl them to a holder": on a front with one shoulder these are the neck's
_PUT = regex.compile(r"\d\)?\s*(?:sts?|stitches|loops)\b[^.;]*\bholder")
_ONE_FRONT = frozenset({"left front", "right front"})


def _holds_neck(sentence: Sentence) -> bool:
    """Say whether a sentence leaves sts of the neck on a holder."""
    words = sentence.view.text
    under_neck = sentence.piece in _ONE_FRONT and "neck" in sentence.topics
    return bool(_NECK_HELD.search(words) or (under_neck and _PUT.search(words)))


def _held(draft: Draft, revisions: Sequence[Revision]) -> int:
    """Return how many holders a garment needs at most: its live shoulders, and the necks left waiting."""
    shoulders = [r for r in revisions if r.finding.kind == "shoulder"]
    pieces = {r.finding.passage.piece_at for r in shoulders}
    necks = {r.finding.passage.piece_at for r in shoulders if _neck_waits(r)}
    for sentence in draft.document.sentences:
        inside = any(
            r.region.start <= sentence.span.start < r.region.end
            and not isinstance(r.shaping, DividedShaping)
            for r in shoulders
        )
        if sentence.piece_at in pieces and not inside and _holds_neck(sentence):
            necks.add(sentence.piece_at)
    named = {s.piece for s in draft.document.sentences} & BODIES
    # the neck of a front that is worked to match another one
    fronts = {s.piece_at: s.piece for s in draft.document.sentences if s.piece in _ONE_FRONT}
    waiting = len({fronts[at] for at in necks if at in fronts})
    matching = len(set(fronts.values())) - len({fronts[at] for at in pieces if at in fronts})
    mirrored = matching if waiting else 0
    both = len(pieces) > 1 or (
        "back" in named and len(named) > 1
    )  # a front may be told by the back
    return (4 if both else 2) + len(necks) + mirrored


def _neck_waits(revision: Revision) -> bool:
    """Say whether the words of a shoulder leave the sts of its neck on a holder."""
    return revision.shaping.two_edged and revision.shaping.ending == "held"
