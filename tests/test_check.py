"""Checking a revised text: no false alarm, and every seeded fault at its place and size."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import regex

from rewriter import check, rewrite
from rewriter.cli import main
from rewriter.comparison import Comparison
from rewriter.options import Options
from rewriter.source import read_source
from tests.checktools import cases, errors
from tests.drafts import SyntheticDraft, all_drafts


@pytest.mark.parametrize("name", cases())
def test_a_right_rewriting_gives_no_alarm(name: str) -> None:
    case = cases()[name]
    found = check(case["original"], case["revised"])
    assert errors(found) == []
    assert found.result == case.get("result", "same")
    assert any(p.changed for p in found.passages)


@pytest.mark.parametrize("name", cases())
def test_a_seeded_fault_is_found_at_its_place_and_size(name: str) -> None:
    case = cases()[name]
    fault = case["fault"]
    texts = {"original": case["original"], "revised": case["revised"]}
    where = fault.get("in", "revised")
    assert texts[where].count(fault["find"]) >= 1
    texts[where] = texts[where].replace(fault["find"], fault["put"], 1)
    found = check(texts["original"], texts["revised"])
    line = texts["revised"][: texts["revised"].index(fault["near"])].count("\n") + 1
    told = [
        f
        for f in found.findings
        if f.severity == "error" and f.code in fault["codes"] and f.revised_line == line
    ]
    assert told, (fault["kind"], errors(found))
    assert any(sorted(f.sizes) == sorted(fault["sizes"]) for f in told), errors(found)
    assert not found.faultless
    # an abbreviation that the list lacks leaves the fabric as it is
    assert found.result == ("same" if "abbreviation-missing" in fault["codes"] else "differs")


# --- the tool's own output ------------------------------------------------------------------------

# Options in turn, so that each draft is checked with a few of them only.
OPTIONS = (
    Options(),
    Options(turn="wrap", markers=False),
    Options(turn="japanese", spelling="full"),
    Options(turn="yarn-over"),
    Options(turn="shadow", markers=False, spelling="full"),
)
OWN = [
    pytest.param(
        draft, OPTIONS[n % len(OPTIONS)], id=f"{draft.name}-{OPTIONS[n % len(OPTIONS)].turn}"
    )
    for n, draft in enumerate(d for d in all_drafts() if d.path.parent.name == "drafts")
]


@pytest.mark.parametrize(("draft", "options"), OWN)
def test_own_output_is_the_same_fabric(draft: SyntheticDraft, options: Options) -> None:
    text = read_source(draft.data, draft.path.name).text
    report = rewrite(text, options, name=draft.path.name)
    found = check(text, report.output, names=(draft.path.name, draft.path.name))
    assert errors(found) == []
    done = {p.id for p in report.passages if p.status == "rewritten"}
    assert done <= {p.id for p in found.passages if p.changed}
    assert {p.id for p in found.passages if p.result == "not-compared"} == set()


# --- the command ------------------------------------------------------------------------------------


@pytest.fixture
def pair(tmp_path: Path) -> tuple[str, str, dict[str, Any]]:
    """Write the first case to two files."""
    case = next(iter(cases().values()))
    one, two = tmp_path / "old.txt", tmp_path / "new.txt"
    one.write_text(case["original"], encoding="utf-8")
    two.write_text(case["revised"], encoding="utf-8")
    return str(one), str(two), case


def test_exit_status_tells_same_from_different(
    pair: tuple[str, str, dict[str, Any]], capsys: pytest.CaptureFixture[str]
) -> None:
    one, two, case = pair
    assert main(["check", one, two]) == 0
    assert "same fabric" in capsys.readouterr().out
    fault = case["fault"]
    Path(two).write_text(case["revised"].replace(fault["find"], fault["put"]), encoding="utf-8")
    assert main(["check", one, two]) == 1
    told = capsys.readouterr().out
    assert "new.txt line" in told
    assert "old.txt line" in told
    assert main(["check", one, two, "--report", "json"]) == 1
    report = json.loads(capsys.readouterr().out)
    assert report["schema"] == "slopewise/comparison/1"
    assert Comparison.model_validate(report).result == "differs"


def test_what_cannot_be_read_is_said(
    pair: tuple[str, str, dict[str, Any]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    one, _, _ = pair
    empty = tmp_path / "empty.txt"
    empty.write_text("\n", encoding="utf-8")
    for two, words in (
        ("-", "standard input"),
        (str(empty), "empty"),
        ("gone.txt", "no such file"),
    ):
        first = "-" if two == "-" else one
        assert main(["check", first, two]) == 2
        assert words in capsys.readouterr().err


def test_the_schema_of_a_check_is_written(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "comparison"]) == 0
    assert json.loads(capsys.readouterr().out)["title"] == "Comparison"


def test_a_text_is_the_same_as_itself() -> None:
    for case in list(cases().values())[:3]:
        found = check(case["original"], case["original"])
        assert (found.result, found.findings) == ("same", ())
        assert all(not p.changed for p in found.passages)


def test_a_passage_that_is_gone_is_missed() -> None:
    case = cases()["02-us-back-german-relative"]
    lost = case["original"].replace(
        "BO 7 sts at beg of next 4 rows, then 8 sts at beg of next 2 rows.", ""
    )
    found = check(case["original"], lost)
    assert [f.code for f in found.findings if f.severity == "error"] == ["passage-missing"]
    assert found.passages[0].result == "not-compared"


# --- how it is said ----------------------------------------------------------------------------------


def without(text: str, words: str) -> str:
    """Return a text without the line that holds some words."""
    lines = [line for line in text.splitlines(keepends=True) if words not in line]
    assert len(lines) == len(text.splitlines()) - 1
    return "".join(lines)


def test_causes_stand_before_what_follows_from_them() -> None:
    case = cases()["01-uk-back-wrap-counts"]
    fault = case["fault"]
    found = check(case["original"], case["revised"].replace(fault["find"], fault["put"], 1))
    told = [(f.code, f.consequence) for f in found.findings if f.severity == "error"]
    assert told == [("turn-misplaced", False), ("rows-differ", True)]


def test_a_difference_without_a_cause_follows_from_nothing() -> None:
    case = cases()["39-uk-all-but-last"]
    fault = case["fault"]
    found = check(case["original"], case["revised"].replace(fault["find"], fault["put"], 1))
    assert not any(f.consequence for f in found.findings if f.code == "rows-differ")


@pytest.mark.parametrize(
    ("gone", "behind"),
    [
        ("Next row: P to last 16", "Next row: K to last 16"),
        ("Next row: K to last 16", "Next row: P to end"),
    ],
)
def test_a_row_that_is_missing_is_named_first_and_blames_no_other_shoulder(
    gone: str, behind: str
) -> None:
    case = cases()["01-uk-back-wrap-counts"]
    revised = without(case["revised"], gone)
    causes = [
        f
        for f in check(case["original"], revised).findings
        if f.severity == "error" and not f.consequence
    ]
    assert [f.code for f in causes] == ["row-missing"]
    assert causes[0].revised_line == revised[: revised.index(behind)].count("\n") + 1


def test_texts_given_the_other_way_round_are_taken_as_they_are_meant() -> None:
    case = cases()["01-uk-back-wrap-counts"]
    found = check(case["revised"], case["original"], names=("short.txt", "steps.txt"))
    assert found.swapped
    assert found.original.name == "steps.txt"
    assert (found.result, errors(found)) == ("same", [])
    assert not check(case["original"], case["revised"]).swapped


@pytest.mark.parametrize(
    ("find", "put", "said"),
    [
        ("Cast on 81(87:93)", "Cast on 82(87:93)", "other numbers"),
        ("19(20:21) cm", "19(20:22) cm", "other numbers"),
        ("TO MAKE UP\n", "TO MAKE UP\nBlock each piece.\n", "new outside"),
    ],
)
def test_what_changed_outside_the_shoulders_is_listed(find: str, put: str, said: str) -> None:
    case = cases()["01-uk-back-wrap-counts"]
    assert find in case["revised"]
    found = check(case["original"], case["revised"].replace(find, put))
    told = [f for f in found.findings if f.code == "changed-elsewhere"]
    assert [said in f.message for f in told] == [True]
    assert (found.result, told[0].severity) == ("same", "remark")


def test_sums_that_fail_in_the_original_are_said_plainly() -> None:
    case = cases()["03-uk-left-front-leaving"]
    assert "21(24) sts" in case["original"]
    found = check(case["original"].replace("21(24) sts", "22(24) sts"), case["revised"])
    (told,) = [f.message for f in found.findings if f.severity == "error"]
    assert told.startswith("the sts of the original do not add up")
    assert "7 + 7 + 7 = 21" in told and "?" not in told


def test_the_text_counts_rows_in_words(
    pair: tuple[str, str, dict[str, Any]], capsys: pytest.CaptureFixture[str]
) -> None:
    one, two, _ = pair
    main(["check", one, two])
    told = capsys.readouterr().out
    assert "every turn in place; rows gained: right edge 0, left edge 0, neck 0" in told
    assert told.count("rows gained") == 1  # one line for all sizes that agree
    assert "row -1" not in told
    assert "Not looked at: " in told


def test_a_page_shows_both_texts_with_the_findings(
    pair: tuple[str, str, dict[str, Any]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    one, two, case = pair
    fault = case["fault"]
    Path(two).write_text(case["revised"].replace(fault["find"], fault["put"]), encoding="utf-8")
    out = tmp_path / "page.html"
    assert main(["check", one, two, "--redline", str(out)]) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(f"{out}: differs\n")
    assert "this turn leaves 17 sts unworked" in told.err
    shown = out.read_text(encoding="utf-8")
    assert 'href="#n1"' in shown and "Go to the first error" in shown
    assert shown.index('id="r1"') < shown.index('id="r2"')
    plain = regex.sub("<[^>]+>", "", shown)
    assert "this turn leaves 17 sts unworked" in plain
    for text in (case["original"], fault["put"]):
        assert text.split("\n")[0].strip() in plain
    assert main(["check", one, two, "--redline", two]) == 2


# --- sentences that lean on a changed shoulder --------------------------------------------------------

AS_FOR_BACK = """FRONT
Next row (RS): K 21, turn and leave rem sts on a holder.
Work straight in st st until armhole measures 18 cm, ending with a {side} row. 21 sts.
Shape shoulder as for back.
With RS facing, rejoin yarn to rem sts, cast off centre 26 sts, k to end.
Complete to match first side, reversing shapings.
"""


def leaning(side: str) -> tuple[str, str]:
    """Return a back with a front that refers to it, in both texts; `side` ends the front's lead-in."""
    case = cases()["35-uk-reference-front"]
    one, two = (case[t].split("LEFT FRONT")[0] for t in ("original", "revised"))
    return one + AS_FOR_BACK.format(side="WS"), two + AS_FOR_BACK.format(side=side)


def test_a_front_told_by_the_back_must_begin_a_row_earlier_too() -> None:
    unmoved = check(*leaning("WS"))
    assert [f.code for f in unmoved.findings if f.severity == "error"] == ["lead-in-not-moved"]
    moved = check(*leaning("RS"))
    assert errors(moved) == []
    assert "told-by-both-edges" in {f.code for f in moved.findings}


def test_a_second_side_told_by_the_first_is_pointed_out() -> None:
    case = cases()["22-us-second-side-written-out"]
    first_side = case["revised"].split("Complete to match")[0]
    found = check(
        case["original"], first_side + "Complete to match left side, reversing shaping.\n"
    )
    assert errors(found) == []
    assert "second-side-by-words" in {f.code for f in found.findings}
