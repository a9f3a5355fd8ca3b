"""What an editor looks for in the changed words themselves: lists of sizes, abbreviations."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rewriter import regex
from rewriter.amounts import amount_pattern, read_amount
from rewriter.checknotes import CheckNote, CheckNotes
from rewriter.document import Sentence
from rewriter.lexicon import lexicon
from rewriter.reading import Draft
from rewriter.rowframes import tells_meaning
from rewriter.spans import Span


def changed_sentences(old: Draft, new: Draft) -> Iterator[Sentence]:
    """Yield the sentences of a revised text that the original does not have."""
    known = {_words(s) for s in old.document.sentences}
    for sentence in new.document.sentences:
        if not sentence.heading and _words(sentence) not in known:
            yield sentence


def _words(sentence: Sentence) -> str:
    return " ".join(sentence.view.text.split()).rstrip(".:;, ")


def check_lists(
    old: Draft, new: Draft, notes: CheckNotes, worked: Sequence[tuple[int, int] | None]
) -> None:
    """Add the lists of counts in changed words that have another length than there are sizes.

    `worked` are the spans of the passages: their lists were read with the sizes they are for.
    """
    sizes = len(old.sizes)
    if sizes == 1:
        return
    counted = regex.compile(
        rf"(?<![\d.,/-]){amount_pattern()}(?=\s*(?:more\s+)?{lexicon().patterns['STITCH']})"
    )
    for sentence in changed_sentences(old, new):
        inside = any(w and w[0] <= sentence.span.start < w[1] for w in worked)
        if inside or _FOR_SOME.search(sentence.view.text):
            continue
        for found in counted.finditer(sentence.view.text):
            span = sentence.view.span(found.start(), found.end())
            values = read_amount(found.group(), Span(0, 0)).values
            if len(values) in (1, sizes) or not any(c in found.group() for c in "([-/:"):
                continue
            notes.add(
                CheckNote(
                    "list-length",
                    "error",
                    f"{found.group()!r} has {len(values)} entries, but there are {sizes} sizes",
                    revised=span,
                    sizes=list(range(sizes)),
                )
            )


_FOR_SOME = regex.compile(r"\bonly\b")


def check_abbreviations(old: Draft, new: Draft, notes: CheckNotes) -> None:
    """Add the abbreviations of turning methods that are used but not in the text's own list."""
    text = new.document.source.text
    meanings = new.abbreviations
    for term in lexicon().abbreviated:
        pattern = regex.compile_new(rf"(?i)(?<![a-z&+]){regex.escape(term)}(?![a-z&+])")
        used = next(
            (
                s.view.span(*hit.span())
                for s in changed_sentences(old, new)
                if (meanings is None or not meanings.covers(s.span))
                and (hit := pattern.search(s.view.text)) is not None
                and not _tells(s, hit)
            ),
            None,
        )
        if used is None or (meanings is not None and meanings.defines(term)):
            continue
        explained = any(
            _tells(s, hit) for s in new.document.sentences for hit in pattern.finditer(s.view.text)
        )
        word = used.of(text)
        if explained:
            continue
        if meanings is not None:
            notes.add(
                CheckNote(
                    "abbreviation-missing",
                    "error",
                    f"{word!r} is used here, but the list of abbreviations does not have it",
                    revised=used,
                )
            )
        else:
            notes.add(
                CheckNote(
                    "term-not-explained",
                    "remark",
                    f"{word!r} is new here and explained nowhere",
                    revised=used,
                )
            )


def _tells(sentence: Sentence, hit: regex.Match[str]) -> bool:
    """Say whether a sentence gives the meaning of an abbreviation in it."""
    text = sentence.view.text
    at = sentence.view.span(*hit.span()).start
    listed = sentence.piece == "list"
    before = regex.split(r"[\r\n,;]" if listed else r"[\r\n]", sentence.source[:at])[-1]
    if not regex.search(r"\w", before) and tells_meaning(text[hit.start() :], in_list=listed):
        return True
    return explains(text, hit.start(), hit.end())


def explains(text: str, start: int, end: int) -> bool:
    """Say whether the words around an abbreviation give its meaning: "DS = double st", "... (DS)"."""
    if regex.match(r"\W{0,3}\s*(?:=|:\s*[a-z]|means\b|stands for)", text[end:]):
        return (
            not regex.search(r"[.:]\s*\S", text[:start].rstrip(" *_")[-12:])
            or "=" in text[end : end + 4]
        )
    before = text[:start].rstrip()
    if before.strip("*_( ").lower() == "note on":
        return True
    return before.endswith("(") and text[end : end + 1] == ")"
