"""Words of a draft that stay true of its short rows, and where they and the new words stand."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.labels import measure_labels
from rewriter.options import Options, Turn
from rewriter.report import Report

STEPS = (
    "cast off 8 sts at beg of next 4 rows, then 9 sts at beg of next 2 rows. Cast off rem 31 sts."
)
BACK = "BACK\nWork in st st until armholes measure 19 cm, ending with a WS row. 81 sts.\n"
SIDE = "Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 9 sts."
WHOLE = (
    "TEE\n{materials}BACK\nCast on 81 sts.\n"
    "Work in st st until armholes measure 19 cm, ending with a WS row.\n"
)


def _rewritten(text: str, options: Options | None = None) -> Report:
    report = rewrite(text, options or Options())
    assert "rewritten" in [p.status for p in report.passages]
    assert rewrite(report.output, options or Options()).output == report.output
    return report


@pytest.mark.parametrize(
    ("told", "stays"),
    [
        ("Slope the shoulders thus: ", "Slope the shoulders thus:\nCounting"),
        ("Shape shoulders as follows: ", "Shape shoulders as follows:\nCounting"),
        ("Slanted shoulder: ", "Slanted shoulder: Counting"),
        ("Work the shoulders: ", "Work the shoulders: Counting"),
        ("For the shoulder bevels ", "For the shoulder bevels:\nCounting"),
    ],
)
def test_words_that_announce_the_shoulders_stay(told: str, stays: str) -> None:
    output = _rewritten(f"{BACK}{told}{STEPS}\n").output
    assert stays.lower() in output.lower()
    assert stays.split(":")[0] in output


def test_shoulders_shaped_by_casting_off_are_announced_without_it() -> None:
    text = f"{BACK}Shape the shoulders by casting{STEPS.removeprefix('cast')}\n"
    assert "\nShape the shoulders:\nCounting" in _rewritten(text).output


@pytest.mark.parametrize(
    ("told", "becomes"),
    [
        (
            "For the shoulder slope cast off at both sides after 56 rows from the armholes 8 sts, then in "
            "every 2nd row 1 x 8 and 1 x 9 sts.",
            "For the shoulder slope, after 55 rows from the armholes:\n",
        ),
        (
            "After 56 rows from the armholes, for the shoulder slope cast off at both sides 8 sts, then in "
            "every 2nd row 1 x 8 and 1 x 9 sts.",
            "for the shoulder slope:\n",
        ),
    ],
)
def test_a_shaping_that_is_named_is_not_named_again(told: str, becomes: str) -> None:
    text = f"BACK\nWork in st st. 81 sts. {told} Cast off rem 31 sts.\n"
    output = _rewritten(text).output
    assert becomes in output
    assert "shape the shoulder" not in output


TWO_BALLS = """FRONT
Work in st st until armhole measures 15 cm, ending with a WS row. 60 sts.
{row}
{told}BO 7 sts at beg of next 4 rows, then 6 sts at beg of next 2 rows.
"""
JOINS = "Next row (RS): K 20, join a second ball of yarn and BO centre 20 sts, k to end."
ACROSS = "Each row goes over one side and then over the other, and any turn is near the far armhole edge."


@pytest.mark.parametrize(
    ("told", "stays"),
    [
        (
            "",
            f"turn.\nWork both sides at once, each with its own ball of yarn. {ACROSS}\nNext row (WS): DS",
        ),
        (
            "Working both sides at the same time with separate balls of yarn, shape shoulders: ",
            "turn.\nWorking both sides at the same time with separate balls of yarn, shape shoulders:\n"
            f"{ACROSS}\nNext row (WS): DS",
        ),
    ],
)
def test_two_sides_are_told_behind_the_row_that_parts_them(told: str, stays: str) -> None:
    output = _rewritten(TWO_BALLS.format(row=JOINS, told=told)).output
    assert stays in output


def test_words_for_both_sides_stay_where_the_rows_name_each() -> None:
    text = """BACK
