"""Steps spread evenly: the apportionment, what it changes, and that the new text knits to it."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate, combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rewriter import rewrite
from rewriter.cli import main
from rewriter.document import split_document
from rewriter.interpret import read_rows
from rewriter.options import JOINS, TURNS, Options, Shoulders, Turn
from rewriter.passages import find_passages, statements_of
from rewriter.pipeline import rewrite_bytes
from rewriter.render import describe
from rewriter.report import PassageReport, Report
from rewriter.respace import even_steps
from rewriter.rows import Row
from rewriter.sizes import read_sizes
from rewriter.source import read_source
from tests.drafts import SWEEP, SyntheticDraft, all_drafts, rewritten
from tests.oracle import knit_columns, stepped_heights

EVEN = Options(respace=True, markers=False)


# --- the apportionment ------------------------------------------------------------------------


def bresenham(total: int, count: int) -> list[int]:
    """Steps of an integer line over `count` rows: a st more whenever the error passes a half."""
    steps, error = [], 0
    for _ in range(count):
        base, rest = divmod(total, count)
        error += rest
        more = 2 * error > count
        error -= count * more
        steps.append(base + more)
    return steps


def furthest(steps: list[int]) -> Fraction:
    """Return how far the steps get from a straight line at most, in sts."""
    line = Fraction(sum(steps), len(steps))
    return max(abs(at - j * line) for j, at in enumerate(accumulate(steps), start=1))


@given(st.integers(1, 12), st.integers(0, 400))
def test_even_steps_are_the_integer_line(count: int, more: int) -> None:
    assert list(even_steps(count + more, count)) == bresenham(count + more, count)


@settings(deadline=None)
@given(st.integers(1, 5), st.integers(0, 14))
def test_no_other_steps_are_nearer_to_a_straight_line(count: int, more: int) -> None:
    total = count + more
    best = min(
        furthest([b - a for a, b in zip((0, *cut), (*cut, total), strict=True)])
        for cut in combinations(range(1, total), count - 1)
    )
    ours = list(even_steps(total, count))
    assert furthest(ours) == best
    # largest remainder: the quotient for each, the rest handed out one by one
    assert sorted(ours) == [total // count] * (count - total % count) + [total // count + 1] * (
        total % count
    )


# --- what is written --------------------------------------------------------------------------


def reread(report: Report, size: int) -> list[Row]:
    """Return the rows of the one short-row passage of a revised text."""
    document = split_document(read_source(report.output.encode(), "x.txt"))
    sizes = read_sizes(document)
    document, statements = statements_of(document, sizes)
    (passage,) = [p for p in find_passages(document, statements) if p.short_rows]
    return read_rows(passage.statements, size, len(sizes))


def proven(report: Report) -> PassageReport:
    (passage,) = report.passages
    assert (passage.status, passage.reason) == ("rewritten", None)
    return passage


@st.composite
def backs(draw: st.DrawFn) -> tuple[str, list[list[int]], list[list[int]]]:
    """Draw a back: its text, the sts of the steps of each size, and their rows (the same for all)."""
    sizes = draw(st.integers(1, 4))
    k = draw(st.integers(2, 4))
    steps = [[draw(st.integers(4, 20)) for _ in range(sizes)] for _ in range(k)]
    pauses = [draw(st.integers(0, 1)) for _ in range(k - 1)]
    rows = list(accumulate((2 + 2 * pause for pause in pauses), initial=0))

    def listed(values: list[int]) -> str:
        if len(values) == 1:
            return str(values[0])
        return f"{values[0]}({':'.join(map(str, values[1:]))})"

    told = [f"Cast off {listed(step)} sts at beg of next 2 rows." for step in steps]
    for pause, at in sorted(
        zip(pauses, range(1, k), strict=True), reverse=True, key=lambda p: p[1]
    ):
        if pause:
            told.insert(at, f"Work {2 * pause} rows.")
    text = (
        f"SIZES {listed([8 + 2 * i for i in range(sizes)])}\n\nBACK\n"
        "Work straight until armholes measure 20 cm, ending with a WS row.\n"
        f"Shape shoulders\n{' '.join(told)}\nCast off rem {listed([31] * sizes)} sts.\n"
    )
    return text, [list(per_size) for per_size in zip(*steps, strict=True)], [rows] * sizes


@settings(max_examples=60, deadline=None)
@given(backs(), st.sampled_from(TURNS))
def test_any_back_is_spread_over_all_its_rows_and_proven(
    draft: tuple[str, list[list[int]], list[list[int]]], turn: Turn
) -> None:
    text, steps, rows = draft
    report = rewrite(text, Options(respace=True, turn=turn, markers=False))
    passage = proven(report)
    assert passage.verification.result == "same"
    assert passage.verification.piece_rows_gained == (0,) * len(steps)
    assert rewrite(report.output, EVEN).output == report.output
    worked = passage.edges[0].even_steps or passage.edges[0].steps
    for i, (own, at) in enumerate(zip(steps, rows, strict=True)):
        even = [step[i] for step in worked if step[i]]
        everywhere = list(range(at[0], at[-1] + 1, 2))
        assert sum(even) == sum(own)
        assert len(even) == len(everywhere)
        assert even in (bresenham(sum(own), len(everywhere)), own)
        assert furthest(even) < 1
        old = stepped_heights(_truth(own, at), 0, 31)
        wanted = stepped_heights(_truth(even, everywhere), 0, 31)
        knitted = knit_columns(len(old), reread(report, i), True)
        assert knitted == wanted
        most = max(abs(a - b) for a, b in zip(old, knitted, strict=True))
        assert (passage.verification.most_rows_moved or (0,) * len(steps))[i] == most
        assert len(passage.edges[0].turns[i]) == len(everywhere) - 1


def _truth(sts: list[int], rows: list[int]) -> list[dict[str, list[list[int]]]]:
    steps = [[n] for n in sts]
    return [{"steps": steps, "rows": [rows]}, {"steps": steps, "rows": [[r + 1 for r in rows]]}]


BACK = """SIZES 8(10:12)
BACK
Work until armholes measure 20 cm, ending with a WS row.
Shape shoulders
Cast off 6(9:9) sts at beg of next 4 rows, then 13(9:10) sts at beg of foll 2 rows.
Cast off rem 31(33:35) sts.
"""


def test_the_greatest_difference_is_told_for_each_size() -> None:
    report = rewrite(BACK, EVEN)
    passage = proven(report)
    assert report.options.respace
    assert passage.edges[0].steps == ((6, 9, 9), (6, 9, 9), (13, 9, 10))
    assert passage.edges[0].even_steps == ((8, 9, 9), (9, 9, 9), (8, 9, 10))
    assert passage.verification.against == "even steps"
    assert passage.verification.most_rows_moved == (2, 0, 0)
    notes = {d.code: d for d in report.diagnostics}
    assert notes["steps-spread"].severity == "warning"
    assert notes["steps-spread"].sizes == ("8",)
    assert (
        "8 + 9 + 8 instead of 6 + 6 + 13 (sts 7–8 from the armhole edge -2 rows, sts 13–17 from "
        "the armhole edge -2 rows); the greatest difference is 2 rows"
        in notes["steps-spread"].message
    )
    assert notes["steps-even"].severity == "remark"
    assert notes["steps-even"].sizes == ("10", "12")
    text = describe(report, read_source(BACK.encode(), "x.txt"))
    assert "same fabric as with even steps, up to 2 rows from the draft's" in text
    assert "8 · 9 · 8 ‖ 31 ‖ 8 · 9 · 8" in text


def test_without_the_option_nothing_is_said_of_it() -> None:
    passage = proven(rewrite(BACK))
    assert passage.edges[0].even_steps is None
    assert passage.verification.against == "draft"
    assert passage.verification.most_rows_moved == ()


def test_even_steps_stay_as_they_are() -> None:
    text = BACK.replace("6(9:9) sts at beg", "8(9:9) sts at beg").replace("13(9", "9(9")
    report = rewrite(text, EVEN)
    assert report.output == rewrite(text, Options(markers=False)).output
    assert proven(report).verification.against == "draft"
    assert {"steps-even"} == {d.code for d in report.diagnostics if d.code.startswith("steps")}


def test_one_step_is_still_no_slope() -> None:
    text = BACK.replace(
        "Cast off 6(9:9) sts at beg of next 4 rows, then 13(9:10) sts at beg of foll 2 rows.",
        "Cast off 25(27:28) sts at beg of next 2 rows.",
    )
    report = rewrite(text, EVEN)
    assert report.output == text
    assert "one step" in (report.passages[0].reason or "")


def test_a_size_with_one_step_beside_others_keeps_it() -> None:
    text = """SIZES 8(10)
