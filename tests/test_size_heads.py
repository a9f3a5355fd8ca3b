"""Steps told for named sizes on lines of their own, in the words that houses use for that."""

from __future__ import annotations

import pytest

from rewriter import rewrite, sizeheads
from rewriter.document import split_document
from rewriter.options import Options
from rewriter.report import PassageReport, Report
from rewriter.sizeheads import OTHERS, size_head, size_tail, size_tails
from rewriter.source import read_source
from tests.drafts import CORPUS

SIZES = ("S", "M", "L", "XL")
DRAFT = """Sizes: S (M, L, XL).

BACK
Work straight in st st until armhole measures 18 cm, ending with a WS row. 74 (78, 86, 92) sts.
Shape shoulders
{told}
"""
STEPS = [(7, 7, 7), (8, 8, 8), (7, 7, 7, 7), (8, 8, 8, 8)]
REST = "Leave rem 32 (30, 30, 28) sts on a holder."
SIX = "cast off 7 (8) sts at beg of next 6 rows"
EIGHT = "cast off 7 (8) sts at beg of next 8 rows"


def report(told: str, draft: str = DRAFT) -> Report:
    return rewrite(draft.format(told=told), Options(markers=False))


def passage(told: str, draft: str = DRAFT) -> PassageReport:
    (found,) = report(told, draft).passages
    return found


def steps_of(found: PassageReport) -> list[tuple[int, ...]]:
    assert found.status == "rewritten", found.reason
    return [tuple(n for n in size if n) for size in zip(*found.edges[0].steps, strict=True)]


HEADS = [
    ("**S and M only:** ", "**L and XL only:** "),
    ("For sizes S and M, ", "For sizes L and XL, "),
    ("S and M: ", "L and XL: "),
    ("Sizes S (M): ", "Sizes L (XL): "),
    ("Sizes S/M: ", "Sizes L/XL: "),
    ("Sizes S-M: ", "Sizes L-XL: "),
    ("Sizes S & M \u2014 ", "Sizes L & XL \u2014 "),
    ("(Sizes S and M) ", "(Sizes L and XL) "),
    ("- S and M: ", "- L and XL: "),
    ("First two sizes: ", "Last two sizes: "),
    ("First and second sizes: ", "Third and fourth sizes: "),
    ("The 2 smallest sizes only: ", "The 2 largest sizes only: "),
    ("For both small sizes ", "For both large sizes "),
    ("Sizes S and M: work as follows: ", "All other sizes: work as follows: "),
    ("Up to size M: ", "Sizes L and up: "),
    ("### Sizes S and M\n", "### Sizes L and XL\n"),
    ("**Sizes S and M only**\n\n", "**Sizes L and XL only**\n\n"),
]


@pytest.mark.parametrize(("one", "two"), HEADS)
def test_each_line_is_for_the_sizes_it_names(one: str, two: str) -> None:
    found = passage(f"{one}{SIX}.\n{two}{EIGHT}.\n**All sizes:** {REST}")
    assert steps_of(found) == STEPS
    assert found.neck == (32, 30, 30, 28)


@pytest.mark.parametrize(
    "told",
    [
        f"Cast off 7 (8) sts at beg of next 6 rows (sizes S and M).\n"
        f"Cast off 7 (8) sts at beg of next 8 rows (sizes L and XL).\n{REST}",
        f"S and M: {SIX}; L and XL: {EIGHT}; all sizes: {REST.lower()}",
        "Cast off 7 (8, 7, 8) sts at beg of next 6 rows, then for sizes L and XL only, 7 (8) sts at beg of "
        f"next 2 rows.\n{REST}",
        f"Cast off 7 (8, 7, 8) sts at beg of next 6 rows.\nAll sizes except S and M: cast off 7 (8) sts at "
        f"beg of next 2 rows.\nAll sizes: {REST}",
        "S and M only: cast off 7 (8) sts at beg of first 4 rows, then 7 (8) sts at beg of next 2 rows.\n"
        f"L and XL only: cast off 7 (8) sts at beg of first 8 rows.\nAll sizes: {REST}",
        "**Sizes S and M only:**\nRow 1 (RS): Cast off 7 (8) sts, k to end.\n"
        "Row 2: Cast off 7 (8) sts, p to end.\nRep rows 1 and 2 twice more.\n"
        "**Sizes L and XL only:**\nRow 1 (RS): Cast off 7 (8) sts, k to end.\n"
        f"Row 2: Cast off 7 (8) sts, p to end.\nRep rows 1 and 2 3 times more.\n**All sizes:** {REST}",
    ],
)
def test_sizes_are_told_apart_behind_and_within_sentences(told: str) -> None:
    assert steps_of(passage(told)) == STEPS


def test_a_size_that_is_told_nothing_is_asked_about() -> None:
    found = passage(f"S and M only: {SIX}.\nL only: cast off 7 sts at beg of next 8 rows.\n{REST}")
    assert found.status == "question"
    assert "XL" in (found.reason or "")


