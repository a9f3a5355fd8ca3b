"""Write both sides of a neck in work at once: each row tells first one side, then the other."""

from __future__ import annotations

from copy import copy
from dataclasses import replace

from rewriter import regex
from rewriter.announced import both_words
from rewriter.dividedplan import DividedPlan
from rewriter.emitter import Writer
from rewriter.frames import Statement
from rewriter.halves import DividedShaping
from rewriter.rows import Kind

_OTHER = regex.compile(
    r"(?i)\b(?:on (?:the )?(?:other|second|2nd) (?:side|shoulder|half)"
    r"|with (?:the )?(?:other|second|2nd) ball(?: of (?:yarn|wool))?)\b"
)


def rows_of_both(
    one: Writer, two: Writer, shaping: DividedShaping, plan: DividedPlan, source: str
) -> list[str]:
    """Return the lines after the row that joins the second ball, the draft's own asides first."""
    statements = shaping.parts.first
    aside = source[shaping.parts.rejoining[0].span.end : statements[0].span.start].strip(
        " \t\r\n*-"
    )
    found = _OTHER.search(source, statements[0].span.start, statements[-1].span.end)
    other = found.group().lower() if found else one.wording["rows"]["other_side"]
    out = [" ".join(aside.split())] if aside else _both_told(statements[0], source)
    number = shaping.dividing_row
    lines = [{line.number: line for line in half.lines} for half in (plan.first, plan.second)]
    held = False
    for q in range(number + 1, max(max(half) for half in lines) + 1):
        first, second = (0, 1) if (q - number) % 2 == 0 else (1, 0)
        writers = (one, two)
        words: list[str] = []
        label = ""
        for half, ends_at_neck in ((first, True), (second, False)):
            line = lines[half].get(q)
            if line is None:
                continue
            writer = _to_neck(writers[half]) if ends_at_neck else writers[half]
            text = _bare(writer.words(line))
            if line.any_row().has(Kind.HOLD):
                goes_on = q < max(lines[1 - half])
                out.append(writer.side_held(line) if goes_on else writer.held(line, text))
                held = True
                continue
            label = label or writer.label_of(line)
            words.append(f"{other}, {_lower(writer, text)}" if words or held else text)
        if words:
            out.append(f"{label}{one.row_case('; '.join(words))}.")
    return out


def _both_told(first: Statement, source: str) -> list[str]:
    """Return the words before the first of the rows that put both sides in work, as a line of their own."""
    start = min((f.start for f in first.frames if f.verb and f.end), default=first.span.start)
    told = both_words(source[first.span.start : start]) if first.label is None else ""
    return [f"{told}:"] if told else []


def _to_neck(writer: Writer) -> Writer:
    """Return a writer whose rows go on to the neck edge."""
    other = copy(writer)
    other.style = replace(writer.style, to_end=writer.wording["rows"]["to_neck"])
    return other


def _bare(text: str) -> str:
    """Leave out words that already name the other side."""
    return regex.sub(rf"{_OTHER.pattern},?\s*", "", text)


def _lower(writer: Writer, text: str) -> str:
    return text if text[1:2].isupper() or writer.style.knit == "K" else text[0].lower() + text[1:]
