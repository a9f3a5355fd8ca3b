"""A small ODT document written by hand, and its changes settled without the program's own code."""

from __future__ import annotations

import copy
import io
import zipfile

from lxml import etree

_URI = "urn:oasis:names:tc:opendocument:xmlns"
TEXT = f"{{{_URI}:text:1.0}}"
OFFICE = f"{{{_URI}:office:1.0}}"
_NAMES = " ".join(
    f'xmlns:{short}="{_URI}:{long}:1.0"'
    for short, long in (
        ("office", "office"), ("text", "text"), ("table", "table"), ("style", "style"),
        ("fo", "xsl-fo-compatible"), ("draw", "drawing"), ("manifest", "manifest"),
    )
)  # fmt: skip
_NAMES += ' xmlns:dc="http://purl.org/dc/elements/1.1/"'

BODY = """
<text:h text:outline-level="1">Materials</text:h>
<text:list text:style-name="L1"><text:list-item><text:p>2 stitch holders</text:p></text:list-item>
<text:list-item><text:p>Yarn needle</text:p></text:list-item></text:list>
<text:h text:outline-level="1">Back</text:h>
<text:p text:style-name="Body">Work until armholes
  measure<text:s text:c="2"/>20 cm, ending with a <text:span text:style-name="It">W</text:span>S row.</text:p>
<text:h text:outline-level="2">Shape shoulders</text:h>
<text:p text:style-name="Body"><text:span text:style-name="Fat">Next row (RS):</text:span> Cast off 8(9) sts, K to end.</text:p>
<text:p text:style-name="Body"><text:span text:style-name="Fat">Next row (WS):</text:span> Cast off 8(9) sts, P to end.</text:p>
<text:p text:style-name="Body"><text:span text:style-name="Fat">Next row (RS):</text:span> Cast off 9(9) sts, K to end.</text:p>
<text:p text:style-name="Body"><text:span text:style-name="Fat">Next row (WS):</text:span> Cast off 9(9) sts, P to end. 38(40) sts.</text:p>
<text:p text:style-name="Body">Cast off rem 38(40) sts.<text:note><text:note-citation>1</text:note-citation>
<text:note-body><text:p>Loosely.</text:p></text:note-body></text:note></text:p>
<table:table><table:table-row><table:table-cell><text:p>Size</text:p></table:table-cell>
<table:table-cell><text:p>S</text:p></table:table-cell></table:table-row></table:table>
"""  # noqa: E501
_STYLES = """
<style:style style:name="Body" style:family="paragraph"><style:paragraph-properties fo:margin-bottom="0.2cm"/></style:style>
<style:style style:name="Fat" style:family="text"><style:text-properties fo:font-weight="bold"/></style:style>
<style:style style:name="It" style:family="text"><style:text-properties fo:font-style="italic"/></style:style>
"""  # noqa: E501


def odt(body: str = BODY) -> bytes:
    """Return an ODT document with a body."""
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content {_NAMES} office:version="1.2">'
        f"<office:automatic-styles>{_STYLES}</office:automatic-styles>"
        f"<office:body><office:text>{body}</office:text></office:body></office:document-content>"
    )
    manifest = (
        f"<manifest:manifest {_NAMES}>"
        '<manifest:file-entry manifest:full-path="/" '
        'manifest:media-type="application/vnd.oasis.opendocument.text"/></manifest:manifest>'
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.text")
        archive.writestr("content.xml", content, zipfile.ZIP_DEFLATED)
        archive.writestr("META-INF/manifest.xml", manifest)
        archive.writestr("Pictures/one.png", b"\x89PNG not looked at")
    return out.getvalue()


def content(data: bytes) -> etree._Element:
    """Return the parsed content of a document."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return etree.fromstring(archive.read("content.xml"))


def unlisted(element: etree._Element) -> list[etree._Element]:
    """Return the paragraphs of a list, or an element that is none."""
    if etree.QName(element).localname in ("list", "list-item"):
        return [p for child in element for p in unlisted(child)]
    return [element]


def lines(data: bytes, accept: bool) -> list[str]:
    """Return the words of each paragraph with all changes accepted or refused.

    The text is read as a row of characters, in which a paragraph's end is one too, and each mark
    says what is to be left out or put in.
    """
    root = content(data)
    regions = {region.get(f"{TEXT}id"): region[0] for region in root.iter(f"{TEXT}changed-region")}
    body = root.find(f"{OFFICE}body/{OFFICE}text")
    assert body is not None
    out: list[str] = [""]
    hidden = False

    def say(text: str | None) -> None:
        if text and not hidden:
            out[-1] += " ".join(f"<{text}>".split())[1:-1]

    def walk(element: etree._Element) -> None:
        nonlocal hidden
        name = etree.QName(element).localname
        number = element.get(f"{TEXT}change-id")
        if name == "change-start":
            hidden = not accept
        elif name == "change-end":
            hidden = False
        elif name == "change" and not accept:
            pieces = [p for e in list(regions[number])[1:] for p in unlisted(e)]
            for count, piece in enumerate(pieces):
                if count:
                    out.append("")
                walk_inside(copy.deepcopy(piece))
        elif name == "s":
            say(None)
            out[-1] += "" if hidden else " " * int(element.get(f"{TEXT}c", "1"))
        elif name in ("tracked-changes", "annotation", "note"):
            pass
        else:
            walk_inside(element)
            if name in ("p", "h") and not hidden:
                out.append("")
        say(element.tail if name not in ("p", "h") else None)

    def walk_inside(element: etree._Element) -> None:
        if etree.QName(element).localname in ("p", "h", "span", "a"):
            say(element.text)
        for child in element:
            walk(child)

    for child in body:
        walk(child)
    return [line for line in out if line.strip()]