@pytest.mark.parametrize(
    "head", ["Sizes L and XXL: ", "The larger sizes: ", "Sizes XL and L: ", "The 5 largest sizes: "]
)
def test_a_head_that_names_no_known_sizes_is_not_guessed(head: str) -> None:
    found = passage(f"Sizes S and M: {SIX}.\n{head}{EIGHT}.\n{REST}")
    assert found.status == "question", found.reason


LEAD = """Sizes: S (M, L, XL).

BACK
Work in st st.
Sizes S and M: work 50 (52) rows, ending with a WS row.
Sizes L and XL: work 54 (56) rows, ending with a {side} row. 74 (78, 86, 92) sts.
Shape shoulders
{told}
"""


def test_a_lead_in_told_for_some_sizes_each_moves_for_all_of_them() -> None:
    told = f"Sizes S and M: {SIX}.\nSizes L and XL: {EIGHT}.\n{REST}"
    found = report(told, LEAD.replace("{side}", "WS"))
    assert [p.status for p in found.passages] == ["rewritten"]
    moved = sorted(e.replacement for e in found.edits if e.why == "lead-in")
    assert moved == ["49", "51", "53", "55", "RS", "RS"]


def test_lead_ins_that_differ_between_sizes_are_not_moved() -> None:
    told = f"Sizes S and M: {SIX}.\nSizes L and XL: {EIGHT}.\n{REST}"
    assert passage(told, LEAD.replace("{side}", "RS")).status != "rewritten"


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("size m: cast off", (2,)),
        ("sizes s to l: cast off", (1, 2, 3)),
        ("from size m up: cast off", (2, 3, 4)),
        ("2 middle sizes: cast off", (2, 3)),
        ("1st to 3rd sizes only: cast off", (1, 2, 3)),
        ("all sizes but xl: cast off", (1, 2, 3)),
        ("for all sizes, leave rem sts", ()),
        ("other sizes: cast off", OTHERS),
    ],
)
def test_heads_name_sizes(text: str, sizes: tuple[int, ...]) -> None:
    head = size_head(text, SIZES)
    assert head is not None
    assert head.sizes == sizes


@pytest.mark.parametrize(
    "text",
    [
        "cast off 7 (8) sts",
        "8, 10 and 12: cast off",
        "first row: cast off",
        "both",
    ],
)
def test_other_words_are_no_heads(text: str) -> None:
    assert size_head(text, SIZES) is None


def test_a_list_of_all_the_sizes_keeps_a_sentence_for_none() -> None:
    head = size_head("sizes s (m, l, xl).", SIZES)
    assert head is not None and head.sizes == ()


def test_a_list_of_all_sizes_behind_a_sentence_restricts_nothing() -> None:
    tail = size_tail("leave rem sts on a holder (all sizes).", SIZES)
    assert tail is None or not tail.sizes


_ENDS = (
    "cast off 7 sts for {}", "cast off 7 sts (for {})", "work 6 rows, {} only", "work 6 rows ({} only).",
    "cast off 7 sts for sizes {}", "cast off 7 sts for size {} and 8 sts for sizes {}", "7 sts for {} and up",
    "work 4 rows for {}, 6 rows for the larger sizes", "k 6 (8) for {} years",
    "for {}, 7 sts, 8 sts on these sts only",
    "6 rows for the 1st size and 8 rows for the 2nd to 4th sizes", "8 rows for all sizes but the last",
    "8 rows (6 rows for the smallest size), in {}", "sizes {} again.", "6 rows in the two smallest and {}",
)  # fmt: skip


@pytest.mark.parametrize(
    "labels",
    [
        SIZES,
        ("1", "2", "3", "4"),
        ("34/36", "38/40", "6 years"),
        ("12", "14", "16"),
        ("one", "two"),
    ],
)
def test_what_is_done_with_by_a_comparison_names_no_size(
    labels: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same is read with the expressions alone, from every sentence and from inside it."""
    texts = []
    for path in sorted((CORPUS / "newest").glob("*.txt"))[::12]:
        document = split_document(read_source(path.read_bytes(), path.name))
        texts += [sentence.view.text for sentence in document.sentences]
    names = [n.lower() for n in (*labels, f"{labels[0]} and {labels[-1]}", "m", "8", "the others")]
    texts += [text.format(name, names[-1 - i]) for text in _ENDS for i, name in enumerate(names)]

    def told() -> list[object]:
        return [
            (size_head(t, labels), size_head(t, labels, len(t) // 2), size_tail(t, labels))
            for t in texts
        ] + [size_tails(t, labels) for t in texts]

    quick = told()
    assert any(head for one in quick if isinstance(one, tuple) for head in one)
    monkeypatch.setattr(sizeheads, "may_head", lambda *_: True)
    monkeypatch.setattr(sizeheads, "may_tail", lambda *_: True)
    monkeypatch.setattr(sizeheads, "may_have_tails", lambda *_: True)
    assert told() == quick
