"""The stitch arithmetic that a technical editor does for each size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.amounts import Amount
from rewriter.doubt import Unread
from rewriter.evidencewords import ON_SHOULDER
from rewriter.frames import Frame, Statement
from rewriter.parsing import Part
from rewriter.passages import Passage
from rewriter.rowframes import goes_on, is_stepped, names_both_edges
from rewriter.rows import Kind, Row
from rewriter.sizes import Sizes
from rewriter.spans import Span
from rewriter.twin import Steps


def count_before(passage: Passage, sizes: int) -> tuple[tuple[int, ...], Span] | None:
    """Return the last stitch count before the passage with no shaping after it, printed or answered."""
    printed = printed_before(passage, sizes)
    if printed is None and passage.counted is not None:
        return passage.counted, passage.span
    return printed


def printed_before(passage: Passage, sizes: int) -> tuple[tuple[int, ...], Span] | None:
    """Return the last stitch count printed before the passage with no shaping after it."""
    opening = passage.statements[0].opening
    if opening and opening[-1].amount and len(opening[-1].amount.values) in (1, sizes):
        return opening[-1].amount.per_size(sizes), opening[-1].span
    for statement in reversed(passage.before):
        if _tells_two(statement) or _TOLD_BY_OTHER.search(statement.sentence.view.text):
            return None
        counts = _counts(statement)
        if counts and (statement.by_size or _LETTERED.search(statement.sentence.view.text)):
            return _one_each(counts, sizes)
        if counts:
            return _last_of(counts, sizes)
        if _shapes(statement):
            return None
    return None


# "Work as Left Front from here, reversing everything": what is shaped there is not told here.
_TOLD_BY_OTHER = regex.compile(
    r"\b(?:as|like|to\s+match)\s+(?:(?:for|on|given|the)\s+)*(?:left|right|first|other)\s+(?:front|side|back|half)\b"
    r"[^.;]{0,40}\brevers"
)
_LETTERED = regex.compile(
    r"(?<![a-z(])a\)[^()]*(?<![a-z(])b\)"
)  # "a) ... = 80 sts. b) ... = 86 sts."


def _one_each(counts: Sequence[Part], sizes: int) -> tuple[tuple[int, ...], Span] | None:
    """Return the counts of a sentence that tells its sizes apart: "a) ... = 80 sts. b) ... = 86 sts."."""
    told = [c.amount.values for c in counts if c.amount is not None]
    if len(told) != sizes or any(len(values) != 1 for values in told):
        return None
    return tuple(values[0] or 0 for values in told), counts[-1].span


def passed_over(passage: Passage, sizes: int) -> tuple[tuple[int, ...], Span] | None:
    """Return the last stitch count printed before the passage where sts are shaped after it."""
    shaped = False
    for statement in reversed(passage.before):
        counts = [] if _tells_two(statement) else _counts(statement)
        if counts:
            return _last_of(counts, sizes) if shaped else None
        shaped = shaped or _shapes(statement)
    return None


def worked_out_before(passage: Passage, sizes: int) -> tuple[int, ...] | None:
    """Return the last count printed before the passage less what is taken off after it at one edge.

    None unless all of it is told plainly: single rows that bind off, decreases of 1 st so many times.
    """
    told = passed_over(passage, sizes)
    if told is None:
        return None
    left = told[0]
    for statement in reversed(passage.before):
        if told[1].start >= statement.span.start:
            return left
        if not _shapes(statement):
            continue
        off = _taken_off(statement)
        if off is None or len(off.values) not in (1, sizes):
            return None
        left = tuple(n - o for n, o in zip(left, off.per_size(sizes), strict=True))
    return None


def _taken_off(statement: Statement) -> Amount | None:
    """Return the sts that a sentence takes off at one edge; None where that is not all it tells."""
    head, *others = [f for f in statement.frames if f.verb or f.parts]
    if others and (sums := _decreased_in_turn(statement)) is not None:
        return sums
    if head.residue or statement.sizes is not None or statement.by_size:
        return None
    if head.verb == "bind_off" and head.parts.keys() == {"count"} and not head.takes_all:
        label = statement.label
        one_row = label is not None and label.rows is None and len(label.numbers) <= 1
        if one_row and (not others or (len(others) == 1 and goes_on(others[0]))):
            return head.amount
    if head.verb != "decrease" or others or head.concept == "two":
        return None
    single = head.amount is None or head.amount.values == (1,)
    times = head.one("times")
    rows = head.one("rows")
    if (
        single
        and head.parts.keys() == {"count", "edge", "rows"}
        and rows is not None
        and rows.kind == "next_rows"
        and head.edge
        and not names_both_edges(head)
    ):
        return rows.amount  # "dec 1 st at neck edge on next 4 rows"
    told = (
        head.parts.keys() <= {"count", "edge", "rows", "times"}
        and len(head.parts.get("times", [])) == 1
    )
    return times.amount if times and single and told and _in_turn(head) else None


def _decreased_in_turn(statement: Statement) -> Amount | None:
    """Return the sum of "dec 1 st at neck edge in every row 7 times, then in every alt row 4 times"."""
    frames = [f for f in statement.frames if f.verb or f.parts]
    if statement.sizes is not None or statement.by_size or not _in_turn(frames[0]):
        return None
    told: list[tuple[int | None, ...]] = []
    for i, frame in enumerate(frames):
        times, single = frame.one("times"), frame.amount is None or frame.amount.values == (1,)
        plain = frame.verb == "decrease" and frame.inherited == (i > 0) and not frame.residue
        known = frame.parts.keys() <= {"count", "edge", "rows", "times"} and frame.concept != "two"
        if (
            not (plain and single and known)
            or times is None
            or frame.edge not in ("", frames[0].edge)
        ):
            return None
        told.append(times.amount.values if times.amount else (int(times.concept),))
    longest = max(map(len, told))
    if any(len(values) not in (1, longest) for values in told):
        return None
    sums = tuple(sum(v[i if len(v) > 1 else 0] or 0 for v in told) for i in range(longest))
    return Amount(sums, frames[0].span)


def _in_turn(frame: Frame) -> bool:
    """Say whether a decrease is told for one edge and for rows that follow on one another."""
    rows = frame.one("rows")
    cadence = rows is not None and rows.kind in ("every_row", "every_other", "every_side_row")
    return bool(frame.edge) and not names_both_edges(frame) and cadence


def _tells_two(statement: Statement) -> bool:
    """Say whether counts are told in words: "102 sts for the small size, 110 for the larger"."""
    return any(p.kind == "larger" for f in statement.frames for p in f.residue)


def _shapes(statement: Statement) -> bool:
    """Say whether a sentence changes how many sts are on the needle."""
    changes = any(f.verb in _SHAPES for f in statement.frames) and not _joins_ball(statement)
    return changes and not _CHANGE.search(statement.sentence.view.text)


def _joins_ball(statement: Statement) -> bool:
    """Say whether a row only goes on with another ball: "Work 43 sts; join another ball, work to end"."""
    told = [f for f in statement.frames if f.verb]
    return [f.verb for f in told] == ["work", "join", "work"] and "count" in told[0].parts


def _left_in_work(statement: Statement) -> Part | None:
    """Return how many sts are worked where the others are left: "K 25, slip rem sts on a spare needle"."""
    told = [f for f in statement.frames if f.verb]
    if len(told) < 2 or told[0].verb != "work" or told[0].parts.keys() != {"count"}:
        return None
    verbs = [f.verb for f in told[1:]]
    rest = told[-1].one("count")
    leaves = verbs in (["hold"], ["turn", "hold"]) and rest is not None and rest.kind == "rem_all"
    return told[0].one("count") if leaves and not told[0].residue else None


def _counts(statement: Statement) -> list[Part]:
    """Return the parts of a sentence that tell how many sts are on the needle."""
    if _CHANGE.search(statement.sentence.view.text):
        return []  # "1 st decreased.": no count of what is on the needle
    if (kept := _left_in_work(statement)) is not None and kept.amount is not None:
        return [replace(kept, kind="count")]
    counts = [*statement.opening, *statement.running]
    for frame in statement.frames:
        extent = frame.one("extent")
        if extent is not None and extent.kind in ("until_left", "until_count"):
            counts.append(extent)
        elif (
            extent is not None
            and extent.kind == "until_bare"
            and frame.verb == "decrease"
            and not frame.residue
        ):
            counts.append(replace(extent, kind="until_count"))  # "dec ... until you have 18"
        elif (told := frame.one("count")) and frame.verb == "cast_on" and not is_stepped(frame):
            bare = _CASTS_ON.fullmatch(statement.sentence.source, frame.start, told.span.start)
            over_gap = any(f.verb == "bind_off" for f in statement.frames)  # a buttonhole
            counts.append(replace(told, kind="count") if bare and not over_gap else told)
        elif (told := frame.one("count")) and frame.verb == "ending":
            if _EQUALS.search(statement.sentence.source, frame.start, told.span.start):
                counts.append(told)  # "dec 2 sts evenly on last row = 80 sts"
        elif (told := frame.one("count")) and (
            frame.verb == "work" and (_only_works(statement) or _on_shoulder(told, statement))
        ):
            counts.append(told)
        elif frame.verb == "join" and not any(f.verb in _TAKES for f in statement.frames):
            counts += [p for p in frame.parts.get("count", ()) if p.kind == "rem_count"]
        elif frame.parts.keys() & {"times", "rows"}:
            continue  # "in every 2nd row 1 x 2 sts": a step without its verb
        elif (not frame.verb or (frame.verb == "hold" and not _HELD & frame.parts.keys())) and (
            count := frame.one("count")
        ):
            counts.append(count)
    own = statement.running  # a number in brackets needs no unit
    source = statement.sentence.source
    return [
        c
        for c in counts
        if c.amount is not None
        and (c.kind != "bare_count" or c in own or _IN_NUMBER.match(source, c.span.end))
        and not _OF_BAND.search(c.span.of(source))
    ]


def _last_of(counts: Sequence[Part], sizes: int) -> tuple[tuple[int, ...], Span] | None:
    last = max(counts, key=lambda c: c.span)
    if last.amount is not None and len(last.amount.values) in (1, sizes):
        return last.amount.per_size(sizes), last.span
    return None


_EQUALS = regex.compile(r"[=:]\s*$")  # also "ending with a WS row: 18 (20, 22) sts"
# "Cast on 96" needs no unit; "cast on with No. 3 needles" has one.
_CASTS_ON = regex.compile(r"(?i)(?:cast(?:ing)?\s+on|co)\s+")
_IN_NUMBER = regex.compile(r"\s+in\s+number\b")
# "..., keeping 6 border sts in garter st": a part of the sts
_OF_BAND = regex.compile(r"(?i)\b(?:border|band|placket|facing)\s")
# "Keep the 8 border sts in garter st" tells no count of all sts, no more than those put on a holder do.
_HELD = frozenset({"holder", "stitch_pattern"})
_CHANGE = regex.compile(r"\b(?:sts?|stitches)\s+(?:dec|inc)(?:r?eased|'d)\W*$")
_SHAPES = frozenset({"bind_off", "decrease", "increase", "cast_on", "turn", "hold", "join"})


_TAKES = frozenset({"bind_off", "decrease", "increase", "cast_on", "hold"})


def _only_works(statement: Statement) -> bool:
    """Say whether a sentence works on sts and does nothing else to them ("work even on 60 sts")."""
    return all(
        f.verb in ("", "work", "measures", "ending", "refer", "turn") for f in statement.frames
    ) and bool(
        regex.search(
            r"\bon (?:(?:these |the |those |rem\.? |remaining )?[\d(]"
            r"|(?:the )?(?:first|last|second|other) set\b)",
            statement.sentence.view.text,
        )
    )


def _on_shoulder(told: Part, statement: Statement) -> bool:
    """Say whether a count is that of a shoulder: "keep going with the 20 sts of the right shoulder"."""
    found = ON_SHOULDER.search(statement.sentence.view.text)
    text = statement.sentence.source[told.span.start : statement.span.end].lower()
    return found is not None and ON_SHOULDER.match(f"on {text}") is not None


def count_after(passage: Passage, sizes: int) -> tuple[int, ...] | None:
    """Return the sts that the next sentence calls the remaining ones ("rib on rem 28 sts")."""
    for statement in passage.follows[:1]:
        for frame in statement.frames:
            count = frame.one("count")
            if count is None or count.kind != "rem_count" or count.amount is None:
                continue
            if len(count.amount.values) in (1, sizes):
                return count.amount.per_size(sizes)
    return None


def ends_with(passage: Passage, left: Sequence[int | None]) -> bool:
    """Say whether the words behind the steps bind off or hold just the sts that are left, by their number.

    `left`: one number for each size. "Cast off 36 sts" behind steps that leave 36 takes all that is left.
    """
    if None in left or count_before(passage, len(left)) is None:
        return False
    ends = [
        count.per_size(len(left))
        for s in [*passage.statements[-2:], *passage.follows[:1]]
        for f in s.frames
        if f.verb in ("bind_off", "hold") and not is_stepped(f)
        if (count := f.amount) is not None and len(count.values) in (1, len(left))
    ]
    return tuple(left) in ends


def check_counts(
    rows: Sequence[Sequence[Row]],
    edges: Sequence[Sequence[Steps]],
    neck: Sequence[int | None],
    passage: Passage,
    before: tuple[tuple[int, ...], Span] | None,
    sizes: Sizes,
) -> None:
    """Do the sums of a passage for each size; raises Unread with the sum that fails.

    `rows`, `edges` and `neck` are those of the shaping model, `before` what `count_before` found.
    """
    wrong: list[tuple[int, str, Span]] = []
    for i, shoulders in enumerate(edges):
        left = neck[i]
        if left is None:
            continue
        inside = rows[i][1:]  # counts are those after the row before
        off = sum(row.off_at_neck for row in inside)
        total = sum(steps.total for steps in shoulders) + off
        start = total + left
        sum_words = _sum_words(shoulders, off, left, start)
        if left < 0:
            wrong.append(
                (i, f"{total} sts are bound off, but {start} are on the needle", passage.span)
            )
            continue
        if before is not None and before[0][i] != start:
            wrong.append((i, f"{sum_words}, but {before[0][i]} sts are on the needle", before[1]))
            continue
        if bad := printed_wrong(inside, start):
            wrong.append((i, bad[0], bad[1]))
    if wrong:
        first = wrong[0]
        where = "" if len(sizes) == 1 else f" in size {sizes.labels[first[0]]}"
        raise Unread("sums", f"{first[1]}{where}", first[2], tuple(i for i, _, _ in wrong))


def _sum_words(edges: Sequence[Steps], off: int, left: int, start: int) -> str:
    totals = [s.total for s in edges]
    if len(totals) == 2 and totals[0] == totals[1]:
        shoulders = f"2 × {totals[0]}"
    elif len(edges) == 1 and not (off or left):
        return _one_shoulder(edges[0])
    else:
        shoulders = " + ".join(map(str, totals))
    if off:
        shoulders += f" + {off} at the neck"
    return f"{shoulders} + {left} = {start}" if left else f"{shoulders} = {start}"


def _one_shoulder(steps: Steps) -> str:
    """Return the sum of the steps of a shoulder at one edge, with nothing beside it."""
    if len(steps.sts) == 1:
        return f"{steps.total} sts are bound off"
    return f"the steps take {' + '.join(map(str, steps.sts))} = {steps.total} sts"


def printed_wrong(rows: Sequence[Row], start: int) -> tuple[str, Span] | None:
    """Return the first running count that is not what is left of `start` sts, in words, and its place."""
    live = start
    for row in rows:
        head = row.acts[0] if row.acts else None
        if head is not None and head.kind is Kind.BIND_OFF:
            if head.n is None:
                break
            live -= head.n
        live -= row.dec
        if row is rows[-1] and row.has(Kind.HOLD) and row.printed == start:
            continue  # "Leave the last 26 sts waiting. [66 sts]": the sts before all of it
        if row.printed is not None and row.printed != live:
            return f"{live} sts are left here, but the text says {row.printed}", row.span or Span(
                0, 0
            )
    return None
