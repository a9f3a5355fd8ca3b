"""What the frames of a lead-in say of its last row: its side, its stitch, its edge, its number."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rewriter import regex
from rewriter.frames import Frame, Statement
from rewriter.leadmodel import LeadIn, Mention
from rewriter.parsing import Part
from rewriter.rows import OTHER_SIDE, Side
from rewriter.spans import Span
from rewriter.stitchwork import Fabric

# An abbreviation that is not known may tell the side of the last row: "ending with RSR".
_SHORTENED = regex.compile(r"[A-Z]{2,4}")
_AHEAD = regex.compile(r"(?i)\W*(?:about|going|before|begin|start)\b")
_BARE_EDGE = regex.compile(
    r"(?i)\bat\s+(?:the\s+)?(?:side|front|neck|armholes?|outside|outer\s+side)\Z"
)


def tells_no_row(lead: Sequence[Frame], source: str) -> bool:
    """Say whether words only say that work goes on: "Continue in stocking stitch, casting off ..."."""
    return all(
        f.verb == "work" and f.concept not in ("knit", "purl")
        and not f.parts.keys() - {"stitch_pattern", "count"}
        and all(p.span.of(source).lower() == "but" for p in f.residue)
        for f in lead
    )  # fmt: skip


_SIDE_OF_ROW = regex.compile(
    r"(?i)\s*[(\[,]\s*(?:=|i\.e\.|this\s+is|which\s+is|a)*\s*(?:an?\s+)?"
    r"(?P<side>rs|ws|(?:right|wrong)[\s-]side)(?:[\s-]rows?)?\s*[)\],]"
)


def _read_side_of_row(high: Part, found: LeadIn, source: str) -> None:
    """Take in the side of a row that is counted: "in the 55th (59th) row from the armhole (= RS row)"."""
    told = _SIDE_OF_ROW.match(source, high.span.end) if high.concept == "nth" else None
    if told is None:
        return
    place = Span(*told.span("side"))
    found.side = OTHER_SIDE["RS" if told["side"][0] in "Rr" else "WS"]
    found.side_span = place
    found.mentions.append(Mention("side", place))


def read_frames(frames: Sequence[Frame], found: LeadIn, fabric: Fabric, source: str) -> None:
    ending = False
    if not any(f.verb == "ending" for f in frames):
        _read_facing(frames, found)
    for frame in frames:
        extent = frame.one("extent")
        if extent is not None and extent.kind in ("until", "until_bare"):
            found.length = True
        high = frame.one("measure")
        if high is not None and high.kind == "rows_high" and high.amount is not None:
            found.mentions.append(Mention("count", high.amount.span, values_of(high)))
            _read_side_of_row(high, found, source)
        elif frame.verb in ("measures", "refer") or (not frame.verb and high is not None):
            found.length = True
        if frame.verb == "ending":
            ending = True
        if not ending:
            rows = frame.one("rows")
            if frame.verb == "work" and rows is not None and rows.kind == "last_rows":
                _read_last_row(frame, rows, found, fabric)  # "..., purling the last row"
            if rows is not None and _names_first_row(frame, rows, source):
                found.mentions.append(Mention("side", rows.span))
                found.side = OTHER_SIDE["RS" if rows.side == "RS" else "WS"]
                found.side_span = rows.span
            counted = rows is not None and rows.kind == "some_rows"
            if frame.verb in ("work", "") and rows is not None and counted:
                found.mentions.append(Mention("rows", rows.span, values_of(rows)))
            continue
        if frame.verb == "work" and frame.concept in ("knit", "purl") and not frame.parts:
            _read_stitch(frame.span, frame.concept, fabric, found)  # "the last row being purl"
        told = len(found.mentions)
        for part in _in_order(frame):
            _read_ending(part, frame, found, fabric)
        if frame.verb == "ending" and len(found.mentions) > told and fabric != "garter":
            _read_stitch_beside(frame, found, source)
        strange = next((p.span for p in frame.residue if _AHEAD.match(p.span.of(source))), None)
        if (
            frame.verb == "ending"
            and strange
            and any(strange < m.span for m in found.mentions[told:])
        ):
            found.doubt = strange  # "ending so that we tackle a purl row": this row, or the next?
        if frame.verb == "ending" and len(found.mentions) == told:
            for part in (*frame.residue, *frame.notes):
                if (done := _WORKED.get(part.span.of(source).lower())) is not None:
                    _read_stitch(part.span, done, fabric, found)  # "let the last row be purled"
                elif _SHORTENED.fullmatch(part.span.of(source)):
                    found.doubt = part.span
                elif _BARE_EDGE.search(source, frame.start, part.span.end):
                    found.mentions.append(Mention("edge", part.span))  # "ending at side"


def _names_first_row(frame: Frame, rows: Part, source: str) -> bool:
    """Say whether words name the first row: "At 20 cm, on a right side row, begin the slope"."""
    led = rows.kind == "side_row" and not frame.verb
    return led and _ON_ROW.search(source, frame.start, rows.span.start) is not None


# "ending with a WS row (a purl row)", "ending on the right side, that is with a K row"
_STITCH_BESIDE = regex.compile(r"(?i)\W*(?:(?:with|on|a|the)\s+)*(?:knit|purl|[kp]\.?)\s+row\W*")


def _read_stitch_beside(frame: Frame, found: LeadIn, source: str) -> None:
    """Take in the stitch of the last row, told once more behind its side."""
    for part in (*frame.residue, *frame.notes):
        if _STITCH_BESIDE.fullmatch(part.span.of(source)):
            found.mentions.append(Mention("stitch", part.span))


_ON_ROW = regex.compile(r"(?i)\b(?:on|in)\s+(?:an?|the(?:\s+next)?|next)\s+\Z")
_WORKED = {"purled": "purl", "knitted": "knit"}


def _read_stitch(span: Span, concept: str, fabric: Fabric, found: LeadIn) -> None:
    found.mentions.append(Mention("stitch", span))
    if fabric == "stocking" and found.side is None:
        found.side, found.side_span = ("WS" if concept == "purl" else "RS"), span


def _read_last_row(frame: Frame, rows: Part, found: LeadIn, fabric: Fabric) -> None:
    if rows.amount is None and frame.concept in ("knit", "purl"):
        found.mentions.append(Mention("stitch", frame.span))
        if fabric == "stocking":
            found.side, found.side_span = ("WS" if frame.concept == "purl" else "RS"), frame.span


def _read_facing(frames: Sequence[Frame], found: LeadIn) -> None:
    """Read "..., with RS facing for next row" behind what is worked."""
    works = next((f.start for f in frames if f.verb in ("work", "measures")), None)
    for frame in frames:
        facing = frame.one("side")
        if facing is None or facing.kind != "side_facing" or works is None:
            continue
        if facing.span.start > works:
            found.mentions.append(Mention("side", facing.span))
            found.side = OTHER_SIDE["RS" if facing.side == "RS" else "WS"]
            found.side_span = facing.span
            edge = frame.one("edge")
            if edge is not None and edge.span.start > works:
                # "... and you are at the armhole edge with the RS facing"
                found.mentions.append(Mention("edge", edge.span))


def read_facing_alone(statement: Statement, found: LeadIn) -> None:
    """Read the side that a sentence without a verb names: "RS is now facing."."""
    for frame in statement.frames:
        facing = frame.one("side")
        if facing is None:
            continue
        if facing.kind == "side_facing" and found.side is None:
            found.mentions.append(Mention("side", facing.span))
            found.side = OTHER_SIDE["RS" if facing.side == "RS" else "WS"]
            found.side_span = facing.span


def _in_order(frame: Frame) -> Iterator[Part]:
    yield from sorted((p for ps in frame.parts.values() for p in ps), key=lambda p: p.span)


def _read_ending(part: Part, frame: Frame, found: LeadIn, fabric: Fabric) -> None:
    side: Side | None = None
    if part.kind in ("side_row", "side", "side_facing", "next_side_rows"):
        side = "RS" if part.side == "RS" else "WS"
        if part.kind in ("side_facing", "next_side_rows") or frame.concept == "ready":
            side = OTHER_SIDE[side]
        elif part.kind == "side" and part.concept == "of work":
            side = None  # "end on right side of work": the side worked last, or the one that faces?
        found.mentions.append(Mention("side", part.span))
    elif part.kind == "work_row":
        if fabric == "garter" or part.concept not in ("knit", "purl"):
            return
        patterned = fabric == "patterned" and frame.concept != "ready"
        found.mentions.append(Mention("row of pattern" if patterned else "stitch", part.span))
        if fabric == "stocking":
            side = "WS" if part.concept == "purl" else "RS"
            if frame.concept == "ready":
                side = OTHER_SIDE[side]
    elif part.kind == "row_number" and len(part.numbers) == 1:
        # "ending with row 8 of patt": row 8 becomes the first short row; the row before row 1 has no number
        first = part.numbers == (1,) and frame.concept != "ready"
        found.mentions.append(
            Mention("row of pattern" if first else "rows", part.span, part.numbers)
        )
    elif part.kind == "edge":
        found.mentions.append(Mention("edge", part.span))
    if side is not None and found.side is None:
        found.side, found.side_span = side, part.span


def values_of(part: Part) -> tuple[int, ...]:
    """Return the counts of a part as written; none where it has no numbers."""
    return tuple(v or 0 for v in part.amount.values) if part.amount else ()
