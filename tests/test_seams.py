"""Sentences that sew or join the shoulders follow the join, in whatever words a draft has them."""

from __future__ import annotations

import re

import pytest

from rewriter import rewrite
from rewriter.options import Options
from rewriter.report import Report

DRAFT = """BACK
Work in st st until armholes measure 19 cm, ending with a WS row. 81 sts.
{heading}
Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of next 2 rows.
Leave rem 31 sts on a holder.

MAKING UP
{told}
"""
SLEEVED = "Shape upper sleeves and shoulders"


def _rewritten(told: str, join: str, heading: str = "Shape shoulders") -> tuple[Report, str]:
    text = DRAFT.format(told=told, heading=heading)
    report = rewrite(text, Options(shoulders=join))  # type: ignore[arg-type]
    words = report.output[report.output.index("MAKING UP\n") + 10 :].strip()
    words = re.sub(r": with (?:RS|WS) together.*?(?:of the front|front shoulder)", ": …", words)
    return report, re.sub(r": put the held.*?fasten off", "", words)


# told; with a three-needle join; held
TOLD = [
    (
        "Sew up the shoulder seams with back stitch.",
        "Join the shoulders: ….",
        "Join the shoulders.",
    ),
    (
        "Join left shoulder together with neckband seam.",
        "Join left shoulder: …. Join neckband seam.",
        "Join left shoulder. Join neckband seam.",
    ),
    (
        "Sew one shoulder. Work the band. Sew other shoulder and band.",
        "Join one shoulder: …. Work the band. Join other shoulder in the same way. Sew band.",
        "Join one shoulder. Work the band. Join other shoulder. Sew band.",
    ),
    (
        "When they're dry, sew the shoulders with a firm backstitch; they carry the weight.",
        "When they're dry, join the shoulders: …; they carry the weight.",
        "When they're dry, join the shoulders; they carry the weight.",
    ),
    (
        "THE BORDERS.-Sew the left shoulder.",
        "THE BORDERS.-Join the left shoulder: ….",
        "THE BORDERS.-Join the left shoulder.",
    ),
    (
        "Close the shoulder, side and sleeve seams.",
        "Join the shoulders: …. Close side and sleeve seams.",
        "Join the shoulders. Close side and sleeve seams.",
    ),
    ("Execute shoulder seams.", "Join shoulders: ….", "Join shoulders."),
    (
        "Run the shoulder seams, then the sides.",
        "Join the shoulders: …. Sew the sides.",
        "Join the shoulders. Sew the sides.",
    ),
    ("Make the seams of the shoulders.", "Join the shoulders: ….", "Join the shoulders."),
    ("Sew together shoulders.", "Join shoulders: ….", "Join shoulders."),
    ("Sew the shoulders together edge to edge.", "Join the shoulders: ….", "Join the shoulders."),
    (
        "With yarn threaded on a tapestry needle, sew shoulder and side seams.",
        "Join shoulders: …. With yarn threaded on a tapestry needle, sew side seams.",
        "Join shoulders. With yarn threaded on a tapestry needle, sew side seams.",
    ),
    (
        "Join the side and sleeve seams and the right shoulder seam.",
        "Join the right shoulder: …. Join side and sleeve seams.",
        "Join the right shoulder. Join side and sleeve seams.",
    ),
    (
        "Work neckband, then join left shoulder and neckband seam.",
        "Work neckband. Join left shoulder: …. Join neckband seam.",
        "Work neckband. Join left shoulder. Join neckband seam.",
    ),
    (
        "Join side, shoulder and sleeve seams.",
        "Join shoulders: …. Join side and sleeve seams.",
        "Join shoulders. Join side and sleeve seams.",
    ),
    (
        "Do the right shoulder seam first.",
        "Join the right shoulder: ….",
        "Join the right shoulder.",
    ),
    (
        "Join shoulder seams; join ends of band and sew to back neck.",
        "Join shoulders: …; join ends of band and sew to back neck.",
        "Join shoulders; join ends of band and sew to back neck.",
    ),
    ("Join left shoulder and neckband.", "Join left shoulder: …. Join neckband.", None),
    ("Join the shoulders.", "Join the shoulders: ….", None),
    ("Sew left seam at top.", "Join left shoulder: ….", "Join left shoulder."),
    ("Sew seams.", "Join shoulders: …. Sew other seams.", None),
]


@pytest.mark.parametrize(("told", "joined", "held"), TOLD)
def test_seams_follow_the_join(told: str, joined: str, held: str | None) -> None:
    assert _rewritten(told, "three-needle")[1] == joined
    report, words = _rewritten(told, "held")
    assert words == (told if held is None else held)
    assert "sewn-though-held" in {d.code for d in report.diagnostics}
    assert _rewritten(told, "sewn")[1] == told


@pytest.mark.parametrize(
    ("told", "joined"),
    [
        ("Join right upper sleeve and shoulder seam.", "Join right shoulder and upper sleeve: …."),
        (
            "Join left upper sleeve, shoulder and neckband seam.",
            "Join left shoulder and upper sleeve: …. Join neckband seam.",
        ),
        ("Join shoulder/sleeve seams, leaving neck open.", "Join shoulders and sleeves: …."),
        ("Join left shoulder and sleeve seam.", "Join left shoulder and sleeve: …."),
    ],
)
def test_shoulders_that_go_on_over_the_sleeves_are_joined_with_them(told: str, joined: str) -> None:
    assert _rewritten(told, "three-needle", SLEEVED)[1] == joined
    report, words = _rewritten(told, "three-needle")
    if "and sleeve seam" not in told:  # set-in sleeves have a seam of their own
        assert words == told
        assert "bound-off-instead" in {d.code for d in report.diagnostics}


