"""Forms in which steps are told, beside those of the corpus: read right, asked about, or kept whole."""

from __future__ import annotations

import pytest

from tests.onepassage import passage, revised, steps

BACK = "BACK\nWork until armhole measures 20 cm.\nShape shoulders\n"
FRONT = "LEFT FRONT\nWork until armhole measures 20 cm.\nShape shoulder\n"
PAIR = "Next row (RS): Cast off 8 sts, k to end.\nNext row: Cast off 8 sts, p to end.\n"
REST = " Cast off rem 30 sts."


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        (
            "Cast off 8 sts at beg of this and the following row, then 7 sts at beg of "
            "next 2 rows.",
            [8, 7],
        ),
        (
            "Cast off 8 sts at beg of that row and the next, 7 sts at beg of the two rows after.",
            [8, 7],
        ),
        (
            "Cast off 8 sts at beg of next row and of the row following, then 7 at beg of "
            "next 2 rows.",
            [8, 7],
        ),
        ("Cast off 8 sts at beg of next 2 rows, and 7 sts at beg of the two after that.", [8, 7]),
        ("On the next two rows cast off 8 sts at the beginning, on the next two, 7.", [8, 7]),
        (
            "Cast off 8 sts at the beginning of the next two needles, 7 at the beginning "
            "of the two needles following.",
            [8, 7],
        ),
        ("Cast off on both sides at the beginning of the rows 1 x 8 sts and 2 x 7 sts.", [8, 7, 7]),
        ("* Cast off 8 sts, k to end; rep from * on each of the next 3 rows.", [8, 8]),
        (
            "Proceed thus:\u2014 1st and 2nd rows.\u2014Cast off 8, work to end. 3rd and "
            "4th rows.\u2014Cast off 7, work to end.",
            [8, 7],
        ),
        (
            "RS: Cast off 8 sts, k to end. WS: Cast off 8 sts, p to end. RS: Cast off 7 "
            "sts, k to end. WS: Cast off 7 sts, p to end.",
            [8, 7],
        ),
        ("Starting on the next WS row, cast off 8 sts at beg of every row, for 4 rows.", [8, 8]),
    ],
)
def test_steps_at_both_edges(told: str, expected: list[int]) -> None:
    assert steps(BACK + told + REST) == expected


@pytest.mark.parametrize(
    "end",
    ["Cast off the 30 centre sts.", "Next row: Cast off centre 30 sts.", "BO 30 back neck sts."],
)
def test_the_sts_of_the_neck_called_by_name_are_the_rest(end: str) -> None:
    assert steps(f"{BACK}Cast off 8 sts at beg of next 4 rows. {end}") == [8, 8]


def test_the_centre_is_no_rest_where_the_sides_go_on() -> None:
    told = "Cast off 8 sts at beg of next 4 rows. Cast off centre 20 sts. "
    sides = "Work each side separately and cast off 6 sts at beg of next row."
    assert passage(BACK + told + sides).status != "rewritten"


@pytest.mark.parametrize(
    ("told", "pairs"),
    [
        ("Work these 2 rows 3 times in all.", 3),
        ("Work these 2 rows a total of 3 times.", 3),
        ("Rep these 2 rows twice more.", 3),
        ("Rep last 2 rows 3 times.", 4),
    ],
)
def test_how_often_rows_are_repeated(told: str, pairs: int) -> None:
    assert steps(BACK + PAIR + told + REST) == [8] * pairs


@pytest.mark.parametrize(
    "told", ["Rep last 2 rows 3 times altogether.", "Work these 2 rows 3 times."]
)
def test_times_that_can_be_meant_either_way_are_asked_about_or_settled_by_the_sum(
    told: str,
) -> None:
    assert passage(BACK + PAIR + told + REST).status == "question"
    counted = BACK.replace("BACK\n", "BACK\n").replace("Shape", "78 sts.\nShape")
    assert steps(counted + PAIR + told + REST) == [8, 8, 8]


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        (
            "Cast off 8 sts at beg of next and foll alt rows twice in all. Work 1 row. "
            "Cast off rem 7 sts.",
            [8, 8, 7],
        ),
        ("BO at armhole edge on RS rows: 8 sts, 8 sts, 7 sts. Fasten off.", [8, 8, 7]),
        (
            "Next RS row: BO 8 sts at armhole edge. Repeat this bind-off on the next 2 RS "
            "rows. Fasten off.",
            [8, 8, 8],
        ),
        (
            "Cast off 8 sts at armhole edge in each of next 3 rows beginning at that edge. "
            "Fasten off.",
            [8, 8, 8],
        ),
        (
            "Cast off 8 sts at armhole edge every other row until all are worked off (32 sts).",
            [8, 8, 8, 8],
        ),
        (
            "With R.S. facing, cast off 8 sts at beg of next and foll alt row. Work 1 row. "
            "Cast off rem 7 sts.",
            [8, 8, 7],
        ),
    ],
)
def test_steps_at_one_edge(told: str, expected: list[int]) -> None:
    assert steps(FRONT + told) == expected


