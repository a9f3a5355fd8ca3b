"""A pattern booklet of twelve pages in DOCX, built as a designer's word processor would leave it.

Styles, header and footer, tables for sizes and for stitch rows, a table that only lays out the page,
bullets, runs split in the middle of a word, bold row labels, a link, a footnote, a text box, somebody
else's comment and pending change.
"""

from __future__ import annotations

import io
from functools import cache

import docx
from docx.document import Document
from docx.enum.style import WD_STYLE_TYPE
from docx.enum.text import WD_BREAK
from docx.opc.constants import RELATIONSHIP_TYPE
from docx.opc.packuri import PackURI
from docx.opc.part import Part
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls
from docx.shared import Pt
from docx.text.paragraph import Paragraph

TITLE = "Kittiwake"
_W = nsdecls("w")
_FOOTNOTES = "application/vnd.openxmlformats-officedocument.wordprocessingml.footnotes+xml"
_NOTE = "Blocking first makes the seams easier to sew."
_BOX = "Care: wash by hand in cool water and dry the pullover flat."

_ABBREVIATIONS = (
    "K = knit; P = purl; st(s) = stitch(es); st st = stocking stitch; beg = beginning; "
    "foll = following; alt = alternate; rem = remain(ing); cont = continue; dec = decrease by working "
    "2 sts together; inc = increase; RS = right side; WS = wrong side."
)
_SIZES = (
    ("To fit bust (cm)", "81", "86", "91", "97", "102"),
    ("Actual measurement (cm)", "89", "94", "100", "105", "111"),
    ("Length to shoulder (cm)", "54", "55", "56", "57", "58"),
    ("Sleeve seam (cm)", "43", "43", "44", "44", "45"),
)
_MATERIALS = (
    "9(9:10:11:11) × 50 g balls of Larkspur Quay Double Knitting",
    "1 pair each 3¼ mm and 4 mm needles",
    "2 stitch holders",
)


@cache
def booklet() -> bytes:
    """Return the booklet; the same bytes each time within one run."""
    document = docx.Document()
    _styles(document)
    section = document.sections[0]
    section.header.paragraphs[0].text = f"{TITLE} · Larkspur Quay patterns"
    _page_number(section.footer.paragraphs[0])
    chapters = (
        _cover, _about, _sizes, _materials, _words, _swatch, _stitches, _back, _front, _sleeves,
        _neckband, _making_up,
    )  # fmt: skip
    for number, chapter in enumerate(chapters):
        if number:
            document.add_paragraph().add_run().add_break(WD_BREAK.PAGE)
        chapter(document)
    _text_box(document.paragraphs[1])
    _footnote(document)
    _pending(document)
    document.add_comment(
        document.paragraphs[0].runs, text="Check the photograph.", author="M. Larch", initials="ML"
    )
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def _styles(document: Document) -> None:
    normal = document.styles["Normal"]
    normal.font.name, normal.font.size = "DejaVu Serif", Pt(10.5)
    normal.paragraph_format.space_after = Pt(6)
    rows = document.styles.add_style("Pattern Rows", WD_STYLE_TYPE.PARAGRAPH)
    rows.base_style = normal
    rows.paragraph_format.space_after = Pt(0)


def _page_number(paragraph: Paragraph) -> None:
    paragraph._p.append(
        parse_xml(f'<w:fldSimple {_W} w:instr="PAGE"><w:r><w:t>1</w:t></w:r></w:fldSimple>')
    )


def _row(document: Document, label: str, words: str) -> None:
    paragraph = document.add_paragraph(style="Pattern Rows")
    paragraph.add_run(label).bold = True
    paragraph.add_run(f" {words}")


def _cover(document: Document) -> None:
    document.add_heading(TITLE, 0)
    document.add_paragraph("A plain round-necked pullover with set-in sleeves", style="Subtitle")


def _about(document: Document) -> None:
    document.add_heading("About this pattern", 1)
    document.add_paragraph(
        "Figures for the larger sizes are given in brackets. Where one figure is given it is for all sizes."
    )
    paragraph = document.add_paragraph("Questions are answered ")
    link = parse_xml(
        f'<w:hyperlink {_W} w:anchor="help"><w:r><w:t>on the help page</w:t></w:r></w:hyperlink>'
    )
    paragraph._p.append(link)
    paragraph.add_run(".")


def _sizes(document: Document) -> None:
    document.add_heading("Sizes", 1)
    document.add_paragraph("To fit bust: 81(86:91:97:102) cm")
    table = document.add_table(0, 6, style="Light Grid Accent 1")
    for words in _SIZES:
        for cell, text in zip(table.add_row().cells, words, strict=True):
            cell.text = text


