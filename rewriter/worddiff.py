"""Two texts compared for people: paragraph by paragraph, then word by word, a size list as one word."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

Kind = Literal["same", "deleted", "inserted"]
_KINDS: tuple[Kind, ...] = ("same", "deleted", "inserted")


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of text and what became of it; deleted ones are of the old text, the others of the new."""

    kind: Kind
    text: str


# A number with its sizes ("5 (6, 7)", "8(9:10)") counts as one word, as do a word and a row of blanks.
_WORDS = re.compile(r"[\d½¼¾⅓⅔⅛⅜⅝⅞./]+\s?[(\[][^()\[\]\n]{1,200}[)\]]|[\w'’½¼¾⅓⅔⅛]+|\s+|[^\w\s]")
_LIKE, _LINES_LIKE = 0.5, 0.85
"""A line, or several, with fewer words in common are shown as replaced whole, which reads better."""
_MOST_WORDS = 3_000
"""Words on one side up to which they are compared one by one (the time grows as their square)."""


def compare(old: str, new: str) -> list[Piece]:
    """Return both texts as one list of pieces; the old one is the pieces that are not inserted."""
    before, after = old.splitlines(keepends=True), new.splitlines(keepends=True)
    out: list[Piece] = []
    for op, a, b, c, d in difflib.SequenceMatcher(None, before, after, False).get_opcodes():
        one, two = "".join(before[a:b]), "".join(after[c:d])
        out += [Piece("same", one)] if op == "equal" else replaced(one, two)
    return joined(out)


def replaced(old: str, new: str) -> list[Piece]:
    """Return what became of a stretch of text: word by word where the two are alike."""
    one, two = _WORDS.findall(old), _WORDS.findall(new)
    if not one or not two or max(len(one), len(two)) > _MOST_WORDS:
        return joined([Piece("deleted", old), Piece("inserted", new)])
    matcher = difflib.SequenceMatcher(lambda word: word.isspace(), one, two, False)
    if matcher.ratio() < (_LINES_LIKE if "\n" in old.strip() + new.strip() else _LIKE):
        return joined([Piece("deleted", old), Piece("inserted", new)])
    out: list[Piece] = []
    for op, a, b, c, d in matcher.get_opcodes():
        gone, come = "".join(one[a:b]), "".join(two[c:d])
        if op == "equal" and gone.strip(" ") == "" and out and out[-1].kind == "inserted":
            # a blank between two changed words belongs to both
            out += [Piece("deleted", gone), Piece("inserted", come)]
        elif op == "equal":
            out.append(Piece("same", gone))
        else:
            out += [Piece("deleted", gone), Piece("inserted", come)]
    return joined(out)


def joined(pieces: Iterable[Piece]) -> list[Piece]:
    """Join neighbours of one kind, deleted before inserted, and leave out empty ones."""
    out: list[Piece] = []
    for _, group in groupby((p for p in pieces if p.text), key=lambda p: p.kind == "same"):
        together = list(group)
        for kind in _KINDS:
            text = "".join(p.text for p in together if p.kind == kind)
            out += [Piece(kind, text)] if text else []
    return out


# --- for a terminal ---------------------------------------------------------------------------------

_OFF, _HEAD, _PLACE = "\x1b[0m", "\x1b[1m", "\x1b[36m"
_MINUS, _PLUS = "\x1b[31m", "\x1b[32m"
_GONE, _COME = "\x1b[1;9;31m", "\x1b[1;4;32m"
"""Bold and struck out, bold and underlined: told apart without the colours too."""
_CONTROLS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")
_AROUND = 2
"""Lines shown before and after a change."""


def coloured_diff(old: str, new: str, name: str, renamed: str = "") -> str:
    """Return the changes for a terminal: a unified diff whose changed words stand out.

    The second text may have a name of its own.
    """
    before, after = old.splitlines(), new.splitlines()
    matcher = difflib.SequenceMatcher(None, before, after, False)
    lines: list[str] = []
    for group in matcher.get_grouped_opcodes(_AROUND):
        first, last = group[0], group[-1]
        lines.append(
            f"{_PLACE}@@ lines {first[1] + 1}–{last[2]} now {first[3] + 1}–{last[4]} @@{_OFF}"
        )
        for op, a, b, c, d in group:
            if op == "equal":
                lines += [f" {_shown(line)}" for line in before[a:b]]
            else:
                lines += _changed(before[a:b], after[c:d])
    if lines:
        lines.insert(0, f"{_HEAD}{_shown(f'{name} → {renamed}' if renamed else name)}{_OFF}")
    return "".join(f"{line}\n" for line in lines)


def _changed(old: Sequence[str], new: Sequence[str]) -> Iterator[str]:
    pieces = replaced("\n".join(old), "\n".join(new))
    for sign, own, word, line, lines in (
        ("-", "deleted", _GONE, _MINUS, old),
        ("+", "inserted", _COME, _PLUS, new),
    ):
        rows: list[list[tuple[bool, str]]] = [[]]
        for piece in (p for p in pieces if p.kind in ("same", own)):
            first, *more = piece.text.split("\n")
            rows[-1].append((piece.kind == own, first))
            rows += [[(piece.kind == own, part)] for part in more]
        for row in rows if lines else []:
            told = [part for part in row if part[1]]
            whole = all(changed for changed, _ in told)  # the sign says it of a whole line
            shown = "".join(
                f"{word}{_shown(text)}{_OFF}{line}" if changed and not whole else _shown(text)
                for changed, text in told
            )
            yield f"{line}{sign}{shown}{_OFF}"


def _shown(text: str) -> str:
    return _CONTROLS.sub("\ufffd", text)
