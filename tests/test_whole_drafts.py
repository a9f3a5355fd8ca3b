"""Forms of whole drafts: signs that other words repeat from, necks told behind the shoulder, shared sts."""

from __future__ import annotations

import pytest

from rewriter import rewrite

FRONT = """BACK
Cast on 70 (76, 82) sts. Work in st st for 40 cm.
LEFT FRONT
Cast on 24 (27, 30) sts. {before}Work in st st until armhole measures 20 cm, ending at armhole edge.
Shape shoulder: {opening}Cast off 8 (9, 10) sts at beg of next row and foll alt row.
{inside}Work 1 row. Cast off.{after}
RIGHT FRONT
Cast on 24 (27, 30) sts. {repeat}
"""


def front(before: str = "", opening: str = "", inside: str = "", after: str = "") -> str:
    return FRONT.format(
        before=before, opening=opening, inside=inside, after=after, repeat="Rep from ** to **."
    )


def test_signs_that_other_words_repeat_from_stay() -> None:
    report = rewrite(front(before="** ", after="**"))
    assert report.passages[0].status == "rewritten"
    assert report.output.count("**") == 4
    rows = report.output.split("Shape shoulder:")[1]
    assert "(RS)" not in rows and "(WS)" not in rows  # the other side works the same words


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (front(opening="** ", after="**"), "not the words before them"),
        (front(before="** ", inside="** "), "stands in the midst"),
    ],
)
def test_rows_that_cannot_be_repeated_are_left(text: str, words: str) -> None:
    report = rewrite(text)
    assert report.output == text
    assert words in (report.passages[0].reason or "")


BACK = """Sizes S (M, L)
BACK
CO 90 (96, 102) sts. Work even until armholes measure 8", ending with a WS row.
Shape shoulders: {steps}
"""


@pytest.mark.parametrize(
    "behind",
    [
        'At the same time, when armhole measures 8.5", BO center 30 sts for neck.',
        "At the same time, on the 3rd row, BO the centre 36 sts for the neck.",
    ],
)
def test_a_neck_told_behind_the_shoulder_is_asked(behind: str) -> None:
    text = BACK.format(steps=f"BO 8 (9, 10) sts at beg of next 6 rows. {behind}")
    report = rewrite(text)
    assert report.output == text
    assert report.passages[0].status == "question"


@pytest.mark.parametrize(
    ("steps", "size", "read"),
    [
        (
            "BO at each side every 2 rows the 24 (27, 30) sts of each shoulder in 3 times.",
            1,
            [9] * 3,
        ),
        ("BO at each side every 2 rows: 3x8 sts - 2x8 sts, 1x9 sts - 3x10 sts.", 1, [8, 8, 9]),
        ("BO at each side every 2 rows (2x8) 2x9 (2x10) and 1x7 sts.", 2, [10, 10, 7]),
        ("BO at both edges 8 (9, 10) sts, then in every 2nd row 2 x 7 sts.", 0, [8, 7, 7]),
    ],
)
def test_steps_told_for_the_whole_shoulder(steps: str, size: int, read: list[int]) -> None:
    report = rewrite(BACK.format(steps=f"{steps} BO rem sts for neck."))
    assert report.passages[0].status == "rewritten"
    assert [step[size] for step in report.passages[0].edges[0].steps] == read


def test_shares_that_are_not_whole_are_asked() -> None:
    steps = "BO at each side every 2 rows the 25 (27, 30) sts of each shoulder in 3 times."
    report = rewrite(BACK.format(steps=steps))
    assert report.passages[0].status == "question"
    assert "25 sts are to be bound off in 3 steps" in (report.passages[0].reason or "")


LEANS = """BACK
Cast on 80 sts. Work in st st for 30 cm.
When the armhole measures 13 cm, and the next row is from the right side, cast off for the shoulders \
on every 2nd row in both sides: 8, 8 and 8 sts.
Put the last 32 sts on a thread for the neck.

FRONT
Work as the back until 4 cm before the shoulder. Put the middle 14 sts on a thread and finish each \
side by itself. Cast off at the neck on every 2nd row 4, 3, 1, 1 sts. {shoulder}
"""