def _materials(document: Document) -> None:
    document.add_heading("Materials", 1)
    for words in _MATERIALS:
        document.add_paragraph(words, style="List Bullet")


def _words(document: Document) -> None:
    document.add_heading("Abbreviations", 1)
    document.add_paragraph(_ABBREVIATIONS)


def _swatch(document: Document) -> None:
    document.add_heading("Tension", 1)
    document.add_paragraph(
        "22 sts and 30 rows to 10 cm, measured over st st on 4 mm needles, or the size needed to give "
        "this tension."
    )


def _stitches(document: Document) -> None:
    document.add_heading("Border pattern", 1)
    table = document.add_table(1, 2, style="Table Grid")
    table.rows[0].cells[0].text, table.rows[0].cells[1].text = "Row", "Work"
    for number in range(1, 25):
        cells = table.add_row().cells
        cells[0].text = str(number)
        cells[1].text = "K1, P1 to end" if number % 2 else "P1, K1 to end"


def _back(document: Document) -> None:
    document.add_heading("Back", 1)
    document.add_paragraph("Using 3¼ mm needles cast on 98(104:110:116:122) sts.")
    document.add_paragraph("Work 6 cm in K1, P1 rib.")
    document.add_paragraph(
        "Change to 4 mm needles. Beg with a K row, cont in st st until Back measures 36(36:37:37:37) cm "
        "from cast-on edge, ending with a WS row."
    )
    document.add_heading("Shape armholes", 2)
    document.add_paragraph("Cast off 5(5:6:6:7) sts at beg of next 2 rows. 88(94:98:104:108) sts.")
    document.add_paragraph(
        "Dec 1 st at each end of next 3(5:5:7:7) rows, then on foll 3(3:4:4:5) alt rows. 76(78:80:82:84) sts."
    )
    paragraph = document.add_paragraph()
    # as a word processor leaves it after corrections: words and sides in several runs
    for words, italic in (
        ("Cont strai", False), ("ght until armholes measure ", False), ("18(19:19:20:21) cm", True),
        (", ending with a W", False), ("S row.", False),
    ):  # fmt: skip
        paragraph.add_run(words).italic = italic or None
    document.add_heading("Shape shoulders", 2)
    _row(document, "Next row (RS):", "Cast off 7(8:8:8:8) sts, K to end.")
    _row(document, "Next row (WS):", "Cast off 7(8:8:8:8) sts, P to end.")
    _row(document, "Next row (RS):", "Cast off 7(8:8:8:8) sts, K to end.")
    _row(document, "Next row (WS):", "Cast off 7(8:8:8:8) sts, P to end. 48(46:48:50:52) sts.")
    _row(document, "Next row (RS):", "Cast off 8(7:7:8:8) sts, K to end.")
    _row(document, "Next row (WS):", "Cast off 8(7:7:8:8) sts, P to end. 32(32:34:34:36) sts.")
    document.add_paragraph("Leave rem 32(32:34:34:36) sts on a holder.")


def _front(document: Document) -> None:
    document.add_heading("Front", 1)
    document.add_paragraph(
        "Work as given for Back until 22 rows less have been worked than on Back to start of shoulder "
        "shaping, ending with a WS row."
    )
    document.add_heading("Shape neck", 2)
    paragraph = document.add_paragraph()
    paragraph.add_run("Next row (RS):").bold = True
    paragraph.add_run(" K30(31:31:32:32), turn and leave rem sts on a spare needle.")
    document.add_paragraph(
        "Working on these sts only, dec 1 st at neck edge on next 5 rows, then on foll 3 alt rows. "
        "22(23:23:24:24) sts."
    )
    document.add_paragraph(
        "Cont straight until armhole matches Back to start of shoulder shaping, ending with a WS row."
    )
    document.add_heading("Shape shoulder", 2)
    document.add_paragraph("Cast off 7(8:8:8:8) sts at beg of next and foll alt row.")
    document.add_paragraph("Work 1 row. Cast off rem 8(7:7:8:8) sts.")
    document.add_paragraph(
        "With RS facing, slip centre 16(16:18:18:20) sts on to a holder, rejoin yarn to rem sts and K to "
        "end. Complete to match first side, reversing shapings."
    )