Work even until armhole measures 8", end with a WS row. 84 sts.
SHOULDER AND NECK SHAPING
Bind off 7 sts at beg of next 2 rows. 70 sts.
Next row (RS): Bind off 7 sts, k until there are 20 sts on right needle, join a 2nd ball of yarn and bind off
center 16 sts, k to end.
Working both sides at once with separate balls, bind off 7 sts at beg of next row, then bind off 4 sts from
each neck edge once, AT SAME TIME, bind off 8 sts from each shoulder edge twice.
"""
    assert "\nWorking both sides at once with separate balls:\nNext row" in _rewritten(text).output


@pytest.mark.parametrize(
    ("materials", "told"),
    [
        ("", "You need 4 removable markers in one colour and 2 in another. Counting"),
        ("MATERIALS\n5 balls DK yarn\n1 pair 4 mm needles\n\n", ""),
    ],
)
def test_markers_are_counted_once_where_no_list_can_tell_them(materials: str, told: str) -> None:
    text = f"{WHOLE.format(materials=materials)}Shape shoulders\nC{STEPS[1:]}\n"
    output = _rewritten(text).output
    assert ("You need" in output) == bool(told)
    assert told in output
    assert "2 in another" in output


def test_a_cutting_has_its_markers_elsewhere() -> None:
    assert "You need" not in _rewritten(f"{BACK}Shape shoulders\nC{STEPS[1:]}\n").output
    plain = f"{WHOLE.format(materials='')}Shape shoulders\nC{STEPS[1:]}\n"
    assert "You need" not in _rewritten(plain, Options(markers=False)).output


def test_a_step_marker_pins_the_yarn_and_comes_out_of_the_loop() -> None:
    text = f"{BACK}Shape shoulders\nC{STEPS[1:]}\n"
    output = _rewritten(text, Options(turn="japanese")).output
    assert "Take each marker off when you turn at it (it can then pin the yarn)" in output
    assert output.count("take the marker out") == 2
    assert "pin the yarn" not in _rewritten(text).output


HEADED = """LEFT FRONT
Work in st st until 26 sts remain, ending with a RS row.
Next row (WS): P2, p2tog, p to end. 25 sts.
{heading}"""


@pytest.mark.parametrize(
    ("heading", "above"),
    [
        ("Shape shoulder\n", "\nShape shoulder\nCounting"),
        ("Shape shoulder: ", "\nShape shoulder:\nCounting"),
        ("Shoulder shaping\n", "\nShoulder shaping\nCounting"),
    ],
)
def test_the_row_that_takes_the_first_turn_stands_under_the_heading(
    heading: str, above: str
) -> None:
    output = _rewritten(f"{HEADED.format(heading=heading)}{SIDE}\n").output
    assert above in output
    assert output.count(heading.strip()) == 1
    assert output.index("p2tog, p to last 8 sts") > output.index(heading.strip())
    assert "(marker), turn. 25 sts.\nNext row (RS): DS" in output


def test_a_heading_of_one_side_stays_behind_the_row_that_parts_them() -> None:
    row = "Next row (RS): K 25, cast off centre 31 sts, k to end."
    text = f"{BACK}{row}\nLeft shoulder\n{SIDE}\n"
    output = rewrite(text).output
    assert output.index(row[:40]) < output.index("Left shoulder")


def test_a_numbered_rejoining_row_takes_the_labels_around_it_and_keeps_its_blank_line() -> None:
    text = """## Back

Work in St st until armholes measure 7", ending with a WS row. 76 sts.

### Shoulders and Back Neck

**Row 1 (RS):** BO 6 sts, knit to end.
**Row 2 (WS):** BO 6 sts, purl to end.
**Row 3:** BO 6 sts, knit until there are 13 sts on the right needle; turn, leaving the other sts on a holder.
**Row 4:** BO 3 sts, purl to end.
**Row 5:** BO 6 sts, knit to end.
**Row 6:** Purl.
**Row 7:** BO the last 4 sts.

