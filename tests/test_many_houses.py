"""Forms of many houses: each told in several wordings, all of the same steps."""

from __future__ import annotations

import pytest

from rewriter.report import Report
from tests.onepassage import revised

Steps = list[tuple[int, ...]]


def shoulders(report: Report) -> list[Steps]:
    """Return for every shoulder that was rewritten the steps of its first edge, one tuple a size."""
    found = [p for p in report.passages if p.status == "rewritten"]
    return [[tuple(n for n in s if n) for s in zip(*p.edges[0].steps, strict=True)] for p in found]


BOTH_EDGES = """Size: 2(4)6(8) years

BACK
Cast on 50(54)60(64) sts. Work in stockinette.
When the armhole measures 13(14)15(16) cm, {told}
Put the remaining 22(24)26(26) sts on a thread.

Sew the shoulders together.
"""


@pytest.mark.parametrize(
    "told",
    [
        "bind off for the shoulders in both sides on every 2nd row 7(7)8(9)+7(8)9(10) sts.",
        "bind off for the shoulders 7(7)8(9)+7(8)9(10) sts in both sides on every 2nd row.",
        "7(7)8(9)+7(8)9(10) sts are bound off for the shoulders in both sides, on every 2nd row.",
        "7(7)8(9), 7(8)9(10) sts are bound off for the shoulders in both sides, on every 2nd row.",
        "7(7)8(9) and 7(8)9(10) sts are bound off in both sides on every 2nd row for the shoulders.",
        "on every 2nd row 7(7)8(9) + 7(8)9(10) sts are bound off for the shoulder in both sides.",
        "bind off 7(7)8(9) sts + 7(8)9(10) sts on every 2nd row in both sides for the shoulders.",
        "for the shoulders 7(7)8(9)+7(8)9(10) sts are to be bound off at both sides on alternate rows.",
        "cast off for shoulders in each side on alternate rows 7 (7) 8 (9) + 7 (8) 9 (10) sts.",
        "the shoulders are bound off in both sides with 7(7)8(9)+7(8)9(10) sts on every 2nd row.",
        "7(7)8(9)+7(8)9(10) sts are decreased in both sides on every 2nd row for the shoulders, by "
        "binding off.",
    ],
)
def test_sts_before_their_verb(told: str) -> None:
    report = revised(BOTH_EDGES.format(told=told))
    assert shoulders(report) == [[(7, 7), (7, 8), (8, 9), (9, 10)]]


RIGHT_FRONT = """Directions are for size 38. Changes for sizes 40, 42 and 44 are in parentheses.

RIGHT FRONT: Work in stockinette st (k 1 row, p 1 row) until there are 24 (25-27-28) sts. and armhole
measures 9 inches.
SHOULDER: {told}

FINISHING: Sew shoulder seams.
"""


@pytest.mark.parametrize(
    "told",
    [
        "Starting at arm edge (p row), bind off {n}, p across; k back; bind off {n}, p across; k back; {r}",
        "Beginning at arm edge (a purl row), bind off {n}, p across; k back; bind off {n}, p across; "
        "k back; {r}",
        "Starting at arm edge with a p row, bind off {n}, p across; k back; bind off {n}, p across; "
        "k back; {r}",
        "At arm edge, on a p row, bind off {n}, p to end; k 1 row; bind off {n}, p to end; k 1 row; {r}",
        "On the next row (p row) bind off {n}, p across, k back, bind off {n}, p across, k back, {r}",
        "Bind off {n} at arm edge (p row), p across; k back; bind off {n}, p across; k back; {r}",
        "From arm edge (purl row) bind off {n} and p across; k back; rep these 2 rows once; {r}",
    ],
)
def test_a_row_named_by_its_stitch_in_passing(told: str) -> None:
    told = told.format(n="8 (8-9-9) sts.", r="bind off remaining 8 (9-9-10) sts.")
    report = revised(RIGHT_FRONT.format(told=told))
    assert shoulders(report) == [[(8, 8, 8), (8, 8, 9), (9, 9, 9), (9, 9, 10)]]
    assert report.passages[0].edges[0].first_bind_off_side == "WS"


GATHERED = """Sizes 1 (2, 3, 4)

BACK

Left shoulder

Work on 22 (23, 24, 26) sts until armhole measures 8 inches, ending with a WS row.
{told}

Sew shoulder seams.
"""


