"""What is written agrees with the draft it is written into, in every form that can be measured."""

from __future__ import annotations

from pathlib import Path

import pytest

from rewriter import rewrite
from rewriter.document import split_document
from rewriter.edits import Edit, apply
from rewriter.fitting import fitted
from rewriter.options import Options
from rewriter.report import Report
from rewriter.source import read_source
from rewriter.spans import Span
from tests.drafts import CORPUS, other_options, rewritten
from tests.stylecheck import disagreements

PATHS = sorted(
    path
    for folder in ("drafts", "generated", "forms", "houses")
    for path in (CORPUS / folder).iterdir()
    if path.suffix in (".md", ".txt")
)
DRAFTS = pytest.mark.parametrize("path", PATHS, ids=lambda p: p.stem)

# Rows without a number among numbered ones, each with its reason.
UNNUMBERED = {
    "036-ukcaps-front-counts": "sizes work different numbers of rows, so no row has one number for all",
    "071-ukgrades-front-counts": "sizes work different numbers of rows",
    "87-lac-vert-mohair-pullover": "the sides of a divided neck, one after the other, have no common numbers",
}

# Lists of another form than the draft's, each with its reason.
IN_COLUMNS = {
    "36-victory-cardigan": "figures stand in columns behind dots, which have no place within a row",
}


def edits_of(report: Report) -> list[Edit]:
    return [Edit(Span(*e.span), e.replacement, e.why) for e in report.edits]


def told(path: Path, options: Options) -> list[str]:
    source = read_source(path.read_bytes(), path.name)
    report, _ = rewritten(path, options)
    found = disagreements(source.text, edits_of(report), len(report.sizes))
    return [
        f"{d.kind}: {d.found!r}, but the draft has {d.usual}: {d.line.strip()}"
        for d in found
        if not (d.kind == "number" and path.stem in UNNUMBERED)
        and not (d.kind == "list" and path.stem in IN_COLUMNS)
    ]


@DRAFTS
def test_new_text_agrees_with_its_draft(path: Path) -> None:
    assert told(path, Options()) == []


@DRAFTS
def test_other_turns_and_joins_agree_with_the_draft(path: Path) -> None:
    """A turning method and a join a draft, in turn; nineteen drafts in a row have every pair."""
    others = other_options(path)
    assert [(o, found) for o in others if (found := told(path, o))] == []


# --- the measure itself ------------------------------------------------------------------------------

LEAFLET = (
    "Work straight until armholes measure 19 cm, ending with a wrong side row.\n"
    "**1st row:** Cast off 8 sts. at beg. of row, k. to end. \u2014 43 sts.\n"
)
WRONG = [
    ("verb", "Bind off 8 sts. at the end.", "bind off"),
    ("unit", "Cast off 8 stitches at the end.", "stitches"),
    ("unit", "Cast off 8 sts at the end.", "sts"),
    ("side", "**2nd row** (RS): k. to end.", "RS"),
    ("label marks", "2nd row: k. to end.", "label:"),
    ("label name", "**2nd Row:** k. to end.", "1st Row"),
    ("numerals", "Cast off eight sts. at the end.", "small in words"),
    ("stitch word", "**2nd row:** Cast off 8 sts., K. to end.", "K"),
    ("letter or word", "**2nd row:** Knit to end.", "word"),
    ("abbreviation", "Cast off 8 sts. at beg of row.", "beg"),
]


@pytest.mark.parametrize(("kind", "new", "found"), WRONG)
def test_the_measure_sees(kind: str, new: str, found: str) -> None:
    at = LEAFLET.index("**1st")
    right = [Edit(Span(at, len(LEAFLET)), LEAFLET[at:], "shaping")]
    assert disagreements(LEAFLET, right, 1) == []
    wrong = disagreements(LEAFLET, [Edit(Span(at, len(LEAFLET)), new, "shaping")], 1)
    assert (kind, found) in {(d.kind, d.found) for d in wrong}


def test_the_measure_sees_lists_and_lines_too_wide() -> None:
    draft = "cast off 8(9:9) sts and work on\n" * 6
    at = [Edit(Span(0, 31), "cast off 8 (9, 9) sts and work on and on and on", "shaping")]
    assert {d.kind for d in disagreements(draft, at, 3)} == {"list", "width"}


