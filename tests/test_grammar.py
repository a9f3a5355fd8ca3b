"""Hygiene of the grammar, and the parts it reads."""

from __future__ import annotations

import logging
import tomllib
from collections import Counter
from pathlib import Path

import lark
import pytest
from lark import Lark

from rewriter.grammartext import grammar_text
from rewriter.lexicon import TERMINALS, lexicon, pattern_of
from rewriter.parsing import Part, parse
from rewriter.spans import Span, view_of
from tests.drafts import all_drafts

GRAMMAR = Path(__file__).parents[1] / "grammar"


def parts(text: str) -> list[Part]:
    found = parse(view_of(text, Span(0, len(text))))
    assert found is not None
    return list(found)


def test_the_grammar_has_no_conflict(caplog: pytest.LogCaptureFixture) -> None:
    """Lark settles conflicts silently; in debug mode it logs each one."""
    lark.logger.setLevel(logging.DEBUG)
    try:
        with caplog.at_level(logging.DEBUG, logger=lark.logger.name):
            Lark(grammar_text(), parser="lalr", lexer="contextual", regex=True, debug=True)
    finally:
        lark.logger.setLevel(logging.CRITICAL)
    assert not [r.message for r in caplog.records if "onflict" in r.message]


def test_every_terminal_of_the_lexicon_is_listed_once() -> None:
    assert len(set(TERMINALS)) == len(TERMINALS)
    assert set(TERMINALS) == set(lexicon().patterns)


@pytest.mark.parametrize("path", sorted(GRAMMAR.glob("*.*")), ids=lambda path: path.name)
def test_a_file_of_the_grammar_stays_readable(path: Path) -> None:
    """No file is over 600 lines, and no word stands twice in its list."""
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 600
    if path.name != "lexicon.toml":
        return
    for terminal, concepts in tomllib.loads(text).items():
        for concept, words in concepts.items():
            counted = Counter(map(str, words)) if isinstance(words, list) else Counter()
            assert not [w for w, n in counted.items() if n > 1], (terminal, concept)


def test_nested_brackets_in_the_lexicon_are_refused() -> None:
    with pytest.raises(ValueError, match="nested"):
        pattern_of("to [the [very]] end")


@pytest.mark.parametrize(
    ("written", "values"),
    [
        ("8(9:9)", (8, 9, 9)),
        ("8 (9, 9)", (8, 9, 9)),
        ("8 (9-9-10)", (8, 9, 9, 10)),
        ("8 [9: 9]", (8, 9, 9)),
        ("8[9,9,10]", (8, 9, 9, 10)),
        ("8( 9:9 :10)", (8, 9, 9, 10)),
        ("8, (9, 9)", (8, 9, 9)),
        ("8 (9) (10)", (8, 9, 10)),
        ("8(9)10(11)", (8, 9, 10, 11)),
        ("(8) 9 (10)", (8, 9, 10)),
        ("8 (9, 9)(10, 11)", (8, 9, 9, 10, 11)),
        ("8-9-10", (8, 9, 10)),
        ("0 (0, 6)", (0, 0, 6)),
        ("- (-, -, 9, 8)", (None, None, None, 9, 8)),
        ("4(-:-:5)", (4, None, None, 5)),
        ("four (four, five)", (4, 4, 5)),
        ("12", (12,)),
    ],
)
def test_a_list_of_sizes_is_one_count(written: str, values: tuple[int | None, ...]) -> None:
    (count,) = [p for p in parts(f"cast off {written} sts") if p.kind == "count"]
    assert count.amount is not None
    assert count.amount.values == values


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("at beg of next 4 rows", ["at_beg", "next_rows"]),
        ("at the beginning of the next four rows", ["at_beg", "next_rows"]),
        ("at beg of next and foll alt row", ["at_beg", "next_rows", "foll_alt_rows"]),
        ("at beg of next 3 RS rows", ["at_beg", "next_side_rows"]),
        ("every other row 3 times", ["every_other", "times"]),
        ("every alt row twice", ["every_other", "once"]),
        ("at armhole edge", ["edge"]),
        ("work 1 row", ["work", "some_rows"]),
        ("rep last 2 rows twice more", ["repeat", "last_rows", "once"]),
        ("rep rows 1-2", ["repeat", "row_number"]),
        ("bind off rem 35 sts", ["bind_off", "rem_count"]),
        ("bind off the last 35 sts", ["bind_off", "rem_count"]),
        ("leave rem sts on a holder", ["hold", "rem_all", "holder"]),
        ("p to last 8 sts, turn", ["work", "to_last", "link", "turn"]),
        ("k to end", ["work", "to_end"]),
        ("2 x 6 sts", ["times", "count"]),
    ],
)
def test_a_phrase_is_read_as_its_parts(text: str, kinds: list[str]) -> None:
    assert [p.kind for p in parts(text)] == kinds


@pytest.mark.parametrize(
    "text",
    [
        "Cast off 8 sts at begin-\nning of next 4 rows",
        "Cast off 8\u00a0sts at beg of\nnext 4 rows",
        "CAST OFF 8 STS AT BEG. OF NEXT 4 ROWS",
        "cast off 8sts at beg of next four rows",
    ],
)
def test_typography_does_not_change_the_reading(text: str) -> None:
    assert [p.kind for p in parts(text)] == ["bind_off", "count", "at_beg", "next_rows"]


def test_spans_are_inside_the_text_in_order_and_show_the_words() -> None:
    for draft in all_drafts():
        text = draft.data.decode("utf-8")
        for line in text.splitlines():
            end = 0
            for part in parse(view_of(line, Span(0, len(line)))) or ():
                assert 0 <= part.span.start < part.span.end <= len(line)
                if part.kind == "residue":
                    continue  # a stray word may stand inside brackets
                assert part.span.start >= end
                end = part.span.end
                if part.amount is not None:
                    assert part.span.start <= part.amount.span.start
                    assert part.amount.span.end <= part.span.end


def test_what_the_grammar_does_not_know_is_kept_as_residue() -> None:
    residue = [
        p for p in parts("cast off 8 sts widdershins at beg of next 4 rows") if p.kind == "residue"
    ]
    assert len(residue) == 1


@pytest.mark.parametrize(
    "junk", ["rows rows rows", "((((", "* * *", "8 (9 (9", ")", "next", "sts sts"]
)
def test_junk_never_raises(junk: str) -> None:
    parts(junk)
