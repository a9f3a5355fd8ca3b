"""Zip packages of word processors: read with limits, written back with all other parts as they were."""

from __future__ import annotations

import copy
import io
import zipfile
import zlib
from collections.abc import Mapping
from typing import TYPE_CHECKING

from rewriter.source import UnreadableDraft

if TYPE_CHECKING:
    from lxml.etree import _Element

MOST_PARTS = 5_000
LARGEST_PACKAGE = 300_000_000
"""Bytes of all parts unpacked; a draft with photographs has some ten million."""
LARGEST_XML = 40_000_000
"""Bytes of one part of text; a long book has a tenth of it."""
DEEPEST = 200
"""Elements within one another; tables within tables reach some forty."""

_SAVE_AGAIN = "open it in a word processor and save it again"


class Package:
    """The parts of a zipped document, each read once, with limits on number and size."""

    def __init__(self, data: bytes, name: str) -> None:
        """Open a package; raises UnreadableDraft where it is damaged, locked or far too large."""
        self.name = name
        self._data = data
        try:
            with zipfile.ZipFile(io.BytesIO(data)) as archive:
                self._infos = archive.infolist()
        except (zipfile.BadZipFile, ValueError, NotImplementedError, OSError):
            raise UnreadableDraft(
                f"{name}: the file is damaged (its directory cannot be read); {_SAVE_AGAIN}"
            ) from None
        if len(self._infos) > MOST_PARTS:
            raise UnreadableDraft(
                f"{name}: it holds {len(self._infos)} parts, more than a draft can have "
                f"({MOST_PARTS}); {_SAVE_AGAIN}"
            )
        unpacked = sum(info.file_size for info in self._infos)
        if unpacked > LARGEST_PACKAGE:
            raise UnreadableDraft(
                f"{name}: unpacked it would be {unpacked // 1_000_000} MB, more than the "
                f"{LARGEST_PACKAGE // 1_000_000} MB allowed; make its pictures smaller, or copy the text "
                "into a new document"
            )
        names = [info.filename for info in self._infos]
        if len(set(names)) < len(names):
            raise UnreadableDraft(f"{name}: the file has a part twice; {_SAVE_AGAIN}")
        if any(info.flag_bits & 1 for info in self._infos):
            raise UnreadableDraft(f"{name}: it is locked by a password; save it without one")
        self._names = frozenset(names)

    def __contains__(self, part: str) -> bool:
        """Say whether the package has a part of this name."""
        return part in self._names

    def read(self, part: str) -> bytes:
        """Return a part; raises UnreadableDraft where it is absent, damaged or too large."""
        if part not in self._names:
            raise UnreadableDraft(f"{self.name}: the part {part} is missing; {_SAVE_AGAIN}")
        try:
            with zipfile.ZipFile(io.BytesIO(self._data)) as archive:
                if archive.getinfo(part).file_size > LARGEST_XML:
                    raise UnreadableDraft(
                        f"{self.name}: the part {part} is larger than {LARGEST_XML // 1_000_000} MB; "
                        "copy the text of the pattern into a new document"
                    )
                return archive.read(part)
        except (
            zipfile.BadZipFile,
            zlib.error,
            EOFError,
            NotImplementedError,
            RuntimeError,
            OSError,
        ):
            raise UnreadableDraft(
                f"{self.name}: the part {part} is damaged; {_SAVE_AGAIN}"
            ) from None

    def xml(self, part: str) -> _Element:
        """Return a part of XML; raises UnreadableDraft for bad XML and for any document type."""
        return parse_xml(self.read(part), self.name, part)

    def with_parts(self, parts: Mapping[str, bytes]) -> bytes:
        """Return the package with some parts changed or added; all others keep their bytes and order."""
        out = io.BytesIO()
        try:
            with (
                zipfile.ZipFile(io.BytesIO(self._data)) as old,
                zipfile.ZipFile(out, "w") as new,
            ):
                new.comment = old.comment
                for info in self._infos:
                    data = parts[info.filename] if info.filename in parts else old.read(info)
                    # writing changes the entry it is given
                    new.writestr(copy.copy(info), data, compress_type=info.compress_type)
                for part in sorted(parts.keys() - self._names):
                    added = zipfile.ZipInfo(part, (1980, 1, 1, 0, 0, 0))
                    new.writestr(added, parts[part], zipfile.ZIP_DEFLATED)
        except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError):
            raise UnreadableDraft(
                f"{self.name}: one of its parts (a picture, say) is damaged; {_SAVE_AGAIN}"
            ) from None
        return out.getvalue()


def parse_xml(data: bytes, name: str, part: str) -> _Element:
    """Parse XML without entities, document types or the network."""
    from lxml import etree

    parser = etree.XMLParser(
        resolve_entities=False,
        load_dtd=False,
        no_network=True,
        huge_tree=False,
        remove_comments=False,
    )
    try:
        root = etree.fromstring(data, parser)
    except etree.XMLSyntaxError as error:
        if "depth" in (error.msg or ""):
            raise UnreadableDraft(_too_deep(name, part)) from None
        line = error.position[0] if error.position else 0
        raise UnreadableDraft(
            f"{name}: the part {part} is damaged (line {line}: {_short(error.msg)}); {_SAVE_AGAIN}"
        ) from None
    if root.getroottree().docinfo.internalDTD is not None:
        raise UnreadableDraft(
            f"{name}: the part {part} declares a document type, which no word processor writes; "
            "the file is not opened"
        )
    if _deeper_than(root, DEEPEST):
        raise UnreadableDraft(_too_deep(name, part))
    return root


def _too_deep(name: str, part: str) -> str:
    return (
        f"{name}: in {part} tables lie more than {DEEPEST} elements within one another; copy the text of "
        "the pattern into a new document"
    )


def _deeper_than(root: _Element, most: int) -> bool:
    from lxml import etree

    depth = 0
    for event, _ in etree.iterwalk(root, events=("start", "end")):
        depth += 1 if event == "start" else -1
        if depth > most:
            return True
    return False


def _short(message: str | None) -> str:
    return (message or "not well-formed").split(", line")[0][:80]


def dump_xml(root: _Element) -> bytes:
    """Return a part's XML as bytes, with the declaration that word processors write."""
    from lxml import etree

    return etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)