Return to the held sts, RS facing.
**Row 3:** Join yarn, BO 26 sts, knit to end.
**Row 4:** BO 6 sts, purl to end.
**Row 5:** BO 3 sts, knit to end.
**Row 6:** BO 6 sts, purl to end.
**Row 7:** Knit.
**Row 8:** BO the last 4 sts.
"""
    output = _rewritten(text).output
    assert (
        "sts.\n\nReturn to the held sts, RS facing.\n**Next row (RS):** Join yarn, BO 26 sts"
        in output
    )
    assert "**Row " not in output


@pytest.mark.parametrize(
    "edges",
    [
        "Edge st: k on every row.",
        "Selvedge sts in garter st.",
        "K the first and last st of every row.",
        "The edge stitches are knitted on all rows.",
    ],
)
def test_no_row_is_all_purl_where_the_edge_sts_are_knit(edges: str) -> None:
    text = f"{edges}\n\n{BACK}Shape shoulders\nC{STEPS[1:]}\n"
    output = _rewritten(text).output
    assert "Next row (WS): Work to last 8 sts" in output
    assert "url to" not in output
    assert "Next row (WS): Purl to last 8 sts" in _rewritten(text.removeprefix(edges)).output


def test_rows_told_as_back_are_worked_by_their_side() -> None:
    text = (
        "RIGHT FRONT\nWork in st st until there are 25 sts, ending with a RS row.\n"
        "SHOULDER: Starting at arm edge (p row), bind off 8 sts, p across; k back; bind off 8 sts, p across; "
        "k back; bind off remaining 9 sts.\n"
    )
    output = _rewritten(text).output
    assert "Next row (RS): Knit to last 8 sts" in output
    assert "Work" not in output.split("SHOULDER")[1]


def test_rows_at_a_beginning_are_no_labels() -> None:
    text = "Cast off 3 sts. beg. next 2 rows. Dec. 1 st. each end.\n1st row: K5. Next row: Knit."
    labels = measure_labels([text], letters=True)
    assert (labels.plain, labels.mark) == ("Next row", ": ")


def test_the_side_of_rows_that_are_repeated_is_counted_on() -> None:
    text = (
        "BACK\nNow work in pattern:\n1st row: Knit.\n2nd row: Purl.\n3rd row (right side): K3, * p3, k3; "
        "rep from * to end.\n4th row: P3, * k3, p3; rep from * to end.\n"
        "Repeat these 4 rows thirteen times more.\n"
        f"Shape shoulders\nC{STEPS[1:]}\n"
    )
    report = _rewritten(text)
    assert "thirteen times more, stopping one row before the end." in report.output
    assert "Next row (wrong side): " in report.output
    assert not report.questions


def test_a_row_behind_those_repeated_is_not_counted_with_them() -> None:
    text = (
        "FRONT\n1st row (WS): Rib.\n2nd row: Rib to last 2 sts, k2tog.\nRep last 2 rows until 26 sts remain, "
        "then work 1st row once more.\nNext row (RS): Rib 3, p2tog, rib to end. 25 sts.\nShape shoulder\n"
    )
    output = _rewritten(f"{text}{SIDE}\n", Options(markers=False, turn="wrap")).output
    assert "rib to last 8 sts, w&t. 25 sts.\nNext row (WS): " in output


@pytest.mark.parametrize("turn", ["german", "wrap"])
def test_a_note_behind_a_bold_announcement_begins_a_line(turn: Turn) -> None:
    text = f"## Back\n\n{BACK.removeprefix('BACK')}\n**Slanted shoulder:** C{STEPS[1:]}\n"
    output = _rewritten(text, Options(markers=False, turn=turn)).output
    assert "**Slanted shoulder:**\nNote on" in output


@pytest.mark.parametrize(("rows", "first"), [(142, "WS"), (143, "RS")])
def test_the_side_of_rows_that_are_numbered_is_counted_on(rows: int, first: str) -> None:
    text = (
        "Back: Cast on 81 sts and k 6 cm ribbing. Then go on in st st; the 1st row is a RS row, count the "
        f"rows from here. For the shoulder slope bind off on both sides after {rows} rows from the ribbing "
        "1x 8 sts, then in every 2nd row 1x 8 and 1x 9 sts. Bind off the remaining 31 sts.\n"
        "The WS is purled.\n"
    )
    report = _rewritten(text)
    assert f"Next row ({first}): " in report.output.split("shoulder slope")[1]
    assert f"after {rows - 1} rows" in report.output


def test_a_side_that_faced_at_each_step_faces_at_the_first_short_row() -> None:
    text = (
        "Shoulder: keeping the moss stitch border of 8 sts correct and working always with right side facing "
        "at the start, cast off 7 sts at beg of next row, 7 sts at beg of foll alt row and 8 sts at beg of "
        "the alternate row after. On the 8 sts remaining work a further 4 inches in moss stitch.\n"
    )
    output = _rewritten(text).output
    assert "correct and beginning with wrong side facing" in output
    assert "always" not in output


def test_markers_of_a_side_that_waits_are_hung_on_that_side() -> None:
    row = "Next row (RS): K 25, cast off centre 31 sts, k to end."
    text = (
        f"{BACK}Shape neck and shoulders\n{row}\nWork on the last set of 25 sts only, leaving the other sts "
        f"on a holder.\n{SIDE}\nWith WS facing, rejoin yarn at neck edge to the 25 sts on holder and p to "
        f"end.\n{SIDE}\n"
    )
    output = _rewritten(text).output
    assert "Counting from armhole edge where the next row ends, hang" in output
    assert "Counting from armhole edge of the side that is taken up next, hang" in output
