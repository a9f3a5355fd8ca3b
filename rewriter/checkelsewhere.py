"""What a revised text changes outside the shoulders: listed for the editor, not judged."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence
from itertools import zip_longest

from rewriter import regex
from rewriter.checknotes import CheckNote, CheckNotes
from rewriter.document import Sentence
from rewriter.joinwords import names_join
from rewriter.lexicon import lexicon
from rewriter.pairing import Pair
from rewriter.reading import Draft
from rewriter.spans import Span, quote
from rewriter.startrow import counted_before
from rewriter.worddiff import replaced

_MOST = 30
"""Changes listed one by one."""
_NUMBER = regex.compile(r"\d+")


def list_changes_elsewhere(
    old: Draft, new: Draft, pairs: Sequence[Pair], notes: CheckNotes
) -> None:
    """Add a remark for each sentence that differs and belongs to no passage that was worked."""
    worked = [p.region for p in pairs if p.region is not None]
    stepped = [p.original.passage.span for p in pairs]
    looked_at = [s for p in pairs for s in _lead_words(p)]
    worked += [s for p in pairs for s in counted_before(p)]
    one = [s for s in old.document.sentences if not _within(s, stepped)]
    two = [s for s in new.document.sentences if not _within(s, worked)]
    matcher = difflib.SequenceMatcher(
        None, [_plain(s) for s in one], [_plain(s) for s in two], autojunk=False
    )
    found: list[CheckNote] = []
    for op, a, b, c, d in matcher.get_opcodes():
        if op == "equal" or _joined(one[a:b]) == _joined(two[c:d]):
            continue  # the same words, cut into other sentences
        came = _joined(two[c:d])
        for before, after in _paired(one[a:b], two[c:d]):
            if before is not None and after is None and _joined([before]) in came:
                continue  # they stand within a longer sentence now
            if not _was_looked_at(before, after, looked_at):
                found.append(_note(before, after))
    for note in found[:_MOST]:
        notes.add(note)
    if len(found) > _MOST:
        more = f"{len(found) - _MOST} more sentences outside the shoulders differ"
        notes.add(CheckNote("changed-elsewhere", "remark", more))


def _joined(sentences: Sequence[Sentence]) -> str:
    """Return the words of sentences that follow each other, without the signs between them."""
    return f" {' '.join(_plain(s) for s in sentences)} "


def _was_looked_at(
    before: Sentence | None, after: Sentence | None, looked_at: Sequence[Span]
) -> bool:
    """Say whether a change is one of the seams, or of the words that tell the first row of a passage."""
    if any(s is not None and names_join(s.view.text) for s in (before, after)):
        return True
    if before is None:
        return after is not None and _is_about_turns(after.view.text)
    if after is None:
        return any(s.start <= before.span.start and before.span.end <= s.end for s in looked_at)
    at = before.span.start
    for piece in replaced(before.text, after.text):
        end = at + len(piece.text) if piece.kind != "inserted" else at
        inside = any(s.start - 1 <= at and end <= s.end + 1 for s in looked_at) or (
            piece.kind == "inserted" and _is_about_turns(piece.text.lower())
        )
        if piece.kind != "same" and piece.text.strip() and not inside:
            return False
        at = end
    return True


def _note(before: Sentence | None, after: Sentence | None) -> CheckNote:
    """Return the remark about a sentence that was changed, taken out or put in."""
    original = None if before is None else before.span
    revised = None if after is None else after.span
    if before is None:
        words = "new outside the shoulders, not looked at"
    elif after is None:
        words = "no longer in the revised text"
    else:
        numbers = [_NUMBER.findall(s.view.text) for s in (before, after)]
        what = "words" if numbers[0] == numbers[1] else "numbers"
        words = f"other {what} outside the shoulders: the original has “{quote(before.text)}”"
    return CheckNote("changed-elsewhere", "remark", words, None, original, revised)


def _plain(sentence: Sentence) -> str:
    return " ".join(sentence.view.text.split()).strip(" .:;,#*")


def _within(sentence: Sentence, spans: Sequence[Span]) -> bool:
    return any(s.start < sentence.span.end and sentence.span.start < s.end for s in spans)


def _lead_words(pair: Pair) -> list[Span]:
    """Return the words before a passage that tell its first row: they were compared."""
    lead = pair.original.lead_in
    spans = [m.span for m in lead.mentions] + [s.span for s in lead.absorbed]
    return [*spans, *([lead.side_span] if lead.side_span is not None else [])]


def _paired(
    one: Sequence[Sentence], two: Sequence[Sentence]
) -> Iterator[tuple[Sentence | None, Sentence | None]]:
    """Pair sentences that differ with those that came in their place, in order, by their words."""
    if len(one) * len(two) > _MOST_PAIRS:
        yield from zip_longest(one, two)
        return
    at = 0
    for before in one:
        words = _plain(before)
        like = [
            difflib.SequenceMatcher(None, words, _plain(s), autojunk=False).ratio()
            for s in two[at:]
        ]
        best = max(range(len(like)), key=like.__getitem__, default=None)
        if best is None or like[best] < _LIKE:
            yield before, None
            continue
        for after in two[at : at + best]:
            yield None, after
        yield before, two[at + best]
        at += best + 1
    for after in two[at:]:
        yield None, after


_MOST_PAIRS = 2_000
"""Pairs compared word by word; texts that have so little in common are told in order."""
_LIKE = 0.5
"""Likeness from which one sentence stands for another."""


def _is_about_turns(text: str) -> bool:
    """Say whether words that came tell the turning method or its markers."""
    return "marker" in text or any(
        regex.compile_new(rf"(?<![a-z&+]){regex.escape(term)}(?![a-z&+])").search(text)
        for term in lexicon().abbreviated
    )
