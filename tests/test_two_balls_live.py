"""Both sides of a neck on two balls kept live: each is held after its own closing row, and gains none."""

from __future__ import annotations

import re
from itertools import accumulate

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rewriter import check, rewrite
from rewriter.charts.file import charts_of
from rewriter.document import split_document
from rewriter.fabric import knit
from rewriter.heldwords import HeldWords
from rewriter.interpret import read_rows
from rewriter.needlerows import shoulders
from rewriter.needlewhole import on_one_needle
from rewriter.options import TURNS, Options, Shoulders, Turn
from rewriter.passages import find_passages, statements_of
from rewriter.pipeline import Rework, rework
from rewriter.report import PassageReport, Report
from rewriter.rows import Edge, Kind, Row, bind_off
from rewriter.sizes import Sizes
from rewriter.source import read_source
from rewriter.twin import keep_live_two_balls, twin
from rewriter.worksheet import worksheet
from tests.oracle import knit_columns, stepped_heights
from tests.test_twin import GAPS, STEPS, at_rows, columns, stepped

LIVE: tuple[Shoulders, ...] = ("three-needle", "graft", "held")
TAIL = ", leaving an end about 4 times the width of the shoulder for joining"


# --- the rows ---------------------------------------------------------------------------------


@given(STEPS, STEPS, GAPS, GAPS, st.booleans())
def test_no_column_of_either_side_gains_a_row_whatever_the_steps(
    right: list[int], left: list[int], a: list[int], b: list[int], rs_first: bool
) -> None:
    edges = [at_rows("right", 0, right, a), at_rows("left", 1, left, b)]
    if not rs_first:
        edges = [at_rows("left", 0, left, b), at_rows("right", 1, right, a)]
    begins: Edge = "left" if rs_first else "right"
    rows = stepped(edges, None)
    rows[-1] = Row((bind_off(None),))
    stitches = sum(right) + sum(left)
    live = keep_live_two_balls(twin(rows, edges), edges)
    before, after = knit(stitches, rows, begins), knit(stitches, live, begins)
    assert columns(after) == columns(before)
    assert {run.fate for run in after.runs} == {"held"}
    assert not (after.unclosed or after.unaided or after.idle_aids or after.open_turns)
    # each yarn ends at the armhole of its own side: it joins that shoulder from there
    first, second = sorted(edges, key=lambda s: s.rows[-1])
    held = next(i for i, row in enumerate(live) if row.has(Kind.HOLD))
    assert knit(stitches, live[:held], begins).yarn == first.edge
    assert after.yarn == second.edge
    assert [row for row, _ in after.turned] == sorted(
        row + 1 for steps in edges for row in steps.turning_rows()
    )


# --- the text ---------------------------------------------------------------------------------

DRAFT = """SIZES {sizes}

BACK
Work in st st until armholes measure 20 cm{side}.
Shape shoulders
Cast off {chain}.
Leave rem 30 sts on a holder.

FRONT
Work as for back until armholes measure 14 cm, ending with a WS row.
Next row: K to centre 20 sts, join a second ball of yarn, cast off centre 20 sts, k to end.
{both}, dec 1 st at each neck edge on next 5 rows. Work until armholes measure 20 cm{side}.
Shape shoulders
{front}.

MAKING UP
Join shoulder seams.
"""


def listed(values: list[int]) -> str:
    return str(values[0]) + (f"({':'.join(map(str, values[1:]))})" if len(values) > 1 else "")


@st.composite
def fronts(draw: st.DrawFn) -> tuple[str, list[list[int]]]:
    """Draw a garment whose front is on two balls: its text and the steps of each size."""
    sizes, k = draw(st.integers(1, 4)), draw(st.integers(2, 4))
    steps = [[draw(st.integers(2, 20)) for _ in range(sizes)] for _ in range(k)]
    chain = ", then ".join(f"{listed(step)} sts at beg of next 2 rows" for step in steps)
    at_edges = ", then ".join(f"{listed(step)} sts once" for step in steps)
    text = DRAFT.format(
        sizes=listed([8 + 2 * i for i in range(sizes)]),
        side=draw(st.sampled_from([", ending with a WS row", ", ending with a RS row", ""])),
        both=draw(
            st.sampled_from(
                ["Working both sides at once", "Working each side with its own ball of yarn"]
            )
        ),
        chain=chain,
        front=draw(
            st.sampled_from([f"Cast off {chain}", f"At each armhole edge cast off {at_edges}"])
        ),
    )
    return text, [list(per_size) for per_size in zip(*steps, strict=True)]


