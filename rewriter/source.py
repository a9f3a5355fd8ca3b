"""Read bytes as the text they are: encodings told apart, newlines kept, nothing translated."""

from __future__ import annotations

import codecs
import hashlib
import re
from pathlib import PurePath

from rewriter.spans import SourceText, line_starts

LARGEST_DRAFT = 20_000_000
"""Bytes; a pattern text is some ten thousand."""

_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
# Signs that pattern texts use; a decoding that yields them is likelier than one that does not.
_USUAL = frozenset("½¼¾⅓⅔⅛⅜⅝⅞“”‘’–—×éèêëàâäöüßåøæñç°£€…•′″\u00a0©®™")


class UnreadableDraft(ValueError):
    """The bytes are not a text that can be worked on; the message says what to do."""


def read_source(data: bytes, name: str = "draft") -> SourceText:
    """Decode a draft; raises UnreadableDraft for an empty, binary or oversized one.

    A byte order mark decides, then strict UTF-8, then the likelier of Windows-1252 and Mac Roman.
    """
    if len(data) > LARGEST_DRAFT:
        raise UnreadableDraft(f"{name}: larger than {LARGEST_DRAFT // 1_000_000} MB; split it")
    bom = next((mark for mark, _ in _BOMS if data.startswith(mark)), b"")
    body = data[len(bom) :]
    if not body.strip():
        raise UnreadableDraft(f"{name}: the draft is empty; give the text of a pattern")
    encoding = dict(_BOMS).get(bom) or _guess(body, name)
    try:
        text = body.decode(encoding)
    except UnicodeDecodeError as error:
        raise UnreadableDraft(
            f"{name}: not readable as {encoding} (byte {error.start}); save it as UTF-8 text"
        ) from None
    if "\0" in text:
        raise UnreadableDraft(f"{name}: this is not a text file; give plain text or Markdown")
    return SourceText(
        text=text,
        name=name,
        encoding=encoding,
        bom=bom,
        sha256=hashlib.sha256(data).hexdigest(),
        format="markdown" if _is_markdown(text, name) else "text",
        line_starts=line_starts(text),
    )


def _guess(body: bytes, name: str) -> str:
    try:
        body.decode("utf-8")
        return "utf-8"
    except UnicodeDecodeError:
        pass
    if b"\0" in body[:4096]:
        nulls = (body[1:4096:2].count(0), body[0:4096:2].count(0))
        encoding = "utf-16-le" if nulls[0] > nulls[1] else "utf-16-be"
        if max(nulls) > 0.3 * min(len(body), 4096) / 2 and _is_text(body, encoding):
            return encoding
        raise UnreadableDraft(f"{name}: this is not a text file; give plain text or Markdown")
    controls = sum(b < 32 and b not in b"\t\n\r\f" for b in body[:4096])
    if controls > 8:
        raise UnreadableDraft(f"{name}: this is not a text file; give plain text or Markdown")
    scores = {}
    for encoding in ("cp1252", "mac_roman"):
        try:
            decoded = body.decode(encoding)
        except UnicodeDecodeError:
            continue
        scores[encoding] = sum(1 if c in _USUAL else -1 for c in decoded if not c.isascii())
    return max(scores, key=lambda e: scores[e]) if scores else "mac_roman"


def _is_text(body: bytes, encoding: str) -> bool:
    try:
        text = body.decode(encoding)
    except UnicodeDecodeError:
        return False
    return sum(c.isprintable() or c.isspace() for c in text) > 0.98 * len(text)


_MARKDOWN_SIGN = re.compile(r"^(?:#{1,6} \S|\*\*[^*\n]+\*\*\s*$|\|.*\|\s*$)", re.M)


def _is_markdown(text: str, name: str) -> bool:
    ending = PurePath(name).suffix.lower()
    if ending in (".md", ".markdown", ".mkd"):
        return True
    return ending in ("", "-") and bool(_MARKDOWN_SIGN.search(text))
