"""HTML drafts: read, and revised in place by `ins` and `del` or in earnest; the rest of the page stays."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterable, Sequence
from html import escape

from rewriter.annotations import Annotation
from rewriter.edits import Edit
from rewriter.formats.carrier import AUTHOR, NotWritable, place_edits, source_of
from rewriter.formats.flow import Change, Flow, Run, assemble
from rewriter.formats.html_read import MARK, PageReader, WebParagraph, in_source, place_after
from rewriter.options import Changes
from rewriter.source import UnreadableDraft, read_source

LARGEST_PAGE = 8_000_000
"""Bytes; the text of a pattern is some ten thousand."""
_CHARSET = re.compile(rb"""<meta[^>]{0,200}?charset\s*=\s*["']?\s*([\w-]{2,30})""", re.I)
_WITH_ENDS = ("p", "li", "div", "dd", "dt")
"""Elements after which another one like it can stand."""


class HtmlDraft:
    """A draft in HTML."""

    suffixes: tuple[str, ...] = (".html", ".htm", ".xhtml")
    binary = False
    notice = ""

    def __init__(self, data: bytes, name: str) -> None:
        """Read a page; raises UnreadableDraft for an oversized one or one without text."""
        if len(data) > LARGEST_PAGE:
            raise UnreadableDraft(
                f"{name}: larger than {LARGEST_PAGE // 1_000_000} MB; copy the text of the pattern into a "
                "new file"
            )
        self._data, self._name = data, name
        self._page, self._encoding, self._bom = _decoded(data, name)
        flow, _ = _read(self._page)
        if not flow.text.strip():
            raise UnreadableDraft(f"{name}: the page has no text; give the text of a pattern")
        self.source = source_of(flow, data, name, "html")

    def revised(
        self,
        edits: Sequence[Edit],
        annotations: Iterable[Annotation],
        changes: Changes,
        date: str,
        output: str,
        author: str = AUTHOR,
    ) -> bytes:
        """Return the page with edits of its text made; raises NotWritable where one has no place.

        Tracked, what is deleted stands in `del` and what is new in `ins`, with the reason as its title.
        The result is read again, once with the changes taken and once with them refused.
        """
        if not edits:
            return self._data
        flow, located = _read(self._page)
        first = 1 + max((int(n) for n in re.findall(MARK + r'="(\d{1,9})"', self._page)), default=0)
        reasons = {a.edit: a.text for a in annotations if a.edit is not None}
        splices: list[tuple[int, int, str]] = []
        for number, change in place_edits(flow, edits, self.source):
            mark = _Marks(changes == "tracked", first + number, date, reasons.get(number, ""))
            splices += _splices(self._page, change, located, mark)
        page = self._page
        for start, end, new in sorted(splices, key=lambda s: (s[0], s[1]), reverse=True):
            page = page[:start] + new + page[end:]
        wanted = [(_read(page), output)]
        if changes == "tracked":
            wanted.append((_read(page, refused=first), self.source.text))
        for (again, _), text in wanted:
            if again.text != text:
                raise NotWritable(f"{self._name}: the new words do not go into the page as built")
        return self._bom + page.encode(self._encoding, "xmlcharrefreplace")


