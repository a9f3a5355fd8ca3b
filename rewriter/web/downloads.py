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
from rewriter.onesize import in_one_size
from rewriter.options import Changes
from rewriter.report import Report
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
    ".pdf": "application/pdf",
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


_ONE_TEXT = "text-one-size"
_SHEETS = {"worksheet": ".html", "worksheet-pdf": ".pdf", "practice": ".html"}
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


def offers_of_size(size: str, sheet: bool) -> list[tuple[str, str]]:
    """Return key and label of what can be downloaded for one size alone.

    `size` is its name, "" for a draft in one size; `sheet` says whether there are rows for a worksheet.
    """
    out = [(_ONE_TEXT, f"Text of size {size}")] if size else []
    if sheet:
        out.append(("worksheet", "Worksheet"))
        if importlib.util.find_spec("weasyprint"):
            out.append(("worksheet-pdf", "Worksheet, PDF"))
        out.append(("practice", "Practice swatch"))
    return out


@dataclass(frozen=True)
class Sent:
    """A file to be downloaded."""

    name: str
    media: str
    data: bytes


def download(file: File, choices: Choices, key: str) -> Sent:
    """Return the revised draft in one of the forms offered, or the chart, worksheet or swatch of a size.

    Raises Refused where it cannot be had.
    """
    work, stem = choices.work, PurePath(file.name).stem
    try:
        draft = open_draft(file.data, file.name)
        if key == "chart":
            return _chart(draft, choices, stem)
        if key in _SHEETS:
            return _worksheet(draft, choices, stem, key)
        ending = "steps" if work.options.to == "steps" else "short-rows"
        if key == _ONE_TEXT:
            return _one_size(draft, choices, f"{stem}-{ending}", file.name)
        offer = next((o for o in offers_of(draft) if o.key == key), None)
        if offer is None:
            raise Refused("not-writable", f"this draft cannot be had as {key!r}")
        suffix = offer.suffix or _own_suffix(draft, file.name)
        name = f"{stem}-{ending}{suffix}"
        if offer.key == "redline":
            from rewriter.redline import redline_of

            page = redline_of(work.report(draft.source), draft.source)
            return Sent(f"{stem}-changes.html", _MEDIA[".html"], page.encode())
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
    size = _size(report, choices)
    data = chart_file(work, size) if work else None
    if data is None:
        raise Refused("not-writable", "nothing was rewritten that could be drawn")
    return Sent(f"{stem}-chart{_named(report, size)}.svg", "image/svg+xml", data)


def _worksheet(draft: DraftFile, choices: Choices, stem: str, key: str) -> Sent:
    from rewriter.practice import practice_sheet
    from rewriter.worksheet import worksheet
    from rewriter.worksheetcharts import charts_of
    from rewriter.worksheetmodel import NoSheet
    from rewriter.worksheetpage import worksheet_page, worksheet_pdf

    report, work = choices.work.done(draft.source)
    if work is None:
        raise Refused("not-writable", "a worksheet is of short rows")
    size, suffix = _size(report, choices), _SHEETS[key]
    try:
        make = practice_sheet if key == "practice" else worksheet
        sheet = make(work, size, choices.work.options)
        paper = "letter" if report.terms == "US" else "a4"
        page = worksheet_page(sheet, paper, charts_of(sheet, work))
        data = worksheet_pdf(page) if suffix == ".pdf" else page.encode()
    except NoSheet as error:
        raise Refused("not-writable", str(error)) from None
    named = "practice" if key == "practice" else "worksheet"
    return Sent(f"{stem}-{named}{_named(report, size)}{suffix}", _MEDIA[suffix], data)


def _one_size(draft: DraftFile, choices: Choices, stem: str, name: str) -> Sent:
    report = choices.work.report(draft.source)
    size = _size(report, choices)
    text = in_one_size(report.output, size, len(report.sizes))
    suffix = ".md" if draft.source.carrier else _own_suffix(draft, name)
    return Sent(f"{stem}{_named(report, size)}{suffix}", "text/plain", text.encode())


def _size(report: Report, choices: Choices) -> int:
    """Return the size that was picked, counted from 0; the first where none is."""
    return report.sizes.index(choices.size) if choices.size in report.sizes else 0


def _named(report: Report, size: int) -> str:
    """Return what a file's name says of its size; "" for a draft in one size."""
    return f"-size-{report.sizes[size]}" if len(report.sizes) > 1 else ""


def _own_suffix(draft: DraftFile, name: str) -> str:
    given = PurePath(name).suffix.lower()
    if draft.suffixes:
        return given if given in draft.suffixes else draft.suffixes[0]
    return PurePath(name).suffix or (".md" if draft.source.format == "markdown" else ".txt")
