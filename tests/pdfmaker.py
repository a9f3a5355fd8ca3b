"""Small PDF files for tests, written by hand: words at places, in Helvetica or Helvetica Bold."""

from __future__ import annotations

from collections.abc import Sequence

Words = tuple[float, float, float, bool, str]
"""x, y, size in points, bold, text."""


def pdf(pages: Sequence[Sequence[Words]]) -> bytes:
    """Return a PDF file of A4 pages; words are drawn in the order given, as a layout program may."""
    objects = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Count %d /Kids [%s] >>"
        % (len(pages), b" ".join(b"%d 0 R" % (5 + 2 * n) for n in range(len(pages)))),
    ]
    # Mac Roman has the ligatures fi and fl
    for font in (b"Helvetica", b"Helvetica-Bold"):
        objects.append(
            b"<< /Type /Font /Subtype /Type1 /BaseFont /%s /Encoding /MacRomanEncoding >>" % font
        )
    for number, words in enumerate(pages):
        stream = b"".join(
            b"BT /F%d %g Tf %g %g Td (%s) Tj ET\n" % (1 + bold, size, x, y, _escaped(text))
            for x, y, size, bold, text in words
        )
        objects.append(
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents %d 0 R "
            b"/Resources << /Font << /F1 3 0 R /F2 4 0 R >> >> >>" % (6 + 2 * number)
        )
        objects.append(b"<< /Length %d >>\nstream\n%sendstream" % (len(stream), stream))
    out = b"%PDF-1.4\n"
    places = []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    return out + (
        b"xref\n0 %d\n0000000000 65535 f \n%strailer << /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n"
        % (len(objects) + 1, table, len(objects) + 1, len(out))
    )


def _escaped(text: str) -> bytes:
    raw = text.replace("fi", "\ufb01").replace("fl", "\ufb02").encode("mac_roman")
    return raw.replace(b"\\", rb"\\").replace(b"(", rb"\(").replace(b")", rb"\)")
