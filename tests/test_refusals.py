"""What is in doubt is not rewritten, and the reader is told the place, the size and the reason."""

from __future__ import annotations

from pathlib import Path

import pytest

from rewriter import rewrite
from rewriter.cli import main
from rewriter.options import Options
from rewriter.report import Report

LEAD = "BACK\nSizes 8(10:12)\nWork until armholes measure 20 cm, ending with a WS row.\n"


def refused(text: str, code: str, options: Options | None = None) -> Report:
    report = rewrite(text, options)
    assert report.output == text
    assert not report.edits
    found = [d for d in report.diagnostics if d.code == code]
    assert found, report.diagnostics
    return report


def message(report: Report, code: str) -> str:
    return next(d.message for d in report.diagnostics if d.code == code)


def test_a_list_of_the_wrong_length_is_named() -> None:
    text = (
        LEAD
        + "Shape shoulders\nCast off 8(9) sts at beg of next 4 rows.\nCast off rem 31(33:35) sts.\n"
    )
    report = refused(text, "list-length")
    assert "2 entries" in message(report, "list-length")
    assert "3 sizes" in message(report, "list-length")
    place = next(d.span for d in report.diagnostics if d.code == "list-length")
    assert text[slice(*place)] == "8(9)"


def test_sums_that_fail_for_one_size_show_the_sum_and_the_size() -> None:
    text = (
        "BACK\nSizes 8(10:12)\n81(87:95) sts.\nWork until armholes measure 20 cm, ending with a WS row.\n"
        "Shape shoulders\nCast off 8(9:9) sts at beg of next 4 rows, 9(9:10) sts at beg of next 2 rows.\n"
        "Cast off rem 31(33:35) sts.\n"
    )
    report = refused(text, "sums")
    assert message(report, "sums") == "2 × 28 + 35 = 91, but 95 sts are on the needle in size 12"
    assert report.passages[0].status == "question"
    assert next(d.sizes for d in report.diagnostics if d.code == "sums") == ("12",)


@pytest.mark.parametrize(
    "words",
    [
        "Shape shoulders over 6 rows: cast off 8 sts at beg of next 6 rows.",
        "Over 6 rows cast off 8 sts at beg of next 6 rows.",
    ],
)
def test_rows_told_before_a_bind_off_are_not_added_to_its_own(words: str) -> None:
    refused(f"{LEAD}{words} cast off rem 31 sts.\n", "rows-unclear")


def test_an_odd_number_of_rows_for_two_edges_is_a_question() -> None:
    text = LEAD + "Shape shoulders\nCast off 8 sts at beg of next 5 rows.\nCast off rem 31 sts.\n"
    report = refused(text, "odd-rows")
    assert "5 rows" in message(report, "odd-rows")
    assert report.passages[0].status == "question"


def test_a_side_that_contradicts_the_rows_is_a_question() -> None:
    text = (
        LEAD + "Row 1 (WS): Cast off 8 sts, K to end.\nRow 2: Cast off 8 sts, P to end.\n"
        "Rep last 2 rows once more. Cast off rem 31 sts.\n"
    ).replace("Row 1", "Shape shoulders\nRow 1")
    refused(text, "sides-contradict")


def test_a_side_that_contradicts_the_edge_is_a_question() -> None:
    text = (
        "LEFT FRONT\nWork until armhole measures 20 cm, ending with a RS row. 24 sts.\n"
        "Shape shoulder\nAt armhole edge cast off 8 sts every other row 3 times.\n"
    )
    report = refused(text, "sides-contradict")
    assert "left front" in message(report, "sides-contradict")


def test_words_that_could_change_the_knitting_block_and_are_quoted() -> None:
    text = (
        LEAD
        + "Shape shoulders\nCast off 8 sts, except in sizes M and L, at beg of next 4 rows.\nCast off.\n"
    )
    refused(text, "words-not-understood")


