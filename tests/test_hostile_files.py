"""Damaged, locked, oversized and hostile files: refused with the place and what to do, never a fault."""

from __future__ import annotations

import contextlib
import io
import random
import sys
import zipfile
from pathlib import Path

import docx
import pytest

from rewriter.cli import main
from rewriter.formats import archive, docx_read, open_draft
from rewriter.source import UnreadableDraft
from tests.booklet import booklet
from tests.docxtools import MAIN, parts, with_part

_W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
_HEAD = f'<?xml version="1.0"?>{{doctype}}<w:document xmlns:w="{_W}"><w:body>{{body}}</w:body></w:document>'


def refused(data: bytes, name: str = "draft.docx") -> str:
    with pytest.raises(UnreadableDraft) as reason:
        open_draft(data, name)
    assert str(reason.value).startswith(f"{name}: ")
    return str(reason.value)


def document(body: str, doctype: str = "") -> bytes:
    return with_part(booklet(), MAIN, _HEAD.format(doctype=doctype, body=body).encode())


def test_a_zip_bomb_is_not_unpacked(monkeypatch: pytest.MonkeyPatch) -> None:
    assert archive.LARGEST_PACKAGE < 1_000_000_000
    monkeypatch.setattr(archive, "LARGEST_PACKAGE", 9_000_000)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bomb:
        for name, old in parts(booklet()).items():
            bomb.writestr(name, old)
        bomb.writestr("word/media/image1.png", b"\0" * (archive.LARGEST_PACKAGE + 1))
    assert len(out.getvalue()) < 100_000
    assert "9 MB allowed" in refused(out.getvalue())


def test_an_oversized_text_part_is_named() -> None:
    data = with_part(booklet(), MAIN, b" " * (archive.LARGEST_XML + 1))
    assert "word/document.xml is larger than 40 MB" in refused(data)


def test_a_package_of_very_many_parts_is_not_read() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as many:
        for number in range(archive.MOST_PARTS + 1):
            many.writestr(str(number), b"")
    assert "parts, more than a draft can have" in refused(out.getvalue())


@pytest.mark.parametrize(
    "doctype",
    [
        '<!DOCTYPE d [<!ENTITY x SYSTEM "file:///etc/passwd">]>',
        '<!DOCTYPE d [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;"><!ENTITY x "&b;&b;&b;">]>',
        '<!DOCTYPE d SYSTEM "http://127.0.0.1:9/none.dtd">',
    ],
)
def test_entities_and_document_types_are_refused(doctype: str) -> None:
    body = "<w:p><w:r><w:t>&x;</w:t></w:r></w:p>" if "ENTITY" in doctype else "<w:p/>"
    assert "word/document.xml" in refused(document(body, doctype))


def test_tables_in_tables_without_end_are_refused() -> None:
    depth = 70
    body = "<w:tbl><w:tr><w:tc>" * depth + "<w:p/>" + "</w:tc></w:tr></w:tbl>" * depth
    assert "within one another" in refused(document(body))
    body = "<w:tbl><w:tr><w:tc>" * 3000 + "<w:p/>" + "</w:tc></w:tr></w:tbl>" * 3000
    assert "within one another" in refused(document(body))


def test_a_giant_table_is_refused_with_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(docx_read, "MOST_PARAGRAPHS", 300)
    made = docx.Document()
    made.add_table(40, 10)
    out = io.BytesIO()
    made.save(out)
    assert "more than 300 cells; copy the text" in refused(out.getvalue())


def test_a_document_without_text_says_so() -> None:
    out = io.BytesIO()
    docx.Document().save(out)
    assert "has no text" in refused(out.getvalue())


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 512, "save it as .docx, without a password"),
        (b"{\\rtf1 Cast off 8 sts}", "save it as .docx"),
        (b"PK\x03\x04" + b"\0" * 40, "damaged"),
        (b"\x89PNG\r\n\x1a\n" + b"\0" * 60, "not a text file"),
    ],
)
def test_other_kinds_are_told_what_to_do(data: bytes, told: str) -> None:
    assert told in refused(data)


def test_a_zip_of_something_else_is_no_draft() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as other:
        other.writestr("readme.txt", "Cast off 8 sts at beg of next 6 rows.")
    assert "not a text document" in refused(out.getvalue())


def test_damaged_documents_are_read_or_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    chance = random.Random(7)
    for number in range(40):
        data = bytearray(booklet())
        if number % 2:
            data = data[: chance.randrange(len(data))]
        else:
            for _ in range(3):
                data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        draft = tmp_path / "draft.docx"
        draft.write_bytes(bytes(data))
        assert main(["rewrite", str(draft), "-o", str(tmp_path / "out.docx")]) in (0, 1, 2)
        assert "a fault of its own" not in capsys.readouterr().err


def test_damaged_parts_are_read_or_refused() -> None:
    chance = random.Random(11)
    for part in (
        MAIN,
        "word/styles.xml",
        "word/numbering.xml",
        "[Content_Types].xml",
        "_rels/.rels",
    ):
        blob = parts(booklet())[part]
        for cut in (blob[: len(blob) // 2], b"", b"<x/>", blob[:50] + blob[60:]):
            try:
                open_draft(with_part(booklet(), part, cut), "draft.docx")
            except UnreadableDraft as reason:
                assert "draft.docx: " in str(reason)
        start = chance.randrange(len(blob) - 200)
        with contextlib.suppress(UnreadableDraft):
            open_draft(with_part(booklet(), part, blob[:start] + blob[start + 9 :]), "draft.docx")


def test_what_is_not_installed_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    assert "pip install 'slopewise[docx]'" in refused(booklet())
    assert "pip install 'slopewise[pdf]'" in refused(b"%PDF-1.4\n", "draft.pdf")


def test_a_document_needs_a_name_to_be_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    draft = tmp_path / "draft.docx"
    draft.write_bytes(booklet())
    assert main(["rewrite", str(draft)]) == 2
    assert "-o NAME.docx" in capsys.readouterr().err
    assert main(["rewrite", str(draft), "-o", str(tmp_path / "out.odt")]) == 2
    assert "can be written as .docx, .md" in capsys.readouterr().err
    assert main(["rewrite", str(draft), "--report", "json"]) == 0
    assert '"format": "docx"' in capsys.readouterr().out
    assert sys.getrecursionlimit() <= 1000
