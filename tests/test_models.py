"""Model conversions: the level of wording that the emitter must reach."""

from __future__ import annotations

from rewriter import rewrite
from rewriter.options import Options

PULLOVER = """BACK
Work in stocking stitch, K on RS and P on WS.
Row 2 of rib: K to end.
Cont straight until armholes measure 19(20:21) cm, ending with a WS row.
Shape shoulders
Cast off 8(9:9) sts at beg of next 4 rows, then 9(9:10) sts at beg of foll 2 rows.
Cast off rem 31(33:35) sts.
"""


def body(text: str, options: Options) -> list[str]:
    """Return the new lines without the notes."""
    report = rewrite(text, options)
    assert [p.status for p in report.passages] == ["rewritten"], report.passages
    return [line for line in report.output.splitlines() if not line.startswith("Note on ")]


def test_uk_three_sizes_sewn() -> None:
    lines = body(PULLOVER, Options(markers=False))
    assert lines[3:] == [
        "Cont straight until armholes measure 19(20:21) cm, ending with a RS row.",
        "Shape shoulders",
        "Next row (WS): P to last 8(9:9) sts, turn.",
        "Next row (RS): DS, K to last 8(9:9) sts, turn.",
        "Next row (WS): DS, P to last 16(18:18) sts, turn.",
        "Next row (RS): DS, K to last 16(18:18) sts, turn.",
        "Next row (WS): DS, P to end, working each DS as one st.",
        "Next row (RS): Cast off 25(27:28) sts, K to end, working each DS as one st.",
        "Next row (WS): Cast off 25(27:28) sts, P to end.",
        "Cast off rem 31(33:35) sts.",
    ]


def test_uk_three_sizes_kept_live_with_the_neck_cast_off() -> None:
    text = PULLOVER + "MAKING UP\nJoin shoulder seams.\n"
    report = rewrite(text, Options(shoulders="three-needle", markers=False))
    assert report.output.splitlines()[-7:] == [
        "Next row (WS): DS, P to end, working each DS as one st.",
        "Next row (RS): K to end, working each DS as one st.",
        "Next row (WS): P 56(60:63) sts (left shoulder and neck), turn.",
        "Next row (RS): Cast off 31(33:35) sts for back neck and fasten off through the last of them.",
        "Leave 25(27:28) sts of each shoulder on a holder.",
        "MAKING UP",
        "Join shoulders: with RS together, join yarn at the armhole edge and work a three-needle cast-off "
        "from there to the neck across the 25(27:28) sts of each back shoulder and the matching "
        "front shoulder: put the held sts back on two needles with the points at the armhole edge "
        "and, with a third needle, K one st of each needle together; K the next two together likewise, pass "
        "the first st on the right needle over the second, and go on so until all sts are used up; "
        "fasten off.",
    ]
    edges = report.passages[0].edges
    assert [e.rows_gained for e in edges] == [(1, 1, 1), (1, 1, 1)]
    assert report.passages[0].verification.neck_rows_gained == (0, 0, 0)


def test_the_second_shoulder_of_a_front_is_the_right_one_as_worn() -> None:
    text = PULLOVER.replace("BACK", "FRONT")
    report = rewrite(text, Options(shoulders="three-needle", markers=False))
    assert "Next row (WS): P 56(60:63) sts (right shoulder and neck), turn." in report.output


def test_uk_neck_on_a_holder_kept_live() -> None:
    text = PULLOVER.replace("Cast off rem", "Leave rem").replace("35) sts.", "35) sts on a holder.")
    report = rewrite(text, Options(shoulders="held"))
    assert report.output.splitlines()[-1] == (
        "Slip 25(27:28) sts for each shoulder and 31(33:35) sts for the neck onto holders. Cut yarn."
    )
    assert [e.rows_gained for e in report.passages[0].edges] == [(1, 1, 1), (0, 0, 0)]
    assert report.passages[0].verification.neck_rows_gained == (-1, -1, -1)


