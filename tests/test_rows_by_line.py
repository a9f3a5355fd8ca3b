"""Rows told a line at a time without capitals, rows labelled by their side, halves divided at the armhole."""

from __future__ import annotations

import pytest

from rewriter.document import split_document
from rewriter.options import Options
from rewriter.pipeline import rewrite_bytes
from rewriter.report import Report
from rewriter.source import read_source

TYPED = """\
[b]back[/b]
cast on 64
8 rows garter
st st till work is 15 cm, end on a p row
armholes: cast off 4 beg next 2 rows
dec 1 each end next 3 rows (50)
straight till armhole is 10 cm, end with a p row
then cast off 7 beg next
4 rows
put last 22 on a pin

[b]left front[/b]
cast on 34
8 rows garter
when it is 15 cm, end on a p row -
cast off 4, k to end
p 1 row
dec 1 at arm edge next 3 rows (27)
straight till armhole is 7 cm, end after a k row
cast off 7, p to end
dec 1 at neck edge next 6 rows (14)
straight till same as back, finish at arm edge
cast off 7, k to end, p back, cast off 7

[b]right front[/b]
same but everything other way round
"""


def rewritten(text: str) -> tuple[Report, str]:
    report, revised = rewrite_bytes(text.encode(), "draft.txt", Options())
    return report, revised.decode()


def kinds(report: Report) -> list[tuple[str, str]]:
    return [(p.id.rsplit("/", 1)[0], p.status) for p in report.passages]


def test_a_line_without_capitals_is_a_row() -> None:
    sentences = [s.text for s in split_document(read_source(TYPED.encode(), "x.txt")).sentences]
    assert "8 rows garter" in sentences
    assert "then cast off 7 beg next\n4 rows" in sentences  # the first line stops short
    assert "when it is 15 cm, end on a p row -\ncast off 4, k to end" in sentences


def test_prose_in_small_letters_keeps_its_broken_lines() -> None:
    prose = (
        "cast on 64 sts and work 8 rows in garter stitch, then go on\n"
        "in stocking stitch till the work is 15 cm long and you have\n"
        "just done a purl row, cast off 4 sts at the beginning of the\n"
        "next 2 rows and dec 1 st at each end of the next 3 rows\n"
        "\n"
        "back and front are worked in one from here\n"
    )
    first, _ = (s.text for s in split_document(read_source(prose.encode(), "x.txt")).sentences)
    assert first.count("\n") == 3


def test_shoulders_typed_line_by_line() -> None:
    report, revised = rewritten(TYPED)
    assert kinds(report) == [
        ("back/armhole", "left"),
        ("back/shoulder", "rewritten"),
        ("left-front/shoulder", "rewritten"),
    ]
    assert "straight till same as back, finish at neck edge\n" in revised
    assert "\nnext row (right side): cast off all 14 sts.\n" in revised
    assert (
        "\nsame but everything other way round\non this front, end the straight rows before"
        in revised
    )
    assert " ".join(revised.split()).endswith(
        "a wrong side row; the short row is a right side row."
    )


def test_a_count_on_a_line_of_its_own_tells_that_nothing_is_left() -> None:
    text = (
        "sizes 2 (4, 6)\n\nfront\nwork till 20 cm, end with a ws row\nk 20 (21, 22), turn, leave the rest on "
        "a spare needle\ndec 1 at neck edge every row 6 times\n14 (15, 16) left\nstraight till same as back, "
        "end at arm edge\ncast off 7 (7, 8), k to end\np 1 row\ncast off 7 (8, 8)\nslip 12 (14, 16) sts onto "
        "a holder, join yarn and k to end\nfinish to match first side\n"
    )
    report, revised = rewritten(text)
    assert kinds(report) == [("front/shoulder", "rewritten")]
    assert "cast off all 14 (15, 16) sts.\nslip 12 (14, 16) sts" in revised


FJORD = """\
Sizes: 1 (2)

FRONT
Work straight until piece is 58 (59) cm, last row is a RS row. 24 (27) sts.
Shoulder:
{label}: BO 8 (9), p to end.
{other}: K.
Rep these 2 rows 1 more time.
{label}: BO last 8 (9) sts.
"""


@pytest.mark.parametrize(
    ("label", "other"), [("WS", "RS"), ("W.S.", "R.S."), ("Wrong side", "Right side")]
)
def test_rows_labelled_by_their_side_alone(label: str, other: str) -> None:
    report, revised = rewritten(FJORD.format(label=label, other=other))
    (passage,) = report.passages
    assert passage.status == "rewritten"
    assert [e.steps for e in passage.edges] == [((8, 9), (8, 9), (8, 9))]
    assert passage.edges[0].first_bind_off_side == "WS"
    assert "last row is a WS row" in revised


