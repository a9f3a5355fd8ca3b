"""New text speaks as the draft does: its articles, its wool, and where the yarn of a join comes from."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.options import Options, Shoulders
from rewriter.voice import measure_voice

LIVE = Options(shoulders="three-needle", turn="german")

ARTICLED = """THE BACK
Work in stocking stitch until the armholes measure 19 cm, ending with a wrong side row. 81 sts.
At the beg of the next 4 rows cast off 8 sts, and at the beg of the following 2 rows cast off 9 sts.
Cast off the rem 31 sts.

THE LEFT FRONT
Cast off 10 sts at the neck edge, then rejoin the wool and work to the end. Work straight to the same length
as the back, ending at the armhole edge. 25 sts.
Cast off 8 sts at the beg of the next row and of the foll alt row. Work 1 row. Cast off the rem 9 sts.

TO MAKE UP
Sew the shoulder seams.
"""
BARE = """BACK
Work in st st until armholes measure 19 cm, ending with a WS row. 81 sts.
Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of foll 2 rows.
{neck}

{front}
MAKING UP
Join shoulder seams.
"""


def test_articles_are_those_of_the_draft() -> None:
    output = rewrite(ARTICLED, LIVE).output
    assert "Counting from the armhole edge, hang a removable marker" in output
    assert "slip the first st purlwise, pull the wool up and over the needle to the back" in output
    assert "to the last 8 sts (marker), turn" in output
    assert "for the back neck and fasten off through the last of them" in output
    assert "Cut the wool, leaving an end" in output
    assert (
        "Join the shoulders: with right sides together and the wool left at the armhole edge"
        in output
    )


def test_a_draft_without_articles_gets_none() -> None:
    output = rewrite(BARE.format(neck="Cast off rem 31 sts.", front=""), LIVE).output
    assert "Purl to last 8 sts (marker), turn" in output
    assert "slip first st purlwise, pull yarn up and over needle to back" in output
    assert "for back neck and fasten off through the last of them" in output


def test_rows_may_have_no_article_where_edges_have() -> None:
    voice = measure_voice(
        "K to end. P to last 3 sts. At the armhole edge and from the neck edge, over the next row and "
        "on the foll rows, at the beg of it."
    )
    assert (voice.the, voice.to_the) == ("the ", "")


@pytest.mark.parametrize(
    ("told", "yarn", "cut"),
    [
        ("Rejoin wool to rem sts.", "wool", "cut"),
        ("Break off the thread. Join in thread at neck.", "thread", "break"),
        ("Knit on.", "yarn", "cut"),
    ],
)
def test_the_yarn_is_called_as_in_the_draft(told: str, yarn: str, cut: str) -> None:
    voice = measure_voice(told)
    assert (voice.yarn, voice.cut) == (yarn, cut)


FRONT = """FRONT
Work in st st until armholes measure 19 cm, ending with a WS row. 81 sts.
Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of foll 2 rows.
Leave rem 31 sts on a holder.
"""
LEFT_FRONT = """LEFT FRONT
Work in st st until armhole measures 19 cm, ending with a WS row. 25 sts.
Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 9 sts.
"""
CAST_OFF, HELD = "Cast off rem 31 sts.", "Leave rem 31 sts on a holder."


@pytest.mark.parametrize(
    ("neck", "front", "words"),
    [
        (
            CAST_OFF,
            "",
            "RS together, join yarn at the armhole edge and work a three-needle cast-off",
        ),
        (
            CAST_OFF,
            LEFT_FRONT,
            "RS together and the yarn left at the armhole edge, work a three-needle",
        ),
        (
            HELD,
            FRONT,
            "left at the armhole edge, or new yarn where none is left, work a three-needle",
        ),
    ],
)
def test_a_live_join_says_where_its_yarn_comes_from(neck: str, front: str, words: str) -> None:
    assert words in rewrite(BARE.format(neck=neck, front=front), LIVE).output


@pytest.mark.parametrize("join", ["three-needle", "graft"])
def test_the_yarn_of_the_exact_live_back_is_left_at_both_edges(join: Shoulders) -> None:
    options = Options(shoulders=join, turn="german", exact_live=True)
    output = rewrite(BARE.format(neck=CAST_OFF, front=""), options).output
    assert "and the yarn left at the armhole edge," in output
    assert output.count("about 4 times the width") == 2


def test_a_graft_takes_the_needle_of_the_draft() -> None:
    draft = "MATERIALS\n2 needles; darning-needle; 2 holders\n\n" + BARE.format(neck=HELD, front="")
    output = rewrite(draft, Options(shoulders="graft")).output
    assert "thread the yarn in a darning needle; go through first st" in output


SHARED = BARE.format(neck=CAST_OFF, front="FRONT\n{front}\n\n")


@pytest.mark.parametrize(
    ("front", "neck"),
    [
        ("Work as given for back.", "the neck"),
        (
            "Work until armholes measure 19 cm, ending with a WS row. 81 sts. Shape shoulders as for back.",
            "the neck",
        ),
        ("Work as given for back to armholes, then straight for 8 rows.", "back neck"),
    ],
)
def test_words_that_serve_two_pieces_name_no_piece(front: str, neck: str) -> None:
    output = rewrite(SHARED.format(front=front), LIVE).output
    assert f"Cast off 31 sts for {neck} and fasten off through the last of them." in output
    shoulder = "this shoulder and the neck" if neck == "the neck" else "left shoulder and neck"
    assert f"Purl 56 sts ({shoulder}), turn." in output


def test_one_text_for_back_and_front_names_neither() -> None:
    draft = BARE.format(neck=CAST_OFF, front="").replace("BACK\n", "BACK AND FRONT (both alike)\n")
    output = rewrite(draft, LIVE).output
    assert "Cast off 31 sts for the neck and fasten off through the last of them." in output
    assert "(this shoulder and the neck), turn." in output


# --- words that stay before the rows ------------------------------------------------------------------

OPENINGS = [
    ("For the shoulders, cast off", "For the shoulders:\nCounting from each armhole edge"),
    (
        "To slope the shoulders.\u2014Cast off",
        "To slope the shoulders.\u2014Counting from each armhole",
    ),
    (
        "Now the shoulders slope: cast off",
        "Now the shoulders slope: counting from each armhole edge",
    ),
    (
        "Still working both sides at once, cast off",
        "Still working both sides at once, shape the shoulders:\nCounting from each armhole edge",
    ),
]


@pytest.mark.parametrize(("told", "kept"), OPENINGS, ids=[told[:12] for told, _ in OPENINGS])
def test_words_that_announce_the_shoulders_stay(told: str, kept: str) -> None:
    draft = BARE.format(neck=HELD, front="").replace("Cast off 8", f"{told} 8")
    assert kept in rewrite(draft).output


def test_sts_to_work_are_no_count_of_sts_left() -> None:
    draft = """LEFT FRONT