# --- each form by itself -----------------------------------------------------------------------------

LEAD = "BACK\nWork in stocking stitch until armholes measure 19 cm, ending with a {ws} row.\n"


def written(draft: str) -> list[str]:
    """Return the lines of the new text of the one shoulder, which must be rewritten."""
    report = rewrite(draft, Options(markers=False))
    assert [p.status for p in report.passages] == ["rewritten"], report.passages
    assert disagreements(draft, edits_of(report), len(report.sizes)) == []
    (shaping,) = [e.replacement for e in report.edits if e.why == "shaping"]
    return [line for line in shaping.splitlines() if line and not line.lower().startswith("note")]


def test_points_of_abbreviations() -> None:
    lines = written(
        LEAD.format(ws="WS") + "Shape shoulders: Cast off 8 sts. at beg. of next 4 rows.\n"
        "Leave rem. 31 sts. on a holder. Work 4 rows on 6 sts. at one edge, p. to end.\n"
    )
    assert lines[0] == "Next row (WS): P. to last 8 sts., turn."
    assert lines[2] == "Next row (WS): DS, p. to end, working the DS as one st."


def test_bold_labels() -> None:
    lines = written(
        LEAD.format(ws="WS")
        + "**Row 1 (RS):** BO 8 sts, k to end.\n**Row 2:** BO 8 sts, p to end.\n"
        "**Row 3:** BO 9 sts, k to end.\n**Row 4:** BO 9 sts, p to end.\nBO rem 31 sts.\n"
    )
    assert lines[0] == "**Row 1 (WS):** P to last 8 sts, turn."
    assert lines[1] == "**Row 2:** DS, k to last 8 sts, turn."


def test_labels_with_a_dash_and_rows_that_begin_small() -> None:
    lines = written(
        LEAD.format(ws="WS") + "Next row \u2014 cast off 8 sts, knit to end.\n"
        "Next row \u2014 cast off 8 sts, purl to end.\nNext row \u2014 cast off 9 sts, knit to end.\n"
        "Next row \u2014 cast off 9 sts, purl to end.\nCast off.\n"
    )
    assert lines[0] == "Next row (WS) \u2014 purl to last 8 sts, turn."


def test_numbers_in_words_and_sides_in_full() -> None:
    lines = written(
        LEAD.format(ws="wrong side")
        + "Shape shoulders: cast off eight stitches at the beginning of the next four rows, then cast off "
        "the remaining thirty-one stitches.\n"
    )
    assert lines[0] == "Next row (wrong side): Purl to last eight stitches, turn."
    assert lines[3].startswith("Next row (right side): Cast off sixteen stitches, knit to end, ")


def test_loops() -> None:
    lines = written(
        LEAD.format(ws="WS") + "Shape shoulders: cast off 8 loops at beg of next 4 rows.\n"
        "Leave remaining 31 loops on a holder.\n"
    )
    assert lines[0].endswith("to last 8 loops, turn.")
    assert lines[2].startswith("Next row (WS): DS, ")


@pytest.mark.parametrize(
    ("joint", "after"),
    [(" - {n}", " - 47."), (". [{n} sts]", ". [47 sts]"), (". {n} sts rem.", ". 47 sts rem.")],
)
def test_counts_after_rows(joint: str, after: str) -> None:
    rows = [("RS", "k", 55), ("WS", "p", 47), ("RS", "k", 39), ("WS", "p", 31)]
    words = "".join(
        f"Next row ({side}): BO 8 sts, {word} to end{joint.format(n=n)}\n" for side, word, n in rows
    )
    lines = written(LEAD.format(ws="WS") + words + "Leave these 31 sts on a holder.\n")
    assert lines[3].endswith(f"as one st{after}")