def test_from_the_closing_row_on_every_numbered_row_names_its_side() -> None:
    text = (
        'BACK\nWork even until armhole measures 8", ending with a WS row.\n'
        "Row 1 (RS): BO 6 sts, knit to end.\nRow 2 (WS): BO 6 sts, purl to end.\n"
        "Rows 3-4: Rep Rows 1-2.\nBO rem 35 sts.\n"
    )
    lines = body(text, Options(shoulders="held", markers=False))
    rows = [line.partition(":")[0] for line in lines if line.startswith("Row")]
    assert rows[:5] == ["Row 1 (WS)", "Row 2", "Row 3 (WS)", "Row 4 (RS)", "Row 5 (WS)"]
    assert all("(" in row for row in rows[5:])


def test_us_numbered_rows_wrap_and_turn() -> None:
    text = """BACK
Work even until armhole measures 8", ending with a WS row.
Row 1 (RS): BO 6 sts, knit to end. 67 sts.
Row 2 (WS): BO 6 sts, purl to end. 61 sts.
Rows 3-4: Rep Rows 1-2. 49 sts.
Row 5: BO 7 sts, knit to end. 42 sts.
Row 6: BO 7 sts, purl to end. 35 sts.
BO rem 35 sts.
"""
    lines = body(text, Options(turn="wrap", markers=False))
    assert lines[1:] == [
        'Work even until armhole measures 8", ending with a RS row.',
        "Row 1 (WS): Purl to last 6 sts, w&t.",
        "Row 2: Knit to last 6 sts, w&t.",
        "Row 3: Purl to last 12 sts, w&t.",
        "Row 4: Knit to last 12 sts, w&t.",
        "Row 5 (WS): Purl to end, working each wrap together with its st.",
        "Row 6 (RS): BO 19 sts, knit to end, working each wrap together with its st. 54 sts.",
        "Row 7 (WS): BO 19 sts, purl to end. 35 sts.",
        "BO rem 35 sts.",
    ]


def test_sizes_with_different_numbers_of_steps() -> None:
    text = PULLOVER.replace("19(20:21)", "19(20:21:21)").replace(
        "Cast off 8(9:9) sts at beg of next 4 rows, then 9(9:10) sts at beg of foll 2 rows.\n"
        "Cast off rem 31(33:35) sts.",
        "Cast off 6(6:5:5) sts at beg of next 4(4:6:6) rows.\nCast off rem 31(33:35:35) sts.",
    )
    lines = body(text, Options(markers=False))
    assert lines[5:] == [
        "Next row (WS): P to last 6(6:5:5) sts, turn.",
        "Next row (RS): DS, K to last 6(6:5:5) sts, turn.",
        "3rd and 4th sizes only",
        "Next row (WS): DS, P to last 10 sts, turn.",
        "Next row (RS): DS, K to last 10 sts, turn.",
        "All sizes",
        "Next row (WS): DS, P to end, working each DS as one st.",
        "Next row (RS): Cast off 12(12:15:15) sts, K to end, working each DS as one st.",
        "Next row (WS): Cast off 12(12:15:15) sts, P to end.",
        "Cast off rem 31(33:35:35) sts.",
    ]


def test_a_size_with_one_step_goes_straight_to_its_closing_row() -> None:
    text = PULLOVER.replace("19(20:21)", "19(20)").replace(
        "Cast off 8(9:9) sts at beg of next 4 rows, then 9(9:10) sts at beg of foll 2 rows.\n"
        "Cast off rem 31(33:35) sts.",
        "Cast off 12(6) sts at beg of next 2(4) rows.\nCast off rem 31(33) sts.",
    )
    lines = body(text, Options(markers=False))
    assert lines[5:9] == [
        "2nd size only",
        "Next row (WS): P to last 6 sts, turn.",
        "Next row (RS): DS, K to last 6 sts, turn.",
        "All sizes",
    ]
    assert lines[9] == ("Next row (WS): DS (not 1st size), P to end, working any DS as one st.")


