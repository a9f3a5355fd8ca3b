"""A draft as it comes back from an editor: the places and marks that make a document hard to change.

Steps in a numbered list with somebody's pending changes in them (words, whole rows, a row's end, a
format), rows parted by line breaks within one paragraph, a piece in a table within a table, another in
a text box, footnotes, a comment and a bookmark across rows, a content control, a field, columns that
end with the last row of a piece, and a first page with a header of its own.
"""

from __future__ import annotations

import copy
import io
from functools import cache

import docx
from docx.document import Document
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls, qn
from docx.table import _Cell
from docx.text.paragraph import Paragraph
from lxml import etree

_W = nsdecls("w")
_WHO = 'w:author="M. Larch" w:date="2026-01-05T10:00:00Z"'
_MC = "http://schemas.openxmlformats.org/markup-compatibility/2006"
_WPS = "http://schemas.microsoft.com/office/word/2010/wordprocessingShape"
_NOTES = {
    1: "Slip the first st of each row for a neater edge.",
    2: "Press lightly under a damp cloth.",
}


@cache
def returned(pending_rows: bool = True) -> bytes:
    """Return the document, with or without rows that somebody has put in; the same bytes each time."""
    document = docx.Document()
    section = document.sections[0]
    section.different_first_page_header_footer = True
    section.first_page_header.paragraphs[0].text = "Dunlin, second proof"
    section.header.paragraphs[0].text = "Dunlin"
    document.add_heading("Dunlin", 0)
    _front_matter(document)
    _end_section(document, 1)
    _back(document, pending_rows)
    _end_section(document, 2)
    _fronts(document)
    document.add_heading("Sleeves", 1)
    _paragraph(
        document,
        _run("Work until sleeve measures 40 cm, ending with a WS row."),
    )
    _paragraph(
        document,
        _run("Cast off 4 sts at beg of next 4 rows."),
        _note(1),
        _run(" Cast off rem 40(42:44) sts."),
    )
    document.add_heading("Making up", 1)
    _paragraph(document, _run("Join shoulder seams."), _note(2), _run(" Set in sleeves."))
    _footnotes(document)
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def _end_section(document: Document, columns: int) -> None:
    """Let the last paragraph end a section of so many columns, on the same page as the next."""
    properties = copy.deepcopy(document.sections[-1]._sectPr)
    for kind in ("cols", "type"):
        for old in properties.findall(qn(f"w:{kind}")):
            properties.remove(old)
    for tag, xml in (
        ("pgSz", f'<w:type {_W} w:val="continuous"/>'),
        ("titlePg", f'<w:cols {_W} w:num="{columns}" w:space="360"/>'),
    ):
        following = properties.find(qn(f"w:{tag}"))
        assert following is not None
        following.addprevious(parse_xml(xml))
    document.paragraphs[-1]._p.get_or_add_pPr().append(properties)


def _front_matter(document: Document) -> None:
    document.add_heading("Materials", 1)
    for words in ("8(9:9) balls of double knitting yarn", "1 pair of 4 mm needles"):
        document.add_paragraph(words, style="List Bullet")
    _paragraph(
        document,
        '<w:bookmarkStart w:id="700" w:name="tension"/>',
        _run("Tension"),
        '<w:bookmarkEnd w:id="700"/>',
        _run(" 22 sts and 28 rows to 10 cm over st st."),
    )
    document.add_heading("Abbreviations", 1)
    _paragraph(
        document,
        _run("alt", "<w:b/>"), _run(" = alternate"), "<w:r><w:br/></w:r>",
        _run("beg", "<w:b/>"), _run(" = beginning"), "<w:r><w:br/></w:r>",
        _run("K", "<w:b/>"), _run(" = knit"), "<w:r><w:br/></w:r>",
        _run("P", "<w:b/>"), _run(" = purl"), "<w:r><w:br/></w:r>",
        _run("rem", "<w:b/>"), _run(" = remain(ing)"), "<w:r><w:br/></w:r>",
        _run("RS", "<w:b/>"), _run(" = right side"), "<w:r><w:br/></w:r>",
        _run("st(s)", "<w:b/>"), _run(" = stitch(es)"), "<w:r><w:br/></w:r>",
        _run("WS", "<w:b/>"), _run(" = wrong side"),
    )  # fmt: skip


