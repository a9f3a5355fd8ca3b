"""Checking rows told in many words: the same fabric found the same, and what differs named."""

from __future__ import annotations

from pathlib import Path

import pytest
import regex
from measure_checks import PAIRS, alarms, drafts

from rewriter import check, rewrite
from rewriter.checkwords import comparison_text
from rewriter.cli import main
from rewriter.source import read_source
from tests.checktools import cases, errors

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
# another piece, an edge named by the row, yarn cut between two sides, held shoulders and their seam;
# a dividing row that keeps its words, an article alone on its line, rows that hang markers long before,
# straight rows ending "thus", a reference behind a neck, decreases on alternate rows, another garment.
@pytest.mark.parametrize(
    "part",
    [
        "215-", "219-", "224-", "226-", "258-", "uk-fennel",
        "574-", "626-", "619-", "867-", "890-", "913-", "919-",
    ],
)  # fmt: skip
def test_no_false_alarm_over_the_tool_s_own_rewriting(part: str) -> None:
    (draft,) = [d for d in drafts() if part in d.name]
    assert [told for pair in PAIRS for told in alarms(draft, pair)] == []