@pytest.mark.parametrize(
    ("told", "kept"),
    [
        (
            "Cast off for the shoulders at 20 cm 8 sts at beg of next 4 rows.",
            "At 20 cm, shape the shoulders:",
        ),
        (
            "Close, at the same height as the front, 8 sts at beg of next 4 rows.",
            "At the same height as the front, ",
        ),
        (
            "Cast off at armhole height 18 cm in every row at the beginning 8 sts 4 times.",
            "At armhole height 18 cm, ",
        ),
    ],
)
def test_a_length_among_the_words_of_the_first_step_is_kept(told: str, kept: str) -> None:
    report = revised(f"BACK\nShape shoulders\n{told}{REST}")
    assert report.passages[0].status == "rewritten"
    assert kept in report.output


MARKED = """LEFT FRONT
Work 4 rows.
{before}Work straight until armhole measures 20 cm, ending at armhole edge.
Shape shoulder
{at}Next row: Cast off 9 sts, work to end. Next row: Work to end. Cast off rem 9 sts.**
RIGHT FRONT
Work 5 rows. Work as left front from ** to **."""


def test_a_mark_to_which_other_words_repeat_is_kept() -> None:
    report = revised(MARKED.format(before="**", at=""))
    assert report.passages[0].status == "rewritten"
    assert "Cast off all 18 sts.**" in report.output


def test_a_mark_among_the_rows_is_asked_about() -> None:
    report = revised(MARKED.format(before="", at="**"))
    assert [p.status for p in report.passages] == ["question"]
    assert report.output.strip() == MARKED.format(before="", at="**")


def test_a_row_told_for_the_sts_in_work_is_the_row_before() -> None:
    told = "RIGHT SHOULDER\nP these 27 sts. Cast off 9 sts at shoulder edge on next and foll 2 alt rows."
    found = passage(f"{told} Fasten off.")
    assert found.status == "left"


def test_a_row_back_over_the_sts_in_work_takes_the_first_turn() -> None:
    told = "Cast off 9 sts. at shoulder edge on next and foll 2 alt rows. Fasten off."
    report = revised(f"RIGHT SHOULDER\nK back on the 27 sts. of the right shoulder. {told}")
    assert report.passages[0].status == "rewritten"
    assert "K back on the 27 sts. of the right shoulder to last 9 sts., turn." in report.output


def test_a_divided_shoulder_takes_the_place_of_a_plain_row() -> None:
    text = """FRONT
Work 1 row, ending with RS facing for next row.
Shape shoulders and neck
Next row (RS): Cast off 8 sts, K 11 (12 sts on right needle), turn and leave rem sts on a holder.
Cast off 4 sts at beg of next row. Cast off rem 8 sts.
With RS facing, join new yarn to rem sts, cast off centre 27 sts, K to end. Work symmetrically."""
    report = revised(text)
    assert report.passages[0].status == "rewritten", report.passages[0].reason
    assert "Work 1 row" not in report.output
    assert "K until there are 20 sts on right needle" in report.output


def test_sizes_told_in_groups() -> None:
    found = passage(
        "BACK\nShape shoulders: sizes 1-2 only: BO 7 (8) sts at beg of next 4 rows. Sizes 3-4 only: "
        "BO 6 (7) sts at beg of next 6 rows. All sizes: BO rem 34 (34, 36, 36) sts."
    )
    assert found.status == "rewritten", found.reason
    assert [[n for n in size if n] for size in zip(*found.edges[0].steps, strict=True)] == [
        [7, 7], [8, 8], [6, 6, 6], [7, 7, 7],
    ]  # fmt: skip