def _back(document: Document, pending_rows: bool) -> None:
    document.add_heading("Back", 1)
    _paragraph(document, _run("Cast on 84(88:94) sts. Work 6 cm in K1, P1 rib."))
    _paragraph(
        document,
        _run("Cont in st st (see "),
        '<w:fldSimple w:instr=" REF tension \\h "><w:r><w:t>Tension</w:t></w:r></w:fldSimple>',
        _run(") until "),
        f'<w:ins w:id="801" {_WHO}>{_run("armhole ")}</w:ins>',
        f'<w:del w:id="802" {_WHO}><w:r><w:delText xml:space="preserve">work </w:delText></w:r></w:del>',
        _run("measures", f'<w:i/><w:rPrChange w:id="808" {_WHO}><w:rPr/></w:rPrChange>'),
        _run(" 19(20:21)\u00a0cm, ending "),
        '<w:sdt><w:sdtPr><w:alias w:val="side"/></w:sdtPr><w:sdtContent>',
        _run("with a WS row", '<w:highlight w:val="yellow"/>'),
        "</w:sdtContent></w:sdt>",
        _run("."),
    )
    document.add_heading("Shape shoulders", 2)
    style = "List Number"
    _paragraph(
        document,
        '<w:commentRangeStart w:id="5"/>',
        _run("Cast off 8(8:9) sts, "), _run("K to end", "<w:i/>"), _run("."),
        style=style,
    )  # fmt: skip
    _paragraph(
        document,
        _run("Cast off 8(8:9) sts, P to end."),
        '<w:commentRangeEnd w:id="5"/><w:r><w:commentReference w:id="5"/></w:r>',
        '<w:bookmarkStart w:id="701" w:name="rows"/>',
        style=style,
    )
    for number, words in ((804, "K"), (806, "P")):
        row = _run(f"Cast off 8(9:9) sts, {words} to end.")
        end = f'<w:rPr><w:ins w:id="{number + 1}" {_WHO}/></w:rPr>'
        if pending_rows:
            row = f'<w:ins w:id="{number}" {_WHO}>{row}</w:ins>'
        _paragraph(document, row, style=style, end=end if pending_rows else "")
    _paragraph(
        document,
        _run("Cast off 9(9:9) sts, K to end."),
        '<w:bookmarkEnd w:id="701"/>',
        style=style,
    )
    deleted = f'<w:rPr><w:del w:id="809" {_WHO}/></w:rPr>'
    _paragraph(
        document,
        f'<w:del w:id="810" {_WHO}><w:r><w:delText>Work 2 rows.</w:delText></w:r></w:del>',
        style=style,
        end=deleted,
    )
    _paragraph(document, _run("Cast off 9(9:9) sts, P to end. 34(36:40) sts."), style=style)
    _paragraph(document, _run("Cast off rem 34(36:40) sts."), style=style)
    comment = document.add_comment(
        document.paragraphs[0].runs, text="Count again?", author="M. Larch"
    )
    # the same comment stands around two rows: its marks there are the ones that count
    comment._comment_elm.set(qn("w:id"), "5")
    for mark in list(document.paragraphs[0]._p.iter()):
        if mark.get(qn("w:id")) == "0" and (parent := mark.getparent()) is not None:
            parent.remove(mark)


def _fronts(document: Document) -> None:
    cell = document.add_table(1, 2, style="Table Grid").rows[0].cells
    cell[0].text = "Left front"
    cell[0].paragraphs[0].style = document.styles["Heading 1"]
    inner = cell[0].add_table(1, 1)
    inner.style = document.styles["Table Grid"]
    _left_front(inner.rows[0].cells[0])
    cell[1].text = "Words about the yarn stand here, as long as the page needs them. " * 4
    rows = (
        "Right front",
        "Cast on 25(26:27) sts. Work until armhole measures 19(20:21) cm, ending at armhole edge.",
        "Shape shoulder",
        "Next row (WS): Cast off 8(8:9) sts, P to end.",
        "Next row: K to end.",
        "Next row: Cast off 8(9:9) sts, P to end.",
        "Next row: K to end.",
        "Next row: Cast off rem 9(9:9) sts.",
    )
    _text_box(document.add_paragraph(), rows)


