"""Checking a revised text: no false alarm, and every seeded fault at its place and size."""

from __future__ import annotations

import json
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import regex
from measure_checks import PAIRS, alarms, drafts

from rewriter import check, rewrite
from rewriter.checkwords import comparison_text
from rewriter.cli import main
from rewriter.comparison import Comparison
from rewriter.options import Options
from rewriter.source import read_source
from tests.drafts import CORPUS, SyntheticDraft, all_drafts


@cache
def cases() -> dict[str, dict[str, Any]]:
    """Return the rewritings by people, each with a fault that can be put into it."""
    out = {
        path.stem: tomllib.loads(path.read_text(encoding="utf-8"))
        for path in sorted((CORPUS / "checks").glob("*.toml"))
    }
    assert len(out) >= 40
    return out


def errors(found: Comparison) -> list[str]:
    """Return the errors as text, for a message that can be read."""
    return [
        f"{f.code} {f.revised_line} {f.sizes}: {f.message}"
        for f in found.findings
        if f.severity == "error"
    ]


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
    assert found.result == "differs"


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


# --- the same rows in many words -----------------------------------------------------------------------

BACK = """BACK
Work even in st st until armhole measures 8 in, ending with a {side} row. 88 sts.
Shape shoulders
"""
STEPPED = "BO 7 sts at beg of next 4 rows, then 8 sts at beg of next 2 rows. BO rem 44 sts.\n"
SWEEPS = "BO 22 sts at beg of next 2 rows.\nBO rem 44 sts."
WAYS = {
    "counted": "Row 1 (WS): P81, w&t. Row 2 (RS): K74, w&t. Row 3: P67, w&t. Row 4: K60, w&t. "
    "Row 5: P across, picking up wraps as you go.\n" + SWEEPS,
    "counted-ds": "Purl 81 sts, turn. DS, knit 73, turn. DS, purl 66, turn. DS, knit 59, turn. "
    "DS, purl to end, working each DS as one st.\n" + SWEEPS,
    "before-end": "Next row (WS): Purl to 7 sts before end of row, turn. Next row: DS, knit to 7 sts "
    "before end of row, turn. Next row: DS, purl to 6 sts before the last DS, turn. Next row: DS, knit to "
    "6 sts before the last DS, turn. Next row: DS, purl to end, knitting both legs of each DS together.\n"
    + SWEEPS,
    "one-sentence": "P to last 7 sts, w&t; k to last 7 sts, w&t; p to last 14 sts, w&t; k to last 14 "
    "sts, w&t. P to end, picking up wraps.\n" + SWEEPS,
    "until": "Row 1: Purl until 7 sts remain, wrap next st, turn.\nRow 2: Knit until 7 sts remain, wrap "
    "next st, turn.\nRow 3: Purl until 14 sts remain, wrap next st, turn.\nRow 4: Knit until 14 sts remain, "
    "wrap next st, turn.\nRow 5: Purl to end, concealing wraps.\n" + SWEEPS,
    "introduced": "Work short rows as follows:\nRow 1 (WS): Work to within 7 sts of end, w&t.\n"
    "Row 2 (RS): Work to within 7 sts of end, w&t.\nRow 3: Work to within 14 sts of end, w&t.\n"
    "Row 4: Work to within 14 sts of end, w&t.\nRow 5: Work across all sts, working wraps tog with "
    "wrapped sts.\n" + SWEEPS,
    "pairs": "Rows 1 and 2: Work to last 7 sts, w&t.\nRows 3 and 4: Work to last 14 sts, w&t.\n"
    "Row 5: Work to end, hiding wraps.\n" + SWEEPS,
    "out-and-back": "Row 1 (WS): P to last 7 sts, w&t, k to last 7 sts, w&t.\nRow 2: P to last 14 sts, "
    "w&t, k to last 14 sts, w&t.\nRow 3: P to end, picking up wraps.\n" + SWEEPS,
    "turning-point": "Next row (WS): P across to last 7 sts, turn. Next row (RS): Yo, k across to last 7 "
    "sts, turn. Next row: Yo, p to 7 sts before last turning point, turn. Next row: Yo, k to 7 sts before "
    "last turning point, turn. Next row: Yo, p to end, p2tog each yo with the next st.\n" + SWEEPS,
    "less-each-time": "Next row (WS): P to last 7 sts, w&t.\nNext row: K to last 7 sts, w&t.\n"
    "Rep the last 2 rows once more, working 7 sts less each time.\nNext row: P to end, picking up wraps.\n"
    + SWEEPS,
    "leaving-these": "Next row (WS): Purl to last 7 sts, leaving these unworked, turn.\nNext row: DS, "
    "knit to last 7 sts, turn, leaving these sts unworked.\nNext row: DS, purl to last 14 sts, "
    "turn.\nNext row: DS, knit to last 14 sts, turn.\nNext row: DS, purl to end, working DS as one.\n"
    + SWEEPS,
}  # fmt: skip


