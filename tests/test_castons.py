"""Cast-on shoulders of pieces worked from the top: forms read, text written, what is left alone."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from rewriter import rewrite
from rewriter.options import TURNS, Options, Turn
from rewriter.report import PassageReport, Report
from tests.drafts import CORPUS

TOP = "Worked from the top down in st st.\n\nBACK\n\n"
DRAFTS = sorted((CORPUS / "topdown").glob("*.expect.json"))


def run(text: str, **options: Any) -> tuple[Report, PassageReport]:
    report = rewrite(TOP + text, Options(markers=False, **options))
    (passage,) = report.passages
    return report, passage


# 31 sts of the neck, 7 sts three times at each edge.
TWO_EDGES = [
    "Cast on 31 sts for back neck. Cast on 7 sts at beg of next 6 rows. 73 sts.",
    "CO 31 sts for back neck, then CO 7 sts at beg of next 6 rows - 73 sts.",
    "Cast on 31 sts for neck. Cast on 7 sts at beg of next 2 rows. Cast on 7 sts at beg of next 4 rows.",
    "Cast on 31 sts for neck. Cast on 7 sts at end of next 6 rows.",
    "Cast on 31 sts for neck. Cast on 7 sts at the end of each of the next 6 rows.",
    "Cast on 31 sts for neck. Cast on 7 sts at each end of next and foll 2 alt rows.",
    "Cast on 31 sts. Next 6 rows: Cast on 7 sts at beg of row, work to end.",
    "Cast on 31 sts. Row 1 (RS): Cast on 7 sts, k to end. Row 2: Cast on 7 sts, p to end. "
    "Rep rows 1 and 2 twice more.",
    "Cast on 31 sts. Row 1 (RS): K to end, cast on 7 sts. Row 2: P to end, cast on 7 sts. "
    "Rep last 2 rows twice more.",
    "Cast on 31 sts for neck. Using the knitted cast-on, cast on 7 sts at beg of next 6 rows.",
    "Cast on 31 sts for neck. Using the cable method, cast on 7 sts at beg of next 6 rows.",
]


@pytest.mark.parametrize(
    ("text", "turn"), [(text, TURNS[i % len(TURNS)]) for i, text in enumerate(TWO_EDGES)]
)
def test_forms_at_two_edges(text: str, turn: Turn) -> None:
    report, passage = run(text + " Cont straight.", turn=turn)
    assert (passage.kind, passage.status) == ("shoulder", "rewritten"), passage.reason
    assert passage.verification.result == "same"
    assert passage.neck == (31,)
    assert [edge.steps for edge in passage.edges] == [((7,), (7,), (7,))] * 2
    assert report.output.count("ast on 21 sts") + report.output.count("CO 21 sts") == 2
    again = rewrite(report.output, Options(markers=False, turn=turn))
    assert again.output == report.output
    assert not again.passages


# 7 sts with which the piece begins, and twice more at one edge: all are one cast-on of 21.
ONE_EDGE = [
    "Cast on 7 sts for shoulder. P 1 row. Cast on 7 sts at end of next and foll RS row. 21 sts.",
    "Cast on 7 sts for shoulder. P 1 row. Cast on 7 sts at end of next 2 RS rows.",
    "Cast on 7 sts for shoulder. Work 2 rows. Cast on 7 sts at beg of next and foll alt row. 21 sts.",
    "Cast on 7 sts for shoulder.\nRow 1 (WS): Purl.\nRow 2 (RS): Knit to end, cast on 7 sts.\n"
    "Rep rows 1 and 2 once more. 21 sts.",
    "Cast on 7 sts for shoulder.\nRow 1 (RS): Knit.\nRow 2 (WS): Purl, cast on 7 sts at end of row.\n"
    "Rep rows 1 and 2 once more. 21 sts.",
    "Cast on 7 sts for shoulder. Next row (WS): Purl. Next row (RS): K to end, cast on 7 sts. "
    "Next row: P. Next row: K to end, cast on 7 sts. 21 sts.",
]


@pytest.mark.parametrize("text", ONE_EDGE)
def test_forms_at_one_edge(text: str) -> None:
    report, passage = run(text + " Cont straight.")
    assert (passage.kind, passage.status) == ("shoulder", "rewritten"), passage.reason
    assert [edge.steps for edge in passage.edges] == [((7,), (7,), (7,))]
    assert "Cast on 21 sts for shoulder" in report.output
    assert rewrite(report.output, Options(markers=False)).output == report.output


def test_sts_begun_at_the_neck_edge_stay_beside_the_steps() -> None:
    """The first row begins at the neck, so only what is cast on at its end can be one cast-on."""
    report, passage = run(
        "Cast on 7 sts for shoulder. Next row (RS): K to end, cast on 7 sts. Next row: P. "
        "Next row: K to end, cast on 7 sts. 21 sts. Next row: P."
    )
    assert passage.edges[0].steps == ((7,), (7,))
    assert "Cast on 7 sts for shoulder" in report.output
    assert "K to end, cast on 14 sts. 21 sts." in report.output


REASONS = [
    (
        "Cast on 7 sts for shoulder. P 1 row. Cast on 7 sts at end of next and foll RS row. "
        "Inc 1 st at beg of next row.",
        "question",
        "plain row",
    ),
    (
        "Cast on 31 sts for neck. Cast on 7 sts at beg of next 4 rows, dec 1 st at neck.",
        "left",
        "decreased",
    ),
    (
        "Cast on 31 sts for neck. Cast on 7 sts on next 6 rows.",
        "question",
        "beginning or at the end",
    ),
    (
        "Cast on 31 sts for neck. Cast on 7 sts at beg of every row until there are 73 sts.",
        "question",
        "rows",
    ),
    ("Cast on 31 sts for neck. Cast on 7 sts at beg of next 5 rows.", "question", "one more"),
    (
        "Cast on 31 sts for neck. Cast on 7 sts at beg of next 6 rows. 74 sts.",
        "question",
        "says 74",
    ),
    (
        "Cast on 31 sts for neck. Cast on 7 sts at each side of next 3 rows.",
        "question",
        "both ends",
    ),
    ("Cast on 31 sts for neck. Cast on 7 sts at beg of next 2 rows.", "left", "one step"),
    (
        "Cast on 31 sts for neck. Cast on 7 sts at beg of next 4 rows, inc 1 st.",
        "left",
        "increased",
    ),
    (
        "Cast on 7 sts for shoulder. P 1 row. Cast on 7 sts at end of next and foll RS row. "
        "Break yarn.",
        "question",
        "rest there",
    ),
    (
        "Cast on 31 sts. Row 1 (WS): Cast on 7 sts, k to end. Row 2 (WS): Cast on 7 sts, p to end. "
        "Rep rows 1 and 2 twice more.",
        "question",
        "WS row",
    ),
]


@pytest.mark.parametrize(("text", "status", "words"), REASONS)
def test_what_cannot_be_told_is_left_with_its_reason(text: str, status: str, words: str) -> None:
    report, passage = run(text)
    assert passage.status == status
    assert words in (passage.reason or "")
    assert report.output == TOP + text


ELSEWHERE = [
    ("Work until piece measures 7 in. Cast on 4 sts at beg of next 4 rows.", "other", "no word"),
    ("Work 30 rows. Cast on 4 sts at beg of next 4 rows.", "other", "no word"),
    ("Work 4 rows. Cast on 6 sts at end of next 8 rows for sleeves.", "other", "sleeve"),
    ("Work 4 rows. Cast on 4 sts at beg of next 4 rows for underarm.", "armhole", "underarm"),
    ("Inc 1 st each end of next row. Cast on 4 sts at beg of next 4 rows.", "other", "no word"),
    ("Cast on 4 sts at beg of next 4 rows for the steek.", "other", "steek"),
]


@pytest.mark.parametrize(("text", "kind", "words"), ELSEWHERE)
def test_cast_ons_elsewhere_are_left(text: str, kind: str, words: str) -> None:
    text = f"Cast on 80 sts. {text} Cont straight."
    report, passage = run(text)
    assert (passage.kind, passage.status) == (kind, "left")
    assert words in (passage.reason or "")
    assert report.output == TOP + text


def test_a_piece_worked_sideways_is_asked_about() -> None:
    text = (
        "Worked sideways.\n\nBACK\nCast on 60 sts. P 1 row. Shape side and shoulder: "
        "cast on 6 sts at beg of next 8 rows.\n"
    )
    (passage,) = rewrite(text).passages
    assert passage.status == "question"
    assert "sideways" in (passage.reason or "")


def test_bottom_up_cast_ons_are_no_shoulders() -> None:
    text = "BACK\nCast on 80 sts. Cast on 3 sts at beg of next 8 rows. Cont in st st."
    (passage,) = rewrite(text).passages
    assert (passage.kind, passage.status) == ("other", "left")


def test_counts_between_keep_the_first_step_apart() -> None:
    """A count printed behind the row between would no longer be true."""
    report, passage = run(
        "Cast on 7 sts for shoulder. Row 1 (WS): Purl. 7 sts. Row 2 (RS): K to end, cast on 7 sts. "
        "Row 3: Purl. Row 4: K to end, cast on 7 sts. 21 sts. Row 5: Purl."
    )
    assert passage.status == "rewritten"
    assert "Cast on 7 sts for shoulder. Row 1 (WS): Purl. 7 sts." in report.output


def test_live_joins_fall_back_for_shoulders_that_are_cast_on() -> None:
    report, passage = run(
        "Cast on 31 sts for neck. Cast on 7 sts at beg of next 6 rows. Cont straight.",
        shoulders="three-needle",
    )
    assert passage.status == "rewritten"
    assert any("is cast on" in d.message for d in report.diagnostics)


def test_markers_are_hung_on_the_new_sts() -> None:
    text = (
        "Cast on 31 sts for neck. Cast on 7 sts at beg of next 4 rows, 8 sts at beg of foll 2 rows."
    )
    report = rewrite(TOP + text, Options())
    assert "counting from the armhole edge, after 8 sts and after 15 sts." in report.output
    assert "to last 15 sts (marker), turn" in report.output


@pytest.mark.parametrize("turn", TURNS)
def test_every_turning_method(turn: Turn) -> None:
    for text in (TWO_EDGES[0], TWO_EDGES[3], ONE_EDGE[0]):
        report, passage = run(text + " Cont straight.", turn=turn)
        assert passage.verification.result == "same"
        again = rewrite(report.output, Options(turn=turn))
        assert again.output == report.output


@pytest.mark.parametrize(
    ("expect", "turn"),
    [(path, TURNS[i % len(TURNS)]) for i, path in enumerate(DRAFTS)],
    ids=[path.name.split(".")[0] for path in DRAFTS],
)
def test_drafts_are_rewritten_and_stable(expect: Path, turn: Turn) -> None:
    (path,) = [p for p in expect.parent.glob(f"{expect.name.split('.')[0]}.*") if p != expect]
    text = path.read_text(encoding="utf-8")
    wanted = json.loads(expect.read_text(encoding="utf-8"))["passages"]
    report = rewrite(text, Options(turn=turn, markers=turn != "wrap"))
    rewritten = sum(p.status == "rewritten" for p in report.passages)
    assert rewritten == sum(p["should"] == "convert" for p in wanted)
    again = rewrite(report.output, Options(turn=turn))
    assert again.output == report.output


@pytest.mark.parametrize(
    ("text", "turn", "said"),
    [
        (
            "Cast on 7 sts for shoulder. P 1 row. Cast on 7 sts at end of next and foll RS row. 21 sts. ",
            "german",
            "Begin the first of the rows that follow with DS.\n"
            "On the second of the rows that follow, work the DS as one st.",
        ),
        (
            "Cast on 7 sts for shoulder. P 1 row. Cast on 7 sts at end of next and foll RS row. 21 sts. ",
            "wrap",
            "On the second of the rows that follow, work the wrap together with its st.",
        ),
        (
            "Cast on 31 sts for back neck. Cast on 7 sts at beg of next 6 rows. 73 sts. ",
            "german",
            "On the first of the rows that follow, work the DS as one st.",
        ),
        (
            "Cast on 31 sts for neck. Cast on 7 sts at end of next 6 rows. ",
            "german",
            "On each of the first two rows that follow, work the DS as one st.",
        ),
    ],
)
def test_rows_that_the_draft_counts_behind_hold_the_last_turns(
    text: str, turn: Turn, said: str
) -> None:
    """The rows that close the last turns are the first of those that the draft counts."""
    report, passage = run(text + "Work 11 rows straight.", turn=turn)
    assert passage.status == "rewritten", passage.reason
    told = " ".join(report.output.split())
    assert f"{' '.join(said.split())} Work 11 rows straight." in told
