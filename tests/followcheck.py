"""Look through a revised draft for what no longer holds: words of the old shoulders, words defined nowhere.

It shares no code with the package that writes the edits: the revised text and the edits are looked at by
patterns of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from rewriter.report import Report


@dataclass(frozen=True)
class Fault:
    """A place of a revised draft at which something is wrong."""

    kind: str
    found: str
    where: str
    """The sentence, or the line of new text."""


# --- abbreviations -----------------------------------------------------------------------------------

_SHORT = re.compile(
    r"(?<![\w&])(DS|w&t|yo|RS|WS|R\.S|W\.S|sts?|k|p|sl|rem|foll|beg|alt|tog|patt|pat|BO|CO|cont|rep|dec|inc"
    r"|LH|RH|wyif|wyib|ssp|pm|sm|rm|C\d[FB])(?:(?<=[kp])(?=\d)|(?![\w&]))",
    re.IGNORECASE,
)
_MEANS = {
    "ds": r"DS\W{1,8}double st",
    "w&t": r"w&t\W{1,8}wrap and turn",
    "yo": r"yo \(yarn over\)",
    "sl": r"sl 1: after turning",
    "ws": r"WS\W{1,4}wrong side",
    "rs": r"RS\W{1,4}right side",
    "p": r"(?<!\w)p\.?\W{1,4}purl",
    "k": r"(?<!\w)k\.?\W{1,4}knit",
}
_PAIRS = {"rs": "ws", "ws": "rs", "k": "p", "p": "k", "st": "sts", "sts": "st"}


def undefined(draft: str, replacements: Iterable[str]) -> list[Fault]:
    """Return the abbreviations in new text that the draft does not use and no edit explains.

    A draft that uses one of a pair (RS and WS, k and p) is understood where the other is used, unless it
    explains the one: then it would explain the other too.
    """
    own = {found.group().lower() for found in _SHORT.finditer(draft)}
    one = {
        w for w in own & _PAIRS.keys() if w not in _MEANS or not re.search(_MEANS[w], draft, re.I)
    }
    own |= {_PAIRS[word] for word in one}
    new = list(replacements)
    told = re.sub(r"\s+", " ", " ".join(new))
    out = []
    for text in new:
        for found in _SHORT.finditer(text):
            word = found.group().lower()
            means = _MEANS.get(word)
            if word in own or (means and re.search(means, told, re.IGNORECASE)):
                continue
            line = next((ln for ln in text.splitlines() if found.group() in ln), text)
            out.append(Fault("abbreviation", found.group(), line.strip()))
    return out


# --- sentences about the old shoulders ---------------------------------------------------------------

_SENTENCE = re.compile(r"(?:[^.;!?\n]|\.(?=\d|\w)|\n(?![ \t]*\r?\n))+")
_STEPS = re.compile(r"(?i)(?<!next )\b(?:stepped|steps|stairs)\b(?!\s+\d)")
_SEWS = re.compile(
    r"(?i)\b(?:sew|seam|join|weave|back-?\s?stitch|oversew|close)\b(?:\s+(?:up|the|both|right|left|one|other))*"
    r"\s+shoulders?\b"
)
_LIVE = re.compile(r"(?i)three-?\s?needle|\b3-needle|graft|kitchener")
_OLD_EDGE = re.compile(r"(?i)\b(?:cast|bound)-off\s+(?:sts|stitches|edges?)\b[^.;]*\bshoulders?\b")
_ROWS = re.compile(r"(?i)\b\d[\d\s(),:-]*\s+rows?\b")
_SHAPING = re.compile(r"(?i)\bshoulder\s+shapings?\b|\bshape\s+(?:the\s+)?shoulders?\b")


def stale(draft: str, report: Report) -> list[Fault]:
    """Return the sentences outside the new rows that still tell of stepped shoulders.

    A sentence that a diagnostic names is left to the reader.
    """
    shoulders = [p for p in report.passages if p.kind == "shoulder"]
    if not shoulders or any(p.status != "rewritten" for p in shoulders):
        return []
    shaping = [e for e in report.edits if e.why == "shaping"]
    live = any(re.search(r"(?i)holders?\.", e.replacement[-260:]) for e in shaping) and not any(
        d.code == "bound-off-instead" for d in report.diagnostics
    )
    out = []
    for sentence, touched, named in _outside(draft, report):
        if named:
            continue
        about = re.search(r"(?i)\b(?:shoulders?|seams?)\b", sentence)
        if about and (found := _STEPS.search(sentence)):
            out.append(Fault("steps", found.group(), sentence))
        joined = report.options.shoulders in ("three-needle", "graft") and live
        if joined and _SEWS.search(sentence) and not _LIVE.search(sentence + report.output):
            out.append(Fault("sewn", "sew", sentence))
        if joined and (found := _OLD_EDGE.search(sentence)):
            out.append(Fault("edge", found.group(), sentence))
        if re.search(r"(?i)rows?\s+(?:more|less|fewer)\b[^.]*$", sentence) and "side" in sentence:
            continue  # told by the other side, which moves with it
        if not touched and _ROWS.search(sentence) and _SHAPING.search(sentence):
            out.append(Fault("rows", "rows", sentence))
    if live:
        for edit in shaping:
            behind = draft[edit.span[1] : edit.span[1] + 40]
            if re.match(r"(?i)\s*(?:then\s+)?fasten\s+off\b", behind):
                out.append(Fault("fastened", "fasten off", behind))
            held = re.search(r"(?i)(?:on a|onto|on to)\s+holders?\.\s*$", edit.replacement)
            cut = re.search(r"(?i)(?:fasten\s+off|cut\s+yarn)", edit.replacement[-300:])
            if held and not cut and not re.match(r"(?i)\s*(?:break|cut)\b", behind):
                out.append(Fault("yarn", "holder", edit.replacement[-80:]))
    return out


def _outside(draft: str, report: Report) -> Iterator[tuple[str, bool, bool]]:
    """Return the revised sentences outside the new rows; whether an edit or a diagnostic is about them."""
    text, at = "", 0
    touched: list[tuple[int, int]] = []
    named: list[tuple[int, int]] = []
    places: list[tuple[int, int]] = []  # offset in the draft, offset in the text
    for edit in sorted(report.edits, key=lambda e: e.span):
        places.append((at, len(text)))
        text += draft[at : edit.span[0]]
        new = "\n\n" if edit.why == "shaping" else edit.replacement
        touched.append((len(text), len(text) + len(new)))
        text += new
        at = edit.span[1]
    places.append((at, len(text)))
    text += draft[at:]
    for diagnostic in report.diagnostics:
        span = diagnostic.span
        about_rows = span is not None and any(
            e.why == "shaping" and e.span[0] < span[1] and span[0] < e.span[1] for e in report.edits
        )
        if diagnostic.span is not None and not about_rows and diagnostic.code != "inferred":
            old, new_at = max(p for p in places if p[0] <= diagnostic.span[0])
            start = diagnostic.span[0] - old + new_at
            named.append((start, start + diagnostic.span[1] - diagnostic.span[0]))
    for found in _SENTENCE.finditer(text):
        a, b = found.span()
        yield (
            " ".join(found.group().split()),
            any(x <= b and y >= a for x, y in touched),
            any(x < b and y > a for x, y in named),
        )