1st row: K. 6 sts., m.st. 10.
Work straight until armhole measures 19 cm, ending with a wrong side row.
Cast off 8 sts. at beg. of next row and foll. alt. row. Work 1 row. Cast off 9 sts., m.st. to end: 10 sts.
Continue in m.st. on these 10 sts. until band reaches to centre back of neck.
"""
    assert "Cast off 25 sts. (marker), work to end: 10 sts." in rewrite(draft).output


def test_several_sizes_side_by_side_are_told_by_their_ends() -> None:
    draft = """BACK
Work in st st until armholes measure 19 cm, ending with a WS row.
Cast off 8(8:8:8:8:8) sts at beg of next 4(4:4:6:6:6) rows. Cast off rem 31(33:35:37:39:41) sts.
"""
    report = rewrite(draft)
    assert report.passages[0].status == "rewritten", report.diagnostics
    assert "\n4th to 6th sizes only\nNext row (WS): DS, purl to last 16 sts" in report.output
    again = rewrite(
        draft.replace(
            "Cast off 8(8:8:8:8:8) sts at beg of next 4(4:4:6:6:6) rows.",
            """\
1st to 3rd sizes only: Cast off 8 sts at beg of next 4 rows.
4th to 6th sizes only: Cast off 8 sts at beg of next 6 rows.""",
        )
    )
    assert again.passages[0].status == "rewritten", again.diagnostics
    assert "\n4th to 6th sizes only\nNext row (WS): DS, purl to last 16 sts" in again.output


def test_sizes_apart_are_named_with_their_runs() -> None:
    draft = """BACK
Work in st st until armholes measure 19 cm, ending with a WS row.
Cast off 8 sts at beg of next 6(6:6:4:6) rows. Cast off rem 31(33:35:37:39) sts.
"""
    report = rewrite(draft)
    assert report.passages[0].status == "rewritten", report.diagnostics
    assert (
        "\n1st to 3rd and 5th sizes only\nNext row (WS): DS, purl to last 16 sts" in report.output
    )


def test_a_side_that_the_draft_does_not_explain_beside_the_other_is_told_in_words() -> None:
    draft = BARE.format(neck=CAST_OFF, front="").replace(", ending with a WS row", "")
    draft = f"RS (= right side)\n\n{draft}\nNECKBAND\nWith RS facing, pick up 70 sts.\n"
    assert "with RS together" in rewrite(draft, LIVE).output
    assert "with wrong sides together" in rewrite(draft, Options(shoulders="graft")).output