@pytest.mark.parametrize("way", WAYS)
def test_the_same_rows_in_other_words(way: str) -> None:
    found = check(BACK.format(side="WS") + STEPPED, BACK.format(side="RS") + WAYS[way])
    assert errors(found) == []
    (passage,) = found.passages
    assert [[t.unworked for t in e.turns[0]] for e in passage.edges] == [[7, 14], [7, 14]]
    assert {c.rows for e in passage.edges for c in e.gained[0]} == {0}


_PLACES = regex.compile(
    r"(?i)(?<=\b(?:last|to|p|k|within|until|purl|knit|working) ?)\d{1,2}(?=\s*(?:sts?\b|,))"
)


@pytest.mark.parametrize("way", WAYS)
def test_a_number_off_in_any_words_is_found(way: str) -> None:
    rows, _, rest = WAYS[way].partition("BO 22")
    numbers = list(_PLACES.finditer(rows))
    assert len(numbers) >= 2
    for number in numbers:
        wrong = rows[: number.start()] + str(int(number.group()) + 1) + rows[number.end() :]
        found = check(
            BACK.format(side="WS") + STEPPED, BACK.format(side="RS") + f"{wrong}BO 22{rest}"
        )
        assert found.result == "differs", wrong


def test_a_piece_that_only_the_revised_text_shapes_is_named() -> None:
    case = cases()["35-uk-reference-front"]
    back = case["original"].split("LEFT FRONT")[0]
    found = check(back, case["revised"].replace("Graft shoulders.", ""))
    assert "nothing-to-compare" in {f.code for f in found.findings if f.severity == "error"}


LISTS = {
    "bold": "## Abbreviations\n\n- **BO** – bind off\n- **k** – knit\n- **p** – purl\n",
    "plain": "## Abbreviations\n\n- BO: bind off\n- k: knit\n- p: purl\n",
    "run on": "ABBREVIATIONS: k - knit, p - purl, BO -\nbind off.\n",
}


@pytest.mark.parametrize("form", LISTS)
@pytest.mark.parametrize("key", ["w&t", "DS", "SW"])
def test_an_entry_that_explains_a_turn_is_no_short_row(form: str, key: str) -> None:
    means = {"w&t": "wrap and turn", "DS": "double stitch", "SW": "shadow wrap"}[key]
    old = f"{LISTS[form]}\n{BACK.format(side='WS')}{STEPPED}"
    entries = {
        "bold": ("- **p**", f"- **{key}** – {means}\n- **p**"),
        "plain": ("- p:", f"- {key}: {means}\n- p:"),
        "run on": ("p - purl", f"{key} - {means}, p - purl"),
    }
    new = old.replace(*entries[form])
    assert new != old
    found = check(old, new)
    assert found.result == "same"
    assert not [f for f in found.findings if "explained nowhere" in f.message]


def test_short_rows_that_begin_with_a_double_stitch_are_no_entry_of_a_list() -> None:
    back = BACK.format(side="WS")
    new = f"{back}DS, K to last 7 sts, turn.\nDS, P to last 7 sts, turn.\n{STEPPED}"
    assert check(back + STEPPED, new).result == "differs"


ROWS = (
    "Row 1 (WS): Purl to last 7 sts, w&t.\nRow 2: Knit to last 7 sts, w&t.\n"
    "Row 3: Purl to last 14 sts, w&t.\nRow 4: Knit to last 14 sts, w&t.\n"
    "Row 5 (WS): Purl to end, picking up wraps.\n"
    "Row 6 (RS): BO 22 sts, knit to end, picking up wraps.\nRow 7 (WS): BO 22 sts, purl to end.\n"
    "BO rem 44 sts.\n"
)


