"""Random shoulders told in words come out as the short rows that their numbers ask for."""

from __future__ import annotations

from itertools import accumulate

from hypothesis import given, settings
from hypothesis import strategies as st

from rewriter import rewrite
from rewriter.edits import Edit, apply, moved, ordered, untouched_outside
from rewriter.options import TURNS, Options, Turn
from rewriter.spans import Span

SIZES = st.integers(1, 6)
VERBS = st.sampled_from(["cast off", "bind off", "BO"])
LISTS = st.sampled_from([("(", ":", ")"), (" (", ", ", ")"), (" [", ": ", "]"), (" (", "-", ")")])
SIDES = st.sampled_from(["RS", "WS"])


@st.composite
def shoulders(draw: st.DrawFn) -> tuple[str, list[list[int]], str]:
    """Draw a back: its text, the steps of each size, and the side of the lead-in."""
    sizes = draw(SIZES)
    k = draw(st.integers(2, 5))
    steps = [[draw(st.integers(2, 30)) for _ in range(sizes)] for _ in range(k)]
    neck = [draw(st.integers(11, 60)) for _ in range(sizes)]
    verb, (opening, separator, closing) = draw(VERBS), draw(LISTS)
    side = draw(SIDES)

    def listed(values: list[int]) -> str:
        if len(values) == 1:
            return str(values[0])
        return f"{values[0]}{opening}{separator.join(map(str, values[1:]))}{closing}"

    chain = ", then ".join(f"{listed(step)} sts at beg of next 2 rows" for step in steps)
    text = (
        f"SIZES {listed([8 + 2 * i for i in range(sizes)])}\n\nBACK\n\n"
        f"Work straight until armholes measure 20 cm, ending with a {side} row.\n\n"
        f"Shape shoulders\n{verb[0].upper() + verb[1:]} {chain}.\n"
        f"{verb[0].upper() + verb[1:]} rem {listed(neck)} sts.\n"
    )
    return text, [list(per_size) for per_size in zip(*steps, strict=True)], side


@settings(max_examples=60, deadline=None)
@given(shoulders(), st.sampled_from(TURNS))
def test_any_back_told_in_words_is_rewritten_and_proven(
    draft: tuple[str, list[list[int]], str], turn: Turn
) -> None:
    text, steps, side = draft
    report = rewrite(text, Options(turn=turn))
    (passage,) = report.passages
    assert passage.status == "rewritten", (text, passage.reason)
    assert passage.verification.result == "same"
    for i, sts in enumerate(steps):
        totals = list(accumulate(sts))
        for number, edge in enumerate(passage.edges):
            turns = [(t.row, t.unworked, t.side) for t in edge.turns[i]]
            turning = side if number == 0 else ("WS" if side == "RS" else "RS")
            assert turns == [
                (2 * n + number - 1, total, turning) for n, total in enumerate(totals[:-1])
            ]
            assert edge.together[i] == totals[-1]
    assert rewrite(report.output, Options(turn=turn)).output == report.output


EDITS = st.lists(
    st.tuples(st.integers(0, 40), st.integers(0, 6), st.text("xyz", max_size=5)), max_size=5
)


@given(st.text("ab\r\n", min_size=40, max_size=60), EDITS)
def test_edits_leave_everything_outside_them_alone(
    text: str, wanted: list[tuple[int, int, str]]
) -> None:
    edits: list[Edit] = []
    at = 0
    for start, length, replacement in sorted(wanted):
        if start >= at and start + length <= len(text):
            edits.append(Edit(Span(start, start + length), replacement, "test"))
            at = start + length + 1
    made = ordered(edits)
    revised = apply(text, made)
    assert untouched_outside(text, revised, made)
    for edit in made:
        assert edit.replacement in moved(made, edit.span).of(revised)
