"""Settle the changes of a DOCX document, without the program's own code, and look at its words."""

from __future__ import annotations

import io
import zipfile

import docx
from docx_plus.revisions.accept import accept_all_revisions, reject_all_revisions
from lxml import etree

_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
MAIN = "word/document.xml"


def parts(data: bytes) -> dict[str, bytes]:
    """Return all parts of a package by name."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def with_part(data: bytes, name: str, blob: bytes) -> bytes:
    """Return a package with one part changed or added."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for part, old in {**parts(data), name: blob}.items():
            archive.writestr(part, blob if part == name else old)
    return out.getvalue()


def settled(data: bytes, accept: bool, author: str = "Slopewise") -> bytes:
    """Accept or refuse all changes of an author, as the standard tells their meaning.

    A refused insertion and an accepted deletion go; where that is the end of a paragraph, the next
    paragraph takes its words in front of its own.
    """
    root = etree.fromstring(parts(data)[MAIN])
    gone, kept = ("del", "ins") if accept else ("ins", "del")
    for mark in list(root.iter(_W + gone, _W + kept)):
        parent = mark.getparent()
        if mark.get(_W + "author") != author or parent is None:
            continue
        is_gone = mark.tag == _W + gone
        if parent.tag == _W + "rPr":
            parent.remove(mark)
            if is_gone:
                _join(next(parent.iterancestors(_W + "p")))
        elif is_gone:
            parent.remove(mark)
        else:
            for text in mark.iter(_W + "delText"):
                text.tag = _W + "t"
            for child in list(mark):
                mark.addprevious(child)
            parent.remove(mark)
    return with_part(data, MAIN, etree.tostring(root, xml_declaration=True, encoding="UTF-8"))


def _join(paragraph: etree._Element) -> None:
    following, parent = paragraph.getnext(), paragraph.getparent()
    assert following is not None and following.tag == _W + "p", "no paragraph to join"
    assert parent is not None
    words = [c for c in paragraph if c.tag != _W + "pPr"]
    at = 1 if following.find(_W + "pPr") is not None else 0
    following[at:at] = words
    parent.remove(paragraph)


def settled_elsewhere(data: bytes, accept: bool) -> bytes:
    """Accept or refuse all changes with a library that has nothing to do with this program."""
    document = docx.Document(io.BytesIO(data))
    (accept_all_revisions if accept else reject_all_revisions)(document)
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def words(data: bytes) -> list[str]:
    """Return the words of each paragraph that has any, deletions left out."""
    root = etree.fromstring(parts(data)[MAIN])
    out = []
    for paragraph in root.iter(_W + "p"):
        line = "".join(
            {"tab": "\t", "br": "\n"}.get(etree.QName(t).localname, t.text or "")
            for t in paragraph.iter(_W + "t", _W + "tab", _W + "br")
        ).strip()
        if line:
            out.append(line)
    return out


def letters(data: bytes) -> list[tuple[str, str, str]]:
    """Return each character with the properties of its run and of its paragraph."""
    root = etree.fromstring(parts(data)[MAIN])
    out = []
    for paragraph in root.iter(_W + "p"):
        look = _properties(paragraph.find(_W + "pPr"))
        for run in paragraph.iter(_W + "r"):
            own = _properties(run.find(_W + "rPr"))
            out += [(c, own, look) for t in run.findall(_W + "t") for c in t.text or ""]
    return out


def _properties(element: etree._Element | None) -> str:
    if element is None:
        return ""
    for empty in [e for e in element.iter(_W + "rPr") if len(e) == 0]:
        if empty is not element and (parent := empty.getparent()) is not None:
            parent.remove(empty)
    return etree.tostring(element, encoding="unicode", with_tail=False) if len(element) else ""


def comments(data: bytes) -> list[tuple[str, str, str]]:
    """Return author, words and anchored words of each comment."""
    all_parts = parts(data)
    root = etree.fromstring(all_parts[MAIN])
    told = etree.fromstring(all_parts["word/comments.xml"])
    out = []
    for comment in told.iter(_W + "comment"):
        number = comment.get(_W + "id")
        inside, anchored = False, ""
        for element in root.iter():
            if element.get(_W + "id") == number:
                if element.tag == _W + "commentRangeStart":
                    inside = True
                elif element.tag == _W + "commentRangeEnd":
                    inside = False
            if inside and element.tag in (_W + "t", _W + "delText"):
                anchored += element.text or ""
        text = "".join(t.text or "" for t in comment.iter(_W + "t"))
        out.append((comment.get(_W + "author", ""), text, anchored))
    return out