@pytest.mark.parametrize(
    "told",
    [
        "Rows 1, 3 and 5 (RS): {n}\nRows 2, 4 and 6: Purl.\nRow 7: {r}",
        "Rows 1, 3 and 5 (RS): {n}\nRows 2, 4 and 6 (WS): Purl to end.\n{r}",
        "1st, 3rd and 5th rows: {n}\n2nd, 4th and 6th rows: Purl.\n7th row: {r}",
        "Rows 1 and 3 and 5 - {n}\nRows 2 and 4 and 6 - Purl.\nRow 7 - {r}",
        "Rows 1, 3 and 5 (RS): {n}\nRows 2 and 4: Purl.\nRow 6: Purl.\nRow 7: {r}",
        "Rows 1, 3, 5 (RS): {n}\nWS rows: Purl.\nRow 7: {r}",
        "Rows 1, 3 and 5 (RS): {n}\nPurl all WS rows.\nRow 7: {r}",
    ],
)
def test_rows_gathered_under_one_label(told: str) -> None:
    steps = {"n": "BO 6 (6, 6, 7) sts, knit to end.", "r": "BO the remaining 4 (5, 6, 5) sts."}
    report = revised(GATHERED.format(told=told.format(**steps)))
    assert shoulders(report) == [[(6, 6, 6, 4), (6, 6, 6, 5), (6, 6, 6, 6), (7, 7, 7, 5)]]
    assert report.passages[0].edges[0].first_bind_off_side == "RS"


@pytest.mark.parametrize(
    "told",
    [
        "Rows 1, 3 and 5 (RS): {n}\nRow 7: {r}",
        "Rows 1, 3 and 5 (RS): {n}\nRows 4 and 6: Purl.\nRow 7: {r}",
        "Rows 1, 3 and 5 (RS): {n}\nPurl all RS rows.\nRow 7: {r}",
    ],
)
def test_rows_gathered_with_some_untold_are_asked_about(told: str) -> None:
    steps = {"n": "BO 6 (6, 6, 7) sts, knit to end.", "r": "BO the remaining 4 (5, 6, 5) sts."}
    report = revised(GATHERED.format(told=told.format(**steps)))
    assert [p.status for p in report.passages] != ["rewritten"]


BANDED = """SIZES 8 (10-12-14)
The garter stitch band is worked in one with each front.

RIGHT FRONT
Keeping 5 sts. at front edge in garter stitch, proceed in stocking stitch until there are 17
(18-19-20) sts. and armhole measures same as Back, ending at armhole edge.
To shape shoulder: {told} Continue in garter stitch on these 5 sts. until strip reaches to centre back
of neck. Cast off.

TO MAKE UP: Sew shoulder seams.
"""


@pytest.mark.parametrize(
    "told",
    [
        "Next row: {a} Purl to last 5 sts. K5. Next row: Knit. Next row: {b} K to end. 5 sts. on needle.",
        "Next row: {a} Purl to last 5 sts., K5. Next row: Knit. Next row: {b} K5.",
        "Next row: {a} Purl to band, K5. Next row: Knit. Next row: {b} K5.",
        "1st row: {a} P. to last 5 sts. K.5. 2nd row: K. 3rd row: {b} K. rem. 5 sts.",
        "Next row: {a} Purl to last 5 sts. Knit 5. Next row: Knit. Next row: {b} Knit 5. 5 sts. remain.",
        "Next row (wrong side): {a} Purl to the last 5 sts. Knit last 5 sts. Next row: Knit. Next "
        "row: {b} Knit to end.",
    ],
)
def test_rows_that_end_in_a_band(told: str) -> None:
    report = revised(
        BANDED.format(told=told.format(a="Cast off 6 (6-7-7) sts.", b="Cast off 6 (7-7-8) sts."))
    )
    assert shoulders(report) == [[(6, 6), (6, 7), (7, 7), (7, 8)]]
    assert report.passages[0].edges[0].first_bind_off_side == "WS"
    assert report.output is not None
    assert "DS, work to end" in report.output  # in the stitches of the piece and of its band


WITH_NECK = """SIZES: 36/38 (40/42) 44/46.

BACK: Work in stocking stitch, the 1st row = RS row, until 85 (91) 97 sts are on the needle. In 56 (58) 59
cm = 152 (156) 160 rows from the waistband {told}

MAKING UP: Close the shoulder seams.
"""