def front_of(report: Report) -> PassageReport:
    (found,) = [p for p in report.passages if p.piece == "front"]
    assert (found.status, found.reason) == ("rewritten", None)
    return found


def reread(report: Report, size: int) -> list[Row]:
    """Return the rows of the front in a revised text, to its end."""
    document = split_document(read_source(report.output.encode(), "x.txt"))
    sizes = Sizes(tuple(report.sizes), None)
    document, statements = statements_of(document, sizes)
    *_, passage = find_passages(document, statements)
    assert passage.short_rows
    return read_rows(passage.statements, size, len(sizes))


@settings(max_examples=60, deadline=None)
@given(
    fronts(),
    st.sampled_from(TURNS),
    st.sampled_from(LIVE),
    st.sampled_from(["draft", "full"]),
    st.booleans(),
)
def test_any_front_on_two_balls_is_kept_live_at_its_own_rows(
    draft: tuple[str, list[list[int]]], turn: Turn, join: Shoulders, spelling: str, markers: bool
) -> None:
    text, steps = draft
    options = Options(
        turn=turn,
        shoulders=join,
        spelling="full" if spelling == "full" else "draft",
        markers=markers,
    )
    report = rewrite(text, options)
    passage = front_of(report)
    assert passage.verification.result == "same"
    for i, sts in enumerate(steps):
        for number, edge in enumerate(passage.edges):
            assert edge.rows_gained[i] == 0
            assert [(t.row, t.unworked) for t in edge.turns[i]] == [
                (2 * n + number - 1, total) for n, total in enumerate(accumulate(sts[:-1]))
            ]
        truth = [
            {"steps": [[n] for n in sts], "rows": [list(range(at, 2 * len(sts), 2))]}
            for at in (0, 1)
        ]
        wanted = stepped_heights(truth, 0, 0)
        assert knit_columns(len(wanted), reread(report, i), True) == wanted
    assert rewrite(report.output, options).output == report.output
    assert {p.result for p in check(text, report.output).passages} == {"same"}


KNITTED = DRAFT.format(
    sizes="8(10:12)",
    side=", ending with a WS row",
    chain="8(9:9) sts at beg of next 4 rows, then 9(9:10) sts at beg of foll 2 rows",
    both="Working both sides at once",
    front="At each armhole edge cast off 8(9:9) sts every other row twice, then 9(9:10) sts once",
).replace("Work in st st", "K on RS and P on WS", 1)


def body(text: str, join: Shoulders = "three-needle") -> list[str]:
    report = rewrite(text, Options(shoulders=join, markers=False))
    front_of(report)
    lines = report.output[report.output.index("FRONT") :].splitlines()
    return lines[lines.index("Shape shoulders") + 1 :]


def test_each_side_is_held_after_its_closing_row_and_the_row_after_goes_over_the_other() -> None:
    assert body(KNITTED)[1:9] == [
        "Next row (WS): P to last 8(9:9) sts, turn.",
        "Next row (RS): DS, k to last 8(9:9) sts, turn.",
        "Next row (WS): DS, p to last 16(18:18) sts, turn.",
        "Next row (RS): DS, k to last 16(18:18) sts, turn.",
        "Next row (WS): DS, p to end, working each DS as one st.",
        f"Slip 25(27:28) sts of the side just worked onto a holder and cut its yarn{TAIL}.",
        "Next row (RS): On other side, k to end, working each DS as one st.",
        f"Leave 25(27:28) sts on a holder. Cut yarn{TAIL}.",
    ]
    joined = body(KNITTED)[-1]
    assert joined.startswith("Join shoulders: with RS together and the yarn left at the armhole")


def test_held_shoulders_leave_no_end_for_a_join() -> None:
    lines = body(KNITTED, "held")
    assert lines[6] == "Slip 25(27:28) sts of the side just worked onto a holder and cut its yarn."
    assert lines[8] == "Leave 25(27:28) sts on a holder. Cut yarn."


def test_one_step_is_held_with_no_turn_and_no_words_about_turns() -> None:
    text = DRAFT.format(
        sizes="8",
        side=", ending with a WS row",
        chain="20 sts at beg of next 2 rows",
        both="Working both sides at once",
        front="Cast off 20 sts at beg of next 2 rows",
    )
    assert body(text, "held")[:4] == [
        "Work both sides at once, each with its own ball of yarn.",
        "Slip 20 sts of the side just worked onto a holder and cut its yarn.",
        "Next row (RS): On other side, k to end.",
        "Leave 20 sts on a holder. Cut yarn.",
    ]