def _sleeves(document: Document) -> None:
    """Set the sleeves in a table without lines, as booklets do for two columns."""
    document.add_heading("Sleeves (both alike)", 1)
    left, right = document.add_table(1, 2).rows[0].cells
    left.text = (
        "Using 3¼ mm needles cast on 46(46:48:48:50) sts. Work 6 cm in K1, P1 rib. Change to 4 mm "
        "needles. Beg with a K row and working in st st, inc 1 st at each end of 5th and every foll "
        "8th(7th:7th:6th:6th) row until there are 72(74:76:80:82) sts."
    )
    right.text = "Cont straight until Sleeve measures 43(43:44:44:45) cm, ending with a WS row."
    right.add_paragraph("Shape top").runs[0].bold = True
    right.add_paragraph("Cast off 5(5:6:6:7) sts at beg of next 2 rows. 62(64:64:68:68) sts.")
    right.add_paragraph(
        "Dec 1 st at each end of next 3(5:5:7:7) rows, then on every foll alt row until 36 sts rem, then "
        "on every row until 28 sts rem. Cast off 4 sts at beg of next 4 rows. Cast off rem 12 sts."
    )


def _neckband(document: Document) -> None:
    document.add_heading("Neckband", 1)
    document.add_paragraph(
        "Join right shoulder seam. With RS facing and using 3¼ mm needles, pick up and K20 sts down left "
        "side of neck, K16(16:18:18:20) sts from front holder, pick up and K20 sts up right side of neck, "
        "then K32(32:34:34:36) sts from back holder. 88(88:92:92:96) sts. Work 3 cm in K1, P1 rib. Cast "
        "off loosely in rib."
    )


def _making_up(document: Document) -> None:
    document.add_heading("Making up", 1)
    document.add_paragraph(
        "Join left shoulder and neckband seam. Set in sleeves. Join side and sleeve seams."
    )


# --- what python-docx has no call for ---------------------------------------------------------------


def _text_box(paragraph: Paragraph) -> None:
    words = f"<w:txbxContent><w:p><w:r><w:t>{_BOX}</w:t></w:r></w:p></w:txbxContent>"
    drawing = nsdecls("wp", "a")
    paragraph._p.append(
        parse_xml(
            f'<w:r {_W} xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" '
            'xmlns:wps="http://schemas.microsoft.com/office/word/2010/wordprocessingShape" '
            'xmlns:v="urn:schemas-microsoft-com:vml"><mc:AlternateContent><mc:Choice Requires="wps">'
            f"<w:drawing><wp:inline {drawing}>"
            '<wp:extent cx="3000000" cy="600000"/><wp:docPr id="77" name="Care"/>'
            '<a:graphic><a:graphicData uri="http://schemas.microsoft.com/office/word/2010/wordprocessingShape">'
            '<wps:wsp><wps:cNvSpPr/><wps:spPr><a:xfrm><a:off x="0" y="0"/>'
            '<a:ext cx="3000000" cy="600000"/></a:xfrm><a:prstGeom prst="rect"/></wps:spPr>'
            f"<wps:txbx>{words}</wps:txbx><wps:bodyPr/></wps:wsp></a:graphicData></a:graphic></wp:inline>"
            "</w:drawing></mc:Choice><mc:Fallback><w:pict><v:rect><v:textbox>"
            f"{words}</v:textbox></v:rect></w:pict></mc:Fallback></mc:AlternateContent></w:r>"
        )
    )


def _footnote(document: Document) -> None:
    separators = "".join(
        f'<w:footnote w:type="{kind}" w:id="{number}"><w:p><w:r><w:{tag}/></w:r></w:p></w:footnote>'
        for kind, number, tag in (
            ("separator", -1, "separator"),
            ("continuationSeparator", 0, "continuationSeparator"),
        )
    )
    blob = (
        f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?><w:footnotes {_W}>{separators}'
        f'<w:footnote w:id="1"><w:p><w:r><w:footnoteRef/></w:r><w:r><w:t xml:space="preserve"> {_NOTE}</w:t>'
        "</w:r></w:p></w:footnote></w:footnotes>"
    ).encode()
    package = document.part.package
    part = Part(PackURI("/word/footnotes.xml"), _FOOTNOTES, blob, package)
    document.part.relate_to(part, RELATIONSHIP_TYPE.FOOTNOTES)
    document.paragraphs[-1]._p.append(parse_xml(f'<w:r {_W}><w:footnoteReference w:id="1"/></w:r>'))


def _pending(document: Document) -> None:
    """Leave somebody's change unsettled: "15 cm" struck out and "10 cm" put in, in the tension."""
    who = 'w:author="M. Larch" w:date="2026-01-05T10:00:00Z"'
    paragraph = next(p for p in document.paragraphs if p.text.startswith("22 sts and 30 rows"))
    run = paragraph.runs[0]
    before, _, after = run.text.partition("10 cm")
    run.text = before
    for xml in (
        f'<w:del {_W} w:id="901" {who}><w:r><w:delText>15 cm</w:delText></w:r></w:del>',
        f'<w:ins {_W} w:id="902" {who}><w:r><w:t>10 cm</w:t></w:r></w:ins>',
    ):
        paragraph._p.append(parse_xml(xml))
    paragraph.add_run(after)