def test_rows_not_counted_are_asked_for() -> None:
    text = (
        LEAD
        + "Shape shoulders\nCast off 8 sts at beg of every row until 31 sts remain.\nCast off.\n"
    )
    assert refused(text, "rows-not-counted").passages[0].status == "question"


def test_decreases_at_the_outer_edge_among_the_rows_are_left_alone_and_named() -> None:
    text = (
        "LEFT FRONT\nWork until armhole measures 20 cm, ending with a WS row. 24 sts.\nShape shoulder\n"
        "1st row: Cast off 7 sts, K to end.\n2nd row: P2tog, P to last 2 sts, P2tog.\n"
        "3rd row: Cast off 7 sts, K to end.\n4th row: P.\nCast off rem 8 sts.\n"
    )
    assert refused(text, "shaping-in-the-rows").passages[0].status == "left"


def test_a_neck_decrease_on_a_turning_st_is_asked_about() -> None:
    text = (
        "LEFT FRONT\nWork until armhole measures 20 cm, ending with a WS row. 12 sts.\nShape shoulder\n"
        "Cast off 4 sts at beg of next and foll alt row, dec 1 st at neck edge on each of these 2 rows.\n"
        "Work 1 row. Cast off rem 2 sts.\n"
    )
    report = rewrite(text)
    assert report.output == text
    assert report.passages[0].status == "question"
    assert "turning st" in (report.passages[0].reason or "")


def test_a_number_that_may_be_a_total_is_asked_about() -> None:
    text = (
        LEAD
        + "Shape shoulders\nAt beg of next 6 rows cast off 5 sts, 102 sts.\nCast off all sts.\n"
    )
    refused(text, "count-unclear")


def test_the_row_before_with_words_of_its_own_is_not_overwritten() -> None:
    text = (
        "BACK\nDec 1 st at each end of next 5 rows. 76 sts.\nShape shoulders\n"
        "Cast off 8 sts at beg of next 6 rows. Cast off rem 28 sts.\n"
    )
    report = rewrite(text)
    assert report.output == text
    assert "words of its own" in (report.passages[0].reason or "")


@pytest.mark.parametrize(
    "text",
    [
        "A HAT\nCast on 96 sts. Work in rib for 15 cm. K2tog to end. Fasten off.\n",
        "Dear Anna, we cast off from the pier at six and the row back took an hour.\n",
        "BACK\nShape armholes\nCast off 5 sts at beg of next 2 rows. Dec 1 st at each end of next row.\n",
        "SLEEVES\nShape top\nCast off 5 sts at beg of next 6 rows. Cast off rem 20 sts.\n",
    ],
)
def test_text_without_shoulder_steps_comes_back_as_it_was(text: str) -> None:
    report = rewrite(text)
    assert report.output == text
    assert not report.edits
    assert not [p for p in report.passages if p.status == "rewritten"]


def test_a_passage_that_nothing_calls_a_shoulder_is_asked_about_and_the_answer_is_taken() -> None:
    text = "Cast off 8 sts at beg of next 6 rows. Cast off rem 28 sts.\n"
    report = rewrite(text)
    assert report.passages[0].status == "question"
    answered = rewrite(text, Options(assume={"kind": "shoulder"}))
    assert answered.passages[0].status == "rewritten"


def test_live_shoulders_without_partners_are_bound_off_and_both_are_named() -> None:
    text = (
        "BACK\nWork until armholes measure 20 cm, ending with a WS row.\nShape shoulders\n"
        "Cast off 8 sts at beg of next 6 rows. Cast off rem 28 sts.\n"
        "FRONT\nWork until armhole measures 20 cm, ending with a WS row. 24 sts.\nShape shoulder\n"
        "Cast off 8 sts at beg of next and foll alt row, except in garter st. Work 1 row.\n"
        "Cast off rem 8 sts.\nJoin shoulder seams.\n"
    )
    report = rewrite(text, Options(shoulders="three-needle"))
    assert "Cast off 24 sts" in report.output
    assert "Join shoulder seams." in report.output
    assert "front/shoulder/1" in message(report, "bound-off-instead")


