"""What a sentence before the first bind-off says of rows: how many, up to where, in which words."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import regex
from rewriter.frames import Frame, Statement
from rewriter.leadending import values_of
from rewriter.leadmodel import Mention
from rewriter.parsing import Part
from rewriter.rows import OTHER_SIDE, Side
from rewriter.spans import View
from rewriter.stitchwork import Fabric


def named_side(frame: Frame, fabric: Fabric) -> Side | None:
    """Return the side of "K 1 row on wrong side", or of "P 1 row" in stocking stitch."""
    told, rows = frame.one("side"), frame.one("rows")
    if told is None and rows is not None and rows.side:
        told = rows  # "Work 1 WS row"
    if told is not None:
        return "RS" if told.side == "RS" else "WS"
    if fabric == "stocking" and frame.concept in ("knit", "purl"):
        return "RS" if frame.concept == "knit" else "WS"
    return None


def repeats_rows(statement: Statement, frames: Sequence[Frame]) -> bool:
    """Say whether rows are repeated up to a length, or so many times: "Rep last 4 rows twice more"."""
    repeated = frames[0].verb == "repeat" and frames[0].one("rows") is not None
    if not repeated:
        return False
    times = len(frames) == 1 and "times" in frames[0].parts and not frames[0].residue
    return times or bool(regex.search(r"\b(?:until|till)\b", statement.sentence.view.text))


def last_repeated(before: Sequence[Statement], statement: Statement) -> Statement | None:
    """Return the sentence among those before it that tells the last of the rows that one repeats, if any."""
    rows = next((f.one("rows") for f in statement.frames if f.verb == "repeat"), None)
    if rows is None:
        return None
    for one in reversed(before):
        if rows.numbers and (one.label is None or rows.numbers[-1] not in one.label.numbers):
            continue
        if one.label is not None or any(tells_rows(f) for f in one.frames):
            return one
    return None


_YARN_OVER = regex.compile(
    r"(?<![a-z])(?:yo|yon|yrn|yfwd|yf|yfrn|m1|inc|(?:yarn|wool)\s+(?:over|fwd))(?![a-z])"
)


def shapes_at_end(row: Statement, repeated: Statement) -> bool:
    """Say whether the last row of rows that are repeated takes sts away, not only as a lace pattern does."""
    shapes = any(f.verb in ("decrease", "increase", "bind_off", "cast_on") for f in row.frames)
    left = any(
        (e := f.one("extent")) is not None and e.kind in ("until_left", "until_count", "until_bare")
        for f in repeated.frames
    )
    return shapes and (left or not _YARN_OVER.search(row.sentence.view.text))


def label_side(statement: Statement) -> Side | None:
    side = statement.label.side if statement.label else ""
    return "RS" if side == "RS" else "WS" if side == "WS" else None


def side_by_numbers(before: Sequence[Statement], row: Statement) -> Side | None:
    """Return the side of a labelled row: its own, or counted on from a row of lower number right before it.

    "3rd row (right side): ... 4th row: ..." makes the fourth a wrong side row.
    """
    side = label_side(row)
    if side is not None or row.label is None or len(row.label.numbers) != 1:
        return side
    number = last = row.label.numbers[0]
    at = next((i for i, one in enumerate(before) if one is row), 0)
    for one in reversed(before[:at]):
        if one.label is None or len(one.label.numbers) != 1 or one.label.numbers[0] != last - 1:
            return None
        last -= 1
        if (side := label_side(one)) is not None:
            return side if (number - last) % 2 == 0 else OTHER_SIDE[side]
    return None


def is_one_plain_row(statement: Statement, frames: Sequence[Frame]) -> bool:
    """Say whether the sentence tells one plain row and nothing else."""
    if len(frames) != 1 or frames[0].verb not in ("work", "back_row", "work_row"):
        return False
    frame = frames[0]
    extent = frame.one("extent")
    if extent is not None and extent.kind != "to_end":
        return False
    if frame.residue or frame.amount is not None or "measure" in frame.parts:
        return False
    if statement.label is not None:
        label = statement.label
        return len(label.numbers) <= 1 and (label.rows is None or label.rows.values == (1,))
    if frame.verb == "back_row" or _ACROSS.fullmatch(statement.sentence.view.text):
        return True
    rows = frame.one("rows")
    return (
        rows is not None
        and rows.kind in ("some_rows", "next_rows", "some_side_rows")
        and ((rows.amount is None and rows.kind == "next_rows") or values_of(rows) == (1,))
    )


_ACROSS = regex.compile(
    r"\W*(?:(?:now|then)\s+)?(?:k|knit|p|purl|work|rib|patt|pattern)\s+"
    r"(?:across(?:\s+all\s+(?:sts|stitches))?|to\s+(?:the\s+)?end(?:\s+of\s+(?:the\s+)?(?:row|needle))?)"
    r"(?:\s+on\s+(?:the\s+)?(?:rs|ws|right\s+side|wrong\s+side))?\W*"
)


def plain_count(frames: Sequence[Frame]) -> Part | None:
    """Return the number of rows in "Work 52 rows [in patt]"."""
    working = [f for f in frames if f.verb in ("work", "") and "rows" in f.parts]
    others = [f for f in frames if f.verb and f.verb not in ("work", "measures", "refer")]
    if len(working) != 1 or others or working[0].residue:
        return None
    rows = working[0].one("rows")
    return rows if rows is not None and rows.kind == "some_rows" and rows.amount else None


def _is_anchor(frame: Frame) -> bool:
    """Say whether the row that a length names is the one from which it is measured."""
    rows = frame.parts.get("rows", [])
    return len(rows) == 1 and rows[0].kind == "row_number"


def tells_rows(frame: Frame) -> bool:
    """Say whether a frame works rows of its own, so that the last of them has words of its own."""
    if {"measure", "side"} <= frame.parts.keys():
        return False  # "work for 20 cm, RS facing for next row"
    if frame.verb == "work" and {"measure", "extent"} <= frame.parts.keys() and _is_anchor(frame):
        return False  # "work until length from first row of armhole is 20 cm"
    if (
        frame.verb == "hold"
        and "stitch_pattern" in frame.parts
        and not frame.parts.keys() & {"rows"}
    ):
        return False  # "Keep the 8 border sts in garter st."
    bare = frame.verb == "decrease" and not frame.parts.keys() - {"extent"}
    if not bare and frame.verb in (
        "decrease",
        "increase",
        "bind_off",
        "repeat",
        "turn",
        "cast_on",
        "hold",
    ):
        return True
    if frame.verb == "decrease" and not frame.parts.keys() - {"extent"}:
        return False  # "until there are 18 rows above last dec row"
    extent = frame.one("extent")
    if not frame.verb and frame.residue and extent is not None and extent.kind == "to_end":
        return True  # "(K1, p1) to end"
    until = extent is not None and extent.kind in ("until", "until_bare")
    if frame.verb == "work" and extent is not None and not until:
        return True
    if until and (extent is None or "rows" not in frame.parts or _counts_rows(frame)):
        return False  # "until there are 14 ridges", "until there are 18 rows above ..."
    across = frame.verb == "work" and frame.concept in ("knit", "purl") and "count" in frame.parts
    if frame.verb == "back_row" or (across and not frame.parts.keys() - {"count"}):
        return True  # "K. back on the 30 sts. of right shoulder", "P these 30 sts"
    return frame.verb in ("work", "") and "rows" in frame.parts


def to_edge(statement: Statement, frames: Sequence[Frame]) -> Part | None:
    """Return the edge in "When armhole is as deep as the back, work to armhole edge"."""
    last = frames[-1]
    extent = last.one("extent")
    by_length = any(f.verb in ("measures", "refer") or "measure" in f.parts for f in frames[:-1])
    if statement.label is not None or not by_length or last.verb != "work" or extent is None:
        return None
    named = extent.kind == "to_end" and _EDGE_NAMED.search(statement.sentence.view.text)
    return extent if named and not last.parts.keys() - {"extent"} else None


_UP_TO = regex.compile(
    r"(?i)\b(?:to|until|till|through|incl(?:uding)?)\s+(?:(?:the\s+)?end\s+of\s+)?(?:the\s+)?\Z"
)


def up_to_row(statement: Statement, frames: Sequence[Frame]) -> Part | None:
    """Return the row up to which is worked by its number: "Knit even to row 54"."""
    rows = frames[0].one("rows") if len(frames) == 1 and statement.label is None else None
    if rows is None or frames[0].verb not in ("work", "") or rows.kind != "row_number":
        return None  # "Straight to row 54" has no verb
    before = statement.sentence.source[statement.span.start : rows.span.start]
    return rows if len(rows.numbers) == 1 and _UP_TO.search(before) else None


_EDGE_NAMED = regex.compile(r"\bto (?:the )?(?:armhole|arm|shoulder|side|neck|front) edge\W*$")


def _counts_rows(frame: Frame) -> bool:
    rows = frame.one("rows")
    return rows is not None and rows.kind == "some_rows"


_ROWS_UNTIL = regex.compile(
    r"\b(?:until|till) (?:there are )?(?P<rows>\d[\d\s,:;()\[\]-]*?)\s*(?:rows|needles|ndls?)\b"
    r"(?:(?<=there are [^a-z]*(?:rows|needles|ndls?))"
    r"|[^.;]{0,40}\b(?:have|are) (?:now )?(?:been )?"
    r"(?:worked|done|knitted|knit|completed|complete|finished)\b)"
)


# "until the 56th (58th) row has been worked"
_NTH_UNTIL = regex.compile(
    r"\b(?:until|till) (?:the )?(?P<rows>\d+(?:st|nd|rd|th)(?:\s*[(\[,:;/-]?\s*\d+(?:st|nd|rd|th)[)\]]?)*)"
    r" row[^.;]{0,40}\b(?:has|is) (?:now )?(?:been )?"
    r"(?:worked|done|knitted|knit|completed|complete|finished|reached)\b"
)


def rows_until(view: View) -> Mention | None:
    """Return the count in "until there are 18 rows above last dec row", "until 52 rows have been done"."""
    counted = _ROWS_UNTIL.search(view.text) or _NTH_UNTIL.search(view.text)
    if counted is None:
        return None
    values = tuple(int(n) for n in regex.findall(r"\d+", counted.group("rows")))
    return Mention("rows", view.span(*counted.span("rows")), values)