@pytest.mark.parametrize(
    ("shoulder", "kept"),
    [
        (
            "Cast off for the shoulder at the same height and in the same way as on the back.",
            "At the same height as on the back, ending at neck edge, shape the shoulder:",
        ),
        (
            "Cast off for the shoulders at the same height as on the back.",
            "At the same height as on the back, ending at neck edge, shape the shoulder:",
        ),
        (
            "Shape the shoulder at the same level as for back.",
            "Shape the shoulder at the same level as for back:",
        ),
        (
            "At the same height as on the back cast off the shoulder sts as on the back.",
            "At the same height as on the back, ending at neck edge, shape the shoulder:",
        ),
        (
            "Bind off the shoulder in the same height and manner as back.",
            "In the same height as back, ending at neck edge, shape the shoulder:",
        ),
    ],
)
def test_a_shoulder_told_by_the_back_keeps_the_height_where_it_begins(
    shoulder: str, kept: str
) -> None:
    report = rewrite(LEANS.format(shoulder=shoulder))
    assert [p.status for p in report.passages if p.kind == "shoulder"] == ["rewritten"] * 2
    assert f"4, 3, 1, 1 sts. {kept}\n" in report.output
    assert shoulder not in report.output


def test_a_shoulder_told_by_the_back_right_behind_neck_rows_is_left() -> None:
    text = LEANS.format(shoulder="Cast off for the shoulder as on the back.")
    assert rewrite(text).output == text


EDGED = """BACK
Cast on 80 sts. Work in st st for 30 cm.
{edges}
Work until armhole measures 15 cm, ending with a RS row.
Shape shoulders
BO 8 sts at beg of next 6 rows. BO rem 32 sts.
"""


@pytest.mark.parametrize(
    "edges",
    [
        "Work the first and last 4 sts of every row in garter stitch from here.",
        "Knit the 4 edge sts at each side in garter stitch.",
        "From here work 4 sts at each end in garter st.",
    ],
)
def test_edge_sts_in_another_stitch_do_not_name_the_fabric_of_the_piece(edges: str) -> None:
    report = rewrite(EDGED.format(edges=edges))
    assert report.passages[0].status == "rewritten"
    assert "(WS): DS, work to last 8 sts" in report.output
    assert "(WS): DS, knit" not in report.output


def test_a_piece_in_garter_stitch_is_knitted_on_both_sides() -> None:
    report = rewrite(EDGED.format(edges="Go on in garter stitch."))
    assert "(WS): DS, knit to last 8 sts" in report.output


GROWN = """## Back
CO 104 sts. Work st st until piece measures 24 cm, ending after a WS row.

**Sleeves**
{sleeves} 124 sts.
Work straight for 15 cm, ending after a RS row.

**Shoulders**
BO 8 sts at beg of next 8 rows, then 10 sts at beg of next 2 rows.
BO the 40 sts that are left.
"""


@pytest.mark.parametrize(
    "sleeves",
    [
        "CO 10 sts at beg of next 2 rows.",
        "Cast on 10 sts at the beginning of each of the next 2 rows.",
        "Cast on 10 sts at each side.",
    ],
)
def test_shoulders_behind_sleeves_knitted_on_to_a_body_are_shoulders(sleeves: str) -> None:
    found = rewrite(GROWN.format(sleeves=sleeves)).passages[-1]
    assert (found.kind, found.status) == ("shoulder", "rewritten")
    assert [s[0] for s in found.edges[0].steps] == [8, 8, 8, 8, 10]


def test_shoulders_in_a_sleeve_that_is_sewn_in_are_asked_about() -> None:
    found = rewrite(GROWN.format(sleeves="CO 124 sts.")).passages[-1]
    assert found.status == "question"


SIDES = """Back
Cast on 80 sts. Work in st st until armhole measures 18 cm, ending with a WS row.
Shape neck and shoulders: Next row (RS): K 26, turn and leave the rem sts on a holder. {one} Dec 1 st at \
neck edge on next 2 rows. 24 sts. Work 1 row, ending with a WS row. Bind off 8 sts at beg of next and foll \
2 alt rows. {two} With RS facing, slip centre 28 sts onto a holder, rejoin yarn to rem sts and k to end. Dec \
1 st at neck edge on next 2 rows. 24 sts. Work 1 row. Bind off 8 sts at beg of next and foll 2 alt rows.
"""


@pytest.mark.parametrize(
    ("one", "two"),
    [
        ("First side:", "Second side:"),
        ("1st shoulder -", "2nd shoulder -"),
        ("Right side of neck:", "Left side of neck:"),
        ("Right neck side:", "Left neck side:"),
        ("One side.\u2014", "Other side.\u2014"),
        ("Side 1:", "Side 2:"),
        ("Right:", "Left:"),
    ],
)
def test_both_sides_of_a_neck_told_run_in_behind_labels(one: str, two: str) -> None:
    report = rewrite(SIDES.format(one=one, two=two))
    assert [p.status for p in report.passages] == ["rewritten"] * 2
    assert [[s[0] for s in p.edges[0].steps] for p in report.passages] == [[8, 8, 8]] * 2
    assert f"{one} Dec 1 st at neck edge" in report.output
    assert f"\n{two} With RS facing" in report.output