@pytest.mark.parametrize(
    "row", ["Row 2: Knit", "Row 3: Purl", "Row 4: Knit", "Row 5 (WS): Purl", "BO 22 sts, knit"]
)
def test_a_row_of_stocking_stitch_in_the_other_stitch_is_named(row: str) -> None:
    old = BACK.format(side="WS") + STEPPED
    new = BACK.format(side="RS") + ROWS
    assert check(old, new).result == "same"
    swapped = {"Knit": "Purl", "Purl": "Knit", "knit": "purl"}
    word = row.split()[-1]
    wrong = new.replace(row, row.replace(word, swapped[word]))
    found = check(old, wrong)
    assert found.result == "differs"
    assert [f.code for f in found.findings if f.severity == "error"] == ["stitch-differs"]


def test_rows_of_garter_stitch_are_knitted_all() -> None:
    garter = BACK.replace("st st", "garter st")
    new = garter.format(side="RS") + ROWS.replace("Purl", "Knit").replace("purl", "knit")
    assert check(garter.format(side="WS") + STEPPED, new).result == "same"


@pytest.mark.parametrize(
    "words",
    [
        "purling them together with the sts they wrap",
        "working it together with its st",
        "working wrapped sts together with their wraps",
        "knitting the wraps tog with the wrapped sts",
        "lifting each wrap and working it with the stitch it wraps",
    ],
)
def test_a_turn_is_closed_in_many_words(words: str) -> None:
    new = BACK.format(side="RS") + ROWS.replace("picking up wraps", words)
    assert check(BACK.format(side="WS") + STEPPED, new).result == "same"


def test_words_not_understood_are_no_difference_but_not_compared(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    new = BACK.format(side="RS") + ROWS.replace("picking up wraps", "gribbling 3 sts")
    assert check(BACK.format(side="WS") + STEPPED, new).result == "not-compared"
    one, two = tmp_path / "one.txt", tmp_path / "two.txt"
    one.write_text(BACK.format(side="WS") + STEPPED)
    two.write_text(new)
    assert main(["check", str(one), str(two)]) == 1
    assert "not compared" in capsys.readouterr().out.splitlines()[0]


def test_a_size_that_differs_is_told_by_itself() -> None:
    old = "Sizes 8(10:12)\n" + BACK.format(side="WS").replace("88 sts. ", "") + STEPPED
    new = "Sizes 8(10:12)\n" + BACK.format(side="RS").replace("88 sts. ", "") + ROWS
    wrong = new.replace("Purl to last 14", "Purl to last 14(13:14)")
    texts = [read_source(t.encode(), n) for t, n in ((old, "old.txt"), (wrong, "new.txt"))]
    told = comparison_text(check(old, wrong), *texts).splitlines()
    shown = [line for line in told if "rows gained" in line]
    assert len(shown) == 2
    assert shown[0].startswith("  10  ")
    assert (
        "turns before the last 7 and 13 sts, on the row before the first bind-off and" in shown[0]
    )
    assert shown[1].startswith("  size 8, 12: every turn in place; rows gained: ")


def test_bind_offs_behind_a_division_at_the_neck_are_the_neck_s() -> None:
    text = (
        "FRONT\nDividing row (RS): K25, place next 12 sts on a holder for front neck, place "
        "remaining 25 sts on a second holder. Turn.\nRow 1 (WS): BO 3 sts, purl to end.\n"
        "Row 2 (RS): Knit.\nRow 3: BO 2 sts, purl to end.\nRow 4: Knit.\n"
        "Work even until armhole measures 8 in, ending with a WS row.\n"
    )
    assert [p.kind for p in rewrite(text).passages] == ["neck"]


# Drafts once called different: markers told in the sentence of the lead-in, rows counted from
# another piece, an edge named by the row, yarn cut between two sides, held shoulders and their seam.
@pytest.mark.parametrize("part", ["215-", "219-", "224-", "226-", "258-", "fennel"])
def test_no_false_alarm_over_the_tool_s_own_rewriting(part: str) -> None:
    (draft,) = [d for d in drafts() if part in d.name]
    assert [told for pair in PAIRS for told in alarms(draft, pair)] == []