# --- the command -------------------------------------------------------------------------------


def test_an_empty_file_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    empty = tmp_path / "empty.txt"
    empty.write_bytes(b"\n \n")
    assert main(["rewrite", str(empty)]) == 2
    assert "empty" in capsys.readouterr().err


def test_a_binary_file_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    binary = tmp_path / "photo.txt"
    binary.write_bytes(bytes(range(256)) * 20)
    assert main(["rewrite", str(binary)]) == 2
    assert "not a text file" in capsys.readouterr().err


@pytest.mark.parametrize(
    "arguments",
    [
        ["rewrite", "no-such-file.txt"],
        ["rewrite", "."],
        ["read", "-x"],
        ["rewrite", "a", "--kinds", "sleeve"],
    ],
)
def test_wrong_usage_has_status_2(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    try:
        status = main(arguments)
    except SystemExit as stop:
        status = int(stop.code or 0)
    assert status == 2
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize(
    "words",
    [
        "Castoff7 sts atthebegofeveryrow until 30 sts rem. Leave these on a holder.",
        "Now 6 stitches are decreased at each side at the beginning of the rows, by binding them off.",
        "Bind off at beginning of each of the next 4 rows . . . sts.   7   7   8   8",
    ],
)
def test_steps_in_words_that_give_none_are_asked_about(words: str) -> None:
    text = f"BACK\nWork straight until armholes measure 18 cm.\n{words}\n"
    report = rewrite(text)
    assert report.output == text
    assert "question" in {p.status for p in report.passages}


def test_a_neck_decrease_whose_rows_are_not_told_is_not_passed_over() -> None:
    text = (
        "BACK\nWork until armholes measure 8 in, ending with a WS row.\nShape shoulders\n"
        "Cast off 7 sts at beg of next 4 rows, dec 1 st at neck edge. Cast off rem 20 sts.\n"
    )
    refused(text, "shaping-in-the-rows")


def test_a_piece_that_keeps_its_steps_while_its_partner_is_sloped_is_warned_about() -> None:
    text = (
        "BACK\nSizes 8(10:12)\n81(87:95) sts.\nWork until armholes measure 20 cm, ending with a WS row.\n"
        "Shape shoulders\nCast off 8(9:9) sts at beg of next 4 rows, 9(9:10) sts at beg of next 2 rows.\n"
        "Cast off rem 31(33:35) sts.\n"
        "LEFT FRONT\n25(27:28) sts.\nWork until armhole measures 20 cm, ending with a WS row.\n"
        "Shape shoulder\nCast off 8(9:9) sts at beg of next and foll alt row. Work 1 row. "
        "Cast off rem 9(9:10) sts.\n"
    )
    report = rewrite(text)
    assert [p.status for p in report.passages] == ["question", "rewritten"]
    (warned,) = [d for d in report.diagnostics if d.code == "edges-no-longer-match"]
    assert warned.severity == "warning"
    assert "back/shoulder/1" in warned.message
    assert "left-front/shoulder/1" in warned.message
    whole = rewrite(text.replace("87:95", "87:91"))
    assert [p.status for p in whole.passages] == ["rewritten", "rewritten"]
    assert not [d for d in whole.diagnostics if d.code == "edges-no-longer-match"]


def test_a_list_in_a_form_that_is_not_read_is_no_number_to_ask_about() -> None:
    text = (
        "BACK (SMALL; LARGE)\nWorking both sides with separate balls, bind off 11; 12 sts at each "
        "shoulder edge once and then 11; 13 sts at each shoulder edge once.\n"
    )
    report = rewrite(text)
    assert report.output == text
    assert not [q for q in report.questions if q.ask == "count"]
    if report.passages[0].reason and "list" in report.passages[0].reason:
        assert "'11; 13'" in report.passages[0].reason


def test_a_heading_for_shoulders_with_armholes_named_behind_it_is_asked_about() -> None:
    text = (
        "BACK\nWork 40 rows, ending with a WS row.\nNow the shoulders.\nWork the armholes first.\n"
        "Cast off 6 sts at beg of next 4 rows. Work 20 rows.\n"
    )
    report = rewrite(text)
    assert (report.output, report.passages[0].status) == (text, "question")


@pytest.mark.parametrize(
    "words",
    [
        "Now the shoulders. Work the armholes first.",
        "Now the shoulders. First the armholes.",
        "Now the shoulders. Begin with the armholes.",
        "For the shoulders, first the armholes are made.",
        "Now shape the shoulders. The armholes are worked first.",
    ],
)
def test_shoulders_announced_before_the_armholes_make_no_shoulder_of_an_armhole(words: str) -> None:
    text = (
        "BACK\nCast on 80 sts. Work in st st until piece measures 30 cm, ending with a WS row.\n"
        f"{words} Cast off 3 sts at beg of next 4 rows. 68 sts.\n"
        "Work straight until armhole measures 18 cm, ending with a WS row.\n"
        "Cast off 6 sts at beg of next 6 rows. Cast off rem 32 sts.\n"
    )
    report = rewrite(text)
    assert [p.status for p in report.passages][-1] == "rewritten"
    assert report.passages[0].status != "rewritten"
    assert "Cast off 3 sts at beg of next 4 rows. 68 sts." in report.output


SECOND_SIDE = """Front
Cast on 48 sts. Work until armhole measures 5 cm, ending with a p row.
Left side of neck
Next row (RS): K19, turn. Leave rem 29 sts on a holder.
Next row: Cast off 4 sts, p to end.
Next row: K.
Next row: Cast off 2 sts, p to end.
Next row: K to last 3 sts, k2tog, k1. 12 sts.
Work 15 rows, ending with a p row.
Shape shoulder: cast off 4 sts at beg of next and foll alt row. Work 1 row. {rest}
{heading}
Slip the sts from the holder back to the needle. RS facing, join yarn and cast off 10 sts, k to end. 19 sts.
P 1 row.
Cast off 4 sts, k to end. P 1 row. Cast off 2 sts, k to end.
Next row: P to last 3 sts, p2tog, p1. 12 sts.
Work 15 rows, ending with a k row.
Shape shoulder: cast off 4 sts at beg of next and foll alt row. Work 1 row. {rest}
"""


@pytest.mark.parametrize("heading", ["", "Right side of neck", "Other side", "Second half"])
@pytest.mark.parametrize("rest", ["Cast off rem 4 sts.", "Cast off the 4 sts that are left."])
def test_the_neck_of_a_second_side_is_no_shoulder(heading: str, rest: str) -> None:
    report = rewrite(SECOND_SIDE.format(heading=heading, rest=rest))
    steps = [[s[0] for s in p.edges[0].steps] for p in report.passages if p.status == "rewritten"]
    assert steps == [[4, 4, 4], [4, 4, 4]]
    assert "Cast off 4 sts, k to end. P 1 row. Cast off 2 sts, k to end." in report.output


STEPS_APART = """RIGHT FRONT
Work in st st until armhole measures 20 cm, ending at the armhole side. 24 sts.
Cast off 8 sts at the beginning of the next row, work to the end. {between} Cast off 8 sts at the beginning of
the next row, work to the end. Work 1 row. Cast off the 8 sts which remain.
"""


@pytest.mark.parametrize(
    "between", ["Return to the armhole side.", "Go back along the row.", "Mind the pattern here."]
)
def test_a_first_step_that_stands_by_itself_is_not_left_behind(between: str) -> None:
    """The other steps alone would be converted, and the first one bound off before them."""
    report = rewrite(STEPS_APART.format(between=between))
    assert [p.status for p in report.passages] == ["question"]
    assert "turn." not in report.output


def test_a_row_to_the_armhole_side_lies_between_two_steps() -> None:
    report = rewrite(STEPS_APART.format(between="Work 1 row to the armhole side."))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert report.passages[0].edges[0].steps == ((8,), (8,), (8,))