@pytest.mark.parametrize(
    "told",
    [
        "Bind off at the beginning of every row from the armhole 8 sts 2 times and 7 sts 1 time.",
        "Bind off for the shoulder at the beg of each row from the armhole: 8 sts twice and 7 sts once.",
        "On every row from the armhole edge cast off 2 x 8 sts and 1 x 7 sts.",
        "Bind off for shoulder from RS, i.e. at the beginning of every row from the armhole: 8 sts 2 "
        "times and 7 sts 1 time.",
        "Bind off for shoulder from RS, i.e. at start of each row from the arm side: 2x8 sts, 1x7 sts.",
    ],
)
def test_every_row_from_the_armhole_is_every_other_row(told: str) -> None:
    found = passage(FRONT + told)
    assert found.status == "rewritten", found.reason
    (edge,) = found.edges
    assert [n for row in edge.steps for n in row] == [8, 8, 7]
    assert edge.first_bind_off_side in (None, "RS")
    assert revised(FRONT + told).output.count("turn.") == 2


@pytest.mark.parametrize(
    "needle", ["right-hand needle", "the right-hand needle", "the right hand pin"]
)
def test_the_needle_that_sts_are_on_is_no_edge(needle: str) -> None:
    report = revised(
        f"""FRONT
Work 1 row, ending with RS facing for next row.
Shape shoulders and neck
Next row: Cast off 8 sts, K until there are 12 sts on {needle}, turn and leave rem sts on a holder.
Cast off 4 sts at beg of next row. Cast off rem 8 sts.
With RS facing, join new yarn to rem sts, cast off centre 27 sts, K to end. Complete to match first side."""
    )
    assert report.passages[0].status == "rewritten", report.passages[0].reason
    assert "20 sts on" in report.output


@pytest.mark.parametrize(
    "told",
    [
        "cast off at both sides 8 sts at the beginning of the next 2 rows, then 2 x 7 sts in every 2nd row.",
        "cast off 8 sts on each side at beg of next 2 rows, then twice 7 sts in every 2nd row.",
    ],
)
def test_how_often_told_before_the_sts_belongs_to_them(told: str) -> None:
    assert steps(
        f"BACK\nAt 20 cm armhole height, after a WS row, 74 sts, {told} Cast off the remaining 30 sts."
        "\nJoin the shoulders."
    ) == [8, 7, 7]


def test_a_piece_worked_to_the_armholes_is_bound_off_for_them() -> None:
    armhole, shoulder = revised(
        """FRONT
Work as for back to the armholes, ending with a p. row.
Cast off 7 sts. at the beg. of the next 2 rows. 106 sts.
Divide for Neck.\u2014Next row: K.2 tog., k.51, turn and leave the remaining sts. on a spare needle.
Dec. 1 st. at armhole edge on the next 4 rows until 26 sts. remain.
Work straight until armhole measures 9 ins., ending at armhole edge.
Shape Shoulder.-Cast off 9 sts. at the beg. of the next and following alt. row. Work 1 row. Cast off the
remaining 8 sts."""
    ).passages
    assert (armhole.kind, shoulder.kind) == ("armhole", "shoulder")


def test_a_note_on_a_lace_whose_yarn_overs_are_written_with_points() -> None:
    report = revised(
        "Lace: 1st row (right side).-K. 1, * wl. fwd., k. 2 tog., k. 1; rep. from * to last 2 sts., k. 2."
        "\n2nd row.-Purl.\nBACK\nWork in the pattern until the armholes measure 7 inches.\nTo shape the "
        "shoulders, cast off 10 sts. at the beg. of each of the next six rows. Cast off."
    )
    assert report.passages[0].status == "rewritten", report.passages[0].reason
    assert "wl. fwd., work both plain" in report.output


@pytest.mark.parametrize("cut", ["Cut yarn.", "Break off wool."])
def test_the_yarn_is_still_cut_before_the_sts_that_remain(cut: str) -> None:
    report = revised(
        "BACK\nWork until armholes measure 20 cm, ending with a WS row.\nShape shoulders\n"
        f"Cast off 8 sts at beg of next 4 rows.\n{cut} Leave rem 30 sts on a holder."
    )
    assert report.passages[0].status == "rewritten", report.passages[0].reason
    assert report.output.count(f"{cut} Leave rem 30 sts on a holder.") == 1
