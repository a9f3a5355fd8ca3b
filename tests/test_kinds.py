"""Armholes, necks and caps: converted on request, by the same rule, and only then."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Answer, Options
from rewriter.report import PassageReport, Report

EVERY_KIND = ("shoulder", "neck", "cap", "armhole")

BACK = """BACK
Using 4 mm needles cast on 100 sts. Work in st st until back measures 30 cm, ending with a WS row.
Shape armholes
Cast off 5 sts at beg of next 2 rows, 3 sts at beg of foll 2 rows and
2 sts at beg of foll 4 rows. 76 sts.
Dec 1 st at each end of next and foll 3 alt rows. 68 sts.
Work straight until armholes measure 18 cm, ending with a WS row.
Shape shoulders
Cast off 6 sts at beg of next 4 rows and 7 sts at beg of foll 2 rows.
Cast off rem 30 sts.
"""

LEFT_FRONT = """LEFT FRONT
Using 4 mm needles cast on 50 sts. Work in st st until front measures 30 cm, ending with a WS row.
Shape armhole
Cast off 5 sts at beg of next row, 3 sts at beg of foll alt row and
2 sts at beg of foll 2 alt rows. 38 sts.
Dec 1 st at beg of foll 4 alt rows. 34 sts.
Work straight until armhole measures 12 cm, ending with a RS row.
Shape neck
Cast off 6 sts at beg of next row, 4 sts at beg of foll alt row, 3 sts at beg of foll alt row
and 2 sts at beg of foll alt row. 19 sts.
Work straight until armhole measures 18 cm, ending with a WS row.
Shape shoulder
Cast off 6 sts at beg of next and foll alt row. Work 1 row. Cast off rem 7 sts.
"""

RIGHT_FRONT = """RIGHT FRONT
Work as given for left front, reversing all shaping.
"""

SLEEVE = """SLEEVE
Cast on 40 sts. Work in st st until sleeve measures 43 cm, ending with a WS row. 68 sts.
Shape top
Cast off 4 sts at beg of next 2 rows, 3 sts at beg of foll 4 rows and 6 sts at beg of foll 6 rows.
Cast off rem 12 sts.
"""


def passage(report: Report, kind: str) -> PassageReport:
    return next(p for p in report.passages if p.kind == kind)


def test_only_the_kinds_asked_for_are_touched() -> None:
    text = BACK + LEFT_FRONT + SLEEVE
    report = rewrite(text, Options(kinds=("shoulder",)))
    assert {p.status for p in report.passages if p.kind != "shoulder"} == {"left"}
    assert {p.status for p in report.passages if p.kind == "shoulder"} == {"rewritten"}
    report = rewrite(text, Options(kinds=("armhole",)))
    assert {p.status for p in report.passages if p.kind == "armhole"} == {"rewritten"}
    assert {p.status for p in report.passages if p.kind != "armhole"} == {"left"}
    assert "Cast off rem 30 sts." in report.output


def test_an_armhole_keeps_its_heights_and_the_sts_beside_it() -> None:
    found = passage(rewrite(BACK, Options(kinds=EVERY_KIND)), "armhole")
    assert found.status == "rewritten"
    assert found.verification.result == "same"
    assert [e.together for e in found.edges] == [(12,), (12,)]
    assert [t.unworked for t in found.edges[0].turns[0]] == [5, 8, 10]
    assert found.neck == (76,)


def test_a_neck_is_shaped_on_the_rows_that_begin_at_it() -> None:
    """A left front's neck edge is at the left: rows begin there on the wrong side (common practice)."""
    report = rewrite(LEFT_FRONT, Options(kinds=("neck",)))
    found = passage(report, "neck")
    assert found.status == "rewritten"
    assert [(e.edge, e.first_bind_off_side) for e in found.edges] == [("left", "WS")]
    assert "Counting from neck edge" in report.output
    assert "until armhole measures 12 cm, ending with a WS row." in report.output
    assert "Cast off 15 sts (marker), purl to end. 19 sts." in report.output


def test_the_top_of_a_sleeve() -> None:
    report = rewrite(SLEEVE, Options(kinds=("cap",)))
    found = passage(report, "cap")
    assert found.status == "rewritten"
    assert [e.together for e in found.edges] == [(28,), (28,)]
    assert "Cast off rem 12 sts." in report.output


@pytest.mark.parametrize(("kind", "word"), [("armhole", "usually kept"), ("neck", "neckband")])
def test_the_trade_s_caution_goes_with_it(kind: str, word: str) -> None:
    report = rewrite(LEFT_FRONT, Options(kinds=(kind,)))
    warnings = [d.message for d in report.diagnostics if d.code == f"{kind}-converted"]
    assert len(warnings) == 1
    assert word in warnings[0]