@pytest.mark.parametrize(
    "told",
    [
        "{steps}. At the same time with the 1st shoulder bind-off {centre} and finish both sides "
        "separately. At "
        "the inner edge bind off 1x4 sts in the 2nd row for the rounding. With this the sts of each "
        "side are used up.",
        "{steps}. At the same time as the 1st shoulder decrease {centre} and finish both sides "
        "separately, binding "
        "off at the neck edge 1x4 sts in the 2nd row. The sts of both sides are now worked off.",
        "{steps}. At the same time with the 1st shoulder bind-off {centre} and continue each side "
        "separately. In "
        "the 2nd row bind off 1x4 sts at the neck edge. So all sts are used up.",
        "{steps}. With the 2nd shoulder bind-off {centre} and finish both sides separately; bind off "
        "1x4 sts at "
        "the inner edge in the 2nd row. Thus the shoulder sts are used up.",
    ],
)
def test_a_neck_with_a_step_and_its_rounding_in_the_2nd_row(told: str) -> None:
    steps = (
        "bind off for the shoulder slopes at both edges 1x9 and in every 2nd row 2x8 (2x9) 2x10 sts"
    )
    centre = "bind off the centre 27 (29) 31 sts for the neck"
    report = revised(WITH_NECK.format(told=told.format(steps=steps, centre=centre)))
    assert shoulders(report) == [[(9, 8, 8), (9, 9, 9), (9, 10, 10)]]


NINETY_FOUR = """THE BACK.

Cast on 94 sts. Work straight in stocking-stitch for 7 inches, finishing on a purl row.
To slope the shoulders.\u2014{told} There should now be 32 sts.; cast these off for the back of the neck.

TO MAKE UP.\u2014Join the shoulder seams.
"""


@pytest.mark.parametrize(
    "told",
    [
        "On each of the next six rows cast off 8 sts. before working to the end; do the like with 7 sts. on "
        "the two rows after.",
        "Cast off 8 sts. at the beginning of each of the next six rows, and do the same with 7 sts. "
        "on the two "
        "rows following.",
        "Over the next six rows cast off 8 sts. at the start of each; over the two rows after, 7 sts.",
        "Cast off 8 sts. at the start of the next six rows; the like with 7 sts. at the start of the "
        "two rows "
        "after.",
        "In each of the next six rows cast off 8 sts. before working across; do this with 7 sts. in the next "
        "two rows.",
        "On each of the next six rows cast off 8 sts. before finishing the row; likewise 7 sts. on "
        "the two rows "
        "after.",
    ],
)
def test_the_like_with_other_sts_on_the_rows_after(told: str) -> None:
    assert shoulders(revised(NINETY_FOUR.format(told=told))) == [[(8, 8, 8, 7)]]


SECOND_SIDE = """THE FRONT.

Fasten the wool at the neck edge to the sts. on the spare needle and, beginning with a purl row, take 2
tog. at the neck edge on each of the next 7 rows (31 sts.). Work straight in stocking-stitch until the
armhole matches the first one, finishing with a purl row{led}
Now cast off 8 sts., k. to the end; p. back; cast off 8 sts., k. to the end; p. back; cast off 8 sts., k.
to the end; p. back; cast off 7 sts.

TO MAKE UP.\u2014Join the shoulder seams.
"""


@pytest.mark.parametrize(
    ("led", "then"),
    [
        (", which will bring you to the armhole.", ", which will bring you to the neck."),
        (", which brings you to the armhole edge.", ", which brings you to the neck edge."),
        ("; this brings you to the armhole.", "; this brings you to the neck."),
        (". You are now at the armhole.", ". You are now at the neck."),
        (". You are now at the armhole edge.", ". You are now at the neck edge."),
    ],
)
def test_a_row_that_brings_to_the_armhole(led: str, then: str) -> None:
    report = revised(SECOND_SIDE.format(led=led))
    assert shoulders(report) == [[(8, 8, 8, 7)]]
    assert report.output is not None
    assert f"finishing with a knit row{then}" in report.output


STROKES = """Age: 4 (6/8/10) years

BACK
Work in stocking stitch. At 23 cm of total height 48 (54/58/64) sts are left.
SHOULDERS: {told}
Put the remaining 16 (18/20/22) sts on a holder.

MAKING UP
Sew the shoulders.
"""


@pytest.mark.parametrize(
    "told",
    [
        "at cm 37 (40/43/46) of total height {how}, every 2 rows, 5-5-6 (6-6-6 / 6-6-7 / 7-7-7) sts.",
        "at 37 (40/43/46) cm of total height {how}, every 2 rows, 5-5-6 (6-6-6/6-6-7/7-7-7) sts.",
        "at cm 37 (40-43-46) of total height {how}, every 2 rows, 5-5-6 (6-6-6; 6-6-7; 7-7-7) sts.",
        "when work measures cm 37 (40/43/46), {how}, every 2 rows, 5, 5, 6 (6, 6, 6 / 6, 6, 7 / 7, "
        "7, 7) sts.",
        "at a total height of cm 37 (40/43/46) {how} every 2 rows 5+5+6 (6+6+6 / 6+6+7 / 7+7+7) sts.",
        "at cm 37 (40/43/46) {how} every 2 rows 5-5-6 (6-6-6) (6-6-7) (7-7-7) sts.",
        "at 37 cm {how} every 2 rows 5-5-6 / 6-6-6 / 6-6-7 / 7-7-7 sts.",
        "at cm 37 (40/43/46) of height, {how}, on alternate rows, 5-5-6 sts (6-6-6 sts / 6-6-7 sts / "
        "7-7-7 sts).",
    ],
)
def test_sizes_parted_by_strokes_and_a_unit_before_its_number(told: str) -> None:
    report = revised(STROKES.format(told=told.format(how="bind off on both sides")))
    assert shoulders(report) == [[(5, 5, 6), (6, 6, 6), (6, 6, 7), (7, 7, 7)]]