def test_the_other_front_told_by_the_side_of_its_rows_follows() -> None:
    text = (
        "LEFT FRONT\nWork in st st until armhole measures 20 cm, last row is a WS row. 16 sts.\n"
        "Shoulder:\nRS: BO 8, k to end.\nWS: P.\nRS: BO last 8 sts.\n\nRIGHT FRONT\nWork as for left "
        "front until armhole measures 20 cm, last row is a RS row. Shape shoulder as for left front "
    )
    _, revised = rewritten(f"{text}but on WS rows.\n")
    assert (
        "20 cm, last row is a WS row. Shape shoulder as for left front but with the short"
        in revised
    )
    assert revised.endswith("rows on RS rows.\n")


def test_an_armhole_told_by_the_other_front_and_a_side_stays() -> None:
    told = "Shape armhole as for left front, on WS rows. 16 sts."
    text = (
        "LEFT FRONT\nWork in st st until armhole measures 20 cm, last row is a WS row. 16 sts.\n"
        "Shoulder:\nRS: BO 8, k to end.\nWS: P.\nRS: BO last 8 sts.\n\nRIGHT FRONT\nWork to armhole, ending "
        f"with a RS row. {told}\n"
    )
    report, revised = rewritten(text)
    assert report.passages[0].status == "rewritten"
    assert f"ending with a RS row. {told}" in revised


def test_a_second_side_cast_off_on_rows_that_are_named_is_told_how_it_turns() -> None:
    text = FJORD.format(label="WS", other="RS")
    report, revised = rewritten(
        f"{text}Leave the 24 (27) sts on the cable. Other side: join yarn at neck edge. Work as the first "
        "side but BO for shoulder on RS rows.\n"
    )
    assert revised.endswith(
        "BO for shoulder on RS rows. On this side, end the straight rows before the shoulder with a RS "
        "row; the short rows are WS rows.\n"
    )
    assert {d.code for d in report.diagnostics}.isdisjoint({"leans-on-short-rows", "in-pattern"})


DIVIDED = """\
BOY'S SLIPOVER
FRONT.
With No. 9 needles cast on 100 sts. and work 11 ins. in stocking stitch, ending with a p. row.
{heading}Next row.-Cast off 6 sts., k. until there are 44 sts. on the right-hand needle, turn. {held}
P. 1 row.
Now k. 2 tog. at the armhole edge on every k. row until 5 decreases have been made there, at the same \
time decreasing 1 st. at the neck edge on every 3rd row until 24 sts. remain in all.
{straight}, finishing at the armhole edge.
Cast off 8 sts. at the beg. of the next and following alt. row. Work 1 row. Cast off the remaining 8 sts.
Join wool at the centre to sts. on spare needle and k. to end.
Next row.-Cast off 6 sts., p. to end. Complete this side to correspond with the other.
"""


@pytest.mark.parametrize(
    "heading", ["Shape armhole and divide for neck as follows:-\n", "Divide.-"]
)
@pytest.mark.parametrize(
    "held", ["Slip the last 50 sts. on to a spare needle.", "Leave the others."]
)
@pytest.mark.parametrize(
    "straight",
    [
        "Work straight until armhole measures the same as the Back",
        "Work straight until the armhole measures 7 ins.",
        "Continue without shaping until armhole is as deep as that of the Back",
    ],
)
def test_a_row_that_divides_at_the_armhole_is_no_step(
    heading: str, held: str, straight: str
) -> None:
    report, revised = rewritten(DIVIDED.format(heading=heading, held=held, straight=straight))
    told = [p for p in report.passages if p.kind == "shoulder"]
    assert [p.status for p in told] == ["rewritten"]
    assert told[0].edges[0].steps == ((8,), (8,), (8,))
    assert "Cast off 6 sts., k. until there are 44 sts." in revised
    assert "finishing at the neck edge" in revised


JACKET = """\
JACKET
You will need: 500 g of yarn, needles No. 4, 5 buttons.
Elastic band 1x1: alternately 1 front, 1 back.

{piece} SHELF
Dial 46 loops. Knit 38 cm and make the armhole on the {armhole} edge as on the back = 21 loops. At a
height of 58 cm close for the shoulder on the {named} edge in every 2nd row 3 times 7 loops.
"""


@pytest.mark.parametrize(
    ("piece", "edge", "side"), [("LEFT", "right", "RS"), ("RIGHT", "left", "WS")]
)
def test_the_shelf_of_a_jacket_is_its_front(piece: str, edge: str, side: str) -> None:
    report, revised = rewritten(JACKET.format(piece=piece, armhole=edge, named=edge))
    (passage,) = report.passages
    assert (passage.status, passage.edges[0].first_bind_off_side) == ("rewritten", side)
    assert "5 buttons. 2 removable markers" in revised


def test_the_note_on_turns_stands_apart_from_what_it_follows() -> None:
    text = JACKET.format(piece="LEFT", armhole="right", named="right")
    report, revised = rewrite_bytes(text.encode(), "draft.txt", Options(markers=False))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert b"shape the shoulder:\nNote on DS (double stitch):" in revised


def test_a_shoulder_put_at_the_edge_of_the_neck_is_asked_about() -> None:
    report, _ = rewritten(JACKET.format(piece="LEFT", armhole="left", named="left"))
    assert [p.status for p in report.passages] == ["question"]
    assert [q.ask for q in report.questions] == ["kind"]
