"""Spelled-out numbers against num2words (https://pypi.org/project/num2words/), a public library.

Published there: the English words for 1 to 99. What is checked is ours: the lexicon and the reader.
"""

from __future__ import annotations

import pytest
import regex
from num2words import num2words  # type: ignore[import-untyped]

from rewriter import rewrite
from rewriter.amounts import amount_pattern, read_amount
from rewriter.lexicon import lexicon
from rewriter.spans import Span

from .support import rewritten, steps_of

NUMBERS = range(1, 100)
SINGLE_WORDS = [n for n in NUMBERS if n <= 20 or n % 10 == 0]


def word(number: int) -> str:
    """Return the library's word for a number ("forty-two")."""
    return str(num2words(number, lang="en"))


def test_the_lexicon_holds_exactly_the_single_words_up_to_ninety() -> None:
    """No word missing, none misspelled, none with a wrong value."""
    assert lexicon().numbers == {word(n): n for n in SINGLE_WORDS}


@pytest.mark.parametrize("number", NUMBERS)
def test_words_are_read_with_a_hyphen_and_with_a_blank(number: int) -> None:
    """The whole word is one amount, whatever joins its parts."""
    for text in {word(number), word(number).replace("-", " ")}:
        found = regex.match(amount_pattern(), text)
        assert found is not None
        assert found.group() == text
        assert read_amount(text, Span(0, len(text))).values == (number,)


def test_words_stand_in_lists_of_sizes() -> None:
    """A list of words, and one of words and figures, in the order of the sizes."""
    for text, values in (
        ("four (six, eight, ten)", (4, 6, 8, 10)),
        ("seven [nine:eleven]", (7, 9, 11)),
        ("five (six, 7)", (5, 6, 7)),
    ):
        found = regex.fullmatch(amount_pattern(), text)
        assert found is not None
        assert read_amount(text, Span(0, len(text))).values == values


@pytest.mark.parametrize("number", [2, 7, 12, 20, 21, 35, 99])
def test_a_shoulder_told_in_words_is_the_shoulder_told_in_figures(number: int) -> None:
    """The same steps and the same sts before, from words and from figures."""
    draft = """BACK

Work even until armhole measures 8 in, ending with a WS row. {before} sts.

Shape shoulders
BO {step} sts at beg of next {rows} rows. BO rem {neck} sts.
"""
    before = 4 * number + 31
    told = draft.format(before=before, step=word(number), rows=word(4), neck=word(31))
    passage = rewritten(rewrite(told))
    assert passage.stitches_before == (before,)
    assert passage.neck == (31,)
    assert [steps_of(edge) for edge in passage.edges] == [[number, number]] * 2
