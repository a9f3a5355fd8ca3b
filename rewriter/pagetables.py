"""A table of a draft in Markdown, set as a table on a page, also where words in its cells change.

The page holds the draft's text whole: its bars and its rule stay in it, and are not shown. A table that
gains or loses a row or a column stays as written.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape

from rewriter import regex
from rewriter.pagelines import Part
from rewriter.redlineblocks import Note
from rewriter.redlinewords import words_of
from rewriter.worddiff import compare

_RULE = regex.compile(r"\|?\s*:?-{2,}:?\s*(?:\|\s*:?-{2,}:?\s*)*\|?")
_CELL = regex.compile(r"(?<!\\)\|")

_Cell = list[Part]


def table_of(parts: Sequence[Part], notes: Mapping[int, Note]) -> str:
    """Return a block as an HTML table; "" where it is none, or is another table after the changes."""
    old, new = (
        "".join(p[1] for p in parts if not isinstance(p, int) and p[0] != gone)
        for gone in ("inserted", "deleted")
    )
    olds, news = _grid(old), _grid(new)
    if olds is None or news is None or [*map(len, olds)] != [*map(len, news)]:
        return ""
    cells: list[list[_Cell]] = [
        [[(p.kind, p.text) for p in compare(one, two)] for one, two in zip(a, b, strict=True)]
        for a, b in zip(olds, news, strict=True)
    ]
    at = 0
    for part in parts:
        if isinstance(part, int):
            row, column = _place(new[:at], news)
            cells[row][column].append(part)
        elif part[0] != "deleted":
            at += len(part[1])
    head, *rows = cells
    body = "".join(_row(row, notes, "<td>", "</td>") for row in rows)
    heads = _row(head, notes, '<th scope="col">', "</th>", old.strip().splitlines()[1].strip())
    return f"<table><thead>{heads}</thead><tbody>{body}</tbody></table>"


def _grid(text: str) -> list[list[str]] | None:
    """Return the words of the cells of a table, line by line and without its rule; None for another text."""
    lines = [line.strip() for line in text.strip().splitlines()]
    if len(lines) < 3 or not all(line.startswith("|") and line.endswith("|") for line in lines):
        return None
    if not _RULE.fullmatch(lines[1]):
        return None
    rows = [[_words(c) for c in _CELL.split(line[1:-1])] for line in (lines[0], *lines[2:])]
    return rows if all(len(row) == len(rows[0]) for row in rows) else None


def _words(cell: str) -> str:
    return cell.strip().replace("**", "")


def _place(before: str, grid: Sequence[Sequence[str]]) -> tuple[int, int]:
    """Return the row and the column of the cell behind whose words a note stands."""
    lines = before.lstrip().splitlines() or [""]
    row = min(max(len(lines) - 2, 0) if len(lines) > 1 else 0, len(grid) - 1)
    bars = len(_CELL.findall(lines[-1]))
    return row, min(max(bars - 1, 0), len(grid[row]) - 1)


def _row(
    cells: list[_Cell], notes: Mapping[int, Note], opens: str, closes: str, rule: str = ""
) -> str:
    shown = [f"{opens}{_unseen('| ')}{words_of(c, False, notes)} " for c in cells]
    shown[-1] += _unseen(f"|\n{rule}\n")
    return f"<tr>{closes.join(shown)}{closes}</tr>"


def _unseen(text: str) -> str:
    return f'<span class="unseen">{escape(text)}</span>'
