"""Write a divided shoulder: common rows, dividing row, first side, rejoining, second side."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from rewriter import regex
from rewriter.dividedplan import DividedPlan, counted
from rewriter.dividing import goes_on_rejoining, only_fastens_off
from rewriter.emitter import Writer
from rewriter.frames import Frame, Statement
from rewriter.halves import DividedShaping
from rewriter.phrases import Job
from rewriter.planner import Line
from rewriter.rowframes import is_note
from rewriter.rows import Kind, Row, side_of
from rewriter.twoballs import is_aside
from rewriter.twoballstext import rows_of_both

HEADING = "\f"
"""Stands among the lines where a heading of the draft parts them."""


def write_divided(job: Job, shaping: DividedShaping, plan: DividedPlan) -> list[str]:
    """Return the lines of the new text of a divided shoulder, with `HEADING` where one parts them."""
    source = shaping.parts.dividing.sentence.source  # the draft, or its rows spelled out
    if not shaping.parts.at_once:  # rows of two sides one after the other have no common numbers
        job = replace(job, numbered_from=None)
    one = Writer(replace(job, plan=plan.first, shaping=shaping.first))
    two = Writer(replace(job, plan=plan.second, shaping=shaping.second))
    alike = all(a.sts == b.sts for a, b in shaping.edges)
    one.marked = two.marked = job.options.markers and alike
    out = one.divided_markers() if one.marked else []
    if one.explains():
        out.append(one.case(one.note()))
    one.names_edge = False  # both edges are armhole edges up to the dividing row
    out += [one.row_line(line) for line in plan.common]
    one.names_edge = True
    if shaping.parts.at_once:
        out.append(_joining_line(one, two, shaping, plan, source))
        out += rows_of_both(one, two, shaping, plan, source)
        return [one.finish(line) for line in out]
    if shaping.parts.held_first:
        out += [_joining_line(one, two, shaping, plan, source), *_set_in_work(shaping, source)]
        out += [two.row_line(line) for line in plan.second.lines]
        first = [sum(counted(shaping, i)) for i in range(len(shaping.rows))]
        out += with_taken_up(one, shaping, plan.first.lines, source, first)
        return [one.finish(line) for line in out]
    heads = [[HEADING] if place else [] for place in shaping.parts.headings]
    out += [*heads[0], _dividing_line(one, shaping, plan, source)]
    out += [*asides(shaping.parts.first, source, _in_work(one, shaping)), *heads[1]]
    out += [one.row_line(line) for line in plan.first.lines]
    closed = shaping.parts.closed
    if closed is not None and only_fastens_off(closed) and plan.first.join == "sewn":
        out.append(closed.span.of(source).strip(" *_"))  # "Break yarn."
    gap = [""] if not heads[2] and _stands_apart(shaping.parts.rejoining[0], source) else []
    out += [*heads[2], *gap, _rejoining(two, shaping, plan, source)]
    out += [two.row_line(line) for line in plan.second.lines]
    return [line if line == HEADING else one.finish(line) for line in out]


def _stands_apart(statement: Statement, source: str) -> bool:
    """Say whether a blank line stands before a sentence."""
    above = source[: statement.span.start]
    return len(regex.findall(r"\r\n|\r|\n", above[len(above.rstrip(" \t\r\n*_")) :])) > 1


def _dividing_line(writer: Writer, shaping: DividedShaping, plan: DividedPlan, source: str) -> str:
    sizes = range(len(shaping.rows))
    line = Line(
        tuple(plan.first.rows[i][shaping.dividing_row + 1] for i in sizes), shaping.dividing_row
    )
    unworked, beyond = zip(*(counted(shaping, i) for i in sizes), strict=True)
    parts = shaping.parts
    whole = parts.at_once or parts.held_first
    stop = parts.dividing.frames[-1].end if whole else parts.dividing.span.end

    def rest(tail: str) -> str:
        if whole:
            return tail
        tail = with_rest(writer, tail, shaping, unworked, beyond)
        open_turns = _parked(plan.second.rows, shaping.dividing_row)
        return _with_parked(tail, writer.parked(open_turns), parts.dividing, source)

    return dividing_words(writer, line, parts.dividing, unworked, beyond, source, stop, rest)


def _parked(rows: Sequence[Sequence[Row]], dividing_row: int) -> int:
    """Return how many turns of a half are still open before the dividing row, at most, in any size."""
    return max(sum(row.has(Kind.TURN) for row in own[: dividing_row + 1]) for own in rows)


def _with_parked(words: str, told: str, statement: Statement, source: str) -> str:
    """Say behind the words of `statement` that put sts on a holder what goes with their open turns."""
    frames = statement.frames
    at = next((i for i, f in enumerate(frames) if f.verb == "hold"), None)
    if at is None:
        return words
    end = frames[at + 1].start if at + 1 < len(frames) else frames[at].end
    held = _BETWEEN.sub("", source[frames[at].start : end])
    before, found, behind = words.partition(held)
    return f"{before}{found}{told}{behind}" if found else words


_BETWEEN = regex.compile(r"(?:[\s,;.]|\band\b|\bthen\b)+$")


def dividing_words(
    writer: Writer,
    line: Line,
    dividing: Statement,
    unworked: Sequence[int],
    beyond: Sequence[int],
    source: str,
    stop: int,
    rest: Callable[[str], str] = str,
) -> str:
    """Return a dividing row that counts the `unworked` shoulder sts too, and those `beyond` them.

    Its own words behind the count go up to `stop`; `rest` puts right what they say of the sts left.
    """
    work = next(f for f in dividing.frames if f.verb == "work")
    tail = source[end_of_count(work) : max(stop, end_of_count(work))].rstrip(" .*_")
    tail = COUNTED_IN.sub("", tail)  # the st left from casting off is no longer there
    extent = work.one("extent")
    own = source[work.start : extent.span.start].strip() if extent and not work.amount else ""
    tail = rest(tail)
    words = writer.wording["rows"]["dividing"].format(
        work=own or writer.work(line),
        n=writer.count([a + b for a, b in zip(unworked, beyond, strict=True)]),
        unworked=writer.listed(unworked),
        sts=writer.style.unit,
        beyond=writer.listed(beyond),
        tail=tail,
    )
    if not any(unworked):
        words = source[work.start : end_of_count(work)] + tail
    return writer.label_of(line) + writer.row_case(writer.with_aid(line, words)) + "."


def with_taken_up(
    writer: Writer,
    shaping: DividedShaping,
    lines: Sequence[Line],
    source: str,
    waiting: Sequence[int] = (),
) -> list[str]:
    """Return the draft's words that take up the half left behind, and its `lines`.

    Where those words tell its first row, the row is told anew in their sentence; where they count its
    sts, they now count those `waiting`, if they are given: its first steps are among them.
    """
    statements = shaping.parts.rejoining[1:]
    start, end = statements[0].span.start, statements[-1].span.end
    row = next((f for f in statements[-1].frames if f.verb in ("bind_off", "work")), None)
    if row is None or not lines:
        words = " ".join(source[start:end].split())
        words = _REST.sub(writer.listed(waiting), words) if waiting else words
        return [words, *map(writer.row_line, lines)]
    facing = row.one("side") if row.verb == "work" else None  # a bind-off has it in its own words
    at = max(row.start, facing.span.end if facing is not None else 0)
    taken = " ".join(source[start:at].split())
    taken = _REST.sub(writer.listed(waiting), taken) if waiting else taken
    first = writer.row_text(lines[0])
    return [f"{taken} {first[0].lower()}{first[1:]}.", *map(writer.row_line, lines[1:])]


def _set_in_work(shaping: DividedShaping, source: str) -> list[str]:
    """Return words by the way behind a row that holds the first half ("Cont on last set of sts.")."""
    parts = shaping.parts
    if parts.common:  # steps that were bound off before it wait unworked now
        told = asides([s for s in parts.first if not s.running], source)
    else:
        told = [" ".join(s.span.of(source).split()) for s in parts.first if _is_aside(s)]
    words = source[parts.rejoining[0].span.end : parts.first[0].span.start] if parts.first else ""
    if not told and regex.search(r"\pL", words):
        return [words.strip()]  # "On last set:"
    return told


def _in_work(writer: Writer, shaping: DividedShaping) -> str:
    """Return the sts of the half that goes on behind the dividing row, as the draft writes counts."""
    return writer.listed([sum(counted(shaping, i)) for i in range(len(shaping.rows))])


def asides(told: Sequence[Statement], source: str, in_work: str = "") -> list[str]:
    """Return the sentences by the way that follow the dividing row ("Work each side separately.").

    So does where the others wait: "Work on these 18 sts only, leaving the others on a spare needle"; the
    shoulder sts are among them now, `in_work` in all, as the draft writes counts.
    """
    out = []
    for s in told:
        words = " ".join(s.span.of(source).split())
        if is_aside(s):
            out.append(words)
        elif _is_aside(s) and (in_work or regex.search(r"\d", words) is None):
            out.append(str(_REST.sub(in_work, words, count=1)))
    return out


def _is_aside(statement: Statement) -> bool:
    """Say whether a sentence tells no row, but how the sides are worked or where the others wait."""
    return is_aside(statement) or (
        is_note(statement) and any(f.verb == "hold" for f in statement.frames)
    )


def _joining_line(
    one: Writer, two: Writer, shaping: DividedShaping, plan: DividedPlan, source: str
) -> str:
    """Return the row that joins the second ball: the count of the first half, the turn of the second."""
    counted_part = _dividing_line(one, shaping, plan, source).removesuffix(".")
    goes_on = _rejoining(two, shaping, plan, source).rstrip(" .*_")
    if shaping.parts.held_first:
        told = one.parked(_parked(plan.first.rows, shaping.dividing_row))
        goes_on = _with_parked(goes_on, told, shaping.parts.rejoining[0], source)
    return f"{counted_part}, {goes_on}."


def _rejoined(writer: Writer, shaping: DividedShaping, goes: str) -> str:
    """Return the words that rejoin the yarn, where the draft leaves that to its knitter."""
    rows, style = writer.wording["rows"], writer.style
    side = side_of(shaping.dividing_row, shaping.first_side) if shaping.first_side else None
    facing = rows["facing"].format(side=style.rs if side == "RS" else style.ws) if side else ""
    return writer.case(rows["rejoin_other"].format(facing=facing, goes=goes)) + "."


_REST = regex.compile(r"\d[\d\s,:;()\[\]/\u2013-]*(?<=[\d)\]])(?=\s*(?:sts?|stitches)\b)")


def with_rest(
    writer: Writer,
    tail: str,
    shaping: DividedShaping,
    unworked: Sequence[int],
    beyond: Sequence[int],
) -> str:
    """Put the number of the sts left on the other side right: its first step waits there now."""
    rest = [
        None if total is None else total - a - b
        for total, a, b in zip(shaping.stitches, unworked, beyond, strict=True)
    ]
    known = [n for n in rest if n is not None]
    said = writer.listed(known) if len(known) == len(rest) else "rem"
    return str(_REST.sub(said, tail))


COUNTED_IN = regex.compile(
    r"(?i),?\s*\(?(?:including|incl\.?|counting) (?:the )?st(?:itch)? [^,;.()]*\)?"
    r"|\s+after (?:the )?(?:cast|bind|casting|binding)[\s-]off\b"
    r"|\s*\(the (?:st|stitch|loop) on (?:the )?[^,;.()]*\b(?:counted|included)\)"
    r"|,?\s*\(?(?:this|which) (?:includes|counts) (?:the )?(?:one )?(?:st|stitch|loop|one)\b[^,;.()]*\)?"
)


def end_of_count(work: Frame) -> int:
    """Return where "K until there are 12 sts on right needle" ends."""
    needle, extent = work.one("on_needle"), work.one("extent")
    if needle is not None:
        return needle.span.end
    return extent.span.end if extent is not None else work.end


def _rejoining(writer: Writer, shaping: DividedShaping, plan: DividedPlan, source: str) -> str:
    """Return the draft's own words of the rejoining, the row turned where the second edge asks.

    The number that the draft gives its row goes where the rows around it have none now.
    """
    text = _own_rejoining(writer, shaping, plan, source)
    for statement in shaping.parts.rejoining if writer.job.numbered_from is None else ():
        if statement.label is None or not statement.label.numbers or not statement.frames:
            continue
        numbered = source[statement.span.start : statement.frames[0].start]
        rows = [own[shaping.dividing_row + 1] for own in plan.second.rows]
        label = writer.label_of(Line(tuple(rows), shaping.dividing_row))
        text = text.replace(numbered, label, 1) if numbered.strip() else text
    return text


def _own_rejoining(writer: Writer, shaping: DividedShaping, plan: DividedPlan, source: str) -> str:
    statements = shaping.parts.rejoining
    start, end = shaping.parts.rejoined
    if shaping.parts.at_once or shaping.parts.held_first:
        start, end = statements[0].frames[0].start, statements[0].frames[-1].end
    rows = [plan.second.rows[i][shaping.dividing_row + 1] for i in range(len(shaping.rows))]
    turns = rows[0].has(Kind.TURN)
    told: Statement = next(
        (s for s in statements if any(f.verb == "join" for f in s.frames)), statements[0]
    )
    if shaping.parts.held_first:
        told = statements[0]
    if goes_on_rejoining(statements[-1]) and not shaping.parts.held_first:
        told = statements[-1]
    work = next((f for f in told.frames if f.verb == "work"), None)
    leaves = [a.n or 0 for row in rows for a in row.acts if a.kind is Kind.LEAVE]
    if work is None:  # the first side tells this row too: it works on
        word = writer.work(Line(tuple(rows), shaping.dividing_row))
        on = writer.turning(word, leaves) if turns else f"{word} {writer.style.to_end}"
        if not any(f.verb == "join" for s in statements for f in s.frames):
            return f"{source[start:end]} {_rejoined(writer, shaping, on)}"
        return f"{source[start:end]}, {on}."
    if not turns:
        return source[start:end]
    extent = work.one("extent")
    word = source[work.start : extent.span.start if extent else work.end].strip()
    word = word or writer.work(
        Line(tuple(rows), shaping.dividing_row)
    )  # "finish row" names no work
    turned = writer.turning(word, leaves)
    text = source[start : work.start] + turned + source[work.end : end]
    return text if text.rstrip(" *_").endswith(".") else f"{text.rstrip()}."
