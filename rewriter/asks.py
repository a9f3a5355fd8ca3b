"""What can be asked about a passage, with the answers that can be given."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from rewriter import regex
from rewriter.spans import Span, view_of


@dataclass(frozen=True, slots=True)
class Ask:
    """A kind of question: its choices and what each means, or the form of a free answer."""

    choices: Mapping[str, str] = field(default_factory=dict)
    form: str = ""


ASKS: Mapping[str, Ask] = {
    "kind": Ask(
        {
            "shoulder": "these steps shape a shoulder",
            "other": "they shape something else and stay as they are",
        }
    ),
    "first-side": Ask(
        {
            "RS": "the first bind-off row (or cast-on row) is a right-side row",
            "WS": "it is a wrong-side row",
        }
    ),
    "stitches": Ask(
        form="the number of sts on the needle right before these words: one number, or one for each "
        "size, as 81(87:93)"
    ),
    "words": Ask(
        {
            "harmless": "these words change nothing in the rows, sts or sides",
            "leave": "they do: the passage stays as it is",
        }
    ),
    "count": Ask(
        {
            "left": "so many sts are left after the bind-off",
            "same": "it only repeats how many sts that bind-off takes",
        }
    ),
    "first-row": Ask(
        {
            "included": "the first row is one of these times",
            "added": "these times come after the first row",
        }
    ),
    "decreases": Ask(
        {
            "with": "they begin in the row of the first bind-off",
            "after": "they begin in the row after the last bind-off",
        }
    ),
    "neck-rows": Ask(
        {
            "first": "the first of these bind-off rows, and every second row from it on, is at the neck",
            "second": "the rows between them are at the neck",
            "none": "both edges are shoulders",
        }
    ),
    "last-sts": Ask(
        {
            "shoulder": "they are the last step of this shoulder",
            "neck": "they are the neck's: the passage stays as it is",
        }
    ),
    "cast-on-at": Ask(
        {
            "beginning": "at the beginning of the rows",
            "end": "at the end of the rows",
        }
    ),
}
"""The kinds of question by name."""


@dataclass(frozen=True, slots=True)
class Decision:
    """A choice that the reader made; `about` the words in question, normalised, "" for any."""

    ask: str
    choice: str
    about: str = ""


def choice_of(decisions: Iterable[Decision], ask: str, words: str | None = None) -> str | None:
    """Return the choice made for a kind of question about some words (normalised here)."""
    for decision in decisions:
        if decision.ask == ask and (
            not decision.about or words is None or decision.about == normal_words(words)
        ):
            return decision.choice
    return None


def normal_words(text: str) -> str:
    """Return words without what case, typography, markup and line breaks do to them.

    >>> normal_words("Cast off 8\\nsts,  at **beg**")
    'cast off 8 sts, at beg'
    """
    plain = view_of(text, Span(0, len(text)), markup=True).text
    return regex.sub(r"\s+", " ", plain).strip(" .:;,")


def parsed_counts(answer: str) -> tuple[int, ...] | None:
    """Return the numbers of a free answer, one or one for each size; None where it is no such list.

    >>> parsed_counts("81 (87: 93)")
    (81, 87, 93)
    """
    if not regex.fullmatch(r"[\d\s(),:;/\[\]-]+", answer):
        return None
    return tuple(int(n) for n in regex.findall(r"\d{1,4}", answer)) or None
