"""Any edit of any DOCX document: accepted and refused exactly, or not made."""

from __future__ import annotations

import re
from itertools import groupby

import docx
from hypothesis import Phase, event, given, settings
from hypothesis import strategies as st

from rewriter.edits import Edit, apply
from rewriter.formats.carrier import NotWritable
from rewriter.formats.docx import DocxDraft
from rewriter.spans import Span
from tests.docxdrafts import DATE, saved, text_of
from tests.docxtools import letters, settled

# --- any edit of any document -----------------------------------------------------------------------


WORDS = st.lists(
    st.sampled_from(["K2,", "p to end.", "8(9:10)", "½", "sts", "Row 1:", "\t", "*", "turn."]),
    min_size=1,
    max_size=6,
).map(" ".join)
STYLES = st.sampled_from(["Normal", "No Spacing", "List Bullet", "Heading 2"])


@st.composite
def documents(draw: st.DrawFn) -> bytes:
    document = docx.Document()
    for _ in range(draw(st.integers(1, 6))):
        paragraph = document.add_paragraph(style=draw(STYLES))
        for _ in range(draw(st.integers(0, 3))):
            run = paragraph.add_run(draw(WORDS) + draw(st.sampled_from(["", " ", "\n"])))
            run.bold = draw(st.sampled_from([None, True]))
    if draw(st.booleans()):
        table = document.add_table(2, 2)
        table.rows[0].cells[1].text = draw(WORDS)
        document.add_paragraph(draw(WORDS))
    document.add_paragraph("The end.")
    return saved(document)


def places(text: str) -> list[list[int]]:
    """Return the ends of words, stretch by stretch of plain paragraphs."""
    out: list[list[int]] = []
    at = 0
    for plain, lines in groupby(text.splitlines(keepends=True), lambda x: x[:2] not in NO_TEXT):
        stretch = "".join(lines)
        if plain:
            found = [at + m.start() for m in re.finditer(r"(?<=\S)(?= |\n|\Z)", stretch)]
            out += [found] if found else []
        at += len(stretch)
    return out


NO_TEXT = ("- ", "##", "| ", "  ")


@given(data=documents(), draw=st.data())
@settings(max_examples=25, deadline=None, phases=[Phase.explicit, Phase.generate])
def test_any_edit_is_accepted_and_refused_exactly_or_not_made(
    data: bytes, draw: st.DataObject
) -> None:
    source = DocxDraft(data, "x").source
    edits = []
    for stretch in places(source.text):
        start = draw.draw(st.sampled_from(stretch))
        end = draw.draw(st.sampled_from([p for p in stretch if p >= start][:8]))
        new = draw.draw(st.sampled_from([" ", "", "\n\n"])) + draw.draw(WORDS)
        new += draw.draw(st.sampled_from(["", "\n\nRow 2.", "\n\nRow 2.\n\nRow 3."]))
        edits.append(Edit(Span(start, end), new, "shaping"))
    output = apply(source.text, edits)
    try:
        out = DocxDraft(data, "x").revised(edits, [], "tracked", DATE, output)
    except NotWritable:
        event("not made")
        return
    event("made")
    assert text_of(settled(out, True)) == output
    assert letters(settled(out, False)) == letters(data)
    applied = DocxDraft(data, "x").revised(edits, [], "applied", DATE, output)
    assert letters(applied) == letters(settled(out, True))
