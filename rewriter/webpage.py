"""The frame of all pages: one file that holds all it needs, with no script and nothing from elsewhere."""

from __future__ import annotations

import re
from html import escape
from importlib.resources import files


def apostrophes(text: str) -> str:
    """Return plain words with the apostrophes of print; quotation marks stay as they are."""
    return _APOSTROPHE.sub("\u2019", text)


_APOSTROPHE = re.compile(r"(?<=\w)'(?=\w)")


def web_page(title: str, style: str, body: str, paper: str = "") -> str:
    """Return a whole page; `style` names the style sheet of its kind, `body` is HTML.

    `paper` is the paper it is printed on (A4, letter) where that is settled.
    """
    folder = files("rewriter")
    styles = "".join((folder / name).read_text(encoding="utf-8") for name in ("page.css", style))
    if paper:
        styles += f"@page {{ size: {paper}; }}\n"
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{escape(title)}</title>
<style>
{styles}</style>
</head>
<body>
{body}
</body>
</html>
"""