@pytest.mark.parametrize("wrong", [-1, 1])
def test_a_side_held_with_a_wrong_count_is_not_proven(
    wrong: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    right = HeldWords._closing_order
    monkeypatch.setattr(
        HeldWords, "_closing_order", lambda self, size: [right(self, size)[0] + wrong, 25]
    )
    report = rewrite(KNITTED, Options(shoulders="held", markers=False))
    assert "not-proven" in {d.code for d in report.diagnostics}
    assert "side just worked" not in report.output


def test_the_row_over_the_other_side_must_say_so() -> None:
    """Without those words the row would be worked with the yarn that was just cut."""
    revised = rewrite(KNITTED, Options(shoulders="held", markers=False)).output
    assert {p.result for p in check(KNITTED, revised).passages} == {"same"}
    wrong = revised.replace("On other side, k to end", "K to end")
    assert {p.id: p.result for p in check(KNITTED, wrong).passages}["front/shoulder/1"] != "same"


def test_live_sides_go_back_to_the_steps_they_came_from() -> None:
    live = rewrite(KNITTED, Options(shoulders="graft")).output
    back = rewrite(live, Options(to="steps"))
    assert [p.status for p in back.passages] == ["rewritten"] * 2
    assert "holder and cut" not in back.output and "Leave 25" not in back.output
    told = [[e.steps for e in p.edges] for p in rewrite(back.output).passages]
    assert told == [[e.steps for e in p.edges] for p in rewrite(KNITTED).passages]


# --- what is in one piece is not told so -----------------------------------------------------------

ONE_PIECE = """BACK
Work in st st until armholes measure 20 cm, ending with a WS row.{count}
Shape shoulders
Cast off 8 sts at beg of next 4 rows, then 7 sts at beg of next 2 rows.

MAKING UP
Join shoulder seams.
"""


@pytest.mark.parametrize(
    ("count", "reason"),
    [
        (" 46 sts.", "no sts are left between the two shoulders of one piece"),
        ("", "what becomes of the sts between the shoulders is not read"),
    ],
)
def test_a_piece_with_one_ball_is_not_told_on_two(count: str, reason: str) -> None:
    report = rewrite(ONE_PIECE.format(count=count), Options(shoulders="held", markers=False))
    assert "ball" not in report.output
    (told,) = [d.message for d in report.diagnostics if d.code == "bound-off-instead"]
    assert reason in told


# --- the neck opened among the steps ---------------------------------------------------------------

DIVIDED = """BACK
Work in st st until armholes measure 8 ins, ending with a WS row. 70 sts.
Shape shoulders and neck
Bind off 7 sts at beg of next 2 rows.
Next row (RS): Bind off 7 sts, k until there are 10 sts on right needle, join a second ball of yarn and
bind off center 22 sts, k to end.
Next row: Bind off 7 sts, p to neck; on other side bind off 4 sts at neck edge, p to end.
Next row: Bind off rem 6 sts of first side; on other side bind off 4 sts at neck edge, k to end.
Next row: Bind off rem 6 sts.

FINISHING
Sew shoulder seams.
"""
HOLDS = Options(shoulders="held", markers=False)


def test_a_side_of_a_divided_back_is_held_while_the_other_goes_on() -> None:
    report = rewrite(DIVIDED, HOLDS)
    lines = report.output.splitlines()
    at = next(i for i, line in enumerate(lines) if "side just worked" in line)
    assert lines[at - 1 : at + 3] == [
        "Next row (WS): DS, p to neck edge; on other side, bind off 4 sts at neck edge, p to end, working "
        "each DS as one st.",
        "Slip 20 sts of the side just worked onto a holder and cut its yarn.",
        "Next row (RS): On other side, bind off 4 sts at neck edge, k to end, working each DS as one st.",
        "Leave 20 sts on a holder. Cut yarn.",
    ]
    assert rewrite(report.output, HOLDS).output == report.output
    assert {p.result for p in check(DIVIDED, report.output).passages} == {"same"}


def test_a_worksheet_counts_both_sides_where_one_is_held() -> None:
    (piece,) = worksheet(_work(DIVIDED, HOLDS), 0, HOLDS).pieces
    told = [(line.number, line.off, line.on_needle) for line in piece.lines[3:]]
    assert told == [
        (4, 22, 48),
        (5, 4, 44),
        (None, 20, 24),
        (6, 4, 20),
        (None, 20, 0),
    ]
    *_, front = worksheet(_work(KNITTED, HOLDS), 0, HOLDS).pieces
    held = [(line.number, line.worked, line.off, line.on_needle) for line in front.lines[4:8]]
    assert held == [(5, 34, 0, 50), (None, None, 25, 25), (6, 25, 0, 25), (None, None, 25, 0)]


@pytest.mark.parametrize("join", ["sewn", "held"])
def test_a_divided_back_on_two_balls_is_one_chart(join: Shoulders) -> None:
    work = _work(DIVIDED, Options(shoulders=join, markers=False))
    (chart,) = charts_of(work, 0)
    assert (chart.stitches, chart.beside, chart.half) == (70, (20, 30), "")
    first, second = shoulders(work, 0)
    whole = on_one_needle(first, second)
    assert whole is not None
    for rows, own in (("draft_rows", first), ("new_rows", first)):
        both = knit(70, getattr(whole, rows), "left").heights()
        one, two = (knit(24, getattr(side, rows), "left").heights() for side in (own, second))
        # the neck between the sides has the rows before the one that takes it off
        assert both == [*one, (22, 3), *two]
    parts = {p.row: p.parts for p in chart.passes}
    assert parts[4] == ((14, 10), (46, 10))  # each ball goes over its own side of the neck
    assert [chart.worked(p) for p in chart.passes if p.row == 4] == [20]


def test_decreases_at_the_neck_keep_two_charts() -> None:
    text = DIVIDED.replace("bind off 4 sts at neck edge", "dec 1 st at neck edge")
    text = text.replace("are 10 sts", "are 7 sts").replace("center 22 sts", "center 28 sts")
    work = _work(text, Options(markers=False))
    first, second = shoulders(work, 0)
    assert on_one_needle(first, second) is None
    assert [c.half for c in charts_of(work, 0)] == ["first side", "second side"]


def _work(text: str, options: Options) -> Rework:
    return rework(read_source(text.encode(), "x.txt"), options)


def test_a_neck_as_wide_as_a_shoulder_prints_no_count_of_it() -> None:
    text = """BACK
Work in st st until armholes measure 20 cm, ending with a WS row. 90(96) sts.
Shape shoulders
Cast off 10 sts at beg of next 4 rows, then 10 sts at beg of next 2 rows. 30(36) sts.
Cast off rem 30(36) sts.
"""
    report = rewrite(f"SIZES 8(10)\n\n{text}", Options(shoulders="held", markers=False))
    neck = next(line for line in report.output.splitlines() if "for back neck" in line)
    assert re.search(r"\d", neck.split("last of them")[1]) is None


def test_a_worksheet_keeps_the_repeat_signs_of_a_graft() -> None:
    options = Options(shoulders="graft", markers=False)
    told = " ".join(worksheet(_work(KNITTED, options), 0, options).finish)
    assert "then * go through" in told and "repeat from * to the neck" in told


ROWS = """Next row: Cast off 8(9:9) sts, k to neck edge; with other ball, k to end.
Next row: Cast off 8(9:9) sts, p to neck edge; with other ball, p to end.
Rep last 2 rows once more.
Next row: Cast off 9(9:10) sts; with other ball, k to end.
Next row: Cast off rem {last} sts"""


@pytest.mark.parametrize("join", ["sewn", *LIVE])
def test_the_last_row_over_both_sides_is_the_last_step_of_the_second(join: Shoulders) -> None:
    told = re.search(r"At each armhole edge cast off [^.]*", KNITTED)
    assert told is not None
    text = KNITTED.replace(told.group(), ROWS.format(last="9(9:10)"))
    options = Options(shoulders=join, markers=False)
    assert front_of(rewrite(text, options)).verification.result == "same"
    counted = rewrite(KNITTED, options).output
    assert rewrite(text, options).output.split("FRONT")[1] == counted.split("FRONT")[1]
    # another number is not that of the other side: it is asked about
    asked = rewrite(KNITTED.replace(told.group(), ROWS.format(last="7(7:7)")), options)
    assert {p.id: p.status for p in asked.passages}["front/shoulder/1"] == "question"


def test_a_count_that_is_not_there_is_not_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is told of the last sts is compared with the sts on the needle."""
    right = HeldWords._hold
    monkeypatch.setattr(
        HeldWords, "_hold", lambda self, line: right(self, line).replace("25", "50")
    )
    report = rewrite(KNITTED, Options(shoulders="held", markers=False))
    assert any("50 sts are told where 25" in d.message for d in report.diagnostics)
    assert "Leave 50" not in report.output
