"""Numbers of rows that a draft states: put right where that is certain, named where not, else left."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from rewriter import rewrite
from rewriter.options import JOINS, TURNS, Options
from rewriter.pipeline import rewrite_bytes
from rewriter.report import Report
from rewriter.source import read_source
from tests.drafts import rewritten

STATED = Path(__file__).parent.parent / "corpus_synthetic" / "stated"
DRAFTS = [(p, next(q for q in STATED.glob(f"{p.name.split('.')[0]}.*") if q.suffix != ".json"))
          for p in sorted(STATED.glob("*.expect.json"))]  # fmt: skip
EACH = pytest.mark.parametrize(("expect", "draft"), DRAFTS, ids=lambda p: p.name.split(".")[0])


def told(expect: Path) -> list[dict[str, Any]]:
    out: list[dict[str, Any]] = json.loads(expect.read_text(encoding="utf-8"))["stated"]
    return out


def named(report: Report, text: str) -> list[str]:
    found = [d.span for d in report.diagnostics if d.code == "stated-elsewhere"]
    return [text[start:end] for start, end in found]


@EACH
def test_what_a_draft_states_is_put_right_named_or_left(expect: Path, draft: Path) -> None:
    report, _ = rewritten(draft, Options(markers=False))
    text = read_source(draft.read_bytes(), draft.name).text
    for stated in told(expect):
        assert stated["was"] in text
        assert stated["becomes"] in report.output
        if stated["becomes"] != stated["was"]:
            assert report.output.count(stated["was"]) < text.count(stated["was"])
    wanted = [s["was"] for s in told(expect) if s.get("named")]
    got = named(report, text)
    assert len(got) == len(wanted)
    for words, was in zip(got, wanted, strict=True):
        assert words in was or was in words


@EACH
def test_what_live_shoulders_change_is_named(expect: Path, draft: Path) -> None:
    report, _ = rewritten(draft, Options(shoulders="held"))
    text = read_source(draft.read_bytes(), draft.name).text
    for stated in told(expect):
        if stated.get("named_when_held"):
            assert any(stated["was"] in words for words in named(report, text))


@pytest.mark.parametrize(("number", "draft"), [(i, d) for i, (_, d) in enumerate(DRAFTS)])
def test_every_join_is_proven_and_a_second_time_changes_nothing(number: int, draft: Path) -> None:
    turn = TURNS[number % len(TURNS)]
    usual, _ = rewritten(draft)
    for join in JOINS:
        options = Options(turn=turn, shoulders=join)
        report, revised = rewritten(draft, options)
        assert [p.status for p in report.passages] == [p.status for p in usual.passages]
        again, same = rewrite_bytes(revised, draft.name, options)
        assert same == revised
        assert not again.edits


SHOULDERS = "\nShape shoulders\nCast off 8 sts at beg of next 6 rows. Cast off rem 28 sts.\n"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("Cont until armholes measure 20 cm (68 rows).", "cm (67 rows)."),
        ("Cont until armholes measure 20 cm. (68 rows in all.)", "(67 rows in all.)"),
        ("Cont until armholes measure 20 cm = 68 rows.", "= 67 rows."),
        ("Cont until armholes measure 20 cm, that is 68 rows, ending with a WS row.", "a RS row."),
        ("Cont for 20 cm. There should now be 68 rows above the armhole cast-off.", "67 rows"),
        ("Cont until armholes measure 20 cm. This makes 102 rows in all.", "makes 101 rows in all."),
        ("Work 68 rows. You have now worked 140 rows from the cast-on edge.", "worked 139 rows"),
        ("Work 68 rows. You have now worked 140 rows from the cast-on edge.", "Work 67 rows."),
        ("Cont until armhole is 20 cm deep. Rows worked so far: 68.", "so far: 67."),
        ("Cont for 20 cm. The armhole is now sixty-one rows deep.", "now sixty rows deep."),
        ("Cont until armholes measure 20 cm, approx 68 rows.", "approx 68 rows."),
        ("68 rows have now been worked. Purl 1 row.", "68 rows have now been worked.\n"),
    ],
)  # fmt: skip
def test_a_count_of_the_rows_so_far_is_no_instruction(before: str, after: str) -> None:
    report = rewrite(f"BACK\n{before}{SHOULDERS}")
    assert [p.status for p in report.passages] == ["rewritten"]
    assert after in report.output.split("Shape shoulders")[0]


@pytest.mark.parametrize(
    "before",
    [
        # a row less is no whole number of repeats any more
        "Cont until armholes measure 20 cm (7 patts, 70 rows), ending with a WS row.",
        "When the 68th row has been worked from the armhole, go on as follows.",
    ],
)
def test_a_count_that_cannot_lose_a_row_for_certain_is_asked_about(before: str) -> None:
    text = f"BACK\n{before}{SHOULDERS}"
    report = rewrite(text)
    assert report.output == text
    assert report.passages[0].status != "rewritten"


NOTE = (
    "NOTES\n{note}\n\nBACK\nWork in st st until armholes measure 20 cm, ending with a {side} row."
)


@pytest.mark.parametrize(
    ("note", "side", "becomes"),
    [
        ("Shape the shoulders in the last 6 rows.", "WS", None),
        ("The shoulder shaping is worked over 6 rows.", "WS", "is worked over 7 rows."),
        ("The shoulder shaping is worked over 8 rows.", "WS", ""),
        ("Shoulder shaping begins on a RS row.", "WS", "begins on a WS row."),
        ("Shoulder shaping begins on a RS row.", "RS", ""),
        ("There are 2 rows from the pin to shoulder shaping.", "WS", "are 1 row from the pin"),
        ("There is 1 row from the pin to shoulder shaping.", "WS", ""),
        ("There are about 68 rows from hem to shoulder shaping.", "WS", None),
        ("There are 68 rows from armhole to shoulder.", "WS", None),
        ("Shoulder shaping: rows 69-74", "WS", "Shoulder shaping: rows 68-74"),
        ("Pick up 3 sts for every 4 rows from the left shoulder on.", "WS", None),
    ],
)
def test_a_note_follows_is_named_or_stays(note: str, side: str, becomes: str | None) -> None:
    """`becomes` is the new wording; empty where the note must be named, None where it stays true."""
    text = NOTE.format(note=note, side=side) + SHOULDERS
    report = rewrite(text)
    assert report.passages[0].status == "rewritten"
    assert (becomes == "") == bool(named(report, text))
    assert (becomes or note) in report.output


@pytest.mark.parametrize(
    "before", ["Cont until armholes measure 20 cm (34 ridges).", "Work until there are 34 ridges."]
)
def test_ridges_that_lack_a_row_are_named_and_say_so(before: str) -> None:
    text = f"BACK\nWork in garter st for 30 cm.\n{before}{SHOULDERS}"
    report = rewrite(text)
    assert report.passages[0].status == "rewritten"
    assert named(report, text) == ["34 ridges"]
    assert before.replace("34 ridges", "34 ridges less 1 row") in report.output
    again = rewrite(report.output)
    assert again.output == report.output


def test_a_heading_that_counts_its_rows_follows() -> None:
    text = f"BACK\nCont until armholes measure 20 cm.{SHOULDERS}"
    text = text.replace("Shape shoulders", "Shape shoulders (6 rows)")
    assert "\nShape shoulders (7 rows)\n" in rewrite(text).output


@pytest.mark.parametrize("row", ["| Shoulder shaping | |", "| Total | – |", "| Armhole |"])
def test_a_table_without_its_numbers_is_passed_over(row: str) -> None:
    text = f"# Rows\n\n| a | rows |\n| --- | --- |\n{row}\n\n# Back\n\nCont for 20 cm.\n{SHOULDERS}"
    report = rewrite(text, name="a.md")
    assert report.passages[0].status == "rewritten"
    assert row in report.output