def _left_front(cell: _Cell) -> None:
    first = cell.paragraphs[0]
    first.add_run(
        "Cast on 25(26:27) sts. Work until armhole measures 19(20:21) cm, ending with a WS row."
    )
    cell.add_paragraph().add_run("Shape shoulder").bold = True
    rows = cell.add_paragraph()
    for number, (label, words) in enumerate(
        (
            ("Next row (RS):", " Cast off 8(8:9) sts, K to end."),
            ("Next row:", " P."),
            ("Next row:", " Cast off 8(9:9) sts, K to end."),
            ("Next row:", " P."),
            ("Next row:", " Cast off rem 9(9:9) sts."),
        )
    ):
        run = rows.add_run(label)
        run.bold = True
        if number:
            run._r.insert(1, parse_xml(f"<w:br {_W}/>"))
        rows.add_run(words)


# --- pieces of a paragraph --------------------------------------------------------------------------


def _run(words: str, look: str = "") -> str:
    return f'<w:r><w:rPr>{look}</w:rPr><w:t xml:space="preserve">{words}</w:t></w:r>'


def _note(number: int) -> str:
    return f'<w:r><w:footnoteReference w:id="{number}"/></w:r>'


def _paragraph(document: Document, *pieces: str, style: str = "Normal", end: str = "") -> Paragraph:
    paragraph = document.add_paragraph(style=style)
    filled = parse_xml(f"<w:p {_W}>{''.join(pieces)}</w:p>")
    paragraph._p.extend(list(filled))
    if end:
        paragraph._p.get_or_add_pPr().append(parse_xml(end.replace("<w:rPr>", f"<w:rPr {_W}>", 1)))
    return paragraph


def _text_box(paragraph: Paragraph, rows: tuple[str, ...]) -> None:
    title, *others = rows
    words = f'<w:p><w:pPr><w:pStyle w:val="Heading1"/></w:pPr><w:r><w:t>{title}</w:t></w:r></w:p>'
    words += "".join(f"<w:p><w:r><w:t>{row}</w:t></w:r></w:p>" for row in others)
    content = f"<w:txbxContent>{words}</w:txbxContent>"
    paragraph._p.append(
        parse_xml(
            f'<w:r {_W} xmlns:mc="{_MC}" xmlns:wps="{_WPS}" xmlns:v="urn:schemas-microsoft-com:vml">'
            f'<mc:AlternateContent><mc:Choice Requires="wps"><w:drawing><wp:inline {nsdecls("wp", "a")}>'
            '<wp:extent cx="4500000" cy="2600000"/><wp:docPr id="78" name="Right front"/>'
            f'<a:graphic><a:graphicData uri="{_WPS}"><wps:wsp><wps:cNvSpPr/><wps:spPr><a:xfrm>'
            '<a:off x="0" y="0"/><a:ext cx="4500000" cy="2600000"/></a:xfrm><a:prstGeom prst="rect"/>'
            f"</wps:spPr><wps:txbx>{content}</wps:txbx><wps:bodyPr/></wps:wsp></a:graphicData></a:graphic>"
            "</wp:inline></w:drawing></mc:Choice><mc:Fallback><w:pict><v:rect><v:textbox>"
            f"{content}</v:textbox></v:rect></w:pict></mc:Fallback></mc:AlternateContent></w:r>"
        )
    )


def _footnotes(document: Document) -> None:
    from docx.opc.constants import RELATIONSHIP_TYPE
    from docx.opc.packuri import PackURI
    from docx.opc.part import Part

    notes = "".join(
        f'<w:footnote w:type="{kind}" w:id="{number}"><w:p><w:r><w:{kind}/></w:r></w:p></w:footnote>'
        for kind, number in (("separator", -1), ("continuationSeparator", 0))
    )
    notes += "".join(
        f'<w:footnote w:id="{number}"><w:p><w:r><w:footnoteRef/></w:r>{_run(f" {words}")}</w:p>'
        "</w:footnote>"
        for number, words in _NOTES.items()
    )
    blob = etree.tostring(
        parse_xml(f"<w:footnotes {_W}>{notes}</w:footnotes>"), xml_declaration=True
    )
    kind = "application/vnd.openxmlformats-officedocument.wordprocessingml.footnotes+xml"
    part = Part(PackURI("/word/footnotes.xml"), kind, blob, document.part.package)
    document.part.relate_to(part, RELATIONSHIP_TYPE.FOOTNOTES)
