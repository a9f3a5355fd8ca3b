"""What a turn heeds in the fabric of the shoulders, and live sts when pieces are pressed."""

from __future__ import annotations

import re

import pytest

from rewriter import rewrite
from rewriter.options import Options, Shoulders, Turn

BACK = """BACK
Cast on 52 sts. Work {fabric} until armholes measure 20 cm{ending}.
Shape shoulders
Cast off 8 sts at beg of next 4 rows.
Leave rem 20 sts on a holder.
"""
FRONT = BACK.replace("BACK", "FRONT")
SIDES = ", ending with a WS row"

# A later row that is closed by its side
SIDED = re.compile(r"on a later (?:RS|right side) row")


def told(draft: str, turn: Turn = "wrap", join: Shoulders = "sewn") -> str:
    """Return the revised draft, all on one line, once it is proven."""
    report = rewrite(draft, Options(turn=turn, shoulders=join))
    assert {p.status for p in report.passages} == {"rewritten"}
    assert rewrite(report.output, Options(turn=turn, shoulders=join)).output == report.output
    return " ".join(report.output.split())


@pytest.mark.parametrize("listed", ["", "Abbreviations: beg = beginning; k = knit; p = purl.\n\n"])
@pytest.mark.parametrize("turn", ["german", "wrap", "japanese", "yarn-over", "shadow"])
def test_no_row_of_garter_stitch_is_purled(turn: Turn, listed: str) -> None:
    garter = told(listed + BACK.format(fabric="in garter st", ending=SIDES), turn)
    assert "purl " not in garter.partition("BACK")[2]
    assert not SIDED.search(garter)
    plain = told(listed + BACK.format(fabric="in st st", ending=SIDES), turn)
    if turn != "shadow":
        assert "purl st" in plain or SIDED.search(plain)


def test_a_wrap_in_garter_stitch_may_be_left() -> None:
    words = ", or leave it as it is, for garter stitch hides it"
    assert words in told(BACK.format(fabric="in garter st", ending=SIDES))
    # where another piece is not in garter stitch, the note serves both
    mixed = BACK.format(fabric="in garter st", ending=SIDES) + FRONT.format(
        fabric="in st st", ending=SIDES
    )
    assert words not in told(mixed)


CABLE = "C6F = slip 3 sts to cable needle, hold in front, k3, k3 from cable needle.\n\n"
LACE = "PATTERN\n1st row: K1, * {over}, k2tog, k1; rep from * to end.\n2nd row: P.\n\n"


@pytest.mark.parametrize(
    ("before", "fabric", "rider"),
    [
        (CABLE, "in cable patt", "; do not cross a cable that a turn cuts; sts that waited"),
        (LACE.format(over="yfwd"), "in patt", "; where a turn parts a decrease from its yfwd,"),
        (LACE.format(over="yo"), "in patt", "; where a turn parts a decrease from its yo,"),
        (LACE.format(over="yfwd."), "in patt", "; where a turn parts a decrease from its yfwd.,"),
        ("STRIPES\n6 rows navy, 4 rows cream.\n\n", "in st st and stripes", "join the new colour"),
    ],
)
def test_a_fabric_is_heeded_once_where_the_method_is_told(
    before: str, fabric: str, rider: str
) -> None:
    draft = before + BACK.format(fabric=fabric, ending=SIDES)
    assert told(draft + FRONT.format(fabric=fabric, ending=SIDES)).count(rider) == 1
    plain = told(BACK.format(fabric="in st st", ending=SIDES))
    assert rider not in plain
    assert "pattern" not in plain


def test_what_is_knitted_in_the_sleeves_alone_is_no_matter() -> None:
    sleeves = "SLEEVES\nCast on 40 sts. Work in cable patt until sleeve measures 40 cm. Cast off.\n"
    rib = "in moss st"
    assert "cable" not in told(sleeves + BACK.format(fabric=rib, ending=SIDES)).partition("BACK")[2]


def test_stripes_are_no_stitch_pattern_and_a_welt_is_not_the_fabric() -> None:
    welt = "in k1, p1 rib for 5 cm. Change to 4 mm needles. Work in stripes"
    text = told(
        "STRIPES\n6 rows navy, 4 rows cream, in st st.\n\n" + BACK.format(fabric=welt, ending=SIDES)
    )
    assert "in pattern, " not in text


def test_a_fabric_alike_on_both_sides_is_turned_and_joined_by_its_outside() -> None:
    draft = "The fabric is the same on both faces: choose one for the outside.\n\n"
    pieces = BACK.format(fabric="in ridge patt", ending="") + FRONT.format(
        fabric="in ridge patt", ending=""
    )
    text = told(draft + pieces + "MAKING UP\nJoin shoulder seams.\n", join="three-needle")
    assert "on a later row with the outside facing lift the wrap" in text
    assert "; choose the outside before you shape the shoulders." in text
    assert "with outsides together" in text and "work a three-needle cast-off" in text
    assert "right side" not in text
    # a double st is closed alike on both sides
    assert "choose the outside before" not in told(draft + pieces, "german")


KEPT = "Leave the shoulder sts on waste yarn or holders meanwhile."


@pytest.mark.parametrize(
    ("pressed", "live"),
    [
        ("Block.", True),
        ("Wet block all pieces.", True),
        ("Press each piece on wrong side under a damp cloth.", True),
        ("Pin out the parts, moisten and let dry.", True),
        ("Weave in ends and block to measurements.", True),
        ("Steam lightly.", True),
        ("Pin garment pieces to measurements and cover with a damp cloth.", True),
        ("Wash pieces and dry flat to measurements.", True),
        ("Press seams.", False),
        ("Press all seams.", False),
        ("Do not press.", False),
        ("Wash the garment, pull it into shape and let it dry flat.", False),
    ],
)
def test_live_sts_are_kept_where_pieces_are_pressed_before_they_are_joined(
    pressed: str, live: bool
) -> None:
    pieces = BACK.format(fabric="in st st", ending=SIDES) + FRONT.format(
        fabric="in st st", ending=SIDES
    )
    joined = f"MAKING UP\n{pressed} Join shoulder seams. Sew in sleeves.\n"
    assert (f"{pressed} {KEPT}" in told(pieces + joined, join="three-needle")) is live
    assert KEPT not in told(pieces + joined)
    after = f"MAKING UP\nJoin shoulder seams. {pressed}\n"
    assert KEPT not in told(pieces + after, join="graft")


@pytest.mark.parametrize(
    "rows",
    [
        "Row 1 (RS): Knit. Row 2 (WS): Knit 8, slip marker, purl to end. Rep these 2 rows.",
        "Row 1 (RS): Knit. Row 2 (WS): Purl to last 6 sts, k6. Rep these 2 rows.",
        "Work 10 rows garter stitch. Change to a pattern of your own.",
    ],
)
def test_no_word_for_all_sts_is_used_where_a_band_or_a_border_is_in_garter_stitch(
    rows: str,
) -> None:
    text = (
        f"LEFT FRONT\nCast on 40 sts. {rows} Work until armhole measures 8 in, ending with a WS row. 20 "
        "sts.\nShape shoulder\nBO 6 sts at the beg of next 2 RS rows, then BO 8 sts at beg of foll RS row.\n"
    )
    report = rewrite(text, Options())
    assert report.passages[-1].status == "rewritten"
    rewritten = (report.output or "").split("Shape shoulder")[1]
    assert "Work to last 6 sts" in rewritten and "Knit to last" not in rewritten
