"""What can be downloaded of a revised draft, and how it is written."""

from __future__ import annotations

import importlib.util
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import PurePath

from rewriter.answers import WrongAnswer
from rewriter.formats import open_draft
from rewriter.formats.carrier import DraftFile, NotWritable
from rewriter.formats.outcome import draft_for, write_revised
from rewriter.options import Changes
from rewriter.source import UnreadableDraft
from rewriter.web.bodies import File
from rewriter.web.charting import chart_file
from rewriter.web.choices import Choices
from rewriter.web.problems import Refused

_MEDIA = {
    ".docx": "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
    ".docm": "application/vnd.ms-word.document.macroEnabled.12",
    ".odt": "application/vnd.oasis.opendocument.text",
    # never shown by a browser as a page of this server
    ".html": "application/octet-stream",
    ".htm": "application/octet-stream",
    ".xhtml": "application/octet-stream",
}
_WORD, _OPEN, _WEB = (".docx", ".docm"), (".odt",), (".html", ".htm", ".xhtml")


@dataclass(frozen=True)
class Offer:
    """A form in which the revised draft can be had."""

    key: str
    label: str
    suffix: str | None
    """Ending of the file's name; None for the draft's own."""
    changes: Changes = "applied"


_DOCX = Offer("docx", "Word, changes tracked", ".docx", "tracked")
_PAGE = Offer("redline", "Page of changes", ".html")


def offers_of(draft: DraftFile) -> list[Offer]:
    """Return what a draft's revision can be downloaded as, its own format first."""
    suffixes, carrier = draft.suffixes, draft.source.carrier
    word = [_DOCX] if importlib.util.find_spec("docx") else []
    if not carrier:
        return [Offer("own", "Text", None), *word, _PAGE]
    text = Offer("text", "Text", ".md")
    if not suffixes:
        return [*word, text, _PAGE]
    kind, marked = "Document", "changes tracked"
    if suffixes[0] in _WORD:
        kind, word = "Word", []
    elif suffixes[0] in _WEB:
        kind, marked = "Web page", "changes marked"
    own = [
        Offer("own", f"{kind}, {marked}", None, "tracked"),
        Offer("applied", f"{kind}, changes made", None, "applied"),
    ]
    return [*own, *word, text, _PAGE]


@dataclass(frozen=True)
class Sent:
    """A file to be downloaded."""

    name: str
    media: str
    data: bytes


def download(file: File, choices: Choices, key: str) -> Sent:
    """Return the revised draft in one of the forms offered, or the chart; Refused where it cannot be had."""
    work = choices.work
    try:
        draft = open_draft(file.data, file.name)
        if key == "chart":
            return _chart(draft, choices, PurePath(file.name).stem)
        offer = next((o for o in offers_of(draft) if o.key == key), None)
        if offer is None:
            raise Refused("not-writable", f"this draft cannot be had as {key!r}")
        suffix = offer.suffix or _own_suffix(draft, file.name)
        ending = "steps" if work.options.to == "steps" else "short-rows"
        name = f"{PurePath(file.name).stem}-{ending}{suffix}"
        if offer.key == "redline":
            from rewriter.redline import redline_of

            page = redline_of(work.report(draft.source), draft.source)
            return Sent(f"{PurePath(file.name).stem}-changes.html", _MEDIA[".html"], page.encode())
        out = name if offer.suffix else None
        draft = draft_for(draft, out)
        report = work.report(draft.source)
        date = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:00Z")
        data = write_revised(draft, report, out, offer.changes, date)
    except UnreadableDraft as error:
        raise Refused("unreadable", str(error)) from None
    except WrongAnswer as error:
        raise Refused("invalid", str(error)) from None
    except NotWritable as error:
        raise Refused("not-writable", f"{error}; take the text instead") from None
    return Sent(name, _MEDIA.get(suffix, "text/plain"), data)


def _chart(draft: DraftFile, choices: Choices, stem: str) -> Sent:
    report, work = choices.work.done(draft.source)
    size = report.sizes.index(choices.size) if choices.size in report.sizes else 0
    data = chart_file(work, size) if work else None
    if data is None:
        raise Refused("not-writable", "nothing was rewritten that could be drawn")
    label = f"-size-{report.sizes[size]}" if len(report.sizes) > 1 else ""
    return Sent(f"{stem}-chart{label}.svg", "image/svg+xml", data)


def _own_suffix(draft: DraftFile, name: str) -> str:
    given = PurePath(name).suffix.lower()
    if draft.suffixes:
        return given if given in draft.suffixes else draft.suffixes[0]
    return PurePath(name).suffix or (".md" if draft.source.format == "markdown" else ".txt")