BACK
Work until armholes measure 20 cm, ending with a WS row.
Shape shoulders
Cast off 12(6) sts at beg of next 2(4) rows.
Cast off rem 31(33) sts.
"""
    passage = proven(rewrite(text, EVEN))
    assert [len(turns) for turns in passage.edges[0].turns] == [0, 1]


FRONT = """LEFT FRONT
Work until armhole measures 20 cm, ending with a WS row. 25 sts.
Shape shoulder
Next row: Cast off 6 sts, work to end.
Work 3 rows.
Next row: Cast off 6 sts, work to end.
Work 1 row.
Cast off rem 13 sts.
"""


def test_rows_between_steps_far_apart_take_steps_of_their_own() -> None:
    report = rewrite(FRONT, EVEN)
    passage = proven(report)
    assert passage.edges[0].even_steps == ((6,), (6,), (7,), (6,))
    assert [(t.row, t.unworked) for t in passage.edges[0].turns[0]] == [(-1, 6), (1, 12), (3, 19)]
    codes = {d.code for d in report.diagnostics}
    assert "steps-far-apart" not in codes
    assert "steps-far-apart" in {d.code for d in rewrite(FRONT).diagnostics}
    wanted = [1] * 6 + [3] * 6 + [5] * 7 + [7] * 6
    assert knit_columns(25, reread(report, 0), True) == wanted


def test_fewer_sts_than_rows_keep_their_own_steps() -> None:
    text = FRONT.replace("25 sts", "3 sts").replace("off 6", "off 1").replace("rem 13", "rem 1")
    report = rewrite(text, EVEN)
    assert proven(report).verification.against == "draft"
    assert "steps-not-spread" in {d.code for d in report.diagnostics}


@pytest.mark.parametrize(
    ("first", "others", "last", "even", "most"),
    [(3, "", 12, (7, 8), 1), (12, "and foll alt row", 3, (9, 9, 9), 2), (3, "", 4, (3, 4), 0)],
)
def test_a_last_step_on_the_return_row_stays_on_it(
    first: int, others: str, last: int, even: tuple[int, ...], most: int
) -> None:
    text = f"""LEFT FRONT