def _decoded(data: bytes, name: str) -> tuple[str, str, bytes]:
    told = _CHARSET.search(data[:2048])
    if told and not data.startswith((codecs.BOM_UTF8, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        try:
            encoding = codecs.lookup(told.group(1).decode("ascii")).name
            return data.decode(encoding), encoding, b""
        except (LookupError, UnicodeDecodeError):
            pass  # the page says what it is not: told by its bytes
    source = read_source(data, name)
    return source.text, source.encoding, source.bom


def _read(page: str, refused: int | None = None) -> tuple[Flow, list[WebParagraph]]:
    found = list(PageReader(page, refused).paragraphs())
    return assemble(p for _, p in found), [one for one, _ in found]


class _Marks:
    """How deleted and new text is written."""

    def __init__(self, tracked: bool, number: int, date: str, reason: str) -> None:
        self.tracked = tracked
        told = f' datetime="{escape(date)}"' if date else ""
        title = f' title="{escape(reason)}"' if reason else ""
        self._deletion = f'<del {MARK}="{number}"{told}>'
        self._insertion = f'<ins {MARK}="{number}"{told}{title}>'

    def deleted(self, raw: str) -> str:
        return f"{self._deletion}{raw}</del>" if self.tracked else ""

    def inserted(self, raw: str) -> str:
        return f"{self._insertion}{raw}</ins>" if self.tracked and raw else raw


def _splices(
    page: str, change: Change, located: Sequence[WebParagraph], mark: _Marks
) -> list[tuple[int, int, str]]:
    """Return the replacements of stretches of the page's source that make a change."""
    out: list[tuple[int, int, str]] = []
    first, last = located[change.parts[0].paragraph], located[change.parts[-1].paragraph]
    length = sum(len(p.text) for p in last.pieces)
    tail = change.parts[-1].span.end < length and bool(
        "".join(p.text for p in last.pieces)[change.parts[-1].span.end :].strip()
    )
    inside = len(change.new) > 1 and (_end_of(first) is None or (tail and first is last))
    if tail and first is not last and len(change.new) == 1:
        raise NotWritable("two paragraphs of a page cannot be joined to one")
    shown = [_shown(runs) for runs in change.new]
    opening = "<br><br>".join(shown) if inside else shown[0]
    for number, part in enumerate(change.parts):
        one = located[part.paragraph]
        stretches = in_source(one.pieces, part.span)
        whole = part.span.end - part.span.start == sum(len(p.text) for p in one.pieces)
        end = _end_of(one)
        if not mark.tracked and whole and number and not tail and end is not None:
            out.append((one.element.opening.start, end, ""))  # nothing of it is left
            continue
        place = stretches[-1].end if stretches else place_after(one.pieces, part.span.start)
        out += [(s.start, s.end, mark.deleted(page[s.start : s.end])) for s in stretches]
        if number == 0 and opening:
            out.append((place, place, mark.inserted(opening)))
    more = [] if inside else shown[1:]
    if more and tail:
        stretches = in_source(last.pieces, change.parts[-1].span)
        place = stretches[-1].end if stretches else last.pieces[0].source.start
        out.append((place, place, mark.inserted(more.pop())))
    if more:
        out.append(_blocks_after(page, first if tail else last, more, mark))
    return out


def _blocks_after(
    page: str, one: WebParagraph, more: Sequence[str], mark: _Marks
) -> tuple[int, int, str]:
    """Return the insertion of new elements like a paragraph's behind it."""
    end = _end_of(one)
    if end is None:
        raise NotWritable("a paragraph of the page has no end of its own")
    element = one.element
    start_tag = re.sub(r"""\s+id\s*=\s*("[^"]*"|'[^']*'|[^\s>]+)""", "", element.opening.of(page))
    before = re.search(r"\n[ \t]*$", page[: element.opening.start])
    parting = before.group() if before else "\n"
    if element.tag == "li":
        blocks = [f"{parting}{start_tag}{mark.inserted(words)}</li>" for words in more]
        return end, end, "".join(blocks)
    blocks = [f"{parting}{start_tag}{words}</{element.tag}>" for words in more]
    return end, end, mark.inserted("".join(blocks)) if mark.tracked else "".join(blocks)


def _end_of(one: WebParagraph) -> int | None:
    """Return where a paragraph's element ends, where it holds that paragraph alone."""
    element = one.element
    alone = element.tag in _WITH_ENDS and element.paragraphs == 1 and element.end > 0
    return element.end if alone else None


def _shown(runs: Sequence[Run]) -> str:
    out = []
    for run in runs:
        words = escape(run.text, quote=False).replace("\n", "<br>")
        out.append(f"<b>{words}</b>" if run.bold else words)
    return "".join(out)