LEANING = """Sizes: S (M)

BACK
Cast on 60 (64) sts. Work in stocking stitch until armhole measures 20 cm, ending with a WS row.
SHOULDERS: bind off 8 (9) sts at beg of next 2 rows and 8 sts at beg of foll 2 rows. Bind off rem 28 (30) sts.

FRONT
Work as the back to 40 cm.
NECK: K 16 (17), turn and work on these sts only until armhole measures 20 cm, ending with a WS row.
{told}
Join yarn, bind off centre sts and work the other side to match, reversing shapings.

MAKING UP
Sew the shoulders.
"""


@pytest.mark.parametrize(
    "told",
    [
        "SHOULDER: as for the back.",
        "SHOULDER: as on the back, at the same height.",
        "SHOULDERS: work as for back.",
    ],
)
def test_a_reference_alone_under_its_heading(told: str) -> None:
    assert shoulders(revised(LEANING.format(told=told))) == [[(8, 8), (9, 8)]] * 2


AT_ONCE = """Age: 4 (6/8/10) years

BACK
Work in stocking stitch. At 23 cm of total height 56 (62/66/72) sts are left.
SHOULDERS: at 37 (40/43/46) cm bind off on both sides, every 2 rows, 5-5-6 (6-6-6 / 6-6-7 / 7-7-7) sts.
NECK: at the same height as the beginning of the shoulders bind off the 16 (18/20/22) central sts, join a
second ball and go on with the two sides at the same time; after 2 rows bind off 4 sts at each neck edge.
{front}
MAKING UP
Sew the shoulders.
"""
FRONT_AT_ONCE = """
FRONT
Work as the back to 32 cm of total height.
NECK: bind off the 10 (12/14/16) central sts, join a second ball and go on with the two sides at the same
time, binding off at each neck edge, every 2 rows, 3-2-1-1 sts.
SHOULDERS: as on the back, at the same height.
"""


def test_a_neck_at_the_height_of_the_shoulders_with_a_second_ball() -> None:
    report = revised(AT_ONCE.format(front=""))
    assert shoulders(report) == [[(5, 5, 6), (6, 6, 6), (6, 6, 7), (7, 7, 7)]]


def test_a_front_worked_at_once_does_not_lean_on_rows_that_hold_a_neck() -> None:
    told = [
        p for p in revised(AT_ONCE.format(front=FRONT_AT_ONCE)).passages if p.kind == "shoulder"
    ]
    assert [p.status for p in told] == ["question"]
    assert "write its shoulders out there" in (told[0].reason or "")


FIGURES = """Gauge: 22 sts, 28 rows = 10 cm square (stockinette stitch)
{explained}

LEFT FRONT
Stockinette stitch, 52 sts.
Neck: decrease 1 st at the centre edge every 4th row 30 times. 22 sts remain, work straight to 56 rows.
Shoulder slope: at the armhole edge bind off 2-7-2, 2-8-1.

FINISHING
Back-stitch the shoulders, matching the slopes. Armholes: pick up 104 sts, 6 rounds of 1 x 1 rib, bind
off in rib.
"""


@pytest.mark.parametrize(
    "explained",
    [
        'How to read the figures: 2-1-3 means "every 2 rows, 1 stitch, 3 times".',
        "2-7-2: every 2nd row 7 sts, 2 times.",
        "Note: 2-4-3 is to be read as on every 2nd row 4 sts, three times.",
        "The first number stands for the rows, the second for the stitches, the third for the times.",
        "(2-1-3 = work 2 rows, 1 stitch, three times.)",
        "Reading the numbers: 2-3-1 = 3 stitches every 2 rows, once.",
        "Row-stitch-time.",
    ],
)
def test_figures_that_a_draft_explains_by_an_example(explained: str) -> None:
    report = revised(FIGURES.format(explained=explained))
    assert shoulders(report) == [[(7, 7, 8)]]
    assert report.output is not None
    assert "work straight to 55 rows." in report.output
    assert len(report.passages) == 1


def test_figures_that_are_not_explained_are_asked_about() -> None:
    told = revised(FIGURES.format(explained="")).passages
    assert [p.status for p in told] == ["question"]
