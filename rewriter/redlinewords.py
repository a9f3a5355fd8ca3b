"""Words of the page of changes as HTML: what is struck out, what is new, numbers of notes, the notes."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from html import escape

from rewriter import regex
from rewriter.pagelines import Part
from rewriter.redlineblocks import Note
from rewriter.worddiff import Kind

_TAGS = {"deleted": "del", "inserted": "ins"}
_SIGNS = {"deleted": "−", "inserted": "+"}


def words_of(parts: Sequence[Part], markdown: bool, notes: Mapping[int, Note]) -> str:
    """Return a block's words as HTML; a note's number stands within the change it is about."""
    out: list[str] = []
    bold: dict[Kind, bool] = {"same": False, "deleted": False, "inserted": False}
    previous: Kind = "same"
    at_line, broken = True, False
    for place, part in enumerate(parts):
        if isinstance(part, int):
            closing = next((t for t in _TAGS.values() if out and out[-1].endswith(f"</{t}>")), "")
            end = f"</{closing}>" if closing else ""
            before = (out or [""])[-1].removesuffix(end)
            words = before.rstrip("\n")  # the number stands behind the words, not on the line below
            out[-1:] = [f"{words}{reference(notes[part])}{before[len(words) :]}{end}"]
            continue
        kind, text = part
        if previous == "same" or kind == "same":
            bold["deleted"] = bold["inserted"] = bold["same"]
        lines = kind != "same" and at_line and _fills_lines(parts, place)
        if broken and kind == "same":
            text = text.removeprefix("\r").removeprefix("\n")  # whole lines end by themselves
        shown, bold[kind] = _weighed(text.strip("\n") if lines else text, bold[kind], markdown)
        if kind == "same":
            out.append(shown)
        else:
            sign = f'<i aria-hidden="true">{_SIGNS[kind]}</i>' if lines else ""
            shown = _SPACED.sub('<span class="gap"></span>', shown) if lines else shown
            out.append(
                f"<{_TAGS[kind]}{' class=lines' if lines else ''}>{sign}{shown}</{_TAGS[kind]}>"
            )
            bold["same"] = bold[kind]
        at_line = lines or text.endswith("\n")
        broken, previous = lines, kind
    return "".join(out)


def _fills_lines(parts: Sequence[tuple[Kind, str] | int], place: int) -> bool:
    """Say whether a change is of several lines, or stands for one that is."""
    following = [p for p in parts[place:] if not isinstance(p, int)]
    (kind, text), *rest = following[:2]
    if kind == "deleted" and rest and rest[0][0] == "inserted":
        text = f"{text}\n{rest[0][1]}" if "\n" in rest[0][1].strip() else text
    return "\n" in text.strip()


_SPACED = re.compile(r"\n[ \t]*\n\s*")


def reference(note: Note) -> str:
    return (
        f'<a class="ref" id="r{note.number}" href="#n{note.number}" '
        f'aria-label="{escape(note.label)} {note.number}"><b>{note.number}</b></a>'
    )


# A label or a whole line: stars elsewhere are those between which a row repeats.
_EMPHASIS = regex.compile(
    r"(?m)(?<![*\w])\*(?![\s*])([^*\n]{1,60}?:|(?<=^\*)[^*\n]*[^*\s])\*(?=\s|\Z)(?:(?<=:\*)|(?=\s*$))"
)


def _weighed(text: str, bold: bool, markdown: bool) -> tuple[str, bool]:
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if not markdown:
        return escape(text), bold
    out: list[str] = []
    for count, words in enumerate(text.split("**")):
        bold = bold != (count > 0)
        shown = _EMPHASIS.sub(r"<em>\1</em>", escape(words))
        out.append(f"<b>{shown}</b>" if bold and words else shown)
    return "".join(out), bold


def note_of(note: Note, following: dict[int, int], step: str) -> str:
    more = following.get(note.number)
    go_on = f' <a class="next" href="#n{more}">Next {step}</a>' if more else ""
    return (
        f'<li id="n{note.number}" class="{note.label.split()[0].lower()}">'
        f'<p><a class="back" href="#r{note.number}" aria-label="Back to the place">{note.number}</a> '
        f"<strong>{escape(note.label)}</strong> <span>{escape(note.place)}</span></p>"
        f"<p>{escape(note.text)}{go_on}</p></li>"
    )
