"""Messages for those who never see a command."""

from __future__ import annotations

import pytest

from rewriter.spoken import spoken


@pytest.mark.parametrize(
    ("message", "said"),
    [
        ("back/shoulder/1 keeps its steps", "the shoulder of the back keeps its steps"),
        ("right-front/neck/2: no", "the 2nd neck of the right front: no"),
        ("unknown/shoulder/1 is left", "the shoulder is left"),
        (
            "a graft was asked for (--shoulders graft), but rows 3/4 stay",
            "a graft was asked for, but rows 3/4 stay",
        ),
    ],
)
def test_shapings_are_named_and_options_left_out(message: str, said: str) -> None:
    assert spoken(message) == said