def test_where_the_first_word_does_not_fit_the_line() -> None:
    draft = (
        "BACK\nCast on 63 sts and work in stocking stitch until\n"
        "the back measures 40 cm from the cast on edge,\n"
        "then go on straight and work in the same way\nuntil armholes measure 19 cm, ending with a wrong\n"
        "side row. Then shape the shoulders as told: all\nthis with the wool held quite slack. Now Cast\n"
        "off 8 sts at beg of next 4 rows. Leave the rem\n31 sts on a spare needle or on a length of\n"
        "wool, then work the front.\n"
    )
    report = rewrite(draft)
    (edit,) = [e for e in report.edits if e.why == "shaping"]
    lines = (draft[: edit.span[0]] + edit.replacement).splitlines()
    assert max(map(len, lines)) <= 49, lines


STEPS = (
    "BACK\n9. Work in stocking stitch until armholes measure 19 cm, ending with a WS row.\n"
    "10. Shoulders: cast off 8 sts at beg of next 2 rows.\n11. Cast off 8 sts at beg of next 2 rows.\n"
    "12. Leave rem 31 sts on a holder.\n13. Work the front{like}.\n"
)


@pytest.mark.parametrize("name", ["draft.txt", "draft.md"])
def test_numbered_steps_go_on(name: str) -> None:
    draft = STEPS.format(like="")
    report = rewrite(draft, Options(markers=False), name=name)
    lines = [line for line in report.output.splitlines() if line and not line.startswith("BACK")]
    numbers = [line.partition(".")[0] for line in lines]
    assert numbers == [str(n) for n in range(9, 9 + len(lines))]
    assert lines[-1].endswith(". Work the front.")
    assert lines[-2].endswith(". Leave rem 31 sts on a holder.")


def test_steps_that_are_referred_to_keep_their_numbers() -> None:
    report = rewrite(STEPS.format(like=" from step 9 on"), Options(markers=False))
    assert [p.status for p in report.passages] == ["rewritten"]
    assert (
        "\n12. Leave rem 31 sts on a holder.\n13. Work the front from step 9 on.\n" in report.output
    )


def test_stitches_in_the_singular() -> None:
    lines = written(
        LEAD.format(ws="WS") + "Shape shoulders: cast off 8 st. at the beg. of the next 4 rows.\n"
        "Leave the remaining 31 st. on a holder. Work 4 rows on 6 st. at one edge.\n"
    )
    assert lines[0] == "Next row (WS): Purl to last 8 st., turn."
    assert lines[3].startswith("Next row (RS): Cast off 16 st., knit to end")


WRAPPED = (
    "Work straight until the armhole measures as much\nas on the back, from the first cast off sts, and\n"
    "end then with a\nP row. Join both shoulder seams with back stitch,\nand press these seams on the "
    "wrong side under a\ndamp cloth, as was done with the pieces.\n  Then sew on the buttons and leave "
    "the ends for\n  darning.\n"
)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("end then with a", "end then with the row before a"),
        (
            "Join both shoulder seams with back stitch,",
            "Join both shoulders as told with three needles,",
        ),
        ("sts, and", "sts, and thereafter on and on and on, and"),
        ("sew on the buttons", "sew on the five or six brass buttons, the smallest first"),
        ("cloth", "cloth of some sort that is not too wet and not too dry"),
    ],
)
def test_words_put_into_a_line_break_it(old: str, new: str) -> None:
    document = split_document(read_source(WRAPPED.encode()))
    assert document.width == 49
    at = WRAPPED.index(old)
    added = [Edit(Span(at, at + len(old)), new, "lead-in")]
    revised = apply(WRAPPED, fitted(document, added))
    assert max(map(len, revised.splitlines())) <= 49, revised
    assert revised.split() == WRAPPED.replace(old, new).split()
    assert [line for line in revised.splitlines() if line.startswith("  ")][-1] == "  darning."


@pytest.mark.parametrize(
    ("lead", "after"),
    [
        ("When the armhole measures 19 cm, shape the shoulders", ":"),
        ("After 19 cm armhole height work the shoulder slope", ":"),
        ("When the armhole measures 19 cm, for the shoulders", ":"),
        ("When the armhole measures 19 cm", ", shape the shoulders:"),
    ],
)
def test_what_is_shaped_is_said_once(lead: str, after: str) -> None:
    report = rewrite(
        f"BACK: Cast on 63 sts.\n{lead} cast off 8 sts at beg of next 4 rows.\nCast off rem 31 sts.\n",
        Options(markers=False),
    )
    assert f"{lead}{after}\n" in report.output