def test_a_mirrored_front_is_told_once_for_each_side_on_which_rows_turn() -> None:
    report = rewrite(LEFT_FRONT + RIGHT_FRONT, Options(kinds=EVERY_KIND))
    told = report.output[report.output.index("RIGHT FRONT") :]
    assert "before the armhole shaping and the shoulder with a WS row" in told
    assert "before the neck shaping with a RS row" in told
    assert told.count("On this front") == 2


def test_a_front_whose_armholes_are_those_of_the_back_moves_with_it() -> None:
    front = (
        "FRONT\nCast on 100 sts. Work in st st until front measures 30 cm, ending with a WS row.\n"
        "Shape armholes as for back.\n"
    )
    report = rewrite(BACK + front, Options(kinds=("armhole",)))
    assert "until front measures 30 cm, ending with a RS row.\nShape armholes as for back." in (
        report.output
    )


def test_an_armhole_told_by_one_at_two_edges_is_left() -> None:
    front = (
        "LEFT FRONT\nCast on 50 sts. Work in st st until front measures 30 cm, ending with a WS row.\n"
        "Shape armhole as for back.\n"
    )
    report = rewrite(BACK + front, Options(kinds=("armhole",)))
    assert passage(report, "armhole").status == "question"
    assert report.output == BACK + front


def test_live_shoulders_leave_armholes_bound_off() -> None:
    report = rewrite(BACK + LEFT_FRONT, Options(kinds=EVERY_KIND, shoulders="three-needle"))
    assert {p.status for p in report.passages} == {"rewritten"}
    assert "Cast off 12 sts (marker), knit to end" in report.output
    assert all(e.rows_gained == (0,) for e in passage(report, "armhole").edges)


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("To form the armholes, cast off", "armhole"),
        ("In order to make the armhole, cast off", "armhole"),
        ("To shape both underarms, cast off", "armhole"),
        ("When work measures 30 cm, form armholes: cast off", "armhole"),
        ("For the armholes cast off", "armhole"),
        ("Shape armholes as follows. Cast off", "armhole"),
        ("To shape the neck, cast off", "neck"),
        ("For the sleeve cap, cast off", "cap"),
    ],
)
@pytest.mark.parametrize("answer", ["", "harmless"])
def test_what_steps_are_for_may_stand_before_them(words: str, kind: str, answer: str) -> None:
    text = f"{words} 4 sts at beg of next 2 rows and 3 sts at beg of foll 2 rows. "
    text += "At 42 cm of total height, cast off the central 18 sts for the neckline.\n"
    asked = [Answer("words", answer, q.words, q.piece, q.about) for q in rewrite(text).questions]
    report = rewrite(text, Options(answers=tuple(asked) if answer else ()))
    assert [(p.kind, p.status) for p in report.passages] == [(kind, "left")]
    assert report.output == text


@pytest.mark.parametrize(
    "words",
    [
        "To shape the shoulders, cast off",
        "Having worked 40 rows for the armhole, shape shoulders: cast off",
    ],
)
def test_words_about_the_armhole_do_not_hide_a_shoulder(words: str) -> None:
    text = f"BACK\n{words} 4 sts at beg of next 4 rows.\nCast off rem 18 sts for the neck.\n"
    (passage,) = rewrite(text).passages
    assert passage.kind == "shoulder"


def test_armholes_headed_together_with_the_neck_are_no_shoulder() -> None:
    front = """FRONT
Work as back until front measures 19 cm, ending with RS facing for next row. 66 sts.
Shape armholes and divide for neck
Cast off 4 sts at beg of each of next 2 rows. 58 sts.
Next row: K29, turn and leave rem sts on a spare needle.
Dec 1 st at neck edge on every foll 3rd row until 12 sts rem.
Work straight until armhole is the same length as back to shoulder, ending with RS facing for next row.
Shape shoulder
1st row: Cast off 6 sts, K to neck edge.
2nd row: P.
3rd row: Cast off rem 6 sts.
"""
    assert [p.kind for p in rewrite(front).passages] == ["armhole", "shoulder"]


def test_bind_offs_under_a_side_s_shoulder_before_its_straight_rows_are_the_neck_s() -> None:
    front = """FRONT
Row 1 (RS): K28 and put them on waste yarn, BO 14, k to end. 28 sts on the needle.
Right shoulder
Row 2 and all WS rows: Purl.
Row 3: BO 3, k to end.
Row 5: BO 2, k to end.
Rows 7, 9, 11: K1, ssk, k to end. 20 sts.
Work even until armhole is same length as back to shoulder. End after a RS row.
Next row (WS): BO 7, p to end.
Next row: Knit.
Repeat the last 2 rows once.
Next row: BO remaining 6.
"""
    found = rewrite(front).passages
    assert [(p.kind, p.status) for p in found] == [("neck", "left"), ("shoulder", "rewritten")]
