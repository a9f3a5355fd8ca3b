"""The second side or front, where its words keep the rows of the steps: asked about, never left behind."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options

DRAFT = """Size: M (L)

Front
Cast on 80 (86) sts. Work in st st until armhole measures 4 cm, ending with a WS row. 72 (78) sts.
Divide for neck: Next row (RS): K 36 (39), turn and leave rem sts on a holder.
Dec 1 st at neck edge on every RS row until 18 (21) sts rem. Work straight until armhole measures 19 cm, \
ending with a WS row.
Shape shoulder: Cast off 6 (7) sts at beg of next and foll 2 alt rows.
{second}

Making up
{making_up}
"""
FRONTS = """Size: M (L)

Left Front
Cast on 40 (43) sts. Work in st st until armhole measures 4 cm, ending with a WS row.
Shape neck: dec 1 st at neck edge on every RS row until 18 (21) sts remain. Work straight until armhole \
measures 19 cm, ending with a WS row.
Shape shoulder: Cast off 6 (7) sts at beg of next 3 RS rows.

Right Front
{right}
"""


@pytest.mark.parametrize(
    "second",
    [
        "Rejoin yarn at neck edge and work 2nd side as 1st, but shape shoulder on WS rows.",
        "Finish the other side the same, with the shoulder steps on purl rows.",
        "Rejoin yarn at neck, k to end. Work straight until armhole measures 19 cm, ending with a RS row. "
        "Shape shoulder as first side.",
    ],
)
def test_rows_of_a_second_side_are_asked_about(second: str) -> None:
    report = rewrite(DRAFT.format(second=second, making_up="Join shoulder seams."))
    (shoulder,) = (p for p in report.passages if p.kind == "shoulder")
    assert shoulder.status == "question"
    assert report.output == DRAFT.format(second=second, making_up="Join shoulder seams.")


def test_a_second_side_that_mirrors_the_first_is_told_its_rows() -> None:
    second = "Rejoin yarn to rem sts and complete to match first side, reversing shapings."
    report = rewrite(DRAFT.format(second=second, making_up="Join shoulder seams."))
    (shoulder,) = (p for p in report.passages if p.kind == "shoulder")
    assert shoulder.status == "rewritten"
    assert "On this side, end the straight rows before the shoulder with a WS row" in report.output


@pytest.mark.parametrize(
    "right",
    [
        "Work as left front until 18 (21) sts remain, then work straight to shoulder, ending with a RS row. "
        "Cast off as for left front.",
        "Work as left front until armhole measures 19 cm, ending with a RS row. Shape shoulder as for left "
        "front.",
    ],
)
def test_a_front_told_by_the_other_ones_shoulder_keeps_both(right: str) -> None:
    report = rewrite(FRONTS.format(right=right))
    assert {p.status for p in report.passages if p.kind == "shoulder"} == {"question"}
    assert report.output == FRONTS.format(right=right)


@pytest.mark.parametrize(
    ("making_up", "named"),
    [
        ("Backstitch shoulders, taking care to join stepped edges smoothly.", True),
        ("Sew shoulders, hiding the stair steps inside the seam.", True),
        ("Sew shoulders. Repeat these steps for the sleeves.", False),
    ],
)
def test_steps_spoken_of_in_the_making_up_are_named(making_up: str, named: bool) -> None:
    second = "Rejoin yarn to rem sts and complete to match first side, reversing shapings."
    report = rewrite(DRAFT.format(second=second, making_up=making_up), Options(shoulders="sewn"))
    assert ("explained-in-vain" in {d.code for d in report.diagnostics}) is named


def test_stairs_that_are_matched_go_with_the_steps() -> None:
    second = "Rejoin yarn to rem sts and complete to match first side, reversing shapings."
    report = rewrite(
        DRAFT.format(second=second, making_up="Sew shoulder seams, matching stair to stair.")
    )
    assert "\nSew shoulder seams.\n" in report.output