@pytest.mark.parametrize(
    ("told", "said"),
    [
        (
            " loosely",
            "Cast off 33 sts loosely for back neck and fasten off through the last of them.",
        ),
        (
            " in patt",
            "Cast off 33 sts in patt for back neck and fasten off through the last of them.",
        ),
        (
            " rather firmly, so that it will not stretch",
            "Cast off 33 sts rather firmly for back neck, so that it will not stretch, "
            "and fasten off through the last of them.",
        ),
    ],
)
def test_the_neck_keeps_its_manner(told: str, said: str) -> None:
    text = (
        "BACK\nWork in st st until armholes measure 20 cm, ending with a WS row.\nShape shoulders\n"
        "Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of foll 2 rows.\n"
        f"Cast off rem 33 sts{told}.\n"
    )
    assert said in rewrite(text, Options(shoulders="three-needle")).output


def test_one_turn_and_one_marker_are_told_as_one() -> None:
    text = (
        "LEFT FRONT\nWork in st st until armhole measures 20 cm, ending with a WS row.\nShape shoulder\n"
        "Cast off 8 sts at beg of next row. Work 1 row. Cast off rem 8 sts.\n"
    )
    output = rewrite(text, Options(turn="wrap")).output
    assert "after 8 sts. Take it off when you turn at it." in output
    assert "working the wrap together with its st." in output


def test_words_that_hold_the_pattern_are_not_said_twice() -> None:
    text = (
        "BACK\nWork in cable patt until armholes measure 20 cm, ending with a WS row.\nShape shoulders\n"
        "Keeping patt correct, cast off 8 sts at beg of next 4 rows. Cast off rem 33 sts.\n"
    )
    assert "Keeping patt correct, work to last 8 sts" in rewrite(text).output


@pytest.mark.parametrize(
    ("sizes", "only"),
    [
        ("Sizes: S (M, L, XL, 2X)", ("Sizes S and M only", "Sizes L to 2X only")),
        (
            "To fit bust 81 (86, 91, 97, 102) cm",
            ("1st and 2nd sizes only", "3rd to 5th sizes only"),
        ),
        (
            "Sizes: S (M, L, XL, 2X)\nWork 2 rows more for the 3rd size.",
            ("1st and 2nd sizes only", "3rd to 5th sizes only"),
        ),
    ],
)
def test_sizes_are_called_by_the_draft_s_own_letters(sizes: str, only: tuple[str, str]) -> None:
    text = (
        f"{sizes}\n\nBACK\nWork in st st until armhole measures 8 in, ending with a WS row.\n"
        "BO 6 (6, 5, 5, 6) sts at beg of next 4 (4, 6, 6, 6) rows. BO rem 33 (35, 37, 39, 41) sts.\n"
    )
    report = rewrite(text)
    assert [p.status for p in report.passages] == ["rewritten"], report.passages[0].reason
    first, second = only
    assert f"{first}: counting" in report.output
    assert f"{second}\nNext row" in report.output
    assert rewrite(report.output).output == report.output


def test_a_run_in_heading_goes_on_without_a_capital() -> None:
    text = (
        "BACK\nWork in st st until armholes measure 20 cm, ending after a WS row. *To shape shoulders:* "
        "cast off 8 sts at beg of next 4 rows. Cast off rem 33 sts.\n"
    )
    assert "*To shape shoulders:* counting from each armhole edge" in rewrite(text).output


def test_a_short_draft_without_capitals_is_told_so() -> None:
    text = "back\nwork in st st for 20 cm.\ncast off 8 sts at beg of next 4 rows.\ncast off rem 33 sts.\n"
    output = rewrite(text, Options(turn="wrap")).output
    assert "note on w&t" in output
    assert "\nnext row: " in output


def test_a_draft_that_says_it_has_no_abbreviations_gets_none() -> None:
    text = (
        "There are no abbreviations to learn.\n\nBACK\nKnit until the armholes measure 20 cm, ending with a "
        "wrong side row. Slope the shoulders. Cast off eight stitches at the beginning of the next four "
        "rows. Cast off the remaining 33 stitches.\n"
    )
    assert "make a double stitch, " in rewrite(text).output.lower()
    assert "DS" not in rewrite(text).output
