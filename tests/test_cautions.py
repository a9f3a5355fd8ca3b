"""Cautions by what a draft says: given where their cue stands, once, and nowhere else."""

from __future__ import annotations

import pytest

from rewriter import rewrite
from rewriter.cautions import cautions
from rewriter.options import Options, Shoulders

BACK = """BACK
Work {fabric} until armholes measure 20 cm, ending with a WS row.
Shape shoulders
Cast off 8 sts at beg of next 4 rows.
Cast off rem 20 sts.
{more}"""


def codes(fabric: str = "in st st", more: str = "", options: Options | None = None) -> list[str]:
    report = rewrite(BACK.format(fabric=fabric, more=more), options or Options())
    assert [p.status for p in report.passages] == ["rewritten"]
    known = {c.code for c in cautions()}
    return [d.code for d in report.diagnostics if d.code in known]


@pytest.mark.parametrize(
    ("fabric", "code"),
    [
        ("in lace patt", "in-pattern"),
        ("in Fair Isle patt", "colourwork"),
        ("in garter st", "in-garter"),
        ("in st st, slipping first st of every row,", "selvedge"),
    ],
)
def test_a_fabric_calls_for_its_caution(fabric: str, code: str) -> None:
    assert code in codes(fabric)
    assert code not in codes("in st st")


def test_a_plain_back_is_only_told_to_be_finished_loosely() -> None:
    assert codes() == ["loose-sweep"]


def test_a_heavy_yarn_is_no_matter_where_shoulders_are_sewn() -> None:
    yarn = "MATERIALS\n5 balls chunky yarn\n\n"
    front = BACK.format(fabric="in st st", more="").replace("BACK", "FRONT")
    text = yarn + BACK.format(fabric="in st st", more="") + front
    joins: dict[Shoulders, bool] = {"sewn": False, "three-needle": True, "graft": True}
    for join, told in joins.items():
        report = rewrite(text, Options(shoulders=join))
        assert any(d.code == "heavy-yarn" for d in report.diagnostics) is told


def test_markers_come_off_before_a_baby_wears_it() -> None:
    more = "To fit a baby of 6 months.\n"
    assert "markers-off" in codes(more=more)
    assert "markers-off" not in codes(more=more, options=Options(markers=False))


def test_a_caution_is_given_once() -> None:
    text = BACK.format(fabric="in cable patt", more="") + BACK.format(
        fabric="in cable patt", more=""
    ).replace("BACK", "FRONT")
    found = [d.code for d in rewrite(text).diagnostics]
    assert found.count("in-pattern") == 1


def test_a_draft_that_is_left_gets_none() -> None:
    report = rewrite("BACK\nWork in lace patt for 20 cm.\nCast off.\n")
    assert not {c.code for c in cautions()} & {d.code for d in report.diagnostics}