@pytest.mark.parametrize("join", ["three-needle", "graft", "held"])
@pytest.mark.parametrize(
    "told",
    [
        "Join left shoulder, leaving an opening of 1 inch at the neck end for the press-stud.",
        "Sew seams, leaving left top seam open 4 cm at neck.",
        "Join the left shoulder for half its length from the armhole; face the edges.",
        "Sew saddles to front and back shoulders, easing to fit.",
    ],
)
def test_shoulders_that_stay_open_or_do_not_meet_are_bound_off(told: str, join: str) -> None:
    report, words = _rewritten(told, join)
    assert words == told
    assert "bound-off-instead" in {d.code for d in report.diagnostics}
    assert "Leave 25 sts" not in report.output


def test_an_opening_elsewhere_leaves_the_shoulders_live() -> None:
    told = "Sew shoulder and side seams, leaving opening in left underarm for zipper."
    after = "Join shoulders: …. Sew side seams, leaving opening in left underarm for zipper."
    assert _rewritten(told, "three-needle")[1] == after


def test_a_draft_that_never_joins_its_shoulders_is_told_so() -> None:
    report, _ = _rewritten("Darn in ends.", "three-needle")
    assert "join-not-told" in {d.code for d in report.diagnostics}
    report, _ = _rewritten("Join shoulders with a three-needle cast-off.", "held")
    assert not {"join-not-told", "sewn-though-held"} & {d.code for d in report.diagnostics}


@pytest.mark.parametrize(
    "told",
    [
        "Join right shoulder. Lap the shoulder bands and catch them together at the armhole.",
        "Join right shoulder. Work 3 loops on the left front shoulder and sew the buttons to the back.",
        "Join right shoulder. Sew buttons to shoulder opening.",
    ],
)
def test_buttoned_shoulders_are_bound_off(told: str) -> None:
    report, words = _rewritten(told, "held")
    assert words == told
    assert "bound-off-instead" in {d.code for d in report.diagnostics}


def test_sts_are_counted_in_words_where_the_draft_counts_so() -> None:
    text = DRAFT.format(told="Join shoulder seams.", heading="Shape shoulders")
    text = text.replace("81 sts.", "Eighty-one stitches.").replace("rem 31 sts", "the rest")
    text = text.replace(
        "Cast off 8 sts at beg of next 4 rows, then 9 sts at beg of next 2 rows.",
        "Cast off eight stitches at the beginning of the next four rows, then nine stitches at the "
        "beginning of the next two rows.",
    )
    output = rewrite(text, Options(shoulders="three-needle")).output
    assert "across the twenty-five stitches of each back shoulder" in output


def test_parts_that_are_pulled_into_shape_keep_their_live_sts() -> None:
    told = "Pull the parts on the pattern, moisten and leave to dry. Sew the shoulder seams."
    words = _rewritten(told, "graft")[1]
    assert words.startswith(
        "Pull the parts on the pattern, moisten and leave to dry. Leave the shoulder sts on waste yarn or "
        "holders meanwhile. Graft the shoulders"
    )


def test_rows_that_are_pointed_at_keep_their_number() -> None:
    lead = "until front is 4 rows lower than back to shoulder (these 4 rows make the band), ending with"
    text = (
        "BACK\nWork in st st until armholes measure 19 cm, ending with a WS row. 81 sts.\n"
        "Shape shoulders\nCast off 8 sts at beg of next 4 rows, then 9 sts at beg of next 2 rows.\n"
        "Leave rem 31 sts on a holder.\nLEFT FRONT\n"
        f"Work straight {lead} a WS row. 25 sts.\nShape shoulder\n"
        "Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off rem 9 sts.\n"
    )
    assert f"Work straight {lead} a RS row." in rewrite(text).output


# Words that tell how shoulders are sewn, and sew none; and words that are about something else.
HINTS = [
    ("Join shoulder seams. Mattress stitch gives the neatest shoulder seams.", True),
    ("Seam the shoulders. For the shoulders use back stitch.", True),
    ("Join shoulder seams. On the shoulders work mattress st into the chain edge.", True),
    ("Sew the slopes together for the shoulders.", True),
    ("Join shoulder seams. Mattress stitch the sides from shoulder to hem.", False),
    (
        "Join shoulders. Sew sleeves in with back stitch, the centre of the top at shoulder seam.",
        False,
    ),
    ("Join shoulders. Sew in the shoulder pads with back stitch.", False),
    ("Sew shoulder seams with mattress stitch.", False),
]


@pytest.mark.parametrize("join", ["sewn", "three-needle", "graft", "held"])
@pytest.mark.parametrize(("told", "named"), HINTS)
def test_words_about_sewn_shoulders_that_stay_are_named(told: str, named: bool, join: str) -> None:
    report, _ = _rewritten(told, join)
    hints = [d for d in report.diagnostics if d.code == "seam-words"]
    assert len(hints) == (named and join != "sewn")
    for hint in hints:
        assert hint.severity == "warning"
        words = "grafted" if join == "graft" else "held" if join == "held" else "three-needle"
        assert words in hint.message