def test_what_the_draft_does_not_tell_is_worded_to_be_true_either_way() -> None:
    text = """BACK
Work until armholes measure 20 cm.
Shape shoulders
Cast off 8 sts at beg of next 4 rows. Cast off rem 30 sts.
"""
    report = rewrite(text, Options(markers=False))
    assert "Work until armholes measure 20 cm.\n" in report.output
    assert "Next row: Work to last 8 sts, turn.\n" in report.output
    assert "RS" not in report.output.replace("RS row k", "")
    assert {e.edge for e in report.passages[0].edges} == {"unknown"}
    assert {e.first_bind_off_side for e in report.passages[0].edges} == {None}


def test_one_edge_with_no_side_names_the_edge() -> None:
    text = """FRONT
Work on these 24 sts until armhole measures 20 cm. 24 sts.
Shape shoulder
At armhole edge cast off 8 sts every other row 3 times.
"""
    report = rewrite(text, Options(markers=False))
    assert "Work to last 8 sts at armhole edge, turn." in report.output


def test_a_last_step_on_the_return_row_is_reported_as_within_one_row() -> None:
    text = """LEFT FRONT
Work until armhole measures 20 cm, ending with a WS row. 15 sts.
Shape shoulder
Cast off 7 sts at beg of next row, work to end. Cast off rem 8 sts.
"""
    report = rewrite(text)
    (passage,) = report.passages
    assert passage.verification.result == "within-one-row"
    assert passage.verification.piece_rows_gained == (1,)
    assert "last-step-on-return-row" in {d.code for d in report.diagnostics}


def test_neck_decreases_stay_on_their_rows() -> None:
    text = """LEFT FRONT
SIZES 8(10)
Cont straight until armhole measures 20 cm. 24(26) sts.
Ending at armhole edge, shape shoulder:
Cast off 7(8) sts at beg of next and foll alt row, dec 1 st at neck edge on each of these 2 rows.
Work 1 row. Cast off rem 8(8) sts.
"""
    lines = body(text, Options(markers=False))
    assert lines[3:] == [
        "Ending at neck edge, shape shoulder:",
        "Next row (wrong side): Work to last 7(8) sts, turn.",
        "Next row (right side): DS, work to end, dec 1 st at neck edge.",
        "Next row (wrong side): Work to last 14(16) sts, turn.",
        "Next row (right side): DS, work to end, dec 1 st at neck edge.",
        "Next row (wrong side): Work to end, working each DS as one st.",
        "Next row (right side): Cast off all 22(24) sts.",
    ]


def test_neck_steps_between_shoulder_steps_are_told_apart_by_their_side() -> None:
    text = """RIGHT FRONT
Work in st st until armhole measures 20 cm, ending with a RS row. 30 sts.
Shape shoulder and neck
1st row: Cast off 6 sts, P to end.
2nd row: Cast off 3 sts, K to end.
3rd row: Cast off 6 sts, P to end.
4th row: K2tog, K to end.
5th row: Cast off 6 sts, P to end.
6th row: K.
Cast off rem 8 sts.
"""
    lines = body(text, Options(markers=False))
    assert lines[3:] == [
        "1st row (RS): K to last 6 sts, turn.",
        "2nd row (WS): DS, P to end.",
        "3rd row (RS): Cast off 3 sts, K to last 12 sts, turn.",
        "4th row (WS): DS, P to end.",
        "5th row (RS): K2tog, K to last 18 sts, turn.",
        "6th row (WS): DS, P to end.",
        "7th row (RS): K to end, working each DS as one st.",
        "8th row (WS): Cast off all 26 sts.",
    ]


def test_a_neck_step_before_the_first_shoulder_step_keeps_its_row() -> None:
    text = """LEFT FRONT
Work in st st until armhole measures 20 cm, ending with a RS row. 30 sts.
Shape neck and shoulder
1st row (WS): Cast off 3 sts, P to end.
2nd row: Cast off 9 sts, K to end.
3rd row: Cast off 2 sts, P to end.
4th row: Cast off 8 sts, K to end.
5th row: P.
Cast off rem 8 sts.
"""
    lines = body(text, Options(markers=False))
    assert lines[1] == "Work in st st until armhole measures 20 cm, ending with a RS row. 30 sts."
    assert lines[3] == "1st row (WS): Cast off 3 sts, P to last 9 sts, turn."
