"""A table of a draft in Markdown, set as a table on a page; one with changes in it stays as written.

The page holds the draft's text whole: its bars and its rule stay in it, and are not shown.
"""

from __future__ import annotations

from html import escape

from rewriter import regex
from rewriter.pagelines import Part

_RULE = regex.compile(r"\|?\s*:?-{2,}:?\s*(?:\|\s*:?-{2,}:?\s*)*\|?")
_CELL = regex.compile(r"(?<!\\)\|")


def table_of(parts: list[Part]) -> str:
    """Return a block as an HTML table; "" where it is none, or has changes or notes in it."""
    if len(parts) != 1 or isinstance(parts[0], int) or parts[0][0] != "same":
        return ""
    lines = [line.strip() for line in parts[0][1].strip().splitlines()]
    if len(lines) < 3 or not all(line.startswith("|") and line.endswith("|") for line in lines):
        return ""
    if not _RULE.fullmatch(lines[1]):
        return ""
    head, *rows = (_CELL.split(line[1:-1]) for line in (lines[0], *lines[2:]))
    if any(len(row) != len(head) for row in rows):
        return ""
    body = "".join(_row(row, "<td>", "</td>") for row in rows)
    heads = _row(head, '<th scope="col">', "</th>", lines[1])
    return f"<table><thead>{heads}</thead><tbody>{body}</tbody></table>"


def _row(cells: list[str], opens: str, closes: str, rule: str = "") -> str:
    shown = [f"{opens}{_unseen('| ')}{escape(c.strip().replace('**', ''))} " for c in cells]
    shown[-1] += _unseen(f"|\n{rule}\n")
    return f"<tr>{closes.join(shown)}{closes}</tr>"


def _unseen(text: str) -> str:
    return f'<span class="unseen">{escape(text)}</span>'
