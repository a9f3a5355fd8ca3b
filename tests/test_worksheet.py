"""Worksheets: every row with its counts, and mirrored sides."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from rewriter.charts.model import assumed_ratio, chart_of
from rewriter.fabric import knit
from rewriter.labels import without_label
from rewriter.mirror import mirrored
from rewriter.needlemodel import Shoulder
from rewriter.needlerows import shoulders
from rewriter.options import Options, Shoulders, Turn
from rewriter.pipeline import rework
from rewriter.rows import OTHER_SIDE, edge_of_beginning
from rewriter.source import read_source
from rewriter.worksheet import worksheet
from rewriter.worksheethead import needs, without_heading
from rewriter.worksheetmodel import NoSheet
from tests.drafts import CORPUS
from tests.sheettools import DRAFTS, PLAIN, SAMPLE, WAYS, run, sheet_of, work_of


@pytest.mark.parametrize("path", DRAFTS, ids=lambda p: p.stem)
@pytest.mark.parametrize(("turn", "join"), WAYS)
def test_every_row_stands_on_the_sheet_once_with_counts_that_add_up(
    path: Path, turn: Turn, join: Shoulders
) -> None:
    options = Options(turn=turn, shoulders=join)
    work = work_of(path, options)
    for size in range(len(work.draft.sizes)):
        sheet = worksheet(work, size, options)
        told = [p for p in sheet.pieces if p.shoulder is not None and not p.mirrored]
        found = shoulders(work, size)
        assert [p.shoulder for p in told] == list(found)
        for piece in sheet.pieces:
            assert piece.shoulder is not None
            rows = piece.shoulder.rows
            assert len(piece.lines) == len(rows)
            numbers = [line.number for line in piece.lines if line.number is not None]
            assert numbers == list(range(numbers[0], numbers[0] + len(numbers)))
            before: int | None = None
            for line, row in zip(piece.lines, rows, strict=True):
                assert line.words == without_label(row.words.replace("**", ""))[0]
                assert (line.off, line.waiting[1]) == (row.off, row.unworked)
                if row.worked is not None:
                    assert (line.worked, line.on_needle) == (row.worked, row.on_needle)
                assert "(" not in line.words or ":" not in line.words  # no list of sizes is left
                if before is not None and line.worked is not None and "fasten" not in line.words:
                    assert line.worked + sum(line.waiting) + line.off == before
                before = line.on_needle if line.on_needle is not None else before


def test_the_rows_of_a_size_with_words_of_its_own() -> None:
    """Sizes with more steps than others have sentences that are for them alone."""
    sheet = sheet_of(DRAFTS[1], Options(), 4)
    back = sheet.pieces[0]
    assert back.lines[4].words == "DS, work in patt to last 24 sts (marker), turn."
    assert [n for n in back.notes if "1st" in n or "only" in n] == []
    assert "after 8 sts, after 16 sts and after 24 sts" in back.notes[0]
    small = sheet_of(DRAFTS[1], Options(), 0).pieces[0]
    assert "after 9 sts and after 18 sts, and one in a second colour after 26 sts" in small.notes[0]


def test_sts_that_wait_where_the_yarn_is_fastened_off_are_not_worked() -> None:
    back = sheet_of(SAMPLE, Options(shoulders="three-needle"), 2).pieces[0]
    line = back.lines[-2]
    assert "fasten off" in line.words
    assert (line.worked, line.waiting, line.off, line.on_needle) == (0, (28, 28), 41, 56)
    assert back.lines[-1].number is None


def test_one_sentence_that_fills_several_holders_is_one_line() -> None:
    back = sheet_of(DRAFTS[3], Options(shoulders="held"), 1).pieces[0]
    held, cut = back.lines[-2:]
    assert [line.words for line in back.lines].count(held.words) == 1
    assert (held.off, cut.words) == (52, "Cut yarn.")


def test_the_sides_of_a_divided_neck_are_counted_and_numbered_as_one_piece() -> None:
    first, second = sheet_of(DRAFTS[5], Options(), 0).pieces[:2]
    assert (
        first.needle is not None
        and first.needle.sts == "8 \u00b7 8 \u00b7 8 \u2016 36 \u2016 8 \u00b7 8 \u00b7 8"
    )
    counts = [(x.worked, x.waiting, x.off, x.on_needle) for x in first.lines]
    assert counts[1] == (68, (8, 8), 0, 84)
    assert counts[3] == (12, (16, 0), 56, 28)  # the centre and the other side are held
    assert second.lines[0].number == 4
    assert (second.lines[0].off, second.lines[0].on_needle) == (28, 28)


def test_both_sides_of_a_neck_at_once_are_one_table() -> None:
    back = sheet_of(CORPUS / "forms/06-prairie-pullover.txt", Options(), 0).pieces[0]
    assert back.title == "Back" and back.other is not None
    assert [x.number for x in back.lines] == [1, 2, 3, 4, None, 5, 6, 7]
    assert [x.on_needle for x in back.lines if x.number] == [70, 70, 70, 48, 44, 20, 0]
    assert sum(x.off for x in back.lines) == 70


def test_a_side_held_where_it_was_worked_follows_the_row_that_is_shared() -> None:
    first, second = sheet_of(CORPUS / "forms/29-pullunder-mit-rundhals.txt", Options(), 0).pieces[
        :2
    ]
    shared = first.lines[1]
    assert (shared.number, shared.off, shared.on_needle) == (2, 50, 28)
    assert "(the 8 unworked" in shared.words
    assert "follows row 2, which was worked over both sides" in second.begins
    assert [x.number for x in second.lines] == [None, 3, 4, 5, 6]


@pytest.mark.parametrize(
    ("name", "first", "said"),
    [
        ("07-lecture-slipover.txt", 2, "Row 2 below is a WS row."),  # row 1 stands in the lead-in
        (
            "12-forum-box-top.txt",
            1,
            "begin row 1 where its words end",
        ),  # the rows behind move on by one
    ],
)
def test_rows_that_a_text_numbers_have_one_number_on_sheet_and_chart(
    name: str, first: int, said: str
) -> None:
    piece = sheet_of(CORPUS / "forms" / name, Options(), 0).pieces[0]
    assert piece.shoulder is not None and said in piece.begins
    chart = chart_of(piece.shoulder, assumed_ratio("stocking"))
    told = [x.number for x in piece.lines if x.number is not None]
    assert told[0] == first
    assert [p.row for p in chart.passes if p.row is not None] == told


# --- second sides -----------------------------------------------------------------------------------


def one_edged(path: Path, options: Options) -> tuple[Shoulder, bool]:
    work = work_of(path, options)
    found = next(s for s in shoulders(work, 0) if len(s.edges) == 1)
    fabric = next(r.finding.fabric for r in work.revisions if r.finding.id == found.name)
    return found, fabric != "garter"


@pytest.mark.parametrize("path", DRAFTS[:5], ids=lambda p: p.stem)
@pytest.mark.parametrize(("turn", "join"), WAYS)
def test_a_second_side_is_the_mirror_image_of_the_first(
    path: Path, turn: Turn, join: Shoulders
) -> None:
    first, changes = one_edged(path, Options(turn=turn, shoulders=join))
    second = mirrored(first, changes)
    assert second is not None and first.stitches is not None
    assert [r.side for r in second.rows] == [r.side and OTHER_SIDE[r.side] for r in first.rows]
    assert first.first_side is not None and second.first_side is not None
    heights = [
        knit(s.stitches, s.new_rows, edge_of_beginning(OTHER_SIDE[s.first_side])).heights()
        for s in (first, second)
        if s.stitches is not None and s.first_side is not None
    ]
    assert heights[0] == heights[1][::-1]
    for one, other in zip(first.rows, second.rows, strict=True):
        assert (one.worked, one.unworked, one.off) == (other.worked, other.unworked, other.off)


def test_the_words_of_a_second_side() -> None:
    sheet = sheet_of(SAMPLE, Options(), 2)
    titles = [p.title for p in sheet.pieces]
    assert titles == ["Back", "Front, first side", "Front, second side (mirrored)"]
    lines = sheet.pieces[2].lines
    assert (lines[0].side, lines[0].words) == ("RS", "K to last 9 sts (marker), turn.")
    assert (lines[1].side, lines[1].words) == ("WS", "DS, P to end.")
    assert "ready" not in sheet.pieces[2].about and "mirror image" in sheet.pieces[2].about
    knitted = sheet_of(DRAFTS[3], Options(), 1)
    assert {line.words.split()[0] for line in knitted.pieces[-1].lines[:3]} <= {"Knit", "DS,"}


def test_a_side_that_is_not_told_is_mirrored_in_the_same_words() -> None:
    """Words that name edges and no side are true of both sides."""
    path = CORPUS / "drafts/us-mill-street-slipover.txt"
    front, second = sheet_of(path, Options(), 0).pieces[-2:]
    assert second.mirrored and [x.words for x in second.lines] == [x.words for x in front.lines]
    assert front.shoulder is not None and second.shoulder is not None
    assert front.shoulder.edges[0].edge != second.shoulder.edges[0].edge


def test_fronts_in_words_of_their_own_are_not_mirrored() -> None:
    assert not any(p.mirrored for p in sheet_of(DRAFTS[4]).pieces)


def test_a_side_that_no_words_tell_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    draft = tmp_path / "draft.md"
    text = SAMPLE.read_text(encoding="utf-8")
    draft.write_text(
        text.replace(" Complete to match first side, reversing shapings.", ""), "utf-8"
    )
    sheet = sheet_of(draft)
    assert [p.title for p in sheet.pieces] == ["Back", "Front", "Front, second side"]
    assert sheet.pieces[-1].lines == () and "turned round" in sheet.pieces[-1].about
    assert run(str(draft), "--size", "106", "-o", str(tmp_path / "sheet.html")) == 0
    assert "Front, second side: The draft must tell this side too" in capsys.readouterr().err


def test_a_piece_without_steps_is_named() -> None:
    text = SAMPLE.read_text(encoding="utf-8")
    short = text[: text.index("### Shape shoulder\n")] + text[text.index("## Making up") :]
    work = rework(read_source(short.encode("utf-8"), "draft.md"), PLAIN)
    (missing,) = worksheet(work, 0, PLAIN).missing
    assert missing.startswith("Front: no shoulder steps were found there")
    assert worksheet(work_of(SAMPLE, PLAIN), 0, PLAIN).missing == ()


def test_a_front_whose_sides_have_headings_is_not_missed() -> None:
    sheet = sheet_of(CORPUS / "forms/117-porchlight-tank.md", Options(), 0)
    assert [p.title for p in sheet.pieces] == ["Back", "Right front", "Left front"]
    assert sheet.missing == ()


def test_words_that_lean_are_not_mirrored() -> None:
    first, changes = one_edged(SAMPLE, Options())
    row = replace(first.rows[1], words="Next row (RS): DS, K to last 2 sts, K2tog.")
    assert mirrored(replace(first, rows=(first.rows[0], row, *first.rows[2:])), changes) is None


def test_words_that_do_not_make_the_mirror_image_are_not_used() -> None:
    first, changes = one_edged(SAMPLE, Options())
    row = replace(first.rows[0], words="Next row (WS): P to last 7 sts (marker), turn.")
    assert mirrored(replace(first, rows=(row, *first.rows[1:])), changes) is None


# --- what stands around the rows --------------------------------------------------------------------


def test_the_head_of_a_sheet() -> None:
    sheet = sheet_of(SAMPLE, Options(shoulders="three-needle"), 2)
    assert (sheet.title, sheet.size) == ("Tarn", "106")
    assert sheet.options[1] == ("Shoulders", "kept live, joined with a three-needle cast-off")
    assert sheet.needs == (
        "4 removable markers in one colour and 2 in another",
        "Stitch holders",
        "Spare needle for joining",
    )
    terms = dict(sheet.abbreviations)
    assert terms["K"] == "knit" and "alt" not in terms and "beg" not in terms
    assert "across the 28 sts of each back shoulder" in sheet.finish[0]
    assert sheet.pieces[0].lead_in.endswith("ending with a RS row.\u201d")
    assert sheet.pieces[0].needle is not None
    assert (
        sheet.pieces[0].needle.sts == "9 \u00b7 9 \u00b7 10 \u2016 41 \u2016 10 \u00b7 9 \u00b7 9"
    )


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("ARMBANDS: Join shoulder seams.", "Join shoulder seams."),
        ("TO MAKE UP Join shoulder seams.", "Join shoulder seams."),
        ("Finishing: Sew right shoulder.", "Sew right shoulder."),
        ("FINISHlNG\u2014Sew shoulders.", "Sew shoulders."),
        ("With RS facing, join shoulders.", "With RS facing, join shoulders."),
        ("Join: first left, then right shoulder.", "Join: first left, then right shoulder."),
    ],
)
def test_a_heading_that_runs_into_a_sentence_is_left_out(text: str, left: str) -> None:
    assert without_heading(text) == left


def test_notions_are_those_of_the_words() -> None:
    told = ["Leave these sts on a length of yarn.", "Join a second ball and work both sides."]
    assert needs([], "german", {"sewn"}, "UK", told) == (
        "Waste yarn for sts that wait",
        "Second ball of yarn",
        "Blunt sewing needle",
    )
    assert needs([], "german", set(), "US", ["Slip to a spare needle."]) == (
        "Spare needle for sts that wait",
    )
    assert needs([], "german", set(), "US", ["Work in yarn of the second colour."]) == ()


def test_a_lead_in_in_the_sentence_of_the_shaping() -> None:
    sheet = sheet_of(CORPUS / "forms/44-lace-panel-blouse.txt", Options(), 0)
    front = next(p for p in sheet.pieces if p.title.startswith("Front"))
    assert front.lead_in == "\u201cWhen the armhole is as deep as on the back\u201d"
    assert front.notes[0].startswith("Counting from the armhole edge")


def test_a_join_that_could_not_be_had_is_not_named() -> None:
    """The head tells how the rows end, not what was asked for."""
    text = (
        SAMPLE.read_text(encoding="utf-8")
        .replace(
            "Work 1 row. Cast off rem 8(8:10:11) sts.", "Work 1 row. Cast off rem 9(9:11:12) sts."
        )
        .replace(
            "dec 1 st at neck edge on next 9 rows. 24(26:28:31) sts.",
            "dec 1 st at neck edge on next 8 rows. 25(27:29:32) sts.",
        )
    )
    options = Options(shoulders="three-needle")
    work = rework(read_source(text.encode("utf-8"), "draft.md"), options)
    sheet = worksheet(work, 2, options)
    assert sheet.options[1][1] == "cast off in one sweep, then sewn"
    assert "Spare needle for joining" not in sheet.needs
    assert any("bound off in one sweep and sewn" in c for c in sheet.cautions)


def test_cautions_are_said_once() -> None:
    for path in DRAFTS:
        sheet = sheet_of(path, Options(shoulders="held"))
        assert max(Counter(sheet.cautions).values()) == 1
        assert sum("markers" in c for c in sheet.cautions) == 1
        assert "copyright" in sheet.cautions[-1]


def test_no_sheet_without_rows() -> None:
    work = work_of(CORPUS / "drafts/us-lantern-wrap.md", Options())
    with pytest.raises(NoSheet, match="no steps of the kinds asked for"):
        worksheet(work, 0, Options())


@pytest.mark.parametrize("size", [2, 6])
def test_what_is_told_for_all_sizes_stands_on_the_sheet_of_each(size: int) -> None:
    # markers are told for some sizes and then for others; taking them off is told for all
    back, front = sheet_of(CORPUS / "drafts/us-millrace-tank.txt", size=size).pieces
    assert sum(note.startswith("Take each marker off") for note in back.notes) == 1
    assert sum(note.startswith("Take the markers off") for note in front.notes) == 1
    markers = [n for n in (*back.notes, *front.notes) if "hang a removable marker" in n]
    assert len(markers) == 2 and not any("only" in n for n in markers)
    assert ("after 15 sts" in markers[0]) == (size == 6)


def test_two_sides_on_two_balls_are_parted_by_the_neck() -> None:
    _, front = sheet_of(CORPUS / "drafts/us-millrace-tank.txt", size=2).pieces
    assert front.needle is not None
    assert front.needle.sts == "5 \u00b7 5 \u00b7 6 \u2016 neck \u2016 6 \u00b7 5 \u00b7 5"
    assert "There are 32 sts on the needle, 16 on each side of the neck." in front.begins
    assert [line.on_needle for line in front.lines] == [32, 32, 32, 32, 32, 16, 0]
