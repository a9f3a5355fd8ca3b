"""Published shoulders divided at the neck: stitch counts as published, conversion computed by us."""

from __future__ import annotations

from rewriter import rewrite
from rewriter.options import Options

# C09: reader question "baby cardigan", to-knit-knitting-stitches.com, 2020.
# Published: the numbers of each size and their sums; the words are ours.
C09_TEXT = """BACK
Sizes 1[2:3:4]
Work in st st until armholes measure 10 cm, ending with a WS row.
Shape shoulders and neck
Next row (RS): Cast off 3[5:6:7] sts, K until there are 5[6:7:8] sts on right needle, turn and leave rem sts on a holder.
Dec 1 st at beg of next row. Cast off rem 4[5:6:7] sts.
With RS facing, rejoin yarn to rem sts, cast off centre 21[21:23:25] sts, K to end. Complete to match first side, reversing shapings.
"""

# C08: "Shape back neck and shoulders", pattern reproduced at knittingmagic.biz.
# Published: the numbers; the words are ours.
C08_TEXT = """BACK
Sizes 1(2:3:4:5)
Work until armholes measure 20 cm, ending with a WS row. 137(149:161:175:189) sts.
Shape back neck and shoulders
Next row (RS): Patt 49(55:60:67:73), turn and leave rem sts on a spare needle.
Next row: Cast off 3 sts, patt to end.
Next row: Cast off 21(24:27:30:33) sts, patt to end.
Next row: Cast off 3 sts, patt to end.
Cast off rem 22(25:27:31:34) sts.
With RS facing, rejoin yarn to rem sts, cast off centre 39(39:41:41:43) sts, patt to end. Complete to match first side, reversing shapings.
"""


def test_c09_counts_of_every_size_and_the_neck_decrease_on_its_row() -> None:
    report = rewrite(C09_TEXT, Options(markers=False))
    (passage,) = report.passages
    assert passage.verification.result == "same"
    # published: 37 [43:49:55] sts, 2 x (3+5)+21, 2 x (5+6)+21, 2 x (6+7)+23, 2 x (7+8)+25
    assert passage.stitches_before == (37, 43, 49, 55)
    first, second = passage.edges
    assert first.together == second.together == (7, 10, 12, 14)
    assert [t[0].unworked for t in first.turns] == [3, 5, 6, 7]
    assert [(t[0].row, t[0].side) for t in first.turns] == [(-1, "WS")] * 4
    assert "Dec 1 st at neck edge, P to end" in report.output
    assert "8[11:13:15] sts on right needle (the 3[5:6:7] unworked shoulder sts" in report.output


def test_c09_a_centre_that_does_not_add_up_is_found_in_its_size() -> None:
    text = C09_TEXT.replace("ending with a WS row.", "ending with a WS row. 37[43:49:55] sts.")
    assert rewrite(text).passages[0].status == "rewritten"
    report = rewrite(text.replace("21[21:23:25]", "21[21:24:25]"))
    assert report.output.count("turn") == 1
    assert [d.sizes for d in report.diagnostics if d.code == "sums"] == [("3",)]


def test_c08_a_row_that_turns_begins_with_the_neck_bind_off() -> None:
    report = rewrite(C08_TEXT, Options(markers=False))
    (passage,) = report.passages
    assert passage.verification.result == "same"
    # published: 49-3-21-3=22, 55-3-24-3=25, 60-3-27-3=27, 67-3-30-3=31, 73-3-33-3=34
    (edge,) = passage.edges
    assert edge.steps == ((21, 24, 27, 30, 33), (22, 25, 27, 31, 34))
    assert edge.together == (43, 49, 54, 61, 67)
    turning = "Next row (WS): Cast off 3 sts, patt to last 21(24:27:30:33) sts, turn."
    assert turning in report.output
