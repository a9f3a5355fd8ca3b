"""One published shoulder in many words of ours: it is read with its published steps or not at all.

Source: Rico Design, corrections to Knitting Idea Compact, smallest size,
https://rico-design.de/en/correction-group/knitting-ideas-compact/page/2
Published: 132 sts; 5 off at the beginning of 6 rows, 102 left; 6 off at the beginning of 6 rows,
66 left. Every wording below is ours, and says the same; sides are ours too. Steps of another
number, or fewer of them, would be another garment: such a reading must never be rewritten.
"""

from __future__ import annotations

import pytest

from rewriter import rewrite

from .support import only_passage, steps_of

STEPS = [5, 5, 5, 6, 6, 6]

DRAFT = """BACK

Work straight until armhole measures 20 cm, ending with a WS row.{before}

Shape shoulders
{steps}
Cast off all sts.
"""

WORDINGS = {
    "verb first": (
        "Cast off 5 sts at beg of next 6 rows. 102 sts.\n"
        "Cast off 6 sts at beg of next 6 rows. 66 sts."
    ),
    "total after a comma": (
        "Cast off 5 sts at beg of next 6 rows, 102 sts.\n"
        "Cast off 6 sts at beg of next 6 rows, 66 sts."
    ),
    "total after a dash": (
        "Cast off 5 sts at beg of next 6 rows - 102 sts.\n"
        "Cast off 6 sts at beg of next 6 rows - 66 sts."
    ),
    "rows first, total in brackets": (
        "At beg of next 6 rows cast off 5 sts. (102 sts)\n"
        "At beg of foll 6 rows cast off 6 sts. (66 sts)"
    ),
    "rows first, bare total": (
        "At beg of next 6 rows cast off 5 sts. 102 sts.\n"
        "At beg of foll 6 rows cast off 6 sts. 66 sts."
    ),
    "rows first, total after a comma": (
        "At beg of next 6 rows cast off 5 sts, 102 sts.\n"
        "At beg of foll 6 rows cast off 6 sts, 66 sts."
    ),
    "rows between verb and count": (
        "Cast off at beg of next 6 rows 5 sts. 102 sts.\n"
        "Cast off at beg of next 6 rows 6 sts. 66 sts."
    ),
    "row by row": (
        "Next 6 rows: Cast off 5 sts, work to end. 102 sts.\n"
        "Next 6 rows: Cast off 6 sts, work to end. 66 sts."
    ),
    "each edge, one sentence": (
        "At each armhole edge cast off 5 sts every other row 3 times, then 6 sts every other row"
        " 3 times. 66 sts."
    ),
    "each edge, then in a new sentence": (
        "At each armhole edge cast off 5 sts every other row 3 times. Then 6 sts every other row"
        " 3 times. 66 sts."
    ),
    "every row, then in a new sentence": (
        "At beg of every row cast off 5 sts 6 times. 102 sts. Then 6 sts 6 times. 66 sts."
    ),
}


@pytest.mark.parametrize("steps", WORDINGS.values(), ids=WORDINGS.keys())
@pytest.mark.parametrize("before", ["", " 132 sts."], ids=["no count before", "count before"])
def test_no_wording_is_rewritten_with_other_steps(before: str, steps: str) -> None:
    """A wording that is not understood may be left or asked about, never read as something else."""
    passage = only_passage(rewrite(DRAFT.format(before=before, steps=steps)))
    if passage.status == "rewritten":
        assert [steps_of(edge) for edge in passage.edges] == [STEPS, STEPS]
        assert passage.stitches_before in (None, (132,))
        assert passage.neck in (None, (66,))
    else:
        assert passage.reason


@pytest.mark.parametrize(
    "name", ["verb first", "total after a dash", "rows first, total in brackets", "row by row"]
)
def test_the_plain_wordings_are_rewritten(name: str) -> None:
    """So that the test above is not passed by leaving everything."""
    passage = only_passage(rewrite(DRAFT.format(before=" 132 sts.", steps=WORDINGS[name])))
    assert passage.status == "rewritten"
    assert [steps_of(edge) for edge in passage.edges] == [STEPS, STEPS]
    assert (passage.stitches_before, passage.neck) == ((132,), (66,))