Work until armhole measures 20 cm, ending with a WS row.
Shape shoulder
Cast off {first} sts at beg of next row {others}, work to end. Cast off rem {last} sts.
"""
    passage = proven(rewrite(text, EVEN))
    assert passage.verification.result == "within-one-row"
    steps = passage.edges[0].even_steps or passage.edges[0].steps
    assert tuple(step[0] for step in steps) == even
    assert (passage.verification.most_rows_moved or (0,))[0] == most


def test_the_row_gained_by_a_last_step_on_the_return_row_counts() -> None:
    text = """LEFT FRONT
Work until armhole measures 20 cm, ending with a WS row.
Shape shoulder
Cast off 12 sts at beg of next row, 2 sts at beg of foll alt row, work to end. Cast off rem 1 st.
"""
    passage = proven(rewrite(text, EVEN))
    # sts 11 and 12: bound off on row 0 in the draft, on row 4 (row 3 made longer) in the new text
    assert passage.verification.most_rows_moved == (4,)


def test_a_neck_decrease_that_even_steps_leave_no_room_for_is_refused_with_the_reason() -> None:
    text = """LEFT FRONT
Work until armhole measures 20 cm, ending with a WS row. 11 sts.
Shape shoulder
Row 1 (RS): Cast off 1 st, work to end, dec 1 st at neck edge.
Row 2: Work to end.
Row 3: Cast off 1 st, work to end, dec 1 st at neck edge.
Row 4: Work to end.
Row 5: Cast off 1 st, work to end, dec 1 st at neck edge.
Row 6: Work to end.
Row 7: Cast off rem 5 sts.
"""
    proven(rewrite(text))
    report = rewrite(text, EVEN)
    assert report.output == text
    assert (report.passages[0].reason or "").startswith("with the steps spread evenly, a neck dec")


DIVIDED = """BACK
Work in st st until armhole measures 20 cm, ending with a WS row. 81 sts.
Shape shoulders and back neck
Cast off 6 sts at beg of next 2 rows.
Next row (RS): Cast off 6 sts, K until there are 17 sts on right needle, turn and leave rem sts on a holder.
Next row: Cast off 4 sts, P to end.
Cast off rem 13 sts.
With RS facing, rejoin yarn to rem sts, cast off centre 23 sts, K to end.
Complete to match first side, reversing shapings.
"""


@pytest.mark.parametrize("join", JOINS)
def test_a_divided_shoulder_is_spread_on_both_sides(join: Shoulders) -> None:
    report = rewrite(DIVIDED, Options(respace=True, shoulders=join, markers=False))
    passage = proven(report)
    assert [e.even_steps for e in passage.edges] == [((8,), (9,), (8,))] * 2
    assert (
        "K until there are 29 sts on right needle (the 17 unworked shoulder sts and 12 more)"
        in (report.output)
    )
    assert "cast off centre 23 sts, K to last 17 sts, turn." in report.output
    assert passage.verification.most_rows_moved == (2,)


# --- shoulders that meet ----------------------------------------------------------------------


def test_back_and_front_with_the_same_sts_and_rows_get_the_same_steps() -> None:
    back = BACK.replace("6(9:9)", "9").replace("13(9:10)", "7").replace("SIZES 8(10:12)\n", "")
    front = FRONT.replace("Work 3 rows", "Work 1 row")
    report = rewrite(back.replace("31(33:35)", "31") + front, EVEN)
    worked = {p.edges[0].even_steps for p in report.passages}
    assert worked == {((8,), (9,), (8,))}
    assert "steps-unlike" not in {d.code for d in report.diagnostics}


def test_steps_that_are_even_stay_only_where_they_all_agree() -> None:
    back = BACK.replace("6(9:9)", "8").replace("13(9:10)", "9").replace("SIZES 8(10:12)\n", "")
    back = back.replace("31(33:35)", "31")
    front = FRONT.replace("Work 3 rows", "Work 1 row").replace("off 6", "off 8")
    alike = rewrite(back + front.replace("rem 13", "rem 9"), EVEN)
    assert [p.edges[0].even_steps for p in alike.passages] == [None, None]
    report = rewrite(back + front.replace("off 8", "off 9", 1).replace("rem 13", "rem 8"), EVEN)
    assert [p.edges[0].even_steps for p in report.passages] == [((8,), (9,), (8,))] * 2


def test_steps_that_are_even_stay_only_where_they_use_every_row() -> None:
    back = BACK.replace("6(9:9)", "8").replace("13(9:10)", "9").replace("SIZES 8(10:12)\n", "")
    front = FRONT.replace("off 6", "off 8").replace("rem 13", "rem 9")  # a row between is left out
    report = rewrite(back.replace("31(33:35)", "31") + front, EVEN)
    assert [p.edges[0].even_steps for p in report.passages] == [None, ((6,), (6,), (7,), (6,))]
    assert "steps-unlike" in {d.code for d in report.diagnostics}


def test_shoulders_whose_rows_offer_different_numbers_of_steps_are_named() -> None:
    back = BACK.replace("6(9:9)", "6").replace("13(9:10)", "13").replace("SIZES 8(10:12)\n", "")
    report = rewrite(back.replace("31(33:35)", "31") + FRONT, EVEN)
    (note,) = [d for d in report.diagnostics if d.code == "steps-unlike"]
    assert note.severity == "warning"
    assert "(8 + 9 + 8 and 6 + 6 + 7 + 6): their rows offer different numbers" in note.message


def test_a_partner_that_is_not_rewritten_is_named() -> None:
    back = BACK.replace("6(9:9)", "6").replace("13(9:10)", "13").replace("SIZES 8(10:12)\n", "")
    report = rewrite(
        back.replace("31(33:35)", "31") + FRONT.replace("work to end", "frobnicate"), EVEN
    )
    assert [p.status for p in report.passages] == ["rewritten", "question"]
    notes = [d for d in report.diagnostics if d.code == "steps-unlike"]
    assert ["of the left front is not understood" in d.message for d in notes] == [True]


# --- the corpus -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("number", "draft"), list(enumerate(all_drafts())), ids=[d.name for d in all_drafts()]
)
def test_every_draft_is_spread_proven_and_stable(number: int, draft: SyntheticDraft) -> None:
    """A turning method and a join a draft, in turn: twenty drafts have every pair."""
    usual = {p.id: p.status for p in rewritten(draft.path)[0].passages}
    for join in JOINS if SWEEP else (JOINS[number % len(JOINS)],):
        options = Options(respace=True, turn=TURNS[number % 5], shoulders=join)
        report, revised = rewrite_bytes(draft.data, draft.path.name, options)
        for passage in report.passages:
            assert passage.status == "rewritten" or usual[passage.id] != "rewritten"
            if passage.status == "rewritten" and passage.verification.against == "even steps":
                assert "steps-spread" in {d.code for d in report.diagnostics}
                assert any(passage.verification.most_rows_moved)
        assert rewrite_bytes(revised, draft.path.name, options)[1] == revised


def test_the_command_takes_the_option(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    draft = tmp_path / "draft.txt"
    draft.write_text(BACK, encoding="utf-8")
    assert main(["rewrite", str(draft), "--respace", "--no-markers"]) == 0
    out, err = capfdbinary.readouterr()
    assert out.decode() == rewrite(BACK, EVEN).output
    assert "the greatest difference is 2 rows (size 8)" in err.decode()
