"""The whole draft follows: nothing still tells of stepped shoulders, and every new word is explained."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rewriter import rewrite
from rewriter.options import Options, Shoulders
from rewriter.source import read_source
from tests.drafts import CORPUS, other_options, rewritten
from tests.followcheck import stale, undefined

TAIL = ", leaving an end about 4 times the width of the shoulder for joining"

FOLDERS = ("drafts", "forms", "houses", "generated", "topdown", "stated")
PATHS = sorted(
    path
    for folder in FOLDERS
    for path in (CORPUS / folder).iterdir()
    if path.suffix in (".md", ".txt")
)
# Each turning method and each join; what one adds does not depend on the other.
OPTIONS = (
    Options(),
    Options(turn="wrap", shoulders="three-needle"),
    Options(turn="japanese", shoulders="graft"),
    Options(turn="yarn-over", shoulders="held"),
    Options(turn="shadow", shoulders="three-needle"),
)


def _options(path: Path) -> tuple[Options, ...]:
    """Return the options for a draft: for the many alike the usual ones and a pair in turn."""
    if path.parent.name not in ("forms", "generated", "houses"):
        return OPTIONS
    return (Options(), *other_options(path))


def test_the_corpus_is_there() -> None:
    assert {path.parent.name for path in PATHS} == set(FOLDERS)
    assert len(PATHS) > 350


@pytest.mark.parametrize("path", PATHS, ids=lambda p: p.stem)
def test_no_draft_has_stale_sentences_or_words_defined_nowhere(path: Path) -> None:
    source = read_source(path.read_bytes(), path.name)
    faults = []
    for options in _options(path):
        report, _ = rewritten(path, options)
        faults += undefined(source.text, [e.replacement for e in report.edits])
        faults += stale(source.text, report)
    assert faults == []


@pytest.mark.parametrize(
    "path", [p for p in PATHS if p.parent.name in ("forms", "houses")], ids=lambda p: p.stem
)
def test_nothing_is_said_twice_running(path: Path) -> None:
    source = read_source(path.read_bytes(), path.name)
    output = rewritten(path, Options(kinds=("shoulder", "neck", "cap", "armhole")))[0].output
    twice = re.finditer(r"(?i)\b([a-z]+(?:\s+[a-z]+){1,5})[\s,.:;]+\1\b", output)
    assert [m.group() for m in twice if m.group() not in source.text] == []


# --- the scan itself ---------------------------------------------------------------------------------

BACK = """BACK
Work in st st until armholes measure 19 cm, ending with a WS row. 81 sts.
Shape shoulders
Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of foll 2 rows.
Leave rem 31 sts on a holder.
"""
STALE = [
    ("steps", "Press. The stairs of the shoulders are hidden inside.", "sewn"),
    ("rows", "MEASURE\nShape shoulders over the last 6 rows, as it were.", "sewn"),
    ("edge", "Lay the cast-off edges of back and front shoulders together.", "three-needle"),
]


@pytest.mark.parametrize(("kind", "words", "join"), STALE)
def test_the_scan_sees(kind: str, words: str, join: Shoulders) -> None:
    options = Options(shoulders=join, turn="german")
    report = rewrite(BACK, options)
    assert stale(BACK, report) == []
    draft = f"{BACK}\n{words}\n"
    left = report.model_copy(update={"output": f"{report.output}\n{words}\n"})
    assert kind in {f.kind for f in stale(draft, left)}


def test_the_scan_sees_words_defined_nowhere() -> None:
    assert [f.found for f in undefined("Cast off 8 sts.", ["Next row (RS): DS, k to end."])] == [
        "RS",
        "DS",
        "k",
    ]
    assert undefined("K 8 sts.", ["DS = double st: ...", "DS, p to end."]) == []
    listed = "RS = right side. Next row (RS): Cast off 8 sts."
    assert [f.found for f in undefined(listed, ["Next row (WS): cast off."])] == ["WS"]
    assert undefined(listed, ["; WS = wrong side", "Next row (WS): cast off."]) == []


# --- the classes -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("told", "after"),
    [
        ("Join shoulder seams, matching the steps.", "Join shoulder seams."),
        ("Sew shoulder seams, easing in the steps of back and front.", "Sew shoulder seams."),
        ("Join both shoulder seams carefully matching up the steps.", "Join both shoulder seams."),
        (
            "The shoulders are cast off in three steps, so ease the seam.",
            "The shoulders are shaped in short rows.",
        ),
        (
            "Join shoulder seams, matching the stripes.",
            "Join shoulder seams, matching the stripes.",
        ),
    ],
)
def test_words_about_the_steps_go(told: str, after: str) -> None:
    assert rewrite(f"{BACK}\nMAKING UP\n{told}\n").output.endswith(f"MAKING UP\n{after}\n")


@pytest.mark.parametrize(
    ("told", "after"),
    [
        ("Back-stitch the shoulders, then the sides.", " Back-stitch the sides.\n"),
        ("Close the shoulder seams.", "until all sts are used up; fasten off.\n"),
        ("Join shoulders by backstitch.", "until all sts are used up; fasten off.\n"),
        ("Mattress-stitch the shoulder seams.", "until all sts are used up; fasten off.\n"),
        ("Overcast both shoulders, then the sides.", " Overcast the sides.\n"),
        (
            "Make the shoulder seams, matching the steps.",
            "until all sts are used up; fasten off.\n",
        ),
    ],
)
def test_seams_in_other_words_are_joined_live(told: str, after: str) -> None:
    output = rewrite(f"{BACK}\nMAKING UP\n{told}\n", Options(shoulders="three-needle")).output
    assert "three-needle cast-off from there to the neck across the 25 sts" in output
    assert output.endswith(after), output


FRONT = """LEFT FRONT
Work in st st until armhole measures 19 cm, ending with a WS row. 25 sts.
Shape shoulder
Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 9 sts.{more}
"""


@pytest.mark.parametrize(
    ("more", "join", "after"),
    [
        (
            "",
            "three-needle",
            f"Leave 25 sts on a holder. Cut yarn{TAIL}.\n",
        ),
        ("", "held", "Leave 25 sts on a holder. Cut yarn.\n"),
        (
            " Fasten off.",
            "graft",
            f"Leave 25 sts on a holder. Cut yarn{TAIL}.\n",
        ),
        (" Break yarn.", "graft", "Leave 25 sts on a holder.\nBreak yarn.\n"),
    ],
)
def test_the_yarn_of_live_sts_is_told(more: str, join: Shoulders, after: str) -> None:
    options = Options(shoulders=join, turn="german")
    assert rewrite(FRONT.format(more=more), options).output.endswith(after)


def test_markers_come_off_in_every_piece() -> None:
    output = rewrite(f"{BACK}\n{FRONT.format(more='')}").output
    assert output.count("Take each marker off when you turn at it") == 1
    assert output.count("Take the markers off when you turn at them.") == 1


def test_a_draft_without_sides_gets_them_in_words() -> None:
    draft = (
        "BACK\nWork in stocking st until armholes measure 19 cm.\nCast off 8 sts at beg of next 4 rows.\n"
        "Leave rem 31 sts on a holder.\n\nMAKING UP\nJoin shoulder seams.\n"
    )
    output = rewrite(draft, Options(turn="wrap", shoulders="three-needle")).output
    assert "with right sides together" in output
    assert "RS" not in output
    assert "WS" not in output


def test_a_turn_in_a_pattern_is_explained_for_it_in_a_list_too() -> None:
    given = "Abbreviations: beg = beginning; k = knit; p = purl.\n"
    output = rewrite(given + BACK.replace("st st", "moss st"), Options(turn="wrap")).output
    assert "in pattern, knit or purl the two together as the pattern requires)" in output


TWO_BALLS = """FRONT
Next row (RS): K 29, join a second ball of yarn, cast off centre 12 sts, k to end.
{neck} 22 sts each side.
Work even until armholes measure 19 cm, ending with a WS row.
Shape shoulders
{told}
"""


@pytest.mark.parametrize(
    ("neck", "told", "lead"),
    [
        (
            "Dec 1 st at each neck edge on next 7 rows.",
            "Cast off 7 sts at beg of next 4 rows, then 8 sts at beg of next 2 rows.",
            "Work both sides at once, each with its own ball of yarn. Each row goes over one side and then "
            "over the other, and any turn is near the far armhole edge.\nNote on w&t",
        ),
        (
            "Dec 1 st at each neck edge on next 7 rows.",
            "Working both sides, cast off 7 sts at beg of next 4 rows, then 8 sts at beg of next 2 rows.",
            "Working both sides, shape the shoulders:\nEach row goes over one side and then over the other, "
            "and any turn is near the far armhole edge.\nNote on w&t",
        ),
    ],
)
def test_rows_over_both_sides_of_a_neck_say_so(neck: str, told: str, lead: str) -> None:
    draft = TWO_BALLS.format(neck=neck, told=told)
    report = rewrite(draft, Options(markers=False, turn="wrap"))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert lead in report.output
    assert report.output.count("Work both sides at once") == ("Working" not in told)
    assert rewrite(report.output).output == report.output


def test_a_shoulder_and_one_that_may_meet_it_are_both_named() -> None:
    maybe = "SLEEVES\nCast off 5 sts at beg of next 6 rows. Leave rem 31 sts on a holder.\n"
    report = rewrite(BACK + "\n" + FRONT.format(more=""))
    assert "edges-no-longer-match" not in {d.code for d in report.diagnostics}
    unread = FRONT.replace("9 sts.{more}", "9 sts, minding the step.")
    report = rewrite(BACK + "\n" + unread + "\n" + maybe, Options(shoulders="three-needle"))
    told = [d.message for d in report.diagnostics if d.code == "edges-no-longer-match"]
    if any(p.id == "left-front/shoulder/1" and p.status != "rewritten" for p in report.passages):
        assert told
        assert "left-front/shoulder/1" in told[0]
        assert "back/shoulder/1" in told[0]
        assert "bound-off-instead" in {d.code for d in report.diagnostics}


@pytest.mark.parametrize(
    "held",
    [
        "Put these on a spare needle, or a bit of wool.",
        "Leave these on a thread.",
        "Slip those onto spare yarn for the neck.",
    ],
)
def test_a_neck_held_by_a_pronoun_is_held(held: str) -> None:
    draft = (
        "BACK\nWork straight till armhole is 14 cm, ending with a WS row. 54 sts.\nShape shoulders\n"
        f"Cast off 5 sts at beg of every row until 24 remain. {held}\n"
    )
    report = rewrite(draft, Options(shoulders="held"))
    assert "Slip 15 sts for each shoulder and 24 sts for the neck onto" in report.output
    assert "bound-off-instead" not in {d.code for d in report.diagnostics}
